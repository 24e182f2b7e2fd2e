"""The command line: ``python -m bot COMMAND``, ``burrowbell COMMAND`` once installed."""

from __future__ import annotations

import click


@click.group()
@click.version_option(package_name="burrowbell", prog_name="burrowbell")
def main() -> None:
    """Keep tarantulas with a journal that talks back."""


if __name__ == "__main__":
    main()
