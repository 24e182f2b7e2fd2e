"""What stands around a word that is a name of the shelf, and may be another word as well."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, ends_sentence, joins
from bot.reading.items.slips import name_expected
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import EXACT, NameSpan
from bot.reading.words.marks import TICKS, TITLE_MARKS
from bot.reading.words.rule_words import rule_words, rule_words_in_order
from bot.terms import Kind

#: A shorter word that ends in "ed" is no past tense: "bed", "seed".
MOST_LETTERS: Final = 4
#: "mucha nube hoy": words before a thing of which there is much or little, and before no name.
_MUCH: Final = rule_words("much_of_a_thing")
_IS_LIKE: Final = frozenset({"size", "trait", "fill"})


_POSSESSIVE: Final = rule_words("possessives")
#: Senses of the words for several: "… are all sealed", "… both refused".
_OF_ALL: Final = frozenset({"all", "both", "each"})
#: What an animal is seen to do, and no feeder: "Cricket getting chubby".
_BECOMES: Final = rule_words("becomes")
_PUTS: Final = frozenset({"put", "put_into"})


def _is_done(item: Item) -> bool:
    """Whether a word tells of something done, and is no bare verb."""
    return any(not (verb.group.base or verb.group.noun) for verb in item.senses.verbs)


#: Senses of the words between somebody and their sex: "is a", "is still a".
_LEADS_TO_A_SEX: Final = frozenset({"did", "a", "still"})


class Surroundings:
    """A name's surroundings within its sentence, asked a few questions."""

    def __init__(self, items: Sequence[Item], at: int) -> None:
        self.items, self.at, self.item = items, at, items[at]
        self.prev = items[at - 1] if at else None
        self.next = items[at + 1] if at + 1 < len(items) else None

    def _goes_on(self) -> bool:
        """Whether more than a mark follows in the clause: "in a 12 litre tub"."""
        return self.next is not None and self.next.cat not in {"M", "D"} and "and" not in self.next.senses

    def _only_a_part(self) -> bool:
        """A word of a longer name where no name is expected: "straight off the tongs"."""
        parts = all(h.how == "part" for h in self.item.val.hits)
        many = self.prev is not None and self.prev.cat == "N" and all(h.plural for h in self.item.val.hits)
        return parts and not many and not name_expected(self.items, self.at)

    def _after(self, cats: set[str]) -> bool:
        return self.prev is not None and any(c in self.prev.senses for c in cats)

    def _may_count(self) -> bool:
        """ "fed 12 crickets", "Moss 2 flies": the number that is a name may count what follows."""
        nxt = self.next
        if nxt is None or not self.item.counts:
            return False
        behind = self.items[self.at + 2] if self.at + 2 < len(self.items) else None
        if nxt.text in _DEAD and (behind is None or not {"prey", "size"} & behind.senses.keys()):
            return False  # "found GBB 1 dead"
        if self._one_of_them() or self._letter_of_several():
            return False
        prey = nxt.cat == "S" and nxt.alt is not None and "prey" in nxt.alt.senses and not nxt.upper
        return prey or any(c in nxt.senses for c in ("prey", "of", "size", "prekilled", "dur"))

    def _prey_behind(self) -> Item | None:
        """The prey that stands behind, past its size."""
        behind = self.items[self.at + 1 : self.at + 4]
        given = (i for i in behind if "prey" in i.senses or {"size", "prekilled"}.isdisjoint(i.senses))
        return next(given, None)

    def _one_of_them(self) -> bool:
        """ "gbb 4 pinhead": of four of them there would be several."""
        prey, number = self._prey_behind(), self.item.text.rpartition(" ")[2]
        single = prey is not None and prey.text in _SINGLE and not prey.upper
        return single and number.isdecimal() and int(number) > 1

    def _letter_of_several(self) -> bool:
        """ "shelf A crickets": no article stands before several."""
        prey, letter = self._prey_behind(), self.item.text.rpartition(" ")[2]
        several = prey is not None and "prey" in prey.senses and prey.senses["prey"].group.plural
        return several and len(letter) == 1 and letter.isalpha()

    def _counts_for_another(self) -> bool:
        """ "Nine ate nine crickets": who ate them is said already, and that they were eaten."""
        sentence = self._sentence()
        if any(n > self.at and self.items[n].text == self.item.text for n in sentence):
            return True  # "ten crickets for Ten"
        verb = self.prev.senses.get("verb") if self.prev is not None else None
        if verb is not None and verb.group.act == "buy":
            return True
        before = [self.items[n] for n in sentence if n < self.at]
        acts = self._after({"verb"}) and not self.prev.senses["verb"].group.keeper if self.prev else False
        return acts and any(i.cat == "S" for i in before)

    def _counted(self) -> bool:
        """After an article or a number a word that could be a name is a thing: "a twig", "2 crickets"."""
        prev = self.prev
        if prev is None or prev.cat == "S":
            return False
        exact = all(h.how in EXACT and not h.plural for h in self.item.val.hits)
        if not exact:
            return False
        article = "a" in prev.senses or "some" in prev.senses or prev.text in _MUCH
        if article or self._likened():
            return True
        prey = self.item.alt is not None and "prey" in self.item.alt.senses
        if prey and prev.text.rpartition(" ")[2] in _POSSESSIVE:
            return True  # "Cricket took his cricket"
        return prey and (prev.cat == "N" or "size" in prev.senses or "prekilled" in prev.senses)

    def _likened(self) -> bool:
        """ "butt like a black marble": behind an article and what it is like."""
        if self.at < 2 or self.item.upper or self.prev is None:
            return False
        is_like = self.prev.cat == "U" or not _IS_LIKE.isdisjoint(self.prev.senses)
        return is_like and "a" in self.items[self.at - 2].senses

    def _sentence(self) -> range:
        start, end = self.at, self.at
        while start > 0 and not ends_sentence(self.items[start - 1]):
            start -= 1
        while end + 1 < len(self.items) and not ends_sentence(self.items[end + 1]):
            end += 1
        return range(start, end + 1)

    def _others(self) -> bool:
        """Whether another, plain name stands in the sentence."""
        return any(
            n != self.at
            and self.items[n].cat == "S"
            and (self.items[n].alt is None or self.items[n].owns)
            and len(self.items[n].text) > 1
            for n in self._sentence()
        )

    def _moved(self) -> bool:
        verb = self.prev.senses.get("verb") if self.prev is not None else None
        if verb is not None and verb.group.kind is Kind.REHOUSED:
            return True
        into = any(
            i.cat == "A" and i.val.dimension == "volume" for i in self.items[self.at + 1 : self.at + 5]
        )
        return into and self.prev is not None and not _PUTS.isdisjoint(self.prev.senses.acts)

    def _said_before(self) -> bool:
        """Whether the same name stands before it in the sentence."""
        return any(self.items[n].text == self.item.text for n in self._sentence() if n < self.at)

    def _named_before(self) -> bool:
        """Whether an animal was named before it in the sentence, be its name another word as well."""
        return any(
            self.items[n].cat == "S" and len(self.items[n].text) > 1 for n in self._sentence() if n < self.at
        )

    def _other_prey(self) -> bool:
        return any(n != self.at and self._is_prey(n) for n in self._sentence())

    def _is_prey(self, place: int) -> bool:
        item = self.items[place]
        if item.cat == "S" and isinstance(item.val, NameSpan):
            return (
                item.alt is not None
                and "prey" in item.alt.senses
                and Surroundings(self.items, place)._counted()
            )
        return "prey" in item.senses

    def _listed(self) -> bool:
        """Whether it stands in a list with another name: "Ink, Friday and Mole"."""
        for step in (-1, 1):
            mark, other = self.at + step, self.at + 2 * step
            if 0 <= other < len(self.items) and self.items[other].cat == "S" and self._joint(mark):
                return True
        before = self.items[max(0, self.at - 3) : self.at]  # "Ink, Biscuit, and Sunny"
        serial = len(before) > 2 and before[1].text == "," and "and" in before[2].senses
        return serial and before[0].cat == "S"

    def _run_on_list(self) -> range:
        """The places of the list of names around it, with no mark between: "Anvil Cricket and Friday"."""
        first, last = self.at, self.at
        while first:
            step = 2 if first > 1 and "and" in self.items[first - 1].senses else 1
            if self.items[first - step].cat != "S" or self.items[first - step].owns:
                break
            first -= step
        while last + 1 < len(self.items):
            step = 2 if "and" in self.items[last + 1].senses else 1
            if last + step >= len(self.items) or self.items[last + step].cat != "S":
                break
            last += step
        return range(first, last + 1)

    def _of_nothing_but_names(self) -> str:
        """ "ate: Ink Mole. no: Twig Sunny": all of what is headed; behind a keeper's verb it is asked."""
        names = self._run_on_list()
        if len(names) < len(("Twig", "Sunny")) or not names.start:
            return ""
        before, behind = self.items[names.start - 1], self.items[names.stop : names.stop + 1]
        if any(item.cat != "M" for item in behind):
            return ""
        if before.text in TITLE_MARKS:
            return "name"
        return "doubt" if any(verb.group.keeper for verb in before.senses.verbs) else ""

    def _listed_in_a_run(self) -> str:
        """Whether names around it, with no mark between, make it one of them: "name", "doubt", or nothing."""
        names = self._run_on_list()
        if len(names) < len(("Anvil", "Cricket", "and", "Friday")):
            return ""
        before = self.items[names.start - 1] if names.start else None
        done = before is not None and any(verb.group.keeper for verb in before.senses.verbs)
        behind = self.items[names.stop : names.stop + 3]
        prey = bool(behind) and not {"a", "prey", "size"}.isdisjoint(behind[0].senses)
        acts = bool(behind) and behind[0].cat == "W" and not prey
        of_all = any(not _OF_ALL.isdisjoint(i.senses) for i in behind if i.cat == "W")
        if done and before is not None:
            return "doubt" if before.senses.kinds & FEEDING else "name"
        if not acts:
            return ""
        fed = any(i.senses.kinds & FEEDING for i in behind)
        return "name" if of_all and (not fed or self._other_prey()) else "doubt"

    def _list_all_acts(self) -> bool:
        """ "Anvil, Friday n Cricket all ate", "Sunny and Cricket both refused": the last of those who did."""
        joined = (
            self.at > 1 and "and" in self.items[self.at - 1].senses and self.items[self.at - 2].cat == "S"
        )
        behind = self.items[self.at + 1 : self.at + 4]
        if not joined or len(behind) < 2 or not {"all", "both"} & behind[0].senses.keys():
            return False
        acts = behind[1].senses.verbs
        of_them = bool(acts) and not any(v.group.keeper or v.group.base or v.group.noun for v in acts)
        done = any(i.senses.verbs for n in self._sentence() if n < self.at for i in (self.items[n],))
        return of_them and not done

    def _list_acts(self) -> bool:
        """Whether a list of nothing but months and weekdays is fed or does something: "April and May ate"."""
        first = last = self.at
        while first >= 2 and self.items[first - 2].cat == "S" and self._joint(first - 1):
            first -= 2
        while last + 2 < len(self.items) and self.items[last + 2].cat == "S" and self._joint(last + 1):
            last += 2
        if Surroundings(self.items, first)._object():
            return True
        following = self.items[last + 1] if last + 1 < len(self.items) else None
        if following is None or following.cat in {"A", "N"} or "prey" in following.senses:
            return True
        if following.text in TITLE_MARKS:
            return True
        if "did" in following.senses and any(map(_is_done, self.items[last + 2 : last + 4])):
            return True  # "Cricket and Friday have both opened up"
        return "verb" in following.senses and Surroundings(self.items, last)._acts()

    def _joint(self, place: int) -> bool:
        return joins(self.items[place]) or "or" in self.items[place].senses

    def _acts(self) -> bool:
        """Whether what follows says what an animal did: "Friday ate", "May has shed"."""
        nxt = self.next
        if nxt is None or nxt.cat == "M":
            return False
        if nxt.text in TICKS or nxt.text == "=" or self._answered():
            return True  # "Ink ✓", "May = boy"
        verb = nxt.senses.get("verb")
        if verb is not None:
            return not verb.group.base and not verb.group.noun
        return any(c in nxt.senses for c in ("neg", "did", "still", "undone")) or (
            "fill" in nxt.senses and self._verb_after()
        )

    def _answered(self) -> bool:
        """ "Monday no": a yes or no, and nothing behind it."""
        after = self.items[self.at + 2] if self.at + 2 < len(self.items) else None
        alone = after is None or after.cat == "M" or "pron" in after.senses  # "sunny no she just sat there"
        return alone and self.next is not None and bool({"yes", "no"} & set(self.next.senses))

    def _verb_after(self) -> bool:
        place = self.at + 1
        while (
            place < len(self.items)
            and "fill" in self.items[place].senses
            and "verb" not in self.items[place].senses
        ):
            place += 1
        return place < len(self.items) and "verb" in self.items[place].senses

    def _object(self) -> bool:
        """Whether a verb of the keeper or a preposition asks for an animal here."""
        prev = self.prev
        if prev is None:
            return False
        verb = prev.senses.get("verb")
        return (verb is not None and verb.group.keeper) or any(
            c in prev.senses for c in ("with", "to", "from")
        )

    def _ends_clause(self) -> bool:
        """ "Ink sealed, Mole opened, Friday fed": one more of a list, or said of a day?"""
        after = self.items[self.at + 2] if self.at + 2 < len(self.items) else None
        listed = self.prev is not None and self.prev.text == ","
        return listed and (after is None or after.cat == "M")

    def _explained(self) -> bool:
        """ "Cricket the OBT": what it is called, and what it is."""
        after = self.items[self.at + 1 : self.at + 3]
        if len(after) < 2 or "the" not in after[0].senses or after[1].cat != "S":
            return False
        value = after[1].val
        tags = {t for h in value.hits for t in h.tags} if isinstance(value, NameSpan) else set(value.tags)
        return any(not h.plural and tags & set(h.tags) for h in self.item.val.hits)

    def _sexed(self) -> bool:
        """ "…, Roach male, …", "Cricket is a dude": a sex and nothing more, which no prey or day has."""
        place = self.at + 1
        while place < len(self.items) and not _LEADS_TO_A_SEX.isdisjoint(self.items[place].senses):
            place += 1
        said, after = self.items[place : place + 1], self.items[place + 1 : place + 2]
        group = said[0].senses.get("group") if said else None
        alone = self._opens_clause() and (not after or after[0].cat == "M")
        return alone and group is not None and bool(group.group.sex) and not group.group.plural

    def _does_something(self) -> bool:
        """ "Locust flicked hairs at me": a past tense that no verb of the lexicon is, and no other animal."""
        nxt = self.next
        acts = nxt is not None and nxt.cat == "U" and nxt.text.endswith(_ED) and len(nxt.text) > MOST_LETTERS
        seen = nxt is not None and ("seen" in nxt.senses or nxt.text in _BECOMES)
        return (acts or seen) and not self._others() and not self._other_prey()

    def _given(self) -> bool:
        """ "gave Friday a deeper tub", "gave Friday away": which no day can be."""
        verb = self.prev.senses.get("verb") if self.prev is not None else None
        gives = verb is not None and verb.group.act == "give"
        behind = set(self.next.senses) if self.next is not None else set()
        return gives and not behind.isdisjoint({"a", "some", "the", "away"})

    def _given_alike(self) -> bool:
        """ "offered Friday a roach and Mole a locust": each of them behind the verb has a meal of its own."""
        after = [n for n in self._sentence() if n > self.at and self.items[n].cat == "S"]
        return bool(after) and all(map(self._served, [self.at, *after]))

    def _served_like_those_before(self) -> bool:
        """ "fed Mole a roach and Friday a locust"."""
        before = [n for n in self._sentence() if n < self.at and self.items[n].cat == "S"]
        return bool(before) and all(map(self._served, [*before, self.at]))

    def _served(self, place: int) -> bool:
        meal = self.items[place + 1] if place + 1 < len(self.items) else None
        begins = meal is not None and (meal.cat == "N" or "a" in meal.senses)
        return begins and any(self._is_prey(n) for n in range(place + 2, min(place + 5, len(self.items))))

    def _titles(self) -> bool:
        return self.next is not None and self.next.cat == "M" and self.next.text in TITLE_MARKS

    def _eater_before(self) -> bool:
        """ "Will ate Monday": no animal of the shelf is what another one ate."""
        verb = self.prev.senses.get("verb") if self.prev is not None else None
        eats = verb is not None and not verb.group.keeper and verb.group.kind in FEEDING
        return eats and any(self.items[n].cat == "S" for n in self._sentence() if n < self.at)

    def _is_prey_soon(self) -> bool:
        return any(self._is_prey(n) for n in range(self.at + 1, min(self.at + 4, len(self.items))))

    def _opens_row(self, place: int) -> bool:
        before = self.items[place - 1] if place else None
        return self.items[place].cat == "S" and (before is None or before.text in {",", "\n", ":"})

    def _ambiguous_number(self) -> bool:
        """ "fed May 3": three of what?"""
        return (
            self.next is not None
            and self.next.cat == "N"
            and (self.at + 2 >= len(self.items) or ends_sentence(self.items[self.at + 2]))
        )

    def _opens_clause(self) -> bool:
        return self.prev is None or self.prev.cat == "M"

    def _meal_follows(self) -> bool:
        """ "Roach 2 crickets", "Cricket a dubia": another prey right behind, whatever counts or sizes it."""
        begins = self.next is not None and (
            self.next.cat == "N" or not {"a", "size", "prey"}.isdisjoint(self.next.senses)
        )
        return begins and self._is_prey_soon()

    def _against_another(self) -> bool:
        """ "Sunny, not Saffron"."""
        rest = [i for i in self.items[self.at + 1 : self.at + 4] if i.cat != "M"]
        return len(rest) > 1 and "neg" in rest[0].senses and rest[1].cat == "S"

    def _heads_a_list(self) -> bool:
        """ "Sunday's crix: Ink 2": the day, or the animal called so?"""
        day = self.item.alt is not None and self.item.alt.day is not None
        behind = self.items[self.at + 1 : self.at + 3]
        if not day or len(behind) < 2 or behind[1].text != ":":
            return False
        food = "prey" in behind[0].senses or behind[0].senses.part == "food"
        return food and any(i.cat == "S" for i in self.items[self.at + 3 :])

    def _dates_an_occasion(self) -> bool:
        """ "Friday's round: Ink ate", "Ink ate in Friday's round": nobody else's round would be told so."""
        day = self.item.alt is not None and self.item.alt.day is not None
        behind = self.items[self.at + 1 : self.at + 4]
        if not (day and self.item.owns and behind and "occasion" in behind[0].senses):
            return False
        heads = len(behind) > 2 and behind[2].cat == "S" and behind[1].text in TITLE_MARKS | {"\n"}
        return heads or (self._after({"on", "from"}) and self._named_before())

    def _climate(self) -> bool:
        return any(
            "room" in self.items[n].senses
            or (self.items[n].cat == "A" and self.items[n].val.dimension == "temperature")
            for n in self._sentence()
        )


_ED: Final = rule_words_in_order("ending_of_done")
_SINGLE: Final = rule_words("single_prey")
_DEAD: Final = rule_words("dead")
