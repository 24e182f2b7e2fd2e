"""The words of units and money as data: ``lexicon/<language>/amounts.yaml``, checked and loaded once."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Any, Final, Literal

from pydantic import BaseModel, ConfigDict, ValidationError

from bot.terms.data_file import data_of

Dimension = Literal["length", "weight", "volume", "temperature", "humidity", "money"]
#: What is measured of the air, not of an animal.
OF_THE_AIR: Final = frozenset({"temperature", "humidity"})


class UnitData(BaseModel):
    """A unit and its words.

    ``factor`` turns it into cm, g or l; ``imperial`` does for keepers with imperial units.
    ``guarded`` words are also other words ("in") and count only where an inch is meant; ``glued`` ones
    (the letter of a temperature scale) stand at the figure.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    unit: str
    dimension: Dimension
    say: tuple[str, ...]
    factor: Decimal | None = None
    imperial: Decimal | None = None
    guarded: bool = False
    glued: bool = False


class CurrencyData(BaseModel):
    """The words of a currency: before and after a figure, for a sum by itself, and for its hundredth."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    words: Mapping[str, Decimal] = {}
    cents: tuple[str, ...] = ()


class AmountsData(BaseModel):
    """A language's file of amounts."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    decimal: Literal[".", ","]
    thousands: Literal[".", ",", " "]
    units: tuple[UnitData, ...]
    money: Mapping[str, CurrencyData]
    pounds: tuple[str, ...] = ()
    pounds_are_money: tuple[str, ...] = ()
    inches_next: tuple[str, ...] = ()
    length_cues: tuple[str, ...] = ()
    fluid_next: tuple[str, ...] = ()
    fluid_cues: tuple[str, ...] = ()  # words of a message by which its ounces are fluid
    weight_cues: tuple[str, ...] = ()  # and those by which they are not
    not_humidity_next: tuple[str, ...] = ()
    no_amounts: tuple[str, ...] = ()  # what looks like one: "an mm" is a mature male
    in_the_room: tuple[str, ...] = ()  # where a bare figure of warmth beside a humidity was read
    warm_rooms: tuple[str, ...] = ()  # behind a figure of warmth with no unit: "26.3 in the room"
    warm_places: tuple[str, ...] = ()  # before such a figure with a point: "spider room 22.5"
    warm_it_is: tuple[str, ...] = ()  # what may stand before such a figure
    warm_heads: tuple[str, ...] = ()  # above a list of places, each with a bare figure
    coins_by_zone: Mapping[str, tuple[str, ...]] = {}  # words for coins that are others elsewhere: "$"
    behind_cents: tuple[str, ...] = ()  # "2 Euro 50 gekostet": what may stand behind a price with its cents
    in_unit: tuple[str, ...] = ()  # before the unit of a list's heading: "spans in cm: …"
    humidity_before: tuple[str, ...]
    temperature_before: tuple[str, ...]
    link: tuple[str, ...]
    words: Mapping[str, Decimal]
    plus_half: Mapping[str, Decimal] = {}
    range: tuple[str, ...]
    beside: tuple[str, ...]


class AmountsFileError(ValueError):
    """A file of amounts says something that cannot be; the message tells where and what."""


@lru_cache(maxsize=16)
def amounts_data(language: str) -> AmountsData:
    """The units and currencies of a language. Raises :class:`AmountsFileError`."""
    raw: Any = data_of("bot.reading", "lexicon", language, "amounts.yaml")
    try:
        return AmountsData.model_validate(raw)
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(map(str, first["loc"]))
        raise AmountsFileError(f"{language}/amounts.yaml: {where}: {first['msg']}") from error
