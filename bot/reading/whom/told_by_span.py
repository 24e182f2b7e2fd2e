"""Those of a group whose span is over or under a length: "all Ts over 15 cm", "slings under 2 cm". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from bot.reading.items.item import Item, Ref, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

_OVER: Final = rule_words("over_a_span")
_UNDER: Final = rule_words("under_a_span")
#: Of these words a message has one where a span tells whom.
SPAN_WORDS: Final = frozenset(words.split()[0] for words in _OVER | _UNDER)
_LONGEST: Final = max(len(words.split()) for words in _OVER | _UNDER)


def told_by_span(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with a group and the span that it is over or under as those of whom it is so.

    Where the span of one of them is not on record, who is meant is asked.
    """

    def some(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        group = items[at]
        if group.cat != "S" or not group.val.sure or len(group.val.tags) < 2:
            return None
        length = next(
            (n for n in range(at + 2, min(at + 2 + _LONGEST, len(items))) if _is_length(items[n])), 0
        )
        words = " ".join(item.text for item in items[at + 1 : length])
        if not length or words not in _OVER | _UNDER:
            return None
        ref = _those(group.val, names, items[length].val.value, over=words in _OVER)
        if ref is None:
            return None
        said = f"{group.text} {words} {items[length].text}"
        return length + 1, [Item("S", group.i, items[length].j, said, val=ref)]

    return replaced(items, some)


def _is_length(item: Item) -> bool:
    return item.cat == "A" and item.val.dimension == "length" and item.val.high is None


def _those(group: Ref, names: ShelfNames, length: Decimal, *, over: bool) -> Ref | None:
    spans = {tag: names.by_tag[tag].span_cm for tag in group.tags}
    tags = tuple(
        tag for tag, span in spans.items() if span is not None and (span > length if over else span < length)
    )
    unknown = tuple(tag for tag, span in spans.items() if span is None)
    if not tags:
        return None
    ref = Ref(names.in_order((*tags, *unknown)), how="group", words=group.words, plural=True, group=True)
    if unknown:
        ref.sure, ref.doubt = False, "some_of_several"
    return ref
