"""What a keeper who is afraid for an animal asks, and that nobody is told to touch or dig.

That an animal on its back is molting as a rule, and that legs curled under the body are the bad sign, is
common practice, no source.
"""

import pytest

from bot.conversation.texts import say_of
from bot.husbandry.ailment_record import Sign
from bot.reading import ShelfNames
from bot.reading.wanted.instructions import read_instruction
from bot.reading.wanted.wanted import Action
from bot.terms import Kind
from bot.terms.language import speaking
from tests.conversation.test_instructions import INVENTED_SHELF

NAMES = ShelfNames.of(INVENTED_SHELF)

ASKED = [
    ("en", "Pebble is on her back, is she dying?", ("A1",), "back"),
    ("en", "why is Pebble upside down?", ("A1",), "back"),
    ("en", "my spider is upside down what do I do", (), "back"),
    ("en", "is it normal that Pebble is lying on her side", ("A1",), "back"),
    ("en", "what if Rust is curled up?", ("A2",), "curled"),
    ("en", "Rust is in a death curl, help!", ("A2",), "curled"),
    ("en", "Rust hasn't moved for a week, is he dead?", ("A2",), "still"),
    ("en", "Rust has not come out in 3 months, should I dig her up?", ("A2",), "still"),
    ("en", "is Rust still alive?", ("A2",), None),
    ("en", "is Pebble dead or molting?", ("A1",), None),
    ("de", "Pebble liegt auf dem Rücken, stirbt sie?", ("A1",), "back"),
    ("de", "warum bewegt Pebble sich nicht?", ("A1",), "still"),
    ("de", "lebt Rust noch?", ("A2",), None),
    ("es", "¿por qué está Pebble boca arriba?", ("A1",), "back"),
    ("es", "Pebble está encogida, ¿qué hago?", ("A1",), "curled"),
    ("es", "¿sigue viva Rust?", ("A2",), None),
]


@pytest.mark.parametrize(("language", "text", "tags", "posture"), ASKED)
def test_a_fear_is_heard_as_one(language, text, tags, posture):
    found = read_instruction(text, NAMES, language)
    assert found is not None
    assert (found.action, found.tags, found.value) == (Action.POSTURE, tags, posture)


@pytest.mark.parametrize(
    "text", ["Pebble is on her back", "Pebble died", "is Pebble due to molt?", "why is Pebble on hold?"]
)
def test_what_is_told_or_asked_otherwise_is_no_fear(text):
    found = read_instruction(text, NAMES)
    assert found is None or found.action is not Action.POSTURE


def test_an_animal_on_its_back_is_to_be_left_alone(chat):
    told = chat.told("Pebble is on her back, is she dying?")
    assert "that is a molt" in told
    assert "Do not touch, turn or spray it" in told
    assert chat.entries() == []


def test_legs_curled_under_call_for_water_and_a_vet(chat):
    told = chat.told("Pebble is curled up, is she dead?")
    assert "Fill the dish now" in told
    assert "vet who sees invertebrates" in told


def test_since_when_a_sealed_animal_rests_is_told_to_who_fears_for_it(chat):
    chat.told("Pebble sealed")
    told = chat.told("is Pebble dead?")
    assert "Sealed since today" in told
    assert "Do not poke or turn it" in told


def test_what_to_do_for_an_animal_that_rests_is_to_leave_it_in_peace(chat):
    chat.told("Pebble is on her back")
    told = chat.told("what do I do?")
    assert "In premolt since today" in told
    assert "Do not poke or dig" in told


@pytest.mark.parametrize("language", ["en", "de", "es"])
@pytest.mark.parametrize("posture", ["back", "curled", "still", "unsure"])
def test_what_is_said_to_a_fear_names_its_basis(language, posture):
    basis = {"en": "no source", "de": "ohne Quelle", "es": "sin fuente"}
    with speaking(language):
        assert basis[language] in say_of("posture", posture)


SIGNS = [
    ("en", "what do I do if Pebble is stuck in her molt?", ("A1",), "stuck"),
    ("en", "what do I do if she's stuck in molt", (), "stuck"),
    ("en", "how do I get rid of mites", (), "mites"),
    ("en", "what to do about mold in the enclosure?", (), "mold"),
    ("en", "what if Rust is bleeding?", ("A2",), "bleeding"),
    ("en", "what do I do if Pebble lost a leg?", ("A1",), "limb"),
    ("en", "what to do about a lost leg?", (), "limb"),
    ("de", "was tun, wenn Rust ein Bein verloren hat?", ("A2",), "limb"),
    ("es", "¿qué hago si Rust ha perdido una pata?", ("A2",), "limb"),
    ("de", "was hilft gegen Schimmel?", (), "mold"),
    ("de", "was wenn Rust blutet?", ("A2",), "bleeding"),
    ("es", "¿qué hago con los ácaros?", (), "mites"),
    ("es", "¿qué hago si Rust está herida?", ("A2",), "bleeding"),
]


@pytest.mark.parametrize(("language", "text", "tags", "sign"), SIGNS)
def test_what_to_do_about_a_sign_of_trouble_is_asked(language, text, tags, sign):
    found = read_instruction(text, NAMES, language)
    assert found is not None
    assert (found.action, found.tags, found.value) == (Action.SIGN, tags, sign)


@pytest.mark.parametrize(
    "text", ["Pebble has mites", "Rust is bleeding", "what did Pebble eat?", "Pebble fell"]
)
def test_a_sign_that_is_told_is_no_question_but_a_note(chat, text):
    found = read_instruction(text, NAMES)
    assert found is None or found.action is not Action.SIGN


@pytest.mark.parametrize("language", ["en", "de", "es"])
@pytest.mark.parametrize("sign", [sign.value for sign in Sign if sign is not Sign.UNWELL])
def test_what_is_said_to_a_sign_names_its_basis_and_the_grave_ones_the_vet(language, sign):
    basis = {"en": "no source", "de": "ohne Quelle", "es": "sin fuente"}
    vet = {"en": "vet who sees", "de": "Tierarzt", "es": "veterinario"}
    with speaking(language):
        told = say_of("signs", sign)
    assert basis[language] in told
    assert (vet[language] in told) is (sign != "mold")


@pytest.mark.parametrize(
    ("note", "advice"),
    [
        ("Pebble has mites", "No sprays"),
        ("mold in Pebble's tub", "less wet"),
        ("Pebble fell", "After a fall"),
        ("Pebble lost a leg", "grows back"),
    ],
)
def test_a_note_of_a_sign_is_answered_with_what_to_do(chat, note, advice):
    assert advice in chat.told(note)
    assert [entry.kind for entry in chat.entries()] == [Kind.NOTE]


@pytest.mark.parametrize(
    "told",
    [
        "Pebble molted fine but lost a leg",
        "fed Pebble a cricket, she's missing a leg",
        "Pebble molted, a leg short",
    ],
)
def test_a_lost_leg_told_beside_something_else_is_noted_too(chat, told):
    assert "grows back" in chat.told(told)
    assert Kind.NOTE in {entry.kind for entry in chat.entries()}


def test_a_leg_that_grew_back_is_no_lost_one(chat):
    assert "grows back" not in chat.told("Pebble molted, the leg she lost in March grew back")
    assert [entry.kind for entry in chat.entries()] == [Kind.MOLTED]
