"""Putting a copy in the place of the database: the old one or the new one, and nothing lost."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from alembic import command
from backup_examples import (
    Stopped,
    add_checks,
    kill,
    later,
    names,
    numbers_in,
    spoil,
    stop_before,
)

from brimline import paths
from brimline.errors import GivenUpError, StoreError
from brimline.records import (
    attached,
    backup,
    chain,
    migrate,
    recovery,
    tail,
)
from brimline.records.database import Database
from brimline.records.watch import Watch

ASIDE = "brimline-replaced-20310506T150000Z.sqlite"


def restore(copy: Path, database: Path, watch: Watch | None = None) -> recovery.Restored:
    return recovery.restore(copy, database, later(60), watch or Watch())


def refusal(copy: Path, database: Path) -> StoreError:
    before = names(database.parent)
    with pytest.raises(StoreError) as caught:
        restore(copy, database)
    assert "\n" not in str(caught.value)
    assert names(database.parent) == before
    return caught.value


class TestRestore:
    def test_the_copy_is_the_database_and_the_former_one_lies_beside_it(
        self, filled: Path, copy: Path
    ) -> None:
        done = restore(copy, filled)
        assert numbers_in(filled) == [1, 2]
        assert done.aside == filled.with_name(ASIDE)
        assert numbers_in(done.aside) == [1, 2, 3]
        assert copy.exists()
        assert (done.missing, done.broken) == ((), "")
        recovery.require(filled)
        add_checks(filled, 4)

    def test_what_was_in_the_log_of_the_former_one_goes_with_it(
        self, filled: Path, copy: Path
    ) -> None:
        """The log of a killed program must never be read into another database."""
        killed = (
            "import os, pathlib, sys\nsys.path.insert(0, sys.argv[2])\n"
            "from backup_examples import add_checks\n"
            "from brimline.records.database import Database\n"
            "Database.close = lambda self: os._exit(0)\n"
            "add_checks(pathlib.Path(sys.argv[1]), 4)\n"
        )
        subprocess.run(
            [sys.executable, "-c", killed, str(filled), str(Path(__file__).parent)], check=True
        )
        log = filled.with_name(filled.name + "-wal")
        assert log.stat().st_size > 0
        done = restore(copy, filled)
        assert numbers_in(filled) == [1, 2]
        assert done.aside is not None
        assert done.aside.with_name(done.aside.name + "-wal").stat().st_size > 0
        assert numbers_in(done.aside) == [1, 2, 3, 4]

    def test_the_tail_of_the_chain_keeps_what_was_known_of_newer_records(
        self, filled: Path, copy: Path
    ) -> None:
        restore(copy, filled)
        noted = tail.read(filled)
        assert noted is not None
        (remark,) = noted.bays["1"].restored
        assert (remark.known.number, remark.kept and remark.kept.number) == (3, 2)
        with Database.open(filled, writer=False) as database:
            assert chain.verify(database).intact

    def test_a_broken_chain_is_told_and_no_reason_to_refuse(self, filled: Path, copy: Path) -> None:
        with closing(sqlite3.connect(copy)) as connection, connection:
            connection.execute("DROP TRIGGER checks_no_update")
            connection.execute("UPDATE checks SET odometer_km = 1 WHERE number = 1")
        assert "ecord 1" in restore(copy, filled).broken
        assert numbers_in(filled) == [1, 2]

    def test_attachments_come_back_from_beside_the_backup(
        self, filled: Path, folder: Path, copy: Path
    ) -> None:
        content = b"a leak at the pan"
        name = hashlib.sha256(content).hexdigest()
        with closing(sqlite3.connect(copy)) as connection, connection:
            connection.execute("DROP TRIGGER attachments_no_insert")
            real = connection.execute("SELECT check_id, opened_at FROM checks").fetchone()
            connection.execute(
                "INSERT INTO attachments VALUES (?, ?, 'a', 'b', ?, 'c', ?)",
                (real[0], name, len(content), real[1]),
            )
        attached.place(folder, name).parent.mkdir(parents=True)
        attached.place(folder, name).write_bytes(content)
        assert restore(copy, filled).missing == ()
        assert attached.place(filled.parent, name).read_bytes() == content
        attached.place(filled.parent, name).unlink()
        attached.place(folder, name).unlink()
        assert recovery.restore(copy, filled, later(61)).missing == (name,)

    def test_where_there_is_no_database_at_all(self, filled: Path, copy: Path) -> None:
        filled.unlink()
        assert restore(copy, filled).aside is None
        assert numbers_in(filled) == [1, 2]

    def test_a_new_computer_needs_no_more_than_the_backup(self, copy: Path, tmp_path: Path) -> None:
        database = tmp_path / "new" / "brimline.sqlite"
        database.parent.mkdir()
        restore(copy, database)
        assert numbers_in(database) == [1, 2]

    def test_what_was_moved_aside_can_be_put_back(self, filled: Path, copy: Path) -> None:
        done = restore(copy, filled)
        assert done.aside is not None
        recovery.restore(done.aside, filled, later(61))
        assert numbers_in(filled) == [1, 2, 3]
        assert done.aside.exists()

    def test_a_copy_of_an_older_revision_is_brought_up(self, filled: Path, tmp_path: Path) -> None:
        old = tmp_path / "old.sqlite"
        shutil.copy(filled, old)
        config = migrate.configuration(paths.migrations())
        migrate.run(old, config, lambda: command.downgrade(config, "0002"))
        restore(old, filled)
        assert migrate.is_current(filled)
        assert numbers_in(filled) == [1, 2]
        assert migrate.stored_revision(old) == "0002"

    def test_given_up_midway_it_changes_nothing(
        self, filled: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(backup, "_STEP_PAGES", 4)
        for most in range(40):
            asked = []
            watch = Watch(stop=lambda asked=asked, most=most: len(asked) >= most or asked.append(0))
            before = names(filled.parent)
            try:
                restore(copy, filled, watch)
            except GivenUpError:
                assert names(filled.parent) == before
                assert numbers_in(filled) == [1, 2, 3]
            else:
                break
        assert 5 < most < 39
        assert numbers_in(filled) == [1, 2]


class TestWhatIsRefused:
    def test_a_damaged_copy(self, filled: Path, copy: Path) -> None:
        spoil(copy, copy.stat().st_size // 4096 // 2 * 4096)
        assert f"{copy} is damaged" in str(refusal(copy, filled))
        assert numbers_in(filled) == [1, 2, 3]

    @pytest.mark.parametrize("share", [0.0, 0.3, 0.9, 0.999])
    def test_one_cut_short(self, filled: Path, copy: Path, share: float) -> None:
        content = copy.read_bytes()
        copy.write_bytes(content[: int(len(content) * share)])
        assert str(copy) in str(refusal(copy, filled))

    def test_one_whose_rows_have_lost_their_parents(self, filled: Path, copy: Path) -> None:
        with closing(sqlite3.connect(copy)) as connection, connection:
            connection.execute("DROP TRIGGER checks_no_delete")
            connection.execute("DELETE FROM checks WHERE number = 1")
        error = refusal(copy, filled)
        assert "is damaged" in str(error)
        assert "no parent in checks" in error.detail

    def test_one_of_a_newer_program(self, filled: Path, copy: Path) -> None:
        with closing(sqlite3.connect(copy)) as connection, connection:
            connection.execute("UPDATE alembic_version SET version_num = '9999'")
        assert "written by a newer Brimline" in str(refusal(copy, filled))

    def test_one_of_another_program(self, filled: Path, tmp_path: Path) -> None:
        other = tmp_path / "recipes.sqlite"
        with closing(sqlite3.connect(other)) as connection:
            connection.execute("CREATE TABLE recipes (name TEXT)")
        assert "is no Brimline database" in str(refusal(other, filled))

    def test_a_letter_and_nothing_at_all(self, filled: Path, tmp_path: Path) -> None:
        letter = tmp_path / "letter.sqlite"
        letter.write_text("Dear shop,\n" * 500)
        assert "damaged or no database" in str(refusal(letter, filled))
        assert "There is no file" in str(refusal(tmp_path / "none.sqlite", filled))

    def test_while_a_check_is_running(self, filled: Path, copy: Path) -> None:
        with Database.open(filled, writer=True):
            before = filled.read_bytes()
            with pytest.raises(StoreError, match="running a check"):
                restore(copy, filled)
            assert filled.read_bytes() == before

    def test_a_disk_without_room(
        self, filled: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        real = backup.target_connection

        def small(path: Path) -> sqlite3.Connection:
            connection = real(path)
            connection.execute("PRAGMA max_page_count=4")
            return connection

        monkeypatch.setattr(backup, "target_connection", small)
        assert "see that it has room" in str(refusal(copy, filled))

    def test_a_system_that_lets_no_name_change(
        self, filled: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """As where another program has the file open and the system guards it."""

        def refuse(self: Path, _target: Path) -> Path:
            raise PermissionError(13, "Permission denied", str(self))

        monkeypatch.setattr(Path, "rename", refuse)
        with pytest.raises(StoreError, match="no other program has the database open"):
            restore(copy, filled)
        monkeypatch.undo()
        recovery.require(filled)
        assert numbers_in(filled) == [1, 2, 3]
        assert not [name for name in names(filled.parent) if "replaced" in name]


def at_the_next_start(database: Path) -> list[int]:
    """What the database holds then; of a replaced one everything that belongs to it is there."""
    recovery.require(database)
    held = numbers_in(database)
    asides = list(database.parent.glob("*-replaced-*.sqlite"))
    assert [numbers_in(aside) for aside in asides] == ([] if held == [1, 2, 3] else [[1, 2, 3]])
    if asides:
        noted = tail.read(database)
        assert noted is not None
        assert [remark.known.number for remark in noted.bays["1"].restored] == [3]
    assert not database.with_name("brimline.sqlite.restore").exists()
    return held


@pytest.mark.parametrize("deed", ["restore", "start_empty"])
def test_a_computer_that_stops_at_any_step_leaves_the_old_or_the_new_database(
    filled: Path, copy: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, deed: str
) -> None:
    shutil.copytree(filled.parent, tmp_path / "master")
    new = [] if deed == "start_empty" else [1, 2]
    seen = []
    for step in range(60):
        shutil.rmtree(filled.parent)
        shutil.copytree(tmp_path / "master", filled.parent)
        with monkeypatch.context() as patch:
            gone = stop_before(step, patch)
            try:
                restore(copy, filled) if new else recovery.start_empty(filled, later(60))
            except Stopped:
                assert len(gone) == step
            else:
                break
        seen.append(at_the_next_start(filled))
    assert at_the_next_start(filled) == new
    turn = seen.index(new)
    assert seen == [[1, 2, 3]] * turn + [new] * (len(seen) - turn)
    assert turn > 3
    assert len(seen) - turn > 3


@pytest.mark.parametrize("step", [2, 8, 10, 12])
def test_a_process_killed_in_earnest_leaves_one_of_both(
    filled: Path, copy: Path, step: int
) -> None:
    program = (
        "from brimline.records import recovery\n"
        "copy, database = map(pathlib.Path, sys.argv[3:])\n"
        "recovery.restore(copy, database, now)\n"
    )
    assert kill(program, step, copy, filled) == 9
    assert at_the_next_start(filled) in ([1, 2, 3], [1, 2])
