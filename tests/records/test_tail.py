"""The file that notes the end of each chain: written before and after, missing, damaged, fooled."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import chain_examples as ex
import pytest
from record_examples import NOON, opened, wall

from brimline.errors import StoreError
from brimline.records import disk, tail
from brimline.records.chain import ChainVerdict, verify
from brimline.records.chain_faults import What
from brimline.records.chain_tip import Link
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.repository import Repository
from brimline.records.tail import Noted, note_restored, read, tail_file

RESTORED_AT = NOON.replace(year=2032)


def noted(database: Database, bay: str = "1") -> dict[str, Any]:
    content = json.loads(tail_file(database.path).read_text("utf-8"))
    assert content["form"] == 1
    found: dict[str, Any] = content["bays"][bay]
    return found


def named(found: ChainVerdict) -> tuple[What, int | None, int | None] | None:
    return found.first and (found.first.what, found.first.place, found.first.record)


def test_each_seal_is_noted(database: Database) -> None:
    for check_id in ("check-a", "check-b"):
        header = ex.seal_one(database, check_id)
        assert noted(database) == {
            "since": 1,
            "confirmed": {"number": header.seal_number, "seal": header.seal},
            "intended": None,
            "broken": [],
            "restored": [],
        }
    ex.correct(database, 2)
    assert noted(database)["confirmed"]["number"] == 3
    elsewhere = ex.seal_one(database, "check-c", bay="2")
    assert noted(database)["confirmed"]["number"] == 3
    assert noted(database, "2")["confirmed"]["seal"] == elsewhere.seal
    assert verify(database).remarks == ()


def test_it_is_on_the_disk_before_the_link_is(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = ex.seal_one(database, "check-a")
    ex.run_check(database, "check-b")
    written: list[tuple[Any, int]] = []

    def put(file: Path, text: str) -> None:
        with Database.open(database.path, writer=False) as reader:
            sealed = sum(Repository(reader).load(str(n)).header.seal != "" for n in (1, 2))
        written.append((json.loads(text)["bays"]["1"], sealed))
        disk.put_bytes(file, text.encode())

    monkeypatch.setattr(tail, "put", put)
    second = ex.finish(database, "check-b")
    one, two = ({"number": each.seal_number, "seal": each.seal} for each in (first, second))
    (before, sealed_before), (after, sealed_after) = written
    assert (before["confirmed"], before["intended"], sealed_before) == (one, two, 1)
    assert (after["confirmed"], after["intended"], sealed_after) == (two, None, 2)


class StoppedError(Exception):
    """The computer stops here."""


@pytest.mark.parametrize("committed", [False, True])
def test_a_computer_that_stops_between(
    database: Database, monkeypatch: pytest.MonkeyPatch, committed: bool
) -> None:
    ex.seal_one(database, "check-a")
    ex.run_check(database, "check-b")

    def stop(*_: object) -> None:
        raise StoppedError

    with monkeypatch.context() as patched:
        if committed:
            patched.setattr(tail.Note, "confirm", stop)
        else:
            patched.setattr("brimline.records.repository.header_of", _after(2, stop))
        with pytest.raises(StoppedError):
            ex.finish(database, "check-b")
    assert noted(database)["intended"]["number"] == 2
    assert noted(database)["confirmed"]["number"] == 1
    assert verify(database).intact
    assert verify(database).checks == (2 if committed else 1)
    if not committed:
        ex.finish(database, "check-b", plate="HL 1")
    ex.seal_one(database, "check-c")
    assert verify(database).intact
    assert noted(database)["broken"] == []


def _after(count: int, stop: Any) -> Any:
    """``header_of`` that stops at a later call: when the link is noted and not yet committed."""
    from brimline.records.repository import header_of  # noqa: PLC0415 - the one before the patch

    calls = iter(range(1, 100))

    def wrapped(row: Any) -> Any:
        if next(calls) == count:
            stop()
        return header_of(row)

    return wrapped


@pytest.mark.expects_log
@pytest.mark.parametrize("content", ["", "{", '{"form": 2, "bays": {}}', '{"bays": {"1": {}}}'])
def test_a_file_that_makes_no_sense(database: Database, content: str) -> None:
    ex.seal_one(database, "check-a")
    tail_file(database.path).write_text(content, "utf-8")
    found = verify(database)
    assert found.intact
    assert "cannot be read" in found.remarks[0]
    assert "cannot be told" in found.remarks[1]
    header = ex.seal_one(database, "check-b")
    assert noted(database)["since"] == 2
    assert noted(database)["confirmed"]["seal"] == header.seal
    found = verify(database)
    assert found.intact
    assert "was noted from no. 2 on" in found.remarks[0]


def test_a_file_that_is_gone(database: Database) -> None:
    assert read(database.path) is None
    ex.seal_one(database, "check-a")
    tail_file(database.path).unlink()
    assert verify(database).intact
    assert "cannot be told" in verify(database).remarks[0]
    ex.seal_one(database, "check-b")
    assert noted(database)["since"] == 2
    ex.seal_one(database, "check-c")
    assert noted(database)["since"] == 2


def refuse(*_: object) -> None:
    raise PermissionError(13, "Permission denied")


@pytest.mark.expects_log
def test_a_file_that_cannot_be_written_keeps_no_check_from_being_finished(
    database: Database, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    ex.seal_one(database, "check-a")
    with monkeypatch.context() as patched:
        patched.setattr(tail, "put", refuse)
        assert ex.seal_one(database, "check-b").seal
    assert str(database.tail_error).startswith("The newest record is sealed, but")
    assert "PermissionError" in caplog.text
    # The file does not tell whether it was Brimline, but this program knows what it did itself.
    assert named(verify(database)) == (What.APPENDED, 2, 2)
    ex.seal_one(database, "check-c")
    assert database.tail_error is None
    assert verify(database).intact
    assert verify(database).remarks == ()


@pytest.mark.expects_log
def test_a_program_that_never_knew_of_it_cannot_tell_it_from_a_stranger_s(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    ex.seal_one(database, "check-a")
    with monkeypatch.context() as patched:
        patched.setattr(tail, "put", refuse)
        ex.seal_one(database, "check-b")
    database.unnoted.clear()  # as one that was killed, and begins again
    ex.seal_one(database, "check-c")
    found = verify(database)
    assert named(found) == (What.APPENDED, 2, 2)
    assert found.faults == 1
    assert f"while {tail.FILE_NAME} could not be written" in str(found.first)


@pytest.mark.expects_log
def test_what_was_not_noted_before_is_noted_after(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    ex.seal_one(database, "check-a")
    ex.run_check(database, "check-b")
    calls: list[Path] = []

    def refuse_once(file: Path, text: str) -> None:
        calls.append(file)
        if len(calls) == 1:
            refuse()
        disk.put(file, text)

    monkeypatch.setattr(tail, "put", refuse_once)
    ex.finish(database, "check-b")
    assert database.tail_error is None
    assert noted(database)["confirmed"]["number"] == 2
    assert verify(database).intact


def test_the_newest_are_deleted_and_another_is_sealed(database: Database) -> None:
    for check_id in ("check-a", "check-b", "check-c"):
        ex.seal_one(database, check_id)
    with ex.by_hand(database.path) as connection:
        for table in ("journal", "traces", "checks"):
            connection.execute(f"DELETE FROM {table} WHERE check_id <> 'check-a'")
    found = verify(database)
    assert named(found) == (What.MISSING, 2, None)
    assert "2 records or amendments are missing from the end" in str(found.first)
    ex.seal_one(database, "check-d")
    assert noted(database)["broken"][0]["expected"]["number"] == 3
    for check_id in ("check-e", "check-f"):
        found = verify(database)
        assert named(found) == (What.MISSING, 2, None)
        assert found.faults == 1
        assert found.first is not None
        assert found.first.sentence == (
            "2 records or amendments are missing from the chain of bay 1, taken from its end "
            "behind no. 1 before the next was sealed."
        )
        ex.seal_one(database, check_id)


def test_the_newest_is_exchanged_and_another_is_sealed(database: Database) -> None:
    for check_id in ("check-a", "check-b"):
        ex.seal_one(database, check_id)
    ex.change(database.path, "UPDATE checks SET plate = 'x', plate_key = 'x' WHERE number = 2")
    ex.reseal_open(database, 2)
    assert named(verify(database)) == (What.RESEALED, 2, 2)
    ex.seal_one(database, "check-c")
    found = verify(database)
    assert named(found) == (What.RESEALED, 2, 2)
    assert found.faults == 1
    assert "is not what was noted as sealed" in str(found.first)


def test_one_is_appended_by_hand_and_another_is_sealed_behind(tmp_path: Path) -> None:
    path = ex.build(tmp_path / "records" / "brimline.sqlite")
    ex.append_by_hand(path, sealed=True)
    with Database.open(path, writer=True) as database:
        ex.seal_one(database, "check-z")
        found = verify(database)
        assert named(found) == (What.APPENDED, 7, 9)
        assert found.faults == 1


def test_remarks_do_not_grow_without_end(database: Database) -> None:
    for number in range(3):
        with tail.noting(database) as note:
            note.intend("1", "a" * 64, Link(number * 2 + 2, "b" * 64))
    assert [
        each["expected"] and each["expected"]["number"] for each in noted(database)["broken"]
    ] == [2, 4]
    known = tail.BayTail(since=1, confirmed=None)
    for number in range(tail.MOST_REMARKS + 20):
        known = tail._followed(known, Noted(number=number + 1, seal=f"{number}"))
    assert len(known.broken) == tail.MOST_REMARKS
    assert known.broken[0].found == Noted(number=1, seal="0")


def restored(path: Path, copy: bytes) -> Database:
    """Put a copy of the file back, as it was, and open it."""
    for beside in ("-wal", "-shm"):
        path.with_name(path.name + beside).unlink(missing_ok=True)
    path.write_bytes(copy)
    return Database.open(path, writer=True)


def test_a_backup_that_was_restored(tmp_path: Path) -> None:
    path = ex.build(tmp_path / "records" / "brimline.sqlite")
    copy = path.read_bytes()
    with Database.open(path, writer=True) as database:
        for check_id in ("late-one", "late-two"):
            ex.seal_one(database, check_id)
    with restored(path, copy) as database:
        found = verify(database)
        assert named(found) == (What.MISSING, 7, None)
        note_restored(database, at=RESTORED_AT)
        found = verify(database)
        assert found.intact
        assert found.remarks == (
            "Known to be missing since a backup was restored on 2032-05-06: "
            "2 records or amendments of bay 1 (no. 7 to 8).",
        )
        assert noted(database, "2")["restored"] == []
        ex.seal_one(database, "new-one")
        found = verify(database)
        assert found.intact
        assert len(found.remarks) == 1
        note_restored(database, at=RESTORED_AT)  # nothing is missing since
        assert len(verify(database).remarks) == 1


def test_one_record_that_a_restored_backup_lacks(tmp_path: Path) -> None:
    path = ex.build(tmp_path / "records" / "brimline.sqlite")
    copy = path.read_bytes()
    with Database.open(path, writer=True) as database:
        ex.seal_one(database, "late-one", bay="3")
    with restored(path, copy) as database:
        note_restored(database, at=RESTORED_AT)
        found = verify(database)
        assert found.intact
        assert found.remarks == (
            "Known to be missing since a backup was restored on 2032-05-06: "
            "1 record or amendment of bay 3 (no. 1).",
        )


def test_another_database_was_restored(database: Database, tmp_path: Path) -> None:
    ex.seal_one(database, "check-a")
    with Database.open(tmp_path / "other" / "brimline.sqlite", writer=True) as other:
        ex.seal_one(other, "check-b")
        tail_file(other.path).write_bytes(tail_file(database.path).read_bytes())
        assert not verify(other).intact
        note_restored(other, at=RESTORED_AT)
        found = verify(other)
        assert found.intact
        assert "was replaced by that of another database" in found.remarks[0]


@pytest.mark.expects_log
def test_a_backup_restored_where_nothing_was_known(tmp_path: Path) -> None:
    path = ex.build(tmp_path / "records" / "brimline.sqlite")
    tail_file(path).write_text("{", "utf-8")
    with Database.open(path, writer=True) as database:
        note_restored(database, at=RESTORED_AT)
        assert noted(database)["since"] == ex.END + 1
        assert noted(database)["confirmed"]["number"] == ex.END
        assert verify(database).intact


def test_noting_a_restored_backup_may_be_refused(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    ex.seal_one(database, "check-a")
    monkeypatch.setattr(tail, "put", refuse)
    with pytest.raises(StoreError, match="cannot be noted"):
        note_restored(database, at=RESTORED_AT)
    with pytest.raises(ValueError, match="without its zone"):
        note_restored(database, at=RESTORED_AT.replace(tzinfo=None))


def test_a_record_that_is_sealed_while_the_file_is_read(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The state of the database and what was noted must be of one moment."""
    ex.seal_one(database, "check-a")
    ex.run_check(database, "check-b")
    real = tail.read
    calls: list[int] = []

    def read_then_seal(path: Path) -> tail.Tail | None:
        found = real(path)
        calls.append(1)
        if len(calls) == 1:
            ex.finish(database, "check-b")
        return found

    monkeypatch.setattr(tail, "read", read_then_seal)
    found = verify(database)
    assert (found.intact, found.checks) == (True, 2)
    assert len(calls) == 4


def test_records_that_are_sealed_all_the_time(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    ex.seal_one(database, "check-a")
    numbers = iter(range(100))
    monkeypatch.setattr(
        tail, "read", lambda _: tail.Tail(bays={str(next(numbers)): tail.BayTail(
            since=1, confirmed=None)})
    )  # fmt: skip
    with pytest.raises(StoreError, match="try again in a moment"):
        verify(database)


def test_a_check_that_cannot_be_finished_is_not_confirmed(database: Database) -> None:
    ex.seal_one(database, "check-a")
    Journal(database).begin(opened("check-b"), wall(0))
    with pytest.raises(StoreError, match="finished and sealed"):
        ex.finish(database, "check-a")
    assert noted(database)["confirmed"]["number"] == 1
    assert noted(database)["intended"] is None
