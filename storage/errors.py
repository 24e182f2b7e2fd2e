"""What can go wrong in the store, sorted by what a caller would do next.

    StoreError
        StoreUnavailableError      the file, the disk or the server: tell the person, try again later
        StoreTooNewError           the store was written by a newer version: install that one
        NotOnShelfError            no such tag, change or number on this shelf: ask
        AddressTakenError          another keeper is reached at that address: refuse
        TagTakenError              a living specimen of the shelf has that tag: ask for another
        NotStorableError           a value that the store cannot keep exactly: refuse the message
        StoreNotEmptyError         a restore or a move would write over a store that holds something
        CopyFailedError            a backup, restore or move that did not prove to be whole

Every message is one line for the person at the keyboard; it names no path that they did not give.
"""

from __future__ import annotations


class StoreError(Exception):
    """Anything that the store refuses or cannot do."""


class StoreUnavailableError(StoreError):
    """The store cannot be reached, read or written just now."""


class StoreTooNewError(StoreError):
    """The store's tables are of a later version than this program."""


class NotOnShelfError(StoreError):
    """A tag, change or number that this shelf does not have."""


class AddressTakenError(StoreError):
    """Another keeper is reached at that address already."""


class TagTakenError(StoreError):
    """A living specimen of the shelf has that tag already."""

    def __init__(self, tag: str) -> None:
        super().__init__(f"The tag {tag} is taken by a living specimen of this shelf; choose another.")
        self.tag = tag


class NotStorableError(StoreError):
    """A value outside of what the store can keep exactly."""


class StoreNotEmptyError(StoreError):
    """The store that should be written over holds something."""


class CopyFailedError(StoreError):
    """A copy of the store is not whole."""
