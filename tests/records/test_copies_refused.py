"""Every way in which a folder for backups fails, or the database itself: one sentence each."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from backup_examples import (
    AT,
    add_checks,
    later,
    names,
    plan,
    spoil,
)

from brimline.errors import DamagedError, StoreError
from brimline.records import attached, backup, copies, disk, soundness
from brimline.records.backup_log import BackupLog
from brimline.records.watch import Watch

FIRST = "brimline-20310506T140000Z"


def refusal(order: copies.Plan, watch: Watch | None = None) -> StoreError:
    with pytest.raises(StoreError) as caught:
        copies.make(order, later(60), watch or Watch())
    assert "\n" not in str(caught.value)
    assert str(caught.value).endswith(".")
    return caught.value


class TestTheFolder:
    def test_one_that_is_away_is_never_made_by_itself(self, filled: Path, folder: Path) -> None:
        order = copies.Plan(filled, folder, 10)
        error = refusal(order)
        assert "is not there: connect its disk or share" in str(error)
        assert not folder.parent.exists()
        failure = BackupLog.of(filled).failure
        assert failure is not None
        assert (failure.sentence, failure.at, failure.damaged) == (str(error), later(60), False)

    def test_one_just_named_is_made(self, filled: Path, folder: Path) -> None:
        copies.make(copies.Plan(filled, folder, 10, make_folder=True), AT)
        assert f"{FIRST}.sqlite" in names(folder)

    @pytest.mark.parametrize("make_folder", [True, False])
    def test_an_empty_mount_point_is_not_taken_for_the_share(
        self, filled: Path, folder: Path, make_folder: bool
    ) -> None:
        copies.make(plan(filled, folder), AT)
        shutil.rmtree(folder)
        order = copies.Plan(filled, folder, 10, make_folder=make_folder)
        assert "is not there" in str(refusal(order))
        folder.mkdir()  # what is left of it once the share is gone
        assert "holds none of the backups made into it" in str(refusal(order))
        assert names(folder) == []

    def test_the_folder_with_the_records_is_no_place_for_their_backups(self, filled: Path) -> None:
        assert "with the records themselves" in str(refusal(plan(filled, filled.parent)))

    def test_a_file_in_its_place(self, filled: Path, folder: Path) -> None:
        folder.parent.mkdir()
        folder.write_text("in the way")
        assert "is not there" in str(refusal(copies.Plan(filled, folder, 10)))
        order = copies.Plan(filled, folder, 10, make_folder=True)
        assert "went away" in str(refusal(order))

    def test_one_that_may_not_be_written(self, ordinary_folder: Path) -> None:
        database = ordinary_folder / "data" / "brimline.sqlite"
        add_checks(database, 1)
        folder = ordinary_folder / "share"
        folder.mkdir()
        folder.chmod(0o555)
        assert "cannot be written" in str(refusal(copies.Plan(database, folder, 10)))
        assert names(folder) == []

    def test_too_little_room_is_told_before_anything_is_written(
        self, filled: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        usage = shutil.disk_usage(filled)._replace(free=100_000)
        monkeypatch.setattr(shutil, "disk_usage", lambda _folder: usage)
        error = refusal(plan(filled, folder))
        assert "0 MB free" in str(error)
        assert names(folder) == []

    def test_a_disk_that_fills_up_midway(self, filled: Path, folder: Path) -> None:
        """The system itself refuses: a limit on the size of files, in a process of its own."""
        folder.mkdir(parents=True)
        program = (
            "import resource, sys, pathlib, datetime\n"
            "from brimline.errors import StoreError\n"
            "from brimline.records import copies\n"
            "resource.setrlimit(resource.RLIMIT_FSIZE, (65536, 65536))\n"
            "plan = copies.Plan(pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]), 10)\n"
            "try:\n"
            "    copies.make(plan, datetime.datetime.now(datetime.UTC))\n"
            "except StoreError as error:\n"
            "    print(error)\n"
        )
        pytest.importorskip("resource")
        done = subprocess.run(
            [sys.executable, "-c", program, str(filled), str(folder)],
            capture_output=True, encoding="utf-8", check=True,
        )  # fmt: skip
        assert str(folder) in done.stdout
        assert done.stdout.count("\n") == 1
        assert names(folder) == []
        assert copies.make(plan(filled, folder), AT).backup.path.exists()

    def test_a_disk_that_is_full_is_said_to_be_full(
        self, filled: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        real = backup.target_connection

        def small(path: Path) -> sqlite3.Connection:
            connection = real(path)
            connection.execute("PRAGMA max_page_count=4")
            return connection

        monkeypatch.setattr(backup, "target_connection", small)
        assert "is full: free some space" in str(refusal(plan(filled, folder)))
        assert names(folder) == []


STEPS: list[tuple[str, object, str]] = [
    ("the attachments", attached, "named_in"),
    ("the copy", backup, "target_connection"),
    ("forcing it onto the disk", disk, "sync"),
    ("the check", soundness, "sound"),
    ("the tail", copies, "_copy_tail"),
    ("the names", disk, "sync_folder"),
]


@pytest.mark.parametrize(("_name", "module", "function"), STEPS, ids=[step[0] for step in STEPS])
def test_a_share_that_vanishes_at_any_step(
    filled: Path,
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    _name: str,
    module: object,
    function: str,
) -> None:
    """The folder is gone before a step; the step then meets whatever the system says."""
    copies.make(plan(filled, folder), AT)
    away = folder.with_name("away")
    real: Callable[..., object] = getattr(module, function)

    def vanish(*args: object, **more: object) -> object:
        at_once = function in ("named_in", "target_connection")
        if folder.exists() and (at_once or any(folder.glob("*.part"))):
            folder.rename(away)
        return real(*args, **more)

    with monkeypatch.context() as patch:
        patch.setattr(module, function, vanish)
        error = refusal(plan(filled, folder))
    assert str(folder) in str(error)
    assert not isinstance(error, DamagedError)
    away.rename(folder)
    copies.make(plan(filled, folder), later(120))  # the half copy is swept away now
    whole = ["brimline-20310506T160000Z", FIRST]
    assert [name for name in names(folder) if not name.endswith(".json")] == [
        f"{name}.sqlite" for name in sorted(whole)
    ]


class TestADamagedDatabase:
    def damage(self, path: Path) -> None:
        """Spoil a page in the middle, which opening does not read."""
        add_checks(path, *range(10, 30))
        spoil(path, path.stat().st_size // 4096 // 2 * 4096)

    def test_it_is_found_by_its_backup_and_older_ones_stay(
        self, filled: Path, folder: Path
    ) -> None:
        first = copies.make(plan(filled, folder), AT)
        self.damage(filled)
        order = plan(filled, folder, keep=1)
        for _ in range(3):
            error = refusal(order)
            assert isinstance(error, DamagedError)
            assert "brimline restore" in str(error)
        assert first.backup.path.exists()
        assert [name for name in names(folder) if name.endswith(".sqlite")] == [f"{FIRST}.sqlite"]
        failure = BackupLog.of(filled).failure
        assert failure is not None
        assert failure.damaged

    def test_a_head_that_is_none(self, filled: Path, folder: Path) -> None:
        spoil(filled, 0)
        assert isinstance(refusal(plan(filled, folder)), DamagedError)
        assert names(folder) == []

    def test_a_share_that_spoils_what_it_keeps_is_blamed_itself(
        self, filled: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        real = disk.sync

        def spoiling(file: Path) -> None:
            real(file)
            spoil(file, 3 * 4096)

        monkeypatch.setattr(disk, "sync", spoiling)
        error = refusal(plan(filled, folder))
        assert "not to be trusted" in str(error)
        assert not isinstance(error, DamagedError)
        assert names(folder) == []
