"""Doubts whether what is said of an event or a purchase says that it happened, and to whom."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.kinds.drafts import Doubt, Draft, of_another_kind
from bot.reading.model import FEEDING, About
from bot.reading.words.rule_words import rule_words


def something_else_of_it(draft: Draft, frame: Frame) -> Doubt | None:
    """ "hat die Häutung verpasst", "… leider nicht mitgemacht": an event named by its noun alone.

    What an animal did with it stands behind it in German, and before it in English; where that is not
    understood, or is denied, it may be that nothing happened.
    """
    nouns = [at for at, item in frame.verbs if _only_names(item, draft)]
    if frame.inherited or len(nouns) != len(frame.verbs) or "did" not in frame.flags:
        return None
    behind = [i for at in nouns for i in frame.clause.items[at + 1 :]]
    denied = next((i.text for i in behind if not _DENIES.isdisjoint(i.senses)), None)
    strange = next((i.text for i in behind[-1:] if i.cat == "U" and not i.upper), None)
    words = denied or strange
    return of_another_kind(draft, "strange_words", words) if words is not None else None


_DENIES: Final = frozenset({"neg", "elided"})


def _only_names(item: Item, draft: Draft) -> bool:
    """Whether a word only names the event of an entry: "Häutung"."""
    return any(verb.group.noun and verb.group.kind is draft.kind for verb in item.senses.verbs)


def had_of_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Mole got Ink's leftovers", "Ink hat Moles Grille bekommen": whose it was, and who was given it."""
    items = frame.clause.items
    if sum(item.cat == "S" for item in items) < len(("whose", "given")):
        return None
    for at, whose in enumerate(items):
        if whose.cat != "S" or not set(whose.val.tags) < set(draft.tags):
            continue
        if _left_by_her(items, at) or (draft.kind in FEEDING and _prey_of_hers(items, at)):
            return of_another_kind(draft, "strange_words", whose.text)
    return None


def _left_by_her(items: Sequence[Item], at: int) -> bool:
    """ "Ink's leftovers", "Ink's leftover roach", beside somebody who owns nothing."""
    given = any(item.cat == "S" and not item.owns for item in items)
    behind = items[at + 1 : at + 2]
    left = any(item.senses.part == "waste" or "leftover" in item.senses for item in behind)
    return given and items[at].owns and left


def _prey_of_hers(items: Sequence[Item], at: int) -> bool:
    """ "Moles Grille", in German without an apostrophe; "el grillo de Mole"."""
    owned = _in_the_genitive(items, at) and any("prey" in item.senses for item in items[at + 1 : at + 2])
    return owned or (at > 1 and "of" in items[at - 1].senses and "prey" in items[at - 2].senses)


def _in_the_genitive(items: Sequence[Item], at: int) -> bool:
    """A name with an "s" behind it; no last one of a list, "Ink und Bess"."""
    item, listed = items[at], at > 0 and (items[at - 1].cat == "M" or "and" in items[at - 1].senses)
    return item.val.how == "name" and item.text.endswith("s") and not listed


def last_of_its_sort(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink ate. Mole last molt": the last one, and not when it was: rather asked than told."""
    items = frame.clause.items
    trios = zip(items, items[1:], items[2:], strict=False)
    events = (
        event.text for whose, last, event in trios if _of_last(whose, last) and _only_names(event, draft)
    )
    event = next(events, None)
    return of_another_kind(draft, "strange_words", event) if event is not None and not frame.days else None


def _of_last(whose: Item, last: Item) -> bool:
    return whose.cat == "S" and last.text in _LAST


_LAST: Final = rule_words("last_or_latest")


def bought_by_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Tim hat Heimchen gekauft": a name that is not of the shelf, before what was bought."""
    items = frame.clause.items
    who = items[0].text if items[0].cat == "U" and items[0].text.isalpha() else None
    acts = len(items) > 1 and ("did" in items[1].senses or bool(items[1].senses.verbs))
    own = "self" in frame.flags or any(_TO_ME & set(i.text.split()) for i in items)  # "Marta gave me a sling"
    return of_another_kind(draft, "strange_words", who) if who is not None and acts and not own else None


_TO_ME: Final = rule_words("to_me")


def only_to_be_had(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Nhandu chromatus gesehen für 20 Euro": on offer somewhere, and not bought."""
    offered = next((i for i in frame.clause.items if "on_offer" in i.senses), None)
    return None if frame.verbs or offered is None else of_another_kind(draft, "strange_words", offered.text)


def dug_so_far(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink hat 10 cm gegraben": a word not understood right behind a length, which may be none of hers."""
    if "length" not in {amount.dimension for _, amount in frame.amounts} or frame.verbs:
        return None
    pairs = pairwise(frame.clause.items)
    ends = (b for a, b in pairs if a.cat == "A" and b.cat == "U" and b is frame.clause.items[-1])
    did = next((b.text for b in ends if b.text.isalpha()), None)
    return of_another_kind(draft, "strange_words", did) if did and "did" in frame.flags else None


def plant_of_hers(draft: Draft, frame: Frame) -> Doubt | None:
    """ "die Pflanze bei Ink ist eingegangen": what stands before where it was died, and not she."""
    items = frame.clause.items
    trios = zip(items, items[1:], items[2:], strict=False)
    things = (what.text for what, at, whom in trios if what.cat == "U" and _is_there(at) and whom.cat == "S")
    thing = next(things, None)
    return of_another_kind(draft, "strange_words", thing) if thing is not None else None


def _is_there(item: Item) -> bool:
    return "verb" not in item.senses and bool({"on", "with", "from"} & item.senses.keys())


def air_of_a_thing(draft: Draft, frame: Frame) -> Doubt | None:
    """ "im Auto 30 Grad": the air of a place that is not understood."""
    opening = pairwise([i for i in frame.clause.items if i.cat != "D"][:2])
    places = (b.text for a, b in opening if "on" in a.senses and b.cat == "U" and b.text.isalpha())
    place = next(places, None) if not frame.refs and "room" not in frame.flags else None
    return of_another_kind(draft, "strange_words", place) if place is not None else None


def number_of_another_place(draft: Draft, frame: Frame) -> Doubt | None:
    """ "31 Grad in der Bude, Regal A sogar 32": a number behind a place, though it is somebody's tag."""
    items = frame.clause.items
    tags = (i.text for i in items if i.cat == "S" and i.text.isdecimal() and len(frame.refs) > 1)
    number = next(tags, None)
    return Doubt(About.AMOUNT, "two_values", number) if number is not None else None


def meal_in_the_warmth(draft: Draft, frame: Frame) -> Doubt | None:
    """ "bei 25 Grad hat Ink eine Schabe gefressen": the warmth is told beside what somebody did."""
    verbs = [verb.group for _, item in frame.verbs for verb in item.senses.verbs]
    acted = bool(frame.meals and verbs) or any(g.kind in FEEDING and not (g.weak or g.base) for g in verbs)
    acted = acted and any(ref.how != "place" for ref in frame.refs) and not frame.inherited
    return of_another_kind(draft, "two_kinds") if acted else None
