"""Slips of the thumb: words left over that are nearly a name of the shelf.

Only a word that nothing else explains, that stands where a name is expected, and that has at least
five letters and one clear winner is taken for the name; anything less is asked about.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: A slip in a shorter name is never mended unasked.
SHORTEST: Final = 5


def mended(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with slips in names mended, or turned into names in doubt."""
    return [_mended(items, place, names) if item.cat == "U" else item for place, item in enumerate(items)]


def _mended(items: Sequence[Item], place: int, names: ShelfNames) -> Item:
    item = items[place]
    if len(item.text) < 3 or not name_expected(items, place) or _a_person(items, place):
        return item
    if place and _counts(items[place - 1]):
        return item  # "Ink ate a crickt": a thing, and nobody's name
    near = names.near_names(item.text)
    close = [found for found in near if found[0] <= 1] or _begun(item.text, near)
    if _a_spot(items, place) and not any(f"the {name}" in names.words for _, name, _ in close):
        return item
    if not close and not (near and len(item.text) >= 2 * SHORTEST - 2):
        return item
    tags = names.in_order(t for _, _, found in near for t in found)
    close_tags = {t for _, _, found in close for t in found}
    clear = (
        len(close_tags) == 1
        and len(tags) == 1
        and len(item.text) >= SHORTEST
        and all(len(name) >= SHORTEST and _begin_alike(name, item.text) for _, name, _ in close)
        and not any(_twins(name, names) - _named_beside(items) for _, name, _ in close)
    )
    if close and not clear:
        tags = names.in_order((*tags, *(t for _, name, _ in close for t in _twins(name, names))))
    ref = Ref(tags, how="slip", words=item.text, sure=clear, doubt="slip")
    new = Item("S", item.i, item.j, item.text, val=ref)
    new.upper, new.owns = item.upper, item.owns
    return new


def _counts(item: Item) -> bool:
    """A number or an article, be it a place's letter as well."""
    senses = item.alt.senses if item.alt is not None and not item.upper else item.senses
    return item.cat == "N" or "a" in senses


def _begun(
    word: str, near: Sequence[tuple[int, str, tuple[str, ...]]]
) -> list[tuple[int, str, tuple[str, ...]]]:
    """ "saff", "capt": the one name that a word cut short begins."""
    longer = [found for found in near if found[1].startswith(word) and " " not in found[1]]
    return longer if len(word) >= _SHORTEST_CUT and len(longer) == 1 else []


_SHORTEST_CUT: Final = 4


def _begin_alike(name: str, word: str) -> bool:
    """ "Kaptain" for Captain, too: what is written with either letter sounds the same."""
    return name[0] == word[0] or {name[0], word[0]} == _SOUND_ALIKE


_SOUND_ALIKE: Final = frozenset("ck")


def _twins(name: str, names: ShelfNames) -> set[str]:
    """ "Dotte", where Dottie and Dot live: those whose whole name begins the longer one."""
    begun = (name[:length] for length in range(_SHORTEST_TWIN, len(name)))
    return {tag for word in begun for tag in names.words.get(word, ())} - set(names.words[name])


_SHORTEST_TWIN: Final = 3


def _named_beside(items: Sequence[Item]) -> set[str]:
    """ "misted Dot & Dotie": whoever is named in full beside the slip is not meant by it as well."""
    return {tag for item in items if item.cat == "S" for hit in item.val.hits for tag in hit.tags}


def _a_person(items: Sequence[Item], place: int) -> bool:
    """ "traded Gus to Amy": whoever an animal goes to is not of the shelf."""
    prev = items[place - 1] if place else None
    if prev is None or not any(c in prev.senses for c in ("to", "with")):
        return False
    goes = any(s.group.kind is Kind.LEFT for i in items[:place] for s in i.senses.values())
    return goes and any(i.cat == "S" for i in items[:place])


def _a_spot(items: Sequence[Item], place: int) -> bool:
    """ "found an earwig under the sink": a thing of the house, as no animal is called "the" with a slip."""
    before = items[max(0, place - 2) : place]
    article = len(before) > 1 and "the" in before[1].senses and "on" in before[0].senses
    return article or (bool(before) and before[-1].text in _AT_A_SPOT)


_AT_A_SPOT: Final = rule_words("in_the")


_NOR: Final = rule_words("nor")


def name_expected(items: Sequence[Item], place: int) -> bool:
    """Whether an animal's name may stand here: first in a clause, after a verb, in a list, before a verb."""
    prev = items[place - 1] if place else None
    nxt = items[place + 1] if place + 1 < len(items) else None
    if prev is None or prev.cat in {"M", "S", "D"} or prev.text in _NOR:
        return True
    if "trait" in prev.senses and place > 1 and "the" in items[place - 2].senses:
        return True  # "the little pinktoe"
    if any(
        c in prev.senses
        for c in (
            "verb",
            "with",
            "and",
            "to",
            "except",
            "but",
            "or",
            "the",
            "then",
            "self",
            "of",
            "from",
            "all",
            "fill",
            "both",
            "group",
        )
    ):
        return True
    return nxt is not None and ("verb" in nxt.senses or (nxt.cat == "M" and nxt.text in ":–"))
