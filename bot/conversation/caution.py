"""What people must know before they open an enclosure: hairs, venom, papers. General practice, no law."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from bot.conversation.texts import has, say, say_of
from bot.conversation.turn import Turn
from bot.conversation.wording import called
from bot.husbandry.species import Species, species_of
from bot.terms import Specimen


def caution_lines(species: Species) -> list[str]:
    """The cautions of a species, the gravest first; empty for one that needs none beyond washing hands."""
    lines = opening_lines(species)
    if species.cites not in ("none", ""):
        lines.append(say("caution.cites") if species.cites == "II" else say("caution.cites_unsure"))
    return lines


def opening_lines(species: Species) -> list[str]:
    """What to mind before the enclosure of a species is opened, the gravest first."""
    lines = []
    if has("caution.venom", species.venom_caution.value):
        lines.append(say_of("caution.venom", species.venom_caution.value))
    if species.urticating:
        lines.append(say("caution.hairs"))
    if species.urticating is None:
        lines.append(say("caution.hairs_unknown"))
    return lines


def before_opening(animals: Sequence[Specimen]) -> list[str]:
    """What to mind before animals are moved, each line once, with whom it is about if not all."""
    concerned: dict[str, list[Specimen]] = {}
    for animal in animals:
        for line in opening_lines(species_of(animal.species, animal.habit)):
            concerned.setdefault(line, []).append(animal)
    return _each_once(concerned, of=len(animals))


def _each_once(concerned: Mapping[str, Sequence[Specimen]], *, of: int) -> list[str]:
    return [
        line if len(whom) == of else say("caution.of", who=called(whom, most=4), line=line)
        for line, whom in concerned.items()
    ]


def first_of_its_kind(turn: Turn, animal: Specimen, *, new: int = 1) -> list[str]:
    """The cautions for ``new`` new animals of a species, where they are its first on the shelf; said once."""
    kin = [other for other in turn.shelf.specimens if other.species == animal.species]
    before = [stored for stored in turn.shelf.gone if stored.specimen.species == animal.species]
    if len(kin) > new or before:
        return []
    lines = caution_lines(species_of(animal.species, animal.habit))
    return [*lines, say("caution.local_law")] if lines else []


def first_of_their_kinds(turn: Turn, animals: Sequence[Specimen]) -> list[str]:
    """The cautions for new animals of whatever species, each once, with whom it is about if not all."""
    concerned: dict[str, list[Specimen]] = {}
    for species in dict.fromkeys(animal.species for animal in animals):
        kin = [animal for animal in animals if animal.species == species]
        for line in first_of_its_kind(turn, kin[0], new=len(kin)):
            concerned.setdefault(line, []).extend(kin)
    for_all = say("caution.local_law")
    concerned.pop(for_all, None)
    lines = _each_once(concerned, of=len(animals))
    return [*lines, for_all] if lines else []
