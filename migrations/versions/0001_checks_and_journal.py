"""The first tables: checks and their journal, and the guard over finished ones."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_FINISHED = "EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND {which})"
# "INSERT OR REPLACE" and "UPDATE OR REPLACE" remove the row in their way without a delete that a
# trigger would see; hence the question whether a finished check holds one of the unique values.
_SAME = "(c.check_id = NEW.check_id OR c.number = NEW.number OR c.seal_number = NEW.seal_number)"

# name: (when and on what, condition, what is told)
_GUARDS = {
    "checks_no_replace": (
        "BEFORE INSERT ON checks",
        _FINISHED.format(which=_SAME),
        "a finished check cannot be replaced",
    ),
    "checks_no_update": (
        "BEFORE UPDATE ON checks",
        "OLD.finished_at IS NOT NULL OR " + _FINISHED.format(which=_SAME),
        "a finished check cannot be changed",
    ),
    "checks_no_delete": (
        "BEFORE DELETE ON checks",
        "OLD.finished_at IS NOT NULL",
        "a finished check cannot be deleted",
    ),
    "journal_no_insert": (
        "BEFORE INSERT ON journal",
        _FINISHED.format(which="c.check_id = NEW.check_id"),
        "the journal of a finished check cannot grow",
    ),
    "journal_no_update": (
        "BEFORE UPDATE ON journal",
        _FINISHED.format(which="c.check_id IN (OLD.check_id, NEW.check_id)"),
        "the journal of a finished check cannot be changed",
    ),
    "journal_no_delete": (
        "BEFORE DELETE ON journal",
        _FINISHED.format(which="c.check_id = OLD.check_id"),
        "the journal of a finished check cannot be deleted",
    ),
}


def upgrade() -> None:
    op.create_table(
        "checks",
        sa.Column("check_id", sa.String(64), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("opened_at", sa.String(27), nullable=False),
        sa.Column("finished_at", sa.String(27), nullable=True),
        sa.Column("origin", sa.String(16), nullable=False),
        sa.Column("invented", sa.Boolean(), nullable=False),
        sa.Column("vin", sa.String(17), nullable=False),
        sa.Column("vin_tail", sa.String(8), nullable=False),
        sa.Column("plate", sa.Text(), nullable=False),
        sa.Column("odometer_km", sa.Float(), nullable=True),
        sa.Column("work_order", sa.Text(), nullable=False),
        sa.Column("technician", sa.Text(), nullable=False),
        sa.Column("family", sa.Text(), nullable=False),
        sa.Column("sheet_id", sa.Text(), nullable=False),
        sa.Column("sheet_revision", sa.Text(), nullable=False),
        sa.Column("duty", sa.Text(), nullable=False),
        sa.Column("fluid", sa.Text(), nullable=False),
        sa.Column("verdict", sa.String(32), nullable=True),
        sa.Column("closing_celsius", sa.Float(), nullable=True),
        sa.Column("added_litres", sa.Float(), nullable=False),
        sa.Column("run_off_litres", sa.Float(), nullable=False),
        sa.Column("seal", sa.String(64), nullable=False),
        sa.Column("previous_seal", sa.String(64), nullable=False),
        sa.Column("seal_number", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("check_id", name="pk_checks"),
        sa.UniqueConstraint("number", name="uq_checks_number"),
        sa.UniqueConstraint("seal_number", name="uq_checks_seal_number"),
    )
    op.create_index("ix_checks_vin", "checks", ["vin"])
    op.create_index("ix_checks_vin_tail", "checks", ["vin_tail"])
    op.create_index("ix_checks_opened_at", "checks", ["opened_at"])
    op.create_table(
        "journal",
        sa.Column("check_id", sa.String(64), nullable=False),
        sa.Column("seq", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("t", sa.Float(), nullable=False),
        sa.Column("wall", sa.String(27), nullable=False),
        sa.Column("kind", sa.String(32), nullable=False),
        sa.Column("payload", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("check_id", "seq", name="pk_journal"),
        sa.ForeignKeyConstraint(
            ["check_id"], ["checks.check_id"], name="fk_journal_check_id_checks"
        ),
    )
    for name, (when, condition, told) in _GUARDS.items():
        op.execute(
            f"CREATE TRIGGER {name} {when} WHEN {condition} "
            f"BEGIN SELECT RAISE(ABORT, '{told}'); END"
        )


def downgrade() -> None:
    op.drop_table("journal")
    op.drop_table("checks")
