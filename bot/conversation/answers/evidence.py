"""What the keeper's own records of a species add up to, in a few lines for a phone."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from bot.conversation import wording
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.terms import Kind
from storage.shelf_on_paper import read_shelf

if TYPE_CHECKING:
    from bot.husbandry.evidence import Finding

#: The figures that are told in a chat, in this order; the command line and the notes have them all.
_TOLD: Final = (
    "molt_interval",
    "growth_per_molt",
    "days_between_meals",
    "acceptance_by_days_to_molt",
    "days_sealed",
    "days_to_first_meal",
    "span_at_maturity",
    "died",
)


#: The figures that tell of a kind of thing.
_ABOUT: Final = {Kind.SEALED: ("days_sealed",)}


def evidence_lines(turn: Turn, species: str, kind: Kind | None = None) -> list[str]:
    """The figures of a species, each with its range and what it rests on; none where nothing is on record.

    ``kind``: those alone that tell of it.
    """
    from bot.husbandry.evidence import ENOUGH, by_species, findings  # noqa: PLC0415  numpy costs

    own = by_species(read_shelf(turn.work, turn.shelf_id).records(), species).get(species, [])
    wanted = _ABOUT[kind] if kind else _TOLD
    found = [finding for finding in findings(own, turn.today) if finding.figure in wanted]
    if not found:
        return []
    few = len(own) < ENOUGH
    animals = wording.counted(len(own), "animal")
    head = say("evidence.few", animals=animals) if few else say("evidence.head", animals=animals)
    ordered = sorted(found, key=lambda finding: _TOLD.index(finding.figure))
    return [head, *(_line(finding, told_few=few) for finding in ordered)]


def _line(finding: Finding, *, told_few: bool) -> str:
    basis = [wording.counted(finding.n_specimens, "animal"), wording.counted(finding.n_entries, "entry")]
    if finding.n_running:
        basis.append(say("evidence.running", n=finding.n_running))
    if not (finding.enough or told_few):
        basis.append(say("evidence.too_few"))
    return say_of(
        "evidence_lines",
        finding.figure,
        group=finding.group,
        value=_shown(finding.value, finding.unit),
        range=_range(finding),
        basis=", ".join(basis),
    )


def _range(finding: Finding) -> str:
    low, high = (_shown(end, finding.unit) for end in (finding.low, finding.high))
    if finding.low is None and finding.high is None:
        return say("evidence.no_range")
    if finding.high is None:
        return say("evidence.or_more", low=low)
    return low if low == high else say("evidence.range", low=low, high=high)


def _shown(value: float | None, unit: str) -> str:
    if value is None:
        return say("evidence.not_known")
    forms = {"share": f"{value:.0%}", "×": f"×{value:.2f}", "days": f"{value:.0f}"}
    return forms.get(unit, f"{value:.1f}")
