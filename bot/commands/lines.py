"""Lines of standard input."""

from __future__ import annotations

from collections.abc import Iterator
from typing import BinaryIO


def lines_of(stream: BinaryIO) -> Iterator[str]:
    """The lines of a stream: bytes that are no UTF-8 are replaced, other separators left inside a line."""
    for raw in stream:
        yield raw.decode("utf-8", errors="replace").removesuffix("\n").removesuffix("\r")
