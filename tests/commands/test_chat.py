"""``chat``: the conversation from a pipe, on the demo shelf."""

import json

import pytest

from storage import Store

AT = ("--now", "2026-05-14T19:30")
SCRIPT = "fed the horned one two crickets\nwho is sealed?\nwhat is due today?\nwhen did X last molt?\nundo\n"


@pytest.fixture
def demo(burrowbell, monkeypatch):
    """Talks to the bot on a demo shelf: the replies to each line together."""
    monkeypatch.setattr("bot.commands.chatting._zone_here", lambda: "Europe/London")

    def talk(*lines, options=()):
        told = burrowbell("chat", "--demo", "--json", *AT, *options, input="".join(f"{x}\n" for x in lines))
        assert (told.status, told.err) == (0, "")
        return told.lines

    return talk


def test_what_a_keeper_asks_first_is_answered_rightly(demo):
    fed, sealed, due, unknown, undone = demo(*SCRIPT.splitlines())
    assert "Horatio" in fed["text"]
    assert "Undo" in fed["buttons"]
    for name in ("Basalt", "Tide", "S2"):
        assert name in sealed["text"]
    assert "Horatio" not in sealed["text"]
    assert "Marzipan" in due["text"]
    assert "X" in unknown["text"]
    assert "Horatio" in undone["text"]


def test_text_and_json_say_the_same(burrowbell, monkeypatch):
    monkeypatch.setattr("bot.commands.chatting._zone_here", lambda: "Europe/London")
    plain = burrowbell("chat", "--demo", *AT, input=SCRIPT)
    objects = burrowbell("chat", "--demo", "--json", *AT, input=SCRIPT)
    assert (plain.status, plain.err) == (0, "")
    assert [set(line) for line in objects.lines] == [{"text", "buttons", "pictures"}] * len(objects.lines)
    for line in objects.lines:
        assert line["text"] in plain.out
        for number, label in enumerate(line["buttons"], 1):
            assert f"[{number}] {label}" in plain.out


def test_a_number_sign_presses_the_button(demo):
    (fed,) = demo("fed the horned one two crickets")
    number = fed["buttons"].index("Undo") + 1
    _, undone, again = demo("fed the horned one two crickets", f"#{number}", "undo")
    assert "Horatio" in undone["text"]
    assert "Horatio" not in again["text"]


def test_undo_never_takes_back_the_whole_shelf(demo):
    replies = demo("undo", "undo", "how many animals do I have?")
    assert "24" in replies[-1]["text"] or "30" in replies[-1]["text"]


def test_the_demo_is_thrown_away_unless_it_is_given_a_store(demo, tmp_path):
    demo("fed the horned one two crickets")
    assert not list(tmp_path.rglob("*.db"))
    url = f"sqlite:///{tmp_path / 'kept.db'}"
    demo("fed the horned one two crickets", options=("--db", url))
    (reply,) = demo("when did Horatio last eat?", options=("--db", url))
    assert "today" in reply["text"].lower()


def test_the_demo_does_not_mix_with_a_keepers_own_store(burrowbell, empty_db):
    told = burrowbell("chat", "--demo", "--db", empty_db, input="undo\n")
    assert told.status == 2
    assert told.err.count("\n") == 1


def test_a_keepers_own_store_is_made_on_the_first_day_and_kept(burrowbell, tmp_path):
    url = f"sqlite:///{tmp_path / 'own.db'}"
    told = burrowbell("chat", "--db", url, "--json", input="add Soot, a female Grammostola pulchra, as K1\n")
    assert (told.status, told.err) == (0, "")
    store = Store.open(url)
    with store.look() as work:
        assert work.keepers.by_contact("terminal", "keyboard") is not None
    store.close()


@pytest.mark.parametrize(
    "line",
    [
        pytest.param("fed Zebediah", id="nobody of that name"),
        pytest.param("x" * 5000, id="5,000 letters"),
        pytest.param("<script>alert(1)</script>", id="html"),
        pytest.param("fed Horatio\x00\x1b[2J\x07", id="control characters"),
        pytest.param("fed Horatio on 3 June 2099", id="a date in the future"),
        pytest.param("\U0001f577\U0001f577\U0001f577", id="pictographs"),
        pytest.param("#9", id="a button that is not there"),
    ],
)
def test_bad_input_gets_a_reply_and_stores_nothing(demo, line):
    replies = demo("how many times did Horatio eat this month?", line)
    assert replies[-1]["text"].strip()
    after = demo(line, "undo")
    assert "Fed" not in after[-1]["text"]


def test_blank_lines_are_passed_over(demo):
    assert len(demo("", "   ", "who is sealed?")) == 1


def test_json_lines_are_ascii_so_that_each_is_one_line(burrowbell):
    told = burrowbell("chat", "--demo", "--json", *AT, input="who is sealed?\n")
    assert told.out.isascii()
    assert [json.loads(line) for line in told.out.splitlines()]
