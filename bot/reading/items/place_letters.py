"""A place's last letter that stands alone: "fed A", "all of B", "regué la C". Pure."""

from __future__ import annotations

from typing import Final

from bot.reading.items.item import Item, tells_a_deed
from bot.reading.items.told_of_names import ToldOfNames
from bot.reading.words.rule_words import rule_words

#: Words that set those behind them apart: "fed only B".
_SET_APART: Final = rule_words("set_apart")
#: Words that lead to a person: "sold to", "went to".
_BEFORE_PEOPLE: Final = rule_words("before_people")
_JOINTS: Final = frozenset({",", "+", "&", "/"})
#: Senses of the words for all of a place, and of those that may follow the place's letter.
_ALL_OF_A_PLACE: Final = frozenset({"everyone", "all", "rest"})
_BEHIND_A_PLACE: Final = frozenset({"did", "except", "but", "and", "all", "each"})
_BEHIND_PLACES: Final = frozenset({"and", "verb", "did", "all", "but", "except"})
#: Senses of the words behind a "to" that begins a sentence: "a todas les di agua".
_TO_WHOM: Final = frozenset({"everyone", "all", "both", "rest", "the", "group", "pron", "rel"})
#: Senses of the words that describe one animal.
_OF_ONE: Final = frozenset({"group", "trait"})


#: How animals are named by what they are.
_SORTS: Final = frozenset({"species", "common", "genus", "part", "initials"})


def _of_several(item: Item) -> bool:
    """Whether a word is for several animals: "girls", "slings"."""
    return any(sense.cat == "group" and sense.group.plural for sense in item.senses.values())


#: Senses of the words before a place's letter.
_BEFORE_A_LETTER: Final = frozenset(
    {"verb", "and", "then", "except", "but", "with", "for", "to", "fix", "neg", "no", "when"}
)


class PlaceLetters(ToldOfNames):
    """What a letter that stands alone is: a place, an article, or a word."""

    def _letter(self) -> str:
        """A place's last letter alone ("fed A"): a capital, or after "on" and "all of"."""
        if self._leads_to_a_name():
            return "word"
        if self._stands_behind_article() or self._names_a_group():
            return "name"
        if self._has_its_air():
            return "name"
        if self._counts_what_follows():
            return "word"
        if self._is_an_initial():
            return "word"
        if self._after({"on", "of", "all", "everyone", "portion"}) or self._after_none_of():
            article = not self.item.upper and self.item.text in _ARTICLE and self._goes_on()
            return "word" if article and not self._all_of_it_act() else "name"
        if self._is_article_of_one():
            return "word"
        return "name" if self._stands_for_a_place() else "word"

    def _names_a_group(self) -> bool:
        """ "all the B slings", "the C adults"."""
        behind = self.next.senses if self.next is not None else {}
        return self.item.upper and self._after({"the"}) and "group" in behind

    def _counts_what_follows(self) -> bool:
        """ "A 2": a letter before a number, and behind no word that leads to a place."""
        number = self.next is not None and self.next.cat == "N" and "both" not in self.next.senses
        return number and not self._after({"on", "of", "all", "everyone"})

    def _stands_for_a_place(self) -> bool:
        """ "fed A", "watered b": a capital where an animal may stand, a small letter behind a verb."""
        prev, nxt = self.prev, self.next
        if not self.item.upper:
            joined = self._after({"verb"}) or self._joined_to_a_place()
            return (self.item.text not in _WORDS_TOO and joined) or self._meant_for_a_place()
        of_prey = nxt is not None and not {"prey", "size"}.isdisjoint(nxt.senses)
        return not of_prey and (
            prev is None
            or not _BEFORE_A_LETTER.isdisjoint(prev.senses)
            or prev.cat in {"M", "S", "D", "P"}
            or prev.text in _SET_APART
            or (self._after({"did"}) and self._ends_or_joins())
        )

    def _is_article_of_one(self) -> bool:
        """ "A juvenile hamorii arrived", "A complete molt at last": an article that heads a sentence."""
        alt, nxt = self.item.alt, self.next
        article = self._opens_clause() and alt is not None and "a" in alt.senses
        if not article or nxt is None:
            return False
        thing = self._described()
        event = thing is not None and any(verb.group.noun for verb in thing.senses.verbs)
        if nxt.cat == "S" and all(hit.how in _SORTS for hit in getattr(nxt.val, "hits", ())):
            return True  # "A GBB sling has died"
        return event or (not _OF_ONE.isdisjoint(nxt.senses) and not _of_several(nxt))

    def _described(self) -> Item | None:
        """What stands behind a letter and words that may describe it: the moult of "A complete moult"."""
        at = self.at + 1
        while at < len(self.items) and (self.items[at].cat == "U" or "fill" in self.items[at].senses):
            at += 1
        return self.items[at] if at < len(self.items) else None

    def _is_an_initial(self) -> bool:
        """ "G.B.B. 4": a letter behind a letter and a point; "to D. Hargreaves": one before a name."""
        before = self.items[max(0, self.at - 2) : self.at]
        if len(before) == 2 and before[1].text == "." and len(before[0].text) == 1 and before[0].cat != "M":
            return True
        person = self.next is not None and self.next.cat == "U" and self.next.upper
        led_to = self.prev is not None and self.prev.text.rpartition(" ")[2] in _BEFORE_PEOPLE
        return person and self.item.upper and led_to

    def _leads_to_a_name(self) -> bool:
        """ "A Ink le di un grillo": a capital that only begins the sentence, of a word that says to whom."""
        nxt, senses = self.next, self.item.alt.senses if self.item.alt is not None else {}
        if "to" not in senses or not self._opens_clause() or nxt is None:
            return False
        return nxt.cat in "SU" or not _TO_WHOM.isdisjoint(nxt.senses)

    def _stands_behind_article(self) -> bool:
        """ "regué la C": a place's letter behind an article, with nothing behind that it could be of."""
        nxt = self.next
        ends = nxt is None or nxt.cat in "MD" or not _BEHIND_PLACES.isdisjoint(nxt.senses)
        return self._after({"the"}) and ends and (self.item.upper or self.item.text not in _WORDS_TOO)

    def _all_of_it_act(self) -> bool:
        """ "everyone on a ate", "rest of a didnt": behind those of a place, and before what they did."""
        nxt, before = self.next, self.items[max(0, self.at - 2) : self.at]
        whole = any(not _ALL_OF_A_PLACE.isdisjoint(i.senses) or i.text in _NONE_OF for i in before)
        whole = whole or any(_of_several(i) for i in before)  # "adult girls on a got 2 each"
        if nxt is None or not whole:
            return False
        acts = tells_a_deed(nxt) or "neg" in nxt.senses
        return acts or not _BEHIND_A_PLACE.isdisjoint(nxt.senses)

    def _has_its_air(self) -> bool:
        """ "humidity b 80", "temp d 24": whose warmth or humidity it is; "temp c 24" is Celsius."""
        figure = self.next is not None and self.next.cat in "AN"
        a_word = self.item.text in {"c", "f"} or (self.item.text in {"a", "i"} and not self.item.upper)
        return figure and not a_word and self._after({"humid", "temp"})

    def _after_none_of(self) -> bool:
        return self.prev is not None and self.prev.text in _NONE_OF

    def _joined_to_a_place(self) -> bool:
        """ "watered b and c", "shelf b, c": one more place behind a place."""
        if self.prev is None or self.at < 2 or not (self.prev.text in _JOINTS or "and" in self.prev.senses):
            return False
        hits = getattr(self.items[self.at - 2].val, "hits", ())
        nxt = self.next
        ends = nxt is None or nxt.cat == "M" or not nxt.senses.keys().isdisjoint(_BEHIND_PLACES)
        return ends and bool(hits) and all(hit.how == "place" for hit in hits)

    def _meant_for_a_place(self) -> bool:
        """ "watered shelf c i mean d", "fed b, no wait a", "no d": the place that is meant after all."""
        ends = self.next is None or self.next.cat == "M"
        before = (getattr(self.items[n].val, "hits", ()) for n in self._sentence() if n < self.at)
        return (
            ends and self._after({"fix", "no"}) and any(hit.how == "place" for hits in before for hit in hits)
        )

    def _ends_or_joins(self) -> bool:
        """ "did A and B", "did A tonight": nothing that it could be the article of."""
        return self.next is None or self.next.cat in "MD" or "and" in self.next.senses


_ARTICLE: Final = rule_words("a")
_WORDS_TOO: Final = rule_words("letters_that_are_words")
_NONE_OF: Final = rule_words("none_of")
