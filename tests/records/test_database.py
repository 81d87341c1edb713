from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from pathlib import Path

import pytest
from filelock import FileLock
from record_examples import opened, outcome, reading, tap, wall
from sqlalchemy import text

from brimline.errors import StoreError
from brimline.records import database as database_module
from brimline.records import migrate
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.query import Query
from brimline.records.repository import Repository
from brimline.records.search import Search

OPEN_ELSEWHERE = """
import pathlib, sys
from brimline.errors import StoreError
from brimline.records.database import Database
try:
    with Database.open(pathlib.Path(sys.argv[1]), writer=sys.argv[2] == "writer"):
        print("opened")
except StoreError as error:
    print(error)
"""


def open_elsewhere(path: Path, role: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", OPEN_ELSEWHERE, str(path), role],
        capture_output=True,
        encoding="utf-8",
        env=os.environ | {"PYTHONUTF8": "1"},
        check=True,
    )
    return done.stdout.strip()


def refusal(path: Path, *, writer: bool = True) -> StoreError:
    with pytest.raises(StoreError) as caught:
        Database.open(path, writer=writer)
    assert "\n" not in str(caught.value)
    assert str(caught.value).endswith(".")
    return caught.value


def test_folder_and_file_are_made(database_path: Path) -> None:
    with Database.open(database_path.parent / "deeper" / "brimline.sqlite", writer=True) as made:
        assert made.path.is_file()


@pytest.mark.parametrize(
    ("pragma", "writer", "value"),
    [
        ("journal_mode", True, "wal"),
        ("synchronous", True, 2),  # FULL
        ("foreign_keys", True, 1),
        ("busy_timeout", True, 2000),
        ("query_only", True, 0),
        ("journal_mode", False, "wal"),
        ("foreign_keys", False, 1),
        ("busy_timeout", False, 2000),
        ("query_only", False, 1),
    ],
)
def test_every_connection_is_set_up(
    database_path: Path, pragma: str, writer: bool, value: object
) -> None:
    with Database.open(database_path, writer=writer) as database, database.reading() as session:
        assert session.scalar(text(f"PRAGMA {pragma}")) == value


def test_a_second_writer_is_told_in_one_sentence_and_a_reader_is_not(
    database: Database,
) -> None:
    Journal(database).begin(opened(), wall(0))
    sentence = (
        f"Another Brimline is running a check on this database ({database.path}); close it first."
    )
    assert open_elsewhere(database.path, "writer") == sentence
    assert open_elsewhere(database.path, "reader") == "opened"
    assert str(refusal(database.path)) == sentence


def test_after_closing_the_next_writer_gets_in(database_path: Path) -> None:
    first = Database.open(database_path, writer=True)
    first.close()
    first.close()
    assert open_elsewhere(database_path, "writer") == "opened"


def test_a_failed_opening_keeps_no_lock(database_path: Path) -> None:
    database_path.parent.mkdir()
    database_path.write_bytes(b"no database" * 1000)
    refusal(database_path)
    database_path.unlink()
    Database.open(database_path, writer=True).close()


def test_a_reader_sees_what_was_finished_while_a_check_is_running(database: Database) -> None:
    journal = Journal(database)
    journal.begin(opened("finished-0001"), wall(0))
    Repository(database).finish("finished-0001", outcome(), wall(9))
    journal.begin(opened("running-00002"), wall(10))
    with Database.open(database.path, writer=False) as reader:
        journal.append(tap(1), wall(11))
        with Search(reader) as search:
            found = search.find(Query(vin=outcome().vin)).hits
        assert [hit.number for hit in found] == [1]
        assert [header.number for header in Repository(reader).open_checks()] == [2]
        journal.append(tap(2), wall(12))
        assert len(Repository(reader).load("2").events) == 3


def test_a_reader_cannot_write(database_path: Path) -> None:
    with Database.open(database_path, writer=False) as reader:
        with pytest.raises(ValueError, match="reading only"), reader.writing():
            pass
        with (
            pytest.raises(StoreError, match="cannot be written"),
            reader.reading() as session,
        ):
            session.execute(text("DELETE FROM checks"))


def test_the_first_look_of_all_finds_an_empty_history(database_path: Path) -> None:
    with Database.open(database_path, writer=False) as reader, Search(reader) as search:
        assert search.find(Query(vin="12345678")).hits == ()
        assert search.families() == ()


def test_an_old_database_is_not_changed_under_a_running_check(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(migrate, "HEAD", "0000")
    assert "running a check" in str(refusal(database.path, writer=False))


def test_a_set_up_that_takes_too_long_elsewhere_is_told(
    database_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database_module, "_UPGRADE_WAIT_S", 0.0)
    database_path.parent.mkdir()
    with FileLock(database_path.with_name("brimline.sqlite.upgrade.lock")):
        assert "still setting up" in str(refusal(database_path))
        assert "still setting up" in str(refusal(database_path, writer=False))


@pytest.mark.parametrize("writer", [True, False])
def test_a_set_up_elsewhere_is_waited_for(database_path: Path, writer: bool) -> None:
    database_path.parent.mkdir()
    elsewhere = FileLock(
        database_path.with_name("brimline.sqlite.upgrade.lock"), thread_local=False
    )
    elsewhere.acquire()
    done = threading.Timer(0.1, elsewhere.release)
    done.start()
    Database.open(database_path, writer=writer).close()
    done.join()


def test_two_that_start_at_once_on_a_new_machine_both_get_in(database_path: Path) -> None:
    command = [sys.executable, "-c", OPEN_ELSEWHERE, str(database_path), "reader"]
    both = [
        subprocess.Popen(
            command, stdout=subprocess.PIPE, encoding="utf-8", env=os.environ | {"PYTHONUTF8": "1"}
        )
        for _ in range(2)
    ]
    assert [process.communicate()[0].strip() for process in both] == ["opened", "opened"]


@pytest.mark.parametrize("writer", [True, False])
def test_a_folder_that_cannot_be_made(tmp_path: Path, writer: bool) -> None:
    (tmp_path / "file").write_text("in the way")
    error = refusal(tmp_path / "file" / "below" / "brimline.sqlite", writer=writer)
    assert "cannot be made" in str(error)
    assert str(tmp_path / "file" / "below") in str(error)


@pytest.mark.parametrize("writer", [True, False])
def test_a_folder_that_may_not_be_written(ordinary_folder: Path, writer: bool) -> None:
    ordinary_folder.chmod(0o555)
    assert "cannot be made" in str(refusal(ordinary_folder / "new" / "b.sqlite", writer=writer))
    assert "cannot be written" in str(refusal(ordinary_folder / "b.sqlite", writer=writer))
    assert list(ordinary_folder.iterdir()) == []


def test_a_file_that_may_only_be_read_is_told_at_opening(ordinary_folder: Path) -> None:
    path = ordinary_folder / "brimline.sqlite"
    a_filled_database(path)
    path.chmod(0o444)
    assert "cannot be written" in str(refusal(path))
    with Database.open(path, writer=False) as reader:
        assert len(Repository(reader).load("1").events) == 400


def test_a_file_that_may_not_even_be_read(ordinary_folder: Path) -> None:
    path = ordinary_folder / "brimline.sqlite"
    a_filled_database(path)
    path.chmod(0)
    assert "cannot be opened" in str(refusal(path))
    assert "cannot be opened" in str(refusal(path, writer=False))


def test_a_history_in_a_folder_that_may_only_be_read(ordinary_folder: Path) -> None:
    path = ordinary_folder / "brimline.sqlite"
    a_filled_database(path)
    ordinary_folder.chmod(0o555)
    assert "may write the file and its folder" in str(refusal(path, writer=False))


@pytest.mark.parametrize("writer", [True, False])
@pytest.mark.parametrize("content", [b"Dear shop,\n" * 500, b"\x00" * 5000, b"x"])
def test_a_file_that_is_no_database(database_path: Path, content: bytes, writer: bool) -> None:
    database_path.parent.mkdir()
    database_path.write_bytes(content)
    error = refusal(database_path, writer=writer)
    assert "is not a Brimline database" in str(error)
    assert error.detail
    assert database_path.read_bytes() == content


@pytest.mark.parametrize("writer", [True, False])
def test_a_database_of_another_program_is_left_alone(database_path: Path, writer: bool) -> None:
    database_path.parent.mkdir()
    with closing(sqlite3.connect(database_path)) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")
        connection.commit()
    assert "another program" in str(refusal(database_path, writer=writer))
    with closing(sqlite3.connect(database_path)) as connection:
        names = connection.execute("SELECT name FROM sqlite_master").fetchall()
    assert names == [("recipes",)]


def test_a_folder_in_the_place_of_the_file(database_path: Path) -> None:
    database_path.mkdir(parents=True)
    assert "cannot be opened" in str(refusal(database_path))


def a_filled_database(path: Path) -> None:
    with Database.open(path, writer=True) as database:
        journal = Journal(database)
        journal.begin(opened(), wall(0))
        for second in range(1, 400):
            journal.append(reading(second), wall(second))
        journal.flush()


def test_a_database_damaged_at_its_head_is_told_at_opening(database_path: Path) -> None:
    a_filled_database(database_path)
    content = bytearray(database_path.read_bytes())
    content[100:4096] = b"\xff" * 3996
    database_path.write_bytes(content)
    assert "is damaged" in str(refusal(database_path))


def test_a_database_damaged_further_in_is_told_at_reading(database_path: Path) -> None:
    a_filled_database(database_path)
    content = bytearray(database_path.read_bytes())
    content[-8 * 4096 :] = b"\xff" * (8 * 4096)
    database_path.write_bytes(content)
    with Database.open(database_path, writer=True) as database:
        with pytest.raises(StoreError, match="is damaged") as caught:
            Repository(database).load("1")
        assert "CORRUPT" in caught.value.detail


def test_a_foreign_lock_is_in_use(database: Database) -> None:
    database.engine.dispose()
    with closing(sqlite3.connect(database.path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreError, match="in use by another program"):
            Journal(database).begin(opened(), wall(0))
    assert Journal(database).begin(opened(), wall(0)).number == 1


def test_who_means_to_write_keeps_others_from_writing_first(database: Database) -> None:
    with closing(sqlite3.connect(database.path, isolation_level=None, timeout=0)) as other:
        with database.writing() as session:
            session.execute(text("SELECT count(*) FROM checks"))
            with pytest.raises(sqlite3.OperationalError, match="locked"):
                other.execute("BEGIN IMMEDIATE")
        with database.reading() as session:
            session.execute(text("SELECT count(*) FROM checks"))
            other.execute("BEGIN IMMEDIATE")


def test_an_error_in_a_transaction_keeps_nothing_of_it(database: Database) -> None:
    Journal(database).begin(opened(), wall(0))

    def half_a_change() -> None:
        with database.writing() as session:
            session.execute(text("UPDATE checks SET plate = 'HL 1'"))
            raise RuntimeError

    with pytest.raises(RuntimeError):
        half_a_change()
    assert Repository(database).load("1").header.plate == ""
