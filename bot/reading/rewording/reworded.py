"""Items as other ways of saying the same have them: "left her roach lying" is left untouched.

What a careful writer puts beside or before what it belongs to stands here where the rest of the reader
looks for it: "of five crickets Ink ate three", "mealworm x2, pre-killed", "exception: Mole".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from bot.reading.items.item import Item, ends_sentence
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.lexicon import lexicon
from bot.reading.words.marks import TITLE_MARKS
from bot.reading.words.rule_words import rule_meanings, rule_words
from bot.terms import Kind


def said_as(item: Item, words: str, end: int | None = None) -> Item:
    """An item with what other words mean, which are of the account's lexicon."""
    account = lexicon("en").account
    return Item(
        "W", item.i, item.j if end is None else end, words, senses=account.meaning(account.senses(words))
    )


def sizes_by_letter(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "C1 dubia (L)", "2x cricket S, accepted": a letter alone behind prey."""
    out = list(items)
    for at in range(1, len(items)):
        bracketed = 1 < at < len(items) - 1 and (items[at - 1].text, items[at + 1].text) == ("(", ")")
        behind = items[at - 2] if bracketed else items[at - 1]
        size = _SIZES.get(items[at].text)
        alone = items[at].cat == "U" and (at + 1 == len(items) or items[at + 1].cat in "MN")
        if size and "prey" in behind.senses and (bracketed or alone):
            out[at] = said_as(items[at], size)
    return out


_SIZES: Final = rule_meanings("sizes_by_letter")
LETTERS: Final = frozenset(_SIZES)


def given_like_that(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "mealworm x2, pre-killed, accepted", "1 locust, adult": the comma parts nothing."""
    out: list[Item] = []
    for at, item in enumerate(items):
        ends = at + 1 == len(items) or (items[at + 1].cat == "M" and items[at + 1].text not in TITLE_MARKS)
        if ends and _is_of_prey(item) and _behind_prey(out):
            out.pop()
        out.append(item)
    return out


def _is_of_prey(item: Item) -> bool:
    """Whether a word says how prey was given, or how grown it is; "adults" are those who get it."""
    if "prekilled" in item.senses:
        return "verb" not in item.senses
    group = item.senses.get("group")
    return "size" in item.senses and group is not None and not group.group.plural


def _behind_prey(before: Sequence[Item]) -> bool:
    """Whether a comma stands there behind prey, how many it were or of which size."""
    if len(before) < len(("prey", ",")) or before[-1].text != ",":
        return False
    said = [i for i in before[-4:-1] if i.cat != "N" and "size" not in i.senses]
    return bool(said) and "prey" in said[-1].senses


def or_more(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "10 + ffs": so many or more, as in "10+ ffs"."""
    out = list(items)
    for at in range(len(items) - 3, -1, -1):
        number, sign, what = items[at : at + 3]
        if number.cat == "N" and sign.text == PLUS and "prey" in what.senses and "both" not in number.senses:
            more = Item("N", number.i, sign.j, f"{number.text} {PLUS}", val=replace(number.val, approx=True))
            out[at : at + 2] = [more]
    return out


PLUS: Final = "+"


ABOUT: Final = rule_words("about") | {"~"}


def prey_measured(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "ate a roach about 4 cm long": the length is the feeder's, and no measure of hers."""
    for at in range(2, len(items)):
        length, about = items[at - 1], items[at - 2].text in ABOUT
        is_length = items[at].text in LONG and length.cat == "A" and length.val.dimension == "length"
        start = at - 2 if about else at - 1
        if is_length and start and "prey" in items[start - 1].senses:
            return [*items[:start], *items[at + 1 :]]
    return list(items)


LONG: Final = rule_words("long")


def meals_exclaimed(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "first meal for Ink!! one cricket": the meal stands behind a mark that only cheers."""
    for at in range(3, len(items)):
        what, to, whom = items[at - 3 : at]
        cheers = items[at].text == CHEER and whom.cat == "S" and "to" in to.senses
        if not cheers or _MEALS.isdisjoint(what.text.split()):
            continue
        behind = next((n for n in range(at, len(items)) if items[n].text != CHEER), len(items))
        counted = behind < len(items) and (items[behind].cat == "N" or "a" in items[behind].senses)
        if counted and any("prey" in i.senses for i in items[behind + 1 : behind + 3]):
            return [*items[:at], Item("M", items[at].i, items[behind - 1].j, ":"), *items[behind:]]
    return list(items)


CHEER: Final = "!"
_MEALS: Final = rule_words("meals_cheered")


def left_lying(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "Ink left her roach lying", "let the roach lie": left untouched, let be."""
    out = list(items)
    for at, item in enumerate(items):
        as_said = _LIES.get(item.text)
        if as_said is None or not at or "prey" not in items[at - 1].senses:
            continue
        verb, _, words = as_said.partition(" ")
        left = next((n for n in range(at - 2, max(0, at - 5), -1) if items[n].text.split()[-1] == verb), None)
        if left is not None and _by_herself(items[left - 1]):
            out[at] = said_as(item, words)
    return out


def _by_herself(item: Item) -> bool:
    """Whether an animal, or a word that stands for one, is before what is done: no "I left one lying"."""
    pron = item.senses.get("pron")
    return item.cat == "S" or (pron is not None and not pron.group.plural) or "did" in item.senses


#: What lies there is left, or let, as is said in other words.
_LIES: Final = rule_meanings("lies_there")
LIES: Final = frozenset(_LIES)


def watered_by_misting(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "watered Lantern and Twig by misting": how all of them were, which the verb says first."""
    out = list(items)
    for at in range(len(out) - 1, 2, -1):
        by = at + 1 < len(out) and out[at].text in BY and out[at + 1].text in _MISTING
        if not by or (at + 2 < len(out) and out[at + 2].cat != "M"):
            continue
        start = at - 1
        while start > 1 and out[start].cat == "S" and (out[start - 1].text == "," or _is_and(out[start - 1])):
            start -= 2
        if start and out[start].cat == "S" and out[start - 1].text in _WATERED:
            out[start - 1] = said_as(out[start - 1], "misted")
            del out[at : at + 2]
    return out


_WATERED: Final = rule_words("watered")
BY: Final = rule_words("by")


def _is_and(item: Item) -> bool:
    return "and" in item.senses


_MISTING: Final = rule_words("misting")


def sexed_by_skin(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "sexed from her shed skin as a girl": what shows her sex, and no molt that is told of."""
    at = next((n for n, item in enumerate(items) if Kind.SEXED in item.senses.kinds), len(items))
    by = next((n for n in range(at + 1, len(items)) if "from" in items[n].senses), len(items))
    skin = next(
        (n for n in range(by + 1, min(by + 4, len(items))) if Kind.MOLTED in items[n].senses.kinds), None
    )
    return [*items[:by], *items[skin + 1 :]] if skin is not None else list(items)


def skins_looked_at(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "had Ink's molt under the microscope": looked at, and nothing that she had."""
    skins = {at for at, item in enumerate(items) if at > 1 and _is_seen_skin(item)}
    had = {at - 2 for at in skins if items[at - 1].cat == "S" and items[at - 2].text in _HAD}
    return [item for at, item in enumerate(items) if at not in had]


def _is_seen_skin(item: Item) -> bool:
    fill = item.senses.get("fill")
    return fill is not None and fill.group.act == "skin"


_HAD: Final = rule_words("had")


def results_to_come(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "locust placed at the burrow, result tomorrow": what came of it is not known yet."""
    out: list[Item] = []
    for item in items:
        if out and item.cat == "D" and item.text in _TO_COME and out[-1].text in RESULTS:
            out[-1] = said_as(out[-1], _NOT_KNOWN, item.j)
            continue
        out.append(item)
    return out


RESULTS: Final = rule_words("results")
_TO_COME: Final = rule_words("tomorrow")
_NOT_KNOWN: Final = "outcome unknown"


def exceptions_joined(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "shelf A fed, exception: Mole": no mark stands around the word, and it goes with what is before."""
    return [
        item
        for at, item in enumerate(items)
        if not (item.text == ":" and at and _is_exception(items[at - 1]))
        and not (item.text == "," and at + 1 < len(items) and _only_excepts(items, at + 1))
    ]


def _is_exception(item: Item) -> bool:
    return "except" in item.senses and item.text.split()[-1] in EXCEPTIONS


def _only_excepts(items: Sequence[Item], at: int) -> bool:
    """Whether an exception is no more than whom it takes out: no "except that Mole is sealed"."""
    if not (_is_exception(items[at]) or items[at].text in _EXCEPT):
        return False
    behind = (i for i in items[at + 1 :] if i.cat != "S" and not {"and", "the"} & i.senses.keys())
    return next((item.cat == "M" for item in behind), True)


EXCEPTIONS: Final = rule_words("exceptions")
_EXCEPT: Final = rule_words("except_for")


def a_lot_in_its_home(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "the lot in E1": all of those that one tag stands for, where "the lot on A" are all of a place."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        ahead = items[at : at + 3]
        at_home = len(ahead) > len(("lot", "in")) and "everyone" in ahead[0].senses and ahead[1].text in _IN
        if at_home and _one_sure(ahead[2]) and not ahead[2].owns:
            at += 2
            continue
        out.append(items[at])
        at += 1
    return out


_IN: Final = rule_words("in_or_of")


def _one_sure(item: Item) -> bool:
    return item.cat == "S" and item.val.sure and len(item.val.tags) == 1


def of_so_many(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "of five crickets Ink ate three" as "Ink ate three crickets", "of the GBBs two" as "two of …"."""
    out = list(items)
    for at in range(len(items) - 1, -1, -1):
        pool = _end_of_pool(items, at)
        if pool is not None:
            del out[at : pool + 1]  # "took two of the three crickets"
            continue
        begins = at == 0 or ends_sentence(items[at - 1])
        if begins and items[at].text in OF:
            out[at:] = _eaten_of_them(out[at:]) or _some_of_them(out[at:]) or out[at:]
    return out


def _end_of_pool(items: Sequence[Item], at: int) -> int | None:
    """Where "of the three" ends, between a number that was eaten and the prey."""
    if items[at].text not in OF or not at or items[at - 1].cat != "N":
        return None
    end = at + 1
    while end < len(items) and not {"the", "pron"}.isdisjoint(items[end].senses):
        end += 1
    sized = (i for i in items[end + 1 :] if "size" not in i.senses or "prey" in i.senses)
    prey = next(sized, None)
    if prey is None or items[end].cat != "N" or "prey" not in prey.senses:
        return None
    some, pool = items[at - 1].val.value, items[end].val.value
    return end if some is not None and pool is not None and some <= pool else None


OF: Final = rule_words("of")


def _eaten_of_them(items: Sequence[Item]) -> list[Item] | None:
    """What was eaten of the prey that opens a sentence, the prey put behind the first number of it."""
    first = 1 + (len(items) > 1 and "the" in items[1].senses)
    prey = first + 1
    while prey < len(items) and "size" in items[prey].senses and "prey" not in items[prey].senses:
        prey += 1
    if prey >= len(items) or items[first].cat != "N" or "prey" not in items[prey].senses:
        return None
    rest = list(items[prey + 1 :])
    if rest and rest[0].text == ",":
        del rest[0]
    number = next((n for n, i in enumerate(rest) if i.cat == "N"), None)
    if not rest or rest[0].cat != "S" or not number or not rest[number - 1].senses.verbs:
        return None
    behind = rest[number + 1] if number + 1 < len(rest) else None
    pool, eaten = items[first].val.value, rest[number].val.value
    if pool is None or eaten is None or eaten > pool or (behind is not None and "prey" in behind.senses):
        return None
    return [*rest[: number + 1], *items[first + 1 : prey + 1], *rest[number + 1 :]]


def _some_of_them(items: Sequence[Item]) -> list[Item] | None:
    """So many of a group that opens a sentence, the number put before it."""
    whom = 1 + (len(items) > 1 and "the" in items[1].senses)
    acts = len(items) > whom + 2 and bool(items[whom + 2].senses.verbs)
    if not acts or items[whom].cat != "S" or not items[whom].val.plural or items[whom + 1].cat != "N":
        return None
    return [items[whom + 1], *items[: whom + 1], *items[whom + 2 :]]


def only_these(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "of the females only Ink ate": those named alone are told of, whatever became of the others."""
    out: list[Item] = []
    for at, item in enumerate(items):
        ahead = items[at + 1 : at + 3]
        alone = len(ahead) > len(("only",)) and ahead[0].text in _ONLY and ahead[1].cat == "S"
        opens = len(out) == 1 and out[0].text in OF  # behind more, who "all" are was said before
        if alone and opens and item.cat == "S" and item.val.group:
            out.pop()
            continue
        out.append(item)
    return out


_ONLY: Final = rule_words("only")
