"""Heavy libraries come only when something is drawn."""

import subprocess
import sys

import pytest

HEAVY = {"matplotlib", "fpdf", "PIL", "segno"}


def modules_after(code):
    """The heavy top-level modules that a fresh interpreter has loaded."""
    code += "\nimport sys\nprint(*sorted({name.split('.')[0] for name in sys.modules}), 'pyplot' if "
    code += "'matplotlib.pyplot' in sys.modules else '')"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(out.stdout.split())


@pytest.mark.parametrize(
    "code",
    [
        "import bot.commands",
        "import bot.commands.chatting, bot.conversation.talk, bot.terminal.talk",
        "import bot.commands.serving, bot.telegram.service",
        "import bot.pictures.gather, bot.pictures.data",
    ],
)
def test_starting_loads_no_library_for_pictures_or_paper(code):
    assert not HEAVY & modules_after(code)


def test_paper_is_made_without_matplotlib():
    assert "matplotlib" not in modules_after("import bot.pictures.paper.labels, bot.pictures.paper.record")


def test_charts_are_drawn_without_a_window_system():
    loaded = modules_after("import bot.pictures.drawing")
    assert "matplotlib" in loaded
    assert not loaded & {"pyplot", "tkinter"}
