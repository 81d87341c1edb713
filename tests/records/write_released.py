"""Writes a database as the present program leaves one, as SQL: ``released/REVISION.sql``.

Run once when a revision is released, as ``python tests/records/write_released.py``; what is in
``released`` already was written by the programs of that time and is never written again.
"""

from __future__ import annotations

import os
import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

from record_examples import VIN, deadline, opened, outcome, plug_out, reading, tap, wall

from brimline.cli import main
from brimline.paths import data_folder, database_file
from brimline.procedure.events import Event, VehicleIdentified
from brimline.records import migrate, warm_ups
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.repository import Repository

FOLDER = Path(__file__).with_name("released")


def vehicle(t: float) -> Event:
    return VehicleIdentified(
        t=t, vin=VIN, work_order="WO-7 b", odometer_km=84210.0, plate="HL 12 QR",
        complaint="Slips in 2nd, says the customer",
    )  # fmt: skip


def write(path: Path) -> None:
    """Add to a replayed check one that is finished and one that is open."""
    with Database.open(path, writer=True) as database:
        journal = Journal(database)
        journal.begin(opened("finished-0001"), wall(0))
        for event in (
            vehicle(1), reading(2), reading(3, 41.5), tap(4), deadline(5), plug_out(6),
            reading(7, 42.25),
        ):  # fmt: skip
            journal.append(event, wall(event.t))
        journal.flush()
        Repository(database).finish("finished-0001", outcome(), wall(8))
        warm_ups.keep(database, "finished-0001", [(0.0, 20.0), (60.0, 31.5)])
        journal.begin(opened("open-00002"), wall(100))
        for event in (vehicle(1), reading(2), tap(3)):
            journal.append(event, wall(100 + event.t))
        journal.flush()


def dump(path: Path) -> str:
    with closing(sqlite3.connect(path)) as connection:
        return "\n".join(connection.iterdump()) + "\n"


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        os.environ["BRIMLINE_DATA"] = str(Path(name) / "data")
        out = str(Path(name) / "out")
        main(["replay", "family-car-curve", "--script", "abort", "--headless", "--out", out])
        write(database_file(data_folder()))
        text = dump(database_file(data_folder()))
    (FOLDER / f"{migrate.HEAD}.sql").write_text(text, "utf-8")
