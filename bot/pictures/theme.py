"""How a picture looks: colours for light and dark, sizes of type, and the keeper's units.

Every colour that carries meaning has a second code beside it (a shape, a hatch, a word), so that
nothing hangs on telling colours apart. Hues follow the palette of Okabe and Ito (Color Universal
Design, 2008; from memory), darkened or lightened until they stand out from their ground.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from bot.terms import KeeperSettings


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """Colours as ``#rrggbb``. ``ink``, ``muted`` and ``warn`` are for text, the others for marks and fills.

    The fills (``sealed_fill``, ``premolt_fill``, ``next_fill``, ``band_fill``) lie behind marks; each goes
    with a hatch or an edge in the colour of its name.
    """

    paper: str
    panel: str
    ink: str
    muted: str
    grid: str
    warn: str
    taken: str
    refused: str
    molt: str
    sealed: str
    sealed_fill: str
    premolt: str
    premolt_fill: str
    next_molt: str
    next_fill: str
    next_core: str
    band: str
    band_fill: str


LIGHT: Final = Theme(
    paper="#ffffff",
    panel="#f6f6f3",
    ink="#1c1c1a",
    muted="#5c5c57",
    grid="#d9d9d3",
    warn="#a13a00",
    taken="#007a5a",
    refused="#c24a00",
    molt="#004a85",
    sealed="#8f6200",
    sealed_fill="#f7e3b5",
    premolt="#a1477b",
    premolt_fill="#f3dbe8",
    next_molt="#004a85",
    next_fill="#dcebf7",
    next_core="#a9cfec",
    band="#4d7d6c",
    band_fill="#dcefe7",
)

DARK: Final = Theme(
    paper="#141513",
    panel="#1e201d",
    ink="#f2f2ec",
    muted="#b4b4ab",
    grid="#3b3d38",
    warn="#ff9a5c",
    taken="#35c79c",
    refused="#ff8a47",
    molt="#b8defc",
    sealed="#e9b949",
    sealed_fill="#463812",
    premolt="#e39cc2",
    premolt_fill="#43273a",
    next_molt="#b8defc",
    next_fill="#1d3547",
    next_core="#2f5f82",
    band="#79b39f",
    band_fill="#20392f",
)


#: Heights of type in pixels of a picture 1080 px wide. A phone shows that width at about 65 mm, so
#: 28 px are about 1.7 mm, the size of a newspaper's text at reading distance.
TITLE: Final = 52
HEADING: Final = 36
BODY: Final = 32
SMALL: Final = 28

SIZES: Final = MappingProxyType({"title": TITLE, "heading": HEADING, "body": BODY, "small": SMALL})

WIDTH: Final = 1080
"""Pixels of every picture's width."""

MARGIN: Final = 48
"""Pixels left free at each side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How one keeper sees pictures: light or dark, units and date order from the settings."""

    theme: Theme = LIGHT
    settings: KeeperSettings = field(default_factory=KeeperSettings)

    @classmethod
    def of(cls, settings: KeeperSettings, *, dark: bool = False) -> Look:
        """The look for a keeper's settings."""
        return cls(theme=DARK if dark else LIGHT, settings=settings)
