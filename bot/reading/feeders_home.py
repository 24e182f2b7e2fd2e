"""Work on the feeders' own home, which is no entry: "topped up the dubia tub", "moved the crickets"."""

from __future__ import annotations

from itertools import pairwise

from bot.reading.frames import Frame
from bot.reading.items import Item
from bot.reading.model import FEEDING
from bot.terms import Kind


def of_the_feeders(frame: Frame) -> bool:
    """ "topped up the dubia tub", "moved the dubias to a bigger tub": work on the feeders' own home."""
    if not frame.meals or frame.meals[0].prey is None or frame.ref_at or frame.inherited:
        return False
    senses = [item.senses for _, item in frame.verbs]
    kinds = frozenset().union(*(verb.kinds for verb in senses))
    elsewhere = any("bigger" in verb.acts for verb in senses) or "volume" in {
        a.dimension for _, a in frame.amounts
    }
    moved = elsewhere and Kind.REHOUSED in kinds and kinds.isdisjoint(FEEDING | {Kind.ACQUIRED, Kind.STOCKED})
    pairs = pairwise(frame.clause.items)
    their_home = any("prey" in a.senses and _part(b) == "box" for a, b in pairs)
    return moved or (their_home and not kinds.isdisjoint({Kind.WATERED, Kind.CLEANED}))


def _part(item: Item) -> str | None:
    noun = item.senses.get("noun")
    return noun.group.part if noun is not None else None
