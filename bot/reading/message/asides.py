"""Asides: what a keeper says beside an entry of himself or of the world, and what tells nothing of an animal.

A clause is one only where it is set off, fits a pattern (``aside_patterns``), and holds nothing in its free
words that could make or alter an entry, deny or doubt one, or be a matter of its own. Such a clause is let
go: the rest of the message is read without it. Where in doubt it stays, and is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.message.aside_patterns import Asides, asides_of, word_of
from bot.reading.message.parse import Message
from bot.reading.words.rule_words import rule_words
from bot.reading.words.word_groups import Group
from bot.terms import Kind

#: Whether a part of a clause's free words, with its neighbours, tells of an animal.
_Tells = Callable[[Item, Item | None, Item | None], bool]
#: Words of the longest clause that is looked at.
_LONGEST: Final = 26
#: Marks that set a clause off.
_MARKS: Final = frozenset(",–-()…:")
_CLOSING: Final = {"(": ")"}


def without_asides(message: Message, *, doubts: bool = False) -> Message | None:
    """The message without what is said beside the matter; ``None`` where there is nothing such.

    With ``doubts`` without what says only that something is not known, too.
    """
    found = asides_in(message, doubts=doubts)
    if not found:
        return None
    plain, start, out = message.source.plain, 0, []
    for part in found:
        out.append(plain[start : message.tokens[part.start].start])
        start = message.tokens[part.stop - 1].end
    return message.saying("".join([*out, plain[start:]]).rstrip(" ,-–"))


def asides_in(message: Message, *, doubts: bool = False) -> list[range]:
    """The tokens of each aside of a message, in order, with the brackets around it."""
    known = asides_of(message.settings.language, doubts=doubts)
    if known is None:
        return []
    tokens = message.tokens
    words = [word_of(t) for t in tokens]
    behind_marks = [w for n, w in enumerate(words) if n == 0 or tokens[n - 1].kind == "mark"]
    if not known.may_begin(behind_marks, words) or (doubts and not known.may_doubt(behind_marks)):
        return []
    out: list[range] = []
    for sentence in message.sentences(range(len(message.tokens))):
        out += _in_sentence(message, sentence, words, known)
    return out


# -- where they stand -----------------------------------------------------------------------------


def _in_sentence(message: Message, sentence: range, words: Sequence[str], known: Asides) -> Iterator[range]:
    at = sentence.start
    while at < sentence.stop:
        marked = at == sentence.start or message.tokens[at - 1].text in _MARKS
        patterns = [*(known.set_off.get(words[at], ()) if marked else ())]
        if at > sentence.start and not _liked(message, sentence, at, words):
            patterns += known.running.get(words[at], ())
        end = _end_of(message, sentence, at, words, patterns, known, _tells) if patterns else None
        why = known.reasons.get(words[at], ())
        if end is None and why and _told_before(message, sentence, at):
            end = _end_of(message, sentence, at, words, why, known, _tells_in_a_reason)
        if end is None:
            at += 1
            continue
        yield _with_its_marks(message, sentence, range(at, end))
        at = end


def _told_before(message: Message, sentence: range, at: int) -> bool:
    """Whether a sentence tells something before a reason for it; "voice texting because …" does not."""
    before = (item for item in message.items([sentence]) if item.j <= at)
    return any(item.cat == "S" or item.senses.verbs or "prey" in item.senses for item in before)


def _liked(message: Message, sentence: range, at: int, words: Sequence[str]) -> bool:
    """ "does not like the spiders", "walks like a drunk": a "like" that no meal or molt is likened with."""
    if words[at] not in _LIKE or message.tokens[at - 1].text in _MARKS:
        return False
    before = [i for i in message.items([sentence]) if i.j <= at]
    last = before[-1] if before else None
    if last is None or last.cat == "U" or not _BEFORE_LIKE.isdisjoint(last.senses):
        return True
    return not any("prey" in i.senses or i.senses.verbs for i in before)


_LIKE: Final = rule_words("like")
_BEFORE_LIKE: Final = frozenset({"neg", "future", "hedge", "did", "self", "pron", "undone"})


def _end_of(
    message: Message,
    sentence: range,
    start: int,
    words: Sequence[str],
    patterns: Sequence[re.Pattern[str]],
    known: Asides,
    tells: _Tells,
) -> int | None:
    """Where the longest aside that begins at a token ends: before a mark, or before what is joined to it."""
    ends = _ends(message, sentence, start, words, known)
    for end in ends:
        spoken = [n for n in range(start, end) if message.tokens[n].kind != "mark"]
        away = words[start] in _WHILE and not _TRIPS.isdisjoint(words[start:end])
        if len(spoken) > _LONGEST or away or _heads_a_list(message, start, end):
            continue
        crosses = any(_parts(message, n) for n in range(start + 1, end)) and not _bracketed(message, start)
        starts, said = _said(spoken, words)
        for pattern in patterns:
            free = _free_words(pattern, starts, said)
            if free is None or (free and crosses):
                continue
            if not _a_matter(message, sentence, free, known, tells):
                return end
    return None


#: "molted while we were at the cottage": it says when, and that nobody knows the day.
_WHILE: Final = rule_words("while")
_TRIPS: Final = rule_words("trips")


def _heads_a_list(message: Message, start: int, end: int) -> bool:
    """ "ate: Ink. not: Sunny": a denial before a colon is of those below it."""
    colon = end < len(message.tokens) and message.tokens[end].text == ":"
    return colon and any(
        not _DENIES.isdisjoint({s.cat for s in message.senses(n)}) for n in range(start, end)
    )


_DENIES: Final = frozenset({"neg", "no", "none_of", "elided"})


def _bracketed(message: Message, start: int) -> bool:
    return start > 0 and message.tokens[start - 1].text in _CLOSING


def _ends(
    message: Message, sentence: range, start: int, words: Sequence[str], known: Asides
) -> Iterator[int]:
    tokens = message.tokens
    if _bracketed(message, start):
        closing = _CLOSING[tokens[start - 1].text]
        yield from (n for n in range(start + 1, len(tokens)) if tokens[n].text == closing)
        return
    marks = [n for n in range(start + 1, sentence.stop) if _parts(message, n)] + [sentence.stop]
    stop = marks[0]
    yield from reversed(marks[:2])  # "and before you ask, no"
    yield from (n for n in range(stop - 1, start + 1, -1) if words[n] in known.joints)


def _parts(message: Message, at: int) -> bool:
    """Whether a mark parts what is said; an apostrophe or a hyphen within a word does not."""
    token = message.tokens[at]
    if token.kind != "mark":
        return False
    if token.text == "-":
        return bool(token.gap)
    return token.text in _MARKS or message.ends_sentence(at)


def _with_its_marks(message: Message, sentence: range, part: range) -> range:
    """An aside with the brackets around it, and the question mark or full stop of its own."""
    tokens, start, end = message.tokens, part.start, part.stop
    if _bracketed(message, start) and end < len(tokens):
        return range(start - 1, end + 1)
    whole, marked = start == sentence.start, start and tokens[start - 1].text in _MARKS
    asks = end < sentence.stop and tokens[end].text == "?" and marked  # "…, can you believe it?"
    own = end < sentence.stop and whole and (tokens[end].text in _MARKS or message.ends_sentence(end))
    return range(start, end + 1) if asks or own else part


# -- what they say --------------------------------------------------------------------------------


def _said(spoken: Sequence[int], words: Sequence[str]) -> tuple[Mapping[int, int], str]:
    """The words of some tokens as one text, and which token begins at each of its letters."""
    starts, length = {}, 0
    for n in spoken:
        starts[length] = n
        length += len(words[n]) + 1
    return starts, "".join([f"{words[n]} " for n in spoken])


def _free_words(pattern: re.Pattern[str], starts: Mapping[int, int], said: str) -> list[int] | None:
    """The tokens that a pattern leaves free, ``None`` where it does not fit the words."""
    fit = pattern.fullmatch(said)
    if fit is None:
        return None
    spans = [fit.span(n) for n in range(1, pattern.groups + 1)]
    return [n for place, n in starts.items() if any(a <= place < b for a, b in spans)]


def _a_matter(message: Message, sentence: range, free: Sequence[int], known: Asides, tells: _Tells) -> bool:
    """Whether the free words of a clause could be an entry, alter or doubt one, or be another matter."""
    if not free:
        return False
    free = [n for n in free if not _a_bit(message, n)]
    inside = set(free)
    if any(word_of(message.tokens[n]) in known.matters for n in free):
        return True
    if any(s.cat in _ORDERS for n in free for s in message.cues.get(n, (0, ()))[1]):
        return True
    if any(message.lexicon.signs.find(message.tokens, message.keys, n) for n in free):
        return True
    items = message.items([sentence])
    return any(
        tells(item, items[place - 1] if place else None, items[place + 1] if place + 1 < len(items) else None)
        for place, item in enumerate(items)
        if not inside.isdisjoint(range(item.i, item.j))
    )


def _a_bit(message: Message, at: int) -> bool:
    return message.keys[at] in _BIT and at > 0 and message.keys[at - 1] == "a"


_BIT: Final = rule_words("bit")


def _tells(item: Item, before: Item | None, behind: Item | None) -> bool:
    """Whether a part of a free clause may tell something of an animal, or of what was told of one."""
    if item.cat in _TELLING:
        return True
    if not _MATTERS.isdisjoint(item.senses) or any(_acts(s.group) for s in item.senses.values()):
        return True
    if "noun" in item.senses and item.text not in _HOME:
        return True
    if "pron" in item.senses:
        of_nobody = item.text in _IT and behind is not None and behind.text in _WAS
        return not of_nobody and (before is None or before.text not in _OF_WHOM)
    return False


def _tells_in_a_reason(item: Item, _before: Item | None, _behind: Item | None) -> bool:
    """Whether a part of a clause that says why may be more: "because she was waiting at her hide" is not.

    What she and her things were like, and what the prey was like, is only why something was done.
    """
    if item.cat in _TELLING:
        return True
    return not _MORE_THAN_WHY.isdisjoint(item.senses) or any(_acts(s.group) for s in item.senses.values())


_WAS: Final = rule_words("is_or_was")
_IT: Final = rule_words("it")


def _acts(group: Group) -> bool:
    """Whether a verb may be an entry here: "I took a while" is none, "I gave", "I moved" may be."""
    if group.is_ != "verb":
        return False
    if group.base:
        return group.keeper
    return not group.weak or group.noun or group.keeper or group.kind is not Kind.FED


_TELLING: Final = frozenset("STXEDAPN")
_MATTERS: Final = frozenset(
    {
        "prey",
        "size",
        "prekilled",
        "except",
        "leftover",
        "undone",
        "report",
        "fix",
        "danger",
        "stranger",
        "each",
    }
    | {
        "portion",
        "rest",
        "ones",
        "one",
        "or",
        "neg",
        "neither",
        "hedge",
        "cond",
        "same",
        "nomore",
        "everyone",
    }
    | {
        "group",
        "span",
        "carapace",
        "weight",
        "temp",
        "humid",
        "which",
        "elided",
        "habit",
        "sign",
        "yes",
        "no",
    }
)
_MORE_THAN_WHY: Final = _MATTERS - {"prey", "size", "group", "habit", "each", "one", "ones"}
_ORDERS: Final = frozenset({"remind", "hold", "resume", "prompting", "pausing", "undo", "amend"})
_HOME: Final = rule_words("home")
_OF_WHOM: Final = rule_words("before_whom_it_is_about")
