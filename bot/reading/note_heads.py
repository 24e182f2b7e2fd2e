"""What a note says, without the words that only announce it: "note for Ink: new cork bark". Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items import Ref
from bot.reading.parse import Message
from bot.reading.phrasings import folded, word_set


def note_in(message: Message, refs: Sequence[Ref]) -> str:
    """The keeper's words, from the colon on where before it stand only the animal and words for a note."""
    said = message.source.plain.strip()
    head, colon, note = said.partition(":")
    language = message.settings.language
    left = folded(head)
    for ref in refs:
        left = left.replace(folded(ref.words), " ", 1)
    words = {word.removesuffix("'s") for word in left.split()}
    nouns = word_set("note_heads", language)
    heads = not words.isdisjoint(nouns) and words <= nouns | word_set("beside_note_heads", language)
    return note.strip() if colon and heads and note.strip() else said
