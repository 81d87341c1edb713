"""What leaves this room: frozen descriptions of a check, free of any database."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from typing import Any

from brimline.procedure.attaching import About
from brimline.procedure.events import Event, Origin, Verdict

FIRST_BAY = "1"
"""Name of the bay where the settings name none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What the caller knows at the end of a check and hands over for the header.

    Odometer in km, temperature in °C, amounts in L; ``None`` where it was never learnt.

    :param attachments: the files that were taken into the check, by their SHA-256.
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
    attachments: tuple[str, ...] = ()


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
        is the one before it in the chain of its bay, empty for the first.
    :param seal_number: place in that chain, from 1; ``None`` while it is open.
    :param seal_form: which form of :mod:`.seal` it is sealed in.
    :param bay: name of the bay whose chain it is in.
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
    bay: str
    seal: str
    previous_seal: str
    seal_number: int | None
    seal_form: int


class Amendable(StrEnum):
    """What of a finished check is amended: what a person typed; notes and files added to it.

    Not the fluid, for the gates have judged by it, and nothing that was measured or concluded.
    """

    VIN = "vin"
    PLATE = "plate"
    WORK_ORDER = "work_order"
    ODOMETER = "odometer_km"
    TECHNICIAN = "technician"
    NOTE = "note"
    ATTACHMENT = "attachment"


ADDED = (Amendable.NOTE, Amendable.ATTACHMENT)
"""What comes beside what is there, and takes the place of nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amendment:
    """A correction of a finished check, or a note on it. The check itself stays as it was sealed.

    :param check_id: id of the check's record; ``number`` counts its amendments from 1.
    :param at: wall-clock time, UTC.
    :param was: what the record said until then, as text; empty for what was added or never learnt.
        ``value`` is what it says since. An odometer is a number of km, such as ``84210.0``; a file
        is written as :attr:`Attachment.line`.
    :param bay: name of the bay whose chain it is in; ``seal_number`` is its place there.
    :param seal: SHA-256 in hex, see :mod:`.seal_amendment`; ``previous_seal`` the one before it.
    """

    check_id: str
    number: int
    at: datetime
    author: str
    reason: str
    field: Amendable
    was: str
    value: str
    bay: str
    seal: str
    previous_seal: str
    seal_number: int


def short_seal(seal: str) -> str:
    """Return the first 16 digits of a seal in groups of four, to be compared by eye."""
    return " ".join(seal[start : start + 4] for start in range(0, min(len(seal), 16), 4))


def said(header: Header, field: Amendable) -> str:
    """Return what a header says of a field, as an amendment writes it; nothing of what is added."""
    value = None if field in ADDED else getattr(header, field.value)
    return "" if value is None else str(value)


def amended(header: Header, amendments: Iterable[Amendment]) -> Header:
    """Return what a header says with the amendments of its check, in their order."""
    now: dict[str, Any] = {}
    for each in amendments:
        if each.field is Amendable.ODOMETER:
            now[each.field.value] = float(each.value)
        elif each.field not in ADDED:
            now[each.field.value] = each.value
    vin = now.get(Amendable.VIN.value, header.vin)
    return replace(header, **now, vin_tail=vin[-8:])


@dataclass(frozen=True, slots=True, kw_only=True)
class Attachment:
    """A file that belongs to a check.

    :param sha256: of its content, 64 hexadecimal digits; ``size`` of it in bytes.
    :param name: as the file was called when it came; ``media_type`` by its content.
    :param added_at: wall-clock time, UTC.
    :param amendment: the number of the amendment that it came with, 0 where it was there before
        the check was sealed.
    """

    sha256: str
    name: str
    media_type: str
    size: int
    about: About
    added_at: datetime
    amendment: int = 0

    @property
    def line(self) -> str:
        """Hash, size, media type, what it is about and name in one line, as an amendment has it."""
        return f"{self.sha256} {self.size} {self.media_type} {self.about} {self.name}"


def attachment_in(amendment: Amendment) -> Attachment:
    """Return the file that an amendment adds.

    :raises ValueError: it adds none, or its line is none that :attr:`Attachment.line` writes.
    """
    if amendment.field is not Amendable.ATTACHMENT:
        raise ValueError(f"an amendment of {amendment.field}")
    sha256, size, media_type, about, name = amendment.value.split(" ", 4)
    made = Attachment(
        sha256=sha256, name=name, media_type=media_type, size=int(size), about=About(about),
        added_at=amendment.at, amendment=amendment.number,
    )  # fmt: skip
    if made.line != amendment.value:
        raise ValueError(f"not as a file is written: {amendment.value}")
    return made


@dataclass(frozen=True, slots=True)
class Held:
    """An entry of a journal that is in memory only.

    :param seq: its place in the record; ``wall``: wall-clock time; ``payload``: as it is stored.
    """

    seq: int
    wall: datetime
    payload: str


@dataclass(frozen=True, slots=True)
class Record:
    """One whole check: its header, everything that happened, in order, and its amendments.

    :param attachments: its files, those that came with an amendment last.
    """

    header: Header
    events: tuple[Event, ...]
    amendments: tuple[Amendment, ...] = ()
    attachments: tuple[Attachment, ...] = ()
