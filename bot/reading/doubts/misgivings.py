"""What makes it doubtful that a clause tells of one event: words left over, a denial, a second value.

A table of checks over a clause and the entry drawn from it, each with the kinds it is for and what it
needs. Each gives the doubt to be asked about; the likeliest answer is the entry as it was drawn. A wrong
entry is worse than a question, so a check may well ask where a keeper would have understood.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
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
    unread_outcome,
    used_up,
)
from bot.reading.items.needs import ALWAYS, Needing, said_in
from bot.reading.kinds.drafts import Doubt, Draft
from bot.reading.model import FEEDING, About
from bot.reading.words.rule_words import rule_words
from bot.reading.woven.unread_outcomes import UNREAD
from bot.terms import Kind

#: Kinds that a "not" anywhere in the clause turns into something else.
_DENIABLE: Final = frozenset({Kind.SEALED, Kind.OPENED, Kind.MATURED, Kind.LEFT, Kind.REHOUSED})
#: Kinds that happen to one animal at a time.
_OF_ONE: Final = frozenset({Kind.DIED, Kind.LEFT, Kind.MATURED, Kind.SEXED, Kind.SAC, Kind.ACQUIRED})

#: What an animal does by itself, seen or not.
_UNSEEN: Final = frozenset(
    {Kind.MOLTED, Kind.MATURED, Kind.SAC, Kind.SEALED, Kind.OPENED, Kind.DIED, Kind.PREMOLT}
)


_Check = Callable[[Draft, Frame], Doubt | None]


def misgivings(draft: Draft, frame: Frame) -> list[Doubt]:
    """The doubts that the words of its clause raise about an entry; none where all are accounted for."""
    nobody = any(doubt.about is About.SPECIMEN for doubt in draft.doubts)
    if draft.kind is Kind.NOTE or nobody:  # whom it is about is asked first; the rest can wait
        return []
    due = CHECKS[draft.kind].due(_said(frame))
    return [doubt for check in due if (doubt := check(draft, frame)) is not None]


def _said(frame: Frame) -> set[str]:
    """What the items of a clause say and how it is flagged, with the sorts of what others added to it."""
    said = said_in(frame.clause.items)
    said |= frame.flags
    added = (("U", frame.unknown), ("A", frame.amounts), ("D", frame.days), ("P", frame.periods))
    said.update(sort for sort, those in added if those)
    return said


_EVERY: Final = frozenset(Kind)
_ALL: Final[tuple[tuple[_Check, frozenset[Kind], frozenset[str]], ...]] = (
    (strange_words, _EVERY, frozenset({"U"})),
    (strange_verb, FEEDING, frozenset({"U"})),
    (unread_outcome, frozenset({Kind.OFFERED}), frozenset({UNREAD})),
    (strange_of_another, FEEDING, frozenset({"U"})),
    (last_of_its_sort, _EVERY, rule_words("last_or_latest")),
    (had_of_another, FEEDING | {Kind.CLEANED}, frozenset({"prey", "leftover", "noun"})),
    (number_or_day, FEEDING, frozenset({"N"})),
    (so_many_more, FEEDING, rule_words("extra")),
    (day_of_what_was_left, frozenset({Kind.CLEANED}), frozenset({"D"})),
    (something_else_of_it, frozenset({Kind.MOLTED}), ALWAYS),
    (bought_by_another, frozenset({Kind.STOCKED, Kind.ACQUIRED}), frozenset({"U"})),
    (only_to_be_had, frozenset({Kind.STOCKED, Kind.ACQUIRED}), frozenset({"on_offer"})),
    (dug_so_far, frozenset({Kind.MEASURED}), frozenset({"U"})),
    (plant_of_hers, frozenset({Kind.DIED}), frozenset({"U"})),
    (air_of_a_thing, frozenset({Kind.CLIMATE}), frozenset({"U"})),
    (meal_in_the_warmth, frozenset({Kind.CLIMATE}), ALWAYS),
    (number_of_another_place, frozenset({Kind.CLIMATE}), frozenset({"S"})),
    (of_something_else, frozenset({Kind.MEASURED}), ALWAYS),
    (
        measures_not,
        frozenset({Kind.MEASURED, Kind.CLIMATE}),
        frozenset({"neg", "none_of", "undone", "elided"}),
    ),
    (of_a_thing_of_hers, OF_THINGS, ALWAYS),
    (elsewhere, FEEDING | {Kind.CLIMATE}, frozenset({"elsewhere"})),
    (of_what_she_did, frozenset({Kind.MEASURED}), frozenset({"U"})),
    (moved_to_a_place, frozenset({Kind.REHOUSED}), ALWAYS),
    (of_a_distance, frozenset({Kind.MEASURED}), frozenset({"A"})),
    (handed_to_somebody, frozenset({Kind.OFFERED}), frozenset({"to"})),
    (warmth_of_water, frozenset({Kind.CLIMATE}), ALWAYS),
    (only_found, frozenset({Kind.FED}), frozenset({"titled name"})),
    (had_by_the_keeper, frozenset({Kind.FED}), frozenset({"self"})),
    (so_much_more_or_less, frozenset({Kind.MEASURED}), frozenset({"A"})),
    (moved_with_her_box, frozenset({Kind.REHOUSED}), frozenset({"noun"})),
    (of_her_box, frozenset({Kind.MEASURED}), frozenset({"noun"})),
    (given_to_her, frozenset({Kind.LEFT}), ALWAYS),
    (of_a_feeder, frozenset({Kind.MOLTED, Kind.DIED, Kind.SEALED, Kind.OPENED}), frozenset({"prey"})),
    (paid_for, frozenset({Kind.REHOUSED}), ALWAYS),
    (not_that_one, _EVERY, frozenset({"no"})),
    (did_not_want_her, frozenset({Kind.REFUSED}), frozenset({"to"})),
    (lives_on, frozenset({Kind.REFUSED}), ALWAYS),
    (yes_behind_no, frozenset({Kind.REFUSED}), frozenset({"yes"})),
    (left_to_another, FEEDING, frozenset({"rel", "neg"})),
    (strange_after_prey, FEEDING, frozenset({"U"})),
    (strange_prey, FEEDING, frozenset({"U"})),
    (denied, _DENIABLE, frozenset({"neg", "headed not"})),
    (denied_by_its_heading, frozenset({Kind.PREMOLT}), frozenset({"headed not"})),
    (denied_of_another, _EVERY, rule_words("nor")),
    (ate_another, frozenset({Kind.FED}), ALWAYS),
    (ate_a_thing, frozenset({Kind.FED}), ALWAYS),
    (used_up, frozenset({Kind.FED}), ALWAYS),
    (not_put_together, frozenset({Kind.PAIRED}), frozenset({"neg", "undone"})),
    (only_spoken_of, frozenset({Kind.FED, Kind.WATERED, Kind.CLEANED, Kind.REHOUSED}), ALWAYS),
    (keeper_closed_it, frozenset({Kind.SEALED, Kind.OPENED}), ALWAYS),
    (of_what_was_left, FEEDING, ALWAYS),
    (filled_with_soil, frozenset({Kind.WATERED}), ALWAYS),
    (cleaned_up_by_her, frozenset({Kind.CLEANED}), ALWAYS),
    (yet_to_come, _EVERY, frozenset({"P"})),
    (again_and_again, _EVERY, frozenset({"P"})),
    (day_of_another, _EVERY, ALWAYS),
    (keeper_was_away, _UNSEEN, frozenset({"keeper away"})),
    (loose_day, _EVERY, frozenset({"U", "D", "loose day"})),
    (day_not_read, _EVERY, frozenset({"U"}) | rule_words("ago")),
    (two_values, _EVERY, frozenset({"A"})),
    (or_not, _EVERY, frozenset({"or"}) | rule_words("or_no")),
    (or_something_else, _EVERY, frozenset({"or"})),
    (another_time_of_day, frozenset({Kind.CLIMATE}), rule_words("times_of_day")),
    (place_of_a_letter, frozenset({Kind.CLIMATE}), frozenset({"U"})),
    (number_between, FEEDING, frozenset({"N"})),
    (time_or_number, frozenset({Kind.LEFT, Kind.ACQUIRED}), frozenset({"T"})),
    (number_denied, FEEDING, frozenset({"elided"})),
    (some_uneaten, FEEDING, frozenset({"N"})),
    (some_of_the_prey, frozenset({Kind.FED}), frozenset({"of"})),
    (one_weight_of_two, frozenset({Kind.MEASURED}), frozenset({"A"})),
    (length_of_what, frozenset({Kind.WATERED}), frozenset({"A"})),
    (of_her_home, frozenset({Kind.MEASURED}), ALWAYS),
    (more_or_fewer, _EVERY, frozenset({"bound", "<", ">"})),
    (more_than_once, frozenset({Kind.FED}), ALWAYS),
    (refused_so_often, frozenset({Kind.REFUSED}), ALWAYS),
    (of_a_series, FEEDING, frozenset({"N"})),
    (bare_price, OF_PEOPLE, frozenset({"for"})),
    (figure_of_a_word, frozenset({Kind.ACQUIRED}), frozenset({"U"})),
    (number_before_price, OF_PEOPLE, frozenset({"A"})),
    (so_many, _OF_ONE, ALWAYS),
    (all_of_whom, _EVERY, frozenset({"U"})),
    (all_or_those, _EVERY, ALWAYS),
    (of_somebody_else, _EVERY - OF_PEOPLE, frozenset({"U"})),
    (on_a_what, _EVERY, rule_words("bare_on")),
    (exception_of_nobody, _EVERY, frozenset({"except", "but", "neg"})),
    (one_of_a_group, _EVERY, frozenset({"U"})),
    (meant_another, _EVERY, frozenset({"fix"})),
)
#: The checks of each kind, in their order.
CHECKS: Final[Mapping[Kind, Needing[_Check]]] = {
    kind: Needing((check, needs) for check, of, needs in _ALL if kind in of) for kind in Kind
}
