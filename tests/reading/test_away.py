"""Going away in words: who looks after the animals, and from when to when."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.reading import ShelfNames
from bot.reading.wanted.away import days_ahead, phrasings, read_another_helper, read_away
from bot.terms import KeeperSettings
from tests.conversation.given import INVENTED_SHELF, ZONE

NOW = datetime(2026, 7, 20, 19, 30, tzinfo=ZoneInfo(ZONE))  # a Monday
NAMES = ShelfNames.of(INVENTED_SHELF)
SETTINGS = KeeperSettings(zone=ZONE)


def said(text, language="en"):
    found = read_away(text, NAMES, now=NOW, settings=replace(SETTINGS, language=language))
    if found is None:
        return None
    days = found.days
    return found.wanted.value, found.helper, *(day and f"{day:%m-%d}" for day in (days.first, days.last))


@pytest.mark.parametrize(
    ("text", "helper", "first", "last"),
    [
        ("away 3 to 14 August, my sister looks after them", "my sister", "08-03", "08-14"),
        ("I'm away from 3 Aug until 14 Aug, Tom takes care of the spiders", "Tom", "08-03", "08-14"),
        ("I am away 3-14 august and my sister will look after them", "my sister", "08-03", "08-14"),
        ("we're away 28 December to 4 January; Marta feeds them", "Marta", "12-28", "01-04"),
        ("from 3 to 14 August my sister looks after everything", "my sister", "08-03", "08-14"),
        (
            "away 2026-08-03 to 2026-08-14, my old friend feeds them",
            "my old friend",
            "08-03",
            "08-14",
        ),
        ("away from the 3rd to the 14th, Tom looks after them", "Tom", "08-03", "08-14"),
        ("away 3/8 - 14/8, Tom covers", "Tom", "08-03", "08-14"),
        ("my sister will look after the shelf from Friday to Sunday", "my sister", "07-24", "07-26"),
        ("my sister looks after them Friday to Tuesday", "my sister", "07-24", "07-28"),
        ("I go away for 10 days starting 3 August, my dad will feed them", "my dad", "08-03", "08-12"),
        ("I'll be gone from tomorrow for two weeks", None, "07-21", "08-03"),
        ("hand over to Anna from Friday to Sunday", "Anna", "07-24", "07-26"),
        ("hand over everything to my neighbour Tom for the weekend", "my neighbour Tom", "07-25", "07-26"),
        ("away until 14 August, Mum minds them", "Mum", "07-20", "08-14"),
        ("on holiday next week, my neighbour feeds them", "my neighbour", "07-27", "08-02"),
        ("hand over to Anna", "Anna", None, None),
        ("my sister looks after them while I'm away", "my sister", None, None),
        ("someone looks after them from 3 to 14 August", None, "08-03", "08-14"),
        ("going on vacation 3-14 August", None, "08-03", "08-14"),
        ("I'm going away on 3 August", None, "08-03", None),
        ("I am away", None, None, None),
        ("away, my sister looks after them", "my sister", None, None),
    ],
)
def test_who_helps_and_when_are_read_and_what_is_not_said_stays_open(text, helper, first, last):
    assert said(text) == ("handover", helper, first, last)


@pytest.mark.parametrize(
    "text", ["on holiday next week", "away this weekend, Tom looks after them", "I'm on holiday in August"]
)
def test_whole_weeks_and_months_are_a_guess_that_has_to_be_confirmed(text):
    assert not read_away(text, NAMES, now=NOW, settings=SETTINGS).days.sure


def test_days_that_end_before_they_begin_leave_the_end_open():
    assert said("away 14 to 3 August") == ("handover", None, "08-14", None)


@pytest.mark.parametrize(
    "text",
    [
        "print a sheet for my sister",
        "can I have a sheet for my sister please",
        "print a sheet for my sister from 3 to 14 August",
    ],
)
def test_a_sheet_for_a_helper_is_asked_for(text):
    assert said(text)[:2] == ("sheet", "my sister")


@pytest.mark.parametrize(
    "text",
    [
        "fed Pebble 2 crickets",
        "my sister fed them yesterday",
        "away 3 to 14 August, Pebble looks after them",
        "the roach got away yesterday",
        "Pebble was away from the hide",
        "Marta feeds them",
        "away",
        "gave away Rust to Marta on 3 August",
        "who looks after them from 3 to 14 August?",
        "no feeding reminders for shelf A until 1 June",
        "remind me to mist rack 1 every 3 days",
    ],
)
def test_what_is_no_hand_over_is_left_to_the_ordinary_reading(text):
    assert said(text) is None


IN_LANGUAGES = {
    "de": [
        (
            "weg vom 3. bis 14. August, meine Schwester kümmert sich um sie",
            "meine Schwester",
            "08-03",
            "08-14",
        ),
        ("ich bin vom 3. bis 14. August weg, Tom füttert die Tiere", "Tom", "08-03", "08-14"),
        ("vom 3. bis 14. August bin ich verreist, Tom passt auf die Spinnen auf", "Tom", "08-03", "08-14"),
        ("ich fahre vom 3. bis 14. August in den Urlaub und Tom sieht nach ihnen", "Tom", "08-03", "08-14"),
        ("Urlaub vom 3.8. bis 14.8., mein Nachbar füttert", "mein Nachbar", "08-03", "08-14"),
        ("ich verreise vom 3. bis 14. August, Marta versorgt sie", "Marta", "08-03", "08-14"),
        ("Marta kümmert sich vom 3. bis 14. August um die Tiere", "Marta", "08-03", "08-14"),
        ("vom 3. bis 14. August kümmert sich meine Schwester um alle", "meine Schwester", "08-03", "08-14"),
        ("Tom passt von Freitag bis Sonntag auf die Tiere auf", "Tom", "07-24", "07-26"),
        ("Tom wird sich vom 3. bis 14. August um die Tiere kümmern", "Tom", "08-03", "08-14"),
        ("ich übergebe die Tiere vom 3. bis 14. August an Anna", "Anna", "08-03", "08-14"),
        ("Vertretung durch Anna von Freitag bis Sonntag", "Anna", "07-24", "07-26"),
        ("ich bin ab morgen für zwei Wochen weg", None, "07-21", "08-03"),
        ("ab 3. August bin ich 10 Tage weg, mein Vater füttert sie", "mein Vater", "08-03", "08-12"),
        ("ich bin bis 14. August weg, Mama passt auf", "Mama", "07-20", "08-14"),
        ("ich bin nächste Woche im Urlaub, mein Nachbar füttert", "mein Nachbar", "07-27", "08-02"),
        ("meine Schwester passt auf sie auf, während ich weg bin", "meine Schwester", None, None),
        ("während ich weg bin, kümmert sich meine Schwester", "meine Schwester", None, None),
        ("jemand kümmert sich vom 3. bis 14. August um die Tiere", None, "08-03", "08-14"),
        ("ich bin weg", None, None, None),
    ],
    "es": [
        ("fuera del 3 al 14 de agosto, mi hermana las cuida", "mi hermana", "08-03", "08-14"),
        ("estoy fuera del 3 al 14 de agosto, Tom cuida las arañas", "Tom", "08-03", "08-14"),
        ("del 3 al 14 de agosto estoy de viaje, Tom se ocupa de los animales", "Tom", "08-03", "08-14"),
        ("me voy de vacaciones del 3 al 14 de agosto y Tom las cuida", "Tom", "08-03", "08-14"),
        ("vacaciones del 3/8 al 14/8, mi vecino les da de comer", "mi vecino", "08-03", "08-14"),
        ("no estoy del 3 al 14 de agosto, Marta se encarga de ellas", "Marta", "08-03", "08-14"),
        ("mi hermana las cuida del 3 al 14 de agosto", "mi hermana", "08-03", "08-14"),
        ("mi hermana cuida las arañas del 3 al 14 de agosto", "mi hermana", "08-03", "08-14"),
        ("del 3 al 14 de agosto las cuida mi hermana", "mi hermana", "08-03", "08-14"),
        ("dejo las arañas con mi hermana del 3 al 14 de agosto", "mi hermana", "08-03", "08-14"),
        ("dejo el estante a Anna de viernes a domingo", "Anna", "07-24", "07-26"),
        ("estaré fuera desde mañana por dos semanas", None, "07-21", "08-03"),
        ("desde el 3 de agosto estoy fuera 10 días, mi padre las cuida", "mi padre", "08-03", "08-12"),
        ("estoy fuera hasta el 14 de agosto, mamá las cuida", "mamá", "07-20", "08-14"),
        ("la próxima semana estoy de vacaciones, Tom las cuida", "Tom", "07-27", "08-02"),
        ("mi hermana las cuida mientras estoy fuera", "mi hermana", None, None),
        ("alguien las cuida del 3 al 14 de agosto", None, "08-03", "08-14"),
        ("estoy fuera", None, None, None),
    ],
}


@pytest.mark.parametrize(
    ("language", "text", "helper", "first", "last"),
    [(language, *row) for language, rows in IN_LANGUAGES.items() for row in rows],
)
def test_a_hand_over_is_told_in_the_keepers_language(language, text, helper, first, last):
    assert said(text, language) == ("handover", helper, first, last)


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("de", "drucke ein Blatt für meine Schwester"),
        ("de", "Blatt für meine Schwester vom 3. bis 14. August"),
        ("es", "imprime una hoja para mi hermana"),
        ("es", "hoja para mi hermana del 3 al 14 de agosto"),
    ],
)
def test_a_sheet_is_asked_for_in_the_keepers_language(language, text):
    assert said(text, language)[:2] in (("sheet", "meine Schwester"), ("sheet", "mi hermana"))


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("de", "vom 3. bis 14. August passt Pebble auf sie auf"),
        ("de", "Anna füttert die Tiere"),
        ("de", "die Schabe ist weg"),
        ("de", "Rust ist weg"),
        ("de", "Pebble hat 2 Grillen gefressen"),
        ("de", "wer kümmert sich vom 3. bis 14. August um sie?"),
        ("de", "meine Schwester hat sie gestern gefüttert"),
        ("de", "morgen keine Runde"),
        ("de", "Pebble nicht füttern bis 1. Januar"),
        ("es", "del 3 al 14 de agosto las cuida Pebble"),
        ("es", "Anna las alimenta"),
        ("es", "la cucaracha está fuera"),
        ("es", "Rust está fuera de su cueva"),
        ("es", "Pebble comió 2 grillos"),
        ("es", "¿quién las cuida del 3 al 14 de agosto?"),
        ("es", "mi hermana les dio de comer ayer"),
    ],
)
def test_what_is_no_hand_over_in_another_language_is_left_to_the_ordinary_reading(language, text):
    assert said(text, language) is None


@pytest.mark.parametrize(
    ("language", "text", "named"),
    [
        ("en", "Anna can't, make it Ben", ("Anna", "Ben")),
        ("de", "Anna kann nicht, dann nimm Ben", ("Anna", "Ben")),
        ("de", "meine Schwester ist krank, Ben springt ein", ("meine Schwester", "Ben")),
        ("de", "nimm Ben statt Anna", ("Anna", "Ben")),
        ("es", "Anna no puede, que sea Ben", ("Anna", "Ben")),
        ("es", "mi hermana no puede, las cuida Ben", None),
        ("es", "mi hermana no puede, Ben las cuida", ("mi hermana", "Ben")),
        ("es", "que sea Ben en lugar de Anna", ("Anna", "Ben")),
        ("de", "Pebble kann nicht, dann nimm Ben", None),
    ],
)
def test_another_helper_is_named_in_the_keepers_language(language, text, named):
    assert read_another_helper(text, NAMES, language) == named


WORDS = {
    language: sorted(
        {word.strip("[]()<>{}|") for _, phrase in phrasings(language) for word in phrase.split()}
    )
    for language in ("en", "de", "es")
}
DAY_WORDS = ("3", "14", "august", "to", "for", "week", "tom", "bis", "Woche", "al", "agosto", "semana")


@settings(max_examples=200, deadline=None)
@given(st.data(), st.sampled_from(sorted(WORDS)))
def test_no_jumble_of_its_words_breaks_it_and_days_never_end_before_they_begin(data, language):
    words = data.draw(st.lists(st.sampled_from([*WORDS[language], *DAY_WORDS]), max_size=12))
    found = read_away(" ".join(words), NAMES, now=NOW, settings=replace(SETTINGS, language=language))
    if found is not None and found.days.first and found.days.last:
        assert found.days.first <= found.days.last


@pytest.mark.parametrize(
    ("words", "first", "last"),
    [
        ("August", "2026-08-01", "2026-08-31"),
        ("June", "2027-06-01", "2027-06-30"),
        ("next week", "2026-07-27", "2026-08-02"),
        ("this week", "2026-07-20", "2026-07-26"),
    ],
)
def test_a_stretch_to_come_is_the_whole_of_what_is_left_of_it(words, first, last):
    """Weeks by ISO 8601, from Monday."""
    found = days_ahead(words, now=NOW, settings=SETTINGS)
    assert (str(found.first), str(found.last)) == (first, last)


@pytest.mark.parametrize("day", range(11, 18))
@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "next week"),
        ("en", "for the whole of next week"),
        ("en", "the coming week"),
        ("de", "nächste Woche"),
        ("es", "la semana que viene"),
        ("es", "la próxima semana"),
    ],
)
def test_next_week_lasts_until_its_sunday_whatever_day_it_is_said_on(day, language, words):
    """Weeks by ISO 8601, from Monday; 11 May 2026 is one."""
    now = datetime(2026, 5, day, 12, tzinfo=ZoneInfo(ZONE))
    found = days_ahead(words, now=now, settings=KeeperSettings(zone=ZONE, language=language))
    assert (str(found.first), str(found.last)) == ("2026-05-18", "2026-05-24")
