"""An account of what happened: clauses become drafts of entries, each with what is in doubt about it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any, Final

from bot.reading.accounts import said_after
from bot.reading.accounts.in_return import in_return
from bot.reading.accounts.turned_round import turned_round
from bot.reading.clauses.clause_model import SENTENCE, START
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import kinds as kinds_of
from bot.reading.doubts.account_model import Account
from bot.reading.doubts.dated_drafts import date_draft, on_each_day
from bot.reading.doubts.misgivings import misgivings
from bot.reading.doubts.only_looks_so import of_a_skin, only_looks_so
from bot.reading.doubts.passed_over import half_told, passed_over
from bot.reading.doubts.told_twice import doubt_day_told_twice, doubt_whom_twice
from bot.reading.items.item import UNKNOWN_NAME
from bot.reading.kinds.drafts import Doubt, Draft
from bot.reading.kinds.kinds import verdict_on
from bot.reading.kinds.outcomes import merges
from bot.reading.kinds.verdicts import Verdict
from bot.reading.model import FEEDING, About
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.exchanges import CameFor
from bot.reading.woven.fields import fill
from bot.reading.woven.measured_beside import measured_beside
from bot.reading.woven.whom import OF_NOBODY, animals, other_places
from bot.terms import Kind

#: Words that make a sentence other than an account of what happened.
_UNREAL = frozenset({"cond", "report", "danger", "stranger", "habit"})


def account_of(frames: Sequence[Frame], names: ShelfNames, today: date) -> Account:
    """What the clauses of a message say happened."""
    account = Account()
    unreal = False  # whether the sentence is about what might be, or is somebody else's
    elsewhere = False  # whether it is about an animal that is not of the shelf, whatever it is called
    reported = False  # whether somebody's word on an animal of the shelf was passed over
    clauses = [(frame, verdict_on(frame)) for frame in frames]
    for before, (frame, verdict) in zip((None, *frames), clauses, strict=False):
        goes_on = frame.clause.sep not in {SENTENCE, START} and not _this_time(frame, account.nothing)
        unreal, elsewhere, reported = unreal and goes_on, elsewhere and goes_on, reported and goes_on
        said_after.never_offered(account.drafts, before, verdict, frame)
        said_after.left_out(account.drafts, verdict, frame)
        said_after.untrue(account.drafts, frame)
        said_after.left_over(account.drafts, frame)
        said_after.taken_from_her(account.drafts, frame)
        turned = turned_round(account.drafts, frame)
        if verdict.state == "nothing":
            unreal = unreal or verdict.why in _UNREAL
            elsewhere = elsewhere or verdict.why == "stranger"
            reported = reported or (verdict.why == "report" and _of_the_shelf(frame))
            account.nothing.append(verdict.why)
            said_after.not_known_yet(account.drafts, verdict, frame)
        elif elsewhere or (unreal and not frame.ref_at):
            account.nothing.append("unreal")
        elif "hedge" in frame.flags and not frame.ref_at and said_after.is_doubted(account.drafts, frame):
            said_after.none_of_it_stands(account.drafts, "hedge")
        elif account.drafts and said_after.takes_back(frame) and not _left_offered(account, verdict):
            said_after.none_of_it_stands(account.drafts)
        elif said_after.taken_out_again(account.drafts, verdict, frame) or turned:
            continue
        elif verdict.state == "unknown":
            account.unknown.append(frame)
            said_after.still_there(account.drafts, frame)
            said_after.more_or_fewer(account.drafts, frame)
            said_after.untold(account.drafts, frame)
        else:
            kinds = verdict.kinds[:1] if verdict.state == "doubt" else verdict.kinds
            told = len(account.drafts)
            for kind in (*kinds, *_sized_beside(kinds, frame)):
                _tell(account, kind, frame, verdict, names, today)
            for draft in account.drafts[told:] if reported else ():
                draft.doubts.append(half_told(draft, "reported"))
            said_after.not_given_because(account.drafts, told, before, frame)
            if not said_after.restated(account.drafts, told, frame):
                said_after.instead_of(account.drafts[:told], frame)
            in_return(account.drafts, told, frame)
            said_after.gave_it_away(account.drafts[:told], account.drafts[told:], frame)
    said_after.lasted_until(account.drafts)
    passed_over(account.drafts, clauses)
    _of_one_matter(account)
    doubt_whom_twice(account.drafts)
    account.drafts = [draft for draft in account.drafts if not _only_heads(draft, account.drafts)]
    return account


def _this_time(frame: Frame, nothing: Sequence[str]) -> bool:
    """ "Ink normally takes 3 but only had 1 roach today": behind a habit, what happened."""
    told = frame.clause.turns and nothing[-1:] == ["habit"] and bool(frame.days) and not frame.inherited
    return told and any(not v.group.base for _, i in frame.verbs for v in i.senses.verbs)


def _left_offered(account: Account, verdict: Verdict) -> bool:
    """ "tried Ink with a roach, nah": a no behind what was offered takes back nothing, and was hers."""
    return account.drafts[-1].kind is Kind.OFFERED and verdict.kinds == [Kind.REFUSED]


def _of_the_shelf(frame: Frame) -> bool:
    """Whether a clause tells what happened to an animal of the shelf."""
    return bool(kinds_of(frame)) and any(ref.sure and ref.tags for ref in frame.refs)


def _of_one_matter(account: Account) -> None:
    """ "molted, looks great": that she is well is told with what happened, and is no look of its own."""
    if len(account.drafts) < 2:
        return
    prey_bought = any(d.kind is Kind.STOCKED and "prey" in d.fields for d in account.drafts)
    told_of = {t for d in account.drafts if not d.only_well for t in (*d.tags, d.fields.get("partner"))}
    mature = {d.tags for d in account.drafts if d.kind is Kind.MATURED}
    account.drafts = [
        d
        for d in account.drafts
        if not (d.only_well and set(d.tags) <= told_of and (d.tags or not d.doubts))
        and not (d.kind is Kind.MOLTED and d.tags in mature)
        and not (d.kind is Kind.CHECKED and _looked_at_with_others(d, account.drafts))
        and not (
            d.kind is Kind.STOCKED and prey_bought and "prey" not in d.fields
        )  # "feeder run: 50 locusts"
    ]


def _looked_at_with_others(draft: Draft, drafts: Sequence[Draft]) -> bool:
    """ "checked C, Mole still sealed": one look at her, told once with the others and once by itself."""
    looks = (other for other in drafts if other.kind is Kind.CHECKED and other.day == draft.day)
    return not draft.doubts and any(set(draft.tags) < set(other.tags) for other in looks)


def _only_heads(draft: Draft, drafts: Sequence[Draft]) -> bool:
    """ "feeder run: 500 pinheads, 30 hornworms": a heading over what was bought, and no purchase."""
    if draft.kind not in OF_NOBODY or draft.fields.keys() - {"prey"} or draft.doubts:
        return False
    said = draft.fields.get("prey")  # "crickets came, 1000 pinheads"
    others = [other for other in drafts if other.kind is draft.kind and other.fields and other is not draft]
    return any(
        said is None or (said == other.fields.get("prey") and "count" in other.fields) for other in others
    )


def _sized_beside(kinds: Sequence[Kind], frame: Frame) -> tuple[Kind, ...]:
    """ "molted, 13 cm now", "watered Ink, 31 g": the size told with it is a measure of its own.

    So is the meal of "Ink 25 C 2 crickets".
    """
    if not frame.amounts or not frame.refs or not kinds:
        return ()
    if list(kinds) == [Kind.CLIMATE] and frame.meals and frame.ref_at and not frame.verbs:
        return (Kind.FED,)
    of_her = {"length", "weight"} if set(kinds) <= _SHOWS_HER_SIZE else {"weight"}
    if not set(kinds) <= _SHOWS_HER_SIZE | _WORK_ON_HER:
        return ()
    return (Kind.MEASURED,) if any(amount.dimension in of_her for _, amount in frame.amounts) else ()


_SHOWS_HER_SIZE: Final = frozenset({Kind.MOLTED, Kind.MATURED})
#: What the keeper does beside the scale; a length told with it may be of her home.
_WORK_ON_HER: Final = frozenset({Kind.WATERED, Kind.CLEANED, Kind.CHECKED})


def _tell(
    account: Account, kind: Kind, frame: Frame, verdict: Verdict, names: ShelfNames, today: date
) -> None:
    filled = fill(kind, frame, verdict.groups)
    draft = Draft(kind, (), today, fields=filled.fields, doubts=filled.doubts)
    if verdict.state == "doubt":
        draft.doubts.append(
            Doubt(About.KIND, verdict.why, choices=[(k.value, {"kind": k}) for k in verdict.kinds])
        )
    animals(draft, kind, frame, names)
    acts = {group.act for group in verdict.groups}
    draft.only_well = "well" in acts or (kind is Kind.CHECKED and of_a_skin(frame))
    if only_looks_so(kind, frame, draft, verdict, account):
        return
    if "unknown" in acts:  # "will check tomorrow" dates the look, not the meal
        frame.days = [d for d in frame.days if d.day is None or d.day <= today]
    date_draft(draft, frame, today)
    draft.doubts += misgivings(draft, frame)
    if "second" in frame.flags and kind in FEEDING:
        draft.doubts.append(Doubt(About.AMOUNT, "part"))
    _leftovers(draft, kind, frame, filled)
    account.drafts += [other for other in other_places(draft, frame) if not _repeats(account, other)]
    if _goes_with_another(account, draft, frame) or _only_awaited(account, draft, frame, verdict):
        return
    account.drafts.append(draft)
    measure = measured_beside(draft, frame)
    account.drafts += [measure] if measure is not None else []
    account.drafts += on_each_day(draft, frame, today)
    if kind is Kind.LEFT and frame.came is not None:
        _exchanged(account, draft, frame.came)
    for meal in frame.meals[1:]:
        if kind in FEEDING and "or" not in frame.flags and meal.prey:
            more = Draft(
                kind, draft.tags, draft.day, draft.time, doubts=list(draft.doubts), of_group=draft.of_group
            )
            for name in ("prey", "count", "size"):
                if getattr(meal, name) is not None:
                    more.fields[name] = getattr(meal, name)
            account.drafts.append(more)


def _goes_with_another(account: Account, draft: Draft, frame: Frame) -> bool:
    """Whether a draft only adds to one before it."""
    if not draft.tags and any(doubt.key == UNKNOWN_NAME for doubt in draft.doubts):
        return False  # whoever that is, it is another
    if doubt_day_told_twice(account.drafts, draft, frame):
        return True
    of_a_meal = draft.kind in FEEDING
    return merges(account.drafts, draft, frame) if of_a_meal else _repeats(account, draft)


def _only_awaited(account: Account, draft: Draft, frame: Frame, verdict: Verdict) -> bool:
    """ "Ink has not eaten yet", "whether Ink ate": what is not known, of a meal that nobody told of."""
    unknown = {group.act for group in verdict.groups} == {"unknown"}
    awaited = unknown and not (draft.fields or any(meal.doubt for meal in frame.meals))
    if awaited:
        account.nothing.append("undone")
    return awaited


def _exchanged(account: Account, draft: Draft, came: CameFor) -> None:
    """ "swapped Sunny with Marta for a Nhandu chromatus": what came in return."""
    said = {"species": came.species, "count": came.number}
    fields: dict[str, Any] = {k: v for k, v in said.items() if v is not None}
    if "to" in draft.fields:
        fields["source"] = draft.fields["to"]
    account.drafts.append(
        Draft(Kind.ACQUIRED, (), draft.day, draft.time, fields=fields, doubts=list(draft.doubts))
    )


def _leftovers(draft: Draft, kind: Kind, frame: Frame, filled: Any) -> None:
    left = len(frame.loose) - filled.used_loose
    if left > 0 and kind not in {Kind.NOTE, Kind.CHECKED}:
        words = next((str(n.value) for n in reversed(frame.loose) if n.value is not None), "")
        draft.doubts.append(Doubt(About.AMOUNT, "number_unexplained", words))


def _in_two_ways(one: Draft, other: Draft) -> bool:
    """ "misted shelf D and filled the dishes": each an entry of its own."""
    ways = [draft.fields.get("how") for draft in (one, other)]
    return None not in ways and ways[0] is not ways[1]


def _repeats(account: Account, draft: Draft) -> bool:
    """Draws together what is said twice of the same animals: "premolt, dark patch", "6.8 cm, 5.2 g"."""
    if draft.kind in OF_NOBODY:
        return False
    for earlier in account.drafts:
        if (earlier.kind, earlier.tags, earlier.day, earlier.fields.get("place")) != (
            draft.kind,
            draft.tags,
            draft.day,
            draft.fields.get("place"),
        ):
            continue
        if draft.kind is Kind.WATERED and _in_two_ways(earlier, draft):
            continue
        if any(earlier.fields.get(k, v) != v for k, v in draft.fields.items()):
            earlier.doubts.append(Doubt(About.AMOUNT, "two_values"))
            return True
        earlier.fields.update(draft.fields)
        earlier.time = earlier.time or draft.time
        known = {(d.about, d.key, d.words) for d in earlier.doubts}
        earlier.doubts += [d for d in draft.doubts if (d.about, d.key, d.words) not in known]
        return True
    return False
