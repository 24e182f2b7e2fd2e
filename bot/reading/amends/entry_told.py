"""What words say of an entry on record: its animals, kinds, days and values. "Ink's meal of Monday"."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from typing import Any, Final

from bot.reading.amends.amend_values import FIELD_OF
from bot.reading.clauses.figures import bare_number
from bot.reading.days import Moment, find_days
from bot.reading.items.item import Item, Ref
from bot.reading.message.parse import Message
from bot.reading.model import FEEDING, MOLTS, Earlier
from bot.reading.names.shelf_names import EXACT
from bot.reading.questions.ideas import ideas_in
from bot.reading.words.rule_words import rule_words
from bot.reading.words.scan import Words
from bot.terms import Kind

#: Words that point at an entry just spoken of.
POINTERS: Final = rule_words("points_at_it")
_THE: Final = rule_words("the")


def number_of(item: Item) -> Decimal | None:
    """The figure that an item is, without its unit; ``None`` for whatever else."""
    if item.cat == "N" and not item.val.doubt and item.val.value is not None:
        return Decimal(item.val.value)
    return bare_number(item)


def value_of(item: Item) -> dict[str, Any]:
    """What an entry says by a word of it, under the names of an amendment's changes; empty where nothing."""
    if item.cat == "S" and item.val.sure:
        return {"specimens": item.val.tags}
    if item.cat == "D" and item.val.day is not None:
        return {"day": item.val.day}
    if item.cat == "A" and item.val.dimension in FIELD_OF:
        name, factor = FIELD_OF[item.val.dimension]
        return {name: item.val.value * factor}
    if "prey" in item.senses and item.senses["prey"].group.prey:
        return {"prey": item.senses["prey"].group.prey}
    number = number_of(item)
    return {"number": number} if number is not None else {}


#: Marks that may stand within the name of an entry; any other begins another matter.
_WITHIN: Final = frozenset({":", "'", '"', "(", ")"})


class Told:
    """What a stretch of a message says of an entry: its animals, kinds, days and values.

    ``lately``: it is of today or yesterday, though no day is said. ``apart`` has the parts that belong to no
    entry: whatever else is told or wanted there.
    """

    def __init__(self, message: Message, part: range) -> None:
        self.message, self.part = message, part
        self.items = (
            [i for i in message.items([part]) if i.cat != "M" or i.text not in _WITHIN] if part else []
        )
        while self.items and self.items[-1].cat == "M":
            self.items.pop()
        self.refs: list[Ref] = []
        self.kinds: set[Kind] = set()
        self.days: list[Any] = []
        self.was: dict[str, Any] = {}
        self.apart: list[Item] = []
        self.lately = False
        self.only_prey = any("prey" in i.senses for i in self.items)
        self.latest = not _LATEST.isdisjoint(message.keys[part.start : part.stop])
        for place, item in enumerate(self.items):
            self._counted = place > 0 and (
                self.items[place - 1].cat == "N" or "a" in self.items[place - 1].senses
            )
            self._take(item)
        named = {t for i in self.items if i.cat in "SD" for t in range(i.i, i.j)}
        self.kinds |= {kind for _, kind in ideas_in(message, part, named, set(), range(0)).kinds}
        if {Kind.FED, Kind.OFFERED} & self.kinds:
            self.kinds |= {Kind.FED, Kind.OFFERED}
        if MOLTS & self.kinds:
            self.kinds |= MOLTS

    def _take(self, item: Item) -> None:
        if item.cat == "S":
            self.refs.append(item.val)
        elif item.cat == "D":
            self.days.append(item.val)
        elif item.cat in "NA" or "prey" in item.senses:
            self._take_value(item)
        elif (item.cat == "W" and self._take_kind(item)) or self._names_it(item):
            return
        else:
            self._else(item)

    def _take_value(self, item: Item) -> None:
        counted = self._counted and "prey" in item.senses  # "a cricket" is nobody called Cricket
        if not counted and self._names_it(item):
            return
        if "prey" in item.senses:
            self.kinds |= FEEDING
        self.was |= value_of(item)

    def _take_kind(self, item: Item) -> bool:
        part = item.senses.part
        if part in _OF_NO_ENTRY and not self._names_it(item):
            self.apart.append(item)
            return True
        if part == "food":
            self.kinds |= FEEDING
        if not _MEASURES.isdisjoint(item.senses):
            self.kinds.add(Kind.MEASURED)
        if not _AIR.isdisjoint(item.senses):
            self.kinds.add(Kind.CLIMATE)
        kinds = {v.group.kind for v in item.senses.verbs if v.group.kind is not None and not v.group.weak}
        self.kinds |= kinds
        return bool(kinds or part == "food")

    def _names_it(self, item: Item) -> bool:
        """An animal whose name is a word or a figure as well; or a word for an entry, whichever."""
        hits = self.message.names.phrases.get(tuple(self.message.keys[item.i : item.j]), ())
        exact = next((h for h in hits if h.how in EXACT and not h.plural), None)
        if exact is not None:
            self.refs.append(Ref(exact.tags, how=exact.how, words=item.text))
            return True
        senses = self.message.lexicon.earlier.senses(self.message.keys[item.i])
        groups = [s.group for s in senses if s.cat == "on_record"]
        self.kinds |= {group.kind for group in groups if group.kind is not None}
        return bool(groups)

    def _else(self, item: Item) -> None:
        day = self._day_that_owns(item)
        if day is not None:
            self.days.append(day)
            return
        idea = ideas_in(self.message, range(item.i, item.j), set(), set(), range(0)).kinds
        if (item.cat == "U" and not idea) or item.cat in "PXTEM" or not _NO_ENTRY.isdisjoint(item.senses):
            self.apart.append(item)

    def _day_that_owns(self, item: Item) -> Any:
        """ "Yesterday's feeding", "mondays water": the day, where the word is one."""
        text = item.text.casefold()
        if not text.endswith("s") or item.cat not in "UW":
            return None
        settings, now = self.message.settings, self.message.now
        words = Words(text.removesuffix("s").rstrip("'"))
        found = find_days(words, Moment.of(now, settings), settings.language)
        return found[0] if len(found) == 1 and found[0].end == len(words.text) else None

    def fits(self) -> bool:
        """Whether all that is said is of an entry."""
        return not self.apart

    def says_enough(self) -> bool:
        """Whether an entry can be found by it."""
        whom = any(len(ref.tags) < len(self.message.names.specimens) for ref in self.refs)
        named = whom or bool(self.kinds and (self.refs or self.days or self.latest))
        return named and self.fits()

    def only_named(self) -> bool:
        """Whether an animal is named and nothing else said."""
        return len(self.items) == 1 and len(self.refs) == 1

    def named_by_noun(self) -> bool:
        """Whether the words are a thing, "Ink's meal of Monday", and no account, "Ink ate on Monday"."""
        verbs = [
            s.group for i in self.items for c, s in i.senses.items() if c == "verb" and "noun" not in i.senses
        ]
        owned = any(i.owns for i in self.items if i.cat == "S")
        pointed = self.message.keys[self.part.start] in POINTERS | _THE
        return all(group.noun for group in verbs) or owned or pointed

    def earlier(self, tags: tuple[str, ...] | None = None) -> Earlier:
        """The entry told of; ``tags`` where who is meant had to be asked."""
        if tags is None:
            tags = self.message.names.in_order(t for r in self.refs for t in r.tags)
        denied_day = self.was.pop("day", None)
        days = {day for span in self.days for day in span.may_be()}
        if self.lately:
            days |= {self.message.today - timedelta(days=ago) for ago in (0, 1)}
        return Earlier(
            specimens=tags or self.was.get("specimens", ()),
            kinds=tuple(kind for kind in Kind if kind in self.kinds),
            days=tuple(sorted(days | ({denied_day} if denied_day else set()))),
            latest=self.latest,
            was={name: value for name, value in self.was.items() if name != "specimens"},
        )


_LATEST: Final = rule_words("last_or_latest")


#: Parts of an enclosure or an animal: what is taken out of there is the keeper's work.
_OF_NO_ENTRY: Final = frozenset({"waste", "box", "sub", "lid", "mouth", "body", "dish"})
_MEASURES: Final = frozenset({"span", "carapace", "weight"})
_AIR: Final = frozenset({"temp", "humid"})
#: Senses of words that make of a message something else than the name of an entry.
_NO_ENTRY: Final = frozenset(
    {"except", "but", "cond", "report", "future", "hedge", "neg", "undone", "habit", "self"}
)
