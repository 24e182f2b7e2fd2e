"""The last entry taken back or changed: "undo", "no, that was yesterday", "make it 3"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from bot.reading.accounts.denials import denied_alone
from bot.reading.amends.amend_values import change, denied
from bot.reading.items.item import Item
from bot.reading.items.of_one_sort import sort_of
from bot.reading.message.parse import Message
from bot.reading.model import FEEDING, Amend, Earlier, Reading, ReadingKind
from bot.reading.orders.withheld import withholds
from bot.reading.questions.questions import wants_to_know
from bot.reading.words.lexicon import Sense
from bot.reading.words.rule_words import rule_openings, rule_words, rule_words_in_order
from bot.terms import Kind

_TAKES_BACK: Final = frozenset({"undo", "amend", "chat"})


def amended(message: Message) -> Reading | None:
    """The change of the last entry that a message asks for, ``None`` where it asks for none."""
    if _has_run_out(message) or _no_more(message) or _which_number(message):
        return None
    if message.cue_at("undo") is not None and not _says_more(message):
        if wants_to_know(message, message.first_word(range(len(message.tokens)))):
            return None  # "did I forget anyone"
        instead = _told_instead(message)
        if instead is not None:
            return instead
        return Reading(reading=ReadingKind.AMEND, amend=Amend(action="undo", kinds=_kinds_named(message)))
    rest = _starred(message) or _after_cues(message)
    denied_now = denied_alone(message, rest) if rest is not None else None
    if denied_now is not None:
        return Reading(reading=ReadingKind.UNCLEAR, denies=denied_now)
    if rest is None:
        rest = _before_regret(message)
    if rest is not None:
        return change(message, rest)
    contrast = _contrasting(message)
    if contrast is not None:
        return _of_that_kind(message, change(message, contrast), contrast)
    rest = _but_was(message)
    return change(message, rest) if rest is not None else None


def _of_that_kind(message: Message, changed: Reading | None, rest: range) -> Reading | None:
    """ "the molt was on the 12th, not the 13th": the change of an entry of the kind and day that it names."""
    if changed is None or changed.amend is None or changed.amend.changes.keys() != {"day"}:
        return changed
    kinds = frozenset().union(*(item.senses.kinds for item in message.items([range(rest.start)])))
    if not kinds:
        return changed
    kinds |= next((family for family in (FEEDING, _MOLTS) if family & kinds), frozenset())
    days = {item.val.day for item in message.items([rest]) if item.cat == "D"} - {
        changed.amend.changes["day"]
    }
    of = Earlier(kinds=tuple(kind for kind in Kind if kind in kinds), days=tuple(days - {None}))
    return replace(changed, amend=replace(changed.amend, of=of))


_MOLTS: Final = frozenset({Kind.MOLTED, Kind.MATURED})


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
    if _NO.isdisjoint(message.keys[:1]):
        return False
    items = message.items([range(1, len(message.tokens))])
    prey = next((at for at, i in enumerate(items) if "prey" in i.senses), None)
    if prey is None or any(i.cat not in "W" for i in items[: prey + 1]):
        return False
    left = any(
        not i.senses.keys().isdisjoint(_TO_BE_HAD) for i in items[:prey]
    )  # "no quedan grillos", "no hay …"
    return left or any(i.cat == "W" and i.text in _USED_UP for i in items[prey + 1 :])


_NO: Final = rule_words("no_alone")


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
    return not (_NO.isdisjoint(message.keys[:1]) or _MORE.isdisjoint(message.keys[1:2]))


_NO_SHORT: Final = rule_words("no_for_number")
_MORE: Final = rule_words("more_or_longer")


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


def _before_regret(message: Message) -> range | None:
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
        (i.cat == "X" and not _NOT.isdisjoint(i.text.split())) or denied(items, n, opens=False)
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
    if not _means(message, at) or not 0 < len(rest) <= _LONGEST_CONTRAST:
        return False
    said = [i for i in message.items([rest]) if i.cat != "M" and "a" not in i.senses]
    return len(said) == 2 and said[0].text in _NOT and bool(sort_of(said[1]))


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


def _contrasting(message: Message, start: int = 0) -> range | None:
    """ "yesterday, not today", "roach not cricket": nothing but one thing put in another's place."""
    everything = range(start, len(message.tokens))
    if len(everything) > _LONGEST_CONTRAST or _NOT.isdisjoint(message.keys[start:]):
        return None
    items = [i for i in message.items([everything]) if i.cat != "M"]
    if len(items) > 1 and items[-1].cat == "X" and items[-1].text.startswith(_NOT_SO) and items[0].cat == "S":
        return everything if len(items) == 2 and len(items[0].val.tags) == 1 else None  # "Dottie, not Dot"
    said = [i for i in items if not {"a", "the"} & set(i.senses)]
    event = len(said) > 1 and bool(said[0].senses.kinds) and said[1].text in _IT_WAS
    if event:  # "the molt was on the 12th, not the 13th"
        said, everything = said[1:], range(said[1].i, everything.stop)
    said = said[1:] if said[:1] and said[0].text in _IT_WAS else said  # "was 3 not 2"
    values = [i for i in said if sort_of(i)]
    nots = [i for i in said if "neg" in i.senses and i.text in _NOT]
    sorts = [sort_of(i) for i in values]
    one_sort = len(set(sorts)) == 1 or sorts == ["A", "N"]  # "45 g not 54"
    alone = len(said) == 3 and len(values) == 2 and len(nots) == 1 and nots[0] is not said[-1]
    return everything if alone and one_sort else None


_NOT_SO: Final = rule_openings("not")
_IT_WAS: Final = rule_words("was")
_NOT: Final = rule_words("not")
_LONGEST_CONTRAST: Final = 12


def _but_was(message: Message) -> range | None:
    """ "not today, it was Sunday": what is put in the place of what is denied before it."""
    everything = range(len(message.tokens))
    if len(everything) > _LONGEST_CONTRAST or not any(s.cat == "neg" for s in message.senses(0)):
        return None
    items = message.items([everything])
    values = [i for i in items if sort_of(i)]
    if len(values) != 2 or sort_of(values[0]) != sort_of(values[1]):
        return None
    said = [i for i in items if not (i.cat == "M" or i.senses.keys() & _WAS or i.text in _HAPPENED)]
    parted = any(i.cat == "M" for i in items if values[0].j <= i.i < values[1].i)
    return range(values[1].i, len(message.tokens)) if parted and said == values else None


_HAPPENED: Final = rule_words("happened")
_WAS: Final = frozenset({"did", "pron", "the", "a", "fill", "but", "neg"})


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
        (i.cat in ("SDANT" if i.i in why else "SDAUNT") and i.text not in _YOU | _BREATHS)
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


def _after_cues(message: Message) -> range | None:
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
    if tells and not (goes_on or _contrasting(message, end)):
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
    if message.keys[at] not in _NO or "neg" not in senses or end != at + 1 or behind is None:
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
    return message.keys[at] in _BREATHS and not _amends(message, at)


def _breath(message: Message) -> int:
    """Where "I am so sorry" at the head of a message ends."""
    end, senses = message.cues.get(0, (0, ()))
    return end if any(s.group.act == "breath" for s in senses) else 0


_BREATHS: Final = rule_words("breaths")


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
