"""The steps that make the tables, oldest first. Once released, a step stays as it is."""

from typing import Final

#: The newest step, so that a start on an up-to-date store need not load the migration machinery.
HEAD: Final = "0016"
