"""Doubts whether what is said of an event says that it happened: "hat die Häutung verpasst"."""

from __future__ import annotations

from bot.reading.drafts import Doubt, Draft, of_another_kind
from bot.reading.frames import Frame
from bot.reading.items import Item


def something_else_of_it(draft: Draft, frame: Frame) -> Doubt | None:
    """ "hat die Häutung verpasst", "hat die Häutung leider nicht mitgemacht": an event named by its noun alone.

    What an animal did with it stands behind it in German, and before it in English; where that is not
    understood, or is denied, it may be that nothing happened.
    """
    nouns = [at for at, item in frame.verbs if _only_names(item, draft)]
    if frame.inherited or len(nouns) != len(frame.verbs) or "did" not in frame.flags:
        return None
    behind = [i for at in nouns for i in frame.clause.items[at + 1 :]]
    denied = next((i.text for i in behind if not _DENIES.isdisjoint(i.senses)), None)
    strange = next((i.text for i in behind[-1:] if i.cat == "U" and not i.upper), None)
    words = denied or strange
    return of_another_kind(draft, "strange_words", words) if words is not None else None


_DENIES = frozenset({"neg", "elided"})


def _only_names(item: Item, draft: Draft) -> bool:
    """Whether a word only names the event of an entry: "Häutung"."""
    return any(verb.group.noun and verb.group.kind is draft.kind for verb in item.senses.verbs)
