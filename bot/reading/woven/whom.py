"""Whom an entry is about: animals, places and pairs of a clause put into its draft, with what is in doubt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import describes_one
from bot.reading.items.item import Item, Ref
from bot.reading.kinds.drafts import Doubt, Draft, of_another_kind
from bot.reading.model import About
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_meanings
from bot.reading.woven.places_fed import of_all_or_some_alone
from bot.terms import Kind, Sex

#: Kinds that are of no animal on the shelf yet, or of none at all.
OF_NOBODY: Final = frozenset({Kind.ACQUIRED, Kind.STOCKED})


def animals(draft: Draft, kind: Kind, frame: Frame, names: ShelfNames) -> None:
    """Puts the animals of a clause into its draft, with the doubts about who they are."""
    if kind in OF_NOBODY:
        return
    refs = list(frame.subjects if frame.subjects is not None else frame.refs)
    if kind is Kind.CLIMATE:
        _climate_place(draft, refs, frame, names)
        return
    if kind is Kind.PAIRED:
        _pair(draft, refs, names)
        if "put together" in frame.flags:
            _of_both_sexes(draft, names)
        return
    refs = _of_her_sex(_of_places(refs, names), frame, names)
    whole = of_all_or_some_alone(refs) if refs else False
    if whole or _place_and_others(refs, frame) or "place and one" in frame.flags:
        draft.doubts.append(Doubt(About.SPECIMEN, "some_of_several", refs[0].words))
    refs = [
        r for r in refs if r.how != "place" or not r.sure or len(refs) == 1 or not _only_where(r, refs, frame)
    ]
    excepted = {t for r in frame.excepted if r.sure for t in r.tags}
    for ref in frame.excepted:
        if not ref.sure:
            draft.doubts.append(_which(ref, names))
    sure = [t for r in refs if r.sure for t in r.tags]
    draft.tags = tuple(t for t in names.in_order(sure) if t not in excepted)
    draft.of_group = len(draft.tags) > 1 or any(r.plural for r in refs if r.sure)
    unsure = [r for r in refs if not r.sure]
    if ("which" in frame.flags or _one_or_the_other(frame)) and len(draft.tags) > 1:
        choices = draft.tags
        draft.tags = ()
        draft.doubts.append(Doubt(About.SPECIMEN, "either", choices=[(t, {"tags": (t,)}) for t in choices]))
        return
    for ref in unsure:
        draft.doubts.append(_which(ref, names, draft.tags))
    if not draft.tags and not unsure:
        draft.doubts.append(Doubt(About.SPECIMEN, "nobody_named"))


def _one_or_the_other(frame: Frame) -> bool:
    """ "Ink or Mole ate a roach": one of them; "Ink ate a roach or a locust" is said of her alone."""
    if "or" not in frame.flags:
        return False
    items = frame.clause.items
    named = [at for at, item in enumerate(items) if "or" in item.senses and _animal_next(items, at)]
    return bool(named) or not frame.meals


def _animal_next(items: Sequence[Item], at: int) -> bool:
    """Whether the next word is an animal's, articles passed over."""
    behind = next((i for i in items[at + 1 :] if "the" not in i.senses), None)
    return behind is not None and (behind.cat == "S" or "pron" in behind.senses)


def _place_and_others(refs: Sequence[Ref], frame: Frame) -> bool:
    """ "shelf D, Ink, a roach each", where Ink lives elsewhere: those of the place as well, or a slip?"""
    if "and a place" in frame.flags:
        return False  # "watered D and the commune"
    if len(refs) < _TWO or refs[0].how != "place" or any(r.how == "place" for r in refs[1:]):
        return False
    return set(refs[0].tags).isdisjoint({t for r in refs[1:] for t in r.tags})


def _only_where(place: Ref, refs: Sequence[Ref], frame: Frame) -> bool:
    """ "fed Ink on shelf A": where she lives; "watered Ink and everything on B" is all of those as well."""
    others = [ref for ref in refs if ref.how != "place"]
    if not others:
        return False
    elsewhere = all(set(place.tags).isdisjoint(ref.tags) for ref in others)
    if elsewhere and sum(ref.how == "place" for ref in refs) > 1:
        return False  # "fed A, B and Mole", who lives on neither
    items = frame.clause.items
    named = next((at for at, item in enumerate(items) if item.cat == "S" and item.val is place), None)
    located = bool(named) and "on" in items[(named or 0) - 1].senses
    joined = named is not None or "and a place" in frame.flags  # "watered Ink, shelf B" is where she lives
    opens = refs[0].how == "place" and not ("and a place" in frame.flags and elsewhere)  # "D and the commune"
    return opens or located or not (elsewhere and joined)


_TWO: Final = 2


def _of_places(refs: list[Ref], names: ShelfNames) -> list[Ref]:
    """ "all fed on the top board", "watered all, top board": everybody of the places named."""
    if not any(r.how == "place" and r.sure for r in refs):
        return refs
    everybody = len(names.specimens)
    return [r for r in refs if r.how != "group" or not r.sure or len(r.tags) < everybody]


def _of_her_sex(refs: list[Ref], frame: Frame, names: ShelfNames) -> list[Ref]:
    """ "paired Twig with Lantern, fed her a roach": of a male and a female named before, the female."""
    if frame.ref_at:
        return refs
    if describes_one(frame) and sum(len(ref.tags) for ref in refs) > 1:
        return [_one_of(refs)]  # "the Besses ate, the little one a cricket"
    another = _of_the_other_sex(refs, frame, names)
    if another is not None:
        return [another]
    if len(refs) < _TWO:
        return refs
    said = {sense.group.sex for sense in frame.prons if not sense.group.plural}
    said |= {_SHORT[item.text] for item in frame.clause.items if item.text in _SHORT}
    if len(said) != 1 or None in said:
        return refs
    if any(not ref.sure or len(ref.tags) != 1 for ref in refs):
        return refs
    sexes = [names.by_tag[ref.tags[0]].sex.value for ref in refs]
    fitting = [ref for ref, sex in zip(refs, sexes, strict=True) if sex in said]
    told_apart = len(fitting) == 1 and set(sexes) == {Sex.FEMALE.value, Sex.MALE.value}
    return fitting if told_apart else [_one_of(refs)]


def _of_the_other_sex(refs: Sequence[Ref], frame: Frame, names: ShelfNames) -> Ref | None:
    """ "Ink ate, the boy refused": a male, where the one told of is a female.

    The only one of those told of ("floor rack first, the big genic took a roach, the boy didn't"), else it is
    asked which.
    """
    said = {sense.group.sex: sense.words for sense in frame.prons if sense.group.sex and " " in sense.words}
    if not refs or not refs[-1].sure or len(refs[-1].tags) != 1 or len(said) != 1:
        return None
    ((sex, words),) = said.items()
    if names.by_tag[refs[-1].tags[0]].sex.value in {sex, Sex.UNKNOWN.value}:
        return None
    told = tuple(t for ref in refs for t in ref.tags if names.by_tag[t].sex.value == sex)
    if len(set(told)) == 1:
        return Ref(told[:1], how="group", words=words)
    tags = tuple(one.tag for one in names.specimens if one.sex.value == sex)
    return Ref(tags, sure=False, how="group", words=words, doubt="two_fit")


def _one_of(refs: Sequence[Ref]) -> Ref:
    """ "fed Ink and Mole, she refused": one of the two, and it is asked which."""
    tags = tuple(tag for ref in refs for tag in ref.tags)
    return Ref(tags, sure=False, how="group", words=refs[0].words, doubt="some_of_several")


#: Short forms in which the pronoun is no word of its own.
_SHORT: Final = rule_meanings("sex_of_a_short_form")


def _which(ref: Ref, names: ShelfNames, others: tuple[str, ...] = ()) -> Doubt:
    return Doubt(
        About.SPECIMEN, ref.doubt, ref.words, [(t, {"tags": names.in_order((*others, t))}) for t in ref.tags]
    )


def _climate_place(draft: Draft, refs: list[Ref], frame: Frame, names: ShelfNames) -> None:
    places = [r for r in refs if r.how == "place"]
    if places and places[0].place is not None:
        draft.fields["place"] = places[0].place
        return
    if "room" in frame.flags:
        return
    of_hers = "own air" in frame.flags or in_her_home(frame)
    if not (frame.ref_at or of_hers):  # the air of the room is nothing of the animal talked of before
        return
    draft.tags = names.in_order(t for r in refs if r.sure for t in r.tags)
    for ref in refs:
        if not ref.sure:
            draft.doubts.append(_which(ref, names))


def in_her_home(frame: Frame) -> bool:
    """ "bei ihm drin 25 Grad", "in the tub 25 °C": the air of the home of whoever was just told of."""
    hers = any(sense.group.sex or sense.group.plural for sense in frame.prons)
    one = "box" in frame.nouns and len(frame.refs) == 1 and len(frame.refs[0].tags) == 1
    return (hers or one) and "room" not in frame.flags


def other_places(draft: Draft, frame: Frame) -> list[Draft]:
    """ "C and D at 27 / 65%": the same of each further place."""
    if draft.kind is not Kind.CLIMATE or "place" not in draft.fields:
        return []
    places = dict.fromkeys(r.place for r in frame.subjects or frame.refs if r.how == "place" and r.place)
    return [
        replace(draft, fields={**draft.fields, "place": place}, doubts=list(draft.doubts))
        for place in places
        if place != draft.fields["place"]
    ]


def _pair(draft: Draft, refs: list[Ref], names: ShelfNames) -> None:
    for ref in refs:
        if not ref.sure:
            draft.doubts.append(_which(ref, names))
    tags = [t for r in refs if r.sure for t in r.tags]
    if len(refs) == 1:  # "the Besses paired": whichever way the shelf stands
        tags.sort(key=lambda t: (names.by_tag[t].sex is not Sex.FEMALE, t))
    if len(tags) == 2:
        draft.tags = (tags[0],)
        draft.fields["partner"] = tags[1]
    elif not draft.doubts:
        draft.doubts.append(Doubt(About.SPECIMEN, "which_pair"))


def _of_both_sexes(draft: Draft, names: ShelfNames) -> None:
    """ "put Twig in with Lantern": surely a pairing only of a male and a female."""
    partner = draft.fields.get("partner")
    both = {names.by_tag[t].sex for t in (*draft.tags, *((partner,) if partner else ()))}
    if both != {Sex.MALE, Sex.FEMALE}:
        draft.doubts.append(of_another_kind(draft, "paired"))
