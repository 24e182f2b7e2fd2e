"""An article that stands for somebody: "alle außer May, die hat verweigert"; those excepted, told of next."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.lexicon import lexicon
from bot.reading.words.phrasings import words_of_all
from bot.terms.language import LANGUAGES


def meant_by_an_article(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with who is said of those just excepted where an article or a pronoun stands for them."""
    out = list(items)
    for at in range(2, len(items) - 1):
        item, before = items[at], items[at - 2]
        if items[at - 1].text != ",":
            continue
        if before.cat != "X":
            if _stands_alone(item, items[at + 1]) and _one_left_out(items[:at]) and not _of_all(items[at:]):
                out[at] = said_as(item, "itself")
            continue
        if _stands_alone(item, items[at + 1]) or (len(before.val) > 1 and _of_several(item, items[at + 1])):
            out[at] = said_as(item, "who")
    return out


def each_of_those(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "T07 und Captain verpaart, danach hat jeder gefressen": each of those named, not of all."""
    out: list[Item] = []
    everyone = len(names.specimens)
    for item in items:
        if item.cat != "S" or len(item.val.tags) != everyone or item.text not in words_of_all("each_of_them"):
            out.append(item)
            continue
        named = [i for i in out if i.cat == "S"]
        some = any(len(i.val.tags) > 1 for i in named) or len(named) > 1
        of_those = some and all(len(i.val.tags) < everyone for i in named)
        out.append(_each_named(item, out, named) if of_those else item)
    return out


def _each_named(item: Item, said: Sequence[Item], named: Sequence[Item]) -> Item:
    """Who is meant: those named right before; where they were told of apart, it is asked."""
    gap = said[said.index(named[-1]) :]
    if not any(i.cat == "M" for i in gap):
        return said_as(item, "each")
    before = said[said.index(named[-2]) : said.index(named[-1])] if len(named) > 1 else []
    if len(named[-1].val.tags) < 2 and any(i.senses.verbs for i in before):
        tags = dict.fromkeys(t for i in named for t in i.val.tags)
        return Item("S", item.i, item.j, item.text, val=Ref(tuple(tags), sure=False, words=item.text))
    return said_as(item, "they")


def _one_left_out(said: Sequence[Item]) -> bool:
    """ "alle auf A außer May gefüttert, die …": whether one animal is excepted in the clause just said."""
    marks = [n for n, item in enumerate(said[:-1]) if item.cat == "M"]
    clause = said[marks[-1] + 1 if marks else 0 :]
    return sum(len(item.val) for item in clause if item.cat == "X") == 1


def _of_all(items: Sequence[Item]) -> bool:
    end = next((n for n, item in enumerate(items) if item.cat == "M"), len(items))
    return any(not _ALL.isdisjoint(item.senses) for item in items[:end])


def _stands_alone(item: Item, behind: Item) -> bool:
    """ "die hat", "der ist": an article with nothing behind it that it could be the article of."""
    article = item.senses.get("the")
    if article is None or article.group.act != "who" or not _NAMED_WITH_IT.isdisjoint(behind.senses):
        return False
    first = behind.text.split()[0]
    return behind.cat == "D" or (behind.cat == "W" and (first == behind.text or _begins_a_deed(first)))


@cache
def _begins_a_deed(word: str) -> bool:
    """ "hat sich gehäutet", no "wasserschale gefüllt"."""
    accounts = (lexicon(language).account for language in LANGUAGES)
    return any({"did", "on"} & account.meaning(account.senses(word)).keys() for account in accounts)


def _of_several(item: Item, behind: Item) -> bool:
    """ "they are in premolt", "both refused": of the several just excepted, unless it is said of all."""
    said = "pron" in item.senses or ("both" in item.senses and behind.cat != "S")
    return said and _ALL.isdisjoint(behind.senses)


_ALL: Final = frozenset({"all", "everyone"})

_NAMED_WITH_IT: Final = frozenset(
    {"group", "prey", "noun", "trait", "animal", "size", "other", "rest", "ones", "all", "both", "everyone"}
)
