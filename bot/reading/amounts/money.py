"""Sums of money: "£45", "45 quid", "ten dollars", "twelve dollars and fifty cents", "a tenner"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Final

from bot.reading.amounts.figures import EXACT, figure_value
from bot.reading.amounts.grammar import AmountGrammar
from bot.reading.amounts.spans import AmountSpan
from bot.terms.coins import coin_of

_HUNDRED: Final = Decimal(100)
#: A currency's code (ISO 4217) behind a sum.
_CODE: Final = re.compile(r" ?(?P<code>[a-z]{3})(?![a-z])", re.I)


class MoneyReader:
    """The money of one text."""

    def __init__(self, text: str, grammar: AmountGrammar, zone: str) -> None:
        self._text, self._g, self._zone = text, grammar, zone

    def figure(self, said: str) -> Decimal | None:
        """The number that figures say."""
        return figure_value(said, self._g.data.thousands)

    def money(self) -> Iterator[AmountSpan]:
        """Sums with a coin's name or sign, those in two coins as one."""
        whole: AmountSpan | None = None
        for span in self._sums_said():
            cents = "".join(span.unit.split()) in self._g.cents
            if whole is not None and cents and self._goes_on(whole, span):
                whole = replace(whole, end=span.end, value=EXACT.add(whole.value, span.value))
                continue
            if whole is not None:
                yield whole
            whole = span
        if whole is not None:
            yield whole

    def _goes_on(self, whole: AmountSpan, cents: AmountSpan) -> bool:
        """ "twelve dollars and fifty cents"."""
        between = self._text[whole.end : cents.start].strip()
        joined = between in ("", *self._g.data.beside) and whole.unit not in self._g.cents
        return joined and whole.currency == cents.currency and not (whole.doubt or cents.doubt)

    def _sums_said(self) -> Iterator[AmountSpan]:
        for match in self._g.money.finditer(self._text):
            if match["sign"]:
                currency = self._g.before_money[match["sign"].lower()]
                span = self._sum_of(match, match["low"], match["high"], (currency, Decimal(1), match["sign"]))
                span = self._in_its_own_coin(span) if span is not None else None
            else:
                span = self._coins(match)
            if span is not None:
                yield span

    def _in_its_own_coin(self, span: AmountSpan) -> AmountSpan:
        """ "$40 CAD": the code behind a sign says whose dollars they are."""
        behind = _CODE.match(self._text, span.end)
        code = behind["code"].upper() if behind is not None else ""
        if code not in self._g.data.money:
            return span
        return replace(span, end=behind.end() if behind is not None else span.end, currency=code)

    def _coins(self, match: re.Match[str]) -> AmountSpan | None:
        said = match["coin"] or match["coin3"]
        coin = "".join(said.lower().split())
        low = match["low2"] or match["low3"]
        if coin in self._g.cents:
            if len(coin) == 1 and match["gap"] != "":
                return None
            return self._sum_of(match, low, match["high2"], (self._g.cents[coin], _HUNDRED, said))
        pounds = coin in self._g.data.pounds
        currency = "GBP" if pounds else self._g.after_money[coin]
        span = self._sum_of(match, low, match["high2"], (currency, Decimal(1), said))
        more = self._hundredths(match)
        if span is None or more is not None:
            return span if span is None or more is None else replace(span, value=EXACT.add(span.value, more))
        weighs = pounds and not self._g.pounds_are_money.search(self._text)
        return replace(span, doubt="money_or_weight") if weighs else span

    def _hundredths(self, match: re.Match[str]) -> Decimal | None:
        """The "90" of "8 euro 90", the "fifty" of "four pound fifty"."""
        worded = self._g.worded.get(" ".join((match["cents3"] or "").lower().split()))
        cents = worded if worded is not None else Decimal(match["cents"]) if match["cents"] else None
        return EXACT.divide(cents, _HUNDRED) if cents is not None else None

    def _sum_of(
        self, match: re.Match[str], low: str, high: str | None, coin: tuple[str, Decimal, str]
    ) -> AmountSpan | None:
        currency, parts, said = coin
        worded = self._g.worded.get(" ".join(low.lower().split()))
        values = [worded if worded is not None else self.figure(low), self.figure(high) if high else None]
        if values[0] is None:
            return None
        first, last = (EXACT.divide(v, parts) if v is not None else None for v in values)
        if first is None:
            return None
        doubt = "range" if last is not None else None
        here = AmountSpan(match.start(), match.end(), "money", first, currency, said.lower(), doubt, last)
        return self._of_this_place(here)

    def _of_this_place(self, span: AmountSpan) -> AmountSpan:
        """ "$60" in Brisbane: the dollar of where the keeper lives; whose peso it is may not be sure."""
        sorts = (sort for sort, words in self._g.data.coins_by_zone.items() if span.unit in words)
        sort = next(sorts, None)
        code = coin_of(sort, self._zone) if sort is not None else span.currency
        return replace(span, currency=code, doubt=span.doubt if code else "what_money")

    def sums(self) -> Iterator[AmountSpan]:
        """Sums that are words by themselves: "a tenner"."""
        for match in self._g.sums.finditer(self._text):
            said = " ".join(match.group().lower().split())
            currency, value = self._g.sum_values[said]
            yield AmountSpan(match.start(), match.end(), "money", value, currency, said)
