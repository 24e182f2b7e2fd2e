"""Processes forked from one that has imported everything: they are at work at once.

For tests in which processes are killed and started anew; how long a start takes from nothing, and what
it needs, is measured and tested elsewhere.
"""

import multiprocessing

FORKS = multiprocessing.get_context("forkserver")
FORKS.set_forkserver_preload(["tests.faults.mortal_worker", "tests.telegram.run_serve"])
