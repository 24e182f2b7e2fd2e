"""What is told right behind a word that is a name, which tells that it is one: figures, homes, molts."""

from __future__ import annotations

from typing import Final

from bot.reading.items.item import Item
from bot.reading.items.surroundings import Surroundings
from bot.reading.model import FEEDING
from bot.reading.words.marks import TITLE_MARKS
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

_MEASURES: Final = frozenset({"span", "weight", "carapace"})
_DATES: Final = rule_words("first_word_of_a_day")
_INTO: Final = rule_words("into")


def _only_helps(item: Item) -> bool:
    """Whether a word may only help another verb: "had", "has"."""
    return "fill" in item.senses or "did" in item.senses


#: Senses of the words between an "or" and the other one.
_BETWEEN: Final = frozenset({"hedge", "believed", "self", "did", "pron", "fill"})
#: What a keeper records of animals, and never of feeders.
OF_ANIMALS: Final = frozenset(
    {Kind.MOLTED, Kind.PREMOLT, Kind.SEALED, Kind.OPENED, Kind.MATURED, Kind.SEXED, Kind.SAC}
)


class ToldOfNames(Surroundings):
    """A name's surroundings, asked what is told of it."""

    def _acts_as_no_prey(self) -> bool:
        """ "Cricket had a clean molt", "Cricket has barricaded himself in": what no feeder is told to do."""
        behind = [self.items[n] for n in self._sentence() if n > self.at]
        kinds = frozenset().union(*(i.senses.kinds for i in behind if not _only_helps(i)))
        return bool(kinds) and kinds <= OF_ANIMALS

    def _measured(self) -> bool:
        """ "Friday leg span 82 mm"."""
        behind = self.items[self.at + 1 : self.at + 3]
        return len(behind) > 1 and behind[1].cat == "A" and not _MEASURES.isdisjoint(behind[0].senses)

    def _dated_otherwise(self) -> bool:
        """ "fed Friday last Friday": the day is said behind it."""
        return self.next is not None and self.next.cat == "D" and self.next.text.split()[0] in _DATES

    def _into_a_home(self) -> bool:
        """ "Friday into a 5 l tub": behind it where somebody goes, which no day does."""
        behind = self.items[self.at + 1 : self.at + 4]
        home = len(behind) > 2 and behind[2].cat == "A" and behind[2].val.dimension == "volume"
        return home and behind[0].text in _INTO and "a" in behind[1].senses

    def _counted_in_a_list(self) -> bool:
        """ "fed crickets: May 2, Ink 3": one of several names with a bare number, below a meal."""
        before = self.items[: self.at]
        head = next((n for n, item in enumerate(before) if item.text == ":"), None)
        if head is None or not self._is_row(self.at) or self._opens_row_of_days(head):
            return False
        meal = any("prey" in i.senses or not i.senses.kinds.isdisjoint(FEEDING) for i in before[:head])
        rows = [n for n in range(head + 1, len(self.items)) if self.items[n].cat == "S"]
        listed = [n for n in rows if self._is_row(n)]
        return meal and len(listed) > 1 and all(n in listed or self._does(n) for n in rows)

    def _one_more_counted(self) -> bool:
        """ "Ink 2 crickets, May 1": behind a name with how many it got, a name with a number."""
        before = self.items[max(0, self.at - 5) : self.at]
        if len(before) < len(("Ink", "2", ",")) or before[-1].text not in {",", "\n", ";"}:
            return False
        said = [i for i in before[:-1] if i.cat == "M" or not {"prey", "size"} & i.senses.keys()]
        last = [i.cat for i in said[-2:]]
        opens = len(said) < 3 or said[-3].cat == "M"
        number = self.item.alt is not None and self.item.alt.day_end == self.item.j + 1
        return last == ["S", "N"] and opens and number

    def _does(self, place: int) -> bool:
        """ "…, Sunny refused": a name with what that one did, in place of a number."""
        nxt = self.items[place + 1] if place + 1 < len(self.items) else None
        return nxt is not None and self._opens_row(place) and bool(nxt.senses.kinds & FEEDING)

    def _opens_row_of_days(self, head: int) -> bool:
        """ "crickets: May 2: Ink 3": another heading."""
        return any(item.text in TITLE_MARKS for item in self.items[head + 1 :])

    def _is_row(self, place: int) -> bool:
        """Whether a name stands between marks with nothing but a number."""
        number, mark = (self.items[n] if n < len(self.items) else None for n in (place + 1, place + 2))
        counted = number is not None and number.cat == "N" and not number.val.ordinal
        return self._opens_row(place) and counted and (mark is None or mark.cat == "M")

    def _row_follows(self) -> bool:
        return self.at + 3 < len(self.items) and self._is_row(self.at + 3)

    def _or_another(self) -> bool:
        """ "Sunny, or maybe it was Saffron, refused": before an "or" that leads to somebody."""
        behind = [i for i in self.items[self.at + 1 : self.at + 7] if i.text != ","]
        if not behind or "or" not in behind[0].senses:
            return False
        other = next((i for i in behind[1:] if _BETWEEN.isdisjoint(i.senses)), None)
        return other is not None and other.cat == "S"

    def _behind_its_subject(self) -> bool:
        """ "peanut will not eat": right behind somebody, and before what that one does or not."""
        prev, nxt = self.prev, self.next
        whose = prev is not None and (prev.cat == "S" or "pron" in prev.senses)
        return whose and nxt is not None and bool({"neg", "verb", "did", "fill"} & nxt.senses.keys())
