"""Where in a sentence a question begins behind what is told or ordered. Pure."""

from __future__ import annotations

from typing import Final

from bot.reading.message.parse import Message
from bot.reading.model import FEEDING, Reading, Topic
from bot.reading.questions.asked_of import BEFORE_A_DOUBT
from bot.reading.questions.questions import asking_at, begins_turned, question_in
from bot.reading.words.rule_words import rule_words, rule_words_in_order
from bot.terms import Kind


def without_what_was_not_so(message: Message, sentences: list[range]) -> list[range]:
    """The sentences without a thing asked and denied at once: "Bulben? Fehlanzeige"; of prey it is a meal."""
    out: list[range] = []
    for sentence in sentences:
        asked = out[-1] if out and message.tokens[out[-1].stop - 1].text == "?" else None
        if asked is not None and asked.stop == sentence.start and _is_a_thing(message, asked):
            said = [i for i in message.items([sentence]) if i.cat != "M"]
            if said and all(not _NO.isdisjoint(i.senses) or i.senses.kinds == {Kind.REFUSED} for i in said):
                out.pop()
                continue
        out.append(sentence)
    return out


def _is_a_thing(message: Message, asked: range) -> bool:
    """Whether no more is named than a thing, no animal, and nothing to eat."""
    items = [i for i in message.items([asked]) if i.cat != "M"]
    eaten = any("prey" in i.senses or (i.senses.kinds & FEEDING) for i in items)
    food = any(i.senses.part == "food" for i in items)
    known = any("noun" in i.senses or i.senses.kinds for i in items)
    return known and not (eaten or food or any(i.cat == "S" for i in items))


_NO: Final = frozenset({"no", "neg", "none_of", "elided", "fill", "undone"})


def told_and_asked(message: Message, sentence: range) -> list[range]:
    """ "Saffron took her roach, whens Ink due?": a sentence cut before the question that it ends with."""
    opened = (*_named_and_asked(message, sentence), *_opened(message, sentence))
    for at in (*opened, *_asked_behind_a_joint(message, sentence)):
        before, behind = range(sentence.start, at), range(at, sentence.stop)
        of_a_thing = _relates(message, at, sentence) and _names_a_thing(message, at)
        if of_a_thing or _then_she(message, at, sentence) or _goes_on_about(message, at, sentence):
            continue
        if _tells(message, before) and (_names(message, behind) or _asks_of_all(message, behind)):
            return [before, behind]
    at_once = _asked_at_once(message, sentence)
    if at_once is not None:
        return [range(sentence.start, at_once), range(at_once, sentence.stop)]
    return _told_and_doubted(message, sentence)


def _relates(message: Message, at: int, part: range) -> bool:
    """ "Ink left her cricket, which Mole took": a word that asks only where a mark says so."""
    return message.keys[at] in _RELATIVE and message.tokens[part.stop - 1].text != "?"


def _then_she(message: Message, at: int, part: range) -> bool:
    """ "on Friday, when she took two flies": whoever it is right behind "when", and no mark that asks."""
    she = any(s.cat == "pron" for s in message.senses(at + 1)) if at + 1 < part.stop else False
    return she and message.keys[at] in _WHEN and message.tokens[part.stop - 1].text != "?"


_WHEN: Final = rule_words("when_or_that")


def _names_a_thing(message: Message, at: int) -> bool:
    """Whether prey or a thing is named right before a word: "her cricket, which Mole took"."""
    before = next((n for n in range(at - 1, -1, -1) if message.tokens[n].kind != "mark"), at)
    return any(sense.cat in {"prey", "noun"} for sense in message.senses(before))


def _opened(message: Message, sentence: range) -> list[int]:
    """ "comió Tila ¿y Luna?": where a mark stands with which Spanish opens a question."""
    marks = (at for at in sentence[1:-1] if message.tokens[at].text == "¿")
    return [at for at in marks if all(s.cat != "or" for s in message.senses(at + 1))]  # "… ¿o fue Luna?"


def _named_and_asked(message: Message, sentence: range) -> list[int]:
    """ "comió Tila, y Luna qué tal": behind a joint whom is asked of, before the words that ask."""
    items = None
    for at in message.cues_in("topic", sentence[1:]):
        ends = all(message.tokens[n].kind == "mark" for n in range(message.cues[at][0], sentence.stop))
        if not (ends and asking_at(message, at)):
            continue
        items = items or message.items([sentence])
        behind = at - (message.tokens[at - 1].text == "¿")
        whom = next((i for i in items if i.cat == "S" and i.j == behind), None)
        if whom is not None and _joined(message, whom.i):
            return [whom.i]
    return []


def asked_behind(message: Message, part: range) -> int | None:
    """ "pause Ink, when did Mole eat": where a question begins behind a comma or an "and", if one does."""
    for at in _asked_behind_a_joint(message, part):
        behind = range(at, part.stop)
        if not _relates(message, at, part) and question_in(message, behind) is not None:
            return at
    return None


def _asked_at_once(message: Message, sentence: range) -> int | None:
    """ "Dottie refused a cricket when did she last molt": where a question begins with no joint before it."""
    if _MAY_TURN.isdisjoint(message.keys):
        return None
    for at in sentence[1:-1]:
        if message.keys[at] in _MAY_TURN and _turns_round(message, at):
            before, behind = range(sentence.start, at), range(at, sentence.stop)
            asked = question_in(message, behind) if _tells(message, before) else None
            if asked is not None and not _says_what_it_was(message, at, asked):
                return at
    return None


def _turns_round(message: Message, at: int) -> bool:
    """ "when did", "how big is", "who else is", "is she": no "when she", "who is" or "not sure how big"."""
    first, *behind = message.keys[at : at + 4]
    most = _MOST_BETWEEN if first in _HOW else 0
    if first in _WHO:
        turned = not _ELSE.isdisjoint(behind[:1])
    elif first in _AUXILIARY:
        turned = bool(behind) and any(s.cat == "pron" for s in message.senses(at + 1))
        turned = turned and message.keys[at - 1] not in _SHE  # "whether she has it"
    else:
        turned = any(word in _AUXILIARY for word in behind[: most + 1])
    before = message.items([range(at)])[-1:] if turned else []
    led_to = any(i.cat == "U" or not _LEADS_ON.isdisjoint(i.senses) for i in before)
    return turned and not led_to


def _says_what_it_was(message: Message, at: int, asked: Reading) -> bool:
    """ "Ink ate what is her third cricket this week": said of what was just told."""
    vague = asked.question is not None and asked.question.topic is Topic.STATUS
    return message.keys[at] in _WHAT and vague


_WHAT: Final = rule_words("what")
_WHO: Final = rule_words("who_or_which")
_AUXILIARY: Final = rule_words("auxiliaries")
_HOW: Final = rule_words("how")
_ELSE: Final = rule_words("else")
_SHE: Final = rule_words("she")
_MAY_TURN: Final = rule_words("question_words") | _WHO | _AUXILIARY
#: "how many days has she": so many words may stand between.
_MOST_BETWEEN: Final = 2
#: Senses of the words behind which nothing is asked: "not sure how big it is", "so did she".
_LEADS_ON: Final = frozenset(
    {"hedge", "neg", "to", "of", "with", "and", "or", "so", "then", "same", "did", "self"}
)


def doubts_whom(message: Message, sentence: range) -> bool:
    """ "Ink had 2 dubias, or was that Mole?", "… was it a locust?": asked of oneself, behind what is told."""
    for at in sentence[2:-2] if not _OR.isdisjoint(message.keys) else ():
        said = message.keys[at : at + 3]
        if said[0] in _OR and said[1] in _WAS and said[2] in _IT and message.tokens[at - 1].text == ",":
            other = range(at, sentence.stop)
            doubted = _names(message, other) or any("prey" in item.senses for item in message.items([other]))
            return doubted and _tells(message, range(sentence.start, at))
    return False


_WAS: Final = rule_words("was")
_OR: Final = rule_words("or")
_IT: Final = rule_words("it_or_that")
#: Words that as well begin what is said of the one just named: "Ink, who is fasting".
_RELATIVE: Final = rule_words("relatives")


def _asked_behind_a_joint(message: Message, part: range) -> list[int]:
    """Where, behind a comma or an "and", a word stands that asks."""
    places = {*message.cues_in("ask", part[1:]), *message.cues_in("topic", part[1:])}
    return [
        at
        for at in sorted(places)
        if _joined(message, at)
        and asking_at(message, at)
        and not (_waits(message, at) or _asks_nothing(message, at) or _leaves_out_who(message, at, part))
    ]


def _leaves_out_who(message: Message, at: int, part: range) -> bool:
    """ "…, hat es getötet, aber nicht gefressen": what she did to it, where no mark says that it is asked."""
    if message.tokens[part.stop - 1].text == "?":
        return False
    if _goes_on_to_do(message, at):
        return True
    behind = message.senses(at + 1) if at + 1 < len(message.keys) else ()
    it = any(s.cat == "pron" and not s.group.sex for s in behind)
    return it and begins_turned(message, at)


def _goes_on_to_do(message: Message, at: int) -> bool:
    """ "Ink ate and is looking pleased": of the one told of, since nobody stands behind the verb."""
    if at + 1 >= len(message.keys) or not _joins(message, at - 1):
        return False
    return message.keys[at] in _IS and message.keys[at + 1].endswith(_ING) and not message.named_at(at + 1)


_IS: Final = rule_words("is_or_was")
_ING: Final = rule_words_in_order("ending_of_doing")


def _joined(message: Message, at: int) -> bool:
    return message.tokens[at - 1].text == "," or _joins(message, at - 1) or _turns_to_ask(message, at)


def _turns_to_ask(message: Message, at: int) -> bool:
    """ "misted Dot and Dottie by the way who's due": behind words that leave what was told."""
    before = (" ".join(message.keys[max(at - words, 0) : at]) for words in range(1, _MOST_TURNING + 1))
    return not _BY_THE_WAY.isdisjoint(before)


_BY_THE_WAY: Final = rule_words("by_the_way")
_MOST_TURNING: Final = max(len(words.split()) for words in _BY_THE_WAY)


def _asks_of_all(message: Message, part: range) -> bool:
    """ "who is due?": a question that names nobody, and is marked as one."""
    marked = message.tokens[part.stop - 1].text == "?" or _turns_to_ask(message, part.start)
    return marked and question_in(message, part) is not None


_WHO_ALONE: Final = rule_words("who")


def _goes_on_about(message: Message, at: int, sentence: range) -> bool:
    """ "…, which is her second roach this week", "…, who has shut her door": said of what was told."""
    if message.tokens[sentence.stop - 1].text == "?":
        return False
    if message.keys[at] in _WHO_ALONE:
        before = message.items([range(sentence.start, at - 1)])
        return bool(before) and before[-1].cat in "SX" and message.tokens[at - 1].text == ","
    if message.keys[at] not in _WHICH:
        return False
    if at + 1 >= sentence.stop or message.keys[at + 1] in _ASKS_OF_MANY:
        return False
    if message.tokens[at + 1].text == ",":
        return True  # "…, which, let's be real, is plenty"
    return any(s.cat in {"did", "self", "pron"} for s in message.senses(at + 1))


_WHICH: Final = rule_words("which")
_ASKS_OF_MANY: Final = rule_words("asks_of_many")


def _waits(message: Message, at: int) -> bool:
    """ "…, we'll see what she does", "…, see if he has it": what came of a meal is not known yet."""
    found = message.phrases.get(at)
    return found is not None and any(s.group.act == "unknown" for s in found[1])


def _told_and_doubted(message: Message, sentence: range) -> list[range]:
    """ "Ink's fed, Mole is not due right?": a statement to be confirmed that asks who is due."""
    if message.tokens[sentence.stop - 1].text != "?":
        return [sentence]
    for at in (n for n in sentence if message.tokens[n].text in BEFORE_A_DOUBT and n > sentence.start):
        before, after = range(sentence.start, at), range(at + 1, sentence.stop)
        due = any(message.tokens[n].text in _DUE for n in after) and _names(message, after)
        if (due or _asks_whether_so(message, after)) and _tells(message, before):
            return [before, after]
    return [sentence]


def _asks_whether_so(message: Message, part: range) -> bool:
    """ "Captain refused, premolt?": a word or two for how she may be, of the one just told of."""
    words = [n for n in part if message.tokens[n].kind != "mark"]
    if not 0 < len(words) <= _MOST_ASKED or _names(message, part):
        return False
    asked = question_in(message, part)
    return asked is not None and asked.question is not None and asked.question.topic in _STATES


#: So many words ask no more than whether it is so: "molt coming soon".
_MOST_ASKED: Final = 3
_STATES: Final = frozenset({Topic.PREMOLT_NOW, Topic.NEXT_MOLT})


_DUE: Final = rule_words("bare_due")


def _asks_nothing(message: Message, at: int) -> bool:
    """ "a Ink, qué va, a Biscuit"; "comió más que Biscuit": words that take back, or that compare."""
    for start in (at - 1, at):
        found = message.phrases.get(start)
        if found is not None and found[0] > at and any(s.cat in _NOT_ASKING for s in found[1]):
            return True
    return False


_NOT_ASKING: Final = frozenset({"fix", "than"})


def _joins(message: Message, at: int) -> bool:
    return any(s.cat == "and" for s in message.senses(at))


def _tells(message: Message, part: range) -> bool:
    items = message.items([part])
    acts = any("verb" in i.senses and not i.senses["verb"].group.base for i in items)
    return acts and not _asks_in(message, part) and any(i.cat == "S" for i in items)


def _asks_in(message: Message, part: range) -> bool:
    """Whether a word asks there; one that only does so before its subject, "hat Ink", only where it opens."""
    first = message.first_word(part)
    return any(
        at == first or any(s.cat == "ask" and s.group.act != "turned" for s in message.cues[at][1])
        for at in message.cues_in("ask", part)
    )


def _names(message: Message, part: range) -> bool:
    return any(i.cat == "S" or "pron" in i.senses for i in message.items([part]))
