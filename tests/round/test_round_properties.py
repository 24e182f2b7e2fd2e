"""What holds of every round, whatever the journals say."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from hypothesis import assume, given
from hypothesis import strategies as st

from bot.husbandry.species import all_species
from bot.husbandry.state import state_of
from bot.round.model import SpecimenFacts, TaskKind
from bot.round.reasons import REASONS
from bot.round.worklist import next_for, worklist
from bot.terms import Entry, Kind, Specimen, Stage

START = date(2026, 1, 1)
ON = START + timedelta(days=120)


def day(offset: int) -> date:
    return START + timedelta(days=offset)


entries = st.lists(
    st.builds(
        Entry,
        kind=st.sampled_from([kind for kind in Kind if kind is not Kind.DIED and kind is not Kind.LEFT]),
        day=st.integers(0, 120).map(day),
        volume_l=st.none() | st.decimals(Decimal("0.1"), Decimal(60), places=1),
        span_cm=st.none() | st.decimals(Decimal("0.5"), Decimal(28), places=1),
    ),
    max_size=15,
)
specimens = st.builds(
    Specimen,
    tag=st.just("C1"),
    species=st.sampled_from([s.scientific_name for s in all_species()] + ["Nova invented"]),
    stage=st.sampled_from(Stage),
    span_cm=st.none() | st.decimals(Decimal("0.5"), Decimal(28), places=1),
)
shelf_facts = st.builds(
    lambda specimen, journal, held, until, added: SpecimenFacts(
        specimen=specimen, state=state_of(journal), held_since=held, held_until=until, added_on=added
    ),
    specimens,
    entries,
    st.none() | st.integers(0, 130).map(day),
    st.none() | st.integers(0, 160).map(day),
    st.none() | st.integers(0, 120).map(day),
)
OPENS_OR_DISTURBS = {TaskKind.FEED, TaskKind.REHOUSE, TaskKind.REMOVE}


def tasks_of(one, on=ON):
    return {task.task for task in worklist([one], on).tasks}


@given(shelf_facts)
def test_nothing_asks_to_feed_an_animal_at_rest(one):
    day_ = worklist([one], ON)
    if day_.rests:
        assert TaskKind.FEED not in tasks_of(one)
        assert not {"check_fangs", "check_opened"} & {task.why.key for task in day_.tasks}


@given(shelf_facts)
def test_nothing_opens_a_sealed_burrow(one):
    if one.state.sealed_since is not None:
        assert not OPENS_OR_DISTURBS & tasks_of(one)


@given(shelf_facts)
def test_nothing_moves_an_animal_in_premolt_or_with_a_soft_skin(one):
    soft = not one.state.eaten_since_molt
    if one.state.premolt_since is not None or soft:
        assert TaskKind.REHOUSE not in tasks_of(one)


@given(shelf_facts)
def test_water_does_not_depend_on_holds(one):
    free = replace(one, held_since=None, held_until=None)
    assert (TaskKind.WATER in tasks_of(one)) == (TaskKind.WATER in tasks_of(free))


@given(shelf_facts)
def test_every_animal_on_the_shelf_has_a_meal_to_come_or_a_rest(one):
    # A hold begins on the day it is said: what comes next is never asked with one that is still to begin.
    assume(one.held_since is None or one.held_since <= ON)
    up = next_for(one, ON)
    assert up.rest is not None or up.feed_on is not None
    assert up.water_on >= ON
    if up.feed_on is not None:
        later = worklist([replace(one)], up.feed_on)
        assert {TaskKind.FEED, TaskKind.CHECK} & {task.task for task in later.tasks}


@given(st.lists(shelf_facts, max_size=6), st.randoms())
def test_an_animals_lines_do_not_depend_on_its_neighbours(shelf, random):
    shelf = [
        replace(one, specimen=replace(one.specimen, tag=f"T{number}")) for number, one in enumerate(shelf)
    ]
    mixed = random.sample(shelf, len(shelf))
    first, second = worklist(shelf, ON), worklist(mixed, ON)
    assert sorted(map(repr, first.tasks)) == sorted(map(repr, second.tasks))
    assert sorted(map(repr, first.rests)) == sorted(map(repr, second.rests))


@given(shelf_facts)
def test_every_line_has_a_reason_with_all_its_facts_and_is_there_once(one):
    round_ = worklist([one], ON)
    for line in (*round_.tasks, *round_.rests):
        assert set(line.why.facts) == set(REASONS[line.why.key])
        assert line.why.basis in {"own record", "species file", "general rule", "keeper's setting"}
        assert None not in line.why.facts.values()
    for task in round_.tasks:
        assert task.overdue_days >= 0
    pairs = [(task.task, task.why.key) for task in round_.tasks]
    assert len(pairs) == len(set(pairs))


@given(shelf_facts)
def test_a_logged_meal_clears_the_feeding_of_the_day(one):
    fed = replace(one, state=state_of([Entry(kind=Kind.FED, day=ON)], one.state))
    watered = replace(one, state=state_of([Entry(kind=Kind.WATERED, day=ON)], one.state))
    assert TaskKind.FEED not in tasks_of(fed)
    assert TaskKind.REMOVE not in tasks_of(fed)
    assert TaskKind.WATER not in tasks_of(watered)
