"""What all tests share: property tests are not timed, and on a build machine they repeat exactly."""

import os

from hypothesis import settings

settings.register_profile("here", deadline=None)
settings.register_profile("build", deadline=None, derandomize=True)
settings.load_profile("build" if os.environ.get("CI") else "here")
