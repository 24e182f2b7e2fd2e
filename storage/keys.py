"""Keys by which names and tags are found, however they are written."""

from __future__ import annotations

import unicodedata


def key_of(words: str) -> str:
    """The key of a name or tag: Unicode-normalised, case-folded, runs of spaces made one.

    ``Ångström``, ``ångström`` and ``A\u030angström`` have one key, on every database alike, since the
    folding is done here and not by the database's own idea of lower case.
    """
    folded = unicodedata.normalize("NFKC", words).casefold()
    return " ".join(unicodedata.normalize("NFC", folded).split())
