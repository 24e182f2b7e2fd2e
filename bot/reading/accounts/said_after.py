"""What a clause says of the drafts before it: that it was less, is still there, or is not so. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from itertools import pairwise
from typing import Final

from bot.reading.accounts.denials import doubts_itself
from bot.reading.clauses.clause_model import SENTENCE, START
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of, denies_what_was_told, refuses
from bot.reading.clauses.neighbours import kinds as kinds_of
from bot.reading.kinds.drafts import Doubt, Draft, kind_choices
from bot.reading.kinds.outcomes import describes_prey
from bot.reading.kinds.removals import is_untrue
from bot.reading.kinds.verdicts import Verdict
from bot.reading.model import FEEDING, About
from bot.reading.words.rule_words import rule_words
from bot.reading.woven.elliptic import denies_alone, only_no
from bot.terms import Kind

#: What is told of an animal once, so that a "maybe" behind it is taken to heart.
_FINAL: Final = frozenset({Kind.DIED, Kind.MATURED})


def is_doubted(drafts: Sequence[Draft], frame: Frame) -> bool:
    """ "… died, I think"; "Ink had a roach, not sure she finished it"."""
    finished = any(item.text in _ENDED for item in frame.clause.items)
    return any(d.kind in _FINAL or (finished and d.kind in FEEDING) for d in drafts)


_ENDED: Final = rule_words("ended")


def not_given_because(drafts: list[Draft], told: int, before: Frame | None, frame: Frame) -> None:
    """ "T12 nothing, because he is due to molt", "Mole none (sealed)": offered none, they refused none."""
    says_why = frame.clause.items[0].text in _BECAUSE or frame.clause.by == "("
    if before is None or not 0 < told < len(drafts) or not says_why:
        return
    none, why = drafts[told - 1], drafts[told]
    left_in_peace = why.kind in {Kind.PREMOLT, Kind.SEALED} and why.tags == none.tags
    if left_in_peace and none.kind is Kind.REFUSED and not none.fields and "none" in acts_of(before):
        del drafts[told - 1]


_BECAUSE: Final = rule_words("because")


def not_known_yet(drafts: Sequence[Draft], verdict: Verdict, frame: Frame) -> None:
    """ "gave Ink a roach, no idea if she will take it": put in, and what came of it is not known."""
    last = drafts[-1] if drafts else None
    if last is None or last.kind is not Kind.FED or frame.ref_at or frame.clause.sep in {SENTENCE, START}:
        return
    asks = verdict.why == "cond" or "unknown" in acts_of(frame)
    of_her_meal = kinds_of(frame) & FEEDING or (frame.prons and "undone" not in frame.flags)
    if asks and of_her_meal:  # no "see if she is due"
        last.kind = Kind.OFFERED


def taken_out_again(drafts: Sequence[Draft], verdict: Verdict, frame: Frame) -> bool:
    """ "Ink refused, 2 crickets removed": what she had refused; whether that is all that the clause tells."""
    last = drafts[-1] if drafts else None
    if last is None or last.kind is not Kind.REFUSED or frame.ref_at or len(frame.meals) != 1:
        return False
    if verdict.state != "doubt" or "remove" not in acts_of(frame):
        return False
    meal = frame.meals[0]
    said = {"prey": meal.prey, "size": meal.size, "count": meal.count if len(last.tags) == 1 else None}
    for name, value in said.items():
        if value is not None:
            last.fields.setdefault(name, value)
    return True


def lasted_until(drafts: Sequence[Draft]) -> None:
    """ "Mole was sealed for 3 weeks, opened yesterday": so long before that day, and not before today."""
    for sealed, opened in pairwise(drafts):
        ends = sealed.kind is Kind.SEALED and opened.kind is Kind.OPENED and sealed.tags == opened.tags
        if ends and sealed.lasted is not None:
            sealed.day = opened.day - timedelta(days=sealed.lasted)


def left_out(drafts: Sequence[Draft], verdict: Verdict, frame: Frame) -> None:
    """ "fed all of C, skipped Mole": whoever did not get it is taken out of those who did."""
    if not drafts:
        return
    tags = {t for r in frame.refs if r.sure for t in r.tags}
    groups = [verb.group for _, i in frame.verbs for verb in i.senses.verbs]
    forgot = verdict.why == "undone" and not groups and bool(frame.ref_at)  # "misted D, forgot Twig"
    skipped = forgot or any(g.act == "skip" for g in groups)
    if verdict.why == "skip" and not frame.ref_at and len(frame.verbs) > 1 and drafts[0].of_group:
        drafts[0].doubts.append(Doubt(About.SPECIMEN, "excepted_whom"))  # "skipped whoever's sealed"
        return
    only_denied = verdict.state == "unknown" and (denies_alone(frame) or only_no(frame))
    for draft in (draft for draft in drafts if draft.of_group):
        same = skipped or (verdict.state == "nothing" and any(g.kind is draft.kind for g in groups))
        same = same or (only_denied and draft is drafts[-1] and draft.kind not in FEEDING)
        same = same or _other_than(draft, verdict, frame)
        some = tags & set(draft.tags)  # "all terrestrials a cricket, slings skipped": those of them
        if same and some and some < set(draft.tags) and (some == tags or _is_group(frame)):
            draft.tags = tuple(t for t in draft.tags if t not in tags)


def never_offered(drafts: list[Draft], before: Frame | None, verdict: Verdict, frame: Frame) -> None:
    """ "Mole is off her food so I didn't bother": how she is, and nothing that she was offered."""
    skipped = verdict.why == "skip" and "self" in frame.flags and not frame.ref_at
    how_she_is = before is not None and any(item.text in _OFF_HER_FOOD for _, item in before.verbs)
    if skipped and how_she_is and drafts and drafts[-1].kind is Kind.REFUSED and not drafts[-1].fields:
        drafts.pop()


_OFF_HER_FOOD: Final = rule_words("off_her_food")


def _is_group(frame: Frame) -> bool:
    return len(frame.refs) == 1 and (frame.refs[0].plural or frame.refs[0].group)


def _other_than(draft: Draft, verdict: Verdict, frame: Frame) -> bool:
    """ "the GBBs molted but the third is in premolt": of one of them what cannot be true of her as well."""
    days = {span.day for span in frame.days}
    return verdict.state == "told" and _NOT_BOTH.get(draft.kind) in verdict.kinds and days <= {draft.day}


#: Kinds that an animal is not told to be of on one day.
_NOT_BOTH: Final = {
    Kind.MOLTED: Kind.PREMOLT,
    Kind.PREMOLT: Kind.MOLTED,
    Kind.SEALED: Kind.OPENED,
    Kind.OPENED: Kind.SEALED,
}


def still_there(drafts: Sequence[Draft], frame: Frame) -> None:
    """ "…, Mole's is still sitting there": said of a meal just told, in words that are not understood."""
    tags = {t for r in frame.refs if r.sure for t in r.tags}
    for draft in drafts:
        if "still" in frame.flags and frame.ref_at and draft.kind in FEEDING and tags & set(draft.tags):
            draft.doubts.append(Doubt(About.KIND, "taken_back"))


def none_of_it_stands(drafts: Sequence[Draft], why: str = "taken_back") -> None:
    """Has asked what stands of all that was told."""
    for draft in drafts:
        draft.doubts.append(Doubt(About.KIND, why))


def untrue(drafts: Sequence[Draft], frame: Frame) -> None:
    """ "murió Ink, miento": nothing of what was told stands for sure."""
    if is_untrue(frame):
        none_of_it_stands(drafts)


def taken_from_her(drafts: Sequence[Draft], frame: Frame) -> None:
    """ "Rust took a cricket but I pulled it out": whether she ate of it is asked."""
    for draft in drafts[-1:] if "taken from her" in frame.flags else ():
        if draft.kind in {Kind.FED, Kind.OFFERED}:
            choices = kind_choices(Kind.REFUSED, draft.kind)
            draft.doubts.append(Doubt(About.KIND, "two_kinds", choices=choices))


def left_over(drafts: Sequence[Draft], frame: Frame) -> None:
    """ "three crickets, two left this morning", "…, one refused": how many were eaten is asked."""
    some = bool(frame.loose) and refuses(frame) and not frame.ref_at
    if not drafts or not (some or "leftover" in frame.flags):
        return
    most = _most_of_it(frame) and drafts[-1].fields.get("count", 1) > 1
    counted = most or frame.loose or any(meal.count is not None or meal.ones for meal in frame.meals)
    tags = {t for r in frame.refs if r.sure for t in r.tags}
    if counted:
        for draft in drafts[-1:]:
            whole = draft.kind is Kind.REFUSED and draft.fields.get("count", 1) == 1  # "…, left a cricket"
            if draft.kind in FEEDING and not whole and (not frame.ref_at or tags & set(draft.tags)):
                draft.doubts.append(Doubt(About.AMOUNT, "part"))


def _most_of_it(frame: Frame) -> bool:
    """ "consumed almost all", "not all eaten": of so many as were told before."""
    left = (item.senses["leftover"].group for item in frame.clause.items if "leftover" in item.senses)
    return any(group.act == "part" for group in left)


def more_or_fewer(drafts: Sequence[Draft], frame: Frame) -> None:
    """ "Ink had two, I had to take one back", "…, my husband gave her 1 more": so many it were not."""
    last = drafts[-1] if drafts else None
    pairs = pairwise(frame.clause.items)
    the_one = any("the" in a.senses and b.cat == "N" for a, b in pairs)  # "I'm the one who picked the name"
    counts = "self" in frame.flags and frame.loose and frame.verbs and not (frame.ref_at or the_one)
    if counts and last is not None and last.kind in FEEDING and "count" in last.fields:
        last.doubts.append(Doubt(About.AMOUNT, "part"))


def untold(drafts: Sequence[Draft], frame: Frame) -> None:
    """Animals of whom a clause tells nothing that is understood, behind something told of others."""
    if not drafts:
        return
    bare = frame.ref_at and all(i.cat == "S" for i in frame.clause.items)  # "fed A1, A2 (premolt), A3"
    strange = "strange" in frame.flags and not frame.signs  # what is seen of an animal is noted
    if bare or strange or describes_prey(frame):
        drafts[-1].doubts.append(Doubt(About.KIND, "no_kind"))
    figure = next((i.text for i in frame.clause.items if i.cat == "A" and i.val.dimension in _MEASURES), None)
    if figure is not None and not (frame.ref_at or drafts[-1].doubts):
        drafts[-1].doubts.append(
            Doubt(About.AMOUNT, "number_unexplained", figure)
        )  # "ate, 5 cm of soil added"
    if drafts[-1].kind is Kind.FED and _none_of_it(frame):
        drafts[-1].doubts.append(Doubt(About.KIND, "taken_back"))
    if frame.excepted:  # whatever it says, it is not true of all of them
        drafts[-1].doubts.append(Doubt(About.SPECIMEN, "excepted_whom"))


_MEASURES: Final = frozenset({"length", "weight", "volume"})


def _none_of_it(frame: Frame) -> bool:
    """ "gave Ink a roach, nowt happening"; "nothing since" is of another time."""
    none = any(s.group.act == "none" for _, item in frame.verbs for s in item.senses.values())
    return none and not (frame.named or frame.periods or frame.days)


def instead_of(drafts: Sequence[Draft], frame: Frame) -> None:
    """ "Ink had 2 crickets, no wait, Mole had 3": whether what was told before still holds is asked."""
    opens = next((i for i in frame.clause.items if i.cat != "M"), None)
    corrects = "instead" in frame.flags or (opens is not None and "fix" in opens.senses)
    too = any("same" in i.senses for i in frame.clause.items)  # "sorry, Mole ate too"
    says = frame.ref_at or frame.prons or ("instead" in frame.flags and frame.meals)
    if corrects and not too and says and frame.clause.sep != SENTENCE:
        none_of_it_stands(drafts)


def restated(drafts: list[Draft], before: int, frame: Frame) -> bool:
    """ "Ink two, Mole four. Edit: Mole three": puts right what was told of the same one; whether it did."""
    new = drafts[before:]
    if "instead" not in frame.flags or not frame.ref_at or len(new) != 1 or new[0].kind not in FEEDING:
        return False
    same = [d for d in drafts[:before] if d.kind is new[0].kind and d.tags == new[0].tags]
    if len(same) != 1 or same[0].day != new[0].day:
        return False
    same[0].fields |= new[0].fields
    same[0].doubts += new[0].doubts
    del drafts[before:]
    return True


def gave_it_away(told: Sequence[Draft], drafts: Sequence[Draft], frame: Frame) -> None:
    """ "Ink refused, gave it to Marta": the animal, or the prey that she left?"""
    of_a_meal = any(draft.kind in FEEDING for draft in told)
    if of_a_meal and any(item.text in _IT for item in frame.clause.items):
        for draft in drafts:
            if draft.kind is Kind.LEFT:
                draft.doubts.append(Doubt(About.KIND, "two_kinds"))


_IT: Final = rule_words("it")


def takes_back(frame: Frame) -> bool:
    """ "no she didn't": what was said before it did not happen after all."""
    if "titled name" in frame.flags and "declined" in frame.flags:
        return False  # "Ink: ate. Mole: no"
    if denies_what_was_told(frame) or all("no" in item.senses for item in frame.clause.items):
        return True
    if doubts_itself(frame) or _only_tried(frame) or all(i.text in _SCRATCHES for i in frame.clause.items):
        return True
    denies = {"did", "neg"} <= frame.flags and not (frame.verbs or frame.meals)
    return denies and (not frame.ref_at or "no" in frame.flags)


_SCRATCHES: Final = rule_words("scratches")


def _only_tried(frame: Frame) -> bool:
    """ "fed Ink, or tried to anyway"."""
    words = [word for item in frame.clause.items for word in item.text.split() if item.cat == "W"]
    at = next((n for n, word in enumerate(words) if word in _TRIED), None)
    return at is not None and not _TO.isdisjoint(words[at + 1 :][:1]) and not set(words[at + 2 :]) - _AT_LEAST


_TRIED: Final = rule_words("tried")
_TO: Final = rule_words("to")
_AT_LEAST: Final = rule_words("at_least")
