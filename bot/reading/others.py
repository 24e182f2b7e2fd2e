"""Animals told by those named before: "the other one" of two, "everybody" of the shelf just named.

Works over settled items, groups and exceptions drawn together.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items import Item, Ref
from bot.reading.names import ShelfNames
from bot.reading.refs import HARD


def told_apart(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with "the other one" settled, and "everyone" kept to the group that is spoken of."""
    out: list[Item] = []
    for item in items:
        if item.cat == "W" and "other" in item.senses:
            out.append(_other(item, out, names))
            continue
        if item.cat == "S" and _everyone(item.val, names):
            group = _group_spoken_of(out)
            if group is not None:
                item.val.tags, item.val.place, item.val.how = group.tags, group.place, group.how
        out.append(item)
    return out


# -- the other one --------------------------------------------------------------------------------


def _other(item: Item, before: Sequence[Item], names: ShelfNames) -> Item:
    """The other of two just named; where it could be either of them, it is asked."""
    said = [i.val for i in before if i.cat == "S" and i.val.sure and len(i.val.tags) == 1]
    tags = names.in_order(t for ref in said for t in ref.tags)
    if len(tags) == 2:
        last = said[-1].tags[0]
        turned_to = sum(ref.tags[0] == last for ref in said) > 1  # "Ink and Sunny …, Ink ate, the other …"
        left = tuple(t for t in tags if t != last)
        return _meant(item, left if turned_to else tags, sure=turned_to)
    if len(tags) == 1 and (pair := _alike(said[-1], names)):
        return _meant(item, tuple(t for t in pair if t not in tags), sure=True)
    if len(tags) < 2 and any("prey" in i.senses for i in before):
        return item  # of two crickets
    return _meant(item, tags, sure=False)


def _alike(ref: Ref, names: ShelfNames) -> tuple[str, ...]:
    """The two animals that share the last word of a name: "Little Bess and the other one"."""
    name = names.by_tag[ref.tags[0]].name
    if name is None or ref.how != "name" or " " not in name:
        return ()
    last = name.casefold().split()[-1]
    called = ((s.tag, (s.name or "").casefold().split()) for s in names.specimens)
    alike = [tag for tag, words in called if words and words[-1] == last]
    return tuple(alike) if len(alike) == 2 else ()


def _meant(item: Item, tags: tuple[str, ...], *, sure: bool) -> Item:
    new = Item("S", item.i, item.j, item.text, val=Ref(tags, how="group", words=item.text, sure=sure))
    new.owns = item.owns
    return new


# -- everybody of a group -------------------------------------------------------------------------


def _everyone(ref: Ref, names: ShelfNames) -> bool:
    return ref.group and ref.sure and ref.how == "group" and len(ref.tags) == len(names.specimens) > 1


def _group_spoken_of(before: Sequence[Item]) -> Ref | None:
    """The group last named in the sentence, unless the keeper does something to everyone: "fed all"."""
    last = before[-1] if before else None
    if last is not None and "verb" in last.senses and last.senses["verb"].group.keeper:
        return None
    for item in reversed(before):
        if item.cat == "M" and item.text in HARD:
            return None
        if item.cat == "S":
            ref: Ref = item.val
            return ref if ref.sure and len(ref.tags) > 1 and (ref.how == "place" or ref.group) else None
    return None
