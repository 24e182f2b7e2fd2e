"""``make audit``: asks the public advisories about every exact version in ``constraints.txt``.

Exit status 0: none is known. 1: some are, one line each. 3: nobody could be asked, so nothing is known; the
tests never run this, for a build must not hang on somebody else's server.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.audit.verdict import verdict

CONSTRAINTS = Path(__file__).parents[2] / "constraints.txt"


def main() -> int:
    """Asks, tells, and gives the exit status."""
    command = (
        sys.executable,
        "-m",
        "pip_audit",
        "--requirement",
        str(CONSTRAINTS),
        "--no-deps",
        "--disable-pip",
    )
    asked = subprocess.run([*command, "--format", "json"], capture_output=True, text=True, check=False)
    status, lines = verdict(asked.stdout)
    sys.stdout.write("\n".join(lines) + "\n")
    return status


if __name__ == "__main__":
    sys.exit(main())
