"""How a command ends when it cannot do what was asked."""

from __future__ import annotations

import click


class Refusal(click.ClickException):
    """Wrong use or bad input: one line that says what is wrong and where. Exit status 2."""

    exit_code = 2


class Failure(click.ClickException):
    """The command was right but could not be carried out: one line that says why. Exit status 1."""

    exit_code = 1
