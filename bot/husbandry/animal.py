"""One animal as the computations see it: who it is, its state, and its species' profile together."""

from __future__ import annotations

from bot.husbandry import practice
from bot.husbandry.species import Species, species_of
from bot.husbandry.state import SpecimenState
from bot.terms import Sex, Specimen, Stage
from bot.terms.kept import kept
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


@value_object(slots=False)
class Animal:
    """A specimen with its state. What was entered later in the journal stands above the specimen's card."""

    specimen: Specimen
    state: SpecimenState

    @kept
    def species(self) -> Species:
        """The species' profile; made up from genus or habit where the file does not know it."""
        return species_of(self.specimen.species, self.specimen.habit)

    @property
    def species_names(self) -> tuple[str, ...]:
        """The scientific names that its species goes by here: the file's, then the one on its card."""
        named, written = self.species.scientific_name, self.specimen.species
        return (named,) if named == written else (named, written)

    @kept
    def sex(self) -> Sex:
        """The sex by the journal, else by the card."""
        return self.specimen.sex if self.state.sex is _UNKNOWN else self.state.sex

    @kept
    def measured_span_cm(self) -> float | None:
        """The span in cm as last measured, or as it stands on the card."""
        span = self.state.span_cm or self.specimen.span_cm
        return float(span) if span else None

    @kept
    def adult_span_cm(self) -> float:
        """The typical adult span of its species and sex, in cm."""
        return float(self.species.adult_span_cm(self.sex))

    @kept
    def span_cm(self) -> float:
        """The span in cm: measured, or what an animal of its stage and species is taken to span."""
        if self.measured_span_cm is not None:
            return self.measured_span_cm
        word = self.state.stage or self.specimen.stage
        if word is _SLING:
            return min(practice.UNMEASURED_SLING_CM.value, self.sling_below_cm)
        return practice.UNMEASURED_PART[word].value * self.adult_span_cm

    @kept
    def sling_below_cm(self) -> float:
        """The span in cm below which an animal of its species is a sling."""
        return min(
            practice.SLING_BELOW_CM.value,
            practice.SLING_BELOW_PART.value * float(self.species.female_span_cm),
        )

    @kept
    def stage(self) -> Stage:
        """The stage by the measured span, or by the keeper's word where there is none.

        Mature males and animals that the keeper calls adult stay so whatever they measure.
        """
        word, span = self.state.stage or self.specimen.stage, self.measured_span_cm
        if span is None or word in _BY_WORD:
            return word
        if span < self.sling_below_cm:
            return _SLING
        grown = span >= practice.ADULT_FROM_PART.value * self.adult_span_cm
        return _ADULT if grown else _JUVENILE
