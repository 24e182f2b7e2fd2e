"""What is asked of what was, in a phrasing of its own: two things at once, the longest fast. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.wanted.questions import may_be_days, of_some
from bot.reading.wanted.wanted import Action, Instruction, Understand
from bot.reading.words.phrasings import folded, meaning, slot


def _who_did(action: Action, found: re.Match[str], _names: ShelfNames, language: str) -> Instruction | None:
    """Who did one thing and who another, in the time that ``rest`` says: "who ate and who refused"."""
    did, also = (meaning("happenings", language)[folded(found[name])] for name in ("did", "also"))
    if also == _NOT:
        also = _NOT_DONE.get(did, did)
    when = slot(found, "when")
    if did in {also, _NOT} or not may_be_days(when, language):
        return None
    return Instruction(action=action, value=did, also=also, rest=when)


_NOT: Final = "not"
#: What one who did not do a thing did; of other things it is everybody else, and asked in other words.
_NOT_DONE: Final = {"fed": "refused"}


OF_THE_PAST: Final[Mapping[Action, Understand]] = {Action.WHO_DID: _who_did, Action.FASTS: of_some}
