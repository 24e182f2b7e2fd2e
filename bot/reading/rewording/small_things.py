"""Small things put otherwise: a list's numbers, "8" that sounds like "ate", what is only thought of. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, replaced
from bot.reading.names.shelf_names import EXACT, ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.numbers import NumberSpan
from bot.reading.words.rule_words import rule_words


def without_list_numbers(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items without "1)" and "2." that only number the points of a list; each point is a line."""
    out: list[Item] = []
    at, point = 0, 0
    while at < len(items):
        opens = not out or out[-1].text == "\n"
        marks = at + 1 < len(items) and items[at + 1].cat == "M" and items[at + 1].text in {")", "."}
        if marks and items[at].cat in {"N", "U"} and items[at].text.isdecimal():
            number = int(items[at].text)
            follows = point > 0 and number == point + 1  # "1) Ink ate 2) Sunny refused"
            if opens or follows:
                point = number if number == 1 or follows else point
                if not opens:
                    out.append(Item("M", items[at].i, items[at].j, "\n"))
                at += 2
                continue
        out.append(items[at])
        at += 1
    return out


def eight_for_ate(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "Ink 8 a dubia": a number before an article counts nothing, and sounds like what she did."""
    out = list(items)
    for at, item in enumerate(items[1:-1], start=1):
        counts_nothing = item.cat == "N" and item.text in EIGHT and "a" in items[at + 1].senses
        if counts_nothing and items[at - 1].cat == "S":
            out[at] = said_as(item, "ate")
    return out


def counts_or_dates(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "2 mealies Ink, 1 May, 3 Biscuit": in a list of counts and names, a date may be one more of them."""
    out = list(items)
    for at, item in enumerate(items):
        words = item.text.split()
        if item.cat != "D" or len(words) != len(("1", "may")) or not words[0].isdigit():
            continue
        hits = [h for h in names.phrases.get((words[1],), ()) if h.how in EXACT and not h.plural]
        if hits and _parted(items, at) and any(_counted_name(items, n) for n in range(len(items) - 1)):
            ref = Ref(hits[0].tags, sure=False, words=words[1], doubt="name_or_word")
            out[at] = Item("S", item.i, item.j, item.text, val=ref)
    return out


def _parted(items: Sequence[Item], at: int) -> bool:
    """Whether an item stands alone between marks."""
    behind = items[at + 1] if at + 1 < len(items) else None
    return at > 0 and items[at - 1].cat == "M" and (behind is None or behind.cat == "M")


def _counted_name(items: Sequence[Item], at: int) -> bool:
    """ "3 Biscuit", "2 mealies Ink", with nothing around it."""
    if items[at].cat != "N" or (at and items[at - 1].cat != "M"):
        return False
    who = at + 1
    while who < len(items) and not {"prey", "size"}.isdisjoint(items[who].senses):
        who += 1
    ends = who + 1 >= len(items) or items[who + 1].cat == "M"
    return who < len(items) and items[who].cat == "S" and ends


def eaten_by_her(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "superworm eaten by Captain": what happened to prey is no harm to the animal."""
    out = list(items)
    for at, item in enumerate(items[1:-1], start=1):
        by_her = item.text in BY_HER and "prey" in items[at - 1].senses
        if by_her and items[at + 1].cat == "S":
            out[at] = said_as(item, "ate")
    return out


def nearly_so_long(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "open after almost two months": how long it was, and nothing that has yet to be done."""
    return [
        item
        for at, item in enumerate(items)
        if not (
            "undone" in item.senses
            and at + 2 < len(items)
            and items[at + 1].cat == "N"
            and "dur" in items[at + 2].senses
        )
    ]


def thought_of_first(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "I hope, Ink ate", "angeblich: Ink …": what is hoped, thought or said stands behind its comma."""
    out: list[Item] = []
    opens = 0
    for at, item in enumerate(items):
        behind = items[at + 1] if item.cat == "M" and item.text in ",:" and at + 1 < len(items) else None
        thought = behind is not None and "self" in behind.senses and "believed" in _senses_of(out[opens:])
        leads = behind is not None and (behind.cat == "S" or thought)
        if leads and _only_thinks(out[opens:]):
            continue
        if item.cat == "M":
            opens = len(out) + 1
        out.append(item)
    return out


def _senses_of(said: Sequence[Item]) -> set[str]:
    return {sense for item in said for sense in item.senses}


def _only_thinks(said: Sequence[Item]) -> bool:
    """Whether words tell nothing, but that what follows is not sure: "I hope", "no idea"."""
    last = said[-1].senses if said else {}
    hopes = "future" in last and any("self" in i.senses for i in said)
    unsure = hopes or not THINKS.isdisjoint(last)  # "could be worse, Ink ate" is sure
    return unsure and all(i.cat in "WU" and "prey" not in i.senses and not i.senses.verbs for i in said)


#: Senses of the words that show that what follows is hoped, thought, or somebody else's word.
THINKS: Final = frozenset({"hedge", "report", "cond", "believed"})


def done_to_a_thing(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "did Ink's dish yesterday", "did everyone's water": filled it, as nothing else is done to a dish."""
    out = list(items)
    for at in range(len(items) - 2):
        whose, dish = items[at + 1], items[at + 2].senses.part in _WATERED
        hers = (whose.cat == "S" or "everyone" in whose.senses) and dish
        opens = at == 0 or items[at - 1].cat == "M" or not _BEFORE_DOING.isdisjoint(items[at - 1].senses)
        behind = items[at + 3] if at + 3 < len(items) else None
        ends = behind is None or behind.cat in "MD" or not _BEHIND_A_THING.isdisjoint(behind.senses)
        if items[at].text in _DID and opens and hers and ends and items[-1].text != "?":
            out[at] = said_as(items[at], "filled")
    return out


_DID: Final = rule_words("did")
_WATERED: Final = frozenset({"dish", "water"})


#: Senses of the words that may stand before what was done, and behind the thing that it was done to.
_BEFORE_DOING: Final = frozenset({"and", "self", "then"})
_BEHIND_A_THING: Final = frozenset({"and", "but", "so", "same"})


BY_HER: Final = rule_words("by_her")
EIGHT: Final = rule_words("eight")


def number_behind_a_verb(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "left all 3 crickets", "polished off both her supers": the number is of the prey, not of the deed."""

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        words = items[at].text.split()
        counted = (
            len(words) > 1 and bool(items[at].senses.verbs) and (words[-1].isdigit() or words[-1] in _BOTH)
        )
        behind = [item for item in items[at + 1 : at + 3] if "pron" not in item.senses]
        if not counted or not behind or "prey" not in behind[0].senses:
            return None
        end, number = items[at].j, int(words[-1]) if words[-1].isdigit() else 2
        did = Item("W", items[at].i, end - 1, " ".join(words[:-1]), senses=items[at].senses)
        so_many = Item("N", end - 1, end, words[-1], val=NumberSpan(0, 1, number))
        return at + 1, [did, so_many]

    return replaced(items, stretch)


_BOTH: Final = rule_words("both_alone")
