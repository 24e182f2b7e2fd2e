"""Keepers, shelves, the journal with its states, and what comes in and goes out."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

ROW_NUMBER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
INSTANT = sa.DateTime(timezone=True)


def upgrade() -> None:  # noqa: PLR0915  the tables of the first day, in the order of their references
    op.create_table(
        "inbox",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("source", sa.String(), nullable=False),
        sa.Column("update_id", sa.BigInteger(), nullable=False),
        sa.Column("chat", sa.String(), nullable=False),
        sa.Column("payload", sa.JSON(), nullable=False),
        sa.Column("at", INSTANT, nullable=False),
        sa.Column("done_at", INSTANT, nullable=True),
        sa.Column("aside_at", INSTANT, nullable=True),
        sa.Column("why", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_inbox"),
        sa.UniqueConstraint("source", "update_id", name="uq_inbox_source_update_id"),
    )
    op.create_index(
        "ix_inbox_waiting",
        "inbox",
        ["id"],
        unique=False,
        sqlite_where=sa.text("done_at IS NULL AND aside_at IS NULL"),
        postgresql_where=sa.text("done_at IS NULL AND aside_at IS NULL"),
    )
    op.create_index(
        "ix_inbox_waiting_chat",
        "inbox",
        ["chat", "id"],
        unique=False,
        sqlite_where=sa.text("done_at IS NULL AND aside_at IS NULL"),
        postgresql_where=sa.text("done_at IS NULL AND aside_at IS NULL"),
    )
    op.create_table(
        "keeper",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("zone", sa.String(), nullable=False),
        sa.Column("units", sa.String(), nullable=False),
        sa.Column("date_order", sa.String(), nullable=False),
        sa.Column("language", sa.String(), nullable=False),
        sa.Column("round_time", sa.Time(), nullable=False),
        sa.Column("quiet_from", sa.Time(), nullable=False),
        sa.Column("quiet_to", sa.Time(), nullable=False),
        sa.Column("day_starts", sa.Time(), nullable=False),
        sa.Column("settled", sa.Boolean(), nullable=False),
        sa.Column("paused", sa.Boolean(), nullable=False),
        sa.Column("next_round_at", INSTANT, nullable=True),
        sa.Column("created_at", INSTANT, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_keeper"),
    )
    op.create_index(
        "ix_keeper_round_due",
        "keeper",
        ["next_round_at"],
        unique=False,
        sqlite_where=sa.text("next_round_at IS NOT NULL AND paused = 0"),
        postgresql_where=sa.text("next_round_at IS NOT NULL AND NOT paused"),
    )
    op.create_table(
        "contact",
        sa.Column("front_end", sa.String(), nullable=False),
        sa.Column("address", sa.String(), nullable=False),
        sa.Column("keeper_id", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["keeper_id"], ["keeper.id"], name="fk_contact_keeper_id"),
        sa.PrimaryKeyConstraint("front_end", "address", name="pk_contact"),
    )
    op.create_index("ix_contact_keeper_id", "contact", ["keeper_id"], unique=False)
    op.create_table(
        "dialog",
        sa.Column("keeper_id", sa.BigInteger(), nullable=False),
        sa.Column("chat", sa.String(), nullable=False),
        sa.Column("mind", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["keeper_id"], ["keeper.id"], name="fk_dialog_keeper_id"),
        sa.PrimaryKeyConstraint("keeper_id", "chat", name="pk_dialog"),
    )
    op.create_index("ix_dialog_chat", "dialog", ["chat"], unique=False)
    op.create_table(
        "outbox",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("keeper_id", sa.BigInteger(), nullable=True),
        sa.Column("chat", sa.String(), nullable=False),
        sa.Column("method", sa.String(), nullable=False),
        sa.Column("payload", sa.JSON(), nullable=False),
        sa.Column("key", sa.String(), nullable=True),
        sa.Column("at", INSTANT, nullable=False),
        sa.Column("not_before", INSTANT, nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("why", sa.Text(), nullable=True),
        sa.Column("sent_at", INSTANT, nullable=True),
        sa.Column("failed_at", INSTANT, nullable=True),
        sa.Column("message_ref", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["keeper_id"], ["keeper.id"], name="fk_outbox_keeper_id"),
        sa.PrimaryKeyConstraint("id", name="pk_outbox"),
        sa.UniqueConstraint("key", name="uq_outbox_key"),
    )
    op.create_index(
        "ix_outbox_waiting",
        "outbox",
        ["not_before", "id"],
        unique=False,
        sqlite_where=sa.text("sent_at IS NULL AND failed_at IS NULL"),
        postgresql_where=sa.text("sent_at IS NULL AND failed_at IS NULL"),
    )
    op.create_index(
        "ix_outbox_waiting_chat",
        "outbox",
        ["chat", "id"],
        unique=False,
        sqlite_where=sa.text("sent_at IS NULL AND failed_at IS NULL"),
        postgresql_where=sa.text("sent_at IS NULL AND failed_at IS NULL"),
    )
    op.create_table(
        "shelf",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("owner_id", sa.BigInteger(), nullable=False),
        sa.Column("revision", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["owner_id"], ["keeper.id"], name="fk_shelf_owner_id"),
        sa.PrimaryKeyConstraint("id", name="pk_shelf"),
        sa.UniqueConstraint("owner_id", name="uq_shelf_owner_id"),
    )
    op.create_table(
        "change",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("keeper_id", sa.BigInteger(), nullable=False),
        sa.Column("at", INSTANT, nullable=False),
        sa.Column("origin", sa.String(), nullable=True),
        sa.Column("undone_at", INSTANT, nullable=True),
        sa.ForeignKeyConstraint(["keeper_id"], ["keeper.id"], name="fk_change_keeper_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_change_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_change"),
    )
    op.create_index(
        "ix_change_latest",
        "change",
        ["shelf_id", "keeper_id", "id"],
        unique=False,
        sqlite_where=sa.text("undone_at IS NULL"),
        postgresql_where=sa.text("undone_at IS NULL"),
    )
    op.create_index("ix_change_origin", "change", ["origin"], unique=False)
    op.create_table(
        "invite",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=True),
        sa.Column("role", sa.String(), nullable=False),
        sa.Column("code_hash", sa.String(), nullable=False),
        sa.Column("by_keeper", sa.BigInteger(), nullable=False),
        sa.Column("created_at", INSTANT, nullable=False),
        sa.Column("expires_at", INSTANT, nullable=False),
        sa.Column("redeemed_at", INSTANT, nullable=True),
        sa.Column("redeemed_by", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["by_keeper"], ["keeper.id"], name="fk_invite_by_keeper"),
        sa.ForeignKeyConstraint(["redeemed_by"], ["keeper.id"], name="fk_invite_redeemed_by"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_invite_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_invite"),
        sa.UniqueConstraint("code_hash", name="uq_invite_code_hash"),
    )
    op.create_table(
        "membership",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("keeper_id", sa.BigInteger(), nullable=False),
        sa.Column("role", sa.String(), nullable=False),
        sa.Column("from_day", sa.Date(), nullable=True),
        sa.Column("until_day", sa.Date(), nullable=True),
        sa.ForeignKeyConstraint(["keeper_id"], ["keeper.id"], name="fk_membership_keeper_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_membership_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_membership"),
    )
    op.create_index("ix_membership_keeper_id", "membership", ["keeper_id"], unique=False)
    op.create_index("ix_membership_shelf_id", "membership", ["shelf_id"], unique=False)
    op.create_table(
        "occurrence",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("keeper_id", sa.BigInteger(), nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("due_at", INSTANT, nullable=False),
        sa.Column("tasks", sa.JSON(), nullable=False),
        sa.Column("opened_at", INSTANT, nullable=False),
        sa.Column("closed_at", INSTANT, nullable=True),
        sa.ForeignKeyConstraint(["keeper_id"], ["keeper.id"], name="fk_occurrence_keeper_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_occurrence_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_occurrence"),
        sa.UniqueConstraint("keeper_id", "day", name="uq_occurrence_keeper_id_day"),
    )
    op.create_index("ix_occurrence_shelf_id", "occurrence", ["shelf_id"], unique=False)
    op.create_table(
        "place",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_place_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_place"),
        sa.UniqueConstraint("shelf_id", "key", name="uq_place_shelf_id_key"),
    )
    op.create_table(
        "prompt",
        sa.Column("number", ROW_NUMBER, nullable=False),
        sa.Column("keeper_id", sa.BigInteger(), nullable=False),
        sa.Column("chat", sa.String(), nullable=False),
        sa.Column("actions", sa.JSON(), nullable=False),
        sa.Column("pending", sa.JSON(), nullable=True),
        sa.Column("change_id", sa.BigInteger(), nullable=True),
        sa.Column("message_ref", sa.String(), nullable=True),
        sa.Column("at", INSTANT, nullable=False),
        sa.Column("answered_at", INSTANT, nullable=True),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_prompt_change_id"),
        sa.ForeignKeyConstraint(["keeper_id"], ["keeper.id"], name="fk_prompt_keeper_id"),
        sa.PrimaryKeyConstraint("number", name="pk_prompt"),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_prompt_change_id", "prompt", ["change_id"], unique=False)
    op.create_index("ix_prompt_chat", "prompt", ["chat"], unique=False)
    op.create_index(
        "ix_prompt_keeper_id_chat_message_ref", "prompt", ["keeper_id", "chat", "message_ref"], unique=False
    )
    op.create_index(
        "ix_prompt_keeper_id_chat_number", "prompt", ["keeper_id", "chat", "number"], unique=False
    )
    op.create_table(
        "reminder",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("keeper_id", sa.BigInteger(), nullable=False),
        sa.Column("change_id", sa.BigInteger(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("next_at", INSTANT, nullable=False),
        sa.Column("day", sa.Date(), nullable=True),
        sa.Column("time", sa.Time(), nullable=True),
        sa.Column("every_days", sa.Integer(), nullable=True),
        sa.Column("zone", sa.String(), nullable=False),
        sa.Column("live", sa.Boolean(), nullable=False),
        sa.Column("ended", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_reminder_change_id"),
        sa.ForeignKeyConstraint(["keeper_id"], ["keeper.id"], name="fk_reminder_keeper_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_reminder_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_reminder"),
    )
    op.create_index("ix_reminder_change_id", "reminder", ["change_id"], unique=False)
    op.create_index(
        "ix_reminder_due",
        "reminder",
        ["next_at"],
        unique=False,
        sqlite_where=sa.text("live = 1 AND ended = 0"),
        postgresql_where=sa.text("live AND NOT ended"),
    )
    op.create_index("ix_reminder_shelf_id", "reminder", ["shelf_id"], unique=False)
    op.create_table(
        "specimen",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("change_id", sa.BigInteger(), nullable=False),
        sa.Column("tag", sa.Text(), nullable=False),
        sa.Column("tag_key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=True),
        sa.Column("name_key", sa.Text(), nullable=True),
        sa.Column("species", sa.Text(), nullable=False),
        sa.Column("common", sa.JSON(), nullable=False),
        sa.Column("aka", sa.JSON(), nullable=False),
        sa.Column("sex", sa.String(), nullable=False),
        sa.Column("stage", sa.String(), nullable=False),
        sa.Column("span_cm", sa.BigInteger(), nullable=True),
        sa.Column("habit", sa.String(), nullable=False),
        sa.Column("place_id", sa.BigInteger(), nullable=True),
        sa.Column("lot_size", sa.Integer(), nullable=False),
        sa.Column("feed_every", sa.Integer(), nullable=True),
        sa.Column("water_every", sa.Integer(), nullable=True),
        sa.Column("position", sa.BigInteger(), nullable=False),
        sa.Column("added_on", sa.Date(), nullable=False),
        sa.Column("gone_on", sa.Date(), nullable=True),
        sa.Column("void", sa.Boolean(), nullable=False),
        sa.Column("added_as", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_specimen_change_id"),
        sa.ForeignKeyConstraint(["place_id"], ["place.id"], name="fk_specimen_place_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_specimen_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_specimen"),
    )
    op.create_index("ix_specimen_change_id", "specimen", ["change_id"], unique=False)
    op.create_index("ix_specimen_place_id", "specimen", ["place_id"], unique=False)
    op.create_index("ix_specimen_shelf_id_position", "specimen", ["shelf_id", "position"], unique=False)
    op.create_index("ix_specimen_shelf_id_tag_key", "specimen", ["shelf_id", "tag_key"], unique=False)
    op.create_index(
        "uq_specimen_living_tag",
        "specimen",
        ["shelf_id", "tag_key"],
        unique=True,
        sqlite_where=sa.text("gone_on IS NULL AND void = 0"),
        postgresql_where=sa.text("gone_on IS NULL AND NOT void"),
    )
    op.create_table(
        "alteration",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("change_id", sa.BigInteger(), nullable=False),
        sa.Column("specimen_id", sa.BigInteger(), nullable=False),
        sa.Column("fields", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_alteration_change_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_alteration_shelf_id"),
        sa.ForeignKeyConstraint(["specimen_id"], ["specimen.id"], name="fk_alteration_specimen_id"),
        sa.PrimaryKeyConstraint("id", name="pk_alteration"),
    )
    op.create_index("ix_alteration_change_id", "alteration", ["change_id"], unique=False)
    op.create_index("ix_alteration_specimen_id", "alteration", ["specimen_id"], unique=False)
    op.create_table(
        "entry",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("change_id", sa.BigInteger(), nullable=False),
        sa.Column("specimen_id", sa.BigInteger(), nullable=True),
        sa.Column("live", sa.Boolean(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("time", sa.Time(), nullable=True),
        sa.Column("zone", sa.String(), nullable=False),
        sa.Column("prey", sa.Text(), nullable=True),
        sa.Column("count", sa.BigInteger(), nullable=True),
        sa.Column("size", sa.String(), nullable=True),
        sa.Column("prekilled", sa.Boolean(), nullable=False),
        sa.Column("how", sa.String(), nullable=True),
        sa.Column("ml", sa.BigInteger(), nullable=True),
        sa.Column("span_cm", sa.BigInteger(), nullable=True),
        sa.Column("carapace_mm", sa.BigInteger(), nullable=True),
        sa.Column("weight_g", sa.BigInteger(), nullable=True),
        sa.Column("volume_l", sa.BigInteger(), nullable=True),
        sa.Column("substrate_cm", sa.BigInteger(), nullable=True),
        sa.Column("temp_c", sa.BigInteger(), nullable=True),
        sa.Column("humidity_pct", sa.BigInteger(), nullable=True),
        sa.Column("place", sa.Text(), nullable=True),
        sa.Column("sex", sa.String(), nullable=True),
        sa.Column("species", sa.Text(), nullable=True),
        sa.Column("price", sa.BigInteger(), nullable=True),
        sa.Column("currency", sa.String(), nullable=True),
        sa.Column("source", sa.Text(), nullable=True),
        sa.Column("to", sa.Text(), nullable=True),
        sa.Column("partner", sa.Text(), nullable=True),
        sa.Column("event", sa.String(), nullable=True),
        sa.Column("note", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_entry_change_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_entry_shelf_id"),
        sa.ForeignKeyConstraint(["specimen_id"], ["specimen.id"], name="fk_entry_specimen_id"),
        sa.PrimaryKeyConstraint("id", name="pk_entry"),
    )
    op.create_index("ix_entry_change_id", "entry", ["change_id"], unique=False)
    op.create_index(
        "ix_entry_shelf_day",
        "entry",
        ["shelf_id", "day", "id"],
        unique=False,
        sqlite_where=sa.text("live = 1"),
        postgresql_where=sa.text("live"),
    )
    op.create_index(
        "ix_entry_shelf_kind_day",
        "entry",
        ["shelf_id", "kind", "day", "id"],
        unique=False,
        sqlite_where=sa.text("live = 1"),
        postgresql_where=sa.text("live"),
    )
    op.create_index(
        "ix_entry_specimen_day",
        "entry",
        ["specimen_id", "day", "id"],
        unique=False,
        sqlite_where=sa.text("live = 1"),
        postgresql_where=sa.text("live"),
    )
    op.create_table(
        "hold",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("change_id", sa.BigInteger(), nullable=False),
        sa.Column("specimen_id", sa.BigInteger(), nullable=False),
        sa.Column("starts", sa.Boolean(), nullable=False),
        sa.Column("on_day", sa.Date(), nullable=False),
        sa.Column("until_day", sa.Date(), nullable=True),
        sa.Column("live", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_hold_change_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_hold_shelf_id"),
        sa.ForeignKeyConstraint(["specimen_id"], ["specimen.id"], name="fk_hold_specimen_id"),
        sa.PrimaryKeyConstraint("id", name="pk_hold"),
    )
    op.create_index("ix_hold_change_id", "hold", ["change_id"], unique=False)
    op.create_index(
        "ix_hold_live",
        "hold",
        ["shelf_id", "specimen_id", "id"],
        unique=False,
        sqlite_where=sa.text("live = 1"),
        postgresql_where=sa.text("live"),
    )
    op.create_index("ix_hold_specimen_id", "hold", ["specimen_id"], unique=False)
    op.create_table(
        "photo",
        sa.Column("id", ROW_NUMBER, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("change_id", sa.BigInteger(), nullable=False),
        sa.Column("specimen_id", sa.BigInteger(), nullable=True),
        sa.Column("reference", sa.Text(), nullable=False),
        sa.Column("path", sa.Text(), nullable=True),
        sa.Column("at", INSTANT, nullable=False),
        sa.Column("width", sa.Integer(), nullable=True),
        sa.Column("height", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_photo_change_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_photo_shelf_id"),
        sa.ForeignKeyConstraint(["specimen_id"], ["specimen.id"], name="fk_photo_specimen_id"),
        sa.PrimaryKeyConstraint("id", name="pk_photo"),
    )
    op.create_index("ix_photo_change_id", "photo", ["change_id"], unique=False)
    op.create_index("ix_photo_shelf_id", "photo", ["shelf_id"], unique=False)
    op.create_index("ix_photo_specimen_id", "photo", ["specimen_id"], unique=False)
    op.create_table(
        "reminder_specimen",
        sa.Column("reminder_id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("specimen_id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["reminder_id"], ["reminder.id"], name="fk_reminder_specimen_reminder_id"),
        sa.ForeignKeyConstraint(["specimen_id"], ["specimen.id"], name="fk_reminder_specimen_specimen_id"),
        sa.PrimaryKeyConstraint("reminder_id", "specimen_id", name="pk_reminder_specimen"),
    )
    op.create_index("ix_reminder_specimen_specimen_id", "reminder_specimen", ["specimen_id"], unique=False)
    op.create_table(
        "state",
        sa.Column("specimen_id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("facts", sa.JSON(), nullable=False),
        sa.Column("last_day", sa.Date(), nullable=True),
        sa.Column("last_time", sa.Time(), nullable=True),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_state_shelf_id"),
        sa.ForeignKeyConstraint(["specimen_id"], ["specimen.id"], name="fk_state_specimen_id"),
        sa.PrimaryKeyConstraint("specimen_id", name="pk_state"),
    )
    op.create_index("ix_state_shelf_id", "state", ["shelf_id"], unique=False)
    op.create_table(
        "supersession",
        sa.Column("entry_id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("change_id", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_supersession_change_id"),
        sa.ForeignKeyConstraint(["entry_id"], ["entry.id"], name="fk_supersession_entry_id"),
        sa.PrimaryKeyConstraint("entry_id", "change_id", name="pk_supersession"),
    )
    op.create_index("ix_supersession_change_id", "supersession", ["change_id"], unique=False)


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
