"""Readings on their way from the journal into packed traces, and from there into a record again."""

from __future__ import annotations

import heapq
from collections.abc import Collection, Iterable, Iterator
from datetime import datetime
from operator import attrgetter

import numpy as np
from sqlalchemy import bindparam, delete, insert
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.procedure.events import Event
from brimline.reading import Reading, SignalName
from brimline.records import stored
from brimline.records.codec import decode_event
from brimline.records.packing import Packed, Packer, unpack
from brimline.records.schema import JournalRow, TraceRow
from brimline.records.seal import JournalLine

_UNREADABLE = "The record is damaged and cannot be read."


def pack_readings(session: Session, check_id: str, opened_at: datetime) -> None:
    """Move the readings of a check that is about to be finished from its journal into traces.

    What was packed is unpacked and compared with the journal before a row of that is deleted; a
    reading that does not come back to the letter stays where it is.

    :raises StoreError: the database refuses.
    """
    stay: set[int] = set()
    while True:
        packed = _packed(_readings(session, check_id), opened_at, stay)
        unlike = set(_unlike(_readings(session, check_id), packed))
        if not unlike:
            break
        stay |= unlike
    if not packed:
        return
    seqs = [seq for trace in packed for seq in unpack(trace).seq.tolist()]
    row = (JournalRow.check_id == check_id, JournalRow.seq == bindparam("packed"))
    connection = session.connection()
    connection.execute(delete(JournalRow).where(*row), [{"packed": seq} for seq in seqs])
    connection.execute(insert(TraceRow), [_row(check_id, trace) for trace in packed])


def events_of(session: Session, check_id: str) -> tuple[Event, ...]:
    """Return everything that happened in a check, readings and all, in order.

    :raises StoreError: an entry or a trace is damaged, or an entry is missing or twice there.
    """
    places, events = [], []
    for line in stored.journal_lines(session, check_id):
        places.append(line.seq)
        events.append(_checked(line))
    seqs = [np.array(places, np.int64)]
    for trace in map(unpack, stored.traces(session, check_id)):
        seqs.append(trace.seq)
        events += trace.readings
    place = np.concatenate(seqs)
    order = np.argsort(place, kind="stable")
    gaps = np.flatnonzero(place[order] != np.arange(1, len(order) + 1))
    if len(gaps):
        raise StoreError(_UNREADABLE, detail=f"entry {gaps[0] + 1} is missing or twice there")
    return tuple(map(events.__getitem__, order.tolist()))


def _checked(line: JournalLine) -> Event:
    event = decode_event(line.payload)
    # A hand at the file may have put a value of any kind into any column.
    sound = tuple(map(type, (line.seq, line.wall, line.payload))) == (int, str, str)
    if not sound or (event.kind, event.t) != (line.kind, line.t):
        raise StoreError(_UNREADABLE, detail=f"entry {line.seq}: columns and payload differ")
    return event


def _readings(session: Session, check_id: str) -> Iterator[JournalLine]:
    return (line for line in stored.journal_lines(session, check_id) if line.kind == "reading")


def _packed(
    lines: Iterable[JournalLine], opened_at: datetime, stay: Collection[int]
) -> list[Packed]:
    packers: dict[SignalName, Packer] = {}
    for line in lines:
        reading = None if line.seq in stay else _decoded(line)
        if reading is None:
            continue
        if reading.signal not in packers:
            packers[reading.signal] = Packer(reading.signal, opened_at)
        packers[reading.signal].add(line, reading)
    return [trace for packer in packers.values() if (trace := packer.packed()) is not None]


def _decoded(line: JournalLine) -> Reading | None:
    try:
        reading = _checked(line)
    except StoreError:  # whoever reads the record is told
        return None
    return reading if isinstance(reading, Reading) else None


def _unlike(lines: Iterator[JournalLine], packed: Iterable[Packed]) -> Iterator[int]:
    """Yield the places of readings that do not come back as they stand in the journal."""
    for again in heapq.merge(*(unpack(each).lines() for each in packed), key=attrgetter("seq")):
        if next(line for line in lines if line.seq == again.seq) != again:
            yield again.seq


def _row(check_id: str, trace: Packed) -> dict[str, object]:
    return {
        "check_id": check_id,
        "signal": trace.signal,
        "form": trace.form,
        "count": trace.count,
        "content": trace.content,
    }
