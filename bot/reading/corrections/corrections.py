"""Corrections within a message: "fed Ink, no wait, Biscuit", "took 2, sorry, 3 crickets"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.corrections.correction_sorts import (
    PARTS,
    ends_there,
    has_a_meal,
    is_amount,
    is_day,
    is_number,
    is_prey,
    is_verb,
)
from bot.reading.corrections.figures_put_right import IN_UNITS, decimal
from bot.reading.corrections.put_in_place import put_in_its_place
from bot.reading.items.item import Item, begins_behind, end_ahead, ends_sentence, is_deed, is_mark
from bot.reading.items.of_one_sort import without_marks
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: Words that between marks take back what stands before: "a roach, well, a cricket".
WELL: Final = rule_words("thinks_better")


def corrected(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with what was taken back replaced by what was meant."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if out and (fixes(item) or "no" in item.senses):
            taken = _other_outcome(out, items, at)
            if taken is not None:
                at = taken
                continue
        if out and fixes(item):
            meant = _after_fix(items, at)
            anew = _deed_said_anew(out, items, meant)
            if anew is not None:
                out, at = out[:anew], meant
                continue
        if out and (fixes(item) or _no_set_apart(out, items, at) or _no_and_why(items, at)):
            end = _behind_the_reason(items, _past_same_verb(out, items, _after_fix(items, at)))
            replaced = put_in_its_place(out, items, end)
            if replaced is not None:
                at = replaced
                continue
        out.append(item)
        at += 1
    return out


def _deed_said_anew(out: Sequence[Item], items: Sequence[Item], at: int) -> int | None:
    """ "gave Ink a roach, sorry, gave Mole a moth": where the deed began that is taken back as a whole.

    Only where the keeper did it, and with a verb, an animal and a meal on either side.
    """
    start = begins_behind(out, len(out), ends_sentence)
    ahead = items[at : at + 2]
    whole = len(ahead) > 1 and is_deed(ahead[0]) and ahead[1].cat == "S" and has_a_meal(items, at + 2)
    if not whole or len(out) - start < 3 or out[start].text != ahead[0].text:
        return None
    told = out[start:]
    named = sum(item.cat in "SD" for item in told) == 1  # "gave Friday a roach": the one called so
    one = told[1].cat in "SD" and has_a_meal(told, 2) and named
    return start if one else None


def fixes(item: Item) -> bool:
    """Whether words take back what stands before them."""
    return "fix" in item.senses and "verb" not in item.senses


def _no_set_apart(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "on Monday, no, Tuesday", "4 - no, 2 mealworms": a "no" between two things of one sort."""
    marked = at + 1 < len(items) and items[at + 1].text in PARTS
    thinks_better = items[at].text in WELL and marked
    denies = "no" in items[at].senses and ("neg" not in items[at].senses or _between_marks(out, marked))
    if (denies and _two_numbers(out, items, at)) or _thinks_better_of_whom(out, items, at):
        return True
    if not (denies or thinks_better) or out[-1].text not in PARTS:
        return False
    new = _past_same_verb(out, items, _after_fix(items, at + 1))
    new += new < len(items) and "a" in items[new].senses
    before = next((i for i in reversed(out) if i.text not in PARTS | WELL), None)
    if new >= len(items) or before is None:
        return False
    if items[new].cat == "S":
        own = before.cat == "S" and (
            marked or _no_verb_yet(out) or _only_a_no(out, items[at]) or _is_given(out, items, new)
        )
        return own or (marked and _did_it_instead(out, items, new))
    if is_amount(before) and (is_number(items[new]) or decimal(items[new])):  # "15 cm, no 16"
        return before.val.dimension in IN_UNITS and ends_there(items, new)
    if is_prey(before) and is_number(items[new]):  # "3 crickets, no, 2", "1 locust, no 2"
        return (marked or ends_there(items, new)) and len(out) > 1 and any(is_number(i) for i in out[-6:])
    if is_prey(before):  # "2 crickets, no roach" had none
        return marked and is_prey(items[new])
    if _only_a_no(out, items[at]) and before.senses.verbs and ends_there(items, new):
        told = out[begins_behind(out, len(out), ends_sentence) :]  # "hat gestern gefressen, nein vorgestern"
        return any(sort(one) and sort(items[new]) for sort in (is_number, is_day, is_amount) for one in told)
    return any(sort(before) and sort(items[new]) for sort in (is_number, is_day, is_amount))


def _is_given(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "fed Ink, no Mole a roach", "fed Dot, no Dottie, 2 crickets": the second, with what it was given."""
    meal = at + 2 if at + 1 < len(items) and items[at + 1].text == "," else at + 1
    told = out[begins_behind(out, len(out), ends_sentence) :]
    one = sum(item.cat == "S" for item in told) == 1 and not any(map(is_prey, told))
    return out[-1].text == "," and one and has_a_meal(items, meal)


def _did_it_instead(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "Twig took a roach. No, Lantern did": another one did what was told, which was not denied."""
    did = items[at + 1] if at + 1 < len(items) else None
    told = [i for i in out if i.cat == "S"]
    denied = any(not {"neg", "undone", "elided"}.isdisjoint(i.senses) for i in out)
    only = did is not None and "did" in did.senses and ends_there(items, at + 1)
    return only and len(told) == 1 and not denied


def _only_a_no(out: Sequence[Item], item: Item) -> bool:
    """ "Gefüttert: Ink, nein Mole": a "no" behind a comma that in its language is no "not any"."""
    return out[-1].text == "," and not {"none_of", "neg"} & item.senses.keys()


def _thinks_better_of_whom(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "alimenté a Ink bueno a Mole": another animal right behind the word, and one right before it."""
    before = next((item for item in reversed(out) if item.text not in PARTS), None)
    ahead = items[at + 1 : at + 3]
    who = ahead[1:] if ahead and not {"to", "for"}.isdisjoint(ahead[0].senses) else ahead
    animals = before is not None and before.cat == "S" and bool(who) and who[0].cat == "S"
    return animals and items[at].text in WELL


def _no_verb_yet(out: Sequence[Item]) -> bool:
    """ "Ink, no Mole ate": names alone so far; "fed Ink, no Mole" may deny the second."""
    start = begins_behind(out, len(out), ends_sentence)
    return out[-1].text == "," and not any(item.senses.verbs or item.cat == "M" for item in out[start:-1])


def _two_numbers(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "had one no two crickets", "2 crickets no 3": a number on each side, the second ends it."""
    new = items[at + 1] if at + 1 < len(items) else None
    if new is None or new.cat != "N" or not new.val.value:
        return False
    if out[-1].cat == "N":
        return bool(out[-1].val.value)
    counted = len(out) > 1 and is_prey(out[-1]) and out[-2].cat == "N"
    behind = items[at + 2] if at + 2 < len(items) else None
    return counted and (behind is None or behind.cat == "M" or "and" in behind.senses)


def _between_marks(out: Sequence[Item], marked: bool) -> bool:
    """ "2, no, 3 grillos": where one word is "no" and "not", it stands by itself between two marks."""
    return marked and out[-1].text in PARTS


def _other_outcome(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    """ "Ink refused - no, she's got it": what came of the meal after all; the next item, if that is said."""
    new, place = at, len(out) - 1
    while new < len(items) and (items[new].text in PARTS or not _TO_OUTCOME.isdisjoint(items[new].senses)):
        new += 1
    while place >= 0 and (out[place].text in PARTS or not _BEHIND_OUTCOME.isdisjoint(out[place].senses)):
        place -= 1
    marked = place >= 0 and any(item.text in PARTS for item in (*out[place + 1 :], *items[at:new]))
    hers = any("pron" in item.senses for item in items[at:new])
    if not (marked and hers) or new == len(items) or "verb" in items[at].senses:
        return None
    was, now = (_outcomes(item) for item in (out[place], items[new]))
    behind = (*items[at:new], *_clause_from(items, new))
    named = any(item.cat in "SDP" or item.text in _AT_ANOTHER_TIME for item in behind)
    if not (was and now) or was == now or named:
        return None
    without_marks(out)
    out[place] = items[new]
    return new + 1


def _outcomes(item: Item) -> frozenset[Kind | None]:
    """What came of a meal by a verb of the animal's, as "refused" and "took it"; nothing for other words."""
    kinds = frozenset(
        verb.group.kind for verb in item.senses.verbs if not (verb.group.keeper or verb.group.base)
    )
    return kinds if len(kinds) == 1 and kinds <= _CAME_OF_IT else frozenset()


def _clause_from(items: Sequence[Item], at: int) -> Sequence[Item]:
    return items[at : end_ahead(items, at, is_mark)]


#: "Ink refused, no wonder, she ate already": told of another meal.
_AT_ANOTHER_TIME: Final = rule_words("at_another_time")
_CAME_OF_IT: Final = frozenset({Kind.FED, Kind.REFUSED})
#: Senses of the words that lead to what came of it after all, and of those behind what was first said of it.
_TO_OUTCOME: Final = frozenset({"no", "fix", "pron", "fill"})
_BEHIND_OUTCOME: Final = frozenset({"prey", "a", "the", "pron", "size"})


def _no_and_why(items: Sequence[Item], at: int) -> bool:
    """ "2 crickets, no I miscounted, 3": a "no" with its reason, and then the right number alone."""
    if "no" not in items[at].senses or "neg" in items[at].senses:
        return False
    end = _behind_the_reason(items, at + 1)
    return any("self" in i.senses for i in items[at + 1 : end])


def _behind_the_reason(items: Sequence[Item], at: int) -> int:
    """Past why something is taken back, to the value that ends the sentence: "…, I held it wrong, 16"."""
    end = at
    while end < len(items) and items[end].cat in "UW" and _SAYS_MORE.isdisjoint(items[end].senses):
        end += 1
    if end in {at, len(items)} or items[end].text not in PARTS or end + 1 >= len(items):
        return at
    value = is_number(items[end + 1]) or is_amount(items[end + 1])
    return end + 1 if value and ends_there(items, end + 1) else at


#: Senses of the words that tell of something of their own, and give no reason.
_SAYS_MORE: Final = frozenset(
    {"prey", "neg", "and", "but", "or", "group", "everyone", "all", "span", "weight"}
)


def _after_fix(items: Sequence[Item], at: int) -> int:
    """The first item of what was meant."""
    takes_back = at < len(items) and ("no" in items[at].senses or items[at].text in WELL)
    if takes_back and "fix" not in items[at].senses:
        at += 1
    at = _after_headed(items, at)
    while at < len(items) and (items[at].text in _LEAD_ON or "fix" in items[at].senses):
        at += 1
    if _leads_to_an_animal(items, at):
        return at + 1  # "sorry, to Mole", "digo, a Mole"
    if (
        at + 1 < len(items)
        and "did" in items[at + 1].senses
        and (_points(items[at]) or "rel" in items[at].senses)
    ):
        return at + 2  # "it was", "that was", "que fue"
    if at + 1 < len(items) and items[at].text in _THAT_IS and items[at + 1].cat == "S":
        return at + 1  # "wait no thats Ink"
    ahead = items[at : at + 2]
    if len(ahead) > 1 and "did" in ahead[0].senses and ahead[1].cat == "S":
        return at + 1  # "ah no, fue Mole"
    return at


_THAT_IS: Final = rule_words("whom_it_was")


def _leads_to_an_animal(items: Sequence[Item], at: int) -> bool:
    ahead = items[at : at + 2]
    return len(ahead) > 1 and ahead[1].cat == "S" and not {"to", "for"}.isdisjoint(ahead[0].senses)


def _past_same_verb(out: Sequence[Item], items: Sequence[Item], at: int) -> int:
    """ "Twig had one roach, no, he had two": what he did is said once more, before how many it were."""
    ahead = items[at : at + 3]
    again = len(ahead) > 2 and _points(ahead[0]) and is_verb(ahead[1]) and is_number(ahead[2])
    return at + 2 if again and any(i.text == ahead[1].text for i in out) else at


_LEAD_ON: Final = frozenset({",", "–", "-", ".", "(", "*", ":"})


def _after_headed(items: Sequence[Item], at: int) -> int:
    """ "(Correction before sending: two crickets.)": the colon, with when or of what it is before it."""
    if at >= len(items) or items[at].text not in _HEADS:
        return at
    ahead = items[at + 1 : at + 1 + _LONGEST_HEAD]
    colon = next((n for n, item in enumerate(ahead) if item.text == ":"), None)
    if colon is None or any(item.cat not in "WU" or _tells(item) for item in ahead[:colon]):
        return at
    return at + 1 + colon


def _tells(item: Item) -> bool:
    return is_prey(item) or "fix" in item.senses or (is_verb(item) and item.text not in _BEFORE_SENDING)


#: Words for a correction that may stand as its heading, and how much may stand between them and the colon.
_HEADS: Final = rule_words("heads_a_correction")
_LONGEST_HEAD: Final = 5
_BEFORE_SENDING: Final = rule_words("sent")


def _points(item: Item) -> bool:
    return "pron" in item.senses or "the" in item.senses or "fill" in item.senses
