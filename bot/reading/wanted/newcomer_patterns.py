"""How the parts of what is said of newcomers are found: tag, size, place, day of coming and the like. Pure.

The words are data (``newcomer_*`` in ``lexicon/<language>/instructions.yaml``); the English ones hold beside
a language's own.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from functools import cache
from typing import Final

from bot.reading.words.numbers import numbers_data
from bot.reading.words.phrasings import SHARED, either, synonyms, word_set

_NUMBER: Final = r"\d{1,2}(?:[.,]\d{1,2})?"
#: Where a part of what is said ends.
_ENDS: Final = r"\s*(?=$|[,;])"
_OPENS, _CLOSES = r"\s*[:“„\"«]?\s*", r"[”“\"»]?\s*"
_A_CAPITAL: Final = "[A-ZÄÖÜÁÉÍÓÚÑ]"
#: A name in a list behind "called", and one that nothing leads to.
_LISTED: Final = rf"(?-i:[^\W\d_][\w'’\-]*(?: {_A_CAPITAL}[\w'’\-]*)?)"
_CAPITAL: Final = rf"{_A_CAPITAL}[\w'’\-]*(?: {_A_CAPITAL}[\w'’\-]*)?"


class OfOne:
    """What finds the parts of what is said of one animal, anywhere in it.

    ``tag`` has the tag as its group 1, ``lot`` the number; ``span`` has a low figure or none, the figure and
    its unit; ``came``, ``arrived``, ``called`` and ``source`` have what was ``said``, places the ``place``.
    """

    def __init__(self, language: str) -> None:
        words = _Words(language)
        self.numbers: Final = words.numbers
        self.tag: Final = re.compile(rf"(?:{words['newcomer_tag']})\s*(?:=|:)?\s*([\w.\-/#]{{1,16}})", re.I)
        self.lot: Final = re.compile(rf"(?:{words['newcomer_lot']})\s*(\d{{1,4}})(?!\w)", re.I)
        self.span: Final = re.compile(
            rf"(?<![\w.])(?:({_NUMBER})\s*(?:-|–|{words['newcomer_to']})\s*)?({_NUMBER})\s*"
            rf"(cm|mm|\"|{words['newcomer_inches']})(?!\w)(?:\s*(?:{words['newcomer_span']}))?",
            re.I,
        )
        self.kept: Final = re.compile(words["newcomer_kept"], re.I)
        self.new: Final = re.compile(words["newcomer_new"], re.I)
        #: Words of a purchase, which is told and no order.
        self.bought: Final = re.compile(rf"{words['newcomer_bought']}|[€$£]", re.I)
        self.came, self.called, self.source = (
            _led_by(words, key) for key in ("newcomer_came", "newcomer_called", "newcomer_from")
        )
        #: A day on which it came, behind a word for coming: "bought yesterday", "arrived on Friday".
        self.arrived: Final = re.compile(
            rf"(?:{words['newcomer_arrives']})\s+(?:(?:{words['newcomer_on_day']})\s+)?"
            rf"(?P<said>{words['newcomer_day']})\s*(?=$|[,;.\n]|\s)",
            re.I,
        )
        self.stage: Final = re.compile(either(synonyms("stages", language)), re.I)
        self.sex: Final = re.compile(either(synonyms("sexes", language)), re.I)
        self._articles: Final = rf"(?:(?:{words['place_articles']})\s+)?"
        self._leads: Final = rf"(?:{words['place_leads']})\s+{self._articles}"
        self._places: Final = self._places_by_nouns(words["places"])

    def places(self, known: Collection[str]) -> Sequence[re.Pattern[str]]:
        """What finds a place: one of those ``known``, or words with what a place is called."""
        if not known:
            return self._places
        said = either(sorted(known, key=len, reverse=True))
        led, *others = self._places
        return (
            led,
            re.compile(rf"(?:{self._leads}|(?:^|[,;]\s*))(?P<place>{said}){_ENDS}", re.I),
            re.compile(rf"(?<=\s)(?P<place>{said}){_ENDS}", re.I),
            *others,
        )

    def _places_by_nouns(self, nouns: str) -> Sequence[re.Pattern[str]]:
        """A place behind a lead-in; one by itself, ", rack A bottom", ", top shelf"; one with its number or
        letter at the end of a part, "O. philippinus Mango rack B"."""
        led = rf"{self._leads}(?P<place>(?:{nouns})[^,;]*|[^,;]*?(?:{nouns})(?:\s+\w{{1,2}}(?!\w))?){_ENDS}"
        alone = (
            rf"(?:^|[,;])\s*{self._articles}"
            rf"(?P<place>(?:{nouns})[^,;]*|(?:[\w'’\-]+\s+){{0,3}}(?:{nouns})){_ENDS}"
        )
        numbered = rf"(?<=\s)(?P<place>(?:{nouns})\s+\w{{1,2}}){_ENDS}"
        return [re.compile(pattern, re.I) for pattern in (led, alone, numbered)]


class OfSeveral:
    """What tells several animals of one message apart, and what is said of all of them.

    ``behind_all`` has what was ``said`` of all; ``names_called`` and ``names_alone`` have the ``names``;
    ``tag_range`` has its ``lead``, letters and first number, letters and last one; ``tag_list`` the tags.
    """

    def __init__(self, language: str) -> None:
        words = _Words(language)
        joint, tags, one = words["newcomer_joints"], words["newcomer_tags"], words["newcomer_one"]
        all_of_them = (
            rf"\s*(?:(?:{joint})\s+)?(?:(?:{words['newcomer_they_are']})\s+)?(?:{words['newcomer_all']})"
        )
        self.of_all: Final = re.compile(rf"^{all_of_them}", re.I)
        #: What is said of all at the end of a list: ", all on shelf A".
        self.behind_all: Final = re.compile(rf"(?:[,;\n]|\.\s){all_of_them}(?P<said>.*)$", re.I | re.DOTALL)
        numbers = either(sorted(words.numbers, key=len, reverse=True))
        #: "2 GBBs, Sky and Blue, and an OBT": a number or an article behind a comma or an "and" begins one.
        self.counted_start: Final = re.compile(
            rf"(?:,|\s(?:{joint}|&))+\s*(?:(?:{joint})\s+)?"
            rf"(?=(?:{numbers}|{one}|\d{{1,3}}\s?x?)\s+[^\W\d])",
            re.I,
        )
        self.joint: Final = re.compile(rf",?\s+(?:{joint}|&|\+)\s+", re.I)
        self.between_names: Final = re.compile(rf"\s*(?:,|&|{joint})+\s*", re.I)
        #: "I have a GBB", "I have 3 GBB": some of a kind, and not one that is known already.
        self.some: Final = re.compile(rf"(?:{one}|{numbers}|{words['newcomer_some']}|\d{{1,3}})\s", re.I)
        self.single: Final = re.compile(rf"[\s,;:\-–]*(?:{one})\s", re.I)
        self.tag_range: Final = re.compile(
            rf"(?P<lead>{tags}|{words['newcomer_tag']})?\s*:?\s*(?<!\w)([A-Za-z]{{0,3}})(\d{{1,4}})\s*"
            rf"(?:-|–|{words['newcomer_to']})\s*([A-Za-z]{{0,3}})(\d{{1,4}})(?!\w)",
            re.I,
        )
        self.tag_list: Final = re.compile(
            rf"(?:{tags})\s*:?\s*"
            rf"([A-Za-z]{{0,3}}\d{{1,4}}(?:\s*(?:,|&|{joint})+\s*[A-Za-z]{{0,3}}\d{{1,4}}(?!\w))+)",
            re.I,
        )
        #: "Salt and Pepper": of one animal, this is its name.
        self.one_name: Final = re.compile(rf"\S+ (?:{joint}|&) \S+", re.I)
        self.names_called: Final = re.compile(
            rf"(?:{words['newcomers_called']}){_OPENS}(?P<names>{_list_of(_LISTED, joint)})", re.I
        )
        #: Capitalised names that nothing leads to: at the beginning, or behind a mark.
        self.names_alone: Final = re.compile(
            rf"(?:^\s*|[,:(]\s*|\s[-–]\s*)(?P<names>{_list_of(_CAPITAL, joint)})(?=\s*(?:$|[,:;)]|\s[-–]\s))"
        )


def _led_by(words: _Words, key: str) -> re.Pattern[str]:
    """The words behind one of the lead-ins of a list, up to a mark or the next matter."""
    return re.compile(
        rf"(?:{words[key]}){_OPENS}(?P<said>[^,;“”„\"«»\n]+?){_CLOSES}"
        rf"(?=$|[,;\n]|\.\s|\.$|{words['newcomer_ends']})",
        re.I,
    )


def _list_of(item: str, joint: str) -> str:
    """Names in a row: the last behind an "and", or commas alone."""
    return rf"{item}(?:\s*,\s*{item})*\s*,?\s*(?:{joint}|&)\s+{item}|{item}(?:\s*,\s*{item})+"


class _Words:
    """The lists of words of a language, each as a pattern for any of them, the longest first."""

    def __init__(self, language: str) -> None:
        self._language = language
        #: The small numbers in words.
        self.numbers: Final = {**numbers_data(SHARED).units, **numbers_data(language).units}

    def __getitem__(self, key: str) -> str:
        return either(sorted(word_set(key, self._language), key=len, reverse=True))


@cache
def of_one(language: str = SHARED) -> OfOne:
    """The patterns of a language for one animal."""
    return OfOne(language)


@cache
def of_several(language: str = SHARED) -> OfSeveral:
    """The patterns of a language for several animals."""
    return OfSeveral(language)
