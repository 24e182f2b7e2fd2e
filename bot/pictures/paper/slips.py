"""“Do not disturb” slips for animals that are sealed, in premolt or freshly molted. General practice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from bot.pictures import measures
from bot.pictures.paper.label_sheets import LabelSheet, laid_out
from bot.pictures.paper.page import BLACK, GREY, PALE, Paper
from bot.pictures.words import say, words
from bot.round.model import RestReason, SpecimenFacts
from bot.round.rests import rest_of
from bot.round.worklist import is_kept
from bot.terms import KeeperSettings, Specimen
from bot.terms.language import speaking

#: Rests in which an animal must not be disturbed; a hold or a new home only pauses its food.
_UNDISTURBED: Final = frozenset({RestReason.SEALED, RestReason.PREMOLT, RestReason.FRESH_MOLT})
_PAD: Final = 4.0
_BAND_PART: Final = 0.22
_WHITE: Final = 255


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """An animal that is to be left alone, why, and since when. ``until`` is the first day for food."""

    specimen: Specimen
    reason: RestReason
    since: date
    until: date | None = None


def slips_of(facts: Sequence[SpecimenFacts], on: date) -> tuple[Slip, ...]:
    """A slip for everyone who must not be disturbed on that day, in the order of the shelf."""
    slips = []
    for one in facts:
        rest = rest_of(one, on) if is_kept(one, on) else None
        if rest is not None and rest.reason in _UNDISTURBED:
            slips.append(
                Slip(specimen=one.specimen, reason=rest.reason, since=rest.since, until=rest.expected_until)
            )
    return tuple(slips)


def slip_pages(slips: Sequence[Slip], sheet: LabelSheet, on: date, settings: KeeperSettings) -> bytes:
    """A PDF of slips to cut out, each as large as a label of the sheet.

    Raises ``ValueError`` for no slips, or a sheet whose labels are too small to be read from a step away.
    """
    if not slips:
        raise ValueError("nobody is sealed, in premolt or freshly molted on that day")
    if min(sheet.label) < _LEAST_SIDE:
        raise ValueError(
            f"slips need labels of at least {_LEAST_SIDE:g} mm a side: {sheet.key} has smaller ones"
        )
    with speaking(settings.language):
        paper = Paper(say("slip.title"), on, sheet.page)
        for slip, box in laid_out(paper, sheet, slips):
            _draw(paper, slip, box, settings)
        return paper.finish()


_LEAST_SIDE: Final = 50.0


def _draw(paper: Paper, slip: Slip, box: tuple[float, float, float, float], settings: KeeperSettings) -> None:
    left, top, width, height = box
    room, x = width - 2 * _PAD, left + _PAD
    paper.box(left, top, width, height, line=0.2, grey=PALE)
    band = height * _BAND_PART
    paper.box(left, top, width, band, fill=BLACK)
    head = paper.fit(say("slip.head"), room, size=24, most=1, bold=True)
    paper.put(left + width / 2, top + (band - head.height) / 2, head, side="center", grey=_WHITE)
    y = top + band + 2.5
    y = paper.put(x, y, paper.fit(slip.specimen.called, room, size=17, least=9, most=2, bold=True))
    y = paper.put(x, y, paper.fit(slip.specimen.species, room, size=10, most=1, italic=True), grey=GREY)
    since = say(f"slip.since.{slip.reason.value}", day=measures.day(slip.since, settings.date_order))
    y = paper.put(x, y + 1, paper.fit(since, room, size=12, most=1, bold=True)) + 0.8
    _points(paper, _lines(slip, settings), (x, y, room, top + height - _PAD - y))


def _points(paper: Paper, lines: Sequence[str], box: tuple[float, float, float, float]) -> None:
    """The lines in the largest type that fits the height."""
    x, y, room, height = box
    size = 11.0
    while size > 6:
        fitted = [paper.fit(line, room - 4, size=size, least=size, most=9) for line in lines]
        if sum(text.height + 0.7 for text in fitted) <= height:
            break
        size -= 0.25
    for text in fitted:
        paper.write(x, y + text.height / len(text.lines) * 0.8, "•", size=size)
        y = paper.put(x + 4, y, text) + 0.7


def _lines(slip: Slip, settings: KeeperSettings) -> list[str]:
    until = measures.day(slip.until, settings.date_order) if slip.until else say("slip.some_days")
    lines = words(f"slip.lines.{slip.reason.value}")
    return [line.format(until=until) for line in lines]
