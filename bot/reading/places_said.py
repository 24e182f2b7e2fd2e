"""Places by the beginning of their names: "top shelf 24 °C, bottom 22 °C"."""

from __future__ import annotations

from typing import Final

from bot.reading.amounts_words import OF_THE_AIR
from bot.reading.items import Item, Ref
from bot.reading.names import ShelfNames, keys_of

_LEAST_LETTERS: Final = 3


def places_cut_short(items: list[Item], names: ShelfNames) -> list[Item]:
    """Words right before warmth or humidity with which the name of one place of the shelf begins."""
    out: list[Item] = []
    for item in items:
        out.append(item)
        if item.cat == "A" and item.val.dimension in OF_THE_AIR:
            _place_before(out, names)
    return out


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
    hits = names.phrases.get(keys_of(fits[0]), ()) if len(fits) == 1 else ()
    place = next((hit for hit in hits if hit.how == "place"), None)
    if place is not None:
        ref = Ref(place.tags, how="place", words=said, place=place.place, plural=True, group=True)
        out[start:-1] = [Item("S", words[0].i, words[-1].j, said, val=ref)]
