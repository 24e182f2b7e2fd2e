"""Clauses that go on with the one before: what they add to it, and whose list or move they belong to."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, takewhile
from typing import Any, Final

from bot.reading.clauses.clause_model import AND, COMMA, SENTENCE, START
from bot.reading.clauses.days_beside import another_day, dated
from bot.reading.clauses.frames import ADDED, Frame
from bot.reading.clauses.neighbours import describes_one, feeds, kinds, of_the_air, waters
from bot.reading.items.item import Ref, words_in
from bot.reading.kinds.homes_said import says_into
from bot.reading.kinds.without_verb import found_her_sex, says_sex
from bot.reading.model import FEEDING
from bot.reading.portions.meals import Meal
from bot.reading.words.rule_words import rule_words, rule_words_in_order
from bot.reading.woven.her_things import counts_her_eggs, fills_home
from bot.reading.woven.measured_beside import of_nothing_else
from bot.reading.woven.said_beside import one_more_on_another_day
from bot.reading.woven.shared_meals import sizes_said, sizes_up
from bot.reading.woven.ticks import ticked
from bot.terms import Kind, PreySize


def adds_to(prev: Frame, frame: Frame) -> bool:
    """Whether a clause without verb and animal only adds to the one before, which then has it."""
    if counts_her_eggs(prev, frame):
        prev.loose += frame.loose
        return True
    if fills_home(prev, frame):
        prev.amounts += [(at + ADDED, amount) for at, amount in frame.amounts]
        prev.nouns |= frame.nouns
        return True
    if _those_left(prev, frame):
        return True
    if _stands_alone(prev, frame):
        return False
    _sizes_stock(prev, frame)
    if _or_another_meal(prev, frame):
        prev.meals, prev.flags = [*prev.meals, *frame.meals], prev.flags | {"or"}
    elif sizes_up(prev, frame):
        prev.meals[-1].size = frame.meals[0].size
        prev.meals[-1].count = prev.meals[-1].count or frame.meals[0].count
    elif frame.groups and not frame.meals and not frame.amounts:
        prev.groups += frame.groups
        prev.loose += frame.loose
        prev.flags |= frame.flags & {"hedge"}  # "vent sexed Dot, probably female"
    elif frame.amounts and not frame.meals and not of_the_air(frame) and not waters(frame):
        prev.from_words = prev.from_words or frame.from_words
        prev.loose += _moved_too(prev, frame) or _came_in(prev, frame)
        prev.amounts += [(at + ADDED, amount) for at, amount in frame.amounts]
        prev.nouns |= frame.nouns
        prev.flags |= frame.flags | (set() if of_nothing_else(frame) else {"thing"})
    elif frame.meals and not prev.meals and not frame.flags & {"neg", "no"} and feeds(prev):
        prev.meals, prev.flags = frame.meals, prev.flags | frame.flags | _of_which_day(prev, frame)
        prev.days = prev.days or (frame.days if dated(frame) else [])  # "eating again! 1 dubia yesterday"
    elif frame.loose and not frame.meals:
        _add_number(prev, frame)
    else:
        return False
    return True


def _those_left(prev: Frame, frame: Frame) -> bool:
    """ "two are dead; six remain", "one dead, seven alive": how many are left of those told of before."""
    plain = len(frame.loose) == 1 and not (frame.meals or frame.amounts or frame.ref_at or frame.days)
    said = all(i.cat in "NM" or not _LEFT_OVER.isdisjoint(i.senses) for i in frame.clause.items)
    return plain and said and bool(kinds(prev)) and kinds(prev) <= {Kind.DIED, Kind.LEFT}


#: Senses of the words for those that are left: "six remain", "seven alive", "the other six are left".
_LEFT_OVER: Final = frozenset({"still", "leftover", "did", "fill", "the", "other", "of", "pron"})


def _add_number(prev: Frame, frame: Frame) -> None:
    """ "all fed, 1 didn't", "locusts arrived: 50 large"; "restocked mealies, 2 tubs" counts tubs."""
    if "box" in frame.nouns and kinds(prev) == {Kind.STOCKED}:
        return
    if _so_many_each(prev, frame):
        prev.meals[0].count = int(frame.loose[0].value)
        prev.flags.add("each")
        return
    several = len({tag for ref in prev.refs for tag in ref.tags}) > 1
    others = feeds(prev) and _others_did_something(frame)
    if frame.flags & {"elided", "neg"} or (several and others):
        prev.flags.add("which")
    elif others:
        prev.flags.add("hedge")
    if len(prev.meals) == 1 and not prev.loose and prev.meals[0].size is None:
        prev.meals[0].size = _the_one_size(frame)
    prev.loose += frame.loose
    if frame.clause.sep == AND and prev.clause.items[-1].cat == "D" and len(frame.clause.items) == 1:
        prev.flags.add("loose day")  # "ate on April 3 and 4"
    prev.flags |= frame.flags | _of_which_day(prev, frame)
    prev.nouns |= frame.nouns


def _others_did_something(frame: Frame) -> bool:
    """ "GBBs 1-3 fed, 4 hiding": a number, and what is done by so many or by that one."""
    pairs = pairwise(frame.clause.items)
    return any(a.cat == "N" and b.cat == "U" and b.text.endswith(_OF_DOING) for a, b in pairs)


_OF_DOING: Final = rule_words_in_order("ends_of_doings")


def _so_many_each(prev: Frame, frame: Frame) -> bool:
    """ "gave Captain and Bess the last 2 dubias, one each": all of them, and how they were shared out."""
    number = frame.loose[0] if len(frame.loose) == 1 and "each" in frame.flags else None
    meal = prev.meals[0] if len(prev.meals) == 1 and not prev.loose else None
    tags = {tag for ref in prev.refs for tag in ref.tags}
    if number is None or meal is None or not number.value or number.doubt or meal.count is None:
        return False
    return all(ref.sure for ref in prev.refs) and len(tags) > 1 and meal.count == number.value * len(tags)


def of_her_age(prev: Frame, frame: Frame) -> bool:
    """ "lost Old Bess, she was 20ish": how old she was is nothing of what happened."""
    was = bool(frame.prons) and "did" in frame.flags and not (frame.verbs or frame.meals or frame.amounts)
    return was and kinds(prev) == {Kind.DIED} and not frame.ref_at


def _of_which_day(prev: Frame, frame: Frame) -> set[str]:
    """ "Ink ate sat, 3 today": whether it is more of what was told is asked."""
    return {"loose day"} if dated(frame) and another_day(prev, frame) else set()


def _the_one_size(frame: Frame) -> PreySize | None:
    """The size of prey that a clause says, where it says but one."""
    said = sizes_said(frame)
    return said[0] if len(said) == 1 else None


def sizes_alone(prev: Frame, frame: Frame) -> None:
    """ "had a dubia, adult size", "1 red runner, sm, taken": how big the feeder just named is."""
    if len(frame.clause.items) == 1 and len(prev.meals) == 1 and prev.meals[0].size is None:
        prev.meals[0].size = _the_one_size(frame)


def _sizes_stock(prev: Frame, frame: Frame) -> None:
    """ "cricket delivery came, 500 adults": how big those bought are."""
    if Kind.STOCKED in kinds(prev) and prev.meals and not frame.meals:
        prev.meals[-1].size = prev.meals[-1].size or _the_one_size(frame)


def _moved_too(prev: Frame, frame: Frame) -> list[Any]:
    """ "rehoused Ink and 4 into a 5 l pot"; no "it's one of those jars"."""
    moved = kinds(prev) == {Kind.REHOUSED}
    return [number for number in frame.loose if moved and number.value != 1]


def _came_in(prev: Frame, frame: Frame) -> list[Any]:
    """ "my hornworm order arrived, 12 of them for $15": how many of the feeders the price is for."""
    uncounted = len(prev.meals) == 1 and prev.meals[0].count is None and not prev.loose
    paid = all(amount.dimension == "money" for _, amount in frame.amounts)
    got = bool(kinds(prev)) and kinds(prev) <= {Kind.STOCKED, Kind.ACQUIRED}
    bought = got and uncounted and paid and len(frame.loose) == 1
    return list(frame.loose) if bought and "box" not in frame.nouns else []


def on_top(prev: Frame, frame: Frame) -> bool:
    """ "Ink ate a cricket, then another one", "gave her one more": more of the meal just told."""
    if frame.ref_at or not feeds(prev) or not frame.flags.isdisjoint(_NOT_EATEN):
        return False
    of_its_own = any(meal.prey is not None for meal in frame.meals)  # "then another roach"
    if of_its_own or frame.nouns or frame.amounts or frame.unknown:
        return False
    if one_more_on_another_day(prev, frame):
        return False
    dated = (
        prev.loose and frame.loose and frame.days and not frame.verbs
    )  # "one this morning and one tonight"
    return bool(dated) or any(_one_more(item.text) for item in frame.clause.items)


_NOT_EATEN: Final = frozenset({"neg", "no", "undone", "future", "leftover", "cond"})


def _one_more(text: str) -> bool:
    words = text.split()
    more = words[-1] in _MORE and len(words) > 1
    return words[0] in _ANOTHER or more or text in _SECONDS


_ANOTHER: Final = rule_words("another_alone")
_MORE: Final = rule_words("more")
_SECONDS: Final = rule_words("seconds")


def _stands_alone(prev: Frame, frame: Frame) -> bool:
    if says_sex(frame) or found_her_sex(prev, frame) or (_molted(prev) and says_into(frame)):
        return True  # "molted, she's a she", "molted → into the 30 l"
    if describes_one(frame) and sum(len(ref.tags) for ref in prev.refs) > 1:
        return True  # "the Besses ate, the little one a cricket"
    if dated(frame) and another_day(prev, frame) and not frame.meals and _measures_her(frame):
        return True  # "molted 2/9, 15.8 cm on 4/9"
    return bool(frame.verbs) or frame.clause.sep == START or bool(frame.flags & {"yes", "no", "room"})


def _measures_her(frame: Frame) -> bool:
    return bool(frame.amounts) and all(a.dimension in {"length", "weight"} for _, a in frame.amounts)


def _molted(frame: Frame) -> bool:
    return kinds(frame) <= {Kind.MOLTED, Kind.MEASURED} and not frame.inherited


def meal_of_both(told: Sequence[Frame], frame: Frame) -> bool:
    """ "Ink took hers, Mole left hers. Both dubia", "… (1 locust apiece)": the prey of those before."""
    both = bool(frame.clause.items) and "both" in frame.clause.items[0].senses
    sums_up = frame.clause.sep in {SENTENCE, COMMA} or frame.clause.items[0].text.startswith(_THAT)
    apiece = sums_up and "each" in frame.flags
    if not (both or apiece) or len(frame.meals) != 1 or frame.verbs or len(told) < 2:
        return False
    pair = list(takewhile(_offered_something, reversed(told)))
    pair = pair if apiece else pair[:2]
    if len(pair) < 2:
        return False
    meal = frame.meals[0]
    meal.count = meal.count if apiece else None  # "both" are the animals
    for other in pair:
        other.meals = [meal]
    return True


def _offered_something(frame: Frame) -> bool:
    """Whether a clause says of somebody that she ate or did not, and not what."""
    told = kinds(frame) & FEEDING or frame.flags & _SAYS_WHETHER or ticked(frame)
    return bool(told) and bool(frame.refs) and not frame.meals


_SAYS_WHETHER: Final = frozenset({"yes", "no", "took", "declined", "elided"})
_THAT: Final = rule_words_in_order("that")


def for_the_last(told: Sequence[Frame], frame: Frame) -> bool:
    """ "Ink → 8 l, Mole → 3 l, Dot → 3 l. 6 cm of soil for the last two": those told last have it too."""
    words = words_in(frame.clause.items[-3:])
    number = frame.loose[0].value if len(frame.loose) == 1 and " ".join(words[-3:-1]) in _THE_LAST else None
    if not number or not frame.amounts or frame.verbs or frame.meals or len(told) < number:
        return False
    those = told[-int(number) :]
    if any(len(other.refs) != 1 or len(other.refs[0].tags) != 1 for other in those):
        return False
    for other in those:
        other.amounts = other.amounts + [(at + ADDED, amount) for at, amount in frame.amounts]
        other.nouns |= frame.nouns
    return True


def of_the_one_weighed(told: Sequence[Frame], frame: Frame) -> bool:
    """ "weighed and rehoused Ink, 20 g, 5 l tub": the weight is of the weighing, and no word on the home."""
    if len(told) < 2 or kinds(told[-1]) != {Kind.REHOUSED} or told[-1].clause.sep != AND:
        return False
    weighed = told[-2]
    plain = not (frame.verbs or frame.refs or frame.meals or frame.loose)
    of_weight = [amount.dimension for _, amount in frame.amounts] == ["weight"]
    if not (plain and of_weight and "weight" in weighed.flags) or weighed.amounts:
        return False
    weighed.amounts = [(at + ADDED, amount) for at, amount in frame.amounts]
    return True


def one_meal_each(prev: Frame, frame: Frame) -> bool:
    """ "Ink & Mole: roach / cricket", "Ink and Mole got 2 crickets and 1 cricket": one each, or both?"""
    names = prev.refs if len(prev.refs) == 2 and all(len(r.tags) == 1 for r in prev.refs) else []
    if (
        not names
        or len(prev.meals) != 1
        or len(frame.meals) != 1
        or frame.verbs
        or frame.prons
        or frame.ref_at
    ):
        return False
    first, second = prev.meals[0], frame.meals[0]
    if first.prey == second.prey:
        return frame.clause.sep in {AND, COMMA} and _counted_apart(first, second)
    only = not (prev.ref_at or prev.verbs) and frame.clause.sep == COMMA
    return only and "each" not in prev.flags | frame.flags


def _counted_apart(first: Meal, second: Meal) -> bool:
    """Whether two meals have each their own number."""
    return None not in (first.count, second.count) and first.count != second.count


def _or_another_meal(prev: Frame, frame: Frame) -> bool:
    """ "Ink took a roach, or was it a locust"."""
    return _opens_with_or(frame) and bool(frame.meals and prev.meals)


def names_another(frame: Frame) -> bool:
    """ "Biscuit ate, or was it Ink": an animal that it may have been instead, with nothing told of it."""
    small = all(i.cat == "S" or not _SMALL.isdisjoint(i.senses) for i in frame.clause.items)
    return _opens_with_or(frame) and len(frame.ref_at) == 1 and small


_SMALL: Final = frozenset({"or", "hedge", "fill", "did", "pron"})


def names_who_was_meant(frame: Frame) -> bool:
    """ "…, Ink I mean", "Ink, that is": nothing but a name, and that it was meant before."""
    items = frame.clause.items
    return len(items) == 2 and items[0].cat == "S" and items[1].text in _MEANT


_MEANT: Final = rule_words("means_them")


def _opens_with_or(frame: Frame) -> bool:
    return bool(frame.clause.items) and "or" in frame.clause.items[0].senses


def joins_list(prev: Frame | None, frame: Frame) -> bool:
    """ "fed Ink and Biscuit two crickets each": the prey is for both."""
    if (
        prev is None
        or not prev.verb_first
        or not prev.ends_with_ref
        or frame.verbs
        or prev.meals
        or another_day(prev, frame)
    ):
        return False
    if frame.flags & {"yes", "no", "same"} or not (frame.meals or frame.loose or frame.excepted):
        return False
    if frame.excepted and not frame.refs:
        return True
    first_ref = frame.ref_at[0] if frame.ref_at else 99
    leads = all(i.cat == "S" or "the" in i.senses for i in frame.clause.items[:first_ref])
    return leads and (frame.clause.sep == AND or "each" in frame.flags or len(prev.refs) > 1)


def only_excepts(frame: Frame) -> bool:
    """ "…. Not Dot", "…. All but Dot": nothing but whom what was told is not true of."""
    return bool(frame.excepted) and all(item.cat == "X" for item in frame.clause.items)


def joins_move(prev: Frame | None, frame: Frame) -> bool:
    """ "rehoused Ink & Bess into 2 l tubs": what they were moved into is for both."""
    if prev is None or frame.verbs or frame.meals or not (prev.verb_first and prev.ends_with_ref):
        return False
    moved = kinds(prev) == {Kind.REHOUSED} and not prev.amounts and not prev.nouns
    return moved and frame.clause.sep == AND and bool(frame.amounts or frame.nouns)


def joins_sale(prev: Frame | None, frame: Frame) -> bool:
    """ "sold Ink and Bess to Rosa for 40 euro": the buyer and the price are those of both."""
    if prev is None or frame.verbs or frame.meals or prev.amounts or prev.to_words:
        return False
    sold = kinds(prev) == {Kind.LEFT} and prev.verb_first and prev.ends_with_ref
    paid = bool(frame.amounts) and all(amount.dimension == "money" for _, amount in frame.amounts)
    return sold and paid and frame.clause.sep in {AND, COMMA}


def the_one_excepted(prev: Frame | None, frame: Frame) -> list[Ref]:
    """ "All on A ate bar Saffron, she refused", "… bar Ink and May, they refused": those excepted."""
    if prev is not None and _is_how_they_are(prev, frame):
        return list(prev.excepted)
    if prev is None or not prev.excepted or not frame.prons:
        return []
    several = len({tag for ref in prev.excepted for tag in ref.tags}) > 1
    meant = any(sense.group.plural for sense in frame.prons) == several
    return list(prev.excepted) if meant else []


def _is_how_they_are(prev: Frame, frame: Frame) -> bool:
    """ "all of C ate except Mole, sealed": a state right behind an exception is why it is one."""
    behind = bool(prev.excepted) and prev.clause.items[-1].cat == "X" and frame.clause.sep == COMMA
    plain = all("verb" in item.senses or "fill" in item.senses for item in frame.clause.items)
    return behind and plain and len(frame.verbs) == 1 and bool(kinds(frame)) and kinds(frame) <= _STATES


_STATES: Final = frozenset({Kind.SEALED, Kind.OPENED, Kind.PREMOLT, Kind.MOLTED, Kind.REFUSED})


def goes_on(prev: Frame) -> bool:
    """Whether prey named behind a clause is more of the same: eaten, or bought."""
    return feeds(prev) or bool(kinds(prev) & {Kind.STOCKED, Kind.ACQUIRED})


def each_of_those_told(told: Sequence[Frame], frame: Frame) -> list[Ref]:
    """ "Ink is 16 cm. Mole is 12 cm. Had a roach each": of the two told of one by one; else it is asked."""
    meal = frame.clause.sep == SENTENCE and bool(frame.meals) and not (frame.prons or frame.ref_at)
    last = told[-1].refs if told else []
    if not meal or len({t for r in last for t in r.tags}) != 1:
        return []
    refs = {r.tags: r for other in told for r in other.refs if other.ref_at}
    if len(refs) == 2 and all(r.sure and len(r.tags) == 1 for r in refs.values()):
        return list(refs.values())
    frame.flags |= {"hedge"} if refs else set()
    return []


def names_them_behind(prev: Frame, frame: Frame, following: Sequence[Frame]) -> bool:
    """ "had two roaches each, those LPs": whom the clause was of, behind it."""
    said = frame.refs[0] if len(frame.refs) == 1 and len(frame.clause.items) == 1 else None
    several = said is not None and said.sure and len(said.tags) > 1 and said.how != "place"
    ends = not following or following[0].clause.sep == SENTENCE
    unnamed = "each" in prev.flags and bool(prev.meals) and not prev.ref_at
    return several and ends and unnamed and frame.clause.sep == COMMA


_THE_LAST: Final = rule_words("the_last")
