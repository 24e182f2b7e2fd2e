"""Of whom a question asks."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.message.animals_meant import named_in
from bot.reading.message.parse import Message
from bot.reading.names.shelf_names import EXACT
from bot.reading.words.rule_words import rule_words


def asked_of(message: Message, sentence: range, items: Sequence[Item]) -> list[Ref]:
    """The animals asked about; "everything on Ink" is about Ink alone."""
    refs = named_in(message, [i for i in items if not _word_of_a_question(message, i)])
    some = [r for r in refs if len(r.tags) < len(message.names.specimens)]
    some = some or [ref for i in items if i.cat == "D" and (ref := _name_for_day(message, i)) is not None]
    some = some or [
        ref
        for before, item in pairwise(items)
        if before.text in _ABOUT_ONE and "prey" in item.senses and (ref := _called(message, item)) is not None
    ]
    if some:
        return some
    if not refs and (_points_back(items) or _goes_on(message, sentence)):
        told_before = message.items([range(sentence.start)]) if sentence.start else []
        refs = [i.val for i in told_before if i.cat == "S"][-1:]
        if not refs and message.talked_of is not None:
            refs = [message.talked_of]
    return refs


def _goes_on(message: Message, sentence: range) -> bool:
    """ "Captain refused, premolt?": behind a comma, with no word that asks, of the one just told of."""
    apart = sentence.start > 1 and message.tokens[sentence.start - 1].text in BEFORE_A_DOUBT
    return apart and not message.cues_in("ask", sentence)


#: Marks before what is only asked of oneself.
BEFORE_A_DOUBT: Final = frozenset(",-–")


def since_somebody_acted(message: Message, items: list[Item]) -> list[Item]:
    """ "how long since Friday ate": behind "since" the animal whose verb follows, and no day."""
    if not any(item.cat == "P" for item in items):
        return items
    out = list(items)
    for at, (item, nxt) in enumerate(pairwise(items)):
        acts = any(not (verb.group.keeper or verb.group.noun) for verb in nxt.senses.verbs)
        if item.cat != "P" or item.val.kind != "since" or item.j - item.i != len(_SINCE_ONE) or not acts:
            continue
        somebody = _called(message, item, item.i + 1)
        if somebody is not None:
            out[at] = Item("S", item.i + 1, item.j, message.keys[item.i + 1], val=somebody)
    return out


_SINCE_ONE: Final = ("since", "Friday")


def _word_of_a_question(message: Message, item: Item) -> bool:
    """ "does Ink need food", where a Reed lives: a word of the question, and no slip in a name."""
    return item.cat == "S" and item.val.how == "slip" and not item.val.sure and item.i in message.cues


def _points_back(items: Sequence[Item]) -> bool:
    """Whether a word stands for the animal just talked of; "any of them" is about the shelf."""
    whole = ("of", "all")
    return any(
        "pron" in item.senses
        and not (before is not None and item.senses["pron"].group.plural and _has(before, whole))
        and not (before is not None and before.text in _WHOM)  # "¿a quién le toca?"
        for before, item in zip((None, *items), items, strict=False)
    )


_WHOM: Final = rule_words("whom_asked")


def _has(item: Item, senses: Sequence[str]) -> bool:
    return not item.senses.keys().isdisjoint(senses)


#: Words behind which what a question is about stands: prey that is somebody's name is that animal there.
_ABOUT_ONE: Final = rule_words("before_one_asked_about")


def _name_for_day(message: Message, day: Item) -> Ref | None:
    """ "a rundown on Friday": behind the words for a matter a weekday that is a name is the animal."""
    ends = {end for end, senses in message.cues.values() if any(s.cat == "topic" for s in senses)}
    first = next((at for at in (day.i, day.i + 1) if at in ends), day.j)
    return _called(message, day, first)


def _called(message: Message, item: Item, first: int | None = None) -> Ref | None:
    """The animal whose very name an item is, or its words from a token on."""
    hits = message.names.phrases.get(tuple(message.keys[item.i if first is None else first : item.j]), ())
    exact = [hit for hit in hits if hit.how in EXACT and not hit.plural]
    return Ref(exact[0].tags, how=exact[0].how, words=item.text) if exact else None
