"""The marks of a message that part what is said."""

from __future__ import annotations

from typing import Final

#: Marks that end a sentence, and those that part lists.
HARD: Final = frozenset("\n;.!?")
LIST_MARKS: Final = frozenset(",+&/")
#: Those of them that never stand for "or".
AND_MARKS: Final = frozenset(",+&")
TITLE_MARKS: Final = frozenset(":–-")
#: Signs that say of whatever stands before them that it did, or did not.
TICKS: Final = frozenset("✓✗")
