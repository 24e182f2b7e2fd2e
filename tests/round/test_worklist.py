"""The round, rule by rule. Figures without another source beside them: common practice, no source."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from bot.husbandry.state import state_of
from bot.round.model import OWN_INTERVALS, RestReason, SpecimenFacts, TaskKind
from bot.round.worklist import next_for, rest_of, worklist
from bot.terms import Entry, Kind, PreySize, SacEvent, Specimen, Stage

ON = date(2026, 5, 14)


def ago(days: int) -> date:
    return ON - timedelta(days=days)


def entry(days_ago: int, kind: str, **fields) -> Entry:
    return Entry(kind=Kind(kind), day=ago(days_ago), specimens=("C1",), **fields)


def facts(*entries: Entry, held=None, until=None, added=None, **card):
    every = {name: card.pop(name, None) for name in OWN_INTERVALS.values()}
    card = {"species": "Tliltocatl albopilosus", "span_cm": Decimal(6), "stage": Stage.JUVENILE} | card
    return SpecimenFacts(
        specimen=Specimen(tag="C1", **card),
        state=state_of(entries),
        held_since=held,
        held_until=until,
        added_on=added,
        **every,
    )


def lines(one: SpecimenFacts, on: date = ON) -> dict[str, tuple[str, int]]:
    """Task -> (key of its reason, days overdue)."""
    return {task.task.value: (task.why.key, task.overdue_days) for task in worklist([one], on).tasks}


WATERED = entry(0, "watered")
#: title: (facts, tasks that stand in the round beside water, rest)
CASES = {
    "a juvenile of medium pace fed 6 days ago is not due": (facts(entry(6, "fed"), WATERED), {}, None),
    "it is due after 7 days": (facts(entry(7, "fed"), WATERED), {"feed": ("feed_due", 0)}, None),
    "and overdue after that, once": (facts(entry(40, "fed"), WATERED), {"feed": ("feed_due", 33)}, None),
    "so long after a molt that its fangs must be hard no look is asked for": (
        facts(entry(60, "molted"), WATERED),
        {"feed": ("feed_after_molt", 53)},
        None,
    ),
    "the day before it still is": (
        facts(entry(59, "molted"), WATERED),
        {"check": ("check_fangs", 52)},
        None,
    ),
    "fangs that were found soft since are looked at again": (
        facts(entry(90, "molted"), entry(4, "note", note="fangs still red"), WATERED),
        {"check": ("check_fangs", 3)},
        None,
    ),
    "fed today is done": (facts(entry(40, "fed"), entry(0, "fed"), WATERED), {}, None),
    "the keeper's own interval stands above the rule": (
        facts(entry(10, "fed"), WATERED, feed_every=10),
        {"feed": ("feed_due", 0)},
        None,
    ),
    "a sling of slow pace is due after 5 days": (
        facts(entry(5, "fed"), WATERED, species="Grammostola pulchra", span_cm=Decimal(2)),
        {"feed": ("feed_due", 0)},
        None,
    ),
    "an adult of slow pace is not due after 13 days": (
        facts(entry(13, "fed"), WATERED, species="Grammostola pulchra", span_cm=Decimal(16)),
        {},
        None,
    ),
    "a mature male gets a small regular offer": (
        facts(entry(10, "fed"), WATERED, stage=Stage.MATURE_MALE),
        {"feed": ("feed_male", 0)},
        None,
    ),
    "a mother with a sac is offered food seldom": (
        facts(entry(13, "fed"), entry(20, "sac", event=SacEvent.LAID), WATERED),
        {},
        None,
    ),
    "refused 4 days ago, the next try is not due": (
        facts(entry(20, "fed"), entry(4, "refused"), WATERED),
        {},
        None,
    ),
    "refused 6 days ago, a juvenile with no molt on record is tried again": (
        facts(entry(20, "fed"), entry(6, "refused"), WATERED),
        {"feed": ("feed_after_refusal_premolt", 0)},
        None,
    ),
    "refused early in its cycle, it is tried again sooner": (
        facts(entry(40, "molted"), entry(20, "fed"), entry(3, "refused"), WATERED),
        {"feed": ("feed_after_refusal", 0)},
        None,
    ),
    "refused again late in its cycle, it is left alone longer": (
        facts(entry(240, "molted"), entry(30, "fed"), entry(15, "refused"), entry(6, "refused"), WATERED),
        {},
        None,
    ),
    "and then tried again": (
        facts(entry(241, "molted"), entry(31, "fed"), entry(16, "refused"), entry(7, "refused"), WATERED),
        {"feed": ("feed_after_refusal_premolt", 0)},
        None,
    ),
    "a big meal lasts twice as long at most": (
        facts(entry(13, "fed", prey="cricket", count=3, size=PreySize.LARGE), WATERED),
        {},
        None,
    ),
    "and then the next one is due": (
        facts(entry(14, "fed", prey="cricket", count=3, size=PreySize.LARGE), WATERED),
        {"feed": ("feed_after_big_meal", 0)},
        None,
    ),
    "the keeper's own interval is not made longer by a big meal": (
        facts(entry(7, "fed", prey="cricket", count=3, size=PreySize.LARGE), WATERED, feed_every=7),
        {"feed": ("feed_due", 0)},
        None,
    ),
    "a thin one is fed at the short end of the range": (
        facts(entry(5, "fed"), entry(4, "note", note="looks thin"), WATERED),
        {"feed": ("feed_thin", 0)},
        None,
    ),
    "a plump one at its long end": (
        facts(entry(9, "fed"), entry(12, "note", note="looks plump"), WATERED),
        {"feed": ("feed_plump", 0)},
        None,
    ),
    "a very fat one is not due then": (
        facts(entry(13, "fed"), entry(12, "note", note="very fat"), WATERED),
        {},
        None,
    ),
    "but later": (
        facts(entry(14, "fed"), entry(12, "note", note="very fat"), WATERED),
        {"feed": ("feed_fat", 0)},
        None,
    ),
    "the keeper's own interval is as long for a thin one": (
        facts(entry(6, "fed"), entry(4, "note", note="looks thin"), WATERED, feed_every=7),
        {},
        None,
    ),
    "a thin one in premolt rests": (
        facts(entry(30, "fed"), entry(4, "note", note="looks thin"), entry(3, "premolt"), WATERED),
        {},
        "premolt",
    ),
    "a big meal of a plump one lasts as long as the longer of the two": (
        facts(
            entry(14, "fed", prey="cricket", count=3, size=PreySize.LARGE),
            entry(12, "note", note="plump"),
            WATERED,
        ),
        {"feed": ("feed_after_big_meal", 0)},
        None,
    ),
    "a refusal soon after a meal does not bring the next meal forward": (
        facts(entry(6, "fed"), entry(5, "refused"), WATERED),
        {},
        None,
    ),
    "no meal on record is due now and not called overdue": (
        facts(entry(300, "note"), WATERED),
        {"feed": ("feed_no_record", 0)},
        None,
    ),
    "offered today waits for its outcome": (facts(entry(9, "fed"), entry(0, "offered"), WATERED), {}, None),
    "offered yesterday is looked at": (
        facts(entry(9, "fed"), entry(1, "offered"), WATERED),
        {"check": ("check_offer", 0)},
        None,
    ),
    "offered the day before, what is left comes out": (
        facts(entry(9, "fed"), entry(2, "offered"), WATERED),
        {"remove": ("remove_offer", 1)},
        None,
    ),
    "an offer without outcome does not stop the next meal for ever": (
        facts(entry(30, "fed"), entry(7, "offered"), WATERED),
        {"feed": ("feed_after_offer", 0)},
        None,
    ),
    "prey with an animal in premolt comes out at once": (
        facts(entry(9, "fed"), entry(0, "offered"), entry(0, "premolt"), WATERED),
        {"remove": ("remove_offer_soft", 0)},
        "premolt",
    ),
    "prey with a freshly molted animal comes out at once": (
        facts(entry(9, "fed"), entry(0, "offered"), entry(0, "molted"), WATERED),
        {"remove": ("remove_offer_soft", 0)},
        "fresh molt",
    ),
    "an offer before sealing is looked for from outside": (
        facts(entry(3, "offered"), entry(2, "sealed"), WATERED),
        {"check": ("check_offer_sealed", 2)},
        "sealed",
    ),
    "that look is asked for once": (
        facts(entry(3, "offered"), entry(2, "sealed"), entry(1, "checked"), WATERED),
        {},
        "sealed",
    ),
    "sealed rests": (facts(entry(60, "fed"), entry(30, "sealed"), WATERED), {}, "sealed"),
    "sealed for long is looked at from outside": (
        facts(entry(90, "fed"), entry(61, "sealed"), WATERED),
        {"check": ("check_sealed", 1)},
        "sealed",
    ),
    "and after the look left alone for two weeks": (
        facts(entry(90, "fed"), entry(75, "sealed"), entry(13, "checked"), WATERED),
        {},
        "sealed",
    ),
    "a long premolt is looked at": (
        facts(entry(90, "fed"), entry(60, "premolt"), WATERED),
        {"check": ("check_premolt", 0)},
        "premolt",
    ),
    "premolt rests": (facts(entry(60, "fed"), entry(3, "premolt"), WATERED), {}, "premolt"),
    "a taken meal ends premolt and sealing": (
        facts(entry(9, "premolt"), entry(8, "sealed"), entry(0, "fed"), WATERED),
        {},
        None,
    ),
    "molted 6 days ago at 6 cm rests": (facts(entry(6, "molted"), WATERED), {}, "fresh molt"),
    "after 7 days the fangs are looked at first": (
        facts(entry(7, "molted"), WATERED),
        {"check": ("check_fangs", 0)},
        None,
    ),
    "a look of which nothing was told ends no rest": (
        facts(entry(9, "molted"), entry(1, "checked"), WATERED),
        {"check": ("check_fangs", 2)},
        None,
    ),
    "fangs found soft today are looked at tomorrow": (
        facts(entry(8, "molted"), entry(0, "note", note="fangs still red"), WATERED),
        {},
        None,
    ),
    "fangs found soft yesterday are looked at today": (
        facts(entry(9, "molted"), entry(1, "note", note="fangs not black yet"), WATERED),
        {"check": ("check_fangs", 0)},
        None,
    ),
    "with black fangs it is fed": (
        facts(entry(9, "molted"), entry(0, "note", note="fangs are black"), WATERED),
        {"feed": ("feed_after_molt", 2)},
        None,
    ),
    "black fangs before the wait is over need no other look": (
        facts(entry(9, "molted"), entry(5, "note", note="fangs are black"), WATERED),
        {"feed": ("feed_after_molt", 2)},
        None,
    ),
    "a meal taken before the wait is over brings the next one no nearer": (
        facts(entry(6, "molted"), entry(6, "fed", prey="cricket", count=1), WATERED, feed_every=3),
        {},
        None,
    ),
    "another molt makes them soft again": (
        facts(entry(90, "molted"), entry(80, "note", note="fangs black"), entry(9, "molted"), WATERED),
        {"check": ("check_fangs", 2)},
        None,
    ),
    "a first meal refused is tried again": (
        facts(entry(20, "molted"), entry(3, "refused"), WATERED),
        {"check": ("check_fangs", 0)},
        None,
    ),
    "a male's ultimate molt is a molt": (
        facts(entry(3, "matured"), WATERED),
        {},
        "fresh molt",
    ),
    "opened with no molt on record is looked at first": (
        facts(entry(60, "fed"), entry(40, "sealed"), entry(0, "opened"), WATERED),
        {"check": ("check_opened", 0)},
        None,
    ),
    "and fed once its fangs are black": (
        facts(
            entry(60, "fed"),
            entry(40, "sealed"),
            entry(3, "opened"),
            entry(0, "note", note="fangs black and hard"),
            WATERED,
        ),
        {"feed": ("feed_due", 3)},
        None,
    ),
    "rehoused 4 days ago settles": (facts(entry(20, "fed"), entry(4, "rehoused"), WATERED), {}, "settling"),
    "after 5 days it is offered food": (
        facts(entry(20, "fed"), entry(5, "rehoused"), WATERED),
        {"feed": ("feed_due", 0)},
        None,
    ),
    "a taken meal shows that it has settled": (
        facts(entry(20, "fed"), entry(4, "rehoused"), entry(1, "fed"), WATERED),
        {},
        None,
    ),
    "a new arrival settles": (facts(WATERED, added=ago(3)), {}, "settling"),
    "and is due after 4 days": (facts(WATERED, added=ago(4)), {"feed": ("feed_after_arrival", 0)}, None),
    "an animal with an older journal did not arrive": (
        facts(entry(20, "fed"), WATERED, added=ago(1)),
        {"feed": ("feed_due", 13)},
        None,
    ),
    "held rests": (facts(entry(20, "fed"), WATERED, held=ago(9)), {}, "held"),
    "held until tomorrow rests": (
        facts(entry(20, "fed"), WATERED, held=ago(9), until=ago(-1)),
        {},
        "held",
    ),
    "held until today is due, and not overdue for the time it was held": (
        facts(entry(20, "fed"), WATERED, held=ago(9), until=ON),
        {"feed": ("feed_due", 0)},
        None,
    ),
    "a hold that begins tomorrow does not hold today": (
        facts(entry(20, "fed"), WATERED, held=ago(-1), until=ago(-9)),
        {"feed": ("feed_due", 13)},
        None,
    ),
    "sealed is graver than a fresh molt": (
        facts(entry(3, "molted"), entry(1, "sealed"), WATERED),
        {},
        "sealed",
    ),
    "outgrown by volume": (
        facts(entry(1, "fed"), entry(30, "rehoused", volume_l=Decimal(1)), WATERED),
        {"rehouse": ("rehouse_small", 0)},
        None,
    ),
    "not outgrown": (facts(entry(1, "fed"), entry(30, "rehoused", volume_l=Decimal(3)), WATERED), {}, None),
    "an outgrown home waits for premolt to end": (
        facts(entry(30, "rehoused", volume_l=Decimal(1)), entry(1, "premolt"), WATERED),
        {},
        "premolt",
    ),
    "and for a molt that its record makes likely": (
        facts(
            entry(300, "molted"),
            entry(250, "rehoused", volume_l=Decimal(1)),
            entry(20, "fed"),
            entry(2, "refused"),
            WATERED,
        ),
        {},
        None,
    ),
    "but not where it eats, however long ago its last molt on record": (
        facts(entry(900, "molted"), entry(250, "rehoused", volume_l=Decimal(1)), entry(1, "fed"), WATERED),
        {"rehouse": ("rehouse_small", 0)},
        None,
    ),
    "three molts in a home of unknown size": (
        facts(
            entry(400, "rehoused"), *(entry(d, "molted") for d in (300, 200, 90)), entry(1, "fed"), WATERED
        ),
        {"rehouse": ("rehouse_molts", 90)},
        None,
    ),
    "no move before the first meal after a molt": (
        facts(entry(400, "rehoused"), *(entry(d, "molted") for d in (300, 200, 9)), WATERED),
        {"check": ("check_fangs", 2)},
        None,
    ),
    "one that is gone has no line": (facts(entry(40, "fed"), entry(1, "died"), WATERED), {}, None),
}


@pytest.mark.parametrize(("one", "tasks", "rest"), CASES.values(), ids=CASES)
def test_the_day(one, tasks, rest):
    assert lines(one) == tasks
    assert [found.reason.value for found in worklist([one], ON).rests] == ([rest] if rest else [])


WATER_CASES = {
    "never watered is due now": (facts(), ("water_no_record", 0)),
    "a dry species' adult waits a week": (
        facts(entry(6, "watered"), species="Brachypelma hamorii", stage=Stage.ADULT, span_cm=Decimal(14)),
        None,
    ),
    "and is due after it": (
        facts(entry(9, "watered"), species="Brachypelma hamorii", stage=Stage.ADULT, span_cm=Decimal(14)),
        ("water_due", 2),
    ),
    "a moist species' sling is due every second day": (
        facts(entry(2, "watered"), species="Pamphobeteus antinous", span_cm=Decimal("2.5")),
        ("water_due", 0),
    ),
    "sealed is watered at the corner": (
        facts(entry(20, "sealed"), entry(5, "watered")),
        ("water_sealed", 0),
    ),
    "premolt is watered": (facts(entry(20, "premolt"), entry(5, "watered")), ("water_premolt", 0)),
    "a fresh molt is watered sooner": (facts(entry(3, "molted"), entry(3, "watered")), ("water_fresh", 0)),
    "held is watered": (facts(entry(6, "watered"), held=ago(30)), ("water_due", 1)),
    "the keeper's own interval stands above the rule": (facts(entry(6, "watered"), water_every=7), None),
}


@pytest.mark.parametrize(("one", "expected"), WATER_CASES.values(), ids=WATER_CASES)
def test_water(one, expected):
    assert lines(one).get("water") == expected


def test_a_feeding_says_what_to_give():
    one = facts(entry(9, "fed", prey="red runner roach", size=PreySize.SMALL, count=1))
    task = next(t for t in worklist([one], ON).tasks if t.task is TaskKind.FEED)
    assert (task.prey, task.size, task.count) == ("red runner roach", "medium", 1)


def test_a_treat_is_not_made_a_habit():
    one = facts(entry(9, "fed", prey="waxworm", count=1))
    assert next(t.prey for t in worklist([one], ON).tasks if t.task is TaskKind.FEED) == "cricket"


def test_a_lot_is_fed_for_each_of_its_animals():
    from bot.husbandry.state import SpecimenState

    lot = SpecimenFacts(
        specimen=Specimen(tag="E1", species="Monocentropus balfouri", span_cm=Decimal(4), lot_size=8),
        state=SpecimenState(last_fed=ago(9), lot_size=8),
    )
    assert next(t.count for t in worklist([lot], ON).tasks if t.task is TaskKind.FEED) == 8


def test_the_round_keeps_the_order_of_the_shelf():
    shelf = [
        SpecimenFacts(
            specimen=Specimen(tag=tag, species="Grammostola rosea"), state=state_of([entry(99, "fed")])
        )
        for tag in ("B2", "A1", "C3")
    ]
    assert [task.tag for task in worklist(shelf, ON).tasks] == ["B2", "B2", "A1", "A1", "C3", "C3"]


def test_a_meal_written_down_late_counts_from_its_own_day():
    # Fed on Saturday 28 February, said on Wednesday 4 March, every 7 days: next due on 7 March.
    one = SpecimenFacts(
        specimen=Specimen(tag="C1", species="Tliltocatl albopilosus", span_cm=Decimal(6)),
        state=state_of([Entry(kind=Kind.FED, day=date(2026, 2, 28))]),
    )
    assert "feed" not in lines(one, date(2026, 3, 4))
    assert lines(one, date(2026, 3, 7))["feed"] == ("feed_due", 0)
    assert next_for(one, date(2026, 3, 4)).feed_on == date(2026, 3, 7)


def test_what_comes_next_is_told_with_the_echo():
    up = next_for(facts(entry(0, "fed"), entry(3, "watered")), ON)
    assert (up.rest, up.feed_on, up.feed_task) == (None, ago(-7), TaskKind.FEED)
    assert up.water_on == ago(-2)


def test_after_a_molt_the_day_of_the_first_meal_is_told_at_once():
    up = next_for(facts(entry(0, "molted")), ON)
    assert up.rest is not None
    assert (up.rest.reason, up.rest.expected_until) == (RestReason.FRESH_MOLT, ago(-7))
    assert (up.feed_on, up.feed_task) == (ago(-7), TaskKind.CHECK)


def test_while_sealed_no_meal_is_told_of_but_water_is():
    up = next_for(facts(entry(9, "fed"), entry(0, "sealed"), entry(1, "watered")), ON)
    assert (up.feed_on, up.feed_task) == (None, None)
    assert up.water_on == ago(-4)


def test_two_rests_last_until_the_later_ends():
    both = rest_of(facts(entry(2, "molted"), held=ago(1), until=ago(-30)), ON)
    assert (both.reason, both.expected_until) == (RestReason.FRESH_MOLT, ago(-30))
    endless = rest_of(facts(entry(2, "molted"), held=ago(1)), ON)
    assert endless.expected_until is None
