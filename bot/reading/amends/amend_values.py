"""What a correction puts in place of the last entry's fields: "a roach, not a cricket", "make it Tuesday"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, Final

from bot.reading.amends.amended_animal import animal_or_prey
from bot.reading.clauses.clause_marks import WHO_DID
from bot.reading.clauses.clauses import clauses_of
from bot.reading.clauses.figures import bare_number
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.taken_apart import frame_of
from bot.reading.items.item import Item, Ref
from bot.reading.items.of_one_sort import sort_of
from bot.reading.kinds.homes_said import LITRES_OF_A_HOME
from bot.reading.kinds.kinds import verdict_on
from bot.reading.kinds.verdicts import Verdict
from bot.reading.message.parse import Message
from bot.reading.model import About, Amend, Ask, Option, Reading, ReadingKind
from bot.reading.questions.ideas import ideas_in
from bot.reading.words.lexicon import Sense
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: Words that a correction of who it was does not need: "no eggs from Pit yet" is none.
_NO_CORRECTION: Final = frozenset({"noun", "undone", "from", "still", "future", "cond"})


def change(message: Message, rest: range) -> Reading | None:
    """The change that a part of a message says, ``None`` where it says none."""
    said = message.items([rest])
    if _only_denied(message, said, rest):
        ask = Ask(about=About.KIND, doubt="which_entry", words=message.source.plain.strip())
        return Reading(reading=ReadingKind.ASK, ask=ask)
    items = _affirmed(message, _behind_but(said), rest)
    frames = [frame_of(c) for c in clauses_of(items)]
    named = [i.val for k, i in enumerate(items) if i.cat == "S" and not (k and "neg" in items[k - 1].senses)]
    if named and any(f.verbs for f in frames):
        ask = Ask(about=About.KIND, doubt="new_or_change", words=message.source.plain.strip())
        return Reading(reading=ReadingKind.ASK, ask=ask)
    if named and any(i.cat == "W" and _NO_CORRECTION & set(i.senses) for i in items):
        return None
    if named and items[0].cat == "U" and _opens_denied(message, rest):
        return None  # "no bodies in the commune"
    if any(i.cat == "X" and _excepts(message, i) for i in items) and not _of_those(items, named):
        return None  # "no eaters on shelf B bar Dot"
    doubt = _in_doubt(message, frames, named)
    if doubt is not None:
        return doubt
    changes = _said(message, items, frames, named) or _called(message, rest) or _figure(items)
    animal = animal_or_prey(message, said, items, changes)
    if animal is not None:
        return animal
    return (
        Reading(reading=ReadingKind.AMEND, amend=Amend(action="change", changes=changes)) if changes else None
    )


def _said(
    message: Message, items: Sequence[Item], frames: Sequence[Frame], named: Sequence[Ref]
) -> dict[str, Any]:
    changes: dict[str, Any] = {}
    for frame in frames:
        for span in frame.days:
            clock_alone = span.implied and span.time is not None and span.day == message.today
            day = None if clock_alone else span.day  # "that feed was at 9 pm"
            changes.update({k: v for k, v in (("day", day), ("time", span.time)) if v is not None})
    if named:
        less = _excepted(items)
        changes["specimens"] = message.names.in_order(t for r in named for t in r.tags if t not in less)
    _food(frames, changes)
    sizes = {i.senses["size"].group.size for i in items if "size" in i.senses}
    if len(sizes) == 1 and not any(meal.size for f in frames for meal in f.meals):
        changes["size"] = sizes.pop()
    if any("prekilled" in item.senses for item in items):
        changes["prekilled"] = True  # "it was prekilled", "a prekilled one"
    _amounts(frames, changes)
    for frame in frames:
        verdict = verdict_on(frame)
        if verdict.state == "told" and frame.verbs and not _only_served(verdict, changes):
            changes["kind"] = verdict.kinds[0]
    return changes


def _only_served(verdict: Verdict, changes: dict[str, Any]) -> bool:
    """ "she took two actually": how many it was; that she ate was told before."""
    of_a_meal = set(verdict.kinds) <= {Kind.FED} and all(group.weak for group in verdict.groups)
    return of_a_meal and not {"count", "prey"}.isdisjoint(changes)


def _called(message: Message, rest: range) -> dict[str, Any]:
    """ "call it a refusal": the kind that a noun names."""
    kinds = {kind for _, kind in ideas_in(message, rest, set(), set(), range(0)).kinds}
    return {"kind": kinds.pop()} if len(kinds) == 1 else {}


def _figure(items: Sequence[Item]) -> dict[str, Any]:
    """ "no, 14.5": a figure, of which the last entry has to tell what it measures."""
    figures = [figure for item in items if (figure := bare_number(item)) is not None]
    unknown = [item for item in items if item.cat == "U"]
    return {"number": figures[0]} if len(figures) == len(unknown) == 1 else {}


def _excepts(message: Message, item: Item) -> bool:
    """Whether an exception is one by its first word, and no denial: "bar Dot", not "not Dot"."""
    return any(s.cat == "except" for s in message.senses(item.i))


def _excepted(items: Sequence[Item]) -> set[str]:
    return {tag for item in items if item.cat == "X" for ref in item.val for tag in ref.tags}


def _of_those(items: Sequence[Item], named: Sequence[Ref]) -> bool:
    """ "it should have been A but Sunny": whether those excepted are of a group that is named."""
    less = _excepted(items)
    return any(less < set(ref.tags) for ref in named)


def _behind_but(items: list[Item]) -> list[Item]:
    """ "I said Mole but it was Ink", "… but it was Ink that ate": what is put in its place."""
    at = next((n for n, i in enumerate(items) if "but" in i.senses and n), None)
    if at is None:
        return items
    wrong, right = ([sort for i in part if (sort := sort_of(i))] for part in (items[:at], items[at + 1 :]))
    if not right or not wrong or right[0] not in wrong:
        return items
    who = next(n for n in range(at + 1, len(items)) if sort_of(items[n]))
    cleft = items[who].cat == "S" and who + 1 < len(items) and items[who + 1].text in WHO_DID
    return items[at + 1 : who + 1] if cleft else items[at + 1 :]


def _affirmed(message: Message, items: Sequence[Item], rest: range) -> list[Item]:
    """The items without those right behind a "not": "2.5 not 25", "not Pit - Pitch"."""
    denies = _opens_denied(message, rest)
    gone = {
        place
        for place in range(len(items))
        if denied(items, place, opens=denies) or _deed_denied(items, place)
    }
    return [
        item
        for place, item in enumerate(items)
        if place not in gone and not (place + 1 in gone and (item.text in _NOT or _is_instead(item)))
    ]


_NOT: Final = rule_words("not")


def _deed_denied(items: Sequence[Item], place: int) -> bool:
    """ "refused, not fed": what was not done, behind what was."""
    if not items[place].senses.verbs or not place:
        return False
    not_so = items[place].text.split()[0] in _NOT or items[place - 1].text in _NOT
    return not_so and any(item.senses.verbs for item in items[:place])


def _opens_denied(message: Message, rest: range) -> bool:
    """Whether a "not", or a "no" without a mark behind it, stands right before a part of a message."""
    return any(s.cat in {"neg", "none_of"} for s in _leading(message, rest))


def _leading(message: Message, rest: range) -> tuple[Sense, ...]:
    """What the word before a part of a message means, one that only says "was" passed over: "no era Ink"."""
    at = rest.start - 1
    while at > 0 and any(s.cat == "did" for s in message.senses(at)):
        at -= 1
    return message.senses(at) if at >= 0 else ()


def _only_denied(message: Message, items: Sequence[Item], rest: range) -> bool:
    """ "it wasn't Ink", "not a cricket", "no crickets": what was wrong, and not what it was instead."""
    before = _leading(message, rest)
    if not any(s.cat == "neg" for s in before) and not (items and _none_of_it(items[0], before)):
        return False
    first = next((n for n, i in enumerate(items) if _ARTICLES.isdisjoint(i.senses)), None)
    if first is None or items[first].i != (items[first - 1].j if first else rest.start):
        return False  # "not Ink, I meant Sunny"
    sort = sort_of(items[first]) or next((c for c in ("verb", "noun") if c in items[first].senses), "")
    others = [n for n, i in enumerate(items) if n != first and (sort_of(i) == sort or sort in i.senses)]
    return bool(sort) and all(denied(items, n, opens=True) for n in others)


def _none_of_it(first: Item, before: Sequence[Sense]) -> bool:
    """ "no crickets", "no molt": with no mark between, there was none of the thing that is named."""
    verb = first.senses.get("verb")
    thing = "prey" in first.senses or "noun" in first.senses or (verb is not None and verb.group.noun)
    return thing and any(s.cat == "none_of" for s in before)


#: Small words that may stand between a "not" and what it denies: "not for Ink".
_ARTICLES: Final = frozenset({"a", "the", "for"})


def denied(items: Sequence[Item], place: int, *, opens: bool) -> bool:
    """Whether a "not" or "instead of" stands before an item or one joined to it; another is affirmed."""
    sort = sort_of(items[place])
    if not sort:
        return False
    before = place - 1
    while before >= 0 and not _ARTICLES.isdisjoint(items[before].senses):
        before -= 1
    if before < 0:
        return opens and any(n != place and sort_of(i) == sort for n, i in enumerate(items))
    if before and not _JOINS.isdisjoint(items[before].senses) and sort_of(items[before - 1]) == sort:
        return denied(items, before - 1, opens=opens)
    return _denies(items[before])


def _denies(item: Item) -> bool:
    if "except" in item.senses and item.text.rpartition(" ")[2] in _NOT:
        return True  # "today and not yesterday"
    return _is_instead(item) or ("neg" in item.senses and "verb" not in item.senses)


def _is_instead(item: Item) -> bool:
    """ "instead of", "statt"."""
    return item.text in _INSTEAD_OF or any(s.group.act == "instead" for s in item.senses.values())


#: "3 instead of 2": what was wrong stands behind it, as behind a "not".
_INSTEAD_OF: Final = rule_words("instead_of")


#: "not Ink and Bess": what joins one that is denied to the next.
_JOINS: Final = frozenset({"and", "or"})


def _in_doubt(message: Message, frames: Sequence[Frame], named: Sequence[Ref]) -> Reading | None:
    if len({n.value for frame in frames for n in frame.loose}) > 1:
        return Reading(reading=ReadingKind.ASK, ask=Ask(about=About.AMOUNT, doubt="two_values"))
    for frame in frames:
        for span in frame.days:
            if span.doubt or (span.day is not None and span.day > message.today):
                return Reading(
                    reading=ReadingKind.ASK, ask=Ask(about=About.DAY, doubt=str(span.doubt or "future_day"))
                )
        if any(m.doubt for m in frame.meals) or any(n.doubt for n in frame.loose):
            return Reading(reading=ReadingKind.ASK, ask=Ask(about=About.AMOUNT, doubt="how_many"))
    for ref in named:
        if not ref.sure:
            options = tuple(
                Option(
                    value=t,
                    reading=Reading(
                        reading=ReadingKind.AMEND, amend=Amend(action="change", changes={"specimens": (t,)})
                    ),
                )
                for t in ref.tags
            )
            ask = Ask(
                about=About.SPECIMEN, doubt=ref.doubt, words=ref.words, choices=ref.tags, options=options
            )
            return Reading(reading=ReadingKind.ASK, ask=ask)
    return None


def _food(frames: Sequence[Frame], changes: dict[str, Any]) -> None:
    for frame in frames:
        for meal in frame.meals:
            if "prey" in changes or ("size" in changes and meal.prey is None):
                continue
            if meal.prey is not None:
                changes["prey"] = meal.prey
            if meal.count is not None and not (meal.count == 1 and "a" in frame.flags):
                changes["count"] = meal.count
            if meal.size is not None:
                changes["size"] = meal.size
        for number in frame.loose:
            if number.value is not None and not _names_the_entry(frame):
                changes.setdefault("count", int(number.value))


def _names_the_entry(frame: Frame) -> bool:
    """ "not Old Bess, Little Bess, that last one": the entry that is put right, and no number."""
    return any(a.text in _LAST and b.text in _ONE for a, b in pairwise(frame.clause.items))


_LAST: Final = rule_words("last_or_latest")
_ONE: Final = rule_words("bare_one")


def _amounts(frames: Sequence[Frame], changes: dict[str, Any]) -> None:
    for frame in frames:
        for _, amount in frame.amounts:
            name, factor = FIELD_OF.get(amount.dimension, ("", 1))
            if amount.dimension == "length" and "carapace" in frame.flags:
                name, factor = "carapace_mm", 10
            if amount.dimension == "volume" and ("box" in frame.nouns or amount.value >= LITRES_OF_A_HOME):
                name, factor = "volume_l", 1  # "it was a 20 litre tub", and no water
            if name:
                changes[name] = amount.value * factor
            if amount.dimension == "money":
                changes.update(price=amount.value, currency=amount.currency)


#: For each dimension of an amount the field that it is by default, and the factor to that field's unit.
FIELD_OF: Final = {
    "length": ("span_cm", 1),
    "weight": ("weight_g", 1),
    "volume": ("ml", 1000),
    "temperature": ("temp_c", 1),
    "humidity": ("humidity_pct", 1),
}
