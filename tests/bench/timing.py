"""Timing: medians of repeated runs, and the lines of the table."""

from __future__ import annotations

import gc
import statistics
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Line:
    """One line of the table: what was measured, the figure, what it is compared with, and the limit."""

    what: str
    figure: str
    beside: str = ""
    ratio: float | None = None
    limit: str = ""
    kept: bool | None = None


def seconds(act: Callable[[], object]) -> float:
    """How long one run takes."""
    start = time.perf_counter()
    act()
    return time.perf_counter() - start


def own_seconds(act: Callable[[], object]) -> float:
    """How much of the processor one run takes: on a quiet machine its time, where nothing is waited for."""
    start = time.process_time()
    act()
    return time.process_time() - start


def median_of(runs: int, act: Callable[[], object]) -> float:
    """The median of several runs, in seconds, after one that does not count."""
    act()
    gc.collect()
    return statistics.median(seconds(act) for _ in range(runs))


def medians(times: Iterable[float]) -> float:
    """The median of times already taken."""
    return statistics.median(times)


def shown(duration: float) -> str:
    """A duration in the unit that fits it."""
    if duration < 0.001:
        return f"{duration * 1e6:.0f} µs"
    return f"{duration * 1e3:.2f} ms" if duration < 1 else f"{duration:.2f} s"


def table(lines: Iterable[Line]) -> str:
    """The lines under each other, in columns."""
    head = ("what", "median", "beside it", "ratio", "limit", "")
    rows = [
        (
            line.what,
            line.figure,
            line.beside,
            "" if line.ratio is None else f"{line.ratio:.2f}",
            line.limit,
            {None: "", True: "kept", False: "MISSED"}[line.kept],
        )
        for line in lines
    ]
    widths = [max(len(row[column]) for row in (head, *rows)) for column in range(len(head))]
    drawn = [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in (head, tuple("-" * width for width in widths), *rows)
    ]
    return "\n".join(drawn)
