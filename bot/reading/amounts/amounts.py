"""Amounts with units, temperatures, humidities and money in a keeper's message.

Values are exact :class:`~decimal.Decimal` numbers in the dimension's own unit: cm, g, l, °C, per cent,
whole currency units. Factors come with the words (NIST Handbook 44, Appendix C; NIST SP 811, Appendix
B): 1 in = 2.54 cm, 1 US gal = 3.785411784 l; °C = (°F - 32) x 5/9. Whether a value can be, is not
judged here.

Doubts: ``range`` ("2-3 cm"), ``money_or_weight`` ("30 pounds"), ``in_or_inches`` ("put 2 in"),
``quote_or_inches``, ``celsius_or_fahrenheit`` ("90 degrees" of a keeper with metric units), ``cm_or_inches``
("30x30x45" of a keeper with inches), ``what_money`` ("sold Ink for 20").
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from bot.reading.amounts.air_said import IN_ONE, figures_below
from bot.reading.amounts.figures import EXACT, of_two
from bot.reading.amounts.grammar import AmountGrammar, amount_grammar
from bot.reading.amounts.listed import figures_in_unit
from bot.reading.amounts.money import MoneyReader
from bot.reading.amounts.spans import AmountSpan
from bot.reading.amounts.words import OF_THE_AIR, UnitData
from bot.reading.words.scan import Words
from bot.terms import Units

__all__ = ["AmountSpan", "celsius", "find_amounts"]


def find_amounts(words: Words, *, units: Units, language: str = "en", zone: str = "") -> list[AmountSpan]:
    """All amounts of a plain text, sorted, none overlapping, the longest where two begin alike.

    ``zone`` is the keeper's, by which a dollar is one or another.
    """
    grammar = amount_grammar(language)
    if not words.may_begin(grammar.any_words):
        return []
    found = sorted(_Reader(words, units, grammar, zone).all(), key=lambda span: (span.start, -span.end))
    out: list[AmountSpan] = []
    for span in found:
        if not out or span.start >= out[-1].end:
            out.append(span)
    return out


#: A bare degree above this is no Celsius of a spider's room, one below the other no Fahrenheit
#: (common practice, no source).
_HOT_CELSIUS: Final = 45
#: The unit of a box told by three figures alone.
BARE_BOX: Final = "x 3"
_COLD_FAHRENHEIT: Final = 45
#: So many letters before a humidity the figure of warmth beside it may begin.
_BESIDE: Final = 32
#: Letters glued to a figure are a scale only from here on: "2f" is two females, "3c" a shelf.
_LEAST_GLUED: Final = {"°C": 5, "°F": 32}
_LEAST_SPACED: Final = {"°C": 10, "°F": 40}
#: A home's side longer than this is rather meant in centimetres (common practice, no source).
_LONGEST_INCHES: Final = 24
_FLUID_OUNCE: Final = "fl oz"
_LITRE: Final = Decimal(1000)
_HUNDRED: Final = Decimal(100)
_ONE: Final = Decimal(1)
_CROSSED: Final = re.compile(r"\d[\"']{0,2}[ ]?x[ ]?$", re.IGNORECASE)
_OPENING_QUOTE: Final = re.compile(r"(?:^|[\s(,])\"(?=\w)")
_CLAUSE_END: Final = re.compile(r"[ ]*(?:$|[\n.,;:!?)\]&+/–-])")


def _from(starts: Sequence[int], pattern: re.Pattern[str], text: str) -> Iterator[re.Match[str]]:
    """Matches of a pattern that begins with a figure, where figures begin; ".5" does at its point."""
    at = 0
    for place in starts:
        start = place - 1 if place and text[place - 1] == "." else place
        if start >= at and (match := pattern.match(text, start)):
            at = match.end()
            yield match


class _Reader(MoneyReader):
    """One text with one keeper's units."""

    def __init__(self, words: Words, units: Units, grammar: AmountGrammar, zone: str) -> None:
        super().__init__(words.text, grammar, zone)
        self._words, self._units = words, units

    def all(self) -> Iterator[AmountSpan]:
        """Amounts in no order, some overlapping."""
        words = self._words.letters
        if not words.isdisjoint(self._g.unit_words):
            yield from self._worded()
        if not words.isdisjoint(self._g.name_words):
            yield from self._named()
        if self._words.figures and not words.isdisjoint(self._g.room_words):
            yield from self._in_a_room()
        if ":" in self._text or " - " in self._text:
            yield from self._listed(words)
            yield from self._in_unit_of_heading()
        if self._words.figures:
            if not (words.isdisjoint(self._g.short_unit_words) and self._g.unit_signs.isdisjoint(self._text)):
                yield from self._with_units()
                if "/" in self._text and "%" in self._text:
                    yield from self._air_in_one()
            if "x" in words:
                yield from self._boxes()
        if not words.isdisjoint(self._g.money_words) or not self._g.money_signs.isdisjoint(self._text):
            yield from self.money()
        if not words.isdisjoint(self._g.sum_words):
            yield from self.sums()

    # --- units

    def _with_units(self) -> Iterator[AmountSpan]:
        for match in _from(self._words.figures, self._g.with_unit, self._text):
            low = self.figure(match["low"])
            in_one = "/" in match["low"] and match["unit"] == "%" and IN_ONE.match(self._text, match.start())
            if low is None or in_one or _CROSSED.search(self._text, 0, match.start()):
                continue
            high = self.figure(match["high"]) if match["high"] else None
            if self._g.units["".join(match["unit"].lower().split())].dimension in OF_THE_AIR:
                low, high = of_two(match["low"]) or (low, high)
            span = self._amount(match, self._and_more(match, low), high)
            if span is not None:
                yield span
                if span.dimension == "humidity":
                    yield from self._temperature_beside(match.start())

    def _worded(self) -> Iterator[AmountSpan]:
        for match in self._from_words():
            if match.group().lower() in self._g.data.no_amounts:
                continue
            low = self._g.worded[" ".join(match["low"].lower().split())] if match["low"] else _ONE
            span = self._amount(match, self._and_more(match, low), None)
            if span is not None:
                yield span

    def _from_words(self) -> Iterator[re.Match[str]]:
        at = 0
        for place, word in self._words.at:
            if place >= at and word in self._g.worded_firsts:
                match = self._g.worded_unit.match(self._text, place)
                if match and (match["low"] or match["more"]):
                    at = match.end()
                    yield match

    def _and_more(self, match: re.Match[str], value: Decimal) -> Decimal:
        for said in (match["plus"], match["more"]):
            if said:
                value = EXACT.add(value, self._g.data.plus_half[" ".join(said.lower().split())])
        return value

    def _amount(self, match: re.Match[str], low: Decimal, high: Decimal | None) -> AmountSpan | None:
        word = "".join(match["unit"].lower().split())
        unit = self._g.units[word]
        dimension, doubt = unit.dimension, None
        if not self._is_meant(match, unit, low):
            return None
        if unit.unit == "oz" and (self._g.fluid_next.match(self._text, match.end()) or self._of_water()):
            unit = next(u for u in self._g.data.units if u.unit == _FLUID_OUNCE)
            dimension = "volume"
        elif unit.guarded:
            doubt = self._inch_doubt(match, low)
        elif word in {'"', "''"} and _OPENING_QUOTE.search(self._text, 0, match.start()):
            doubt = "quote_or_inches"
        if dimension == "temperature":
            return self._temperature(match.start(), match.end(), low, high, unit.unit)
        values = [self._in_own_unit(v, unit) for v in (low, high) if v is not None]
        return AmountSpan(
            match.start(),
            match.end(),
            dimension,
            values[0],
            None,
            unit.unit,
            doubt or ("range" if high is not None else None),
            values[1] if high is not None else None,
        )

    def _in_own_unit(self, value: Decimal, unit: UnitData) -> Decimal:
        factor = unit.imperial if self._units is Units.IMPERIAL and unit.imperial else unit.factor
        return value if factor is None else EXACT.multiply(value, factor)

    def _of_water(self) -> bool:
        """ "misted B, 1 oz each": where water is told of, and nobody is weighed, ounces are fluid."""
        if self._words.letters.isdisjoint(self._g.data.fluid_cues):
            return False
        return self._words.letters.isdisjoint(self._g.data.weight_cues)

    def _is_meant(self, match: re.Match[str], unit: UnitData, low: Decimal) -> bool:
        """Whether the letters after the figure are this unit, and no other word."""
        if unit.glued:
            return self._is_scale(match, unit.unit, low)
        if unit.dimension == "humidity":
            return not self._g.not_humidity_next.match(self._text, match.end())
        if unit.guarded:
            return self._clause_ends(match) or self._inches_follow(match)
        return True

    def _clause_ends(self, match: re.Match[str]) -> bool:
        return _CLAUSE_END.match(self._text, match.end()) is not None

    def _inches_follow(self, match: re.Match[str]) -> bool:
        return self._g.inches_next.match(self._text, match.end()) is not None

    def _is_scale(self, match: re.Match[str], scale: str, low: Decimal) -> bool:
        letter = match["unit"]
        if not match["space"]:
            return low >= _LEAST_GLUED[scale]
        if low < _LEAST_SPACED[scale]:
            return False
        return letter.isupper() or self._clause_ends(match)

    def _inch_doubt(self, match: re.Match[str], low: Decimal) -> str | None:
        """A whole number with "in" may be animals put in, unless a length is told."""
        broken = low != low.to_integral_value()
        if broken or self._inches_follow(match) or self._g.length_cues.search(self._text):
            return None
        return "in_or_inches"

    def _boxes(self) -> Iterator[AmountSpan]:
        """ "30 x 30 x 45 cm": room inside an enclosure; bare lengths are of the keeper's own unit."""
        for match in self._g.box.finditer(self._text):
            sides = [self.figure(match[side]) for side in "abc"]
            said = match["unit"] or ("in" if self._units is Units.US else "cm")
            unit = self._g.units["".join(said.lower().split())]
            bare_inches = match["unit"] is None and unit.unit == "in"
            huge = bare_inches and any(side and side > _LONGEST_INCHES for side in sides)
            doubt = "cm_or_inches" if huge else None
            volume = Decimal(1)
            for side in sides:
                if side is None:
                    break
                volume = EXACT.multiply(volume, self._in_own_unit(side, unit))
            else:
                litres = EXACT.divide(volume, _LITRE)
                unit_said = f"{unit.unit} x 3" if match["unit"] else BARE_BOX
                yield AmountSpan(match.start(), match.end(), "volume", litres, None, unit_said, doubt)

    # --- temperature and humidity

    def _temperature(
        self, start: int, end: int, low: Decimal, high: Decimal | None, scale: str
    ) -> AmountSpan:
        doubt = "range" if high is not None else None
        if scale == "degrees":
            scale, doubt = self._usual_scale(low, doubt)
        values = [celsius(v, scale) for v in (low, high) if v is not None]
        return AmountSpan(
            start, end, "temperature", values[0], None, scale, doubt, values[1] if high is not None else None
        )

    def _usual_scale(self, low: Decimal, doubt: str | None) -> tuple[str, str | None]:
        if self._units is Units.US:
            return "°F", "celsius_or_fahrenheit" if low < _COLD_FAHRENHEIT else doubt
        return "°C", "celsius_or_fahrenheit" if low > _HOT_CELSIUS else doubt

    def _air_in_one(self) -> Iterator[AmountSpan]:
        """ "24.1/61%": warmth and humidity, with nothing but a stroke between."""
        for match in _from(self._words.figures, IN_ONE, self._text):
            low, humid = self.figure(match["low"]), self.figure(match["humid"])
            if low is None or humid is None or not 10 <= low <= 115 or humid > _HUNDRED:
                continue
            scale = f"°{match['scale'].upper()}" if match["scale"] else "degrees"
            yield self._temperature(match.start(), match.end("low"), low, None, scale)
            yield AmountSpan(match.start("humid"), match.end(), "humidity", humid, None, "%")

    def _listed(self, words: frozenset[str]) -> Iterator[AmountSpan]:
        """ "temps: room 22, floor rack 19.5"."""
        if words.isdisjoint(self._g.data.warm_heads):
            return
        for start, end in figures_below(self._text, self._g.warm_heads):
            value = self.figure(self._text[start:end])
            if value is not None:
                yield self._temperature(start, end, value, None, "degrees")

    def _in_unit_of_heading(self) -> Iterator[AmountSpan]:
        """ "Weights (g): A1 27.2, A2 38.9"."""
        for start, end, said in figures_in_unit(self._text, self._g.unit_heads):
            value, unit = self.figure(self._text[start:end]), self._g.units["".join(said.split())]
            if value is not None:
                own = self._in_own_unit(value, unit)
                yield AmountSpan(start, end, unit.dimension, own, None, unit.unit)

    def _temperature_beside(self, humidity_at: int) -> Iterator[AmountSpan]:
        """ "81 and 45%": the figure beside a humidity is a temperature, where it can be one."""
        match = self._g.beside_humidity.search(self._text, max(0, humidity_at - _BESIDE), humidity_at)
        low = self.figure(match["low"]) if match else None
        if match and low is not None and 10 <= low <= 115:
            yield self._temperature(match.start(), match.end("low"), low, None, "degrees")

    def _in_a_room(self) -> Iterator[AmountSpan]:
        """ "26.3 in the room": a figure that can be the warmth of one."""
        for match in self._g.in_a_room.finditer(self._text):
            group = "low" if match["low"] else "low2"
            low = self.figure(match[group])
            if low is not None and 10 <= low <= 115:
                yield self._temperature(*match.span(group), low, None, "degrees")

    def _named(self) -> Iterator[AmountSpan]:
        """ "humidity 55", "temp 24.5"."""
        for match in self._g.named.finditer(self._text):
            said = match["low"] or match["low2"]
            value, high = of_two(said) or (self.figure(said), None)
            name = " ".join((match["name"] or match["name2"]).lower().split())
            if value is None:
                continue
            if name in self._g.data.humidity_before:
                doubt = "range" if high is not None else None
                yield AmountSpan(match.start(), match.end(), "humidity", value, None, "%", doubt, high)
            else:
                yield self._temperature(match.start(), match.end(), value, high, "degrees")


def celsius(value: Decimal, scale: str) -> Decimal:
    """Degrees of a scale, "°C" or "°F", in Celsius."""
    if scale == "°C":
        return value
    return EXACT.divide(EXACT.multiply(EXACT.subtract(value, Decimal(32)), Decimal(5)), Decimal(9))
