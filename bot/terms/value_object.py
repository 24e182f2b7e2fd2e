"""Value objects of which a shelf makes thousands: entries, animals, lines of a round."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar, dataclass_transform

_Class = TypeVar("_Class")


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def value_object(*, slots: bool = True, kw_only: bool = False) -> Callable[[type[_Class]], type[_Class]]:
    """A dataclass that is never changed once it is made, which the type checker holds, not each instance.

    A frozen dataclass goes round its own guard for every field, and takes four times as long to make. It is
    compared and hashed as a frozen one is.
    """
    return dataclass(slots=slots, kw_only=kw_only, unsafe_hash=True)
