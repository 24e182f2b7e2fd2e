"""Tables, the journal, the shelf view, inbox and outbox, migrations, backup, import, export."""

from storage import errors, records
from storage.store import Store
from storage.work import Work

__all__ = ["Store", "Work", "errors", "records"]
