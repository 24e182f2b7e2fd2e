"""The prompt in a terminal, fed through a pipe."""

import io

from prompt_toolkit.application import create_app_session
from prompt_toolkit.history import FileHistory, InMemoryHistory
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput
from rich.console import Console

from bot.conversation.model import Button, Reply
from bot.terminal import screen


class Parrot:
    def __init__(self):
        self.heard = []

    def say(self, line):
        self.heard.append(line)
        return [Reply(text=f"[bold]{line}[/bold]", buttons=((Button(label="Undo", data="1:0"),),))]


def converse(keys, monkeypatch, opening=()):
    shown, parrot = io.StringIO(), Parrot()
    monkeypatch.setattr(screen, "Console", lambda **more: Console(file=shown, width=60, **more))
    with create_pipe_input() as pipe, create_app_session(input=pipe, output=DummyOutput()):
        pipe.send_text(keys)
        screen.converse(parrot, lambda: opening, history=InMemoryHistory())
    return parrot.heard, shown.getvalue()


def test_lines_are_answered_until_ctrl_d(monkeypatch):
    heard, shown = converse("fed Ink\r\r  \rwho is sealed?\r\x04", monkeypatch, [Reply(text="Good morning")])
    assert heard == ["fed Ink", "who is sealed?"]
    assert shown.startswith("Good morning\n\n")
    assert "[1] Undo" in shown


def test_what_a_keeper_writes_is_never_taken_for_markup(monkeypatch):
    _, shown = converse("x\r\x04", monkeypatch)
    assert "[bold]x[/bold]" in shown


def test_ctrl_c_drops_the_line_and_nothing_else(monkeypatch):
    heard, _ = converse("fed In\x03fed Ink\r\x04", monkeypatch)
    assert heard == ["fed Ink"]


def test_history_is_kept_in_a_file_for_the_keepers_eyes_only(tmp_path):
    history = screen.history_in(tmp_path / "state" / "history")
    assert isinstance(history, FileHistory)
    history.append_string("fed Ink")
    assert (tmp_path / "state" / "history").stat().st_mode & 0o077 == 0
    assert isinstance(screen.history_in(None), InMemoryHistory)
