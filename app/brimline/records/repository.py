"""Finished and open checks: finishing one, loading one, listing the open ones."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ColumnElement, or_, select
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.procedure.events import Event, Origin, Verdict
from brimline.records import seal, tail
from brimline.records.amendment_rows import amendments_in
from brimline.records.attachment_rows import attachments_in, is_listed, list_kept
from brimline.records.chain_tip import Link, next_link
from brimline.records.database import Database
from brimline.records.failures import printable
from brimline.records.keys import derived
from brimline.records.model import Header, Outcome, Record
from brimline.records.schema import CheckRow
from brimline.records.stored import last_seq, seal_fits, seal_of, traces
from brimline.records.traces import events_of, pack_readings
from brimline.translation import tr

SHORTEST_PREFIX = 6
"""So many characters of a record's id are enough, if no other record's id starts with them."""

NOT_IN_HEADER = ("origin", "verdict", "plate_key", "work_order_key", "notes")
"""Columns that no header shows as they are; the last three are there to be searched by."""

_LAST = "\U0010ffff"  # no character comes after it
_MOST_DIGITS = 18  # what SQLite's integers hold for certain


class Repository:
    """The checks of one database. Every method is one transaction."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def finish(self, check_id: str, outcome: Outcome, finished_at: datetime) -> Header:
        """Pack the readings of a check, write its header and the list of its attachments, and seal
        the record, all or nothing.

        Whatever the journal still holds in memory must have been flushed before.

        :param finished_at: wall-clock time, aware of its zone.
        :raises StoreError: no such check, it is finished already, or the database refuses.
        :raises ValueError: a number that is not finite, or a time without its zone.
        """
        with tail.noting(self._database) as note, self._database.writing() as session:
            row = session.get(CheckRow, check_id)
            if row is None:
                raise StoreError(
                    tr("There is no record “{check_id}” to finish.", check_id=check_id)
                )
            if row.finished_at is not None:
                raise StoreError(
                    tr(
                        "Record {number} is finished and sealed; it stays as it is.",
                        number=row.number,
                    )
                )
            _refuse_strays(session, header_of(row))
            pack_readings(session, check_id, row.opened_at)
            list_kept(session, check_id, outcome.attachments)
            _fill(row, outcome, _events(session, row.number, check_id))
            row.finished_at = finished_at
            row.previous_seal, row.seal_number = next_link(session, row.bay)
            row.seal_form = seal.NEWEST
            row.seal = seal_of(session, row)
            note.intend(row.bay, row.previous_seal, Link(row.seal_number, row.seal))
            return header_of(row)

    def load(self, record_id: str) -> Record:
        """Load a whole record.

        :param record_id: the whole id, its first six or more characters where they fit one record
            only, or the record's running number.
        :raises StoreError: it fits none or several, or the record is damaged.
        """
        with self._database.reading() as session:
            header = find(session, record_id)
            _refuse_strays(session, header)
            events = _events(session, header.number, header.check_id)
            amendments = amendments_in(session, header.check_id)
            attachments = attachments_in(session, header, amendments)
        return Record(header, events, amendments, attachments)

    def open_checks(self) -> tuple[Header, ...]:
        """Return the checks that were begun and not finished, oldest first."""
        with self._database.reading() as session:
            rows = session.scalars(
                select(CheckRow).where(CheckRow.finished_at.is_(None)).order_by(CheckRow.number)
            )
            return tuple(header_of(row) for row in rows)

    def entries(self, check_id: str) -> int:
        """Return how many entries the journal of an open check has."""
        with self._database.reading() as session:
            return last_seq(session, check_id)

    def is_intact(self, record_id: str) -> bool:
        """Return whether a finished record still carries the seal that its content gives.

        :raises StoreError: no such record, or it is not finished.
        """
        with self._database.reading() as session:
            header = find(session, record_id)
            if header.finished_at is None:
                raise StoreError(
                    tr(
                        "Record {number} is not finished, so it has no seal yet.",
                        number=header.number,
                    )
                )
            return seal_fits(session, session.get_one(CheckRow, header.check_id))


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
        if column.key not in NOT_IN_HEADER
    }
    return Header(**plain, origin=origin, verdict=verdict)


def _fill(row: CheckRow, outcome: Outcome, events: tuple[Event, ...]) -> None:
    row.vin = outcome.vin.upper()
    row.plate = outcome.plate
    row.odometer_km = _number(outcome.odometer_km)
    row.work_order = outcome.work_order
    row.technician = outcome.technician
    row.fluid = outcome.fluid
    row.verdict = outcome.verdict.value
    row.closing_celsius = _number(outcome.closing_celsius)
    row.added_litres = float(outcome.added_litres)
    row.run_off_litres = float(outcome.run_off_litres)
    for name, text in derived(row.vin, row.plate, row.work_order, events).items():
        setattr(row, name, text)


def _number(value: float | None) -> float | None:
    """A whole number reads back from its column as a float; the seal must see it so at once."""
    return None if value is None else float(value)


def find(session: Session, record_id: str) -> Header:
    """Return the header of the one record that an id, its start, or a number fits.

    :raises StoreError: it fits none or several.
    """
    wanted = printable(record_id.strip())
    exact = session.get(CheckRow, wanted)
    if exact is not None:
        return header_of(exact)
    fits: list[ColumnElement[bool]] = []
    if wanted.isascii() and wanted.isdigit() and len(wanted) <= _MOST_DIGITS:
        fits.append(CheckRow.number == int(wanted))
    if len(wanted) >= SHORTEST_PREFIX:
        # Ids are written small. Between two ends, because no index is for the start of a text.
        fits += [
            CheckRow.check_id.between(start, start + _LAST) for start in {wanted, wanted.lower()}
        ]
    rows = session.scalars(select(CheckRow).where(or_(*fits)).limit(2)).all() if fits else []
    if len(rows) > 1:
        raise StoreError(
            tr("“{wanted}” fits more than one record; give more of the record's id.", wanted=wanted)
        )
    if not rows:
        raise StoreError(
            tr(
                "There is no record “{wanted}”; give its number, its id, or at least the first "
                "{shortest_prefix} characters of its id.",
                wanted=wanted,
                shortest_prefix=SHORTEST_PREFIX,
            )
        )
    return header_of(rows[0])


def _events(session: Session, number: int, check_id: str) -> tuple[Event, ...]:
    try:
        return events_of(session, check_id)
    except StoreError as error:
        raise _damaged(number, error.detail) from error


def _refuse_strays(session: Session, header: Header) -> None:
    """What no seal is over is nobody's: packed readings and listed attachments of an open check,
    or of one in the first form."""
    if header.finished_at is not None and header.seal_form == seal.NEWEST:
        return
    if traces(session, header.check_id):
        raise _damaged(header.number, "packed readings where there can be none")
    if is_listed(session, header.check_id):
        raise _damaged(header.number, "attachments where there can be none")


def _damaged(number: int, detail: str) -> StoreError:
    return StoreError(
        tr("Record {number} is damaged and cannot be read.", number=number), detail=detail
    )
