"""What is shown of the animals of a draft before they are added: who and where, what to know, the yes."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.newcomers import Draft, drafts_of, same
from bot.conversation.tags import like_places
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Choice, Turn
from bot.husbandry.species import species_of

_WORDS_SHOWN: Final = 60


def lines_of(turn: Turn, draft: Draft) -> list[str]:
    """The animals of a draft, each on its line where it has several, and what is to be known first."""
    each = drafts_of(draft)
    if len(each) == 1:
        shown = [say("add.preview", what=_described(turn, draft))]
    else:
        listed = [say("add.one_of_several", what=_described(turn, one)) for one in each]
        shown = [say("add.preview_several", n=len(each)), *listed, say("add.all_right")]
    return [*shown, *dict.fromkeys(remark for one in each for remark in _remarks(turn, one))]


def yeses(draft: Draft) -> list[list[Choice]]:
    """The buttons that add it, in one order whatever was tapped last: new today, here for long.

    Where the keeper said which, or the journal has the arrival, the first adds it as it was said. Of several
    the buttons are for those of which nothing was said.
    """
    as_shown = Choice(say("add.yes"), {"do": "add_yes", "draft": draft, "word": "yes"})
    unsaid = [one for one in drafts_of(draft) if not one.get("coming_said")]
    if draft.get("arrival") or (not unsaid and len(drafts_of(draft)) > 1):
        return [[as_shown]]
    kept = bool((unsaid or [draft])[0].get("kept"))
    both = [
        Choice(say("add.yes_new"), _adds(_coming(draft, kept=False), typed=not kept)),
        Choice(say("add.yes_kept"), _adds(_coming(draft, kept=True), typed=kept)),
    ]
    if not unsaid:
        return [[as_shown], [both[0 if kept else 1]]]
    return [both]


def _coming(draft: Draft, *, kept: bool) -> Draft:
    """A draft whose animals are new or were here before, but for those of several of which it was said."""
    single = len(drafts_of(draft)) == 1
    told = {"kept": kept, "since": None}
    settled = [one if one.get("coming_said") else {**one, **told} for one in draft.get("settled", [])]
    own = told if single or not draft.get("coming_said") else {}
    return {**draft, **own, "settled": settled}


def _adds(draft: Draft, *, typed: bool) -> dict[str, Any]:
    """Adds a draft; the one that a typed yes stands for is marked."""
    return {"do": "add_yes", "draft": draft} | ({"word": "yes"} if typed else {})


def _remarks(turn: Turn, draft: Draft) -> list[str]:
    """What is to be known before it is added: words not used, an unknown species, a name borne already."""
    lines = []
    if draft.get("instead_of"):
        lines.append(say("add.not_added_yet", who=draft["instead_of"]))
    if draft.get("unread"):
        lines.append(say("add.unread", words=", ".join(draft["unread"])[:_WORDS_SHOWN]))
    if draft["species"] and not species_of(draft["species"]).known:
        lines.append(say("add.not_in_file"))
    twins = [a for a in turn.shelf.specimens if draft.get("name") and same(a.name, draft["name"])]
    if twins:
        lines.append(say("add.name_twice", who=wording.called(twins, most=3)))
    return lines


def at_like_places(turn: Turn, draft: Draft) -> list[Choice]:
    """Where the place would be new: the places of the shelf that may be meant by it."""
    like = like_places(turn.work.shelves.places(turn.shelf_id), draft["place"])
    return [
        Choice(say("add.rather_at", place=place), {"do": "add_set", "draft": {**draft, "place": place}})
        for place in like[:2]
    ]


def _where(turn: Turn, place: str | None) -> str:
    """The place as shown before anything is added: one that the shelf does not have yet is told apart."""
    if not place:
        return ""
    known = place in turn.work.shelves.places(turn.shelf_id)
    return say("add.at", place=place) if known else say("add.at_new", place=place)


def _described(turn: Turn, draft: Draft) -> str:
    span = draft.get("span_cm")
    lot = draft["lot"] and draft["count"] > 1
    parts = [
        draft.get("name") or "",
        draft["species"] or say("species.unknown"),
        say("add.tags", tags=", ".join(draft["tags"])),
        _where(turn, draft["place"]),
        say("answer.lot", n=draft["count"]) if lot else "",
        say_of("stages", draft["stage"]) if draft.get("stage") else "",
        say_of("sexes", draft["sex"]) if draft.get("sex") else "",
        say("measure.span", length=wording.length(Decimal(span), turn.settings.units)) if span else "",
        say("add.from", source=draft["source"]) if draft.get("source") else "",
        _since(turn, draft),
    ]
    return ", ".join(part for part in parts if part)


def _as_said(turn: Turn, day: date, near: str | None) -> str:
    """A day as nearly as it was said: the year alone, the month, or the date."""
    if near == "year":
        return str(day.year)
    return wording.month_of(day) if near == "month" else wording.date_of(day, turn.today)


def _since(turn: Turn, draft: Draft) -> str:
    """Whether it is a new arrival, and since when it is kept."""
    if draft.get("since"):
        return say("add.since", day=_as_said(turn, date.fromisoformat(draft["since"]), draft.get("since_as")))
    if draft.get("kept"):
        return say("add.kept")
    on = date.fromisoformat(draft["on"])
    return say("add.new") if on == turn.today else say("add.new_on", day=wording.day_of(on, turn.today))
