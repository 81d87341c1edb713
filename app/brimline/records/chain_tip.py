"""The newest link of a bay's chain of seals. Checks and amendments share one sequence."""

from __future__ import annotations

from typing import NamedTuple

from sqlalchemy import select
from sqlalchemy.orm import Session

from brimline.records.schema import AmendmentRow, CheckRow

_LARGEST = 2**62  # no text, which a hand may have put there: SQLite holds it for larger


class Link(NamedTuple):
    """A place in the chain of one bay, from 1, and the seal of what stands there."""

    number: int
    seal: str


def tip(session: Session, bay: str) -> Link | None:
    """Return the newest link of a bay; ``None`` where nothing was sealed in it yet."""
    newest: Link | None = None
    for table in (CheckRow, AmendmentRow):
        row = session.execute(
            select(table.seal_number, table.seal)
            .where(table.bay == bay, table.seal_number.between(1, _LARGEST))
            .order_by(table.seal_number.desc())
            .limit(1)
        ).first()
        number = 0 if row is None else row.seal_number or 0
        if row is not None and (newest is None or number > newest.number):
            newest = Link(number, row.seal)
    return newest


def next_link(session: Session, bay: str) -> tuple[str, int]:
    """Return the seal that the next record of a bay follows, empty for the first, and its place."""
    newest = tip(session, bay)
    return ("", 1) if newest is None else (newest.seal, newest.number + 1)


def bays(session: Session) -> set[str]:
    """Return the names of the bays in which anything was sealed."""
    return {
        bay
        for table in (CheckRow, AmendmentRow)
        for bay in session.scalars(
            select(table.bay).where(table.seal_number.is_not(None)).distinct()
        )
    }


def tips(session: Session) -> dict[str, Link]:
    """Return the newest link of each bay that has one."""
    found = {bay: tip(session, bay) for bay in bays(session)}
    return {bay: link for bay, link in found.items() if link is not None}
