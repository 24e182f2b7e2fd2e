"""A document as one HTML file: style and pictures inside, nothing fetched, no script."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable
from html import escape
from typing import Any, Final

from bot.pictures.glyphs import shown
from bot.pictures.notes.document import Document, Heading, Image, Points, Table, Text

_STYLE: Final = """
:root { color-scheme: light dark; }
body { max-width: 46rem; margin: 2rem auto; padding: 0 1rem; font: 1rem/1.5 system-ui, sans-serif;
  color: #1c1c1a; background: #fff; }
h1 { line-height: 1.2; margin-bottom: 0; }
h2 { margin-top: 2.2rem; border-bottom: 1px solid #d9d9d3; }
.under, .aside, figcaption, footer { color: #5c5c57; }
.opinion { border-left: 4px solid #8f6200; padding-left: .8rem; }
.caution { border-left: 4px solid #a13a00; padding-left: .8rem; font-weight: 600; }
ul.opinion, ul.caution { padding-left: 2rem; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { text-align: left; vertical-align: top; padding: .3rem .6rem .3rem 0;
  border-bottom: 1px solid #d9d9d3; }
figure { margin: 1.5rem 0; }
img { width: 100%; max-width: 32rem; height: auto; background: #fff; }
footer { margin-top: 3rem; font-size: .85rem; }
@media (prefers-color-scheme: dark) {
  body { color: #eee; background: #1c1c1a; }
  .under, .aside, figcaption, footer { color: #b5b5ae; }
  h2, th, td { border-color: #4a4a45; }
}
@media print { body { max-width: none; margin: 0; } figure, tr { break-inside: avoid; } }
"""


def to_html(document: Document) -> str:
    """The page's text, to be stored as UTF-8."""
    parts = "\n".join(_WRITE[type(part)](part) for part in document.parts)
    return (
        f'<!DOCTYPE html>\n<html lang="{document.language}">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_safe(document.title)}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n"
        f'<h1>{_safe(document.title)}</h1>\n<p class="under">{_safe(document.under)}</p>\n'
        f"{parts}\n<footer>{_safe(document.foot)}</footer>\n</body>\n</html>\n"
    )


def _safe(words: str) -> str:
    return escape(shown(words, bool), quote=True)


def _heading(part: Heading) -> str:
    return f"<h2>{_safe(part.words)}</h2>"


def _text(part: Text) -> str:
    return f'<p class="{part.tone.value}">{_safe(part.words)}</p>'


def _points(part: Points) -> str:
    lines = "".join(f"<li>{_safe(line)}</li>" for line in part.lines)
    return f'<ul class="{part.tone.value}">{lines}</ul>'


def _table(part: Table) -> str:
    head = "".join(f'<th scope="col">{_safe(column)}</th>' for column in part.columns)
    cells = ("".join(f"<td>{_safe(cell)}</td>" for cell in row) for row in part.rows)
    rows = "\n".join(f"<tr>{row}</tr>" for row in cells)
    return (
        f'<div class="wide"><table>\n<thead><tr>{head}</tr></thead>\n'
        f"<tbody>\n{rows}\n</tbody>\n</table></div>"
    )


def _image(part: Image) -> str:
    data, caption = b64encode(part.png).decode("ascii"), _safe(part.caption)
    return (
        f'<figure><img src="data:image/png;base64,{data}" width="{part.width}" height="{part.height}" '
        f'alt="{caption}"><figcaption>{caption}</figcaption></figure>'
    )


_WRITE: Final[dict[type, Callable[[Any], str]]] = {
    Heading: _heading,
    Text: _text,
    Points: _points,
    Table: _table,
    Image: _image,
}
