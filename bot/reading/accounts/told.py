"""What a message tells: its sentences as an account, with notes, and unknown names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from bot.reading.accounts.account import account_of
from bot.reading.accounts.denials import denied_in
from bot.reading.accounts.listed_strangers import listed_strangers
from bot.reading.accounts.notes_told import notes_beside, notes_of_what_was_seen, shows_signs
from bot.reading.accounts.people_told import people, somebody_elses
from bot.reading.accounts.settle import settled
from bot.reading.accounts.strangers import lost_strangers, names_of_strangers
from bot.reading.accounts.unknown_names import heads_of_strangers, unknown_names, unknown_tags
from bot.reading.clauses.clause_model import COMMA, SENTENCE, START
from bot.reading.clauses.clauses import clauses_of
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.taken_apart import frame_of
from bot.reading.doubts.account_model import Account
from bot.reading.doubts.days_doubted import mark_while_away
from bot.reading.doubts.meaning import doubtful
from bot.reading.kinds.drafts import Draft
from bot.reading.kinds.without_verb import take_for_newcomers
from bot.reading.message.parse import Message
from bot.reading.model import About, Ask, Reading, ReadingKind
from bot.reading.woven.weave import woven
from bot.terms import Kind

UNCLEAR: Final = Reading(reading=ReadingKind.UNCLEAR)


def told(message: Message, sentences: Sequence[range]) -> Reading:
    """The reading of the sentences that tell what happened."""
    parts = [range(sentences[0].start, sentences[-1].stop)] if _adjoining(sentences) else list(sentences)
    frames = [frame_of(c) for c in clauses_of(message.items(parts))]
    if not frames:
        return UNCLEAR
    buyer = ""
    for frame in frames:
        people(message, frame)
        frame.to_words = frame.to_words or (buyer if _the_same_person(frame) else "")
        buyer = frame.to_words or buyer
        take_for_newcomers(frame)
        somebody_elses(frame)
        unknown_names(frame)
        unknown_tags(message, frame)
    mark_while_away(frames)
    heads_of_strangers(frames)
    listed_strangers(frames)
    _heads_of_doubt(frames)
    strangers = names_of_strangers(frames)
    laid = woven(frames, message.talked_of)
    for frame in laid:
        seen = not frame.verbs and ("seen" in frame.flags or shows_signs(message, _tokens_of(frame)))
        frame.signs = bool(frame.refs) and seen
        frame.flags |= {"name or word"} if _opens_with_a_word(message, frame) else set()
    account = account_of(laid, message.names, message.today)
    drafts = account.drafts
    _species_beside(drafts, frames)
    account.unknown += [f for f in laid if _seen_and_well(f) and f not in account.unknown]
    if all(_only_well(d, account) for d in drafts):
        drafts = notes_of_what_was_seen(message, account) or drafts
    elif not any(draft.doubts for draft in drafts):
        drafts = [*drafts, *notes_beside(message, account, drafts)]
    if not drafts:
        return replace(_nothing(message, account), denies=denied_in(message, frames))
    for draft in drafts:
        draft.doubts += doubtful(draft, message.names, message.today)
    return settled(message.text, [*drafts, *lost_strangers(drafts, strangers, message.today)])


def _species_beside(drafts: Sequence[Draft], frames: Sequence[Frame]) -> None:
    """ "bought a sling, P. vittata, from the expo": a newcomer's species in words of their own."""
    newcomers = [draft for draft in drafts if draft.kind is Kind.ACQUIRED]
    beside = [frame for frame in frames if not frame.verbs]
    named = {taxon for frame in beside for taxon in frame.taxa if taxon}
    named |= {species for frame in beside for ref in frame.refs if (species := ref.called_by_species)}
    if len(newcomers) == 1 and "species" not in newcomers[0].fields and len(named) == 1:
        newcomers[0].fields["species"] = named.pop()


def _seen_and_well(frame: Frame) -> bool:
    """ "legged it up my arm, all good": what was seen, and only that she is well beside it."""
    groups = [verb.group for _, item in frame.verbs for verb in item.senses.verbs]
    return "seen" in frame.flags and bool(groups) and all(group.act == "well" for group in groups)


def _only_well(draft: Draft, account: Account) -> bool:
    """ "jumped out, caught her, all good": what was seen is the matter, not that she is well."""
    return draft.kind is Kind.CHECKED and not draft.doubts and bool(account.unknown)


def _adjoining(parts: Sequence[range]) -> bool:
    return all(a.stop == b.start for a, b in pairwise(parts))


def _opens_with_a_word(message: Message, frame: Frame) -> bool:
    """ "will have a look in the morning", where a Will lives: a small word that is somebody's name, too."""
    first = frame.clause.items[0]
    senses = message.senses(first.i) if first.cat == "S" and not first.upper else ()
    return any(sense.cat in {"future", "hedge"} for sense in senses)


def _tokens_of(frame: Frame) -> Iterator[int]:
    return (at for item in frame.clause.items for at in range(item.i, item.j))


def _nothing(message: Message, account: Account) -> Reading:
    named = [f for f in account.unknown if f.refs and any(r.how != "talked" for r in f.refs)]
    if named and not account.nothing and not _greets(message):
        return Reading(
            reading=ReadingKind.ASK,
            ask=Ask(about=About.KIND, doubt="no_kind", words=message.source.plain.strip()),
        )
    return UNCLEAR


def _greets(message: Message) -> bool:
    """ "good night, little ones": a greeting, and whom it is for."""
    spoken = {
        t
        for at in message.cues_in("chat", range(len(message.tokens)))
        for t in range(at, message.cues[at][0])
    }
    items = message.items([range(len(message.tokens))])
    rest = [i for i in items if i.i not in spoken and i.cat not in "SM" and "fill" not in i.senses]
    return bool(spoken) and not rest


# -- people and places that are not of the shelf --------------------------------------------------


def _the_same_person(frame: Frame) -> bool:
    """ "sold B1 to Conor and swapped B2 with him": whom a pronoun stands for behind a "with" or "to"."""
    leaves = any(verb.group.kind is Kind.LEFT for _, item in frame.verbs for verb in item.senses.verbs)
    pairs = pairwise(frame.clause.items)
    return leaves and any(
        not {"to", "with"}.isdisjoint(lead.senses) and "pron" in whom.senses for lead, whom in pairs
    )


def _heads_of_doubt(frames: Sequence[Frame]) -> None:
    """ "if I remember right, Ink ate on Monday": a clause that only doubts, and is of the one behind it."""
    for head, told_of in pairwise(frames):
        opens = head.clause.sep in {START, SENTENCE} and told_of.clause.sep == COMMA
        if opens and head.idle and all({"hedge", "self"} & i.senses.keys() for i in head.clause.items):
            told_of.flags |= head.flags & {"hedge"}
