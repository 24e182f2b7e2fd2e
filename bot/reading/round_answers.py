"""An answer to the round, in words: "all done except B3", "all took", "only water today", "later". Pure.

It is read against the round, not the shelf: "all" are the round's animals, and a bare number is the
tag of one of them that ends so.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Final

from bot.reading.words.phrasings import SHARED, Phrasings, bare, data, either, fitting, own_data, synonyms


class Said(StrEnum):
    """What is said of the round.

    ``FED_ALL`` ("everyone ate") may as well be said of the whole shelf, and so may ``WATERED_ALL``. ``SOME``
    have refused that are not named.
    ``NO_ROUND`` is said of today's as a whole, be it come or not.
    ``FED_DUE`` and ``WATERED_DUE`` are said of those who are due, whether a round was shown or not.
    """

    DONE = "done"
    TOOK = "took"
    FED_ALL = "fed_all"
    FED_DUE = "fed_due"
    WATERED = "watered"
    WATERED_ALL = "watered_all"
    WATERED_DUE = "watered_due"
    REFUSED = "refused"
    SOME = "some"
    LATER = "later"
    SKIP = "skip"
    NO_ROUND = "no_round"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundAnswer:
    """``out`` is who is excepted, ``only`` the place or animals alone meant, each in the keeper's words.

    What is said of those excepted may stand at the end of ``out`` ("Rust", "he refused"), see
    :func:`said_of_them`. ``aside`` is a clause on some animals that the others are told apart from. ``by`` is
    the person named as the one who did it. ``at`` and ``after`` tell till when, or how long, it is put off.
    """

    said: Said
    out: tuple[str, ...] = ()
    only: tuple[str, ...] = ()
    aside: str = ""
    by: str = ""
    at: str = ""
    after: str = ""


def read_round_answer(text: str, language: str = SHARED) -> RoundAnswer | None:
    """What a message says of the round as a whole, or ``None``. Never raises."""
    if text.rstrip().endswith("?"):
        return None
    text = text.translate(_ONE_MARK)
    words = bare(text, language=language)
    as_said = bare(text, polite=False)  # "not now" without its "now" says nothing
    ways = (words, as_said, _end(language).sub("", words))
    return next((found for way in ways if (found := _understood(way, language))), None)


def moment_said(answer: RoundAnswer, language: str = SHARED) -> tuple[str, str]:
    """An order to be reminded when the answer puts the round off to, and what it is to be reminded of."""
    key, said = ("at", answer.at) if answer.at else ("after", answer.after)
    before, _, what = data(language)["moments"][key].partition("{}")
    return f"{before}{said}{what}", what.strip()


def said_of_them(out: Iterable[str], words: str, language: str = SHARED) -> str:
    """Those excepted, and what is said of them without the word that stands for them: "Rust refused"."""
    joint = data(language)["answer_joints"][0]
    return f"{f' {joint} '.join(out)} {_them(language).sub('', words)}"


def _understood(words: str, language: str) -> RoundAnswer | None:
    said, found = next(fitting(words, language, _phrasings), (None, None))
    if said is None or found is None:
        return None
    slots = found.groupdict()
    return RoundAnswer(
        said=said,
        out=_parts(slots.get("out"), language),
        only=_parts(slots.get("only"), language),
        aside=slots.get("aside") or "",
        **{name: slots.get(name) or "" for name in ("by", "at", "after")},
    )


#: Marks that part what is said of those excepted: "all but Rust (refused)", "all but Rust; he refused".
_ONE_MARK: Final = str.maketrans({"(": ", ", ")": "", ";": ","})

_TABLES: Final = {
    "every": "every_one",
    "but": "but_for",
    "others": "the_others_of_it",
    "took": "they_took",
    "fed": "they_fed",
}


@cache
def _phrasings(language: str) -> Phrasings[Said]:
    answers = own_data(language).get("round_answers", {})
    slots = {slot: synonyms(table, language) for slot, table in _TABLES.items()}
    return Phrasings(((Said(said), phrase) for said, phrases in answers.items() for phrase in phrases), slots)


@cache
def _end(language: str) -> re.Pattern[str]:
    ends = sorted(data(language)["answer_ends"], key=len, reverse=True)
    return re.compile(rf"(?:[\s,]+(?:{either(ends)}))+$", re.I)


@cache
def _them(language: str) -> re.Pattern[str]:
    return re.compile(rf"^(?:{_those(language)})\s+", re.I)


@cache
def _between(language: str) -> re.Pattern[str]:
    joints = either(data(language)["answer_joints"])
    return re.compile(rf"\s*(?:,|&|\+|{joints})\s*|\s+(?=(?:{_those(language)})\s)", re.I)


def _those(language: str) -> str:
    return either(sorted(data(language)["those_excepted"], key=len, reverse=True))


def _parts(listed: str | None, language: str) -> tuple[str, ...]:
    named = _end(language).sub("", listed or "")
    return tuple(part.strip() for part in _between(language).split(named) if part.strip())
