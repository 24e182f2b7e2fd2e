"""Every reason a line of the round can have: its key, and the facts that its sentence has blanks for.

Days are dates; ``days`` is the number of days from the fact to the day of the round, ``every`` and
``wait`` are lengths in days. The sentences themselves are the conversation's.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from bot.round.model import Why

REASONS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        # feed
        "feed_due": ("last_fed", "days", "every"),
        "feed_male": ("last_fed", "days", "every"),
        "feed_after_big_meal": ("last_fed", "days", "every"),
        "feed_slow_months": ("last_fed", "days", "every"),
        "feed_thin": ("last_fed", "days", "every", "found_on"),
        "feed_plump": ("last_fed", "days", "every", "found_on"),
        "feed_fat": ("last_fed", "days", "every", "found_on"),
        "feed_with_sac": ("last_fed", "days", "sac_since"),
        "feed_no_record": (),
        "feed_after_arrival": ("added_on", "days"),
        "feed_after_refusal": ("refused_on", "days", "refusals"),
        "feed_after_refusal_premolt": ("refused_on", "days", "refusals"),
        "feed_after_offer": ("offered_on", "days"),
        "feed_after_molt": ("molted_on", "days"),
        # check
        "check_fangs": ("molted_on", "days"),
        "check_opened": ("opened_on", "days"),
        "check_offer": ("offered_on", "days"),
        "check_offer_sealed": ("offered_on", "days", "sealed_since"),
        "check_sealed": ("sealed_since", "days"),
        "check_premolt": ("premolt_since", "days"),
        # remove
        "remove_offer": ("offered_on", "days"),
        "remove_offer_soft": ("offered_on", "days"),
        # water
        "water_due": ("last_watered", "days", "every", "moisture"),
        "water_dish": ("last_watered", "days", "every", "moisture"),
        "water_substrate": ("last_watered", "days", "every", "moisture"),
        "water_no_record": ("moisture",),
        "water_sealed": ("sealed_since", "days", "moisture"),
        "water_premolt": ("premolt_since", "days", "moisture"),
        "water_fresh": ("molted_on", "days", "moisture"),
        # rehouse
        "rehouse_small": ("span_cm", "volume_l", "needs_l"),
        "rehouse_molts": ("molts", "home_since"),
        # rest
        "rest_missing": ("missing_since", "days"),
        "rest_sealed": ("sealed_since", "days"),
        "rest_premolt": ("premolt_since", "days"),
        "rest_fresh": ("molted_on", "days", "wait"),
        "rest_rehoused": ("rehoused_on", "days", "wait"),
        "rest_arrived": ("added_on", "days", "wait"),
        "rest_held": ("held_since", "days"),
        "rest_held_until": ("held_since", "days", "until"),
    }
)


_BLANKS: Final[Mapping[str, frozenset[str]]] = {key: frozenset(blanks) for key, blanks in REASONS.items()}


def why(key: str, basis: str, **facts: Any) -> Why:
    """The reason of that key. Raises ``ValueError`` unless exactly the facts of its blanks are given."""
    if facts.keys() != _BLANKS[key]:
        raise ValueError(f"reason {key} needs the facts {REASONS[key]}, got {tuple(facts)}")
    return Why(key=key, facts=facts, basis=basis)
