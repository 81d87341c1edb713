"""Backups into a folder: whole or not there, and every way in which the folder fails."""

from __future__ import annotations

import hashlib
import sqlite3
from contextlib import closing
from pathlib import Path, PureWindowsPath
from urllib.parse import urlsplit

import pytest
from backup_examples import (
    AT,
    Stopped,
    add_checks,
    kill,
    later,
    names,
    numbers_in,
    plan,
    stop_before,
)
from filelock import FileLock
from record_examples import opened, tap, wall

from brimline.errors import GivenUpError, StoreError
from brimline.records import attached, backup, copies, engine, soundness, tail
from brimline.records.backup_log import BackupLog
from brimline.records.database import Database
from brimline.records.engine import sqlite_uri
from brimline.records.journal import Journal
from brimline.records.watch import Watch

FIRST = "brimline-20310506T140000Z"


def refusal(order: copies.Plan, watch: Watch | None = None) -> StoreError:
    with pytest.raises(StoreError) as caught:
        copies.make(order, later(60), watch or Watch())
    assert "\n" not in str(caught.value)
    assert str(caught.value).endswith(".")
    return caught.value


def attach(database: Path, content: bytes) -> str:
    """Keep a file with the open check of a database."""
    sha256 = hashlib.sha256(content).hexdigest()
    place = attached.place(database.parent, sha256)
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(content)
    with closing(sqlite3.connect(database)) as connection, connection:
        connection.execute(
            "INSERT INTO attachments SELECT check_id, ?, 'a.jpg', 'image/jpeg', ?, 'condition',"
            " opened_at FROM checks WHERE finished_at IS NULL",
            (sha256, len(content)),
        )
    return sha256


def test_a_backup_is_one_whole_file_and_the_tail_of_its_time(filled: Path, folder: Path) -> None:
    made = copies.make(plan(filled, folder), AT)
    assert names(folder) == [f"{FIRST}.chain-tail.json", f"{FIRST}.sqlite"]
    assert numbers_in(made.backup.path) == [1, 2]
    assert made.contents.words == "2 records, the newest of 2031-05-06"
    noted = tail.tail_file(filled).read_text("utf-8")
    assert (folder / f"{FIRST}.chain-tail.json").read_text("utf-8") == noted
    log = BackupLog.of(filled)
    assert (log.last, log.begun, log.failure) == (made.backup, (), None)


def test_what_is_only_in_the_write_ahead_log_is_in_the_backup(filled: Path, folder: Path) -> None:
    with Database.open(filled, writer=True) as database:
        journal = Journal(database)
        journal.begin(opened("3".zfill(32)), wall(0))
        journal.append(tap(1), wall(1))
        made = copies.make(plan(filled, folder), AT)
        journal.append(tap(2), wall(2))  # the check goes on, whatever the backup read
    assert numbers_in(made.backup.path) == [1, 2, 3]
    with closing(sqlite3.connect(made.backup.path)) as connection:
        assert connection.execute(
            "SELECT max(seq) FROM journal WHERE check_id = ?", ("3".zfill(32),)
        ).fetchone() == (2,)


def test_what_is_written_while_it_copies_makes_it_neither_longer_nor_mixed(
    filled: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(backup, "_STEP_PAGES", 2)
    with Database.open(filled, writer=True) as database:
        journal = Journal(database)
        journal.begin(opened("3".zfill(32)), wall(0))
        steps = []

        def write(doing: str, share: float) -> None:
            if doing.startswith("copying"):
                steps.append(share)
                journal.append(tap(len(steps)), wall(len(steps)))

        made = copies.make(plan(filled, folder), AT, Watch(write))
    assert len(steps) > 10
    assert steps == sorted(steps)  # never begun anew
    with closing(sqlite3.connect(made.backup.path)) as connection:
        assert connection.execute(
            "SELECT count(*) FROM journal WHERE check_id = ?", ("3".zfill(32),)
        ).fetchone() == (1,)


def test_only_what_newer_ones_stand_for_and_this_bay_made_is_removed(
    filled: Path, folder: Path
) -> None:
    order = plan(filled, folder, keep=2)
    others = [f"brimline-2031050{day}T140000Z.sqlite" for day in range(1, 7)]
    for name in [*others[:5], "brimline-notes.sqlite", "picture.jpg"]:
        (folder / name).write_bytes(b"another bay's")
    for minute in range(5):
        copies.make(order, later(minute))
    mine = [f"brimline-20310506T140{minute}00Z" for minute in (3, 4)]
    kept = {f"{name}{suffix}" for name in mine for suffix in (".sqlite", ".chain-tail.json")}
    assert set(names(folder)) == {*others[:5], "brimline-notes.sqlite", "picture.jpg", *kept}


def test_two_in_one_second_both_stay(filled: Path, folder: Path) -> None:
    copies.make(plan(filled, folder), AT)
    copies.make(plan(filled, folder), AT)
    assert [name for name in names(folder) if name.endswith(".sqlite")] == [
        f"{FIRST}-2.sqlite", f"{FIRST}.sqlite",
    ]  # fmt: skip


def test_a_clock_put_back_never_costs_the_backup_just_made(filled: Path, folder: Path) -> None:
    for minute in (10, 11, 12):
        copies.make(plan(filled, folder, keep=1), later(minute))
    made = copies.make(plan(filled, folder, keep=1), later(-60))
    assert made.backup.path.exists()


class TestAttachments:
    def test_they_are_copied_once_and_by_content(self, filled: Path, folder: Path) -> None:
        add_checks(filled, 3, finish=False)
        first = attach(filled, b"a leak at the pan")
        copies.make(plan(filled, folder), AT)
        copied = attached.place(folder, first)
        assert copied.read_bytes() == b"a leak at the pan"
        before = copied.stat().st_mtime_ns
        second = attach(filled, b"its seal")
        made = copies.make(plan(filled, folder), later(1))
        assert copied.stat().st_mtime_ns == before
        assert attached.place(folder, second).exists()
        assert made.missing == ()

    def test_one_spoilt_there_is_copied_again(self, filled: Path, folder: Path) -> None:
        add_checks(filled, 3, finish=False)
        name = attach(filled, b"a leak at the pan")
        copies.make(plan(filled, folder), AT)
        for minute, spoilt in enumerate([b"a leak", b"a leek at the pan"], start=1):
            attached.place(folder, name).write_bytes(spoilt)
            copies.make(plan(filled, folder), later(minute))
            assert attached.place(folder, name).read_bytes() == b"a leak at the pan"

    def test_missing_and_damaged_ones_are_named_and_keep_no_backup_from_being_made(
        self, filled: Path, folder: Path
    ) -> None:
        add_checks(filled, 3, finish=False)
        gone, bad = attach(filled, b"gone"), attach(filled, b"bad")
        attached.place(filled.parent, gone).unlink()
        attached.place(filled.parent, bad).write_bytes(b"BAD")
        made = copies.make(plan(filled, folder), AT)
        assert set(made.missing) == {gone, bad}
        assert not attached.place(folder, bad).exists()

    def test_a_name_that_leads_elsewhere_is_followed_nowhere(
        self, filled: Path, folder: Path, tmp_path: Path
    ) -> None:
        add_checks(filled, 3, finish=False)
        (tmp_path / "secret").write_text("x")
        with closing(sqlite3.connect(filled)) as connection, connection:
            connection.execute(
                "INSERT INTO attachments SELECT check_id, '../../secret', 'a', 'b', 1, 'c',"
                " opened_at FROM checks WHERE finished_at IS NULL"
            )
        assert copies.make(plan(filled, folder), AT).missing == ("../../secret",)


def whole_ones(folder: Path) -> list[Path]:
    """Every file whose name says that it is a whole backup, and every one of them is."""
    found = [folder / name for name in names(folder) if copies.is_backup_name(name)]
    assert all(soundness.examine(path).newest == 2 for path in found)
    return found


def test_a_computer_that_stops_leaves_no_half_backup_under_a_whole_ones_name(
    filled: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for step in range(60):
        with monkeypatch.context() as patch:
            gone = stop_before(step, patch)
            try:
                copies.make(plan(filled, folder), later(step))
            except Stopped:
                assert len(gone) == step
            else:
                break
        whole_ones(folder)
    assert 12 < step < 59
    copies.make(plan(filled, folder), later(step + 1))
    assert not [name for name in names(folder) if name.endswith(copies.PART)]


@pytest.mark.parametrize("step", [3, 5, 9])
def test_a_process_killed_in_earnest_leaves_none_either(
    filled: Path, folder: Path, step: int
) -> None:
    folder.mkdir(parents=True)
    program = (
        "from brimline.records import copies\n"
        "database, folder = map(pathlib.Path, sys.argv[3:])\n"
        "copies.make(copies.Plan(database, folder, 10), now)\n"
    )
    assert kill(program, step, filled, folder) == 9
    whole_ones(folder)
    copies.make(plan(filled, folder), AT)
    assert not [name for name in names(folder) if name.endswith(copies.PART)]


def test_half_copies_of_others_are_left_alone(filled: Path, folder: Path) -> None:
    order = plan(filled, folder)
    (folder / "brimline-20310101T000000Z.sqlite.part").write_bytes(b"another bay is at it")
    copies.make(order, AT)
    assert "brimline-20310101T000000Z.sqlite.part" in names(folder)


def test_one_that_is_given_up_leaves_nothing_and_is_no_failure(
    filled: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(backup, "_STEP_PAGES", 2)
    asked = []

    def stop() -> bool:
        asked.append(None)
        return len(asked) > 12

    with pytest.raises(GivenUpError):
        copies.make(plan(filled, folder), AT, Watch(stop=stop))
    assert names(folder) == []
    assert BackupLog.of(filled).failure is None
    assert BackupLog.of(filled).begun == ()


def test_a_check_of_the_copy_is_given_up_within_it(
    filled: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "_OFTEN", 10)
    doing = [""]
    watch = Watch(lambda words, _share: doing.__setitem__(0, words), lambda: "checking" in doing[0])
    with pytest.raises(GivenUpError):
        copies.make(plan(filled, folder), AT, watch)
    assert names(folder) == []


def test_a_second_one_meanwhile_is_refused(filled: Path, folder: Path) -> None:
    with FileLock(filled.with_name("backups.lock")):
        assert "being made already" in str(refusal(plan(filled, folder)))


def test_a_log_that_makes_no_sense_is_begun_anew(filled: Path, folder: Path) -> None:
    filled.with_name("backups.json").write_text("{", "utf-8")
    assert BackupLog.of(filled) == BackupLog()
    made = copies.make(plan(filled, folder), AT)
    assert BackupLog.of(filled).made == (made.backup,)


def test_a_share_of_windows_is_an_address_that_sqlite_takes() -> None:
    """Its authority must be empty or "localhost": https://www.sqlite.org/uri.html, section 3.1."""
    for name, path in (
        (r"\\office\bay 2\b.sqlite", "//office/bay%202/b.sqlite"),
        (r"D:\backups\b.sqlite", "/D:/backups/b.sqlite"),
    ):
        parts = urlsplit(sqlite_uri(PureWindowsPath(name)))
        assert (parts.scheme, parts.netloc, parts.path) == ("file", "", path)
