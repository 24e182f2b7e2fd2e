"""What the items of a message become, step by step: slips mended, names settled, groups drawn together.

Each step names the sorts, senses and words of which it needs one to change anything. Most messages have
none of them for most steps, which are then passed over.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, NamedTuple

from bot.reading.corrections.corrections import WELL, corrected
from bot.reading.corrections.denials_apart import FIX, NOPE, denials_apart, nope_between_numbers
from bot.reading.corrections.meant import MEANT, meant_behind
from bot.reading.corrections.said_anew import said_anew
from bot.reading.items.item import Item
from bot.reading.items.refs import in_other_words, settle_names
from bot.reading.items.short_words import without_their_points
from bot.reading.items.slips import mended
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.portions.counts_first import counts_first, counts_for_each
from bot.reading.portions.counts_of_the_trade import counted_by_sex, packs_of_feeders
from bot.reading.portions.each_or_all import each_in_brackets
from bot.reading.portions.each_to_whom import each_to_whom, one_after_another
from bot.reading.portions.ones_eaten import ONE, ones_counted
from bot.reading.portions.prey_on_top import ENDS_A_LINE, prey_on_top
from bot.reading.portions.size_beside_prey import A_LITTLE, a_little_one, size_beside_prey
from bot.reading.portions.water_beside_meals import water_beside_meals
from bot.reading.rewording.beside_told import (
    CALLED,
    NEITHER,
    SHARE,
    SIGNS,
    THOUGHT,
    YET,
    called_all_alike,
    not_yet_after_a_molt,
    only_how_sure,
    signs_listed,
    thought_dead,
    would_of_neither,
)
from bot.reading.rewording.bodies import BODIES, bodies_found
from bot.reading.rewording.compared import AS_THEN, THAN, as_on_another_day, compared
from bot.reading.rewording.container_words import OF as CONTAINED
from bot.reading.rewording.container_words import counted_containers, tubs_of_feeders
from bot.reading.rewording.crossed import CROSS, crossed
from bot.reading.rewording.dated_by_events import WHEN, without_events
from bot.reading.rewording.days_before_verb import behind_the_verb
from bot.reading.rewording.days_of_meals import so_many_again
from bot.reading.rewording.done_later import DID, HELPED, done_later, helped_with
from bot.reading.rewording.exchanges import exchanged, priced, to_whom_behind_a_mark
from bot.reading.rewording.gone_since import GONE, gone_since
from bot.reading.rewording.homes_left import homes_left
from bot.reading.rewording.killed import EATEN, KILLED, KILLED_BY, killed_by_another
from bot.reading.rewording.measured_at import FIXES, measured_at, measured_off_a_skin
from bot.reading.rewording.moved_together import MOVING, moved_together
from bot.reading.rewording.once_thought import once_thought
from bot.reading.rewording.ordered_before import ORDERED as ORDERED_BEFORE
from bot.reading.rewording.ordered_before import ordered_before
from bot.reading.rewording.passing_words import (
    FILLED,
    OATHS,
    TIME,
    TRIES,
    WEEKS,
    filled_so_deep,
    not_this_time,
    which_she_closed,
    which_try,
    which_week,
    without_oaths,
)
from bot.reading.rewording.place_in_sentence import LATER, exceptions_said, placed
from bot.reading.rewording.reworded import (
    BY,
    CHEER,
    LETTERS,
    LIES,
    LONG,
    OF,
    PLUS,
    RESULTS,
    a_lot_in_its_home,
    given_like_that,
    left_lying,
    meals_exclaimed,
    of_so_many,
    only_these,
    or_more,
    prey_measured,
    results_to_come,
    sexed_by_skin,
    sizes_by_letter,
    skins_looked_at,
    watered_by_misting,
)
from bot.reading.rewording.seen_doing import SEEING, seen_doing
from bot.reading.rewording.small_things import (
    BY_HER,
    EIGHT,
    THINKS,
    counts_or_dates,
    done_to_a_thing,
    eaten_by_her,
    eight_for_ate,
    nearly_so_long,
    number_behind_a_verb,
    thought_of_first,
    without_list_numbers,
)
from bot.reading.rewording.sold_out import SO, ran_out, sold_out
from bot.reading.rewording.tallies import IN, came_in, tallied
from bot.reading.rewording.walked_off import WALKED, keeper_walked_off
from bot.reading.rewording.warmth_read import warmth_read_off
from bot.reading.rewording.weather_told import WEATHER, weather_told
from bot.reading.rewording.yes_or_if import same_or_perhaps, yes_or_if
from bot.reading.rewording.young_counted import YOUNG, young_counted
from bot.reading.whom.all_of_what import all_of_what
from bot.reading.whom.demonstratives import each_of_those, meant_by_an_article
from bot.reading.whom.descriptions import BEGIN
from bot.reading.whom.either_of_two import either_of_two, one_of_those
from bot.reading.whom.excepted_numbers import ORDERED, told_by_number
from bot.reading.whom.exceptions import EXCEPTING, excepted, excepted_strangers, why_excepted
from bot.reading.whom.exceptions_apart import beside_their_group
from bot.reading.whom.groups import grouped, neither_of_two
from bot.reading.whom.numbers_with_article import denied_in_brackets, number_first, with_article
from bot.reading.whom.one_alone import BEGINS, one_alone
from bot.reading.whom.one_of_them import one_of_them
from bot.reading.whom.others import TOLD_BY, told_apart
from bot.reading.whom.parts_of_groups import (
    LEADS,
    pieces_of_a_lot,
    so_many_of_a_group,
    some_of_a_group,
    those_of_a_group,
)
from bot.reading.whom.places_said import (
    letters_in_a_row,
    places_beside_everyone,
    places_cut_short,
    some_on_a_place,
)
from bot.reading.whom.row_ranges import ROW_WORDS, ranges
from bot.reading.whom.rows import NUMBER, numbered
from bot.reading.whom.rows_headed import headed_rows
from bot.reading.whom.shared_last_word import names_sharing_a_word
from bot.reading.whom.those_not_so import those_not_so
from bot.reading.whom.told_by_rank import told_by_rank
from bot.reading.whom.told_by_size import told_by_size
from bot.reading.whom.told_by_span import SPAN_WORDS, told_by_span
from bot.reading.whom.told_on_places import GROUPS, told_on_places
from bot.reading.words.marks import TITLE_MARKS


class _Step(NamedTuple):
    """One step: what it does, and the sorts ("S"), senses ("for") and words ("not") of which it needs one."""

    act: Callable[[list[Item], ShelfNames], list[Item]]
    needs: frozenset[str]


def taken(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with names settled, and with groups, exceptions and corrections drawn together."""
    for steps in (_OF_NAMES, _OF_GROUPS):
        said = _said(items)
        for act, needs in steps:
            if not needs.isdisjoint(said):
                items = act(items, names)
    return items


def _said(items: Sequence[Item]) -> set[str]:
    """The sorts of the items, the senses of their words, and the words."""
    said: set[str] = set()
    for item in items:
        said.add(item.cat)
        said.add(item.text)
        if item.senses:
            said.update(item.senses)
    return said


#: What may turn a name into another word, or another word into a name.
_OF_NAMES: Final = (
    _Step(without_list_numbers, frozenset({")", "."})),
    _Step(without_their_points, frozenset({"."})),
    _Step(eight_for_ate, EIGHT),
    _Step(mended, frozenset({"U"})),
    _Step(counts_or_dates, frozenset({"D"})),
    _Step(settle_names, frozenset({"S"})),
    _Step(eaten_by_her, BY_HER),
    _Step(sizes_by_letter, LETTERS),
    _Step(each_in_brackets, frozenset({"each"})),
    _Step(a_little_one, A_LITTLE),
    _Step(size_beside_prey, frozenset({"prey"})),
    _Step(water_beside_meals, frozenset({"A", "D"})),
    _Step(packs_of_feeders, frozenset({"N"})),
    _Step(counted_by_sex, frozenset({"U"})),
    _Step(counted_containers, CONTAINED),
    _Step(tubs_of_feeders, frozenset({"from"})),
    _Step(without_oaths, OATHS),
    _Step(not_this_time, TIME),
    _Step(which_try, TRIES),
    _Step(which_week, WEEKS),
    _Step(which_she_closed, frozenset({"pron"})),
    _Step(filled_so_deep, FILLED),
    _Step(given_like_that, frozenset({"prekilled", "size"})),
    _Step(left_lying, LIES),
    _Step(prey_measured, LONG),
    _Step(signs_listed, SIGNS),
    _Step(meals_exclaimed, frozenset({CHEER})),
    _Step(watered_by_misting, BY),
    _Step(skins_looked_at, frozenset({"fill"})),
    _Step(measured_off_a_skin, frozenset({"from"})),
    _Step(sexed_by_skin, frozenset({"from"})),
    _Step(results_to_come, RESULTS),
    _Step(bodies_found, BODIES),
    _Step(thought_dead, THOUGHT),
    _Step(killed_by_another, KILLED | KILLED_BY | EATEN),
    _Step(nope_between_numbers, NOPE),
    _Step(number_behind_a_verb, frozenset({"prey"})),
    _Step(counts_first, frozenset({"N"})),
    _Step(counts_for_each, frozenset({"N"})),
    _Step(prey_on_top, ENDS_A_LINE),
    _Step(so_many_again, frozenset({"D"})),
    _Step(young_counted, YOUNG),
    _Step(or_more, frozenset({PLUS})),
    _Step(without_events, WHEN),
    _Step(keeper_walked_off, WALKED),
    _Step(sold_out, SO),
    _Step(ran_out, frozenset({"from"})),
    _Step(ordered_before, ORDERED_BEFORE),
    _Step(helped_with, HELPED),
    _Step(done_later, DID),
    _Step(thought_of_first, THINKS | {"future"}),
    _Step(done_to_a_thing, frozenset({"did"})),
    _Step(nearly_so_long, frozenset({"dur"})),
    _Step(seen_doing, SEEING),
    _Step(placed, frozenset({LATER, "verb"})),
    _Step(gone_since, GONE),
    _Step(moved_together, MOVING),
    _Step(homes_left, frozenset({"from"})),
    _Step(only_how_sure, frozenset({"A", SHARE})),
    _Step(not_yet_after_a_molt, YET),
    _Step(would_of_neither, NEITHER),
)
#: What works over settled names.
_OF_GROUPS: Final = (
    _Step(names_sharing_a_word, frozenset({"and"})),
    _Step(meant_behind, MEANT),
    _Step(crossed, CROSS),
    _Step(came_in, IN),
    _Step(tallied, frozenset({"tally"})),
    _Step(once_thought, frozenset({"believed"})),
    _Step(measured_at, FIXES),
    _Step(denials_apart, FIX),
    _Step(letters_in_a_row, frozenset({"U"})),
    _Step(said_anew, frozenset({"fix", "no"})),
    _Step(priced, frozenset({"for"})),
    _Step(exchanged, frozenset({"for"})),
    _Step(places_cut_short, frozenset({"A"})),
    _Step(places_beside_everyone, frozenset({"U"})),
    _Step(some_on_a_place, frozenset({"N"})),
    _Step(ranges, ROW_WORDS),
    _Step(a_lot_in_its_home, frozenset({"everyone"})),
    _Step(of_so_many, OF),
    _Step(yes_or_if, frozenset({"yes"})),
    _Step(same_or_perhaps, frozenset({"same"})),
    _Step(each_to_whom, frozenset({"to"})),
    _Step(one_after_another, frozenset({"then"})),
    _Step(compared, frozenset({THAN})),
    _Step(as_on_another_day, AS_THEN | {THAN}),
    _Step(either_of_two, frozenset({"or"})),
    _Step(one_of_them, frozenset({"a"})),
    _Step(ones_counted, ONE),
    _Step(number_first, NUMBER),
    _Step(grouped, frozenset({"S", "N"} | BEGIN)),
    _Step(all_of_what, frozenset({"U"})),
    _Step(told_by_span, SPAN_WORDS),
    _Step(one_of_those, frozenset({"and", "or"})),
    _Step(only_these, OF),
    _Step(called_all_alike, CALLED),
    _Step(neither_of_two, NEITHER),
    _Step(in_other_words, frozenset({"S"})),
    _Step(told_by_number, ORDERED),
    _Step(with_article, frozenset({"the"})),
    _Step(headed_rows, TITLE_MARKS),
    _Step(numbered, frozenset({"N", "U"})),
    _Step(so_many_of_a_group, frozenset({"of", "from"})),
    _Step(some_of_a_group, LEADS),
    _Step(pieces_of_a_lot, frozenset({"ones"})),
    _Step(those_of_a_group, frozenset({"of"})),
    _Step(denied_in_brackets, frozenset({"("})),
    _Step(exceptions_said, frozenset({"except", "but"})),
    _Step(those_not_so, frozenset({"neg"})),
    _Step(excepted, EXCEPTING),
    _Step(why_excepted, EXCEPTING),
    _Step(beside_their_group, EXCEPTING),
    _Step(each_of_those, frozenset({"S"})),
    _Step(one_alone, BEGINS),
    _Step(meant_by_an_article, EXCEPTING),
    _Step(corrected, frozenset({"fix", "no"}) | WELL),
    _Step(weather_told, WEATHER),
    _Step(warmth_read_off, frozenset({"U"})),
    _Step(told_on_places, GROUPS),
    _Step(told_by_size, frozenset({"trait"})),
    _Step(told_by_rank, frozenset({"rank"})),
    _Step(told_apart, TOLD_BY),
    _Step(excepted_strangers, frozenset({"except"})),
    _Step(behind_the_verb, frozenset({"D"})),
    _Step(to_whom_behind_a_mark, frozenset({"to"})),
)
