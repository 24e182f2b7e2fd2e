"""The demo shelf, from ``shelf.yaml``; and crowds of any size, made up from the species file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import islice
from random import Random
from typing import Any, Final

from bot.demo.animals import Resident, Scene
from bot.husbandry.species import all_species, species_of
from bot.terms import KeeperSettings, Sex, Specimen, Stage
from bot.terms.data_file import data_of
from bot.terms.shelf_file import settings_from_json, specimen_from_json


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoShelf:
    """An invented keeper, their settings (but for the zone), their animals, and the simulator's seed."""

    keeper: str
    settings: KeeperSettings
    residents: tuple[Resident, ...]
    seed: int


def demo_shelf() -> DemoShelf:
    """The shelf of the demo. Raises ``ValueError`` on a broken file."""
    data = data_of(__package__, "shelf.yaml")
    return DemoShelf(
        keeper=data["keeper"],
        settings=settings_from_json(data["settings"]),
        residents=tuple(_resident(row) for row in data["animals"]),
        seed=data["seed"],
    )


def _resident(row: Mapping[str, Any]) -> Resident:
    species = species_of(row["species"])
    card = {
        "common": species.common_names,
        "habit": species.habit,
        "lot_size": row.get("lot", 1),
        **row,
    }
    return Resident(
        specimen=specimen_from_json(card, f"demo shelf, {row.get('tag')}"),
        species=species,
        scene=Scene(row.get("scene", Scene.PLAIN)),
        on_shelf_days=row.get("since_days"),
        held_days=row.get("held_days"),
    )


# --- crowds ---------------------------------------------------------------------------------

_STAGES: Final = (Stage.SLING, Stage.JUVENILE, Stage.JUVENILE, Stage.ADULT, Stage.ADULT, Stage.MATURE_MALE)
_SCENES: Final = (*(Scene.PLAIN,) * 6, Scene.HUNGRY, Scene.PREMOLT, Scene.SEALED, Scene.FRESH_MOLT)
_PART_OF_ADULT_SPAN: Final = {
    Stage.SLING: (0.08, 0.25),
    Stage.JUVENILE: (0.35, 0.75),
    Stage.ADULT: (0.9, 1.05),
    Stage.MATURE_MALE: (0.9, 1.05),
}
_TO_A_BOARD: Final = 25


def crowd(size: int, *, seed: int) -> tuple[Resident, ...]:
    """As many invented animals as wanted, of all species, stages and scenes, a few dozen to a board."""
    rng = Random(seed)
    names = _names(rng)
    return tuple(_one_of_many(number, name, rng) for number, name in enumerate(islice(names, size)))


def _one_of_many(number: int, name: str, rng: Random) -> Resident:
    board = number // _TO_A_BOARD
    species = rng.choice(all_species())
    stage = rng.choice(_STAGES)
    sex = _sex(stage, rng)
    span = float(species.adult_span_cm(sex)) * rng.uniform(*_PART_OF_ADULT_SPAN[stage])
    specimen = Specimen(
        tag=f"{_board(board)}{number % _TO_A_BOARD + 1}",
        name=name,
        species=species.scientific_name,
        common=species.common_names,
        sex=sex,
        stage=stage,
        span_cm=Decimal(max(8, round(span * 10))) / 10,
        habit=species.habit,
        place=f"board {_board(board)}",
    )
    scene = Scene.PLAIN if stage is Stage.MATURE_MALE else rng.choice(_SCENES)
    return Resident(specimen=specimen, species=species, scene=scene)


def _sex(stage: Stage, rng: Random) -> Sex:
    if stage is Stage.MATURE_MALE:
        return Sex.MALE
    return Sex.FEMALE if stage is Stage.ADULT else rng.choice((Sex.UNKNOWN, Sex.FEMALE, Sex.MALE))


def _names(rng: Random) -> Iterator[str]:
    """Made-up names without end, no two alike: two or three syllables."""
    heads = [c + v for c in "bdfgklmnprstvz" for v in "aeiou"]
    tails = ("bar", "dick", "fen", "lo", "mund", "na", "nix", "pel", "ra", "ris", "sha", "tok", "vin", "zo")
    seen: set[str] = set()
    while True:
        middle = rng.choice(heads) if rng.random() < 0.6 else ""
        name = (rng.choice(heads) + middle + rng.choice(tails)).capitalize()
        if name not in seen:
            seen.add(name)
            yield name


def _board(number: int) -> str:
    """The letters of a board: A to Z without I and O, then AA, AB, and so on."""
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    if number < len(letters):
        return letters[number]
    return _board(number // len(letters) - 1) + letters[number % len(letters)]
