"""An invented shelf for the tests of the conversation, and a store that holds it. All of it is invented."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time
from decimal import Decimal
from zoneinfo import ZoneInfo

from bot.terms import Entry, Habit, KeeperSettings, Kind, PreySize, SacEvent, Sex, Specimen, Stage, WaterHow
from storage import Store
from storage.records import Keeper

ZONE = "Europe/Prague"
SETTINGS = KeeperSettings(zone=ZONE)
CHAT = "77"
FRONT_END = "tests"
CAME = date(2025, 1, 10)

INVENTED_SHELF = (
    Specimen(
        tag="A1",
        name="Pebble",
        species="Grammostola pulchra",
        sex=Sex.FEMALE,
        stage=Stage.ADULT,
        span_cm=Decimal(15),
        place="shelf A",
    ),
    Specimen(
        tag="A2",
        name="Rust",
        species="Brachypelma boehmei",
        sex=Sex.FEMALE,
        stage=Stage.ADULT,
        span_cm=Decimal(13),
        place="shelf A",
    ),
    Specimen(
        tag="A3",
        name="Clove",
        species="Brachypelma hamorii",
        stage=Stage.JUVENILE,
        span_cm=Decimal(6),
        place="shelf A",
    ),
    Specimen(
        tag="B1",
        species="Chromatopelma cyaneopubescens",
        common=("GBB", "green bottle blue"),
        aka=("GBB 1",),
        stage=Stage.SLING,
        span_cm=Decimal(2),
        place="shelf B",
    ),
    Specimen(
        tag="B2",
        species="Chromatopelma cyaneopubescens",
        common=("GBB", "green bottle blue"),
        aka=("GBB 2",),
        stage=Stage.SLING,
        span_cm=Decimal("2.5"),
        place="shelf B",
    ),
    Specimen(
        tag="B3",
        name="Nib",
        species="Caribena versicolor",
        stage=Stage.SLING,
        span_cm=Decimal("1.8"),
        habit=Habit.ARBOREAL,
        place="shelf B",
    ),
    Specimen(
        tag="R1",
        name="Moss",
        species="Theraphosa stirmi",
        stage=Stage.JUVENILE,
        span_cm=Decimal(9),
        place="rack 1",
    ),
    Specimen(
        tag="R2",
        name="Delve",
        species="Chilobrachys fimbriatus",
        sex=Sex.FEMALE,
        stage=Stage.ADULT,
        span_cm=Decimal(14),
        habit=Habit.FOSSORIAL,
        place="rack 1",
    ),
    Specimen(
        tag="R3",
        name="Duke",
        species="Acanthoscurria geniculata",
        sex=Sex.MALE,
        stage=Stage.MATURE_MALE,
        span_cm=Decimal(15),
        place="rack 1",
    ),
    Specimen(
        tag="C1",
        name="the commune",
        species="Monocentropus balfouri",
        stage=Stage.SLING,
        place="rack 1",
        lot_size=6,
    ),
)


def at(text: str, zone: str = ZONE) -> datetime:
    """A wall time of the invented keeper as an instant: ``2026-05-14 19:30``."""
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)).astimezone(ZoneInfo("UTC"))


def a_keeper(
    store: Store,
    *,
    shelf: Iterable[Specimen] = INVENTED_SHELF,
    settings: KeeperSettings = SETTINGS,
    settled: bool = True,
) -> Keeper:
    """The invented keeper with the invented shelf, in a store."""
    when = at("2025-01-10 12:00")
    with store.begin() as work:
        keeper = work.keepers.create("Invented Keeper", settings, at=when)
        work.keepers.link(keeper.id, FRONT_END, CHAT)
        if settled:
            work.keepers.mark_settled(keeper.id)
        change = work.journal.change(keeper.shelf_id, keeper.id, at=when, origin=None)
        for specimen in shelf:
            work.shelves.add(change, specimen, on=CAME)
        return work.keepers.get(keeper.id)


def entry_from(line: str) -> Entry:
    """An entry written as ``2026-05-01 fed A1,A2 prey=cricket count=2``; underscores are blanks."""
    day, kind, *rest = line.split()
    tags = tuple(rest.pop(0).split(",")) if rest and "=" not in rest[0] else ()
    values = dict(part.split("=", 1) for part in rest)
    data = {key: _value(key, value.replace("_", " ")) for key, value in values.items()}
    return Entry(kind=Kind(kind), day=date.fromisoformat(day), specimens=tags, **data)


def _value(key: str, value: str) -> object:
    readers = {
        "count": int,
        "size": PreySize,
        "how": WaterHow,
        "event": SacEvent,
        "time": time.fromisoformat,
        "span_cm": Decimal,
        "weight_g": Decimal,
        "volume_l": Decimal,
    }
    return readers.get(key, str)(value)
