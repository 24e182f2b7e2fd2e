"""A keyboard's side of the conversation, with a conversation that only repeats what it hears."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from bot.conversation.model import Button, Incoming, Reply
from bot.terminal import words
from bot.terminal.render import as_json, as_text
from bot.terminal.talk import Talk
from bot.terms import KeeperSettings
from storage import Store

AT = datetime(2026, 5, 14, 18, 30, tzinfo=UTC)


class Echo:
    """Repeats what it hears, with two buttons where it is asked for them."""

    def __init__(self):
        self.heard: list[Incoming] = []

    def respond(self, work, keeper, chat, incoming):
        self.heard.append(incoming)
        rows = ((Button(label="Undo", data="7:0"), Button(label="Wrong day", data="7:1")),)
        reply = Reply(text=incoming.pressed or incoming.text)
        return [Reply(text=reply.text, buttons=rows)] if "buttons" in incoming.text else [reply]

    def greet(self, work, keeper, chat, at):
        return [Reply(text=f"Welcome, {keeper.name}")]

    def round_message(self, work, keeper, chat, day, at):
        return [Reply(text=f"The round of {day}")]


@pytest.fixture
def echo():
    return Echo()


@pytest.fixture
def store():
    store = Store.open("sqlite://")
    yield store
    store.close()


@pytest.fixture
def talk(store, echo):
    with store.begin() as work:
        keeper = work.keepers.create("Kim", KeeperSettings(zone="Pacific/Auckland"), at=AT)
    return Talk(store, keeper.id, echo, chat="keyboard", now=lambda: AT)


def texts(replies):
    return [reply.text for reply in replies]


def test_a_line_is_a_message_sent_now(talk, echo):
    assert texts(talk.say("fed Ink")) == ["fed Ink"]
    assert echo.heard[0].sent_at == AT
    assert echo.heard[0].pressed is None


def test_each_line_has_a_reference_of_its_own(talk, echo, store):
    talk.say("one")
    talk.say("one")
    other = Talk(store, 1, echo, chat="keyboard", now=lambda: AT)
    other.say("one")
    assert len({incoming.reference for incoming in echo.heard}) == 3


@pytest.mark.parametrize("line", ["#2", " #2 ", "# 2"])
def test_a_number_sign_presses_a_button_of_the_last_reply_that_has_any(talk, echo, line):
    talk.say("buttons please")
    talk.say("and on")
    assert texts(talk.say(line)) == ["7:1"]
    assert echo.heard[-1].text == ""


@pytest.mark.parametrize("line", ["#3", "#0", "#999"])
def test_a_button_that_is_not_there_is_told_and_nothing_is_pressed(talk, echo, line):
    talk.say("buttons please")
    (reply,) = talk.say(line)
    assert reply.text == f"There is no button {line} here: the last ones go by #1 to #2."
    assert len(echo.heard) == 1


def test_before_any_reply_there_is_no_button(talk):
    assert texts(talk.say("#1")) == ["There is no button to press with #1. Send a message first."]


@pytest.mark.parametrize("line", ["fed #12 two crickets", "#C1", "#2 crickets", "2", "#1234"])
def test_a_number_sign_inside_a_message_presses_nothing(talk, echo, line):
    talk.say("buttons please")
    talk.say(line)
    assert echo.heard[-1].text == line


def test_a_keeper_is_greeted_until_the_first_days_questions_are_answered(talk, store):
    assert texts(talk.greeting()) == ["Welcome, Kim"]
    with store.begin() as work:
        work.keepers.mark_settled(1)
    assert talk.greeting() == []


def test_the_morning_round_is_that_of_the_keepers_day(talk):
    # 18:30 UTC on the 14th is 06:30 on the 15th in Auckland
    assert texts(talk.morning_round()) == [f"The round of {date(2026, 5, 15)}"]


REPLY = Reply(
    text="Fed Ink.\nNext meal 28 May.",
    buttons=(
        (Button(label="Undo", data="1:0"),),
        (Button(label="2", data="1:1"), Button(label="3", data="1:2")),
    ),
    pictures=(Path("growth.png"),),
)


def test_a_reply_in_text_numbers_its_buttons_row_by_row():
    assert as_text(REPLY) == "Fed Ink.\nNext meal 28 May.\npicture: growth.png\n[1] Undo\n[2] 2  [3] 3"


def test_a_reply_in_json_has_text_labels_and_paths():
    assert as_json(REPLY) == {
        "text": "Fed Ink.\nNext meal 28 May.",
        "buttons": ["Undo", "2", "3"],
        "pictures": ["growth.png"],
    }


def test_an_answer_that_fails_is_told_in_a_line_stores_nothing_and_the_talk_goes_on(
    talk, echo, store, caplog
):
    respond = echo.respond

    def fails(work, keeper, chat, incoming):
        work.dialogs.set(keeper.id, chat, {"of": "A1"})
        raise KeyError("A1")

    echo.respond = fails
    assert texts(talk.say("who died this year")) == [words.FAILED]
    assert "could not be answered" in caplog.text
    with store.begin() as work:
        assert not work.dialogs.get(talk._keeper_id, "keyboard")
    echo.respond = respond
    assert texts(talk.say("fed Ink")) == ["fed Ink"]
