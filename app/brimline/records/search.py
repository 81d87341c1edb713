"""Finding finished checks again."""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import select

from brimline.errors import StoreError
from brimline.procedure.events import Origin
from brimline.records.database import Database
from brimline.records.failures import printable
from brimline.records.model import Header
from brimline.records.repository import header_of
from brimline.records.schema import CheckRow

SERVICES = (Origin.LIVE, Origin.KEYED)
"""Origins that are services on a vehicle; the others are left out unless asked for."""

_VIN_LENGTH = 17  # ISO 3779
_TAIL_LENGTH = 8


def finished(database: Database, *, origins: Collection[Origin], limit: int) -> tuple[Header, ...]:
    """Return the checks finished last, newest first, at most ``limit`` of them.

    :raises StoreError: the database refuses.
    """
    with database.reading() as session:
        rows = session.scalars(
            select(CheckRow)
            .where(CheckRow.finished_at.is_not(None))
            .where(CheckRow.origin.in_([origin.value for origin in origins]))
            .order_by(CheckRow.opened_at.desc(), CheckRow.number.desc())
            .limit(limit)
        )
        return tuple(header_of(row) for row in rows)


def history(
    database: Database, vin_or_last_eight: str, *, origins: Collection[Origin] = SERVICES
) -> tuple[Header, ...]:
    """Return the finished checks of a vehicle, the one opened last first.

    :param vin_or_last_eight: a whole VIN or its last eight characters; capitals or not, spaces
        and hyphens between them do not matter.
    :param origins: which records to look at.
    :raises StoreError: it is neither, or the database refuses.
    """
    wanted = "".join(c for c in vin_or_last_eight if not c.isspace() and c != "-").upper()
    if not (wanted.isascii() and wanted.isalnum() and len(wanted) in (_VIN_LENGTH, _TAIL_LENGTH)):
        typed = printable(vin_or_last_eight.strip())
        raise StoreError(
            f"“{typed}” is neither a whole VIN ({_VIN_LENGTH} characters) "
            f"nor the last {_TAIL_LENGTH} characters of one."
        )
    column = CheckRow.vin if len(wanted) == _VIN_LENGTH else CheckRow.vin_tail
    with database.reading() as session:
        rows = session.scalars(
            select(CheckRow)
            .where(column == wanted, CheckRow.finished_at.is_not(None))
            .where(CheckRow.origin.in_([origin.value for origin in origins]))
            .order_by(CheckRow.opened_at.desc(), CheckRow.number.desc())
        )
        return tuple(header_of(row) for row in rows)
