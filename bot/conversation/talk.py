"""The conversation's one door for front ends and clock."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime

from bot import reading
from bot.conversation import handover_round, reminders_told, round_renewed, round_talk, settings_talk, sharing
from bot.conversation.handlers import PRESSES, READINGS
from bot.conversation.model import Incoming, Reply
from bot.conversation.respond import replies_to
from bot.conversation.shelf_view import ShelfCache
from bot.conversation.texts import sentences
from bot.conversation.turn import Turn
from bot.terms.language import speaking
from storage import Work
from storage.records import Keeper, StoredNews, StoredReminder


class Conversation:
    """Message in, replies out. Holds nothing but a bounded cache of shelves' names.

    Whatever it does is done within the store's fence, so that no query of it can reach another's rows.

    The caller opens the transaction; all that is stored goes through ``work``. ``chat`` names the
    chat within the front end, and with a message's reference the change that the message made.
    """

    def __init__(
        self,
        on_reading: Callable[[str], None] | None = None,
        link_of: Callable[[str], str] = str,
    ) -> None:
        """``on_reading`` is told how each typed message was read: "entries", "ask", "unclear" …

        ``link_of`` makes of an invite's code what a keeper can send on to somebody.
        """
        self._cache, self._on_reading, self._link_of = ShelfCache(), on_reading, link_of

    def learn(self, languages: Iterable[str]) -> None:
        """Makes ready what talking in some languages takes, so that nobody's first message waits for it."""
        for language in languages:
            with speaking(language):
                sentences()
            reading.learn(language)

    def respond(self, work: Work, keeper: Keeper, chat: str, incoming: Incoming) -> list[Reply]:
        """The replies to a message or a button press; "now" is when it was sent."""
        turn = self._turn(work, keeper, chat, incoming)
        with work.fenced(keeper.id, incoming.sent_at.date()), speaking(keeper.settings.language):
            replies = replies_to(turn)
        replies += self._rounds_renewed(turn)
        if self._on_reading is not None and turn.was_read is not None:
            self._on_reading(turn.was_read.value)
        return replies

    def _rounds_renewed(self, turn: Turn) -> list[Reply]:
        """The messages that show a round of the shelf, each as its keeper has to see it now."""
        work, at = turn.work, turn.incoming.sent_at
        replies = []
        for message in round_renewed.round_messages(turn):
            keeper, chat = work.keepers.get(message.prompt.keeper_id), message.prompt.chat
            in_it = self._turn(work, keeper, chat, Incoming(sent_at=at))
            with work.fenced(keeper.id, at.date()), speaking(keeper.settings.language):
                reply = round_renewed.renewed(in_it, message)
            replies += [reply] if reply is not None else []
        return replies

    def greet(self, work: Work, keeper: Keeper, chat: str, at: datetime) -> list[Reply]:
        """The first words: who this is, what to take care of, and the settings, in two taps."""
        turn = self._turn(work, keeper, chat, Incoming(sent_at=at))
        with work.fenced(keeper.id, at.date()), speaking(keeper.settings.language):
            replies = settings_talk.greet(turn)
            turn.save_dialog()
        return replies

    def round_message(
        self, work: Work, keeper: Keeper, chat: str, day: date, at: datetime, late: bool = False
    ) -> list[Reply]:
        """Opens the round of a day and words it; empty where nothing is due or it was opened before.

        While somebody else looks after the shelf, the keeper gets a line on that in its place.
        """
        turn = self._turn(work, keeper, chat, Incoming(sent_at=at))
        with work.fenced(keeper.id, at.date()), speaking(keeper.settings.language):
            replies = handover_round.morning(turn, day, late=late)
            turn.save_dialog()
        return replies

    def news(
        self, work: Work, keeper: Keeper, chat: str, rows: Sequence[StoredNews], at: datetime
    ) -> list[Reply]:
        """What others did on a keeper's shelf; empty where nothing of it is worth telling any more."""
        turn = self._turn(work, keeper, chat, Incoming(sent_at=at))
        with work.fenced(keeper.id, at.date()), speaking(keeper.settings.language):
            replies = sharing.tell_news(turn, rows)
            turn.save_dialog()
        return replies

    def remind(
        self, work: Work, keeper: Keeper, chat: str, due: Sequence[StoredReminder], at: datetime
    ) -> list[Reply]:
        """What reminders that are due together say now. The caller has moved them on or closed them."""
        turn = self._turn(work, keeper, chat, Incoming(sent_at=at))
        others = [one for one in due if not one.of_round]
        with work.fenced(keeper.id, at.date()), speaking(keeper.settings.language):
            replies = round_talk.come_back(turn) if len(others) < len(due) else []
            replies += reminders_told.tell(turn, others) if others else []
            turn.save_dialog()
        return replies

    def _turn(self, work: Work, keeper: Keeper, chat: str, incoming: Incoming) -> Turn:
        return Turn(
            work=work,
            keeper=keeper,
            chat=chat,
            incoming=incoming,
            cache=self._cache,
            readings=READINGS,
            presses=PRESSES,
            link_of=self._link_of,
        )
