"""Adding animals to the shelf in a few taps, or in one message, with a look at it before it is done.

What is not said is asked, one thing at a time: the species, then the place with the next free tag
there. The draft travels in the buttons, so that an old button still means what it showed; what is
typed goes to the draft asked for last.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Any, Final

from bot.conversation import newcomers, newcomers_shown, next_up, wording
from bot.conversation.caution import first_of_their_kinds
from bot.conversation.model import Reply
from bot.conversation.newcomer_tags import tag_taken, tags_of, told_taken, with_settled
from bot.conversation.newcomers import Draft, same
from bot.conversation.tags import known_place, next_tags, place_of_tag
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Choice, Turn, rows_of, undo_row
from bot.reading.wanted.newcomer import Newcomer
from bot.reading.wanted.newcomers import MOST_AT_ONCE, is_animal, newcomers_from
from bot.reading.wanted.wanted import Instruction
from bot.terms import Specimen
from storage.errors import TagTakenError
from storage.records import JournalEntry, Prompt

_PLACES_OFFERED: Final = 8
#: Ten times a very large private shelf; beyond it a slip or ill will is likelier than animals.
_MOST_ANIMALS: Final = 5000


# --- where it begins ------------------------------------------------------------------------


def add(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The keeper wants to add an animal and has said more or less of it."""
    said = wanted.newcomers or (Newcomer(),)
    if len(said) > MOST_AT_ONCE:
        return [turn.reply(say("add.too_many_at_once", n=len(said), most=MOST_AT_ONCE))]
    unlike = next((one for one in said if one.own_tags), None)
    if unlike is not None:
        tags = wording.listed(unlike.own_tags, most=MOST_AT_ONCE)
        return [turn.reply(say("add.own_tags", n=unlike.count, given=len(unlike.own_tags), tags=tags))]
    waiting = previewed(turn)
    if waiting is not None and len(said) == 1 and _is_it(said[0], waiting):
        return added(turn, waiting)
    return [go_on(turn, newcomers.in_a_row([newcomers.begun(turn, newcomer) for newcomer in said]))]


def listed(turn: Turn) -> list[Reply] | None:
    """A list of animals though nothing says to add them: the first ones, or new ones by name."""
    said = newcomers_from(
        "; ".join(turn.incoming.text.splitlines()), turn.shelf.names, turn.settings.language
    )
    if len(said) > MOST_AT_ONCE or not all(
        one.kind and is_animal(one, turn.shelf.names, turn.settings.language) for one in said
    ):
        return None
    first = not (turn.shelf.specimens or turn.shelf.gone)
    in_lines = len(said) > 1 and len(turn.incoming.text.splitlines()) >= len(said)
    if not first and not (in_lines and all(one.name or one.tag or len(one.words) > 1 for one in said)):
        return None
    return [go_on(turn, newcomers.in_a_row([newcomers.begun(turn, one) for one in said]))]


def offer(turn: Turn, row: JournalEntry) -> Reply:
    """After animals were logged as acquired: the first step of putting them on the shelf."""
    return go_on(turn, newcomers.begun_by_arrival(turn, row))


# --- one step after the other ---------------------------------------------------------------


def go_on(turn: Turn, draft: Draft, *, in_place: bool = False) -> Reply:
    """Asks for the first thing that is missing, of one animal after the other, or shows them all."""
    draft = _completed(turn, draft)
    clash = tag_taken(turn, draft)
    if clash is not None:
        return _ask_text(turn, draft, "tag", told_taken(turn, draft, clash), in_place=in_place)
    for missing, step in _STEPS.items():
        if draft.get(missing) is None:
            return step(turn, draft, in_place=in_place)
    if draft.get("next"):
        return go_on(turn, newcomers.following(draft), in_place=in_place)
    return _preview(turn, draft, in_place=in_place)


def _completed(turn: Turn, draft: Draft) -> Draft:
    """The draft with what follows from what is said: the place from the tag, the tags from the place."""
    draft = dict(draft)
    if draft.get("place"):
        draft["place"] = known_place(turn.work.shelves.places(turn.shelf_id), draft["place"])
    if draft.get("tag") and draft.get("place") is None:
        draft["place"] = place_of_tag(turn.shelf.specimens, draft["tag"]) or (
            None if draft.get("next") else ""
        )
    if draft["count"] == 1:
        draft["lot"] = False
    if draft.get("lot") is False and draft["count"] > 1 and draft.get("name"):
        draft["unread"] = [*(draft.get("unread") or []), draft.pop("name")]
    if draft.get("place") is not None and draft.get("lot") is not None:
        draft["tags"] = tags_of(turn, draft)
    return draft


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
    beside = with_settled(turn, draft)
    own = draft.get("tag") if n == 1 else None
    choices = []
    for place in turn.work.shelves.places(turn.shelf_id)[:_PLACES_OFFERED]:
        tag = own or next_tags(beside, place, n)[0]
        label = say("add.tag_at", tag=tag, place=place)
        choices.append(Choice(label, {"do": "add_set", "draft": newcomers.placed(draft, place)}))
    tag = own or next_tags(beside, None, n)[0]
    nowhere = newcomers.placed(draft, "")
    choices.append(Choice(say("add.tag_nowhere", tag=tag), {"do": "add_set", "draft": nowhere}))
    several = n > 1 or draft.get("next")
    free = say("add.where_several") if several else say("add.where")
    text = say("add.which_place") if own else free
    return _step(turn, draft, "place", text, rows_of(choices), in_place=in_place)


def _preview(turn: Turn, draft: Draft, *, in_place: bool) -> Reply:
    lines = newcomers_shown.lines_of(turn, draft)
    single = len(newcomers.drafts_of(draft)) == len(draft["tags"]) == 1
    if single:
        lines[0] += " " + say("add.typed_name")
    _await(turn, "name" if single else "more", draft)
    names = say("add.other_name") if draft.get("name") else say("add.name_it")
    rows = [
        *newcomers_shown.yeses(draft),
        newcomers_shown.at_like_places(turn, draft),
        [Choice(names, _asks("name", draft)), Choice(say("add.other_tag"), _asks("tag", draft))]
        if single
        else [],
        [Choice(say("button.cancel"), _cancels(draft) | {"word": "no"})],
    ]
    return turn.reply("\n".join(lines), rows, pending={}, in_place=in_place)


def _asks(want: str, draft: Draft) -> dict[str, Any]:
    return {"do": "add_ask", "want": want, "draft": draft}


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
    each = newcomers.drafts_of(draft)
    if turn.dialog.get("open") is not None:
        turn.work.prompts.answered(turn.dialog["open"], at=turn.incoming.sent_at)
    kept_on = turn.today.isoformat() if all(one.get("kept") for one in each) else None
    turn.remember(step=None, open=None, kept_on=kept_on)
    if len(turn.shelf.specimens) + sum(len(one["tags"]) for one in each) > _MOST_ANIMALS:
        return [turn.reply(say("add.too_many", n=_MOST_ANIMALS), in_place=in_place)]
    change_id = turn.open_change()
    animals: list[Specimen] = []
    try:
        for one in each:
            added_now = [newcomers.specimen_of(turn, one, tag) for tag in one["tags"]]
            for animal in added_now:
                turn.work.shelves.add(change_id, animal, on=date.fromisoformat(one["on"]))
            animals += added_now
    except TagTakenError as taken:
        turn.work.journal.undo(change_id, at=turn.incoming.sent_at)
        return [_ask_text(turn, draft, "tag", told_taken(turn, draft, taken.tag), in_place=in_place)]
    newcomers.log_coming(turn, change_id, draft)
    turn.refresh()
    if len(animals) == 1:
        turn.remember(of=animals[0].tag)
    rests = {next_up.rest_line(turn, animal.tag) for animal in animals}
    lines = [say("add.done", who=wording.called(animals, most=12)), *(rests if len(rests) == 1 else ())]
    lines += first_of_their_kinds(turn, animals)
    turn.note_done(change_id, lines[0])
    text = "\n".join(line for line in lines if line)
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id, in_place=in_place)]
