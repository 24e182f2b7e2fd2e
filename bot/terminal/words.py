"""What the keyboard says by itself; all else is the conversation's."""

from __future__ import annotations

from typing import Final

TRY: Final = (
    'Try: "fed the horned one two crickets", "who is sealed?", "when did Basalt last molt?", "undo". '
    "A line #2 presses the second button. Ctrl-D ends."
)
DEMO: Final = "A shelf to play with: keeper and animals are invented, and nothing here is kept."
DEMO_KEPT: Final = "A shelf to play with: keeper and animals are invented."
FAILED: Final = (
    "This could not be answered, by a fault of mine, and nothing of it is stored. Say it in other words, or "
    "undo what you did just before; --debug shows the fault."
)
GONE: Final = "Everything of yours was deleted. Start anew with: burrowbell chat"


def no_button(number: int, there_are: int) -> str:
    """The answer to ``#7`` where there is no seventh button."""
    if there_are == 0:
        return f"There is no button to press with #{number}. Send a message first."
    last = "only #1" if there_are == 1 else f"#1 to #{there_are}"
    return f"There is no button #{number} here: the last ones go by {last}."
