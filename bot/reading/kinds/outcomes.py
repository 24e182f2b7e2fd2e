"""What came of a feeding, drawn together with the feeding: "offered …, she took it"."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import AND, COMMA, RUN_ON
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of
from bot.reading.items.item import Item
from bot.reading.kinds.drafts import Doubt, Draft, day_choices, kind_choices
from bot.reading.kinds.listed_before import came_of_all
from bot.reading.model import FEEDING, About
from bot.reading.words.phrasings import words_of_all
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def merges(drafts: list[Draft], draft: Draft, frame: Frame) -> bool:
    """Draws a word on a feeding's outcome together with the feeding: "offered …, she took it"."""
    if came_of_all(drafts, draft, frame):
        return True
    handed = _handed(draft, frame)
    for earlier in reversed(drafts):
        if earlier.kind not in FEEDING or not set(draft.tags).issubset(earlier.tags):
            continue
        _date_by(earlier, draft, frame)
        told = (_is_the_rest, _dropped_it, _found_gone, _what_was_refused)
        if any(of_it(earlier, draft, frame) for of_it in told):
            return True
        if _only_these(earlier, draft, frame):
            _left_by_the_rest(earlier, draft)
            return False
        if handed and _refused_just_now(earlier, draft):
            _tells_what_it_was(earlier, draft, frame)
            return True
        if (
            earlier.tags == draft.tags
            and earlier.day == draft.day
            and not draft.doubts
            and _compatible(earlier, draft, frame)
        ):
            _unite(earlier, draft, frame)
            return True
        if _next_day(earlier, draft):
            _unite(earlier, draft, frame)
            days = day_choices(earlier.day, draft.day)
            earlier.doubts.append(Doubt(About.DAY, "two_days", choices=days))
            return True
        if _but_for(earlier, draft, frame):
            earlier.tags = draft.tags
            _unite(earlier, draft, frame)
            return True
        if _one_of_them(earlier, draft, frame):
            earlier.tags = tuple(t for t in earlier.tags if t not in draft.tags)
            _same_meal(earlier, draft)
            return False
    return False


def _dropped_it(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    """ "bit the roach, then dropped it": the meal just told, of which is not known yet what came."""
    of_it = earlier.tags == draft.tags and earlier.day == draft.day and not frame.meals
    if not (of_it and earlier.kind is Kind.FED and "dropped" in acts_of(frame)):
        return False
    earlier.kind = draft.kind
    earlier.doubts += draft.doubts
    return True


def _what_was_refused(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    """ "D both no, 1 locust each": behind a bare refusal what it was, with no word of another meal."""
    bare = earlier.kind is Kind.REFUSED and not earlier.fields and not draft.doubts
    same = earlier.tags == draft.tags and earlier.day == draft.day and not frame.ref_at
    if not (bare and same and frame.meals and frame.clause.sep == COMMA and not frame.clause.goes_on):
        return False
    if not all(item.cat == "N" or not _OF_A_MEAL.isdisjoint(item.senses) for item in frame.clause.items):
        return False
    earlier.fields.update(draft.fields)
    return True


_OF_A_MEAL: Final = frozenset({"a", "size", "prekilled", "prey", "each"})


def _date_by(earlier: Draft, draft: Draft, frame: Frame) -> None:
    """ "gave Ink a roach on Monday. She ate it": of the same meal, on the day that was said of it."""
    if frame.days or draft.doubts or earlier.tags != draft.tags or earlier.day >= draft.day:
        return
    if "prey" in draft.fields:
        of_it = _of_that_prey(frame) and earlier.fields.get("prey") == draft.fields["prey"]
    else:
        of_it = outcome_only(frame) or _left_it(draft, frame)
    if of_it:
        draft.day = earlier.day


def _of_that_prey(frame: Frame) -> bool:
    """ "gave Ink a cricket and a roach. She ate the roach": the very one that was told of, and no other."""
    the = next((at for at, item in enumerate(frame.clause.items) if "the" in item.senses), None)
    if the is None or frame.days or frame.ref_at or len(frame.meals) != 1:
        return False
    behind = (i for i in frame.clause.items[the + 1 :] if "size" not in i.senses)
    return "prey" in next(behind, frame.clause.items[the]).senses


def _left_it(draft: Draft, frame: Frame) -> bool:
    """ "got a cricket on Thursday. She ignored it"."""
    it = any(item.text in _IT for item in frame.clause.items)
    return draft.kind is Kind.REFUSED and it and not frame.ref_at


_IT: Final = rule_words("it")


def _is_the_rest(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    """ "ate one and refused the other": what she ate is told; asked where that may be less."""
    same = earlier.tags == draft.tags and earlier.day == draft.day
    if not (same and earlier.kind is Kind.FED and draft.kind is Kind.REFUSED and left_the_other(frame)):
        return False
    if (earlier.fields.get("count") or 1) > 1:  # "2 crickets: ate the first, left the second"
        earlier.doubts.append(Doubt(About.AMOUNT, "part"))
    if len(draft.tags) > 1 and "other" not in frame.said:  # "a roach each, one refused"
        earlier.doubts.append(Doubt(About.SPECIMEN, "some_of_several"))
    return True


def left_the_other(frame: Frame) -> bool:
    """ "took 1 ignored the other", "eins verweigert": the rest of one meal, and not another that refused."""
    pairs = list(pairwise(frame.clause.items))
    if any("other" in b.senses and Kind.REFUSED in a.senses.kinds for a, b in pairs):
        return True
    opens = frame.clause.items[0]
    one = "other" in opens.senses or ("one" in opens.senses and not frame.meals)
    return one and any(a is opens and Kind.REFUSED in b.senses.kinds for a, b in pairs)


def _handed(draft: Draft, frame: Frame) -> bool:
    """Whether a clause tells only what the keeper gave: "I tried her with a locust"."""
    if draft.kind not in _GIVEN or draft.doubts or "prey" not in draft.fields or frame.inherited:
        return False
    return bool(frame.verbs) and all(_hands(item) for _, item in frame.verbs)


def _refused_just_now(earlier: Draft, draft: Draft) -> bool:
    """ "Saffron is refusing again, I tried her with a locust": who would not eat, and of what is not said."""
    same = earlier.tags == draft.tags and earlier.day == draft.day
    return same and earlier.kind is Kind.REFUSED and not earlier.fields


def _hands(item: Item) -> bool:
    """Whether a word says that the keeper gave her food, or tried to."""
    groups = (verb.group for verb in item.senses.verbs)
    return any(g.keeper and g.kind in _GIVEN and (g.act or "") in _HANDED for g in groups)


def _tells_what_it_was(refusal: Draft, draft: Draft, frame: Frame) -> None:
    """What was tried on her is what she refused; what was given then, or for sure, may be another meal."""
    refusal.fields.update(draft.fields)
    clause = frame.clause
    another = clause.goes_on or clause.sep == AND or any(i.text in _ANOTHER for i in clause.items)
    if draft.kind is Kind.FED or another or any(i.cat == "D" for i in clause.items):
        choices = kind_choices(Kind.REFUSED, draft.kind)
        refusal.doubts.append(Doubt(About.KIND, _WHAT_CAME_OF_IT, choices=choices))


_GIVEN: Final = frozenset({Kind.OFFERED, Kind.FED})
_HANDED: Final = frozenset({"", "try", "give"})
_ANOTHER: Final = rule_words("another_time")
#: The key of the doubt about a meal behind a refusal, until it is told what came of it.
_WHAT_CAME_OF_IT: Final = "two_kinds"


def _one_of_them(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    """Whether a word on some of a group wins over that on all; a meal of another day is one more.

    So is one by the same verb, "gestern haben alle auf A gefressen, heute nur Ink", and one with its own day.
    """
    some = earlier.of_group and bool(draft.tags) and set(draft.tags) < set(earlier.tags)
    one_more = "prey" in draft.fields or (frame.inherited and earlier.kind is Kind.FED)
    another = earlier.day != draft.day and (bool(frame.days) or (draft.kind is Kind.FED and one_more))
    return some and not draft.doubts and not another


def _same_meal(earlier: Draft, draft: Draft) -> None:
    own_prey = "prey" in draft.fields
    for name in ("prey", "count", "size", "prekilled"):
        if name in earlier.fields and not own_prey:
            draft.fields.setdefault(name, earlier.fields[name])


def _only_these(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    """ "Ink and Bess got a roach, only Bess ate": whoever was not named did not."""
    some = bool(draft.tags) and set(draft.tags) < set(earlier.tags) and earlier.day == draft.day
    if not some or draft.kind is not Kind.FED or draft.doubts:
        return False
    at = frame.ref_at[0] if frame.ref_at and not frame.inherited else 0
    before = list(frame.clause.items[:at])
    alone = words_of_all("only_words") | _THE_ONLY_ONE
    while before and before[-1].text not in alone and _joins_to_a_name(before[-1]):
        before.pop()  # "solo comió Bess", "la única que comió fue Bess"
    return bool(before) and before[-1].text in alone


def _left_by_the_rest(earlier: Draft, draft: Draft) -> None:
    """The others did not eat, unless those had other prey: "a roach each, only Ink got a cricket"."""
    earlier.tags = tuple(t for t in earlier.tags if t not in draft.tags)
    if "prey" not in draft.fields or draft.fields["prey"] == earlier.fields.get("prey"):
        earlier.kind = Kind.REFUSED
        _same_meal(earlier, draft)


def _joins_to_a_name(item: Item) -> bool:
    return bool(item.senses.verbs) or not {"rel", "did"}.isdisjoint(item.senses)


_THE_ONLY_ONE: Final = rule_words("the_only_one")


def _next_day(earlier: Draft, draft: Draft) -> bool:
    """ "put a roach in with Ink last night, gone this morning": one meal, of which day is asked."""
    same = earlier.kind is Kind.OFFERED and earlier.tags == draft.tags and not draft.doubts
    later = (draft.day - earlier.day).days == 1
    return same and later and draft.kind in {Kind.FED, Kind.REFUSED} and "prey" not in draft.fields


def _found_gone(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    """ "got 2 crickets last night, both gone this morning": of the meal just told, and none of today."""
    same = earlier.kind is draft.kind is Kind.FED and earlier.tags == draft.tags and not draft.doubts
    the_day_after = (draft.day - earlier.day).days == 1 and "prey" not in draft.fields
    return same and the_day_after and outcome_only(frame)


def _but_for(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    """ "fed rack 2, everybody took except Gus": of the same group, and now without those excepted."""
    excepted = {t for r in frame.excepted if r.sure for t in r.tags}
    same = bool(excepted) and set(earlier.tags) == {*draft.tags, *excepted} and earlier.day == draft.day
    return same and not draft.doubts and _compatible(earlier, draft, frame)


def _compatible(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    for name in ("prey", "size"):
        if name in earlier.fields and name in draft.fields and earlier.fields[name] != draft.fields[name]:
            return False
    both_say_prey = "prey" in draft.fields and "prey" in earlier.fields
    return earlier.kind is not draft.kind or not both_say_prey or outcome_only(frame) or _of_that_prey(frame)


def outcome_only(frame: Frame) -> bool:
    """Whether a clause tells no more than what came of a meal."""
    return not {"outcome", "kick", "of_it", "has_it"}.isdisjoint(acts_of(frame))


def _unite(earlier: Draft, draft: Draft, frame: Frame) -> None:
    if not {"escape", "who_escaped"}.isdisjoint(acts_of(frame)) and _of_some(earlier, draft):
        earlier.doubts.append(Doubt(About.AMOUNT, "part"))  # "gave Ink 3 crickets, one escaped"
        return
    if earlier.kind is Kind.REFUSED:
        earlier.doubts = [doubt for doubt in earlier.doubts if doubt.key != _WHAT_CAME_OF_IT]
    if earlier.day == draft.day:
        earlier.time = earlier.time or draft.time  # "1 roach, taken at 21:35"
    if not _which_was_offered(draft, frame):  # else what came of it is told already
        earlier.kind = draft.kind
    given, eaten = (d.fields.get("count") for d in (earlier, draft))
    if given is not None and eaten is not None and eaten > given and "instead" not in frame.flags:
        earlier.doubts.append(Doubt(About.AMOUNT, "two_values", str(eaten)))  # "fed two, she ate all three"
    earlier.fields.update(draft.fields)


def _which_was_offered(draft: Draft, frame: Frame) -> bool:
    """ "Dottie backed away from the mealworm I offered her": which one it was, behind what came of it."""
    return draft.kind is Kind.OFFERED and frame.clause.sep == RUN_ON and "prey" not in draft.fields


def _of_some(earlier: Draft, draft: Draft) -> bool:
    counts = [d.fields.get("count") for d in (earlier, draft)]
    return None not in counts and counts[0] != counts[1]


def is_at_large(frame: Frame) -> bool:
    """ "a roach got loose in Ink's tub": where the prey does something itself, nobody ate it."""
    if "prey" not in frame.said:
        return False
    pairs = pairwise(item for item in frame.clause.items if item.cat == "W")
    return any("prey" in first.senses and _of_the_prey(then) for first, then in pairs)


def _of_the_prey(item: Item) -> bool:
    return "fill" in item.senses and item.senses["fill"].group.act == "at_large"


def describes_prey(frame: Frame) -> bool:
    """ "…, which was the last cricket I had": what is said of a meal just told, and no further one."""
    said = frame.clause.items[:2]
    relates = " ".join(i.text.split()[0] for i in said) in _WHICH_WAS
    died = any(s.group.kind is Kind.DIED for _, item in frame.verbs for s in item.senses.values())
    return relates and (bool(frame.meals) or died)  # "…, which was dead" was so before it was eaten


_WHICH_WAS: Final = rule_words("which_was")
