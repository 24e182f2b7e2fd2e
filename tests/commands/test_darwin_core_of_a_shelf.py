"""The Darwin Core archive of a shelf in the store: each event tells what the animal was then."""

from __future__ import annotations

import csv
import io
import zipfile
from datetime import date
from decimal import Decimal

from bot.exchange.darwin_core import archive
from bot.terms import Kind, Stage
from storage import Store
from storage.shelf_on_paper import read_shelf
from tests.storage.given import entry, shelf_in, specimen


def occurrences(shelf):
    with shelf.store.look() as work:
        paper = read_shelf(work, shelf.id)
    packed = archive(paper.arrivals(), paper.occurrences(), title="Invented shelf")
    with zipfile.ZipFile(io.BytesIO(packed)) as files:
        rows = csv.DictReader(io.StringIO(files.read("occurrence.csv").decode()))
        return [(row["catalogNumber"], row["lifeStage"], row["individualCount"]) for row in rows]


def test_a_grown_animal_was_small_once_and_a_lot_is_as_many_as_it_was():
    shelf = shelf_in(Store.open("sqlite://"))
    shelf.add(
        specimen("A1", stage=Stage.SLING, span_cm=Decimal("1.5")),
        specimen("L1", stage=Stage.SLING, lot_size=6),
        on=date(2020, 1, 1),
    )
    shelf.log(
        entry(Kind.FED, "A1", "L1", day=date(2020, 1, 5)),
        entry(Kind.DIED, "L1", day=date(2020, 2, 1), count=2),
        entry(Kind.FED, "L1", day=date(2020, 3, 1)),
        entry(Kind.MEASURED, "A1", day=date(2026, 1, 5), span_cm="16"),
        entry(Kind.FED, "A1", day=date(2026, 1, 6)),
    )
    assert occurrences(shelf) == [
        ("A1", "spiderling", "1"),
        ("L1", "spiderling", "6"),
        ("A1", "spiderling", "1"),
        ("L1", "spiderling", "6"),
        ("L1", "spiderling", "6"),
        ("L1", "spiderling", "4"),
        ("A1", "adult", "1"),
        ("A1", "adult", "1"),
    ]


def test_an_animal_said_to_be_grown_today_is_not_told_to_have_been_so_before():
    shelf = shelf_in(Store.open("sqlite://"))
    shelf.add(specimen("A1", stage=Stage.SLING), on=date(2020, 1, 1))
    shelf.log(entry(Kind.FED, "A1", day=date(2020, 1, 5)), entry(Kind.FED, "A1", day=date(2026, 5, 14)))
    shelf.alter("A1", stage=Stage.ADULT)
    assert [stage for _, stage, _ in occurrences(shelf)] == ["spiderling", "spiderling", "adult"]
