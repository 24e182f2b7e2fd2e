"""Animals that are described instead of named: "the female juvies on B", "both adults", "the small GBB"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rapidfuzz.distance import OSA

from bot.reading.items.item import Item, Ref
from bot.reading.names.shelf_names import EXACT, ShelfNames
from bot.reading.whom.told_by_size import by_trait
from bot.reading.words.lexicon import Senses
from bot.reading.words.rule_words import rule_words
from bot.reading.words.word_groups import Group
from bot.terms import Kind, Sex, Specimen, Stage

#: Senses of the words that a description can begin with; a number and a name do as well.
BEGIN: Final = frozenset({"everyone", "all", "both", "the", "group", "trait"})

#: Doubts about whether a word is a name at all.
_OF_A_NAME: Final = frozenset({"slip", "name_or_word"})


class _Description:
    """What is gathered of a description before it is known whether it is one."""

    def __init__(self) -> None:
        self.everyone = self.all = self.both = self.the = False
        self.number: int | None = None
        self.number_of = False
        self.filters: list[Group] = []
        self.traits: list[str] = []
        self.head: Ref | None = None
        self.plural = self.one = self.single = False
        self.group_head = False

    def starts(self) -> bool:
        return (
            self.everyone or self.head is not None or bool(self.filters) or (bool(self.traits) and self.one)
        )

    def part_of_it(self) -> bool:
        """ "two of the commune", "einer aus der Kommune": so many with "of" or an article behind."""
        return self.number_of or (self.number is not None and self.the)


def may_begin(item: Item) -> bool:
    """Whether a description can begin with an item: most can not."""
    return item.cat in "SN" or (item.cat == "W" and not BEGIN.isdisjoint(item.senses))


def described(items: Sequence[Item], at: int, names: ShelfNames) -> tuple[Item, int]:
    """The animals described from an item on as one item, or that item as it is; and the place after it."""
    first = items[at]
    if first.cat == "S" and not _may_go_on(items, at + 1):
        return first, at + 1
    if first.cat == "N" and _one_by_name(items[at + 1 : at + 2], names):
        return first, at + 1  # "Pebble 2 Rust 3 crickets"
    found, end = _gather(items, at)
    if at and "each" in items[at - 1].senses and found.group_head and found.head is None:
        found.everyone = True  # "2 flies to each sling"
    if at and items[at - 1].text in _EVERY_OTHER and found.group_head:
        found.plural = True  # "every other sling ate"
    if not found.starts() or _is_said_of(found, items, at, end):
        return first, at + 1
    end = _place_after(items, end, found, names)
    if first.cat == "S" and end == at + 1:
        return first, end
    ref = _resolved(found, items, at, end, names)
    if ref is None:
        return first, at + 1
    things = [x.senses["noun"] for x in items[at:end] if "noun" in x.senses]
    words = " ".join(x.text for x in items[at:end])
    new = Item("S", first.i, items[end - 1].j, words, val=ref, senses=Senses(things[-1:]))
    new.upper, new.owns, new.alt = first.upper, items[end - 1].owns, first.alt
    return new, end


_EVERY_OTHER: Final = rule_words("every_other")


def _one_by_name(following: Sequence[Item], names: ShelfNames) -> bool:
    """Whether a very name of one animal follows, of which there are no two or three."""
    one = [i.val for i in following if i.cat == "S" and i.val.how in EXACT and len(i.val.tags) == 1]
    return bool(one) and one[0].sure and names.by_tag[one[0].tags[0]].lot_size == 1


def _may_go_on(items: Sequence[Item], place: int) -> bool:
    """Whether a name may be described further, or be said to live somewhere: most are not."""
    if place >= len(items) or items[place].cat not in "WS":
        return False
    return items[place].cat == "S" or not _GOES_ON.isdisjoint(items[place].senses)


_GOES_ON: Final = frozenset({"group", "one", "on", "of", "the", "from"})


def _is_said_of(found: _Description, items: Sequence[Item], at: int, end: int) -> bool:
    """Whether the words are said of an animal rather than naming one: "is a girl", "male", "1 (adult)"."""
    prev = items[at - 1] if at else None
    if found.head is not None:
        return False
    if prev is not None and ("a" in prev.senses or _sexes(prev, found)):
        return True
    following = items[end] if end < len(items) else None
    if following is not None and any(c in following.senses for c in ("prey", "size")):
        opens = at == 0 or items[at - 1].cat == "M"  # "juvies 1 cricket each, slings flies"
        return not (found.plural and found.group_head and (opens or _are_given(items, at)))
    if not found.filters or found.all or found.both or found.everyone or found.the or found.number_of:
        return False
    if found.plural:
        return found.number is not None
    return not (_then_place(items, end) and (at == 0 or items[at - 1].cat == "M"))  # "sling on B ate"


def _sexes(before: Item, found: _Description) -> bool:
    """ "ist ein Weibchen": a verb that tells of a sex, before a word for one or many."""
    return "sex" in before.senses.acts and all(group.sex and not group.stage for group in found.filters)


def _are_given(items: Sequence[Item], at: int) -> bool:
    """ "fed the slings crickets": behind the keeper's verb a group is whom it is given to, and no size."""
    before = next((i for i in reversed(items[:at]) if "the" not in i.senses and "self" not in i.senses), None)
    verbs = before.senses.verbs if before is not None else ()
    return any((v.group.keeper or v.group.base) and v.group.kind in _GIVEN for v in verbs)


_GIVEN: Final = frozenset({Kind.FED, Kind.OFFERED})


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
        place = _of_a_sort(items, place) if found.group_head and found.head is None else place
        if found.group_head and not _more_head(items, place):
            break
    return found, place


def _of_a_sort(items: Sequence[Item], place: int) -> int:
    """Past what leads from a group to its sort, "el macho de (la) geniculata"; else the place itself."""
    if place >= len(items) or "of" not in items[place].senses:
        return place
    sort = place + 2 if place + 1 < len(items) and "the" in items[place + 1].senses else place + 1
    named = sort < len(items) and items[sort].cat == "S" and items[sort].val.how in _SORTS
    return sort if named and _more_head(items, sort) else place


#: How an animal is named by what it is.
_SORTS: Final = frozenset({"species", "common", "part", "genus"})


def _more_head(items: Sequence[Item], place: int) -> bool:
    """Whether a description goes on: "the GBB slings", "female one"; not "confirmed Dottie female"."""
    if place >= len(items):
        return False
    item, before = items[place], items[place - 1]
    if "size" in item.senses and place + 1 < len(items) and "prey" in items[place + 1].senses:
        return False  # "fed the slings adult crickets"
    named = before.cat == "S" and before.val.how in {"tag", "name"} and not before.val.plural
    if named and "group" in item.senses and not item.senses["group"].group.plural:
        return False
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
            found.plural = found.plural or (cat == "the" and senses[cat].group.plural)
            found.single = found.single or (cat == "the" and senses[cat].group.count == 1)
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
    counted = found.number_of or found.all or found.both or found.everyone
    return item.text in _OWN and counted and _then_animal(items, place + 1)


#: The keeper's own: "one of my GBBs", "both of my genics".
_OWN: Final = rule_words("my")


def _take_number(found: _Description, item: Item, items: Sequence[Item], place: int) -> bool:
    if found.number is not None or found.filters or found.head is not None or item.val.value is None:
        return False
    whole = (found.all or found.everyone) and _then_place(items, place + 1)  # "all four on C"
    if not whole and (not _then_animal(items, place + 1) or "all" in items[place + 1].senses):
        return False  # "1 a cada GBB": so much to each, and not so many of them
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
        if not (any(c in item.senses for c in ("of", "the", "trait", "all")) or item.text in _OWN):
            return False
        place += 1
        seen += 1
    return False


def _then_place(items: Sequence[Item], place: int) -> bool:
    """Whether a number is followed by where the animals stand: the "four" of "all four on C"."""
    if place >= len(items) or _STANDS.isdisjoint(items[place].senses):
        return False
    where = next((item for item in items[place + 1 : place + 3] if "the" not in item.senses), None)
    return where is not None and where.cat == "S" and where.val.how == "place"


_STANDS: Final = frozenset({"on", "from"})


def _place_after(items: Sequence[Item], end: int, found: _Description, names: ShelfNames) -> int:
    """Takes "on C", "of D", "shelf B" behind a group in."""
    found_place = None
    place = end
    while place < len(items) and items[place].cat == "W" and _before_place(items[place], found):
        place += 1
    said = place < len(items) and items[place].cat == "S" and items[place].val.how == "place"
    one = found.group_head and found.head is None and _then_place(items, end)
    if said and (found.everyone or found.all or found.plural or found.both or one):
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
            if head.how in {"place"} or found.part_of_it() or _counts_of_a_lot(found, head, names)
            else _same(head, words)
        )
    tags = head.tags if head is not None else tuple(s.tag for s in names.specimens)
    for group in found.filters:
        tags = tuple(t for t in tags if _fits(names.by_tag[t], group))
    if found.traits and not found.filters and head is not None and len(tags) > 1:
        tags = by_trait(tags, found.traits, names)
    elif found.traits and head is None and not found.filters:
        return None
    return _sized(tags, found, head, words, names)


def _counts_of_a_lot(found: _Description, head: Ref, names: ShelfNames) -> bool:
    """ "sold 3 balfouri", of eight that are kept as one: so many of them."""
    return found.number is not None and len(head.tags) == 1 and names.by_tag[head.tags[0]].lot_size > 1


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
    whole.everyone = found.everyone or found.all
    if not tags:
        whole.sure, whole.doubt = False, "nobody_fits"
        return whole
    if (
        found.number is not None
        and head is not None
        and len(tags) == 1
        and names.by_tag[tags[0]].lot_size > 1
    ):
        fewer = found.number < names.by_tag[tags[0]].lot_size
        whole.lot_part = found.number if fewer or found.part_of_it() else None
        return whole
    wanted = 2 if found.both else found.number
    if wanted is not None and wanted != len(tags):
        whole.sure, whole.doubt = False, "some_of_several"
        return whole
    whole_name = len(tags) == 1 and _nearly_all_of_her_name(words, names.by_tag[tags[0]])
    if head is not None and not head.sure and head.doubt in _OF_A_NAME and not whole_name:
        whole.sure, whole.doubt = False, head.doubt  # "the pink": an article makes no slip a name
    plural = found.plural and not (
        found.single and found.group_head
    )  # "das Genic-Weibchen", of a word that may be for many
    if plural and found.group_head and head is not None and len(tags) == 1 < len(head.tags):
        whole.sure, whole.doubt, whole.tags = False, "some_of_several", head.tags  # "the Bess girls"
    if not (found.everyone or found.all or found.both or plural or wanted) and len(tags) > 1:
        whole.sure, whole.doubt = False, "two_fit"
    return whole


def _nearly_all_of_her_name(words: str, specimen: Specimen) -> bool:
    """ "little bes": but for one letter all the words of a long name, of which the first tells her apart."""
    name = (specimen.name or "").casefold()
    near = len(name) >= _LONG_NAME and " " in name and OSA.distance(words, name) <= 1
    return near and words.split(maxsplit=1)[0] == name.split()[0]


_LONG_NAME: Final = 8


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
