"""What a group of the lexicon's words may say: its category, and what goes with every phrase of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from pydantic import BaseModel, ConfigDict, field_validator

from bot.terms import Kind, PreySize, SacEvent, WaterHow

#: What a group of words may be, and what that is to the grammar.
CATEGORIES: Final[Mapping[str, str]] = {
    "verb": "tells what happened",
    "prey": "a feeder animal",
    "size": "the size of a feeder",
    "prekilled": "the feeder was dead already",
    "ones": "stands for the prey just named",
    "feeder_food": "what is given to feeder insects, not to a specimen",
    "neg": "turns what follows round",
    "elided": "a denial that may stand for the whole of what was just said",
    "undone": "not done, or not yet",
    "hedge": "not known for sure",
    "believed": "thought at the time, and perhaps not so",
    "which": "it is not known which of them",
    "bound": "says of a figure that it may have been more or fewer",
    "leftover": "part of a meal that was not eaten",
    "future": "yet to come, or meant to",
    "habit": "as a rule, not once",
    "cond": "only if",
    "report": "somebody else's words or animals",
    "did": "makes a bare verb past",
    "pron": "stands for an animal just named",
    "self": "the keeper",
    "seen": "seen of an animal, in words that elsewhere tell of something else",
    "except": "takes the following animals out",
    "but": "takes the following animals out, or begins a new clause",
    "with": "joins a second animal or a helper",
    "on": "says where",
    "from": "says where it came from",
    "to": "says where it goes",
    "for": "says what came in return",
    "away": "from where it was",
    "rel": "begins what is said of the one just named",
    "other": "the second of two just named",
    "turned": "says that it was the other way round",
    "when": "says by another event when it was",
    "than": "says whom another is only compared with",
    "of": "part of",
    "the": "article",
    "a": "article for one",
    "some": "article for an amount not counted",
    "and": "joins",
    "or": "either",
    "then": "begins a new clause",
    "so": "begins what follows from it",
    "same": "as said before",
    "same_day": "on the day that was told before",
    "each": "for each",
    "all": "the whole of a group",
    "both": "two of them",
    "everyone": "every animal",
    "portion": "only a part of a group",
    "rest": "those not named yet",
    "one": "stands for an animal described",
    "group": "a word for animals by stage, sex or habit",
    "trait": "a word that describes an animal",
    "animal": "a tarantula, whichever",
    "yes": "it did",
    "no": "it did not",
    "none_of": "denies the things named behind it",
    "fix": "takes back what was just said within the message",
    "room": "the room of the animals",
    "tally": "heads those to whom something was done, by its noun",
    "occasion": "a round of feedings, or what was written down of it",
    "noun": "a thing in or of an enclosure, or a part of an animal",
    "sign": "something seen that no other kind holds",
    "span": "names a leg span",
    "carapace": "names a carapace length",
    "weight": "names a weight",
    "temp": "names a temperature",
    "humid": "names a humidity",
    "still": "as before",
    "nomore": "no longer as before",
    "ask": "begins or makes a question",
    "topic": "what a question is about",
    "idea": "what the words of a question turn on, in whatever order they come",
    "remind": "asks to be told later",
    "hold": "asks for feeding prompts to pause",
    "resume": "asks for feeding prompts to go on",
    "prompting": "the feeding prompts, or what they do to the keeper",
    "pausing": "a pause of feeding prompts",
    "undo": "takes the last entry back",
    "amend": "says that the last entry is wrong",
    "unlog": "takes an entry back that is named behind it",
    "takes_off": "takes an entry back, together with words for the record",
    "off_record": "says that an entry goes from the record",
    "relog": "changes an entry that is named behind it",
    "turns_into": "stands between an entry and what it should say",
    "on_record": "an entry, whichever",
    "begs": "asks politely for an entry to be taken back or changed",
    "chat": "chatter",
    "stranger": "an animal that is none of the shelf, whatever it is called",
    "idle": "what is done or thought of an animal that is no matter of the journal",
    "danger": "shows that words are not about one event of one animal",
    "rank": "one of those named before, by its place among them",
    "ordinal": "picks one of the answers offered",
    "neither": "takes none of the answers offered",
    "dur": "a length of time that dates nothing",
    "weather": "weather",
    "elsewhere": "where no animal of the shelf is: outside, in the fridge",
    "people": "people",
    "market": "where animals are sold",
    "on_offer": "says of what is for sale that it is to be had, not that it was bought",
    "fill": "harmless",
}


#: Categories that make a message other than a plain account; looked up apart, over the words of the account.
CUES: Final = frozenset(
    {
        "ask",
        "topic",
        "remind",
        "hold",
        "resume",
        "prompting",
        "pausing",
        "undo",
        "amend",
        "chat",
        "ordinal",
        "neither",
    }
)
SIGNS: Final = frozenset({"sign"})
IDEAS: Final = frozenset({"idea"})
#: What is said of an entry on record; looked up apart as well.
EARLIER: Final = frozenset({"unlog", "takes_off", "off_record", "relog", "turns_into", "on_record", "begs"})


class Group(BaseModel):
    """One group of a lexicon file, as it is written there."""

    model_config = ConfigDict(extra="forbid")

    is_: str
    say: list[str]
    example: str = "{}"
    kind: Kind | None = None
    weak: bool = False
    noun: bool = False
    base: bool = False
    split: bool = False
    keeper: bool = False
    act: str | None = None
    how: WaterHow | None = None
    event: SacEvent | None = None
    sex: str | None = None
    stage: str | None = None
    habit: str | None = None
    prey: str | None = None
    plural: bool = False
    size: PreySize | None = None
    topic: str | None = None
    about: Kind | None = None
    part: str | None = None
    count: int | None = None

    @field_validator("is_")
    @classmethod
    def _known(cls, value: str) -> str:
        if value not in CATEGORIES:
            raise ValueError(f"{value!r} is no category; one of: {', '.join(CATEGORIES)}")
        return value
