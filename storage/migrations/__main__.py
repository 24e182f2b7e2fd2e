"""Drafts the next step: ``python -m storage.migrations "Entries may carry a mood"``.

The draft is what the table classes have and the steps so far do not make. Read it, put what the database
cannot work out by itself, name it in ``HEAD``, and try it in ``tests/storage/test_migrations.py``.
"""

from __future__ import annotations

import sys
from pathlib import Path

from alembic import command
from alembic.script import ScriptDirectory

from storage import migrate
from storage.engine import engine_for


def draft(sentence: str) -> Path:
    """Writes the next step beside the others; gives its file."""
    engine = engine_for("sqlite://")
    migrate.upgrade(engine)
    with engine.connect() as connection:
        config = migrate.config_for(connection)
        config.set_main_option("file_template", "%%(rev)s_%%(slug)s")
        config.set_main_option("truncate_slug_length", "60")
        steps = ScriptDirectory.from_config(config)
        number = f"{int(steps.get_current_head() or 0) + 1:04}"
        folder = Path(steps.get_revision("head").path).parent
        made = command.revision(
            config, message=sentence, autogenerate=True, rev_id=number, version_path=str(folder)
        )
    engine.dispose()
    return Path(made.path)  # type: ignore[union-attr]  # one revision was asked for, so it is not a list


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit('Say in one sentence what the step does: python -m storage.migrations "…"')
    sys.stdout.write(f"{draft(sys.argv[1])}\n")
