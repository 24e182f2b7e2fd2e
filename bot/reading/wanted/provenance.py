"""From whom animals of the shelf are, and what was paid for them: "paid 45 euros for Ink". Pure.

It is said of those that are on the shelf already; a newcomer's price and seller are told with its coming.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from functools import cache
from typing import Final

from bot.reading.items.item import Item, words_in
from bot.reading.message.parse import Message
from bot.reading.names.names_alone import whom
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.wanted.groups_alone import group_alone
from bot.reading.wanted.how_often import animals_said
from bot.reading.words.phrasings import (
    NOUNS_IN_CAPITALS,
    Phrasings,
    all_alike,
    bare,
    fitting,
    folded,
    own_data,
    slot,
    word_set,
)
from bot.terms import KeeperSettings

_LONGEST: Final = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Provenance:
    """What a message says of how animals came.

    ``tags`` are all of them, or with ``one_of`` those of which one is meant; none stand for the one that was
    talked of. ``price`` may lack its ``currency``. ``sure``: the words for whom they are from can be nothing
    else.
    """

    tags: tuple[str, ...] = ()
    one_of: bool = False
    price: Decimal | None = None
    currency: str | None = None
    source: str | None = None
    sure: bool = True


def read_provenance(
    text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings
) -> Provenance | None:
    """What a message says of a price or a seller, and nothing else; ``None`` for anything else."""
    if text.rstrip().endswith("?") or len(text) > _LONGEST:
        return None
    words, language = bare(text, language=settings.language), settings.language
    for _, found in fitting(words, language, _phrasings):
        said = {name: slot(found, name) for name in ("who", "price", "source")}
        read = _Parts(names, now, settings)
        whose = read.animals(said["who"] or "")
        price = read.price(said["price"]) if said["price"] else Provenance()
        source = read.source(said["source"]) if said["source"] else Provenance()
        if whose is not None and price is not None and source is not None:
            return Provenance(
                tags=whose.tags,
                one_of=whose.one_of,
                price=price.price,
                currency=price.currency,
                source=source.source,
                sure=source.sure,
            )
    return None


@dataclass(frozen=True, slots=True)
class _Parts:
    """The words in the slots of a phrasing, each by itself."""

    names: ShelfNames
    now: datetime
    settings: KeeperSettings

    def animals(self, words: str) -> Provenance | None:
        """The animals that words name; a pronoun names the one that was talked of."""
        if folded(words) in word_set("pronouns", self.settings.language):
            return Provenance()
        first, _, rest = words.partition(" ")
        lead = folded(first) in word_set("before_names", self.settings.language)
        for said in (words, rest) if lead else (words,):
            tags = animals_said(said, self.names)
            if tags:
                return Provenance(tags=tags)
            if several := whom(said, self.names):
                return Provenance(tags=several, one_of=len(several) > 1)
        group = group_alone(words, self.names, now=self.now, settings=self.settings)
        return Provenance(tags=group) if group else None

    def price(self, words: str) -> Provenance | None:
        """An amount of money and nothing else; a bare number may be one of which it is not said."""
        items = self._items(words)
        if len(items) != 1:
            return None
        (item,) = items
        if item.cat == "A" and item.val.dimension == "money" and item.val.doubt in (None, "what_money"):
            currency = item.val.currency if item.val.doubt is None else None
            return Provenance(price=item.val.value, currency=currency)
        if item.cat == "N" and words.strip().isdecimal():
            return Provenance(price=Decimal(words.strip()))
        return None

    def source(self, words: str) -> Provenance | None:
        """A person, a shop or a fair: "Ines at the expo", "a breeder in Leeds"; no burrow and no shelf."""
        items = self._items(words)
        if not items or not all(map(_may_be_of_people, items)):
            return None
        sellers = word_set("sellers", self.settings.language)
        words_said = set(map(folded, words_in(items)))
        seller = any("market" in item.senses for item in items) or not sellers.isdisjoint(words_said)
        if seller or (items[0].cat == "U" and items[0].upper):
            return Provenance(source=words.strip())
        capitals = self.settings.language not in NOUNS_IN_CAPITALS
        if capitals and any(item.cat == "U" and item.upper for item in items):
            return Provenance(source=words.strip())
        return Provenance(source=words.strip(), sure=False) if [i.cat for i in items] == ["U"] else None

    def _items(self, words: str) -> Sequence[Item]:
        message = Message(words, self.names, self.now, self.settings, None)
        return message.items([range(len(message.tokens))])


#: What the words beside those that nothing explains may be, where they tell of people and where they sell.
_OF_PEOPLE: Final = frozenset(
    {"the", "a", "ones", "on", "of", "and", "market", "report", "self", "elsewhere"}
)


def _may_be_of_people(item: Item) -> bool:
    if item.cat == "U":
        return True
    senses = set(item.senses)
    allowed = _OF_PEOPLE | ({"verb"} if "on" in senses else set())  # "at", which may stand for "ate"
    allowed |= {"pron"} if "the" in senses else set()  # "la feria"
    return item.cat == "W" and senses <= allowed


@cache
def _phrasings(language: str) -> Phrasings[None]:
    return all_alike(own_data(language).get("provenance", ()), language=language)
