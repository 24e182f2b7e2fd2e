"""Verbs that tell of something only together with what else is said: "moved", "filled", "bought"."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.around_verbs import alone, hers, words_before
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.kinds.comings_borne_out import COMINGS
from bot.reading.kinds.meals_borne_out import MEALS
from bot.reading.kinds.sexes_said import called_dearly
from bot.reading.words.rule_words import rule_words, rule_words_in_order


def _opens(frame: Frame, at: int) -> bool:
    if "waste" in frame.nouns:
        return False  # "cleared the leftovers out of Mole's burrow"
    return "mouth" in frame.nouns or (alone(frame, at) and (not frame.verb_first or not frame.ref_at))


def _closes(frame: Frame, at: int) -> bool:
    """ "closed her burrow", "Anvil closed her door", "horned one still closed"."""
    if "mouth" in frame.nouns or _her_own_door(frame, at):
        return True
    items = frame.clause.items
    if frame.inherited or items[at].text not in _CLOSED or frame.verb_first:
        return False
    her_door = any(i.text in _DOOR for i in items[at + 1 :]) and hers(frame, at) and not frame.meals
    return her_door or (lies_so(frame, at) and frame.nouns <= {"mouth"})


_DOOR: Final = rule_words("door")


#: Of the words for closing those that tell how a burrow is by themselves.
_CLOSED: Final = rule_words("closed")


def lies_so(frame: Frame, at: int) -> bool:
    """ "Mole is open", "the horned one still closed": an animal, and how its burrow is."""
    named = [item for item in frame.clause.items[:at] if item.cat == "S"]
    small = (i for i in frame.clause.items[:at] if i.cat != "S")
    only = all(not _SMALL.isdisjoint(i.senses) or i.cat == "D" for i in small)
    return only and len(named) == 1 and alone(frame, at) and len(frame.verbs) == 1


_SMALL: Final = frozenset({"did", "fill", "still", "the", "and"})


def _stands_open(frame: Frame, at: int) -> bool:
    """ "Mole open", "Mole still open": she, and no lid or tub of hers."""
    before = [i for i in words_before(frame, at) if _SMALL_BEFORE.isdisjoint(i.senses)]
    whom = bool(before) and (before[-1].cat == "S" or "pron" in before[-1].senses)
    return whom and alone(frame, at) and not (frame.nouns or frame.verb_first)


_SMALL_BEFORE: Final = frozenset({"fill", "did", "both", "all", "each", "still"})


def _backs(frame: Frame, at: int) -> bool:
    return not (frame.nouns & {"body", "dish", "box", "lid"} or frame.meals)


def _pours(frame: Frame, at: int) -> bool:
    volume = any(a.dimension == "volume" for _, a in frame.amounts)
    if any(s.group.act == "bigger" for _, i in frame.verbs for s in i.senses.values()):
        return False
    if "sub" in frame.nouns and "dish" in frame.nouns and "with" in frame.flags:
        return False  # "filled her water dish with soil"
    return not frame.meals and (
        (volume and "box" not in frame.nouns) or bool(frame.nouns & {"water", "dish"})
    )


def _moves(frame: Frame, at: int) -> bool:
    volume = any(a.dimension == "volume" for _, a in frame.amounts)
    return volume or "box" in frame.nouns or into_so_many(frame)


def into_so_many(frame: Frame) -> bool:
    """ "moved Mole into a 20": a home told by its size alone, whose unit is then asked."""
    items = [item for item in frame.clause.items if item.cat != "D"]
    if len(items) < len(("into", "a", "20")) or items[-1].cat != "N":
        return False
    return items[-3].text in _INTO and "a" in items[-2].senses


_INTO: Final = rule_words("into_something")


#: What the keeper does with a home, or the animal with its own: "gave her a bigger tub", "has a bigger tub".
_HOLDS: Final = frozenset({"give", "get", "have", "put", "take", "move"})


def _bigger(frame: Frame, at: int) -> bool:
    """ "gave Ink a bigger tub", "Ink in a bigger tub", "bigger tub for Ink"; not "she wants a bigger tub"."""
    if not frame.refs or frame.flags & {"neg", "hedge", "undone", "future"} or frame.inherited:
        return False
    if any(i.cat == "U" for i in frame.clause.items[at + 1 : at + 2]):
        return False  # "a bigger piece of cork"
    if frame.clause.items[at].text in _BETTER and "box" not in frame.nouns:
        return False  # "was ill, better now"
    before = [i for i in words_before(frame, at) if not {"a", "the", "pron"} & set(i.senses)]
    if not before or before[-1].text in _INTO:
        return True
    acts = set().union(*(i.senses.acts for i in before))
    if "get" in acts and not frame.before:
        return False  # "got a bigger tub for Ink" is bought
    return bool(acts & _HOLDS) or any(i.text in _HAS for i in before)


_HAS: Final = rule_words("has")
_BETTER: Final = rule_words("better")


def _put_into(frame: Frame, at: int) -> bool:
    """ "popped Ink into a 20 l tub": the animal right behind the verb, then into what."""
    after = frame.clause.items[at + 1 :] if not frame.inherited else []
    whole = len(after) > 1 and bool({"on", "away", "fill", "to"} & set(after[1].senses))  # not "Ink's exuvia"
    if _own_home(frame, at):
        return True
    moved = whole and (after[0].cat == "S" or "pron" in after[0].senses) and not after[0].owns
    into = any(a.text.split()[0] in _INTO and (b.cat == "A" or "a" in b.senses) for a, b in pairwise(after))
    into = into or _into_her_own(after)
    return moved and into and _moves(frame, at) and not frame.meals


def _into_her_own(after: Sequence[Item]) -> bool:
    """ "into her 4 l box": how big it is, is said of a new home; "back into" it was hers before."""
    trios = zip(after, after[1:], after[2:], strict=False)
    own = any(a.text in _INTO and "pron" in b.senses and c.cat == "A" for a, b, c in trios)
    return own and all(_BACK.isdisjoint(item.text.split()) for item in after)


_BACK: Final = rule_words("back")


def _potted(frame: Frame, at: int) -> bool:
    """ "potted Ink up", "potted Ink on into a 5 l tub"; not "potted a fern in Ink's tub"."""
    after = frame.clause.items[at + 1 :] if not frame.inherited else []
    whom = bool(after) and (after[0].cat == "S" or "pron" in after[0].senses) and not after[0].owns
    whither = whom and len(after) > 1 and after[1].text in _POTTED
    return whither and (_moves(frame, at) or all(i.cat in "DM" or "fill" in i.senses for i in after[2:]))


_POTTED: Final = rule_words("potted_up")


def _in_there(frame: Frame, at: int) -> bool:
    """ "Ink is in the new tub": herself, and no thing of hers."""
    return hers(frame, at) and not frame.meals and frame.flags.isdisjoint({"hedge", "future", "cond"})


def _has_water(frame: Frame, at: int) -> bool:
    """ "D got its water yesterday"; not "Ink had her water dish flipped"."""
    behind = frame.clause.items[at + 1 :] if not frame.inherited else []
    return bool(frame.refs) and all(i.cat in "DM" or "fill" in i.senses for i in behind)


def _own_home(frame: Frame, at: int) -> bool:
    """ "Biscuit got her 10 gallon tank"; "got her a tank" is bought."""
    after = frame.clause.items[at + 1 :] if not frame.inherited else []
    own = len(after) > 1 and "pron" in after[0].senses and after[1].cat == "A" and "box" in frame.nouns
    return own and hers(frame, at) and after[1].val.dimension == "volume"


def _dwells(frame: Frame, at: int) -> bool:
    """ "Ink now lives in a 10 l tub": moved there, where it is said to be so since now."""
    return _moves(frame, at) and any(not _NOW.isdisjoint(i.text.split()) for i in frame.clause.items)


_NOW: Final = rule_words("now")


def _upsized(frame: Frame, at: int) -> bool:
    return _moves(frame, at) or (alone(frame, at) and frame.verb_first)


def _resubbed(frame: Frame, at: int) -> bool:
    """ "swapped Ink's substrate"; with a home or water beside it, it is another matter."""
    dimensions = {a.dimension for _, a in frame.amounts}
    other = frame.nouns & {"box", "water", "dish"} or dimensions & {"volume", "money"}
    return "sub" in frame.nouns and bool(frame.refs) and not frame.meals and not other


def _soaks(frame: Frame, at: int) -> bool:
    return "sub" in frame.nouns and not frame.meals


def _own_mouth(frame: Frame, at: int) -> bool:
    """ "Ink filled her burrow": the animal does it to its own."""
    return "mouth" in frame.nouns and hers(frame, at) and "water" not in frame.nouns


def _shows_sex(frame: Frame) -> bool:
    """ "spermathecae under the scope": what only one sex has."""
    shown = any(s.group.sex for _, i in frame.verbs for s in i.senses.values() if s.cat == "verb")
    return shown and not frame.flags & {"neg", "no"}


def _webs(frame: Frame, at: int) -> bool:
    """ "webbed up her hide"; not "webbed over her mealworm", "webbed up half the tank", "… a new hammock"."""
    behind = () if frame.inherited else frame.clause.items[at + 1 :]
    if any("a" in item.senses for item in behind[:1]):
        return False  # what she made, and no hole that she shut
    at_home = any(i.senses.part == "box" for i in behind)
    return not frame.meals and ("mouth" in frame.nouns or not at_home)


def _moldy(frame: Frame, at: int) -> bool:
    return bool(frame.refs) and len(frame.verbs) == 1


def _noun_molt(frame: Frame, at: int) -> bool:
    """ "a molt from Ink"; "since her molt" only says when something else was."""
    said = (i for i in words_before(frame, at) if i.cat != "D")
    before = [i for i in said if not ({"the", "pron"} & i.senses.keys() or i.text in _WHICH_MOLT)][-3:]
    if before and "from" in before[-1].senses:
        return False
    if _towards(words_before(frame, at)) or _within(words_before(frame, at)):
        return False
    if _put_away(words_before(frame, at)) or any("carapace" in i.senses for i in words_before(frame, at)):
        return False  # "carapace of Captain's molt 29 mm"
    if any("when" in i.senses or (i.cat == "P" and i.val.kind in {"since", "until"}) for i in before):
        return False
    return not frame.flags & {"neg", "no"}


#: Words for which molt it was: "days from last molt to next".
_WHICH_MOLT: Final = rule_words("which_of_her_molts")


def _within(before: Sequence[Item]) -> bool:
    """ "found a leg in Ink's molt": where something was."""
    place = len(before) - 1
    while place >= 0 and (before[place].owns or {"the", "pron"} & set(before[place].senses)):
        place -= 1
    return 0 <= place < len(before) - 1 and before[place].text in _WITHIN


_WITHIN: Final = rule_words("in_or_from")


def _put_away(before: Sequence[Item]) -> bool:
    """ "popped GBB 4's old skin under the scope": a skin that is there already."""
    puts = any(s.group.act == "put" for i in before[:1] for s in i.senses.values())
    return puts and len(before) > 1 and before[-1].cat == "S"


def _towards(before: Sequence[Item]) -> bool:
    """ "ready for a molt", "getting close to her molt": one that has yet to come."""
    steps = [i for i in before if not {"a", "the", "pron"} & set(i.senses)]
    return bool(steps) and "to" in steps[-1].senses and len(steps) > 1


def _her_own_door(frame: Frame, at: int) -> bool:
    """ "Mole blocked her door": she did, where "closed Ink's door" may be the keeper's doing."""
    behind = [] if frame.inherited else frame.clause.items[at + 1 : at + 3]
    own = len(behind) > 1 and "pron" in behind[0].senses and behind[1].text in _FRONT_DOOR
    behind_her = any(i.text.startswith(_BEHIND) for i in frame.clause.items)  # left it, and closed it there
    return own and hers(frame, at) and "self" not in frame.flags and not behind_her


_BEHIND: Final = rule_words_in_order("behind")
_FRONT_DOOR: Final = rule_words("front_door")


def _as_she_was(frame: Frame, at: int) -> bool:
    """ "Ink unchanged"; not "weight of Ink unchanged", "Ink's colour is unchanged"."""
    small = {"fill", "did", "still", "all", "both", "and", "the"}
    return alone(frame, at) and all(
        i.cat in "SDPMX" or small & set(i.senses) for i in words_before(frame, at)
    )


def _looks_at(frame: Frame, at: int) -> bool:
    """ "looked at Ink"; "Ink looked at hers", "at the roach" is her at her meal."""
    behind = [] if frame.inherited else frame.clause.items[at + 1 : at + 3]
    at_it = bool(behind) and behind[0].cat != "S" and not behind[0].senses.keys().isdisjoint(_OF_PREY)
    return not (at_it and hers(frame, at))


#: Senses of the words that may stand for her meal: "it", "hers", "the roach", "2 crickets".
_OF_PREY: Final = frozenset({"pron", "the", "a", "prey", "size"})


WEAK: Final[Mapping[str, Callable[[Frame, int], bool]]] = {
    **MEALS,
    **COMINGS,
    "back": _backs,
    "as_it_was": _as_she_was,
    "clutch": lambda f, at: any("sac" in (s.group.act or "") for _, i in f.verbs for s in i.senses.values()),
    "pour": _pours,
    "slip": _moldy,
    "close": _closes,
    "open": _opens,
    "stands_open": _stands_open,
    "looks_at": _looks_at,
    "laid": lambda f, at: alone(f, at) and "eggs" not in f.nouns,
    "top": lambda f, at: _pours(f, at) or alone(f, at),
    "measured": lambda f, at: any(a.dimension in {"length", "weight"} for _, a in f.amounts),
    "move": _moves,
    "bigger": _bigger,
    "put_into": _put_into,
    "dwell": _dwells,
    "upsize": _upsized,
    "potted": _potted,
    "in_there": _in_there,
    "delivery": lambda f, at: bool(f.meals),
    "has_water": _has_water,
    "resub": _resubbed,
    "soaks": _soaks,
    "own_mouth": _own_mouth,
    "webs": _webs,
    "new_home": lambda f, at: (
        bool(f.refs) and "box" in f.nouns and any(a.dimension == "volume" for _, a in f.amounts)
    ),
    "remove": lambda f, at: "waste" in f.nouns,
    "sex": lambda f, at: (any(g.group.sex for g in f.groups) and not called_dearly(f)) or _shows_sex(f),
    "passed": lambda f, at: "declined" not in f.flags and alone(f, at) and (f.inherited or hers(f, at)),
    "meet": lambda f, at: len(f.refs) > 1,
    "molted": _noun_molt,
    "sign": lambda f, at: True,
    "sac": lambda f, at: False,
    "premolt": lambda f, at: True,
}
