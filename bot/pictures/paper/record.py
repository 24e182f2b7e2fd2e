"""An animal's own record, for a buyer or a vet: what is on record, and blanks for what is not."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from bot.husbandry.animal import Animal
from bot.husbandry.species import Species
from bot.husbandry.state import SpecimenState, journal_order, state_of
from bot.pictures import gather, measures
from bot.pictures.data import Stretch
from bot.pictures.naming import kind_of, prey_told
from bot.pictures.paper.cautions import species_cautions
from bot.pictures.paper.flow import Column, Flow
from bot.pictures.paper.page import A4, GREY, LETTER, Paper
from bot.pictures.words import days, has, say, some, words
from bot.terms import Entry, KeeperSettings, Kind, Sex, Specimen, Units
from bot.terms.language import speaking

_LATEST_MEALS, _LATEST_NOTES, _LATEST_RESTS = 15, 12, 6
_HEALTH: Final = frozenset({Kind.NOTE, Kind.PAIRED, Kind.SAC})


@dataclass(frozen=True, slots=True, kw_only=True)
class AnimalRecord:
    """The animal, its live entries, who keeps it, the day, and the picture of its life, if wanted:
    a PNG and its size in pixels."""

    specimen: Specimen
    entries: tuple[Entry, ...]
    keeper: str
    on: date
    picture: tuple[bytes, tuple[int, int]] | None = None


def record_pages(record: AnimalRecord, settings: KeeperSettings) -> bytes:
    """The record as a PDF, on Letter paper for US units and on A4 otherwise."""
    with speaking(settings.language):
        return _pages(record, settings)


def _pages(record: AnimalRecord, settings: KeeperSettings) -> bytes:
    specimen = record.specimen
    title = say("record.title", who=specimen.called)
    paper = Paper(title, record.on, LETTER if settings.units is Units.US else A4)
    flow = Flow(
        paper, say("record.foot", who=specimen.called, day=measures.day(record.on, settings.date_order))
    )
    flow.title(title, specimen.species, italic=True)
    view = _View(record, settings)
    for heading, part in _PARTS:
        flow.heading(say(heading), keep=24)
        part(flow, view)
    flow.text(say("record.general"), grey=GREY, size=8.5)
    if record.picture is not None:
        flow.picture(*record.picture)
    return paper.finish()


class _View:
    """The record as the parts look at it."""

    def __init__(self, record: AnimalRecord, settings: KeeperSettings) -> None:
        self.record, self.settings = record, settings
        self.specimen = record.specimen
        self.entries = [
            entry
            for entry in sorted(record.entries, key=journal_order)
            if record.specimen.tag in entry.specimens and entry.day <= record.on
        ]
        self.state: SpecimenState = state_of(self.entries)
        self.animal = Animal(record.specimen, self.state)

    @property
    def species(self) -> Species:
        """The species' profile."""
        return self.animal.species

    def day(self, on: date | None) -> str:
        """A day in the keeper's order; empty for none."""
        return measures.day(on, self.settings.date_order) if on else ""

    def last(self, kind: Kind) -> Entry | None:
        """The latest entry of a kind."""
        return next((entry for entry in reversed(self.entries) if entry.kind is kind), None)


def _identity(flow: Flow, view: _View) -> None:
    specimen, species = view.specimen, view.species
    length = measures.length(view.settings.units)
    span = view.animal.measured_span_cm
    sexed = view.last(Kind.SEXED)
    sex = "" if view.animal.sex is Sex.UNKNOWN else say(f"sex.{view.animal.sex.value}")
    names = words("record.identity")
    cautions = ", ".join(caution.words for caution in species_cautions(species))
    values = [
        specimen.tag,
        specimen.name or "",
        ", ".join(specimen.common or species.common_names),
        kind_of(specimen) if specimen.lot_size > 1 else say(f"stage.{view.animal.stage.value}"),
        sex,
        view.day(sexed.day) if sexed else "",
        f"{length.told(span)}" + (f" ({view.day(view.state.span_on)})" if view.state.span_on else "")
        if span
        else "",
        cautions or say("record.no_caution"),
    ]
    flow.facts(list(zip(names, values, strict=True)))


def _origin(flow: Flow, view: _View) -> None:
    came = view.last(Kind.ACQUIRED)
    values = [
        view.day(came.day) if came else "",
        (came.source or "") if came else "",
        "",
        "",
        view.day(view.state.first_entry),
        view.record.keeper,
    ]
    flow.facts(list(zip(words("record.origin"), values, strict=True)))


def _documents(flow: Flow, view: _View) -> None:
    cites = view.species.cites
    key = f"record.cites.{cites}"
    flow.text(say(key) if has(key) else say("record.cites.unsure"))
    flow.blanks(words("record.documents"), columns=2)


def _molts(flow: Flow, view: _View) -> None:
    molts = gather.molts_in(view.entries)
    if not molts:
        flow.text(say("record.no_molts"))
        return
    length = measures.length(view.settings.units)
    spans = {step.since: length.told(step.value) for step in gather.span_steps(view.entries, molts)}
    before = (None, *molts[:-1])
    rows = [
        [
            view.day(molt),
            days((molt - earlier).days) if earlier else "",
            spans.get(molt, ""),
        ]
        for earlier, molt in zip(before, molts, strict=True)
    ]
    flow.table(_columns("record.molt_columns", (1.4, 1.2, 1.4)), rows[::-1])


def _sizes(flow: Flow, view: _View) -> None:
    length = measures.length(view.settings.units)
    found = [entry for entry in view.entries if entry.kind is Kind.MEASURED or entry.span_cm is not None]
    if not found:
        flow.text(say("record.no_sizes"))
        return
    rows = [
        [
            view.day(entry.day),
            length.told(entry.span_cm) if entry.span_cm is not None else "",
            say("record.mm", n=measures.plain(float(entry.carapace_mm))) if entry.carapace_mm else "",
            measures.GRAMS.told(entry.weight_g) if entry.weight_g is not None else "",
        ]
        for entry in reversed(found)
    ]
    flow.table(_columns("record.size_columns", (1.4, 1, 1, 1)), rows)


def _feeding(flow: Flow, view: _View) -> None:
    meals = [entry for entry in view.entries if entry.kind in (Kind.FED, Kind.REFUSED)]
    if not meals:
        flow.text(say("record.no_meals"))
        return
    taken = sum(entry.kind is Kind.FED for entry in meals)
    flow.text(
        say(
            "record.meals",
            taken=some(taken, "meal"),
            refused=len(meals) - taken,
            first=view.day(meals[0].day),
            last=view.day(meals[-1].day),
        )
    )
    rows = [
        [view.day(meal.day), _prey(meal), say(f"record.told.{meal.kind.value}")]
        for meal in meals[: -_LATEST_MEALS - 1 : -1]
    ]
    flow.table(_columns("record.meal_columns", (1.2, 2.2, 1)), rows)


def _prey(meal: Entry) -> str:
    return prey_told(meal.prey, meal.count, meal.size.value if meal.size else None)


def _housing(flow: Flow, view: _View) -> None:
    state, units = view.state, view.settings.units
    species = view.species
    warm = measures.temperature(units)
    suits = say("record.band", low=warm.told(species.temp_min_c), high=warm.told(species.temp_max_c))
    values = [
        measures.volume(units).told(state.volume_l) if state.volume_l else "",
        measures.length(units).told(state.substrate_cm) if state.substrate_cm else "",
        view.day(state.last_rehoused),
        view.day(state.last_watered),
        say(f"record.moisture.{species.moisture.value}"),
        suits,
    ]
    flow.facts(list(zip(words("record.housing"), values, strict=True)))
    flow.text(
        say("record.basis", basis=say("record.species_file" if species.known else "record.general_rule")),
        grey=GREY,
        size=8.5,
    )


def _events(flow: Flow, view: _View) -> None:
    found = [(stretch.since, _rest(stretch, view)) for stretch in gather.stretches_in(view.entries)]
    found = found[-_LATEST_RESTS:]
    notes = [entry for entry in view.entries if entry.kind in _HEALTH]
    found += [(entry.day, _event(entry)) for entry in notes[-_LATEST_NOTES:]]
    rows = [[view.day(on), what] for on, what in sorted(found, reverse=True)]
    if rows:
        flow.table(_columns("record.event_columns", (1, 4)), rows)
    else:
        flow.text(say("record.no_events"))
    flow.blanks(words("record.health"), columns=1)


def _rest(stretch: Stretch, view: _View) -> str:
    rest = say(f"rest.{stretch.kind.value}")
    if stretch.until is None:
        return say("record.rests", rest=rest)
    return say("record.rested", rest=rest, until=view.day(stretch.until))


def _event(entry: Entry) -> str:
    if entry.kind is Kind.PAIRED:
        return say("record.paired_with", partner=entry.partner) if entry.partner else say("record.paired")
    if entry.kind is Kind.SAC:
        return say("record.sac", event=say(f"record.event.{entry.event.value}") if entry.event else "")
    return entry.note or ""


def _handover(flow: Flow, _view: _View) -> None:
    flow.blanks(words("record.handover"), columns=2)


def _columns(key: str, shares: Sequence[float]) -> list[Column]:
    return [Column(name, share) for name, share in zip(words(key), shares, strict=True)]


_PARTS: Final[tuple[tuple[str, Callable[[Flow, _View], None]], ...]] = (
    ("record.heads.identity", _identity),
    ("record.heads.origin", _origin),
    ("record.heads.documents", _documents),
    ("record.heads.molts", _molts),
    ("record.heads.sizes", _sizes),
    ("record.heads.feeding", _feeding),
    ("record.heads.housing", _housing),
    ("record.heads.events", _events),
    ("record.heads.handover", _handover),
)
