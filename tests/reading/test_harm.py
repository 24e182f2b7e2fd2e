"""Messages of people who are hurt, in words that were not taken from the table. All are invented."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bot.reading import ShelfNames
from bot.reading.wanted.harm import tells_of_harm
from bot.terms import Specimen

NAMES = ShelfNames.of(
    (
        Specimen(tag="C1", name="Ink", species="Grammostola pulchra", place="shelf C"),
        Specimen(tag="C2", name="Mole", species="Brachypelma hamorii", place="shelf C"),
        Specimen(tag="C3", name="Puppy", species="Tliltocatl albopilosus", place="shelf C"),
    )
)


@pytest.mark.parametrize(
    "text",
    [
        "bitten by Ink",
        "Ink bit me",
        "Ouch, Mole just bit my left hand!!",
        "got bit by Mole this morning",
        "I've been bitten",
        "I\u2019ve just been bitten by C1, what now?",
        "my dog got bitten",
        "the cat was bitten by Ink",
        "my daughter has been bitten",
        "fed Ink a dubia and she bit my finger",
        "hairs in my eye",
        "I got hairs in my eye",
        "Mole kicked hairs in my face",
        "she flicked hairs at me",
        "urticating hairs all over my arm",
        "there are hairs in her eyes",
        "my eye is really burning after rehousing Mole",
        "my hand is swollen",
        "I have an itchy rash",
        "I can't breathe",
        "trouble breathing since the bite",
        "my dog ate a tarantula",
        "the cat has eaten Ink",
        "tarantula bite",
        "bitten",
    ],
)
def test_a_message_of_somebody_hurt_is_noticed(text):
    assert tells_of_harm(text, NAMES)


@pytest.mark.parametrize(
    "text",
    [
        "fed Ink 2 crickets",
        "Ink was bitten by a cricket",
        "Puppy got bitten by a cricket",
        "Puppy ate a roach",
        "Ink bit the tongs",
        "Mole kicked hairs",
        "Mole has kicked hairs, bald patch on her abdomen",
        "Ink never bit me",
        "she nearly bit me but missed",
        "no hairs in my eye this time, gloves on",
        "the dog ate her dinner",
        "the cat caught a cricket",
        "Ink took a bite of the worm",
        "rehoused Mole, glasses and gloves on",
        "watered all on shelf C",
        "remind me to wash my hands",
        "",
        "\u0000",
    ],
)
def test_an_ordinary_message_brings_no_first_aid(text):
    assert not tells_of_harm(text, NAMES)


def test_no_labelled_message_of_the_corpus_brings_first_aid_but_those_of_a_bite_or_hairs():
    labelled = Path(__file__).parents[1] / "corpus"
    texts = [
        row["text"]
        for file in sorted(labelled.rglob("*.jsonl"))
        for row in map(json.loads, file.read_text("utf-8").splitlines())
        if isinstance(row, dict) and "text" in row
    ]
    assert texts
    hits = [text for text in texts if tells_of_harm(text, NAMES)]
    assert [text for text in hits if not any(word in text.lower() for word in ("bit", "hair", "rash"))] == []


#: Said in a hurry, and in other words than the table's; all invented.
HURT_IN_A_HURRY = (
    "she kicked hairs on me and my eye stings",
    "bitten!! help",
    "help i got bitten",
    "Ink got me on the thumb, it's throbbing",
    "Ink tagged me, two little punctures and it hurts",
    "mole flicked a cloud of hairs at my face",
    "eyes are streaming after mole kicked",
    "got a faceful of hairs",
    "my son got bitten by mole",
    "the kid touched mole and her hands are red and itchy",
    "think Ink bit me, finger going numb",
    "bit me",
    "Ink bit the wife",
    "she sank her fangs in my finger",
    "he bit my thumb when i did the water",
    "fangs went through my finger",
    "bite from Ink, what do i do?",
    "what to do after a bite?",
    "ive been hit with hairs",
    "hair kicked in my eyes by mole, cant see",
    "hair in eye",
    "eye full of setae",
    "my arms are itching like mad after rehousing mole",
    "i'm itching all over from mole's hairs",
    "got a rash after handling mole",
    "my hands are itching since mole kicked",
    "the cat got hold of Ink",
    "cat knocked over mole's tub and got bitten on the nose",
    "dog has hairs in its mouth",
    "dog licked mole's tub and is foaming",
    "Ink bit through the glove into my hand",
    "ouch! got nailed by Ink",
    "Ink just tagged my finger",
    "got bit",
    "i was bit on the hand by mole",
    "my finger is swelling up",
    "finger swollen after ink bit it",
    "my heart is racing after the bite",
    "muscle cramps since last night, bitten by ink on monday",
    "breathing funny after a bite",
    "throat feels tight after mole flicked hairs",
    "hairs in my throat, cant stop coughing",
    "kicked hairs, now i cant stop sneezing",
    "hairs in my nose",
    "got hairs stuck in my fingers",
    "how do i get hairs out of my skin",
    "urticating hairs on my neck, what helps",
    "a hair got in my eye",
    "my eye is red and sore after cleaning mole's tank",
    "my eyes are on fire",
    "something in my eye after moving mole",
    "mole haired me badly",
    "she haired my face",
    "been haired",
    "my toddler got into mole's enclosure and has red hands",
    "child bitten",
    "daughter touched the molt and now her fingers itch",
    "i handled the molt and my hands itch",
    "dog ate a molt",
    "the dog ate mole's shed skin, will he be ok",
    "the hamster was bitten",
    "ink bit my mate",
    "should i go to hospital, bitten by an OBT",
    "bitten by a pokie, cramps started",
    "pain spreading up my arm after ink bit me",
    "he got me with his fangs",
    "wet bite or dry bite? she got my knuckle",
    "allergic to the hairs, swollen lips",
    "my lip is swelling",
    "I feel dizzy after she bit me",
    "omg mole just launched hairs straight into my face",
    "my missus got tagged by Ink",
    "think i've got hairs under my contact lens",
    "two fang marks on my thumb, is that dangerous",
    "Ink got her fangs in me",
    "he latched onto my finger and wouldnt let go",
    "woke up with a swollen hand after feeding Mole bare handed",
    "my eye wont open",
    "itchy fingers since I cleaned mole out",
    "what do I do if a tarantula bites me",
    "is ink's venom dangerous, she just got me",
    "i think the kitten ate Ink",
    "puppy got a nose full of hairs",
    "been bitten by a pokie how bad is it",
    "having chest pains after the bite",
    "Ink bit me on the hand, no swelling",
    "just took a bite on the wrist from ink",
    "my little boy says the spider bit him",
    "the baby has hairs on her face",
    "bitten on the finger, tingling up to the elbow",
    "arm cramping",
    "skin's on fire where mole kicked",
    "wife's eyes are red since we rehoused mole",
    "Got a mouthful of hair from Mole",
    "inhaled mole hairs, wheezing",
    "red welts on my wrist from mole",
)

#: Of hairs, fangs, eyes and hands too, but of nobody hurt.
NOBODY_HURT = (
    "Ink bit the cricket in half",
    "mole kicked hairs at the tongs",
    "fed Ink, she bit the tongs hard",
    "Ink's abdomen is bald from kicking",
    "mole kicks hairs whenever i open the lid",
    "the cricket bit mole on the leg",
    "Ink was bitten by a superworm, small wound",
    "mole has a swollen abdomen",
    "Ink has hairs all over her web",
    "mole has laid a mat with hairs on it",
    "cleaned mole's tub with gloves so no hairs this time",
    "mole has kicked a bald patch",
    "fed Mole a bit of prekilled roach",
    "Ink is a bit fat",
    "mole ate, bit of a struggle",
    "watered Ink a bit",
    "hair kicking again from mole",
    "no bites so far",
    "never been bitten by Ink",
    "Ink threw up her legs but didn't bite",
    "bit late but fed Ink",
    "mole's fangs are black",
    "Ink's fangs still white",
    "the cat is watching Ink",
    "fed the dog and the spiders",
    "Ink ate the fly that stung",
    "mole rubbing hairs off",
    "Ink got burned? no just dark patch",
    "moulted, hairs new and shiny",
    "tagged Ink with a new label",
    "Ink tagged a cricket mid air",
    "she nailed that roach",
    "mole got the roach by its leg",
    "i was itching to feed them",
    "eyes look fine on mole",
    "her eyes look cloudy",
    "Ink's leg is numb looking, dragging",
    "help",
    "hurt leg on mole",
    "mole's foot is swollen",
    "mole's hairs are growing back",
    "Ink got me worried, not eating",
    "she got my heart racing when she bolted",
    "fed all by hand with tongs",
    "red knee ate 2 crickets",
    "my hand slipped, spilled mole's water",
    "itching to see Ink molt",
    "kid fed Ink a cricket today",
    "my daughter named the new sling Dot",
    "the doctor sling ate",
    "fed the cat then the spiders",
    "eye of the storm, all calm, all fed",
    "Mole has her fangs out but no bite",
    "Ink gave a threat pose, fangs and all",
    "got a mouthful of crickets for Ink",
    "Ink grabbed the roach by the face",
    "held Ink on my hand for a bit, calm",
    "Ink walked onto my hand",
    "mole walked up my arm",
    "my arms are tired after 40 waters",
    "flicked hairs into the water dish",
    "mole flicked hairs at her roach",
    "fed mole 3 red runners",
    "mole is hand sized now",
    "sore subject but Ink is still fasting",
    "dog crickets",
    "ate like a dog",
)


@pytest.mark.parametrize("text", HURT_IN_A_HURRY)
def test_somebody_hurt_who_writes_in_a_hurry_is_noticed(text):
    assert tells_of_harm(text, NAMES)


@pytest.mark.parametrize("text", NOBODY_HURT)
def test_talk_of_hairs_fangs_and_hands_brings_no_first_aid(text):
    assert not tells_of_harm(text, NAMES)


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("de", "Ink hat mich gebissen"),
        ("de", "wurde gerade gebissen!"),
        ("de", "bin von Mole in den Finger gebissen worden"),
        ("de", "Mole hat mir Haare ins Gesicht geschleudert"),
        ("de", "Haare im Auge"),
        ("de", "mein Auge brennt seit dem Umsetzen"),
        ("de", "Brennhaare an den Händen, es juckt furchtbar"),
        ("de", "der Hund hat Ink gefressen"),
        ("de", "die Katze wurde gebissen"),
        ("de", "meine Tochter hat Haare im Gesicht"),
        ("de", "Biss in den Daumen, was tun?"),
        ("de", "krieg kaum Luft"),
        ("de", "Mein Finger ist geschwollen nach dem Biss"),
        ("es", "Ink me ha mordido"),
        ("es", "me mordió Mole en la mano"),
        ("es", "tengo pelos en el ojo"),
        ("es", "Mole me ha lanzado pelos a la cara"),
        ("es", "me pica mucho la mano después de limpiar a Mole"),
        ("es", "mi perro se ha comido a Ink"),
        ("es", "el gato ha sido mordido"),
        ("es", "mi hija tiene la cara roja"),
        ("es", "no puedo respirar"),
        ("es", "mordedura de tarántula, ¿qué hago?"),
        ("es", "se me hincha el dedo"),
        ("de", "Mole bit me"),
    ],
)
def test_somebody_hurt_is_noticed_in_the_keepers_language_and_in_english(language, text):
    assert tells_of_harm(text, NAMES, language)


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("de", "Ink hat eine Schabe gefressen"),
        ("de", "Mole hat bombardiert"),
        ("de", "Ink hat das Heimchen gebissen"),
        ("de", "Mole hat einen kahlen Fleck, Haare fehlen"),
        ("de", "Ink wurde von einem Heimchen gebissen"),
        ("de", "alle gewässert"),
        ("de", "Mole trockene Luft im Terrarium"),
        ("es", "Ink ha comido un grillo"),
        ("es", "Mole no ha comido"),
        ("es", "Ink mordió la pinza"),
        ("es", "Mole se ha tirado pelos"),
        ("es", "Ink fue mordida por un grillo"),
        ("es", "agua para todas"),
        ("es", "Ink come como un perro"),
    ],
)
def test_an_ordinary_message_in_another_language_brings_no_first_aid(language, text):
    assert not tells_of_harm(text, NAMES, language)
