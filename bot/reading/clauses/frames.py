"""What each clause says: verbs, animals, prey and counts, amounts, days, and what is only hinted at."""

from __future__ import annotations

from typing import Any, Final

from bot.reading.clauses.clause_model import Clause
from bot.reading.clauses.days_of_another import Whose
from bot.reading.corrections.figures_put_right import decimal
from bot.reading.items.item import Item, Ref
from bot.reading.portions.meals import Meal
from bot.reading.rewording.exchanges import CameFor
from bot.reading.words.lexicon import Sense
from bot.reading.words.rule_words import rule_words

#: Categories that are kept as plain marks of a clause.
FLAGS: Final = (
    "neg",
    "elided",
    "undone",
    "hedge",
    "believed",
    "turned",
    "which",
    "leftover",
    "bound",
    "future",
    "habit",
    "cond",
    "report",
    "idle",
    "did",
    "self",
    "each",
    "same",
    "yes",
    "no",
    "or",
    "still",
    "nomore",
    "room",
    "span",
    "carapace",
    "weight",
    "temp",
    "humid",
    "weather",
    "seen",
    "feeder_food",
    "rest",
    "both",
    "animal",
    "with",
    "to",
    "from",
    "on",
    "danger",
    "stranger",
    "fix",
    "a",
    "everyone",
    "all",
)


#: Where in a clause the amounts stand that a clause behind it added.
ADDED: Final = 100


class Frame:
    """One clause taken apart: ``refs`` are its animals as said, ``before`` how many came before the verb.

    ``said`` has the senses of all its words, whatever they were taken for.
    """

    __slots__ = (
        "after_to",
        "amounts",
        "before",
        "came",
        "clause",
        "days",
        "ends_with_ref",
        "excepted",
        "flags",
        "from_words",
        "groups",
        "heading",
        "inherited",
        "kind",
        "loose",
        "meals",
        "nouns",
        "other_days",
        "periods",
        "prons",
        "ref_at",
        "refs",
        "said",
        "signs",
        "subjects",
        "taxa",
        "to_words",
        "unknown",
        "verb_first",
        "verbs",
    )

    def __init__(self, clause: Clause) -> None:
        self.clause = clause
        self.said: set[str] = set().union(*[item.senses for item in clause.items])
        self.refs: list[Ref] = []
        self.taxa: list[str | None] = []
        self.came: CameFor | None = None
        self.ref_at: list[int] = []
        self.excepted: list[Ref] = []
        self.verbs: list[tuple[int, Item]] = []
        self.meals: list[Meal] = []
        self.loose: list[Any] = []
        self.amounts: list[tuple[int, Any]] = []
        self.days: list[Any] = []
        self.other_days: list[tuple[Whose, Any]] = []
        self.periods: list[Any] = []
        self.flags: set[str] = set()
        self.nouns: set[str] = set()
        self.groups: list[Sense] = []
        self.prons: list[Sense] = []
        self.unknown: list[tuple[int, Item]] = []
        self.before = 0
        self.verb_first = self.ends_with_ref = False
        self.subjects: list[Ref] | None = None
        self.inherited = False
        self.signs = False
        self.heading: Any = None
        self.kind: Any = None
        self.to_words = self.from_words = self.after_to = ""

    @property
    def named(self) -> bool:
        """Whether it names somebody itself, or stands right behind a name and a colon: "Mole: none"."""
        return bool(self.ref_at) or "titled name" in self.flags

    @property
    def verb_first_by_keeper(self) -> bool:
        """ "fed", "put": its verb is what only the keeper does."""
        senses = self.verbs[0][1].senses.verbs if self.verbs else ()
        return bool(senses) and all(sense.group.keeper for sense in senses)

    @property
    def strange_deed(self) -> Item | None:
        """A word not understood where a verb would tell what its animals did: "Ink splorged 2"."""
        if not self.unknown or not self.ref_at:
            return None
        items, at = self.clause.items, self.ref_at[-1] + 1
        opening = all(item.cat in "SM" or not _OPENS.isdisjoint(item.senses) for item in items[: at - 1])
        if not opening or self.refs[-1].how == "place":
            return None
        while at < len(items) and (items[at].text in _HAS or not _BEFORE_DEEDS.isdisjoint(items[at].senses)):
            at += 1
        deed = items[at] if at < len(items) else None
        told = deed is not None and deed.cat == "U" and deed.text.isalpha() and not deed.upper
        return deed if told and deed is not None and deed.text not in _ONLY else None

    @property
    def bare(self) -> bool:
        """Nothing but animals (and small words)."""
        return bool(self.refs) and not (
            self.verbs
            or self.meals
            or self.loose
            or self.amounts
            or self.flags & _SAYS
            or self.groups
            or any(decimal(item) for _, item in self.unknown)
            or ("waste" in self.nouns and "from" in self.flags)
        )

    @property
    def idle(self) -> bool:
        """Says nothing that could be stored."""
        return not (
            self.refs
            or self.excepted
            or self.groups
            or self.verbs
            or self.meals
            or self.loose
            or self.amounts
            or self.flags & {"yes", "no", "same"}
        )


_SAYS: Final = frozenset(
    {
        "yes",
        "no",
        "same",
        "undone",
        "neg",
        "future",
        "danger",
        "stranger",
        "cond",
        "report",
        "habit",
        "idle",
        "seen",
        "still",
    }
    | {"none served", "another taker"}
)
_OPENS: Final = frozenset({"fill", "and", "the", "both", "all"})
#: Small words between an animal and what it did.
_BEFORE_DEEDS: Final = frozenset({"both", "all"})
_HAS: Final = rule_words("had")
_ONLY: Final = rule_words("only")
