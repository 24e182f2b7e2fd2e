"""How a rule of days is said, as a tree, and the two words it can begin with.

``[a|b]`` may be missing, ``(a|b)`` is one of them, ``{slot}`` any word of a list. What a rule begins with
is worked out over whole lists at once: each list stands in as one made-up word until the end.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product
from typing import Final

from bot.reading.words.normalise import without_accents

_PARTS: Final = re.compile(r"\{(\w+)\}|([\[(|\])])|([^\[\](){}|]+)")
_WORD: Final = re.compile(r"\w+")
_SOME_WORDS: Final = re.compile(r"(\w+)\W+(\w+).*")
#: Two whole words: what follows them is of no matter to how a rule is filed.
_CLOSED: Final = re.compile(r"\W*\w+\W+\w+\W")
#: A letter that no rule is said with; a list's stand-in is its name between two of them.
_MARK: Final = "\u01c0"
_STAND_IN: Final = re.compile(rf"{_MARK}(\w+?){_MARK}")
_FIGURE: Final = "0"

#: The key of a word that is a figure, and of one that only begins with it ("3rd").
FIGURE: Final = "#"
FIGURE_GLUED: Final = "#+"


@dataclass(frozen=True, slots=True)
class Node:
    """A piece of a rule: ``text``, ``slot``, or ``optional`` and ``either`` with their branches."""

    kind: str
    text: str = ""
    branches: tuple[tuple[Node, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Opening:
    """Keys of the words a rule can begin with, and of those that come second: ``None`` for any or none."""

    firsts: frozenset[str]
    seconds: frozenset[str] | None


def parsed(say: str) -> tuple[Node, ...]:
    """The tree of a rule's words. Brackets must match; a file that has them wrong is refused."""
    stack: list[tuple[str, list[list[Node]]]] = [("", [[]])]
    for slot, mark, text in _PARTS.findall(say):
        here = stack[-1][1]
        if slot:
            here[-1].append(Node("slot", slot))
        elif text:
            here[-1].append(Node("text", text))
        elif mark in "[(":
            stack.append(("optional" if mark == "[" else "either", [[]]))
        elif mark == "|":
            here.append([])
        else:
            kind, branches = stack.pop()
            stack[-1][1][-1].append(Node(kind, branches=tuple(map(tuple, branches))))
    if len(stack) != 1:
        raise ValueError(f"brackets of {say!r} do not match")
    return tuple(stack[0][1][0])


def first_key(word: str) -> str:
    """What a word is filed under where it comes first."""
    if not word[0].isdigit():
        return word
    return FIGURE if word.isdigit() else FIGURE_GLUED


def second_key(word: str) -> str:
    """What a word is filed under where it comes second: there a figure may have letters glued on."""
    return FIGURE if word[0].isdigit() else without_accents(word)


class Slot:
    """The words of one list, by how they begin: those of one word, those of two, those of more, the odd."""

    def __init__(self, name: str, words: Iterable[str], *, figures: bool) -> None:
        """``words`` in lower case; ``figures`` where figures fill the slot too."""
        self.words: dict[str, set[str]] = {}
        self.heads: set[str] = {_FIGURE} if figures else set()
        for word in words:
            some = _SOME_WORDS.fullmatch(word)
            if _WORD.fullmatch(word):
                self.heads.add(self._stands("only", name, word))
            elif some:
                first, second = some.groups()
                ends = "" if some.end(2) == len(word) else " "
                self.heads.add(
                    f"{self._stands('first', name, first)} {self._stands('second', name, second)}{ends}"
                )
            else:
                self.heads.add(word)

    def _stands(self, place: str, name: str, word: str) -> str:
        self.words.setdefault(f"{name}_{place}", set()).add(word)
        return f"{_MARK}{name}_{place}{_MARK}"


def openings(nodes: Sequence[Node], slot: Callable[[str], Slot]) -> list[Opening]:
    """What a rule can begin with, never less than its pattern matches. ``slot`` gives a slot's words."""
    known: dict[str, set[str]] = {}
    out = []
    for head in _grown(nodes, {""}, slot, known):
        words = _WORD.findall(head)
        if words:
            firsts = frozenset(map(first_key, _said(words[0], known)))
            seconds = _kept(frozenset(map(second_key, _said(words[1], known)))) if len(words) > 1 else None
            out.append(Opening(firsts, seconds))
    return out


@cache
def _kept(words: frozenset[str]) -> frozenset[str]:
    """One set for all rules with the same words, since they are kept."""
    return words


def _grown(
    nodes: Sequence[Node], heads: set[str], slot: Callable[[str], Slot], known: dict[str, set[str]]
) -> set[str]:
    """The beginnings of a text, longer by what these nodes can say, up to two words."""
    for node in nodes:
        whole = {head for head in heads if _CLOSED.match(head)}
        open_ = heads - whole
        if not open_:
            return whole
        if node.kind == "text":
            more = {head + node.text.lower() for head in open_}
        elif node.kind == "slot":
            filled = slot(node.text)
            known.update(filled.words)
            more = {head + word for head in open_ for word in filled.heads}
        else:
            more = set().union(*(_grown(branch, open_, slot, known) for branch in node.branches))
            more |= open_ if node.kind == "optional" else set()
        heads = whole | more
    return heads


def _said(word: str, known: dict[str, set[str]]) -> Iterator[str]:
    """A word with each word of the lists that stand in it."""
    pieces = _STAND_IN.split(word)
    choices = [known[piece] if n % 2 else {piece} for n, piece in enumerate(pieces)]
    return map("".join, product(*choices))
