"""Which animals a name in a message means, and whether the word is a name at all.

A shelf's names come first: before months, weekdays, prey and other words, wherever the sentence lets
a name stand. Where both may stand, the name is in doubt and will be asked about.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items.item import Item, Ref
from bot.reading.items.name_or_word import Standing
from bot.reading.names.shelf_names import EXACT, Hit, NameSpan, ShelfNames
from bot.reading.words.numbers import NumberSpan


def ref_of(span: NameSpan, words: str, names: ShelfNames) -> Ref:
    """The animals that the phrase of a name may mean."""
    hits = span.hits
    best = hits[0]
    single = [h for h in hits if not h.plural and h.how != "place"]
    if single:
        return _single(single, words, names)
    many = [h for h in hits if h.plural]
    if many:
        tags = names.in_order(t for h in many for t in h.tags)
        kind_of = many[0].how
        if kind_of in EXACT and len(tags) == 1:
            return Ref(tags, how=kind_of, words=words)
        return Ref(
            tags,
            how=kind_of,
            words=words,
            plural=True,
            species=_one_species(many),
            base=_base(span, names, words),
        )
    return of_place(best, words)


def of_place(hit: Hit, words: str) -> Ref:
    """All that stand on a place, as it was said."""
    return Ref(hit.tags, how="place", words=words, place=hit.place, plural=True, group=True)


def _single(hits: Sequence[Hit], words: str, names: ShelfNames) -> Ref:
    best = hits[0]
    if best.how == "tag" and len(best.tags) == 1:
        return Ref(best.tags, how="tag", words=words)
    tags = names.in_order(t for h in hits for t in h.tags)
    species = _one_species(hits)
    if len(tags) == 1:
        return Ref(tags, how=best.how, words=words, species=species)
    base = tuple(words.split()) if tuple(words.split()) in names.numbered else None
    return Ref(tags, how=best.how, words=words, sure=False, species=species, base=base)


def _one_species(hits: Sequence[Hit]) -> str | None:
    found = {h.species for h in hits if h.species}
    return found.pop() if len(found) == 1 else None


def _base(span: NameSpan, names: ShelfNames, words: str) -> tuple[str, ...] | None:
    keys = tuple(words.split())
    for cut in (keys, (*keys[:-1], keys[-1].removesuffix("s")), (*keys[:-1], keys[-1].removesuffix("es"))):
        if cut in names.numbered:
            return cut
    return None


def settle_names(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with every name settled: an animal, sure or in doubt, or the other word that it is."""
    letters = [place for place in _open(items) if _is_letter(items[place])]
    if letters:  # first, since the others are judged by what a lone letter is
        items = _settled(items, letters, names)
    return _settled(items, _open(items), names)


def _is_letter(item: Item) -> bool:
    return len(item.text) == 1 and item.text.isalpha()


def in_other_words(items: list[Item], _names: ShelfNames) -> list[Item]:
    """ "the horned baboon", "the baboon Anvil": one animal in two words, of which one alone fits several."""
    out: list[Item] = []
    for item in items:
        if _lives_in(out, item):
            out[-2:] = [Item("S", out[-2].i, item.j, f"{out[-2].text} {item.text}", val=item.val)]
            continue
        last = out[-1] if out else None
        if last is not None and item.cat == last.cat == "S" and last.owns:
            there = _of_that_place(last.val, item.val)
            if there is not None:
                out[-1] = Item("S", last.i, item.j, f"{last.text} {item.text}", val=there)
                out[-1].owns = item.owns
                continue
        elif last is not None and item.cat == last.cat == "S":
            sure, other = (last, item) if last.val.sure else (item, last)
            if sure.val.sure and not other.val.sure and set(sure.val.tags) < set(other.val.tags):
                one = Item("S", last.i, item.j, f"{last.text} {item.text}", val=sure.val)
                one.upper, one.owns = last.upper, item.owns
                out[-1] = one
                continue
        out.append(item)
    return out


def _lives_in(before: Sequence[Item], item: Item) -> bool:
    """ "the GBB in B2": one of a kind, by the tag of her home."""
    if item.cat != "S" or item.val.how != "tag" or len(before) < 2 or "on" not in before[-1].senses:
        return False
    kind = before[-2]
    open_yet = kind.cat == "S" and not kind.val.sure and not kind.owns
    return open_yet and set(item.val.tags) < set(kind.val.tags)


def _of_that_place(place: Ref, group: Ref) -> Ref | None:
    """ "shelf A's adults": those of a group that stand in a place."""
    both = tuple(tag for tag in group.tags if tag in place.tags)
    if (
        place.how != "place"
        or not both
        or not (group.plural or group.group)
        or not (place.sure and group.sure)
    ):
        return None
    return Ref(both, how="group", words=f"{place.words} {group.words}", plural=True, group=True)


def _open(items: Sequence[Item]) -> list[int]:
    """The places of the names that are still to be settled."""
    return [k for k, item in enumerate(items) if item.cat == "S" and isinstance(item.val, NameSpan)]


def _settled(items: Sequence[Item], places: Sequence[int], names: ShelfNames) -> list[Item]:
    """The items with the names at some places settled."""
    verdicts = {place: Standing(items, place).verdict() for place in places}
    out: list[Item] = []
    skip_until = -1
    for place, item in enumerate(items):
        if item.i < skip_until:
            continue
        if place not in verdicts:
            out.append(item)
            continue
        verdict = verdicts[place]
        if verdict == "count" and (shelf := _place_and_count(place, items, names)) is not None:
            out += shelf
            continue
        if verdict in {"name", "doubt", "count"}:
            ref = ref_of(item.val, item.text, names)
            if verdict == "count":
                _or_its_row(ref, item.text, names)
            if verdict == "doubt" and ref.sure:
                ref.sure, ref.doubt = False, "name_or_word"
            new = Item("S", item.i, item.j, item.text, val=ref)
            new.alt = item.alt if item.owns else None  # "Friday's cricket" may still be of that day
        elif verdict == "number":
            new = Item("N", item.i, item.j, item.text, val=item.number)
        elif verdict == "day" and item.alt is not None and item.alt.day is not None:
            new = Item("D", item.i, item.alt.day_end, item.text, val=item.alt.day)
            skip_until = item.alt.day_end
        elif item.alt is not None and item.alt.senses:
            new = Item("W", item.i, item.j, item.text, senses=item.alt.senses)
        else:
            new = Item("U", item.i, item.j, item.text)
        new.upper, new.owns = item.upper, item.owns or _owns_unmarked(new, items, place)
        out.append(new)
    return out


def _owns_unmarked(item: Item, items: Sequence[Item], place: int) -> bool:
    """ "took moles roach out", "cleaned Twigs tub": the name of one with an "s", before a thing of hers."""
    if item.cat != "S" or item.val.how not in EXACT or len(item.val.tags) != 1 or place + 1 >= len(items):
        return False
    many = any(hit.plural for hit in items[place].val.hits) and all(h.plural for h in items[place].val.hits)
    return many and not {"prey", "noun", "size"}.isdisjoint(items[place + 1].senses)


def _place_and_count(at: int, items: Sequence[Item], names: ShelfNames) -> list[Item] | None:
    """ "D 1 hornworm each", "all of c 2 dubias": a letter that is a shelf, and so many for each on it."""
    item = items[at]
    words = item.text.split()
    hits = [h for h in names.phrases.get(tuple(words[:1]), ()) if h.how == "place"]
    each = any("each" in other.senses for other in items if other.i > item.i)
    all_of_it = any(not {"all", "everyone"}.isdisjoint(i.senses) for i in items[max(0, at - 2) : at])
    said = (each and item.upper) or (all_of_it and not {"of", "on", "all"}.isdisjoint(items[at - 1].senses))
    if not (said and hits and len(words) == len(("d", "1")) and words[1].isdigit()):
        return None
    shelf = Item("S", item.i, item.i + 1, words[0], val=of_place(hits[0], words[0]))
    shelf.upper = True
    return [shelf, Item("N", item.i + 1, item.j, words[1], val=NumberSpan(0, 1, int(words[1])))]


def _or_its_row(ref: Ref, words: str, names: ShelfNames) -> None:
    """ "Moss 2 flies": Moss 2, or another Moss and two flies."""
    base = tuple(words.split()[:-1])
    others = {t for hit in names.phrases.get(base, ()) for t in hit.tags if hit.how in EXACT}
    row = names.in_order({*ref.tags, *names.numbered.get(base, {}).values(), *others})
    if len(row) > 1:
        ref.tags, ref.sure = row, False
