"""Where a word stands among animals, or is told of as they are: "Zork and Biscuit ate, Sunny didn't"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.items.item import Item, joins
from bot.reading.whom.rows import does_itself
from bot.reading.whom.strangers_placed import NO_NAMES, is_a_meal, is_done_to_her, is_to_another
from bot.reading.words.marks import LIST_MARKS, TITLE_MARKS
from bot.reading.words.rule_words import rule_words


def _begins_list(items: Sequence[Item], at: int) -> bool:
    """ "Zork and Biscuit ate", "fed zork n the red knee"."""
    behind = _past_joints(items, at, 1)
    if behind is None or items[behind].cat != "S":
        return False
    lead = items[at - 1] if at else None
    if lead is None and items[at + 1].text == ",":  # "Measurement, Captain: 86 mm"
        return _past_joints(items, behind, 1) is not None
    if lead is None or lead.cat in "MD" or lead.text in _ONLY or lead.text in _NOT:
        return True
    if lead.cat == "S":
        return items[at].upper  # "misted Dottie Zork and Twig"
    if "to" in lead.senses and at > 1 and items[at - 2].cat == "S":
        return False  # "vendí a Ink a Marta y a Biscuit a Luis"
    if not _LEADS_TO.isdisjoint(lead.senses) and not items[at].upper:
        return at > 1 and ("prey" in items[at - 2].senses or items[at - 2].cat == "N")
    if items[at].upper and _capital_led(items, at):
        return True
    return is_done_to_her(lead) or not _BEFORE_NAMES.isdisjoint(lead.senses)


def _capital_led(items: Sequence[Item], at: int) -> bool:
    """ "hab Zork und Mole gefüttert", "bei der Zork und bei der Lotte": a capital behind a small word."""
    lead, joined = items[at - 1].senses, "and" in items[at + 1].senses
    if joined and ("the" in lead or ("did" in lead and at == 1)):
        return True
    return "fill" in lead and at > 1 and "did" in items[at - 2].senses  # "hab deshalb Zork + Twig gesprüht"


def _ends_list(items: Sequence[Item], at: int) -> bool:
    """ "Ink and Zork ate", "refused: Rusty, Zork"."""
    start = at
    while start and items[at].upper and not _LED.isdisjoint(items[start - 1].senses):
        start -= 1  # "B2, A3 und der Zork", "a Dottie y a Zork"
    if start < at and items[start - 1].cat == "M":
        return False  # "sold GBB 1, to Niamh"
    before = _past_joints(items, start, -1)
    if before is None or items[before].cat != "S":
        return False
    behind = items[at + 1 : at + 4]
    if not behind or behind[0].cat == "M":
        deed = items[at].text.endswith(NO_NAMES)  # "fed Ink and chilled"
        return items[at].upper or ("and" in items[at - 1].senses and not deed)
    if items[at].upper and not _ALIKE.isdisjoint(behind[0].senses):
        return True  # "bei Ink und Zork die Scheiben", "a Ink un grillo y a Zork otro"
    if "did" in behind[0].senses and "and" not in items[at - 1].senses:
        return items[at].upper  # "one for Ink, lights are off"
    return is_a_meal(behind) or behind[0].cat in "DA" or not _BEHIND_NAMES.isdisjoint(behind[0].senses)


def _past_joints(items: Sequence[Item], at: int, step: int) -> int | None:
    """What stands on the other side of a joint of a list, if one is beside an item."""
    place = at + step
    while 0 <= place < len(items) and joins(items[place], LIST_MARKS):
        place += step
    if place == at + step:
        return None
    while step > 0 and place < len(items) and not _LED.isdisjoint(items[place].senses):
        place += 1
    return place if 0 <= place < len(items) else None


def _between_names(items: Sequence[Item], at: int) -> bool:
    """ "fed biscuit zork saffron sunny": a list without marks; no "let Captain meet T07"."""
    if not 0 < at < len(items) - 1 or not items[at - 1].cat == items[at + 1].cat == "S":
        return False
    further = [items[n] for n in (at - 2, at + 2) if 0 <= n < len(items)]
    return any(item.cat == "S" or "and" in item.senses for item in further)


def _on_a_line(items: Sequence[Item], at: int) -> bool:
    """A line of its own among those of animals: "Ink / Zork / all ate"."""
    alone = _is_alone(items, at)
    return alone and any(item.cat == "S" and _is_alone(items, n) for n, item in enumerate(items))


def _is_alone(items: Sequence[Item], at: int) -> bool:
    start = at - 1
    while start >= 0 and items[start].text in _BULLETS:
        start -= 1
    begins = start < 0 or items[start].text == "\n"
    return begins and (at + 1 == len(items) or items[at + 1].text == "\n")


def _the_same(items: Sequence[Item], at: int) -> bool:
    """ "ditto Zork", "same for Zork", "so did Zork", "Zork too"."""
    if _opens(items, at) and any(item.text in _TOO for item in items[at + 1 : at + 2]):
        return True
    lead = items[max(0, at - 2) : at]
    if lead and items[at].upper and "same" in lead[-1].senses and lead[-1].text.rpartition(" ")[2] in _TO:
        return True  # "una langosta para Ink, otra para Zork"
    if len(lead) > 1 and items[at].upper and "same" in lead[0].senses and "to" in lead[1].senses:
        return True  # "y también a Zork"
    if not lead or not (at + 1 == len(items) or items[at + 1].cat == "M"):
        return False
    before, last = lead[0], lead[-1]
    likened = "same" in last.senses and last.text.rpartition(" ")[2] in _LIKEWISE
    likened = likened or ("same" in before.senses and not {"for", "with"}.isdisjoint(last.senses))
    return likened or (before.text in _SO and "did" in last.senses)


def _even(items: Sequence[Item], at: int) -> bool:
    """ "everyone on C ate, even Zork", "only Zork said no", "not zork tho"."""
    lead = items[at - 1].text if at and not items[at].text.endswith(NO_NAMES) else ""
    behind = items[at + 1] if at + 1 < len(items) else None
    ends = behind is None or behind.cat == "M"
    if lead in _NOT:
        return (
            at > 1 and items[at - 2].cat == "M" and (ends or (behind is not None and "fill" in behind.senses))
        )
    return lead in _EVEN and (ends or (behind is not None and not _BEHIND_NAMES.isdisjoint(behind.senses)))


def _neither(items: Sequence[Item], at: int) -> bool:
    """ "neither Zork nor Mole", "neither Anvil nor Zork"."""
    nor = [item.text for item in items if item.text in _NOR]
    return len(nor) > 1 and at > 0 and items[at - 1].text in _NOR


def _headed(items: Sequence[Item], at: int) -> bool:
    """ "Took: Biscuit, Ink. Refused: Zork.": all that stands below what was done."""
    ends = at + 1 == len(items) or items[at + 1].cat == "M"
    return ends and at > 1 and items[at - 1].text == ":" and _does(items[at - 2])


def _told_alike(items: Sequence[Item], at: int) -> bool:
    """ "Zork: ditto", "20:15 Zork, one cricket", "19:30 zork locust ✓": set down as another one is."""
    behind = items[at + 1 : at + 5]
    ticked = at > 0 and not _YES_OR_NO.isdisjoint(items[at - 1].senses)  # "ink: roach ✓ zork: roach ✓"
    if not behind or not (ticked or _opens(items, at)):
        return False
    first, alike = behind[0], [b for a, b in pairwise(items) if a.cat == "S"]
    if first.text in TITLE_MARKS:
        lines = ticked or at == 0 or items[at - 1].cat == "M"
        return lines and any(item.text == first.text for item in alike)
    if first.text == ",":
        told = is_a_meal(behind[1:]) or any(map(does_itself, behind[1:2]))
        return told and any(item.text == "," for item in alike)
    if first.cat in "NA":  # "crickets: Zork 2, Mole 1"
        return at > 0 and any(item.cat == first.cat for item in alike)
    return at > 0 and "prey" in first.senses and any("prey" in item.senses for item in alike)


def _told_of(items: Sequence[Item], at: int) -> bool:
    """ "April took a waxworm, zork didn't": whom something else is told of."""
    behind = items[at + 1 : at + 5]
    if not behind or not _opens(items, at) or items[at].text.endswith(NO_NAMES):
        return False
    if "but" in behind[0].senses and len(behind) > 1 and items[at].upper and at:
        behind = behind[1:]  # "Zork en cambio abrió la suya"
    first, then = behind[0], behind[1] if len(behind) > 1 else None
    named, upper = at > 0, items[at].upper
    if is_a_meal(behind) or (named and first.text in _SEEMS):
        return True
    if "pron" in first.senses and then is not None and "prey" in then.senses:
        return named and upper  # "Zork ihre Grille nicht"
    if not _YES_OR_NO.isdisjoint(first.senses) and then is not None and then.cat != "M":
        return False
    if not _TOLD.isdisjoint(first.senses):
        return named or (upper and not is_to_another(items, at + 1))
    if first.cat == "D" or "did" in first.senses or first.text in _SAID_OF:
        return upper and named  # "Dottie moulted on the 29th and Zork on the 31st"
    if then is None or not _does(first):
        return named and _does(first)
    whom = next((n for n, item in enumerate(behind[1:], 1) if "the" not in item.senses), 1)
    if behind[whom].cat == "S":  # "Marta took Ink", but "zork ate ink refused"
        return any(_does(item) or not _DENIES.isdisjoint(item.senses) for item in behind[whom + 1 : whom + 2])
    return then.cat != "U" and "self" not in then.senses and (named or not is_to_another(items, at + 1))


def _does(item: Item) -> bool:
    """Whether a word tells what an animal did; no "at" or "off", which only go on with other verbs."""
    return (
        item.cat == "W"
        and does_itself(item)
        and "on" not in item.senses
        and "unknown" not in item.senses.acts
    )


def _opens(items: Sequence[Item], at: int) -> bool:
    """Whether an item may open what is told of somebody."""
    lead = items[at - 1] if at else None
    if lead is None or lead.cat in "MD" or not _OPENS.isdisjoint(lead.senses):
        return True
    if "rel" in lead.senses and items[at].upper:
        return True  # "…, which Zork took"
    behind = items[at + 1] if at + 1 < len(items) else None
    if not _YES_OR_NO.isdisjoint(lead.senses):  # "Biscuit no Zork no May yes"
        return behind is not None and not _YES_OR_NO.isdisjoint(behind.senses)
    told = does_itself(lead) or not {"prey", "each"}.isdisjoint(lead.senses)
    told = told or (lead.cat == "S" and lead.val.how == "place")  # "shelf A zork ate"
    return told and behind is not None and (_does(behind) or not _DENIES.isdisjoint(behind.senses))


LISTED: Final = (
    _begins_list,
    _ends_list,
    _between_names,
    _on_a_line,
    _the_same,
    _even,
    _headed,
    _neither,
    _told_alike,
    _told_of,
)
_ALIKE: Final = frozenset({"the", "ones", "one", "same"})
#: Senses of the small words between two of a list and the second of them: "and to the".
_LED: Final = frozenset({"the", "to", "with"})
_ONLY: Final = rule_words("set_apart")
_EVEN: Final = rule_words("even")
_NOT: Final = rule_words("not")
_SEEMS: Final = rule_words("seems")
_SAID_OF: Final = rule_words("had") | {"("}
_TOO: Final = rule_words("as_well")
_LIKEWISE: Final = rule_words("likewise")
_TO: Final = rule_words("led_to")
_SO: Final = rule_words("so_did")
_NOR: Final = rule_words("neither_nor")
_BULLETS: Final = frozenset({"-", "–", "*", "•"})
_LEADS_TO: Final = frozenset({"to", "with", "for", "from"})
_YES_OR_NO: Final = frozenset({"yes", "no"})
_BEFORE_NAMES: Final = frozenset({"and", "with", "to", "for", "both", "from", "but", "except", "then"})
_BEHIND_NAMES: Final = frozenset(
    {"verb", "did", "neg", "elided", "undone", "each", "both", "still", "a", "prey", "size", "and", "but"}
)
_OPENS: Final = frozenset({"and", "but", "then", "so"})
_DENIES: Final = frozenset({"elided", "neg", "undone"})
_TOLD: Final = _DENIES | {"still", "same", "yes", "no", "seen"}
