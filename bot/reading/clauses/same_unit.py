"""Figures without a unit beside one that has it: "room 24 C, shelf B 26", "watered Ink 50 ml, Mole 100"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Final

from bot.reading.amounts.amounts import AmountSpan, celsius
from bot.reading.amounts.grammar import amount_grammar
from bot.reading.clauses.clause_model import AND, SENTENCE
from bot.reading.clauses.frames import ADDED, Frame
from bot.reading.clauses.neighbours import kinds, of_the_air
from bot.reading.corrections.figures_put_right import decimal
from bot.reading.names.shelf_names import EXACT
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: A room is as warm as this, in the one scale or the other (common practice, no source).
_CELSIUS: Final = range(10, 46)
_FAHRENHEIT: Final = range(50, 110)
_WARM: Final = {"°C": _CELSIUS, "°F": _FAHRENHEIT}


def of_that_unit(amount: AmountSpan, figure: Decimal) -> AmountSpan | None:
    """So much of what an amount is of; nothing where its unit has more than one meaning."""
    if amount.dimension == "temperature":
        return replace(amount, value=celsius(figure, amount.unit), doubt=None, high=None)
    unit = next((u for u in amount_grammar("en").data.units if u.unit == amount.unit), None)
    if unit is None or unit.factor is None or unit.imperial is not None:
        return None
    return replace(amount, value=figure * unit.factor, doubt=None, high=None)


def goes_on_in_that_unit(told: Sequence[Frame], frame: Frame) -> None:
    """Gives the figure of a clause the unit that one stands in before it."""
    prev = told[-1] if told else None
    figure = _only_figure(frame)
    room = "room" in frame.flags and not frame.ref_at  # "Ink's tub 26 C, room 23"
    if prev is None or figure is None or not (room or frame.ref_at):
        return
    before = [a for other in reversed(told) if other is prev or of_the_air(other) for _, a in other.amounts]
    amount = next((a for a in before if a.dimension in {"temperature", "volume"}), None)
    whose = frame.refs[0] if len(frame.refs) == 1 and not room else None
    if amount is None or not (room or (whose is not None and whose.sure)):
        return
    of_place = room or (whose is not None and whose.how == "place")
    warm = amount.dimension == "temperature" and of_place and of_the_air(prev)
    warm = warm and all(item.text in _AT for _, item in frame.verbs)
    poured = frame.clause.sep != SENTENCE and kinds(prev) == {Kind.WATERED} and not frame.verbs
    poured = poured and whose is not None and whose.how in EXACT
    same = of_that_unit(amount, figure) if warm or poured else None
    if room and int(figure) not in _WARM.get(amount.unit, ()):
        return  # "shelf B 26 C, room 2": another room
    if same is None or (whose is not None and whose.tags == (prev.refs[0].tags if prev.refs else ())):
        return
    frame.amounts, frame.loose, frame.unknown = [(0, same)], [], []
    if warm:
        frame.verbs = []
    if poured and not warm:
        frame.verbs, frame.inherited, frame.nouns = prev.verbs, True, frame.nouns | prev.nouns


_AT: Final = rule_words("at")


def warmth_of_the_room(told: Sequence[Frame], frame: Frame) -> None:
    """ "room 23, hum 58": the figure before a humidity is how warm it was."""
    room = told[-1] if told else None
    if room is None or "room" not in room.flags or not of_the_air(frame) or frame.ref_at or room.refs:
        return
    if of_the_air(room) and frame.clause.sep != SENTENCE:
        frame.flags.add("room")  # "room 24 C, 60 %"
    figure = _only_figure(room)
    if figure is None or any(a.dimension == "temperature" for _, a in frame.amounts):
        return
    scale = "°C" if int(figure) in _CELSIUS else "°F" if int(figure) in _FAHRENHEIT else ""
    if scale:
        room.loose = []
        frame.amounts = [
            (ADDED, AmountSpan(0, 0, "temperature", celsius(figure, scale), None, scale)),
            *frame.amounts,
        ]


def _only_figure(frame: Frame) -> Decimal | None:
    """The figure that a clause has beside its animals; nothing where there is more in it."""
    more = frame.meals or frame.amounts or frame.groups or frame.flags & _MORE
    strange = [item for _, item in frame.unknown if item.text not in _SHOWS]
    if len(strange) == 1 and not (more or frame.loose) and decimal(strange[0]):
        return Decimal(strange[0].text.replace(",", "."))
    number = frame.loose[0] if len(frame.loose) == 1 else None
    if more or strange or number is None or number.value is None or number.doubt:
        return None
    return Decimal(number.value)


#: What a figure is told with: "the bench reads 26".
_SHOWS: Final = rule_words("shows")
_MORE: Final = frozenset({"neg", "no", "hedge", "undone", "future", "cond", "same", "each", "span", "weight"})


def air_of_one(first: Frame, second: Frame) -> None:
    """ "24 degrees and 78 % in Ink's tank": warmth and humidity of one home, which is named behind both."""
    if second.clause.sep != AND or not (of_the_air(first) and of_the_air(second) and second.ref_at):
        return
    apart = {a.dimension for _, a in first.amounts}.isdisjoint(a.dimension for _, a in second.amounts)
    if apart and not (first.refs or first.verbs or first.nouns or "room" in first.flags):
        first.refs = first.subjects = list(second.refs)
        first.flags |= second.flags & {"on", "own air"}
        first.nouns |= second.nouns
