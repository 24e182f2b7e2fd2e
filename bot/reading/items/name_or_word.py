"""Whether a word that is a name of the shelf is meant as a name, a day, a number, prey or another word."""

from __future__ import annotations

from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence
from bot.reading.items.place_letters import PlaceLetters
from bot.reading.items.told_of_names import OF_ANIMALS
from bot.reading.items.yes_and_no import ANSWERS
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import EXACT
from bot.reading.words.marks import TICKS, TITLE_MARKS
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: What is said of an animal that is seen: "looks fat", "seems odd".
_SEEMS: Final = rule_words("seems")
_WHEN: Final = rule_words("when_or_if")


def _kicks(item: Item | None) -> bool:
    """Whether a word is of kicking and throwing, which prey does not do."""
    return item is not None and "kick" in item.senses.acts


def _opens(item: Item) -> str:
    """The first of an item's words."""
    return item.text.partition(" ")[0]


def _may_be_prey(item: Item) -> bool:
    """Whether a small word for a feeder is somebody's name as well."""
    return item.alt is not None and "prey" in item.alt.senses and not item.upper


class Standing(PlaceLetters):
    """What a name's word stands for where it stands."""

    def verdict(self) -> str:
        """ "name", "doubt", "day" or "word"."""
        item, span = self.item, self.item.val
        one_word = item.j == item.i + 1
        if not one_word and span.spaced and self._may_count():
            return "count"
        if not one_word and all(h.how in EXACT for h in span.hits) and item.alt is None:
            return "name"
        if len(item.text) == 1 and item.text.isalpha():
            return self._letter()
        if self._dates_an_occasion():
            return "day"
        if item.owns and self._heads_a_list():
            return "doubt"
        if item.owns and (item.alt is None or item.alt.day is None or "verb" not in item.alt.senses):
            return "name"
        if one_word and (self._counted() or self._only_a_part()):
            return "word"
        if self._may_count():
            return "number" if item.number is not None and self._counts_for_another() else "doubt"
        return self._by_what_else()

    def _by_what_else(self) -> str:
        alt = self.item.alt
        if alt is None or (alt.senses.keys() == {"noun"} and self._stands_alone()) or self._seen_in_her():
            return "name"
        the_same = self._opens_clause() and self._as_the_one_before()
        if alt.day is not None:
            in_a_run = (
                self._opens_clause() and self._listed_in_a_run()
            )  # "Friday Ink and Mole are all sealed"
            unsure = the_same or in_a_run or self._put_in_anothers_place()  # "Ink refused, Friday the same"
            return "doubt" if unsure else self._or_day()
        if "prey" not in alt.senses:
            return self._or_word()
        if the_same:
            return "name" if self.item.upper else "doubt"  # "Cricket same": as the one before
        if self._told_which():
            return "name"
        bought = self.next is not None and Kind.STOCKED in self.next.senses.kinds  # "cricket delivery came"
        of_prey = (
            bought
            or self._apiece()
            or self._given_to_another()
            or self._is_what_was_eaten()
            or self._marked_as_hers()
        )
        return "word" if of_prey else self._or_prey()

    def _as_the_one_before(self) -> bool:
        """ "Ink refused, Friday the same", "cricket too", "Grille auch": with nothing more behind "also"."""
        if self.next is None or "same" in self.next.senses:
            return self.next is not None
        behind = self.items[self.at + 2] if self.at + 2 < len(self.items) else None
        return self.next.text in _AS_WELL and (behind is None or behind.cat == "M")

    def _stands_alone(self) -> bool:
        """ "moss": a whole message, and the name of somebody."""
        return all(i is self.item or i.cat == "M" or "fill" in i.senses for i in self.items)

    def _or_day(self) -> str:
        again = self._said_before() and self.item.alt is not None and self.item.alt.day_end > self.item.j
        asked_for = self.prev is not None and self.prev.text in _ME and not self.item.upper
        if again or asked_for or (self._after({"on", "the", "pron"}) and not self._acts()):
            return "day"  # "May molted May 5", "on Friday", "check on her Friday", "remind me friday"
        others = self._others()
        in_a_list = "name" if self.item.upper and self._sexed() else self._in_a_list(others)
        if in_a_list is not None:
            return in_a_list
        if self._titles():
            others = (others and not self._goes_on_the_list()) or self._heads_a_deed_to_others()
            return "day" if others else "name"
        hedged = self.item.alt is not None and "hedge" in self.item.alt.senses
        if self._acts():
            verb = self.next.senses.get("verb") if self.next is not None else None
            if hedged and others and self.prev is not None and self.prev.cat == "S":
                return "word"
            if verb is not None and verb.group.keeper and others:
                return "doubt" if self._ends_clause() or self._looks_at_a_meal() else "day"
            return "name"
        if self._after({"did", "except"}) or (self.next is not None and _opens(self.next) in _SEEMS):
            return "name"  # "May looks like a grape"
        if (
            hedged
            and self.next is not None
            and self.next.cat == "W"
            and self.prev is not None
            and self.prev.cat == "S"
        ):
            return "word"
        return self._day_as_object(others)

    def _heads_a_deed_to_others(self) -> bool:
        """ "Friday: fed D", "Friday: watered C, misted D": done by the keeper, to whom the verb names."""
        behind = self.items[self.at + 2 : self.at + 4]
        if len(behind) < 2 or behind[1].cat != "S" or not (behind[1].upper or len(behind[1].text) > 1):
            return False
        return any(verb.group.keeper for verb in behind[0].senses.verbs)

    def _looks_at_a_meal(self) -> bool:
        """ "friday looked at his": what was put in for whoever is called so, as the keeper has none."""
        behind = [i for i in self.items[self.at + 2 : self.at + 4] if "on" not in i.senses]
        return bool(behind) and "pron" in behind[0].senses and behind[0].text in _HERS

    def _put_in_anothers_place(self) -> bool:
        """ "Mole's open, no hang on that's Friday": which animal it was after all, or which day."""
        before = self.items[max(self.at - 2, 0) : self.at]
        return len(before) > 1 and "fix" in before[0].senses and before[1].text in _THATS

    def _in_a_list(self, others: bool) -> str | None:
        """What it is as one of a list: "fed crickets: May 2, Ink 3", "fed Ink and Sunny, May 2"."""
        if self._counted_in_a_list():
            dates = self.item.alt is not None and self.item.alt.day_end > self.item.j
            return "doubt" if dates and not self._row_follows() else "name"
        if self._one_more_counted() and not self._row_follows():
            return "doubt"
        weekday = self.item.alt is not None and self.item.alt.day_end == self.item.j
        if self._named_before() and (self._opens_a_marked_row() or (weekday and self._has_so_many())):
            return "name"  # "Anvil one locust, Friday two, Mole none"
        if not self._listed():
            return None
        if self._ambiguous_number() and self.prev is not None and self.prev.text == ",":
            return "doubt"
        return "name" if others or self._after({"except"}) or self._list_acts() else "doubt"

    def _seen_in_her(self) -> bool:
        """ "premolt signs in Friday": no weekday, which is never one's "in"."""
        day = self.item.alt.day if self.item.alt is not None else None
        within = self.prev is not None and self.prev.text in _IN and not self.item.owns
        return within and day is not None and "weekday" in day.rule

    def _goes_on_the_list(self) -> bool:
        """ "Mole: opened up / Friday: same": a line that is headed as the one above it is, by a name."""
        if self.prev is None or self.prev.text != "\n":
            return False
        above = [n for n in range(self.at - 1) if not n or self.items[n - 1].text == "\n"]
        return bool(above) and all(
            self.items[n].cat == "S" and self.items[n + 1].text in TITLE_MARKS for n in above
        )

    def _day_as_object(self, others: bool) -> str:
        if self._eater_before():
            return "day"
        if self._object():
            prev, nxt = self.prev, self.next
            if prev is not None and "with" in prev.senses:
                return "name"
            if nxt is not None and not {"on", "to"}.isdisjoint(nxt.senses) and not others and self._moved():
                return "name"  # "moved Friday into a bigger tub", "to a terrarium of 20 litres"
            if (self._given() or self._dated_otherwise()) and not others:
                return "name"
            if others:
                return "name" if self._given_alike() else "day"
            if self._other_prey() or "verb" not in (prev.senses if prev else {}):
                return "name" if not self._ambiguous_number() else "doubt"
            return "doubt"
        if others:
            return self._or_day_of_a_meal()
        alone = not self._named_before() and (self._other_prey() or self.next is None)
        alone = alone or self._into_a_home() or self._measured()
        return "name" if alone or (self.next is not None and self.next.cat == "A") else "doubt"

    def _or_day_of_a_meal(self) -> str:
        """ "Anvil 1 locust, Mole refused, Friday 1 cricket": one more of the list, or a day's heading."""
        nxt, prev = self.next, self.prev
        if nxt is not None and nxt.cat == "U" and prev is not None and prev.cat == "M":
            return "doubt"  # "Anvil ate, Friday hid"
        if self._after({"and"}) and self._served_like_those_before():
            return "name"
        meal = (
            nxt is not None
            and (nxt.cat == "N" or bool({"prey", "a"} & set(nxt.senses)))
            and self._is_prey_soon()
        )
        if not meal or prev is None or prev.text not in {",", "\n"}:
            return "day"
        rows = [n for n in self._sentence() if n < self.at and self._opens_row(n)]
        return "name" if len(rows) > 1 else "doubt" if rows else "day"

    def _or_prey(self) -> str:
        item = self.item
        first = self.at == 0 or ends_sentence(self.items[self.at - 1])
        if self._told_of_by_name():
            return "name"
        listed = "name" if self._list_all_acts() else self._listed_in_a_run()
        if listed or self._owned() or self._acts():
            return listed or self._actor_or_prey(first)
        if self.prev is not None and self.prev.cat == "S" and not item.upper:
            return "word"  # "A5 & A6 cricket, A7 none"
        if self._titles() or self._listed() or (self._opens_clause() and self._meal_follows()):
            return "name" if item.upper or self._other_prey() else "doubt"
        if self._object() and not (self.prev is not None and "from" in self.prev.senses):
            if self._other_prey() or (item.upper and self._of_no_meal()):
                return "name"  # "ultimate molt for Locust"
            return "word" if self._others() and not item.upper else "doubt"
        if item.upper and not first and (self._of_no_meal() or not self._others()):
            return "name"  # "Sealed: Cricket on Monday, Anvil on Tuesday"
        if item.upper and self.prev is not None and self.prev.text in TITLE_MARKS:
            return "doubt"
        return "name" if item.upper and first and self._does_something() else "word"

    def _told_of_by_name(self) -> bool:
        """ "Penny's a female, Roach male", "Roach ✓", "when cricket moults next"."""
        ticked = self.next is not None and self.next.text in TICKS
        own = ticked or self._sexed() or self._opens_a_marked_row()
        of_her = self._asked_of() or self._explained() or self._left_out() or self._does_the_same()
        return of_her or (self.item.upper and own)

    def _does_the_same(self) -> bool:
        """ "Anvil took a dubia, same for Cricket", "likewise Cricket"; not "the same cricket"."""
        if self.prev is None or "same" not in self.prev.senses or self.item.val.hits[0].plural:
            return False
        return self.item.upper or self.prev.text.rpartition(" ")[2] in _FOR_OR_WITH

    def _left_out(self) -> bool:
        """ "a drink for everyone on C xcept cricket": one of those who get it, and behind it nothing more."""
        ends = self.next is None or self.next.cat in "MD"
        return ends and self._after({"except"}) and not self.item.val.hits[0].plural

    def _opens_a_marked_row(self) -> bool:
        """ "Ink roach ✓ Cricket roach ✓ Friday locust ✗": one more with prey and a sign of its own."""
        behind = self.items[self.at + 1 : self.at + 1 + _LONGEST_MARKED]
        sign = next((n for n, i in enumerate(behind) if i.text in TICKS or i.text in ANSWERS), None)
        opens = self.prev is None or self.prev.text in TICKS or self.prev.text in {",", "\n"}
        meal = behind[:sign] if sign else []
        prey = [i for i in meal if "prey" in i.senses or _may_be_prey(i)]
        return opens and bool(prey) and all(i.cat in "WN" or i in prey for i in meal)

    def _marked_as_hers(self) -> bool:
        """ "Mole cricket ❌", "c2 cricket yes": what the one named before it got, and what came of it."""
        behind = self.next is not None and (self.next.text in TICKS or self.next.text in ANSWERS)
        hers = self.prev is not None and self.prev.cat == "S" and not self.prev.owns
        return behind and hers and not self.item.upper

    def _is_what_was_eaten(self) -> bool:
        """ "Mole didn't eat the cricket but took a roach": a small word behind a verb of eating."""
        before = self.items[: self.at]
        if self.item.upper or len(before) < len(("Mole", "ate", "the")) or "the" not in before[-1].senses:
            return False
        kinds = before[-2].senses.kinds
        return bool(kinds) and kinds <= FEEDING and any(i.cat == "S" for i in before)

    def _asked_of(self) -> bool:
        """ "when cricket moults next": behind a question word, before what no feeder is told to do."""
        asks = self.prev is not None and self.prev.text in _WHEN
        kinds = self.next.senses.kinds if self.next is not None else frozenset()
        return asks and bool(kinds) and kinds <= OF_ANIMALS

    def _apiece(self) -> bool:
        """ "…, cricket each": a feeder that each had."""
        return not self.item.upper and self.next is not None and "each" in self.next.senses

    def _given_to_another(self) -> bool:
        """ "dubia for Biscuit, cricket for Ink": the prey that another one gets, in a list of such."""
        behind = self.items[self.at + 1 : self.at + 3]
        if len(behind) < 2 or "for" not in behind[0].senses or behind[1].cat != "S":
            return False
        return self._opens_clause() and self._other_prey()

    def _of_no_meal(self) -> bool:
        """Whether the sentence tells of something, and of no meal."""
        kinds = frozenset().union(*(self.items[n].senses.kinds for n in self._sentence()))
        return bool(kinds) and kinds.isdisjoint(FEEDING)

    def _told_which(self) -> bool:
        """ "Cricket the orange baboon", "Cricket (C2)": behind a name the same animal said in other words."""
        behind = self.items[self.at + 1 : self.at + 3]
        leads = len(behind) > 1 and ("the" in behind[0].senses or behind[0].text == "(")
        if not leads or behind[1].cat != "S":
            return False
        mine = {t for h in self.item.val.hits for t in h.tags}
        hits = getattr(behind[1].val, "hits", ())
        said = {t for h in hits for t in h.tags} or set(getattr(behind[1].val, "tags", ()))
        return bool(mine & said)

    def _has_so_many(self) -> bool:
        """ "saffron 2 crix, sunny 1": a number alone, behind another and what that one ate."""
        start = begins_behind(self.items, self.at, ends_sentence)
        before, behind = self.items[start : self.at], self.items[self.at + 1 : self.at + 3]
        alone = bool(behind) and behind[0].cat == "N" and (len(behind) == 1 or behind[1].cat == "M")
        ate = any("prey" in i.senses or not FEEDING.isdisjoint(i.senses.kinds) for i in before)
        return alone and ate and any(i.cat == "S" for i in before)

    def _owned(self) -> bool:
        """ "Ink's cricket is dead": behind whose it is."""
        return self.prev is not None and self.prev.cat == "S" and self.prev.owns

    def _actor_or_prey(self, first: bool) -> str:
        """ "Cricket ate", "cricket refused": the animal, or what it was given."""
        if self._owned():
            return "doubt" if self.item.upper else "word"
        verb = self.next.senses.get("verb") if self.next is not None else None
        food = verb is not None and verb.group.kind in FEEDING
        if self._other_prey() or not (food or verb is None) or self._acts_as_no_prey():
            return "name"
        if _kicks(self.next) and self.item.upper and not self._others():
            return "name"  # "Locust flicked hairs at me"
        return "name" if self.item.upper and not first else "doubt"

    def _told_as_another(self) -> bool:
        """ "… same with sunny", "…, sunny same": told of as another was."""
        before = self.prev
        leads = before is not None and "same" in before.senses
        if before is not None and leads and not _FOR_OR_WITH.isdisjoint(before.text.split()):
            return True
        return self.next is not None and "same" in self.next.senses and self._opens_clause()

    def _of_her_size(self) -> bool:
        """ "sunny 13.6 cm": a length or a weight, which no weather has."""
        amount = self.next.val if self.next is not None and self.next.cat == "A" else None
        return amount is not None and amount.dimension in {"length", "weight"}

    def _or_word(self) -> str:
        item = self.item
        senses = item.alt.senses if item.alt is not None else {}
        if "weather" in senses and self._climate() and not (self._of_her_size() or self._acts()):
            return "word"
        if "future" in senses and not item.upper and self._behind_its_subject():
            return "word"  # "peanut will not eat"
        if self.next is not None and _opens(self.next) in _SEEMS:
            return "name"  # "Sunny looks like she's next"
        if self._told_as_another() or (self._after({"and"}) and self._served_like_those_before()):
            return "name"  # "fed ink a dubia and sunny a dubia"
        told_of = self._opens_a_marked_row() or (
            self._opens_clause() and (self._meal_follows() or self._has_so_many() or self._of_her_size())
        )
        if told_of or self._or_another() or ("everyone" in senses and self._after({"of"})):
            return "name"  # "sold two of the gang", of a lot that is called so
        return self._or_word_in_place()

    def _or_word_in_place(self) -> str:
        """A name or a word, by what stands beside it."""
        item = self.item
        beside = (i for i in (self.prev, self.next) if i is not None)
        twin = next((i for i in beside if i.text.split()[:1] == [item.text]), None)
        if twin is not None:  # "will Will molt"
            return "doubt" if twin.upper == item.upper else "name" if item.upper else "word"
        first = self.at == 0 or ends_sentence(self.items[self.at - 1])
        if (item.upper and not first) or self._after({"did", "except"}) or self._against_another():
            return "name"
        if self._acts() or self._object() or self._listed() or self._titles():
            return "name"
        if any(h.how not in EXACT for h in item.val.hits):
            return "name"
        return self._of_nothing_but_names() or ("name" if item.upper and not self._others() else "word")


_IN: Final = rule_words("in")
_AS_WELL: Final = rule_words("also_or_afterwards")
#: "two small dubia roaches ✓": at most so many words, and the sign.
_LONGEST_MARKED: Final = 5
_FOR_OR_WITH: Final = rule_words("for_or_with")
_ME: Final = rule_words("me_alone")
_THATS: Final = rule_words("says_what_was")
_HERS: Final = rule_words("hers")
