"""Who an animal is, in the words of charts and paper. Pure."""

from __future__ import annotations

from bot.pictures.words import has, say
from bot.terms import Specimen, Stage


def kind_of(specimen: Specimen) -> str:
    """``adult female``, ``sling, unsexed``, ``mature male``; ``a lot of 7``."""
    if specimen.lot_size > 1:
        return say("kind.lot", n=specimen.lot_size)
    if specimen.stage is Stage.MATURE_MALE:
        return say("stage.mature male")
    return say(f"kind.{specimen.stage.value}.{specimen.sex.value}")


def name_and_tag(specimen: Specimen) -> tuple[str, str]:
    """The name and the tag in brackets, apart so that a long name never costs the tag; else the tag alone."""
    return (specimen.name, f"({specimen.tag})") if specimen.name else (specimen.tag, "")


def prey_told(prey: str | None, count: int | None, size: str | None) -> str:
    """``2 × medium cricket``, ``cricket``; a feeder not in the texts in the keeper's word."""
    noun = say(f"prey.{prey}") if prey and has(f"prey.{prey}") else prey or ""
    sized = say(f"size.{size}") if size else ""
    what = say("meal.sized", size=sized, noun=noun) if noun and sized else noun or sized
    return say("meal.counted", n=count, what=what) if count and what else what
