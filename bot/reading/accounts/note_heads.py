"""What a note says, without the words that only announce it: "note for Ink: new cork bark". Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items.item import Ref
from bot.reading.message.parse import Message
from bot.reading.words.phrasings import folded, word_set


def headed_note(message: Message, refs: Sequence[Ref]) -> str:
    """What stands behind the colon of words that announce a note; empty where none do."""
    head, _, note = message.source.plain.strip().partition(":")
    language = message.settings.language
    left = folded(head)
    for name in (name for ref in refs for name in _written(ref)):
        left = left.replace(name, " ", 1)
    words = {word.removesuffix("'s") for word in left.split()}
    nouns = word_set("note_heads", language)
    heads = not words.isdisjoint(nouns) and words <= nouns | word_set("beside_note_heads", language)
    return note.strip() if heads else ""


def named_before(message: Message, refs: Sequence[Ref]) -> list[Ref]:
    """The animals that are named before the colon."""
    head = folded(message.source.plain.partition(":")[0])
    return [ref for ref in refs if any(words in head for words in _written(ref))]


def _written(ref: Ref) -> tuple[str, str]:
    """How an animal may be written: letters and figures of a tag are words apart, often written as one."""
    return folded(ref.words), folded(ref.words).replace(" ", "")
