"""Exceptions: "everyone on C but Mole", "all the GBBs except 3"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, ends_sentence, joins, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.excepted_numbers import by_number, tells
from bot.reading.whom.exceptions_apart import told_since
from bot.reading.words.rule_words import rule_openings, rule_words
from bot.terms import Kind


def excepted(items: list[Item], names: ShelfNames) -> list[Item]:
    """ "X" items for the animals that an exception takes out of the group before it."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if item.text in _INCLUDING and _includes(items, at, out):
            at += 2  # "everyone on C ate, including Mole"
            continue
        described = _end_of_described(items, at, out)
        if described is not None:
            ref = Ref((), sure=False, words=items[at].text, doubt="excepted_whom")
            out.append(Item("X", item.i, items[described - 1].j, item.text, val=[ref]))
            at = described
            continue
        numbered = _one_by_number(items, at, out, names)
        if numbered is not None:
            refs, end = numbered
            words = " ".join(ref.words for ref in refs)
            if end < len(items) and tells(items[end]) and told_since(out, "verb", "prey"):
                tags, sure = names.in_order(t for r in refs for t in r.tags), all(r.sure for r in refs)
                one = Ref(tags, sure=sure, how="aka", words=words, plural=len(refs) > 1, doubt=refs[0].doubt)
                out += [item, Item("S", items[end - 1].i, items[end - 1].j, words, val=one)]
            else:
                out.append(Item("X", item.i, items[end - 1].j, words, val=refs))
            at = end
            continue
        if (item.cat == "W" or item.text in _OF_A_GROUP) and _excepts(items, at, out):
            follows = items[at + 1].senses if at + 1 < len(items) else {}
            first = at + 2 if "the" in follows or item.text in _NONE else at + 1
            while first < len(items) and "fill" in items[first].senses:
                first += 1  # "except of course Ink"
            clause = first < len(items) and items[first].text.startswith(_THAT)  # "except that Mole's …"
            refs, end = _list_of(items, first, whole=clause or not told_since(out, "verb"))
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


def excepted_strangers(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with whoever else is excepted as one whom nobody knows, so that it is asked.

    Of "A, all but the big brown one" and "everyone except Mole and the blorf" no one is to be left out of
    the exception, or it would be told of them.
    """
    out: list[Item] = []
    at = 0
    while at < len(items):
        end = _stranger_behind(items, at)
        known = items[at].val if items[at].cat == "X" else []
        if not end or not (items[at].cat == "X" or _group_before(out) is not None):
            out.append(items[at])
            at += 1
            continue
        words = " ".join(item.text for item in items[at + 1 : end])
        stranger = Ref.stranger(words)
        out.append(Item("X", items[at].i, items[end - 1].j, words, val=[*known, stranger]))
        at = end
    return out


def _end_of_described(items: Sequence[Item], at: int, before: Sequence[Item]) -> int | None:
    """ "fed everything but the sealed ones": where those end whom only what is so of them tells."""
    leads = not {"but", "except"}.isdisjoint(items[at].senses) and _group_before(before) is not None
    end = at + 1
    while end < len(items) and items[end].cat == "W" and "ones" not in items[end].senses:
        end += 1
    the = at + 1 < len(items) and "the" in items[at + 1].senses
    so = any(item.senses.verbs or "trait" in item.senses for item in items[at + 2 : end])
    if not (leads and the and so and end < len(items) and "ones" in items[end].senses):
        return None
    return end + 1


def why_excepted(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """ "a cricket each, not Ink - premolt": behind a dash what is so of whoever got none, told of her."""
    out = list(items)
    for at in range(len(out) - 3, -1, -1):
        left_out, dash, state = out[at : at + 3]
        ends = at + 3 == len(out) or out[at + 3].cat == "M"
        of_her = left_out.cat == "X" and dash.text == "-" and not state.senses.kinds.isdisjoint(LEFT_IN_PEACE)
        if of_her and ends and len(left_out.val) == 1:
            whom = Item("S", dash.i, dash.j, left_out.val[0].words, val=left_out.val[0])
            out[at + 1 : at + 2] = [Item("M", dash.i, dash.j, ","), whom]
    return replaced(out, _only_why)


def _only_why(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
    """ "the GBBs except 4 (too small still), 1 l tubs": a reason in brackets, of which nothing is told."""
    if items[at].cat != "X" or at + 1 >= len(items) or items[at + 1].text != "(":
        return None
    end = next((n for n in range(at + 2, len(items)) if items[n].text == ")"), None)
    inside = items[at + 2 : end]
    plain = end is not None and all(i.cat in "WU" and not i.senses.verbs for i in inside)
    reason = any("trait" in i.senses or "size" in i.senses for i in inside)
    tells = any(not _TELLS.isdisjoint(i.senses) for i in inside)
    return (end + 1, [items[at]]) if end is not None and plain and reason and not tells else None


#: Senses of the words in a bracket that tell of something: "(the rosie refused)", "(no food)".
_TELLS: Final = frozenset({"prey", "neg", "no", "group", "everyone"})


#: What may be so of an animal that is left in peace, and told of whom an exception takes out.
LEFT_IN_PEACE: Final = frozenset({Kind.PREMOLT, Kind.SEALED, Kind.MOLTED})


def _stranger_behind(items: Sequence[Item], at: int) -> int:
    """Where the words end that name one more whom an exception takes out, and nobody known; 0 for none."""
    item, ahead = items[at], items[at + 1] if at + 1 < len(items) else None
    if item.cat == "X":
        opens = ahead is not None and _joins(ahead) and at + 2 < len(items) and "the" in items[at + 2].senses
        first = at + 2
    else:
        opens, first = "except" in item.senses and "verb" not in item.senses, at + 1
    if not opens:
        return 0
    end = first
    while end < len(items) and items[end].cat in "WUN" and not items[end].senses.verbs:
        if not _ENDS_WHOM.isdisjoint(items[end].senses):
            break
        end += 1
    said = items[first:end]
    names = any(i.cat == "U" or "trait" in i.senses for i in said)
    closes = end == len(items) or items[end].cat == "M"
    return end if names and closes else 0


#: Senses of the words that no longer say who is excepted.
_ENDS_WHOM: Final = frozenset({"and", "but", "so", "rel", "self", "prey", "pron", "for"})
_THAT: Final = rule_openings("that")


def _one_by_number(
    items: Sequence[Item], at: int, before: Sequence[Item], names: ShelfNames
) -> tuple[list[Ref], int] | None:
    """ "all GBBs ate but the third", "… apart from no. 2"."""
    if {"except", "but"}.isdisjoint(items[at].senses):
        return None
    group = _group_before(before)
    return by_number(items, at + 1, group, names) if group is not None else None


#: Exceptions that name the group in the same breath.
_ALL_BUT: Final = rule_words("all_but")


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


_INCLUDING: Final = rule_words("including")
#: Words that take one out of a group before them, and elsewhere are none: "Ink missed her cricket".
_OF_A_GROUP: Final = rule_words("left_out")
_NOT: Final = rule_words("not")
_NONE: Final = rule_words("none")
#: Of these senses and words a message with an exception has one.
EXCEPTING: Final = frozenset({"except", "but"}) | _NOT | _NONE | _OF_A_GROUP | _INCLUDING


def _excepts(items: Sequence[Item], at: int, before: Sequence[Item]) -> bool:
    item = items[at]
    nxt = items[at + 1] if at + 1 < len(items) else None
    if "except" in item.senses and "verb" not in item.senses:
        return True
    group = _group_before(before)
    if nxt is not None and "but" in item.senses and nxt.cat != "S" and (nxt.text in _ONE or nxt.cat == "N"):
        ends = at + 2 == len(items) or items[at + 2].cat == "M"
        acts = not ends and tells(items[at + 2]) and not told_since(before, "verb", "prey")
        return (ends or acts) and group is not None  # "all the GBBs ate but one", "all but one ate"
    if item.text in _NONE and nxt is not None and "for" in nxt.senses:
        return at + 2 < len(items) and items[at + 2].cat == "S" and group is not None
    if nxt is None or nxt.cat != "S":
        return False
    if "but" in item.senses and group is not None:
        _, end = _list_of(items, at + 1)
        acts = end < len(items) and tells(items[end])
        return not (acts and told_since(before, "verb", "prey"))
    if item.text in _OF_A_GROUP:
        return group is not None
    return "neg" in item.senses and item.text in _NOT and bool(before) and any(x.cat == "S" for x in before)


_ONE: Final = rule_words("one")


def _one_of(group: Ref | None, number: Item) -> Ref:
    """ "all the GBBs ate except one": which of them is asked; what nobody bears is unknown."""
    if group is None or (number.text not in _ONE and (number.cat != "N" or number.val.ordinal)):
        return Ref.stranger(number.text)
    return Ref(group.tags, sure=False, words=number.text, doubt="excepted_whom")


def _group_before(before: Sequence[Item]) -> Ref | None:
    for item in reversed(before):
        if ends_sentence(item):
            return None
        if item.cat == "S":
            ref: Ref = item.val
            return ref if len(ref.tags) > 1 and (ref.plural or ref.group) else None
    return None


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
    return joins(item) or "or" in item.senses


def _acts_after(items: Sequence[Item], place: int) -> bool:
    return place + 1 < len(items) and tells(items[place + 1]) and "except" not in items[place + 1].senses
