"""The husbandry notes of a species: what was done, what came of it, and what is opinion.

Nothing of the animals' origin, price or whereabouts is told, and no note of the keeper's: the page may be
published as it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final

from bot.husbandry.evidence import ENOUGH, findings
from bot.husbandry.journal import SpecimenRecord
from bot.husbandry.species import Species, species_of
from bot.pictures import gather, measures
from bot.pictures.measures import day
from bot.pictures.naming import kind_of
from bot.pictures.notes.document import Document, Heading, Image, Part, Points, Table, Text, Tone
from bot.pictures.notes.figures_told import cells_of
from bot.pictures.words import has, say, some, words
from bot.terms import KeeperSettings, Kind
from bot.terms.language import speaking, spoken

if TYPE_CHECKING:
    from bot.pictures.frame import Picture

#: The figures that tell what the keeper did; all others are what came of it.
_DONE: Final = frozenset(
    {
        "days_between_meals",
        "days_between_waterings",
        "temperature",
        "humidity",
        "home_volume",
        "substrate_depth",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpeciesRecords:
    """Every record of one species, living or gone, up to a day. ``by`` is whom the notes name, or nobody."""

    species: str
    records: Sequence[SpecimenRecord]
    on: date
    by: str = ""

    @property
    def few(self) -> bool:
        """Whether there are too few animals to claim anything of the species."""
        return len(self.records) < ENOUGH


def husbandry_notes(kept: SpeciesRecords, settings: KeeperSettings, *, pictures: bool = True) -> Document:
    """The document, of the settings' language. Importing matplotlib, which pictures need, costs a second."""
    with speaking(settings.language):
        return _document(kept, settings, pictures=pictures)


def _document(kept: SpeciesRecords, settings: KeeperSettings, *, pictures: bool) -> Document:
    known = SpeciesRecords(
        species=kept.species,
        records=[record.until(kept.on) for record in kept.records],
        on=kept.on,
        by=kept.by,
    )
    profile = species_of(kept.species, kept.records[0].specimen.habit if kept.records else None)
    title = say("notes.title", species=kept.species)
    parts: list[Part] = [*_opening(known, settings), *_animals(known, settings), *_figures(known, settings)]
    if pictures:
        parts += _pictures(known, settings)
    parts += [*_opinion(profile, settings), *_cautions(profile)]
    return Document(
        title=title,
        under=_under(known, profile, settings),
        foot=say("notes.foot", title=title, day=day(kept.on, settings.date_order)),
        on=kept.on,
        language=spoken(),
        parts=tuple(parts),
    )


def _under(kept: SpeciesRecords, profile: Species, settings: KeeperSettings) -> str:
    authors = [profile.author_year] if profile.author_year else []
    by = [say("notes.by", name=kept.by)] if kept.by else []
    return ". ".join([*authors, say("notes.up_to", day=day(kept.on, settings.date_order)), *by])


# --- who, what was done, what came of it ----------------------------------------------------------


def _opening(kept: SpeciesRecords, settings: KeeperSettings) -> Iterator[Part]:
    days = [entry.day for record in kept.records for entry in record.entries if entry.specimens]
    came, now, died = (
        sum(getattr(record, of) for record in kept.records) for of in ("came", "kept_now", "died")
    )
    yield Text(
        say(
            "notes.kept",
            animals=some(came, "animal"),
            now=now,
            died=died,
            left=came - now - died,
            entries=len(days),
            first=day(min(days, default=kept.on), settings.date_order),
            last=day(max(days, default=kept.on), settings.date_order),
        )
    )
    if kept.few:
        yield Text(say("notes.few", enough=ENOUGH), Tone.CAUTION)


def _animals(kept: SpeciesRecords, settings: KeeperSettings) -> Iterator[Part]:
    yield Heading(say("notes.heads.animals"))
    rows = tuple(_animal_row(record, settings) for record in kept.records)
    yield Table(words("notes.animal_columns"), (0.7, 1.3, 2.7, 0.6, 1.2, 1.4), rows)


def _animal_row(record: SpecimenRecord, settings: KeeperSettings) -> tuple[str, ...]:
    own = [entry for entry in record.entries if entry.specimens]
    span = say("notes.nothing_on_record")
    if own:
        first, last = (day(entry.day, settings.date_order) for entry in (own[0], own[-1]))
        span = say("notes.from_to", first=first, last=last)
    offers = [entry for entry in own if entry.kind in gather.MEAL_KINDS]
    taken = sum(entry.kind is Kind.FED for entry in offers)
    return (
        record.specimen.tag,
        kind_of(record.specimen),
        span,
        str(len(record.molt_days)),
        say("notes.taken_of", taken=taken, offered=len(offers)),
        _now(record, settings),
    )


def _now(record: SpecimenRecord, settings: KeeperSettings) -> str:
    if record.state.gone_on is not None:
        key = "died" if record.state.gone_how == Kind.DIED.value else "left"
        return say(f"notes.now.{key}", day=day(record.state.gone_on, settings.date_order))
    if record.came > 1:
        return say("notes.now.lot", now=record.kept_now, came=record.came)
    return say("notes.now.kept")


def _figures(kept: SpeciesRecords, settings: KeeperSettings) -> Iterator[Part]:
    found = findings(kept.records, kept.on)
    for head, own in (
        ("done", [finding for finding in found if finding.figure in _DONE]),
        ("came", [finding for finding in found if finding.figure not in _DONE]),
    ):
        yield Heading(say(f"notes.heads.{head}"))
        if own:
            rows = tuple(cells_of(finding, settings.units) for finding in own)
            yield Table(words("notes.figure_columns"), (3.0, 0.9, 1.9, 2.6), rows)
        else:
            yield Text(say("notes.no_figures"))
    yield Heading(say("notes.heads.reading"))
    yield Points(words("notes.reading"), Tone.ASIDE)


# --- pictures -------------------------------------------------------------------------------------


def _pictures(kept: SpeciesRecords, settings: KeeperSettings) -> Iterator[Part]:
    from bot.pictures.charts import (  # noqa: PLC0415  matplotlib comes with them
        acceptance_chart,
        climate_charts,
        intervals_chart,
        life_chart,
    )
    from bot.pictures.theme import Look  # noqa: PLC0415

    look = Look.of(settings, dark=False)
    animals = [record.specimen for record in kept.records]
    told = (entry for record in kept.records for entry in record.entries if record.kept_on(entry.day))
    entries = list(dict.fromkeys(told))  # a reading that several animals share stands in each one's record
    first_read = min((entry.day for entry in entries if entry.temp_c is not None), default=kept.on)
    drawn = [
        *_if_any(lambda: [intervals_chart(gather.intervals_of(kept.species, animals, entries), look)]),
        *_if_any(lambda: [acceptance_chart(gather.acceptance_of(kept.species, animals, entries), look)]),
        *_if_any(lambda: climate_charts(gather.climate_of(animals, entries, first_read, kept.on), look)),
    ]
    images = [Image(one.png, one.width, one.height, _caption(one.caption, kept)) for one in drawn]
    longest = max(kept.records, key=lambda record: (len(record.molt_days), len(record.entries)), default=None)
    if longest is not None and longest.molt_days and longest.came == 1:
        one = life_chart(gather.life_of(longest.specimen, entries, longest.state.gone_on or kept.on), look)
        images.append(Image(one.png, one.width, one.height, say("notes.one_life", told=one.caption)))
    if images:
        yield Heading(say("notes.heads.pictures"))
        yield from images


def _if_any(drawn: Callable[[], list[Picture]]) -> list[Picture]:
    """The pictures; none where the charts find nothing to show."""
    try:
        return drawn()
    except ValueError:
        return []


def _caption(caption: str, kept: SpeciesRecords) -> str:
    return say("notes.few_shown", told=caption, enough=ENOUGH) if kept.few else caption


# --- opinion and cautions -------------------------------------------------------------------------


def _opinion(profile: Species, settings: KeeperSettings) -> Iterator[Part]:
    yield Heading(say("notes.heads.opinion"))
    yield Text(say("notes.opinion_is"), Tone.ASIDE)
    warm, length = measures.temperature(settings.units), measures.length(settings.units)
    lines = [
        say("notes.opinion.habit", habit=say(f"notes.habit.{profile.habit.value}")),
        say("notes.opinion.moisture", moisture=say(f"record.moisture.{profile.moisture.value}")),
        say("notes.opinion.warmth", low=warm.told(profile.temp_min_c), high=warm.told(profile.temp_max_c)),
        say(
            "notes.opinion.span",
            female=length.told(profile.female_span_cm),
            male=length.told(profile.male_span_cm),
        ),
        say("notes.opinion.pace", pace=say(f"notes.pace.{profile.pace.value}")),
    ]
    yield Points(tuple(say("notes.opinion.marked", told=line) for line in lines), Tone.OPINION)
    yield Text(say("notes.basis", basis=profile.basis), Tone.ASIDE)


def _cautions(profile: Species) -> Iterator[Part]:
    yield Heading(say("notes.heads.cautions"))
    venom = f"notes.venom.{profile.venom_caution.value}"
    hairs = {True: "notes.hairs.certain", False: "notes.hairs.none", None: "notes.hairs.unknown"}
    cites = f"record.cites.{profile.cites}"
    lines = [
        say(venom),
        say(hairs[profile.urticating]),
        *words("notes.cautions"),
        say(cites) if has(cites) else say("record.cites.unsure"),
    ]
    yield Points(tuple(lines))
