"""What leaves this room: frozen descriptions of a check, free of any database."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from brimline.procedure.events import Event, Origin, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What the caller knows at the end of a check and hands over for the header.

    Odometer in km, temperature in °C, amounts in L; ``None`` where it was never learnt.
    """

    vin: str
    plate: str
    odometer_km: float | None
    work_order: str
    technician: str
    fluid: str
    verdict: Verdict
    closing_celsius: float | None
    added_litres: float
    run_off_litres: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """One check at a glance. From ``vin`` to ``run_off_litres`` an open check is mostly empty.

    :param check_id: the record's id.
    :param number: running number in this database, for people; from 1.
    :param opened_at: wall-clock time, UTC; ``finished_at`` likewise, ``None`` while it is open.
    :param origin: what the record rests on; ``invented``: whether its spec sheet is invented.
    :param vin_tail: the last eight characters of the VIN.
    :param odometer_km: km; ``closing_celsius``: °C; ``added_litres``, ``run_off_litres``: L.
    :param seal: SHA-256 in hex over the finished record, empty while it is open; ``previous_seal``
        is that of the check finished before it in this database, empty for the first.
    :param seal_number: place in the order of finishing, from 1; ``None`` while it is open.
    """

    check_id: str
    number: int
    opened_at: datetime
    finished_at: datetime | None
    origin: Origin
    invented: bool
    vin: str
    vin_tail: str
    plate: str
    odometer_km: float | None
    work_order: str
    technician: str
    family: str
    sheet_id: str
    sheet_revision: str
    duty: str
    fluid: str
    verdict: Verdict | None
    closing_celsius: float | None
    added_litres: float
    run_off_litres: float
    seal: str
    previous_seal: str
    seal_number: int | None


@dataclass(frozen=True, slots=True)
class Record:
    """One whole check: its header and everything that happened, in order."""

    header: Header
    events: tuple[Event, ...]
