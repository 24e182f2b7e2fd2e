"""The last entry taken back or changed: "undo", "no, that was yesterday", "make it 3"."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from bot.reading.accounts.denials import denied_alone
from bot.reading.amends.amend_values import change
from bot.reading.amends.contrasts import but_was, contrasting, of_that_kind
from bot.reading.amends.cues import BREATHS, after_cues
from bot.reading.amends.regrets import before_regret
from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.model import FEEDING, Amend, Reading, ReadingKind
from bot.reading.questions.questions import wants_to_know
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

_TAKES_BACK: Final = frozenset({"undo", "amend", "chat"})


def amended(message: Message) -> Reading | None:
    """The change of the last entry that a message asks for, ``None`` where it asks for none."""
    if _has_run_out(message) or _no_more(message) or _which_number(message) or _counts_as_done(message):
        return None
    if message.cue_at("undo") is not None and not _says_more(message):
        if wants_to_know(message, message.first_word(range(len(message.tokens)))):
            return None  # "did I forget anyone"
        instead = _told_instead(message)
        if instead is not None:
            return instead
        return Reading(reading=ReadingKind.AMEND, amend=Amend(action="undo", kinds=_kinds_named(message)))
    rest = _starred(message) or after_cues(message)
    denied_now = denied_alone(message, rest) if rest is not None else None
    if denied_now is not None:
        return Reading(reading=ReadingKind.UNCLEAR, denies=denied_now)
    if rest is None:
        rest = before_regret(message)
    if rest is not None:
        return change(message, rest)
    contrast = contrasting(message)
    if contrast is not None:
        return of_that_kind(message, change(message, contrast), contrast)
    rest = but_was(message)
    return change(message, rest) if rest is not None else None


def _told_instead(message: Message) -> Reading | None:
    """ "never mind, turns out she refused it": behind the words that take back, what became of the meal."""
    end = max(message.cues[at][0] for at in message.cues_in("undo", range(len(message.tokens))))
    items = message.items([range(end, len(message.tokens))])
    verbs = [i.senses["verb"].group for i in items if "verb" in i.senses]
    hers = any("pron" in before.senses for before in items[:-1])
    if not hers or not verbs or any(g.noun or g.kind not in FEEDING for g in verbs):
        return None
    return change(message, range(end, len(message.tokens)))


def _has_run_out(message: Message) -> bool:
    """ "No crickets left in the box": what there is none of, and no "no, crickets" in an entry's place."""
    if _NO_ALONE.isdisjoint(message.keys[:1]):
        return False
    items = message.items([range(1, len(message.tokens))])
    prey = next((at for at, i in enumerate(items) if "prey" in i.senses), None)
    if prey is None or any(i.cat not in "W" for i in items[: prey + 1]):
        return False
    left = any(
        not i.senses.keys().isdisjoint(_TO_BE_HAD) for i in items[:prey]
    )  # "no quedan grillos", "no hay …"
    return left or any(i.cat == "W" and i.text in _USED_UP for i in items[prey + 1 :])


_NO_ALONE: Final = rule_words("no_alone")


def _starred(message: Message) -> range | None:
    """ "*refused", "*3 crickets": a star glued to a word or two, in whose place they are to stand."""
    size = len(message.tokens)
    starred = 1 < size <= _LONGEST_STARRED and message.tokens[0].text == "*" and not message.tokens[1].gap
    if not starred or any(token.kind == "mark" for token in message.tokens[1:]):
        return None
    items = message.items([range(1, size)])
    account = any(i.cat == "S" for i in items) and any(
        i.senses.verbs for i in items
    )  # "*Ink ate": a list's point
    return None if account else range(1, size)


_LONGEST_STARRED: Final = 4


def _no_more(message: Message) -> bool:
    """ "no more roaches", "no more than 2 for Ink": how much there is to be, and no word on an entry."""
    return not (_NO_ALONE.isdisjoint(message.keys[:1]) or _MORE.isdisjoint(message.keys[1:2]))


_NO_SHORT: Final = rule_words("no_for_number")
_MORE: Final = rule_words("more_or_longer")


def _counts_as_done(message: Message) -> bool:
    """ "That's the fossorials all watered now": what has been done, and no word on who an entry was of."""
    if _THATS.isdisjoint(message.keys[:1]):
        return False
    items = [i for i in message.items([range(len(message.tokens))]) if i.cat != "M" and "all" not in i.senses]
    return any(who.cat == "S" and _done_by_keeper(did) for who, did in pairwise(items))


def _done_by_keeper(item: Item) -> bool:
    return any(verb.group.keeper and not verb.group.base for verb in item.senses.verbs)


_THATS: Final = rule_words("that_is")


def _which_number(message: Message) -> bool:
    """ "No. 3 ate": which of some animals did, where "no, 3" puts a number right."""
    if (
        " ".join(message.keys[:2]) not in _NO_SHORT
        or message.tokens[1].gap
        or len(message.tokens) < _SHORTEST
    ):
        return False
    acts = message.phrases.get(3)
    if message.tokens[2].kind != "number" or acts is None:
        return False
    return any(s.cat == "verb" for s in acts[1])


#: The tokens of "no", ".", "3" and "ate".
_SHORTEST: Final = 4
_TO_BE_HAD: Final = frozenset({"leftover", "on_offer"})
_USED_UP: Final = rule_words("still_there")


def _spoken(message: Message) -> set[int]:
    """The tokens of the words that take back."""
    return {
        t
        for at, (end, senses) in message.cues.items()
        if any(s.cat in _TAKES_BACK for s in senses)
        for t in range(at, end)
    }


def _kinds_named(message: Message) -> frozenset[Kind]:
    """The kinds of entry that stand beside the words that take back: "cancel the weigh-in"."""
    spoken = _spoken(message)
    items = message.items([range(len(message.tokens))])
    return frozenset().union(*(item.senses.kinds for item in items if item.i not in spoken))


def _says_more(message: Message) -> bool:
    """Whether something is said beside the words that take back."""
    spoken = _spoken(message)
    whole = range(len(message.tokens))
    why = _reasons(message)
    return any(
        (i.cat in ("SDANT" if i.i in why else "SDAUNT") and i.text not in _YOU | BREATHS)
        or "prey" in i.senses
        for i in message.items([whole])
        if not spoken.issuperset(range(i.i, i.j))
    )


def _reasons(message: Message) -> range:
    """The tokens that only say why something is taken back: "…, I had the wrong spider altogether"."""
    whole = range(len(message.tokens))
    sentence = next((s for s in message.sentences(whole) if not message.cues_in("undo", s)), None)
    if sentence is not None:
        return sentence
    end = min(message.cues[at][0] for at in message.cues_in("undo", whole))
    comma = next((at for at in range(end, len(whole)) if message.tokens[at].text == ","), len(whole))
    return range(comma + 1, len(whole))


#: The bot, spoken to.
_YOU: Final = rule_words("you")
