"""Pictures in the terminal itself, where it can show them: by protocols that are published by their makers.

What a terminal can is told by its environment; it is never asked, since an answer might end up among what
the keeper types. Within a multiplexer, over a pipe or in a terminal that is not known, pictures stay files.

- kitty's graphics protocol: base64 in chunks of at most 4096 bytes within APC ``ESC _ G … ESC \\``.
- iTerm2's inline images: one OSC 1337 ``File=`` with the file in base64.
- Sixel (DEC STD 070, chapter 9): six rows of pixels in a character, a colour at a time.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Iterator, Mapping
from enum import StrEnum
from io import BytesIO
from pathlib import Path
from typing import Final

from PIL import Image

#: As wide as a picture is shown, in pixels: about sixty columns of a usual font.
WIDTH: Final = 600
_CHUNK: Final = 4096
_COLOURS: Final = 64
_ESC, _END = "\x1b", "\x1b\\"


class Protocol(StrEnum):
    """How a terminal takes pictures."""

    KITTY = "kitty"
    ITERM = "iterm"
    SIXEL = "sixel"


#: Names of terminals as they give them in TERM_PROGRAM, LC_TERMINAL or TERM, and what each takes.
_BY_PROGRAM: Final[Mapping[str, Protocol]] = {
    "iterm.app": Protocol.ITERM,
    "iterm2": Protocol.ITERM,
    "wezterm": Protocol.ITERM,
    "mintty": Protocol.ITERM,
    "ghostty": Protocol.KITTY,
}
_BY_TERM: Final[Mapping[str, Protocol]] = {
    "xterm-kitty": Protocol.KITTY,
    "xterm-ghostty": Protocol.KITTY,
    "foot": Protocol.SIXEL,
    "foot-extra": Protocol.SIXEL,
    "mlterm": Protocol.SIXEL,
    "yaft-256color": Protocol.SIXEL,
}


def protocol_of(environment: Mapping[str, str]) -> Protocol | None:
    """What the terminal of an environment takes; ``None`` where that is not sure.

    ``BURROWBELL_PICTURES`` says it outright: ``kitty``, ``iterm``, ``sixel``, or anything else for files.
    """
    said = environment.get("BURROWBELL_PICTURES", "").casefold()
    if said:
        return Protocol(said) if said in set(Protocol) else None
    if environment.get("TMUX") or environment.get("STY"):
        return None
    if environment.get("KITTY_WINDOW_ID"):
        return Protocol.KITTY
    for name in ("TERM_PROGRAM", "LC_TERMINAL"):
        if (found := _BY_PROGRAM.get(environment.get(name, "").casefold())) is not None:
            return found
    return _BY_TERM.get(environment.get("TERM", ""))


def drawn(file: Path, protocol: Protocol) -> str | None:
    """What to write so that the picture shows, ended by a line end; ``None`` where the file is no picture."""
    try:
        with Image.open(file) as image:
            image.load()
            shown = image.convert("RGB")
    except (OSError, ValueError, SyntaxError):
        return None
    if shown.width > WIDTH:
        shown = shown.resize((WIDTH, max(1, round(shown.height * WIDTH / shown.width))), Image.Resampling.BOX)
    return _DRAW[protocol](shown) + "\n"


def _png(image: Image.Image) -> str:
    out = BytesIO()
    image.save(out, "PNG")
    return b64encode(out.getvalue()).decode("ascii")


def _kitty(image: Image.Image) -> str:
    data = _png(image)
    chunks = [data[at : at + _CHUNK] for at in range(0, len(data), _CHUNK)]
    out = []
    for number, chunk in enumerate(chunks):
        more = int(number < len(chunks) - 1)
        head = f"a=T,f=100,q=2,m={more}" if number == 0 else f"m={more}"  # transmit and show a PNG, no answer
        out.append(f"{_ESC}_G{head};{chunk}{_END}")
    return "".join(out)


def _iterm(image: Image.Image) -> str:
    data = _png(image)
    size = len(data) * 3 // 4 - data.count("=", -2)
    return f"{_ESC}]1337;File=inline=1;size={size};width={image.width}px;preserveAspectRatio=1:{data}\a"


def _sixel(image: Image.Image) -> str:
    reduced = image.quantize(_COLOURS, dither=Image.Dither.NONE)
    palette = reduced.getpalette() or []
    pixels = reduced.tobytes()
    out = [f'{_ESC}Pq"1;1;{image.width};{image.height}']
    for colour in range(len(palette) // 3):
        red, green, blue = (round(value * 100 / 255) for value in palette[3 * colour : 3 * colour + 3])
        out.append(f"#{colour};2;{red};{green};{blue}")
    out += _bands(pixels, image.width, image.height)
    return "".join(out) + _END


def _bands(pixels: bytes, width: int, height: int) -> Iterator[str]:
    for top in range(0, height, 6):
        rows = [pixels[y * width : (y + 1) * width] for y in range(top, min(top + 6, height))]
        used = sorted(set().union(*rows))
        for colour in used:
            signs = [
                chr(63 + sum((row[x] == colour) << bit for bit, row in enumerate(rows))) for x in range(width)
            ]
            yield f"#{colour}{_run_lengths(signs)}$"
        yield "-"


def _run_lengths(signs: list[str]) -> str:
    out, at = [], 0
    while at < len(signs):
        end = at
        while end < len(signs) and signs[end] == signs[at]:
            end += 1
        count = end - at
        out.append(f"!{count}{signs[at]}" if count > 3 else signs[at] * count)
        at = end
    return "".join(out)


_DRAW: Final[Mapping[Protocol, Callable[[Image.Image], str]]] = {
    Protocol.KITTY: _kitty,
    Protocol.ITERM: _iterm,
    Protocol.SIXEL: _sixel,
}
