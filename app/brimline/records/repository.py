"""Finished and open checks: finishing one, loading one, listing the open ones."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from sqlalchemy import ColumnElement, String, or_, select, type_coerce
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.procedure.events import Event, Origin, Verdict
from brimline.records import seal
from brimline.records.codec import decode_event
from brimline.records.database import Database
from brimline.records.failures import printable
from brimline.records.model import Header, Outcome, Record
from brimline.records.schema import CheckRow, JournalRow, utc_text

SHORTEST_PREFIX = 6
"""So many characters of a record's id are enough, if no other record's id starts with them."""

_MOST_DIGITS = 18  # what SQLite's integers hold for certain


class Repository:
    """The checks of one database. Every method is one transaction."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def finish(self, check_id: str, outcome: Outcome, finished_at: datetime) -> Header:
        """Write the header of a check whose journal is complete, and seal the record.

        Whatever the journal still holds in memory must have been flushed before.

        :param finished_at: wall-clock time, aware of its zone.
        :raises StoreError: no such check, it is finished already, or the database refuses.
        :raises ValueError: a number that is not finite, or a time without its zone.
        """
        with self._database.writing() as session:
            row = session.get(CheckRow, check_id)
            if row is None:
                raise StoreError(f"There is no record “{check_id}” to finish.")
            if row.finished_at is not None:
                raise StoreError(f"Record {row.number} is finished and sealed; it stays as it is.")
            previous = session.scalars(
                select(CheckRow)
                .where(CheckRow.seal_number.is_not(None))
                .order_by(CheckRow.seal_number.desc())
                .limit(1)
            ).first()
            _fill(row, outcome)
            row.finished_at = finished_at
            row.previous_seal = "" if previous is None else previous.seal
            row.seal_number = 1 if previous is None else (previous.seal_number or 0) + 1
            row.seal = _seal_of(row, _lines(session, check_id))
            return header_of(row)

    def load(self, record_id: str) -> Record:
        """Load a whole record.

        :param record_id: the whole id, its first six or more characters where they fit one record
            only, or the record's running number.
        :raises StoreError: it fits none or several, or the record is damaged.
        """
        with self._database.reading() as session:
            header = _find(session, record_id)
            events = tuple(_events(session, header))
        return Record(header, events)

    def open_checks(self) -> tuple[Header, ...]:
        """Return the checks that were begun and not finished, oldest first."""
        with self._database.reading() as session:
            rows = session.scalars(
                select(CheckRow).where(CheckRow.finished_at.is_(None)).order_by(CheckRow.number)
            )
            return tuple(header_of(row) for row in rows)

    def is_intact(self, record_id: str) -> bool:
        """Return whether a finished record still carries the seal that its content gives.

        :raises StoreError: no such record, or it is not finished.
        """
        with self._database.reading() as session:
            header = _find(session, record_id)
            if header.finished_at is None:
                raise StoreError(f"Record {header.number} is not finished, so it has no seal yet.")
            row = session.get_one(CheckRow, header.check_id)
            try:
                return row.seal == _seal_of(row, _lines(session, header.check_id))
            except (TypeError, ValueError):  # a value of a kind that was never written
                return False


def header_of(row: CheckRow) -> Header:
    """Return the header that a row holds.

    :raises StoreError: the row holds a word that no header knows.
    """
    try:
        origin = Origin(row.origin)
        verdict = None if row.verdict is None else Verdict(row.verdict)
    except ValueError as error:
        raise _damaged(row.number, str(error)) from error
    plain = {
        column.key: getattr(row, column.key)
        for column in CheckRow.__table__.columns
        if column.key not in ("origin", "verdict")
    }
    return Header(**plain, origin=origin, verdict=verdict)


def _fill(row: CheckRow, outcome: Outcome) -> None:
    row.vin = outcome.vin.upper()
    row.vin_tail = row.vin[-8:]
    row.plate = outcome.plate
    row.odometer_km = _number(outcome.odometer_km)
    row.work_order = outcome.work_order
    row.technician = outcome.technician
    row.fluid = outcome.fluid
    row.verdict = outcome.verdict.value
    row.closing_celsius = _number(outcome.closing_celsius)
    row.added_litres = float(outcome.added_litres)
    row.run_off_litres = float(outcome.run_off_litres)


def _number(value: float | None) -> float | None:
    """A whole number reads back from its column as a float; the seal must see it so at once."""
    return None if value is None else float(value)


def _find(session: Session, record_id: str) -> Header:
    wanted = printable(record_id.strip())
    exact = session.get(CheckRow, wanted)
    if exact is not None:
        return header_of(exact)
    fits: list[ColumnElement[bool]] = []
    if wanted.isascii() and wanted.isdigit() and len(wanted) <= _MOST_DIGITS:
        fits.append(CheckRow.number == int(wanted))
    if len(wanted) >= SHORTEST_PREFIX:
        fits.append(CheckRow.check_id.istartswith(wanted, autoescape=True))
    rows = session.scalars(select(CheckRow).where(or_(*fits)).limit(2)).all() if fits else []
    if len(rows) > 1:
        raise StoreError(f"“{wanted}” fits more than one record; give more of the record's id.")
    if not rows:
        raise StoreError(
            f"There is no record “{wanted}”; give its number, its id, "
            f"or at least the first {SHORTEST_PREFIX} characters of its id."
        )
    return header_of(rows[0])


def _lines(session: Session, check_id: str) -> Iterator[seal.JournalLine]:
    """The rows of the journal as stored; a seal is over the text of a time, not its meaning."""
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


def _events(session: Session, header: Header) -> Iterator[Event]:
    for place, line in enumerate(_lines(session, header.check_id), start=1):
        if line.seq != place:
            raise _damaged(header.number, f"entry {place} is missing, {line.seq} follows")
        try:
            event = decode_event(line.payload)
        except StoreError as error:
            raise _damaged(header.number, f"entry {place}: {error.detail}") from error
        if (event.kind, event.t) != (line.kind, line.t):
            raise _damaged(header.number, f"entry {place}: columns and payload differ")
        yield event


def _seal_of(row: CheckRow, lines: Iterator[seal.JournalLine]) -> str:
    return seal.compute({name: _stored(getattr(row, name)) for name in seal.SEALED}, lines)


def _stored(value: str | float | datetime | None) -> str | float | None:
    return utc_text(value) if isinstance(value, datetime) else value


def _damaged(number: int, detail: str) -> StoreError:
    return StoreError(f"Record {number} is damaged and cannot be read.", detail=detail)
