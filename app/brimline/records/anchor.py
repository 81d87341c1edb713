"""The newest links of the chains in a small file, to be kept where nobody at the bay can reach it.

A chain that was sealed anew from some place on, tail file and all, looks sound by itself. It cannot
also hold the links that an earlier anchor names. The file is JSON::

    {"anchor": 1, "made_at": "…Z", "links": [{"bay": "1", "number": 412, "seal": "…",
     "sealed_at": "…Z"}]}

Times of day are text in UTC as in the database.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from sqlalchemy import String, select, type_coerce
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.records import disk
from brimline.records.chain_tip import Link, tips
from brimline.records.database import Database
from brimline.records.schema import AmendmentRow, CheckRow, utc_text


class AnchorLink(BaseModel):
    """The newest link of one bay's chain when the anchor was made."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)
    bay: str
    number: Annotated[int, Field(ge=1)]
    seal: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    sealed_at: str


class Anchor(BaseModel):
    """The newest links of all bays."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)
    anchor: Literal[1] = 1
    made_at: str
    links: Annotated[tuple[AnchorLink, ...], Field(min_length=1)]

    def by_bay(self) -> dict[str, tuple[Link, ...]]:
        """Return the links by the bay that they are of."""
        bays = {link.bay for link in self.links}
        return {
            bay: tuple(Link(each.number, each.seal) for each in self.links if each.bay == bay)
            for bay in bays
        }


def make_anchor(database: Database, at: datetime) -> Anchor:
    """Return the newest links of a database.

    :param at: wall-clock time, aware of its zone.
    :raises StoreError: nothing was sealed yet, or the database refuses.
    """
    with database.reading() as session:
        links = tuple(
            AnchorLink(
                bay=bay,
                number=link.number,
                seal=link.seal,
                sealed_at=_sealed_at(session, bay, link.number),
            )
            for bay, link in sorted(tips(session).items())
        )
    if not links:
        raise StoreError("No record was sealed yet, so there is nothing to anchor.")
    return Anchor(made_at=utc_text(at), links=links)


def write_anchor(anchor: Anchor, file: Path) -> None:
    """Write an anchor; a file that is there already is replaced.

    :raises StoreError: the file cannot be written.
    """
    try:
        disk.put(file, anchor.model_dump_json(indent=1) + "\n")
    except OSError as error:
        raise StoreError(
            f"The anchor cannot be written to {file}: {error.strerror or error}."
        ) from error


def read_anchor(file: Path) -> Anchor:
    """Read an anchor.

    :raises StoreError: the file cannot be read, or is no anchor.
    """
    try:
        return Anchor.model_validate_json(file.read_bytes())
    except OSError as error:
        raise StoreError(f"The anchor {file} cannot be read: {error.strerror or error}.") from error
    except ValidationError as error:
        raise StoreError(f"{file} is no anchor that Brimline wrote.", detail=str(error)) from error


def _sealed_at(session: Session, bay: str, number: int) -> str:
    for table, at in ((CheckRow, CheckRow.finished_at), (AmendmentRow, AmendmentRow.at)):
        found = session.scalar(
            select(type_coerce(at, String)).where(table.bay == bay, table.seal_number == number)
        )
        if found is not None:
            return str(found)
    return ""
