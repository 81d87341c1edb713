"""Amendments as they are read from the database."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.records.model import Amendable, Amendment
from brimline.records.schema import AmendmentRow
from brimline.translation import tr


def amendment_of(row: AmendmentRow) -> Amendment:
    """Return the amendment that a row holds.

    :raises StoreError: the row holds a field or a number that no amendment has.
    """
    try:
        field = Amendable(row.field)
        if field is Amendable.ODOMETER:
            float(row.value)
    except ValueError as error:
        raise StoreError(
            tr("An amendment is damaged and cannot be read."), detail=f"{row.check_id}: {error}"
        ) from error
    return Amendment(
        check_id=row.check_id, number=row.number, at=row.at, author=row.author, reason=row.reason,
        field=field, was=row.was, value=row.value, bay=row.bay, seal=row.seal,
        previous_seal=row.previous_seal, seal_number=row.seal_number,
    )  # fmt: skip


def amendments_in(session: Session, check_id: str) -> tuple[Amendment, ...]:
    """Return the amendments of a check, oldest first.

    :raises StoreError: one of them is damaged.
    """
    rows = session.scalars(
        select(AmendmentRow).where(AmendmentRow.check_id == check_id).order_by(AmendmentRow.number)
    )
    return tuple(amendment_of(row) for row in rows)
