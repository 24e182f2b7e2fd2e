"""What parts the clauses of a message: marks, joining words, brackets and arrows. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.amounts.words import OF_THE_AIR
from bot.reading.clauses.clause_model import AND, COMMA, SENTENCE, TITLE, Clause
from bot.reading.items.item import Item, ends_sentence, is_deed
from bot.reading.whom.exceptions_apart import says_of_one
from bot.reading.words.marks import HARD, TITLE_MARKS
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: Signs for what somebody went into: "T12 > 12 l tub"; behind what was told, for what came of it.
ARROWS: Final = frozenset({">", "→", "»"})


def leads_on(items: Sequence[Item], place: int, clause: Clause) -> bool:
    """Whether an item is an arrow behind what was told: "molted → into the 30 l"."""
    arrow = items[place].text in ARROWS and not _bounds(items, place)
    return arrow and any(map(_is_said, clause.items))


def _bounds(items: Sequence[Item], place: int) -> bool:
    """ "ate >10 flies": a sign right before a number, which says that it were more."""
    nxt = items[place + 1] if place + 1 < len(items) else None
    return nxt is not None and nxt.cat == "N" and nxt.i == items[place].j


def _is_said(item: Item) -> bool:
    """Whether an item is told already, so that an arrow leads on to the next thing."""
    return item.cat == "A" or is_deed(item)


def passed_over(item: Item, items: Sequence[Item], place: int, clause: Clause) -> bool:
    """ "a dead, untouched hornworm"; "Ink also had a roach": she has done nothing before."""
    if item.text == ",":
        return _lists_traits(items, place)
    if item.text in WHO_DID and _is_cleft(clause.items):
        return place + 1 < len(items) and is_deed(items[place + 1])
    if "then" not in item.senses or _likewise(items, place):
        return False
    return _yet_to_act(clause.items) or _yet_to_tell(clause.items)


WHO_DID: Final = rule_words("who_did")


_CLEFT: Final = rule_words("it_was")


def _is_cleft(items: Sequence[Item]) -> bool:
    """ "it was either Sunny or Saffron that refused": up to whom, with nothing said of them so far."""
    if not items or items[-1].cat != "S" or items[0].text.split()[0] not in _IT_IS:
        return False
    return all(i.cat == "S" or i.text in _CLEFT or "or" in i.senses for i in items)


_IT_IS: Final = rule_words("it_is")


def _likewise(items: Sequence[Item], place: int) -> bool:
    """ "A1 ate, A2 also", "A2 also yes", "had a roach each afterwards": behind which nothing follows."""
    behind = items[place + 1] if place + 1 < len(items) else None
    ends = behind is None or behind.cat == "M" or "yes" in behind.senses
    return items[place].text in _AS_WELL and ends


_AS_WELL: Final = rule_words("also_or_afterwards")


def _lists_traits(items: Sequence[Item], place: int) -> bool:
    """Whether a comma stands between two words for one feeder: an article, what it is like, then the prey."""
    if place < 2 or items[place - 2].cat not in "WN" or _IS_LIKE.isdisjoint(items[place - 1].senses):
        return False
    if items[place - 2].cat == "W" and _COUNTS.isdisjoint(items[place - 2].senses):
        return False
    if place > 2 and "prey" in items[place - 3].senses:
        return False  # "locusts x50 med, crix x250"
    for item in items[place + 1 : place + 4]:
        if "prey" in item.senses:
            return True
        verb = item.senses.get("verb")
        untouched = verb is not None and verb.group.kind is Kind.REFUSED
        if item.cat != "U" and not untouched and _IS_LIKE.isdisjoint(item.senses):
            return False
    return False


_IS_LIKE: Final = frozenset({"prekilled", "size", "trait"})


_COUNTS: Final = frozenset({"a", "the", "some"})


def _dash(item: Item) -> bool:
    return item.cat == "M" and (item.text == "–" or (item.text == "-" and item.val == "dash"))


def _whole(items: Sequence[Item], place: int) -> bool:
    """Whether what stands before a dash has said what it says: "Ink molted", "24 C in the room"."""
    starts = (n for n in range(place - 1, -1, -1) if ends_sentence(items[n]))
    before = items[next(starts, -1) + 1 : place]
    whom = any(i.cat in "SX" for i in before)
    return any(i.cat == "A" for i in before) or (whom and any(not _SAYS.isdisjoint(i.senses) for i in before))


def _another(items: Sequence[Item], place: int) -> bool:
    """Whether another such clause follows a dash: "Ink molted - Mole refused"."""
    ends = (n for n in range(place + 1, len(items)) if ends_sentence(items[n]) or _dash(items[n]))
    following = items[place + 1 : next(ends, len(items))]
    if any(i.cat == "A" and i.val.dimension in OF_THE_AIR for i in following):
        return True
    whom = any(i.cat in "SX" for i in following)
    return whom and any(i.cat == "A" or not _SAYS.isdisjoint(i.senses) for i in following)


#: Senses of the words that make a clause whole.
_SAYS: Final = frozenset({"verb", "prey", "group", "undone", "future", "neg"})


def _yet_to_act(items: Sequence[Item]) -> bool:
    """Whether a clause so far only names who will do something."""
    return bool(items) and all(i.cat == "S" or not _LEADS_TO_WHOM.isdisjoint(i.senses) for i in items)


def _yet_to_tell(items: Sequence[Item]) -> bool:
    """ "Biscuit hat es" (dann gefressen): whom it is of and "has", with the verb to come."""
    opens = next((n for n, item in enumerate(items) if "did" in item.senses), 0)
    small = all(not _SMALL_WORDS.isdisjoint(item.senses) for item in items[opens:])
    return opens > 0 and _yet_to_act(items[:opens]) and small and not any(map(is_deed, items))


_SMALL_WORDS: Final = frozenset({"did", "pron", "fill", "the"})


_LEADS_TO_WHOM: Final = frozenset({"the", "and", "to", "trait"})


def aside(items: Sequence[Item], place: int) -> str | None:
    """ "all of A but Ink (premolt)", "… but Ink who had two": said of the one that is excepted."""
    opens = items[place].text == "(" or "rel" in items[place].senses or says_of_one(items[place])
    excepted = excepted_before(items, place) if opens and place else None
    if excepted is None or excepted.cat != "X":
        return None
    return COMMA if len(excepted.val) == 1 or "rel" in items[place].senses else None


def excepted_before(items: Sequence[Item], place: int) -> Item:
    """What stands before a word or bracket, a comma passed over: "all but Ink, who had two"."""
    return items[place - 2] if place > 1 and items[place - 1].text == "," else items[place - 1]


def those_excepted(excepted: Item) -> list[Item]:
    """Those excepted as items of their own: "all but Ink and May, who both refused"."""
    out: list[Item] = []
    for ref in excepted.val:
        out += [Item("M", excepted.j - 1, excepted.j, "&")] if out else []
        out.append(Item("S", excepted.j - 1, excepted.j, ref.words, val=ref))
    return out


def separator(item: Item, items: Sequence[Item], place: int) -> str | None:
    """How a mark or a word parts what stands before it from what stands behind, if it does."""
    if item.cat == "M":
        if item.text in HARD or (_dash(item) and _whole(items, place) and _another(items, place)):
            return SENTENCE
        if item.text in TITLE_MARKS and (item.text != "-" or item.val == "gap"):
            return TITLE
        if item.text in ",/" or (item.text == "(" and _tells_in_brackets(items, place)):
            return COMMA
        if item.text in "&+":
            return AND
        return None
    if item.cat == "W":
        turns = "but" in item.senses and "verb" not in item.senses and not _not_yet(items, place)
        if "and" in item.senses or turns:
            return AND
        if "so" in item.senses and _keeper_acts_next(items, place):
            return AND  # "Ink refused so offered Mole it"
        if "then" in item.senses and place > 0 and not _likewise(items, place):
            return SENTENCE if "same" not in item.senses else None
    return None


def _tells_in_brackets(items: Sequence[Item], place: int) -> bool:
    """ "fed A a roach each (Ink and Mole got a cricket instead)": whom, and what they did.

    So does what stands behind "none": "Mole none (premolt)".
    """
    if place and "none" in items[place - 1].senses.acts:
        return True
    end = next((n for n in range(place + 1, len(items)) if items[n].text == ")"), len(items))
    inside = items[place + 1 : end]
    whom = bool(inside) and inside[0].cat == "S" and not inside[0].owns
    return whom and any(map(is_deed, inside))


def _not_yet(items: Sequence[Item], place: int) -> bool:
    """ "I have not yet fed Ink": a "yet" behind a denial, which turns to nothing else."""
    denied = place > 0 and not {"undone", "neg"}.isdisjoint(items[place - 1].senses)
    return denied and "undone" in items[place].senses


def _keeper_acts_next(items: Sequence[Item], place: int) -> bool:
    """Whether the keeper gives something next, behind what an animal did."""
    behind = [i for i in items[place + 1 : place + 3] if "self" not in i.senses]
    verb = behind[0].senses.get("verb") if behind else None
    skipped = bool(behind) and "skip" in behind[0].senses.acts
    handed = verb is not None and verb.group.keeper and verb.group.kind in _HANDED and not verb.group.base
    handed = handed or skipped
    if _of_another_next(items[place + 1 :]) and any(i.cat == "S" for i in items[:place]):
        return any(is_deed(i) for i in items[:place])
    return handed and any(is_deed(i) and not i.senses["verb"].group.keeper for i in items[:place])


def _of_another_next(behind: Sequence[Item]) -> bool:
    """ "… so her cricket went in with Nib", "… so she had Rust's": what comes of it is another's matter."""
    ends = next((n for n, i in enumerate(behind) if i.cat == "M"), len(behind))
    hers = bool(behind) and "pron" in behind[0].senses
    return hers and any(i.cat == "S" for i in behind[1:ends])


_HANDED: Final = frozenset({Kind.OFFERED, Kind.FED})
