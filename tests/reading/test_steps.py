"""A step over a message's items is passed over only where it would change nothing."""

import pytest

from bot.reading.message import steps
from tests.reading.corpus import FOLDER, corpus

_CORPORA = sorted(str(path.parent.relative_to(FOLDER)) for path in FOLDER.glob("**/messages.jsonl"))
#: Every sort of item: of a step that needs one of these none is passed over.
_EVERYTHING = frozenset("SDPANWTUMXE")


@pytest.mark.parametrize("name", _CORPORA[::3])
def test_a_message_is_read_the_same_where_no_step_is_passed_over(name: str, monkeypatch) -> None:
    shelf = corpus(name)
    read_as_ever = list(shelf.readings())
    for table in ("_OF_NAMES", "_OF_GROUPS"):
        always = tuple(step._replace(needs=_EVERYTHING) for step in getattr(steps, table))
        monkeypatch.setattr(steps, table, always)
    assert list(shelf.readings()) == read_as_ever
