"""What an audit of the dependencies came to: nothing known, something known, or that nobody could tell.

``pip-audit`` exits with 1 both where it found something and where it could not ask; its output tells which.
"""

from __future__ import annotations

import json

CLEAN, FOUND, UNKNOWN = 0, 1, 3
_NAMED = 5


def verdict(written: str) -> tuple[int, list[str]]:
    """The exit status and the lines to say, of ``pip-audit --format json``'s standard output."""
    try:
        dependencies = json.loads(written)["dependencies"]
    except (ValueError, KeyError, TypeError):
        return UNKNOWN, [
            "NOT AUDITED: the advisories could not be asked; this says nothing about the versions."
        ]
    found = [
        f"{one['name']} {one['version']}: {known['id']}, mended in {known['fix_versions'] or 'no version'}"
        for one in dependencies
        for known in one.get("vulns", ())
    ]
    skipped = [one["name"] for one in dependencies if "skip_reason" in one]
    unknown = []
    if skipped or not dependencies:
        names = ", ".join(skipped[:_NAMED]) + (" …" if len(skipped) > _NAMED else "")
        unknown = [
            f"NOT AUDITED: {len(skipped)} of {len(dependencies)} versions: {names or 'there are none'}"
        ]
    if found:
        return FOUND, [*found, *unknown]
    if unknown:
        return UNKNOWN, unknown
    return CLEAN, [f"No advisory is known for the {len(dependencies)} exact versions."]
