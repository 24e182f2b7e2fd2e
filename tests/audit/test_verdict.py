"""An audit that could not be made is never taken for a clean one.

The answers have the shape that the manual of ``pip-audit --format json`` shows; packages are invented.
"""

import json

import pytest

from tests.audit.verdict import CLEAN, FOUND, UNKNOWN, verdict

SOUND = {"name": "soundlib", "version": "1.0", "vulns": []}
HOLED = {
    "name": "holedlib",
    "version": "2.0",
    "vulns": [{"id": "PYSEC-0000-1", "fix_versions": ["2.1"], "description": "invented", "aliases": []}],
}
SKIPPED = {"name": "oddlib", "skip_reason": "not found on the index"}


@pytest.mark.parametrize(
    ("dependencies", "status", "says"),
    [
        ([SOUND], CLEAN, "No advisory is known for the 1 exact versions."),
        ([SOUND, HOLED], FOUND, "holedlib 2.0: PYSEC-0000-1, mended in ['2.1']"),
        ([HOLED, SKIPPED], FOUND, "NOT AUDITED: 1 of 2 versions: oddlib"),
        ([SOUND, SKIPPED], UNKNOWN, "NOT AUDITED: 1 of 2 versions: oddlib"),
        ([], UNKNOWN, "NOT AUDITED"),
    ],
)
def test_what_was_found_and_what_was_not_looked_at_is_said(dependencies, status, says):
    told, lines = verdict(json.dumps({"dependencies": dependencies, "fixes": []}))
    assert told == status
    assert says in "\n".join(lines)


@pytest.mark.parametrize("written", ["", "Traceback", "[]", "null", "{}", '{"dependencies"'])
def test_no_answer_is_no_clean_answer(written):
    status, lines = verdict(written)
    assert status == UNKNOWN
    assert len(lines) == 1
