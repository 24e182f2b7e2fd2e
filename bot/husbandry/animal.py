"""One animal as the computations see it: who it is, its state, and its species' profile together."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from bot.husbandry import practice
from bot.husbandry.species import Species, species_of
from bot.husbandry.state import SpecimenState
from bot.terms import Habit, Sex, Specimen, Stage
from bot.terms.value_object import value_object

OWN_RECORD = "own record"
SPECIES_FILE = "species file"
GENERAL_RULE = "general rule"
KEEPERS_SETTING = "keeper's setting"

# An enum that is asked for a member takes ten times as long as a name: several times for each animal.
_UNKNOWN, _SLING, _JUVENILE, _ADULT = Sex.UNKNOWN, Stage.SLING, Stage.JUVENILE, Stage.ADULT
#: Whatever it measures, an animal of which the keeper says so stays it.
_BY_WORD = frozenset({Stage.MATURE_MALE, Stage.ADULT})
#: The stages in which an animal grows.
GROWING = frozenset({Stage.SLING, Stage.JUVENILE})


class Animal:
    """A specimen with its state. What was entered later in the journal stands above the specimen's card.

    ``species`` is made up from genus or habit where the file does not know it. ``measured_span_cm`` is the
    span as last measured, or as it stands on the card; ``span_cm`` that, or what an animal of its stage and
    species is taken to span; ``adult_span_cm`` the typical one of its species and sex. ``stage`` goes by the
    measured span, or by the keeper's word where there is none; mature males and animals that the keeper calls
    adult stay so whatever they measure.
    """

    __slots__ = (
        "adult_span_cm",
        "measured_span_cm",
        "sex",
        "span_cm",
        "species",
        "specimen",
        "stage",
        "state",
    )

    def __init__(self, specimen: Specimen, state: SpecimenState) -> None:
        sex = specimen.sex if state.sex is _UNKNOWN else state.sex
        kind = _kind_of(specimen.species, specimen.habit, sex)
        word, written = state.stage or specimen.stage, state.span_cm or specimen.span_cm
        measured = float(written) if written else None
        self.specimen: Final = specimen
        self.state: Final = state
        self.sex: Final = sex
        self.species: Final = kind.species
        self.adult_span_cm: Final = kind.adult_span_cm
        self.measured_span_cm: Final = measured
        self.span_cm: Final = kind.unmeasured_cm[word] if measured is None else measured
        self.stage: Final = word if measured is None or word in _BY_WORD else kind.stage_at(measured)

    @property
    def species_names(self) -> tuple[str, ...]:
        """The scientific names that its species goes by here: the file's, then the one on its card."""
        named, written = self.species.scientific_name, self.specimen.species
        return (named,) if named == written else (named, written)


@value_object()
class _Kind:
    """What all animals of a species and sex have in common; ``unmeasured_cm`` is what those span that were
    never measured, by stage."""

    species: Species
    adult_span_cm: float
    sling_below_cm: float
    unmeasured_cm: dict[Stage, float]

    def stage_at(self, span_cm: float) -> Stage:
        """The stage of a span."""
        if span_cm < self.sling_below_cm:
            return _SLING
        return _ADULT if span_cm >= practice.ADULT_FROM_PART.value * self.adult_span_cm else _JUVENILE


@lru_cache(maxsize=4096)
def _kind_of(species: str, habit: Habit, sex: Sex) -> _Kind:
    profile = species_of(species, habit)
    adult = float(profile.adult_span_cm(sex))
    sling_below = min(
        practice.SLING_BELOW_CM.value, practice.SLING_BELOW_PART.value * float(profile.female_span_cm)
    )
    usual = {stage: part.value * adult for stage, part in practice.UNMEASURED_PART.items()}
    usual[_SLING] = min(practice.UNMEASURED_SLING_CM.value, sling_below)
    return _Kind(profile, adult, sling_below, usual)
