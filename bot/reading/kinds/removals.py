"""Prey that the keeper takes back out: "took the roach back out of Ink's tub, never touched it"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.around_verbs import hers
from bot.reading.clauses.clause_model import START
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of, feeds, kinds, refuses
from bot.reading.items.item import Item, words_in
from bot.reading.model import FEEDING
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

_HANDS: Final = frozenset({"take", "get", "put", "have", "remove"})
_BARE: Final = rule_words("takes_bare")


def takes_out(frame: Frame) -> bool:
    """ "took the roach back out of Ink's tub", "pulled Ink's locust": prey that the keeper removes."""
    items = frame.clause.items
    meal = next((n for n, i in enumerate(items) if "prey" in i.senses), None)
    if meal is None or not frame.refs or frame.inherited or "waste" in frame.nouns:
        return False
    by_her = any(i.cat == "S" and not i.owns for i in items[:meal]) or bool(frame.prons and not frame.ref_at)
    if by_her:
        return False
    acts = set().union(*(i.senses.acts for at, i in frame.verbs if at < meal))
    away = any("from" in i.senses or "away" in i.senses for i in items)
    bare = any(i.text in _BARE for i in items[:meal])  # "had to take the roach out"
    strange = bare or any(at < meal for at, _ in frame.unknown)
    return ("remove" in acts and bool(frame.ref_at)) or (away and (strange or bool(acts & _HANDS)))


def pulls_in(frame: Frame) -> bool:
    """ "Ink pulled a moth down her hole": the animal does it, and it goes in with her.

    Of other words than "pulled", such as "took in", only where it is her home that it goes into.
    """
    at = next((at for at, i in frame.verbs if "remove" in i.senses.acts), None)
    if at is None or frame.inherited or not frame.meals or not hers(frame, at):
        return False
    behind = frame.clause.items[at + 1 :]
    inwards = [words for i in behind if (words := i.text.split()) and words[0] in _INWARDS]
    if len(frame.verbs) == 1 and frame.verbs[0][1].text in _PULLED:
        return bool(inwards) or any(i.text.partition(" ")[0] in _UNDER for i in behind)
    home = "mouth" in frame.nouns or any(len(words) > 1 for words in inwards)  # "down her hole" is one word
    return bool(inwards) and home and not any({"away", "from"} & i.senses.keys() for i in behind)


_UNDER: Final = rule_words("under")
_PULLED: Final = rule_words("pulled")
_INWARDS: Final = rule_words("inwards")


def drags_out(frame: Frame) -> bool:
    """ "Mole dragged a roach out of her burrow": out of her home, and not in there to eat."""
    at = next((at for at, i in frame.verbs if i.text.split()[0] in _DRAGS), None)
    if at is None or frame.inherited or not frame.meals:
        return False
    behind = words_in(frame.clause.items[at:])
    out = behind[-1] == "out" or ("mouth" in frame.nouns and not _OUTWARDS.isdisjoint(behind))
    return out and _WITH_HER.isdisjoint(behind)


_DRAGS: Final = rule_words("drags")
_OUTWARDS: Final = rule_words("outwards")
_WITH_HER: Final = _INWARDS | rule_words("under")


def found_there(frame: Frame) -> bool:
    """ "found a roach under Ink's dish", "roach found in Ink's tub": prey come upon, and not what she ate."""
    items = frame.clause.items
    meal = next((n for n, i in enumerate(items) if "prey" in i.senses), 0)
    found = next((n for n, i in enumerate(items) if _comes_upon(i)), None)
    if found is None or not frame.ref_at or frame.inherited or frame.verbs:
        return False
    at_hers = not frame.flags.isdisjoint({"on", "with"})  # and no "Heimchen hat Ink gefunden"
    return frame.ref_at[0] > (found if found < meal else meal) and (found < meal or at_hers)


def lies_there(frame: Frame) -> bool:
    """ "there is a cricket in Ink's tub": what is seen there, whoever was to eat it."""
    pairs = pairwise(frame.clause.items[:4])
    is_there = any(a.text in _THERE and "did" in b.senses for a, b in pairs)
    return is_there or frame.clause.items[0].text in _THERE_IS


_THERE: Final = rule_words("there")
_THERE_IS: Final = rule_words("there_is")


def _comes_upon(item: Item) -> bool:
    return "fill" in item.senses and item.senses["fill"].group.act == "find"


def taken_back_out(frames: Sequence[Frame]) -> None:
    """Marks prey taken out as refused, where it is said that she left it."""
    for frame, nxt in pairwise(frames):
        if _refuses_that(nxt) and takes_out(frame):
            frame.flags.add("declined")
        left = refuses(frame) or ("neg" in frame.flags and Kind.FED in kinds(frame))
        if left and not frame.meals and not nxt.ref_at and takes_out(nxt):
            nxt.flags.add("declined")  # "no interest from Ink, so I fished the roach back out"
    for frame in frames:
        if "uneaten" in acts_of(frame) and takes_out(frame):
            frame.flags.add("declined")
        if takes_out(frame) or found_there(frame):
            _died_there(frame)


def _died_there(frame: Frame) -> None:
    """ "took 2 dead crickets out of Ink's, never touched": dead since they were left, and not prekilled."""
    for meal in frame.meals if any(item.text in _DEAD for item in frame.clause.items) else ():
        meal.prekilled = False


_DEAD: Final = rule_words("dead")


def taken_from_her(frames: Sequence[Frame]) -> None:
    """ "Rust took a cricket but I pulled it out later": eaten or not, which is asked; marks such a clause."""
    for frame, nxt in pairwise(frames):
        had_it = (feeds(frame) or frame.meals) and not refuses(frame)
        back = takes_it_back(nxt) or (takes_out(nxt) and not nxt.ref_at and "declined" not in nxt.flags)
        if had_it and back and not _handed_out_again(frame, nxt):
            nxt.flags.add("taken from her")


def _handed_out_again(frame: Frame, nxt: Frame) -> bool:
    """ "put a cricket in with Ink, took it out again": she left it, where nothing says that she ate."""
    groups = [verb.group for _, item in frame.verbs for verb in item.senses.verbs]
    handed = all(group.keeper or group.act == "get" for group in groups if group.kind in FEEDING)
    return handed and "of_it" in acts_of(nxt)


def is_untrue(frame: Frame) -> bool:
    """ "murió Ink, miento": a clause of nothing but words that take back what was said."""
    return all("fix" in i.senses and i.senses["fix"].group.act == "untrue" for i in frame.clause.items)


def takes_it_back(frame: Frame) -> bool:
    """ "I took it off her", "ended up taking it out", "out again at 9": what she had been given."""
    items = frame.clause.items
    if any(s.group.act == "of_it" and s.group.kind is Kind.REFUSED for i in items for s in i.senses.verbs):
        return True
    words = words_in(items)
    if words[0] in _OUT_OR_BACK and frame.clause.sep != START and len(words) > 1:
        return words[1] in _OUT_AGAIN and not (frame.verbs or frame.ref_at)
    at = next((n for n, word in enumerate(words) if word in _TAKES), None)
    if at is None or any(i.cat == "S" and not i.owns for i in items) or _TO_COME & set(words):
        return False
    before, behind = words[:at], words[at + 1 :]
    by_keeper = any("self" in item.senses for item in items) or bool(_HAD_TO & set(before))
    if words[at] in _UNSAID and not (by_keeper or _HAD_TO & set(before)):
        return False
    away = bool(_AWAY & set(behind)) or words[at] in _AWAY_ITSELF
    of_it = bool(behind) and (behind[0] in _IT or (behind[0] in _HIS and not set(behind[1:2]) - _AWAY))
    return of_it and away and not _TO_HER & set(behind)


_OUT_AGAIN: Final = rule_words("out_or_again")
_OUT_OR_BACK: Final = rule_words("out_or_back")


#: What the keeper does to have it out; of the last it may be she who does.
_TAKES: Final = rule_words("takes_out")
_UNSAID: Final = rule_words("takes_whoever_it_is")
_AWAY_ITSELF: Final = rule_words("takes_away")
_AWAY: Final = rule_words("away")
_IT: Final = rule_words("prey_itself")
_HIS: Final = rule_words("his")
_HAD_TO: Final = rule_words("had_to")
_TO_COME: Final = rule_words("to_be_taken")
#: What she took it from.
_TO_HER: Final = rule_words("in_the_hand")


def _refuses_that(frame: Frame) -> bool:
    """A refusal told of the meal just named: "never touched it", "untouched"."""
    denied = "neg" in frame.flags and Kind.FED in kinds(frame)
    return not frame.ref_at and not frame.meals and (refuses(frame) or denied)
