"""Exceptions that stand apart from their group, put beside it, or told of by themselves."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, ends_sentence
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words


def told_since(before: Sequence[Item], *senses: str) -> bool:
    """Whether the group before has its verb, "everyone on C ate", or its prey, "a roach for all of C"."""
    for item in reversed(before):
        if ends_sentence(item):
            return False
        for sense in senses:
            if sense in item.senses:
                return True
    return False


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
        elif end == len(items) or items[end].cat == "M":
            _of_the_group_before(items, place)
        return
    if start is None:
        return
    group = _its_group(items, exception, range(start - 1, -1, -1)) if start else None
    if group is not None:
        items[start - 1 : end] = []  # with the mark before it
        items.insert(_end_of_list(items, group), exception)
        return
    following = _its_group(items, exception, range(place + 1, len(items))) if start == 0 else None
    if following is not None:
        items.insert(following + 1, exception)
        items[: end + 1 if end < len(items) and items[end].cat == "M" else end] = []


def _of_the_group_before(items: list[Item], place: int) -> None:
    """ "misted B, everyone but Dot": all who are told of already, and not the whole shelf."""
    everyone, exception = items[place - 1], items[place]
    if (
        not everyone.val.everyone
        or place < len(("B", ",", "everyone"))
        or items[place - 2].text not in _PARTS
    ):
        return
    group = _its_group(items, exception, range(place - 3, -1, -1))
    if group is not None and set(items[group].val.tags) < set(everyone.val.tags):
        items[place - 2 : place + 1] = []
        items.insert(group + 1, exception)


def _said_of_it(items: list[Item], place: int) -> bool:
    """ "the slings a cricket each, except Nip who got 2": what Nip got is said of him."""
    exception = items[place]
    if _acts_itself(items, place):
        _told_apart(items, place)
        return True
    if _told_of_behind_a_comma(items, place):
        others = _left_out_too(items, place + len(("apart from Dottie", ",", "who")))
        del items[place + 1 : place + 3]
        _told_apart(items, place)
        exception.val = [*exception.val, *others]
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


def _left_out_too(items: Sequence[Item], start: int) -> list[Ref]:
    """ "apart from Dottie, who had a locust, and GBB 4, who has molted": the next ones, told of likewise."""
    out: list[Ref] = []
    for at in range(start, len(items) - 2):
        if ends_sentence(items[at]):
            break
        joined, whom, behind = items[at : at + 3]
        who = items[at + 3] if behind.text == "," and at + 3 < len(items) else behind
        if "and" in joined.senses and whom.cat == "S" and "rel" in who.senses:
            out.append(whom.val)
    return out


def _told_of_behind_a_comma(items: Sequence[Item], place: int) -> bool:
    """ "all of A ate today, except May, who did not want any": what they did, and then what she did."""
    behind = items[place + 1 : place + 3]
    if len(behind) < len((",", "who")) or behind[0].text != "," or "rel" not in behind[1].senses:
        return False
    group = _its_group(items, items[place], range(place - 1, -1, -1))
    return group is not None and told_since(items[:place], "verb", "prey")


def _acts_itself(items: Sequence[Item], place: int) -> bool:
    """ "…, except Mole refused", "except that Mole's came back untouched": behind what the group did."""
    exception = items[place]
    if not place or place + 1 >= len(items) or items[place - 1].cat == "S":
        return False
    does, opener = items[place + 1], exception.text.split()[0]
    verbs = does.senses.verbs
    hers = exception.owns or does.text in _CAME_BACK
    acts = any(hers or not (v.group.keeper or v.group.noun) for v in verbs) or "neg" in does.senses
    acts = acts or ("did" in does.senses and "rel" not in does.senses)
    if not acts or opener in _OF_THE_REST or does.text.split()[0] in _GOES_WITH_GROUP:
        return False
    group = _its_group(items, exception, range(place - 1, -1, -1))
    return group is not None and told_since(items[:place], "verb", "prey")


_CAME_BACK: Final = rule_words("came_back")


#: Words that open "all but Mole ate", of which the rest did what follows; "out" and the like are no doings.
_OF_THE_REST: Final = rule_words("of_the_rest")
_GOES_WITH_GROUP: Final = rule_words("in_on_or_at")


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


_HERS: Final = rule_words("her_or_him")


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
    if item.text in _THOUGH:
        return True
    return item.cat == "W" and "verb" not in item.senses and not _CARRIES_ON.isdisjoint(item.senses)


_THOUGH: Final = rule_words("though")
_CARRIES_ON: Final = frozenset({"all", "fill", "the", "rel"})


_PARTS: Final = frozenset(",–-(")


def _end_of_list(items: Sequence[Item], at: int) -> int:
    """ "D and the floor rack": behind the last of the groups that are joined to one."""
    while at + 2 < len(items) and items[at + 2].cat == "S" and "and" in items[at + 1].senses:
        at += 2
    return at + 1


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
