"""Patterns of amounts, made ready once for a language."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from bot.reading.amounts.air_said import heading
from bot.reading.amounts.figures import figure_pattern
from bot.reading.amounts.listed import unit_heading
from bot.reading.amounts.words import AmountsData, UnitData, amounts_data
from bot.reading.words.numbers import NumbersData, numbers_data
from bot.reading.words.numbers_glued import glued_hundreds, glued_tens
from bot.reading.words.scan import first_words

#: A figure is no amount where it goes on a tag, a decimal, a range or a date.
_FREE = r"(?<![\w#])(?<!\d[.,:/-])(?<!\w-)(?<!\d–)"


@dataclass(frozen=True, slots=True)
class AmountGrammar:
    """The patterns of a language, and the tables that give their words a meaning."""

    data: AmountsData
    worded: Mapping[str, Decimal]
    units: Mapping[str, UnitData]
    before_money: Mapping[str, str]
    after_money: Mapping[str, str]
    cents: Mapping[str, str]
    with_unit: re.Pattern[str]
    worded_unit: re.Pattern[str]
    money: re.Pattern[str]
    sums: re.Pattern[str]
    sum_values: Mapping[str, tuple[str, Decimal]]
    named: re.Pattern[str]
    box: re.Pattern[str]
    beside_humidity: re.Pattern[str]
    warm_heads: re.Pattern[str]
    unit_heads: re.Pattern[str]
    in_a_room: re.Pattern[str]
    room_words: frozenset[str]
    inches_next: re.Pattern[str]
    length_cues: re.Pattern[str]
    fluid_next: re.Pattern[str]
    not_humidity_next: re.Pattern[str]
    pounds_are_money: re.Pattern[str]
    unit_words: frozenset[str]
    short_unit_words: frozenset[str]
    unit_signs: frozenset[str]
    worded_firsts: frozenset[str]
    name_words: frozenset[str]
    money_words: frozenset[str]
    money_signs: frozenset[str]
    sum_words: frozenset[str]
    any_words: frozenset[str]


@lru_cache(maxsize=16)
def amount_grammar(language: str) -> AmountGrammar:
    """The amounts of a language, made ready once."""
    data = amounts_data(language)
    units = {say.lower(): unit for unit in data.units for say in unit.say}
    before = {say.lower(): code for code, money in data.money.items() for say in money.before}
    after = {say.lower(): code for code, money in data.money.items() for say in money.after}
    cents = {say.lower(): code for code, money in data.money.items() for say in money.cents}
    sums = {say.lower(): (code, v) for code, money in data.money.items() for say, v in money.words.items()}
    worded = _worded(data, language)
    pattern = _Patterns(data, units, before, (*after, *cents, *data.pounds), worded)
    unit_words = _telling_words(_whole_words(units))
    name_words = _telling_words((*data.humidity_before, *data.temperature_before))
    money_words = _telling_words((*before, *after, *cents, *data.pounds))
    sum_words = _telling_words(sums)
    room_words = _telling_words((*data.warm_rooms, *data.warm_places))
    return AmountGrammar(
        data=data,
        worded=worded,
        units={_closed(say): unit for say, unit in units.items()},
        before_money=before,
        after_money={_closed(say): code for say, code in after.items()},
        cents=cents,
        with_unit=pattern.with_unit(),
        worded_unit=pattern.worded_unit(),
        money=pattern.money(),
        sums=_any_of(sums),
        sum_values=sums,
        named=pattern.named(),
        box=pattern.box(),
        beside_humidity=pattern.beside_humidity(),
        warm_heads=heading(data.warm_heads) if data.warm_heads else _NEVER,
        unit_heads=pattern.unit_heads(),
        in_a_room=pattern.in_a_room(),
        room_words=room_words,
        inches_next=_next(data.inches_next),
        length_cues=_any_of(data.length_cues),
        fluid_next=_next(data.fluid_next),
        not_humidity_next=_next(data.not_humidity_next),
        pounds_are_money=_any_of(data.pounds_are_money),
        unit_words=unit_words,
        short_unit_words=_telling_words(units) | unit_words,
        unit_signs=frozenset(say[0] for say in units if not say[0].isalpha()),
        worded_firsts=frozenset(first_words((*worded, *(_whole_words(units) if data.plus_half else ())))),
        name_words=name_words,
        money_words=money_words,
        money_signs=frozenset(sign for say in (*before, *after) for sign in say if sign in _MONEY_SIGNS),
        sum_words=sum_words,
        any_words=unit_words | name_words | money_words | sum_words | room_words,
    )


class _Patterns:
    """The longer patterns of a language; ``low`` and ``high`` are figures, ``unit`` and ``coin`` words."""

    def __init__(
        self,
        data: AmountsData,
        units: Mapping[str, UnitData],
        before: Iterable[str],
        coins: Sequence[str],
        worded: Mapping[str, Decimal],
    ) -> None:
        self._data, self._units, self._before, self._coins = data, units, before, coins
        self._figure = figure_pattern(data.thousands)
        self._word = _either(worded)
        self._hundredths = _either(word for word, value in worded.items() if value in _SAID_OF_A_COIN)
        self._to = rf"[ ]?(?:{_either(data.range)})[ ]?"
        self._plus, self._more = (_optional(data.plus_half, name) for name in ("plus", "more"))

    def with_unit(self) -> re.Pattern[str]:
        """ "7.5 cm", "2-3 in"."""
        return _compiled(
            rf"{_FREE}(?P<low>{self._figure})(?:{self._to}(?P<high>{self._figure}))?{self._plus}"
            rf"(?P<space>[ ]?-?)(?P<unit>{_ending(self._units)}){self._more}"
        )

    def worded_unit(self) -> re.Pattern[str]:
        """ "two and a half inches"; "inch and a half" has no low."""
        unit = _ending(_whole_words(self._units))
        so_many = rf"(?P<low>{self._word}){self._plus}(?P<space>[ -])"
        return _compiled(rf"(?<!\w)(?:{so_many})?(?P<unit>{unit}){self._more}")

    def money(self) -> re.Pattern[str]:
        """ "£45", "45 quid", "ten dollars", "8 euro 90", "four pound fifty" with nothing counted behind."""
        figure, to = self._figure, self._to
        paid = _either(self._data.behind_cents)
        ends = rf"(?:{_CLAUSE_END}|(?=[ ](?:{paid})(?!\w)))" if paid else _CLAUSE_END
        return _compiled(
            rf"(?<![\w$£€])(?P<sign>{_either(self._before)})[ ]?(?P<low>{figure})(?:{to}(?P<high>{figure}))?"
            r"(?!\w|[.,]\d)"
            rf"|{_FREE}(?P<low2>{figure})(?:{to}(?P<high2>{figure}))?(?P<gap>[ ]?)"
            rf"(?P<coin>{_ending(self._coins)})(?:[ ](?P<cents>\d\d){ends})?"
            rf"|(?<!\w)(?P<low3>{self._word})[ ](?P<coin3>{_ending(_whole_words(self._coins))})"
            rf"(?:[ ](?P<cents3>{self._hundredths}){ends})?"
        )

    def named(self) -> re.Pattern[str]:
        """ "humidity 55", "temp 25", and "humidity at 55 %"."""
        humid, warm = self._data.humidity_before, self._data.temperature_before
        plain = [say for say, unit in self._units.items() if not unit.guarded]  # "says 22.8 in here"
        link = rf"(?:[ ]?(?:{_either(self._data.link)})){{0,3}}[ ]?"
        return _compiled(
            rf"(?<!\w)(?P<name>{_either((*humid, *warm))})(?!\w){link}(?P<low>{self._figure})"
            rf"(?![ ]?(?:{_ending(plain)})|\w|[.,/:]\d)"
            rf"|(?<!\w)(?P<name2>{_either(humid)})(?!\w){link}(?P<low2>{self._figure})[ ]?%(?!\w)"
        )

    def in_a_room(self) -> re.Pattern[str]:
        """ "26.3 in the room", "it's 81 in here": a figure with no unit, at the head of what is told.

        Behind the room, "spider room 22.5", it has a point: "room 24" may be any number.
        """
        rooms, it_is = _either(self._data.warm_rooms), _either(self._data.warm_it_is)
        opens = rf"(?:^|(?<=[\n.;!?,(])|(?<!\w)(?:{it_is}))[ ]{{0,2}}"
        behind = rf"{opens}(?P<low>{self._figure})[ ](?={rooms}(?!\w))" if rooms else "(?P<low>(?!))"
        named = _either(self._data.warm_places)
        return _compiled(
            rf"{behind}|(?<!\w)(?:{named})[ ]?:?[ ](?P<low2>\d{{2,3}}[.,]\d{{1,2}})(?!\w|[.,]\d|[ ]?[%/])"
        )

    def unit_heads(self) -> re.Pattern[str]:
        """ "Weights (g):", "spans in cm:", over a list of bare figures."""
        said = [
            say for say, unit in self._units.items() if unit.dimension in _OF_ANIMALS and not unit.guarded
        ]
        return unit_heading([say for say in said if say[0].isalpha()], self._data.in_unit)

    def box(self) -> re.Pattern[str]:
        """ "30x30x45 cm", "30x30x45"."""
        lengths = [say for say, unit in self._units.items() if unit.dimension == "length"]
        a, b, c = (rf"(?P<{side}>{self._figure})" for side in "abc")
        unit = rf"[ ]?-?(?P<unit>{_ending(lengths)})|(?![\w\"'])(?![.,]\d)(?![ ]?x[ ]?\d)"
        return _compiled(rf"{_FREE}{a}{_SIDE}{b}{_SIDE}{c}(?:{unit})")

    def beside_humidity(self) -> re.Pattern[str]:
        """The "81 and" of "81 and 45%", "23.5 in here and" of "23.5 in here and 58%", up to the humidity."""
        room = self._data.in_the_room
        where = rf"(?:[ ](?:{_either(room)}))?" if room else ""
        return _compiled(rf"{_FREE}(?P<low>{self._figure}){where}[ ]?(?:{_either(self._data.beside)})[ ]?$")


#: Hundredths that are said behind a coin in words.
_SAID_OF_A_COIN = frozenset(map(Decimal, range(5, 100, 5)))
_CLAUSE_END = r"(?=[ ]?(?:$|[\n;!?)]|[.,](?!\d)))"
_OF_ANIMALS = frozenset({"length", "weight"})
_SIDE = r"[ ]?(?:\"|''|in|cm|mm)?[ ]?x[ ]?"
_LETTERS = re.compile(r"[^\W\d_]+")
_NEVER = re.compile(r"(?!)")
_MONEY_SIGNS = frozenset("$£€¥")


def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE)


def _either(words: Iterable[str]) -> str:
    return "|".join(_spaced(words))


def _spaced(words: Iterable[str]) -> list[str]:
    return [re.escape(w).replace(r"\ ", "[ ]{1,2}") for w in sorted(set(words), key=lambda w: (-len(w), w))]


def _ending(words: Iterable[str]) -> str:
    """Words of which a letter ends none: "g" is no "gbb"; a sign may be followed by anything."""
    chosen = sorted(set(words), key=lambda w: (-len(w), w))
    return "|".join(
        re.escape(w).replace(r"\ ", "[ ]{0,2}") + (r"(?!\w|'\w)" if w[-1].isalnum() else "") for w in chosen
    )


def _whole_words(words: Iterable[str]) -> list[str]:
    return [w for w in words if len(w) > 1 and w[0].isalpha() and w not in {"in", "in.", "ins"}]


def _optional(words: Mapping[str, Decimal], name: str) -> str:
    """A pattern for words that may follow, as a group of this name."""
    return rf"(?:[ ](?P<{name}>{_either(words)})(?!\w))?" if words else f"(?P<{name}>(?!))?"


def _any_of(words: Iterable[str]) -> re.Pattern[str]:
    either = _either(words)
    return _compiled(rf"(?<!\w)(?:{either})(?!\w)") if either else _NEVER


def _closed(say: str) -> str:
    """A word of a unit as it is looked up: "fl oz" and "floz" are one."""
    return "".join(say.split())


def _telling_words(words: Iterable[str]) -> frozenset[str]:
    """The words by which a text shows that it may hold one of these; signs of money show themselves."""
    lettered = (word for word in words if _MONEY_SIGNS.isdisjoint(word))
    return frozenset(max(runs, key=len) for word in lettered if (runs := _LETTERS.findall(word)))


def _next(words: Sequence[str]) -> re.Pattern[str]:
    return _compiled(rf"[ ]?(?:{_either(words)})(?!\w)") if words else _NEVER


def _worded(data: AmountsData, language: str) -> Mapping[str, Decimal]:
    """Number words up to ninety-nine, hundreds, and the words of parts ("half an")."""
    numbers = numbers_data(language)
    plain = {**numbers.units, **numbers.tens}
    joined: dict[str, int] = {}
    if numbers.tens_first:
        joined = {
            f"{ten}{gap}{one}": numbers.tens[ten] + value
            for ten in numbers.tens
            for one, value in numbers.units.items()
            for gap in (" ", "-")
            if value < 10
        }
    if numbers.glued is not None:
        joined = {**glued_tens(numbers.glued, numbers.tens), **glued_hundreds(numbers.glued)}
    known = {**plain, **joined, **_hundreds(numbers)}
    return {**{word: Decimal(value) for word, value in known.items()}, **data.words}


def _hundreds(numbers: NumbersData) -> Mapping[str, int]:
    """ "a hundred", "two hundred", "a hundred and fifty": round ones, and with but tens behind them.

    Only with tens is "hundred and fifty" as good as "a hundred and fifty": "hundred" may have "a couple"
    before it.
    """
    if not numbers.tens_first:
        return {}
    heads = {**dict.fromkeys(numbers.articles, 1), **{w: v for w, v in numbers.units.items() if v < 10}}
    names = [word for word, value in numbers.scales.items() if value == _HUNDRED]
    round_ones = {f"{head} {name}": _HUNDRED * value for head, value in heads.items() for name in names}
    behind = [(f"{joint}{ten}", value) for ten, value in numbers.tens.items() for joint in _joints(numbers)]
    begun = {**round_ones, **dict.fromkeys(names, _HUNDRED)}
    return {
        **round_ones,
        **{f"{word}{ten}": n + more for word, n in begun.items() for ten, more in behind},
    }


def _joints(numbers: NumbersData) -> list[str]:
    return [" ", *(f" {word} " for word in numbers.and_)]


_HUNDRED = 100
