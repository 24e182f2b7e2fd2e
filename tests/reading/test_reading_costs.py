"""Reading takes steps in proportion to a message's length, and keeps nothing of what it read.

Steps are counted, not timed: the calls of functions, which no other load on the machine changes.
"""

from __future__ import annotations

import gc
import subprocess
import sys
import tracemalloc
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from bot.demo.shelf import crowd
from bot.reading import ShelfNames, read
from bot.terms import KeeperSettings

ROOT = Path(__file__).parents[2]
NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/London"))
SETTINGS = KeeperSettings(zone="Europe/London")
ANIMALS = [resident.specimen for resident in crowd(60, seed=3)]
NAMES = ShelfNames.of(ANIMALS)
ONE, OTHER = ANIMALS[0].name, ANIMALS[1].name

PIECES = {
    "meals": f"fed {ONE} two crickets, {OTHER} refused. ",
    "days": f"{ONE} ate on 3 May at 9pm and yesterday morning. ",
    "amounts": f"{ONE} is 5.5 cm and 12 g, 24.5 °C and 60 %. ",
    "strange words": "xqz wvb ploof ",
    "numbers": "1 2 3 4 5 6 7 8 ",
    "one letter": "a",
    "marks": ",.;:!?-",
    "names": f"{ONE} {OTHER} ",
    "lines": f"{ONE} ate\n",
    "negations": f"not {ONE} but {OTHER} ",
}


def steps(text: str) -> int:
    """How many functions are called while a text is read."""
    return calls(lambda: read(text, NAMES, now=NOW, settings=SETTINGS))


def calls(act) -> int:
    """How many functions are called in an act."""
    count = 0

    def called(_frame, event, _arg):
        nonlocal count
        count += event in {"call", "c_call"}

    sys.setprofile(called)
    try:
        act()
    finally:
        sys.setprofile(None)
    return count


@pytest.mark.parametrize("piece", PIECES.values(), ids=PIECES)
def test_steps_grow_no_faster_than_the_message(piece):
    short = (piece * (1250 // len(piece) + 1))[:1250]
    read(short, NAMES, now=NOW, settings=SETTINGS)  # what is made once is made now
    few, many = steps(short), steps((piece * (5000 // len(piece) + 1))[:5000])
    assert many <= 4 * few * 1.5


def test_nothing_is_kept_of_messages_that_were_read():
    def read_some(start: int, stop: int) -> None:
        for number in range(start, stop):
            text = f"fed {ONE} {number % 9 + 1} crickets, seen xq{number} by {OTHER} on 3 May"
            read(text, NAMES, now=NOW, settings=SETTINGS)

    read_some(0, 200)
    tracemalloc.start()
    read_some(200, 400)
    gc.collect()
    before = tracemalloc.get_traced_memory()[0]
    read_some(400, 1400)
    gc.collect()
    grown = tracemalloc.get_traced_memory()[0] - before
    tracemalloc.stop()
    assert grown < 40_000  # bytes, for a thousand messages no two of which are alike


_FIRST_MESSAGE = """
from bot.reading import learn
from tests.reading.test_reading_costs import ONE, calls, steps
print(calls(lambda: learn("en")), steps(f"fed {ONE} two crickets yesterday at 9 pm"))
"""


def test_the_first_message_of_a_language_that_was_learned_finds_what_it_needs_ready():
    """In a process of its own, in which nothing was read before."""
    done = subprocess.run(
        [sys.executable, "-c", _FIRST_MESSAGE], capture_output=True, text=True, check=True, cwd=ROOT
    )
    learning, reading = map(int, done.stdout.split())
    assert reading < learning / 20
