"""Column types give back what they were given, the same on every database, or refuse it."""

import json
from datetime import UTC, timedelta, timezone
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from sqlalchemy import insert, select

from bot.terms import KeeperSettings
from storage import tables as t
from storage.errors import NotStorableError
from storage.keys import key_of
from storage.types import exact
from tests.storage.given import NOW, TODAY

SHARED = settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@SHARED
@given(
    moment=st.datetimes(
        min_value=NOW.replace(tzinfo=None, year=1900),
        max_value=NOW.replace(tzinfo=None, year=9998),
        timezones=st.sampled_from(
            [UTC, ZoneInfo("America/Los_Angeles"), ZoneInfo("Asia/Kathmandu"), timezone(timedelta(hours=-11))]
        ),
    )
)
def test_a_moment_of_any_zone_is_read_back_as_the_same_moment_in_utc(store, moment):
    with store.begin() as work:
        keeper = work.keepers.create("Ash (invented)", KeeperSettings(), at=moment)
        work.keepers.set_next_round(keeper.id, moment)
        kept = work.keepers.get(keeper.id).next_round_at
    assert kept == moment.astimezone(UTC)
    assert kept.utcoffset() == timedelta(0)


def test_a_moment_without_its_zone_is_refused(shelf):
    with pytest.raises(NotStorableError, match="without its time zone"), shelf.store.begin() as work:
        work.keepers.set_next_round(shelf.keeper.id, NOW.replace(tzinfo=None))


@SHARED
@given(parts=st.integers(-(10**15), 10**15))
def test_every_thousandth_is_kept_exactly(shelf, parts):
    amount = Decimal(parts) / 1000
    row = {"shelf_id": shelf.id, "live": True, "kind": "measured", "zone": "UTC", "prekilled": False}
    with shelf.store.look() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        row |= {"change_id": change, "day": TODAY, "weight_g": amount}
        number = work.connection.execute(insert(t.entry), row).inserted_primary_key[0]
        kept = work.connection.execute(select(t.entry.c.weight_g).where(t.entry.c.id == number)).scalar()
    assert kept == amount
    assert exact(amount) == amount


@given(amount=st.decimals(-(10**9), 10**9, places=6))
def test_rounding_moves_an_amount_by_half_a_thousandth_at_most(amount):
    assert abs(exact(amount) - amount) <= Decimal("0.0005")


@given(words=st.text(max_size=30))
def test_a_key_is_the_key_of_itself_and_of_any_case(words):
    assert key_of(key_of(words)) == key_of(words)
    assert key_of(words.upper().lower()) == key_of(words.casefold().upper().lower())


_ANY_TEXT = st.text(st.characters(codec=None))
_ANY_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | _ANY_TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(_ANY_TEXT, inner, max_size=4),
    max_leaves=12,
)


@SHARED
@given(value=st.dictionaries(_ANY_TEXT, _ANY_JSON, max_size=4))
@example(value={"half a pair": "\ud83d", "noughts": "\x00", "large": 10**30, "tiny": 5e-324})
@example(value={"deep": json.loads("[" * 400 + "]" * 400)})
def test_any_json_is_read_back_as_it_was_written(store, value):
    with store.begin() as work:
        work.bookmarks.set("anything", value)
        assert json.dumps(work.bookmarks.get("anything")) == json.dumps(value)
