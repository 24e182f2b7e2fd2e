"""What is kept of a keeper is theirs: all of it in one file, or all of it gone, on their word.

Deleting is asked about once more and wants a word typed within a few minutes, so that no slip of a thumb and
no message sent twice does it. Both are done where nobody else reads along.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Any, Final

from bot.conversation import asks, passing
from bot.conversation.kept_beside import zipped_photos
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn
from bot.conversation.whole_data import whole_data
from bot.conversation.wording import counted
from bot.exchange.whole import to_json
from bot.reading.short_answers import is_word
from bot.reading.wanted.wanted import Instruction
from storage.erase import Belongings, belongings, erase
from storage.records import Prompt
from storage.shelf_on_paper import read_shelf

_TYPED_WITHIN: Final = timedelta(minutes=10)


def export(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """All that is kept of the keeper: as one file, and the photos' files in another."""
    if not turn.incoming.private:
        return [turn.reply(say("own_data.alone"))]
    whole = whole_data(turn.work, turn.keeper, read_shelf(turn.work, turn.keeper.shelf_id))
    stem = f"burrowbell-{turn.today}"
    file = passing.keep(to_json(whole).encode(), stem=stem, suffix=".json")
    told = [say("own_data.exported", what=_what(belongings(turn.work, turn.keeper.id)))]
    zipped, left_out = zipped_photos(turn.work.album, [photo["file"] for photo in whole.photos])
    if zipped:
        told.append(say("own_data.photos_too"))
    if left_out:
        told.append(say("own_data.photos_left", photos=counted(left_out, "photo")))
    pictures = (file, passing.keep(zipped, stem=f"{stem}-photos", suffix=".zip")) if zipped else (file,)
    return [Reply(text="\n".join(told), pictures=pictures)]


def ask_to_erase(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """Says what would be deleted, and which word does it."""
    if not turn.incoming.private:
        return [turn.reply(say("own_data.alone"))]
    counts = belongings(turn.work, turn.keeper.id)
    lines = [say("own_data.would_erase", what=_what(counts))]
    if counts.sharers:
        lines.append(say("own_data.shared", n=counts.sharers))
    lines += [say("own_data.beyond"), say("own_data.copy_first"), "", say("own_data.type_it")]
    keep = Choice(say("own_data.keep"), {"do": "keep_data", "word": "no"})
    return [turn.reply("\n".join(lines), [[keep]], pending={"erase": True})]


def confirmed(turn: Turn) -> list[Reply] | None:
    """Deletes everything where the word was typed after the question; ``None`` for any other message."""
    if turn.incoming.edits or not is_word("erase_for_good", turn.incoming.text):
        return None
    prompt = asks.open_ask(turn)
    if prompt is None or not (prompt.pending or {}).get("erase"):
        return None
    if turn.incoming.sent_at - prompt.at > _TYPED_WITHIN:
        return None
    erase(turn.work, turn.keeper.id)
    turn.forget()
    return [Reply(text=say("own_data.erased"), leaves_no_trace=True)]


def pressed_keep(turn: Turn, _prompt: Prompt, _action: Mapping[str, Any]) -> list[Reply]:
    """Nothing is deleted after all."""
    return [turn.reply(say("own_data.kept"), in_place=True)]


def _what(counts: Belongings) -> str:
    return say(
        "own_data.what", animals=counted(counts.animals, "animal"), entries=counted(counts.entries, "entry")
    )
