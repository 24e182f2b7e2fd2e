"""People and places that are not of the shelf: from whom, to whom, where."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.persons import giver_until, person_until
from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.names.shelf_names import EXACT
from bot.reading.words.phrasings import word_set, words_of_all
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def people(message: Message, frame: Frame) -> None:
    """The words after "to", "with" and "from" that name a person or a shop."""
    items = frame.clause.items
    _giver(message, frame)
    if all(i.cat == "U" or "market" in i.senses for i in items) and items[0].cat == "U" and len(items) > 1:
        frame.from_words = _words_after(message, items, 0) if "market" in items[-1].senses else ""
    for place, item in enumerate(items):
        if item.text in _PAID and place + 2 < len(items) and items[place + 2].cat == "A":
            frame.from_words = frame.from_words or _somebody(message, items[place + 1])
        if item.text in _GAVE and place + 2 < len(items) and _own_animal(items[place + 2]):
            frame.to_words = frame.to_words or _somebody(message, items[place + 1])
        if _LEADS.isdisjoint(item.senses):
            continue
        goes_to = "verb" in item.senses and _leads_to(message, item)
        for cat in ("to", "from", "with"):
            if cat in item.senses or goes_to == cat or (cat == "from" and _at_a_market(items, place)):
                words = _words_after(message, items, place + 1, of_a_shop=cat == "from")
                if words and (cat == "from" or _of_a_seller(frame, item)):
                    frame.from_words = frame.from_words or words
                elif words:
                    frame.to_words = frame.to_words or words


_PAID: Final = rule_words("paid")


def _of_a_seller(frame: Frame, lead: Item) -> bool:
    """ "compré una a Marta": whom a newcomer was bought of, where the word before them could be of either."""
    bought = any(verb.group.act == "buy" for _, item in frame.verbs for verb in item.senses.verbs)
    return bought and lead.text in word_set("before_sellers") and not any(r.how in EXACT for r in frame.refs)


def _somebody(message: Message, item: Item) -> str:
    """ "paid Aoife 35 euros", "gave Marta B4": a word in capitals that nothing else explains."""
    return message.words(item.i, item.j) if item.cat == "U" and item.upper else ""


def _own_animal(item: Item) -> bool:
    return item.cat == "S" and item.val.sure and item.val.how in EXACT and not item.owns


#: Verbs behind which whoever gets an animal stands before it.
_GAVE: Final = rule_words("gave_away")


def somebody_elses(frame: Frame) -> None:
    """ "Marta's rosie molted": an animal of that sort, but not of this shelf."""
    items = frame.clause.items
    for owner, animal in pairwise(items) if frame.unknown and frame.refs else ():
        theirs = owner.cat == "U" and owner.owns and animal.cat == "S"
        if theirs and animal.val.how not in EXACT and animal.val.how != "place":
            frame.flags.add("stranger")
    bought = any(item.senses.kinds & _CHANGES_HANDS for _, item in frame.verbs)
    for animal, of, owner in zip(items, items[1:], items[2:], strict=False) if not bought else ():
        sort = animal.cat == "S" and animal.val.how not in EXACT and animal.val.how != "place"
        if sort and of.text in word_set("before_owners") and owner.cat == "U":
            frame.flags.add("stranger" if owner.upper else "hedge")  # "la pulchra de Marta mudó"
    if not bought and _in_the_trade(items):
        frame.flags.add("hedge")
    if _befell_somebody(items) and frame.refs and all(ref.how not in EXACT for ref in frame.refs):
        frame.flags.add("stranger" if items[1].upper else "hedge")


def _in_the_trade(items: Sequence[Item]) -> bool:
    """ "a pulchra molted at the shop", "the shop's rosie refused": of none that has a name."""
    sorts = [at for at, item in enumerate(items) if item.cat == "S"]
    if not sorts or any(items[at].val.how in EXACT or items[at].val.how == "place" for at in sorts):
        return False
    there = any(
        _AT.intersection(at.senses) and not _ARTICLES.isdisjoint(the.senses) and _sells(where)
        for at, the, where in zip(items, items[1:], items[2:], strict=False)
    )
    return there or any(_sells(items[at - 1]) for at in sorts if at)


def _sells(item: Item) -> bool:
    return "market" in item.senses or not word_set("sellers").isdisjoint(
        {item.text, item.text.removesuffix("s")}
    )


_CHANGES_HANDS: Final = frozenset({Kind.ACQUIRED, Kind.LEFT})


_AT: Final = frozenset({"on"})
_ARTICLES: Final = frozenset({"a", "the"})


def _befell_somebody(items: Sequence[Item]) -> bool:
    """ "a Marta se le murió la pulchra": to a person, for whom a pronoun stands again before the verb."""
    to_one = len(items) > 3 and "to" in items[0].senses and items[1].cat == "U"
    verb = next((at for at, item in enumerate(items) if "verb" in item.senses), 0) if to_one else 0
    return verb > 2 and "pron" in items[verb - 1].senses and "did" in items[verb - 2].senses


def _giver(message: Message, frame: Frame) -> None:
    """Who stands before "sold me a sling", and before "took Ink for 25 euro"."""
    items = frame.clause.items
    at = next((n for n, i in enumerate(items) if "verb" in i.senses), 0)
    person = giver_until(items, at) if _to_me(items[at]) else 0
    if person:
        frame.from_words = frame.from_words or message.words(items[0].i, items[person - 1].j)
        return
    if (
        not at
        or items[0].cat != "U"
        or any(i.cat != "U" for i in items[:at])
        or (frame.refs and frame.before)
    ):
        return
    words, verb = message.words(items[0].i, items[at - 1].j), items[at]
    if _to_me(verb):
        frame.from_words = frame.from_words or words
    elif _goes_to_them(frame, verb):
        frame.to_words = words
        frame.flags.add("goes to them")


def _leads_to(message: Message, item: Item) -> str:
    """ "has gone to", "home from", "bought by": how a verb's own last word leads to a person, if it does."""
    last = item.text.rpartition(" ")[2]
    senses = {sense.cat for sense in message.senses(item.j - 1)} if item.j > item.i + 1 else set()
    if last not in _LAST_WORDS and senses.isdisjoint({"to", "with"}):
        return ""
    kinds = {s.group.kind for s in item.senses.values()}
    if last in _FROM:
        return "from" if Kind.ACQUIRED in kinds else ""
    return "to" if Kind.LEFT in kinds else ""


#: Senses of the words that may stand before a person or a place.
_LEADS: Final = frozenset({"to", "from", "with", "on", "of", "verb"})


_FROM: Final = rule_words("from")
_LAST_WORDS: Final = rule_words("leads_to_a_person")


def _to_me(verb: Item) -> bool:
    """ "gave me", "me regaló": a verb with the keeper in its own words, to whom it was done."""
    words = verb.text.split()
    return not word_set("to_me").isdisjoint({words[0], words[-1]})


def _goes_to_them(frame: Frame, verb: Item) -> bool:
    """ "Priya bought Dot", "Priya took Dot for 25 euro": an animal of the shelf that somebody else takes."""
    whole = not any(i.cat == "S" and i.owns for i in frame.clause.items)  # not "picked up Ink's tub"
    own = whole and bool(frame.refs) and all(r.how in EXACT and r.sure for r in frame.refs)
    buys = any(s.group.act == "buy" for s in verb.senses.values())
    takes = any(s.group.act == "take" for s in verb.senses.values())
    paid = any(a.dimension == "money" for _, a in frame.amounts)
    return own and not frame.meals and (buys or (takes and paid))


def _at_a_market(items: Sequence[Item], place: int) -> bool:
    """ "at the Dublin show", "by Tom": where or by whom it was got."""
    if {"on", "of"}.isdisjoint(items[place].senses):
        return False
    if items[place].text in _BY:
        return place + 1 < len(items) and items[place + 1].cat == "U"
    return items[place].text in words_of_all("at_a_place") and any(
        "market" in i.senses for i in items[place + 1 : place + 5]
    )


_BY: Final = rule_words("by")


def _words_after(message: Message, items: Sequence[Item], place: int, *, of_a_shop: bool = False) -> str:
    person = person_until(items, place)
    if person > place:
        return message.words(items[place].i, items[person - 1].j)
    taken: list[Item] = []
    while place < len(items) and (
        items[place].cat == "U" or (items[place].cat == "W" and not _stops(items[place]))
    ):
        senses = items[place].senses
        if taken and (items[place].text in _BUYERS or (of_a_shop and ("with" in senses or "a" in senses))):
            break  # "at the fair of Hamm I bought one", "home from the show with a sling"
        taken.append(items[place])
        place += 1
        if _in_a_town(items, place) and "market" in taken[-1].senses:  # "the fair in Hamm"
            taken += items[place : place + 2]
            place += 2
    if not any(i.cat == "U" or "market" in i.senses for i in taken):
        return ""
    return message.words(taken[0].i, taken[-1].j)


def _in_a_town(items: Sequence[Item], place: int) -> bool:
    """ "in Hamm": a small word for where, and a name that nothing else explains."""
    town = items[place + 1] if place + 1 < len(items) else None
    return town is not None and town.cat == "U" and town.upper and "on" in items[place].senses


_BUYERS: Final = rule_words("i_or_we")


def _stops(item: Item) -> bool:
    return any(c in item.senses for c in ("to", "from", "and", "on", "verb"))
