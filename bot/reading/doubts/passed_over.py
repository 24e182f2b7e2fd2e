"""Animals whom a message names and of whom nothing that it tells is understood: "Pebble ate, Rust hid".

To store the one half alone would drop the other unsaid, so that the message is asked about.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import AND, START, Clause
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of
from bot.reading.items.item import Item
from bot.reading.kinds.drafts import Doubt, Draft, of_another_kind
from bot.reading.kinds.verdicts import Verdict
from bot.reading.model import FEEDING, About
from bot.reading.words.rule_words import rule_openings, rule_words
from bot.terms import Kind

#: Words that say that an animal was left out, of whom there is nothing to tell.
_LEAVES_OUT: Final = frozenset({"except", "undone"})
#: Words that deny; of anything but a meal, what is denied did not happen.
_DENIES: Final = frozenset({"neg", "no"})
#: Words for what the keeper watched for.
_SEEING: Final = rule_words("seeing")


def passed_over(drafts: Sequence[Draft], clauses: Sequence[tuple[Frame, Verdict]]) -> None:
    """Has asked what became of animals that a clause names and says nothing understood of."""
    if not drafts or any(draft.doubts for draft in drafts):
        return
    told = {tag for draft in drafts for tag in draft.tags}
    told |= {tag for frame, _ in clauses for ref in frame.excepted for tag in ref.tags}
    told |= {str(draft.fields["partner"]) for draft in drafts if "partner" in draft.fields}
    of_groups = [set(draft.tags) for draft in drafts if draft.of_group]
    of_meals = any(draft.kind in FEEDING for draft in drafts)
    bred = any(draft.kind in {Kind.PAIRED, Kind.SAC} for draft in drafts)
    for place, (frame, verdict) in enumerate(clauses):
        refs = [ref for ref in frame.refs if ref.how != "talked" and ref.tags] if frame.named else []
        named = {tag for ref in refs for tag in ref.tags}
        one_of_them = not _only_says_how(frame) and any(named < group for group in of_groups)
        if named and (told.isdisjoint(named) or one_of_them) and _may_tell(frame, verdict, of_meals=of_meals):
            drafts[-1].doubts.append(half_told(drafts[-1], "untold", " ".join(ref.words for ref in refs)))
            return
        turns = frame.clause.turns and (
            (of_meals and _excuses(frame, verdict))
            or (frame.clause.by not in _AND and _contrasts(drafts, named, verdict))
        )
        if one_of_them and (turns or (of_meals and _could_not_eat(clauses[:place], named, frame, verdict))):
            drafts[0].doubts.append(Doubt(About.SPECIMEN, "excepted_whom"))
            return
        if bred and frame.refs and _was_eaten(frame, verdict):
            said = " ".join(item.text for item in frame.clause.items)
            drafts[-1].doubts.append(half_told(drafts[-1], "untold", said))
            return
        if place and named and verdict.state == "unknown" and "fix" in frame.clause.items[0].senses:
            drafts[0].doubts.append(half_told(drafts[0], "untold", " ".join(ref.words for ref in refs)))
            return  # "Mole's open, no hang on that's Friday. Friday opened up"
        if named and _doubts_what_was_told(frame, verdict):
            drafts[-1].doubts.append(half_told(drafts[-1], "hedge"))
            return


def half_told(draft: Draft, key: str, words: str = "") -> Doubt:
    """To store one half alone would drop the other unsaid: whether the rest stands is asked."""
    return of_another_kind(draft, key, words)


def _may_tell(frame: Frame, verdict: Verdict, *, of_meals: bool) -> bool:
    """Whether a clause may tell of something that happened, though nothing in it is understood."""
    if verdict.state == "nothing":
        last_words = {item.text.split()[-1] for item in frame.clause.items}
        return verdict.why == "undone" and not _SEEING.isdisjoint(last_words)
    noted = frame.signs and sum(len(ref.tags) for ref in frame.refs) == 1
    if verdict.state != "unknown" or noted or not _LEAVES_OUT.isdisjoint(frame.said):
        return False
    if frame.flags & {"none served", "name or word"}:
        return False  # "…, no cricket for Ink"
    if frame.clause.sep == START and all(i.cat == "S" and i.val.how == "group" for i in frame.clause.items):
        return False  # "babies!!"
    if _left_out(frame) or _only_words(frame.clause):
        return False
    denied = not _DENIES.isdisjoint(frame.flags) and "hedge" not in frame.flags
    opens = frame.clause.items[0].senses
    in_her_place = "no" in opens and "neg" not in opens  # "watered Ink, no Mole": Mole left out, or meant?
    return not denied or (not frame.verbs and (of_meals or in_her_place))


def _doubts_what_was_told(frame: Frame, verdict: Verdict) -> bool:
    """ "…, not so sure about Rust", "…, assuming that was Pebble", "…, if I'm not mixing her up"."""
    if verdict.state == "unknown":
        return "hedge" in frame.flags and not (frame.verbs or frame.unknown or frame.signs)
    opens = "cond" in frame.clause.items[0].senses and "future" not in frame.flags
    return verdict.why == "cond" and opens and bool(frame.flags & {"did", "self"})


def _was_eaten(frame: Frame, verdict: Verdict) -> bool:
    """ "paired Captain with T07, he was eaten", "Anvil laid a sac, it was eaten"."""
    return verdict.state == "unknown" and "spoiled" in acts_of(frame) and "neg" not in frame.flags


def _excuses(frame: Frame, verdict: Verdict) -> bool:
    """ "fed shelf A but Clove's sealed", "… but Clove was hiding": then hardly fed as well."""
    return frame.signs or not _WITHOUT_A_MEAL.isdisjoint(verdict.kinds)


_WITHOUT_A_MEAL: Final = frozenset({Kind.SEALED, Kind.PREMOLT})


def _could_not_eat(
    told: Sequence[tuple[Frame, Verdict]], named: set[str], frame: Frame, verdict: Verdict
) -> bool:
    """ "everyone on A ate, Ink is sealed": she as well, before she sealed?"""
    closed = verdict.state == "told" and set(verdict.kinds) <= _WITHOUT_A_MEAL
    later = any(item.text in _AFTERWARDS for item in frame.clause.items)
    fed = (
        {tag for ref in before.refs for tag in ref.tags}
        for before, what in told
        if not FEEDING.isdisjoint(what.kinds)
    )
    return bool(named) and closed and not (later or frame.days) and any(named < tags for tags in fed)


#: Words that put what follows after what was told.
_AFTERWARDS: Final = rule_words("afterwards")


def _contrasts(drafts: Sequence[Draft], named: set[str], verdict: Verdict) -> bool:
    """ "the GBBs molted but the third refused": whether she did what the others did, before a "but"?"""
    own = set(verdict.kinds)
    if verdict.state != "told" or own <= _BESIDE_ANYTHING:
        return False
    of_all = {draft.kind for draft in drafts if draft.of_group and named < set(draft.tags)}
    return any(kind not in own | _WORK and not ({kind, *own} <= FEEDING) for kind in of_all)


#: What the keeper does all the same: "watered shelf C but Mole's sealed".
_WORK: Final = frozenset({Kind.WATERED, Kind.CLEANED})
#: What is seen of one of many whatever they all did.
_BESIDE_ANYTHING: Final = frozenset({Kind.MEASURED, Kind.CHECKED, Kind.SEXED, Kind.NOTE, Kind.CLIMATE})


def _only_says_how(frame: Frame) -> bool:
    """ "fed Ink and Mole, Mole slowly": said of one of those told of, and no other matter."""
    return all(i.cat in "SDPM" or "fill" in i.senses for i in frame.clause.items)


def _left_out(frame: Frame) -> bool:
    """ "…, left Skip out": with the animal between the two words."""
    said = [item.text for item in frame.clause.items]
    return said[0] in _LEFT and said[-1] in _OUT


def _only_words(clause: Clause) -> bool:
    """ "down the hatch", "web and dirt right across it": words of the language that are names, too."""
    items = clause.items
    where = any("on" in a.senses and b.cat == "S" and b.text.startswith(_THE) for a, b in pairwise(items))
    several = items[0].cat == "S" and len(items[0].val.tags) > 1  # no word of the language names a group
    return where or (clause.sep == AND and not (several or items[0].upper) and any(map(_is_thing, items)))


_THE: Final = rule_openings("the")


def _is_thing(item: Item) -> bool:
    return "noun" in item.senses and item.cat == "W"


_LEFT: Final = rule_words("left_alone")
_AND: Final = rule_words("and")
_OUT: Final = rule_words("out")
