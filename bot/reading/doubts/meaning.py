"""Values that cannot be: a span of 170 cm, 95 °C, 4,000 crickets for one sling, a molt of a mature male.

A table of checks. Each gives the doubt that is to be asked about, with the likeliest answer first. The
bounds are generous, common practice with no source: they catch slips of unit and digit, not odd animals.
"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Final

from bot.reading.kinds.drafts import Doubt, Draft, by_kind, of_another_kind
from bot.reading.model import FEEDING, About
from bot.reading.names.shelf_names import ShelfNames
from bot.terms import Kind, SacEvent, Sex, Specimen, Stage
from bot.terms.keeper import CM_PER_INCH

#: By field the least and most that can be.
_BOUNDS: Final = {
    "span_cm": (Decimal("0.2"), Decimal(32)),
    "carapace_mm": (Decimal("0.5"), Decimal(50)),
    "weight_g": (Decimal("0.005"), Decimal(200)),  # the heaviest on record weigh some 175 g (from memory)
    "temp_c": (Decimal(-5), Decimal(45)),
    "humidity_pct": (Decimal(1), Decimal(100)),
    "volume_l": (Decimal("0.01"), Decimal(1000)),
    "substrate_cm": (Decimal("0.2"), Decimal(60)),
    "ml": (Decimal("0.1"), Decimal(3000)),
}
#: No animal takes more at one meal; small flies and pinheads are given by the dozen.
MOST_PREY: Final = 25
MOST_SMALL_PREY: Final = 100
MOST_EGGS: Final = 3000
#: A span that shrank to less than this part, or grew to more than that multiple, of the span on record.
SHRANK: Final = Decimal("0.6")
GREW: Final = Decimal(3)
#: A cube whose side is less than this part of a span holds no animal of that span; three figures without a
#: unit are taken for inches sooner.
ROOM_FOR_LEGS: Final = Decimal("0.5")
ROOM_IN_A_BARE_BOX: Final = Decimal("0.9")
#: Bare figures by which glass homes are sold in inches, and hardly one in centimetres; as their product in
#: thousands, as if they were centimetres. Common practice, no source.
SOLD_BY_THE_INCH: Final = frozenset(
    Decimal(width * depth * height) / 1000
    for width, depth, height in (
        (8, 8, 8),
        (8, 8, 12),
        (12, 12, 12),
        (12, 12, 18),
        (12, 12, 24),
        (18, 18, 18),
        (18, 18, 24),
        (24, 18, 18),
    )
)


def doubtful(draft: Draft, names: ShelfNames, today: date) -> list[Doubt]:
    """What cannot be about a draft, as doubts; none where all can be."""
    animals = [names.by_tag[t] for t in draft.tags if t in names.by_tag]
    checks = _CHECKS[draft.kind]
    if draft.kind is Kind.MATURED and today - draft.day > _LONG_AGO:
        checks = [check for check in checks if check is not _done_molting]  # "12/11/25 Gus matured"
    return [doubt for check in checks if (doubt := check(draft, animals)) is not None]


#: What is told of a day so long ago is no news of the animal as it is on record.
_LONG_AGO: Final = timedelta(days=30)


def _bounds(draft: Draft, animals: list[Specimen]) -> Doubt | None:
    if _BOUNDS.keys().isdisjoint(draft.fields):
        return None
    for name, (least, most) in _BOUNDS.items():
        value = draft.fields.get(name)
        if value is not None and not least <= value <= most:
            return Doubt(About.AMOUNT, "cannot_be", str(value), _other_values(name, value, least, most))
    return None


def _other_values(
    name: str, value: Decimal, least: Decimal, most: Decimal
) -> list[tuple[str, dict[str, Decimal]]]:
    """A tenth is the commonest slip: millimetres told as centimetres, a lost decimal point."""
    tenth = value / 10
    return [(format(tenth.normalize(), "f"), {name: tenth})] if least <= tenth <= most else []


def _prey_count(draft: Draft, animals: list[Specimen]) -> Doubt | None:
    count = draft.fields.get("count")
    if count is None:
        return None
    small = draft.fields.get("size") == "pinhead" or draft.fields.get("prey") in {
        "fruit fly",
        "springtail",
        "isopod",
        "termite",
    }
    most = MOST_SMALL_PREY if small else MOST_PREY
    most *= max((a.lot_size for a in animals), default=1)
    return Doubt(About.AMOUNT, "too_many_prey", str(count)) if count > most or count < 1 else None


def _egg_count(draft: Draft, animals: list[Specimen]) -> Doubt | None:
    count = draft.fields.get("count")
    too_many = count is not None and count > MOST_EGGS
    return Doubt(About.AMOUNT, "too_many_eggs", str(count)) if too_many else None


def _span_of_record(draft: Draft, animals: list[Specimen]) -> Doubt | None:
    span = draft.fields.get("span_cm")
    if span is None or len(animals) != 1 or animals[0].span_cm is None:
        return None
    on_record = animals[0].span_cm
    if on_record * SHRANK <= span <= on_record * GREW:
        return None
    return Doubt(About.AMOUNT, "span_differs", str(span), [(str(span), {"span_cm": span})])


def _home_of_her_size(draft: Draft, animals: list[Specimen]) -> Doubt | None:
    """A home that the animal does not fit into; bare figures of a box are often inches."""
    litres = draft.fields.get("volume_l")
    spans = [animal.span_cm for animal in animals if animal.span_cm is not None]
    bare = "bare_box" in draft.fields
    room = ROOM_IN_A_BARE_BOX if bare else ROOM_FOR_LEGS
    by_the_inch = bare and litres in SOLD_BY_THE_INCH
    too_small = litres is not None and bool(spans) and litres * 1000 < (max(spans) * room) ** 3
    if litres is None or not (too_small or by_the_inch):
        return None
    in_inches = litres * CM_PER_INCH**3
    said, other = (f"{value.quantize(Decimal('0.01')).normalize():f} L" for value in (litres, in_inches))
    choices = [(f"{other} (in)", {"volume_l": in_inches}), (said, {"volume_l": litres})]
    return Doubt(About.AMOUNT, "home_too_small" if too_small else "cm_or_inches", said, choices)


def _lot_part(draft: Draft, animals: list[Specimen]) -> Doubt | None:
    count = draft.fields.get("count")
    if count is None or not animals:
        return None
    return Doubt(About.AMOUNT, "more_than_the_lot", str(count)) if count > animals[0].lot_size else None


def _done_molting(draft: Draft, animals: list[Specimen]) -> Doubt | None:
    if any(a.stage is Stage.MATURE_MALE for a in animals):
        return of_another_kind(draft, "mature_male_molts")
    return None


def _not_of_that_sex(draft: Draft, animals: list[Specimen]) -> Doubt | None:
    if not animals:
        return None
    known = {a.sex for a in animals}
    wrong = (
        (draft.kind is Kind.MATURED and Sex.FEMALE in known)
        or (draft.kind is Kind.SAC and draft.fields.get("event") is SacEvent.LAID and Sex.MALE in known)
        or (
            draft.kind is Kind.SEXED
            and draft.fields.get("sex") is not None
            and any(s not in {Sex.UNKNOWN, draft.fields["sex"]} for s in known)
        )
    )
    return (
        Doubt(About.SPECIMEN, "not_of_that_sex", choices=[(a.tag, {"tags": (a.tag,)}) for a in animals])
        if wrong
        else None
    )


_CHECKS: Final = by_kind(
    (_bounds, frozenset(Kind)),
    (_prey_count, FEEDING),
    (_egg_count, frozenset({Kind.SAC})),
    (_span_of_record, frozenset({Kind.MEASURED})),
    (_home_of_her_size, frozenset({Kind.REHOUSED})),
    (_lot_part, frozenset({Kind.DIED, Kind.LEFT})),
    (_done_molting, frozenset({Kind.MOLTED, Kind.PREMOLT, Kind.MATURED})),
    (_not_of_that_sex, frozenset({Kind.MATURED, Kind.SAC, Kind.SEXED})),
)
