"""In which language it is spoken now, for every room that words something.

Set by whoever knows whom the words are for: the conversation by its keeper, a picture or page by the
settings that it gets. A thread begins with the first language, so that what is drawn hangs on those alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from typing import Final

from bot.terms.data_file import sentences_of

#: The languages that the texts are written in; a keeper of another one reads the first.
LANGUAGES: Final = ("en", "de", "es")
_SPOKEN: Final[ContextVar[str]] = ContextVar("spoken", default=LANGUAGES[0])


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Within it, every sentence is of this language."""
    token = _SPOKEN.set(language if language in LANGUAGES else LANGUAGES[0])
    try:
        yield
    finally:
        _SPOKEN.reset(token)


def spoken() -> str:
    """The language that is spoken now."""
    return _SPOKEN.get()


@cache
def sentences_in(package: str, language: str) -> Mapping[str, str | tuple[str, ...]]:
    """All texts of a package in a language by dotted key; what it lacks is of the first language."""
    first = {} if language == LANGUAGES[0] else sentences_in(package, LANGUAGES[0])
    return {**first, **sentences_of(package, f"{language}.yaml")}
