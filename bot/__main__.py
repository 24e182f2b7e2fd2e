"""The command line: ``python -m bot COMMAND``, ``burrowbell COMMAND`` once installed."""

from bot.commands import main

__all__ = ["main"]

if __name__ == "__main__":
    main(prog_name="burrowbell")
