"""Text in, reading out. Pure: it knows words, dates, amounts and the names of a shelf."""

from bot.reading.answers import read_answer
from bot.reading.explain import explained
from bot.reading.learning import learn
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.read import read
from bot.reading.serialise import reading_from_json, reading_from_store, reading_to_json, reading_to_store

__all__ = [
    "ShelfNames",
    "explained",
    "learn",
    "read",
    "read_answer",
    "reading_from_json",
    "reading_from_store",
    "reading_to_json",
    "reading_to_store",
]
