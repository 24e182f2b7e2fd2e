"""What is typed while an animal is being added: an answer to what was asked, a yes, or more of the animal."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Final

from bot.conversation import newcomers
from bot.conversation.guided import added, go_on, previewed, waits
from bot.conversation.model import Reply
from bot.conversation.newcomers import LONGEST_NAME, Draft, drafts_of, placed, same
from bot.conversation.species_words import is_scientific, species_meant
from bot.conversation.turn import Turn
from bot.reading.model import ReadingKind
from bot.reading.names.names_alone import named_in
from bot.reading.short_answers import is_nobody
from bot.reading.wanted.instructions import sounds_like_instruction
from bot.reading.wanted.moves_said import place_typed
from bot.reading.wanted.newcomer import Newcomer, newcomer_from
from bot.reading.wanted.newcomer_words import is_surely_name
from bot.reading.wanted.words import is_tag
from bot.reading.words.lexicon import lexicon
from bot.reading.words.phrasings import bare, folded, word_set

_MOST_WORDS: Final = 4
#: Marks of a sentence, a sum or a question, which no name has.
_NO_NAME: Final = frozenset("?!=:;,")
#: "D9": typed where a name may be, it is meant as the tag.
_LOOKS_LIKE_TAG: Final = re.compile(r"[A-Za-z]{1,3}[0-9]{1,3}")
#: So many words beside the name of an animal on the shelf tell of that one, and are no new name.
_TELLS_OF_ONE: Final = 2


def typed(turn: Turn) -> list[Reply] | None:
    """What was typed while a step waits for words; ``None`` where it is no answer to it."""
    step = turn.dialog.get("step")
    text = turn.incoming.text.strip()
    if not step or step["want"] not in _TYPED or not text or "\n" in text:
        return None
    if not waits(turn, step):
        return None
    waiting = dict(step["draft"])
    if previewed(turn) is not None and _agrees(turn, text, waiting):
        return added(turn, waiting)
    if _is_about_it(turn, text, waiting):
        return None
    single = len(drafts_of(waiting)) == 1
    draft = (single and (_another(turn, waiting, text) or _more_said(turn, waiting, text))) or _TYPED[
        step["want"]
    ](turn, waiting, text)
    return None if draft is None else [go_on(turn, draft)]


def _agrees(turn: Turn, text: str, draft: Draft) -> bool:
    """ "Yes add Mole", "add her": a yes to what was shown, and nothing else."""
    said = folded(bare(text)).replace(",", " ").split()
    name = folded(draft.get("name") or "").split()
    rest = [
        word for word in said if word not in name and word not in word_set("agreeing", turn.settings.language)
    ]
    return bool(said) and not rest and said != name


def _is_about_it(turn: Turn, text: str, draft: Draft) -> bool:
    """ "chart of Ember": the name of the one to be added behind other words, and nothing more of it."""
    name, said = folded(draft.get("name") or "").split(), folded(bare(text)).split()
    at = next((n for n in range(1, len(said)) if name and said[n : n + len(name)] == name), 0)
    return (
        at > 0
        and at + len(name) == len(said)
        and said[at - 1] in word_set("before_one_meant", turn.settings.language)
    )


def _another(turn: Turn, waiting: Draft, text: str) -> Draft | None:
    """A draft of its own where the words tell of another animal in full: another species and another name."""
    newcomer = newcomer_from(text, turn.shelf.names, turn.settings.language)
    said = newcomers.drafted(turn, newcomer)
    in_full = said.get("species") and said.get("name") and waiting.get("species")
    if not in_full or said["species"] == waiting["species"] or newcomer.unread:
        return None
    return {**newcomers.begun(turn, newcomer), "instead_of": waiting.get("name") or waiting["species"]}


def _more_said(turn: Turn, draft: Draft, text: str) -> Draft | None:
    """The draft with more that was said of the animal: "female, 14 cm, since 2019", "call her Ink"."""
    newcomer = newcomer_from(text, turn.shelf.names, turn.settings.language)
    others = [words for words in newcomer.words if words != newcomer.kind]
    if newcomer.unread or not all(
        is_surely_name(words, turn.shelf.names, turn.settings.language) for words in others
    ):
        return None
    if newcomer == Newcomer(words=newcomer.words):
        return None
    said = newcomers.drafted(turn, newcomer)
    return {**draft, **said}


def _typed_species(turn: Turn, draft: Draft, text: str) -> Draft | None:
    meant = species_meant(text, turn.shelf.specimens)
    if len(meant) > 1:
        return {**draft, "may_be": meant}
    if meant or is_scientific(text):
        return {**draft, "species": meant[0] if meant else text, "may_be": None}
    return {**draft, "species": ""} if is_nobody(text, turn.settings.language) else None


def _typed_lot(turn: Turn, draft: Draft, text: str) -> Draft | None:
    said, language = set(folded(text).split()), turn.settings.language
    together, singly = said & word_set("as_one_lot", language), said & word_set("each_by_itself", language)
    if bool(together) != bool(singly):
        return {**draft, "lot": bool(together)}
    return draft if turn.reading.reading is ReadingKind.UNCLEAR else None


def _typed_tag(_turn: Turn, draft: Draft, text: str) -> Draft | None:
    return {**draft, "tag": text} if is_tag(text) else None


def _typed_name(turn: Turn, draft: Draft, text: str) -> Draft | None:
    if is_nobody(text, turn.settings.language):
        return {**draft, "name": None}
    if (
        _tells_something(turn)
        or _tells_of_one_known(turn, text)
        or sounds_like_instruction(text, turn.settings.language)
    ):
        return None
    if _LOOKS_LIKE_TAG.fullmatch(text):
        return {**draft, "tag": text}
    short = len(text) <= LONGEST_NAME and len(text.split()) <= _MOST_WORDS
    fits = short and text.isprintable() and _NO_NAME.isdisjoint(text)
    fits = fits and not text.isdecimal()  # the number of a button
    known = any(same(animal.tag, text) for animal in turn.shelf.specimens)
    return {**draft, "name": text} if fits and not known else None


def _typed_place(turn: Turn, draft: Draft, text: str) -> Draft | None:
    place = place_typed(text, draft.get("name"), turn.settings.language)
    fits = len(place) <= LONGEST_NAME and not (_tells_something(turn) or _tells_of_one_known(turn, text))
    return placed(draft, place) if fits else None


def _tells_of_one_known(turn: Turn, text: str) -> bool:
    """ "Skylark's leg is bent", "feed Skylark": of one that is here, and no name of the one to be added."""
    if not named_in(text, turn.shelf.names):
        return False
    words = lexicon(turn.settings.language).account
    return len(text.split()) > _TELLS_OF_ONE or any(
        sense.cat == "verb" for word in text.split() for sense in words.senses(folded(word))
    )


def _tells_something(turn: Turn) -> bool:
    """Whether the words are the half of an entry, such as a meal of one unknown, rather than a name."""
    doubt = turn.reading.ask
    return doubt is not None and doubt.draft is not None and bool(doubt.draft.entries)


_TYPED: Final[Mapping[str, Callable[[Turn, Draft, str], Draft | None]]] = {
    "species": _typed_species,
    "tag": _typed_tag,
    "name": _typed_name,
    "place": _typed_place,
    "lot": _typed_lot,
    "more": lambda _turn, _draft, _text: None,
}
