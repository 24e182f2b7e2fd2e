"""A regret behind what is meant: "Sunny, not Ink, sorry", "hopper I meant", "span was 8 cm, typo"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.amends.amend_values import denied
from bot.reading.amends.contrasts import LONGEST_CONTRAST, NOT
from bot.reading.items.item import Item
from bot.reading.items.of_one_sort import sort_of
from bot.reading.message.parse import Message
from bot.reading.model import FEEDING
from bot.reading.words.rule_words import rule_words, rule_words_in_order


def before_regret(message: Message) -> range | None:
    """ "Sunny, not Ink, sorry", "she took two actually", "span was 8 cm, typo": what is before the regret."""
    regrets = message.cues_in("amend", range(len(message.tokens)))
    if not regrets or regrets[0] == 0:
        return None
    last = max((t for t in range(len(message.tokens)) if message.tokens[t].kind != "mark"), default=0)
    at = next((t for t in regrets if t <= last < message.cues[t][0] or _meant_not(message, t)), None)
    if at is None:
        return None
    items = message.items([range(at)])
    if _meant_instead(message, items, at):
        return range(at)
    put_right = any(
        (i.cat == "X" and not NOT.isdisjoint(i.text.split())) or denied(items, n, opens=False)
        for n, i in enumerate(items)
    )
    return range(at) if put_right or _of_the_last(message, items, at) else None


def _meant_instead(message: Message, items: Sequence[Item], at: int) -> bool:
    """ "Dottie I mean", "hopper I meant": an animal's name or one value, and nothing else before it."""
    said = [item for item in items if item.cat != "M" and "a" not in item.senses]
    if not _means(message, at) or len(said) != 1:
        return False
    return len(said[0].val.tags) == 1 if said[0].cat == "S" else bool(sort_of(said[0]))


def _means(message: Message, at: int) -> bool:
    return any(s.words.startswith(_I_MEAN) for s in message.cues[at][1])


def _meant_not(message: Message, at: int) -> bool:
    """ "hopper I meant, not cricket": behind what was meant, what was not."""
    rest = range(message.cues[at][0], len(message.tokens))
    if not _means(message, at) or not 0 < len(rest) <= LONGEST_CONTRAST:
        return False
    said = [i for i in message.items([rest]) if i.cat != "M" and "a" not in i.senses]
    return len(said) == 2 and said[0].text in NOT and bool(sort_of(said[1]))


_I_MEAN: Final = rule_words_in_order("i_mean")


#: Small words that stand for what was just told: "it was 8 cm, typo", "only two of them, sorry".
_OF_THE_LAST: Final = frozenset({"pron", "the", "span", "weight", "carapace", "temp", "humid"})


def _of_the_last(message: Message, items: Sequence[Item], at: int) -> bool:
    """Whether words before a regret are about what was told last: nobody is named in them, and no day."""
    said = [i for i in items if i.cat != "M"]
    if not said or any(i.cat in "SXUT" for i in said) or message.tokens[-1].text == "?":
        return False
    values = any(i.cat in "AN" or not {"prey", "size"}.isdisjoint(i.senses) for i in said)
    verbs = [s.group for i in said for c, s in i.senses.items() if c == "verb" and not s.group.noun]
    of_a_meal = bool(verbs) and all(group.kind in FEEDING for group in verbs)
    own = any(s.words in _OWN_REGRET for s in message.cues[at][1])
    told = of_a_meal or (values and (not verbs or own))
    return told and (not _OF_THE_LAST.isdisjoint(said[0].senses) or (own and said[0].cat == "A"))


#: Regrets that are about the writing, so that what is before them is surely put right.
_OWN_REGRET: Final = rule_words("own_regret")
