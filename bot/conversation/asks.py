"""A question before anything is stored: the doubt in one sentence, the choices as buttons.

The question lives in the stored prompt with everything needed to go on from the answer, so a
restart loses nothing. It can be answered by a button or in words; other words are a new message,
and the question stays open.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import Any, Final

from bot.conversation import guided, rights, wording
from bot.conversation.log import Storing, beside, store
from bot.conversation.model import Reply
from bot.conversation.texts import has, say, say_of
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading import read_answer, reading_from_store, reading_to_store
from bot.reading.model import About, Ask, Option, Reading, ReadingKind
from bot.reading.short_answers import is_no, is_yes
from bot.terms import Kind
from storage.records import Prompt

_MOST_CHOICES: Final = 12

#: Doubts of the reading that answer one of the journal's checks as well, so that it is asked once.
_SAME_DOUBT: Final = {"mature_male_molts": "male_molt"}
_WORDS_SHOWN: Final = 60
_PARTS: Final = re.compile(r"(.+?)\s*\((.+)\)")
"""A button for a day, an animal, so many of them: "yesterday (Thu 14 May)", "Nib (B3)", "those due (4)"."""

#: So long after a question what is typed may be its answer; later it is taken by button or by reply only.
_TYPED_WITHIN: Final = timedelta(hours=12)

#: Once something else was said, only so short a message is still taken for the answer: "Ink", "the 3rd".
_MOST_WORDS_LATER: Final = 2


def ask(turn: Turn, reading: Reading, how: Storing | None = None) -> list[Reply]:
    """Words the doubt of a reading, with a button for each choice and one for none of them.

    What stands beside it and is not in doubt is done; another question beside it is asked before it.
    """
    assert reading.ask is not None
    done = rights.refused_reading(turn, reading) or beside(turn, reading, None)
    how = how or Storing.of_message(turn)
    if reading.ask.doubt in _SAME_DOUBT:
        how = replace(how, passed=(*how.passed, _SAME_DOUBT[reading.ask.doubt]))
    options = reading.ask.options[:_MOST_CHOICES]
    choices = [
        Choice(
            _label(turn, reading.ask, option),
            {"do": "take", "reading": reading_to_store(option.reading), **how.to_store()},
        )
        for option in options
    ]
    width = 2 if max((len(choice.label) for choice in choices), default=0) <= 16 else 1
    rows = rows_of(choices, width)
    if choices:
        rows.append([Choice(say("button.none_of_these"), {"do": "none"})])
    pending = {"reading": reading_to_store(reading), **how.to_store()}
    sentence = _sentence(turn, reading.ask, bool(choices), beside=reading == turn.reading.beside)
    waiting = guided.waiting_name(turn)
    if waiting and waiting.casefold() in reading.text.casefold():
        sentence = say("add.not_yet", who=waiting)
    return [*done, turn.reply(sentence, rows, pending=pending)]


def _sentence(turn: Turn, doubt: Ask, with_choices: bool, *, beside: bool) -> str:
    words = _as_written(turn.incoming.text, doubt.words)
    words = words if len(words) <= _WORDS_SHOWN else words[:_WORDS_SHOWN] + "…"
    if has("ask.doubt", doubt.doubt):
        sentence = say_of("ask.doubt", doubt.doubt, words=words)
    else:
        sentence = say_of("ask.about", doubt.about.value, words=words)
    if with_choices:
        how = say("ask.tap_or_type_beside") if beside else say("ask.tap_or_type")
    else:
        how = say_of("ask.type", doubt.doubt if has("ask.type", doubt.doubt) else doubt.about.value)
    return f"{sentence} {how}"


def _as_written(text: str, words: str) -> str:
    """The words as the keeper wrote them, capitals and all, where they stand in the message."""
    at = text.lower().find(words.lower())
    return text[at : at + len(words)] if at >= 0 else words


def _label(turn: Turn, doubt: Ask, option: Option) -> str:
    return _LABELS[doubt.about](turn, option.value)


def _day_label(turn: Turn, value: str) -> str:
    try:
        return wording.day_in_full(date.fromisoformat(value), turn.today)
    except ValueError:  # not a single day: "3 weeks"
        return value


def _kind_label(_turn: Turn, value: str) -> str:
    return say_of("told", value) if value in set(Kind) else value


_LABELS: Final[dict[About, Callable[[Turn, str], str]]] = {
    About.SPECIMEN: lambda turn, value: turn.called(value),
    About.KIND: _kind_label,
    About.DAY: _day_label,
    About.AMOUNT: lambda _turn, value: value,
    About.PREY: lambda _turn, value: value,
}


_OF_NUMBERS: Final = frozenset({About.AMOUNT, About.DAY, About.SPECIMEN})

#: A message that says one of these by itself is a new message, never an answer.
_OWN_MATTER: Final = frozenset(
    {ReadingKind.ENTRIES, ReadingKind.QUESTION, ReadingKind.REMINDER, ReadingKind.HOLD}
)


# --- answers --------------------------------------------------------------------------------


def open_ask(turn: Turn) -> Prompt | None:
    """The question that typed words may answer: the one replied to, else the last one still open."""
    number = turn.dialog.get("open")
    if turn.incoming.reply_to:
        prompt = turn.work.prompts.by_message(turn.keeper.id, turn.chat, turn.incoming.reply_to)
    else:
        prompt = turn.work.prompts.get(number) if number is not None else None
    if prompt is None or prompt.answered_at is not None or prompt.pending is None:
        return None
    stale = turn.incoming.reply_to is None and turn.incoming.sent_at - prompt.at > _TYPED_WITHIN
    return None if stale else prompt


def typed_answer(turn: Turn) -> list[Reply] | None:
    """The message as the answer to the open question; ``None`` where it is none, and the question stays."""
    prompt = open_ask(turn)
    if prompt is None or prompt.pending is None:
        return None
    action = _typed_button(turn.incoming.text, prompt, turn.settings.language) or _typed_number(turn, prompt)
    if action is not None:
        close(turn, prompt)
        return turn.presses[action["do"]](turn, prompt, action)
    if _takes_back(turn.reading):
        return None
    if _is_own_matter(turn.reading) and not _asks_when(prompt):
        turn.remember(passed=prompt.number)
        return None
    passed_over = not turn.incoming.reply_to and not just_asked(turn, prompt)
    too_much = passed_over and len(turn.incoming.text.split()) > _MOST_WORDS_LATER
    if "reading" not in prompt.pending or too_much:
        return None
    doubt = reading_from_store(prompt.pending["reading"]).ask
    answered = (
        read_answer(
            turn.incoming.text,
            doubt,
            turn.shelf.names,
            now=turn.now,
            settings=turn.settings,
            alone=passed_over,
        )
        if doubt
        else None
    )
    if answered is None:
        return None
    close(turn, prompt)
    if answered.reading is ReadingKind.UNCLEAR:
        return [turn.reply(say("ask.none_taken"))]
    return carry_on(turn, answered, Storing.from_store(prompt.pending))


def _asks_when(prompt: Prompt) -> bool:
    """Whether it is asked when to remind: "tomorrow" by itself would ask who is due then."""
    stored = (prompt.pending or {}).get("reading")
    doubt = reading_from_store(stored).ask if stored else None
    return doubt is not None and doubt.doubt == "remind_when"


def offers(turn: Turn, text: str) -> bool:
    """Whether a text is one of the answers that the open question offers."""
    prompt = open_ask(turn)
    return prompt is not None and _typed_button(text, prompt, turn.settings.language) is not None


def just_asked(turn: Turn, prompt: Prompt) -> bool:
    """Whether nothing was said since that passed the question over."""
    return turn.dialog.get("passed") != prompt.number


def _takes_back(reading: Reading) -> bool:
    return reading.amend is not None and reading.amend.action == "undo" and reading.amend.of is None


def _is_own_matter(reading: Reading) -> bool:
    """Whether a message says something by itself. "No, Rust" may be an answer."""
    of_an_older_one = reading.amend is not None and reading.amend.of is not None
    return reading.reading in _OWN_MATTER or of_an_older_one


def _typed_button(text: str, prompt: Prompt, language: str) -> Mapping[str, Any] | None:
    """The button whose label was typed, or which stands for yes or no."""
    said = text.strip().casefold().rstrip(".!")
    word = "yes" if is_yes(text, language) else "no" if is_no(text, language) else None
    for action in prompt.actions:
        if said in _ways_to_type(action.get("label", "").casefold()):
            return action
        if word and action.get("word") == word:
            return action
    return None


def _typed_number(turn: Turn, prompt: Prompt) -> Mapping[str, Any] | None:
    """The button of that place, where a bare number can be nothing else: a tag, an amount, a guided step."""
    said = turn.incoming.text.strip().rstrip(".")
    if not said.isdecimal() or len(said) > 2 or said in turn.shelf.by_tag or turn.dialog.get("step"):
        return None
    if not just_asked(turn, prompt) or not 0 < int(said) <= len(prompt.actions):
        return None
    stored = prompt.pending.get("reading") if prompt.pending else None
    doubt = reading_from_store(stored).ask if stored else None
    return None if doubt and doubt.about in _OF_NUMBERS else prompt.actions[int(said) - 1]


def _ways_to_type(label: str) -> list[str]:
    """A label as it stands, and each of its two parts; how many it is for is typed by nobody."""
    figure, _, unit = label.partition(" ")
    if unit and figure.replace(".", "").isdecimal():
        return [label, label.replace(" ", ""), unit]  # "9.5 cm" is answered by "cm"
    parts = _PARTS.fullmatch(label)
    return [label, *(part for part in parts.groups() if not part.isdecimal())] if parts else [label]


def carry_on(turn: Turn, reading: Reading, how: Storing, *, in_place: bool = False) -> list[Reply]:
    """Goes on from an answer: another question, or the thing itself."""
    if reading.reading is ReadingKind.ASK:
        return ask(turn, reading, how)
    if reading.reading is ReadingKind.ENTRIES:
        return store(turn, reading, how, in_place=in_place)
    return turn.readings[reading.reading](turn, reading)


def close(turn: Turn, prompt: Prompt) -> None:
    """The question is answered: its buttons act no more."""
    turn.work.prompts.answered(prompt.number, at=turn.incoming.sent_at)
    if turn.dialog.get("open") == prompt.number:
        turn.remember(open=None)


def pressed_take(turn: Turn, prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A choice was pressed: what it stands for is carried out as if it had been said."""
    close(turn, prompt)
    return carry_on(turn, reading_from_store(action["reading"]), Storing.from_store(action), in_place=True)


def pressed_none(turn: Turn, prompt: Prompt, _action: Mapping[str, Any]) -> list[Reply]:
    """None of the choices is meant: nothing is stored, and the keeper is told how to say it."""
    close(turn, prompt)
    return [turn.reply(say("ask.none_taken"), in_place=True)]


def close_asks_of(turn: Turn) -> Storing | None:
    """Closes the open question that the message raised before it was edited; how it was to be stored."""
    prompt = open_ask(turn)
    if prompt is None or prompt.pending is None or prompt.pending.get("origin") != turn.origin:
        return None
    close(turn, prompt)
    return Storing.from_store(prompt.pending)
