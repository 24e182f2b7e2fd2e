"""Who of the shelf is so by its kind or stage: arboreal, kept moist, of strong venom, a sling."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Final

from bot.conversation.answers import kept
from bot.conversation.answers.subject import empty_shelf
from bot.conversation.caution import caution_lines
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import has, say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.husbandry.species import Moisture, Pace, VenomCaution
from bot.husbandry.state import SpecimenState
from bot.reading.wanted.wanted import Instruction
from bot.round.model import SpecimenFacts
from bot.terms import Habit, Sex, Specimen, Stage

_MOST_NAMES: Final = 30


def _strong(caution: VenomCaution) -> bool | None:
    return None if caution is VenomCaution.UNKNOWN else caution is VenomCaution.HIGH


def _is_of_sex(sex: Sex, animal: Animal) -> bool:
    return (Sex.MALE if animal.stage is Stage.MATURE_MALE else animal.sex) is sex


#: Whether an animal is so; ``None`` where the file does not know.
_IS: Final[Mapping[str, Callable[[Animal], bool | None]]] = {
    "arboreal": lambda animal: animal.specimen.habit is Habit.ARBOREAL,
    "terrestrial": lambda animal: animal.specimen.habit is Habit.TERRESTRIAL,
    "fossorial": lambda animal: animal.specimen.habit is Habit.FOSSORIAL,
    "dry": lambda animal: animal.species.moisture is Moisture.DRY,
    "moist": lambda animal: animal.species.moisture is Moisture.MOIST,
    "fast": lambda animal: animal.species.pace is Pace.FAST,
    "slow": lambda animal: animal.species.pace is Pace.SLOW,
    "hairs": lambda animal: animal.species.urticating,
    "venom": lambda animal: _strong(animal.species.venom_caution),
    "cites": lambda animal: (
        animal.species.cites == "II" or (False if animal.species.cites == "none" else None)
    ),
    **{sex.value: partial(_is_of_sex, sex) for sex in Sex},
    "sling": lambda animal: animal.stage is Stage.SLING,
    "juvenile": lambda animal: animal.stage is Stage.JUVENILE,
    "adult": lambda animal: animal.stage in {Stage.ADULT, Stage.MATURE_MALE},
}
#: What is so of a kind, and known only where the file has the species or its genus.
_OF_A_KIND: Final = frozenset({"dry", "moist", "fast", "slow"})
_OF_A_STAGE: Final = frozenset({"sling", "juvenile", "adult"})


def who_has(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who is of a habit, a stage or a kind that is asked about, who may be, and what to take care of."""
    trait = wanted.value or "arboreal"
    found: dict[bool | None, list[SpecimenFacts]] = {True: [], False: [], None: []}
    for facts in turn.facts.all():
        found[is_so(trait, Animal(facts.specimen, facts.state))].append(facts)
    number = say_of("traits.these", trait, n=kept.number_of(found[True]))
    lines = [
        say("who_of_all.these", what=number, names=kept.names_of(found[True], _MOST_NAMES))
        if found[True]
        else number
    ]
    if found[None]:
        lines.append(say("traits.not_known", names=kept.names_of(found[None], _MOST_NAMES)))
    if found[True] and has("traits.care", trait):
        lines.append(say_of("traits.care", trait))
    if trait not in _OF_A_STAGE:
        lines.append(say("traits.basis"))
    return [fit(turn, empty_shelf(turn) or "\n".join(lines))]


def is_it(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Whether animals or a species have a trait, with the cautions of their kind."""
    trait = wanted.value or "venom"
    lines = [line for who, animal in _those(turn, wanted) for line in _yes_or_no(trait, who, animal)]
    return [fit(turn, "\n".join(dict.fromkeys(lines)))]


def may_hold(turn: Turn, wanted: Instruction) -> list[Reply]:
    """That no tarantula gains from being held, with the cautions of its kind."""
    lines = [
        line
        for who, animal in _those(turn, wanted)
        for line in (say("traits.hold", who=who), *caution_lines(animal.species))
    ]
    return [fit(turn, "\n".join(dict.fromkeys(lines)))]


def _those(turn: Turn, wanted: Instruction) -> list[tuple[str, Animal]]:
    """The animals asked about with what they are called; of a species alone one that nobody is."""
    if wanted.species is not None:
        return [(wanted.species, Animal(Specimen(tag="", species=wanted.species), SpecimenState()))]
    found = [turn.facts.get(one.tag) for one in asked_about(turn, wanted)]
    return [(one.specimen.called, Animal(one.specimen, one.state)) for one in found if one is not None]


def _yes_or_no(trait: str, who: str, animal: Animal) -> list[str]:
    so = is_so(trait, animal)
    answer = "unknown" if so is None else "yes" if so else "no"
    what = say_of("traits.one", trait)
    cautions = caution_lines(animal.species) if trait in _OF_CAUTIONS else []
    if trait == "venom" and not so:
        cautions = [*cautions, say("traits.any_bite")]
    return [say_of("traits.is_it", answer, who=who, what=what), *cautions]


_OF_CAUTIONS: Final = frozenset({"venom", "hairs", "cites"})


def is_so(trait: str, animal: Animal) -> bool | None:
    """Whether an animal has a trait, or is of a sex; ``None`` where that is not known."""
    if trait in _OF_A_KIND and not animal.species.known:
        return None
    return _IS[trait](animal)


def asked_about(turn: Turn, wanted: Instruction) -> list[Specimen]:
    """The animals that are named, or those of a trait or a sex that are meant together; empty for all.

    One alone is the animal talked of from then on.
    """
    if len(wanted.tags) == 1:
        turn.remember(of=wanted.tags[0])
    if wanted.among is None:
        return turn.animals(wanted.tags)
    found = turn.facts.all()
    return [one.specimen for one in found if is_so(wanted.among, Animal(one.specimen, one.state))]
