"""Databases that each released revision left behind, written by the programs of that time."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from alembic.script import ScriptDirectory
from record_examples import VIN, opened, outcome, tap, wall

from brimline import paths
from brimline.errors import StoreError
from brimline.procedure.events import VehicleIdentified, Verdict
from brimline.procedure.reducer import replay
from brimline.records import chain, migrate, warm_ups
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.keys import search_key
from brimline.records.repository import Repository

FOLDER = Path(__file__).with_name("released")
REVISIONS = [
    script.revision
    for script in ScriptDirectory(str(paths.migrations())).walk_revisions(base="base", head="heads")
][::-1]

Rows = dict[str, list[dict[str, Any]]]


@pytest.fixture(params=REVISIONS)
def released(request: pytest.FixtureRequest, database_path: Path) -> Path:
    """A database as a released program left it: two finished checks and an open one."""
    database_path.parent.mkdir()
    with closing(sqlite3.connect(database_path, isolation_level=None)) as connection:
        connection.executescript((FOLDER / f"{request.param}.sql").read_text("utf-8"))
        connection.execute("PRAGMA journal_mode=WAL")
    assert migrate.stored_revision(database_path) == request.param
    return database_path


def rows(path: Path, like: Rows | None = None) -> Rows:
    """Every row of every table but Alembic's; only the tables and columns of another database."""
    with closing(sqlite3.connect(path)) as connection:
        connection.row_factory = sqlite3.Row
        tables = [
            name
            for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            if name != "alembic_version"
        ]
        found = {
            name: [dict(row) for row in connection.execute(f"SELECT * FROM {name} ORDER BY 1, 2")]
            for name in tables
        }
    if like is None:
        return found
    return {
        name: [{key: row[key] for key in old} for row, old in zip(found[name], olds, strict=True)]
        for name, olds in like.items()
    }


def test_every_row_and_column_is_kept(released: Path) -> None:
    before = rows(released)
    assert [len(before[name]) for name in ("checks",)] == [3]
    was_current = migrate.is_current(released)
    copy = None if was_current else migrate.upgrade(released)
    assert migrate.is_current(released)
    assert rows(released, like=before) == before
    if not was_current:
        assert copy is not None
        assert rows(copy) == before
    with closing(sqlite3.connect(released)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []


def test_seals_of_that_time_still_hold(released: Path) -> None:
    with Database.open(released, writer=False) as database:
        assert Repository(database).is_intact("1")
        assert Repository(database).is_intact("2")
        verdict = chain.verify(database)
        assert (verdict.intact, verdict.checks) == (True, 2)


def test_each_record_is_read_and_replayed(released: Path) -> None:
    with Database.open(released, writer=False) as database:
        repository = Repository(database)
        replayed = repository.load("1")
        assert replayed.header.verdict is Verdict.STOPPED
        state = replay(replayed.events)
        assert state.closed is not None
        assert state.closed.verdict is Verdict.STOPPED
        assert len(replayed.events) > 170
        second = repository.load("2")
        assert [event.kind for event in second.events] == [
            "check_opened", "vehicle_identified", "reading", "reading", "confirmed",
            "deadline_reached", "plug_out", "reading",
        ]  # fmt: skip
        assert second.header.vin == VIN
        assert second.header.bay == "1"


def test_it_is_found_by_what_could_not_be_searched_then(released: Path) -> None:
    Database.open(released, writer=False).close()
    found = {row["number"]: row for row in rows(released)["checks"]}
    assert found[2]["plate_key"] == search_key("HL 12 QR")
    assert found[2]["work_order_key"] == search_key("WO-7")  # as at the end of the check
    assert found[2]["notes"] == "slips in 2nd, says the customer"


def test_warm_ups_are_kept(released: Path) -> None:
    had_none = migrate.stored_revision(released) == "0001"
    kept = () if had_none else (((0.0, 20.0), (60.0, 31.5)),)
    with Database.open(released, writer=False) as database:
        assert warm_ups.earlier(database, "K7") == kept


def test_an_upgrade_that_fails_half_way_leaves_what_was_released(
    released: Path, tmp_path: Path
) -> None:
    """The newest migration itself, broken off where its tables are half made."""
    scripts = tmp_path / "migrations"
    shutil.copytree(paths.migrations(), scripts, ignore=shutil.ignore_patterns("__pycache__"))
    (newest,) = scripts.glob(f"versions/{migrate.HEAD}_*.py")
    text = newest.read_text("utf-8")
    assert text.count("    _fill_keys(op.get_bind())\n    _make_tables()\n") == 1
    newest.write_text(text.replace("    _make_tables()\n", "    raise MemoryError\n", 1), "utf-8")
    if migrate.is_current(released):
        return
    before = rows(released)
    with pytest.raises(StoreError, match="and is as it was; a copy of it is") as caught:
        migrate.upgrade(released, scripts=scripts)
    (copy,) = released.parent.glob(f"*-before-{migrate.HEAD}-*")
    assert str(copy) in str(caught.value)
    assert rows(released) == rows(copy) == before
    migrate.upgrade(released)
    assert rows(released, like=before) == before


def test_the_open_check_goes_on_and_is_sealed_behind_the_old_ones(released: Path) -> None:
    with Database.open(released, writer=True) as database:
        repository = Repository(database)
        (header,) = repository.open_checks()
        events = repository.load(header.check_id).events
        assert any(isinstance(event, VehicleIdentified) for event in events)
        journal = Journal(database)
        journal.resume(header.check_id)
        journal.append(tap(10), wall(110))
        sealed = repository.finish(header.check_id, outcome(), wall(111))
        assert (sealed.seal_number, sealed.previous_seal) == (3, repository.load("2").header.seal)
        journal.begin(opened("new-00000004"), wall(200))
        assert chain.verify(database).intact
