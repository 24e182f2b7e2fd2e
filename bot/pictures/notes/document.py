"""A document as parts that know nothing of paper or screen; each way of writing it takes the same parts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Tone(StrEnum):
    """How words are meant, so that every way of writing can show it."""

    PLAIN = "plain"
    ASIDE = "aside"
    OPINION = "opinion"
    CAUTION = "caution"


@dataclass(frozen=True, slots=True)
class Heading:
    """The title of what follows."""

    words: str


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph."""

    words: str
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class Points:
    """A list of sentences that stand beside each other."""

    lines: tuple[str, ...]
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under their headings; ``shares`` are the columns' parts of the width."""

    columns: tuple[str, ...]
    shares: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Image:
    """A PNG with its size in pixels, and what it shows, in a sentence for those who cannot see it."""

    png: bytes
    width: int
    height: int
    caption: str


Part = Heading | Text | Points | Table | Image


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A whole document of a day. ``under`` stands below the title; ``foot`` at the foot of each page."""

    title: str
    under: str
    foot: str
    on: date
    language: str
    parts: tuple[Part, ...]

    @property
    def images(self) -> tuple[Image, ...]:
        """The pictures, in their order."""
        return tuple(part for part in self.parts if isinstance(part, Image))
