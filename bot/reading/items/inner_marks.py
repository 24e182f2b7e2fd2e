"""Marks that part nothing: the point of "molt no. 6", the stroke of "w/", the hyphen within a word."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, is_mark
from bot.reading.words.rule_words import rule_words
from bot.reading.words.tokens import Token

#: Words for "number" that are written with a point, and the words before which they are meant as that.
_NUMBER_SHORT: Final = rule_words("short_for_number")


def shortens_number(tokens: Sequence[Token], at: int) -> bool:
    """Whether a point shortens "number": "molt no. 6", "no. of slings"; not "did she eat? no. 3 are left"."""
    if not at or at + 1 >= len(tokens) or tokens[at].text != "." or tokens[at - 1].key not in _NUMBER_SHORT:
        return False
    if tokens[at + 1].key in _OF:
        return True
    return (
        at > 1 and tokens[at + 1].kind == "number" and tokens[at - 2].kind == "word" and tokens[at].gap == ""
    )


_OF: Final = rule_words("bare_of")


def ends_initials(tokens: Sequence[Token], at: int) -> bool:
    """Whether a point is the last of "R.I.P.", with more behind it: two letters and a point before it."""
    if at < len(("i", ".", "p")) or at + 1 >= len(tokens) or tokens[at].gap:
        return False
    letters, point = (tokens[at - 3], tokens[at - 1]), tokens[at - 2]
    return point.text == "." and all(len(t.text) == 1 and t.text.isalpha() for t in letters)


def shortens_word(tokens: Sequence[Token], at: int) -> bool:
    """Whether a point shortens a word with more behind it: "fed A exc. Ink", "1 lg. roach"."""
    shortened = 0 < at < len(tokens) - 1 and tokens[at].text == "." and not tokens[at].gap
    if not shortened or tokens[at - 1].key not in _SHORT_WORDS or tokens[at + 1].kind == "mark":
        return False
    headed = any(token.text == ":" for token in tokens[at + 2 : at + 4])
    return not (headed and tokens[at + 1].upper)  # "2 crickets, med. A2: 1 locust"


#: Words that are cut short with a point, and end no sentence.
_SHORT_WORDS: Final = rule_words("written_with_a_point")


def shortens(tokens: Sequence[Token], at: int) -> bool:
    """Whether a point only shortens what stands before it, and ends no sentence."""
    return shortens_number(tokens, at) or ends_initials(tokens, at) or shortens_word(tokens, at)


def initial(tokens: Sequence[Token], at: int) -> bool:
    """Whether a point may stand in a person's name: "to M. Okafor", the letter of a place or not."""
    if at < len(("to", "m")) or at + 1 >= len(tokens) or tokens[at].text != "." or tokens[at].gap:
        return False
    lead, letter, name = tokens[at - 2], tokens[at - 1], tokens[at + 1]
    shortened = len(letter.text) == 1 and letter.upper
    return shortened and lead.key in _BEFORE_PEOPLE and name.kind == "word" and name.upper and bool(name.gap)


#: Words that lead to a person.
_BEFORE_PEOPLE: Final = rule_words("before_people")


def _owned_number(tokens: Sequence[Token], at: int) -> bool:
    """Whether a token is part of the "'s" behind a number: "GBB 2's vial"."""
    mark = at if tokens[at].text == "'" else at - 1
    if mark < 1 or mark + 1 >= len(tokens) or tokens[mark].text != "'" or tokens[mark + 1].text != "s":
        return False
    return tokens[mark - 1].kind == "number" and not tokens[mark].gap and not tokens[mark + 1].gap


def _owned_tag(tokens: Sequence[Token], at: int) -> bool:
    """Whether a token is the "s" glued to a tag: "b3s a lad", "T12s tub"."""
    if at < len(("letters", "figures")) or tokens[at].text != "s" or tokens[at].gap:
        return False
    letters, figures = tokens[at - 2], tokens[at - 1]
    return figures.kind == "number" and not figures.gap and letters.kind == "word"


def dash(items: Sequence[Item], item: Item, tokens: Sequence[Token]) -> str:
    """What a hyphen that stands free is: "gap" behind a heading ("ate - Ink, Mole"), else "dash"."""
    if not _spaced(tokens, item.i):
        return ""
    return "gap" if _heads(items, item) else "dash"


def _heads(items: Sequence[Item], dash: Item) -> bool:
    """Whether nothing but a verb, or a "didn't", stands before a dash: "ate - Ink, Mole"."""
    before = [i for i in items if i.j <= dash.i]
    start = begins_behind(before, len(before), is_mark)
    return len(before) > start and all(
        i.cat == "W" and any(c in i.senses for c in ("verb", "elided", "did")) for i in before[start:]
    )


def _spaced(tokens: Sequence[Token], at: int) -> bool:
    """Whether a hyphen stands free, as a dash does: "ate - Ink, Mole"."""
    return bool(tokens[at].gap) and at + 1 < len(tokens) and bool(tokens[at + 1].gap)


def inner_mark(item: Item, tokens: Sequence[Token]) -> bool:
    """The stroke of "w/", and a hyphen within a word; one between digits may stand for "to": "A1-A4"."""
    if item.cat not in "MU":
        return False
    at = item.i
    if item.text == "/" and at and tokens[at - 1].key == "w":
        return True
    if item.text == "." and item.cat == "M" and shortens(tokens, at):
        return True
    if item.text in {"'", "s"} and (_owned_number(tokens, at) or _owned_tag(tokens, at)):
        return True
    if item.cat != "M" or item.text != "-" or tokens[at].gap:
        return False
    between = 0 < at < len(tokens) - 1 and tokens[at - 1].kind == "number" and tokens[at + 1].kind == "word"
    return not between


def between_tags(items: Sequence[Item]) -> frozenset[int]:
    """ "11-13", "AA-CC": the hyphens between two tags, which stand for all from the one to the other."""
    places = (at for at in range(1, len(items) - 1) if items[at].text == "-")
    return frozenset(at for at in places if _is_tag(items[at - 1]) and _is_tag(items[at + 1]))


def leads_to_tag(items: Sequence[Item], at: int) -> bool:
    """ "#3", where somebody has the tag 3: a sign that is no more than said with it."""
    return items[at].text == "#" and at + 1 < len(items) and _is_tag(items[at + 1])


def _is_tag(item: Item) -> bool:
    return item.cat == "S" and any(hit.how == "tag" for hit in getattr(item.val, "hits", ()))
