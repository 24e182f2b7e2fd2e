"""What makes it doubtful that a clause tells of one event: words left over, a denial, a second value.

A table of checks over a clause and the entry drawn from it. Each gives the doubt to be asked about; the
likeliest answer is the entry as it was drawn. A wrong entry is worse than a question, so a check may
well ask where a keeper would have understood.
"""

from __future__ import annotations

from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.doubts.days_doubted import (
    again_and_again,
    day_not_read,
    day_of_another,
    day_of_what_was_left,
    keeper_was_away,
    loose_day,
    number_or_day,
    yet_to_come,
)
from bot.reading.doubts.eaten_what import ate_a_thing
from bot.reading.doubts.events_doubted import (
    air_of_a_thing,
    bought_by_another,
    dug_so_far,
    had_of_another,
    last_of_its_sort,
    meal_in_the_warmth,
    number_of_another_place,
    only_to_be_had,
    plant_of_hers,
    something_else_of_it,
)
from bot.reading.doubts.figures_doubted import (
    another_time_of_day,
    bare_price,
    figure_of_a_word,
    length_of_what,
    more_or_fewer,
    more_than_once,
    number_before_price,
    number_between,
    number_denied,
    of_a_series,
    of_her_home,
    one_weight_of_two,
    place_of_a_letter,
    refused_so_often,
    so_many,
    so_many_more,
    some_of_the_prey,
    some_uneaten,
    time_or_number,
    two_values,
)
from bot.reading.doubts.things_doubted import (
    OF_THINGS,
    did_not_want_her,
    elsewhere,
    given_to_her,
    had_by_the_keeper,
    handed_to_somebody,
    left_to_another,
    lives_on,
    moved_to_a_place,
    moved_with_her_box,
    not_that_one,
    of_a_distance,
    of_a_feeder,
    of_a_thing_of_hers,
    of_her_box,
    of_what_she_did,
    only_found,
    paid_for,
    so_much_more_or_less,
    warmth_of_water,
    yes_behind_no,
)
from bot.reading.doubts.whom_doubted import (
    all_of_whom,
    all_or_those,
    exception_of_nobody,
    meant_another,
    of_somebody_else,
    on_a_what,
    one_of_a_group,
)
from bot.reading.doubts.words_doubted import (
    OF_PEOPLE,
    ate_another,
    cleaned_up_by_her,
    denied,
    denied_by_its_heading,
    denied_of_another,
    filled_with_soil,
    keeper_closed_it,
    measures_not,
    not_put_together,
    of_something_else,
    of_what_was_left,
    only_spoken_of,
    or_not,
    or_something_else,
    strange_after_prey,
    strange_of_another,
    strange_prey,
    strange_verb,
    strange_words,
    used_up,
)
from bot.reading.kinds.drafts import Doubt, Draft, by_kind
from bot.reading.model import FEEDING, About
from bot.terms import Kind

#: Kinds that a "not" anywhere in the clause turns into something else.
_DENIABLE: Final = frozenset({Kind.SEALED, Kind.OPENED, Kind.MATURED, Kind.LEFT, Kind.REHOUSED})
#: Kinds that happen to one animal at a time.
_OF_ONE: Final = frozenset({Kind.DIED, Kind.LEFT, Kind.MATURED, Kind.SEXED, Kind.SAC, Kind.ACQUIRED})

#: What an animal does by itself, seen or not.
_UNSEEN: Final = frozenset(
    {Kind.MOLTED, Kind.MATURED, Kind.SAC, Kind.SEALED, Kind.OPENED, Kind.DIED, Kind.PREMOLT}
)


def misgivings(draft: Draft, frame: Frame) -> list[Doubt]:
    """The doubts that the words of its clause raise about an entry; none where all are accounted for."""
    nobody = any(doubt.about is About.SPECIMEN for doubt in draft.doubts)
    if draft.kind is Kind.NOTE or nobody:  # whom it is about is asked first; the rest can wait
        return []
    return [doubt for check in _CHECKS[draft.kind] if (doubt := check(draft, frame)) is not None]


_EVERY: Final = frozenset(Kind)
_CHECKS: Final = by_kind(
    (strange_words, _EVERY),
    (strange_verb, FEEDING),
    (strange_of_another, FEEDING),
    (last_of_its_sort, _EVERY),
    (had_of_another, FEEDING | {Kind.CLEANED}),
    (number_or_day, FEEDING),
    (so_many_more, FEEDING),
    (day_of_what_was_left, frozenset({Kind.CLEANED})),
    (something_else_of_it, frozenset({Kind.MOLTED})),
    (bought_by_another, frozenset({Kind.STOCKED, Kind.ACQUIRED})),
    (only_to_be_had, frozenset({Kind.STOCKED, Kind.ACQUIRED})),
    (dug_so_far, frozenset({Kind.MEASURED})),
    (plant_of_hers, frozenset({Kind.DIED})),
    (air_of_a_thing, frozenset({Kind.CLIMATE})),
    (meal_in_the_warmth, frozenset({Kind.CLIMATE})),
    (number_of_another_place, frozenset({Kind.CLIMATE})),
    (of_something_else, frozenset({Kind.MEASURED})),
    (measures_not, frozenset({Kind.MEASURED, Kind.CLIMATE})),
    (of_a_thing_of_hers, OF_THINGS),
    (elsewhere, FEEDING | {Kind.CLIMATE}),
    (of_what_she_did, frozenset({Kind.MEASURED})),
    (moved_to_a_place, frozenset({Kind.REHOUSED})),
    (of_a_distance, frozenset({Kind.MEASURED})),
    (handed_to_somebody, frozenset({Kind.OFFERED})),
    (warmth_of_water, frozenset({Kind.CLIMATE})),
    (only_found, frozenset({Kind.FED})),
    (had_by_the_keeper, frozenset({Kind.FED})),
    (so_much_more_or_less, frozenset({Kind.MEASURED})),
    (moved_with_her_box, frozenset({Kind.REHOUSED})),
    (of_her_box, frozenset({Kind.MEASURED})),
    (given_to_her, frozenset({Kind.LEFT})),
    (of_a_feeder, frozenset({Kind.MOLTED, Kind.DIED, Kind.SEALED, Kind.OPENED})),
    (paid_for, frozenset({Kind.REHOUSED})),
    (not_that_one, _EVERY),
    (did_not_want_her, frozenset({Kind.REFUSED})),
    (lives_on, frozenset({Kind.REFUSED})),
    (yes_behind_no, frozenset({Kind.REFUSED})),
    (left_to_another, FEEDING),
    (strange_after_prey, FEEDING),
    (strange_prey, FEEDING),
    (denied, _DENIABLE),
    (denied_by_its_heading, frozenset({Kind.PREMOLT})),
    (denied_of_another, _EVERY),
    (ate_another, frozenset({Kind.FED})),
    (ate_a_thing, frozenset({Kind.FED})),
    (used_up, frozenset({Kind.FED})),
    (not_put_together, frozenset({Kind.PAIRED})),
    (only_spoken_of, frozenset({Kind.FED, Kind.WATERED, Kind.CLEANED, Kind.REHOUSED})),
    (keeper_closed_it, frozenset({Kind.SEALED, Kind.OPENED})),
    (of_what_was_left, FEEDING),
    (filled_with_soil, frozenset({Kind.WATERED})),
    (cleaned_up_by_her, frozenset({Kind.CLEANED})),
    (yet_to_come, _EVERY),
    (again_and_again, _EVERY),
    (day_of_another, _EVERY),
    (keeper_was_away, _UNSEEN),
    (loose_day, _EVERY),
    (day_not_read, _EVERY),
    (two_values, _EVERY),
    (or_not, _EVERY),
    (or_something_else, _EVERY),
    (another_time_of_day, frozenset({Kind.CLIMATE})),
    (place_of_a_letter, frozenset({Kind.CLIMATE})),
    (number_between, FEEDING),
    (time_or_number, frozenset({Kind.LEFT, Kind.ACQUIRED})),
    (number_denied, FEEDING),
    (some_uneaten, FEEDING),
    (some_of_the_prey, frozenset({Kind.FED})),
    (one_weight_of_two, frozenset({Kind.MEASURED})),
    (length_of_what, frozenset({Kind.WATERED})),
    (of_her_home, frozenset({Kind.MEASURED})),
    (more_or_fewer, _EVERY),
    (more_than_once, frozenset({Kind.FED})),
    (refused_so_often, frozenset({Kind.REFUSED})),
    (of_a_series, FEEDING),
    (bare_price, OF_PEOPLE),
    (figure_of_a_word, frozenset({Kind.ACQUIRED})),
    (number_before_price, OF_PEOPLE),
    (so_many, _OF_ONE),
    (all_of_whom, _EVERY),
    (all_or_those, _EVERY),
    (of_somebody_else, _EVERY - OF_PEOPLE),
    (on_a_what, _EVERY),
    (exception_of_nobody, _EVERY),
    (one_of_a_group, _EVERY),
    (meant_another, _EVERY),
)
