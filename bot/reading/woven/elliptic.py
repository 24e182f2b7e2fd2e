"""Clauses that say only that somebody did or did not: "Sunny didn't", "Rust has", "Mole was"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import AND, COMMA, SENTENCE, TITLE
from bot.reading.clauses.days_beside import dated
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of, feeds, kinds, refuses
from bot.reading.items.item import Item, words_in
from bot.reading.model import FEEDING
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: The verbs that stand for one told beside them, by what they stand for: a doing, what has been, what is.
_STANDS_FOR: Final = {
    "do": rule_words("short_for_do"),
    "have": rule_words("short_for_have"),
    "be": rule_words("short_for_be"),
}
#: What is told with these is nothing that happened, and so is what stands for it.
_OPEN: Final = frozenset({"future", "cond", "report", "habit", "hedge"})
_DIDNT: Final = rule_words("did_not")
_TO_COME: Final = rule_words("will_do")
_SAYS_YES: Final = rule_words("says_yes")
_AFFIRMS: Final = rule_words("affirms")
#: Small words that may stand behind it.
_BEHIND_IT: Final = rule_words("behind_a_short_verb")
_DENIES: Final = frozenset({"neg", "undone"})


def _says_no_more(frame: Frame) -> bool:
    """Whether a clause has no verb, meal, figure or strange word of its own."""
    return not (frame.verbs or frame.meals or frame.loose or frame.amounts or frame.unknown)


def denies_alone(frame: Frame) -> bool:
    """ "Sunny didn't", with nothing more."""
    return "elided" in frame.flags and _says_no_more(frame)


def not_given(frame: Frame, told: Frame) -> bool:
    """ "Ink gefüttert, Sunny nicht": a denial that stands for the very verb told, which is the keeper's."""
    denials = (i.senses["elided"].group for i in frame.clause.items if "elided" in i.senses)
    verbs = [verb.group for _, item in told.verbs for verb in item.senses.verbs]
    given = bool(verbs) and all(group.keeper or group.act in _HANDED for group in verbs)
    return given and any(group.act == "that verb" for group in denials)


#: What an animal is given: "Ink got a roach".
_HANDED: Final = frozenset({"get", "give"})


def she_didnt(frame: Frame) -> bool:
    """ "…, he didn't": one of those just told of, whom only a pronoun tells."""
    one = any(not sense.group.plural and sense.group.sex is not None for sense in frame.prons)
    return one and denies_alone(frame)


def or_another_day(frame: Frame) -> bool:
    """ "Ink ate on Saturday, or it may have been Sunday": another day that it may have been, and no more."""
    opens = frame.clause.items[0].senses if frame.clause.items else {}
    return "or" in opens and bool(frame.days) and not frame.ref_at and _says_no_more(frame)


def affirms_alone(frame: Frame) -> bool:
    """ "…, Sunny did", "…, Mole has though", with nothing more."""
    last = _last_word(frame)
    if not frame.ref_at or last is None or last.text not in _AFFIRMS | _SAYS_YES or frame.nouns:
        return False
    if any(item is not last for _, item in frame.verbs):  # "have" might be "had a roach"
        return False
    more = frame.meals or frame.loose or frame.amounts or frame.unknown
    return not more and frame.flags.isdisjoint(_DENIES)


def only_no(frame: Frame) -> bool:
    """ "…, Monday no"."""
    return bool(frame.clause.items) and "no" in frame.clause.items[-1].senses and _says_no_more(frame)


def no_as_well(frame: Frame) -> bool:
    """ "Ink ate, Sunny no too": a "no" that answers, which is not the same as what was told before."""
    small = all(i.cat in "SDM" or not _NO_TOO.isdisjoint(i.senses) for i in frame.clause.items)
    return frame.flags >= {"no", "same"} and small


_NO_TOO: Final = frozenset({"no", "same", "fill", "then", "to", "for"})


def says_no(frame: Frame) -> bool:
    """Nothing but a "no"."""
    return bool(frame.clause.items) and all("no" in i.senses for i in frame.clause.items)


def had_none(frame: Frame) -> bool:
    """ "Ink: 2 crickets. Mole: none": what stands behind a name in a list of meals."""
    only = len(frame.clause.items) == 1 and frame.clause.sep == TITLE
    return only and "none" in acts_of(frame)


def only_denies_a_meal(frame: Frame) -> bool:
    """ "Ink ate a cricket on Monday, not a roach": what else it might have been, and was not."""
    first = frame.clause.items[0]
    denies = first.text in _NOT and "neg" in first.senses and not (frame.verbs or frame.unknown)
    return denies and bool(frame.meals or frame.loose) and not (frame.ref_at or frame.amounts)


_NOT: Final = rule_words("not")


def took(frame: Frame) -> bool:
    """Whether a clause tells of a meal not refused, or goes on after such a one: "…, Bess didn't either"."""
    told = feeds(frame) or bool(frame.meals and not frame.verbs)
    return "declined" in frame.flags or (told and not refuses(frame))


def does_likewise(frame: Frame, told: Sequence[Frame], following: Sequence[Frame]) -> None:
    """Gives "Sunny did" what it stands for: what was told or denied of others before, or right behind.

    Of a meal it says that she took it; after "Moss didn't refuse" she left it, and after "Moss refused" she
    may have done either.
    """
    frame.verbs = []
    source = next((other for other in reversed(told) if other.verbs), None) or _denied_next(following)
    if source is None or not _fits(frame, source):
        frame.flags |= {"took"} if _named_by_did(frame) and any(feeds(other) for other in told) else set()
        return
    if not source.flags.isdisjoint(_OPEN) or _words(source) & _TO_COME:
        return
    denied = not source.flags.isdisjoint(_DENIES)
    if "skip" in acts_of(source):  # "Ink wasn't fed but Mole was"; "Ink skipped, Mole did" may be either
        herself = "skips" in acts_of(source) and not source.verb_first and not _words(source) & _DIDNT
        frame.flags |= {"took", "declined"} if herself else {"took"}
    elif kinds(source) - FEEDING or not feeds(source):
        frame.verbs, frame.inherited = source.verbs, True
        frame.flags.add("likewise")
    elif refuses(source) and not _says_yes(frame):
        frame.flags |= {"declined"} if denied else {"declined", "took"}
    else:
        frame.flags.add("took")


def on_her_own_day(prev: Frame, frame: Frame, following: Sequence[Frame]) -> bool:
    """ "Ink molted Saturday, Mole Thursday": the same of another, on the day that is said beside her.

    Not where more follows that may be what she did on that day: "…, Mole Thursday and refused".
    """
    small = all(i.cat in "SD" or i.text in _BEFORE_A_DAY or "fill" in i.senses for i in frame.clause.items)
    hers, before = ([(d.day, d.time, d.doubt) for d in of.days] for of in (frame, prev))
    if not (small and frame.ref_at and hers != before and dated(frame) and dated(prev)):
        return False
    times = [of.days[0].time for of in (frame, prev) if of.days[0].time is not None]
    if len(times) == 2 and times[0] < times[1] and frame.days[0].day == prev.days[0].day:
        return False  # "Ink ate at 7, Mole at 4": in the morning?
    plain = prev.flags.isdisjoint(_OPEN | _DENIES | {"fix", "or"}) and not (prev.amounts or prev.loose)
    if not (plain and prev.ref_at and prev.verbs):
        return False
    nxt = following[0] if following else None
    if nxt is None or nxt.clause.sep == SENTENCE:
        return True
    return _apart(nxt) if nxt.ref_at else frame.clause.sep == AND and _remarks(nxt)


def _remarks(frame: Frame) -> bool:
    """ "…, all good", "…, I have only now found the skins": what is said of both, behind a pair of them."""
    hers = bool(frame.verbs) and not (frame.verb_first_by_keeper or "self" in frame.flags)
    return frame.clause.sep == COMMA and (not hers or kinds(frame) == {Kind.CHECKED})


_BEFORE_A_DAY: Final = rule_words("before_a_day_of_it")


def _apart(frame: Frame) -> bool:
    """Whether a clause is told of by itself, and not of those named before it as well."""
    return frame.clause.sep == COMMA or (frame.bare and dated(frame))


def given_on(frame: Frame, before: Frame) -> bool:
    """ "Ink refused, gave it to Mole", "…, so Mole got hers instead": what one left goes to another."""
    said = set(words_in(frame.clause.items))
    hers = any("pron" in a.senses and "prey" in b.senses for a, b in pairwise(frame.clause.items))
    more = (frame.meals and not hers) or frame.loose or frame.amounts or frame.unknown or frame.nouns
    if more or not frame.flags.isdisjoint(_OPEN | _DENIES) or not (said & _IT and said & _GIVEN):
        return False
    whom, who = ({tag for ref in of.refs for tag in ref.tags} for of in (frame, before))
    return _left_it(before) and len(whom) == 1 and whom.isdisjoint(who)


def _left_it(frame: Frame) -> bool:
    """Whether a clause tells that a meal was left: "refused", "didn't want hers"."""
    denied = "neg" in frame.flags and feeds(frame) and not _done_to_her(frame)
    return refuses(frame) or denied or frame.flags >= {"declined"}


#: What was left by one, and how it comes to another.
_IT: Final = rule_words("stands_for_prey")
_GIVEN: Final = rule_words("was_given")


def _named_by_did(frame: Frame) -> bool:
    last = _last_word(frame)
    return last is not None and last.text in _DOES_SO


_DOES_SO: Final = rule_words("did_or_has")


def skipped_it(frames: Sequence[Frame]) -> None:
    """ "Ink ate, Sunny skipped", "Sunny didn't bother": that she left it, where the keeper fed nobody before.

    Behind "fed Ink" it may as well be the keeper who passed her over.
    """
    by_keeper = skipped = fed = False
    for frame in frames:
        by_herself = frame.ref_at and not (frame.inherited or frame.verb_first or "did" in frame.flags)
        only = len(frame.verbs) == 1 and not (frame.nouns or frame.amounts or frame.loose or _strange(frame))
        again = frame.inherited and skipped and "same" in frame.flags  # "…, so did Mole"
        skipped = "skips" in acts_of(frame) and only and not by_keeper and bool(by_herself or again)
        if skipped:
            frame.flags.add("declined")
        elif "passes" in acts_of(frame):  # "offered Ink a roach, she passed"; "Ink ate. Mole passed" is asked
            apart = frame.clause.sep == SENTENCE
            frame.flags |= ({"hedge"} if apart else {"declined"}) if fed else set()
        elif frame.verbs or frame.meals:
            fed = fed or feeds(frame) or not frame.verbs
            by_keeper = not frame.verbs or (feeds(frame) and _done_to_her(frame))


def _strange(frame: Frame) -> bool:
    """Whether a word of the clause itself is not understood, whatever was added to it."""
    return any(item in frame.clause.items for _, item in frame.unknown)


def _says_yes(frame: Frame) -> bool:
    last = _last_word(frame)
    return last is not None and last.text in _SAYS_YES


def _denied_next(following: Sequence[Frame]) -> Frame | None:
    """ "Mole has, Ink hasn't molted": what is denied of another in the clause right behind."""
    nxt = following[0] if following else None
    if nxt is None or not (nxt.verbs and nxt.ref_at):
        return None
    return nxt if "nope" in acts_of(nxt) or not nxt.flags.isdisjoint(_DENIES) else None


def _fits(frame: Frame, source: Frame) -> bool:
    """Whether the word that stands for a verb can stand for that of the source: no "Mole is" for "molted"."""
    if _sort_of(frame) != "be":
        return _sort_of(source) != "be"
    short = any(i.owns for i in source.clause.items if i.cat == "S")  # "Mole's not in premolt"
    return short or _sort_of(source) == "be" or _done_to_her(source)


def _done_to_her(source: Frame) -> bool:
    """ "fed Ink, Mole already was": what the keeper does is done to the animal."""
    groups = [verb.group for _, i in source.verbs for verb in i.senses.verbs]
    return bool(groups) and all(group.keeper and not group.base for group in groups)


def _sort_of(frame: Frame) -> str:
    words = _words(frame)
    return next((sort for sort, said in _STANDS_FOR.items() if words & said), "do")


def _words(frame: Frame) -> set[str]:
    return {word for i in frame.clause.items if i.cat == "W" for word in i.text.casefold().split()}


def _last_word(frame: Frame) -> Item | None:
    """The last word of a clause, but for its day and small words: "has" in "Mole has already today"."""
    for item in reversed(frame.clause.items):
        if item.cat not in "DM" and item.text not in _BEHIND_IT:
            return item
    return None
