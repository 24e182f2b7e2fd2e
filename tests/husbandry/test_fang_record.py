"""What a note tells of the fangs after a molt. The notes are invented."""

from __future__ import annotations

import pytest

from bot.conversation.texts import say
from bot.husbandry.fang_record import fangs_noted
from bot.terms.language import LANGUAGES, speaking


@pytest.mark.parametrize(
    "note",
    [
        "Mole's fangs are black now",
        "fangs black and hard",
        "checked her, fangs finally dark",
        "her fangs have hardened",
        "Fänge sind schwarz",
        "los colmillos ya están negros",
    ],
)
def test_black_fangs_are_told(note):
    assert fangs_noted(note) is True


@pytest.mark.parametrize(
    "note",
    [
        "fangs still red",
        "moles fangs not black yet",
        "fangs almost black",
        "fangs are dark red",
        "fangs turning black",
        "fangs black, but fangs still soft",
        "Goliath is still pale",
        "Fänge noch rot",
        "colmillos aún no negros",
    ],
)
def test_fangs_that_may_be_soft_are_not_black(note):
    assert fangs_noted(note) is False


@pytest.mark.parametrize(
    "note",
    [
        None,
        "black and hard",
        "pale mold on the substrate",
        "feed her when her fangs are black",
        "i think the fangs are black",
        "fangs not red any more",
        "fangs",
    ],
)
def test_what_nobody_saw_tells_nothing(note):
    assert fangs_noted(note) is None


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_notes_of_the_rounds_buttons_are_understood(language):
    with speaking(language):
        assert fangs_noted(say("round.note_black")) is True
        assert fangs_noted(say("round.note_soft")) is False
