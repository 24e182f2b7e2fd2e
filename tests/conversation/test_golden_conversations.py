"""Whole conversations, compared as whole pages. ``BURROWBELL_WRITE_GOLDEN=1`` writes what is said now."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.conversation.replay import GOLDEN, replayed

SCRIPTS = sorted(GOLDEN.glob("*.txt"))


def test_there_are_golden_conversations():
    assert len(SCRIPTS) >= 8


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_the_conversation_goes_as_written(path: Path):
    script = path.read_text(encoding="utf-8")
    played = replayed(script)
    if os.environ.get("BURROWBELL_WRITE_GOLDEN"):
        path.write_text(played, encoding="utf-8")
    assert script.split("\n") == played.split("\n")


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_every_reply_reads_well_on_a_phone(path: Path):
    for line in path.read_text(encoding="utf-8").split("\n"):
        if line.startswith(("<", "  ")):
            assert len(line) <= 260, line
            assert not any(mark in line for mark in ("**", "`", "</", "None ", "{", "}", ": .", " .")), line
            assert line == line.rstrip()
