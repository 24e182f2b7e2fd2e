"""What is passed over for want of what it needs, a step or a check, would have changed nothing."""

import pytest

from bot.reading.doubts import misgivings
from bot.reading.items.needs import ALWAYS, Needing
from bot.reading.message import steps
from tests.reading.corpus import FOLDER, corpus

_CORPORA = sorted(str(path.parent.relative_to(FOLDER)) for path in FOLDER.glob("**/messages.jsonl"))


@pytest.mark.parametrize("name", _CORPORA[::3])
def test_a_message_is_read_the_same_where_nothing_is_passed_over(name: str, monkeypatch) -> None:
    shelf = corpus(name)
    read_as_ever = list(shelf.readings())
    for stage in ("OF_NAMES", "OF_GROUPS"):
        monkeypatch.setattr(steps, stage, Needing((act, ALWAYS) for act, _ in getattr(steps, stage).rows))
    every_check = {
        kind: Needing((check, ALWAYS) for check, _ in checks.rows)
        for kind, checks in misgivings.CHECKS.items()
    }
    monkeypatch.setattr(misgivings, "CHECKS", every_check)
    assert list(shelf.readings()) == read_as_ever
