"""A doubt about what was eaten where it is no prey: "se comió su muda", "se comió el dedo"."""

from __future__ import annotations

from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.kinds.drafts import Doubt, Draft, of_another_kind
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def ate_a_thing(draft: Draft, frame: Frame) -> Doubt | None:
    """An article or a "her" right behind the eating, and behind that no word for prey."""
    if frame.meals:
        return None
    items = frame.clause.items
    eaten = zip([None, *items], items, items[1:], items[2:], strict=False)
    things = (
        thing.text
        for who, eats, of, thing in eaten
        if _eats(eats) and _leads(of) and _no_prey(thing) and (who is None or "self" not in who.senses)
    )
    thing = next(things, None)
    return of_another_kind(draft, "strange_words", thing) if thing is not None else None


def _eats(item: Item) -> bool:
    groups = [verb.group for verb in item.senses.verbs]
    return bool(groups) and all(group.kind is Kind.FED and not group.keeper for group in groups)


def _leads(item: Item) -> bool:
    return not {"the", "a"}.isdisjoint(item.senses) or item.text in _HER_OWN


def _no_prey(item: Item) -> bool:
    shed = any(verb.group.noun and verb.group.kind is Kind.MOLTED for verb in item.senses.verbs)
    return shed or "animal" in item.senses or (item.cat == "U" and item.text.isalpha())


_HER_OWN: Final = rule_words("possessives")
