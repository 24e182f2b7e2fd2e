"""An attribute worked out when it is first asked for and kept with its object."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, TypeVar, overload

_Value = TypeVar("_Value")


class kept(Generic[_Value]):  # noqa: N801  # used as a decorator, and read as one
    """``functools.cached_property`` without its lock.

    Until Python 3.12 that one takes a lock on each first use, which for the thousands of small objects
    of a round costs more than what is worked out. Two threads that ask one object at the same instant
    both work it out, to the same value.
    """

    def __init__(self, work_out: Callable[[Any], _Value]) -> None:
        self._work_out = work_out
        self.__doc__ = work_out.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        self._name = name

    @overload
    def __get__(self, instance: None, owner: type) -> kept[_Value]: ...

    @overload
    def __get__(self, instance: object, owner: type) -> _Value: ...

    def __get__(self, instance: object | None, owner: type) -> kept[_Value] | _Value:
        if instance is None:
            return self
        value = instance.__dict__[self._name] = self._work_out(instance)
        return value
