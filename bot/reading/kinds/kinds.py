"""What kind of entry a clause tells of, from its verb and from what is said around it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.amounts.words import OF_THE_AIR
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of
from bot.reading.items.item import Item
from bot.reading.kinds.feeders_home import of_the_feeders
from bot.reading.kinds.outcomes import describes_prey, is_at_large, left_the_other
from bot.reading.kinds.polarity import as_denied
from bot.reading.kinds.sacs_told import of_sac
from bot.reading.kinds.senses_that_hold import sense_that_holds
from bot.reading.kinds.sexes_said import told_by_her_skin
from bot.reading.kinds.verdicts import Verdict
from bot.reading.kinds.without_verb import without_verb
from bot.reading.model import FEEDING
from bot.reading.words.phrasings import word_set
from bot.reading.words.rule_words import rule_words
from bot.reading.words.word_groups import Group
from bot.terms import Kind


def verdict_on(frame: Frame) -> Verdict:
    """The kind that a clause tells of."""
    flags = frame.flags
    of_prey_alone = _of_prey_alone(frame)
    if of_prey_alone is not None:
        return of_prey_alone
    if _done_to_those_due(frame):  # who of a group they were, only the round could tell
        flags -= {"undone"}
        flags |= {"which"}
    of_the_air = _measured(frame)
    of_her_skin = Verdict("told", [Kind.SEXED]) if frame.groups and told_by_her_skin(frame) else None
    for flag in _TELLS_NOTHING if not flags.isdisjoint(_TELLS_NOTHING) else ():
        by_a_thing = flag == "report" and (of_the_air or of_her_skin)  # "the hygrometer says": no hearsay
        if flag in flags and not by_a_thing:
            return Verdict("nothing", why=flag)
    told = [(sense_that_holds(frame, at, item), item, at) for at, item in frame.verbs]
    found = [(group, item, at) for group, item, at in told if group is not None]
    why = _why_nothing(frame, found)
    if why:
        return Verdict("nothing", why=why)
    if _is_open(frame, [group.act for group, _, _ in found]):
        return Verdict("doubt", [Kind.REFUSED, Kind.FED], why="two_kinds")
    found = _up_to_what_is_not_known(found)
    if _only_asks_itself(frame, found):
        return Verdict("nothing", why="cond")
    rest = [f for f in found if f[0].act != "skip"]
    skips = len(rest) < len(found)
    if skips and (not rest or not frame.ref_at or any(g.kind in FEEDING for g, _, _ in rest)):
        return Verdict("nothing", why="skip")  # "skipped Mole", "skipped whoever's sealed"
    found = rest
    if found and "✗" in [item.text for item in frame.clause.items]:
        return _crossed(frame, found)
    if "goes to them" in flags and frame.refs:
        return Verdict("told", [Kind.LEFT])  # "Marta took Ink for 25 euro"
    verdict = of_the_air or of_her_skin or _from_verbs(frame, found) or without_verb(frame)
    return _as_sure_as_told(frame, verdict)


#: What she did to her prey, of which is not told what came of it: "dropped it", "sniffed at the roach".
_OPEN: Final = frozenset({"dropped", "sniffs"})


def _is_open(frame: Frame, acts: Sequence[str | None]) -> bool:
    """Whether it is told what she did to her prey, or that she looked at it, and not what came of it."""
    at_her_meal = bool(frame.meals) and "looks_at" in acts_of(frame) and "looks_at" not in acts
    return at_her_meal or not _OPEN.isdisjoint(acts)


def _up_to_what_is_not_known(found: list[tuple[Group, Item, int]]) -> list[tuple[Group, Item, int]]:
    """ "put a roach in, dunno if she got it": what stands behind the "if" is not told."""
    at = next((n for n, (group, item, _) in enumerate(found) if _is_not_known_if(group, item)), None)
    return found if at is None else found[: at + 1]


def _is_not_known_if(group: Group, item: Item) -> bool:
    """ "dunno if", "can't see whether"."""
    return group.act == "unknown" and not _IF.isdisjoint(item.text.split())


_IF: Final = rule_words("if_or_whether")


def _only_asks_itself(frame: Frame, found: list[tuple[Group, Item, int]]) -> bool:
    """ "dunno if Ink ate": nothing is told before it that was given, and whom it is of stands behind it."""
    if len(found) != 1:
        return False
    ((group, item, at),) = found
    behind = bool(frame.ref_at) and not frame.inherited and frame.ref_at[0] > at
    return behind and _is_not_known_if(group, item)


def _of_prey_alone(frame: Frame) -> Verdict | None:
    """The verdict on a clause that is of feeders, or of their home, and of no animal's meal."""
    if of_the_feeders(frame):
        return Verdict("nothing", why="feeders")
    return Verdict("unknown") if describes_prey(frame) or is_at_large(frame) else None


def _as_sure_as_told(frame: Frame, verdict: Verdict) -> Verdict:
    """The verdict as it is, or a doubt where the keeper says "I think", "maybe"; of the day alone, that."""
    hedged = "hedge" in frame.flags and verdict.kinds != [Kind.PREMOLT]
    unsure = verdict.state == "told" and (hedged or "believed" in frame.flags)
    if not unsure or _one_or_another(frame) or _of_whom_alone(frame):
        return verdict
    if _doubts_the_day(frame):
        frame.flags.add("loose day")
        return verdict
    return Verdict("doubt", verdict.kinds, verdict.groups, why="hedge")


def _done_to_those_due(frame: Frame) -> bool:
    """ "fed everyone on C who was due": done by the keeper, to those of a group that it was time for."""
    due = next((at for at, item in enumerate(frame.clause.items) if item.text in _DUE), None)
    return due is not None and any(
        at < due and any(verb.group.keeper and not verb.group.base for verb in item.senses.verbs)
        for at, item in frame.verbs
    )


_DUE: Final = rule_words("bare_due")


def _doubts_the_day(frame: Frame) -> bool:
    """ "B2 molted 5 days ago, I think": it did, and the doubt is of the day right before."""
    items = frame.clause.items
    if len(items) < 2 or "hedge" not in items[-1].senses or items[-2].cat != "D":
        return False
    others = any("hedge" in item.senses for item in items[:-1])
    return not others and items[-2].text.split()[0] not in _NOW


_NOW: Final = rule_words("lately")


def _one_or_another(frame: Frame) -> bool:
    """Whether an "or" stands between animals, meals or numbers, of which is asked anyway."""
    if any(item.cat == "N" and not _OR.isdisjoint(item.text.split()) for item in frame.clause.items):
        return True  # "I believe Captain ate four or maybe five crickets"
    counted = bool(frame.loose) and any(meal.count is not None for meal in frame.meals)
    return "or" in frame.flags and (len(frame.refs) > 1 or len(frame.meals) > 1 or counted)


_OR: Final = rule_words("or")


def _one_thing_or_another(frame: Frame) -> bool:
    """ "A1 – fed or refused": an "or" between two verbs, one of which says what happened."""
    at = [n for n, _ in frame.verbs]
    between = frame.clause.items[min(at) + 1 : max(at)] if at and not frame.inherited else ()
    return any("or" in item.senses for item in between)


def _of_whom_alone(frame: Frame) -> bool:
    """ "a genic moulted, no clue which": only who of several it was is not known, and asked anyway."""
    hedges = [item.text.split() for item in frame.clause.items if "hedge" in item.senses]
    whose = all(not _WHOSE.isdisjoint(words) for words in hedges)
    return bool(hedges) and whose and any(not ref.sure and len(ref.tags) > 1 for ref in frame.refs)


_TELLS_NOTHING: Final = ("cond", "report", "habit", "danger", "stranger", "taken from her", "went before")


def _idly(frame: Frame, found: list[tuple[Group, Item, int]]) -> str:
    """Why a clause tells of nothing: "I love Ink", "might sell Sunny", "I ate too much"; else empty."""
    if _IDLERS.isdisjoint(frame.flags) or any(meal.prey for meal in frame.meals) or frame.amounts:
        return ""
    if "idle" in frame.flags and all("idle" in item.senses for _, item, _ in found):
        return "idle"
    groups = [verb.group for _, i in frame.verbs for verb in i.senses.verbs]
    bare = any(group.base and group.keeper for group in groups) or _may_get(frame)
    if "hedge" in frame.flags and bare and not found:
        return "undone"
    own = [at for group, _, at in found if group.kind is Kind.FED and not (group.keeper or group.weak)]
    ate = (
        bool(own) and not frame.refs and all(at and "self" in frame.clause.items[at - 1].senses for at in own)
    )
    return "self" if ate else ""


def _why_nothing(frame: Frame, found: list[tuple[Group, Item, int]]) -> str:
    """Why a clause with verbs tells of nothing that happened; empty where it does tell."""
    if "undone" in frame.flags or "future" in frame.flags:
        unknown = [g for g, _, _ in found if g.act == "unknown"]
        if not unknown or len(found) == len(unknown):
            return "undone"
    if found and all(group.act == "unknown" for group, _, _ in found) and _only_waits(frame):
        return "undone"
    if "says_no" in acts_of(frame) and not any(g.act == "says_no" for g, _, _ in found):
        return "report"  # "Marta said no to a roach for Ink"
    return _idly(frame, found)


def _may_get(frame: Frame) -> bool:
    """ "might get another GBB"."""
    return len(frame.verbs) == 1 and frame.verbs[0][1].text in _GETS and not frame.before


_GETS: Final = rule_words("get")
_IDLERS: Final = frozenset({"idle", "hedge", "self"})


def _crossed(frame: Frame, found: list[tuple[Group, Item, int]]) -> Verdict:
    """A verb with a cross: "ate ✗" was refused; "fed Ink ✗" may be either; "watered Ink ✗" was not done."""
    kinds = {g.kind for g, _, _ in found}
    if kinds == {Kind.REFUSED} or (kinds == {Kind.FED} and (frame.inherited or not found[0][0].keeper)):
        return Verdict("told", [Kind.REFUSED], [g for g, _, _ in found])
    if kinds <= FEEDING:
        return Verdict("doubt", [Kind.REFUSED, Kind.FED], why="two_kinds")
    return Verdict("nothing", why="undone")


def _names_newcomers(frame: Frame) -> bool:
    """Whether animals are bought; not in the second half of "a versicolor sling and 250 small crickets"."""
    lent = frame.inherited and not frame.ref_at
    return bool(frame.taxa) or (not lent and any(ref.species for ref in frame.refs))


def _from_verbs(frame: Frame, found: list[tuple[Group, Item, int]]) -> Verdict | None:
    sac = of_sac(frame, found)
    if sac is not None:
        return sac
    if not found:
        return None
    strong = [f for f in found if not f[0].noun] or found
    kinds: list[Kind] = []
    groups: list[Group] = []
    for group, _, at in strong:
        kind = as_denied(frame, group, at)
        if kind is Kind.ACQUIRED and frame.meals and not _names_newcomers(frame):
            kind = Kind.STOCKED
        if kind is None:
            return Verdict("nothing", why="negated")
        if kind not in kinds:
            kinds.append(kind)
            groups.append(group)
    if len(kinds) == 1:
        return _of_one_kind(frame, kinds[0], groups)
    return _of_a_meal(frame, kinds, groups) if set(kinds) <= FEEDING else _several(kinds, groups)


def _of_a_meal(frame: Frame, kinds: list[Kind], groups: list[Group]) -> Verdict:
    """What several verbs of one meal tell: "offered Ink a roach, refused"."""
    if "fix" in frame.flags:
        return Verdict("doubt", kinds, groups, why="taken_back")
    if _one_thing_or_another(frame):
        return Verdict("doubt", kinds, groups, why="two_kinds")
    if kinds == [Kind.FED, Kind.REFUSED] and left_the_other(frame):
        return Verdict("told", [Kind.FED], groups[:1])
    return Verdict("told", [_outcome(kinds, groups)], groups)


def _of_one_kind(frame: Frame, kind: Kind, groups: list[Group]) -> Verdict:
    """What verbs of one kind tell, where they do not rather tell of something else."""
    if kind is Kind.DIED and _prey_died(frame):
        return Verdict("doubt", [Kind.REFUSED, Kind.DIED], groups, why="two_kinds")
    if kind is Kind.OFFERED and not frame.meals and any(a.dimension == "money" for _, a in frame.amounts):
        return Verdict("nothing", why="report")  # "someone offered me 120 euro for Lantern"
    if kind is Kind.CHECKED and frame.meals and (frame.inherited or not frame.verb_first):
        return Verdict("unknown")  # a meal in a list of those looked at, or "hat die Schabe angeschaut"
    if kind is Kind.DIED and _only_lost(frame):
        return Verdict("doubt", [kind], groups, why="lost_or_died")
    done = kind in {Kind.CLEANED, Kind.REHOUSED} and not frame.inherited
    if done and any(item.text in word_set("buys") for _, item in frame.verbs):
        return Verdict("doubt", [kind], groups, why="two_kinds")  # "bought new substrate for Ink"
    if done and kind is Kind.REHOUSED and _prey_next(frame):
        return Verdict("doubt", [kind], groups, why="two_kinds")  # "moved a roach from Dot to Ink"
    return Verdict("told", [kind], groups)


def _prey_next(frame: Frame) -> bool:
    """Whether the verb is followed by prey, before any animal is named."""
    first = frame.verbs[0][0] if frame.verbs and frame.meals else None
    if first is None:
        return False
    behind = frame.clause.items[first + 1 :]
    sort = next((i for i in behind if i.cat == "S" or "prey" in i.senses), None)
    return sort is not None and sort.cat != "S"


def _only_lost(frame: Frame) -> bool:
    """ "lost B2", "lost Nib in the move": dead, or not to be found; "we lost Nib last night" is a death."""
    items = frame.clause.items
    counted = any(item.cat == "N" for item in items) or any(ref.lot_part for ref in frame.refs)
    others = [item for _, item in frame.verbs if item.text not in _AT_HOME]
    loses = "lose" in items[0].senses.acts and " " not in items[0].text
    alone = loses and len(others) == 1 and not frame.inherited
    return alone and not (frame.days or frame.periods or frame.prons or counted)


#: Words for the occasion at which somebody got away: "lost her in the move".
_WHOSE: Final = rule_words("which_who_or_whose")
_AT_HOME: Final = rule_words("work_at_home")


def _prey_died(frame: Frame) -> bool:
    """ "Clove's roach is dead", "murió un grillo en la caja de Ink": the prey is what the verb is said of."""
    dies = (place for place, item in frame.verbs if Kind.DIED in item.senses.kinds)
    at = next(dies, None) if frame.refs and not frame.inherited else None
    if at is None:
        return False
    items = frame.clause.items
    if any(item.cat == "S" for item in items[:at]):
        return any("prey" in item.senses for item in items[:at])
    sorts = ("S" if item.cat == "S" else "prey" if "prey" in item.senses else "" for item in items[at + 1 :])
    return any("prey" in item.senses for item in items[:at]) or next(filter(None, sorts), "") == "prey"


def _outcome(kinds: list[Kind], groups: list[Group]) -> Kind:
    """What came of a feeding told with more than one verb: "offered … but refused"."""
    if any(g.act == "unknown" for g in groups):
        return Kind.OFFERED
    if Kind.REFUSED in kinds:
        return Kind.REFUSED
    return Kind.FED


def _only_waits(frame: Frame) -> bool:
    """ "a ver si come Ink": whether an outcome is awaited of somebody named behind, and no meal told."""
    return bool(frame.ref_at) and not frame.before and not (frame.meals or frame.loose or frame.inherited)


def _several(kinds: list[Kind], groups: list[Group]) -> Verdict:
    pair = set(kinds)
    for winner, loser in _INCLUDES:
        if pair == {winner, loser}:
            return Verdict("told", [winner], [g for g in groups if g.kind is winner])
    return Verdict("doubt", kinds, groups, why="two_kinds")


#: Kinds that take in another when both are told in one clause.
_INCLUDES: Final = (
    (Kind.MATURED, Kind.MOLTED),
    (Kind.SEXED, Kind.MOLTED),
    (Kind.REFUSED, Kind.CLEANED),
    (Kind.PREMOLT, Kind.SEALED),
    (Kind.DIED, Kind.CHECKED),
    (Kind.CHECKED, Kind.SEALED),
    (Kind.PAIRED, Kind.OFFERED),
)


def _is_outside(frame: Frame) -> bool:
    """Whether a figure is of the air outside, and of nobody's home or room."""
    outside = (
        i.senses["weather"].group.act == "outside" for i in frame.clause.items if "weather" in i.senses
    )
    return any(outside) and not (frame.refs or "room" in frame.flags)


def _measured(frame: Frame) -> Verdict | None:
    dimensions = {a.dimension for _, a in frame.amounts}
    if dimensions & OF_THE_AIR and _is_outside(frame):
        return Verdict("nothing", why="weather")  # "outside 27 degrees"
    if dimensions & OF_THE_AIR:
        return Verdict("told", [Kind.CLIMATE])
    if "humid" in frame.flags and frame.loose:
        return Verdict("told", [Kind.CLIMATE])
    return None
