"""What a keeper asks in passing: how a thing is done, what practice says, who lacks what, who fasted."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from bot.conversation.texts import sentences_in
from bot.reading import ShelfNames
from bot.reading.wanted.instructions import read_instruction
from bot.reading.wanted.wanted import Action
from bot.terms import Kind
from bot.terms.language import LANGUAGES
from storage import Store
from tests.conversation.given import INVENTED_SHELF, a_keeper
from tests.conversation.replay import Player

NAMES = ShelfNames.of(INVENTED_SHELF)


def wanted(text, language="en"):
    return read_instruction(text, NAMES, language)


#: What is meant by each of its ways, as action and value.
WAYS = {
    ("en", Action.HOW_TO, "undo"): ("how do I undo something?", "can I undo an entry", "help with undoing"),
    ("en", Action.HOW_TO, "correct"): (
        "how can I change the date of an entry",
        "how do i fix a mistake",
        "is it possible to edit an old entry?",
        "help me with corrections",
    ),
    ("en", Action.HOW_TO, "add"): ("how do I add a new spider", "where do i add an animal"),
    ("en", Action.HOW_TO, "prekill"): ("how do i prekill a cricket", "how to kill a feeder"),
    ("en", Action.HOW_TO, "backup"): ("is there a backup?", "how do I back up my data"),
    ("en", Action.HOW_TO, "water"): ("what can I say about water", "how do I log watering"),
    ("en", Action.RULE, "first_meal"): (
        "how long after a molt should I wait to feed?",
        "when can I feed them again after a molt",
        "how soon should i feed after a moult",
    ),
    ("en", Action.RULE, "leftover"): (
        "how long can I leave a cricket in?",
        "should I take uneaten prey out?",
        "can i leave a roach in overnight",
    ),
    ("en", Action.RULE, "dish"): ("do slings need a water dish?", "should my slings have a water dish"),
    ("en", Action.RULE, "overfed"): ("what happens if I overfeed?", "can I feed too often"),
    ("en", Action.LACKING, "name"): (
        "who has no name?",
        "which animals are unnamed",
        "list animals without a name",
    ),
    ("en", Action.LACKING, "photo"): ("show me everyone without a photo", "who haven't I photographed"),
    ("en", Action.LACKING, "span"): (
        "which animals have I not measured?",
        "who needs measuring",
        "who was never measured",
    ),
    ("en", Action.SETTINGS, None): (
        "what units do you use?",
        "what time zone am I in",
        "what's my time zone?",
        "when do my quiet hours start",
    ),
    ("en", Action.SCHEDULES, None): (
        "what's the feeding schedule?",
        "whats my feeding schedule",
        "what feeding schedule do you use",
    ),
    ("de", Action.HOW_TO, "delete"): ("wie lösche ich einen Eintrag?", "kann ich einen Eintrag löschen"),
    ("de", Action.HOW_TO, "add"): ("wie füge ich ein neues Tier hinzu?",),
    ("de", Action.HOW_TO, "photo"): ("Hilfe zu Fotos", "wie funktioniert das Foto"),
    ("de", Action.RULE, "first_meal"): (
        "wie lange nach der Häutung soll ich mit dem Füttern warten?",
        "ab wann darf ich nach der Häutung wieder füttern",
    ),
    ("de", Action.LACKING, "photo"): ("wer hat kein Foto?", "welche Tiere haben keine Fotos"),
    ("de", Action.LACKING, "span"): ("wen muss ich messen?", "welche wurden noch nie gemessen"),
    ("de", Action.SETTINGS, None): ("in welchen Einheiten rechnest du?", "welche Zeitzone habe ich"),
    ("de", Action.SCHEDULES, None): ("wie ist mein Futterplan?",),
    ("es", Action.HOW_TO, "delete"): ("¿cómo borro una entrada?", "puedo borrar una entrada"),
    ("es", Action.HOW_TO, "prekill"): ("¿cómo mato un grillo antes de darlo?",),
    ("es", Action.HOW_TO, "remind"): ("ayuda con recordatorios",),
    ("es", Action.RULE, "first_meal"): ("¿cuánto espero después de la muda para alimentar?",),
    ("es", Action.LACKING, "name"): ("¿quién no tiene nombre?",),
    ("es", Action.SETTINGS, None): ("¿qué unidades usas?", "cuál es mi zona horaria"),
    ("es", Action.SCHEDULES, None): ("¿cuál es mi plan de alimentación?",),
}


@pytest.mark.parametrize(
    ("language", "action", "value", "text"),
    [(*meant, way) for meant, ways in WAYS.items() for way in ways],
)
def test_one_matter_is_asked_for_in_many_ways(language, action, value, text):
    found = wanted(text, language)
    assert found is not None
    assert (found.action, found.value) == (action, value)


@pytest.mark.parametrize(
    ("language", "text", "span", "prey", "size"),
    [
        ("en", "what should I feed a 1/4 inch sling?", "0.635", None, None),
        ("en", "what feeders can I give a sling of 1 cm?", "1", None, None),
        ("en", "what size roach for a 3 inch juvenile?", "7.62", "roach", None),
        ("en", "can a 2cm sling eat a medium cricket?", "2", "cricket", "medium"),
        ("en", "is a large cricket too big for a 4 cm spider?", "4", "cricket", "large"),
        ("en", "what do I feed a sling?", None, None, None),
        ("de", "was füttere ich einem Spiderling von 1,5 cm?", "1.5", None, None),
        ("de", "kann eine Spinne von 2 cm eine kleine Grille fressen?", "2", "cricket", "small"),
        ("es", "¿qué le doy a una cría de 1 cm?", "1", None, None),
    ],
)
def test_what_to_feed_is_asked_of_a_span_that_nobody_here_has(language, text, span, prey, size):
    found = wanted(text, language)
    assert found is not None
    assert found.action is Action.MEAL_OF_SPAN
    assert found.span_cm == (Decimal(span) if span else None)
    assert (found.prey, found.value) == (prey, size)


@pytest.mark.parametrize(
    ("language", "text", "prey", "size"),
    [
        ("en", "how big is a pinhead cricket?", "cricket", "pinhead"),
        ("en", "what sizes do dubia roaches come in", "dubia roach", None),
        ("en", "what is a pinhead?", "cricket", "pinhead"),
        ("de", "wie groß ist eine kleine Grille?", "cricket", "small"),
        ("es", "¿cuánto mide un grillo pequeño?", "cricket", "small"),
    ],
)
def test_how_long_a_feeder_is_may_be_asked(language, text, prey, size):
    found = wanted(text, language)
    assert found is not None
    assert (found.action, found.prey, found.value) == (Action.FEEDER_SIZE, prey, size)


@pytest.mark.parametrize(
    ("language", "text", "did", "also", "rest"),
    [
        ("en", "who ate yesterday and who refused?", "fed", "refused", "yesterday"),
        ("en", "who ate and who didn't this week", "fed", "refused", "this week"),
        ("en", "who molted and who sealed this month", "molted", "sealed", "this month"),
        ("en", "who ate and who refused", "fed", "refused", None),
        ("de", "wer hat gestern gefressen und wer hat verweigert?", "fed", "refused", "gestern"),
        ("es", "¿quién comió ayer y quién rechazó?", "fed", "refused", "ayer"),
    ],
)
def test_two_things_are_asked_for_at_once(language, text, did, also, rest):
    found = wanted(text, language)
    assert found is not None
    assert (found.action, found.value, found.also, found.rest) == (Action.WHO_DID, did, also, rest)


#: What only looks like one of these.
NOT_THESE = (
    "who hasn't eaten this week?",
    "who refused yesterday?",
    "who molted and who didn't?",  # who did not is everybody else
    "who ate and who refused crickets",
    "what should I feed Rust?",
    "what do I feed the slings?",
    "what should I feed tonight?",
    "can Rust eat a roach?",
    "how big is Rust?",
    "how big are the slings?",
    "when can I feed Rust again?",
    "when do I water?",
    "can I water Rust?",
    "are there any photos?",
    "do you have notes on the GBB?",
    "overfed Rust",
    "Rust overfed",
    "a water dish for Rust",
    "left a cricket in with Rust",
    "took the cricket out",
    "fed a 2 cm sling a pinhead",
    "Rust ate a pinhead",
    "Rust ate yesterday and Pebble refused",
    "Rust ate yesterday, who refused it before",
    "not measured",
    "Rust not measured",
    "label Rust Z9",
    "fasted 3 weeks",
    "Rust fasted longest",
)


@pytest.mark.parametrize("text", NOT_THESE)
def test_what_only_looks_like_one_of_these_is_left_to_the_ordinary_reading(text):
    new = {
        Action.HOW_TO,
        Action.RULE,
        Action.LACKING,
        Action.MEAL_OF_SPAN,
        Action.FEEDER_SIZE,
        Action.WHO_DID,
        Action.FASTS,
        Action.LABELS,
    }
    found = wanted(text)
    assert found is None or found.action not in new


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("Rust ate yesterday and Pebble refused", Kind.REFUSED),
        ("Rust ate a pinhead", Kind.FED),
        ("watered all but the slings", Kind.WATERED),
        ("measured Rust 13.5 cm", Kind.MEASURED),
    ],
)
def test_what_is_told_in_such_words_is_stored(chat, said, kind):
    chat.told(said)
    assert kind in {entry.kind for entry in chat.entries()}


#: The families of texts that tell what to write, and those that tell what to send a photo with.
_ADVISE = ("how_to.", "lacking.how.", "rules.")
_CAPTIONS = ("how_to.photo", "lacking.how.photo")
_QUOTED = re.compile("[“„«]([^”“»]+)[”“»]")
#: What is not for the bot, or stands for other words.
_NO_MESSAGE = re.compile("…|^burrowbell ")


def _quotes(language):
    """Every message that the texts on how to do a thing advise, with the family it stands in."""
    for key, text in sentences_in(language).items():
        if key.startswith(_ADVISE):
            yield from ((key, quote) for quote in _QUOTED.findall(str(text)) if not _NO_MESSAGE.search(quote))


@pytest.mark.parametrize("language", LANGUAGES)
def test_whatever_is_advised_to_write_is_understood(language):
    unread = []
    for key, quote in dict.fromkeys(_quotes(language)):
        store = Store.open("sqlite://")
        chat = Player(store)
        chat.keeper = a_keeper(store, shelf=INVENTED_SHELF)
        chat.told(f"language {_CALLED[language]}")
        for said in _BEFORE[language] if key in _OF_ENTRIES else ():
            chat.told(said)
        told = chat.told(("[photo]" if key in _CAPTIONS else "") + quote.format(who="Pebble", tag="A1"))
        if any(start in told for start in _not_understood(language)):
            unread.append((key, quote, told))
        store.close()
    assert not unread, "\n".join(map(str, unread))


#: What is told before those that put right what was told.
_OF_ENTRIES = ("how_to.undo", "how_to.delete", "how_to.correct")
_BEFORE = {
    "en": ("Pebble molted on 3 May", "Pebble ate a roach on Sunday", "Rust ate 2 crickets"),
    "de": (
        "Pebble hat sich am 3. Mai gehäutet",
        "Pebble hat am 10. Mai eine Schabe gefressen",
        "Rust hat 2 Grillen gefressen",
    ),
    "es": ("Pebble mudó el 3 de mayo", "Pebble comió una cucaracha el 10 de mayo", "Rust comió 2 grillos"),
}
_CALLED = {"en": "english", "de": "german", "es": "spanish"}
#: The replies to what was not understood.
_UNREAD = (
    "bad.unclear",
    "ask.doubt.no_kind",
    "ask.doubt.unknown_name",
    "ask.doubt.nobody_named",
    "amend.nothing",
)


def _not_understood(language):
    return [str(sentences_in(language)[key]).partition("{")[0] for key in _UNREAD]
