"""A language is learned before it is needed: what reading it takes is a second of work or two.

Left to the first message it would keep that keeper waiting, and whoever writes meanwhile. Pure.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Final

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.read import read
from bot.reading.wanted.instructions import read_instruction
from bot.reading.wanted.strangers import strangers
from bot.reading.words.lexicon import lexicon, phrasings
from bot.terms import KeeperSettings

#: Words for which days, numbers and amounts are looked up, in any language.
_OF_MANY_SORTS: Final = "Ink 3 crickets 12 cm 2026-05-12?"
_SOME_DAY: Final = datetime(2026, 5, 14, 12, tzinfo=UTC)


def learn(language: str) -> None:
    """Makes ready what reading a language takes: an example of each sort of word is read."""
    settings, nobody = KeeperSettings(language=language), ShelfNames.of(())
    examples = {g.is_: g.example.replace("{}", next(phrasings(g.say[0]))) for g in lexicon(language).groups}
    for said in (_OF_MANY_SORTS, *examples.values()):
        read(said, nobody, now=_SOME_DAY, settings=settings)
        read_instruction(said, nobody, language)
        strangers(said, nobody, language)
