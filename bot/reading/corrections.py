"""Corrections within a message: "fed Ink, no wait, Biscuit", "took 2, sorry, 3 crickets"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from bot.reading.figures_put_right import IN_UNITS, decimal, in_that_unit
from bot.reading.items import Item, Ref, begins_behind, ends_sentence
from bot.reading.marks import HARD
from bot.reading.names import ShelfNames
from bot.reading.rule_words import rule_words
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
        if out and (fixes(item) or _no_set_apart(out, items, at) or _no_and_why(items, at)):
            end = _behind_the_reason(items, _past_same_verb(out, items, _after_fix(items, at)))
            replaced = _replaced(out, items, end)
            if replaced is not None:
                at = replaced
                continue
        out.append(item)
        at += 1
    return out


def fixes(item: Item) -> bool:
    """Whether words take back what stands before them."""
    return "fix" in item.senses and "verb" not in item.senses


def _no_set_apart(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "on Monday, no, Tuesday", "4 - no, 2 mealworms": a "no" between two things of one sort."""
    marked = at + 1 < len(items) and items[at + 1].text in _PARTS
    thinks_better = items[at].text in WELL and marked
    denies = "no" in items[at].senses and ("neg" not in items[at].senses or _between_marks(out, marked))
    if (denies and _two_numbers(out, items, at)) or _thinks_better_of_whom(out, items, at):
        return True
    if not (denies or thinks_better) or out[-1].text not in _PARTS:
        return False
    new = _past_same_verb(out, items, _after_fix(items, at + 1))
    new += new < len(items) and "a" in items[new].senses
    before = next((i for i in reversed(out) if i.text not in _PARTS | WELL), None)
    if new >= len(items) or before is None:
        return False
    if items[new].cat == "S":
        own = before.cat == "S" and (
            marked or _no_verb_yet(out) or _only_a_no(out, items[at]) or _is_given(out, items, new)
        )
        return own or (marked and _did_it_instead(out, items, new))
    if _amount(before) and (_number(items[new]) or decimal(items[new])):  # "15 cm, no 16"
        return before.val.dimension in IN_UNITS and _ends_there(items, new)
    if _prey(before) and _number(items[new]):  # "3 crickets, no, 2"
        return marked and len(out) > 1 and any(_number(i) for i in out[-6:])
    if _prey(before):  # "2 crickets, no roach" had none
        return marked and _prey(items[new])
    if _only_a_no(out, items[at]) and before.senses.verbs and _ends_there(items, new):
        told = out[begins_behind(out, len(out), ends_sentence) :]  # "hat gestern gefressen, nein vorgestern"
        return any(sort(one) and sort(items[new]) for sort in (_number, _day, _amount) for one in told)
    return any(sort(before) and sort(items[new]) for sort in (_number, _day, _amount))


def _is_given(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "fed Ink, no Mole a roach", "fed Dot, no Dottie, 2 crickets": the second, with what it was given."""
    meal = at + 2 if at + 1 < len(items) and items[at + 1].text == "," else at + 1
    told = out[begins_behind(out, len(out), ends_sentence) :]
    one = sum(item.cat == "S" for item in told) == 1 and not any(map(_prey, told))
    return out[-1].text == "," and one and _has_her_own(items, meal)


def _did_it_instead(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "Twig took a roach. No, Lantern did": another one did what was told, which was not denied."""
    did = items[at + 1] if at + 1 < len(items) else None
    told = [i for i in out if i.cat == "S"]
    denied = any(not {"neg", "undone", "elided"}.isdisjoint(i.senses) for i in out)
    only = did is not None and "did" in did.senses and _ends_there(items, at + 1)
    return only and len(told) == 1 and not denied


def _only_a_no(out: Sequence[Item], item: Item) -> bool:
    """ "Gefüttert: Ink, nein Mole": a "no" behind a comma that in its language is no "not any"."""
    return out[-1].text == "," and not {"none_of", "neg"} & item.senses.keys()


def _thinks_better_of_whom(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "alimenté a Ink bueno a Mole": another animal right behind the word, and one right before it."""
    before = next((item for item in reversed(out) if item.text not in _PARTS), None)
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
    counted = len(out) > 1 and _prey(out[-1]) and out[-2].cat == "N"
    behind = items[at + 2] if at + 2 < len(items) else None
    return counted and (behind is None or behind.cat == "M" or "and" in behind.senses)


def _between_marks(out: Sequence[Item], marked: bool) -> bool:
    """ "2, no, 3 grillos": where one word is "no" and "not", it stands by itself between two marks."""
    return marked and out[-1].text in _PARTS


def _other_outcome(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    """ "Ink refused - no, she's got it": what came of the meal after all; the next item, if that is said."""
    new, place = at, len(out) - 1
    while new < len(items) and (items[new].text in _PARTS or not _TO_OUTCOME.isdisjoint(items[new].senses)):
        new += 1
    while place >= 0 and (out[place].text in _PARTS or not _BEHIND_OUTCOME.isdisjoint(out[place].senses)):
        place -= 1
    marked = place >= 0 and any(item.text in _PARTS for item in (*out[place + 1 :], *items[at:new]))
    hers = any("pron" in item.senses for item in items[at:new])
    if not (marked and hers) or new == len(items) or "verb" in items[at].senses:
        return None
    was, now = (_outcomes(item) for item in (out[place], items[new]))
    behind = (*items[at:new], *_clause_from(items, new))
    named = any(item.cat in "SDP" or item.text in _AT_ANOTHER_TIME for item in behind)
    if not (was and now) or was == now or named:
        return None
    _trim(out)
    out[place] = items[new]
    return new + 1


def _outcomes(item: Item) -> frozenset[Kind | None]:
    """What came of a meal by a verb of the animal's, as "refused" and "took it"; nothing for other words."""
    kinds = frozenset(
        verb.group.kind for verb in item.senses.verbs if not (verb.group.keeper or verb.group.base)
    )
    return kinds if len(kinds) == 1 and kinds <= _CAME_OF_IT else frozenset()


def _clause_from(items: Sequence[Item], at: int) -> Sequence[Item]:
    end = next((n for n in range(at, len(items)) if items[n].cat == "M"), len(items))
    return items[at:end]


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
    if end in {at, len(items)} or items[end].text not in _PARTS or end + 1 >= len(items):
        return at
    value = _number(items[end + 1]) or _amount(items[end + 1])
    return end + 1 if value and _ends_there(items, end + 1) else at


def _ends_there(items: Sequence[Item], at: int) -> bool:
    closes = items[at + 1] if at + 1 < len(items) else None
    return closes is None or (closes.cat == "M" and closes.text not in ":-")


#: Senses of the words that tell of something of their own, and give no reason.
_SAYS_MORE: Final = frozenset(
    {"prey", "neg", "and", "but", "or", "group", "everyone", "all", "span", "weight"}
)
_PARTS: Final = frozenset({",", "–", "-", ".", "(", "…"})


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
    ahead = items[at : at + 2]
    if len(ahead) > 1 and "did" in ahead[0].senses and ahead[1].cat == "S":
        return at + 1  # "ah no, fue Mole"
    return at


def _leads_to_an_animal(items: Sequence[Item], at: int) -> bool:
    ahead = items[at : at + 2]
    return len(ahead) > 1 and ahead[1].cat == "S" and not {"to", "for"}.isdisjoint(ahead[0].senses)


def _past_same_verb(out: Sequence[Item], items: Sequence[Item], at: int) -> int:
    """ "Twig had one roach, no, he had two": what he did is said once more, before how many it were."""
    ahead = items[at : at + 3]
    again = len(ahead) > 2 and _points(ahead[0]) and _verb(ahead[1]) and _number(ahead[2])
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
    return _prey(item) or "fix" in item.senses or (_verb(item) and item.text not in _BEFORE_SENDING)


#: Words for a correction that may stand as its heading, and how much may stand between them and the colon.
_HEADS: Final = rule_words("heads_a_correction")
_LONGEST_HEAD: Final = 5
_BEFORE_SENDING: Final = rule_words("sent")


def _points(item: Item) -> bool:
    return "pron" in item.senses or "the" in item.senses or "fill" in item.senses


def _replaced(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    """Puts what was meant in the place of the last thing of its sort; the next item, if it can be done."""
    if at >= len(items):
        return None
    new = items[at]
    if new.cat == "S":
        return _replaced_prey_of(out, items, at) or _replaced_animals(out, items, at)
    if _number(new) or decimal(new):
        new = in_that_unit(new, out)
    for sort in (_number, _day, _amount, _prey, _verb):
        if sort(new):
            same = _amount_or_figure if sort is _amount else sort
            place = next(
                (n for n in range(len(out) - 1, -1, -1) if same(out[n]) or out[n].text == "\n"), None
            )
            if place is not None and same(out[place]):
                if sort is _verb and any(i.cat == "S" for i in items[at:]):
                    return None
                if out[place].cat == new.cat == "A" and out[place].val.dimension != new.val.dimension:
                    return None  # "15 cm, wait, 20 g too"
                _trim(out)
                out[place] = new
                if sort is _number:
                    _drop_prey_between(out, place, items, at)
                return at + 1
            return None
    if "a" in new.senses and at + 1 < len(items) and _prey(items[at + 1]):
        return _replaced(out, items, at + 1)
    return None


def _replaced_prey_of(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    """ "Ink 1 locust, Mole 1 locust, sorry, Mole's was a cricket": what one of those named before had."""
    whose, behind = items[at], [i for i in items[at + 1 : at + 4] if not _AROUND_PREY & i.senses.keys()]
    if not whose.owns or not behind or not _prey(behind[0]) or "did" not in items[at + 1].senses:
        return None
    named = next((n for n, i in enumerate(out) if i.cat == "S" and i.val.tags == whose.val.tags), None)
    had = next((n for n in range(named + 1, len(out)) if _prey(out[n])), None) if named is not None else None
    if had is None or any(i.cat == "S" for i in out[(named or 0) + 1 : had]):
        return None
    out[had] = behind[0]
    _trim(out)
    return items.index(behind[0], at) + 1


_AROUND_PREY: Final = frozenset({"did", "a", "the"})


def _replaced_animals(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    new, end = _list_from(items, at)
    acts = end < len(items) and ("verb" in items[end].senses or "neg" in items[end].senses)
    told = next((i for i in reversed(out) if i.text not in _PARTS), None)
    own = _has_her_own(items, end + 1 if acts else end)
    if _goes_on_too(items, end) or (own and any(map(_prey, out))):
        return None  # "fed Ink, wait, Mole too", "fed Ink a roach. Correction: Mole two roaches"
    if acts and told is not None and any(_verb(i) for i in out):
        if not _verb(told) or not _same_verb(told, items[end]):
            return None
        end += 1  # "Mole ate, sorry no, Anvil ate"
    last = next((n for n in range(len(out) - 1, -1, -1) if out[n].cat == "S"), None)
    if last is None:
        return None
    first = last
    while first >= 2 and out[first - 2].cat == "S" and _joins(out[first - 1]):
        first -= 2
    old = [i for i in out[first : last + 1] if i.cat == "S"]
    _trim(out)
    if len(new) < len(old):
        doubt = Ref(
            tuple(t for i in (*new, *old) for t in i.val.tags),
            sure=False,
            words=new[0].text,
            doubt="which_taken_back",
        )
        new = [Item("S", old[0].i, new[-1].j, new[0].text, val=doubt)]
    out[first : last + 1] = new
    return end


def _has_her_own(items: Sequence[Item], at: int) -> bool:
    """Whether a meal follows those named."""
    return at < len(items) and (_number(items[at]) or _prey(items[at]) or "a" in items[at].senses)


def _same_verb(one: Item, other: Item) -> bool:
    return one.text == other.text or one.senses.kinds == other.senses.kinds


def _goes_on_too(items: Sequence[Item], at: int) -> bool:
    """ "Ink ate, sorry, Mole ate too": one more, and nothing taken back."""
    return any("same" in item.senses for item in items[at : at + 3])


def _list_from(items: Sequence[Item], at: int) -> tuple[list[Item], int]:
    found, place = [items[at]], at + 1
    while place + 1 < len(items) and _joins(items[place]) and items[place + 1].cat == "S":
        found.append(items[place + 1])
        place += 2
    return found, place


def _joins(item: Item) -> bool:
    return item.text in ",+&" or "and" in item.senses


def _trim(out: list[Item]) -> None:
    while out and (out[-1].text in {",", "–", "-", "(", "."} or out[-1].text in HARD):
        out.pop()


def _drop_prey_between(out: list[Item], place: int, items: Sequence[Item], at: int) -> None:
    """ "2 crickets, sorry, 3 crickets": the prey is said once."""
    if any(_prey(i) for i in items[at + 1 : at + 4]):
        del out[place + 1 :]


def _number(item: Item) -> bool:
    return item.cat == "N"


def _day(item: Item) -> bool:
    return item.cat == "D"


def _amount(item: Item) -> bool:
    return item.cat == "A"


def _amount_or_figure(item: Item) -> bool:
    """ "weighed 8.2, no sorry, 8.4 g": the figure taken back has not got its unit."""
    return item.cat == "A" or (item.cat == "U" and _FIGURE.fullmatch(item.text) is not None)


_FIGURE: Final = re.compile(r"\d{1,5}[.,]\d{1,3}")


def _prey(item: Item) -> bool:
    return "prey" in item.senses


def _verb(item: Item) -> bool:
    return bool(item.senses.verbs)
