"""Words that only look like an entry: a molt as the proof of a sex, a "fine" about nobody. Pure."""

from __future__ import annotations

from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.doubts.account_model import Account
from bot.reading.kinds.drafts import Draft
from bot.reading.kinds.verdicts import Verdict
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import EXACT
from bot.reading.words.rule_words import rule_words
from bot.reading.woven.her_things import leaves_her_dish
from bot.terms import Kind

#: What became of a meal; of nothing, where no meal was told before.
_ESCAPES: Final = frozenset({"escape", "who_escaped"})
_OF_A_MEAL: Final = frozenset({"gone", "none", "of_it", "has_it", "let_be"} | _ESCAPES)


def only_looks_so(kind: Kind, frame: Frame, draft: Draft, verdict: Verdict, account: Account) -> bool:
    """Words that only look like an entry: a molt as the proof of a sex, a "fine" about nobody."""
    of_a_molt = any(
        (s.group.noun or i.text in _SKINS) and s.group.kind is Kind.MOLTED
        for _, i in frame.verbs
        for s in i.senses.values()
    )
    skin_named = not frame.ref_at and any(item.text in _A_SKIN for item in frame.clause.items)
    if kind is Kind.CHECKED and (of_a_molt or skin_named):
        return True  # "a lad, checked the moult twice", "checked the skin, May is a boy"
    of_nobody = not draft.tags and all(ref.sure or ref.tags for ref in frame.refs)
    if (kind is Kind.CHECKED and of_nobody) or (kind is Kind.MOLTED and of_a_skin(frame)):
        return True
    after_pairing = bool(account.drafts) and account.drafts[-1].kind is Kind.PAIRED and not frame.ref_at
    if kind is Kind.REFUSED and ((after_pairing and not frame.meals) or leaves_her_dish(frame)):
        return True  # "put Twig in with Lantern, no luck"
    described = kind is Kind.MEASURED and all(r.how not in EXACT for r in frame.refs)
    if described and any(d.kind is Kind.ACQUIRED for d in account.drafts):
        return True  # "bought a sling, P. vittata, 3 cm": the newcomer's size
    if _of_no_meal(frame, verdict, account) or (kind is Kind.REFUSED and _took_it_away(frame, account)):
        return True
    if not verdict.groups or frame.ref_at or not all(g.noun for g in verdict.groups):
        return False
    last = account.drafts[-1].tags if account.drafts else draft.tags
    signs = kind is Kind.PREMOLT and len(last) == 1 and draft.tags == last  # "… refused, her bum is black"
    told = account.drafts or account.nothing
    seen = any(not _FOUND.isdisjoint(i.text.split()[-1:]) for i in frame.clause.items)
    sexed = any(d.kind is Kind.SEXED for d in account.drafts)
    found = kind is Kind.MOLTED and bool(draft.tags) and not sexed and (seen or (not told and _cast(frame)))
    return not (signs or found) and bool(told or account.unknown)


_FOUND: Final = rule_words("found")
_A_SKIN: Final = rule_words("a_skin")


#: Words for what was shed that also tell that it was: "checked the shed skin", "Ink shed skin".
_SKINS: Final = rule_words("shed_skins")


def _of_no_meal(frame: Frame, verdict: Verdict, account: Account) -> bool:
    """Whether a word tells what became of a meal, where none was told before."""
    escaped = any(g.act in _ESCAPES for g in verdict.groups) and not frame.refs
    if (frame.meals and not escaped) or all(g.act not in _OF_A_MEAL for g in verdict.groups):
        return False
    none_left = frame.named and any(g.act == "none" for g in verdict.groups)
    return not none_left and not any(d.kind in FEEDING for d in account.drafts)


def _took_it_away(frame: Frame, account: Account) -> bool:
    """ "Ink molted, and I threw it away": what was taken out, where no meal was told of before."""
    it = any(not _IT.isdisjoint(item.text.split()) for _, item in frame.verbs)
    told_of_no_meal = bool(account.drafts) and not any(d.kind in FEEDING for d in account.drafts)
    return it and told_of_no_meal and not (frame.meals or frame.ref_at)


_IT: Final = rule_words("it")


def of_a_skin(frame: Frame) -> bool:
    """ "checked Ink's molt under the scope: a girl": looked at for her sex, and no look at her."""
    fills = (i.senses["fill"].group for i in frame.clause.items if "fill" in i.senses)
    return any(group.act == "skin" for group in fills)


def _cast(frame: Frame) -> bool:
    """Whether a clause names the skin itself, which is proof: "she looks bluer, exuvium in the corner"."""
    molts = (s.words for _, i in frame.verbs for s in i.senses.values() if s.group.kind is Kind.MOLTED)
    return not all(words in _BARE_MOLTS for words in molts)


_BARE_MOLTS: Final = rule_words("bare_molts")
