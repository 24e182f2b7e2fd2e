"""Adding animals to the shelf in a few taps, or in one message, with a look at it before it is done.

What is not said is asked, one thing at a time: the species, then the place with the next free tag
there. The draft travels in the buttons, so that an old button still means what it showed; what is
typed goes to the draft asked for last.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any, Final

from bot.conversation import newcomers, next_up, wording
from bot.conversation.caution import first_of_its_kind
from bot.conversation.model import Reply
from bot.conversation.newcomers import Draft
from bot.conversation.tags import known_place, like_places, next_tags, place_of_tag
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Choice, Turn, rows_of, undo_row
from bot.husbandry.species import species_of
from bot.reading.newcomer import Newcomer
from bot.reading.wanted import Instruction
from storage.errors import TagTakenError
from storage.records import JournalEntry, Prompt

_PLACES_OFFERED: Final = 8
_WORDS_SHOWN: Final = 60
#: Ten times a very large private shelf; beyond it a slip or ill will is likelier than animals.
_MOST_ANIMALS: Final = 5000


# --- where it begins ------------------------------------------------------------------------


def add(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The keeper wants to add an animal and has said more or less of it."""
    newcomer = wanted.newcomer or Newcomer()
    waiting = previewed(turn)
    if waiting is not None and _is_it(newcomer, waiting):
        return added(turn, waiting)
    return [go_on(turn, newcomers.begun(turn, newcomer))]


def offer(turn: Turn, row: JournalEntry) -> Reply:
    """After animals were logged as acquired: the first step of putting them on the shelf."""
    return go_on(turn, newcomers.begun_by_arrival(turn, row))


# --- one step after the other ---------------------------------------------------------------


def go_on(turn: Turn, draft: Draft, *, in_place: bool = False) -> Reply:
    """Asks for the first thing that is missing, or shows what will be added."""
    draft = _completed(turn, draft)
    for missing, step in _STEPS.items():
        if draft.get(missing) is None:
            return step(turn, draft, in_place=in_place)
    return _preview(turn, draft, in_place=in_place)


def _completed(turn: Turn, draft: Draft) -> Draft:
    """The draft with what follows from what is said: the place from the tag, the tags from the place."""
    draft = dict(draft)
    shelf = turn.shelf.specimens
    if draft.get("place"):
        draft["place"] = known_place(turn.work.shelves.places(turn.shelf_id), draft["place"])
    if draft.get("tag") and draft.get("place") is None:
        draft["place"] = place_of_tag(shelf, draft["tag"]) or ""
    if draft["count"] == 1:
        draft["lot"] = False
    if draft.get("place") is not None and draft.get("lot") is not None:
        draft["tags"] = _tags(turn, draft)
    return draft


def _tags(turn: Turn, draft: Draft) -> list[str]:
    n = 1 if draft["lot"] else draft["count"]
    if draft.get("tag") and n == 1:
        return [draft["tag"]]
    return next_tags(turn.shelf.specimens, draft["place"] or None, n)


def _step(
    turn: Turn, draft: Draft, want: str, text: str, rows: list[list[Choice]], *, in_place: bool
) -> Reply:
    _await(turn, want, draft)
    rows = [*rows, [Choice(say("button.cancel"), _cancels(draft))]]
    return turn.reply(text, rows, in_place=in_place)


def _cancels(draft: Draft) -> dict[str, Any]:
    return {"do": "add_cancel", "arrival": draft.get("arrival")}


def _await(turn: Turn, want: str, draft: Draft) -> None:
    """The next words typed may be what the draft lacks."""
    turn.remember(step={"want": want, "draft": draft, "at": turn.incoming.sent_at.isoformat()})


def _ask_species(turn: Turn, draft: Draft, *, in_place: bool) -> Reply:
    may_be = draft.get("may_be") or []
    choices = [Choice(name, {"do": "add_set", "draft": {**draft, "species": name}}) for name in may_be[:6]]
    unknown = Choice(say("add.species_unknown"), {"do": "add_set", "draft": {**draft, "species": ""}})
    name = draft.get("name")
    text = say("add.which_species_of", who=name) if name else say("add.which_species")
    return _step(turn, draft, "species", text, [*rows_of(choices, 1), [unknown]], in_place=in_place)


def _ask_lot(turn: Turn, draft: Draft, *, in_place: bool) -> Reply:
    n = draft["count"]
    choices = [
        Choice(say("add.singly", n=n), {"do": "add_set", "draft": {**draft, "lot": False}}),
        Choice(say("add.as_lot", n=n), {"do": "add_set", "draft": {**draft, "lot": True}}),
    ]
    return _step(turn, draft, "lot", say("add.lot_or_single", n=n), rows_of(choices, 1), in_place=in_place)


def _ask_place(turn: Turn, draft: Draft, *, in_place: bool) -> Reply:
    n = 1 if draft["lot"] else draft["count"]
    choices = []
    for place in turn.work.shelves.places(turn.shelf_id)[:_PLACES_OFFERED]:
        tag = next_tags(turn.shelf.specimens, place, n)[0]
        label = say("add.tag_at", tag=tag, place=place)
        choices.append(Choice(label, {"do": "add_set", "draft": {**draft, "place": place}}))
    tag = next_tags(turn.shelf.specimens, None, n)[0]
    choices.append(
        Choice(say("add.tag_nowhere", tag=tag), {"do": "add_set", "draft": {**draft, "place": ""}})
    )
    return _step(turn, draft, "place", say("add.where"), rows_of(choices), in_place=in_place)


def _preview(turn: Turn, draft: Draft, *, in_place: bool) -> Reply:
    taken = {animal.tag.casefold() for animal in turn.shelf.specimens}
    clash = [tag for tag in draft["tags"] if tag.casefold() in taken]
    if clash:
        return _ask_text(turn, draft, "tag", say("add.tag_taken", tag=clash[0]), in_place=in_place)
    lines = [say("add.preview", what=_described(turn, draft)), *_remarks(turn, draft)]
    single = len(draft["tags"]) == 1
    if single:
        lines[0] += " " + say("add.typed_name")
    _await(turn, "name" if single else "more", draft)
    names = say("add.other_name") if draft.get("name") else say("add.name_it")
    rows = [
        *_yeses(draft),
        _at_like_places(turn, draft),
        [Choice(names, _asks("name", draft)), Choice(say("add.other_tag"), _asks("tag", draft))]
        if single
        else [],
        [Choice(say("button.cancel"), _cancels(draft) | {"word": "no"})],
    ]
    return turn.reply("\n".join(lines), rows, pending={}, in_place=in_place)


def _yeses(draft: Draft) -> list[list[Choice]]:
    """The buttons that add it, in one order whatever was tapped last: new today, here for long.

    Where the keeper said which, or the journal has the arrival, the first adds it as it was said.
    """
    as_shown = Choice(say("add.yes"), {"do": "add_yes", "draft": draft, "word": "yes"})
    if draft.get("arrival"):
        return [[as_shown]]
    kept = bool(draft.get("kept"))
    both = [
        Choice(say("add.yes_new"), _adds({**draft, "kept": False, "since": None}, typed=not kept)),
        Choice(say("add.yes_kept"), _adds({**draft, "kept": True, "since": None}, typed=kept)),
    ]
    if draft.get("coming_said"):
        return [[as_shown], [both[0 if kept else 1]]]
    return [both]


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


def _at_like_places(turn: Turn, draft: Draft) -> list[Choice]:
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


def same(one: str | None, other: str) -> bool:
    """Whether two names are the same; case does not matter."""
    return one is not None and one.casefold() == other.casefold()


def _asks(want: str, draft: Draft) -> dict[str, Any]:
    return {"do": "add_ask", "want": want, "draft": draft}


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


_STEPS: Final = {"species": _ask_species, "lot": _ask_lot, "place": _ask_place}


def previewed(turn: Turn) -> Draft | None:
    """The draft that only waits for a yes, if there is one."""
    draft: Draft | None = (turn.dialog.get("step") or {}).get("draft")
    return draft if draft and turn.dialog["step"]["want"] in ("name", "more") and "tags" in draft else None


def _is_it(newcomer: Newcomer, draft: Draft) -> bool:
    """Whether no more is said than what the animal of a draft is called."""
    bare_name = bool(newcomer.words) and newcomer == Newcomer(words=newcomer.words)
    return bare_name and all(same(draft.get("name"), word) for word in newcomer.words)


def waiting_name(turn: Turn) -> str | None:
    """The name of the animal that is about to be added but is not on the shelf yet."""
    step = turn.dialog.get("step") or {}
    name: str | None = step.get("draft", {}).get("name")
    return name


def still_waiting(turn: Turn, before: Mapping[str, Any] | None) -> list[Reply]:
    """Once, that an animal still waits to be added, where something else was said meanwhile."""
    draft = (before or {}).get("draft")
    if before is None or not draft or before.get("told") or turn.dialog.get("step") != before:
        return []
    if not waits(turn, before):
        return []
    turn.remember(step={**before, "told": True})
    who = draft.get("name") or draft.get("species") or say("add.nameless")
    return [turn.reply(say("add.still_waiting", who=who))]


#: So long after it was asked about an animal may still be meant by what is typed.
_WAITS: Final = timedelta(hours=1)


def waits(turn: Turn, step: Mapping[str, Any]) -> bool:
    """Whether a step was asked so lately that what is typed may still be for it."""
    return turn.incoming.sent_at - datetime.fromisoformat(step["at"]) <= _WAITS


# --- presses --------------------------------------------------------------------------------


def pressed_set(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A choice of a step: on to the next one."""
    return [go_on(turn, dict(action["draft"]), in_place=True)]


def pressed_ask(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """ "Other tag", "Name it": the next message is that."""
    want = action["want"]
    return [_ask_text(turn, dict(action["draft"]), want, say_of("add.type", want), in_place=True)]


def _ask_text(turn: Turn, draft: Draft, want: str, text: str, *, in_place: bool) -> Reply:
    return _step(turn, draft, want, text, [], in_place=in_place)


def pressed_cancel(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Nothing is added; an arrival that the journal has is told of, and can be taken back."""
    turn.remember(step=None)
    arrival = action.get("arrival")
    if not arrival:
        return [turn.reply(say("add.cancelled"), in_place=True)]
    return [turn.reply(say("add.cancelled_arrival"), [undo_row(arrival["change"])], in_place=True)]


def pressed_yes(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Puts the animals of the draft onto the shelf, and says what to know about them."""
    return added(turn, dict(action["draft"]), in_place=True)


def added(turn: Turn, draft: Draft, *, in_place: bool = False) -> list[Reply]:
    """Puts the animals of a draft onto the shelf, and says what to know about them."""
    if turn.dialog.get("open") is not None:
        turn.work.prompts.answered(turn.dialog["open"], at=turn.incoming.sent_at)
    turn.remember(step=None, open=None, kept_on=turn.today.isoformat() if draft.get("kept") else None)
    if len(turn.shelf.specimens) + len(draft["tags"]) > _MOST_ANIMALS:
        return [turn.reply(say("add.too_many", n=_MOST_ANIMALS), in_place=in_place)]
    change_id = turn.open_change()
    animals = [newcomers.specimen_of(turn, draft, tag) for tag in draft["tags"]]
    try:
        for animal in animals:
            turn.work.shelves.add(change_id, animal, on=date.fromisoformat(draft["on"]))
    except TagTakenError as taken:
        turn.work.journal.undo(change_id, at=turn.incoming.sent_at)
        return [_ask_text(turn, draft, "tag", say("add.tag_taken", tag=taken.tag), in_place=in_place)]
    newcomers.log_coming(turn, change_id, draft, draft["tags"])
    turn.refresh()
    if len(animals) == 1:
        turn.remember(of=animals[0].tag)
    lines = [say("add.done", who=wording.called(animals, most=12))]
    lines.append(next_up.rest_line(turn, animals[0].tag))
    lines += first_of_its_kind(turn, animals[0], new=len(animals))
    turn.note_done(change_id, lines[0])
    text = "\n".join(line for line in lines if line)
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id, in_place=in_place)]
