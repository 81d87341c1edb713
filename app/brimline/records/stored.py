"""What the database holds of one record, as it stands there: the seal is over that."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import datetime

from sqlalchemy import String, func, select, type_coerce
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.records import seal
from brimline.records.packing import Packed, canonical
from brimline.records.schema import AttachmentRow, CheckRow, JournalRow, TraceRow, utc_text


def journal_lines(session: Session, check_id: str) -> Iterator[seal.JournalLine]:
    """Yield the rows of the journal in order."""
    rows = session.execute(
        select(
            JournalRow.seq,
            JournalRow.t,
            type_coerce(JournalRow.wall, String),
            JournalRow.kind,
            JournalRow.payload,
        )
        .where(JournalRow.check_id == check_id)
        .order_by(JournalRow.seq)
        .execution_options(yield_per=2000)
    )
    return (seal.JournalLine(*row) for row in rows)


def last_seq(session: Session, check_id: str) -> int:
    """Return the place of the newest entry in the journal of an open check; 0 where it has none."""
    newest = select(func.max(JournalRow.seq)).where(JournalRow.check_id == check_id)
    return session.scalar(newest) or 0


def traces(session: Session, check_id: str) -> list[Packed]:
    """Return the packed readings in order of their signals."""
    rows = session.execute(
        select(TraceRow.signal, TraceRow.form, TraceRow.count, TraceRow.content)
        .where(TraceRow.check_id == check_id)
        .order_by(TraceRow.signal)
    )
    return [Packed(*row) for row in rows]


def seal_of(session: Session, row: CheckRow) -> str:
    """Return the seal that what is stored of a check gives, in the form that its header names.

    :raises StoreError: packed readings are damaged.
    :raises TypeError: a value of a kind that was never written.
    :raises ValueError: likewise, or a form that this program does not know.
    """
    columns = seal.SEALED.get(row.seal_form, ())
    return seal.compute(
        row.seal_form,
        {name: _stored(getattr(row, name)) for name in columns},
        journal_lines(session, row.check_id),
        map(_trace_line, traces(session, row.check_id)),
        _attachment_lines(session, row.check_id),
    )


def seal_fits(session: Session, row: CheckRow) -> bool:
    """Return whether a finished check carries the seal that what is stored of it gives."""
    try:
        return row.seal == seal_of(session, row)
    except (StoreError, TypeError, ValueError):
        return False


def _trace_line(packed: Packed) -> seal.TraceLine:
    sha256 = hashlib.sha256(canonical(packed)).hexdigest()
    return seal.TraceLine(packed.signal, packed.form, packed.count, sha256)


def _attachment_lines(session: Session, check_id: str) -> Iterator[seal.AttachmentLine]:
    rows = session.execute(
        select(
            AttachmentRow.sha256,
            AttachmentRow.name,
            AttachmentRow.media_type,
            AttachmentRow.size,
            AttachmentRow.about,
            type_coerce(AttachmentRow.added_at, String),
        )
        .where(AttachmentRow.check_id == check_id)
        .order_by(AttachmentRow.sha256)
    )
    return (seal.AttachmentLine(*row) for row in rows)


def _stored(value: str | float | datetime | None) -> str | float | None:
    return utc_text(value) if isinstance(value, datetime) else value
