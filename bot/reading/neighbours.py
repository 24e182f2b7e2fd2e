"""What one clause takes from its neighbours: prey, counts, outcomes; and what tells that it may."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bot.reading.amounts_words import OF_THE_AIR
from bot.reading.clauses import AND, ANSWERS, COMMA, RUN_ON, answers
from bot.reading.frames import Frame
from bot.reading.items import Item, Ref
from bot.reading.marks import TICKS
from bot.reading.meals import Meal
from bot.reading.model import FEEDING
from bot.terms import Kind, PreySize


def of_the_air(frame: Frame) -> bool:
    """Whether a clause tells of warmth or humidity."""
    return any(amount.dimension in OF_THE_AIR for _, amount in frame.amounts)


def waters(frame: Frame) -> bool:
    """ "…, then 30 ml in the soil for her": water of its own, and no size of the home just told."""
    poured = {amount.dimension for _, amount in frame.amounts} == {"volume"}
    return poured and bool(frame.nouns & {"sub", "dish", "water"}) and "box" not in frame.nouns


def poured_alike(prev: Frame, frame: Frame) -> bool:
    """ "watered Ink 50 ml, Mole 100 ml": so much water for the next one, too."""
    poured = all({a.dimension for _, a in f.amounts} == {"volume"} for f in (prev, frame))
    plain = not (frame.verbs or frame.meals or frame.loose or frame.nouns - prev.nouns)
    plain = plain and all(
        i.cat in "SA" or {"fill"} == i.senses.keys() for i in frame.clause.items
    )  # not "into 5 l"
    return poured and plain and kinds(prev) == {Kind.WATERED}


def of_newcomers(frame: Frame) -> bool:
    """ "bought 2 tarantulas, fed Ink": those bought are none of the shelf."""
    measured = not frame.flags.isdisjoint({"span", "weight", "carapace"})  # "molted. New leg span 13 cm"
    told = frame.taxa or frame.groups or "animal" in frame.flags or ("new" in acts_of(frame) and not measured)
    return bool(told) and Kind.ACQUIRED in kinds(frame)


def said_strangely(frame: Frame) -> bool:
    """ "fed Ink, Mole frobbed", "fed Ink, Mole is dry": a word behind a name tells of that animal."""
    items = frame.clause.items
    by_keeper = any("self" in item.senses for item in items[: min(frame.ref_at, default=0)])
    return by_keeper or any(_says_of_it(items[at + 1 :]) for at in frame.ref_at)


def _says_of_it(behind: Sequence[Item]) -> bool:
    """Whether words behind a name tell of it: one not understood, or any that "is" or "has" links with it."""
    linked = False
    for item in behind:
        if "same" in item.senses:
            return False
        if item.cat == "U" or (linked and item.cat == "W"):
            return bool(item.text.isalpha())
        if item.text.split()[-1] == "fasting":
            return True
        if not {"did", "fill"} & item.senses.keys():
            return False
        linked = linked or "did" in item.senses or item.text in _SEEMS
    return False


#: What links an animal with how it is seen to be.
_SEEMS = frozenset({"looks", "seems", "looked", "seemed"})


def another_day(prev: Frame, frame: Frame) -> bool:
    """ "fed Ink on Monday and Biscuit on Tuesday": each has a day of its own."""
    days = {(d.day, d.doubt) for d in frame.days}
    return bool(days) and bool(prev.days) and days != {(d.day, d.doubt) for d in prev.days}


def dated(frame: Frame) -> bool:
    """ "Ink mon": a day is said in the clause itself."""
    return bool(frame.days) and any(i.cat == "D" for i in frame.clause.items)


def lists_days(prev: Frame, frame: Frame) -> bool:
    """ "fed Ink on Monday and Tuesday": a day right behind a day."""
    small = ("on", "the")
    only = len(frame.days) == 1 and all(
        i.cat == "D" or i.text == "again" or any(c in i.senses for c in small) for i in frame.clause.items
    )
    ends = bool(prev.verbs) and prev.clause.items[-1].cat == "D" and bool(prev.days)
    then = frame.clause.sep in {AND, COMMA} or (frame.clause.items[0].cat != "D" and not frame.clause.titled)
    return only and ends and then and another_day(prev, frame)


def bounds_a_stretch(frame: Frame) -> bool:
    """ "molted between Monday and Wednesday": one day of a stretch, and not both of its ends."""
    items = frame.clause.items
    return any(a.text in {"between", "from"} and b.cat == "D" for a, b in pairwise(items))


def doubts_the_day(frame: Frame) -> bool:
    """ "fed Ink, unless that was yesterday"."""
    opens = "cond" in frame.clause.items[0].senses
    return opens and "future" not in frame.flags and "did" in frame.flags


def hands_out(frame: Frame) -> bool:
    """ "roaches to Biscuit": the meal first, then to whom it goes."""
    first = next((i for i in frame.clause.items if i.cat == "S" or "prey" in i.senses), None)
    return (
        first is not None
        and first.cat != "S"
        and not frame.verbs
        and bool(frame.refs)
        and bool(frame.flags & {"to", "with"})
    )


def takes_waste(frame: Frame) -> bool:
    """ "boluses out of T07": first what was taken out, then of whose home."""
    first = min(frame.ref_at, default=0)
    return first > 0 and not frame.verbs and "waste" in frame.nouns and "from" in frame.flags


def leads(frame: Frame, following: Sequence[Frame]) -> bool:
    """Whether a bare name belongs to the next clause: "…, Biscuit and Sunny refused"."""
    if frame.clause.turns:
        return begins_a_list(following)
    nxt = following[0] if following else None
    if nxt is None or not nxt.refs or nxt.clause.sep != AND:
        return False
    return frame.clause.sep == COMMA and bool(nxt.verbs) and not nxt.verb_first


def begins_a_list(following: Sequence[Frame]) -> bool:
    """ "…, but Mole, Twig and Dot refused": whether names that follow end with what those named did."""
    for frame in following:
        if not frame.refs or frame.clause.sep not in {COMMA, AND}:
            return False
        if not frame.bare:
            return not frame.verb_first and bool(frame.verbs or frame.meals or "neg" in frame.flags)
    return False


def has_a_thing(frame: Frame) -> bool:
    """ "filled Ink's dish": what was done to a thing of hers is not done to the animal named next."""
    last = frame.clause.items[frame.ref_at[-1]] if frame.ref_at else None
    return last is not None and bool(last.owns) and not frame.inherited


def kinds(frame: Frame) -> frozenset[Kind]:
    """The kinds that the verbs of a clause may tell of."""
    verbs = frame.verbs
    if len(verbs) == 1:
        return verbs[0][1].senses.kinds
    return frozenset().union(*[item.senses.kinds for _, item in verbs])


def among(refs: Sequence[Ref], others: Sequence[Ref]) -> bool:
    """Whether the animals are some, but not all, of others."""
    tags = {t for r in refs for t in r.tags if r.sure}
    listed = {t for r in others for t in r.tags if r.sure and r.how != "place"}
    return bool(tags) and tags < listed


def denies_what_was_told(frame: Frame) -> bool:
    """ "Ink molted. No she didn't": what was said before it did not happen after all."""
    fixes = (i.senses["fix"].group for i in frame.clause.items if "fix" in i.senses)
    return any(group.act == "denial" for group in fixes)


def feeds(frame: Frame) -> bool:
    """Whether a verb of the clause tells of a meal."""
    return bool(kinds(frame) & FEEDING)


def refuses(frame: Frame) -> bool:
    """Whether a verb of the clause tells of a refusal."""
    return Kind.REFUSED in kinds(frame) and Kind.FED not in kinds(frame)


def names_prey(frame: Frame) -> bool:
    """ "Crickets:" above a list of animals with their numbers."""
    only = len(frame.meals) == 1 and not (frame.refs or frame.verbs or frame.loose or frame.amounts)
    return frame.clause.titled and only and frame.meals[0].count is None and not frame.meals[0].doubt


def of_that_prey(frame: Frame, of: Meal, size: PreySize | None = None, *, prekilled: bool = False) -> None:
    """A bare number counts the prey that is named elsewhere; ``size`` where its own is not said."""
    if len(frame.loose) != 1 or frame.meals or frame.amounts:
        return
    number = frame.loose[0]
    if number.value is not None and not number.doubt:
        meal = Meal()
        own = [i.senses["size"].group.size for i in frame.clause.items if "size" in i.senses]
        meal.prey, meal.size, meal.count = of.prey, own[0] if own else size, int(number.value)
        meal.prekilled = prekilled
        frame.meals, frame.loose = [meal], []


def counts_on(frame: Frame, told: Sequence[Frame]) -> None:
    """ "Ink: 2 crickets. Mole: refused. Dot: 1": in a list of animals a bare number is of that prey."""
    if frame.verbs or frame.unknown or frame.nouns:
        return
    for other in reversed(told):
        if not other.refs or other.unknown or other.amounts or (other.verbs and not refuses(other)):
            return
        if other.meals and not other.verbs:
            of_that_prey(frame, other.meals[0])
            return


def as_said_again(meal: Meal, frame: Frame) -> Meal:
    """The meal before, for "same for Biscuit"; one of it for "one for Biscuit"."""
    count = next((i.senses["same"].group.count for i in frame.clause.items if "same" in i.senses), None)
    if count is None:
        return meal
    again = Meal()
    again.prey, again.size, again.prekilled, again.count = meal.prey, meal.size, meal.prekilled, count
    return again


def share_verbs_back(frames: Sequence[Frame]) -> None:
    """ "250 crickets and 50 locusts delivered": both were."""
    for frame, nxt in pairwise(frames):
        if nxt.meals and nxt.verbs and not feeds(nxt) and not frame.verbs and "size" in frame.said:
            of_that_prey(frame, nxt.meals[0])  # "100 small and 50 large dubias arrived"
        alike = frame.meals and nxt.meals and not (frame.ref_at or nxt.ref_at)
        if alike and nxt.verbs and not frame.verbs and nxt.clause.sep == AND:
            frame.verbs, frame.inherited = nxt.verbs, True


def share_prey_back(frames: list[Frame]) -> None:
    """ "Ink 2, Bess 1 cricket": a bare number takes the prey named after it."""
    later: Frame | None = None
    for frame in list(reversed(frames)):
        if frame.meals:
            later = frame
        elif later is not None and _one_for(frame):
            frame.meals = [as_said_again(later.meals[0], frame)]  # "one for Ink, two for Mole, crickets"
        elif (
            later is not None
            and "eggs" not in frame.nouns
            and (feeds(frame) or not (frame.verbs or _of_strange_things(frame)))
        ):
            of_that_prey(frame, later.meals[0], later.meals[0].size)
            if frame.meals and later in frames and _only_names_prey(later):
                frames.remove(later)  # "3 for Ink, 2 for Sunny, crickets"


def _one_for(frame: Frame) -> bool:
    """ "one for each of the GBBs" with nothing told before that it could be more of."""
    said = frame.clause.items[0].senses.get("same") if frame.clause.items else None
    more = frame.verbs or frame.meals or frame.loose or frame.amounts or frame.unknown
    return said is not None and said.group.count is not None and bool(frame.ref_at) and not more


def _only_names_prey(frame: Frame) -> bool:
    plain = all(not _NAMES_PREY.isdisjoint(i.senses) for i in frame.clause.items)
    return plain and frame.meals[0].count is None


#: "…, crickets", "… - all small crickets".
_NAMES_PREY = frozenset({"prey", "size", "all"})


def hers_and_anothers(prev: Frame, frame: Frame) -> bool:
    """ "Mole got hers plus Ink's": what another was to have, who got nothing."""
    items, last = frame.clause.items, prev.clause.items[-1]
    alone = len(items) == 1 and bool(items[0].owns) and frame.clause.sep in {AND, COMMA}
    return alone and last.text.split()[-1] in _HERS


_HERS = frozenset({"hers", "his", "theirs", "own"})


def leaves_her_dish(frame: Frame) -> bool:
    """ "Ink's dish was still full so left it": the keeper left the dish, and no meal is told of."""
    pairs = pairwise(frame.clause.items) if "dish" in frame.nouns else ()
    dish = any(a.cat == "S" and a.owns and "noun" in b.senses for a, b in pairs)
    left = all(item.text.split()[0] in _LEFT for _, item in frame.verbs)
    return dish and left and not frame.meals and not frame.inherited


def of_that_thing(prev: Frame, frame: Frame) -> None:
    """Marks what a clause does to the burrow or the sac that was just told of."""
    if of_her_burrow(prev, frame):
        frame.nouns.add("mouth")
    if of_her_sac(prev, frame):
        frame.flags.add("pulls her sac")


def of_her_burrow(prev: Frame, frame: Frame) -> bool:
    """ "opened the burrow then closed it again": what is closed or opened is what was just told of."""
    sure = "mouth" in prev.nouns or any(not v.group.weak for _, i in prev.verbs for v in i.senses.verbs)
    told = kinds(prev) <= {Kind.OPENED, Kind.SEALED} and bool(prev.verbs) and sure
    it = any(i.text == "it" for i in frame.clause.items)
    return (
        told and it and kinds(frame) <= {Kind.OPENED, Kind.SEALED} and not frame.nouns and bool(frame.verbs)
    )


def of_her_sac(prev: Frame, frame: Frame) -> bool:
    """ "laid 2 May, pulled it 10 May": what is pulled behind a sac is that sac."""
    of_a_sac = kinds(prev) == {Kind.SAC} or "sac" in acts_of(prev)
    sac = of_a_sac and not (frame.meals or frame.nouns or frame.amounts or frame.unknown)
    small = (i for i in frame.clause.items[1:] if _OF_THE_DISH.isdisjoint(i.senses))
    pulled = len(frame.verbs) == 1 and frame.verbs[0][0] == 0 and frame.verbs[0][1].text in _PULLS
    return sac and pulled and all(i.cat == "D" for i in small)


_PULLS = frozenset({"pulled", "took", "took it", "removed", "took away"})


def fills_her_dish(frame: Frame, nouns: set[str]) -> bool:
    """ "Ink's bowl was dry, filled it": by the keeper, and what is filled is the dish just spoken of."""
    if "dish" not in nouns or frame.ref_at or frame.nouns or frame.meals or len(frame.verbs) != 1:
        return False
    small = (i for i in frame.clause.items[1:] if _OF_THE_DISH.isdisjoint(i.senses))
    if frame.verbs[0][0] or frame.verbs[0][1].text not in _FILLS or any(i.cat not in "DAM" for i in small):
        return False
    frame.nouns.add("dish")
    return True


#: Senses of the small words behind it: "filled it up again".
_OF_THE_DISH = frozenset({"pron", "fill", "on"})
_FILLS = frozenset({"filled", "refilled", "topped", "topped up", "topped off", "replenished", "freshened"})
_LEFT = frozenset({"left", "leaving", "leave"})


def ticked(frame: Frame) -> bool:
    """Whether a tick or a cross stands in a clause."""
    return any(item.text in TICKS for item in frame.clause.items)


def _of_strange_things(frame: Frame) -> bool:
    """ "one hand free, Ink had a cricket": a number of what is no animal and no prey."""
    return bool(frame.unknown) and not frame.ref_at


def ticked_off(frames: list[Frame]) -> None:
    """ "Ink ✓, Sunny ✗", "Ink yes, Sunny no": took it and did not, where the message is about feeding."""
    _undone(frames)
    signs = [({i.text for i in f.clause.items} & TICKS) or answer(f) for f in frames]
    if not any(signs):
        return
    other = any(f.verbs and not feeds(f) for f in frames)
    feeding = any(ticked(f) and "✗" in sign for f, sign in zip(frames, signs, strict=True)) or any(
        f.meals or feeds(f) or "food" in f.nouns for f in frames
    )
    if other or not feeding:
        return
    for frame, sign in zip(frames, signs, strict=True):
        of_others = frame.inherited and not ticked(frame)  # "offered crickets: Ink no, Mole yes"
        if frame.ref_at and len(sign) == 1 and (of_others or not frame.verbs):
            either = refuses(frame)  # "refused: Ink yes": that she did, or that she ate?
            frame.verbs = []
            frame.flags |= {"took", "declined"} if either else {"took" if "✓" in sign else "declined"}


def _undone(frames: Sequence[Frame]) -> None:
    """ "watered: Ink yes, Mole no", "water: not Ink": what others did, and what this one did not."""
    for frame in frames:
        not_her = answer(frame) == {"✗"} or _not_of(frame)
        if frame.inherited and not_her and not feeds(frame):
            frame.flags.add("undone")
    for frame, following in pairwise(frames):
        last = frame.clause.items[-1]
        own = bool(frame.verbs) and not frame.inherited and "verb" not in last.senses
        if own and following.clause.sep == RUN_ON and ANSWERS.get(last.text) == "✗":
            frame.flags.add("hedge")  # "offered crickets - Ink no Mole yes", "Ink ate no Biscuit ate"


def _not_of(frame: Frame) -> bool:
    """ "not Ink": nobody but those of whom it is not so, behind a "not"."""
    items = frame.clause.items
    named = len(items) > 1 and all(i.cat in "SDM" or "and" in i.senses for i in items[1:])
    return named and items[0].text == "not" and items[1].cat == "S"


def answer(frame: Frame) -> set[str]:
    """The sign for a clause that is animals and a "yes" or "no" behind them; empty for any other."""
    items = [i for i in frame.clause.items if i.cat not in "DM"]
    if len(items) < 2 or not answers(items, len(items) - 1):
        return set()
    named = all(i.cat == "S" or "and" in i.senses for i in items[:-1])
    return {ANSWERS[items[-1].text]} if named else set()


def acts_of(frame: Frame) -> frozenset[str]:
    """What the verbs of a clause may do, as the lexicon calls it."""
    verbs = frame.verbs
    if len(verbs) == 1:
        return verbs[0][1].senses.acts
    return frozenset().union(*[item.senses.acts for _, item in verbs])


def sold_on(frame: Frame, prev: Frame | None) -> bool:
    """ "Marta took Ink for 25 euro and Bess for 40": one more that goes to her; marks it so."""
    goes = prev is not None and (Kind.LEFT in kinds(prev) or "goes to them" in prev.flags)
    paid = bool(frame.amounts) and all(a.dimension == "money" for _, a in frame.amounts)
    if prev is None or not (goes and paid) or frame.meals:
        return False
    frame.to_words = frame.to_words or prev.to_words
    frame.flags |= prev.flags & {"goes to them", "to", "with"}
    return True


def sizes_up(prev: Frame, frame: Frame) -> bool:
    """ "Ink ate 2 roaches, small ones": how big those were that were just told."""
    if len(frame.meals) != 1 or not prev.meals or frame.flags & {"neg", "no"}:
        return False
    meal = frame.meals[0]
    told = prev.meals[-1]
    only = meal.prey is None and meal.size is not None and not frame.loose
    return only and told.size is None and (meal.count is None or told.count is None)


def named_again(frame: Frame, of: Meal) -> None:
    """ "one dubia in with Ink, another in with Bess": prey that a word stands for is what was named."""
    for meal in frame.meals:
        if meal.ones and meal.prey is None:
            meal.prey, meal.size = of.prey, meal.size or of.size


def counts_her_eggs(prev: Frame, frame: Frame) -> bool:
    """ "sac pulled at day 35 – 112 EWLs", "took the sac, counted 98 eggs": what was in it."""
    of_a_sac = Kind.SAC in kinds(prev) or "sac" in acts_of(prev)
    only = kinds(frame) <= {Kind.SAC} and not (frame.ref_at or frame.meals or frame.amounts or prev.loose)
    return of_a_sac and only and "eggs" in frame.nouns and len(frame.loose) == 1


def fills_home(prev: Frame, frame: Frame) -> bool:
    """ "Ink is in her new tub, gave her 15 cm of soil": the depth of what is in the home just told."""
    moved = kinds(prev) == {Kind.REHOUSED} and not any(a.dimension == "length" for _, a in prev.amounts)
    deep = bool(frame.amounts) and all(a.dimension == "length" for _, a in frame.amounts)
    given = not frame.verbs or acts_of(frame) & {"give", "put", "have", "take", "own_mouth", "pour"}
    return moved and deep and "sub" in frame.nouns and bool(given) and not frame.ref_at and not frame.meals


def said_of(frame: Frame, before: Sequence[Frame]) -> Frame | None:
    """ "K6 same as K1": the clause that told of whom a clause ends with."""
    items = frame.clause.items
    compared = len(frame.refs) > 1 and any(i.text in {"as", "same as"} for i in items) and frame.ends_with_ref
    tags = set(frame.refs[-1].tags) if compared else set()
    return next((f for f in before if tags and any(tags == set(r.tags) for r in f.refs)), None)


def describes_one(frame: Frame) -> bool:
    """Whether words stand for one animal, not by its sex: "the little one", "this one"."""
    return any(" " in sense.words and not (sense.group.plural or sense.group.sex) for sense in frame.prons)
