"""Faults of chat bots, replayed at the door between front end and conversation.

What needs Telegram itself is replayed over HTTP against the stand-in, in tests/telegram: rate limits, blocked
chats and one chat's error leaving others alone (test_sender), a chat that moves and what a group is told that
the bot sees (test_worker), an update that comes twice or after a kill (test_serve_killed, test_webhook), a
stale press (test_sender), a token in a log (test_redaction), an outage of more than a day (test_outage).
"""

from __future__ import annotations

from datetime import timedelta

import pytest

from bot.conversation.model import Incoming
from tests.faults.house import named

WEDNESDAY = "2026-03-04T09:00"


def buttons(house):
    return [button for reply in house.shown for row in reply.buttons for button in row]


@pytest.mark.parametrize(
    ("sent", "text", "day"),
    [
        ("2026-03-03T21:00", "fed Rosie", "2026-03-03"),
        ("2026-03-03T23:50", "fed Rosie yesterday", "2026-03-02"),
        ("2026-03-01T08:00", "Rosie molted this morning", "2026-03-01"),
    ],
)
def test_a_message_that_waited_counts_from_when_it_was_sent(any_home, sent, text, day):
    """source: muety/telegram-expense-bot#17; FreiFahren/FreiFahren#4; tactilenews/100eyes#487"""
    house = any_home(now=WEDNESDAY)
    house.says(text, now=sent)
    assert [told for _, _, told in house.told_of()] == [day]


def test_a_button_tapped_twice_acts_once_and_the_second_tap_says_so(any_home):
    """source: python-telegram-bot/python-telegram-bot#2539; cherrytea-dev/la_searcher_bot#917;
    eternnoir/pyTelegramBotAPI#763"""
    house = any_home(now=WEDNESDAY)
    house.says("fed Rosie 1 cricket")
    instead = next(b for b in buttons(house) if b.label == "Refused instead")
    house.presses_data(instead.data)
    once = house.told_of()
    again = house.presses_data(instead.data)
    assert [kind for _, kind, _ in once] == ["refused"]
    assert house.told_of() == once
    assert again


@pytest.mark.parametrize(
    "name", ["Владиславаалександровнамария", "🕷" * 20, "=cmd|' /C calc'!A0", "A" * 60, 'quote"s, and; all']
)
def test_a_buttons_data_is_short_and_holds_no_name(home, name):
    """source: interlumpen/Telegram-shop#9; python-telegram-bot/python-telegram-bot#1267;
    DEHuckaKpyT/telegram-bot#15

    Bot API, InlineKeyboardButton: callback_data has 1 to 64 bytes."""
    house = home(now=WEDNESDAY, shelf=[named("A1", name, place="rack A"), named("B1", name, place="rack B")])
    house.says(f"fed {name}")
    house.says("status of A1")
    house.says("fed A1 2 crickets")
    assert buttons(house)
    for button in buttons(house):
        assert 1 <= len(button.data.encode()) <= 64
        assert button.data.isascii()


@pytest.mark.parametrize(
    "data", ["", "0", "-1", "99999999999999999999", "x" * 64, "1:2:3", "p1", "'; DROP TABLE entry", "é"]
)
def test_a_press_with_data_that_is_not_ours_is_answered_and_stores_nothing(home, data):
    """source: nutgram/nutgram#725; python-telegram-bot/python-telegram-bot#1069; zhukov/webogram#1129"""
    house = home(now=WEDNESDAY)
    house.says("fed Rosie 1 cricket")
    before = house.told_of()
    assert house.presses_data(data)
    assert house.told_of() == before


def test_a_press_that_arrives_late_is_taken_for_when_it_was_pressed(any_home):
    """source: Studio-Yandex-Practicum/you_can_bot#171; capslock/stable-diffusion-bot#26"""
    house = any_home(now="2026-03-04T07:59")
    house.waits("2026-03-04T08:05")
    done = next(b for row in house.box.replies[-1].buttons for b in row if "done" in b.label.lower())
    house.restart()
    house.now = "2026-03-04T08:07"
    house.presses_data(done.data)
    assert {day for _, _, day in house.told_of()} == {"2026-03-04"}


def test_what_is_written_right_behind_each_other_is_taken_in_order(any_home):
    """source: python-telegram-bot/python-telegram-bot#3575; Abilityai/trinity#2727;
    SamSaffron/term-llm#987"""
    house = any_home(now=WEDNESDAY)
    house.says("add animal Zoe, Brachypelma hamorii, to rack B")
    if "Where" in house.shown[-1].text:
        house.presses(house.shown[-1].buttons[0][0].label)
    house.presses("Add, new today")
    house.says("fed Zoe 1 cricket")
    assert [kind for _, kind, _ in house.told_of()][-1] == "fed"


def test_an_edited_message_changes_its_entry_and_adds_none(any_home):
    """source: openclaw/openclaw#739; openclaw/openclaw#46674; rubenlagus/TelegramBots#679"""
    house = any_home(now=WEDNESDAY)
    house.says("fed Rosie 1 cricket")
    edit = Incoming(sent_at=house.at, text="fed Rosie 3 crickets", reference=str(house.message), edits=True)
    house._told(edit)
    house._told(edit)
    assert house.told_of("count") == [("T12", "fed", "2026-03-04", 3)]


def test_a_round_of_many_animals_is_few_messages(any_home):
    """source: NousResearch/hermes-agent#52143; ehForwarderBot/efb-telegram-master#123;
    windkh/node-red-contrib-telegrambot#413

    Bot API, sendMessage: a text has at most 4,096 characters."""
    animals = [named(f"N{number}", f"Animal {number}", place=f"rack {number % 6}") for number in range(60)]
    house = any_home(now="2026-03-04T07:59", shelf=animals)
    letters = house.waits("2026-03-04T08:05")
    assert 1 <= len(letters) <= 5
    assert all(len(reply.text) <= 4096 for reply in house.box.replies)


def test_one_keeper_whose_round_fails_keeps_nobody_else_waiting(any_home, monkeypatch):
    """source: irazasyed/telegram-bot-sdk#422; nutgram/nutgram#660; fernflower/trvalypobytexamchecker#11"""
    house = any_home(now="2026-03-04T07:59")
    with house.store.begin() as work:
        other = work.keepers.create("Bo", work.keepers.get(house.keeper_id).settings, at=house.at)
        house.clock.plan(work, other, house.at - timedelta(days=1))
    spoken = house.clock._speaks.round_message

    def trips(work, keeper, chat, day, at, late=False):
        if keeper.id == other.id:
            raise RuntimeError("a fault of ours")
        return spoken(work, keeper, chat, day, at, late)

    monkeypatch.setattr(house.clock._speaks, "round_message", trips)
    assert any("to feed" in letter for letter in house.waits("2026-03-04T08:05"))


def test_a_keeper_who_stopped_the_bot_gets_one_round_on_coming_back_and_no_backlog(any_home):
    """source: GameFeeder/GameFeeder#201; irazasyed/telegram-bot-sdk#422"""
    house = any_home(now="2026-03-04T07:00")
    with house.store.begin() as work:
        work.keepers.pause(house.keeper_id)
    assert house.waits("2026-03-14T12:00", step=timedelta(hours=1)) == []
    with house.store.begin() as work:
        work.keepers.resume(house.keeper_id)
    back = [x[:11] for x in house.waits("2026-03-16T12:00", step=timedelta(hours=1)) if "to feed" in x]
    assert len(back) <= 3
    assert len({x[:5] for x in back}) == len(back)


def test_what_was_logged_within_the_hour_is_not_logged_again_unasked(any_home):
    """source: openclaw/openclaw#46674"""
    house = any_home(now=WEDNESDAY)
    house.says("fed Rosie 1 cricket")
    assert "again?" in house.says("fed Rosie 1 cricket")
    assert house.told_of() == [("T12", "fed", "2026-03-04")]
