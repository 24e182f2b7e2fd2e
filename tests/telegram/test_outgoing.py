"""Replies become requests that the Bot API takes, whatever they hold."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.conversation.model import Button, Reply
from bot.telegram.outgoing import answer_to, in_place_of_edit, requests_for, split_text, utf16_length
from tests.telegram.bot_api_rules import check


def sent(reply, **more):
    return [(request.method, request.params) for request in requests_for(reply, **more)]


def test_a_text_goes_out_as_it_is_with_its_buttons():
    reply = Reply(text="<b>Ink</b> & 1 < 2", buttons=((Button(label="Undo", data="p1:0"),),), number=1)
    (request,) = requests_for(reply)
    assert request.method == "sendMessage"
    assert request.params == {
        "text": "<b>Ink</b> & 1 < 2",
        "reply_markup": {"inline_keyboard": [[{"text": "Undo", "callback_data": "p1:0"}]]},
    }
    assert request.prompt == 1


def test_a_quiet_reply_makes_no_sound():
    assert sent(Reply(text="x", quiet=True))[0][1]["disable_notification"] is True


def test_an_edit_replaces_the_message_that_was_pressed():
    reply = Reply(text="done", edits_pressed=True)
    assert sent(reply, pressed=5) == [("editMessageText", {"text": "done", "message_id": 5})]
    assert sent(reply) == [("sendMessage", {"text": "done"})]
    assert in_place_of_edit({"text": "done", "message_id": 5}) == {"text": "done"}


def test_of_a_long_text_only_the_last_part_has_the_buttons_and_the_prompt():
    reply = Reply(text="line\n" * 1500, buttons=((Button(label="Done", data="p1:0"),),), number=1)
    first, last = requests_for(reply)
    assert "reply_markup" not in first.params
    assert "reply_markup" in last.params
    assert (first.prompt, last.prompt) == (None, 1)


def test_more_buttons_than_a_message_holds_go_on_in_the_next():
    rows = tuple((Button(label=f"{n}", data=f"p1:{n}"),) for n in range(150))
    first, second = requests_for(Reply(text="Which?", buttons=rows, number=1))
    assert [len(r.params["reply_markup"]["inline_keyboard"]) for r in (first, second)] == [100, 50]


def test_a_button_whose_data_does_not_fit_is_left_out_and_told(caplog):
    row = (Button(label="a", data="я" * 33), Button(label="b", data="p1:1"))
    ((_, params),) = sent(Reply(text="x", buttons=(row,)))
    assert params["reply_markup"]["inline_keyboard"] == [[{"text": "b", "callback_data": "p1:1"}]]
    assert "left out" in caplog.text


def test_pictures_follow_the_text_and_pages_go_as_files():
    reply = Reply(text="Growth", pictures=(Path("a.png"), Path("b.pdf")))
    made = requests_for(reply)
    assert [(r.method, r.file) for r in made] == [
        ("sendMessage", None),
        ("sendPhoto", ("photo", "a.png")),
        ("sendDocument", ("document", "b.pdf")),
    ]


def test_nothing_to_say_sends_nothing():
    assert sent(Reply(text=" \n ")) == []


def test_a_request_is_kept_as_json():
    (request,) = requests_for(Reply(text="x", number=3))
    assert json.loads(json.dumps(request.to_json())) == {"params": {"text": "x"}, "prompt": 3}
    assert answer_to("4711").to_json() == {"params": {"callback_query_id": "4711"}}


_LABELS = st.text(max_size=10)
_ROWS = st.lists(
    st.lists(st.builds(Button, label=_LABELS, data=st.text("ab:1", min_size=1, max_size=64)), max_size=20),
    max_size=30,
)


@given(st.text(max_size=60), st.integers(0, 200), _ROWS, st.booleans())
@settings(max_examples=150, deadline=None)
def test_whatever_the_reply_the_requests_keep_to_the_rules(text, times, rows, edits):
    reply = Reply(text=text * times, buttons=tuple(map(tuple, rows)), edits_pressed=edits, number=9)
    made = requests_for(reply, pressed=5)
    for request in made:
        check(request.method, {"chat_id": 7} | request.params)
    shown = [
        b for r in made for row in r.params.get("reply_markup", {}).get("inline_keyboard", []) for b in row
    ]
    assert [b["callback_data"] for b in shown] == [button.data for row in rows for button in row]
    assert sum(request.prompt == 9 for request in made) <= 1


@given(st.text(st.sampled_from("a 🕷\nя"), max_size=300), st.integers(2, 40))
@settings(max_examples=300, deadline=None)
def test_a_split_text_fits_and_loses_only_blanks(text, longest):
    pieces = split_text(text, longest)
    assert all(1 <= utf16_length(piece) <= longest for piece in pieces)
    assert "".join("".join(pieces).split()) == "".join(text.split())


@pytest.mark.parametrize(("text", "pieces"), [("aaa bbb", ["aaa", "bbb"]), ("aaaaaaa", ["aaaaa", "aa"])])
def test_a_text_is_cut_after_a_word_if_it_can_be(text, pieces):
    assert split_text(text, 5) == pieces
