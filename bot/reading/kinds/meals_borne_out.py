"""Verbs that tell of a meal, or that it was left, only together with what else is said: "took", "got"."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.around_verbs import hers, words_before
from bot.reading.clauses.clause_model import START, TITLE
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.kinds.comings_borne_out import buys
from bot.reading.kinds.removals import drags_out, lies_there, takes_out
from bot.reading.words.phrasings import word_set
from bot.reading.words.rule_words import rule_openings, rule_words


def _none(frame: Frame, at: int) -> bool:
    """ "…, Monday none": behind its animal, and not all that is said."""
    before = words_before(frame, at)
    alone = len(frame.clause.items) == 1  # "tried Ink with a roach, nothing"
    return (alone or (bool(before) and before[-1].cat == "S")) and frame.clause.sep not in {START, TITLE}


def _eats(frame: Frame, at: int) -> bool:
    if not frame.inherited and _whom(frame.clause.items[at + 1 : at + 3]):  # "caught her"
        return False
    if is_bought(frame, at):
        return False
    return not drags_out(frame) and (bool(frame.meals) or "food" in frame.nouns or _counts_some(frame))


def _counts_some(frame: Frame) -> bool:
    """A number of what is not said; not "two legs still trapped"."""
    return bool(frame.loose) and "body" not in frame.nouns


def is_bought(frame: Frame, at: int) -> bool:
    """ "grabbed 2 slings off Conor", "grabbed 100 dubia, €12": a newcomer, or a price, and nobody eats."""
    verb = next((item for place, item in frame.verbs if place == at), None)
    if verb is None or "buy" not in verb.senses.acts:
        return False
    if frame.ref_at and frame.ref_at[0] > at and not frame.meals and not frame.inherited:
        return True  # "snagged a 1 in OBT sling, 25 bucks": whoever it is, she was got
    if not buys(frame, at):
        return False
    return not frame.meals or any(amount.dimension == "money" for _, amount in frame.amounts)


def _whom(after: Sequence[Item]) -> bool:
    """Whether an animal, and no meal of hers, is what the verb was done to."""
    pron = after[0].senses.get("pron") if after else None
    return pron is not None and pron.group.sex is not None and (len(after) == 1 or after[1].cat in "MDP")


def _gets(frame: Frame, at: int) -> bool:
    return bool(frame.meals) and bool(frame.refs) and not _got_one_of_a_species(frame, at)


def _got_one_of_a_species(frame: Frame, at: int) -> bool:
    """ "got a versicolor sling and some crickets": what the keeper got."""
    behind = frame.clause.items[at + 1 : at + 3]
    if at or frame.inherited or len(behind) < 2 or "a" not in behind[0].senses:
        return False
    return behind[1].cat == "S" and behind[1].val.called_by_species is not None


def _takes(frame: Frame, at: int) -> bool:
    """ "Ink took": eaten, where nothing else is said that could have been taken."""
    after = frame.clause.items[at + 1 :] if not frame.inherited else []
    if any({"away", "from"} <= set(i.senses) for i in after):  # "took a cricket out of her tub"
        return False
    if not frame.inherited and not words_before(frame, at) and any(i.owns for i in after if i.cat == "S"):
        return False  # "took Ink's cricket out"
    if not words_before(frame, at) and takes_out(frame):
        return False  # "…, took the roach back out"
    from_her = any("away" in a.senses and "from" in b.senses for a, b in pairwise(after))
    if from_her or any(i.text in _AWAY_FROM for i in after):
        return False  # "gave up on Twig and took the roach away from him"
    by_keeper = any("self" in i.senses for i in words_before(frame, at)[-2:])
    if by_keeper and any("away" in i.senses for i in after):
        return False  # "Ink refused, so I took the roach back out"
    dated = not at and bool(after) and all(i.cat == "D" for i in after)  # "1 roach, taken at 21:35"
    if not frame.inherited and frame.clause.items[at].text in _TAKEN and not (dated or _eats(frame, at)):
        return False  # "had her photo taken"
    return _eats(frame, at) or all(i.cat in "DPMX" or "fill" in i.senses for i in after)


_AWAY_FROM: Final = rule_words("away_from")
_TAKEN: Final = rule_words("taken")


def _has_it(frame: Frame, at: int) -> bool:
    """ "she's got it"; not "she's got it in for me", "she's got it sealed up"."""
    return all(i.cat in "DM" or "fill" in i.senses for i in frame.clause.items[at + 1 :])


def _kicks(frame: Frame, at: int) -> bool:
    """ "Ink chucked the locust out": the animal does it, and it goes away from her."""
    before = words_before(frame, at)
    own = not frame.ref_at or any(i.cat == "S" or "pron" in i.senses for i in before)
    if "mouth" in frame.nouns and any(i.text in _INTO for i in frame.clause.items):
        return False  # "carried it off into her burrow"
    away = any("away" in i.senses for i in frame.clause.items[at + 1 :])
    return bool(frame.meals) and own and away and not any("self" in i.senses for i in before)


_INTO: Final = rule_words("into_or_to")


def _puts(frame: Frame, at: int) -> bool:
    """ "threw a locust in with Ink": the keeper does it; where she stands before the verb, who did what?"""
    before = words_before(frame, at)
    own = bool(before) and (before[-1].cat == "S" or "pron" in before[-1].senses)
    own = own and not _to_her(frame, at)
    waste = (
        not frame.ref_at and not frame.flags & {"on", "with", "to"} and any(m.prekilled for m in frame.meals)
    )
    return bool(frame.meals) and (frame.inherited or not own) and not (waste or lies_there(frame))


#: Words that stand for what she was given.
_OF_IT: Final = rule_words("of_it")


def _to_her(frame: Frame, at: int) -> bool:
    """ "a Ink y Mole les puse un grillo": a verb that has whom it is done to in its own words."""
    words = frame.clause.items[at].text.split() if not frame.inherited else []
    return len(words) > 1 and words[0] in word_set("whom_within_verbs")


def _skips(frame: Frame, at: int) -> bool:
    """ "Ink skipped her cricket", "Ink ate, Mole skipped"; "skipped Ink" is the keeper."""
    behind = () if frame.inherited else frame.clause.items[at + 1 :]
    left = frame.meals or ("food" in frame.nouns and not frame.loose) or "declined" in frame.flags
    of_it = any(i.text in _OF_IT for i in behind)
    goes_on = of_it and not frame.ref_at and frame.clause.sep != START  # "fed Ink, didn't bother with it"
    return (frame.inherited or goes_on or hers(frame, at)) and (bool(left) or of_it)


def _shares(frame: Frame, at: int) -> bool:
    """ "the commune shared a big dubia"; not "shared her tub with a roach", "I shared a roach with her"."""
    behind = [] if frame.inherited else frame.clause.items[at + 1 : at + 2]
    of_prey = any(i.cat == "N" or not _LEADS_TO_PREY.isdisjoint(i.senses) for i in behind)
    return bool(frame.meals) and of_prey and hers(frame, at)


#: Senses of the words that may stand before prey.
_LEADS_TO_PREY: Final = frozenset({"a", "some", "size", "prey", "prekilled"})


def _spits(frame: Frame, at: int) -> bool:
    """ "Ink spat the roach out", "dumped it"; the keeper drops one in."""
    away = any("away" in i.senses for i in frame.clause.items[at + 1 :])
    return bool(frame.meals) and hers(frame, at) and away


def _says_no(frame: Frame, at: int) -> bool:
    """ "Ink said no to a hornworm"; "I said no" is the keeper's word."""
    return hers(frame, at)


def _lets_be(frame: Frame, at: int) -> bool:
    """ "Ink let the cricket be", "let her mealworm alone": the animal, with what it was given behind."""
    behind = frame.clause.items[at + 1 :] if not frame.inherited else ()
    return bool(frame.meals) and hers(frame, at) and any(i.text in _BE for i in behind)


_BE: Final = rule_words("let_be")


def _pays_none(frame: Frame, at: int) -> bool:
    """ "paid her roach no mind"; "have no mind to feed her" is the keeper's."""
    return any(item.text in _PAYS for item in words_before(frame, at))


_PAYS: Final = rule_words("pays")


def _passes(frame: Frame, at: int) -> bool:
    """ "offered Ink a roach, she passed": behind a meal it is no death."""
    return "declined" in frame.flags


def _passes_on(frame: Frame, at: int) -> bool:
    """ "Ink passed on her cricket", "…, she passed on it"; who only passed on is dead."""
    behind = () if frame.inherited else frame.clause.items[at + 1 :]
    return bool(frame.meals) or any(item.text in _OF_IT for item in behind)


def _leaves(frame: Frame, at: int) -> bool:
    """ "Ink … but left the roach": the animal leaves it; "left a roach in with Ink" is the keeper."""
    before = words_before(frame, at)
    own = bool(before) and before[-1].cat == "S" if frame.ref_at else frame.clause.sep != START
    return bool(frame.meals) and own and not frame.flags & {"with", "on", "self"}


def _comes_of_it(frame: Frame, at: int) -> bool:
    """What became of a meal; "left it overnight with Ink" is the keeper's doing."""
    if frame.inherited or at or not frame.clause.items[at].text.startswith(_LEFT):
        return True
    return not (frame.ref_at and "with" in frame.flags)


_LEFT: Final = rule_openings("left_alone")


def _escapes(frame: Frame, at: int) -> bool:
    before = words_before(frame, at)
    return not frame.ref_at and not any("pron" in i.senses and i.senses["pron"].group.sex for i in before)


def _her_dinner(frame: Frame, at: int) -> bool:
    """ "gave Ink her dinner", "gave Ink a meal": of what, is not said; no "gave Ink a food bowl"."""
    behind = [] if frame.inherited else frame.clause.items[at + 1 :]
    for before, item, nxt in zip(behind, behind[1:], [*behind[2:], None], strict=False):
        noun = item.senses.get("noun")
        whose = before.cat == "S" and not before.owns
        whose = whose or "a" in before.senses or before.text in _POSSESSIVE
        ends = nxt is None or not (nxt.cat in "USN" or "noun" in nxt.senses or "prey" in nxt.senses)
        if noun is not None and noun.group.part == "food" and whose and ends:
            return bool(frame.ref_at)
    return False


_POSSESSIVE: Final = rule_words("possessives")


def _wants_none(frame: Frame, at: int) -> bool:
    """ "wollte die Schabe nicht", "will nix Heimchen rausgefischt"; not "will ich nicht füttern"."""
    behind = [] if frame.inherited else list(frame.clause.items[at + 1 :])
    removed = bool(frame.meals and behind) and not _TAKEN_OUT.isdisjoint(behind[-1].senses.acts)
    if removed:
        behind.pop()
    of_food = _OF_FOOD | {"did"} if removed else _OF_FOOD
    ends = all(i.cat in "DMPX" or not of_food.isdisjoint(i.senses) for i in behind)
    return ends and not any(i.senses.verbs for i in behind) and "self" not in frame.flags


#: Senses of the words for what was not wanted.
_OF_FOOD: Final = frozenset({"fill", "prey", "size", "prekilled", "the", "a"})
#: What the keeper does with prey that was left.
_TAKEN_OUT: Final = frozenset({"remove", "of_it"})


def _shuts_herself(frame: Frame, at: int) -> bool:
    """ "Mole hat zugemacht", "Röhre zugemacht"; a lid or box is the keeper's to open and close."""
    return not (frame.nouns & {"lid", "box"} or "self" in frame.flags)


#: By what a verb may do, as the lexicon calls it.
MEALS: Final[Mapping[str, Callable[[Frame, int], bool]]] = {
    "fed": _eats,
    "get": _gets,
    "have": lambda f, at: bool(f.meals),
    "give": lambda f, at: bool(f.meals) or _her_dinner(f, at),
    "put": _puts,
    "take": _takes,
    "has_it": _has_it,
    "skips": _skips,
    "passes": _passes,
    "passes_on": _passes_on,
    "says_no": _says_no,
    "shares": _shares,
    "let_be": hers,  # "I let it be" is the keeper, and may be the animal
    "lets_be": _lets_be,
    "no_mind": _pays_none,
    "spits": _spits,
    "none": _none,
    "skip": lambda f, at: True,
    "dropped": lambda f, at: True,
    "sniffs": lambda f, at: bool(f.meals) and hers(f, at),
    "escape": _escapes,
    "who_escaped": _escapes,
    "wants_none": _wants_none,
    "shuts": _shuts_herself,
    "try": lambda f, at: bool(f.meals),
    "leaves": _leaves,
    "kick": _kicks,
    "outcome": _comes_of_it,
}
