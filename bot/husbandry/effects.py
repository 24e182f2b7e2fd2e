"""What each kind of entry changes of a specimen's state."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from types import MappingProxyType
from typing import Any, Final

from bot.husbandry import water_record
from bot.husbandry.absence_record import Absence, absence_noted
from bot.husbandry.condition_record import condition_noted
from bot.husbandry.fang_record import fangs_noted
from bot.husbandry.specimen_state import SpecimenState
from bot.terms import Entry, Kind, SacEvent, Sex, Stage

#: Two molts of one animal closer than this many days are one molt written down twice, and asked about. A
#: fresh sling may molt about every three weeks, nothing faster is common (common practice, no source).
SAME_MOLT_DAYS: Final = 10

Change = dict[str, Any]
Effect = Callable[[SpecimenState, Entry], Change]


def change_by(state: SpecimenState, entry: Entry) -> Change:
    """What an entry changes of a state: the fields and their new values."""
    change: Change = {
        "first_entry": min(state.first_entry or entry.day, entry.day),
        "last_entry": max(state.last_entry or entry.day, entry.day),
    }
    effect = _EFFECTS.get(entry.kind)
    if effect is not None:
        change |= effect(state, entry)
    return change


_FANGS_NOT_SEEN: Final[Mapping[str, Any]] = MappingProxyType({"fangs_on": None, "fangs_black": False})


def _fed(_state: SpecimenState, entry: Entry) -> Change:
    """A taken meal: whatever was thought before, it is out and it eats."""
    return {
        "last_fed": entry.day,
        "last_prey": entry.prey,
        "last_prey_size": entry.size.value if entry.size else None,
        "last_prey_count": entry.count,
        "open_offer": None,
        "refusals": 0,
        "refusing_since": None,
        "eaten_since_molt": True,
        **_FANGS_NOT_SEEN,
        "premolt_since": None,
        "sealed_since": None,
        "missing_since": None,
    }


def _refused(state: SpecimenState, entry: Entry) -> Change:
    return {
        "last_refused": entry.day,
        "refusals": state.refusals + 1,
        "refusing_since": state.refusing_since or entry.day,
        "open_offer": None,
    }


def _offered(_state: SpecimenState, entry: Entry) -> Change:
    return {"open_offer": entry.day}


_WATERED_PLACE: Final[Mapping[str, str]] = MappingProxyType(
    {"dish": "last_dish", "substrate": "last_dampened", "misted": "last_dampened"}
)


def _watered(state: SpecimenState, entry: Entry) -> Change:
    place = "last_plain_water" if entry.how is None else _WATERED_PLACE[entry.how.value]
    change: Change = {"last_watered": entry.day, place: entry.day}
    change["last_water_how"] = entry.how.value if entry.how else None
    wetted = _wetted(state)
    if place == "last_dish" and wetted is not None:
        return change  # a full dish tells nothing of how the substrate dries
    if wetted is None and place != "last_dish":
        return change | _drying(water_record.NOTHING)  # what came before were dishes alone
    since = wetted or state.last_watered
    if since is not None:
        days = (entry.day - since).days
        change |= _drying(water_record.after_gap((state.drying_weight, state.drying_sum), days))
    return change


def _wetted(state: SpecimenState) -> date | None:
    """The day on which the substrate last got water, as far as that was told apart from the dish."""
    days = [day for day in (state.last_dampened, state.last_plain_water) if day is not None]
    return max(days, default=None)


def _noted(state: SpecimenState, entry: Entry) -> Change:
    """A note may tell that it escaped, that the substrate is dry or damp, or how fangs or abdomen look."""
    absence = absence_noted(entry.note) if state.lot_size == 1 else None
    if absence is Absence.MISSING:  # whoever is out of its enclosure is not sealed in there
        return {"missing_since": state.missing_since or entry.day, "sealed_since": None}
    if absence is Absence.FOUND and state.missing_since is not None:
        return {"missing_since": None}
    black = fangs_noted(entry.note)
    if black is not None:
        return {"fangs_on": entry.day, "fangs_black": black}
    found = condition_noted(entry.note)
    if found is not None:
        return {"condition": found.value, "condition_on": entry.day}
    dry, since = water_record.found_dry(entry.note), _wetted(state) or state.last_watered
    if dry is None or since is None:
        return {}
    days = (entry.day - since).days
    return _drying(water_record.after_look((state.drying_weight, state.drying_sum), days, dry=dry))


def _drying(belief: water_record.Belief) -> Change:
    return {"drying_weight": belief[0], "drying_sum": belief[1]}


def _molted(state: SpecimenState, entry: Entry) -> Change:
    """A molt ends premolt and sealing; an offer still open stays so: live prey endangers a soft animal."""
    apart = (entry.day - state.last_molted).days if state.last_molted is not None else None
    again = apart is not None and apart < SAME_MOLT_DAYS
    return {
        "last_molted": entry.day,
        "last_interval": state.last_interval if apart is None or again else apart,
        "molts_in_home": state.molts_in_home + (not again),
        "eaten_since_molt": False,
        **_FANGS_NOT_SEEN,
        "premolt_since": None,
        "sealed_since": None,
        "refusals": 0,
        "refusing_since": None,
        "condition": None,
        "condition_on": None,
    }


def _matured(state: SpecimenState, entry: Entry) -> Change:
    """The ultimate molt: a molt, and a mature male from that day on."""
    if state.stage is Stage.MATURE_MALE:
        return {}
    return _molted(state, entry) | {"sex": Sex.MALE, "stage": Stage.MATURE_MALE, "matured_on": entry.day}


def _premolt(state: SpecimenState, entry: Entry) -> Change:
    return {"premolt_since": state.premolt_since or entry.day}


def _sealed(state: SpecimenState, entry: Entry) -> Change:
    """Sealed again while sealed is the same seal: its first day stands."""
    return {"sealed_since": state.sealed_since or entry.day}


def _opened(_state: SpecimenState, entry: Entry) -> Change:
    return {"sealed_since": None, "last_opened": entry.day, **_FANGS_NOT_SEEN}


def _measured(_state: SpecimenState, entry: Entry) -> Change:
    change: Change = {"missing_since": None}
    if entry.span_cm is not None:
        change |= {"span_cm": entry.span_cm, "span_on": entry.day}
    if entry.carapace_mm is not None:
        change["carapace_mm"] = entry.carapace_mm
    if entry.weight_g is not None:
        change |= {"weight_g": entry.weight_g, "weight_on": entry.day}
    return change


def _rehoused(_state: SpecimenState, entry: Entry) -> Change:
    """A new home: what was not said of it is not known, the old home's figures do not carry over."""
    return {
        **_drying(water_record.NOTHING),
        "last_rehoused": entry.day,
        "missing_since": None,
        "molts_in_home": 0,
        "volume_l": entry.volume_l,
        "substrate_cm": entry.substrate_cm,
    }


def _acquired(_state: SpecimenState, entry: Entry) -> Change:
    return {} if entry.span_cm is None else {"span_cm": entry.span_cm, "span_on": entry.day}


def _sexed(_state: SpecimenState, entry: Entry) -> Change:
    return {"sex": Sex(entry.sex)} if entry.sex in set(Sex) else {}


def _gone(state: SpecimenState, entry: Entry) -> Change:
    """Died or left: part of a lot where a count says so, otherwise the whole specimen."""
    left = left_of(state.lot_size, entry)
    if left:
        return {"lot_size": left}
    return {"lot_size": 0, "gone_on": entry.day, "gone_how": entry.kind.value}


def left_of(kept: int, loss: Entry) -> int:
    """How many of so many are left after some of them, or where no number is said all, died or left."""
    return 0 if loss.count is None else max(0, kept - loss.count)


_SAC_SINCE: Final[Mapping[SacEvent, Callable[[Entry], date | None]]] = MappingProxyType(
    {
        SacEvent.LAID: lambda entry: entry.day,
        SacEvent.PULLED: lambda _entry: None,
        SacEvent.HATCHED: lambda _entry: None,
        SacEvent.LOST: lambda _entry: None,
    }
)


def _sac(_state: SpecimenState, entry: Entry) -> Change:
    return {} if entry.event is None else {"sac_since": _SAC_SINCE[entry.event](entry)}


#: What each kind of entry changes; the kinds left out change nothing but the last entry's day.
_EFFECTS: Final[Mapping[Kind, Effect]] = MappingProxyType(
    {
        Kind.FED: _fed,
        Kind.REFUSED: _refused,
        Kind.OFFERED: _offered,
        Kind.WATERED: _watered,
        Kind.MOLTED: _molted,
        Kind.MATURED: _matured,
        Kind.PREMOLT: _premolt,
        Kind.SEALED: _sealed,
        Kind.OPENED: _opened,
        Kind.MEASURED: _measured,
        Kind.REHOUSED: _rehoused,
        Kind.ACQUIRED: _acquired,
        Kind.SEXED: _sexed,
        Kind.DIED: _gone,
        Kind.LEFT: _gone,
        Kind.SAC: _sac,
        Kind.NOTE: _noted,
        Kind.PAIRED: lambda _state, entry: {"last_paired": entry.day},
        Kind.CHECKED: lambda _state, entry: {"last_checked": entry.day},
        Kind.CLEANED: lambda _state, entry: {"last_cleaned": entry.day},
    }
)
