"""Codes of invitations: made by chance, and kept as hashes only."""

from __future__ import annotations

import hashlib
import secrets


def new_code() -> str:
    """A code that nobody can guess, fit for a link."""
    return secrets.token_urlsafe(24)


def hash_of(code: str) -> str:
    """What is kept of a code."""
    return hashlib.sha256(code.encode()).hexdigest()
