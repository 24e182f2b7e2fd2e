"""Figures and letters that may mean something else than an entry has: checks as in ``misgivings``."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import AND
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.kinds.drafts import Doubt, Draft, kind_choices, of_another_kind
from bot.reading.model import FEEDING, About
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def another_time_of_day(draft: Draft, frame: Frame) -> Doubt | None:
    """ "temps 24.5 day 21 night": a second figure, which is that of another time of the day."""
    pairs = pairwise(frame.clause.items)
    figures = [a.text for a, b in pairs if a.cat in "NU" and a.text[0].isdigit() and b.text in _TIMES_OF_DAY]
    return Doubt(About.AMOUNT, "two_values", figures[0]) if figures else None


_TIMES_OF_DAY: Final = rule_words("times_of_day")


def number_between(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed A1 2 A4": how many the first got, or "to"?"""
    items = frame.clause.items
    trios = zip(items, items[1:], items[2:], strict=False)
    said = [n.text for a, n, b in trios if a.cat == b.cat == "S" and n.cat == "N" and n.val in frame.loose]
    return Doubt(About.AMOUNT, "number_unexplained", said[0]) if said else None


def number_denied(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink gefressen 2 nicht", "nur 2 nicht": a number of what was not eaten, or of who did not eat."""
    pairs = pairwise(frame.clause.items)
    denied = [n.text for n, no in pairs if n.cat == "N" and n.val in frame.loose and "elided" in no.senses]
    return Doubt(About.AMOUNT, "number_unexplained", denied[0]) if denied else None


def some_of_the_prey(draft: Draft, frame: Frame) -> Doubt | None:
    """ "von 2 Schaben eine gefressen": the number of those that were there, and not of those eaten."""
    items = [i for i in frame.clause.items if not _BEFORE_A_POOL & i.senses.keys() or "of" in i.senses]
    trios = zip(items, items[1:], items[2:], strict=False)
    pools = [n.text for of, n, it in trios if "of" in of.senses and n.cat == "N" and "prey" in it.senses]
    return Doubt(About.AMOUNT, "part", pools[0]) if pools else None


_BEFORE_A_POOL: Final = frozenset({"the", "size", "prekilled"})


def time_or_number(draft: Draft, frame: Frame) -> Doubt | None:
    """ "gegen zwei Nhandu chromatus getauscht": a time of day right before a species may be their number."""
    pairs = pairwise(frame.clause.items)
    times = [a.text for a, b in pairs if a.cat == "D" and a.val.time is not None and b.cat == "T"]
    return Doubt(About.AMOUNT, "number_unexplained", times[0]) if times else None


def some_uneaten(draft: Draft, frame: Frame) -> Doubt | None:
    """ "all of D got a locust 1 uneaten": a number of the prey told before it, or of the animals."""
    items = frame.clause.items
    at = next((n for n, i in enumerate(items) if "prey" in i.senses), len(items))
    behind = pairwise(items[at + 1 :])
    some = [a.text for a, b in behind if a.cat == "N" and "uneaten" in b.senses.acts]
    return Doubt(About.AMOUNT, "part", some[0]) if some else None


def place_of_a_letter(draft: Draft, frame: Frame) -> Doubt | None:
    """ "humidity b 80": a letter that may be a shelf's, and no word."""
    letters = [i.text for _, i in frame.unknown if len(i.text) == 1 and i.text.isalpha()]
    return Doubt(About.SPECIMEN, "unknown_name", letters[0]) if letters and not frame.ref_at else None


MOST_AT_ONCE: Final = 4


def two_values(draft: Draft, frame: Frame) -> Doubt | None:
    """Two amounts of one sort, where an entry has one."""
    if len(frame.amounts) < 2:
        return None
    said = Counter(amount.dimension for _, amount in frame.amounts)
    told = {"span_cm", "carapace_mm"} <= draft.fields.keys() and said["length"] == 2
    both_lengths = draft.kind is Kind.MEASURED and (told or {"span", "carapace"} <= frame.flags)
    twice = [d for d, times in said.items() if times > 1 and not (d == "length" and both_lengths)]
    return Doubt(About.AMOUNT, "two_values") if twice else None


def length_of_what(draft: Draft, frame: Frame) -> Doubt | None:
    """ "cleaned Ink, 15 cm": of her, or of what was put in."""
    lengths = [item.text for item in frame.clause.items if item.cat == "A" and item.val.dimension == "length"]
    return Doubt(About.AMOUNT, "number_unexplained", lengths[0]) if lengths else None


def one_weight_of_two(draft: Draft, frame: Frame) -> Doubt | None:
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


def of_her_home(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink's new digs: 10 gal, 4 inches of dirt": litres and soil are of a home, and no size of hers."""
    litres = any(amount.dimension == "volume" for _, amount in frame.amounts)
    triples = zip(frame.clause.items, frame.clause.items[1:], frame.clause.items[2:], strict=False)
    soil = any(a.cat == "A" and b.text in _OF and "noun" in c.senses for a, b, c in triples)
    soil = soil or _of_a_box(frame.clause.items) or "sub" in frame.nouns
    return Doubt(About.KIND, "two_kinds", choices=kind_choices(*_HOMES)) if litres or soil else None


_OF: Final = rule_words("bare_of")


def _of_a_box(items: Sequence[Item]) -> bool:
    """ "Terrarium von Ink ist 30 cm hoch": a box that leads to whose it is, and a length behind."""
    trios = zip(items, items[1:], items[2:], strict=False)
    return any("noun" in a.senses and "from" in b.senses and c.cat == "S" for a, b, c in trios)


_HOMES: Final = (Kind.REHOUSED, Kind.MEASURED)


def bare_price(draft: Draft, frame: Frame) -> Doubt | None:
    """ "bought a sling for 40": forty of what money, or slings?"""
    items = frame.clause.items
    if "for" not in frame.said:
        return None
    ends = [b for a, b in pairwise(items) if "for" in a.senses and b.cat == "N" and b is items[-1]]
    said = any(a.dimension == "money" for _, a in frame.amounts)
    return Doubt(About.AMOUNT, "number_unexplained", ends[0].text) if ends and not said else None


def figure_of_a_word(draft: Draft, frame: Frame) -> Doubt | None:
    """ "B. emilia, 25000 xyz": a figure behind what was bought, of what the word behind it may be."""
    items = frame.clause.items
    sorts = (n for n, i in enumerate(items) if i.cat == "T" or (i.cat == "S" and i.val.species))
    behind = next(sorts, len(items))
    strange = [a.text for a, b in pairwise(items[behind:]) if a.cat == "N" and b.cat == "U"]
    return Doubt(About.AMOUNT, "number_unexplained", strange[0]) if strange else None


def number_before_price(draft: Draft, frame: Frame) -> Doubt | None:
    """ "sold Sunny for one twenty five euro": 1.25, 125, or one for 25?"""
    pairs = pairwise(frame.clause.items)
    beside = [a.text for a, b in pairs if a.cat == "N" and b.cat == "A" and b.val.dimension == "money"]
    in_words = [text for text in beside if text.isalpha() and text not in _ARTICLES]
    return Doubt(About.AMOUNT, "number_unexplained", in_words[0]) if in_words else None


_ARTICLES: Final = rule_words("a_or_an")


def more_or_fewer(draft: Draft, frame: Frame) -> Doubt | None:
    """ "ate 2 crickets at least", "Ink >5 crix": only a bound, where "100 ml or so" is near enough."""
    exact = "count" in draft.fields or draft.kind is Kind.MEASURED
    pairs = pairwise(frame.clause.items)
    marked = any(mark.text in _BOUNDS and n.cat == "N" and mark.j == n.i for mark, n in pairs)
    marked = marked and draft.kind in FEEDING
    return Doubt(About.AMOUNT, "approx") if marked or ("bound" in frame.flags and exact) else None


_BOUNDS: Final = frozenset("<>")


def more_than_once(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink ate twice", "had one, then another": how many it were in all."""
    twice = any(item.text in _TIMES for item in frame.clause.items)
    shared = len(draft.tags) > 1 and any(_shares(a, b) for a, b in pairwise(frame.clause.items))
    return Doubt(About.AMOUNT, "how_many") if twice or shared or "on top" in frame.flags else None


def refused_so_often(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Captain refused x3": three feeders, or three times?"""
    alone = "count" in draft.fields and "prey" not in draft.fields
    times = [i.text for i in frame.clause.items if i.cat == "N" and _TIMES_SIGN & set(i.text.split())]
    return Doubt(About.AMOUNT, "number_unexplained", times[0]) if alone and times else None


#: What a number is written with that counts times, or feeders.
_TIMES_SIGN: Final = frozenset({"x", "×"})


def _shares(item: Item, behind: Item) -> bool:
    """ "shared a fly", "one fly between them", "gave out 6 crickets on shelf A"."""
    if item.text.split()[-1] in _SHARED:
        return "a" in behind.senses or behind.cat == "N"
    if item.text in _AMONG:
        return "pron" in behind.senses or behind.cat == "S"
    return behind.text in _OUT and "give" in item.senses.acts


_OUT: Final = rule_words("out")
_AMONG: Final = rule_words("between")
_SHARED: Final = rule_words("shared")
_TIMES: Final = rule_words("twice")


def of_a_series(draft: Draft, frame: Frame) -> Doubt | None:
    """ "A1 - 3 ate", "shelf B two ate", "GBB 1 and 3 ate" where there is no third: a count, or who?"""
    items = frame.clause.items
    pairs = [(a, b) for a, b in pairwise(items) if a.cat == "N" and _acts_by_itself(b)]
    dashed = any(a.cat == "S" and b is n and b.i > a.j for a, b in pairwise(items) for n, _ in pairs)
    parts = [n for n, _ in pairs if n.text not in _BOTH]
    some = any(a.cat == "S" and a.val.plural and b in parts for a, b in pairwise(items))
    joined = frame.clause.sep == AND and bool(frame.refs) and frame.refs[-1].words[-1:].isdigit()
    if pairs and (dashed or some or (joined and not frame.ref_at and pairs[0][0] is items[0])):
        return Doubt(About.AMOUNT, "number_unexplained", pairs[0][0].text)
    return None


_BOTH: Final = rule_words("both")


def _acts_by_itself(item: Item) -> bool:
    """Whether a word tells that an animal did something, or did not; "2 eaten" counts prey."""
    if item.text in _TAKEN:
        return False
    return "neg" in item.senses or any(not v.group.keeper and not v.group.base for v in item.senses.verbs)


_TAKEN: Final = rule_words("taken_or_refused")


def so_many(draft: Draft, frame: Frame) -> Doubt | None:
    """More animals than such a thing happens to at once."""
    many = draft.of_group and len(draft.tags) > MOST_AT_ONCE
    return of_another_kind(draft, "so_many") if many else None


def so_many_more(draft: Draft, frame: Frame) -> Doubt | None:
    """ "A got 2 crickets each, Ink got an extra one": how many that makes is asked."""
    more = "count" in draft.fields and any(item.text in _EXTRA for item in frame.clause.items)
    return Doubt(About.AMOUNT, "part") if more else None


_EXTRA: Final = rule_words("extra")
