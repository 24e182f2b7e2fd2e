"""On PostgreSQL a fence between keepers: within it, a transaction sees one keeper's rows and no others.

A transaction is in service (``burrowbell.scope`` is "service"), fenced to one keeper and the shelves named in
``burrowbell.keeper`` and ``burrowbell.shelves``, or sees nothing. It binds the tables' owner too.
"""

from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

#: Sub-selects without outer columns, so that each is worked out once for a query and not for each row.
_IN_SERVICE = "(SELECT current_setting('burrowbell.scope', true)) = 'service'"
_KEEPER = "(SELECT nullif(current_setting('burrowbell.keeper', true), '')::bigint)"
_SHELVES = "ARRAY(SELECT unnest(nullif(current_setting('burrowbell.shelves', true), '')::bigint[]))"

_OF_SHELF = f"shelf_id = ANY ({_SHELVES})"
_OF_KEEPER = f"keeper_id = {_KEEPER}"

#: Who shares a shelf is known by name there, as the one who logged a meal or hands over.
_PEOPLE = "ARRAY(SELECT unnest(nullif(current_setting('burrowbell.people', true), '')::bigint[]))"

#: What a fenced transaction sees and writes of each table; nothing where there is no condition.
_FENCED = {
    "keeper": f"id = {_KEEPER}",
    "contact": _OF_KEEPER,
    "shelf": f"id = ANY ({_SHELVES})",
    "membership": f"{_OF_KEEPER} OR {_OF_SHELF}",
    "invite": f"by_keeper = {_KEEPER} OR redeemed_by = {_KEEPER} OR {_OF_SHELF}",
    "handover": f"{_OF_SHELF} OR (SELECT redeemed_by FROM invite WHERE invite.id = invite_id) = {_KEEPER}",
    "dialog": _OF_KEEPER,
    "prompt": f"{_OF_KEEPER} OR (chat LIKE '-%' AND keeper_id = ANY ({_PEOPLE}))",  # pressed in a group
    "place": _OF_SHELF,
    "specimen": _OF_SHELF,
    "alteration": _OF_SHELF,
    "state": _OF_SHELF,
    "hold": _OF_SHELF,
    "change": _OF_SHELF,
    "entry": _OF_SHELF,
    "supersession": f"(SELECT shelf_id FROM change WHERE change.id = change_id) = ANY ({_SHELVES})",
    "photo": _OF_SHELF,
    "reminder": _OF_SHELF,
    "reminder_specimen": "(SELECT shelf_id FROM reminder WHERE reminder.id = reminder_id) "
    f"= ANY ({_SHELVES})",
    "news": f"{_OF_KEEPER} OR {_OF_SHELF}",
    "occurrence": _OF_KEEPER,
    "outbox": _OF_KEEPER,
    "inbox": None,
    "bookmark": None,
}


def upgrade() -> None:
    if op.get_bind().dialect.name != "postgresql":
        return
    for table, fenced in _FENCED.items():
        seen = f"{_IN_SERVICE} OR {fenced}" if fenced else _IN_SERVICE
        op.execute(f'ALTER TABLE "{table}" ENABLE ROW LEVEL SECURITY')
        op.execute(f'ALTER TABLE "{table}" FORCE ROW LEVEL SECURITY')
        op.execute(f'CREATE POLICY keepers_apart ON "{table}" USING ({seen}) WITH CHECK ({seen})')
    op.execute(f"CREATE POLICY keepers_of_one_shelf ON keeper FOR SELECT USING (id = ANY ({_PEOPLE}))")


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
