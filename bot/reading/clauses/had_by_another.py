"""Who is named in a clause and did nothing: whose prey it was, whose home; and the day of the prey. Pure."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.model import FEEDING
from bot.reading.words.phrasings import word_set
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def passed_on(frame: Frame, place: int) -> bool:
    """ "gave the leftover roach from Ink to Dot": what was hers goes to another."""
    items = frame.clause.items
    behind = items[place + 1 : place + 3]
    to_another = len(behind) > 1 and "to" in behind[0].senses and behind[1].cat == "S"
    return to_another and any("prey" in item.senses for item in items[:place])


def goes_to_another(frame: Frame, place: int) -> bool:
    """ "gave Sunny Ink's roach", "Ink ate both of Mole's crickets": of prey that stands behind its owner."""
    items = frame.clause.items
    before = items[max(0, place - 2) : place]
    gets = len(before) > 1 and before[1].cat == "S" and not before[1].owns and "give" in before[0].senses.acts
    return (
        gets
        or _eaten_by_another(frame, place)
        or any("to" in a.senses and b.cat == "S" for a, b in pairwise(items[place + 1 :]))
    )


def _eaten_by_another(frame: Frame, place: int) -> bool:
    """Whether an animal named before ate or left what stands here as somebody's."""
    first = frame.clause.items[0]
    hers = [i for _, i in frame.verbs if any(not v.group.keeper for v in i.senses.verbs)]
    fed = any(not FEEDING.isdisjoint(item.senses.kinds) for item in hers)
    return first.cat == "S" and not first.owns and place > 0 and fed and len(frame.refs) == 1


def lived_there(frame: Frame, place: int) -> bool:
    """Whether it is somebody's home that another one was moved into."""
    items = frame.clause.items
    into = place > 0 and items[place - 1].text in _INTO and bool(frame.refs)
    verbs = [item for _, item in frame.verbs]
    moved = not verbs or any(Kind.REHOUSED in item.senses.kinds for item in verbs)
    behind = items[place + 1 : place + 2]
    return into and moved and bool(behind) and behind[0].cat in "AWU" and "and" not in behind[0].senses


def day_of_the_prey(frame: Frame, place: int) -> bool:
    """ "comió el grillo de ayer", "el grillo que le puse ayer": a day that tells which feeder it was."""
    items = frame.clause.items
    before = items[max(0, place - 4) : place]
    kinds = [n for n, i in enumerate(before) if "prey" in i.senses]
    behind = before[kinds[-1] + 1 :] if kinds else []
    if not kinds or any(i.cat == "S" for i in behind):
        return False
    of_it = items[place].text.split()[0] in word_set("before_owners") and not behind
    of_it = of_it or (len(behind) == 1 and behind[0].text in word_set("before_owners"))
    put_then = bool(behind) and "rel" in behind[0].senses and any(i.senses.verbs for i in behind)
    return of_it or put_then


_INTO: Final = rule_words("into")
