"""Data files that come with the program: YAML, read once by the fastest reader there is."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files
from typing import Any, Final

import yaml

_LOADER: Final = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def data_of(package: str, *path: str) -> Any:
    """What a YAML file of a package holds. Raises ``yaml.YAMLError`` for a broken one."""
    return yaml.load(files(package).joinpath(*path).read_text(encoding="utf-8"), Loader=_LOADER)


def sentences_of(package: str, *path: str) -> dict[str, str | tuple[str, ...]]:
    """The sentences of a file by dotted key; lists of words come as tuples."""
    flat: dict[str, str | tuple[str, ...]] = {}
    _flatten(data_of(package, *path), "", flat)
    return flat


def _flatten(node: Mapping[str, Any], prefix: str, into: dict[str, str | tuple[str, ...]]) -> None:
    for key, value in node.items():
        name = f"{prefix}{key}"
        if isinstance(value, Mapping):
            _flatten(value, f"{name}.", into)
        elif isinstance(value, list):
            into[name] = tuple(str(word) for word in value)
        else:
            into[name] = str(value).strip("\n")
