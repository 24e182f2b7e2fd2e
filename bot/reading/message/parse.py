"""A message on its way to a reading: its tokens, its cue phrases, and its parts when asked for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from functools import cache
from typing import Final

from bot.reading.days import Facing
from bot.reading.days.words import days_data
from bot.reading.items.inner_marks import (
    between_tags,
    dash,
    initial,
    inner_mark,
    leads_to_tag,
    shortens,
)
from bot.reading.items.item import Item, Ref, items_of
from bot.reading.items.spans import found_in
from bot.reading.items.split_phrases import drawn_together
from bot.reading.message.steps import taken
from bot.reading.names.shelf_names import NameSpan, ShelfNames
from bot.reading.names.taxa import taxa
from bot.reading.words.lexicon import Lexicon, Phrases, Sense, lexicon
from bot.reading.words.normalise import PlainText, plain_text
from bot.reading.words.rule_words import rule_words
from bot.reading.words.scan import Words
from bot.reading.words.tokens import Token, tokens_of
from bot.terms import KeeperSettings, day_at

_QUOTED_KEY: Final = re.compile(r"[{,]\s{0,9}\"\w{1,40}\"\s{0,9}:")
_QUESTION_WORDS: Final = rule_words("asks_wherever_it_begins")
_SENTENCE_MARKS: Final = frozenset(".?!;\n")


class Message:
    """One message with everything it is read by.

    ``now`` is in the keeper's zone, ``today`` the keeper's day then, ``calendar_day`` that of the calendar.
    The longest phrases that begin at each token are in ``phrases`` (of the account), ``cues`` and
    ``on_record`` (of an entry on record).
    """

    def __init__(
        self, text: str, names: ShelfNames, now: datetime, settings: KeeperSettings, talked_of: str | None
    ) -> None:
        self.text, self.names, self.now, self.settings = text, names, now, settings
        self.today, self.calendar_day = day_at(now, settings.day_starts), now.date()
        self.lexicon: Lexicon = lexicon(settings.language)
        self.source: PlainText = plain_text(text)
        self.tokens: list[Token] = tokens_of(self.source)
        self.keys = [self.lexicon.key(t) if t.owns else t.key for t in self.tokens]
        known = talked_of is not None and talked_of in names.by_tag
        self.talked_of = (
            Ref((talked_of,), how="talked", words="") if known and talked_of is not None else None
        )
        self.scanned = Words(self.source.plain)
        self.phrases: Phrases = self.lexicon.account.begun(self.tokens, self.keys)
        self.cues: Phrases = self.lexicon.cues.begun(self.tokens, self.keys)
        self.on_record: Phrases = self.lexicon.earlier.begun(self.tokens, self.keys)
        self._cue_places = self._places_of_cues()
        self._kept: dict[tuple[int, int, Facing], list[Item]] = {}
        self._first_words: dict[range, int | None] = {}

    def saying(self, text: str, *, of: str | None = None) -> Message:
        """The same message with another text, which may go on from an animal that was named before."""
        tag = of or (self.talked_of.tags[0] if self.talked_of is not None else None)
        return Message(text, self.names, self.now, self.settings, tag)

    def named_at(self, at: int) -> bool:
        """Whether a token is a word of a name of several words: the "mate" of "Old Mate"."""
        return any(span.j - span.i > 1 for span in self.names_over(at))

    def names_over(self, at: int) -> Iterator[NameSpan]:
        """The names that a token is a word of."""
        return (span for span in self.names.find(self.tokens) if span.i <= at < span.j)

    def may_say(self, cat: str) -> bool:
        """Whether there is a word with which a word or phrase of this sort begins, wherever it stands."""
        openers = self.lexicon.account.openers.get(cat)
        return openers is not None and not openers.isdisjoint(self.keys)

    def senses(self, at: int) -> tuple[Sense, ...]:
        """What the word at a token means by itself."""
        return self.lexicon.account.senses(self.keys[at])

    def _places_of_cues(self) -> dict[str, list[int]]:
        """Where cue phrases of each sort begin, in order."""
        out: dict[str, list[int]] = {}
        for at, (_, senses) in self.cues.items():
            for sense in senses:
                out.setdefault(sense.cat, []).append(at)
        return out

    def says_anything(self) -> bool:
        """Whether there is a word or a number at all."""
        return any(t.kind != "mark" for t in self.tokens) and not self._is_code()

    def _is_code(self) -> bool:
        """Whether a machine's notation was pasted: a brace and a quoted word before a colon."""
        return "{" in self.text and _QUOTED_KEY.search(self.source.plain) is not None

    def cue_at(self, cat: str, part: range | None = None) -> int | None:
        """The first token of a cue of this sort, unless the account has a longer phrase there."""
        for at in self._cue_places.get(cat, ()):
            if part is None or at in part:
                account = self.phrases.get(at)
                if account is None or account[0] <= self.cues[at][0]:
                    return at
        return None

    def is_cue(self, at: int, cat: str) -> bool:
        """Whether a cue of this sort begins at a token."""
        return at in self._cue_places.get(cat, ())

    def cues_in(self, cat: str, part: range) -> list[int]:
        """Where cues of this sort begin within a stretch of tokens."""
        places = self._cue_places.get(cat)
        return [at for at in places if at in part] if places else []

    def light(self, at: int) -> bool:
        """Whether a token only carries on: a mark, "so", "ok", "please"."""
        if self.tokens[at].kind == "mark":
            return True
        cue = self.cues.get(at, (0, ()))[1]
        if any(s.cat in {"ask", "topic"} for s in cue):
            return False
        senses = self.senses(at)
        if any(s.cat == "verb" and s.group.base and s.group.keeper for s in senses):
            return False  # "clean Ink's tub tomorrow"
        return any(s.cat in {"fill", "chat"} for s in senses + cue)

    def first_word(self, part: range) -> int | None:
        """The first token that is not light."""
        if part not in self._first_words:
            self._first_words[part] = self._find_first_word(part)
        return self._first_words[part]

    def _find_first_word(self, part: range) -> int | None:
        at = part.start
        while at < part.stop:
            end = self._only_polite(at) or self._leads_to_asking(at)
            if end is None and not self.light(at):
                return at
            at = end or at + 1
        return None

    def _leads_to_asking(self, at: int) -> int | None:
        """ "y cuándo comió Ink", "a ver, quién falta": where a word ends that only leads to one that asks."""
        found = self.phrases.get(at)
        if found is None or not any(s.cat == "and" or s.group.part == "opens" for s in found[1]):
            return None
        end = found[0]
        while end < len(self.tokens) and self.tokens[end].text == ",":
            end += 1
        asks = end < len(self.tokens) and any(s.cat == "ask" for s in self._asking(end))
        asks = asks and all(s.cat != "did" for s in self.senses(end))  # "And is sealed."
        whole = all(token.kind != "mark" for token in self.tokens[end:-1])  # "and what a night, Ink ate"
        return end if asks and whole else None

    def _asking(self, at: int) -> Iterable[Sense]:
        """What the words mean that may ask and begin at a token; of one alone only a "when" or "who" does."""
        alone = self.lexicon.cues.senses(self.keys[at]) if self.keys[at] in _QUESTION_WORDS else ()
        return (*self.cues.get(at, (0, ()))[1], *alone)

    def _only_polite(self, at: int) -> int | None:
        """Where a phrase such as "can you log" ends, which only begins like a question."""
        found = self.phrases.get(at)
        if found is None or found[0] == at + 1 or not all(s.cat == "fill" for s in found[1]):
            return None
        return found[0] if found[0] > self.cues.get(at, (0, ()))[0] else None

    def words(self, i: int, j: int) -> str:
        """The plain text of tokens ``i`` to ``j`` (exclusive)."""
        return self.source.plain[self.tokens[i].start : self.tokens[j - 1].end] if j > i else ""

    def ends_sentence(self, at: int) -> bool:
        """Whether a token is a mark that ends a sentence."""
        token = self.tokens[at]
        if token.kind != "mark" or token.text not in _SENTENCE_MARKS:
            return False
        if token.text != ".":
            return True
        following = self.tokens[at + 1] if at + 1 < len(self.tokens) else None
        if following is not None and (
            self._shortens(at) or shortens(self.tokens, at) or self._is_initial(at)
        ):
            return False
        if following is not None and at and self.tokens[at - 1].kind == "number":
            dated = following.text in _after_an_ordinal(self.settings.language)  # "bis 1. Juni"
            dated = dated or (_ordinals_have_points(self.settings.language) and not following.upper)
            return not dated and (following.gap != "" or following.kind == "mark")
        return following is None or following.gap != "" or following.kind == "mark"

    def _shortens(self, at: int) -> bool:
        """Whether a point stands in a short name of a species: "P. irminia"."""
        letter = self.tokens[at - 1] if at else None
        if letter is None or len(letter.key) != 1 or not letter.key.isalpha():
            return False
        listed = taxa().find(self.tokens, at - 1)
        said = (letter.key, self.tokens[at + 1].key)
        return said in self.names.phrases or (listed is not None and listed[0] > at)

    def sentences(self, part: range) -> list[range]:
        """The sentences of a stretch of tokens, each with its closing marks: "refused.." is one."""
        out: list[range] = []
        start = part.start
        for at in part:
            if self.tokens[at].kind == "mark" and self.ends_sentence(at):
                self._close(out, range(start, at + 1))
                start = at + 1
        self._close(out, range(start, part.stop))
        return out

    def _close(self, sentences: list[range], last: range) -> None:
        """Adds a sentence; nothing but marks belongs to the one before."""
        if any(self.tokens[at].kind != "mark" for at in last):
            sentences.append(last)
        elif sentences:
            sentences[-1] = range(sentences[-1].start, last.stop)

    def items(self, parts: Sequence[range], facing: Facing = "past") -> list[Item]:
        """The parts that stretches of the message are made of, names and groups settled."""
        out: list[Item] = []
        for part in parts:
            if len(part):
                key = (part.start, part.stop, facing)
                if key not in self._kept:
                    self._kept[key] = self._items_of(part, facing)
                out += self._kept[key]
        return out

    def _items_of(self, part: range, facing: Facing) -> list[Item]:
        whole = len(part) == len(self.tokens)
        offset = 0 if whole else self.tokens[part.start].start
        end = self.tokens[part.stop - 1].end
        text = (
            self.source if whole else PlainText(self.source.plain[offset:end], self.source.folded[offset:end])
        )
        tokens = self.tokens if whole else tokens_of(text)
        words = self.scanned if whole else Words(text.plain)
        found = found_in(words, tokens, self.names, now=self.now, settings=self.settings, facing=facing)
        keys = self.keys[part.start : part.stop]
        phrases = self.phrases if whole else self.lexicon.account.begun(tokens, keys)
        items = items_of(tokens, found, phrases, self.lexicon)
        items = self._without_inner_marks(items, tokens, part.start)
        items = drawn_together(items, keys, self.lexicon)
        for item in items:
            if item.text == "-":
                item.val = dash(items, item, tokens)
        items = taken(items, self.names)
        for item in items:
            item.i += part.start
            item.j += part.start
        return items

    def _is_initial(self, at: int) -> bool:
        """Whether a point stands in a person's name; one behind a place's letter if nobody knows the name."""
        if not initial(self.tokens, at):
            return False
        place = self.tokens[at - 1].key in self.names.letters
        return not (place and (self.senses(at + 1) or any(self.names_over(at + 1))))

    def _without_inner_marks(self, items: list[Item], tokens: Sequence[Token], start: int) -> list[Item]:
        """The items without marks that part nothing."""
        said = [item for n, item in enumerate(items) if not leads_to_tag(items, n)]
        all_between = between_tags(said)
        return [
            item
            for n, item in enumerate(said)
            if n in all_between or not (inner_mark(item, tokens) or self._is_initial(item.i + start))
        ]


@cache
def _after_an_ordinal(language: str) -> frozenset[str]:
    """The words for months and weekdays, before which a number with a point is a day."""
    words = days_data(language).words
    return frozenset(w for kind in ("month", "weekday") for said in words[kind].values() for w in said)


@cache
def _ordinals_have_points(language: str) -> bool:
    """Whether "1." is "first" in a language, so that a small letter behind it begins no sentence."""
    return "1." in days_data(language).words["nth"].get(1, ())
