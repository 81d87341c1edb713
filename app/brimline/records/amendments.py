"""Correcting finished checks. What was sealed stays; what is amended is told beside it."""

from __future__ import annotations

import unicodedata
from datetime import datetime

from sqlalchemy.orm import Session

from brimline.errors import AmendmentError, UnitError
from brimline.procedure.attaching import About
from brimline.procedure.taps_ground import MAX_ODOMETER_KM
from brimline.records import seal_amendment, tail
from brimline.records.amendment_rows import amendment_of, amendments_in
from brimline.records.attachment_rows import attachments_in
from brimline.records.attachments import Kept
from brimline.records.chain_tip import Link, next_link
from brimline.records.database import Database
from brimline.records.keys import free_text, search_key
from brimline.records.model import (
    ADDED,
    Amendable,
    Amendment,
    Attachment,
    Header,
    amended,
    said,
)
from brimline.records.repository import find
from brimline.records.schema import AmendmentRow, utc_text
from brimline.translation import tr
from brimline.units import Dimension, parse
from brimline.vin import parse_vin

_MAY_BE_EMPTY = (Amendable.PLATE, Amendable.WORK_ORDER)


def amend(
    database: Database,
    record_id: str,
    *,
    field: Amendable,
    value: str,
    author: str,
    reason: str,
    at: datetime,
) -> Amendment:
    """Amend a finished check; the amendment is sealed into the chain of the check's bay.

    :param record_id: as for :meth:`.repository.Repository.load`.
    :param value: what is to be said from now on, or the note to be added. An odometer reading
        may have its unit with it; without one it is in km, up to 3,000,000. A file is added by
        :func:`attach`.
    :param author: who amends, and ``reason`` why; neither may be empty.
    :param at: wall-clock time, aware of its zone.
    :raises AmendmentError: the check is not finished, says so already, or the words do not fit.
    :raises VinError: the value is to be a VIN and cannot be one.
    :raises UnitError: the value is to be an odometer reading and is no distance.
    :raises StoreError: no such record, or the database refuses.
    :raises ValueError: a time without its zone, or a file.
    """
    if field is Amendable.ATTACHMENT:
        raise ValueError("a file is added by attach()")
    new, key = _checked(field, value)
    return _amend(database, record_id, field, new, key, author, reason, at)


def _amend(
    database: Database,
    record_id: str,
    field: Amendable,
    new: str,
    key: str,
    author: str,
    reason: str,
    at: datetime,
) -> Amendment:
    """Seal an amendment whose value has been looked at; ``key`` is what it is looked up by."""
    who, why = _said(author, tr("Who amends")), _said(reason, tr("The reason"))
    utc_text(at)
    with tail.noting(database) as note, database.writing() as session:
        header = find(session, record_id)
        if header.finished_at is None:
            raise AmendmentError(
                tr(
                    "Record {number} is not finished; what is wrong in it is put right there.",
                    number=header.number,
                )
            )
        earlier = amendments_in(session, header.check_id)
        was = said(amended(header, earlier), field)
        if field not in ADDED and was == new:
            raise AmendmentError(
                tr("Record {number} says so already; nothing was amended.", number=header.number)
            )
        if field is Amendable.ATTACHMENT:
            _require_new(session, header, earlier, key)
        previous_seal, place = next_link(session, header.bay)
        row = AmendmentRow(
            check_id=header.check_id, number=len(earlier) + 1, at=at, author=who, reason=why,
            field=field.value, was=was, value=new, value_key=key, bay=header.bay,
            previous_seal=previous_seal, seal_number=place, seal_form=seal_amendment.FORM[1],
        )  # fmt: skip
        columns = {name: getattr(row, name) for name in seal_amendment.SEALED}
        row.seal = seal_amendment.compute({**columns, "at": utc_text(at)})
        session.add(row)
        note.intend(header.bay, previous_seal, Link(place, row.seal))
        return amendment_of(row)


def amendments_of(database: Database, check_id: str) -> tuple[Amendment, ...]:
    """Return the amendments of a check, oldest first.

    :param check_id: the whole id.
    :raises StoreError: the database refuses, or one of them is damaged.
    """
    with database.reading() as session:
        return amendments_in(session, check_id)


def attach(
    database: Database,
    record_id: str,
    kept: Kept,
    about: About,
    *,
    author: str,
    reason: str,
    at: datetime,
) -> Amendment:
    """Add a file that is kept to a finished check, as an amendment.

    :param record_id: as for :meth:`.repository.Repository.load`.
    :raises AmendmentError: the check is not finished, has the file already, or nobody says why.
    :raises StoreError: no such record, or the database refuses.
    :raises ValueError: a time without its zone.
    """
    file = Attachment(
        sha256=kept.sha256, name=kept.name, media_type=kept.media_type, size=kept.size,
        about=about, added_at=at,
    )  # fmt: skip
    field = Amendable.ATTACHMENT
    return _amend(database, record_id, field, file.line, kept.sha256, author, reason, at)


def _require_new(
    session: Session, header: Header, earlier: tuple[Amendment, ...], sha256: str
) -> None:
    known = attachments_in(session, header, earlier)
    if any(each.sha256 == sha256 for each in known):
        raise AmendmentError(tr("Record {number} has this file already.", number=header.number))


def _checked(field: Amendable, value: str) -> tuple[str, str]:
    """Return a value as it is kept, and as it is looked up: a VIN by its last eight characters."""
    if field is Amendable.VIN:
        text = parse_vin(value).text
        return text, text[-8:]
    if field is Amendable.ODOMETER:
        text = str(_kilometres(value))
        return text, text
    text = _clean(value)
    if not text and field not in _MAY_BE_EMPTY:
        raise AmendmentError(tr("There is nothing to amend: say what it is to be."))
    is_key = field in (Amendable.PLATE, Amendable.WORK_ORDER)
    return text, search_key(text) if is_key else free_text(text)


def _kilometres(value: str) -> float:
    kilometres = parse(value, Dimension.DISTANCE, assume="km")
    if not 0 <= kilometres <= MAX_ODOMETER_KM:
        raise UnitError(tr("“{value}” is no reading of an odometer.", value=value.strip()))
    return kilometres + 0.0  # no “-0”


def _said(text: str, what: str) -> str:
    said_so = _clean(text)
    if not said_so:
        raise AmendmentError(tr("{what} must be said with an amendment.", what=what))
    return said_so


def _clean(text: str) -> str:
    """Return text without spaces around it; lines stay."""
    kept = text.replace("\r\n", "\n").replace("\t", " ").strip()
    if any(unicodedata.category(c) in ("Cc", "Cs") for c in kept.replace("\n", "")):
        raise AmendmentError(tr("The words hold characters that no record keeps; type them anew."))
    return kept
