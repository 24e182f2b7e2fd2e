"""What a message is made of: animals, days, amounts, numbers, words known and unknown, marks.

The tokens are covered left to right, each once: by an amount with its unit, by what could only be a
date, by a name of the shelf, by the longest known phrase, by what might be a date, by a number.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, Final

from bot.reading.names.shelf_names import EXACT, Hit, NameSpan
from bot.reading.names.taxa import taxa
from bot.reading.words.lexicon import Lexicon, Phrase, Phrases, Senses
from bot.reading.words.marks import HARD, LIST_MARKS
from bot.reading.words.numbers import NumberSpan
from bot.reading.words.tokens import Token

#: The key of the sentence that asks who is meant by a name that nobody bears.
UNKNOWN_NAME: Final = "unknown_name"


class Ref:
    """Animals meant by one expression.

    ``tags`` in shelf order; where it is not ``sure`` they are the choices. ``doubt`` is the key of the
    sentence that names the doubt. ``base`` is the row of numbered names that a bare number goes on.
    ``everyone``: said of all of them in so many words, "everyone on C".
    """

    __slots__ = (
        "base",
        "doubt",
        "everyone",
        "group",
        "how",
        "lot_part",
        "place",
        "plural",
        "species",
        "sure",
        "tags",
        "words",
    )

    def __init__(
        self,
        tags: tuple[str, ...],
        *,
        sure: bool = True,
        how: str = "name",
        words: str = "",
        doubt: str = "two_fit",
        plural: bool = False,
        species: str | None = None,
        place: str | None = None,
        base: tuple[str, ...] | None = None,
        group: bool = False,
    ) -> None:
        self.tags, self.sure, self.how, self.words, self.doubt = tags, sure, how, words, doubt
        self.plural, self.species, self.place, self.base, self.group = plural, species, place, base, group
        self.lot_part: int | None = None
        self.everyone = False

    @classmethod
    def stranger(cls, words: str) -> Ref:
        """One who is called so, which nobody on the shelf is."""
        return cls((), sure=False, words=words, doubt=UNKNOWN_NAME)

    @property
    def called_by_species(self) -> str | None:
        """The species, where that is all that is said, and no name of one of the shelf."""
        return self.species if self.how not in EXACT else None

    def __repr__(self) -> str:
        return f"Ref({','.join(self.tags)}{'' if self.sure else '?'})"


class Item:
    """One part of a message: tokens ``i`` to ``j``, what sort of part it is, and what it holds.

    ``cat`` is "S" animals (``val``: Ref), "D" day (a day span), "P" period, "A" amount, "N" number,
    "W" known word, "T" a species beyond the shelf, "U" unknown word, "M" mark. ``senses`` has the
    senses of the words by category. ``counts``: the last word of a name is a number.
    """

    __slots__ = ("alt", "cat", "counts", "i", "j", "number", "owns", "senses", "text", "upper", "val")

    def __init__(
        self,
        cat: str,
        i: int,
        j: int,
        text: str,
        *,
        val: Any = None,
        senses: Senses | None = None,
    ) -> None:
        self.cat, self.i, self.j, self.text, self.val = cat, i, j, text, val
        self.senses: Senses = senses if senses is not None else _NONE
        self.owns = self.upper = self.counts = False
        self.alt: Alternatives | None = None
        self.number: Any = None

    def __repr__(self) -> str:
        senses = list(self.senses) if self.senses else ""
        return f"{self.cat}:{self.text}{senses}{self.val if self.cat == 'S' else ''}"


def as_stranger(item: Item) -> Item:
    """A word not understood as the name of one whom nobody knows."""
    whom = Item("S", item.i, item.j, item.text, val=Ref.stranger(item.text))
    whom.owns, whom.upper = item.owns, item.upper
    return whom


def begins_behind(items: Sequence[Item], at: int, ends: Callable[[Item], bool]) -> int:
    """Where what stands before an item begins: behind the last before it that ends something, else at 0."""
    return next((n + 1 for n in range(at - 1, -1, -1) if ends(items[n])), 0)


def end_ahead(items: Sequence[Item], at: int, ends: Callable[[Item], bool]) -> int:
    """Where what stands from an item on ends: at the first that ends something, else behind all."""
    return next((n for n in range(at, len(items)) if ends(items[n])), len(items))


def replaced(
    items: Sequence[Item], stretch: Callable[[Sequence[Item], int], tuple[int, list[Item]] | None]
) -> list[Item]:
    """The items with some stretches put otherwise: where one begins, where it ends and what stands for it."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        found = stretch(items, at)
        end, said = (at + 1, [items[at]]) if found is None else found
        out += said
        at = end
    return out


def words_in(items: Iterable[Item]) -> list[str]:
    """All words of some items, one by one."""
    return [word for item in items for word in item.text.split()]


def joins(item: Item, marks: frozenset[str] = LIST_MARKS) -> bool:
    """Whether an item stands between two of a list: "and", or one of the marks."""
    return item.text in marks or "and" in item.senses


def is_mark(item: Item) -> bool:
    """A mark of any sort."""
    return item.cat == "M"


def tells_a_deed(item: Item) -> bool:
    """Whether a word tells what somebody did: a verb that is no noun, nor in its bare form."""
    return any(not (verb.group.noun or verb.group.base) for verb in item.senses.verbs)


class Alternatives:
    """What a name's word could be instead: a day, or a word of the lexicon."""

    __slots__ = ("day", "day_end", "senses")

    def __init__(self, day: Any, day_end: int, senses: Senses) -> None:
        self.day, self.day_end, self.senses = day, day_end, senses


_NONE: Final = Senses()

#: Spans found by other readers: for each first token, where it ends (exclusive) and what it is.
Spans = Mapping[int, tuple[int, Any]]


class Found:
    """Everything found in a message before it is put in order."""

    __slots__ = ("amounts", "days", "names", "numbers", "periods", "strange_tags", "sure_days", "taxa")

    def __init__(self) -> None:
        self.names: dict[int, NameSpan] = {}
        self.strange_tags: dict[int, int] = {}
        self.amounts: dict[int, tuple[int, Any]] = {}
        self.sure_days: dict[int, tuple[int, Any]] = {}
        self.days: dict[int, tuple[int, Any]] = {}
        self.periods: dict[int, tuple[int, Any]] = {}
        self.numbers: dict[int, tuple[int, Any]] = {}
        self.taxa: dict[int, tuple[int, str | None]] = {}

    def places(self) -> set[int]:
        """The tokens at which anything begins that was found."""
        return set().union(
            self.names,
            self.strange_tags,
            self.amounts,
            self.sure_days,
            self.days,
            self.periods,
            self.numbers,
            self.taxa,
        )


def ends_sentence(item: Item) -> bool:
    """Whether an item is a mark that ends a sentence."""
    return item.cat == "M" and item.text in HARD


def items_of(tokens: Sequence[Token], found: Found, phrases: Phrases, lexicon: Lexicon) -> list[Item]:
    """The parts of a message in order. Names that could be other words keep their alternatives."""
    found.taxa = taxa().begun(tokens, lexicon.account.tree.get)  # a word that begins a phrase is no epithet
    places = found.places()
    out: list[Item] = []
    at, size = 0, len(tokens)
    while at < size:
        phrase = phrases.get(at)
        item = _found_at(tokens, at, found, phrase, lexicon) if at in places else None
        if item is None:
            item = _word_at(tokens, at, found, phrase, lexicon)
        item.upper = tokens[at].upper
        item.owns = tokens[item.j - 1].owns
        out.append(item)
        at = item.j
    return out


def _found_at(
    tokens: Sequence[Token], at: int, found: Found, phrase: Phrase | None, lexicon: Lexicon
) -> Item | None:
    """A name, an amount, a day, a species or a number, unless the words mean something else there."""
    sure = _sure_item(tokens, at, found)
    if sure is not None:
        return sure
    name = _name_at(found, at)
    day = found.days.get(at)
    period = found.periods.get(at)
    taxon = found.taxa.get(at)
    wins = name is not None and (
        _name_wins(name, phrase, found)
        or _owns_prey(tokens, name, phrase)
        or _names_in_a_row(at, phrase, found)
    )
    if name is not None and wins and not (taxon and taxon[0] > name.j):
        named = _name_item(tokens, name, day, phrase, lexicon)
        number = found.numbers.get(name.j - 1)
        named.counts = number is not None and number[0] == name.j
        if number is not None and named.counts and name.j == name.i + 1:
            named.number = number[1]
        return named
    for cat, span in (("P", period), ("D", day)):
        if span is not None and (phrase is None or span[0] >= phrase[0]):
            return Item(cat, at, span[0], _text(tokens, at, span[0]), val=span[1])
    if taxon is not None and (phrase is None or taxon[0] > phrase[0]):
        return Item("T", at, taxon[0], _text(tokens, at, taxon[0]), val=taxon[1])
    number = found.numbers.get(at)
    article = phrase is not None and _article(phrase) and number is not None and number[0] == phrase[0]
    if number is not None and (phrase is None or (number[0] >= phrase[0] and not article)):
        senses = lexicon.account.meaning(phrase[1]) if phrase and phrase[0] == number[0] else None
        return Item("N", at, number[0], _text(tokens, at, number[0]), val=number[1], senses=senses)
    return None


def _word_at(tokens: Sequence[Token], at: int, found: Found, phrase: Phrase | None, lexicon: Lexicon) -> Item:
    """A word or phrase of the lexicon, a word that it does not know, or a mark."""
    if phrase is not None:
        end, senses = phrase
        cut = end > at + 1 and _covers_sure(found, at + 1, end) and not _sort_of_prey(tokens, at, phrase)
        if not (cut or _ends_in_a_count(tokens, at, end, lexicon)):
            return Item("W", at, end, _text(tokens, at, end), senses=lexicon.account.meaning(senses))
        alone = lexicon.account.senses(lexicon.key(tokens[at]))
        if alone:
            return Item("W", at, at + 1, tokens[at].text, senses=lexicon.account.meaning(alone))
    token = tokens[at]
    if _counts_behind_a_dash(tokens, at, lexicon):
        return Item("N", at, at + 1, token.text, val=NumberSpan(token.start, token.end, int(token.text)))
    return Item("M" if token.kind == "mark" else "U", at, at + 1, token.text)


def _counts_behind_a_dash(tokens: Sequence[Token], at: int, lexicon: Lexicon) -> bool:
    """ "GBB 1 - 1 cricket": no range, where the first number is a name's and prey follows the second."""
    number = tokens[at].text.isdigit() and len(tokens[at].text) <= 2
    if not number or not 1 < at < len(tokens) - 1 or not (tokens[at].gap and tokens[at - 1].gap):
        return False
    prey = any(s.cat in {"prey", "size"} for s in lexicon.account.senses(lexicon.key(tokens[at + 1])))
    return prey and tokens[at - 1].text in {"-", "–"} and tokens[at - 2].text.isdigit()


def _sure_item(tokens: Sequence[Token], at: int, found: Found) -> Item | None:
    """A tag that nobody bears, an amount or a date, which are nothing else."""
    if at in found.strange_tags:
        end = found.strange_tags[at]
        words = _text(tokens, at, end)
        return Item("S", at, end, words, val=Ref.stranger(words))
    for cat, spans in (("A", found.amounts), ("D", found.sure_days)):
        span = spans.get(at)
        if span is not None:
            return Item(cat, at, span[0], _text(tokens, at, span[0]), val=span[1])
    return None


def _name_at(found: Found, at: int) -> NameSpan | None:
    """ "a dozen" is nobody of shelf A, and "a week from now" neither."""
    name = found.names.get(at)
    if name is None or name.hits[0].how != "place":
        return name
    longer = any(spans.get(at, (0,))[0] > name.j for spans in (found.numbers, found.days, found.periods))
    return None if longer else name


def _article(phrase: Phrase) -> bool:
    return any(s.cat == "a" for s in phrase[1])


def _covers_sure(found: Found, start: int, end: int) -> bool:
    """Whether a phrase would swallow a name of the shelf, a day or an amount."""
    return any(
        (n in found.names and len(_strong(found.names[n])) > 0)
        or n in found.amounts
        or (n in found.sure_days and not _named_after(found, n, end))
        for n in range(start, end)
    )


def _ends_in_a_count(tokens: Sequence[Token], at: int, end: int, lexicon: Lexicon) -> bool:
    """ "took both crickets": "took both" is the whole of it only where it names no prey behind it."""
    both = end == at + 2 and any(
        s.cat == "both" for s in lexicon.account.senses(lexicon.key(tokens[end - 1]))
    )
    for token in tokens[end : end + _TO_ITS_PREY] if both else ():
        senses = {s.cat for s in lexicon.account.senses(lexicon.key(token))}
        if "prey" in senses:
            return True
        if senses.isdisjoint(_BEFORE_ITS_PREY):
            return False
    return False


#: How far, and behind which senses of words, "both" counts its prey: "both of her small crickets".
_TO_ITS_PREY: Final = 4
_BEFORE_ITS_PREY: Final = frozenset({"of", "the", "pron", "self", "size", "prekilled"})


def _sort_of_prey(tokens: Sequence[Token], at: int, phrase: Phrase) -> bool:
    """ "A dubia roach" where somebody is called Roach: written small behind its sort, it is no name."""
    return any(s.cat == "prey" for s in phrase[1]) and not any(t.upper for t in tokens[at + 1 : phrase[0]])


def _named_after(found: Found, at: int, end: int) -> bool:
    """ "looked in on Friday": the phrase's "on" is followed by an animal's name, not by a day."""
    return at == end - 1 and end in found.names and bool(_strong(found.names[end]))


def _strong(name: NameSpan) -> tuple[Hit, ...]:
    return tuple(h for h in name.hits if h.how in EXACT and not h.plural)


def _name_wins(name: NameSpan, phrase: Phrase | None, found: Found) -> bool:
    """A name wins over words of the same length or shorter, and over those that cut it."""
    if phrase is None or phrase[0] <= name.j:
        if phrase is not None and all(h.plural or h.how in {"part", "initials"} for h in name.hits):
            # "crickets" are no animals called Cricket; "mm" is millimetres or a mature male
            return phrase[0] < name.j
        return True
    return False


def _owns_prey(tokens: Sequence[Token], name: NameSpan, phrase: Phrase | None) -> bool:
    """ "Mole's cricket" is no mole cricket where somebody is called Mole."""
    prey = phrase is not None and any(s.cat == "prey" for s in phrase[1])
    return prey and tokens[name.j - 1].owns and bool(_strong(name))


def _names_in_a_row(at: int, phrase: Phrase | None, found: Found) -> bool:
    """ "cleaned mole cricket and anvil": where both live on the shelf and nothing counts a mole cricket."""
    if phrase is None or phrase[0] == at + 1 or not any(s.cat == "prey" for s in phrase[1]):
        return False
    counted = any(found.numbers.get(n, (0,))[0] == at for n in range(max(0, at - 4), at))
    names = [found.names.get(n) for n in range(at, phrase[0])]
    return not counted and all(name is not None and _strong(name) for name in names)


def _name_item(
    tokens: Sequence[Token],
    name: NameSpan,
    day: tuple[int, Any] | None,
    phrase: Phrase | None,
    lexicon: Lexicon,
) -> Item:
    item = Item("S", name.i, name.j, _text(tokens, name.i, name.j), val=name)
    senses = lexicon.account.meaning(phrase[1]) if phrase and phrase[0] == name.j else _NONE
    if day is not None or senses:
        item.alt = Alternatives(day[1] if day else None, day[0] if day else name.j, senses)
    return item


def _text(tokens: Sequence[Token], i: int, j: int) -> str:
    if j == i + 1:
        return tokens[i].text
    return " ".join(t.text for t in tokens[i:j])


def is_deed(item: Item) -> bool:
    """Whether a word tells that something was done, and names no event and no leftover."""
    verb = item.senses.get("verb")
    return verb is not None and not verb.group.noun and verb.group.act != "uneaten"
