"""Names that nobody bears, and words for deeds and feeders that nobody knows: what is meant is asked."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read, reading_to_json
from bot.reading.model import About, ReadingKind
from bot.terms import Kind
from tests.reading.corpus import FOLDER, corpus

SHELF = corpus("contract")
NOW = datetime(2026, 8, 11, 21, tzinfo=ZoneInfo("Europe/Dublin"))


def reading(text: str, language: str = "en"):
    return read(text, SHELF.names, now=NOW, settings=replace(SHELF.settings, language=language))


@pytest.mark.parametrize(
    "text",
    [
        # put right to nobody who is known
        "fed Ink, no wait, Zork",
        "fed Ink, I mean Zork",
        "Ink molted, no she didn't, that was Zork",
        "Dot - I mean to say Zork - refused a small roach.",
        "Mole sealed. wait no thats Zork",
        "Saffron, or rather Zork, had a small locust",
        "Fed Dot. Zork I mean, bloody autocorrect",
        "watered Mole's - no, Zork's - substrate",
        # one of a list
        "Zork and Biscuit ate",
        "Ink, Zork and Mole ate a cricket each",
        "refused: Ink, Zork",
        "misted Dottie Zork and Twig",
        "Ink\nZork\nMole\nall ate",
        "crickets: Zork 2, Mole 1",
        "Took: Biscuit, Ink. Refused: Zork.",
        # told of as another is
        "Mole took a waxworm, zork didn't",
        "Mole took a waxworm and zork too",
        "Mole took a waxworm, same for Zork",
        "Mole took a waxworm, so did Zork",
        "20:10 Zork, two crickets\n20:15 Sunny, one cricket",
        "ink: roach ✅ zork: roach ✅",
        "Anvil sealed, Zork still sealed, Friday open again",
        "lantern ate zork didnt",
        "everyone on C ate, even Zork",
        "Neither Anvil nor Zork would take a roach",
        # where only an animal can stand
        "watered B, and checked Zork's burrow",
        "friday i fed zork a dubia",
        "a dozen pinheads into zork, cleared the lot",
        "6 crix to zork not Saffron",
        "Zork got the superworm that Ink didn't want",
        "Zork on the scales 24 grams; Mole wouldn't sit still",
        "Zork, not Dottie, was given a fruit fly",
        "A complete moult outside Zork's hide this morning",
    ],
)
def test_a_name_that_nobody_bears_is_asked_about(text: str) -> None:
    got = reading(text)
    assert got.ask is not None, got
    assert got.ask.about is About.SPECIMEN


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("de", "hab Zork und Mole je zwei Mehlwürmer gegeben"),
        ("de", "Zork hat ne Schabe genommen, Twig wollte nicht"),
        ("de", "gestern hat Zork ne Schabe gefressen und heut früh Biscuit zwei Heimchen"),
        ("de", "Ink hat ne Schabe gefressen, nur Zork hat ihre ignoriert"),
        ("de", "Ink hat ne Schabe gefressen, Zork ihre Grille nicht"),
        ("de", "Mole hat heute aufgemacht, dafür is jetzt Zork dicht"),
        ("de", "Häutungen diese Nacht: B2, A3 und der Zork"),
        ("de", "Heute bei Ink und Zork die Scheiben geputzt"),
        ("es", "hoy comieron Zork y Friday, una dubia cada una"),
        ("es", "el sábado comió Ink y el domingo mudó Zork"),
        ("es", "ni Mole ni Zork quisieron la cucaracha"),
        ("es", "rocié a Mole y también a Zork"),
        ("es", "una langosta para Lantern, otra para Zork"),
        ("es", "ayer comieron Ink y Mole; hoy rocié a Zork"),
    ],
)
def test_a_name_that_nobody_bears_is_asked_about_in_german_and_spanish_too(language: str, text: str) -> None:
    ask = reading(text, language).ask
    assert ask is not None
    assert ask.about is About.SPECIMEN


@pytest.mark.parametrize(
    "text",
    [
        "Marta took Ink off my hands for 60 euro",
        "took the sac off Lantern, counted 118 eggs",
        "gave Marta B4",
        "Ink molted and came through it just fine",
        "let Captain meet T07",
        "fed Ink, greedily took it",
        "Ink ate a cricket that was bigger than her head",
    ],
)
def test_a_word_that_is_no_name_is_not_taken_for_one(text: str) -> None:
    ask = reading(text).ask
    assert ask is None or ask.about is not About.SPECIMEN


def test_what_is_told_of_one_that_nobody_knows_is_not_merged_into_what_is_told_of_another() -> None:
    got = reading("20:10 Zork, two crickets\n20:15 Sunny, one cricket")
    assert got.ask is not None
    assert got.ask.draft is not None
    assert [(e.specimens, e.count) for e in got.ask.draft.entries] == [((), 2), (("A5",), 1)]


@pytest.mark.parametrize(
    "text",
    [
        "Captain was offered a locust and splorged it",
        "dropped two mealies in with May, she splorged both",
        "GBBs 1 & 3 moulted, 2 refused, 4 splorged a pinhead",
        "GBB 1, 2 and 4 splorged a fruit fly, 3 has moulted",
        "Mole refused a locust, Twig splorged 2",
        "T07 took one superworm; T12 splorged one superworm",
    ],
)
def test_what_an_animal_did_in_a_word_that_nobody_knows_is_asked(text: str) -> None:
    ask = reading(text).ask
    assert ask is not None
    assert ask.about is About.KIND


@pytest.mark.parametrize("text", ["Dottie splorged, Dot's in premolt", "GBB 1 splorged, GBB 2 in premolt"])
def test_whoever_did_what_nobody_knows_has_no_part_in_what_is_told_of_the_next(text: str) -> None:
    got = reading(text)
    entries = got.ask.draft.entries if got.ask is not None and got.ask.draft is not None else got.entries
    assert [(entry.kind, len(entry.specimens)) for entry in entries] == [(Kind.PREMOLT, 1)]


@pytest.mark.parametrize(
    "text",
    [
        "left a blorg in with Ink",
        "dropped two small blorgs each in with Ink and Mole",
        "put a cricket in with Dottie and a blorg in with Twig, no idea yet",
        "king baboon got a big blorg",
        "Ink just took a blorg",
        "Saffron is off her food no longer: she took a blorg",
        "Ink refused a dubia so I tried a blorg and she took that",
        "Ink 2 roaches, Mole 1 blorg, Friday none",
        "Captain 2 blorgs, T07 1 dubia",
        "all terrestrials a blorg apiece, slings skipped",
        "Fed the fossorials last night, 1 blorg each except Mole who had 8 crickets",
        "roaches to Biscuit and Anvil, blorgs to May and Friday",
        "tossed a dead blorg that was in Ink's tub",
        # put right
        "Ink had a roach, no sorry, a blorg",
        "Ink ate a cricket... no it was a blorg",
        "Ink ate a roach, I mean a blorg",
        "Mole refused 1 cricket, sorry, 2 blorgs",
    ],
)
def test_a_feeder_that_nobody_knows_is_asked_about(text: str) -> None:
    ask = reading(text).ask
    assert ask is not None
    assert ask.about is About.PREY


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("de", "Ink und Mole je eine Blorg, Twig verweigert"),
        ("de", "gestern hat Ink eine Blorg bekommen"),
        ("es", "le dejé a Lantern una blorg ya muerta"),
        ("es", "a B2 le dejé un blorg muerto y se lo comió"),
    ],
)
def test_a_feeder_that_nobody_knows_is_asked_about_in_german_and_spanish_too(
    language: str, text: str
) -> None:
    ask = reading(text, language).ask
    assert ask is not None
    assert ask.about is About.PREY


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("had a keek at Ink, still shut in", Kind.CHECKED),
        ("added a twig to Lantern's enclosure", Kind.NOTE),
        ("Ink ate a roach, and I ate a pizza", Kind.FED),
        ("Captain and May had a date, saw an insertion", Kind.PAIRED),
    ],
)
def test_a_word_that_is_no_feeder_is_not_taken_for_one(text: str, kind: Kind) -> None:
    got = reading(text)
    assert got.ask is None or got.ask.about is not About.PREY
    assert [entry.kind for entry in got.entries] == [kind]


# -- one name of many in every message of the corpora --------------------------------------------

#: Per cent of the messages of which one name is made unknown: stored for others as nobody told it, and lost.
MOST_FALSE, MOST_LOST = 1.5, 2.5
_ENGLISH = sorted(str(path.parent.relative_to(FOLDER)) for path in FOLDER.glob("en/*/messages.jsonl"))
_OTHERS = sorted(
    str(path.parent.relative_to(FOLDER))
    for of in ("de", "es")
    for path in FOLDER.glob(f"{of}/*/messages.jsonl")
)
#: The same in German and Spanish.
MOST_FALSE_ELSEWHERE, MOST_LOST_ELSEWHERE = 2.5, 8.5


def _events(entries) -> list[tuple]:
    return [
        (entry["kind"], tag, entry["day"], entry.get("count"), entry.get("prey"))
        for entry in entries
        if entry["kind"] != "note"
        for tag in entry.get("specimens") or ["-"]
    ]


def _is_told(event, told) -> bool:
    """Whether an event is one of those told, with no count or prey that was not."""
    return any(
        event[:3] == one[:3] and all(a in {None, b} for a, b in zip(event[3:], one[3:], strict=True))
        for one in told
    )


def _made_unknown(name: str) -> Iterator[str]:
    """What becomes of each message that tells of several, with one of their names put for another."""
    of = corpus(name)
    called = {specimen.tag: specimen.name for specimen in of.names.specimens}
    for message in of.messages:
        entries = message.golds[0].get("entries", [])
        tags = sorted({tag for entry in entries for tag in entry.get("specimens", [])})
        for tag in tags if len(tags) > 1 else ():
            pattern = re.compile(rf"(?<!\w){re.escape(called.get(tag) or tag)}(?!\w)", re.IGNORECASE)
            said = pattern.findall(message.text)
            if len(said) != 1 or len(said[0]) < 3 or tag == said[0]:
                continue
            text = pattern.sub("Zork" if said[0][0].isupper() else "zork", message.text)
            got = reading_to_json(read(text, of.names, now=message.now, settings=of.settings))
            if got["reading"] != ReadingKind.ENTRIES.value:
                yield "asked"
                continue
            told = [e for gold in message.golds for e in _events(gold.get("entries", [])) if e[1] != tag]
            yield "lost" if all(_is_told(e, told) for e in _events(got["entries"])) else "false"


#: The same where a verb is made unknown.
MOST_FALSE_OF_DEEDS = 2.5
_DEEDS = re.compile(r"\b(ate|took|refused|moult?ed|molted|sealed|opened|shed)\b", re.IGNORECASE)


def _deed_made_unknown(name: str) -> Iterator[str]:
    """What becomes of each message with one verb, of any, put for a word that there is not."""
    of = corpus(name)
    for message in of.messages:
        entries = [entry for gold in message.golds for entry in gold.get("entries", [])]
        if not entries or len(_DEEDS.findall(message.text)) != 1:
            continue
        text = _DEEDS.sub("splorged", message.text)
        got = reading_to_json(read(text, of.names, now=message.now, settings=of.settings))
        told = got["reading"] == ReadingKind.ENTRIES.value
        false = told and not all(_is_told(event, _events(entries)) for event in _events(got["entries"]))
        yield "false" if false else "told" if told else "asked"


#: The same where a feeder is made unknown.
MOST_FALSE_OF_FEEDERS = 1.5
_FEEDERS = re.compile(
    r"\b(crickets?|crix|roach(?:es)?|dubias?|locusts?|mealworms?|superworms?|pinheads?)\b", re.IGNORECASE
)


def _feeder_made_unknown(name: str) -> Iterator[str]:
    """What becomes of each message with one word for a feeder, put for a word that there is not."""
    of = corpus(name)
    for message in of.messages:
        entries = [entry for gold in message.golds for entry in gold.get("entries", [])]
        if not entries or len(_FEEDERS.findall(message.text)) != 1:
            continue
        text = _FEEDERS.sub(lambda said: "blorgs" if said[0][-1] in "sSxX" else "blorg", message.text)
        got = reading_to_json(read(text, of.names, now=message.now, settings=of.settings))
        told = got["reading"] == ReadingKind.ENTRIES.value
        false = told and not all(_is_told(event, _events(entries)) for event in _events(got["entries"]))
        yield "false" if false else "told" if told else "asked"


def test_a_feeder_made_unknown_seldom_tells_something_else() -> None:
    became = Counter(what for name in _ENGLISH for what in _feeder_made_unknown(name))
    assert became.total() > 300
    assert 100 * became["false"] / became.total() <= MOST_FALSE_OF_FEEDERS, became


def test_a_verb_made_unknown_seldom_tells_something_else() -> None:
    became = Counter(what for name in _ENGLISH for what in _deed_made_unknown(name))
    assert became.total() > 300
    assert 100 * became["false"] / became.total() <= MOST_FALSE_OF_DEEDS, became


def test_a_name_made_unknown_in_a_message_about_several_is_seldom_passed_over() -> None:
    became = Counter(what for name in _ENGLISH for what in _made_unknown(name))
    messages = became.total()
    assert messages > 300
    assert 100 * became["false"] / messages <= MOST_FALSE, became
    assert 100 * became["lost"] / messages <= MOST_LOST, became


def test_in_german_and_spanish_a_name_made_unknown_is_seldom_passed_over() -> None:
    became = Counter(what for name in _OTHERS for what in _made_unknown(name))
    messages = became.total()
    assert messages > 150
    assert 100 * became["false"] / messages <= MOST_FALSE_ELSEWHERE, became
    assert 100 * became["lost"] / messages <= MOST_LOST_ELSEWHERE, became
