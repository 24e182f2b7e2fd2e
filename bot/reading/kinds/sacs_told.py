"""What a clause tells of an egg sac."""

from __future__ import annotations

from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of
from bot.reading.items.item import Item
from bot.reading.kinds.verdicts import Verdict
from bot.reading.words.rule_words import rule_words
from bot.reading.words.word_groups import Group
from bot.terms import Kind, SacEvent


def of_sac(frame: Frame, found: list[tuple[Group, Item, int]]) -> Verdict | None:
    """What is done to a sac, from its noun and the verb beside it: "pulled Anvil's sac"."""
    if "pulls her sac" in frame.flags:
        return Verdict("told", [Kind.SAC], [Group(is_="verb", say=[], kind=Kind.SAC, event=SacEvent.PULLED)])
    acts = acts_of(frame)
    if "sac" not in acts or any(g.kind is Kind.SAC for g, _, _ in found):
        return None
    if not frame.meals and any(g.kind is Kind.REFUSED for g, _, _ in found):
        return Verdict("unknown")  # "her eggsac is still there" is no prey
    done = next((event for act, event in _DONE_TO_A_SAC if act in acts), None)
    done = done or (SacEvent.PULLED if _off_her(frame) else None)
    event = done or (SacEvent.LAID if _came_upon(frame) or _sac_on_her(frame) else None)
    if event is None:
        return None
    return Verdict("told", [Kind.SAC], [Group(is_="verb", say=[], kind=Kind.SAC, event=event)])


def _came_upon(frame: Frame) -> bool:
    """ "eggsac spotted this morning": a sac that is new, with no word of what was done to it."""
    fills = (i.senses["fill"].group for i in frame.clause.items if "fill" in i.senses)
    denied = frame.flags & {"neg", "no", "hedge", "still"} or any(
        "none_of" in i.senses for i in frame.clause.items
    )
    only = (
        bool(frame.refs) and not denied and len(frame.verbs) == 1 and not (frame.unknown or frame.inherited)
    )
    return only and any(group.act == "find" for group in fills)


def _off_her(frame: Frame) -> bool:
    """ "sac off T07: 412 eggs": taken from her, with no word of who did."""
    trios = zip(frame.clause.items, frame.clause.items[1:], frame.clause.items[2:], strict=False)
    return any(
        "sac" in sac.senses.acts and off.text in _OFF and whom.cat == "S" and not whom.owns
        for sac, off, whom in trios
    )


_OFF: Final = rule_words("taken_off")


def _sac_on_her(frame: Frame) -> bool:
    """ "sac on Anvil!", "a sac on Anvil": with nothing more; no "sac on Anvil's birthday"."""
    said = [i for i in frame.clause.items if i.cat not in "DM" and not {"fill", "a"} & i.senses.keys()]
    if len(said) != len(("sac", "on", "Anvil")) or frame.flags & {"still", "neg", "no", "hedge"}:
        return False
    on = "on" in said[1].senses and "of" not in said[1].senses  # not "Kokon von Anvil"
    return on and said[-1].cat == "S" and not said[-1].owns


#: What a verb beside the noun says of a sac, the surest first.
_DONE_TO_A_SAC: Final = (
    ("spoiled", SacEvent.LOST),
    ("remove", SacEvent.PULLED),
    ("put", SacEvent.LAID),
    ("have", SacEvent.LAID),
)
