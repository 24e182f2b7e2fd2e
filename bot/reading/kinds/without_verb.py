"""What a clause tells that no verb of the lexicon tells: by the animals, prey and things it names."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import SENTENCE, START
from bot.reading.clauses.figures import measures
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of
from bot.reading.items.item import Item, Ref
from bot.reading.kinds.homes_said import says_into
from bot.reading.kinds.removals import drags_out, found_there, lies_there, pulls_in, takes_out
from bot.reading.kinds.sexes_said import praises
from bot.reading.kinds.verdicts import Verdict
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import EXACT
from bot.reading.whom.counted import counted_in
from bot.reading.words.numbers import NumberSpan
from bot.reading.words.rule_words import rule_openings, rule_words
from bot.terms import Kind


def _thrown(frame: Frame) -> bool:
    """A verb of putting or throwing of which it is not clear who did it."""
    acts = acts_of(frame)
    return bool(acts & {"kick", "put", "take"}) and not frame.inherited


def _put_together(frame: Frame) -> bool:
    """ "put Twig in with Lantern": a pairing, as none of them lives with another."""
    acts = acts_of(frame)
    two = len(frame.refs) > 1 and all(len(r.tags) == 1 for r in frame.refs)
    return "put" in acts and "with" in frame.flags and two and not frame.meals and not frame.inherited


def _other_doing(frame: Frame) -> bool:
    """ "swapped for crickets": a verb of something other than feeding, though not borne out."""
    kinds = [verb.group.kind for _, i in frame.verbs for verb in i.senses.verbs]
    shared = "shares" in acts_of(frame)  # "shared her tub with a roach"
    return bool(kinds) and not frame.inherited and (shared or not any(k in FEEDING for k in kinds))


def only_likes(frame: Frame) -> bool:
    """ "Ink mag Heimchen", "she loves roaches"; not "Ink happy with her cricket"."""
    pairs = pairwise(frame.clause.items)
    likes = any("idle" in a.senses and not {"prey", "size"}.isdisjoint(b.senses) for a, b in pairs)
    return likes and not frame.verbs


def _perhaps_refused(frame: Frame) -> bool:
    """ "wollte nicht … Schabe …": a verb of refusing that is not borne out is still no word of a meal."""
    kinds = {verb.group.kind for _, i in frame.verbs for verb in i.senses.verbs}
    of_the_meal = acts_of(frame) & {"none", "of_it"}  # "response none, roach returned"
    return Kind.REFUSED in kinds and Kind.FED not in kinds and not (frame.inherited or of_the_meal)


def _out_of_it(frame: Frame) -> bool:
    """ "boluses out of T07"; "Reste bei T07" only says where they are."""
    ways_out = (item.senses["from"].group for item in frame.clause.items if "from" in item.senses)
    return any(group.act != "at" for group in ways_out)


def _by_what_is_there(frame: Frame) -> Verdict | None:
    """The kind of a clause that no verb tells, by the things it names."""
    if _put_together(frame):
        frame.flags.add("put together")
        return Verdict("told", [Kind.PAIRED])
    hands = acts_of(frame) <= {"take", "get", "put", "have", "remove", "kick"} and not frame.inherited
    emptied = frame.refs and "waste" in frame.nouns and _out_of_it(frame) and hands
    if emptied or pulls_in(frame):
        return Verdict("told", [Kind.CLEANED if emptied else Kind.FED])  # "boluses out of T07"
    other = _beside_refused(frame)
    if other is not None:
        return Verdict("doubt", [Kind.REFUSED, other], why="two_kinds")
    if frame.refs and _only_water(frame):
        return Verdict("told", [Kind.WATERED])
    if _sold_for(frame):
        return Verdict("told", [Kind.LEFT])
    if _newcomers(frame):
        return Verdict("told", [Kind.ACQUIRED])  # "10 Davus pentaloris from Karl, £80 the lot"
    offered_there = (
        "did" in frame.flags or "on_offer" in frame.said
    )  # "the shop has locusts at 5 euro", "saw …"
    if frame.meals and not frame.ref_at and _paid(frame) and not offered_there:
        return Verdict("told", [Kind.STOCKED])
    return None


def _beside_refused(frame: Frame) -> Kind | None:
    """What else than that it was left a clause may tell of prey that is there, or is gone from there."""
    if takes_out(frame) or found_there(frame):
        return Kind.CLEANED
    if drags_out(frame):
        return Kind.FED
    still_in = bool(frame.refs) and "still" in frame.flags  # "the worm is still in with Captain"
    seen_there = bool(frame.refs) and lies_there(frame) and not _in_with(frame)
    return Kind.OFFERED if frame.meals and (still_in or seen_there or _thrown(frame)) else None


def _only_water(frame: Frame) -> bool:
    """ "Ink: 1 roach, water", "1) Ink 1 roach 2) T07 water": in a list of what was given."""
    items = frame.clause.items
    if not frame.ref_at:
        return all(map(_is_water, items))
    listed = frame.ref_at == [0] and len(items) == 2 and frame.clause.sep != START
    return listed and _is_water(items[1]) and not items[0].owns


def _sold_for(frame: Frame) -> bool:
    """ "got 40 quid for Rusty": an animal of the shelf that somebody paid for."""
    items = frame.clause.items
    paid = next((at for at, item in enumerate(items) if item.cat == "A"), None)
    if paid is None or frame.inherited or frame.meals or frame.nouns or not frame.refs or not _paid(frame):
        return False
    behind = items[paid + 1 : paid + 3]
    whom = len(behind) > 1 and (behind[1].cat == "S" or "pron" in behind[1].senses) and not behind[1].owns
    own = all(r.sure and r.how in EXACT for r in frame.refs if r.how != "talked")
    got = bool(acts_of(frame) & {"get", "take", "buy"}) and [at for at, _ in frame.verbs] == [paid - 1]
    return got and whom and own and "for" in behind[0].senses


def _newcomers(frame: Frame) -> bool:
    """ "10 Davus pentaloris from Karl", "6 Nhandu tripepii slings, £48": whence, or for how much."""
    strangers = not frame.ref_at or all(r.how == "group" for r in frame.refs)
    of_a_kind = bool(frame.taxa) or (bool(frame.refs) and all(_nobody_here(ref) for ref in frame.refs))
    plain = of_a_kind and strangers and _counted(frame.clause.items[0]) and not frame.verbs
    return plain and "did" not in frame.flags and (bool(frame.from_words) or _paid(frame))


def take_for_newcomers(frame: Frame) -> None:
    """ "2 B. hamorii slings from Karl": of a species that lives here too, but none of those, are new ones."""
    first = frame.clause.items[0]
    number = counted_in(first) if first.cat == "S" and len(frame.refs) == 1 else None
    if number is None or not _nobody_here(first.val) or frame.verbs or not frame.from_words:
        return
    frame.taxa.append(first.val.species)
    frame.refs, frame.ref_at = [], []
    frame.loose.append(NumberSpan(0, 0, number))
    frame.clause.items[0] = Item("T", first.i, first.j, first.text, val=first.val.species)


def _counted(item: Item) -> bool:
    return item.cat in "NT" or item.text in _ONE_MORE


_ONE_MORE: Final = rule_words("a_or_another")


def _nobody_here(ref: Ref) -> bool:
    """ "2 T. albopilosus slings", of which the shelf has only an adult."""
    return ref.species is not None and not ref.sure and not ref.tags


def _paid(frame: Frame) -> bool:
    return any(amount.dimension == "money" for _, amount in frame.amounts)


def _is_water(item: Item) -> bool:
    return item.senses.part == "water"


def says_sex(frame: Frame) -> bool:
    """ "May's a girl!", "she's a she": whose short form of "is" looks like a possessive."""
    items = frame.clause.items
    by_tag = bool(items) and items[0].cat == "S" and items[0].val.how in EXACT and len(items) == 3
    somebody = bool(items) and (
        (items[0].cat == "S" and (items[0].owns or by_tag))
        or ("pron" in items[0].senses and items[0].text in _IS_SHORT)
    )
    if "titled name" in frame.flags and len(items) == 1 and len(frame.refs) == 1:
        group = items[0].senses.get("group")  # "Dot: female"
        one = group is not None and not group.group.plural and len(frame.refs[0].tags) == 1
        return group is not None and one and bool(group.group.sex) and group.group.stage is None
    if _is_said_of_her(items):
        return True
    if not somebody or len(items) not in {2, 3}:
        return False
    article = "a" in items[1].senses if len(items) == 3 else items[1].text.startswith(_A)
    group = items[-1].senses.get("group")
    return article and group is not None and bool(group.group.sex)


_A: Final = rule_openings("a")


def _is_said_of_her(items: Sequence[Item]) -> bool:
    """ "she is a female": a pronoun, "is", and a word for one of a sex, with an article or without."""
    if len(items) not in {3, 4} or "pron" not in items[0].senses or "did" not in items[1].senses:
        return False
    group = items[-1].senses.get("group")
    one = group is not None and bool(group.group.sex) and group.group.stage is None and not group.group.plural
    return one and (len(items) == 3 or "a" in items[2].senses)


def says_mature(frame: Frame) -> bool:
    """ "Cricket's an MM", "Twig: mature male", "Twig - mature": nothing more than what somebody is."""
    words = [i for i in frame.clause.items if i.cat != "S" and _SMALL.isdisjoint(i.senses)]
    whose = [i for i in frame.clause.items if i.cat == "S"]
    if len(words) != 1 or len(frame.refs) != 1 or len(frame.refs[0].tags) != 1 or not frame.named:
        return False
    group = words[0].senses.get("group")
    adult = words[0].text in _MATURE or (group is not None and group.group.stage == "mature male")
    said = not whose or (whose[0].owns and frame.clause.items[0] is whose[0])
    return adult and said and not (group is not None and group.group.plural)


_MATURE: Final = rule_words("mature")


#: Senses of the words that may stand beside it: "is now an MM".
_SMALL: Final = frozenset({"fill", "a", "did"})


def another_ones_sex(prev: Frame, frame: Frame) -> None:
    """ "Ink's a female, Mole male": one more whose sex was found; marks it so."""
    items = frame.clause.items
    group = items[1].senses.get("group") if len(items) == 2 and items[0].cat == "S" else None
    sexed = group is not None and bool(group.group.sex) and not group.group.plural
    if sexed and (says_sex(prev) or "her sex" in prev.flags or _kinds(prev) == {Kind.SEXED}):
        frame.flags.add("her sex")


def found_her_sex(prev: Frame, frame: Frame) -> bool:
    """ "checked May: a girl", "looked at her molt, female": what the look told; marks it so."""
    small = {"fill", "a", "hedge"}
    words = [i for i in frame.clause.items if "group" in i.senses or small.isdisjoint(i.senses)]
    group = words[0].senses.get("group") if len(words) == 1 else None
    sexed = group is not None and bool(group.group.sex) and not group.group.plural
    sexed = (
        sexed and frame.clause.sep != SENTENCE and not any("trait" in i.senses for i in frame.clause.items)
    )
    looked = _kinds(prev) in ({Kind.CHECKED}, {Kind.MOLTED}) and bool(prev.ref_at)
    if sexed and looked:
        frame.flags.add("her sex")
    return sexed and looked


def _kinds(frame: Frame) -> set[Kind | None]:
    return {verb.group.kind for _, i in frame.verbs for verb in i.senses.verbs}


_IS_SHORT: Final = rule_words("shes_short")


def _in_with(frame: Frame) -> bool:
    """ "roach in with Ink": put in, and not said what came of it."""
    return not frame.inherited and any(i.text in _IN_WITH for i in frame.clause.items)


_IN_WITH: Final = rule_words("in_with")


def without_verb(frame: Frame) -> Verdict:
    """The kind of a clause that no verb tells; "unknown" where nothing else in it does."""
    if frame.refs and {"took", "declined"} <= frame.flags:
        return Verdict("doubt", [Kind.FED, Kind.REFUSED], why="two_kinds")  # "Ink refused, Sunny did"
    if frame.refs and frame.flags & {"took", "declined"}:
        return Verdict("told", [Kind.REFUSED if "declined" in frame.flags else Kind.FED])
    if "no" in frame.flags and frame.inherited and frame.ref_at:
        return Verdict("told", [Kind.REFUSED])
    return _by_what_is_there(frame) or _by_meal(frame) or _by_value(frame) or Verdict("unknown")


def _by_meal(frame: Frame) -> Verdict | None:
    if "neg" in frame.flags and any(item.text in _SEEN for item in frame.clause.items):
        return None  # "can't see the roach"
    if "room" in frame.flags or "fix" in frame.clause.items[0].senses:
        return None  # "room for a roach in Ink's tub"; "actually no crickets for Ink"
    if frame.meals and (_other_doing(frame) or only_likes(frame)):
        return Verdict("doubt", [Kind.FED], why="two_kinds")  # "Ink mag Heimchen"
    if frame.refs and frame.meals and _perhaps_refused(frame):
        return Verdict("doubt", [Kind.REFUSED, Kind.FED], why="two_kinds")
    if frame.refs and frame.meals and _in_with(frame):
        return Verdict("told", [Kind.OFFERED])
    if frame.refs and (frame.meals or (frame.loose and "each" in frame.flags)):
        denied = "neg" in frame.flags or (frame.ref_at and "no" in frame.clause.items[-1].senses)
        return Verdict("told", [Kind.REFUSED if denied else Kind.FED])  # "Mole roach no"
    return None


_SEEN: Final = rule_words("find")


def _by_value(frame: Frame) -> Verdict | None:
    dimensions = {a.dimension for _, a in frame.amounts}
    if says_mature(frame):
        return Verdict("told", [Kind.MATURED])
    if frame.refs and "arrow" in frame.flags and "volume" in dimensions and not frame.verbs:
        return Verdict("told", [Kind.REHOUSED])  # "T12 > 12 l tub"
    if frame.refs and "volume" in dimensions and not frame.verbs and says_into(frame):
        return Verdict("told", [Kind.REHOUSED])  # "Little Bess into a 4 l tub"
    if {"volume", "length"} <= dimensions and not frame.verbs:
        return None  # "1.2 l, sub 6 cm deep": no water
    if "volume" in dimensions and "mouth" in frame.nouns and any(i.text in _DOWN for i in frame.clause.items):
        frame.nouns |= {"sub"}  # "40 ml down Ink's hole"
    if (
        frame.refs
        and "volume" in dimensions
        and (frame.nouns & {"sub", "dish", "water"} or _says_water(frame))
        and not _into(frame)
    ):
        return Verdict("told", [Kind.WATERED])
    acts = acts_of(frame)
    handed = bool("length" in dimensions and acts & {"give", "put", "take"})  # "gave her 15 cm of soil"
    handed = handed or ("weight" in dimensions and "give" in acts)  # "gave Dash 1 oz"
    if frame.refs and len(frame.loose) == 1 and not (frame.amounts or frame.meals) and measures(frame):
        return Verdict("told", [Kind.MEASURED])  # in a unit that is asked
    deep = dimensions == {"length"} and "sub" in frame.nouns  # "60 mm soil"
    if frame.refs and dimensions & {"length", "weight"} and not deep and not (handed and not frame.inherited):
        return Verdict("told", [Kind.MEASURED])
    sexed = any(g.group.sex for g in frame.groups) and "neg" not in frame.flags and not praises(frame)
    if (frame.refs and "did" in frame.flags and sexed) or says_sex(frame) or "her sex" in frame.flags:
        return Verdict("told", [Kind.SEXED])
    return None


_DOWN: Final = rule_words("down")


def _says_water(frame: Frame) -> bool:
    """ "half a cup of water for T07": in the words of the amount itself."""
    said = any(item.cat == "A" and item.text.split()[-1] in _WATER for item in frame.clause.items)
    return said and not frame.unknown


_WATER: Final = rule_words("water")


def _into(frame: Frame) -> bool:
    """ "B1 potted into 1.2 l": the volume of what somebody went into is no water."""
    items = frame.clause.items
    return any(
        amount.dimension == "volume" and 0 < at <= len(items) and items[at - 1].text in _INTO
        for at, amount in frame.amounts
    )


_INTO: Final = rule_words("into_a_tub")
