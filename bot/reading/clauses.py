"""A message in clauses: one thing said of some animals each, with the mark that parts it from the last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from bot.reading.amounts_words import OF_THE_AIR
from bot.reading.exceptions_apart import says_of_one
from bot.reading.items import Item, ends_sentence
from bot.reading.marks import HARD, TICKS, TITLE_MARKS
from bot.reading.rule_words import rule_words
from bot.terms import Kind

#: How a clause is parted from the one before it.
START, SENTENCE, COMMA, AND, TITLE, RUN_ON = "start", "sentence", "comma", "and", "title", "run-on"


class Clause:
    """The parts of one clause, what parts it from the one before (``sep``), and by which word or mark."""

    __slots__ = ("by", "goes_on", "items", "line", "sep", "titled", "turns")

    def __init__(self, sep: str, *, turns: bool = False, goes_on: bool = False) -> None:
        self.sep = sep
        self.turns = turns  # begun with a "but", "while" or ", and"
        self.goes_on = goes_on  # begun with a "then" or "so"
        self.items: list[Item] = []
        self.titled = False
        self.line = False
        self.by = ""

    def __repr__(self) -> str:
        return f"<{self.sep} {self.items}{':' if self.titled else ''}>"


_OPEN_CLOSE: Final = frozenset("()[]{}\"'*#@")


def clauses_of(items: Sequence[Item]) -> list[Clause]:
    """The clauses of a message, none empty."""
    out: list[Clause] = []
    for clause in _cut(items):
        if out and clause.sep == AND:
            out += _list_run_on(out[-1], clause)
        out.extend(_run_on(clause))
    return out


def _list_run_on(clause: Clause, following: Clause) -> list[Clause]:
    """ "Ink ate a roach each Mole and Sunny refused": the names at its end lead to the next clause.

    They are taken off the clause and given as one of their own.
    """
    items, at = clause.items, len(clause.items)
    while at and items[at - 1].cat == "S" and not items[at - 1].owns:
        at -= 1
    verb = next((n for n, item in enumerate(items) if _is_verb(item)), at)
    acts = any(item.cat == "S" for item in items[:verb]) and not _by_keeper(items[verb:at])
    if at == len(items) or not acts or at <= verb or not _ends_what_she_did(items[at - 1]):
        return []
    if following.items[0].cat != "S" or not _begins(following.items, 0):
        return []
    names = Clause(RUN_ON)
    names.items, clause.items = items[at:], items[:at]
    return [names]


def _by_keeper(items: Sequence[Item]) -> bool:
    return any(verb.group.keeper for item in items[:1] for verb in item.senses.verbs)


def _ends_what_she_did(item: Item) -> bool:
    """Whether an item is the end of what an animal did: the prey, "each", or what she did itself."""
    return _is_verb(item) or bool({"prey", "each"} & item.senses.keys())


def _cut(items: Sequence[Item]) -> Iterator[Clause]:
    clause = Clause(START)
    line = False
    for place, item in enumerate(items):
        if clause.sep == COMMA and not clause.items and _aside(items, place):
            clause.items += _of_whom(_excepted(items, place))
            continue
        if _passed_over(item, items, place, clause):
            continue
        sep = _separator(item, items, place) or _aside(items, place) if item.cat in "MW" else None
        sep = COMMA if sep is None and _leads_on(items, place, clause) else sep
        if sep is None:
            if item.cat == "M" and item.text in _OPEN_CLOSE | {"-"}:
                continue
            clause.items.append(item)
            continue
        line = item.text == "\n" or (line and sep == SENTENCE and not clause.items)
        if clause.items:
            yield from _closed(clause, sep)
            clause = Clause(sep, turns="but" in item.senses, goes_on=not _NEXT.isdisjoint(item.senses))
            clause.by = item.text
            if _aside(items, place):
                clause.items = _of_whom(_excepted(items, place))
        elif sep in {SENTENCE} or clause.sep == AND:
            clause.sep = sep if clause.sep != START else START
            clause.by = item.text
            clause.goes_on = clause.goes_on or not _NEXT.isdisjoint(item.senses)
        elif sep == AND and clause.sep == COMMA:
            clause.turns, clause.by = True, item.text
        clause.line = line
    if clause.items:
        yield clause


def _closed(clause: Clause, sep: str) -> Iterator[Clause]:
    """The clause that a mark ends; of "Ink: roach ✓ Mole:" the name at its end heads what comes next."""
    items = clause.items
    told = clause.sep == sep == TITLE and len(items) > 1 and items[-1].cat == "S" and not items[-1].owns
    if told and items[-2].cat not in "SM" and _JOINS_A_NAME.isdisjoint(items[-2].senses):
        headed = Clause(SENTENCE)
        headed.items = [items.pop()]
        yield clause
        clause = headed
    clause.titled = sep == TITLE
    yield clause


#: Senses of the words before a name that goes with what stands before it.
_JOINS_A_NAME: Final = frozenset({"and", "but", "for", "to", "with", "of", "from", "on", "the", "except"})


#: Signs for what somebody went into: "T12 > 12 l tub"; behind what was told, for what came of it.
ARROWS: Final = frozenset({">", "→", "»"})


def _leads_on(items: Sequence[Item], place: int, clause: Clause) -> bool:
    """Whether an item is an arrow behind what was told: "molted → into the 30 l"."""
    arrow = items[place].text in ARROWS and not _bounds(items, place)
    return arrow and any(map(_is_said, clause.items))


def _bounds(items: Sequence[Item], place: int) -> bool:
    """ "ate >10 flies": a sign right before a number, which says that it were more."""
    nxt = items[place + 1] if place + 1 < len(items) else None
    return nxt is not None and nxt.cat == "N" and nxt.i == items[place].j


def _is_said(item: Item) -> bool:
    """Whether an item is told already, so that an arrow leads on to the next thing."""
    return item.cat == "A" or _is_verb(item)


_NEXT: Final = frozenset({"then", "so"})


def _passed_over(item: Item, items: Sequence[Item], place: int, clause: Clause) -> bool:
    """ "a dead, untouched hornworm"; "Ink also had a roach": she has done nothing before."""
    if item.text == ",":
        return _lists_traits(items, place)
    if item.text in WHO_DID and _is_cleft(clause.items):
        return place + 1 < len(items) and _is_verb(items[place + 1])
    waits = _yet_to_act(clause.items) or _yet_to_tell(clause.items)
    return "then" in item.senses and waits and not _likewise(items, place)


WHO_DID: Final = rule_words("who_did")
_CLEFT: Final = rule_words("it_was")


def _is_cleft(items: Sequence[Item]) -> bool:
    """ "it was either Sunny or Saffron that refused": up to whom, with nothing said of them so far."""
    if not items or items[-1].cat != "S" or items[0].text.split()[0] not in _IT_IS:
        return False
    return all(i.cat == "S" or i.text in _CLEFT or "or" in i.senses for i in items)


_IT_IS: Final = rule_words("it_is")


def _likewise(items: Sequence[Item], place: int) -> bool:
    """ "A1 ate, A2 also", "had a roach each afterwards": behind which nothing follows."""
    ends = place + 1 == len(items) or items[place + 1].cat == "M"
    return items[place].text in _AS_WELL and ends


_AS_WELL: Final = rule_words("also_or_afterwards")


def _lists_traits(items: Sequence[Item], place: int) -> bool:
    """Whether a comma stands between two words for one feeder: an article, what it is like, then the prey."""
    if place < 2 or items[place - 2].cat not in "WN" or _IS_LIKE.isdisjoint(items[place - 1].senses):
        return False
    if items[place - 2].cat == "W" and _COUNTS.isdisjoint(items[place - 2].senses):
        return False
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
    return opens > 0 and _yet_to_act(items[:opens]) and small and not any(map(_is_verb, items))


_SMALL_WORDS: Final = frozenset({"did", "pron", "fill", "the"})
_LEADS_TO_WHOM: Final = frozenset({"the", "and", "to", "trait"})


def _aside(items: Sequence[Item], place: int) -> str | None:
    """ "all of A but Ink (premolt)", "… but Ink who had two": said of the one that is excepted."""
    opens = items[place].text == "(" or "rel" in items[place].senses or says_of_one(items[place])
    excepted = _excepted(items, place) if opens and place else None
    if excepted is None or excepted.cat != "X":
        return None
    return COMMA if len(excepted.val) == 1 or "rel" in items[place].senses else None


def _excepted(items: Sequence[Item], place: int) -> Item:
    """What stands before a word or bracket, a comma passed over: "all but Ink, who had two"."""
    return items[place - 2] if place > 1 and items[place - 1].text == "," else items[place - 1]


def _of_whom(excepted: Item) -> list[Item]:
    """Those excepted as items of their own: "all but Ink and May, who both refused"."""
    out: list[Item] = []
    for ref in excepted.val:
        out += [Item("M", excepted.j - 1, excepted.j, "&")] if out else []
        out.append(Item("S", excepted.j - 1, excepted.j, ref.words, val=ref))
    return out


def _separator(item: Item, items: Sequence[Item], place: int) -> str | None:
    if item.cat == "M":
        if item.text in HARD or (_dash(item) and _whole(items, place) and _another(items, place)):
            return SENTENCE
        if item.text in TITLE_MARKS and (item.text != "-" or item.val == "gap"):
            return TITLE
        if item.text in ",/":
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
        return any(_is_verb(i) for i in items[:place])
    return handed and any(_is_verb(i) and not i.senses["verb"].group.keeper for i in items[:place])


def _of_another_next(behind: Sequence[Item]) -> bool:
    """ "… so her cricket went in with Nib", "… so she had Rust's": what comes of it is another's matter."""
    ends = next((n for n, i in enumerate(behind) if i.cat == "M"), len(behind))
    hers = bool(behind) and "pron" in behind[0].senses
    return hers and any(i.cat == "S" for i in behind[1:ends])


_HANDED: Final = frozenset({Kind.OFFERED, Kind.FED})


def _run_on(clause: Clause) -> Iterator[Clause]:
    """Cuts a clause where, with no mark between, another begins: "fed Ink Saffron refused"."""
    current = Clause(clause.sep, turns=clause.turns, goes_on=clause.goes_on)
    current.line, current.by = clause.line, clause.by
    animals = verb = prey = False
    for place, item in enumerate(clause.items):
        name = item.cat == "S"
        denied = name and place > 0 and "elided" in clause.items[place - 1].senses
        in_a_row = name and _next_in_a_row(clause.items, place)
        said = verb or denied or (name and _sized(current.items)) or (prey and _none(item))
        whose = name and place > 0 and "of" in clause.items[place - 1].senses  # "el grillo de Ink"
        if in_a_row or (animals and said and not whose and _begins(clause.items, place)):
            yield current
            current = Clause(RUN_ON)
            animals = verb = prey = False
        current.items.append(item)
        animals = animals or item.cat == "S" or "pron" in item.senses
        prey = prey or "prey" in item.senses
        verb = verb or _is_verb(item) or (animals and "prey" in item.senses)  # "Ink 1 roach Saffron refused"
    current.titled = clause.titled
    yield current


def _begins(items: Sequence[Item], place: int) -> bool:
    """Whether a new clause begins here: an animal that acts, or the keeper who does the next thing."""
    item = items[place]
    if item.cat == "S" or ("pron" in item.senses and not item.senses.get("group")):
        ahead = place + 1
        while ahead < len(items) and _light(items[ahead]):
            ahead += 1
        if ahead >= len(items):
            return False
        if item.cat == "S" and items[place + 1].text in _SEEMS:
            return True  # "fed Ink Mole looks fat"
        return _acts(item, items[ahead]) or (item.cat == "S" and _keeper_did(items, ahead))
    if _none(item) and len(items) > place + 2 and items[place + 2].cat == "S":
        return "for" in items[place + 1].senses  # "a cricket for Ink nothing for Mole"
    if _sums_up(items, place):
        return True
    if "self" in item.senses and place + 1 < len(items):
        own = items[place + 1].senses.get("verb")
        return own is not None and own.group.keeper
    return False


def _sums_up(items: Sequence[Item], place: int) -> bool:
    """ "… that was a roach each": what each of those told before had."""
    behind = items[place + 1 : place + 6]
    each = any("prey" in a.senses and "each" in b.senses for a, b in pairwise(behind))
    return each and items[place].text.split()[0] in _THAT


_THAT: Final = rule_words("that_is")
_SEEMS: Final = rule_words("seems")


def _keeper_did(items: Sequence[Item], place: int) -> bool:
    """ "… Mole I didn't feed": what the keeper did, or did not, to the animal named before it."""
    if "self" not in items[place].senses or place + 1 >= len(items):
        return False
    return not _DOES.isdisjoint(items[place + 1].senses)


_DOES: Final = frozenset({"undone", "neg", "verb"})


def _next_in_a_row(items: Sequence[Item], place: int) -> bool:
    """ "Dash 2 roaches Penny 2 crickets": with no mark between, the next animal with its own meal."""
    if not 2 <= place < len(items) - 1:
        return False
    if _is_size(items[place - 1]) and (_is_size(items[place + 1]) or items[place + 1].cat == "N"):
        return any(i.cat == "S" for i in items[:place])  # "Ink 19 g Mole 3.4 g"
    before, behind = _of_a_meal(items[place - 1]), _of_a_meal(items[place + 1])
    before = before or answers(items, place - 1)  # "Ink no Mole no May yes"
    return any(i.cat == "S" for i in items[:place]) and before and (behind or answers(items, place + 1))


def _sized(items: Sequence[Item]) -> bool:
    """ "Ink 13 cm Mole ate": whether the one named last has been measured, and needs no verb behind it."""
    last = next((n for n in range(len(items) - 1, -1, -1) if items[n].cat == "S"), len(items))
    return any(i.cat == "A" and i.val.dimension in {"weight", "length"} for i in items[last + 1 :])


def _is_size(item: Item) -> bool:
    """An amount that is of the one named right before it, or a figure with a point and no unit."""
    figure = item.cat == "U" and item.text[0].isdigit()
    return figure or (item.cat == "A" and item.val.dimension in _OF_EACH_BY_ITSELF)


_OF_EACH_BY_ITSELF: Final = frozenset({"weight", "length", "volume"})


def answers(items: Sequence[Item], place: int) -> bool:
    """Whether a "yes" or "no" stands right behind an animal: "Biscuit no"."""
    return place > 0 and items[place].text in ANSWERS and items[place - 1].cat == "S"


#: What an animal did, in a list of such: "Biscuit no, May yes".
ANSWERS: Final = dict.fromkeys(rule_words("says_no"), "✗") | dict.fromkeys(rule_words("says_yes"), "✓")


def _of_a_meal(item: Item) -> bool:
    return (
        item.cat == "N"
        or item.text in TICKS
        or any(c in item.senses for c in ("prey", "size"))
        or _none(item)
    )


def _none(item: Item) -> bool:
    verb = item.senses.get("verb")
    return verb is not None and verb.group.act == "none"


def _acts(who: Item, does: Item) -> bool:
    """Whether an animal, or the word that stands for it, does or is denied to do something of its own."""
    if who.cat == "S" and ("neg" in does.senses or "undone" in does.senses or does.text in ANSWERS):
        return True
    verb = does.senses.get("verb")
    if verb is None or verb.group.keeper or verb.group.noun or verb.group.act == "outcome":
        return False
    return who.cat == "S" or not verb.group.weak


def _light(item: Item) -> bool:
    return item.cat == "W" and not _LIGHT.isdisjoint(item.senses) and "verb" not in item.senses


_LIGHT: Final = frozenset({"fill", "did", "still"})


def _is_verb(item: Item) -> bool:
    verb = item.senses.get("verb")
    return verb is not None and not verb.group.noun and verb.group.act != "uneaten"
