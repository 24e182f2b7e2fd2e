"""Which animals a name in a message means, and whether the word is a name at all.

A shelf's names come first: before months, weekdays, prey and other words, wherever the sentence lets
a name stand. Where both may stand, the name is in doubt and will be asked about.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items import Item, Ref
from bot.reading.names import Hit, NameSpan, ShelfNames

#: Marks that end a sentence, and those that part lists.
HARD: Final = frozenset("\n;.!?")
LIST_MARKS: Final = frozenset(",+&/")
TITLE_MARKS: Final = frozenset(":–-")
#: Signs that say of whatever stands before them that it did, or did not.
TICKS: Final = frozenset("✓✗")

_EXACT: Final = frozenset({"tag", "name", "aka"})


def ref_of(span: NameSpan, words: str, names: ShelfNames) -> Ref:
    """The animals that the phrase of a name may mean."""
    hits = span.hits
    best = hits[0]
    single = [h for h in hits if not h.plural and h.how != "place"]
    if single:
        return _single(single, words, names)
    many = [h for h in hits if h.plural]
    if many:
        tags = names.in_order(t for h in many for t in h.tags)
        kind_of = many[0].how
        if kind_of in _EXACT and len(tags) == 1:
            return Ref(tags, how=kind_of, words=words)
        return Ref(
            tags,
            how=kind_of,
            words=words,
            plural=True,
            species=_one_species(many),
            base=_base(span, names, words),
        )
    return Ref(best.tags, how="place", words=words, place=best.place, plural=True, group=True)


def _single(hits: Sequence[Hit], words: str, names: ShelfNames) -> Ref:
    best = hits[0]
    if best.how == "tag" and len(best.tags) == 1:
        return Ref(best.tags, how="tag", words=words)
    tags = names.in_order(t for h in hits for t in h.tags)
    species = _one_species(hits)
    base = tuple(words.split()) if tuple(words.split()) in names.numbered else None
    if len(tags) == 1:
        return Ref(tags, how=best.how, words=words, species=species)
    return Ref(tags, how=best.how, words=words, sure=False, species=species, base=base)


def _one_species(hits: Sequence[Hit]) -> str | None:
    found = {h.species for h in hits if h.species}
    return found.pop() if len(found) == 1 else None


def _base(span: NameSpan, names: ShelfNames, words: str) -> tuple[str, ...] | None:
    keys = tuple(words.split())
    for cut in (keys, (*keys[:-1], keys[-1].removesuffix("s")), (*keys[:-1], keys[-1].removesuffix("es"))):
        if cut in names.numbered:
            return cut
    return None


def settle_names(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with every name settled: an animal, sure or in doubt, or the other word that it is."""
    for short in (True, False):  # a lone letter first: the others are judged by what it is
        verdicts = [
            _Clause(items, k).verdict() if _open(i) and (not short or len(i.text) == 1) else ""
            for k, i in enumerate(items)
        ]
        if any(verdicts):
            items = _settled(items, verdicts, names)
    return items


def _open(item: Item) -> bool:
    """Whether a name has still to be settled."""
    return item.cat == "S" and isinstance(item.val, NameSpan)


def _settled(items: Sequence[Item], verdicts: Sequence[str], names: ShelfNames) -> list[Item]:
    out: list[Item] = []
    skip_until = -1
    for item, verdict in zip(items, verdicts, strict=True):
        if item.i < skip_until:
            continue
        if not verdict:
            out.append(item)
            continue
        if verdict in {"name", "doubt", "count"}:
            ref = ref_of(item.val, item.text, names)
            if verdict == "count":
                _or_its_row(ref, item.text, names)
            if verdict == "doubt" and ref.sure:
                ref.sure, ref.doubt = False, "name_or_word"
            new = Item("S", item.i, item.j, item.text, val=ref)
        elif verdict == "day" and item.alt is not None and item.alt.day is not None:
            new = Item("D", item.i, item.alt.day_end, item.text, val=item.alt.day)
            skip_until = item.alt.day_end
        elif item.alt is not None and item.alt.senses:
            new = Item("W", item.i, item.j, item.text, senses=item.alt.senses)
        else:
            new = Item("U", item.i, item.j, item.text)
        new.upper, new.owns = item.upper, item.owns
        out.append(new)
    return out


def _or_its_row(ref: Ref, words: str, names: ShelfNames) -> None:
    """ "Moss 2 flies": Moss 2, or another Moss and two flies."""
    base = tuple(words.split()[:-1])
    others = {t for hit in names.phrases.get(base, ()) for t in hit.tags if hit.how in _EXACT}
    row = names.in_order({*ref.tags, *names.numbered.get(base, {}).values(), *others})
    if len(row) > 1:
        ref.tags, ref.sure = row, False


class _Clause:
    """A name's surroundings within its sentence, asked a few questions."""

    def __init__(self, items: Sequence[Item], at: int) -> None:
        self.items, self.at, self.item = items, at, items[at]
        self.prev = items[at - 1] if at else None
        self.next = items[at + 1] if at + 1 < len(items) else None

    def verdict(self) -> str:
        """ "name", "doubt", "day" or "word"."""
        item, span = self.item, self.item.val
        one_word = item.j == item.i + 1
        if not one_word and span.spaced and self._may_count():
            return "count"
        if not one_word and all(h.how in _EXACT for h in span.hits) and item.alt is None:
            return "name"
        if len(item.text) == 1:
            return self._letter()
        if item.owns and (item.alt is None or item.alt.day is None or "verb" not in item.alt.senses):
            return "name"
        if one_word and self._counted():
            return "word"
        if self._may_count():
            return "doubt"
        return self._by_what_else()

    def _by_what_else(self) -> str:
        alt = self.item.alt
        if alt is None:
            return "name"
        if alt.day is not None:
            return self._or_day()
        return self._or_prey() if "prey" in alt.senses else self._or_word()

    def _letter(self) -> str:
        """A place's last letter alone ("fed A"): a capital, or after "on" and "all of"."""
        prev = self.prev
        if (
            self.next is not None
            and self.next.cat in {"A", "N"}
            and self.next.cat == "N"
            and not self._after({"on", "of", "all", "everyone"})
        ):
            return "word"
        if self._after({"on", "of", "all", "everyone"}):
            article = not self.item.upper and self.item.text == "a" and self._goes_on()
            return "word" if article else "name"
        if (
            self.item.upper
            and (self.next is None or ("prey" not in self.next.senses and "size" not in self.next.senses))
            and (
                prev is None
                or self._after({"verb", "and", "except", "but", "with", "for", "to"})
                or prev.cat in {"M", "S"}
            )
        ):
            return "name"
        if not self.item.upper and self.item.text not in {"a", "i"} and self._after({"verb"}):
            return "name"
        return "word"

    def _goes_on(self) -> bool:
        """Whether more than a mark follows in the clause: "in a 12 litre tub"."""
        return self.next is not None and self.next.cat not in {"M", "D"} and "and" not in self.next.senses

    def _after(self, cats: set[str]) -> bool:
        return self.prev is not None and any(c in self.prev.senses for c in cats)

    def _may_count(self) -> bool:
        """ "fed 12 crickets", "Moss 2 flies": the number that is a name may count what follows."""
        nxt = self.next
        if nxt is None or not self.item.counts:
            return False
        return any(c in nxt.senses for c in ("prey", "of", "size", "prekilled"))

    def _counted(self) -> bool:
        """After an article or a number a word that could be a name is a thing: "a twig", "2 crickets"."""
        prev = self.prev
        if prev is None or prev.cat == "S":
            return False
        exact = all(h.how in _EXACT and not h.plural for h in self.item.val.hits)
        if not exact:
            return False
        article = "a" in prev.senses or "some" in prev.senses
        if article:
            return True
        prey = self.item.alt is not None and "prey" in self.item.alt.senses
        return prey and (prev.cat == "N" or "size" in prev.senses or "prekilled" in prev.senses)

    # -- what stands in the same sentence --

    def _sentence(self) -> range:
        start, end = self.at, self.at
        while start > 0 and not _hard(self.items[start - 1]):
            start -= 1
        while end + 1 < len(self.items) and not _hard(self.items[end + 1]):
            end += 1
        return range(start, end + 1)

    def _others(self) -> bool:
        """Whether another, plain name stands in the sentence."""
        return any(
            n != self.at
            and self.items[n].cat == "S"
            and self.items[n].alt is None
            and len(self.items[n].text) > 1
            for n in self._sentence()
        )

    def _other_prey(self) -> bool:
        return any(n != self.at and self._is_prey(n) for n in self._sentence())

    def _is_prey(self, place: int) -> bool:
        item = self.items[place]
        if item.cat == "S" and isinstance(item.val, NameSpan):
            return (
                item.alt is not None and "prey" in item.alt.senses and _Clause(self.items, place)._counted()
            )
        return "prey" in item.senses

    def _listed(self) -> bool:
        """Whether it stands in a list with another name: "Ink, Friday and Mole"."""
        for step in (-1, 1):
            mark, other = self.at + step, self.at + 2 * step
            if 0 <= other < len(self.items) and self.items[other].cat == "S":
                between = self.items[mark]
                if between.text in LIST_MARKS or "and" in between.senses or "or" in between.senses:
                    return True
        return False

    def _list_acts(self) -> bool:
        """Whether a list of nothing but months and weekdays is fed or does something: "April and May ate"."""
        first = last = self.at
        while first >= 2 and self.items[first - 2].cat == "S" and self._joint(first - 1):
            first -= 2
        while last + 2 < len(self.items) and self.items[last + 2].cat == "S" and self._joint(last + 1):
            last += 2
        if _Clause(self.items, first)._object():
            return True
        following = self.items[last + 1] if last + 1 < len(self.items) else None
        if following is None or following.cat in {"A", "N"} or "prey" in following.senses:
            return True
        return "verb" in following.senses and _Clause(self.items, last)._acts()

    def _joint(self, place: int) -> bool:
        between = self.items[place]
        return between.text in LIST_MARKS or "and" in between.senses or "or" in between.senses

    def _acts(self) -> bool:
        """Whether what follows says what an animal did: "Friday ate", "May has shed"."""
        nxt = self.next
        if nxt is None:
            return False
        if nxt.cat == "M":
            return False
        verb = nxt.senses.get("verb")
        if verb is not None:
            return not verb.group.base and not verb.group.noun
        return any(c in nxt.senses for c in ("neg", "did", "still", "undone")) or (
            "fill" in nxt.senses and self._verb_after()
        )

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

    def _titles(self) -> bool:
        return self.next is not None and self.next.cat == "M" and self.next.text in TITLE_MARKS

    # -- a name that could be something else --

    def _or_day(self) -> str:
        if self.prev is not None and any(c in self.prev.senses for c in ("on", "the")) and not self._acts():
            return "day"
        others = self._others()
        if self._listed():
            return "name" if others or self._list_acts() else "doubt"
        if self._titles():
            return "day" if others else "name"
        hedged = self.item.alt is not None and "hedge" in self.item.alt.senses
        if self._acts():
            verb = self.next.senses.get("verb") if self.next is not None else None
            if hedged and others and self.prev is not None and self.prev.cat == "S":
                return "word"
            if verb is not None and verb.group.keeper and others:
                return "day"
            return "name"
        if self._after({"did"}):
            return "name"
        if (
            hedged
            and self.next is not None
            and self.next.cat == "W"
            and self.prev is not None
            and self.prev.cat == "S"
        ):
            return "word"
        return self._day_as_object(others)

    def _day_as_object(self, others: bool) -> str:
        if self._object():
            prev = self.prev
            if prev is not None and "with" in prev.senses:
                return "name"
            if others:
                return "day" if self._prey_done() else "name"
            if self._other_prey() or "verb" not in (prev.senses if prev else {}):
                return "name" if not self._ambiguous_number() else "doubt"
            return "doubt"
        if others:
            return self._or_day_of_a_meal()
        return "name" if self._other_prey() or self.next is None or self.next.cat == "A" else "doubt"

    def _or_day_of_a_meal(self) -> str:
        """ "Anvil 1 locust, Mole refused, Friday 1 cricket": one more of the list, or a day's heading."""
        nxt, prev = self.next, self.prev
        meal = (
            nxt is not None
            and (nxt.cat == "N" or bool({"prey", "a"} & set(nxt.senses)))
            and self._is_prey_soon()
        )
        if not meal or prev is None or prev.text not in {",", "\n"}:
            return "day"
        rows = [n for n in self._sentence() if n < self.at and self._opens_row(n)]
        return "name" if len(rows) > 1 else "doubt" if rows else "day"

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
            and (self.at + 2 >= len(self.items) or _hard(self.items[self.at + 2]))
        )

    def _prey_done(self) -> bool:
        return True

    def _or_prey(self) -> str:
        item = self.item
        first = self.at == 0 or _hard(self.items[self.at - 1])
        if self._acts():
            verb = self.next.senses.get("verb") if self.next is not None else None
            food = (
                verb is not None
                and verb.group.kind is not None
                and verb.group.kind.value in {"fed", "refused", "offered"}
            )
            if self._other_prey():
                return "name"
            if food or verb is None:
                return "name" if item.upper and not first else "doubt"
            return "name"
        if self._titles() or self._listed():
            return "name" if item.upper or self._other_prey() else "doubt"
        if self._object() and not (self.prev is not None and "from" in self.prev.senses):
            if self._other_prey():
                return "name"
            return "word" if self._others() else "doubt"
        if item.upper and not first and not self._others():
            return "name"
        return "word"

    def _or_word(self) -> str:
        item = self.item
        senses = item.alt.senses if item.alt is not None else {}
        if "weather" in senses and self._climate():
            return "word"
        beside = (i for i in (self.prev, self.next) if i is not None)
        twin = next((i for i in beside if i.text.split()[:1] == [item.text]), None)
        if twin is not None:  # "will Will molt"
            return "doubt" if twin.upper == item.upper else "name" if item.upper else "word"
        first = self.at == 0 or _hard(self.items[self.at - 1])
        if (item.upper and not first) or self._after({"did"}) or self._against_another():
            return "name"
        if self._acts() or self._object() or self._listed() or self._titles():
            return "name"
        if any(h.how not in _EXACT for h in item.val.hits):
            return "name"
        return "name" if item.upper and not self._others() else "word"

    def _against_another(self) -> bool:
        """ "Sunny, not Saffron"."""
        rest = [i for i in self.items[self.at + 1 : self.at + 4] if i.cat != "M"]
        return len(rest) > 1 and "neg" in rest[0].senses and rest[1].cat == "S"

    def _climate(self) -> bool:
        return any(
            "room" in self.items[n].senses
            or (self.items[n].cat == "A" and self.items[n].val.dimension == "temperature")
            for n in self._sentence()
        )


def _hard(item: Item) -> bool:
    return item.cat == "M" and item.text in HARD
