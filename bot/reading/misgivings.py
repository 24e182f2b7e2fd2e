"""What makes it doubtful that a clause tells of one event: words left over, a denial, a second value.

A table of checks over a clause and the entry drawn from it. Each gives the doubt to be asked about; the
likeliest answer is the entry as it was drawn. A wrong entry is worse than a question, so a check may
well ask where a keeper would have understood.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import pairwise
from typing import Final

from bot.reading.around_verbs import words_before
from bot.reading.clauses import AND
from bot.reading.days_of_another import Whose
from bot.reading.days_words import days_data
from bot.reading.drafts import Doubt, Draft, by_kind
from bot.reading.figures_doubted import (
    another_time_of_day,
    more_or_fewer_than,
    number_between,
    place_of_a_letter,
    some_uneaten,
)
from bot.reading.frames import ADDED, Frame
from bot.reading.items import Item
from bot.reading.may_be_a_day import unread_day
from bot.reading.model import FEEDING, About
from bot.reading.neighbours import acts_of, refuses
from bot.reading.phrasings import meaning
from bot.terms import Kind, WaterHow

#: Words not understood that are let pass beside an event; more of them, and it may be another matter.
MOST_STRANGE_WORDS: Final = 1
#: Kinds told with the names of people and shops, which are no words of the lexicon.
_OF_PEOPLE: Final = frozenset({Kind.ACQUIRED, Kind.LEFT, Kind.STOCKED})
_MOST_STRANGE_OF_PEOPLE: Final = 4
#: Kinds that a "not" anywhere in the clause turns into something else.
_DENIABLE: Final = frozenset({Kind.SEALED, Kind.OPENED, Kind.MATURED, Kind.LEFT, Kind.REHOUSED})
#: Kinds that happen to one animal at a time.
_OF_ONE: Final = frozenset({Kind.DIED, Kind.LEFT, Kind.MATURED, Kind.SEXED, Kind.SAC, Kind.ACQUIRED})
MOST_AT_ONCE: Final = 4


def misgivings(draft: Draft, frame: Frame) -> list[Doubt]:
    """The doubts that the words of its clause raise about an entry; none where all are accounted for."""
    nobody = any(doubt.about is About.SPECIMEN for doubt in draft.doubts)
    if draft.kind is Kind.NOTE or nobody:  # whom it is about is asked first; the rest can wait
        return []
    return [doubt for check in _CHECKS[draft.kind] if (doubt := check(draft, frame)) is not None]


def _kind(draft: Draft, key: str, words: str = "") -> Doubt:
    return Doubt(About.KIND, key, words, [(draft.kind.value, {"kind": draft.kind})])


def _strange_words(draft: Draft, frame: Frame) -> Doubt | None:
    if not frame.unknown:
        return None
    strange = [i for _, i in frame.unknown if not _named_with(i, frame)]
    figures = [i.text for i in strange if any(c.isdigit() for c in i.text)]
    if figures:
        return Doubt(About.AMOUNT, "number_unexplained", figures[0])
    most = _MOST_STRANGE_OF_PEOPLE if draft.kind in _OF_PEOPLE else MOST_STRANGE_WORDS
    return _kind(draft, "strange_words", " ".join(i.text for i in strange)) if len(strange) > most else None


def _named_with(item: Item, frame: Frame) -> bool:
    people = f"{frame.to_words} {frame.from_words}".casefold().split()
    named = item.text.casefold() in people
    return named and any(letter.isalpha() for letter in item.text)  # a figure is nobody's name


def _strange_verb(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink splorged a roach": eaten, or thrown out?"""
    if frame.verbs:
        return None
    behind = [i.text for at, i in _own_unknown(frame) if _odd(frame, at)]
    choices = [(kind.value, {"kind": kind}) for kind in (Kind.FED, Kind.REFUSED)]
    return Doubt(About.KIND, "strange_words", behind[0], choices) if behind else None


def _own_unknown(frame: Frame) -> list[tuple[int, Item]]:
    """The words not understood of the clause itself, without those of asides that were added to it."""
    items = frame.clause.items
    return [(at, i) for at, i in frame.unknown if at < len(items) and items[at] is i]


def _odd(frame: Frame, at: int) -> bool:
    return at == 0 or _behind_animal(frame, at) or _last_in(frame, at)


def _behind_animal(frame: Frame, at: int) -> bool:
    """ "Ink splorged", "Ink is eyeing up": small words passed over."""
    items, place = frame.clause.items, at - 1
    while place > 0 and ("did" in items[place].senses or "fill" in items[place].senses):
        place -= 1
    return place in frame.ref_at


def _last_in(frame: Frame, at: int) -> bool:
    """ "roaches for Ink are in the fridge": somewhere else than with her."""
    said = any("did" in i.senses for i in frame.clause.items)
    return said and at == len(frame.clause.items) - 1


def _of_something_else(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink jumped 15 cm", "Ink moved 20 cm", "Ink's tub is 15 cm deep": no measure of hers."""
    if frame.flags & {"span", "carapace", "weight"}:
        return None
    if "move" in acts_of(frame) and all(at < ADDED for at, _ in frame.amounts):
        return _kind(draft, "strange_words")
    kinds = {s.group.kind for _, i in frame.verbs for s in i.senses.values() if s.group.kind is not None}
    if kinds - FEEDING:
        return None
    items = frame.clause.items
    things = [b.text for a, b in pairwise(items) if a.cat == "S" and a.owns and "noun" in b.senses]
    things += [i.text for at, i in _own_unknown(frame) if _behind_animal(frame, at) and i.text.endswith("ed")]
    things += [i.text for _, i in frame.verbs if not frame.inherited]
    return _kind(draft, "strange_words", things[0]) if things else None


def _strange_after_prey(draft: Draft, frame: Frame) -> Doubt | None:
    """ "a fruit fly infestation": the prey's word belongs to one that is not understood."""
    if "prey" not in frame.said:
        return None
    pairs = pairwise(frame.clause.items)
    strange = [b.text for a, b in pairs if "prey" in a.senses and b.cat == "U"]
    return _kind(draft, "strange_words", strange[0]) if strange else None


def _strange_prey(draft: Draft, frame: Frame) -> Doubt | None:
    """ "ate 2 criks": a number and a word that is no feeder."""
    if "prey" in draft.fields:
        return None
    pairs = pairwise(frame.clause.items)
    strange = [b.text for a, b in pairs if a.cat == "N" and b.cat == "U" and b.text.isalpha()]
    return Doubt(About.PREY, "strange_prey", strange[0]) if strange and len(strange[0]) > 2 else None


def _denied(draft: Draft, frame: Frame) -> Doubt | None:
    if frame.inherited:
        return None
    first = frame.verbs[0][0] if frame.verbs else 0
    later = frame.clause.items[first + 1 :] if "neg" in frame.said else ()
    said = any("neg" in i.senses and "verb" not in i.senses for i in later)
    turned = draft.kind is Kind.OPENED and "nomore" in frame.flags
    return _kind(draft, "denied") if said and not turned else None


def _denied_of_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink ate neither did she": a "neither" goes on with a denial, and here is none."""
    items = frame.clause.items
    at = next((n for n, (a, b) in enumerate(pairwise(items)) if a.text in _NEITHER and "did" in b.senses), 0)
    told = any("verb" in i.senses for i in items[:at])
    denied = any(not _DENIES.isdisjoint(i.senses) for i in items[:at])
    whom = any(i.cat == "S" or "pron" in i.senses for i in items[at + 2 : at + 4])
    return _kind(draft, "denied") if told and whom and not denied else None


_NEITHER: Final = frozenset({"neither", "nor"})
_DENIES: Final = frozenset({"neg", "none_of", "undone", "elided"})


def _only_spoken_of(draft: Draft, frame: Frame) -> Doubt | None:
    """ "has trouble eating", "is afraid of eating roaches": what hangs on another word, and may not be so."""
    for at, item in frame.verbs if not frame.inherited else ():
        before = words_before(frame, at)[-1:]
        so_long = any("dur" in i.senses for i in words_before(frame, at)[-2:-1])  # "after weeks of refusing"
        if so_long or not item.text.split()[0].endswith("ing"):
            continue
        hers = draft.kind is Kind.FED  # "got around to watering shelf A" is done
        if any("of" in i.senses or (hers and _governs(i)) for i in before):
            return _kind(draft, "strange_words", item.text)
    return None


def _governs(item: Item) -> bool:
    """Whether another word hangs on it: "has trouble eating", "loves eating", "came close to eating"."""
    return item.cat == "U" or not {"to", "idle", "from"}.isdisjoint(item.senses)


def _ate_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "she ate him", "ate her sac": no meal of the keeper's."""
    acts = acts_of(frame)
    if "sac" in acts:
        return _kind(draft, "ate_another")
    items = frame.clause.items
    for place, item in enumerate(items[1:], 1):
        before = items[place - 1]
        eats = "verb" in before.senses and not before.senses["verb"].group.keeper
        one = item.cat == "S" and len(item.val.tags) == 1 and place > 1 and items[place - 2].cat == "S"
        if eats and (one or ("pron" in item.senses and item.text == "him")):
            return _kind(draft, "ate_another", item.text)
    return None


def _keeper_closed_it(draft: Draft, frame: Frame) -> Doubt | None:
    if draft.kind is Kind.SEALED and "dish" in frame.nouns and "mouth" not in frame.nouns:
        return _kind(draft, "no_mouth")  # "webbed over her water dish"
    of_a_part = any(i.text in _PARTS_OF_IT for i in frame.clause.items)
    if draft.kind is Kind.SEALED and any(i.text in _HALF for i in frame.clause.items):
        return _kind(draft, "no_mouth")  # "closed off half the burrow"
    if draft.kind is Kind.SEALED and of_a_part and "mouth" not in frame.nouns:
        return _kind(draft, "no_mouth")  # "webbed up her whole corner"
    return _kind(draft, "lid") if "lid" in frame.nouns and frame.verb_first else None


_HALF: Final = frozenset({"half", "half of", "part", "part of", "halfway"})
_PARTS_OF_IT: Final = frozenset({"corner", "corners", "side", "sides", "the side"})


def _cleaned_up_by_her(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Captain cleaned up, 2 crickets", "… two dead crickets": eaten by her, or taken out by the keeper?"""
    own = bool(frame.meals) and frame.before > 0 and not frame.inherited
    choices = [(kind.value, {"kind": kind}) for kind in (Kind.FED, Kind.CLEANED)]
    return Doubt(About.KIND, "two_kinds", "", choices) if own else None


def _filled_with_soil(draft: Draft, frame: Frame) -> Doubt | None:
    """ "filled her water dish with soil": the animal did, and it is no water."""
    dish = draft.fields.get("how") is WaterHow.DISH
    return _kind(draft, "strange_words") if dish and "sub" in frame.nouns and "with" in frame.flags else None


def _yet_to_come(draft: Draft, frame: Frame) -> Doubt | None:
    ahead = frame.periods and any(str(period.kind) == "in" for period in frame.periods)
    return Doubt(About.DAY, "future_day") if ahead and not frame.days else None


def _again_and_again(draft: Draft, frame: Frame) -> Doubt | None:
    """ "a roach each tuesday": once, or every week? "has had it since Sunday": is it still there?"""
    kinds = {str(period.kind) for period in frame.periods}
    repeated = "every" in kinds or ("since" in kinds and draft.kind is Kind.FED and "have" in acts_of(frame))
    return Doubt(About.DAY, "vague_day") if repeated and not frame.days else None


def _day_of_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "12.5 cm after her molt on May 3": now, or on the day that is said of the other event?"""
    own = sum(item.cat == "D" for item in frame.clause.items) > len(frame.other_days)
    whose, other = frame.other_days[0] if frame.other_days and not own else (Whose.ITS_OWN, None)
    if other is None or whose is Whose.ITS_OWN or (whose is Whose.EITHER and other.day == draft.day):
        return None
    days = [draft.day, other.day] if whose is Whose.EITHER and other.day is not None else []
    return Doubt(About.DAY, "vague_day", choices=[(day.isoformat(), {"day": day}) for day in days])


def _unread_day(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed Ink tewsday": a word not understood that may be the day."""
    word = unread_day(frame)
    return Doubt(About.DAY, "vague_day", word) if word is not None else None


def _loose_day(draft: Draft, frame: Frame) -> Doubt | None:
    pairs = list(pairwise(frame.clause.items))
    of_a_word = any(
        b.cat == "U" and b.text in meaning("weekdays") and a.text != "the" for a, b in pairs
    )  # "in sun"
    of_a_word = of_a_word or any(a.cat == "U" and a.text in _months() and b.cat == "N" for a, b in pairs)
    which = draft.kind is Kind.MOLTED and any(span.rule == _BY_ITSELF for span in frame.days)
    if which:  # "Ink molted, 9th": on that day, or for the ninth time?
        return Doubt(About.DAY, "vague_day", choices=[(draft.day.isoformat(), {"day": draft.day})])
    return Doubt(About.DAY, "vague_day") if "loose day" in frame.flags or of_a_word else None


@cache
def _months() -> frozenset[str]:
    """ "ate April 3 and refused 2": what is said like a date and was not found as one."""
    return frozenset(word for words in days_data("en").words["month"].values() for word in words)


#: The rule of days for an ordinal between marks.
_BY_ITSELF: Final = "an nth by itself"


def _two_values(draft: Draft, frame: Frame) -> Doubt | None:
    if len(frame.amounts) < 2:
        return None
    said = Counter(amount.dimension for _, amount in frame.amounts)
    told = {"span_cm", "carapace_mm"} <= draft.fields.keys() and said["length"] == 2
    both_lengths = draft.kind is Kind.MEASURED and (told or {"span", "carapace"} <= frame.flags)
    twice = [d for d, times in said.items() if times > 1 and not (d == "length" and both_lengths)]
    return Doubt(About.AMOUNT, "two_values") if twice else None


def _or_not(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed Ink or not": it may not have been."""
    last = frame.clause.items[-2:]
    doubts = len(last) > 1 and "or" in last[0].senses and not _NOT.isdisjoint(last[1].senses)
    doubts = doubts or last[-1].text == "or no"  # which puts right only what follows it
    return _kind(draft, "hedge") if doubts else None


_NOT: Final = frozenset({"neg", "no"})


def _one_weight_of_two(draft: Draft, frame: Frame) -> Doubt | None:
    """ "weighed Ink and Mole, 20 g": of which of them, where nothing says that it is each's."""
    named = [ref for ref in frame.refs if ref.sure and len(ref.tags) == 1 and not ref.group]
    one = (
        "weight_g" in draft.fields
        and len(frame.amounts) == 1
        and not frame.loose
        and "each" not in frame.flags
    )
    both = not {"both", "all", "each", "same"}.isdisjoint(frame.said)
    unshared = one and not both and len(named) > 1 and len(draft.tags) == len(named)
    if not unshared:
        return None
    return Doubt(About.SPECIMEN, "either", choices=[(tag, {"tags": (tag,)}) for tag in draft.tags])


def _of_her_home(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink's new digs: 10 gal, 4 inches of dirt": litres and soil are of a home, and no size of hers."""
    litres = any(amount.dimension == "volume" for _, amount in frame.amounts)
    triples = zip(frame.clause.items, frame.clause.items[1:], frame.clause.items[2:], strict=False)
    soil = any(a.cat == "A" and b.text == "of" and "noun" in c.senses for a, b, c in triples)
    return (
        Doubt(About.KIND, "two_kinds", choices=[(k.value, {"kind": k}) for k in _HOMES])
        if litres or soil
        else None
    )


_HOMES: Final = (Kind.REHOUSED, Kind.MEASURED)


def _bare_price(draft: Draft, frame: Frame) -> Doubt | None:
    """ "bought a sling for 40": forty of what money, or slings?"""
    items = frame.clause.items
    if "for" not in frame.said:
        return None
    ends = [b for a, b in pairwise(items) if "for" in a.senses and b.cat == "N" and b is items[-1]]
    said = any(a.dimension == "money" for _, a in frame.amounts)
    return Doubt(About.AMOUNT, "number_unexplained", ends[0].text) if ends and not said else None


def _number_before_price(draft: Draft, frame: Frame) -> Doubt | None:
    """ "sold Sunny for one twenty five euro": 1.25, 125, or one for 25?"""
    pairs = pairwise(frame.clause.items)
    beside = [a.text for a, b in pairs if a.cat == "N" and b.cat == "A" and b.val.dimension == "money"]
    in_words = [text for text in beside if text.isalpha() and text not in {"a", "an"}]
    return Doubt(About.AMOUNT, "number_unexplained", in_words[0]) if in_words else None


def _more_or_fewer(draft: Draft, frame: Frame) -> Doubt | None:
    """ "ate 2 crickets at least", "16 cm give or take": only a bound, where "100 ml or so" is near enough."""
    exact = "count" in draft.fields or draft.kind is Kind.MEASURED
    return Doubt(About.AMOUNT, "approx") if "bound" in frame.flags and exact else None


def _more_than_once(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink ate twice", "had one, then another": how many it were in all."""
    twice = any(item.text in _TIMES for item in frame.clause.items)
    shared = len(draft.tags) > 1 and any(_shares(a, b) for a, b in pairwise(frame.clause.items))
    return Doubt(About.AMOUNT, "how_many") if twice or shared or "on top" in frame.flags else None


def _shares(item: Item, behind: Item) -> bool:
    """ "shared a fly", "one fly between them", "gave out 6 crickets on shelf A"."""
    if item.text.split()[-1] == "shared":
        return "a" in behind.senses or behind.cat == "N"
    if item.text == "between":
        return "pron" in behind.senses or behind.cat == "S"
    return behind.text == "out" and "give" in item.senses.acts


_TIMES: Final = frozenset({"twice", "thrice"})


def _of_a_series(draft: Draft, frame: Frame) -> Doubt | None:
    """ "A1 - 3 ate", "shelf B two ate", "GBB 1 and 3 ate" where there is no third: a count, or who?"""
    items = frame.clause.items
    pairs = [(a, b) for a, b in pairwise(items) if a.cat == "N" and _acts_by_itself(b)]
    dashed = any(a.cat == "S" and b is n and b.i > a.j for a, b in pairwise(items) for n, _ in pairs)
    parts = [n for n, _ in pairs if n.text != "both"]
    some = any(a.cat == "S" and a.val.plural and b in parts for a, b in pairwise(items))
    joined = frame.clause.sep == AND and bool(frame.refs) and frame.refs[-1].words[-1:].isdigit()
    if pairs and (dashed or some or (joined and not frame.ref_at and pairs[0][0] is items[0])):
        return Doubt(About.AMOUNT, "number_unexplained", pairs[0][0].text)
    return None


def _acts_by_itself(item: Item) -> bool:
    """Whether a word tells that an animal did something, or did not; "2 eaten" counts prey."""
    if item.text in {"eaten", "taken", "gone", "refused"}:
        return False
    return "neg" in item.senses or any(not v.group.keeper and not v.group.base for v in item.senses.verbs)


def _so_many(draft: Draft, frame: Frame) -> Doubt | None:
    many = draft.of_group and len(draft.tags) > MOST_AT_ONCE
    return _kind(draft, "so_many") if many else None


def _one_of_a_group(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed everyone sept Will": a word not understood between a group and one of its animals."""
    if all(item.cat != "U" for item in frame.clause.items):
        return None
    trios = zip(frame.clause.items, frame.clause.items[1:], frame.clause.items[2:], strict=False)
    odd = [
        word.text
        for group, word, one in trios
        if group.cat == one.cat == "S" and word.cat == "U" and set(one.val.tags) < set(group.val.tags)
    ]
    return Doubt(About.SPECIMEN, "excepted_whom", odd[0]) if odd else None


def _all_of_whom(draft: Draft, frame: Frame) -> Doubt | None:
    """ "b lot all had a pinhead": all of what the word before, that is not understood, names."""
    items = frame.clause.items
    for place, item in enumerate(items):
        at = place - 1
        while at > 0 and items[at].text in _LOTS:
            at -= 1
        whole = item.cat == "S" and item.text in {"all", "everyone", "everybody"}
        if whole and at >= 0 and items[at].cat == "U":
            return Doubt(About.SPECIMEN, "unknown_name", items[at].text)
    return None


def _on_a_what(draft: Draft, frame: Frame) -> Doubt | None:
    """ "everyone on a diet refused": behind a group, what only some of it may be on."""
    items = frame.clause.items
    for place, item in enumerate(items[:-3]):
        on, article, thing = items[place + 1 : place + 4]
        strange = on.text == "on" and "a" in article.senses and thing.cat in "UW"
        if strange and item.cat == "S" and item.val.plural:
            return Doubt(About.SPECIMEN, "some_of_several", thing.text)
    return None


#: Words for a number of animals, behind what they are called.
_LOTS: Final = frozenset({"lot", "gang", "crew", "bunch", "crowd", "lads", "ones"})


def _exception_of_nobody(draft: Draft, frame: Frame) -> Doubt | None:
    """ "all but the third": an exception that names nobody, or a "not" before a name."""
    if _EXCEPTING.isdisjoint(frame.said):
        return None
    excepts = "except" in frame.said and not frame.excepted
    pairs = list(pairwise(frame.clause.items))
    but_day = any("but" in a.senses and b.cat == "D" for a, b in pairs)
    not_one = any("neg" in a.senses and "verb" not in a.senses and b.cat == "S" for a, b in pairs)
    turned = draft.kind in {Kind.REFUSED, Kind.OPENED} and not (frame.inherited and refuses(frame))
    if turned and not (excepts or but_day):  # "refused: not Ink" turns nothing round
        return None
    return Doubt(About.SPECIMEN, "excepted_whom") if excepts or but_day or not_one else None


_EXCEPTING: Final = frozenset({"except", "but", "neg"})


_EVERY: Final = frozenset(Kind)
_CHECKS: Final = by_kind(
    (_strange_words, _EVERY),
    (_strange_verb, FEEDING),
    (_of_something_else, frozenset({Kind.MEASURED})),
    (_strange_after_prey, FEEDING),
    (_strange_prey, FEEDING),
    (_denied, _DENIABLE),
    (_denied_of_another, _EVERY),
    (_ate_another, frozenset({Kind.FED})),
    (_only_spoken_of, frozenset({Kind.FED, Kind.WATERED, Kind.CLEANED, Kind.REHOUSED})),
    (_keeper_closed_it, frozenset({Kind.SEALED, Kind.OPENED})),
    (_filled_with_soil, frozenset({Kind.WATERED})),
    (_cleaned_up_by_her, frozenset({Kind.CLEANED})),
    (_yet_to_come, _EVERY),
    (_again_and_again, _EVERY),
    (_day_of_another, _EVERY),
    (_loose_day, _EVERY),
    (_unread_day, _EVERY),
    (_two_values, _EVERY),
    (_or_not, _EVERY),
    (another_time_of_day, frozenset({Kind.CLIMATE})),
    (place_of_a_letter, frozenset({Kind.CLIMATE})),
    (number_between, FEEDING),
    (some_uneaten, FEEDING),
    (more_or_fewer_than, FEEDING),
    (_one_weight_of_two, frozenset({Kind.MEASURED})),
    (_of_her_home, frozenset({Kind.MEASURED})),
    (_more_or_fewer, _EVERY),
    (_more_than_once, frozenset({Kind.FED})),
    (_of_a_series, FEEDING),
    (_bare_price, _OF_PEOPLE),
    (_number_before_price, _OF_PEOPLE),
    (_so_many, _OF_ONE),
    (_all_of_whom, _EVERY),
    (_on_a_what, _EVERY),
    (_exception_of_nobody, _EVERY),
    (_one_of_a_group, _EVERY),
)
