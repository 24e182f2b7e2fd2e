"""The stand-in, and ``serve`` beside it."""

import os

import pytest

from tests.telegram.serving import Serving
from tests.telegram.stand_in import StandIn

os.environ.setdefault("PTB_TIMEDELTA", "true")


@pytest.fixture(autouse=True)
def no_proxy(monkeypatch):
    """The stand-in is on this machine, whatever the machine's own way out is."""
    for name in list(os.environ):
        if name.lower().endswith("_proxy"):
            monkeypatch.delenv(name)


@pytest.fixture
async def api():
    async with StandIn() as running:
        yield running


@pytest.fixture
async def serving(api, tmp_path):
    made = Serving(api, tmp_path)
    yield made
    if made.process and made.process.returncode is None:
        await made.kill()
