"""Packed readings, amendments, attachments, bays, and what finished checks are searched by."""

from __future__ import annotations

import json
from collections.abc import Iterator

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

# As in 0001, and now per bay: making a table anew has dropped its triggers.
_FINISHED = "EXISTS (SELECT 1 FROM checks AS c WHERE c.finished_at IS NOT NULL AND {which})"
_SAME_OLD = (
    "(c.check_id = NEW.check_id OR c.number = NEW.number OR c.seal_number = NEW.seal_number)"
)
_SAME = (
    "(c.check_id = NEW.check_id OR c.number = NEW.number"
    " OR (c.bay = NEW.bay AND c.seal_number = NEW.seal_number))"
)
_TOLD = "a finished check cannot be {done}"


def _check_guards(same: str) -> dict[str, tuple[str, str, str]]:
    """Name: when and on what, condition, what is told."""
    return {
        "checks_no_replace": (
            "BEFORE INSERT ON checks",
            _FINISHED.format(which=same),
            _TOLD.format(done="replaced"),
        ),
        "checks_no_update": (
            "BEFORE UPDATE ON checks",
            "OLD.finished_at IS NOT NULL OR " + _FINISHED.format(which=same),
            _TOLD.format(done="changed"),
        ),
        "checks_no_delete": (
            "BEFORE DELETE ON checks",
            "OLD.finished_at IS NOT NULL",
            _TOLD.format(done="deleted"),
        ),
    }


def _part_guards(table: str, what: str) -> dict[str, tuple[str, str, str]]:
    """Guards over rows that belong to a check and are fixed once it is finished."""
    return {
        f"{table}_no_insert": (
            f"BEFORE INSERT ON {table}",
            _FINISHED.format(which="c.check_id = NEW.check_id"),
            f"the {what} of a finished check cannot grow",
        ),
        f"{table}_no_update": (
            f"BEFORE UPDATE ON {table}",
            _FINISHED.format(which="c.check_id IN (OLD.check_id, NEW.check_id)"),
            f"the {what} of a finished check cannot be changed",
        ),
        f"{table}_no_delete": (
            f"BEFORE DELETE ON {table}",
            _FINISHED.format(which="c.check_id = OLD.check_id"),
            f"the {what} of a finished check cannot be deleted",
        ),
    }


_SAME_AMENDMENT = (
    "EXISTS (SELECT 1 FROM amendments AS a WHERE (a.check_id = NEW.check_id"
    " AND a.number = NEW.number) OR (a.bay = NEW.bay AND a.seal_number = NEW.seal_number))"
)
_AMENDMENT_GUARDS = {
    "amendments_no_insert": (
        "BEFORE INSERT ON amendments",
        f"NOT {_FINISHED.format(which='c.check_id = NEW.check_id')} OR {_SAME_AMENDMENT}",
        "only a finished check is amended, and no amendment is replaced",
    ),
    "amendments_no_update": (
        "BEFORE UPDATE ON amendments",
        "1",
        "an amendment cannot be changed",
    ),
    "amendments_no_delete": (
        "BEFORE DELETE ON amendments",
        "1",
        "an amendment cannot be deleted",
    ),
}

# The columns that the table has before and after.
_COLUMNS = (
    "check_id", "number", "opened_at", "finished_at", "origin", "invented", "vin", "vin_tail",
    "plate", "odometer_km", "work_order", "technician", "family", "sheet_id", "sheet_revision",
    "duty", "fluid", "verdict", "closing_celsius", "added_litres", "run_off_litres", "seal",
    "previous_seal", "seal_number",
)  # fmt: skip
_TYPES = {
    "check_id": sa.String(64), "number": sa.Integer(), "opened_at": sa.String(27),
    "finished_at": sa.String(27), "origin": sa.String(16), "invented": sa.Boolean(),
    "vin": sa.String(17), "vin_tail": sa.String(8), "odometer_km": sa.Float(),
    "verdict": sa.String(32), "closing_celsius": sa.Float(), "added_litres": sa.Float(),
    "run_off_litres": sa.Float(), "seal": sa.String(64), "previous_seal": sa.String(64),
    "seal_number": sa.Integer(),
}  # fmt: skip
_MAY_BE_NULL = {"finished_at", "odometer_km", "verdict", "closing_celsius", "seal_number"}
_KEYS = ("vin", "vin_tail", "plate_key", "work_order_key", "family")


def upgrade() -> None:
    """Make the tables and columns, and fill in what older checks are searched by."""
    for index in ("vin", "vin_tail", "opened_at", "family"):
        op.drop_index(f"ix_checks_{index}", "checks")
    _remake_checks(
        (
            sa.Column("bay", sa.String(32), nullable=False),
            sa.Column("plate_key", sa.Text(), nullable=False),
            sa.Column("work_order_key", sa.Text(), nullable=False),
            sa.Column("notes", sa.Text(), nullable=False),
            sa.Column("seal_form", sa.Integer(), nullable=False),
            sa.UniqueConstraint("bay", "seal_number", name="uq_checks_bay"),
        ),
        "'1', '', '', '', 1",
    )
    for key in _KEYS:
        op.create_index(f"ix_checks_{key}", "checks", [key, "opened_at", "number"])
    op.create_index("ix_checks_opened_at", "checks", ["opened_at", "number"])
    _fill_keys(op.get_bind())
    _make_tables()
    for guards in (
        _check_guards(_SAME),
        _part_guards("traces", "readings"),
        _part_guards("attachments", "attachments"),
        _AMENDMENT_GUARDS,
    ):
        _make(guards)


def _remake_checks(parts: tuple[sa.Column[object] | sa.Constraint, ...], values: str) -> None:
    """Make the table anew with further parts, and give their columns these values.

    Written out, because what a constraint allows is changed, which SQLite can do in no other way;
    the rows that point at the table are safe, foreign keys are not watched meanwhile.
    """
    op.create_table(
        "new_checks",
        *(
            sa.Column(name, _TYPES.get(name, sa.Text()), nullable=name in _MAY_BE_NULL)
            for name in _COLUMNS
        ),
        *parts,
        sa.PrimaryKeyConstraint("check_id", name="pk_checks"),
        sa.UniqueConstraint("number", name="uq_checks_number"),
    )
    names = [part.name for part in parts if isinstance(part, sa.Column)]
    kept = ", ".join(_COLUMNS)
    into, out_of = (", ".join(filter(None, (kept, *more))) for more in (names, (values,)))
    op.execute(f"INSERT INTO new_checks ({into}) SELECT {out_of} FROM checks")
    op.drop_table("checks")
    op.rename_table("new_checks", "checks")


def _make_tables() -> None:
    check = ("check_id", sa.String(64))
    op.create_table(
        "traces",
        sa.Column(*check, nullable=False),
        sa.Column("signal", sa.String(32), nullable=False),
        sa.Column("form", sa.Integer(), nullable=False),
        sa.Column("count", sa.Integer(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("check_id", "signal", name="pk_traces"),
        sa.ForeignKeyConstraint(
            ["check_id"], ["checks.check_id"], name="fk_traces_check_id_checks"
        ),
    )
    op.create_table(
        "amendments",
        sa.Column(*check, nullable=False),
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.String(27), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("field", sa.String(32), nullable=False),
        sa.Column("was", sa.Text(), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.Column("value_key", sa.Text(), nullable=False),
        sa.Column("bay", sa.String(32), nullable=False),
        sa.Column("seal", sa.String(64), nullable=False),
        sa.Column("previous_seal", sa.String(64), nullable=False),
        sa.Column("seal_number", sa.Integer(), nullable=False),
        sa.Column("seal_form", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("check_id", "number", name="pk_amendments"),
        sa.UniqueConstraint("bay", "seal_number", name="uq_amendments_bay"),
        sa.ForeignKeyConstraint(
            ["check_id"], ["checks.check_id"], name="fk_amendments_check_id_checks"
        ),
    )
    op.create_index("ix_amendments_field", "amendments", ["field", "value_key"])
    op.create_table(
        "attachments",
        sa.Column(*check, nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("media_type", sa.String(64), nullable=False),
        sa.Column("size", sa.Integer(), nullable=False),
        sa.Column("about", sa.String(32), nullable=False),
        sa.Column("added_at", sa.String(27), nullable=False),
        sa.PrimaryKeyConstraint("check_id", "sha256", name="pk_attachments"),
        sa.ForeignKeyConstraint(
            ["check_id"], ["checks.check_id"], name="fk_attachments_check_id_checks"
        ),
    )
    op.create_index("ix_attachments_sha256", "attachments", ["sha256"])


def _make(guards: dict[str, tuple[str, str, str]]) -> None:
    for name, (when, condition, told) in guards.items():
        op.execute(
            f"CREATE TRIGGER {name} {when} WHEN {condition} "
            f"BEGIN SELECT RAISE(ABORT, '{told}'); END"
        )


def _fill_keys(connection: sa.Connection) -> None:
    """Fill in plate, work order and notes as they are searched; no guard is in the way yet."""
    checks = connection.execute(sa.text("SELECT check_id, plate, work_order FROM checks")).all()
    for check_id, plate, work_order in checks:
        connection.execute(
            sa.text(
                "UPDATE checks SET plate_key = :plate, work_order_key = :order, notes = :notes"
                " WHERE check_id = :id"
            ),
            {
                "id": check_id,
                "plate": _key(plate),
                "order": _key(work_order),
                "notes": "\n".join(_notes(connection, check_id)).casefold(),
            },
        )


def _key(text: str) -> str:
    return "".join(c for c in text.casefold() if c.isalnum())


def _notes(connection: sa.Connection, check_id: str) -> Iterator[str]:
    rows = connection.execute(
        sa.text(
            "SELECT payload FROM journal WHERE check_id = :id"
            " AND kind NOT IN ('reading', 'check_opened') ORDER BY seq"
        ),
        {"id": check_id},
    )
    for (payload,) in rows:
        try:
            event = json.loads(payload)
        except ValueError:  # a damaged entry is found by whoever reads the record
            continue
        for name in ("complaint", "reason", "note", "override_reason"):
            text = event.get(name)
            if isinstance(text, str) and text:
                yield text


def downgrade() -> None:
    """Go back; packed readings, amendments and attachments are lost."""
    for table in ("attachments", "amendments", "traces"):
        op.drop_table(table)
    for key in (*_KEYS, "opened_at"):
        op.drop_index(f"ix_checks_{key}", "checks")
    _remake_checks((sa.UniqueConstraint("seal_number", name="uq_checks_seal_number"),), "")
    for key in ("vin", "vin_tail", "opened_at", "family"):
        op.create_index(f"ix_checks_{key}", "checks", [key])
    _make(_check_guards(_SAME_OLD))
