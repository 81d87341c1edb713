"""A database with two chains, a hand at its file that nothing stops, and a forger of seals."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import timedelta
from pathlib import Path
from typing import Any

from record_examples import NOON, VIN, opened, outcome, reading, tap, wall
from sqlalchemy import select

from brimline.procedure.attaching import About, AttachmentKept
from brimline.procedure.events import CheckAborted
from brimline.records import seal_amendment, stored
from brimline.records.amendments import amend
from brimline.records.attached import place as attachment_place
from brimline.records.chain_walk import standing
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.model import Amendable, Header
from brimline.records.repository import Repository
from brimline.records.schema import AmendmentRow, CheckRow, utc_text

PICTURE = b"\x89PNG of the drip"
SHA256 = hashlib.sha256(PICTURE).hexdigest()

# Record, place in the chain of bay 1. Record 4 is open; record 6 is the only one of bay 2.
PLACES = {1: 1, 2: 2, 3: 4, 5: 6}
# Record, number of the amendment to it, place.
AMENDED = {1: 3, 3: 5}
END = 6


def run_check(database: Database, check_id: str, *, bay: str = "1") -> Journal:
    """Begin a check and let a little happen in it."""
    journal = Journal(database, bay=bay)
    journal.begin(opened(check_id), wall(0))
    for t in (1.0, 2.0, 3.5):
        journal.append(reading(t, 40 + t), wall(t))
    journal.append(tap(4), wall(4))
    journal.append(CheckAborted(t=5.0, reason="Customer WAITS"), wall(5))
    journal.flush()
    return journal


def finish(database: Database, check_id: str, **changes: object) -> Header:
    return Repository(database).finish(check_id, outcome(**changes), wall(600))


def seal_one(database: Database, check_id: str, *, bay: str = "1", **changes: object) -> Header:
    run_check(database, check_id, bay=bay)
    return finish(database, check_id, **changes)


def correct(database: Database, record: int, **changes: Any) -> None:
    words = {"field": Amendable.PLATE, "value": "HL 21 QR", "author": "M. Reed", "reason": "typed"}
    amend(database, str(record), at=NOON + timedelta(days=1), **(words | changes))


def attach(journal: Journal, folder: Path) -> None:
    """Keep a picture with an open check."""
    file = attachment_place(folder, SHA256)
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(PICTURE)
    kept = AttachmentKept(
        t=5.5, sha256=SHA256, name="drip.png", media_type="image/png", size=len(PICTURE),
        about=About.CONDITION,
    )  # fmt: skip
    journal.append(kept, wall(5.5))


def build(path: Path) -> Path:
    """Fill a database as :data:`PLACES` and :data:`AMENDED` say."""
    with Database.open(path, writer=True) as database:
        seal_one(database, "check-a")
        attach(run_check(database, "check-b"), path.parent)
        finish(database, "check-b", plate="HL 12 B", attachments=(SHA256,))
        correct(database, 1)
        seal_one(database, "check-c", vin="", odometer_km=None)
        run_check(database, "open-one")
        correct(database, 3, field=Amendable.NOTE, value="Rang again")
        seal_one(database, "check-d", vin=VIN)
        seal_one(database, "elsewhere", bay="2")
    return path


def copied(source: Path, folder: Path) -> Path:
    """Copy a database that nobody has open, with all that lies beside it."""
    shutil.copytree(source.parent, folder)
    return folder / source.name


@contextmanager
def by_hand(path: Path) -> Iterator[sqlite3.Connection]:
    """A person at the file: no trigger, no foreign key is in the way."""
    with closing(sqlite3.connect(path)) as connection:
        names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        for (name,) in names.fetchall():
            connection.execute(f"DROP TRIGGER {name}")
        yield connection
        connection.commit()


def change(path: Path, statement: str, *values: object) -> None:
    with by_hand(path) as connection:
        assert connection.execute(statement, values).rowcount > 0


def swap(path: Path, one: int, other: int) -> None:
    """Exchange the places of two checks of bay 1, given by record."""
    with by_hand(path) as connection:
        for record, place in ((one, 99), (other, PLACES[one]), (one, PLACES[other])):
            connection.execute(
                "UPDATE checks SET seal_number = ? WHERE number = ?", (place, record)
            )


def reseal(path: Path, first: int, last: int = 1000, bay: str = "1") -> None:
    """Seal places of a chain anew by the rules, each behind what stands before it now."""
    with by_hand(path):
        pass
    with Database.open(path, writer=True) as database:
        reseal_open(database, first, last, bay)


def reseal_open(database: Database, first: int, last: int = 1000, bay: str = "1") -> None:
    with database.writing() as session:
        links = list(standing(session, bay, None))
        previous = ""
        for link in links:
            row: Any
            if link.amendment is None:
                row = session.get_one(CheckRow, link.check_id)
            else:
                row = session.get_one(AmendmentRow, (link.check_id, link.amendment))
            if first <= link.place <= last:
                row.previous_seal = previous
                row.seal = seal_now(session, row)
                session.flush()
            previous = row.seal


def seal_now(session: Any, row: CheckRow | AmendmentRow) -> str:
    if isinstance(row, CheckRow):
        return stored.seal_of(session, row)
    columns = {name: getattr(row, name) for name in seal_amendment.SEALED}
    return seal_amendment.compute({**columns, "at": utc_text(row.at)})


def append_by_hand(path: Path, *, sealed: bool) -> None:
    """Put a copy of record 5 behind the end of bay 1's chain, as record 9."""
    with by_hand(path) as connection:
        names = [row[1] for row in connection.execute("PRAGMA table_info(checks)")]
        new = {"check_id": "'forged'", "number": "9", "seal_number": str(END + 1)}
        values = ", ".join(new.get(name, name) for name in names)
        connection.execute(f"INSERT INTO checks SELECT {values} FROM checks WHERE number = 5")
        for table in ("journal", "traces"):
            columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
            values = ", ".join("'forged'" if name == "check_id" else name for name in columns)
            connection.execute(
                f"INSERT INTO {table} SELECT {values} FROM {table} WHERE check_id = 'check-d'"
            )
    if sealed:
        reseal(path, END + 1)


def seals(path: Path) -> dict[int, str]:
    """The seals of bay 1 by place."""
    with Database.open(path, writer=False) as database, database.reading() as session:
        found = session.execute(
            select(CheckRow.seal_number, CheckRow.seal).where(CheckRow.bay == "1")
        )
        return {place: seal for place, seal in found if place is not None}
