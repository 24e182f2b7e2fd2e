"""What the items of a message become, step by step: slips mended, names settled, groups drawn together.

Each step names the sorts, senses and words of which it needs one to change anything. Most messages have
none of them for most steps, which are then passed over.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from bot.reading.corrections.corrections import WELL, corrected
from bot.reading.corrections.denials_apart import FIX, NOPE, denials_apart, nope_between_numbers
from bot.reading.corrections.meant import MEANT, meant_behind
from bot.reading.corrections.said_anew import said_anew
from bot.reading.corrections.strangers_meant import strangers_meant
from bot.reading.items.item import Item
from bot.reading.items.needs import Needing, said_in
from bot.reading.items.refs import in_other_words, settle_names
from bot.reading.items.short_words import without_their_points
from bot.reading.items.slips import mended
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.portions.counts_first import counts_first, counts_for_each
from bot.reading.portions.counts_of_the_trade import counted_by_sex, packs_of_feeders
from bot.reading.portions.each_or_all import each_in_brackets
from bot.reading.portions.each_to_whom import each_to_whom, one_after_another
from bot.reading.portions.feeders_unknown import feeders_unknown
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
from bot.reading.rewording.exchanges import HANDS, exchanged, priced, taken_off_hands, to_whom_behind_a_mark
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
from bot.reading.whom.strangers_named import strangers_named
from bot.reading.whom.those_not_so import those_not_so
from bot.reading.whom.told_by_rank import RANKED, told_by_rank
from bot.reading.whom.told_by_size import told_by_size
from bot.reading.whom.told_by_span import SPAN_WORDS, told_by_span
from bot.reading.whom.told_on_places import GROUPS, told_on_places
from bot.reading.words.marks import TITLE_MARKS

#: One step.
Act = Callable[[list[Item], ShelfNames], list[Item]]


def taken(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with names settled, and with groups, exceptions and corrections drawn together."""
    for stage in (OF_NAMES, OF_GROUPS):
        for act in stage.due(said_in(items)):
            items = act(items, names)
    return items


#: What may turn a name into another word, or another word into a name.
OF_NAMES: Final = Needing[Act](
    (
        (without_list_numbers, frozenset({")", "."})),
        (without_their_points, frozenset({"."})),
        (eight_for_ate, EIGHT),
        (mended, frozenset({"U"})),
        (counts_or_dates, frozenset({"D"})),
        (settle_names, frozenset({"S"})),
        (eaten_by_her, BY_HER),
        (sizes_by_letter, LETTERS),
        (each_in_brackets, frozenset({"each"})),
        (a_little_one, A_LITTLE),
        (size_beside_prey, frozenset({"prey"})),
        (water_beside_meals, frozenset({"A", "D"})),
        (packs_of_feeders, frozenset({"N"})),
        (counted_by_sex, frozenset({"U"})),
        (counted_containers, CONTAINED),
        (tubs_of_feeders, frozenset({"from"})),
        (without_oaths, OATHS),
        (not_this_time, TIME),
        (which_try, TRIES),
        (which_week, WEEKS),
        (which_she_closed, frozenset({"pron"})),
        (filled_so_deep, FILLED),
        (given_like_that, frozenset({"prekilled", "size"})),
        (left_lying, LIES),
        (prey_measured, LONG),
        (signs_listed, SIGNS),
        (meals_exclaimed, frozenset({CHEER})),
        (watered_by_misting, BY),
        (skins_looked_at, frozenset({"fill"})),
        (measured_off_a_skin, frozenset({"from"})),
        (sexed_by_skin, frozenset({"from"})),
        (results_to_come, RESULTS),
        (bodies_found, BODIES),
        (thought_dead, THOUGHT),
        (killed_by_another, KILLED | KILLED_BY | EATEN),
        (nope_between_numbers, NOPE),
        (number_behind_a_verb, frozenset({"prey"})),
        (counts_first, frozenset({"N"})),
        (counts_for_each, frozenset({"N"})),
        (prey_on_top, ENDS_A_LINE),
        (so_many_again, frozenset({"D"})),
        (young_counted, YOUNG),
        (or_more, frozenset({PLUS})),
        (without_events, WHEN),
        (taken_off_hands, HANDS),
        (keeper_walked_off, WALKED),
        (sold_out, SO),
        (ran_out, frozenset({"from"})),
        (ordered_before, ORDERED_BEFORE),
        (helped_with, HELPED),
        (done_later, DID),
        (thought_of_first, THINKS | {"future"}),
        (done_to_a_thing, frozenset({"did"})),
        (nearly_so_long, frozenset({"dur"})),
        (seen_doing, SEEING),
        (placed, frozenset({LATER, "verb"})),
        (gone_since, GONE),
        (moved_together, MOVING),
        (homes_left, frozenset({"from"})),
        (only_how_sure, frozenset({"A", SHARE})),
        (not_yet_after_a_molt, YET),
        (would_of_neither, NEITHER),
    )
)
#: What works over settled names.
OF_GROUPS: Final = Needing[Act](
    (
        (names_sharing_a_word, frozenset({"and"})),
        (strangers_meant, frozenset({"fix", "no"}) | MEANT),
        (meant_behind, MEANT),
        (crossed, CROSS),
        (came_in, IN),
        (tallied, frozenset({"tally"})),
        (once_thought, frozenset({"believed"})),
        (measured_at, FIXES),
        (denials_apart, FIX),
        (letters_in_a_row, frozenset({"U"})),
        (said_anew, frozenset({"fix", "no"})),
        (priced, frozenset({"for"})),
        (exchanged, frozenset({"for"})),
        (places_cut_short, frozenset({"A"})),
        (places_beside_everyone, frozenset({"U"})),
        (some_on_a_place, frozenset({"N"})),
        (strangers_named, frozenset({"U"})),
        (told_by_rank, RANKED),
        (ranges, ROW_WORDS),
        (a_lot_in_its_home, frozenset({"everyone"})),
        (of_so_many, OF),
        (yes_or_if, frozenset({"yes"})),
        (same_or_perhaps, frozenset({"same"})),
        (each_to_whom, frozenset({"to"})),
        (one_after_another, frozenset({"then"})),
        (compared, frozenset({THAN})),
        (as_on_another_day, AS_THEN | {THAN}),
        (either_of_two, frozenset({"or"})),
        (one_of_them, frozenset({"a"})),
        (ones_counted, ONE),
        (number_first, NUMBER),
        (grouped, frozenset({"S", "N"} | BEGIN)),
        (all_of_what, frozenset({"U"})),
        (told_by_span, SPAN_WORDS),
        (one_of_those, frozenset({"and", "or"})),
        (only_these, OF),
        (called_all_alike, CALLED),
        (neither_of_two, NEITHER),
        (in_other_words, frozenset({"S"})),
        (told_by_number, ORDERED),
        (with_article, frozenset({"the"})),
        (headed_rows, TITLE_MARKS),
        (feeders_unknown, frozenset({"U"})),
        (numbered, frozenset({"N", "U"})),
        (so_many_of_a_group, frozenset({"of", "from"})),
        (some_of_a_group, LEADS),
        (pieces_of_a_lot, frozenset({"ones"})),
        (those_of_a_group, frozenset({"of"})),
        (denied_in_brackets, frozenset({"("})),
        (exceptions_said, frozenset({"except", "but"})),
        (those_not_so, frozenset({"neg"})),
        (excepted, EXCEPTING),
        (why_excepted, EXCEPTING),
        (beside_their_group, EXCEPTING),
        (each_of_those, frozenset({"S"})),
        (one_alone, BEGINS),
        (meant_by_an_article, EXCEPTING),
        (corrected, frozenset({"fix", "no"}) | WELL),
        (weather_told, WEATHER),
        (warmth_read_off, frozenset({"U"})),
        (told_on_places, GROUPS),
        (told_by_size, frozenset({"trait"})),
        (told_apart, TOLD_BY),
        (excepted_strangers, frozenset({"except"})),
        (behind_the_verb, frozenset({"D"})),
        (to_whom_behind_a_mark, frozenset({"to"})),
    )
)
