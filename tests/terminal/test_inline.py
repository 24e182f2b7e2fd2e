"""Pictures within a terminal, decoded again by readers of the tests' own, by the protocols' descriptions."""

from __future__ import annotations

import re
from base64 import b64decode
from io import BytesIO, StringIO

import numpy as np
import pytest
from PIL import Image
from rich.console import Console

from bot.conversation.model import Reply
from bot.terminal.inline import WIDTH, Protocol, drawn, protocol_of
from bot.terminal.screen import _draw


def a_picture(folder, size=(40, 20)):
    """Four quarters, each of a colour of its own."""
    image = Image.new("RGB", size, (255, 255, 255))
    half = (size[0] // 2, size[1] // 2)
    image.paste((200, 0, 0), (0, 0, *half))
    image.paste((0, 120, 0), (half[0], 0, size[0], half[1]))
    image.paste((0, 0, 160), (0, half[1], half[0], size[1]))
    file = folder / "chart.png"
    image.save(file)
    return file, image


@pytest.mark.parametrize(
    ("environment", "protocol"),
    [
        ({"TERM": "xterm-kitty", "KITTY_WINDOW_ID": "1"}, Protocol.KITTY),
        ({"TERM": "xterm-256color", "TERM_PROGRAM": "ghostty"}, Protocol.KITTY),
        ({"TERM": "xterm-256color", "TERM_PROGRAM": "iTerm.app"}, Protocol.ITERM),
        ({"TERM": "xterm-256color", "LC_TERMINAL": "iTerm2"}, Protocol.ITERM),
        ({"TERM": "xterm-256color", "TERM_PROGRAM": "WezTerm"}, Protocol.ITERM),
        ({"TERM": "foot"}, Protocol.SIXEL),
        ({"TERM": "mlterm"}, Protocol.SIXEL),
        ({"TERM": "xterm-256color"}, None),
        ({"TERM": "dumb"}, None),
        ({}, None),
        ({"TERM": "tmux-256color", "TERM_PROGRAM": "tmux", "TMUX": "/x", "KITTY_WINDOW_ID": "1"}, None),
        ({"TERM": "xterm-kitty", "STY": "1.pts"}, None),
        ({"TERM": "xterm", "BURROWBELL_PICTURES": "sixel"}, Protocol.SIXEL),
        ({"TERM": "xterm-kitty", "BURROWBELL_PICTURES": "files"}, None),
    ],
)
def test_what_a_terminal_can_is_told_by_its_environment(environment, protocol):
    assert protocol_of(environment) is protocol


def test_kitty_gets_a_png_in_chunks_of_its_size(tmp_path):
    # the protocol's own page, from memory: at most 4096 bytes a chunk, a multiple of 4, m=1 until the last
    file, _ = a_picture(tmp_path)
    noise = Image.fromarray(np.random.default_rng(1).integers(0, 255, (300, 400, 3), dtype=np.uint8))
    noise.save(file)
    told = drawn(file, Protocol.KITTY)
    parts = re.findall("\x1b_G([^;]*);([^\x1b]*)\x1b\\\\", told)
    assert "".join(f"\x1b_G{head};{data}\x1b\\" for head, data in parts) + "\n" == told
    assert parts[0][0].split(",")[:2] == ["a=T", "f=100"]
    assert all(len(data) <= 4096 and len(data) % 4 == 0 for _, data in parts)
    assert [head[-3:] for head, _ in parts] == ["m=1"] * (len(parts) - 1) + ["m=0"]
    shown = Image.open(BytesIO(b64decode("".join(data for _, data in parts))))
    assert np.array_equal(np.asarray(shown), np.asarray(noise))


def test_iterm_gets_the_file_and_its_size(tmp_path):
    file, image = a_picture(tmp_path)
    found = re.fullmatch(
        "\x1b\\]1337;File=inline=1;size=(\\d+);[^:]*:([A-Za-z0-9+/=]*)\x07\n", drawn(file, Protocol.ITERM)
    )
    content = b64decode(found[2])
    assert int(found[1]) == len(content)
    assert np.array_equal(np.asarray(Image.open(BytesIO(content))), np.asarray(image))


def sixels(told):
    """The picture of a sixel stream, read by DEC STD 070: raster, colours, repeats, returns and new lines."""
    head = re.match('\x1bPq"1;1;(\\d+);(\\d+)', told)
    width, height = int(head[1]), int(head[2])
    seen = np.zeros((height + 6, width, 3), int)
    colours, colour, x, y, repeat = {}, 0, 0, 0, 1
    for which, how, count, sign in re.findall(
        r"#(\d+)(;2;\d+;\d+;\d+)?|!(\d+)|([?-~$\-])", told[head.end() : told.index("\x1b\\")]
    ):
        if how:
            colours[int(which)] = [round(int(part) * 255 / 100) for part in how.split(";")[2:]]
        elif which:
            colour = int(which)
        elif count:
            repeat = int(count)
        elif sign == "$":
            x = 0
        elif sign == "-":
            x, y = 0, y + 6
        else:
            for bit in range(6):
                if (ord(sign) - 63) >> bit & 1:
                    seen[y + bit, x : x + repeat] = colours[colour]
            x, repeat = x + repeat, 1
    return seen[:height]


@pytest.mark.parametrize("size", [(40, 20), (41, 23), (7, 5)])
def test_sixels_give_the_picture_back(tmp_path, size):
    file, image = a_picture(tmp_path, size)
    seen = sixels(drawn(file, Protocol.SIXEL))
    assert np.abs(seen - np.asarray(image).astype(int)).max() <= 3  # colours are whole per cents there


@pytest.mark.parametrize("protocol", Protocol)
def test_a_large_picture_is_shown_smaller_and_what_is_no_picture_not_at_all(tmp_path, protocol):
    file, _ = a_picture(tmp_path, (1080, 540))
    told = drawn(file, protocol)
    if protocol is Protocol.SIXEL:
        assert sixels(told).shape[:2] == (WIDTH // 2, WIDTH)
    broken = tmp_path / "broken.png"
    broken.write_bytes(b"\x89PNG broken")
    assert drawn(broken, protocol) is None
    assert drawn(tmp_path / "gone.png", protocol) is None


def on_screen(reply, environment, *, terminal=True):
    out = StringIO()
    _draw(Console(file=out, force_terminal=terminal, width=100), [reply], environment)
    return out.getvalue()


def test_on_a_screen_that_can_the_picture_stands_above_the_words_and_else_only_its_file(tmp_path):
    file, _ = a_picture(tmp_path)
    paper = tmp_path / "notes.pdf"
    paper.write_bytes(b"%PDF")
    reply = Reply(text="A chart.", pictures=(file, paper))
    told = on_screen(reply, {"TERM": "xterm-kitty"})
    assert told.startswith("\x1b_G")
    assert told.count("\x1b_Ga=T") == 1
    assert "A chart." in told
    assert "\x1b_G" not in on_screen(reply, {"TERM": "xterm"})
    assert "\x1b_G" not in on_screen(reply, {"TERM": "xterm-kitty"}, terminal=False)
