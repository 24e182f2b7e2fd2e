"""Where a word that nobody knows stands as a feeder does: "left a blorg in with Ink". What it was, is asked.

Pure.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.corrections.corrections import fixes
from bot.reading.corrections.words_of_fixing import AROUND, may_take_back, past_it_was
from bot.reading.items.item import Item, is_mark
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.lexicon import Sense, Senses
from bot.reading.words.word_groups import Group
from bot.terms import Kind


def feeders_unknown(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with each such word as a feeder, of a sort that is not known."""
    out = list(items)
    for at in range(len(items)):
        if _may_be_a_feeder(items, at) and any(stands(out, at) for stands in _STANDS_AS_ONE):
            out[at] = _unknown_feeder(items[at])
    return out


def _may_be_a_feeder(items: Sequence[Item], at: int) -> bool:
    """A word of letters, and no name: with a capital, as nouns have in German, behind an article."""
    word = items[at]
    lower = not word.upper or (at > 0 and "a" in items[at - 1].senses)
    return word.cat == "U" and lower and word.text.isalpha() and len(word.text) > _SHORT_WORD


def _unknown_feeder(item: Item) -> Item:
    group = Group(is_="prey", say=[item.text], plural=True)  # whether it says one or several, nobody knows
    feeder = Item("W", item.i, item.j, item.text, senses=Senses([Sense("prey", item.text, group)]))
    feeder.owns = item.owns
    return feeder


def _put_in_with_her(items: Sequence[Item], at: int) -> bool:
    """ "left a blorg in with Ink", "a roach for Ink and a blorg for Twig": given, or beside what is."""
    start = _measured_from(items, at)
    to = _behind_each(items, at)
    if start is None or start == 0 or to + 1 >= len(items) or _TO.isdisjoint(items[to].senses):
        return False
    joined = is_mark(items[start - 1]) or "and" in items[start - 1].senses
    beside = joined and any("prey" in item.senses for item in items[:start])
    whom = items[to + 1].cat == "S" and not items[to + 1].owns  # no "twig to Ink's enclosure"
    return whom and (beside or _gives(items[start - 1]))


def _put_right(items: Sequence[Item], at: int) -> bool:
    """ "a roach, no sorry, a blorg": said instead of a feeder."""
    start = _measured_from(items, at)
    if start is None or not _ends(items, at + 1):
        return False
    cue = next((n for n in (start - 3, start - 1) if n > 0 and past_it_was(items, n + 1) == start), 0)
    while cue > 0 and items[cue].text in AROUND:
        cue -= 1
    if cue <= 0 or not may_take_back(items[cue]):
        return False
    before = cue
    while before > 0 and (may_take_back(items[before]) or items[before].cat == "M"):
        before -= 1
    sure = any(fixes(item) for item in items[before : cue + 1])
    return "prey" in items[before].senses and (sure or items[start].cat == "N")


def _had_by_one(items: Sequence[Item], at: int) -> bool:
    """ "king baboon got a big blorg", "Ink 2 roaches, May 1 blorg", "all terrestrials a blorg apiece"."""
    start = _measured_from(items, at)
    if start is None or start == 0 or not _ends(items, _behind_each(items, at)):
        return False
    if items[start - 1].cat == "S" or is_mark(items[start - 1]):
        apiece = "each" in items[min(at + 1, len(items) - 1)].senses
        return apiece or (items[start - 1].cat == "S" and any(_of_a_meal(item) for item in items))
    before = items[start - 2] if start > 1 else None
    by_keeper = before is not None and "self" in before.senses and not _is_given(items[start - 1])
    return _eats(items[start - 1]) and not by_keeper  # "I ate a pizza"


def _had_in_other_order(items: Sequence[Item], at: int) -> bool:
    """ "Ink und Mole je eine Blorg", "gestern hat Ink eine Blorg bekommen"."""
    start = _measured_from(items, at)
    if start is None or start == 0:
        return False
    each, got = items[start - 1], items[at + 1 : at + 2]
    apiece = "each" in each.senses and start > 1 and items[start - 2].cat == "S" and _ends(items, at + 1)
    return apiece or (each.cat == "S" and any(_eats(item) for item in got))


def _is_given(item: Item) -> bool:
    return any(verb.group.keeper for verb in item.senses.verbs)


def _of_a_meal(item: Item) -> bool:
    return "prey" in item.senses or not item.senses.kinds.isdisjoint(FEEDING)


def _dead_already(items: Sequence[Item], at: int) -> bool:
    """ "tossed a dead blorg", "un blorg ya muerto": it, and no animal of the shelf, was dead."""
    beside = (*items[at - 1 : at], *items[at + 1 : at + 2])
    return _measured_from(items, at) is not None and any("prekilled" in item.senses for item in beside)


def _listed_as_another(items: Sequence[Item], at: int) -> bool:
    """ "roaches to Biscuit and Anvil, blorgs to May": begins a part as a feeder did before."""
    begins = at > 0 and is_mark(items[at - 1]) and items[at - 1].text in _PARTS
    to_whom = items[at + 1 : at + 3]
    if not begins or len(to_whom) < 2 or _TO.isdisjoint(to_whom[0].senses) or to_whom[1].cat != "S":
        return False
    alike = zip(items[: at - 1], items[1:at], items[2:at], strict=False)
    return any("prey" in a.senses and b.text == to_whom[0].text and c.cat == "S" for a, b, c in alike)


def _measured_from(items: Sequence[Item], at: int) -> int | None:
    """Where the number or the article before a word stands, past sizes between; nowhere without one."""
    start = at - 1
    while start > 0 and not {"size", "prekilled"}.isdisjoint(items[start].senses):
        start -= 1
    measures = start >= 0 and (items[start].cat == "N" or "a" in items[start].senses)
    return start if measures else None


def _behind_each(items: Sequence[Item], at: int) -> int:
    return at + 2 if at + 1 < len(items) and "each" in items[at + 1].senses else at + 1


def _ends(items: Sequence[Item], at: int) -> bool:
    """Whether what an animal had ends there: with the message, at a mark, a day, who had it or another."""
    return at >= len(items) or items[at].cat in "MSDP" or not _BEHIND.isdisjoint(items[at].senses)


def _gives(item: Item) -> bool:
    return _eats(item) or "put" in item.senses.acts


def _eats(item: Item) -> bool:
    """Whether a word says that an animal got something to eat; no "had", as in "had a look"."""
    verbs = item.senses.verbs
    fed = any(verb.group.kind in FEEDING and not verb.group.weak for verb in verbs)
    perhaps = len(verbs) > 1 and Kind.FED in item.senses.kinds  # "took", "got": more is told by them
    return fed or perhaps or "try" in item.senses.acts


_SHORT_WORD: Final = 2
_PARTS: Final = frozenset(",;\n")
#: Senses of the words between a feeder and whom it is for.
_TO: Final = frozenset({"to", "with", "for"})
#: Senses of the words behind what an animal had.
_BEHIND: Final = frozenset({"and", "but", "except", "so", "rel", "then", "on"}) | _TO
_STANDS_AS_ONE: Final = (
    _put_in_with_her,
    _put_right,
    _had_by_one,
    _had_in_other_order,
    _dead_already,
    _listed_as_another,
)
