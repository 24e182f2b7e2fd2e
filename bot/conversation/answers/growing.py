"""How large an animal will be, and when it is grown: ranges, each with what it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from bot.conversation import wording
from bot.conversation.answers.subject import asked_of, named, not_living, outlook_records
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.reading.model import Question
from bot.terms import Sex, Stage

if TYPE_CHECKING:
    from bot.husbandry.growth import Growth, Maturity
    from bot.husbandry.molts import Outlook

#: Shares of the own record in a figure of growth from which on it is told as such.
_MOSTLY_OWN, _PARTLY_OWN = 0.6, 0.1
#: Up to this many animals are told of in full, more on a line each.
_IN_FULL: Final = 3


@dataclass(frozen=True, slots=True)
class _Known:
    animal: Animal
    growth: Growth
    outlook: Outlook

    @property
    def who(self) -> str:
        return self.animal.specimen.called

    @property
    def growing(self) -> bool:
        """Whether there is anything to tell ahead: one animal, not a grown one."""
        grown = self.animal.stage in {Stage.ADULT, Stage.MATURE_MALE}
        return self.animal.specimen.lot_size == 1 and not grown


def growth(turn: Turn, question: Question) -> list[Reply]:
    """The span now and after the next molts."""
    known = _known(turn, question)
    line = _growth_line if len(known) <= _IN_FULL else _short_growth
    return _answered(turn, question, [line(turn, one) for one in known])


def maturity(turn: Turn, question: Question) -> list[Reply]:
    """When an animal is grown."""
    known = _known(turn, question)
    line = _maturity_line if len(known) <= _IN_FULL else _short_maturity
    lines = [line(turn, one) for one in known]
    if any(one.animal.sex is Sex.UNKNOWN and one.growing for one in known):
        lines.append(say("maturity.unsexed"))
    return _answered(turn, question, lines)


def _answered(turn: Turn, question: Question, lines: list[str]) -> list[Reply]:
    if not named(question):
        return [turn.reply(say("answer.name_one"))]
    return [fit(turn, "\n".join(lines) or not_living(turn, question))]


def _known(turn: Turn, question: Question) -> list[_Known]:
    if not named(question):
        return []
    from bot.husbandry.growth import growths  # noqa: PLC0415  numpy costs; most messages need none
    from bot.husbandry.molts import outlooks  # noqa: PLC0415

    tags = {animal.tag for animal in asked_of(turn, question)}
    records = outlook_records(turn)
    found = zip(records, growths(records), outlooks(records, turn.today), strict=True)
    return [
        _Known(record.animal, size, ahead) for record, size, ahead in found if record.specimen.tag in tags
    ]


def _growth_line(turn: Turn, known: _Known) -> str:
    if known.animal.specimen.lot_size > 1:
        return say("growth.lot", who=known.who)
    now = _length(turn, known.growth.span_cm[1])
    if known.animal.stage is Stage.MATURE_MALE:
        return say("growth.done", who=known.who, now=now)
    one, two = known.growth.span_after(1), known.growth.span_after(2)
    return " ".join(
        [
            say("growth.now", who=known.who, now=now),
            say(
                "growth.after",
                one=_length(turn, one[1]),
                one_range=_range(turn, one),
                two=_length(turn, two[1]),
                two_range=_range(turn, two),
            ),
            say("growth.kind", adult=_length(turn, known.growth.adult_span_cm)),
            _basis(known.growth),
        ]
    )


def _short_growth(turn: Turn, known: _Known) -> str:
    if not known.growing:
        return _growth_line(turn, known)
    now, one = _length(turn, known.growth.span_cm[1]), known.growth.span_after(1)
    return say("growth.short", who=known.who, now=now, one=_length(turn, one[1]), one_range=_range(turn, one))


def _maturity_line(turn: Turn, known: _Known) -> str:
    found = _maturity(turn, known)
    if isinstance(found, str):
        return found
    return f"{_ahead('in_full', turn, known, found)} {_basis(known.growth)}"


def _short_maturity(turn: Turn, known: _Known) -> str:
    found = _maturity(turn, known)
    return found if isinstance(found, str) else _ahead("short", turn, known, found)


def _maturity(turn: Turn, known: _Known) -> Maturity | str:
    """When it is grown; the sentence that it is so, or that it cannot be told."""
    from bot.husbandry.growth import maturity_of  # noqa: PLC0415  numpy costs

    if known.animal.specimen.lot_size > 1:
        return say("growth.lot", who=known.who)
    since = known.animal.state.matured_on
    if since is not None:
        return say("maturity.male_since", who=known.who, day=wording.day_and_ago(since, turn.today))
    if known.animal.stage is Stage.MATURE_MALE:
        return say("maturity.male", who=known.who)
    found = maturity_of(known.animal, known.growth, known.outlook, turn.today)
    return say("maturity.already", who=known.who) if found.grown else found


def _ahead(form: str, turn: Turn, known: _Known, found: Maturity) -> str:
    assert found.days is not None
    assert found.molts is not None
    few, _, many = found.molts
    low, middle, high = (wording.month_of(day) for day in found.days)
    molts = say("maturity.molts", few=few, many=many) if few < many else wording.counted(few, "molt")
    size = _length(turn, found.span_cm)
    return say_of(
        "maturity.when", form, who=known.who, size=size, low=low, high=high, middle=middle, molts=molts
    )


def _basis(growth: Growth) -> str:
    measures = wording.counted(growth.measures, "measure")
    if growth.measures == 0:
        return say("growth.unmeasured")
    if growth.own_share >= _MOSTLY_OWN:
        return say("growth.by_own", measures=measures)
    return (
        say("growth.by_both", measures=measures) if growth.own_share >= _PARTLY_OWN else say("growth.by_rule")
    )


def _length(turn: Turn, cm: float) -> str:
    return wording.length(Decimal(str(round(cm, 1))), turn.settings.units)


def _range(turn: Turn, span: tuple[float, float, float]) -> str:
    low, high = _length(turn, span[0]), _length(turn, span[2])
    return say("calendar.span", first=low, last=high)
