"""The journal of a running check: what happened, on the disk before the next thing happens.

A tap or a deadline is on the disk when :meth:`Journal.append` returns, and with it every reading
that waited before it. Readings wait at most :data:`HOLD_S`, so that a dead computer costs no tap
and no more than the last second of readings.

If the disk refuses, the check goes on: entries stay in memory in their order, :attr:`error` says
so, and each tap, and a reading once a :data:`HOLD_S`, tries again. A check has one thread that
enters; another one may look after :meth:`Journal.save_due`, see :mod:`.saver`.
"""

from __future__ import annotations

import itertools
import math
import threading
import time
from collections import deque
from collections.abc import Callable
from datetime import datetime
from typing import NamedTuple

from sqlalchemy import func, insert, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.procedure.events import CheckOpened, Event
from brimline.reading import Reading
from brimline.records import seal
from brimline.records.codec import encode_event
from brimline.records.database import Database
from brimline.records.model import FIRST_BAY, Header, Held
from brimline.records.repository import header_of
from brimline.records.schema import CheckRow, JournalRow
from brimline.records.stored import last_seq
from brimline.translation import marked, tr

HOLD_S = 0.75
"""How long a reading may wait in memory, s: whoever looks every 0.1 s has it on the disk within a
second."""

HOLD_COUNT = 500
"""How many readings may wait in memory while the disk is well."""

MOST_UNSAVED = 100_000
"""How many entries are kept while the disk refuses, about 34 MB; after that readings are dropped
and counted, taps never. 40 minutes at 40 readings a second."""

_CHUNK = 1000  # rows in one transaction while catching up


class _Entry(NamedTuple):
    t: float
    wall: datetime
    kind: str
    payload: str


class Journal:
    """The journal of one check at a time, in a database opened for writing.

    :param bay: name of the bay, whose chain of seals the record will be in.
    :param clock: monotonic time in s; it decides only how long readings wait.
    """

    def __init__(
        self,
        database: Database,
        *,
        bay: str = FIRST_BAY,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._database = database
        self._bay = bay
        self._clock = clock
        self._check_id: str | None = None
        self._last = 0  # seq of the newest row on the disk
        self._waiting: deque[_Entry] = deque()
        self._oldest_since = 0.0  # clock when the oldest waiting entry came
        self._tried_at = 0.0  # clock at the last attempt to write
        self._error: StoreError | None = None
        self._dropped = 0
        self._lock = threading.RLock()

    @property
    def check_id(self) -> str:
        """The record that is being written; empty before the first."""
        return self._check_id or ""

    @property
    def last(self) -> int:
        """Place in the record of the newest entry, be it on the disk or in memory only."""
        with self._lock:
            return self._last + len(self._waiting)

    def held(self) -> tuple[Held, ...]:
        """Return what is in memory only, in order."""
        with self._lock:
            return tuple(
                Held(seq, entry.wall, entry.payload)
                for seq, entry in enumerate(self._waiting, self._last + 1)
            )

    @property
    def unsaved(self) -> int:
        """Entries that are in memory only: up to 500 readings, more while the disk refuses."""
        return len(self._waiting)

    @property
    def dropped(self) -> int:
        """Readings that were given up because too many entries were unsaved."""
        return self._dropped

    @property
    def error(self) -> StoreError | None:
        """Why the disk refused at the last attempt; ``None`` while all is well."""
        return self._error

    def begin(self, opened: CheckOpened, wall: datetime) -> Header:
        """Start a record: its header, as far as known, and its first event, in one transaction.

        :param wall: wall-clock time of the event, aware of its zone.
        :raises StoreError: the database refuses, has a record of this id, or still refuses what
            waits from the check before; then no check may be run.
        """
        entry = _entry(opened, wall)
        self.flush()  # what waits of the check before
        try:
            with self._database.writing() as session:
                row = _opened_row(session, opened, self._bay)
                session.add(row)
                session.flush()
                session.execute(insert(JournalRow), [_row(opened.check_id, 1, entry)])
                header = header_of(row)
        except IntegrityError as error:
            raise StoreError(
                tr(
                    "There is a record “{check_id}” already; the new check was not begun.",
                    check_id=opened.check_id,
                ),
                detail=str(error.orig),
            ) from error
        self._start(opened.check_id, 1)
        return header

    def resume(self, check_id: str) -> None:
        """Go on with the record of an open check, after the last entry on the disk.

        :raises StoreError: no such check, it is finished, or the database refuses, also what
            waits from the check before.
        """
        self.flush()
        with self._database.reading() as session:
            row = session.get(CheckRow, check_id)
            if row is None or row.finished_at is not None:
                none = marked("There is no record “{check_id}” to go on with.")
                finished = marked("There is no open record “{check_id}” to go on with.")
                raise StoreError(tr(none if row is None else finished, check_id=check_id))
            last = last_seq(session, check_id)
        self._start(check_id, last)

    def append(self, event: Event, wall: datetime) -> None:
        """Enter an event or a reading; anything but a reading is on the disk on return.

        A refusing disk raises nothing: see :attr:`error` and :attr:`unsaved`.

        :param wall: wall-clock time of the event, aware of its zone.
        :raises StoreError: the event cannot be written as text, or the check is finished.
        :raises ValueError: no check was begun, a second opening, or a time that is none.
        """
        if self._check_id is None or isinstance(event, CheckOpened):
            raise ValueError("a record begins with begin() or resume(), once")
        entry = _entry(event, wall)
        is_reading = isinstance(event, Reading)
        with self._lock:
            if is_reading and len(self._waiting) >= MOST_UNSAVED:
                self._dropped += 1
            else:
                if not self._waiting:
                    self._oldest_since = self._clock()
                self._waiting.append(entry)
            if is_reading:
                self.save_due()
            else:
                self._save()

    def save_due(self) -> None:
        """Write the readings that have waited long enough; for a loop in which none arrive.

        A refusing disk raises nothing.
        """
        with self._lock:
            if not self._waiting:
                return
            since = self._oldest_since if self._error is None else self._tried_at
            full = self._error is None and len(self._waiting) >= HOLD_COUNT
            if full or self._clock() - since >= HOLD_S:
                self._save()

    def flush(self) -> None:
        """Write everything that waits.

        :raises StoreError: the disk still refuses; nothing is lost, it may be tried again.
        """
        with self._lock:
            self._save()
            if self._error is not None:
                raise self._error

    def _start(self, check_id: str, last: int) -> None:
        with self._lock:
            self._check_id, self._last, self._dropped = check_id, last, 0

    def _save(self) -> None:
        self._tried_at = self._clock()
        try:
            while self._waiting:
                self._write_some()
        except StoreError as error:
            self._error = error
            self._tried_at = self._clock()  # a lock is waited for; the next try is not due at once
        except IntegrityError as error:  # only a finished check refuses a row that fits
            self._waiting.clear()  # it will refuse them for ever
            raise StoreError(
                tr("The check is finished; nothing more can be entered into its record."),
                detail=str(error.orig),
            ) from error
        else:
            self._error = None

    def _write_some(self) -> None:
        check_id = self._check_id or ""
        with self._database.writing() as session:
            # A refused commit may have reached the disk all the same: do not write it twice.
            doubt = self._error is not None
            known = max(0, last_seq(session, check_id) - self._last) if doubt else 0
            chunk = itertools.islice(self._waiting, known, _CHUNK)
            rows = [
                _row(check_id, seq, entry)
                for seq, entry in enumerate(chunk, self._last + known + 1)
            ]
            if rows:
                session.execute(insert(JournalRow), rows)
        for _ in range(known + len(rows)):
            self._waiting.popleft()
        self._last += known + len(rows)


def _entry(event: Event, wall: datetime) -> _Entry:
    if wall.tzinfo is None:
        raise ValueError(f"a time of day without its zone: {wall!r}")
    if not math.isfinite(event.t):
        raise ValueError(f"a time that is none: {event.t}")
    return _Entry(float(event.t), wall, event.kind, encode_event(event))


def _row(check_id: str, seq: int, entry: _Entry) -> dict[str, object]:
    return {"check_id": check_id, "seq": seq, **entry._asdict()}


def _opened_row(session: Session, opened: CheckOpened, bay: str) -> CheckRow:
    return CheckRow(
        check_id=opened.check_id,
        number=(session.scalar(select(func.max(CheckRow.number))) or 0) + 1,
        opened_at=opened.opened_at,
        finished_at=None,
        origin=opened.origin.value,
        invented=opened.sheet.invented,
        vin="",
        vin_tail="",
        plate="",
        odometer_km=None,
        work_order="",
        technician=opened.technician,
        family=opened.sheet.transmission.family,
        sheet_id=opened.sheet.id,
        sheet_revision=opened.sheet.source.revision,
        duty=opened.duty,
        fluid="",
        verdict=None,
        closing_celsius=None,
        added_litres=0.0,
        run_off_litres=0.0,
        bay=bay,
        plate_key="",
        work_order_key="",
        notes="",
        seal="",
        previous_seal="",
        seal_number=None,
        seal_form=seal.NEWEST,
    )
