"""Words beside what is told that make it neither more nor other: how sure it is, what goes without saying."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, begins_behind, end_ahead, ends_sentence, is_mark
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

_WHOLLY: Final = 100


def only_how_sure(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "premolt 100%", "90% sure Ink molted": the share says how sure that is, and nothing of the air."""
    share = next((found for n in range(len(items)) if (found := _share(items, n))), None)
    if share is None:
        return list(items)
    at, end, whole = share
    sure = end < len(items) and items[end].text in SURE
    if sure and not whole:
        return [*items[:at], said_as(items[at], _UNSURE, items[end].j), *items[end + 1 :]]
    told = any(map(_happened, items)) and not any(map(_of_the_air, items))
    if not whole or not (sure or told) or (at and items[at - 1].text in _SHOWS):
        return list(items)
    start = at - 1 if at and items[at - 1].text in _JOINS else at
    return [*items[:start], *items[end + sure :]]


def _share(items: Sequence[Item], at: int) -> tuple[int, int, bool] | None:
    """A bare share at an item: where it begins and ends, and whether it is the whole."""
    item = items[at]
    if item.cat == "A" and item.val.dimension == "humidity" and not item.text[0].isalpha():
        return at, at + 1, bool(item.val.value == _WHOLLY)
    parted = item.cat == "N" and at + 1 < len(items) and items[at + 1].text == SHARE
    return (at, at + 2, bool(item.val.value == _WHOLLY)) if parted else None


SHARE: Final = "%"
SURE: Final = rule_words("sure")
_UNSURE: Final = "maybe"
_JOINS: Final = frozenset({",", "–", "-", "("})
#: Behind these stands what an instrument shows: "tub at 100 %".
_SHOWS: Final = rule_words("before_a_figure_shown") | frozenset(":=")


def _happened(item: Item) -> bool:
    return any(s.group.kind not in _WITH_DAMP and s.group.kind is not None for s in item.senses.verbs)


def _of_the_air(item: Item) -> bool:
    if item.cat == "A":
        return bool(item.val.dimension == "temperature")
    noun = item.senses.get("noun")
    home = noun is not None and noun.group.part in _HOMES
    return (
        home or not _AIR.isdisjoint(item.senses) or any(s.group.kind in _WITH_DAMP for s in item.senses.verbs)
    )


_AIR: Final = frozenset({"humid", "temp", "room"})
_HOMES: Final = frozenset({"box", "sub", "dish", "water", "lid"})
#: What is told with the damp it brought: "misted Ink, 100%".
_WITH_DAMP: Final = frozenset({Kind.WATERED, Kind.CLIMATE, Kind.REHOUSED})


def not_yet_after_a_molt(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "Ink molted, not eating yet": of one who has just molted it goes without saying, and is no refusal."""
    out = list(items)
    for at in range(len(items) - 1, 0, -1):
        if items[at].text not in YET:
            continue
        start = _begins_denied(out, at)
        if start is not None and _has_molted(out, start):
            del out[start : at + 1]
    return out


YET: Final = rule_words("yet")


def _begins_denied(items: Sequence[Item], yet: int) -> int | None:
    """Where the clause before a "yet" begins, if all it says is that nothing is eaten."""
    at, denied = yet, False
    while at > 0 and (_small(items[at - 1]) or _eats(items[at - 1])):
        at -= 1
        denied = denied or "neg" in items[at].senses or Kind.REFUSED in items[at].senses.kinds
    eats = any(map(_eats, items[at:yet]))
    return at if denied and eats else None


def _small(item: Item) -> bool:
    return item.text in _WORDS_TOO or (not item.senses.verbs and not _SMALL.isdisjoint(item.senses))


_SMALL: Final = frozenset({"fill", "neg", "did", "pron", "still", "to", "so", "and", "future", "but"})
_WORDS_TOO: Final = rule_words("food_not_yet")


def _eats(item: Item) -> bool:
    """Whether a word says that she eats, or does not."""
    return any(
        s.group.kind in _MEALS and not s.group.keeper and s.group.act is None for s in item.senses.verbs
    )


_MEALS: Final = frozenset({Kind.FED, Kind.REFUSED})


def _has_molted(items: Sequence[Item], start: int) -> bool:
    """Whether the clause before tells of a molt, with its day at most behind it."""
    before = [i for i in items[:start] if i.cat not in "MD" and "fill" not in i.senses]
    last = before[-1] if before else None
    return last is not None and Kind.MOLTED in last.senses.kinds


def called_all_alike(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "girls on a roll, all ate": some call all of theirs so, and who "all" are is asked."""
    out = list(items)
    for at, item in enumerate(items[:-3]):
        if item.cat != "S" or item.text.split()[-1] not in CALLED or not item.val.sure:
            continue
        ends = end_ahead(items, at + 1, is_mark)
        mood = "on" in items[at + 1].senses and any(i.cat == "U" for i in items[at + 2 : ends])
        whole = any(not _WHOLE.isdisjoint(i.senses) for i in items[ends + 1 : ends + 2])
        if mood and whole:
            ref = Ref(item.val.tags, sure=False, how=item.val.how, words=item.text, doubt="some_of_several")
            out[at] = Item("S", item.i, item.j, item.text, val=ref)
    return out


CALLED: Final = rule_words("the_girls")
_WHOLE: Final = frozenset({"all", "everyone"})


def would_of_neither(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "neither Ink nor Mole would take a roach": told of what was, where "would" alone is yet to come."""
    out = list(items)
    for at in range(len(items) - 2, 0, -1):
        bare = any(s.group.base and s.group.kind is Kind.FED for s in items[at + 1].senses.verbs)
        start = begins_behind(items, at, is_mark)
        if bare and items[at].text in _WOULD and any(i.text in NEITHER for i in items[start:at]):
            del out[at]
    return out


NEITHER: Final = rule_words("neither")
_WOULD: Final = rule_words("would")


def signs_listed(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "premolt signs: slow, dull": the words that only say which are let go; "…: none" denies them."""
    at = next((n for n, item in enumerate(items) if item.text in SIGNS), len(items))
    if at + 2 >= len(items) or items[at + 1].text not in _LEADS_IN:
        return list(items)
    end = next((n for n in range(at + 2, len(items)) if ends_sentence(items[n])), len(items))
    listed = items[at + 2 : end]
    if len(listed) == 1 and "neg" in listed[0].senses:
        return [*items[:at], listed[0], items[at], *items[end:]]
    only = all(
        item.text in _LISTS or (item.cat in "UW" and item.senses.kinds <= {Kind.PREMOLT}) for item in listed
    )
    if not only or any(not _OTHERWISE.isdisjoint(item.senses) for item in listed):
        return list(items)
    return [*items[: at + 1], *items[end:]]


SIGNS: Final = rule_words("signs_of_premolt")
_LEADS_IN: Final = frozenset({":", ",", "–", "-"})
_LISTS: Final = frozenset({",", "/", "&", "+"})
#: Senses of the words that tell, deny or doubt something of their own.
_OTHERWISE: Final = frozenset({"prey", "neg", "no", "hedge", "undone", "elided", "but", "cond", "pron"})


def thought_dead(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "thought Ink was dead, nope just molted": what was feared is let go, and she is told of behind it."""
    at = 1 if items and "self" in items[0].senses else 0
    said = items[at : at + 4]
    if len(said) < 4 or said[0].text not in THOUGHT or said[1].cat != "S":
        return list(items)
    dead = next((n for n in (at + 2, at + 3) if Kind.DIED in items[n].senses.kinds), None)
    if dead is None:
        return list(items)
    rest = dead + 1
    while rest < len(items) and (items[rest].text in _BUT_NO or items[rest].text in _LEADS_IN):
        rest += 1
    turned = any(item.text in _BUT_NO for item in items[dead + 1 : rest])
    if rest < len(items) and "pron" in items[rest].senses and turned:
        rest += 1
    told = rest < len(items) and bool(items[rest].senses.verbs) and Kind.DIED not in items[rest].senses.kinds
    return [said[1], *items[rest:]] if turned and told else list(items)


THOUGHT: Final = rule_words("had_thought")
_BUT_NO: Final = rule_words("but_it_was_not")
