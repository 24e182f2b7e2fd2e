"""Places by the beginning of their names, "top shelf 24 °C", and some of those on one, "two on C"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.amounts.words import OF_THE_AIR
from bot.reading.items.item import Item, Ref, joins
from bot.reading.items.refs import of_place
from bot.reading.names.shelf_names import ShelfNames, keys_of
from bot.reading.words.marks import AND_MARKS
from bot.terms import Kind

_LEAST_LETTERS: Final = 3
_SOME: Final = "some_of_several"


def places_cut_short(items: list[Item], names: ShelfNames) -> list[Item]:
    """Words right before warmth or humidity with which the name of one place of the shelf begins."""
    out: list[Item] = []
    for item in items:
        out.append(item)
        if item.cat == "A" and item.val.dimension in OF_THE_AIR:
            _place_before(out, names)
    return out


def letters_in_a_row(items: list[Item], names: ShelfNames) -> list[Item]:
    """ "watered b c and d": letters of places beside a place, which no word is."""
    out = list(items)
    for at, item in enumerate(items):
        letter = item.cat == "U" and item.text in names.letters
        place = names.place_called((item.text,)) if letter else None
        if place is not None and any(_is_place(out, at, step) for step in (-1, 1)):
            out[at] = Item("S", item.i, item.j, item.text, val=of_place(place, item.text))
    return out


def _is_place(items: Sequence[Item], at: int, step: int) -> bool:
    """Whether a place stands beside an item, joints passed over."""
    beside = at + step
    while 0 <= beside < len(items) and joins(items[beside], AND_MARKS):
        beside += step
    return 0 <= beside < len(items) and items[beside].cat == "S" and items[beside].val.how == "place"


def _place_before(out: list[Item], names: ShelfNames) -> None:
    """Puts a place for the words between the last mark and an amount, which is the last item."""
    start = len(out) - 1
    while start and out[start - 1].cat in "WU" and "and" not in out[start - 1].senses:
        start -= 1
    words = out[start:-1]
    said = " ".join(item.text for item in words)
    opens = not start or out[start - 1].cat == "M" or "and" in out[start - 1].senses
    if len(said) < _LEAST_LETTERS or not opens:
        return
    fits = [p for p in names.places if p.casefold().startswith(said) and p.casefold() != said]
    ref = _the_one_place(fits, said, names)
    if ref is not None:
        out[start:-1] = [Item("S", words[0].i, words[-1].j, said, val=ref)]


def places_beside_everyone(items: list[Item], names: ShelfNames) -> list[Item]:
    """A word of one place's name alone, for the place, where nothing else can be meant.

    Beside those who are all meant ("alle oben", "everyone upstairs"), beside another place ("rack & D
    cleaned"), or behind what was done to it ("watered the rack").
    """
    out: list[Item] = []
    for at, item in enumerate(items):
        place = None
        if item.cat == "U" and _of_all(items, at):
            place = _place_of_word(item, names)
        elif item.cat == "U" and (_listed(items, at) or _seen_to(items, at)):
            place = _place_of_word(item, names, last=True)  # the rack of a "floor rack", and no floor
        out.append(place or item)
    return out


def _of_all(items: Sequence[Item], at: int) -> bool:
    return any(_ALL & i.senses.keys() for i in _neighbours(items, at))


def _listed(items: Sequence[Item], at: int) -> bool:
    """Whether a word opens or ends a list with a place in it."""
    start = at - (at > 0 and "the" in items[at - 1].senses)
    before = start > 0 and joins(items[start - 1], AND_MARKS) and _is_place(items, start, -1)
    return before or (at + 1 < len(items) and joins(items[at + 1], AND_MARKS) and _is_place(items, at, 1))


def _seen_to(items: Sequence[Item], at: int) -> bool:
    """Whether a word is the whole of what was watered, fed or cleaned: "watered the rack"."""
    verb = at - 1
    while verb > 0 and "the" in items[verb].senses:
        verb -= 1
    ends = at + 1 == len(items) or items[at + 1].cat in "MD" or "and" in items[at + 1].senses
    return ends and verb >= 0 and not items[verb].senses.kinds.isdisjoint(_DONE_TO_A_PLACE)


_DONE_TO_A_PLACE: Final = frozenset({Kind.WATERED, Kind.FED, Kind.CLEANED, Kind.CHECKED})


#: Senses of the words that take in all of somewhere.
_ALL: Final = frozenset({"everyone", "rest", "all", "each"})
_AMONG: Final = frozenset({"with", "of"})


def _neighbours(items: Sequence[Item], at: int) -> Sequence[Item]:
    behind = items[at + 1 : at + 3]
    if behind and not _AMONG.isdisjoint(behind[0].senses):  # "oben bei allen"
        behind = behind[1:]
    return [*items[max(0, at - 1) : at], *behind[:1]]


def _place_of_word(word: Item, names: ShelfNames, *, last: bool = False) -> Item | None:
    """The place whose name of several words has this one, or ends with it; ``None`` for none, or several."""
    named = ((place, keys) for place in names.places if len(keys := keys_of(place)) > 1)
    fits = [place for place, keys in named if word.text in (keys[-1:] if last else keys)]
    ref = _the_one_place(fits, word.text, names)
    return Item("S", word.i, word.j, word.text, val=ref) if ref is not None else None


def _the_one_place(fits: Sequence[str], words: str, names: ShelfNames) -> Ref | None:
    """Who stands on the place that some words fit; ``None`` where they fit none, or several."""
    place = names.place_called(keys_of(fits[0])) if len(fits) == 1 else None
    return of_place(place, words) if place is not None else None


def some_on_a_place(items: list[Item], names: ShelfNames) -> list[Item]:
    """ "two on C ate": so many of those that stand there, and which of them is asked."""
    out = list(items)
    for at in range(len(items) - 3, -1, -1):
        place = at + 2 + (at + 2 < len(out) and "the" in out[at + 2].senses)
        ref = out[place].val if place < len(out) and out[place].cat == "S" else None
        if ref is None or ref.how != "place" or len(ref.tags) <= 1 or "on" not in out[at + 1].senses:
            continue
        the = at > 0 and out[at].cat == "N" and "the" in out[at - 1].senses  # "except the two on D"
        whole = out[at].cat == "N" and out[at].val.value == len(ref.tags)
        acts = out[place + 1].senses if place + 1 < len(out) else {}
        if not (the or (_opens(out, at) and {"did", "verb"} & acts.keys() and not whole)):
            continue
        some = Ref(ref.tags, sure=the and whole, how="group", words=ref.words, doubt=_SOME, group=True)
        some.plural = True
        out[at - the : place + 1] = [Item("S", out[at].i, out[place].j, out[place].text, val=some)]
    return out


def _opens(items: Sequence[Item], at: int) -> bool:
    """Whether an item is a number that opens a clause, with something behind it."""
    number = items[at].cat == "N" and at + 1 < len(items)
    return number and (at == 0 or items[at - 1].cat in "MD" or "and" in items[at - 1].senses)
