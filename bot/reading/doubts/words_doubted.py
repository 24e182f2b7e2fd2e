"""Doubts about the words of a clause: words left over, denials, and what only looks like the kind told."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.around_verbs import words_before
from bot.reading.clauses.frames import ADDED, Frame
from bot.reading.clauses.neighbours import acts_of
from bot.reading.items.item import Item
from bot.reading.kinds.drafts import Doubt, Draft, kind_choices, of_another_kind
from bot.reading.model import FEEDING, About
from bot.reading.words.rule_words import rule_words, rule_words_in_order
from bot.reading.woven.unread_outcomes import UNREAD
from bot.terms import Kind, WaterHow

#: Words not understood that are let pass beside an event; more of them, and it may be another matter.
MOST_STRANGE_WORDS: Final = 1


#: Kinds told with the names of people and shops, which are no words of the lexicon.
OF_PEOPLE: Final = frozenset({Kind.ACQUIRED, Kind.LEFT, Kind.STOCKED})


_MOST_STRANGE_OF_PEOPLE: Final = 4


def strange_words(draft: Draft, frame: Frame) -> Doubt | None:
    """More words not understood than an entry of the kind has, or a figure among them."""
    if not frame.unknown:
        return None
    strange = [i for _, i in frame.unknown if not _named_with(i, frame)]
    figures = [i.text for i in strange if any(c.isdigit() for c in i.text)]
    if figures:
        return Doubt(About.AMOUNT, "number_unexplained", figures[0])
    most = _MOST_STRANGE_OF_PEOPLE if draft.kind in OF_PEOPLE else MOST_STRANGE_WORDS
    return (
        of_another_kind(draft, "strange_words", " ".join(i.text for i in strange))
        if len(strange) > most
        else None
    )


def _named_with(item: Item, frame: Frame) -> bool:
    people = f"{frame.to_words} {frame.from_words}".casefold().split()
    named = item.text.casefold() in people
    return named and any(letter.isalpha() for letter in item.text)  # a figure is nobody's name


def strange_of_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed Ink a cricket Mole scares me": what is not understood is told of the second, and no meal is."""
    items = frame.clause.items if not frame.inherited else []
    for at in range(1, len(items) - 1):
        before, whom, word = items[at - 1 : at + 2]
        again = whom.cat == "S" and not whom.owns and any(item.cat == "S" for item in items[: at - 1])
        served = "prey" in before.senses or (
            "fill" in before.senses and any("prey" in item.senses for item in items[:at])
        )
        if again and served and word.cat == "U" and not word.upper:
            return of_another_kind(draft, "strange_words", word.text)
    return None


def unread_outcome(draft: Draft, frame: Frame) -> Doubt | None:
    """ "offered Ink a locust and she splorged it": eaten, or thrown out?"""
    choices = kind_choices(Kind.FED, Kind.REFUSED, Kind.OFFERED)
    return Doubt(About.KIND, "two_kinds", choices=choices) if UNREAD in frame.flags else None


def strange_verb(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink splorged a roach": eaten, or thrown out?"""
    deed = frame.strange_deed if frame.inherited else None
    if deed is not None and len(deed.text) > _SHORT_WORD:
        return Doubt(About.KIND, "strange_words", deed.text, kind_choices(Kind.FED, Kind.REFUSED))
    if frame.verbs:
        return None
    put = draft.kind is Kind.REFUSED or "on" in frame.flags  # "I set a worm down in front of her"
    behind = [
        i.text
        for at, i in _own_unknown(frame)
        if _odd(frame, at) or (frame.meals and not put and _behind_a_pronoun(frame, at))
    ]
    choices = kind_choices(Kind.FED, Kind.REFUSED)
    return Doubt(About.KIND, "strange_words", behind[0], choices) if behind else None


_SHORT_WORD: Final = 2


def _own_unknown(frame: Frame) -> list[tuple[int, Item]]:
    """The words not understood of the clause itself, without those of asides that were added to it."""
    items = frame.clause.items
    return [(at, i) for at, i in frame.unknown if at < len(items) and items[at] is i]


def _odd(frame: Frame, at: int) -> bool:
    return at == 0 or _behind_animal(frame, at) or _last_in(frame, at)


def _behind_a_pronoun(frame: Frame, at: int) -> bool:
    """ "I frobbed Ink a cricket", "le prometí un grillo a Ink": given, or not."""
    before = frame.clause.items[at - 1].senses if at else {}
    return bool({"self", "pron"} & before.keys()) and "the" not in before


def _behind_animal(frame: Frame, at: int) -> bool:
    """ "Ink splorged", "Ink is eyeing up", "Ink straight up splorged": small words passed over."""
    items, place = frame.clause.items, at - 1
    while place > 0 and not _SMALL_BEFORE.isdisjoint(items[place].senses):
        place -= 1
    return place in frame.ref_at


_SMALL_BEFORE: Final = frozenset({"did", "fill", "on"})


def _last_in(frame: Frame, at: int) -> bool:
    """ "roaches for Ink are in the fridge": somewhere else than with her."""
    said = any("did" in i.senses for i in frame.clause.items)
    return said and at == len(frame.clause.items) - 1


def of_something_else(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink jumped 15 cm", "Ink moved 20 cm", "Ink's tub is 15 cm deep": no measure of hers."""
    if frame.flags & {"span", "carapace", "weight"}:
        return None
    if "move" in acts_of(frame) and all(at < ADDED for at, _ in frame.amounts):
        return of_another_kind(draft, "strange_words")
    kinds = {s.group.kind for _, i in frame.verbs for s in i.senses.values() if s.group.kind is not None}
    if kinds - FEEDING:
        return None
    items = frame.clause.items
    things = [b.text for a, b in pairwise(items) if a.cat == "S" and a.owns and "noun" in b.senses]
    things += [i.text for at, i in _own_unknown(frame) if _behind_animal(frame, at) and i.text.endswith(_ED)]
    things += [i.text for _, i in frame.verbs if not frame.inherited]
    return of_another_kind(draft, "strange_words", things[0]) if things else None


_ED: Final = rule_words_in_order("ending_of_done")


def strange_after_prey(draft: Draft, frame: Frame) -> Doubt | None:
    """ "a fruit fly infestation": the prey's word belongs to one that is not understood."""
    if "prey" not in frame.said:
        return None
    pairs = pairwise(i for i in frame.clause.items if i.senses.keys() != {"did"})
    strange = [b.text for a, b in pairs if "prey" in a.senses and b.cat == "U"]
    return of_another_kind(draft, "strange_words", strange[0]) if strange else None


def strange_prey(draft: Draft, frame: Frame) -> Doubt | None:
    """ "ate 2 criks", "ate a zorp", "fed her a small zorp": a number, an article or a size, and no feeder."""
    if "prey" in frame.said or ("prey" in draft.fields and frame.inherited and not frame.unknown):
        return None  # what others had is no word for what these had: "Captain 2 blorgs, T07 1 dubia"
    eaten = set() if frame.inherited or "self" in frame.flags else {at + 1 for at, _ in frame.verbs}
    items = frame.clause.items
    strange = [
        b.text
        for at, (a, b) in enumerate(pairwise(items))
        if (a.cat == "N" or "size" in a.senses or ("a" in a.senses and at in eaten))
        and b.cat == "U"
        and b.text.isalpha()
        and not any("ones" in behind.senses for behind in items[at + 2 : at + 3])  # "an extra one"
    ]
    return Doubt(About.PREY, "strange_prey", strange[0]) if strange and len(strange[0]) > 2 else None


def denied(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed Ink not a roach": a "not" behind the verb of what would be something else without it."""
    if frame.inherited:
        return denied_by_its_heading(draft, frame)
    first = frame.verbs[0][0] if frame.verbs else 0
    later = frame.clause.items[first + 1 :] if "neg" in frame.said else ()
    said = any("neg" in i.senses and "verb" not in i.senses for i in later)
    turned = draft.kind is Kind.OPENED and "nomore" in frame.flags
    return of_another_kind(draft, "denied") if said and not turned else None


def denied_by_its_heading(draft: Draft, frame: Frame) -> Doubt | None:
    """ "not sealed: Anvil": what the heading of a clause denies."""
    said = frame.inherited and "headed not" in frame.flags
    return of_another_kind(draft, "denied") if said else None


def denied_of_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink ate neither did she": a "neither" goes on with a denial, and here is none."""
    items = frame.clause.items
    at = next((n for n, (a, b) in enumerate(pairwise(items)) if a.text in _NEITHER and "did" in b.senses), 0)
    told = any("verb" in i.senses for i in items[:at])
    denied = any(not _DENIES.isdisjoint(i.senses) for i in items[:at])
    whom = any(i.cat == "S" or "pron" in i.senses for i in items[at + 2 : at + 4])
    return of_another_kind(draft, "denied") if told and whom and not denied else None


_NEITHER: Final = rule_words("nor")
_DENIES: Final = frozenset({"neg", "none_of", "undone", "elided"})


def measures_not(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink wiegt keine 20 g": an amount that is denied."""
    pairs = pairwise(frame.clause.items)
    denied = any(not _DENIES.isdisjoint(a.senses) and b.cat == "A" for a, b in pairs)
    return Doubt(About.AMOUNT, "denied") if denied else None


def only_spoken_of(draft: Draft, frame: Frame) -> Doubt | None:
    """ "has trouble eating", "is afraid of eating roaches": what hangs on another word, and may not be so."""
    for at, item in frame.verbs if not frame.inherited else ():
        before = words_before(frame, at)[-1:]
        so_long = any("dur" in i.senses for i in words_before(frame, at)[-2:-1])  # "after weeks of refusing"
        if so_long or not item.text.split()[0].endswith(_ING):
            continue
        hers = draft.kind is Kind.FED  # "got around to watering shelf A" is done
        if any("of" in i.senses or (hers and _governs(i)) for i in before):
            return of_another_kind(draft, "strange_words", item.text)
    return None


_ING: Final = rule_words_in_order("ending_of_doing")


def _governs(item: Item) -> bool:
    """Whether another word hangs on it: "has trouble eating", "loves eating", "came close to eating"."""
    return item.cat == "U" or not {"to", "idle", "from"}.isdisjoint(item.senses)


def ate_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "she ate him", "ate her sac": no meal of the keeper's."""
    acts = acts_of(frame)
    if "sac" in acts:
        return of_another_kind(draft, "ate_another")
    items = frame.clause.items
    for place, item in enumerate(items[1:], 1):
        before = items[place - 1]
        eats = "verb" in before.senses and not before.senses["verb"].group.keeper
        one = item.cat == "S" and len(item.val.tags) == 1 and place > 1 and items[place - 2].cat == "S"
        if eats and (one or ("pron" in item.senses and item.text in _HIM)):
            return of_another_kind(draft, "ate_another", item.text)
        if one and "did" in before.senses and _is_eaten(items[place + 1 : place + 2]):
            return of_another_kind(draft, "ate_another", item.text)  # "Mole hat Twig gefressen"
        hers = one and item.owns and "did" in before.senses and _is_eaten(_behind_prey(items, place + 1))
        if hers:
            return of_another_kind(draft, "ate_another", item.text)  # "Mole hat Twigs Heimchen gefressen"
        by_one = one and "from" in before.senses and _is_eaten(items[place + 1 : place + 2])
        if by_one and place > 1 and items[place - 2].cat == "S":
            return of_another_kind(draft, "ate_another", item.text)  # "Twig von Mole gefressen"
    return None


_HIM: Final = rule_words("him")


def _behind_prey(items: Sequence[Item], at: int) -> Sequence[Item]:
    """What stands behind the prey that is named there, if any is."""
    end = at
    while end < len(items) and not {"prey", "size"}.isdisjoint(items[end].senses):
        end += 1
    return items[end : end + 1] if end > at else ()


def not_put_together(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Captain nicht zu T07 gesetzt": a "not" anywhere beside two animals put together."""
    said = not frame.flags.isdisjoint({"neg", "undone"}) and (not frame.inherited or "headed" in frame.flags)
    return of_another_kind(draft, "denied") if said else None


def used_up(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Heimchen sind alle": that there is no prey left, where "all" ends the clause, and no verb is said."""
    items = frame.clause.items
    ends = len(items) > 2 and items[-1].cat == "S" and items[-1].val.how == "group"
    ends = ends and "did" in items[-2].senses and "prey" in items[-3].senses
    return of_another_kind(draft, "strange_words") if ends and not frame.verbs else None


def _is_eaten(behind: Sequence[Item]) -> bool:
    verbs = [verb.group for item in behind for verb in item.senses.verbs]
    return bool(verbs) and all(v.kind is Kind.FED and not (v.keeper or v.weak) for v in verbs)


def keeper_closed_it(draft: Draft, frame: Frame) -> Doubt | None:
    """ "closed the lid", "webbed over her dish": no burrow that an animal sealed."""
    if draft.kind is Kind.SEALED and "dish" in frame.nouns and "mouth" not in frame.nouns:
        return of_another_kind(draft, "no_mouth")  # "webbed over her water dish"
    of_a_part = any(i.text in _PARTS_OF_IT for i in frame.clause.items)
    if draft.kind is Kind.SEALED and any(i.text in _HALF for i in frame.clause.items):
        return of_another_kind(draft, "no_mouth")  # "closed off half the burrow"
    if draft.kind is Kind.SEALED and of_a_part and "mouth" not in frame.nouns:
        return of_another_kind(draft, "no_mouth")  # "webbed up her whole corner"
    return of_another_kind(draft, "lid") if "lid" in frame.nouns and frame.verb_first else None


_HALF: Final = rule_words("half_of_it")
_PARTS_OF_IT: Final = rule_words("parts_of_a_mouth")


def cleaned_up_by_her(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Captain cleaned up, 2 crickets", "… two dead crickets": eaten by her, or taken out by the keeper?"""
    own = bool(frame.meals) and frame.before > 0 and not frame.inherited
    return _eaten_or_cleaned() if own else None


def of_what_was_left(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed Ink. Mole's bolus out": of what lay in her tub, and no meal as the one before."""
    return _eaten_or_cleaned() if frame.inherited and "waste" in frame.nouns else None


def _eaten_or_cleaned() -> Doubt:
    choices = kind_choices(Kind.FED, Kind.CLEANED)
    return Doubt(About.KIND, "two_kinds", "", choices)


def filled_with_soil(draft: Draft, frame: Frame) -> Doubt | None:
    """ "filled her water dish with soil": the animal did, and it is no water."""
    dish = draft.fields.get("how") is WaterHow.DISH
    return (
        of_another_kind(draft, "strange_words")
        if dish and "sub" in frame.nouns and "with" in frame.flags
        else None
    )


def or_not(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed Ink or not": it may not have been."""
    last = frame.clause.items[-2:]
    doubts = len(last) > 1 and "or" in last[0].senses and not _NOT.isdisjoint(last[1].senses)
    doubts = doubts or last[-1].text in _OR_NO  # which puts right only what follows it
    return of_another_kind(draft, "hedge") if doubts else None


def or_something_else(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink ate it or buried it", "Mole sealed or just hid": which of two it was is not known."""
    items = frame.clause.items
    told = min((at for at, _ in frame.verbs), default=len(items))
    other = next((at for at in range(told + 1, len(items)) if "or" in items[at].senses), None)
    if other is None:
        return None
    behind = next((i for i in items[other + 1 :] if i.senses.keys().isdisjoint(_LEADS_ON)), None)
    else_ = behind is not None and (behind.cat == "U" or bool(behind.senses.verbs))
    return of_another_kind(draft, "hedge") if else_ else None


#: Senses of words that may stand between an "or" and what else it was.
_LEADS_ON: Final = frozenset({"pron", "did", "hedge", "fill"})

_OR_NO: Final = rule_words("or_no")
_NOT: Final = frozenset({"neg", "no"})
