"""Exceptions: "everyone on C but Mole", "all the GBBs except 3"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.excepted_numbers import by_number, tells
from bot.reading.items import Item, Ref, ends_sentence
from bot.reading.marks import LIST_MARKS
from bot.reading.names import ShelfNames


def excepted(items: list[Item], names: ShelfNames) -> list[Item]:
    """ "X" items for the animals that an exception takes out of the group before it."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if item.text in _INCLUDING and _includes(items, at, out):
            at += 2  # "everyone on C ate, including Mole"
            continue
        numbered = _one_by_number(items, at, out, names)
        if numbered is not None:
            refs, end = numbered
            words = " ".join(ref.words for ref in refs)
            if end < len(items) and tells(items[end]) and _told_since(out, "verb", "prey"):
                tags, sure = names.in_order(t for r in refs for t in r.tags), all(r.sure for r in refs)
                one = Ref(tags, sure=sure, how="aka", words=words, plural=len(refs) > 1, doubt=refs[0].doubt)
                out += [item, Item("S", items[end - 1].i, items[end - 1].j, words, val=one)]
            else:
                out.append(Item("X", item.i, items[end - 1].j, words, val=refs))
            at = end
            continue
        if (item.cat == "W" or item.text in _OF_A_GROUP) and _excepts(items, at, out):
            follows = items[at + 1].senses if at + 1 < len(items) else {}
            first = at + 2 if "the" in follows or item.text == "none" else at + 1
            clause = first < len(items) and items[first].text.startswith("that ")  # "except that Mole's …"
            refs, end = _list_of(items, first, whole=clause or not _told_since(out, "verb"))
            if refs and item.text in _ALL_BUT and _of_everyone(items[end:], out):
                out.append(_everyone(item, names))
            if refs:
                out.append(
                    Item("X", item.i, items[end - 1].j, " ".join(x.text for x in items[at:end]), val=refs)
                )
                out[-1].owns = items[end - 1].owns
                at = end
                continue
            number = items[first] if first < len(items) else None
            if (
                not {"except", "but"}.isdisjoint(item.senses)
                and number is not None
                and number.cat in {"N", "U"}
            ):
                ref = _one_of(_group_before(out), number)
                out.append(Item("X", item.i, number.j, number.text, val=[ref]))
                at = first + 1
                continue
        out.append(item)
        at += 1
    return out


def _one_by_number(
    items: Sequence[Item], at: int, before: Sequence[Item], names: ShelfNames
) -> tuple[list[Ref], int] | None:
    """ "all GBBs ate but the third", "… apart from no. 2"."""
    if {"except", "but"}.isdisjoint(items[at].senses):
        return None
    group = _group_before(before)
    return by_number(items, at + 1, group, names) if group is not None else None


#: Exceptions that name the group in the same breath.
_ALL_BUT: Final = frozenset({"all but", "all except", "all bar"})


def _of_everyone(behind: Sequence[Item], before: Sequence[Item]) -> bool:
    """ "fed all but Mole", "all but Mole ate": all of the shelf, where no others are named."""
    opens = not before or before[-1].cat in "MD" or "verb" in before[-1].senses
    others = (*before, *(item for item in behind if item.cat == "S" and item.val.group))
    return opens and all(item.cat != "S" for item in others)


def _everyone(item: Item, names: ShelfNames) -> Item:
    tags = tuple(specimen.tag for specimen in names.specimens)
    return Item(
        "S", item.i, item.i + 1, "all", val=Ref(tags, how="group", words="all", plural=True, group=True)
    )


def _includes(items: Sequence[Item], at: int, before: Sequence[Item]) -> bool:
    """Whether an animal is only said to be of the group before it as well."""
    nxt = items[at + 1] if at + 1 < len(items) else None
    if nxt is None or nxt.cat != "S" or not nxt.val.sure:
        return False
    ends = at + 2 == len(items) or items[at + 2].cat == "M"
    group = next((i.val for i in reversed(before) if i.cat == "S"), None)
    return ends and group is not None and set(nxt.val.tags) < set(group.tags)


_INCLUDING: Final = frozenset({"including", "incl", "inc", "even"})
#: Of these senses and words a message with an exception has one.
EXCEPTING: Final = frozenset({"except", "but", "not", "none", "without", "missed"} | _INCLUDING)
#: Words that take one out of a group before them, and elsewhere are none: "Ink missed her cricket".
_OF_A_GROUP: Final = frozenset({"without", "missed"})


def _excepts(items: Sequence[Item], at: int, before: Sequence[Item]) -> bool:
    item = items[at]
    nxt = items[at + 1] if at + 1 < len(items) else None
    if "except" in item.senses and "verb" not in item.senses:
        return True
    group = _group_before(before)
    if nxt is not None and "but" in item.senses and nxt.cat != "S" and (nxt.text in _ONE or nxt.cat == "N"):
        ends = at + 2 == len(items) or items[at + 2].cat == "M"
        acts = not ends and tells(items[at + 2]) and not _told_since(before, "verb", "prey")
        return (ends or acts) and group is not None  # "all the GBBs ate but one", "all but one ate"
    if item.text == "none" and nxt is not None and "for" in nxt.senses:
        return at + 2 < len(items) and items[at + 2].cat == "S" and group is not None
    if nxt is None or nxt.cat != "S":
        return False
    if "but" in item.senses and group is not None:
        _, end = _list_of(items, at + 1)
        acts = end < len(items) and tells(items[end])
        return not (acts and _told_since(before, "verb", "prey"))
    if item.text in _OF_A_GROUP:
        return group is not None
    return "neg" in item.senses and item.text == "not" and bool(before) and any(x.cat == "S" for x in before)


_ONE: Final = frozenset({"one", "1"})


def _one_of(group: Ref | None, number: Item) -> Ref:
    """ "all the GBBs ate except one": which of them is asked; what nobody bears is unknown."""
    if group is None or (number.text not in _ONE and (number.cat != "N" or number.val.ordinal)):
        return Ref((), sure=False, words=number.text, doubt="unknown_name")
    return Ref(group.tags, sure=False, words=number.text, doubt="excepted_whom")


def _group_before(before: Sequence[Item]) -> Ref | None:
    for item in reversed(before):
        if ends_sentence(item):
            return None
        if item.cat == "S":
            ref: Ref = item.val
            return ref if len(ref.tags) > 1 and (ref.plural or ref.group) else None
    return None


def _told_since(before: Sequence[Item], *senses: str) -> bool:
    """Whether the group before has its verb, "everyone on C ate", or its prey, "a roach for all of C"."""
    for item in reversed(before):
        if ends_sentence(item):
            return False
        for sense in senses:
            if sense in item.senses:
                return True
    return False


def _list_of(items: Sequence[Item], at: int, *, whole: bool = False) -> tuple[list[Ref], int]:
    """The names of a list, and the place after it. ``whole``: its last name belongs to no verb behind it."""
    refs: list[Ref] = []
    place = at
    while place < len(items) and items[place].cat == "S" and not _takes_in(items[place].val, refs):
        refs.append(items[place].val)
        place += 1
        if (
            place + 1 < len(items)
            and items[place + 1].cat == "S"
            and not _takes_in(items[place + 1].val, refs)
            and _joins(items[place])
            and (whole or not _acts_after(items, place + 1))
        ):
            place += 1
    return refs, place


def _takes_in(group: Ref, refs: Sequence[Ref]) -> bool:
    """ "bar Mole, everyone on C ate": a group that those before belong to is no further one of them."""
    tags = {tag for ref in refs for tag in ref.tags}
    return bool(tags) and tags < set(group.tags)


def _joins(item: Item) -> bool:
    return item.text in LIST_MARKS or "and" in item.senses


def _acts_after(items: Sequence[Item], place: int) -> bool:
    return place + 1 < len(items) and tells(items[place + 1]) and "except" not in items[place + 1].senses


def beside_their_group(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with each exception that stands apart put beside its group.

    "Fed the adults a dubia each, all but Mole" and "bar Mole, everyone on C ate" say the same as "the adults
    but Mole". In a heading ("shelf C minus Mole: …") the group itself becomes smaller.
    """
    if not any(item.cat == "X" for item in items):
        return items
    out = list(items)
    for item in items:
        if item.cat == "X":
            _put_beside(out, item)
    return out


def _put_beside(items: list[Item], exception: Item) -> None:
    place = next(k for k, item in enumerate(items) if item is exception)
    if _said_of_it(items, place):
        return
    start, end = _run_around(items, place)
    if place and items[place - 1].cat == "S":
        if end < len(items) and items[end].text == ":" and end == place + 1:
            items[place - 1 : place + 1] = [_smaller(items[place - 1], exception)]
        return
    if start is None:
        return
    group = _its_group(items, exception, range(start - 1, -1, -1)) if start else None
    if group is not None:
        items[start - 1 : end] = []  # with the mark before it
        items.insert(group + 1, exception)
        return
    following = _its_group(items, exception, range(place + 1, len(items))) if start == 0 else None
    if following is not None:
        items.insert(following + 1, exception)
        items[: end + 1 if end < len(items) and items[end].cat == "M" else end] = []


def _said_of_it(items: list[Item], place: int) -> bool:
    """ "the slings a cricket each, except Nip who got 2": what Nip got is said of him."""
    exception = items[place]
    if _acts_itself(items, place):
        _told_apart(items, place)
        return True
    says = place + 1 < len(items) and (
        "rel" in items[place + 1].senses or items[place + 1].text == "(" or says_of_one(items[place + 1])
    )
    if not says or not place or items[place - 1].cat == "S" or len(exception.val) != 1:
        return False
    if "verb" in items[place - 1].senses or place + 2 >= len(items) or items[place + 2].cat == "M":
        return False
    group = _its_group(items, exception, range(place - 1, -1, -1))
    if group is None:
        return False
    ref = exception.val[0]
    items[place : place + 2] = [Item("S", exception.j - 1, exception.j, ref.words, val=ref)]
    if place - 1 != group and items[place - 1].cat != "M":
        items.insert(place, Item("M", exception.i, exception.i, ","))
    items.insert(group + 1, exception)
    return True


def _acts_itself(items: Sequence[Item], place: int) -> bool:
    """ "…, except Mole refused", "except that Mole's came back untouched": behind what the group did."""
    exception = items[place]
    if not place or place + 1 >= len(items) or items[place - 1].cat == "S":
        return False
    does, opener = items[place + 1], exception.text.split()[0]
    verbs = does.senses.verbs
    hers = exception.owns or does.text == "came back"
    acts = any(hers or not (v.group.keeper or v.group.noun) for v in verbs) or "neg" in does.senses
    acts = acts or ("did" in does.senses and "rel" not in does.senses)
    if not acts or opener in _OF_THE_REST or does.text.split()[0] in _GOES_WITH_GROUP:
        return False
    group = _its_group(items, exception, range(place - 1, -1, -1))
    return group is not None and _told_since(items[:place], "verb", "prey")


#: Words that open "all but Mole ate", of which the rest did what follows; "out" and the like are no doings.
_OF_THE_REST: Final = frozenset({"all", "none", "everyone", "everybody", "but"})
_GOES_WITH_GROUP: Final = frozenset({"in", "on", "at"})


def _told_apart(items: list[Item], place: int) -> None:
    """Puts those excepted beside their group, and makes them the subject of what follows."""
    exception = items[place]
    group = _its_group(items, exception, range(place - 1, -1, -1))
    assert group is not None
    subjects = [Item("S", exception.i, exception.j, ref.words, val=ref) for ref in exception.val]
    items[place : place + 1] = subjects
    if items[place - 1].cat != "M":
        items.insert(place, Item("M", exception.i, exception.i, ","))
    items.insert(group + 1, exception)


def says_of_one(item: Item) -> bool:
    """ "…, except Sunny shes in premolt": a word for the one just named, with why."""
    pron = item.senses.get("pron")
    return pron is not None and not pron.group.plural and item.text not in _HERS


_HERS: Final = frozenset({"her", "his", "its", "him", "hers", "herself", "himself", "itself"})


def _run_around(items: Sequence[Item], place: int) -> tuple[int | None, int]:
    """Where the words begin and end that belong to an exception alone; ``None`` where others stand there."""
    start, end = place, place + 1
    while start and _carries_on(items[start - 1]):
        start -= 1
    while end < len(items) and _carries_on(items[end]):
        end += 1
    opens = start == 0 or (items[start - 1].cat == "M" and items[start - 1].text in _PARTS)
    closes = end == len(items) or items[end].cat == "M" or start == 0
    return (start if opens and closes else None), end


def _carries_on(item: Item) -> bool:
    if item.text in {"though", "tho"}:
        return True
    return item.cat == "W" and "verb" not in item.senses and not _CARRIES_ON.isdisjoint(item.senses)


_CARRIES_ON: Final = frozenset({"all", "fill", "the", "rel"})
_PARTS: Final = frozenset(",–-(")


def _its_group(items: Sequence[Item], exception: Item, places: range) -> int | None:
    """The nearest group that all who are excepted belong to."""
    gone = {tag for ref in exception.val for tag in ref.tags}
    for place in places:
        if ends_sentence(items[place]):
            return None
        if items[place].cat == "S" and gone and gone < set(items[place].val.tags):
            return place
    return None


def _smaller(group: Item, exception: Item) -> Item:
    gone = {tag for ref in exception.val for tag in ref.tags}
    ref = group.val
    left = tuple(tag for tag in ref.tags if tag not in gone)
    sure = ref.sure and all(other.sure for other in exception.val)
    new = Ref(left, sure=sure, how="group", words=ref.words, doubt=ref.doubt, plural=True, group=True)
    return Item("S", group.i, exception.j, f"{group.text} {exception.text}", val=new)
