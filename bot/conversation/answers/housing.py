"""What home suits an animal, until when its own will do, and when to move it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from bot.conversation import wording
from bot.conversation.answers.subject import asked_of, named, not_living, outlook_records
from bot.conversation.caution import before_opening
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.husbandry.enclosure import home_for, moving_window, outgrown_at_cm
from bot.reading.model import Question

if TYPE_CHECKING:
    from bot.husbandry.forecast import Forecast
    from bot.husbandry.growth import Growth

#: Up to this many animals are told of in full, more on a line each.
_IN_FULL: Final = 3
#: Molts to come that are looked at for when a home is outgrown.
_MOLTS: Final = 4


@dataclass(frozen=True, slots=True)
class _Housed:
    animal: Animal
    growth: Growth
    forecast: Forecast


def home(turn: Turn, question: Question) -> list[Reply]:
    """The home that suits an animal, in both systems of units, and how long its own will do."""
    if not named(question):
        return [turn.reply(say("answer.name_one"))]
    found = _housed(turn, {animal.tag for animal in asked_of(turn, question)})
    if len(found) > _IN_FULL:
        lines = [_suits("short", turn, one) for one in found]
    else:
        lines = [_told(turn, one) for one in found]
    between = "\n" if len(found) > _IN_FULL else "\n\n"
    told = [between.join(lines), *before_opening([one.animal.specimen for one in found])] if lines else []
    return [fit(turn, "\n".join(told) or not_living(turn, question))]


def _housed(turn: Turn, tags: set[str]) -> list[_Housed]:
    from bot.husbandry.forecast import forecasts  # noqa: PLC0415  numpy costs; most messages need none
    from bot.husbandry.growth import growths  # noqa: PLC0415

    records = outlook_records(turn)
    found = zip(records, growths(records), forecasts(records, turn.today), strict=True)
    return [
        _Housed(record.animal, size, ahead) for record, size, ahead in found if record.specimen.tag in tags
    ]


def _told(turn: Turn, one: _Housed) -> str:
    when = " ".join(part for part in (_when(turn, one), say("home.rule")) if part)
    return "\n".join([_suits("in_full", turn, one), _own(turn, one), when])


def _suits(form: str, turn: Turn, one: _Housed) -> str:
    span = one.growth.span_cm[1]
    wanted = home_for(one.animal.species.habit, span)
    return say_of(
        "home_suits",
        f"{form}_{one.animal.species.habit.value}" if form == "in_full" else form,
        who=one.animal.specimen.called,
        span=_length(turn, span),
        length=_length(turn, wanted.length_cm),
        width=_length(turn, wanted.width_cm),
        substrate=_length(turn, wanted.substrate_cm),
        headroom=_length(turn, wanted.headroom_cm),
        volume=_volume(turn, wanted.volume_l),
        hole=_hole(turn, wanted.hole_mm),
    )


def _own(turn: Turn, one: _Housed) -> str:
    """How long its own home will do."""
    volume = one.animal.state.volume_l
    if volume is None:
        return say("home.not_known", who=one.animal.specimen.tag)
    has = wording.volume_in_both(volume, turn.settings.units)
    at = outgrown_at_cm(one.animal.species.habit, float(volume))
    if one.growth.span_cm[1] >= at:
        return say("home.outgrown", has=has)
    molts = next((n for n in range(1, _MOLTS + 1) if one.growth.span_after(n)[1] >= at), None)
    if molts is None:
        return say("home.will_do", has=has)
    return say("home.until", has=has, at=_length(turn, at), molts=wording.counted(molts, "molt"))


def _when(turn: Turn, one: _Housed) -> str:
    """When a move does least harm."""
    window = moving_window(one.animal, one.forecast.next_molt, turn.today)
    if window is None:
        return ""
    days = wording.span_of_days(window.first, window.last, turn.today)
    return say("home.after_molt", days=days) if window.after_molt else say("home.move", days=days)


def _length(turn: Turn, cm: float) -> str:
    return wording.length(Decimal(str(round(cm, 1))), turn.settings.units)


def _volume(turn: Turn, litres: float) -> str:
    return wording.volume_in_both(Decimal(str(round(litres, 3))), turn.settings.units)


def _hole(turn: Turn, millimetres: float) -> str:
    return wording.fine_length(Decimal(str(round(millimetres, 1))), turn.settings.units)
