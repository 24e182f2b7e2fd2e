"""What all tests share.

Property tests are not timed, and on a build machine they repeat exactly. The migrations are run step by
step where they are what is tested; elsewhere a new store gets what they made.
"""

import gc
import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

settings.register_profile("here", deadline=None)
settings.register_profile("build", deadline=None, derandomize=True)
settings.load_profile("build" if os.environ.get("CI") else "here")


def pytest_collection_finish() -> None:
    """What is there before the first test stays to the end: no garbage is looked for in it again."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session", autouse=True)
def step_by_step() -> Iterator:
    """The upgrade as the program has it."""
    from storage import migrate
    from tests.storage.ready_made import from_the_first

    as_it_is = migrate.upgrade
    migrate.upgrade = from_the_first(as_it_is)
    yield as_it_is
    migrate.upgrade = as_it_is
