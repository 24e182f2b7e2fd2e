"""A command line to call, and the demo shelf in a file of one's own."""

import json
import shutil
from dataclasses import dataclass
from datetime import UTC, datetime

import pytest
from click.testing import CliRunner

from bot.commands import main
from bot.commands.store import KEYBOARD
from bot.demo.fill import put_up
from bot.demo.shelf import demo_shelf
from storage import Store

NOW = "2026-05-14T19:30"


@dataclass(frozen=True)
class Outcome:
    """How a command ended."""

    status: int
    out: str
    err: str

    @property
    def lines(self) -> list:
        return [json.loads(line) for line in self.out.splitlines()]


@pytest.fixture
def burrowbell(monkeypatch, tmp_path):
    """Calls the command line: ``burrowbell("read", "--shelf", path, input="…")``."""
    monkeypatch.chdir(tmp_path)
    for folder in ("XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(folder, str(tmp_path / "home"))
    for name in ("DATABASE_URL", "PHOTO_FOLDER", "SECRETS_DIR"):
        monkeypatch.delenv(f"BURROWBELL_{name}", raising=False)

    def call(*arguments, **more) -> Outcome:
        result = CliRunner().invoke(main, [str(argument) for argument in arguments], **more)
        return Outcome(result.exit_code, result.stdout, result.stderr)

    return call


@pytest.fixture(scope="session")
def _demo_file(tmp_path_factory):
    path = tmp_path_factory.mktemp("demo") / "demo.db"
    store = Store.open(f"sqlite:///{path}")
    now = datetime(2026, 5, 14, 18, 30, tzinfo=UTC)
    put_up(store, demo_shelf(), now=now, zone="Europe/London", contact=KEYBOARD)
    store.close()
    return path


@pytest.fixture
def demo_db(_demo_file, tmp_path):
    """The URL of a store with the demo shelf as of 14 May 2026."""
    path = tmp_path / "shelf.db"
    shutil.copy(_demo_file, path)
    return f"sqlite:///{path}"


@pytest.fixture
def empty_db(tmp_path):
    """The URL of a store with a keeper who has nothing yet."""
    url = f"sqlite:///{tmp_path / 'empty.db'}"
    store = Store.open(url)
    with store.begin() as work:
        settings = demo_shelf().settings
        work.keepers.link(work.keepers.create("Kim", settings, at=datetime.now(UTC)).id, *KEYBOARD)
    store.close()
    return url
