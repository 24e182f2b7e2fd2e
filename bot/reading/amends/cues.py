"""What follows the words that say that something was wrong: "no, that was yesterday", "make it 3"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.amends.contrasts import contrasting
from bot.reading.items.item import Item
from bot.reading.items.of_one_sort import sort_of
from bot.reading.message.parse import Message
from bot.reading.orders.withheld import withholds
from bot.reading.words.lexicon import Sense
from bot.reading.words.rule_words import rule_openings, rule_words


def after_cues(message: Message) -> range | None:
    """What follows the words that say that something was wrong, if the message begins with such."""
    if not message.cues_in("amend", range(len(message.tokens))):
        return None
    at = next((t for t in range(len(message.tokens)) if not _interjected(message, t) or _says(message, t)), 0)
    at = _after_taking_back(message, at)
    asks = message.tokens[-1].text == "?" and any(s.cat == "did" for s in message.senses(at))
    if not _amends(message, at) or asks:  # "fue Ink la que comió?"
        return None
    account = message.phrases.get(at)
    end, (began, *_) = message.cues[at]
    tells_of_a_deed = _denies_what_was_done(message, at, end) or _put_off(message, at, end)
    if _heads_nothing(message, at, end) or tells_of_a_deed:
        return None
    tells = account is not None and account[0] >= end and any(s.cat == "verb" for s in account[1])
    goes_on = _goes_on_with_a_pronoun(message, end) or _goes_on_amending(message, end)
    if tells and not (goes_on or contrasting(message, end)):
        return None
    if account is not None and account[0] > message.cues[at][0] and _says_no_more(account[1]):
        return None  # "no sign of Mole", "no idea who ate"
    while at < len(message.tokens) and (message.tokens[at].text in ",:–-.!" or _amends(message, at)):
        if withholds(message, at):
            return None
        at = message.cues[at][0] if _amends(message, at) else at + 1
    rest = range(at, len(message.tokens))
    items = message.items([rest])
    if _is_news(items, began.words):
        return None
    if not rest or message.cue_at("remind") is not None or message.cue_at("hold") is not None:
        return None
    return rest


_SAYS_WHAT_WAS: Final = rule_words("says_what_was")


def _is_news(items: Sequence[Item], began: str) -> bool:
    """Whether what stands behind words that put right puts nothing right."""
    of_the_room = began in _BEGAN and _of_the_room(items)
    return _cleft(items) or of_the_room or (began in _SAYS_WHAT_WAS and _exclaims(items))


def _exclaims(items: Sequence[Item]) -> bool:
    """ "that's my Friday night ruined", "they were out of crickets so I bought 30": no word on an entry."""
    bought = any("buy" in item.senses.acts for item in items)
    whose = bool(items) and (items[0].text in _MY or "a" in items[0].senses)
    day = next((n for n, item in enumerate(items) if item.cat == "D"), None)
    return bought or (whose and day is not None and not any(sort_of(i) for i in items[:day]))


_MY: Final = rule_words("my")


def _denies_what_was_done(message: Message, at: int, end: int) -> bool:
    """ "no regué la C": a word that is "no" and "not", right before what was not done."""
    senses = {s.cat for s in message.senses(at)}
    behind = message.phrases.get(end)
    if message.keys[at] not in _NO_ALONE or "neg" not in senses or end != at + 1 or behind is None:
        return False
    verbs = [s.group for s in behind[1] if s.cat == "verb"]
    return bool(verbs) and not any(group.noun or group.base for group in verbs)


def _put_off(message: Message, at: int, end: int) -> bool:
    """ "meant to water shelf D yesterday": what was to be done, where "meant to say D" puts right."""
    meant = (message.phrases.get(place, (place, ()))[1] for place in range(at, end))
    undone = any(s.cat == "undone" for senses in meant for s in senses)
    behind = message.phrases.get(end + (not _TO.isdisjoint(message.keys[end : end + 1])))
    return undone and behind is not None and any(s.cat == "verb" and s.group.base for s in behind[1])


_TO: Final = rule_words("to")
_NO_ALONE: Final = rule_words("no_alone")


def _heads_nothing(message: Message, at: int, end: int) -> bool:
    """ "error in the scale": a word that says that something was wrong only as a heading, "error: …"."""
    headed = any(s.group.act == "headed" for s in message.cues[at][1])
    return headed and (end >= len(message.tokens) or message.tokens[end].text not in _BEHIND_HEADING)


_BEHIND_HEADING: Final = frozenset(":,–-.!")


def _says_no_more(senses: Sequence[Sense]) -> bool:
    """Whether a longer phrase denies or doubts something by itself, or only leads on: "sorry to say that"."""
    if all(s.cat == "fill" for s in senses):
        return True
    return any(s.cat in {"neg", "undone", "hedge", "which"} or s.group.act == "unknown" for s in senses)


def _cleft(items: Sequence[Item]) -> bool:
    """ "it was ten days ago that Mint molted": news, told with its day in front."""
    said = [i for i in items if i.cat != "M" and not ("fill" in i.senses and i.cat == "W")]
    if _who_it_was(items):
        return True
    if len(said) < len(("day", "whom", "what")) or said[0].cat != "D":
        return False
    behind = items[items.index(said[0]) + 1 :]
    if behind[0].text in _WHEN:  # "it was Monday evening when I fed Ink"
        return any(i.cat == "S" for i in behind) and any(i.senses.verbs for i in behind)
    return said[1].text.startswith(_THAT) and "verb" in said[2].senses


_THAT: Final = rule_openings("that")
_BEGAN: Final = rule_words("it_was_alone")
_WHEN: Final = rule_words("when_or_that")


def _of_the_room(items: Sequence[Item]) -> bool:
    """ "it was only 19 in the room this morning": how warm it was there, and no word on an entry."""
    warm = any(i.cat == "A" and i.val.dimension == "temperature" for i in items)
    return warm and any("room" in i.senses for i in items)


def _who_it_was(items: Sequence[Item]) -> bool:
    """ "it was (either) Sunny or Saffron that refused": news of one of them; "it was Sunny" may be none."""
    at = next((n for n, i in enumerate(items) if not (i.cat == "S" or "or" in i.senses)), len(items))
    named = sum(i.cat == "S" for i in items[:at]) > 1
    behind = items[at : at + 2]
    return named and len(behind) > 1 and behind[0].text in _WHO and bool(behind[1].senses.verbs)


_WHO: Final = rule_words("that_or_who")


def _after_taking_back(message: Message, at: int) -> int:
    """ "undo that, it was Ink": where the correction begins behind the words that take back; else ``at``."""
    end, senses = message.cues.get(at, (at, ()))
    if not any(s.cat == "undo" for s in senses):
        return at
    while end < len(message.tokens) and message.tokens[end].kind == "mark":
        end += 1
    return end if _amends(message, end) else at


def _interjected(message: Message, at: int) -> bool:
    """A mark, or a word that only draws breath: "oh that was Thursday", "I'm sorry, that was Ink"."""
    if message.tokens[at].kind == "mark" or at < _breath(message):
        return True
    return message.keys[at] in BREATHS and not _amends(message, at)


def _breath(message: Message) -> int:
    """Where "I am so sorry" at the head of a message ends."""
    end, senses = message.cues.get(0, (0, ()))
    return end if any(s.group.act == "breath" for s in senses) else 0


BREATHS: Final = rule_words("breaths")


def _goes_on_with_a_pronoun(message: Message, at: int) -> bool:
    """ "nope, she spat it out" denies what was told, "nope" alone is an outcome."""
    at = _past_dashes(message, at)
    senses = message.senses(at) if at < len(message.keys) else ()
    return any(s.cat == "pron" for s in senses)


def _goes_on_amending(message: Message, at: int) -> bool:
    """ "nope, that was last night"."""
    at = _past_dashes(message, at)
    return at < len(message.tokens) and _amends(message, at) and message.cues[at][0] > at + 1


def _past_dashes(message: Message, at: int) -> int:
    """The first token from ``at`` on that is no comma and no dash."""
    while at < len(message.tokens) and message.tokens[at].text in ",–-":
        at += 1
    return at


def _says(message: Message, at: int) -> bool:
    """ "so sorry to report that …": a phrase of the account that only begins like a breath."""
    found = message.phrases.get(at)
    return found is not None and found[0] > at + 1 and all(s.cat == "fill" for s in found[1])


def _amends(message: Message, at: int) -> bool:
    return message.is_cue(at, "amend")
