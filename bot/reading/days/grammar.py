"""A grammar of days: the rules of a language, made ready once, and what they find in a text.

Each rule is one pattern, filed under the two words it can begin with. A text is walked word by
word, and only where a word and the next can begin a rule is its pattern tried; the longest match wins,
then the first rule.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final

from bot.reading.days.sayings import Node, Opening, Slot, first_key, openings, parsed, second_key
from bot.reading.days.words import DaysData, RuleData, days_data
from bot.reading.words.normalise import without_accents
from bot.reading.words.scan import Words
from bot.terms.value_object import value_object

_SPACE: Final = "[ ]{1,3}"
#: A figure is no date where it goes on something: "B-3", "#12", "0.1.0", "12:30" from its middle on, a price.
_FREE_FIGURE: Final = re.compile(r"(?<![\w#/:$£€])(?<!\w[.,/-])\d")
#: The meanings of rules whose words are a date, which may own what was done then: "the 5th's feed".
_DATES: Final = frozenset(
    {"iso", "day_month", "of_month", "figures", "two_figures", "range_of_days", "vague", "weekend"}
)
_AFTER: Final = r"(?!\w)(?!['’]\w)(?![.,]\d)"

#: Lists that figures fill too, and what the figures look like.
_FIGURES: Final[Mapping[str, str]] = {
    "n": r"\d{1,3}",
    "day": r"(?:0?[1-9]|[12]\d|3[01])",
    "nth": r"",
    "hour": r"(?:[01]?\d|2[0-4])",
    "minute": r"[0-5]\d",
    "past": r"\d{1,2}",
    "year": r"(?:(?:19|20)\d\d|'\d\d)",
    "year4": r"(?:19|20)\d\d",
    "num": r"\d{1,2}",
    "num_late": r"(?:1[3-9]|2\d|3[01])",  # a day, and no month: "25/6 refused" counts nothing
    "num2_month": r"(?:0?[1-9]|1[0-2])",
    "yy": r"(?:(?:19|20)\d\d|\d\d)",
    "hhmm": r"(?:[01]\d|2[0-3])[0-5]\d",
    "noughted": r"0\d[0-5]\d",  # by itself only with a nought, as "1000" counts and "2019" is a year
}


@dataclass(frozen=True)
class Rule:
    """A rule ready for use: its data, its expression and what must not stand around it."""

    data: RuleData
    expression: str
    not_next: re.Pattern[str] | None
    not_before: frozenset[str]
    opens_after: frozenset[str] | None
    owner: str | None
    behind: str | None = None

    @cached_property
    def pattern(self) -> re.Pattern[str]:
        """The rule's pattern, made when its first words stand in a message: most never do."""
        return re.compile(self.expression, re.IGNORECASE)

    @cached_property
    def before(self) -> re.Pattern[str] | None:
        """What has to stand right before."""
        return re.compile(rf"\b{self.behind}$", re.IGNORECASE) if self.behind is not None else None


@value_object()
class Heard:
    """A rule's match: its place, and the values of its slots (numbers, or words of the lists).

    ``owns``: a date to which what follows belongs, as in "the 5th's feed".
    """

    start: int
    end: int
    rule: RuleData
    values: Mapping[str, int | str]
    owns: bool = False

    def number(self, slot: str) -> int:
        """The number in a slot that always holds one."""
        return int(self.values[slot])


class _Filed:
    """Rules by the two words they can begin with."""

    def __init__(self) -> None:
        self.firsts: dict[str, list[tuple[frozenset[str] | None, int]]] = {}
        self._rules: list[Rule] = []
        self._seconds: set[str] = set()
        self._found: dict[tuple[str, str | None], tuple[Rule, ...]] = {}

    def add(self, rule: Rule, begins: Sequence[Opening]) -> None:
        """File a rule; earlier ones win where two match alike."""
        for opening in begins:
            self._seconds.update(opening.seconds or ())
            filed = (opening.seconds, len(self._rules))  # one for all words that it begins with
            for first in {*opening.firsts, *map(without_accents, opening.firsts)}:
                self.firsts.setdefault(first, []).append(filed)
        self._rules.append(rule)

    def beginning(self, first: str, following: str | None) -> tuple[Rule, ...]:
        """The rules that can begin with a key and the word after it, in their order."""
        second = second_key(following) if following else None
        key = first, second if second in self._seconds else None
        found = self._found.get(key)
        if found is None:
            fits = {n for seconds, n in self.firsts[first] if seconds is None or key[1] in seconds}
            found = self._found[key] = tuple(self._rules[n] for n in sorted(fits))
        return found


class Grammar:
    """All rules of a language."""

    def __init__(self, data: DaysData) -> None:
        self._lists = {
            name: {word.lower(): value for value, words in values.items() for word in words}
            for name, values in data.words.items()
        }
        self._slots: dict[str, Slot] = {}
        self._moments = self._filed([r for r in data.rules if r.kind != "period"], data)
        self._periods = self._filed([r for r in data.rules if r.kind == "period"], data)
        self.glue = _joining(data.glue, r"^[ ]{0,3},?[ ]{0,3}(?:(?:%s)[ ]{0,3})?$")
        self.either = _joining(data.either, r"^[ ]{1,3}(?:%s)[ ]{1,3}$")

    def _filed(self, rules: Sequence[RuleData], data: DaysData) -> _Filed:
        filed = _Filed()
        for rule in rules:
            following = [word for name in rule.unless_next for word in data.lists[name]]
            not_next = _following(following) if following else None
            not_before = frozenset(data.lists[rule.unless_before]) if rule.unless_before else frozenset()
            opens_after = frozenset(data.lists[rule.opens]) if rule.opens else None
            owner = data.owner if rule.means in _DATES else None
            owned = f"(?:{re.escape(owner)})?" if owner else ""
            behind = self._regex(parsed(rule.behind)) if rule.behind else None
            ahead = f"(?={self._regex(parsed(rule.ahead))}{_AFTER})" if rule.ahead else ""
            for say in rule.say:
                nodes = parsed(say)
                expression = self._regex(nodes) + owned + _AFTER + ahead
                filed.add(
                    Rule(rule, expression, not_next, not_before, opens_after, owner, behind),
                    openings(nodes, self._words_of),
                )
        return filed

    def _regex(self, nodes: Sequence[Node]) -> str:
        following = (*nodes[1:], None)
        return "".join(map(self._regex_of, nodes, following))

    def _regex_of(self, node: Node, following: Node | None) -> str:
        if node.kind == "text":
            return _SPACE.join(map(_with_or_without_accents, node.text.split(" ")))
        if node.kind == "slot":
            glued = following is not None and following.kind == "slot"
            return f"(?P<{node.text}>{self._slot(node.text, glued=glued)})"
        inner = "|".join(self._regex(branch) for branch in node.branches)
        return f"(?:{inner}){'?' if node.kind == 'optional' else ''}"

    def _slot(self, slot: str, *, glued: bool) -> str:
        """What fills a slot; with a unit ``glued`` on only figures: "3d", and no "and" for "an d"."""
        name = _list_of(slot)
        if glued and _FIGURES.get(name):
            return _FIGURES[name]
        words = sorted(self._lists.get(name, ()), key=len, reverse=True)
        choices = [_SPACE.join(map(re.escape, word.split(" "))) for word in words]
        figures = _FIGURES.get(name)
        return "|".join([*choices, *([figures] if figures else [])])

    def _words_of(self, slot: str) -> Slot:
        name = _list_of(slot)
        if name not in self._slots:
            figures = bool(_FIGURES.get(name))
            self._slots[name] = Slot(name, self._lists.get(name, ()), figures=figures)
        return self._slots[name]

    def moments(self, words: Words) -> list[Heard]:
        """Days, parts of the day and clock times: the longest at each place, none overlapping."""
        return self._find(words, self._moments)

    def periods(self, words: Words) -> list[Heard]:
        """Lengths of time and repetitions: the longest at each place, none overlapping."""
        return self._find(words, self._periods)

    def _find(self, words: Words, filed: _Filed) -> list[Heard]:
        out: list[Heard] = []
        if not words.may_begin(filed.firsts.keys()):
            return out
        at, text, last = 0, words.text, len(words.at) - 1
        for n, (start, word) in enumerate(words.at):
            first = first_key(word) if word[0].isdigit() else word
            if first not in filed.firsts or start < at:
                continue
            if word[0].isdigit() and not _FREE_FIGURE.match(text, start):
                continue
            rules = filed.beginning(first, words.at[n + 1][1] if n < last else None)
            if rules and (heard := self._longest(text, start, rules)):
                out.append(heard)
                at = heard.end
        return out

    def _longest(self, text: str, start: int, rules: Sequence[Rule]) -> Heard | None:
        best: re.Match[str] | None = None
        by: Rule | None = None
        for rule in rules:
            match = rule.pattern.match(text, start)
            if match and (best is None or match.end() > best.end()) and _stands_free(text, match, rule):
                best, by = match, rule
        if best is None or by is None:
            return None
        # "month_sure" fills the slot "month" with fewer words
        said = best.groupdict().items()
        values = {slot.partition("_")[0]: self._value(slot, words) for slot, words in said if words}
        return Heard(best.start(), best.end(), by.data, values, _owns(best, by))

    def _value(self, slot: str, said: str) -> int | str:
        word = " ".join(said.lower().split())
        known = self._lists.get(_list_of(slot), {}).get(word)
        if known is not None:
            return known
        return int(word.lstrip("'")) if word.lstrip("'").isdecimal() else word


@lru_cache(maxsize=16)
def grammar(language: str) -> Grammar:
    """The grammar of a language, made once."""
    return Grammar(days_data(language))


def _list_of(slot: str) -> str:
    return slot if slot in _FIGURES else slot.rstrip("0123456789")


def _with_or_without_accents(word: str) -> str:
    """ "día" as it is written in a hurry, too: "dia"."""
    return "".join(
        re.escape(letter) if letter.isascii() else f"(?:{letter}|{without_accents(letter)})"
        for letter in word
    )


def _joining(words: Sequence[str], pattern: str) -> re.Pattern[str]:
    return re.compile(pattern % "|".join(map(re.escape, sorted(words, key=len, reverse=True))), re.IGNORECASE)


def _following(words: Sequence[str]) -> re.Pattern[str]:
    either = "|".join(map(re.escape, sorted(words, key=len, reverse=True)))
    return re.compile(rf"[ -]{{0,3}}(?:{either})(?!\w)", re.IGNORECASE)


_LAST_WORD: Final = re.compile(r"([\w']+)[ ]{0,3}$")
_LOOK_BACK: Final = 24


def word_before(text: str, start: int) -> str:
    """The word right before a place, on the same line and folded; nothing where there is none."""
    match = _LAST_WORD.search(text[max(0, start - _LOOK_BACK) : start].rpartition("\n")[2])
    return match.group(1).lower() if match else ""


def _owns(match: re.Match[str], rule: Rule) -> bool:
    return rule.owner is not None and match.group().endswith(rule.owner)


def _stands_free(text: str, match: re.Match[str], rule: Rule) -> bool:
    if rule.not_next is not None and not _owns(match, rule) and rule.not_next.match(text, match.end()):
        return False
    if rule.opens_after is not None and not _opens(text, match, rule.opens_after):
        return False
    start = match.start()
    if rule.before is not None and not rule.before.search(text[max(0, start - _LOOK_BACK) : start]):
        return False
    if rule.data.apart and not _stands_apart(text, match):
        return False
    if rule.data.own_line and not _on_its_own_line(text, match):
        return False
    return not (rule.not_before and word_before(text, start) in rule.not_before)


def _stands_apart(text: str, match: re.Match[str]) -> bool:
    """Whether marks, or the ends of the text, stand on both sides of a match."""
    start, end = match.span()
    before, behind = (
        text[max(0, start - _LOOK_BACK) : start].rstrip(" "),
        text[end : end + _LOOK_BACK].lstrip(" "),
    )
    return before[-1:] in _PARTING and behind[:1] in _PARTING


def _on_its_own_line(text: str, match: re.Match[str]) -> bool:
    """Whether nothing but a colon stands beside a match on its line, and there are other lines."""
    start, end = match.span()
    begins, ends = text.rfind("\n", 0, start) + 1, text.find("\n", end)
    behind = text[end : len(text) if ends < 0 else ends]
    alone = not text[begins:start].strip(" -*•#") and not behind.strip(" :")
    return alone and (begins > 0 or ends >= 0)


#: Marks that set what is between them apart; an end of the text does as well.
_PARTING: Final = frozenset({"", ",", ".", ":", ";", "(", ")", "\n", "–", "-", "!"})


def _opens(text: str, match: re.Match[str], after: frozenset[str]) -> bool:
    """Whether a match stands behind one of some words, or begins a line that goes on."""
    start, end = match.span()
    line = text[text.rfind("\n", 0, start) + 1 : start]
    goes_on = text[end : end + _LOOK_BACK].strip(" -:") != ""
    return (goes_on and not line.strip(" -*#(")) or word_before(text, start) in after
