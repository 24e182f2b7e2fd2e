"""Questions over the whole shelf: on an empty one, and of egg sacs, prices and where animals came from."""

from __future__ import annotations

import pytest

from bot.terms import Kind
from storage import Store
from tests.conversation.given import INVENTED_SHELF, a_keeper
from tests.conversation.replay import Player

#: What asks for what is on record of the animals, none of them named.
OVER_THE_SHELF = (
    "who took a roach?",
    "who never took a roach?",
    "what does everyone usually eat?",
    "who refused this week?",
    "what did they eat in March?",
    "who is sealed?",
    "who is in premolt?",
    "who is on hold?",
    "when did anyone last eat?",
    "last water?",
    "history",
    "anything to worry about?",
    "who has not eaten for 3 weeks?",
    "who eats the most?",
    "who did I sell?",
    "who have I lost this year?",
    "how many slings hatched?",
    "who laid an egg sac?",
    "who needs water?",
    "who needs a clean?",
)


@pytest.mark.parametrize("asked", OVER_THE_SHELF)
def test_on_a_shelf_where_nobody_ever_stood_a_question_is_answered_by_how_to_begin(store, asked):
    chat = Player(store)
    chat.keeper = a_keeper(store, shelf=())
    assert chat.told(asked).startswith("Your shelf is empty so far.")


def test_who_needs_a_clean_is_told_by_whose_last_is_the_longest_ago_and_who_needs_water_by_the_round(store):
    chat = Player(store)
    chat.keeper = a_keeper(store, shelf=INVENTED_SHELF[:2])
    chat.told("cleaned Pebble 3 weeks ago")
    told = chat.told("who needs a clean?")
    assert told.startswith("Cleaned, the longest ago first:")
    assert "no record" in told
    assert "21 days ago" in told
    assert "longest ago" not in chat.told("who needs water?")


def test_what_those_did_who_are_gone_is_told_on_a_shelf_that_is_empty_since(store):
    chat = Player(store)
    chat.keeper = a_keeper(store, shelf=INVENTED_SHELF[:1])
    chat.told("Pebble ate 2 roaches yesterday")
    chat.told("sold Pebble to Ben for 20 euros")
    assert "Ben" in chat.told("who did I sell?")
    assert "2 roaches" in chat.told("when did anyone last eat a roach?")
    assert "empty" in chat.told("who is sealed?")


#: What has to be told, and the ways to ask for it.
WAYS_TO_ASK = {
    "120 young": (
        "how many slings hatched?",
        "how many babies have hatched so far",
        "how many spiderlings did Pebble have",
        "how many young did Pebble hatch",
        "how many slings hatched from Pebble's sac",
    ),
    "Rust (A2): egg sac laid, Sat 2 May": (
        "when did Rust lay?",
        "when did Rust last lay a sac",
        "when was Rust's sac laid",
        "has Rust laid eggs yet",
        "who laid a sac",
        "who has laid eggs",
    ),
    "Mon 20 Apr": (
        "when did Pebble's sac hatch",
        "when did the sac hatch of Pebble",
        "how many slings hatched in April",
    ),
    "for 80 EUR": (
        "what was the most expensive?",
        "which was my most expensive spider",
        "what cost the most",
        "my priciest tarantula",
        "what did I pay the most for",
        "which one was the most expensive this year",
    ),
    "for 30 EUR": (
        "what was the cheapest?",
        "which one cost the least",
    ),
    "From Petko: 1": (
        "who came from Petko",
        "who is from Petko",
        "which animals did I get from Petko",
        "who did I buy from Petko",
        "did I buy anything from Petko",
        "what did I get from Petko's",
    ),
}


@pytest.fixture(scope="module")
def bred_and_bought():
    store = Store.open("sqlite://")
    chat = Player(store)
    chat.settle_in(
        [
            "given: 2026-03-01 sac A1 event=laid",
            "given: 2026-04-20 sac A1 event=hatched count=120",
            "given: 2026-05-02 sac A2 event=laid",
        ]
    )
    chat.told("bought a P. metallica from Petko for 30 euros on 1 May")
    chat.told("cancel")
    chat.told("bought a B. hamorii from Marta's stall for 80 euros")
    chat.told("cancel")
    yield chat
    store.close()


@pytest.mark.parametrize(
    ("asked", "told"), [(way, told) for told, ways in WAYS_TO_ASK.items() for way in ways]
)
def test_sacs_prices_and_where_animals_came_from_are_asked_for_in_many_ways(bred_and_bought, asked, told):
    assert told in bred_and_bought.told(asked)


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("when did Rust last eat?", "meal"),
        ("how many slings do I have?", "Slings"),
        ("who came from shelf A", "arrival"),
        ("who is from the new world?", "New World"),
        ("how many did Rust eat?", "meal"),
    ],
)
def test_what_only_sounds_like_such_a_question_is_answered_as_ever(bred_and_bought, asked, told):
    answer = bred_and_bought.told(asked)
    assert told in answer
    assert "young" not in answer


@pytest.mark.parametrize(
    "said", ["Delve laid a sac", "Delve has laid eggs", "Delve made a sac", "Delve's sac hatched"]
)
def test_a_sac_that_is_told_of_is_stored_and_no_question(chat, said):
    chat.told(said)
    assert [entry.specimens for entry in chat.entries() if entry.kind is Kind.SAC] == [("R2",)]
