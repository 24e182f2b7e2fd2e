"""Feeding prompts paused or gone on with, however it is put: words for prompts, and what becomes of them.

"Leave Twig off the feeding prompts", "turn Friday's nudges back on" and "quit pestering me to feed Sunny" are
one way: the words are data (``prompting`` and ``pausing`` in ``orders.yaml``, the rest in ``ideas.yaml``).
"""

from __future__ import annotations

from typing import Final

from bot.reading.message.parse import Message
from bot.reading.names.shelf_names import EXACT
from bot.reading.questions.ideas import Ideas, ideas_in
from bot.reading.words.rule_words import rule_words

HOLD: Final = "hold"
RESUME: Final = "resume"
#: Words that ask for something to be done rather than to know something.
_REQUESTS: Final = rule_words("requests")


def pausing_at(message: Message) -> int | None:
    """The place of the first words for feeding prompts or their pause, if any."""
    places = (message.cue_at("prompting"), message.cue_at("pausing"))
    return min((at for at in places if at is not None and not _harmless(message, at)), default=None)


def _harmless(message: Message, at: int) -> bool:
    """Whether the words are an animal's name, or only the end of some chatter: "no bother"."""
    chatter = (message.cues[place][0] for place in message.cues_in("chat", range(at)))
    return _named(message, at) or any(end > at for end in chatter)


def _named(message: Message, at: int) -> bool:
    """Whether the word is an animal's name: "Badger's flung moss about again" badgers nobody."""
    hits = message.names.phrases.get((message.keys[at],), ())
    return message.cues[at][0] == at + 1 and any(hit.how in EXACT for hit in hits)


def state_meant(message: Message, at: int, part: range) -> str | None:
    """ "hold" or "resume", where a part of a message asks for either; ``at`` is in it."""
    if _asks(message, part) or _tells(message, part):
        return None
    names = {n for i in message.items([part], "future") if i.cat == "S" for n in range(i.i, i.j)}
    ideas = ideas_in(message, part, names, set(), range(0))
    acts = {s.group.act for s in message.cues[at][1] if s.cat in {"prompting", "pausing"}}
    states = (_STATES[act](message, ideas, part) for act in acts if act in _STATES)
    return next((state for state in states if state is not None), None)


def _asks(message: Message, part: range) -> bool:
    first = message.first_word(part)
    if message.tokens[-1].text == "?" or first is None:
        return True
    return bool(message.cues_in("ask", range(first, first + 1))) and message.keys[first] not in _REQUESTS


def _tells(message: Message, part: range) -> bool:
    """ "the feeding round: all ate again": what was eaten, and by whom."""
    items = message.items([part], "future")
    verbs = (s.group for i in items for s in i.senses.values() if s.cat == "verb" and i.cat == "W")
    told = any(not (g.base or g.weak or g.noun or g.act == "skip") for g in verbs)
    return told or any("prey" in i.senses for i in items if i.cat == "W")


def _of_prompts(_message: Message, ideas: Ideas, _part: range) -> str | None:
    if "stop" in ideas.at:
        return HOLD
    if "go on" in ideas.at:
        return RESUME
    return HOLD if "leave off" in ideas.at else None


def _of_nagging(message: Message, ideas: Ideas, part: range) -> str | None:
    """ "nag me again on Sunday" asks for a reminder, "you can nag me again" for prompts."""
    if "stop" in ideas.at:
        return HOLD
    dated = any(i.cat in "DP" for i in message.items([part], "future"))
    return RESUME if "go on" in ideas.at and not dated else None


def _of_a_list(message: Message, ideas: Ideas, part: range) -> str | None:
    """ "Ink is back on the feeding list", "skip Ink in the feeding prompts"."""
    if message.keys[part.start] in _SKIPS:
        return HOLD
    return RESUME if {"go on", "put on"} & ideas.at.keys() else None


def _as_due(message: Message, _ideas: Ideas, part: range) -> str | None:
    """ "don't list Ink as due until 1 July"."""
    first = message.first_word(part)
    asks = first is not None and message.keys[first] in _REFUSES and message.keys[first + 1] in _LISTS
    return HOLD if asks else None


_SKIPS: Final = rule_words("skip")
_REFUSES: Final = rule_words("do_not")
_LISTS: Final = rule_words("lists_them")


def _off_a_list(_message: Message, _ideas: Ideas, _part: range) -> str | None:
    return HOLD


def _of_a_pause(_message: Message, ideas: Ideas, _part: range) -> str | None:
    return RESUME if "end of it" in ideas.at else None


_STATES: Final = {
    "prompts": _of_prompts,
    "nag": _of_nagging,
    "on a list": _of_a_list,
    "off a list": _off_a_list,
    "as due": _as_due,
    "pause": _of_a_pause,
}
