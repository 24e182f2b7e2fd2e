"""Eighty and more questions over the invented demo shelf: each answer as it stands in
``golden_answers.txt``, and every figure in it worked out a second time from the raw rows of the journal.

A figure is found where it must be, taken out, and then no digit may be left that nobody accounted for.
``BURROWBELL_WRITE_GOLDEN=1`` writes the answers anew; read the diff as a keeper would.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from bot.conversation import Conversation
from bot.conversation.model import Incoming
from bot.demo.fill import put_up
from bot.demo.shelf import demo_shelf
from storage import Store
from tests.conversation.raw_journal import RawJournal, Row, months_ago

NOW = datetime(2026, 5, 14, 18, 30, tzinfo=UTC)
TODAY = NOW.date()
CONTACT = ("test", "1")
GOLDEN = Path(__file__).with_name("golden_answers.txt")
_MOST_LINES = 14
"""A history shows so many days at once; the others wait behind "more"."""


@pytest.fixture(scope="module")
def shelf(tmp_path_factory):
    file = tmp_path_factory.mktemp("demo") / "shelf.db"
    store = Store.open(f"sqlite:///{file}")
    keeper = put_up(store, demo_shelf(), now=NOW, zone="Europe/London", contact=CONTACT)
    yield store, keeper, RawJournal(file, TODAY)
    store.close()


def answer_to(shelf, question):
    store, keeper, _ = shelf
    incoming = Incoming(sent_at=NOW, text=question, reference="1")
    with store.begin() as work:
        replies = Conversation().respond(work, keeper, f"golden {question}", incoming)
    return "\n".join(reply.text for reply in replies)


# --- what each kind of question must be answered with ---------------------------------------------

Told = tuple[list[str], list[str]]
"""What must stand in the answer, and what else may: both worked out from the rows."""


def last(tag: str, *kinds: str) -> Callable[[RawJournal], Told]:
    def told(journal: RawJournal) -> Told:
        row = journal.last(tag, *kinds)
        must = [journal.ago(row.day)]
        if row.count is not None and row.kind in ("fed", "refused"):
            must.append(f"{row.count} {row.size} " if row.size else f"{row.count} ")
        must += [f"{row.ml / 1000:g} ml"] if row.ml else []
        must += [f"{row.volume / 1000:g} L"] if row.volume else []
        must += [f"{row.depth / 1000:g} cm of substrate"] if row.depth else []
        must += [f"span {row.span / 1000:g} cm"] if row.span else []
        if kinds == ("watered",):
            must += water_elsewhere(journal, tag, row)
        if kinds == ("fed",):
            refusals = [one for one in journal.of(tag, "refused") if one.day > row.day]
            must += (
                [f"Refused since: {len(refusals)} (last {journal.day(refusals[-1].day)})"] if refusals else []
            )
        molts = journal.molts(tag)
        if kinds == ("molted",) and len(molts) > 1:
            must += [f"{(molts[-1] - molts[-2]).days} days after the one before"]
        return must, rests(journal, tag)

    return told


def water_elsewhere(journal: RawJournal, tag: str, last: Row) -> list[str]:
    """When the substrate was last wetted, where the last water was of the dish."""
    wetted = [row.day for row in journal.of(tag, "watered") if row.how in ("substrate", "misted")]
    return [f"Substrate last wetted: {journal.ago(wetted[-1])}"] if last.how == "dish" and wetted else []


def rests(journal: RawJournal, tag: str) -> list[str]:
    """What may be said of its rest: since when it is sealed, in premolt, held, or soft after a molt."""
    found = []
    for word, since in (("Sealed", journal.sealed_since(tag)), ("In premolt", journal.premolt_since(tag))):
        found += [f"{word} since {journal.day(since)}"] if since else []
    if tag == "K5":  # the demo shelf has it held for nine days
        found.append(f"since {journal.day(TODAY - timedelta(days=9))}")
    molts = journal.molts(tag)
    if molts:
        # common practice, no source: a first meal a week after a molt, for spans from 2.5 to 7.5 cm
        hard = journal.day(molts[-1] + timedelta(days=7))
        found.append(f"Fresh molt ({journal.day(molts[-1])}): no food until about {hard}")
    return found


def never(text: str) -> Callable[[RawJournal], Told]:
    return lambda _journal: ([text], [])


def no_molt_since(tag: str) -> Callable[[RawJournal], Told]:
    def told(journal: RawJournal) -> Told:
        assert not journal.molts(tag)
        return [f"since {journal.day(journal.of(tag)[0].day)}"], []

    return told


def span_of(tag: str) -> Callable[[RawJournal], Told]:
    def told(journal: RawJournal) -> Told:
        row = [row for row in journal.of(tag, "measured") if row.span][-1]
        return [f"span {row.span / 1000:g} cm ({journal.ago(row.day)})"], []

    return told


def all_sealed(journal: RawJournal) -> Told:
    since = {tag: day for tag, *_ in journal.animals if (day := journal.sealed_since(tag))}
    return [f"Sealed: {len(since)}", *(f"since {journal.ago(day)}" for day in since.values())], []


def all_in_premolt(journal: RawJournal) -> Told:
    since = {tag: day for tag, *_ in journal.animals if (day := journal.premolt_since(tag))}
    must = [f"In premolt: {len(since)}", *(f"since {journal.ago(day)}" for day in since.values())]
    others = [tag for tag, *_ in journal.animals if tag not in since and not journal.sealed_since(tag)]
    refusing = {tag: days for tag in others if (days := journal.refusing(tag))}
    # which of those that refuse is weighed by a model; nobody else may be named, and each with its figures
    may = [f"noted signs: {n}" for n in range(1, len(refusing) + 1)]
    for tag, days in refusing.items():
        often = "once" if len(days) == 1 else f"{len(days)} times"
        molts = journal.molts(tag)
        molted = f"; molted {journal.ago(molts[-1])}" if molts else ""
        may.append(f"refused {often} since its last meal, the last {journal.day(days[-1])}{molted}")
    return must, may


def sealed_for(tag: str) -> Callable[[RawJournal], Told]:
    return lambda journal: ([f"since {journal.ago(journal.sealed_since(tag))}"], [])


def fasting(days: int) -> Callable[[RawJournal], Told]:
    def told(journal: RawJournal) -> Told:
        found = journal.fasting(days)
        must = [journal.ago(day) for day in found.values()]
        counts = [f"Not eaten for {days} days: {n}" for n in range(len(found) + 1)]
        counts += [f"so not asked to eat: {n}" for n in range(1, len(found) + 1)]
        return must, [*counts, *(rest for tag in found for rest in rests(journal, tag))]

    return told


def how_many(journal: RawJournal) -> Told:
    lots = [lot for _, _, lot, _ in journal.animals if lot > 1]
    species = {name for _, name, _, _ in journal.animals}
    count = sum(max(1, lot) for _, _, lot, _ in journal.animals)
    return [f"{count} tarantulas of {len(species)} species", *(f"with {lot}" for lot in lots)], []


def how_many_of(species: str) -> Callable[[RawJournal], Told]:
    def told(journal: RawJournal) -> Told:
        return [f"{sum(max(1, lot) for _, name, lot, _ in journal.animals if name == species)} "], []

    return told


def intervals(tag: str) -> Callable[[RawJournal], Told]:
    def told(journal: RawJournal) -> Told:
        low, high, middle, n = journal.gaps(tag)
        return [f"{low} to {high} days", f"middle {middle}", f"n = {n}"], []

    return told


def span_told(journal: RawJournal, first: date, until: date) -> str:
    end = "today" if until == TODAY else journal.day(until)
    return f"{journal.day(first)} to {end}"


def in_time(tag: str, kind: str, first: date, until: date) -> Callable[[RawJournal], Told]:
    """What one animal did in a time: how often, how much in all, and each day, the newest first."""

    def told(journal: RawJournal) -> Told:
        rows = journal.of(tag, kind, since=first, until=until)
        days = [row.day for row in rows]
        if kind == "molted":
            days = journal.molts(tag, first, until)
        often = {0: [], 1: ["once"]}.get(len(days), [f"{len(days)} times"])
        must = [span_told(journal, first, until), *often]
        if kind == "fed":
            must += [
                f"{total} {size + ' ' if size else ''}{prey.split()[0]}"
                for (size, prey), total in journal.eaten(rows).items()
            ]
            refused = journal.of(tag, "refused", since=first, until=until)
            must += [f"Refused {len(refused)} times"] if len(refused) > 1 else []
        lines = [
            f"{journal.day(day)}: " + (f"ate {row.count} " if kind == "fed" else "")
            + (f"refused {row.count} " if kind == "refused" else "")
            for day, row in zip(days[::-1], rows[::-1], strict=True)
        ]  # fmt: skip
        return [*must, *lines[:_MOST_LINES]], lines[_MOST_LINES:]

    return told


def of_shelf(kind: str, first: date, until: date) -> Callable[[RawJournal], Told]:
    """Who did something in a time, and when: how many animals, how often and when last."""

    def told(journal: RawJournal) -> Told:
        must, who, all_rows = [], 0, []
        for tag, *_ in journal.animals:
            rows = journal.of(tag, kind, since=first, until=until)
            if not rows:
                continue
            who += 1
            all_rows += rows
            if len(rows) > 1:
                must.append(f"{len(rows)} times, the last {journal.day(rows[-1].day)}")
                continue
            must.append(journal.day(rows[0].day))
            if kind in ("fed", "refused"):
                must.append(f"{'ate' if kind == 'fed' else 'refused'} {rows[0].count} ")
            if kind == "rehoused":
                must.append(f"{rows[0].volume / 1000:g} L, {rows[0].depth / 1000:g} cm of substrate")
        head = "yesterday" if first == until else span_told(journal, first, until)
        if kind == "fed":  # all in all, of each sort of prey
            went = journal.eaten(all_rows).items()
            must += [" ".join(filter(None, (str(n), size, prey[:4]))) for (size, prey), n in went]
        times = f", {len(all_rows)} times in all" if len(all_rows) != who else ""
        return [f"{head}: {who}{times}" if who else head, *must], []

    return told


def in_all(first: date, until: date) -> Callable[[RawJournal], Told]:
    """All of a time in numbers: how often they ate, refused, were watered and cleaned, and the prey eaten."""

    def told(journal: RawJournal) -> Told:
        must, eaten = [span_told(journal, first, until)], []
        counted = {"fed": "Ate", "refused": "Refused", "watered": "Watered", "cleaned": "Cleaned"}
        for kind, word in counted.items():
            rows = [r for tag, *_ in journal.animals for r in journal.of(tag, kind, since=first, until=until)]
            must += [f"{word}: {len(rows)} times"] if len(rows) > 1 else []
            eaten += rows if kind == "fed" else []
        for kind in ("molted", "measured"):  # twelve are named, the others counted
            who = sum(bool(journal.of(tag, kind, since=first, until=until)) for tag, *_ in journal.animals)
            must += [f"{who - 12} more"] if who > 12 else []
        came = [row for row in journal.rows if row.kind == "acquired" and first <= row.day <= until]
        must += [f"New animals: {sum(row.count or 1 for row in came)}"] if came else []
        went = journal.eaten(eaten).items()
        return [*must, *(" ".join(filter(None, (str(n), size, prey[:4]))) for (size, prey), n in went)], []

    return told


def not_since(kind: str, days: int) -> Callable[[RawJournal], Told]:
    """To whom a thing has not happened for so many days: each with its last day, where it has one."""

    def told(journal: RawJournal) -> Told:
        must, who = [f"for {days} days"], 0
        for tag, *_ in journal.animals:
            rows = journal.of(tag, kind)
            if kind == "molted":  # the molt to maturity is one as well
                rows = sorted([*rows, *journal.of(tag, "matured")], key=lambda row: row.day)
            if rows and (TODAY - rows[-1].day).days < days:
                continue
            who += 1
            if rows:
                must.append(f"{journal.day(rows[-1].day)}, {(TODAY - rows[-1].day).days} days ago")
        return [*must, f"journal: {who}"], []

    return told


def most_meals(journal: RawJournal) -> Told:
    """The five with most meals of a year."""
    first = date(2025, 5, 14)
    meals = [len(journal.of(tag, "fed", since=first)) for tag, *_ in journal.animals]
    head = f"{journal.day(first)} to today"
    return [head, *(f"{n} meals" for n in sorted(meals, reverse=True)[:5])], []


def so_often(kind: str, least: int, since: date) -> Callable[[RawJournal], Told]:
    """Who did a thing so often or more: how often, and when last."""

    def told(journal: RawJournal) -> Told:
        found = {tag: journal.of(tag, kind, since=since) for tag, *_ in journal.animals}
        often = [rows for rows in found.values() if len(rows) >= least]
        head = f"{least} times or more, {journal.day(since)} to today: {len(often)}"
        return [head, *(f"{len(rows)} times, the last {journal.day(rows[-1].day)}" for rows in often)], []

    return told


def most_grown(journal: RawJournal) -> Told:
    """The five whose spans of a year lie farthest apart, first to last."""
    first, found = date(2025, 5, 14), []
    for tag, *_ in journal.animals:
        rows = [row for row in journal.of(tag, "measured", since=first) if row.span]
        if len(rows) > 1:
            found.append((rows[0].span - rows[-1].span, rows[0], rows[-1]))
    must = [f"{journal.day(first)} to today"]
    for lost, before, after in sorted(found, key=lambda one: one[0])[:5]:
        told = f"{-lost / 1000:g} cm more, {before.span / 1000:g} cm to {after.span / 1000:g} cm"
        must.append(f"{told} ({journal.day(before.day)} to {journal.day(after.day)})")
    return must, []


def laid(tag: str) -> Callable[[RawJournal], Told]:
    """When an egg sac was laid last."""
    return lambda journal: (
        [journal.ago([row for row in journal.of(tag, "sac") if row.event == "laid"][-1].day)],
        [],
    )


def none_hatched(journal: RawJournal) -> Told:
    assert not [row for row in journal.rows if row.kind == "sac" and row.event == "hatched"]
    return [], []


def longest_fasts(journal: RawJournal) -> Told:
    """The five longest gaps between meals, one for each animal, or since its last meal."""
    found = []
    for tag, *_ in journal.animals:
        days = [row.day for row in journal.of(tag, "fed")]
        gaps = [((after - day).days, day, after) for day, after in pairwise(days)]
        gaps += [((TODAY - days[-1]).days, days[-1], None)] if days else []
        found += [max(gaps, key=lambda gap: gap[0])] if gaps else []
    told = [
        f"{n} days, {journal.day(first)} to {journal.day(last)}"
        if last
        else f"{n} days, since {journal.day(first)}"
        for n, first, last in sorted(found, key=lambda gap: -gap[0])[:5]
    ]
    return told, []


def both(first_kind: str, second_kind: str, first: date, until: date) -> Callable[[RawJournal], Told]:
    """Who did one thing and who another in a time; of offers, how many of the shelf had none of either."""

    def told(journal: RawJournal) -> Told:
        parts = [of_shelf(kind, first, until)(journal)[0] for kind in (first_kind, second_kind)]
        offered = ("fed", "refused", "offered")
        none = sum(
            not any(journal.of(tag, kind, since=first, until=until) for kind in offered)
            for tag, *_ in journal.animals
        )
        open_ones = [
            row for tag, *_ in journal.animals for row in journal.of(tag, "offered", since=first, until=until)
        ]
        must = [*parts[0], *parts[1], f"{span_told(journal, first, until)}: {none}"]
        return must, [f"{span_told(journal, first, until)}: {len(open_ones)}"] + [
            f"offered {row.count} " for row in open_ones
        ] + [journal.day(row.day) for row in open_ones]

    return told


def arrivals(journal: RawJournal, rows: list[Row]) -> list[str]:
    """What is told of each that came: how many, when, of what span, for how much."""
    return [
        figure
        for row in rows
        for figure in (
            f"{journal.day(row.day)}: new: {row.count} ",
            f"span {row.span / 1000:g} cm",
            f"for {row.price / 1000:g} EUR",
        )
    ]


def dearest(journal: RawJournal) -> Told:
    """The five highest prices, all of one currency, of all the time that anything was bought in."""
    bought = [row for row in journal.rows if row.kind == "acquired"]
    assert {row.currency for row in bought} == {"EUR"}
    first = sorted(bought, key=lambda row: -row.price)[:5]
    return [f"since {journal.day(bought[0].day)}", *arrivals(journal, first)], []


def from_the_fair(journal: RawJournal) -> Told:
    bought = [row for row in journal.rows if row.kind == "acquired" and row.source == "a breeder at the fair"]
    return [f"fair: {sum(row.count for row in bought)}", *arrivals(journal, bought)], []


# --- the questions --------------------------------------------------------------------------------

APRIL, MARCH, MAY = months_ago(TODAY, 1), months_ago(TODAY, 2), months_ago(TODAY, 0)
THIS_YEAR, IN_2025 = (date(2026, 1, 1), TODAY), (date(2025, 1, 1), date(2025, 12, 31))
THIS_WEEK = (TODAY - timedelta(days=TODAY.weekday()), TODAY)
YESTERDAY = (TODAY - timedelta(days=1),) * 2
LP = "Lasiodora parahybana"

QUESTIONS: dict[str, Callable[[RawJournal], Told]] = {
    "who eats the most?": most_meals,
    "who grew the most?": most_grown,
    "how many slings hatched?": none_hatched,
    "when did Velvet lay?": laid("H3"),
    "what was the most expensive?": dearest,
    "who came from the breeder at the fair?": from_the_fair,
    "who has refused at least 3 times since March?": so_often("refused", 3, date(2026, 3, 1)),
    "when did Marzipan last eat?": last("K1", "fed"),
    "how many days since Domino ate?": last("K3", "fed"),
    "when did Quill last eat?": last("K5", "fed"),
    "when did Fig last eat?": last("M6", "fed"),
    "when did S2 last eat?": last("S2", "fed"),
    "when did Thimble last eat?": last("S5", "fed"),
    "when did Peony last eat?": last("K6", "fed"),
    "when did I last feed S3?": last("S3", "fed"),
    "when did Velvet last eat?": last("H3", "fed"),
    "when did Skylark last eat?": last("H4", "fed"),
    "when did Sprig last eat?": last("H5", "fed"),
    "when did the choir last eat?": last("M5", "fed"),
    "when did F1 last eat?": last("F1", "fed"),
    "when did Horatio last eat?": last("M1", "fed"),
    "when did Paprika last refuse?": last("K2", "refused"),
    "when did Acorn last refuse?": last("S6", "refused"),
    "when did Ripple last refuse?": last("H1", "refused"),
    "did Marzipan refuse?": last("K1", "refused"),
    "when did Horatio last molt?": last("M1", "molted"),
    "when did Cinder last molt?": last("M2", "molted"),
    "how long since Nettle molted?": last("K4", "molted"),
    "when did S1 last molt?": last("S1", "molted"),
    "when did Tide last molt?": last("M4", "molted"),
    "has Dumpling molted?": last("F1", "molted"),
    "when did K6 last molt?": last("K6", "molted"),
    "when did Comet mature?": last("H2", "matured"),
    "when did Domino last molt?": no_molt_since("K3"),
    "when was Velvet last watered?": last("H3", "watered"),
    "when was Dumpling last watered?": last("F1", "watered"),
    "when was M6 last watered?": last("M6", "watered"),
    "when did Basalt seal?": last("M3", "sealed"),
    "when was Pebble last rehoused?": last("S4", "rehoused"),
    "when was Sprig last rehoused?": last("H5", "rehoused"),
    "when was Skylark last measured?": last("H4", "measured"),
    "how big is Marzipan?": span_of("K1"),
    "how big is Dumpling?": span_of("F1"),
    "how big is S1?": span_of("S1"),
    "how big is Nettle?": span_of("K4"),
    "how big is Velvet?": span_of("H3"),
    "how big is Comet?": span_of("H2"),
    "how big is Thimble?": span_of("S5"),
    "who is sealed?": all_sealed,
    "how many are sealed?": all_sealed,
    "who is in premolt?": all_in_premolt,
    "is Basalt sealed?": sealed_for("M3"),
    "how long has Tide been sealed?": sealed_for("M4"),
    "how long has S2 been sealed?": sealed_for("S2"),
    "is Marzipan sealed?": never("not sealed"),
    "who has not eaten in 3 weeks?": fasting(21),
    "who hasn't eaten in 4 weeks?": fasting(28),
    "how many tarantulas do I have?": how_many,
    "how many LPs do I have?": how_many_of(LP),
    "how often does S1 molt?": intervals("S1"),
    "how often does S3 molt?": intervals("S3"),
    "how often does Nettle molt?": intervals("K4"),
    "how often does Pebble molt?": intervals("S4"),
    "how often does Cinder molt?": intervals("M2"),
    "how often does Acorn molt?": intervals("S6"),
    "how often does Marzipan molt?": never("fewer than two molts"),
    "how often does Horatio molt?": never("fewer than two molts"),
    "what did Marzipan eat in April?": in_time("K1", "fed", *APRIL),
    "how many crickets did Marzipan eat in April?": in_time("K1", "fed", *APRIL),
    "what did Paprika eat in March?": in_time("K2", "fed", *MARCH),
    "how many meals did Fig take in April?": in_time("M6", "fed", *APRIL),
    "what did Horatio eat this year?": in_time("M1", "fed", *THIS_YEAR),
    "what did Basalt eat in 2025?": in_time("M3", "fed", *IN_2025),
    "what has S4 eaten since April?": in_time("S4", "fed", APRIL[0], TODAY),
    "what did Quill eat in May?": in_time("K5", "fed", *MAY),
    "how many times did S3 refuse this year?": in_time("S3", "refused", *THIS_YEAR),
    "how many times did Ripple refuse in 2025?": in_time("H1", "refused", *IN_2025),
    "what did S1 refuse in April?": in_time("S1", "refused", *APRIL),
    "how many times did Acorn molt in 2025?": in_time("S6", "molted", *IN_2025),
    "did Cinder molt in 2025?": in_time("M2", "molted", *IN_2025),
    "how many molts did S1 have this year?": in_time("S1", "molted", *THIS_YEAR),
    "how many times did Pebble molt this year?": in_time("S4", "molted", *THIS_YEAR),
    "who molted in April?": of_shelf("molted", *APRIL),
    "who molted this month?": of_shelf("molted", *MAY),
    "who molted in March?": of_shelf("molted", *MARCH),
    "who ate this week?": of_shelf("fed", *THIS_WEEK),
    "who refused this week?": of_shelf("refused", *THIS_WEEK),
    "who refused in April?": of_shelf("refused", *APRIL),
    "what did I feed in April?": of_shelf("fed", *APRIL),
    "who ate yesterday?": of_shelf("fed", *YESTERDAY),
    "who ate this week and who refused?": both("fed", "refused", *THIS_WEEK),
    "what's the longest anyone fasted?": longest_fasts,
    "who was rehoused this year?": of_shelf("rehoused", *THIS_YEAR),
    "how many feedings in April?": of_shelf("fed", *APRIL),
    "give me a summary of April": in_all(*APRIL),
    "2025 in numbers": in_all(*IN_2025),
    "who hasn't molted in over 300 days?": not_since("molted", 300),
    "which ones haven't been cleaned for 6 weeks?": not_since("cleaned", 42),
}


def test_there_are_eighty_questions_at_least():
    assert len(QUESTIONS) >= 80


@pytest.mark.parametrize("question", QUESTIONS)
def test_every_figure_of_an_answer_is_what_the_raw_rows_add_up_to(shelf, question):
    _check(shelf, question)


def _check(shelf, question):
    left = answer_to(shelf, question)
    # names and tags of the animals have digits that are no figures
    for tag in sorted((tag for tag, *_ in shelf[2].animals), key=len, reverse=True):
        left = re.sub(rf"\b{tag}\b", "·", left)
    must, may = QUESTIONS[question](shelf[2])
    for figure in sorted(must, key=len, reverse=True):
        assert figure in left, (figure, left)
        left = left.replace(figure, "·", 1)
    for figure in sorted(may, key=len, reverse=True):
        left = left.replace(figure, "·")
    assert not re.search(r"\d", left), left


def test_the_answers_are_the_golden_ones(shelf):
    told = "".join(
        f"> {question}\n< " + answer_to(shelf, question).replace("\n", "\n  ") + "\n\n"
        for question in QUESTIONS
    )
    if os.environ.get("BURROWBELL_WRITE_GOLDEN"):
        GOLDEN.write_text(told, encoding="utf-8", newline="\n")
    assert told == GOLDEN.read_text("utf-8")


def test_a_wrong_figure_would_be_seen(shelf):
    """The check itself: a row more, and the answers to questions about it are wrong."""
    journal = shelf[2]
    extra = journal.last("K1", "fed")
    journal.rows.append(type(extra)(**{**vars(extra), "day": TODAY}))
    try:
        with pytest.raises(AssertionError):
            test_every_figure_of_an_answer_is_what_the_raw_rows_add_up_to(
                shelf, "when did Marzipan last eat?"
            )
    finally:
        journal.rows.pop()
