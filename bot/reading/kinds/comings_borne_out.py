"""Verbs of coming and going that tell of it only with what else is said: "got", "arrived", "gave", "lost"."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from bot.reading.clauses.around_verbs import thing_of_hers
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Ref
from bot.reading.words.rule_words import rule_words, rule_words_in_order


def buys(frame: Frame, at: int) -> bool:
    """Whether something new was got: a newcomer to the shelf, or feeders."""
    if frame.taxa:
        return True
    nxt = frame.clause.items[at + 1 : at + 2] if not frame.inherited else ()
    if any("away" in i.senses for i in nxt) or _feeders_got(frame, at) or _was_paid(frame):
        return False  # "a roach got out of the box", "he gave me 50 euro for them"
    said = frame.refs if frame.ref_at or not _bought(frame, at) else []  # "fed Ink and bought 50 crickets"
    own = [r for r in said if r.how in {"tag", "name", "aka", "group", "place"} and not _some_of(r)]
    return not own and (
        any(r.species for r in frame.refs)
        or bool(frame.groups)
        or bool(frame.meals)
        or "animal" in frame.flags
        or _new_ones(frame)
    )


def _was_paid(frame: Frame) -> bool:
    """ "… went to Pieter, he gave me 50 euro for them": for those told of before, and nothing new."""
    money = any(amount.dimension == "money" for _, amount in frame.amounts)
    return money and bool(frame.prons) and not (frame.ref_at or frame.meals)


def _feeders_got(frame: Frame, at: int) -> bool:
    """ "the crickets got fresh egg boxes": what feeders got was not bought with them."""
    items = frame.clause.items
    got = not frame.inherited and items[at].text in _GOT
    behind = items[at + 1 :] if got else ()
    first = any("prey" in i.senses for i in items[:at]) and all("prey" not in i.senses for i in behind)
    return first and any(i.cat == "U" or not _THINGS.isdisjoint(i.senses) for i in behind)


_GOT: Final = rule_words("got")
_THINGS: Final = frozenset({"noun", "feeder_food"})


def _arrives(frame: Frame, at: int) -> bool:
    """ "200 crickets turned up"; "a roach turned up behind the tub" was there already."""
    nxt = frame.clause.items[at + 1 : at + 2] if not frame.inherited else ()
    somewhere = any("on" in item.senses and "from" not in item.senses for item in nxt)
    return buys(frame, at) and not (frame.meals and somewhere)


def _bought(frame: Frame, at: int) -> bool:
    """Whether the verb is one of buying, and nothing that an animal does as well: "Ink got two"."""
    items = [item for place, item in frame.verbs if place == at]
    return not frame.inherited and any(item.text in _BOUGHT for item in items)


_BOUGHT: Final = rule_words("bought")


def _new_ones(frame: Frame) -> bool:
    """ "bought two new spiders", whose last words are one phrase."""
    acts = {s.group.act for _, i in frame.verbs for s in i.senses.values()}
    return {"buy", "new"} <= acts and len(frame.verbs) > 1


def _some_of(ref: Ref) -> bool:
    """ "5 balfouri slings": of a species; "the balfouri slings" are those of the shelf."""
    definite = not _DEFINITE.isdisjoint(ref.words.split()[:1])
    return ref.how == "group" and ref.species is not None and not definite


_DEFINITE: Final = rule_words("the_or_my")


def _parts(frame: Frame, at: int) -> bool:
    money = any(a.dimension == "money" for _, a in frame.amounts)
    person = bool(frame.to_words) and frame.to_words[0].isupper()  # "went to Priya", not "went to ground"
    food = "food" in frame.nouns and any(i.owns for i in frame.clause.items)  # "gave Ink's food to Mole"
    if frame.meals or not frame.refs or food or _given_to_it(frame, at) or thing_of_hers(frame, at):
        return False
    if _parts_with_a_thing(frame, at):
        return False
    if any("bigger" in item.senses.acts for _, item in frame.verbs) and not (money or person):
        return False  # "swapped Ink over to a bigger deli"
    given = bool(frame.to_words) and any(i.text.endswith(_GIVEN_TO) for _, i in frame.verbs)
    return money or person or given or bool(frame.flags & {"to", "with"})


_GIVEN_TO: Final = rule_words_in_order("given_to")


def _parts_with_a_thing(frame: Frame, at: int) -> bool:
    """ "Ink molted, gave the skin to Dave", "left the lid open": it is not she who went."""
    items = frame.clause.items
    if frame.inherited or items[at].text.rpartition(" ")[2] in _TO_WHOM:
        return False
    behind = [item for item in items[at + 1 :] if not {"the", "a", "pron", "fill"} & item.senses.keys()]
    if not behind or any(item.cat == "S" for item in behind):
        return False
    strange = behind[0].cat == "U" and not behind[0].upper
    return strange or "noun" in behind[0].senses or any(verb.group.noun for verb in behind[0].senses.verbs)


_TO_WHOM: Final = rule_words("before_people")


def _goes_home(frame: Frame, at: int) -> bool:
    """ "Ink went home with Dave"; not "went home to her burrow"."""
    money = any(amount.dimension == "money" for _, amount in frame.amounts)
    with_somebody = bool(frame.to_words) and frame.nouns.isdisjoint({"mouth", "box"})
    return bool(frame.refs) and (money or with_somebody)


def _given_to_it(frame: Frame, at: int) -> bool:
    """ "gave it to May": May is who got it, whatever it was."""
    behind = () if frame.inherited else frame.clause.items[at + 1 : at + 3]
    return len(behind) > 1 and "pron" in behind[0].senses and "to" in behind[1].senses and not frame.to_words


def _lets_go(frame: Frame, at: int) -> bool:
    """ "let Ink go to Priya", "let go of Ink"; not "had it off the tongs before I even let go"."""
    behind = frame.clause.items[at + 1 :] if not frame.inherited else []
    goes = next((n for n, i in enumerate(behind) if i.text in _GO), None)
    whom = behind[: goes if goes else None]
    if whom and whom[0].text in _IT and not (frame.to_words or frame.flags & {"to", "with"}):
        return False  # "Ink bit it and let it go": the prey
    return goes is not None and bool(frame.refs) and any(i.cat == "S" or "pron" in i.senses for i in whom)


_GO: Final = rule_words("go")
_IT: Final = rule_words("it")


#: Senses of the words that lead to a thing: "the fight", "her grip", "both legs".
_A_THING: Final = frozenset({"the", "a", "pron", "both", "some", "weight", "span"})


def _loses(frame: Frame, at: int) -> bool:
    nxt = frame.clause.items[at + 1 : at + 2] if not frame.inherited else ()
    if any(item.cat == "U" for item in nxt):
        return False  # "lost track of Ink"
    herself = at > 0 and frame.clause.items[at - 1].cat == "S" and not frame.inherited
    if herself and any(item.cat in "NA" or not _A_THING.isdisjoint(item.senses) for item in nxt):
        return False  # "Ink lost the 1st and 2nd leg", "Ink lost 2 g"
    return bool(frame.refs) and "body" not in frame.nouns and not frame.meals


#: By what a verb may do, as the lexicon calls it.
COMINGS: Final[Mapping[str, Callable[[Frame, int], bool]]] = {
    "buy": buys,
    "new": buys,
    "arrive": _arrives,
    "part": _parts,
    "goes_home": _goes_home,
    "let": _lets_go,
    "lose": _loses,
}
