"""Groups of animals in a message: "the female juvies on B", "GBBs 1 & 3", "everyone on C but Mole".

Works over settled items and gives back fewer: each group, row of numbers and exception becomes one
"S" or "X" item.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from bot.reading.items import Item, Ref
from bot.reading.names import ShelfNames
from bot.reading.refs import HARD, LIST_MARKS
from bot.reading.words import Group
from bot.terms import Sex, Specimen, Stage

_DETERMINERS: Final = ("everyone", "all", "both", "each", "the", "of")


def grouped(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with groups, rows of numbered names and exceptions drawn together."""
    out: list[Item] = []
    at = 0
    items = _ranges(items, names)
    while at < len(items):
        plain = _newcomer(items, at) or _counts_up(out, items[at])
        item, at = (items[at], at + 1) if plain else _described(items, at, names)
        out.append(item)
    out = _numbered(out, names)
    return _excepted(out, names)


def _counts_up(out: Sequence[Item], item: Item) -> bool:
    """ "the females all ate": "all" behind a group is of that group."""
    return bool(out) and out[-1].cat == "S" and "all" in item.senses and item.cat == "W"


# -- described groups ---------------------------------------------------------------------------


class _Description:
    """What is gathered of a description before it is known whether it is one."""

    def __init__(self) -> None:
        self.everyone = self.all = self.both = self.the = False
        self.number: int | None = None
        self.number_of = False
        self.filters: list[Group] = []
        self.traits: list[str] = []
        self.head: Ref | None = None
        self.plural = self.one = False
        self.group_head = False

    def starts(self) -> bool:
        return (
            self.everyone or self.head is not None or bool(self.filters) or (bool(self.traits) and self.one)
        )


def _described(items: Sequence[Item], at: int, names: ShelfNames) -> tuple[Item, int]:
    first = items[at]
    if first.cat == "S":
        senses_before = False
    elif first.cat in {"N", "W"}:
        senses_before = (
            any(c in first.senses for c in ("everyone", "all", "both", "the", "group", "trait"))
            or first.cat == "N"
        )
    else:
        return first, at + 1
    if first.cat != "S" and not senses_before:
        return first, at + 1
    found, end = _gather(items, at)
    if not found.starts() or _is_said_of(found, items, at, end):
        return first, at + 1
    end = _place_after(items, end, found, names)
    ref = _resolved(found, items, at, end, names)
    if ref is None:
        return first, at + 1
    things = {c: s for x in items[at:end] for c, s in x.senses.items() if c == "noun"}
    new = Item(
        "S", first.i, items[end - 1].j, " ".join(x.text for x in items[at:end]), val=ref, senses=things
    )
    new.upper, new.owns = first.upper, items[end - 1].owns
    return new, end


def _is_said_of(found: _Description, items: Sequence[Item], at: int, end: int) -> bool:
    """Whether the words are said of an animal rather than naming one: "is a girl", "male", "1 (adult)"."""
    prev = items[at - 1] if at else None
    if found.head is not None:
        return False
    if prev is not None and "a" in prev.senses:
        return True
    following = items[end] if end < len(items) else None
    if following is not None and any(c in following.senses for c in ("prey", "size")):
        return True
    if not found.filters or found.all or found.both or found.everyone or found.the or found.number_of:
        return False
    if found.plural:
        return found.number is not None
    return True


def _gather(items: Sequence[Item], at: int) -> tuple[_Description, int]:
    found, place = _Description(), at
    while place < len(items):
        item = items[place]
        if item.cat == "S":
            if found.head is not None:
                break
            found.head = item.val
            found.plural = found.plural or item.val.plural
            place += 1
            if found.head is not None and (item.owns or not _more_head(items, place)):
                break
            continue
        if not _take(found, item, items, place):
            break
        place += 1
        if found.group_head and not _more_head(items, place):
            break
    return found, place


def _more_head(items: Sequence[Item], place: int) -> bool:
    """Whether a description goes on: "the GBB slings", "female one"."""
    if place >= len(items):
        return False
    item = items[place]
    return (
        (item.cat == "W" and ("group" in item.senses or ("one" in item.senses and "the" not in item.senses)))
        or (
            item.cat == "S" and not item.val.plural and item.val.how in {"species", "common", "part", "genus"}
        )
        or (item.cat == "S" and item.val.plural and item.val.how != "place")
    )


def _take(found: _Description, item: Item, items: Sequence[Item], place: int) -> bool:
    if item.cat == "N":
        return _take_number(found, item, items, place)
    if item.cat != "W":
        return False
    senses = item.senses
    if found.head is not None and "one" not in senses and "group" not in senses:
        return False
    for cat in ("everyone", "all", "both", "the"):
        if cat in senses and not found.filters:
            setattr(found, cat, True)
            return True
    if "group" in senses:
        group = senses["group"].group
        found.filters.append(group)
        found.plural = found.plural or group.plural
        found.group_head = True
        return True
    if "trait" in senses and _then_animal(items, place + 1):
        found.traits.append(senses["trait"].group.act or "")
        return True
    if "of" in senses and (found.number is not None or found.all or found.both or found.everyone):
        found.number_of = found.number is not None
        return True
    if "one" in senses and (found.filters or found.traits):
        found.one = True
        return True
    return False


def _take_number(found: _Description, item: Item, items: Sequence[Item], place: int) -> bool:
    if found.number is not None or found.filters or found.head is not None or item.val.value is None:
        return False
    if not _then_animal(items, place + 1):
        return False
    found.number = int(item.val.value)
    return True


def _then_animal(items: Sequence[Item], place: int) -> bool:
    """Whether a number or trait is followed by words for animals."""
    seen = 0
    while place < len(items) and seen < 4:
        item = items[place]
        if item.cat == "S":
            return (
                item.val.how != "tag"
                and (item.val.plural or item.val.how != "name" or item.val.lot_part is None)
                and item.val.how != "place"
            )
        if item.cat != "W":
            return False
        if "group" in item.senses or ("one" in item.senses and "prey" not in item.senses):
            return "group" in item.senses or seen > 0
        if not any(c in item.senses for c in ("of", "the", "trait", "all")):
            return False
        place += 1
        seen += 1
    return False


def _place_after(items: Sequence[Item], end: int, found: _Description, names: ShelfNames) -> int:
    """Takes "on C", "of D", "shelf B" behind a group in."""
    found_place = None
    place = end
    while place < len(items) and items[place].cat == "W" and _before_place(items[place], found):
        place += 1
    said = place < len(items) and items[place].cat == "S" and items[place].val.how == "place"
    if said and (found.everyone or found.all or found.plural or found.both):
        found_place = items[place].val
    if found_place is None:
        return end
    if found.head is None and not found.filters:
        found.head = found_place
    else:
        found.head = _meet(found.head, found_place, names)
    return place + 1


def _before_place(item: Item, found: _Description) -> bool:
    """Small words between a group and its place; "everybody's water on shelf A" has a thing there too."""
    if any(c in item.senses for c in ("on", "of", "the", "from")):
        return True
    return found.everyone and "noun" in item.senses


def _meet(head: Ref | None, place: Ref, names: ShelfNames) -> Ref:
    if head is None:
        return place
    tags = tuple(t for t in head.tags if t in set(place.tags))
    return Ref(tags, how=head.how, words=head.words, plural=True, species=head.species, group=True)


def _resolved(found: _Description, items: Sequence[Item], at: int, end: int, names: ShelfNames) -> Ref | None:
    words = " ".join(x.text for x in items[at:end])
    if found.head is not None and end == at + 1:
        return found.head
    head = found.head
    if head is not None and not found.filters and not found.traits and not found.plural and head.sure:
        return (
            _sized(head.tags, found, head, words, names)
            if head.how in {"place"} or found.number_of
            else _same(head, words)
        )
    tags = head.tags if head is not None else tuple(s.tag for s in names.specimens)
    for group in found.filters:
        tags = tuple(t for t in tags if _fits(names.by_tag[t], group))
    if found.traits and not found.filters and head is not None and len(tags) > 1:
        tags = _by_trait(tags, found.traits, names)
    elif found.traits and head is None and not found.filters:
        return None
    return _sized(tags, found, head, words, names)


def _same(head: Ref, words: str) -> Ref:
    head.words = words
    return head


def _sized(
    tags: tuple[str, ...], found: _Description, head: Ref | None, words: str, names: ShelfNames
) -> Ref:
    species = head.species if head is not None else None
    base = head.base if head is not None else None
    place = head.place if head is not None and not found.filters else None
    how = head.how if head is not None and head.how == "place" and not found.filters else "group"
    whole = Ref(tags, how=how, words=words, plural=True, species=species, place=place, base=base, group=True)
    if not tags:
        whole.sure, whole.doubt = False, "nobody_fits"
        return whole
    if (
        found.number is not None
        and head is not None
        and len(tags) == 1
        and names.by_tag[tags[0]].lot_size > 1
    ):
        whole.lot_part = found.number if found.number_of else None
        return whole
    wanted = 2 if found.both else found.number
    if wanted is not None and wanted != len(tags):
        whole.sure, whole.doubt = False, "some_of_several"
        return whole
    if not (found.everyone or found.all or found.both or found.plural) and len(tags) > 1:
        whole.sure, whole.doubt = False, "two_fit"
    return whole


def _fits(specimen: Specimen, group: Group) -> bool:
    if group.stage is not None and not _stage_fits(specimen, group.stage):
        return False
    if group.sex is not None and specimen.sex != Sex(group.sex):
        return False
    return group.habit is None or specimen.habit.value == group.habit


def _stage_fits(specimen: Specimen, stage: str) -> bool:
    """ "All adults" takes in mature males."""
    if stage == Stage.ADULT.value:
        return specimen.stage in {Stage.ADULT, Stage.MATURE_MALE}
    return specimen.stage.value == stage


def _by_trait(tags: tuple[str, ...], traits: Sequence[str], names: ShelfNames) -> tuple[str, ...]:
    sized = [(names.by_tag[t].span_cm, t) for t in tags]
    if any(span is None for span, _ in sized):
        return tags
    ordered = sorted((span, t) for span, t in sized if span is not None)
    chosen = ordered[0] if "small" in traits else ordered[-1]
    if len([s for s, _ in ordered if s == chosen[0]]) > 1:
        return tags
    return (chosen[1],)


# -- newcomers ----------------------------------------------------------------------------------


def _newcomer(items: Sequence[Item], at: int) -> bool:
    """Whether words here describe an animal just bought, none of the shelf: "got two more GBB slings"."""
    verb, known = None, False
    for place in range(at - 1, -1, -1):
        item = items[place]
        if item.cat == "M" and item.text in HARD:
            break
        if item.cat == "S" and item.val.how in {"tag", "name", "aka"}:
            verb = None
            break
        known = known or item.cat in {"S", "T"}
        if any(s.group.act in {"buy", "new"} for c, s in item.senses.items() if c.startswith("verb")):
            verb = item
    if verb is None or known:
        return known and verb is not None
    for item in items[at:]:
        if (item.cat == "M" and item.text in HARD) or "prey" in item.senses:
            return False
        if item.cat == "S":
            return item.val.species is not None and item.val.how not in {"tag", "name", "aka"}
        if item.cat == "T":
            return True
    return False


# -- rows of numbered names ---------------------------------------------------------------------


def _numbered(items: list[Item], names: ShelfNames) -> list[Item]:
    """Bare numbers that go on a row of names: "GBBs 1 & 3 moulted, 2 refused"."""
    out: list[Item] = []
    row: tuple[str, ...] | None = None
    for place, item in enumerate(items):
        if item.cat == "S":
            row = _row_of(item, names) or (row if item.val.how in {"tag", "aka", "name"} else None)
            if item.val.base is not None and item.val.group and item.val.plural:
                row = item.val.base
            out.append(item)
            continue
        if item.cat == "M" and item.text == "\n":
            row = None
        tag = (
            names.numbered[row].get(item.text)
            if row is not None and item.cat == "N" and row in names.numbered
            else None
        )
        if tag is None or not _means_animal(items, place, out):
            out.append(item)
            continue
        _join_row(out, item, tag, row, names)
    return out


def _row_of(item: Item, names: ShelfNames) -> tuple[str, ...] | None:
    if item.val.base is not None:
        return item.val.base if item.val.base in names.numbered else None
    keys = tuple(item.text.split())
    if len(keys) >= 2 and keys[-1].isdigit() and keys[:-1] in names.numbered:
        return keys[:-1]
    return None


def _means_animal(items: Sequence[Item], place: int, before: Sequence[Item]) -> bool:
    """Whether a bare number names an animal of the row, and counts nothing."""
    nxt = items[place + 1] if place + 1 < len(items) else None
    prev = before[-1] if before else None
    listed = prev is not None and (
        prev.cat == "S"
        or prev.text in LIST_MARKS
        or "and" in prev.senses
        or "except" in prev.senses
        or prev.text in HARD
        or prev.text == ":"
        or "all" in prev.senses
        or "but" in prev.senses
    )
    if not listed:
        return False
    if nxt is None or nxt.cat == "M" or "and" in nxt.senses:
        return True
    if any(c in nxt.senses for c in ("prey", "size", "ones", "prekilled", "each", "temp", "dur")):
        return False
    return "verb" in nxt.senses or any(
        c in nxt.senses for c in ("neg", "did", "still", "yes", "no", "except", "but")
    )


def _join_row(out: list[Item], item: Item, tag: str, row: tuple[str, ...] | None, names: ShelfNames) -> None:
    """Adds a number's animal: the first number of "GBBs 1 & 3" narrows the group down."""
    last = out[-1] if out else None
    new = Item("S", item.i, item.j, item.text, val=Ref((tag,), how="aka", words=item.text))
    if last is not None and last.cat == "S" and last.val.base == row and len(last.val.tags) > 1:
        new = Item(
            "S",
            last.i,
            item.j,
            f"{last.text} {item.text}",
            val=Ref((tag,), how="aka", words=f"{last.text} {item.text}"),
        )
        out[-1] = new
        return
    out.append(new)


def _ranges(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "A1–A4", "A1 to A4": all tags of the row from the one to the other."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if item.cat == "S" and at + 2 < len(items) and items[at + 2].cat == "S" and _spans(items[at + 1]):
            tags = _row_between(item, items[at + 2], names)
            if tags:
                words = f"{item.text} – {items[at + 2].text}"
                new = Item(
                    "S",
                    item.i,
                    items[at + 2].j,
                    words,
                    val=Ref(tags, how="tag", words=words, plural=True, group=True),
                )
                new.upper = item.upper
                out.append(new)
                at += 3
                continue
        out.append(item)
        at += 1
    return out


def _spans(item: Item) -> bool:
    return (item.cat == "M" and item.text in "-–") or "to" in item.senses


def _row_between(first: Item, last: Item, names: ShelfNames) -> tuple[str, ...]:
    if first.val.how not in {"tag", "aka"} or last.val.how not in {"tag", "aka"}:
        return ()
    row, other = tuple(first.text.split()), tuple(last.text.split())
    if len(row) < 2 or row[:-1] != other[:-1] or not (row[-1].isdigit() and other[-1].isdigit()):
        return ()
    numbers = names.numbered.get(row[:-1], {})
    low, high = int(row[-1]), int(other[-1])
    return (
        names.in_order(tag for number, tag in numbers.items() if low <= int(number) <= high)
        if low < high
        else ()
    )


# -- exceptions ---------------------------------------------------------------------------------


def _excepted(items: list[Item], names: ShelfNames) -> list[Item]:
    """ "X" items for the animals that an exception takes out of the group before it."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if item.cat == "W" and _excepts(items, at, out):
            refs, end = _list_of(items, at + 1)
            if refs:
                out.append(
                    Item("X", item.i, items[end - 1].j, " ".join(x.text for x in items[at:end]), val=refs)
                )
                at = end
                continue
            number = items[at + 1] if at + 1 < len(items) else None
            if "except" in item.senses and number is not None and number.cat in {"N", "U"}:
                ref = Ref((), sure=False, words=number.text, doubt="unknown_name")
                out.append(Item("X", item.i, number.j, number.text, val=[ref]))
                at += 2
                continue
        out.append(item)
        at += 1
    return out


def _excepts(items: Sequence[Item], at: int, before: Sequence[Item]) -> bool:
    item = items[at]
    nxt = items[at + 1] if at + 1 < len(items) else None
    if "except" in item.senses and "verb" not in item.senses:
        return True
    if nxt is None or nxt.cat != "S":
        return False
    group = _group_before(before)
    if "but" in item.senses and group is not None:
        _, end = _list_of(items, at + 1)
        acts = end < len(items) and _tells(items[end])
        return not (acts and _verb_since(before))
    return "neg" in item.senses and item.text == "not" and bool(before) and any(x.cat == "S" for x in before)


def _tells(item: Item) -> bool:
    return "verb" in item.senses or any(c in item.senses for c in ("neg", "did", "no", "yes"))


def _group_before(before: Sequence[Item]) -> Ref | None:
    for item in reversed(before):
        if item.cat == "M" and item.text in HARD:
            return None
        if item.cat == "S":
            ref: Ref = item.val
            return ref if len(ref.tags) > 1 and (ref.plural or ref.group) else None
    return None


def _verb_since(before: Sequence[Item]) -> bool:
    """Whether the group before has its verb already: "everyone on C ate but Mole refused"."""
    for item in reversed(before):
        if item.cat == "M" and item.text in HARD:
            return False
        if "verb" in item.senses:
            return True
    return False


def _list_of(items: Sequence[Item], at: int) -> tuple[list[Ref], int]:
    """The names of a list, and the place after it."""
    refs: list[Ref] = []
    place = at
    while place < len(items) and items[place].cat == "S":
        refs.append(items[place].val)
        place += 1
        if (
            place + 1 < len(items)
            and items[place + 1].cat == "S"
            and _joins(items[place])
            and not _acts_after(items, place + 1)
        ):
            place += 1
    return refs, place


def _joins(item: Item) -> bool:
    return item.text in LIST_MARKS or "and" in item.senses


def _acts_after(items: Sequence[Item], place: int) -> bool:
    return place + 1 < len(items) and _tells(items[place + 1]) and "except" not in items[place + 1].senses


Predicate = Callable[[Specimen], bool]
