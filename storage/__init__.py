"""Tables, the journal, the shelf view, inbox and outbox, migrations, backup, import, export."""
