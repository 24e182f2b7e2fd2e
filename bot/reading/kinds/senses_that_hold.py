"""Which sense of a verb holds in its clause: the strong one, else the first weak one that is borne out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.around_verbs import hers, thing_of_hers, words_before
from bot.reading.clauses.days_beside import dated
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.items.yes_and_no import ANSWERS
from bot.reading.kinds.borne_out import WEAK, lies_so
from bot.reading.kinds.meals_borne_out import is_bought
from bot.reading.words.lexicon import Sense
from bot.reading.words.rule_words import rule_words
from bot.reading.words.word_groups import Group
from bot.terms import Kind


def sense_that_holds(frame: Frame, at: int, item: Item) -> Group | None:
    """The sense of a verb that holds here: the strong one, else the first weak one that is borne out."""
    senses = item.senses.verbs
    before = words_before(frame, at)
    behind_article = before and not _LEADS_A_NOUN.isdisjoint(before[-1].senses)
    if behind_article and not _is_noun(senses) and "uneaten" not in item.senses.acts:
        return None
    if _of_so_long(before):
        return None
    for sense in senses:
        group = sense.group
        if group.base or (group.noun and _denied_doing(before)):
            if _after_did(frame, at) or _heads_a_record(frame, item) or _lies_open(frame, at, item):
                return group
        elif not (
            group.weak
            or group.noun
            or _of_a_thing(frame, at, item, group)
            or _done_to_prey(frame, at, group)
            or _no_food(frame, at, group)
            or (group.kind is Kind.LEFT and thing_of_hers(frame, at))
            or (group.kind is Kind.FED and is_bought(frame, at))
        ):
            return group
    weak = (s for s in senses if (s.group.weak or s.group.noun) and _borne_out(frame, at, s))
    return next((sense.group for sense in weak), None)


def _of_so_long(before: Sequence[Item]) -> bool:
    """ "ate, after five weeks of turning up her nose": what went on until then is no event of its own."""
    return len(before) > 1 and before[-1].text in _OF and "dur" in before[-2].senses


_OF: Final = rule_words("bare_of")


def _done_to_prey(frame: Frame, at: int, group: Group) -> bool:
    """ "Captain cleaned up three dubias": what an animal did to its prey is no work of the keeper at it."""
    if not frame.meals or frame.inherited or group.kind not in _WORK or not hers(frame, at):
        return False
    behind = next(
        (i for i in frame.clause.items[at + 1 :] if _BEFORE_PREY.isdisjoint(i.senses) and i.cat != "N"), None
    )
    return behind is not None and "prey" in behind.senses and not any(meal.prekilled for meal in frame.meals)


def _no_food(frame: Frame, at: int, group: Group) -> bool:
    """ "hoovered the bits out of Ink's tub": what stands right behind a verb of eating is nothing to eat."""
    if group.kind is not Kind.FED or group.keeper or frame.meals or frame.inherited:
        return False
    for item in frame.clause.items[at + 1 :]:
        if "noun" in item.senses:
            return item.senses.part in _NOT_EATEN
        if not item.owns and _BEFORE_PREY.isdisjoint(item.senses):
            return False
    return False


#: Parts of a home, and what lies in it.
_NOT_EATEN: Final = frozenset({"waste", "box"})
_WORK: Final = frozenset(
    {Kind.CLEANED, Kind.CHECKED, Kind.WATERED, Kind.MEASURED, Kind.REHOUSED, Kind.MOLTED}
)


_BEFORE_PREY: Final = frozenset({"a", "the", "pron", "size", "some", "all", "both"})


_LEADS_A_NOUN: Final = frozenset({"the", "to"})


def _denied_doing(before: Sequence[Item]) -> bool:
    """ "Ink didn't molt": behind the denial the word names what was not done, and no thing."""
    return bool(before) and "elided" in before[-1].senses


def _lies_open(frame: Frame, at: int, item: Item) -> bool:
    """ "Mole is open"; "still open" is no news."""
    return item.text in _OPEN and not frame.inherited and "still" not in frame.flags and lies_so(frame, at)


_OPEN: Final = rule_words("open")


def _heads_a_record(frame: Frame, item: Item) -> bool:
    """ "water: Ink mon, Mole tues": a thing at the head of a list of animals, each with its day."""
    thing = item.senses.get("noun")
    listed = all(i.cat in "SMX" or i.text in ANSWERS for i in frame.clause.items)  # "water: A6 A7 B6"
    only = dated(frame) or listed
    return "headed" in frame.flags and thing is not None and thing.group.part == "water" and only


def _of_a_thing(frame: Frame, at: int, item: Item, group: Group) -> bool:
    """ "had his last molt": where more follows, "his" is no word for a meal."""
    before = words_before(frame, at)
    if item.text in _VANISHED and before and before[-1].cat == "S":
        return not before[-1].owns  # "Nib vanished": the animal, and not what it was given
    own = group.act == "outcome" and item.text.split()[-1] in _HIS
    nxt = frame.clause.items[at + 1 : at + 2] if own and not frame.inherited else ()
    return any(i.cat in "SNU" or i.text in _OF_THINGS or _thing(i) for i in nxt)


_HIS: Final = rule_words("his")
_VANISHED: Final = rule_words("vanished")


#: Small words that stand between "his" and a thing of his.
_OF_THINGS: Final = rule_words("of_things")


def _thing(item: Item) -> bool:
    noun = item.senses.get("noun")
    return "verb" in item.senses or (noun is not None and noun.group.part != "food")


def _is_noun(senses: Sequence[Sense]) -> bool:
    return any(s.group.noun or s.group.base or len(s.words.split()) > 1 for s in senses)


def _after_did(frame: Frame, at: int) -> bool:
    if "likewise" in frame.flags:
        return True  # "Ink didn't seal up, Mole did"
    items = words_before(frame, at)
    return any(("did" in i.senses and i.text in _DOES) or "neg" in i.senses for i in items)


_DOES: Final = rule_words("did_or_does")


def _borne_out(frame: Frame, at: int, sense: Sense) -> bool:
    group = sense.group
    test = WEAK.get(group.act or (group.kind.value if group.kind else ""))
    return test(frame, at) if test is not None else group.noun
