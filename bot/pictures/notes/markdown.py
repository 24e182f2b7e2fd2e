"""A document as Markdown (CommonMark, with the tables of GitHub Flavored Markdown)."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import count
from typing import Any, Final

from bot.pictures.glyphs import shown
from bot.pictures.notes.document import Document, Heading, Image, Points, Table, Text, Tone

#: What Markdown, or HTML within it, would take for more than itself.
_SPECIAL: Final = re.compile(r"([\\`*_{}\[\]<>#|~&]|^[+\-])")
#: A number with a point or bracket at the start of a line begins a list.
_NUMBERED: Final = re.compile(r"^(\d+)([.)])(?=\s|$)")


def to_markdown(document: Document, pictures: Sequence[str]) -> str:
    """The text; ``pictures`` are the names of the files that its pictures lie in beside it, one for each."""
    number = count()
    blocks = [f"# {escaped(document.title)}", f"*{escaped(document.under)}*"]
    for part in document.parts:
        if isinstance(part, Image):
            blocks.append(_image(part, pictures[next(number)]))
        else:
            blocks.append(_WRITE[type(part)](part))
    return "\n\n".join([*blocks, "---", escaped(document.foot)]) + "\n"


def escaped(words: str) -> str:
    """Words on one line that Markdown shows as they are."""
    return _NUMBERED.sub(r"\1\\\2", _SPECIAL.sub(r"\\\1", shown(words, bool)))


def _heading(part: Heading) -> str:
    return f"## {escaped(part.words)}"


def _text(part: Text) -> str:
    return _toned(escaped(part.words), part.tone)


def _points(part: Points) -> str:
    return "\n".join(f"- {_toned(escaped(line), part.tone)}" for line in part.lines)


def _toned(words: str, tone: Tone) -> str:
    if tone is Tone.ASIDE:
        return f"*{words}*"
    return f"**{words}**" if tone is Tone.CAUTION else words


def _table(part: Table) -> str:
    rows = [part.columns, ("---",) * len(part.columns), *part.rows]
    return "\n".join(
        "| " + " | ".join(cell if at == 1 else escaped(cell) for cell in row) + " |"
        for at, row in enumerate(rows)
    )


def _image(part: Image, name: str) -> str:
    return f"![{escaped(part.caption)}]({name})\n\n*{escaped(part.caption)}*"


_WRITE: Final[dict[type, Callable[[Any], str]]] = {
    Heading: _heading,
    Text: _text,
    Points: _points,
    Table: _table,
}
