"""What was paid for an animal of the shelf, and whom it is from: noted, or asked where it is not sure."""

from __future__ import annotations

from decimal import Decimal

import pytest

from bot.conversation.texts import say
from bot.terms import Kind
from tests.conversation.given import CAME
from tests.conversation.replay import Player


def came(chat: Player) -> list[tuple[str, str]]:
    """Of whom the coming is on record, and how: "45 EUR from Ines"."""
    found = []
    for entry in chat.entries():
        if entry.kind is Kind.ACQUIRED:
            price = f"{entry.price} {entry.currency}" if entry.price is not None else ""
            source = f"from {entry.source}" if entry.source else ""
            found.append((",".join(entry.specimens), f"{price} {source}".strip()))
    return sorted(found)


NOTED = {
    "english": (
        ("paid 45 euros for Rust", "45 EUR"),
        ("I paid £45 for Rust", "45 GBP"),
        ("Rust cost me 45 euros", "45 EUR"),
        ("bought Rust for 45.50 dollars", "45.5 USD"),
        ("Rust came from Ines at the expo", "from Ines at the expo"),
        ("Rust is from Ines", "from Ines"),
        ("Rust was originally from Ines at the expo", "from Ines at the expo"),
        ("I got Rust from a breeder in Leeds", "from a breeder in Leeds"),
        ("bought Rust from Ines", "from Ines"),
        ("Rust was a gift from my friend Tom", "from my friend Tom"),
        ("Rust came from a friend", "from a friend"),
        ("bought Rust at the reptile expo in Hamm", "from the reptile expo in Hamm"),
        ("Ines sold me Rust for 60 euros", "60 EUR from Ines"),
        ("paid Ines 45 euros for Rust", "45 EUR from Ines"),
        ("bought Rust from Ines for 45 euros", "45 EUR from Ines"),
        ("got Rust for 45 euros from Petko's shop", "45 EUR from Petko's shop"),
    ),
    "german": (
        ("45 Euro für Rust bezahlt", "45 EUR"),
        ("für Rust hab ich 45 Euro bezahlt", None),
        ("Rust hat mich 45 Euro gekostet", "45 EUR"),
        ("Rust kam von Ines auf der Börse", "from Ines auf der Börse"),
        ("Rust stammt von einem Züchter in Leeds", "from einem Züchter in Leeds"),
        ("Rust von Ines für 45 Euro gekauft", "45 EUR from Ines"),
        ("Ines hat mir Rust verkauft", "from Ines"),
    ),
    "spanish": (
        ("pagué 45 euros por Rust", "45 EUR"),
        ("Rust me costó 45 euros", "45 EUR"),
        ("Rust vino de un criador de Madrid", "from un criador de Madrid"),
        ("le compré a Rust a Ines", "from Ines"),
        ("compré a Rust en la feria", "from la feria"),
    ),
}

#: What is no price and no seller of an animal of the shelf.
TRAPS = (
    "Rust is from shelf A",
    "Rust is from her burrow",
    "Rust came from her burrow",
    "Rust came from the back of the tub",
    "Rust came from shelf B",
    "Rust came from B",
    "Rust came from Pebble's sac",
    "Rust came out from under the cork",
    "got Rust out of the tub",
    "paid 45 euros for crickets",
    "paid 45 euros for Rust's new tub",
    "paid 45 euros for Rust and crickets",
    "Rust cost me 45 euros at the vet",
    "spent 45 euros on Rust",
    "got 45 euros for Rust",
    "sold Rust to Ines for 50 euros",
    "sold B1 and B2 to Ines for 50 euros together",
    "bought Rust a new tub for 10 euros",
    "Rust was 45 g",
    "paid 30 or 40 euros for Rust",
    "got Rust from Ines yesterday",
    "did I pay 45 euros for Rust?",
    "is Rust from Ines?",
    "Rust ate a cricket from Ines",
)


@pytest.mark.parametrize(
    ("language", "text", "how"),
    [(lang, text, how) for lang, said in NOTED.items() for text, how in said],
)
def test_a_price_or_a_seller_of_an_animal_of_the_shelf_is_noted_as_it_came(chat, language, text, how):
    chat.told(f"language {language}")
    chat.told(text)
    assert came(chat) == ([("A2", how)] if how else [])


@pytest.mark.parametrize("text", TRAPS)
def test_what_only_sounds_like_it_notes_nothing_of_how_an_animal_came(chat, text):
    chat.told(text)
    assert [how for how in came(chat) if how[0]] == []


def test_it_stands_at_the_first_day_of_the_record_and_that_is_told(chat):
    told = chat.told("paid 45 euros for Rust")
    (entry,) = chat.entries()
    assert (entry.day, entry.price, entry.currency) == (CAME, Decimal(45), "EUR")
    assert told.endswith(say("provenance.day_unknown"))


def test_what_is_said_later_amends_the_same_entry_and_can_be_taken_back(chat):
    chat.told("paid 45 euros for Rust")
    chat.told("Rust came from Ines at the expo")
    assert came(chat) == [("A2", "45 EUR from Ines at the expo")]
    chat.told("undo")
    assert came(chat) == [("A2", "45 EUR")]
    chat.press("Take that back too")
    assert came(chat) == []


def test_what_is_on_record_already_is_told_and_nothing_is_stored(chat):
    chat.told("paid 45 euros for Rust")
    assert say("provenance.so_already") in chat.told("Rust cost 45 euros")
    assert came(chat) == [("A2", "45 EUR")]


def test_which_of_several_it_was_is_asked(chat):
    assert say("provenance.which") in chat.told("paid 45 euros for the GBB")
    assert came(chat) == []
    chat.press("B2")
    assert came(chat) == [("B2", "45 EUR")]


def test_a_price_of_several_is_asked_about_and_a_seller_of_several_is_of_each(chat):
    assert "each of them" in chat.told("paid 45 euros for B1 and B2")
    assert came(chat) == []
    chat.told("B1 and B2 came from Petko")
    assert came(chat) == [("B1", "from Petko"), ("B2", "from Petko")]


def test_a_price_without_its_currency_is_asked_about(chat):
    assert "45" in chat.told("paid 45 for Rust")
    assert came(chat) == []
    chat.press("45 GBP")
    assert came(chat) == [("A2", "45 GBP")]


def test_a_name_without_its_capital_is_asked_about(chat):
    assert "“ines”" in chat.told("got Rust from ines")
    assert came(chat) == []
    chat.press("Yes")
    assert came(chat) == [("A2", "from ines")]


def test_a_pronoun_is_of_the_animal_just_talked_of_and_of_nobody_without_one(chat):
    chat.told("paid 45 euros for her")
    assert came(chat) == []
    chat.told("Rust ate 2 crickets")
    chat.told("she came from Petko")
    assert came(chat) == [("A2", "from Petko")]


def test_since_when_it_is_kept_leaves_price_and_seller_as_they_are(chat):
    chat.told("bought Rust from Ines for 45 euros")
    chat.told("I've had Rust since March 2021")
    assert came(chat) == [("A2", "45 EUR from Ines")]
    assert [e.day.year for e in chat.entries() if e.kind is Kind.ACQUIRED] == [2021]


def test_the_answers_know_it(chat):
    chat.told("bought Rust from Ines for 45 euros")
    assert "from Ines" in chat.told("who is Rust from?")
    assert "45 EUR" in chat.told("what did I pay for Rust?")
    assert "Rust (A2)" in chat.told("who came from Ines?")
    assert "45 EUR" in chat.told("what was the most expensive?")


def test_it_makes_nobody_a_newcomer_that_settles_in(chat):
    chat.told("Rust ate 2 crickets")
    before = chat.told("how is Rust?")
    chat.told("bought Rust from Ines for 45 euros")
    assert chat.told("how is Rust?") == before


def test_a_helper_notes_no_price(chat):
    chat.told("my sister looks after the shelf from today to Sunday")
    chat.play("& Anna")
    chat.play("! opens the link")
    chat.told("paid 45 euros for Rust")
    chat.play("& keeper")
    assert came(chat) == []
