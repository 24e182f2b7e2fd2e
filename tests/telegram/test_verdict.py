"""What each answer of the Bot API means for the request that met it."""

import httpx
import pytest
from telegram.error import (
    BadRequest,
    ChatMigrated,
    Forbidden,
    InvalidToken,
    NetworkError,
    RetryAfter,
    TelegramError,
    TimedOut,
)

from bot.telegram.verdict import Then, verdict


def caused(error, cause):
    error.__cause__ = cause
    return error


@pytest.mark.parametrize(
    ("error", "then"),
    [
        (BadRequest("Bad Request: message is not modified: specified new message content"), Then.DONE),
        (BadRequest("Bad Request: query is too old and response timeout expired"), Then.DONE),
        (BadRequest("Bad Request: chat not found"), Then.GIVE_UP),
        (BadRequest("Bad Request: message to edit not found"), Then.ANEW),
        (BadRequest("Bad Request: there is no text in the message to edit"), Then.ANEW),
        (Forbidden("Forbidden: bot was blocked by the user"), Then.GIVE_UP),
        (RetryAfter(35), Then.LATER),
        (ChatMigrated(-100), Then.LATER),
        (InvalidToken(), Then.LATER),
        (NetworkError("Internal Server Error (500)"), Then.LATER),
        (TelegramError("Invalid server response"), Then.LATER),
        (caused(TimedOut(), httpx.ReadTimeout("x")), Then.LATER),
        (caused(NetworkError("x"), httpx.ConnectError("x")), Then.LATER),
    ],
)
def test_each_error_has_its_consequence(error, then):
    assert verdict(error, edits=True).then is then


def test_only_an_edit_is_sent_anew():
    assert verdict(BadRequest("message to edit not found"), edits=False).then is Then.GIVE_UP


def test_the_stated_time_is_waited_and_a_little_more():
    told = verdict(RetryAfter(35))
    assert told.hold
    assert 35 < told.seconds < 37


def test_a_lost_answer_is_tried_once_more_and_never_again():
    lost = caused(TimedOut(), httpx.ReadTimeout("x"))
    first = verdict(lost)
    assert (first.then, first.offline) == (Then.LATER, False)
    assert first.seconds > 0
    assert verdict(lost, tries=1, lost=True).then is Then.GIVE_UP


@pytest.mark.parametrize("cause", [httpx.ConnectError, httpx.ConnectTimeout, httpx.PoolTimeout])
def test_what_did_not_leave_is_tried_until_it_does(cause):
    told = verdict(caused(TimedOut(), cause("x")), tries=1000, lost=True)
    assert (told.then, told.offline) == (Then.LATER, True)


def test_a_faulty_server_is_tried_with_growing_pauses_and_given_up_in_the_end():
    pauses = [verdict(NetworkError("500"), tries=n).seconds for n in range(12)]
    assert pauses == sorted(pauses)
    assert pauses[-1] <= 600
    assert verdict(NetworkError("500"), tries=100).then is Then.GIVE_UP


@pytest.mark.parametrize(
    ("said", "blocked"),
    [
        ("Forbidden: bot was blocked by the user", True),
        ("Forbidden: user is deactivated", True),
        ("Forbidden: bot can't initiate conversation with a user", True),
        ("Forbidden: bot was kicked from the group chat", False),
    ],
)
def test_who_blocked_the_bot_is_told_from_a_group_that_put_it_out(said, blocked):
    assert verdict(Forbidden(said)).blocked is blocked


def test_a_group_that_moved_names_its_new_id():
    assert verdict(ChatMigrated(-100123)).moved_to == -100123
