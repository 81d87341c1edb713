"""The shop's own warm-ups, drawn from its checks so that the next forecast is sharper."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "warm_ups",
        sa.Column("check_id", sa.String(64), nullable=False),
        sa.Column("points", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["check_id"], ["checks.check_id"], name="fk_warm_ups_check_id_checks"
        ),
        sa.PrimaryKeyConstraint("check_id", name="pk_warm_ups"),
    )
    op.create_index("ix_checks_family", "checks", ["family"])


def downgrade() -> None:
    """Drop it: the readings that it was drawn from stay in the journal."""
    op.drop_index("ix_checks_family", "checks")
    op.drop_table("warm_ups")
