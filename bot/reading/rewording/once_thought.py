"""What somebody thought, and was not so: "I thought Sunny was in premolt but she's just eaten a locust".

The clause that only tells what was thought goes, and whom it was of stands where a pronoun does behind it.
What was thought and not said to be otherwise stays, and is doubted.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.marks import HARD
from bot.reading.words.rule_words import rule_words


def once_thought(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items without what was thought, where it was not so."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        thought = "believed" in items[at].senses
        end = next((n for n in range(at, len(items)) if items[n].text in HARD), len(items))
        if thought and _opens(out):
            turn = next((n for n in range(at + 1, end) if _turns(items, n)), None)
            if turn is not None and not _is_meant(items, at):
                out += _behind(items[at:turn], items[turn:end])
                at = end
                continue
        if thought and _says_no_more(out, items[at:end]):
            out.pop()
            at = end
            continue
        out.append(items[at])
        at += 1
    return out


def _opens(out: Sequence[Item]) -> bool:
    return all(not i.senses.verbs and i.cat != "S" for i in out[_last_mark(out) :])


def _last_mark(out: Sequence[Item]) -> int:
    return begins_behind(out, len(out), ends_sentence)


def _turns(items: Sequence[Item], at: int) -> bool:
    """Whether it was otherwise from there on: "but she isn't", "nope just molted"."""
    item = items[at]
    return "but" in item.senses or item.text in _NOPE


_NOPE: Final = rule_words("says_no")


def _is_meant(items: Sequence[Item], at: int) -> bool:
    """ "I thought I'd feed Ink": what was meant to be done."""
    return at + 1 < len(items) and "self" in items[at + 1].senses


def _behind(thought: Sequence[Item], rest: Sequence[Item]) -> list[Item]:
    """What is told behind a thought, of whom the thought was of."""
    named = [item for item in thought if item.cat == "S"]
    at = 0
    while at < len(rest) and (_turns(rest, at) or rest[at].cat == "M" or _only_denies(rest, at)):
        at += 1 + (at + 1 < len(rest) and _only_denies(rest, at))
    told = list(rest[at:])
    whom = named[0] if len(named) == 1 else None
    if whom is None:
        return told
    if not told:  # "I thought Ink was in premolt but she isn't"
        return [whom, *rest[-1:]]
    if "pron" in told[0].senses and told[0].text.split("'")[0] in _HER:
        return [whom, *told[1:]]
    if any(item.cat == "S" for item in told):
        return told
    if told[0].text.split("'")[0] in _IT:
        return [thought[0], whom, *told]  # "but it was just the old skin": what is left of it is asked
    own = bool(told[0].senses.verbs) or "did" in told[0].senses
    return [whom, *told] if own else [whom, Item("M", told[0].i, told[0].i, ","), *told]


_IT: Final = rule_words("it")
_HER: Final = rule_words("she")


def _only_denies(rest: Sequence[Item], at: int) -> bool:
    """Whether a pronoun and a denial stand there, and nothing that is denied: "she isn't she's eaten"."""
    pair = rest[at : at + 2]
    if len(pair) < 2 or "pron" not in pair[0].senses or _DENIES.isdisjoint(pair[1].senses):
        return False
    behind = rest[at + 2] if at + 2 < len(rest) else None
    return behind is None or behind.cat == "M" or not _BEGINS.isdisjoint(behind.senses)


_DENIES: Final = frozenset({"neg", "undone", "elided"})
_BEGINS: Final = frozenset({"pron", "and", "but", "self"})


def _says_no_more(out: Sequence[Item], thought: Sequence[Item]) -> bool:
    """ "Ink ate a roach, I thought she was in premolt": behind what happened, and of no other meal."""
    told = any(item.senses.verbs for item in out)
    apart = bool(out) and out[-1].text == ","
    hers = len(thought) > 1 and "pron" in thought[1].senses
    kinds = {kind for item in thought for kind in item.senses.kinds}
    return told and apart and hers and bool(kinds) and FEEDING.isdisjoint(kinds)
