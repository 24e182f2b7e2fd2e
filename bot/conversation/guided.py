"""Adding animals to the shelf in a few taps, or in one message, with a look at it before it is done.

What is not said is asked, one thing at a time: the species, then the place with the next free tag
there. The draft travels in the buttons, so that an old button still means what it showed; what is
typed goes to the draft asked for last.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any, Final

from bot.conversation import next_up, wording
from bot.conversation.caution import first_of_its_kind
from bot.conversation.model import Reply
from bot.conversation.species_words import is_scientific, name_and_species, species_meant
from bot.conversation.tags import known_place, next_tags, place_of_tag
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Choice, Turn, rows_of, undo_row
from bot.husbandry.species import species_of
from bot.reading.instructions import sounds_like_instruction
from bot.reading.newcomer import Newcomer, newcomer_from
from bot.reading.short_answers import is_nobody
from bot.reading.wanted import Instruction
from bot.reading.wanted_words import is_tag
from bot.terms import Entry, Habit, Sex, Specimen, Stage
from storage.errors import TagTakenError
from storage.records import Prompt

Draft = dict[str, Any]

_PLACES_OFFERED: Final = 8
_LONGEST_NAME: Final = 40
_MOST_WORDS: Final = 4
_MOST_AT_ONCE: Final = 50
#: Ten times a very large private shelf; beyond it a slip or ill will is likelier than animals.
_MOST_ANIMALS: Final = 5000
_TYPED_WITHIN: Final = timedelta(hours=1)
#: Marks of a sentence, a sum or a question, which no name has.
_NO_NAME: Final = frozenset("?!=:;,")
#: "D9": typed where a name may be, it is meant as the tag.
_LOOKS_LIKE_TAG: Final = re.compile(r"[A-Za-z]{1,3}[0-9]{1,3}")


# --- where it begins ------------------------------------------------------------------------


def add(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The keeper wants to add an animal and has said more or less of it."""
    draft = _drafted(turn, wanted.newcomer or Newcomer())
    return [_go_on(turn, draft)]


def _drafted(turn: Turn, newcomer: Newcomer) -> Draft:
    name, species = name_and_species(newcomer.words, turn.shelf.specimens)
    draft: Draft = {"on": turn.today.isoformat(), "count": newcomer.count, "lot": newcomer.count > 1}
    said = {
        "name": name[:_LONGEST_NAME] if name else None,
        "tag": newcomer.tag,
        "place": newcomer.place,
        "span_cm": str(newcomer.span_cm) if newcomer.span_cm is not None else None,
        "stage": newcomer.stage.value if newcomer.stage else None,
        "sex": newcomer.sex.value if newcomer.sex else None,
        "species": species[0] if len(species) == 1 else None,
        "may_be": species if len(species) > 1 else None,
    }
    return draft | {key: value for key, value in said.items() if value is not None}


def offer(turn: Turn, entry: Entry) -> Reply:
    """After animals were logged as acquired: the first step of putting them on the shelf."""
    draft: Draft = {"on": entry.day.isoformat(), "count": min(entry.count or 1, _MOST_AT_ONCE)}
    if entry.species:
        meant = species_meant(entry.species, turn.shelf.specimens)
        draft["species"] = meant[0] if len(meant) == 1 else entry.species
    if entry.span_cm is not None:
        draft["span_cm"] = str(entry.span_cm)
    stage = newcomer_from(turn.incoming.text).stage
    if stage is not None:
        draft["stage"] = stage.value
    return _go_on(turn, draft)


# --- one step after the other ---------------------------------------------------------------


def _go_on(turn: Turn, draft: Draft, *, in_place: bool = False) -> Reply:
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
    rows = [*rows, [Choice(say("button.cancel"), {"do": "add_cancel"})]]
    return turn.reply(text, rows, in_place=in_place)


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
    lines = [say("add.preview", what=_described(turn, draft))]
    if not species_of(draft["species"]).known and draft["species"]:
        lines.append(say("add.not_in_file"))
    taken = {animal.tag.casefold() for animal in turn.shelf.specimens}
    clash = [tag for tag in draft["tags"] if tag.casefold() in taken]
    if clash:
        return _ask_text(turn, draft, "tag", say("add.tag_taken", tag=clash[0]), in_place=in_place)
    twins = [a for a in turn.shelf.specimens if draft.get("name") and _same(a.name, draft["name"])]
    if twins:
        lines.append(say("add.name_twice", who=wording.called(twins, most=3)))
    rows = [
        [Choice(say("add.yes"), {"do": "add_yes", "draft": draft, "word": "yes"})],
        [
            Choice(say("add.other_name") if draft.get("name") else say("add.name_it"), _asks("name", draft)),
            Choice(say("add.other_tag"), _asks("tag", draft)),
        ]
        if len(draft["tags"]) == 1
        else [],
    ]
    if len(draft["tags"]) == 1:
        lines[0] += " " + say("add.typed_name")
        _await(turn, "name", draft)
    else:
        turn.remember(step=None)
    cancel = [Choice(say("button.cancel"), {"do": "add_cancel", "word": "no"})]
    return turn.reply("\n".join(lines), [*rows, cancel], pending={}, in_place=in_place)


def _where(turn: Turn, place: str | None) -> str:
    """The place as shown before anything is added: one that the shelf does not have yet is told apart."""
    if not place:
        return ""
    known = place in turn.work.shelves.places(turn.shelf_id)
    return say("add.at", place=place) if known else say("add.at_new", place=place)


def _same(one: str | None, other: str) -> bool:
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
    ]
    return ", ".join(part for part in parts if part)


_STEPS: Final = {"species": _ask_species, "lot": _ask_lot, "place": _ask_place}


def waiting_name(turn: Turn) -> str | None:
    """The name of the animal that is about to be added but is not on the shelf yet."""
    step = turn.dialog.get("step") or {}
    name: str | None = step.get("draft", {}).get("name")
    return name


# --- presses --------------------------------------------------------------------------------


def pressed_set(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A choice of a step: on to the next one."""
    return [_go_on(turn, dict(action["draft"]), in_place=True)]


def pressed_ask(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """ "Other tag", "Name it": the next message is that."""
    want = action["want"]
    return [_ask_text(turn, dict(action["draft"]), want, say_of("add.type", want), in_place=True)]


def _ask_text(turn: Turn, draft: Draft, want: str, text: str, *, in_place: bool) -> Reply:
    return _step(turn, draft, want, text, [], in_place=in_place)


def pressed_cancel(turn: Turn, _prompt: Prompt, _action: Mapping[str, Any]) -> list[Reply]:
    """Nothing is added."""
    turn.remember(step=None)
    return [turn.reply(say("add.cancelled"), in_place=True)]


def pressed_yes(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Puts the animals of the draft onto the shelf, and says what to know about them."""
    draft: Draft = dict(action["draft"])
    turn.remember(step=None, open=None)
    if len(turn.shelf.specimens) + len(draft["tags"]) > _MOST_ANIMALS:
        return [turn.reply(say("add.too_many", n=_MOST_ANIMALS), in_place=True)]
    change_id = turn.open_change()
    newcomers = [_specimen(turn, draft, tag) for tag in draft["tags"]]
    try:
        for newcomer in newcomers:
            turn.work.shelves.add(change_id, newcomer, on=date.fromisoformat(draft["on"]))
    except TagTakenError as taken:
        turn.work.journal.undo(change_id, at=turn.incoming.sent_at)
        return [_ask_text(turn, draft, "tag", say("add.tag_taken", tag=taken.tag), in_place=True)]
    turn.refresh()
    if len(newcomers) == 1:
        turn.remember(of=newcomers[0].tag)
    lines = [say("add.done", who=wording.called(newcomers, most=12))]
    lines.append(next_up.rest_line(turn, newcomers[0].tag))
    lines += first_of_its_kind(turn, newcomers[0], new=len(newcomers))
    turn.note_done(change_id, lines[0])
    text = "\n".join(line for line in lines if line)
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id, in_place=True)]


def _specimen(turn: Turn, draft: Draft, tag: str) -> Specimen:
    species = species_of(draft["species"]) if draft["species"] else None
    kin = next((animal for animal in turn.shelf.specimens if animal.species == draft["species"]), None)
    span = Decimal(draft["span_cm"]) if draft.get("span_cm") else None
    return Specimen(
        tag=tag,
        species=draft["species"] or say("species.unknown_name"),
        name=draft.get("name"),
        common=kin.common if kin else species.common_names if species else (),
        sex=Sex(draft["sex"]) if draft.get("sex") else Sex.UNKNOWN,
        stage=Stage(draft["stage"]) if draft.get("stage") else _stage(draft["species"], span),
        span_cm=span,
        place=draft["place"] or None,
        lot_size=draft["count"] if draft["lot"] else 1,
        habit=species.habit if species else Habit.TERRESTRIAL,
    )


def _stage(species: str, span: Decimal | None) -> Stage:
    """The stage that goes with a span where the keeper named none: a third and four fifths of the adult span.

    Common practice, no source; without a span a newcomer is taken for a juvenile.
    """
    if span is None:
        return Stage.JUVENILE
    adult = species_of(species).female_span_cm
    if span < min(Decimal(4), adult * Decimal("0.3")):
        return Stage.SLING
    return Stage.ADULT if span >= adult * Decimal("0.8") else Stage.JUVENILE


# --- typed answers --------------------------------------------------------------------------


def typed(turn: Turn) -> list[Reply] | None:
    """What was typed while a step waits for words; ``None`` where it is no answer to it."""
    step = turn.dialog.get("step")
    text = turn.incoming.text.strip()
    if not step or step["want"] not in _TYPED or not text or "\n" in text:
        return None
    if turn.incoming.sent_at - datetime.fromisoformat(step["at"]) > _TYPED_WITHIN:
        return None
    draft = _TYPED[step["want"]](turn, dict(step["draft"]), text)
    return None if draft is None else [_go_on(turn, draft)]


def _typed_species(turn: Turn, draft: Draft, text: str) -> Draft | None:
    meant = species_meant(text, turn.shelf.specimens)
    if len(meant) > 1:
        return {**draft, "may_be": meant}
    if meant or is_scientific(text):
        return {**draft, "species": meant[0] if meant else text, "may_be": None}
    return {**draft, "species": ""} if is_nobody(text) else None


def _typed_tag(_turn: Turn, draft: Draft, text: str) -> Draft | None:
    return {**draft, "tag": text} if is_tag(text) else None


def _typed_name(turn: Turn, draft: Draft, text: str) -> Draft | None:
    if is_nobody(text):
        return {**draft, "name": None}
    if _tells_something(turn) or sounds_like_instruction(text):
        return None
    if _LOOKS_LIKE_TAG.fullmatch(text):
        return {**draft, "tag": text}
    short = len(text) <= _LONGEST_NAME and len(text.split()) <= _MOST_WORDS
    fits = short and text.isprintable() and _NO_NAME.isdisjoint(text)
    known = any(_same(animal.tag, text) for animal in turn.shelf.specimens)
    return {**draft, "name": text} if fits and not known else None


def _typed_place(turn: Turn, draft: Draft, text: str) -> Draft | None:
    fits = len(text) <= _LONGEST_NAME and not _tells_something(turn)
    return {**draft, "place": text} if fits else None


def _tells_something(turn: Turn) -> bool:
    """Whether the words are the half of an entry, such as a meal of one unknown, rather than a name."""
    doubt = turn.reading.ask
    return doubt is not None and doubt.draft is not None and bool(doubt.draft.entries)


_TYPED: Final = {"species": _typed_species, "tag": _typed_tag, "name": _typed_name, "place": _typed_place}
