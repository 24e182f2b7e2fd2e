"""Animals told by those named before: "the other one" of two, "everybody" of the shelf just named.

Works over settled items, groups and exceptions drawn together.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, begins_behind, ends_sentence
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.counted import counted_among, others_of_a_group
from bot.reading.whom.descriptions import BEGIN
from bot.reading.whom.those_listed import of_those_listed
from bot.reading.words.rule_words import rule_openings, rule_words

#: Of these sorts and senses a message has one in which an animal is told by those named before: the words
#: themselves, the colon behind a family's name, and whatever may stand for everybody.
TOLD_BY: Final = frozenset({"other", "rest", "pron", ":", "N", "on", "of", "from"} | BEGIN)


def told_apart(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with "the other one" settled, and "everyone" kept to the group that is spoken of."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        at += 1
        if item.cat == "W" and ("other" in item.senses or item.text in _BARE_OTHER):
            other, at = _others_said(items, at - 1, out, names)
            out.append(other)
            continue
        if item.cat == "W" and "rest" in item.senses:
            rest, at = _rest(items, at - 1, out, names)
            out.append(rest)
            continue
        member = _member(item, out, names)
        if member is not None:
            out.append(member)
            at += at < len(items) and "one" in items[at].senses  # "big one"
            continue
        if item.cat == "S" and _everyone(item.val, names) and _no_animals(items, at - 1, out):
            out.append(Item("W", item.i, item.j, item.text))
            at += at < len(items) and items[at].cat == "N"  # "all 3 gone"
            continue
        _one_of_those(item, out)
        counted = counted_among(items, at - 1, out, names)
        if counted is not None:
            of_those, at = counted
            out.append(of_those)
            continue
        if item.cat == "S" and _everyone(item.val, names):
            group = _group_spoken_of(out)
            if group is None and item.text in _ALL:
                _all_listed(item.val, out, names)
            if group is not None:
                _keep_to(item.val, group, items[at:], out, names)
            elif item.val.sure:
                of_those_listed(item.val, items, at - 1, out, names)
        out.append(item)
    return out


_BARE_OTHER: Final = rule_words("bare_other")


# -- the other one --------------------------------------------------------------------------------


def _others_said(
    items: Sequence[Item], at: int, before: Sequence[Item], names: ShelfNames
) -> tuple[Item, int]:
    """The other, or so many others, and the place after them."""
    item, end = items[at], at + 1
    left = _lot_parted(before) if end < len(items) and items[end].cat == "N" else None
    if left is not None:  # "two of the balfouri died, the other six look fine"
        return Item("S", item.i, items[end].j, item.text, val=left), end + 1
    return others_of_a_group(items, at, before, names) or (_other(item, before, names), end)


def _other(item: Item, before: Sequence[Item], names: ShelfNames) -> Item:
    """The other of two just named; where it could be either of them, it is asked."""
    if "other" not in item.senses:
        return item
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


def _one_of_those(item: Item, before: Sequence[Item]) -> None:
    """ "both GBBs got one, the female left hers": the only one that fits of those just named."""
    if item.cat != "S" or item.val.doubt != "two_fit" or not item.val.words.startswith(_THE):
        return
    ref = item.val
    if ref.sure:
        return  # "Dot and Lantern ate, watered the slings": all of them
    named: set[str] = set()
    for other in reversed(before):
        if ends_sentence(other):
            break
        if other.cat == "S" and other.val.sure:
            named.update(other.val.tags)
    fitting = tuple(tag for tag in ref.tags if tag in named)
    if len(fitting) == 1 < len(named):
        ref.tags, ref.sure, ref.doubt = fitting, True, ""


_THE: Final = rule_openings("the")


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


# -- one of a pair that share a name ---------------------------------------------------------------


def _member(item: Item, before: Sequence[Item], names: ShelfNames) -> Item | None:
    """ "the Besses: Old 19.2 g, Little 3.1 g", "genics: female took one": the word for one of several."""
    if item.cat not in "WU" or not before or before[-1].cat != "M":
        return None
    titled = (at for at, i in enumerate(before) if at and i.text == ":" and before[at - 1].cat == "S")
    family = next((before[at - 1].val for at in titled), None)
    if family is None or not (family.sure and family.plural and family.how in _FAMILIES):
        return None
    called = {tag: set((names.by_tag[tag].name or "").casefold().split()) for tag in family.tags}
    sex = item.senses["group"].group.sex if "group" in item.senses else None
    fitting = [
        tag for tag, words in called.items() if item.text in words or sex == names.by_tag[tag].sex.value
    ]
    if len(fitting) != 1 or len(family.tags) < 2:
        return None
    new = Item("S", item.i, item.j, item.text, val=Ref(tuple(fitting), how="name", words=item.text))
    new.upper, new.owns = item.upper, item.owns
    return new


#: How a family may be named of which single ones are told.
_FAMILIES: Final = frozenset({"part", "name", "group", "common", "species", "aka"})


# -- the rest -------------------------------------------------------------------------------------


def _rest(items: Sequence[Item], at: int, before: Sequence[Item], names: ShelfNames) -> tuple[Item, int]:
    """ "Ink refused, the rest of A took": those of a group that were not named, and the place after them."""
    item, end = items[at], at + 1
    while end < len(items) and any(c in items[end].senses for c in ("of", "on", "the")):
        end += 1
    group: Ref | None = None
    said = end < len(items) and items[end].cat == "S" and _is_group(items[end].val)
    if said:
        group, end = items[end].val, end + 1
    else:
        end = at + 1
        group = next((i.val for i in reversed(before) if i.cat == "S" and _is_group(i.val)), None)
    lot = _lot_parted(before) if group is None else None
    if lot is not None:
        return Item("S", item.i, items[end - 1].j, item.text, val=lot), end
    named = {t for i in before if i.cat == "S" and _is_told_before_the_rest(i.val, group) for t in i.val.tags}
    tags = tuple(t for t in group.tags if t not in named) if group is not None else ()
    sure = group is not None and 0 < len(tags) < len(group.tags)
    ref = Ref(tags, how="group", words=item.text, sure=sure, doubt="some_of_several", plural=True, group=True)
    new = Item("S", item.i, items[end - 1].j, item.text, val=ref)
    return new, end


def _is_told_before_the_rest(ref: Ref, group: Ref | None) -> bool:
    """Whether animals are none of the rest: those named, and a part of the group such as "A1-A3" of A."""
    if ref is group:
        return False
    return not _is_group(ref) or (group is not None and set(ref.tags) < set(group.tags))


def _lot_parted(before: Sequence[Item]) -> Ref | None:
    """ "two of the commune died, the rest ate": those left of the lot of which some were told of alone."""
    parted = [i.val for i in before if i.cat == "S"]
    if len(parted) != 1 or parted[0].lot_part is None or not parted[0].sure:
        return None
    return Ref(parted[0].tags, how="group", words=parted[0].words, group=True)


def _is_group(ref: Ref) -> bool:
    return ref.sure and len(ref.tags) > 1 and (ref.how == "place" or ref.group or ref.plural)


# -- everybody of a group -------------------------------------------------------------------------


def _everyone(ref: Ref, names: ShelfNames) -> bool:
    return ref.group and ref.sure and ref.how == "group" and len(ref.tags) == len(names.specimens) > 1


def _all_listed(ref: Ref, before: Sequence[Item], names: ShelfNames) -> None:
    """ "Ink / Sunny / Biscuit / all ate": "all" behind nothing but names is all of those."""
    only_names = all(i.cat in "SM" or "and" in i.senses for i in before)
    listed = names.in_order(t for i in before if i.cat == "S" for t in i.val.tags)
    if only_names and listed:
        ref.tags, ref.sure = listed, len(listed) > 1 and all(i.val.sure for i in before if i.cat == "S")
        ref.doubt = "some_of_several"


def _group_spoken_of(before: Sequence[Item]) -> Ref | None:
    """The group last named in the sentence, unless the keeper does something to everyone: "fed all"."""
    last = before[-1] if before else None
    if last is not None and "verb" in last.senses and last.senses["verb"].group.keeper:
        return None
    for item in reversed(before):
        if ends_sentence(item):
            return None
        if item.cat == "S":
            ref: Ref = item.val
            return ref if ref.sure and len(ref.tags) > 1 and (ref.how == "place" or ref.group) else None
    return None


def _keep_to(
    everyone: Ref, group: Ref, behind: Sequence[Item], before: Sequence[Item], names: ShelfNames
) -> None:
    """Has "everyone" stand for the group spoken of; of two of them for both, where it ate what it got.

    "The adults got two each and the slings one, everyone got water" may be of them or of the shelf.
    """
    start = begins_behind(before, len(before), ends_sentence)
    groups = [i.val for i in before[start:] if i.cat == "S" and i.val.sure and len(i.val.tags) > 1]
    if all(not set(ref.tags).isdisjoint(group.tags) for ref in groups):
        everyone.tags, everyone.place, everyone.how = group.tags, group.place, group.how
    elif behind and not behind[0].senses.kinds.isdisjoint(FEEDING):
        everyone.tags = names.in_order(tag for ref in groups for tag in ref.tags)
    else:
        everyone.sure, everyone.doubt = False, "some_of_several"


# -- what is no animal ---------------------------------------------------------------------------


#: What is said of prey that was given, and not of the animals: "all eaten", "every one gone".
_OF_PREY: Final = rule_words("befell_prey")


def _no_animals(items: Sequence[Item], at: int, before: Sequence[Item]) -> bool:
    """Whether "all" is the prey just told ("2 roaches for Ink, all eaten") or "quite" ("is all shut")."""
    sentence: list[Item] = []
    for item in reversed(before):
        if ends_sentence(item):
            break
        sentence.append(item)
    named = any(i.cat == "S" for i in sentence)
    last = sentence[0] if sentence else None
    if items[at].text in _ALL and named and last is not None and "did" in last.senses:
        return True
    following = [i for i in items[at + 1 : at + 4] if i.cat != "N" and "did" not in i.senses][:1]
    last_words = [word for item in following for word in item.text.split()[-1:]]  # a line's end has none
    said = not _OF_PREY.isdisjoint(last_words)
    return named and said and any("prey" in i.senses for i in sentence)


_ALL: Final = rule_words("all")
