"""Words that nobody of the shelf bears, where an animal's name has to stand."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item, Ref
from bot.reading.message.parse import Message
from bot.reading.words.rule_words import rule_words


def unknown_names(frame: Frame) -> None:
    """An unknown word where an animal's name has to stand becomes a name that nobody bears."""
    if frame.refs or not frame.unknown:
        return
    items = frame.clause.items
    people = f"{frame.to_words} {frame.from_words}".casefold().split()
    for place, item in frame.unknown:
        if item.text in people:
            continue
        prev = next((i for i in reversed(items[:place]) if i.text not in _SET_APART), None)
        verb_before = prev is not None and "verb" in prev.senses and prev.senses["verb"].group.keeper
        opens = all("the" in before.senses or "fill" in before.senses for before in items[:place])
        if verb_before or (opens and _acts_next(items, place)):
            frame.refs.append(Ref.stranger(item.text))
            frame.ref_at.append(place)
            return


def heads_of_strangers(frames: Sequence[Frame]) -> None:
    """ "Zork: refused": an unknown word alone before what an animal did is a name that nobody bears."""
    for head, told_of in pairwise(frames):
        alone = head.clause.titled and [item.cat for item in head.clause.items] == ["U"]
        acts = (verb.group for _, item in told_of.verbs for verb in item.senses.verbs)
        if alone and not told_of.refs and any(not (g.keeper or g.noun or g.base) for g in acts):
            head.refs.append(Ref.stranger(head.clause.items[0].text))
            head.ref_at.append(0)


#: Words between a verb and whom it is done to: "fed only B".
_SET_APART: Final = rule_words("set_apart")


_LONGEST_LETTERS: Final = 2


def unknown_tags(message: Message, frame: Frame) -> None:
    """ "fed T14": letters with figures glued on are a tag, and here one that nobody bears."""
    if frame.refs or not frame.verbs:
        return
    items = frame.clause.items
    for place, (letters, figures) in enumerate(pairwise(items)):
        glued = letters.j == figures.i and message.tokens[figures.i].gap == ""
        short = letters.text.isalpha() and len(letters.text) <= _LONGEST_LETTERS
        if glued and short and letters.cat in "WU" and figures.text.isdigit():
            words = message.words(letters.i, figures.j)
            frame.refs.append(Ref.stranger(words))
            frame.ref_at.append(place)
            return


#: What may stand between who did it and what they did: "Twig has finally died".
_BETWEEN: Final = frozenset({"did", "neg", "fill", "still", "hedge"})


def _acts_next(items: Sequence[Item], place: int) -> bool:
    """Whether a verb follows a word, at most behind the small words that belong to it."""
    for at, item in enumerate(items[place + 1 :]):
        if "verb" in item.senses:
            return True
        if not at and "noun" in item.senses and place and "the" in items[place - 1].senses:
            continue  # "the fire leg had one too"
        if item.cat == "M" or _BETWEEN.isdisjoint(item.senses):
            return False
    return False
