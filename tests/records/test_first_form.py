"""Records of the version before traces: upgraded, they load, verify, and are followed by others.

The database is made by that version's migrations and filled with plain SQL; the seals are computed
here, from the description of the first form.
"""

from __future__ import annotations

import functools
import hashlib
import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from alembic import command
from record_examples import deadline, opened, outcome, reading, tap, wall

from brimline import paths
from brimline.errors import StoreError
from brimline.procedure.events import Event
from brimline.reading import SignalName
from brimline.records import migrate
from brimline.records.codec import encode_event
from brimline.records.database import Database
from brimline.records.packing import Packer
from brimline.records.repository import Repository
from brimline.records.schema import utc_text
from brimline.records.seal import JournalLine

EVENTS = (reading(1), reading(1.5, 41.25), tap(2), deadline(2.5), reading(3))
HEADER = {
    "opened_at": utc_text(wall(0)), "finished_at": utc_text(wall(600)), "origin": "live",
    "invented": True, "vin": "ZZ9K7HARR0LANE123", "vin_tail": "0LANE123", "plate": "HL 12 QR",
    "odometer_km": 84210.0, "work_order": "WO-7", "technician": "R. Quill", "family": "K7",
    "sheet_id": "tarnholm-k7", "sheet_revision": "C", "duty": "normal", "fluid": "TF-Clear",
    "verdict": "corrected", "closing_celsius": 41.5, "added_litres": 0.4, "run_off_litres": 0.0,
}  # fmt: skip


def first_seal(header: dict[str, object], journal: list[tuple[object, ...]]) -> str:
    text = functools.partial(json.dumps, sort_keys=True, separators=(",", ":"))
    lines = [text(["brimline-record", 1]), text(header), *(text(list(row)) for row in journal)]
    return hashlib.sha256("".join(line + "\n" for line in lines).encode()).hexdigest()


def insert(connection: sqlite3.Connection, table: str, row: dict[str, object]) -> None:
    marks = ", ".join("?" * len(row))
    connection.execute(f"INSERT INTO {table} ({', '.join(row)}) VALUES ({marks})", [*row.values()])


def write_check(
    connection: sqlite3.Connection, check_id: str, number: int, previous: str | None
) -> str:
    """Write a check as that version did: finished after ``previous``, or open without one."""
    events: tuple[Event, ...] = (opened(check_id), *EVENTS)
    journal = [
        (seq, float(event.t), utc_text(wall(event.t)), event.kind, encode_event(event))
        for seq, event in enumerate(events, start=1)
    ]
    header: dict[str, object] = {"check_id": check_id, "number": number} | HEADER
    header |= {"previous_seal": previous, "seal_number": number}
    seal = first_seal(header, journal) if previous is not None else ""
    header |= {"finished_at": None, "previous_seal": "", "seal_number": None, "seal": ""}
    insert(connection, "checks", header)
    for row in journal:
        names = ("seq", "t", "wall", "kind", "payload")
        insert(connection, "journal", {"check_id": check_id} | dict(zip(names, row, strict=True)))
    if previous is not None:
        connection.execute(
            "UPDATE checks SET finished_at = ?, previous_seal = ?, seal_number = number, seal = ?"
            " WHERE check_id = ?",
            (HEADER["finished_at"], previous, seal, check_id),
        )
    return seal


@pytest.fixture
def seals(database_path: Path) -> list[str]:
    """A database of revision 0002 with two finished checks and an open one; their seals."""
    database_path.parent.mkdir()
    config = migrate.configuration(paths.migrations())
    migrate.run(database_path, config, lambda: command.upgrade(config, "0002"))
    with closing(sqlite3.connect(database_path)) as connection:
        first = write_check(connection, "first-check", 1, "")
        second = write_check(connection, "second-check", 2, first)
        write_check(connection, "open-check", 3, None)
        connection.commit()
    return [first, second]


@pytest.fixture
def upgraded(database_path: Path, seals: list[str]) -> Iterator[Database]:
    with Database.open(database_path, writer=True) as database:
        yield database


def without_guards(database: Database, change: str) -> None:
    with closing(sqlite3.connect(database.path)) as connection:
        names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        for (name,) in names.fetchall():
            connection.execute(f"DROP TRIGGER {name}")
        assert connection.execute(change).rowcount == 1
        connection.commit()


def test_records_of_the_first_form_load_and_verify(upgraded: Database, seals: list[str]) -> None:
    repository = Repository(upgraded)
    for number, check_id in ((1, "first-check"), (2, "second-check")):
        record = repository.load(str(number))
        assert record.events == (opened(check_id), *EVENTS)
        header = record.header
        assert (header.seal_form, header.seal, header.seal_number) == (1, seals[number - 1], number)
        assert (header.bay, header.vin_tail) == ("1", "0LANE123")
        assert repository.is_intact(check_id)


def test_nothing_of_them_was_packed(upgraded: Database) -> None:
    with closing(sqlite3.connect(upgraded.path)) as connection:
        kept = connection.execute("SELECT check_id, count(*) FROM journal GROUP BY check_id")
        assert {count for _, count in kept} == {1 + len(EVENTS)}
        assert connection.execute("SELECT count(*) FROM traces").fetchone() == (0,)


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE journal SET payload = replace(payload, '41.25', '41.5')"
        " WHERE check_id = 'first-check' AND seq = 3",
        "DELETE FROM journal WHERE check_id = 'first-check' AND seq = 6",
        "UPDATE checks SET plate = 'HL 1' WHERE number = 1",
        "UPDATE checks SET seal_form = 2 WHERE number = 1",
        "INSERT INTO traces VALUES ('first-check', 'range', 1, 1, X'00')",
        "INSERT INTO attachments VALUES ('first-check', 'ab', 'a.jpg', 'image/jpeg', 1, '', '')",
    ],
)
def test_a_hand_at_an_old_record_shows(upgraded: Database, change: str) -> None:
    without_guards(upgraded, change)
    repository = Repository(upgraded)
    assert not repository.is_intact("first-check")
    assert repository.is_intact("second-check")


def test_packed_readings_in_an_old_record_are_nobodys(upgraded: Database) -> None:
    packer, more = Packer(SignalName.FLUID_TEMPERATURE, wall(0)), reading(4)
    line = JournalLine(2 + len(EVENTS), more.t, utc_text(wall(4)), more.kind, encode_event(more))
    assert packer.add(line, more)
    made = packer.packed()
    assert made is not None
    blob = made.content.hex()
    for check_id in ("first-check", "open-check"):
        without_guards(
            upgraded,
            f"INSERT INTO traces VALUES ('{check_id}', '{made.signal}', 1, 1, X'{blob}')",
        )
        with pytest.raises(StoreError, match="is damaged") as caught:
            Repository(upgraded).load(check_id)
        assert "where there can be none" in caught.value.detail


def test_a_check_begun_before_is_finished_in_the_new_form(
    upgraded: Database, seals: list[str]
) -> None:
    repository = Repository(upgraded)
    before = repository.load("open-check").events
    header = repository.finish("open-check", outcome(), wall(700))
    assert (header.seal_form, header.seal_number, header.previous_seal) == (2, 3, seals[1])
    assert repository.load("open-check").events == before == (opened("open-check"), *EVENTS)
    assert repository.is_intact("open-check")
    with closing(sqlite3.connect(upgraded.path)) as connection:
        assert connection.execute("SELECT signal, count FROM traces").fetchall() == [
            ("fluid_temperature", 3)
        ]
