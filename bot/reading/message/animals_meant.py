"""What orders of every sort are made with: the animals meant, and what is asked where one is not clear."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from bot.reading.days import Moment, find_days
from bot.reading.items.item import Item, Ref
from bot.reading.message.parse import Message
from bot.reading.model import About, Ask, Option, Reading, ReadingKind
from bot.reading.names.shelf_names import EXACT
from bot.reading.words.rule_words import rule_words
from bot.reading.words.scan import Words


def animals(message: Message, items: Sequence[Item], part: range, *, always: bool) -> list[Ref]:
    """The animals an order is about: named in it, or those just talked of."""
    refs = named_in(message, items)
    if refs or not (always or any("pron" in i.senses for i in items)):
        return refs
    if part.start > 0:
        before = named_in(message, message.items([range(part.start)]))
        if before:
            many = any("pron" in i.senses and i.senses["pron"].group.plural for i in items)
            return before if many else before[-1:]  # "Ink and Mole ate, remind me to water them"
    return [message.talked_of] if message.talked_of is not None else []


def order_items(message: Message, part: range, *, dated: bool) -> list[Item]:
    """The items of an order, read ahead; "Friday" in "rehouse Friday" is the animal, if one is called so.

    ``dated``: an order with no day makes no sense, so that a day has to be left beside the name.
    """
    items = _as_days(message, message.items([part], "future"))
    out: list[Item] = []
    for place, item in enumerate(items):
        others = not dated or any(i.cat in "DP" for i in items if i is not item)
        named = _called(message, items, place, others=others)
        if named is None and not others and (day := _day_ahead(message, items, place)) is not None:
            named = [day]
        out += named if named is not None else [item]
    return out


def _as_days(message: Message, items: Sequence[Item]) -> list[Item]:
    """ "Ink molted, can eat again from Friday": seen with all of the message it is a day, and no animal."""
    named = {item.i for item in items if item.cat == "S"}
    if not named:
        return list(items)
    whole = message.items([range(len(message.tokens))], "future")
    days = {i.i: i for i in whole if i.cat == "D" and i.i in named}
    return [days[i.i] if i.i in days and _of_when(items, place) else i for place, i in enumerate(items)]


def _of_when(items: Sequence[Item], place: int) -> bool:
    before = items[place - 1].senses if place else {}
    return not {"from", "when"}.isdisjoint(before)


def _called(message: Message, items: Sequence[Item], place: int, *, others: bool) -> list[Item] | None:
    """A day that is an animal's name, read as the animal where one has to stand; with the days behind it."""
    item = items[place]
    prev = items[place - 1] if place else None
    needs = place + 1 < len(items) and items[place + 1].text in _NEEDS
    if prev is None or not (_takes_an_animal(prev) or (needs and prev.text == ",")):
        return None
    if item.cat == "S" and not item.val.sure and item.val.doubt == "name_or_word" and len(item.val.tags) == 1:
        return [_as_animal(item, item.j, item.val.tags, item.val.how)] if others else None
    hits = message.names.phrases.get((message.keys[item.i],), ()) if item.cat == "D" else ()
    exact = next((h for h in hits if h.how in EXACT and not h.plural), None)
    if exact is None:
        return None
    behind = message.items([range(item.i + 1, item.j)], "future") if item.j > item.i + 1 else []
    left = others or any(i.cat in "DP" for i in behind)
    return [_as_animal(item, item.i + 1, exact.tags, exact.how), *behind] if left else None


def _day_ahead(message: Message, items: Sequence[Item], place: int) -> Item | None:
    """ "set a reminder for friday: order dubia": the only day there is, though an animal is called so."""
    item, opens = items[place], items[place + 1] if place + 1 < len(items) else None
    if item.cat != "S" or item.owns or opens is None or opens.text not in _OPENS_WHAT or not place:
        return None
    if items[place - 1].text not in _BEFORE_A_DAY:
        return None
    settings = message.settings
    spans = find_days(Words(item.text), Moment(message.now, settings.date_order, "future"), settings.language)
    whole = next((span for span in spans if (span.start, span.end) == (0, len(item.text))), None)
    return Item("D", item.i, item.j, item.text, val=whole) if whole is not None else None


_OPENS_WHAT: Final = frozenset(":,")
_BEFORE_A_DAY: Final = rule_words("before_a_day")
#: "remind me at six, Friday needs a bigger tub": behind these the name is no day.
_NEEDS: Final = rule_words("needs")


def _as_animal(item: Item, end: int, tags: tuple[str, ...], how: str) -> Item:
    return Item("S", item.i, end, item.text, val=Ref(tags, how=how, words=item.text))


def _takes_an_animal(item: Item) -> bool:
    """ "feed Friday", "about Friday": words behind which an animal stands sooner than a day."""
    return "verb" in item.senses or item.text in _ABOUT_WHOM


_ABOUT_WHOM: Final = rule_words("orders_about_whom")


def named_in(message: Message, items: Sequence[Item]) -> list[Ref]:
    """The animals named among items, without those excepted: "all of C but Mole".

    Where some are named, a word for all of them says no more: "pause all feeding for shelf C".
    """
    out: list[Ref] = []
    for place, item in enumerate(items):
        if item.cat == "S" and place and items[place - 1].text in _EITHER and item.val.doubt == "two_fit":
            ref = item.val  # "don't bug me about either Bess": about none of the two
            out.append(Ref(ref.tags, how=ref.how, words=ref.words, plural=True))
        elif item.cat == "S":
            out.append(item.val)
        elif item.cat == "X" and out:
            out[-1] = _without(out[-1], item.val)
    some = [ref for ref in out if len(ref.tags) < len(message.names.specimens)]
    return some or out


_EITHER: Final = rule_words("either")


def _without(group: Ref, excepted: Sequence[Ref]) -> Ref:
    unsure = next((ref for ref in excepted if not ref.sure), None)
    if unsure is not None:
        return unsure
    gone = {tag for ref in excepted for tag in ref.tags}
    left = tuple(tag for tag in group.tags if tag not in gone)
    return Ref(left, sure=group.sure, how=group.how, words=group.words, doubt=group.doubt, group=True)


def asked(about: About, doubt: str) -> Reading:
    """A question without answers to choose from."""
    return Reading(reading=ReadingKind.ASK, ask=Ask(about=about, doubt=doubt))


def about_day(span: Any, made: Any) -> Reading:
    """Which day of a doubtful span is meant, or which half of it; ``made`` reads a day and a time."""
    times = tuple(Option(value=f"{t:%H:%M}", reading=made(span.day, t)) for t in getattr(span, "times", ()))
    options = times or tuple(Option(value=d.isoformat(), reading=made(d, None)) for d in span.options)
    return Reading(reading=ReadingKind.ASK, ask=Ask(about=About.DAY, doubt=str(span.doubt), options=options))


def which(ref: Ref, made: Any) -> Reading:
    """Which animal is meant; ``made`` gives the reading for the tags of each."""
    options = tuple(Option(value=t, reading=made((t,))) for t in ref.tags)
    ask = Ask(about=About.SPECIMEN, doubt=ref.doubt, words=ref.words, choices=ref.tags, options=options)
    return Reading(reading=ReadingKind.ASK, ask=ask)
