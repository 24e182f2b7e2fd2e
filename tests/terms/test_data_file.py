"""A data file has each of its keys once: YAML would let the later one win, and say nothing."""

from collections import Counter
from pathlib import Path

import pytest
import yaml

import bot

_FOLDER = Path(bot.__file__).parent
_FILES = sorted(_FOLDER.rglob("*.yaml"))


def _twice(node: yaml.Node) -> list[str]:
    if isinstance(node, yaml.MappingNode):
        keys = Counter(key.value for key, _ in node.value if isinstance(key, yaml.ScalarNode))
        below = [key for _, value in node.value for key in _twice(value)]
        return [key for key, times in keys.items() if times > 1] + below
    if isinstance(node, yaml.SequenceNode):
        return [key for one in node.value for key in _twice(one)]
    return []


@pytest.mark.parametrize("path", _FILES, ids=lambda path: path.relative_to(_FOLDER).as_posix())
def test_no_key_stands_twice(path: Path) -> None:
    node = yaml.compose(path.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
    assert node is not None
    assert _twice(node) == []


def test_a_key_that_stands_twice_is_found() -> None:
    node = yaml.compose("a: 1\nb: [{c: 1, d: 2, c: 3}]\na: 2\n", Loader=yaml.CSafeLoader)
    assert sorted(_twice(node)) == ["a", "c"]
