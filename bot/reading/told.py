"""What a message tells: its sentences as an account, with notes, and unknown names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise
from typing import Final

from bot.reading.account import Account, account_of
from bot.reading.clauses import COMMA, SENTENCE, START, clauses_of
from bot.reading.denials import denied_in
from bot.reading.drafts import Draft
from bot.reading.frames import Frame
from bot.reading.items import Item, Ref
from bot.reading.listed_strangers import listed_strangers
from bot.reading.meaning import doubtful
from bot.reading.model import About, Ask, Reading, ReadingKind
from bot.reading.names import EXACT
from bot.reading.note_heads import note_in
from bot.reading.parse import Message
from bot.reading.persons import giver_until, person_until
from bot.reading.settle import settled
from bot.reading.taken_apart import frame_of
from bot.reading.weave import woven
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
        _people(message, frame)
        frame.to_words = frame.to_words or (buyer if _the_same_person(frame) else "")
        buyer = frame.to_words or buyer
        _somebody_elses(frame)
        _unknown_names(frame)
        _unknown_tags(message, frame)
    _heads_of_strangers(frames)
    listed_strangers(frames)
    _heads_of_doubt(frames)
    laid = woven(frames, message.talked_of)
    for frame in laid:
        seen = not frame.verbs and ("seen" in frame.flags or _signs(message, _tokens_of(frame)))
        frame.signs = bool(frame.refs) and seen
        frame.flags |= {"name or word"} if _opens_with_a_word(message, frame) else set()
    account = account_of(laid, message.names, message.today)
    drafts = account.drafts
    _species_beside(drafts, frames)
    if all(_only_well(d, account) for d in drafts):
        drafts = _notes(message, account) or drafts
    elif not any(draft.doubts for draft in drafts):
        drafts = [*drafts, *_notes_beside(message, account, drafts)]
    if not drafts:
        return replace(_nothing(message, account), denies=denied_in(message, frames))
    for draft in drafts:
        draft.doubts += doubtful(draft, message.names, message.today)
    return settled(message.text, drafts)


def _species_beside(drafts: Sequence[Draft], frames: Sequence[Frame]) -> None:
    """ "bought a sling, P. vittata, from the expo": a newcomer's species in words of their own."""
    newcomers = [draft for draft in drafts if draft.kind is Kind.ACQUIRED]
    beside = [frame for frame in frames if not frame.verbs]
    named = {taxon for frame in beside for taxon in frame.taxa if taxon}
    named |= {ref.species for frame in beside for ref in frame.refs if ref.species and ref.how not in EXACT}
    if len(newcomers) == 1 and "species" not in newcomers[0].fields and len(named) == 1:
        newcomers[0].fields["species"] = named.pop()


def _only_well(draft: Draft, account: Account) -> bool:
    """ "jumped out, caught her, all good": what was seen is the matter, not that she is well."""
    return draft.kind is Kind.CHECKED and not draft.doubts and bool(account.unknown)


def _adjoining(parts: Sequence[range]) -> bool:
    return all(a.stop == b.start for a, b in pairwise(parts))


def _notes(message: Message, account: Account) -> list[Draft]:
    """What was seen at an animal and fits no kind, in the keeper's words."""
    seen = any("seen" in frame.flags for frame in account.unknown)
    seen = seen or (bool(account.unknown) and _signs(message, range(len(message.tokens))))
    for frame in account.unknown:
        refs = [r for r in frame.refs if r.sure and r.how != "talked" and len(r.tags) == 1]
        if not refs or not seen:
            continue
        tags = message.names.in_order(t for r in refs for t in r.tags)
        draft = Draft(Kind.NOTE, tags, message.today, fields={"note": note_in(message, refs)})
        if frame.days and frame.days[0].day is not None and not frame.days[0].doubt:
            draft.day = _past(frame.days[0].day, message.today)
        return [draft]
    return []


def _notes_beside(message: Message, account: Account, drafts: Sequence[Draft]) -> list[Draft]:
    """ "Pebble ate, Rust is limping": what was seen at another animal than the one that the rest is about."""
    told_of = {tag for draft in drafts for tag in draft.tags}
    out = []
    for frame in account.unknown:
        refs = [r for r in frame.refs if r.sure and r.how != "talked" and len(r.tags) == 1]
        items = frame.clause.items
        if len(refs) != 1 or told_of == set(refs[0].tags) or frame.days or not frame.signs:
            continue
        start, end = message.tokens[items[0].i].start, message.tokens[items[-1].j - 1].end
        said = message.source.plain[start:end].strip(" ,.;")
        out.append(Draft(Kind.NOTE, refs[0].tags, message.today, fields={"note": said}))
    return out


def _signs(message: Message, tokens: Iterable[int]) -> bool:
    """Whether a word for what is seen of an animal begins at one of the tokens."""
    return any(message.lexicon.signs.find(message.tokens, message.keys, at) for at in tokens)


def _opens_with_a_word(message: Message, frame: Frame) -> bool:
    """ "will have a look in the morning", where a Will lives: a small word that is somebody's name, too."""
    first = frame.clause.items[0]
    senses = message.senses(first.i) if first.cat == "S" and not first.upper else ()
    return any(sense.cat in {"future", "hedge"} for sense in senses)


def _tokens_of(frame: Frame) -> Iterator[int]:
    return (at for item in frame.clause.items for at in range(item.i, item.j))


def _past(day: date, today: date) -> date:
    return min(day, today)


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


def _people(message: Message, frame: Frame) -> None:
    """The words after "to", "with" and "from" that name a person or a shop."""
    items = frame.clause.items
    _giver(message, frame)
    if all(i.cat == "U" or "market" in i.senses for i in items) and items[0].cat == "U" and len(items) > 1:
        frame.from_words = _words_after(message, items, 0) if "market" in items[-1].senses else ""
    for place, item in enumerate(items):
        if item.text == "paid" and place + 2 < len(items) and items[place + 2].cat == "A":
            frame.from_words = frame.from_words or _somebody(message, items[place + 1])
        if item.text in _GAVE and place + 2 < len(items) and _own_animal(items[place + 2]):
            frame.to_words = frame.to_words or _somebody(message, items[place + 1])
        if _LEADS.isdisjoint(item.senses):
            continue
        goes_to = "verb" in item.senses and _leads_to(item)
        for cat in ("to", "from", "with"):
            if cat in item.senses or goes_to == cat or (cat == "from" and _at_a_market(items, place)):
                words = _words_after(message, items, place + 1, of_a_shop=cat == "from")
                if words and cat == "from":
                    frame.from_words = frame.from_words or words
                elif words:
                    frame.to_words = frame.to_words or words


def _somebody(message: Message, item: Item) -> str:
    """ "paid Aoife 35 euros", "gave Marta B4": a word in capitals that nothing else explains."""
    return message.words(item.i, item.j) if item.cat == "U" and item.upper else ""


def _own_animal(item: Item) -> bool:
    return item.cat == "S" and item.val.sure and item.val.how in EXACT and not item.owns


#: Verbs behind which whoever gets an animal stands before it.
_GAVE: Final = frozenset({"gave", "sold", "sent", "handed", "lent", "loaned"})


def _the_same_person(frame: Frame) -> bool:
    """ "sold B1 to Conor and swapped B2 with him": whom a pronoun stands for behind a "with" or "to"."""
    leaves = any(verb.group.kind is Kind.LEFT for _, item in frame.verbs for verb in item.senses.verbs)
    pairs = pairwise(frame.clause.items)
    return leaves and any(
        not {"to", "with"}.isdisjoint(lead.senses) and "pron" in whom.senses for lead, whom in pairs
    )


def _somebody_elses(frame: Frame) -> None:
    """ "Marta's rosie molted": an animal of that sort, but not of this shelf."""
    items = frame.clause.items
    for owner, animal in pairwise(items) if frame.unknown and frame.refs else ():
        theirs = owner.cat == "U" and owner.owns and animal.cat == "S"
        if theirs and animal.val.how not in EXACT and animal.val.how != "place":
            frame.flags.add("stranger")


def _giver(message: Message, frame: Frame) -> None:
    """Who stands before "sold me a sling", and before "took Ink for 25 euro"."""
    items = frame.clause.items
    at = next((n for n, i in enumerate(items) if "verb" in i.senses), 0)
    person = giver_until(items, at) if items[at].text.split()[-1] in _TO_ME else 0
    if person:
        frame.from_words = frame.from_words or message.words(items[0].i, items[person - 1].j)
        return
    if (
        not at
        or items[0].cat != "U"
        or any(i.cat != "U" for i in items[:at])
        or (frame.refs and frame.before)
    ):
        return
    words, verb = message.words(items[0].i, items[at - 1].j), items[at]
    if verb.text.split()[-1] in _TO_ME:
        frame.from_words = frame.from_words or words
    elif _goes_to_them(frame, verb):
        frame.to_words = words
        frame.flags.add("goes to them")


def _leads_to(item: Item) -> str:
    """ "has gone to", "home from", "bought by": how a verb's own last word leads to a person, if it does."""
    last = item.text.rpartition(" ")[2]
    if last not in _LAST_WORDS:
        return ""
    kinds = {s.group.kind for s in item.senses.values()}
    if last == "from":
        return "from" if Kind.ACQUIRED in kinds else ""
    return "to" if Kind.LEFT in kinds else ""


#: Senses of the words that may stand before a person or a place.
_LEADS: Final = frozenset({"to", "from", "with", "on", "verb"})
_LAST_WORDS: Final = frozenset({"to", "with", "by", "from"})
_TO_ME: Final = frozenset({"me", "us"})


def _goes_to_them(frame: Frame, verb: Item) -> bool:
    """ "Priya bought Dot", "Priya took Dot for 25 euro": an animal of the shelf that somebody else takes."""
    whole = not any(i.cat == "S" and i.owns for i in frame.clause.items)  # not "picked up Ink's tub"
    own = whole and bool(frame.refs) and all(r.how in EXACT and r.sure for r in frame.refs)
    buys = any(s.group.act == "buy" for s in verb.senses.values())
    takes = any(s.group.act == "take" for s in verb.senses.values())
    paid = any(a.dimension == "money" for _, a in frame.amounts)
    return own and not frame.meals and (buys or (takes and paid))


def _at_a_market(items: Sequence[Item], place: int) -> bool:
    """ "at the Dublin show", "by Tom": where or by whom it was got."""
    if "on" not in items[place].senses:
        return False
    if items[place].text == "by":
        return place + 1 < len(items) and items[place + 1].cat == "U"
    return items[place].text in {"at", "in", "in the"} and any(
        "market" in i.senses for i in items[place + 1 : place + 5]
    )


def _words_after(message: Message, items: Sequence[Item], place: int, *, of_a_shop: bool = False) -> str:
    person = person_until(items, place)
    if person > place:
        return message.words(items[place].i, items[person - 1].j)
    taken: list[Item] = []
    while place < len(items) and (
        items[place].cat == "U" or (items[place].cat == "W" and not _stops(items[place]))
    ):
        if taken and (items[place].text in _BUYERS or (of_a_shop and "with" in items[place].senses)):
            break  # "at the fair of Hamm I bought one", "home from the show with a sling"
        taken.append(items[place])
        place += 1
    if not any(i.cat == "U" or "market" in i.senses for i in taken):
        return ""
    return message.words(taken[0].i, taken[-1].j)


_BUYERS: Final = frozenset({"i", "we", "ive", "i've", "weve", "we've"})


def _stops(item: Item) -> bool:
    return any(c in item.senses for c in ("to", "from", "and", "on", "verb"))


def _unknown_names(frame: Frame) -> None:
    """An unknown word where an animal's name has to stand becomes a name that nobody bears."""
    if frame.refs or not frame.unknown:
        return
    items = frame.clause.items
    people = f"{frame.to_words} {frame.from_words}".casefold().split()
    for place, item in frame.unknown:
        if item.text in people:
            continue
        prev = next((i for i in reversed(items[:place]) if i.text not in _SET_APART), None)
        verb_before = prev is not None and "verb" in prev.senses and prev.senses["verb"].group.keeper
        opens = all("the" in before.senses or "fill" in before.senses for before in items[:place])
        if verb_before or (opens and _acts_next(items, place)):
            frame.refs.append(Ref((), sure=False, words=item.text, doubt="unknown_name"))
            frame.ref_at.append(place)
            return


def _heads_of_strangers(frames: Sequence[Frame]) -> None:
    """ "Zork: refused": an unknown word alone before what an animal did is a name that nobody bears."""
    for head, told_of in pairwise(frames):
        alone = head.clause.titled and [item.cat for item in head.clause.items] == ["U"]
        acts = (verb.group for _, item in told_of.verbs for verb in item.senses.verbs)
        if alone and not told_of.refs and any(not (g.keeper or g.noun or g.base) for g in acts):
            head.refs.append(Ref((), sure=False, words=head.clause.items[0].text, doubt="unknown_name"))
            head.ref_at.append(0)


def _heads_of_doubt(frames: Sequence[Frame]) -> None:
    """ "if I remember right, Ink ate on Monday": a clause that only doubts, and is of the one behind it."""
    for head, told_of in pairwise(frames):
        opens = head.clause.sep in {START, SENTENCE} and told_of.clause.sep == COMMA
        if opens and head.idle and all({"hedge", "self"} & i.senses.keys() for i in head.clause.items):
            told_of.flags |= head.flags & {"hedge"}


#: Words between a verb and whom it is done to: "fed only B".
_SET_APART: Final = frozenset({"only", "just", "also"})
_LONGEST_LETTERS: Final = 2


def _unknown_tags(message: Message, frame: Frame) -> None:
    """ "fed T14": letters with figures glued on are a tag, and here one that nobody bears."""
    if frame.refs or not frame.verbs:
        return
    items = frame.clause.items
    for place, (letters, figures) in enumerate(pairwise(items)):
        glued = letters.j == figures.i and message.tokens[figures.i].gap == ""
        short = letters.text.isalpha() and len(letters.text) <= _LONGEST_LETTERS
        if glued and short and letters.cat in "WU" and figures.text.isdigit():
            words = message.words(letters.i, figures.j)
            frame.refs.append(Ref((), sure=False, words=words, doubt="unknown_name"))
            frame.ref_at.append(place)
            return


#: What may stand between who did it and what they did: "Twig has finally died".
_BETWEEN: Final = frozenset({"did", "neg", "fill", "still", "hedge"})


def _acts_next(items: Sequence[Item], place: int) -> bool:
    """Whether a verb follows a word, at most behind the small words that belong to it."""
    for at, item in enumerate(items[place + 1 :]):
        if "verb" in item.senses:
            return True
        if not at and "noun" in item.senses and place and "the" in items[place - 1].senses:
            continue  # "the fire leg had one too"
        if item.cat == "M" or _BETWEEN.isdisjoint(item.senses):
            return False
    return False
