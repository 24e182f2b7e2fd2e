"""What the keeper wants to know: a table from the words of a question to its topic."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.model import Question, Reading, ReadingKind, Topic
from bot.reading.questions.asked_of import asked_of, since_somebody_acted
from bot.reading.questions.ideas import Ideas, ideas_in, may_name_a_matter, names_a_matter
from bot.reading.questions.made import question_of
from bot.reading.questions.plans import names_whom_last, plans, says_what_was
from bot.reading.questions.stretches import stretch_ahead, stretch_in
from bot.reading.questions.topics import Heard
from bot.reading.words.lexicon import Sense
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: Words that ask for one event, whatever else is said of the time: "her last molt, was it in May".
_LATEST: Final = rule_words("latest")
_OPENING: Final = frozenset(
    {"last", "history", "status", "due", "shopping", "next_molt", "species_summary", "count", "where"}
)


def question_in(message: Message, sentence: range) -> Reading | None:
    """The question that a sentence asks, ``None`` where it asks none or none that is known."""
    marked = message.tokens[sentence.stop - 1].text == "?" or _yes_or_no(message, sentence)
    first = message.first_word(sentence)
    if not (marked or _may_ask(message, first, sentence)) or _small_talk(message, sentence):
        return None
    if _presents(message, sentence):
        return None
    items = since_somebody_acted(message, message.items([sentence]))
    if _thinks_so(items):
        return None
    told = any(_not_known_yet(item) or _read_otherwise(message, item) for item in items)
    told = told or _denies(message, first) or _did_some(message, first, items) or _answers_itself(items)
    if not marked and (told or _heads_an_occasion(message, sentence, items)):
        return None
    names, days = _taken_by(items, "S", message), _taken_by(items, "D", message)
    lasting = _taken_by(items, "P", message)
    asking = range(0) if first is None or first in names | days else asking_at(message, first)
    turned = first is not None and begins_turned(message, first)
    if (
        turned
        and not marked
        and first is not None
        and (names_whom_last(items, first) or _dated(items, first))
    ):
        return None
    plain = first is not None and not turned and plans(message, first, items)
    tells = plain or (first is not None and says_what_was(message, first))
    if tells and not (marked or len(asking) > 1):
        return None
    cues = _cues_in(message, sentence, names | days | lasting)
    opens = (
        marked
        or bool(asking)
        or _asks_last(message, sentence)
        or _opens(message, sentence, first, cues, items)
    )
    if not (opens or may_name_a_matter(message, sentence)):
        return None
    periods = days | lasting
    ideas = ideas_in(message, sentence, names, periods, asking if len(asking) > 1 else range(0))
    if not (opens or _matter(message, sentence, cues, items, ideas)):
        return None
    latest = any(s.cat == "topic" and s.words in _LATEST for at, s in cues if at not in periods)
    heard = Heard(
        {s.group.topic for _, s in cues if s.cat == "topic" and s.group.topic},
        items,
        asked_of(message, sentence, items),
        stretch_in(items, message.settings.language, message.today),
        ideas,
        asking if len(asking) > 1 else range(0),
        message.today,
        latest=latest,
    )
    asked = question_of(heard, message.names)
    if asked is not None and asked.topic in {Topic.DUE, Topic.SHOPPING}:
        asked = _due_when(message, sentence, asked)
    return Reading(reading=ReadingKind.QUESTION, question=asked) if asked is not None else None


def _yes_or_no(message: Message, sentence: range) -> bool:
    """ "Captain due a feed or nah": whether a matter is named, and behind it no more than "or not"."""
    either = message.keys[sentence.start : sentence.stop][-2:]
    asks = len(either) > 1 and either[0] == "or" and either[1] in _OR_NOT
    return asks and not _DUE.isdisjoint(message.keys[sentence.start : sentence.stop])


_OR_NOT: Final = rule_words("or_not")
_DUE: Final = rule_words("due")


def _small_talk(message: Message, sentence: range) -> bool:
    """ "what time is it": no question about an animal, though "it" could be one."""
    for at in message.cues_in("chat", sentence):
        end, senses = message.cues[at]
        if any(s.group.act == "small talk" for s in senses):
            rest = (n for n in sentence if not at <= n < end)
            return all(message.light(n) for n in rest)
    return False


def _presents(message: Message, sentence: range) -> bool:
    """ "here is tonight's feeding", "this is who ate": words that lead to an account, and ask for none."""
    spoken = (n for n in sentence if message.tokens[n].kind != "mark")
    found = message.phrases.get(next(spoken, sentence.start))
    return found is not None and any(s.group.act == "presents" for s in found[1])


def _heads_an_occasion(message: Message, sentence: range, items: Sequence[Item]) -> bool:
    """ "Evening round.", "Ronda de hoy", and behind it who ate: the occasion of an account."""
    behind = any(token.kind != "mark" for token in message.tokens[sentence.stop :])
    said = [i for i in items if i.cat not in "MD" and "of" not in i.senses]
    return behind and bool(said) and all("occasion" in i.senses for i in said)


def _answers_itself(items: Sequence[Item]) -> bool:
    """ "molt date for Anvil: 1/4/2026": a form that is filled in."""
    said = [item for item in items if item.cat != "M" or item.text == ":"]
    return len(said) > 1 and said[-1].cat == "D" and said[-2].text == ":"


def _denies(message: Message, first: int | None) -> bool:
    """ "Ink flung it. Did not eat": a denial, where a question would name somebody between the two words."""
    words = message.keys[first : first + 2] if first is not None else []
    return len(words) > 1 and words[0] in _HELPS and words[1] in _NOT


def _did_some(message: Message, first: int | None, items: Sequence[Item]) -> bool:
    """ "Did some of shelf A after work.": a "did" that no other verb follows asks nothing."""
    if first is None or message.keys[first] not in _DID:
        return False
    behind = [item for item in items if item.i > first]
    return not any(item.senses.verbs or "self" in item.senses for item in behind)  # "did I forget anyone"


_HELPS: Final = rule_words("before_a_not")
_NOT: Final = rule_words("not")


def _thinks_so(items: Sequence[Item]) -> bool:
    """ "I think Mole might have eaten?": what is only thought of somebody, whatever mark stands behind it."""
    thought = bool(items) and items[0].text in _I_THINK and any(i.cat == "S" for i in items)
    return thought and any(not (verb.group.base or verb.group.noun) for i in items for verb in i.senses.verbs)


_I_THINK: Final = rule_words("i_think")


def _not_known_yet(item: Item) -> bool:
    return "unknown" in item.senses.acts


def opens_as_question(message: Message, sentence: range) -> bool:
    """Whether a sentence with a question mark begins with a word that asks."""
    first = message.first_word(sentence)
    marked = message.tokens[sentence.stop - 1].text == "?"
    return marked and first is not None and bool(asking_at(message, first))


def asks_of_a_thing(message: Message, sentence: range) -> bool:
    """ "is a cricket ok for Ink": words that no account begins with, whether or not a mark says so."""
    first = message.first_word(sentence)
    if first is None or first + 1 >= sentence.stop or not _asks(message, first):
        return False
    if says_what_was(message, first):
        return False  # "there is a cricket in with Ink"
    return message.keys[first] in _IS and any(s.cat == "a" for s in message.senses(first + 1))


_IS: Final = rule_words("asks_whether")


def _taken_by(items: Sequence[Item], cat: str, message: Message) -> set[int]:
    """The tokens of items of a sort; "everything" is not among the names."""
    whole = len(message.names.specimens)
    return {
        n
        for i in items
        if i.cat == cat and not (cat == "S" and len(i.val.tags) == whole)
        for n in range(i.i, i.j)
    }


def asking_at(message: Message, first: int) -> range:
    """The tokens of the word or phrase that asks, where a sentence begins with one; else none."""
    end, senses = message.cues.get(first, (first, ()))
    if _may_be(message, first):
        return range(0)
    if any(s.cat == "ask" for s in senses):
        return range(first, end)
    return range(first, first + 1) if _asks(message, first) else range(0)


def begins_turned(message: Message, first: int) -> bool:
    """Whether a sentence begins with a verb that asks only where whoever it is of stands right behind it."""
    return any(s.cat == "ask" and s.group.act == "turned" for s in message.cues.get(first, (first, ()))[1])


def _dated(items: Sequence[Item], first: int) -> bool:
    """ "heute hat Ink gefressen": a day before the verb, which then asks nothing."""
    return any(item.cat == "D" and item.j == first for item in items)


def _may_be(message: Message, first: int) -> bool:
    """ "could be premolt on Biscuit": what the keeper thinks, since nobody stands between the two words."""
    nxt = message.keys[first + 1] if first + 1 < len(message.keys) else ""
    return message.keys[first] in _COULD and nxt in _HAVE


_HAVE: Final = rule_words("be_or_have")
_COULD: Final = rule_words("could")


def _read_otherwise(message: Message, item: Item) -> bool:
    """ "did Ink's dish": a "did" that was found to tell what the keeper did."""
    return message.keys[item.i] in _DID and "did" not in item.senses and bool(item.senses.verbs)


_DID: Final = rule_words("did")


def wants_to_know(message: Message, first: int | None) -> bool:
    """ "why is Ink on hold", "did I forget anyone": a word that asks stands first, and for no deed."""
    return first is not None and bool(asking_at(message, first)) and message.keys[first] not in _FOR_A_DEED


#: Words that ask, and as often for something to be done: "can you pause Ink", "have her on hold".
_FOR_A_DEED: Final = rule_words("asks_for_a_deed")


def _cues_in(message: Message, sentence: range, names: set[int]) -> list[tuple[int, Sense]]:
    """The cues of a sentence that are no part of a name, nor of a longer phrase that is about something."""
    out: list[tuple[int, Sense]] = []
    taken = sentence.start
    for at in sentence:
        end, senses = message.cues.get(at, (at, ()))
        if at in names or not senses:
            continue
        topical = any(s.cat == "topic" for s in senses)
        if topical and _arrived(message, at, end):
            continue
        if not (topical and end <= taken):
            out += [(at, s) for s in senses]
        taken = max(taken, end if topical else at)
    return out


def _arrived(message: Message, at: int, end: int) -> bool:
    """ "feeder order came: 50 locusts": the longer phrase tells what was bought."""
    found = message.phrases.get(at)
    return found is not None and found[0] > end and any(s.group.kind is Kind.STOCKED for s in found[1])


def _opens(
    message: Message,
    sentence: range,
    first: int | None,
    cues: Sequence[tuple[int, Sense]],
    items: Sequence[Item],
) -> bool:
    """Whether a sentence begins with what it is about, or says of whom and what, and no more."""
    topics = [(at, s) for at, s in cues if s.cat == "topic" and s.group.topic in _OPENING]
    if not topics or any("habit" in i.senses for i in items):
        return False
    opens = any(at == first and not _of_strange_things(s, items) for at, s in topics) and not (
        _heads_an_account(first, items) or _behind_a_verb(items, first)
    )
    return opens or _names_topic(cues, items, sentence)


def _asks_last(message: Message, sentence: range) -> bool:
    """ "sealed: who": what it is about, a mark, and the word that asks."""
    said = [t for t in sentence if message.tokens[t].kind != "mark"]
    if not said or message.keys[said[-1]] not in _LAST or message.tokens[said[-1] - 1].kind != "mark":
        return False
    topics = [t for t in said[:-1] if message.is_cue(t, "topic")]
    return bool(topics) and all(any(t < message.cues[at][0] for at in topics if at <= t) for t in said[:-1])


_LAST: Final = rule_words("asks_at_the_end")


def _behind_a_verb(items: Sequence[Item], first: int | None) -> bool:
    """ "tried to feed Ink", "wanted to feed her", "nothing doing with Mole": told of, and not asked."""
    before = [i for i in items if first is not None and i.i < first]
    return any(i.text in _TELLS or (i.senses.verbs and "none" not in i.senses.acts) for i in before)


_TELLS: Final = rule_words("tells_of_a_deed")


def _of_strange_things(topic: Sense, items: Sequence[Item]) -> bool:
    """ "need to buy a new lamp": what is to be bought is no feeder."""
    return topic.group.topic == "shopping" and any(i.cat == "U" for i in items)


def _matter(
    message: Message,
    sentence: range,
    cues: Sequence[tuple[int, Sense]],
    items: Sequence[Item],
    ideas: Ideas,
) -> bool:
    """Whether a message with no word that asks names what it wants to know, and tells of nothing."""
    alone = all(t.kind == "mark" for n, t in enumerate(message.tokens) if n not in sentence)
    cued = {at for at, s in cues if s.cat in {"ask", "topic"}}
    return alone and names_a_matter(items, ideas, cued)


def _heads_an_account(first: int | None, items: Sequence[Item]) -> bool:
    """ "new record, the big girl put away a hornworm": a word that could open a question, and then news."""
    mark = next(
        (i for i in items if i.cat == "M" and i.text in _PARTS and first is not None and i.i > first), None
    )
    if mark is None:
        return False
    if _lists_below(items):
        return True
    verbs = (s.group for i in items if i.i > mark.i for s in i.senses.values())
    acts = any(group.is_ == "verb" and not (group.base or group.noun) for group in verbs)
    named = mark.text == ":" and any("occasion" in i.senses for i in items)
    return acts and (named or any("prey" in i.senses or i.cat == "A" for i in items))


def _lists_below(items: Sequence[Item]) -> bool:
    """ "round done, refusals: Ink, Mole": nothing but animals below what they did."""
    at = next((n for n, i in enumerate(items) if i.text == ":"), 0)
    below = [i for i in items[at + 1 :] if i.cat != "M" and "and" not in i.senses]
    return at > 0 and bool(items[at - 1].senses.kinds) and bool(below) and all(i.cat == "S" for i in below)


#: Marks that part a heading from what it heads.
_PARTS: Final = frozenset(",:;–-")


def _names_topic(cues: Sequence[tuple[int, Sense]], items: Sequence[Item], sentence: range) -> bool:
    """ "Ink timeline", "the GBBs status": animals and what about them, and nothing more."""
    topics = [at for at, s in cues if s.cat == "topic" and s.group.topic in _OPENING]
    if not topics:
        return False
    rest = [i for i in items if i.i < topics[-1] and i.cat != "M"]
    named = bool(rest) and any(i.cat == "S" for i in rest)
    light = all(i.cat == "S" or "the" in i.senses or "of" in i.senses for i in rest)
    behind = [i for i in items if i.i > topics[-1] and i.cat not in "MUW"]
    return named and light and not behind and _ends_with(cues, topics[-1], sentence)


def _ends_with(cues: Sequence[tuple[int, Sense]], at: int, sentence: range) -> bool:
    words = max(len(s.words.split()) for place, s in cues if place == at and s.cat == "topic")
    return at + words >= sentence.stop


def _due_when(message: Message, sentence: range, asked: Question) -> Question:
    """ "Who is due tomorrow", "what to buy until Sunday": the days to come that are asked about."""
    items = message.items([sentence], "future")
    ahead = stretch_ahead(items, message.settings.language, message.today)
    return replace(asked, since=ahead.first, until=ahead.last) if ahead is not None else asked


def _may_ask(message: Message, first: int | None, sentence: range) -> bool:
    """Whether a sentence with no question mark may be a question, before it is taken apart."""
    if first is None:
        return False
    cued = _asks(message, first) or message.cues_in("ask", sentence) or message.cues_in("topic", sentence)
    return bool(cued) or may_name_a_matter(message, sentence)


def _asks(message: Message, first: int) -> bool:
    return any(s.cat == "ask" for s in message.lexicon.cues.senses(message.keys[first]))
