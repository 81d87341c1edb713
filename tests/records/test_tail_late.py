"""A full disk keeps a link from being noted: this program notes it later, and hides nothing so."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from pathlib import Path

import chain_examples as ex
import pytest
from record_examples import NOON

from brimline.bootstrap import Bay
from brimline.config import Settings
from brimline.errors import StoreError
from brimline.records import recovery, tail
from brimline.records.chain import ChainVerdict, verify
from brimline.records.chain_faults import What
from brimline.records.chain_tip import Link
from brimline.records.database import Database
from brimline.records.tail import tail_file

pytestmark = pytest.mark.expects_log


@contextmanager
def full_disk() -> Iterator[None]:
    """Nothing is noted any more; the database has room of its own still."""

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(tail, "put", refuse)
        yield


def named(found: ChainVerdict) -> tuple[What, int | None, int | None] | None:
    first = found.first
    return None if first is None else (first.what, first.place, first.record)


@pytest.fixture
def unnoted(database: Database) -> Database:
    """Record 1 is noted, record 2 is not."""
    ex.seal_one(database, "check-a")
    with full_disk():
        ex.seal_one(database, "check-b")
    return database


def test_several_in_a_row_are_this_program_s_own(unnoted: Database) -> None:
    with full_disk():
        ex.correct(unnoted, 2)
        ex.seal_one(unnoted, "check-c")
        ex.seal_one(unnoted, "check-d", bay="2")
    ex.seal_one(unnoted, "check-e")
    ex.seal_one(unnoted, "check-f", bay="2")
    found = verify(unnoted)
    assert (found.intact, found.checks, found.remarks) == (True, 6, ())


def test_the_first_of_all(database: Database) -> None:
    with full_disk():
        ex.seal_one(database, "check-a")
    ex.seal_one(database, "check-b")
    assert (verify(database).intact, verify(database).remarks) == (True, ())


def test_one_that_was_to_be_committed_and_was_not(unnoted: Database) -> None:
    ex.run_check(unnoted, "check-c")
    with full_disk(), pytest.MonkeyPatch.context() as patched:
        intend = tail.Note.intend

        def intend_in_vain(note: tail.Note, bay: str, previous_seal: str, link: Link) -> None:
            intend(note, bay, previous_seal, link)
            raise StoreError("The disk is full.")

        patched.setattr(tail.Note, "intend", intend_in_vain)
        with pytest.raises(StoreError, match="full"):
            ex.finish(unnoted, "check-c")
    ex.finish(unnoted, "check-c", plate="HL 1")
    assert verify(unnoted).intact


def test_it_is_taken_away_before_the_next_is_sealed(unnoted: Database) -> None:
    with ex.by_hand(unnoted.path) as connection:
        for table in ("journal", "traces", "checks"):
            connection.execute(f"DELETE FROM {table} WHERE check_id = 'check-b'")
    ex.seal_one(unnoted, "check-c")
    found = verify(unnoted)
    assert named(found) == (What.MISSING, 2, None)
    assert found.faults == 1


def test_it_is_exchanged_before_the_next_is_sealed(unnoted: Database) -> None:
    ex.change(unnoted.path, "UPDATE checks SET plate = 'x', plate_key = 'x' WHERE number = 2")
    ex.reseal_open(unnoted, 2)
    ex.seal_one(unnoted, "check-c")
    found = verify(unnoted)
    assert named(found) == (What.RESEALED, 2, 2)
    assert found.faults == 1


def test_a_stranger_s_is_appended_behind_it(tmp_path: Path) -> None:
    path = ex.build(tmp_path / "records" / "brimline.sqlite")
    memory: dict[str, tail.Unnoted] = {}
    with Database.open(path, writer=True, unnoted=memory) as database, full_disk():
        ex.seal_one(database, "check-y")
    with ex.by_hand(path) as connection:  # record 8 is made of record 7, and sealed by the rules
        names = [row[1] for row in connection.execute("PRAGMA table_info(checks)")]
        new = {"check_id": "'forged'", "number": "99", "seal_number": str(ex.END + 2)}
        values = ", ".join(new.get(name, name) for name in names)
        connection.execute(f"INSERT INTO checks SELECT {values} FROM checks WHERE number = 7")
        for table in ("journal", "traces"):
            columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
            values = ", ".join("'forged'" if name == "check_id" else name for name in columns)
            connection.execute(
                f"INSERT INTO {table} SELECT {values} FROM {table} WHERE check_id = 'check-y'"
            )
    ex.reseal(path, ex.END + 2)
    with Database.open(path, writer=True, unnoted=memory) as database:
        ex.seal_one(database, "check-z")
        found = verify(database)
    assert named(found) == (What.APPENDED, ex.END + 2, 99)
    assert found.faults == 1


def test_what_somebody_else_noted_since_is_not_covered_up(unnoted: Database) -> None:
    memory = dict(unnoted.unnoted)
    unnoted.unnoted.clear()
    ex.seal_one(unnoted, "check-c")  # another program, which cannot know
    unnoted.unnoted.update(memory)
    ex.seal_one(unnoted, "check-d")
    assert named(verify(unnoted)) == (What.APPENDED, 2, 2)


def test_a_database_that_was_put_in_its_place_is_another(tmp_path: Path) -> None:
    """A copy from before the record that was not noted: what follows is no fault of anybody."""
    path, copy = tmp_path / "records" / "brimline.sqlite", tmp_path / "copy.sqlite"
    memory: dict[str, tail.Unnoted] = {}
    with Database.open(path, writer=True, unnoted=memory) as database:
        ex.seal_one(database, "check-a")
        copy_out_of(path, copy)
        with full_disk():
            ex.seal_one(database, "check-b")
    recovery.restore(copy, path, NOON)
    with Database.open(path, writer=True, unnoted=memory) as database:
        ex.seal_one(database, "check-c")
        assert verify(database).intact


def copy_out_of(path: Path, copy: Path) -> None:
    with closing(sqlite3.connect(path)) as source, closing(sqlite3.connect(copy)) as target:
        source.backup(target)


@pytest.mark.parametrize("room", ["before it is closed", "before the next"])
def test_it_is_noted_as_soon_as_there_is_room(tmp_path: Path, room: str) -> None:
    """Each check of the window has the database open for itself."""
    bay = Bay(tmp_path, Settings())
    disk = ExitStack()
    with bay.records(writer=True) as database:
        ex.seal_one(database, "check-a")
        disk.enter_context(full_disk())
        ex.seal_one(database, "check-b")
        assert database.tail_error is not None
        if room == "before it is closed":
            disk.close()
    if room == "before the next":
        disk.close()
        before = tail_file(bay.database_file).read_bytes()
        with bay.records():  # who looks only writes nothing
            pass
        assert tail_file(bay.database_file).read_bytes() == before
        with bay.records(writer=True):
            pass
    with Database.open(bay.database_file, writer=False) as database:
        assert verify(database).intact


def test_a_disk_that_stays_full_is_no_fault_of_the_next_check(tmp_path: Path) -> None:
    bay = Bay(tmp_path, Settings())
    with full_disk():
        with bay.records(writer=True) as database:
            ex.seal_one(database, "check-a")
        with bay.records(writer=True) as database:
            ex.run_check(database, "check-b")
    with bay.records(writer=True) as database:
        ex.finish(database, "check-b")
        assert (verify(database).intact, verify(database).remarks) == (True, ())
