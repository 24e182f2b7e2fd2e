"""The commands of the command line: a small module for each, loaded when it is called.

:data:`COMMANDS` is the table of contents. A new command is one module and one line there.
"""

from bot.commands.group import main

__all__ = ["main"]
