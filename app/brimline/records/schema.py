"""The tables. Plain SQL types only; what only SQLite knows is in :mod:`engine` and in migrations.

Times of day are text, ISO 8601 in UTC with microseconds and a ``Z``: sortable, and readable by
a person with any tool. ``journal.t`` is s since the opening of the check.
"""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import (
    Boolean,
    Dialect,
    Float,
    ForeignKey,
    Index,
    LargeBinary,
    MetaData,
    String,
    Text,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeDecorator

from brimline.errors import StoreError
from brimline.translation import tr

NAMING = {
    "ix": "ix_%(column_0_label)s",
    "uq": "uq_%(table_name)s_%(column_0_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
"""How constraints are named, so that a later migration can find them on any database."""


def utc_text(moment: datetime) -> str:
    """Write a time of day in UTC, such as ``2031-05-06T07:08:09.000000Z``.

    :raises ValueError: the time does not know its zone.
    """
    if moment.tzinfo is None:
        raise ValueError(f"a time of day without its zone: {moment!r}")
    written = moment.astimezone(UTC).isoformat(timespec="microseconds")
    return written.removesuffix("+00:00") + "Z"


class UtcText(TypeDecorator[datetime]):
    """A column of aware times kept as text by :func:`utc_text`."""

    impl = String(27)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        """Write a time."""
        return None if value is None else utc_text(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> datetime | None:
        """Read a time.

        :raises StoreError: the text is none that :func:`utc_text` wrote.
        """
        if value is None:
            return None
        try:
            moment = datetime.fromisoformat(value)
            if utc_text(moment) == value:
                return moment
        except (TypeError, ValueError):
            pass
        raise StoreError(
            tr("The database is damaged: it holds a time of day that is none."), detail=repr(value)
        )


class Base(DeclarativeBase):
    """Root of the tables."""

    metadata = MetaData(naming_convention=NAMING)


class CheckRow(Base):
    """A check's header; the meaning of each column is that of :class:`.model.Header`."""

    __tablename__ = "checks"

    check_id: Mapped[str] = mapped_column(String(64), primary_key=True)
    number: Mapped[int] = mapped_column(unique=True)
    opened_at: Mapped[datetime] = mapped_column(UtcText)
    finished_at: Mapped[datetime | None] = mapped_column(UtcText)
    origin: Mapped[str] = mapped_column(String(16))
    invented: Mapped[bool] = mapped_column(Boolean)
    vin: Mapped[str] = mapped_column(String(17))
    vin_tail: Mapped[str] = mapped_column(String(8))
    plate: Mapped[str] = mapped_column(Text)
    odometer_km: Mapped[float | None] = mapped_column(Float)
    work_order: Mapped[str] = mapped_column(Text)
    technician: Mapped[str] = mapped_column(Text)
    family: Mapped[str] = mapped_column(Text)
    sheet_id: Mapped[str] = mapped_column(Text)
    sheet_revision: Mapped[str] = mapped_column(Text)
    duty: Mapped[str] = mapped_column(Text)
    fluid: Mapped[str] = mapped_column(Text)
    verdict: Mapped[str | None] = mapped_column(String(32))
    closing_celsius: Mapped[float | None] = mapped_column(Float)
    added_litres: Mapped[float] = mapped_column(Float)
    run_off_litres: Mapped[float] = mapped_column(Float)
    bay: Mapped[str] = mapped_column(String(32))
    plate_key: Mapped[str] = mapped_column(Text)
    work_order_key: Mapped[str] = mapped_column(Text)
    notes: Mapped[str] = mapped_column(Text)
    seal: Mapped[str] = mapped_column(String(64))
    previous_seal: Mapped[str] = mapped_column(String(64))
    seal_number: Mapped[int | None] = mapped_column()
    seal_form: Mapped[int] = mapped_column()

    # Each list is looked up by one of these and shown newest first: no sorting of what was found.
    __table_args__ = (
        UniqueConstraint("bay", "seal_number"),
        Index(None, "vin", "opened_at", "number"),
        Index(None, "vin_tail", "opened_at", "number"),
        Index(None, "plate_key", "opened_at", "number"),
        Index(None, "work_order_key", "opened_at", "number"),
        Index(None, "opened_at", "number"),
        Index(None, "family", "opened_at", "number"),
    )


class JournalRow(Base):
    """One event or reading of a check; ``seq`` starts at 1.

    While the check is open it has no gap; the readings of a finished one are in :class:`TraceRow`.
    """

    __tablename__ = "journal"

    check_id: Mapped[str] = mapped_column(
        String(64), ForeignKey(CheckRow.check_id), primary_key=True
    )
    seq: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    t: Mapped[float] = mapped_column(Float)
    wall: Mapped[datetime] = mapped_column(UtcText)
    kind: Mapped[str] = mapped_column(String(32))
    payload: Mapped[str] = mapped_column(Text)


class WarmUpRow(Base):
    """How the fluid warmed up in a check; see :mod:`.warm_ups`."""

    __tablename__ = "warm_ups"

    check_id: Mapped[str] = mapped_column(
        String(64), ForeignKey(CheckRow.check_id), primary_key=True
    )
    points: Mapped[str] = mapped_column(Text)


class TraceRow(Base):
    """The readings of one signal of a finished check, packed; see :mod:`.packing`.

    ``content`` is compressed; what was put in has ``count`` readings and is in ``form``.
    """

    __tablename__ = "traces"

    check_id: Mapped[str] = mapped_column(
        String(64), ForeignKey(CheckRow.check_id), primary_key=True
    )
    signal: Mapped[str] = mapped_column(String(32), primary_key=True)
    form: Mapped[int] = mapped_column()
    count: Mapped[int] = mapped_column()
    content: Mapped[bytes] = mapped_column(LargeBinary)


class AmendmentRow(Base):
    """A correction of a finished check; see :class:`.model.Amendment`.

    ``number`` counts from 1 within the check; the seals are of the same chain as the checks'.
    """

    __tablename__ = "amendments"

    check_id: Mapped[str] = mapped_column(
        String(64), ForeignKey(CheckRow.check_id), primary_key=True
    )
    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    at: Mapped[datetime] = mapped_column(UtcText)
    author: Mapped[str] = mapped_column(Text)
    reason: Mapped[str] = mapped_column(Text)
    field: Mapped[str] = mapped_column(String(32))
    was: Mapped[str] = mapped_column(Text)
    value: Mapped[str] = mapped_column(Text)
    value_key: Mapped[str] = mapped_column(Text)
    bay: Mapped[str] = mapped_column(String(32))
    seal: Mapped[str] = mapped_column(String(64))
    previous_seal: Mapped[str] = mapped_column(String(64))
    seal_number: Mapped[int] = mapped_column()
    seal_form: Mapped[int] = mapped_column()

    __table_args__ = (UniqueConstraint("bay", "seal_number"), Index(None, "field", "value_key"))


class AttachmentRow(Base):
    """A file kept with a check, by the SHA-256 of its content; see :mod:`.attachments`."""

    __tablename__ = "attachments"

    check_id: Mapped[str] = mapped_column(
        String(64), ForeignKey(CheckRow.check_id), primary_key=True
    )
    sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    name: Mapped[str] = mapped_column(Text)
    media_type: Mapped[str] = mapped_column(String(64))
    size: Mapped[int] = mapped_column()
    about: Mapped[str] = mapped_column(String(32))
    added_at: Mapped[datetime] = mapped_column(UtcText)

    __table_args__ = (Index(None, "sha256"),)
