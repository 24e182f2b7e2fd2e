"""Who an animal is, in the words of charts and paper. Pure."""

from __future__ import annotations

from bot.pictures.words import say
from bot.terms import Sex, Specimen, Stage


def kind_of(specimen: Specimen) -> str:
    """``adult female``, ``sling, unsexed``, ``mature male``; ``a lot of 7``."""
    if specimen.lot_size > 1:
        return say("kind.lot", n=specimen.lot_size)
    if specimen.stage is Stage.MATURE_MALE:
        return say("stage.mature male")
    key = "kind.unsexed" if specimen.sex is Sex.UNKNOWN else "kind.sexed"
    return say(key, stage=say(f"stage.{specimen.stage.value}"), sex=say(f"sex.{specimen.sex.value}"))


def name_and_tag(specimen: Specimen) -> tuple[str, str]:
    """The name and the tag in brackets, apart so that a long name never costs the tag; else the tag alone."""
    return (specimen.name, f"({specimen.tag})") if specimen.name else (specimen.tag, "")
