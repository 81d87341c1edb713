"""A database that is damaged, gone or doubtful at the start, and what can be put in its place."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from backup_examples import (
    AT,
    add_checks,
    later,
    numbers_in,
    plan,
    spoil,
)
from record_examples import outcome, tap, wall

from brimline.errors import DamagedError, GivenUpError, StoreError
from brimline.records import (
    amendments,
    backup,
    comparison,
    copies,
    found,
    recovery,
    soundness,
    tail,
)
from brimline.records.backup_log import BackupLog
from brimline.records.database import Database, writer_mark
from brimline.records.journal import Journal
from brimline.records.model import Amendable
from brimline.records.repository import Repository
from brimline.records.watch import Watch

ASIDE = "brimline-replaced-20310506T150000Z.sqlite"


def restore(copy: Path, database: Path, watch: Watch | None = None) -> recovery.Restored:
    return recovery.restore(copy, database, later(60), watch or Watch())


def told(database: Path) -> str:
    """Why nothing goes on, by the one question that everything else asks first."""
    with pytest.raises(DamagedError) as caught:
        recovery.require(database)
    assert "“brimline restore”" in str(caught.value)
    return caught.value.what


class TestAtStart:
    def test_a_first_start_ever_is_no_trouble(self, database_path: Path) -> None:
        database_path.parent.mkdir()
        recovery.require(database_path)
        database_path.touch()  # a first start that was cut short
        recovery.require(database_path)

    @pytest.mark.parametrize("empty", [True, False], ids=["empty", "missing"])
    def test_a_database_that_is_gone_is_never_silently_begun_anew(
        self, filled: Path, empty: bool
    ) -> None:
        filled.unlink()
        if empty:
            filled.touch()
        assert ("is empty" if empty else "is gone") in told(filled)
        assert filled.exists() is empty

    TRACES: tuple[Callable[[Path], object], ...] = (
        lambda path: tail.tail_file(path).touch(),
        lambda path: path.with_name("brimline.sqlite-wal").write_bytes(b"x"),
        lambda path: path.with_name("brimline-before-0003-20310506T140000Z.sqlite").touch(),
        lambda path: path.with_name(ASIDE).touch(),
    )

    @pytest.mark.parametrize("leave", TRACES, ids=["tail", "log", "copy", "aside"])
    def test_each_trace_of_a_former_life_counts(
        self, database_path: Path, leave: Callable[[Path], object]
    ) -> None:
        database_path.parent.mkdir()
        leave(database_path)
        assert "is gone" in told(database_path)

    def test_backups_made_before_count_too(self, filled: Path, folder: Path) -> None:
        copies.make(plan(filled, folder), AT)
        filled.unlink()
        tail.tail_file(filled).unlink()
        assert "is gone" in told(filled)

    def test_one_whose_tables_are_gone_counts_as_gone(self, filled: Path) -> None:
        filled.unlink()
        with closing(sqlite3.connect(filled)) as connection:
            connection.execute("PRAGMA user_version=1")
        assert "is empty" in told(filled)

    @pytest.mark.parametrize(
        ("start", "words"), [(0, "not a Brimline database"), (100, "is damaged")]
    )
    def test_a_first_page_full_of_rubbish(self, filled: Path, start: int, words: str) -> None:
        spoil(filled, start, 4096 - start)
        before = filled.read_bytes()
        assert words in told(filled)
        assert filled.read_bytes() == before

    def test_a_file_cut_short(self, filled: Path) -> None:
        filled.write_bytes(filled.read_bytes()[: 5 * 4096])
        assert "is damaged" in told(filled)

    def test_a_database_of_another_program(self, database_path: Path) -> None:
        database_path.parent.mkdir()
        with closing(sqlite3.connect(database_path)) as connection:
            connection.execute("CREATE TABLE recipes (name TEXT)")
        assert "of another program" in told(database_path)

    def test_a_note_that_cannot_be_read_is_told(self, filled: Path) -> None:
        filled.with_name("brimline.sqlite.restore").write_text("{")
        with pytest.raises(StoreError, match="says how to finish"):
            recovery.require(filled)


class TestAfterAnUncleanEnd:
    def kill(self, path: Path) -> None:
        killed = (
            "import os, pathlib, sys\n"
            "from brimline.records.database import Database\n"
            "kept = Database.open(pathlib.Path(sys.argv[1]), writer=True)\nos._exit(0)\n"
        )
        subprocess.run([sys.executable, "-c", killed, str(path)], check=True)

    def test_it_is_known_until_somebody_looked(self, filled: Path) -> None:
        assert not soundness.is_doubtful(filled)
        self.kill(filled)
        assert soundness.is_doubtful(filled)
        add_checks(filled, 3)  # a clean end since does not make up for it
        assert soundness.is_doubtful(filled)
        soundness.look_through(filled)
        assert not soundness.is_doubtful(filled)

    def test_a_writer_at_work_is_no_unclean_end(self, filled: Path) -> None:
        with Database.open(filled, writer=True):
            assert writer_mark(filled).exists()
            assert not soundness.is_doubtful(filled)
        assert not writer_mark(filled).exists()

    def test_damage_that_opening_does_not_meet_is_found(self, filled: Path) -> None:
        add_checks(filled, *range(10, 30))
        self.kill(filled)
        spoil(filled, filled.stat().st_size // 4096 // 2 * 4096)
        with pytest.raises(DamagedError, match="is damaged"):
            soundness.look_through(filled)
        assert soundness.is_doubtful(filled)

    def test_restoring_makes_it_good(self, filled: Path, copy: Path) -> None:
        self.kill(filled)
        restore(copy, filled)
        assert not soundness.is_doubtful(filled)

    def test_it_can_be_given_up(self, filled: Path) -> None:
        self.kill(filled)
        with pytest.raises(GivenUpError):
            soundness.look_through(filled, Watch(stop=lambda: True))
        assert soundness.is_doubtful(filled)


class TestStartEmpty:
    def test_everything_is_moved_aside(self, filled: Path) -> None:
        spoil(filled, 0)
        content = filled.read_bytes()
        done = recovery.start_empty(filled, later(60))
        assert done.aside is not None
        assert done.aside.read_bytes() == content
        recovery.require(filled)
        add_checks(filled, 9)
        assert numbers_in(filled) == [9]
        noted = tail.read(filled)
        assert noted is not None
        assert [remark.kept for remark in noted.bays["1"].restored] == [None]

    def test_not_while_a_check_is_running(self, filled: Path) -> None:
        with Database.open(filled, writer=True), pytest.raises(StoreError, match="running a check"):
            recovery.start_empty(filled, later(60))


class TestLostBy:
    def test_newer_changed_and_amended_ones(self, filled: Path, copy: Path) -> None:
        add_checks(filled, 4, 5, finish=False)
        assert comparison.lost_by(copy, filled) == (3, 4, 5)
        newer = copies.make(plan(filled, copy.parent), later(1)).backup.path
        assert comparison.lost_by(newer, filled) == ()
        with Database.open(filled, writer=True) as database:
            journal = Journal(database)
            journal.resume("4".zfill(32))
            journal.append(tap(60), wall(60))
        assert comparison.lost_by(newer, filled) == (4,)
        with Database.open(filled, writer=True) as database:
            Repository(database).finish("5".zfill(32), outcome(), wall(70))
            amendments.amend(
                database, "1", field=Amendable.NOTE, value="it was the seal", author="R. Quill",
                reason="seen later", at=wall(80),
            )  # fmt: skip
        assert comparison.lost_by(newer, filled) == (1, 4, 5)

    def test_what_cannot_be_read_cannot_be_told(self, filled: Path, copy: Path) -> None:
        spoil(filled, 0)
        assert comparison.lost_by(copy, filled) is None
        filled.unlink()
        assert comparison.lost_by(copy, filled) is None

    def test_it_can_be_given_up(
        self, filled: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr("brimline.records.engine._OFTEN", 1)
        with pytest.raises(GivenUpError):
            comparison.lost_by(copy, filled, Watch(stop=lambda: True))

    @pytest.mark.parametrize(
        ("numbers", "words"),
        [
            ((7,), "record 7"),
            ((3, 7, 8), "records 3, 7, 8"),
            ((1, 2, 3, 5, 6, 7, 8), "records 1 to 3, 5 to 8"),
        ],
    )
    def test_numbers_in_words(self, numbers: tuple[int, ...], words: str) -> None:
        assert comparison.record_words(numbers) == words


def test_copies_are_found_wherever_they_lie(filled: Path, copy: Path, folder: Path) -> None:
    damaged = folder / "brimline-20310507T140000Z.sqlite"
    damaged.write_bytes(b"x" * 5000)
    restore(copy, filled)
    before = backup.back_up(filled, before="0004")
    os.utime(filled, (0, 0))
    listed = found.find(filled, folder)
    assert [(each.kind.value, each.path) for each in listed if each.path != before] == [
        ("backup", damaged),
        ("moved aside", filled.with_name(ASIDE)),
        ("backup", copy),
    ]
    assert [each.kind for each in listed if each.path == before] == [found.Kind.BEFORE_UPGRADE]
    newest = found.newest_backup(listed)
    assert newest is not None
    assert (newest.path, newest.checked) == (copy, True)
    assert "damaged or no database" in listed[0].fault or "damaged or no" in "".join(
        each.fault for each in listed
    )


def test_a_share_that_is_away_has_no_copies(filled: Path, copy: Path, folder: Path) -> None:
    shutil.rmtree(folder)
    assert found.find(filled, folder) == ()
    assert BackupLog.of(filled).last is not None
