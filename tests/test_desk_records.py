"""The keeper of the window: when backups are due, what is said of them, and what a check does."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from brimline import desk_records, paths
from brimline.aside import Aside
from brimline.bootstrap import Bay
from brimline.cli import main
from brimline.config import BackupSettings, Settings, read_settings
from brimline.desk_records import Keeper, moment_words
from brimline.errors import BrimlineError, GivenUpError
from brimline.records import copies, recovery, soundness
from brimline.records.backup_log import BackupLog
from brimline.ui.ports.keeping import BackupChoice, BackupLine, WorkState

NOON = datetime(2031, 5, 6, 12, 0, tzinfo=timezone(timedelta(hours=2)))


class Clock:
    """A time of day that stands until it is told to go."""

    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> datetime:
        return self.now

    def go(self, **more: float) -> None:
        """Let time pass, also backwards."""
        self.now += timedelta(**more)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def share(tmp_path: Path) -> Path:
    folder = tmp_path / "share"
    folder.mkdir()
    return folder


@pytest.fixture
def bay(tmp_path: Path, share: Path) -> Bay:
    """A bay with one record."""
    out = str(tmp_path / "out")
    main(["replay", "family-car-curve", "--script", "abort", "--headless", "--out", out])
    settings = Settings(backup=BackupSettings(folder=str(share), every_hours=24, keep=3))
    return Bay(paths.data_folder(), settings)


@pytest.fixture
def keeper(bay: Bay, clock: Clock) -> Iterator[Keeper]:
    made = Keeper(bay, clock)
    yield made
    made.close()


def backups(share: Path) -> list[str]:
    return sorted(path.name for path in share.glob("*.sqlite"))


def through(keeper: Keeper, *, check_runs: bool = False) -> BackupLine:
    """Ask until nothing is under way; return what is said then."""
    line = keeper.line(check_runs)
    while line.busy:
        assert keeper._job is not None
        keeper._job.aside.thread.join()
        line = keeper.line(check_runs)
    return line


@pytest.fixture
def held(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """Backups that wait at their beginning, as for a share, until the event is set."""
    real, go = copies.make, threading.Event()

    def make(plan: copies.Plan, now: datetime, watch: Any) -> copies.Made:
        while not go.wait(0.005):
            watch.step("waiting for the share")
        return real(plan, now, watch)

    monkeypatch.setattr(copies, "make", make)
    yield go
    go.set()


class TestWhenDue:
    def test_at_the_start_where_there_is_none_or_it_is_too_old(
        self, keeper: Keeper, share: Path, clock: Clock
    ) -> None:
        assert through(keeper) == BackupLine(f"Last backup: today 12:00 to {share}.")
        assert backups(share) == ["brimline-20310506T100000Z.sqlite"]
        clock.go(hours=23.9)
        through(keeper)
        assert len(backups(share)) == 1
        clock.go(hours=0.2)
        assert "Last backup: today 12:06" in through(keeper).words
        assert len(backups(share)) == 2

    def test_after_each_check(self, keeper: Keeper, share: Path, clock: Clock) -> None:
        through(keeper)
        clock.go(minutes=40)
        assert "today 12:00" in through(keeper, check_runs=True).words
        clock.go(minutes=40)
        assert "today 13:20" in through(keeper).words
        assert len(backups(share)) == 2

    def test_never_while_a_check_runs(self, keeper: Keeper, share: Path, clock: Clock) -> None:
        for _ in range(3):
            clock.go(days=2)
            through(keeper, check_runs=True)
        assert backups(share) == []

    def test_one_under_way_is_given_up_for_a_check_and_made_after_it(
        self, keeper: Keeper, share: Path, held: threading.Event
    ) -> None:
        assert keeper.line(False).busy
        assert keeper.line(True).busy  # nobody waited for it
        words = through(keeper, check_runs=True).words
        assert words.startswith("There is no backup yet: finish a check")
        assert backups(share) == []
        held.set()
        through(keeper)
        assert len(backups(share)) == 1

    def test_after_a_failure_it_is_tried_again_in_a_quarter_of_an_hour(
        self, keeper: Keeper, share: Path, clock: Clock
    ) -> None:
        through(keeper)
        away = share.rename(share.with_name("away"))
        clock.go(days=1)
        failed = through(keeper)
        assert failed.words == (
            f"The backup folder {share} is not there: connect its disk or share. "
            f"Last backup: yesterday 12:00 to {share}."
        )
        assert not failed.loud
        away.rename(share)
        clock.go(minutes=14)
        assert through(keeper) == failed
        clock.go(minutes=1)
        assert "today 12:15" in through(keeper).words

    def test_a_clock_that_was_wrong_once_stops_nothing(
        self, keeper: Keeper, share: Path, clock: Clock
    ) -> None:
        clock.go(days=20_000)
        through(keeper)
        clock.go(days=-20_000)
        assert "today 12:00" in through(keeper).words
        assert len(backups(share)) == 2

    def test_when_a_person_asks(self, keeper: Keeper, share: Path, clock: Clock) -> None:
        through(keeper)
        clock.go(minutes=1)
        keeper.back_up()
        assert "today 12:01" in through(keeper).words
        assert len(backups(share)) == 2

    def test_without_records_there_is_nothing_to_keep(self, clock: Clock, share: Path) -> None:
        settings = Settings(backup=BackupSettings(folder=str(share)))
        keeper = Keeper(Bay(paths.data_folder(), settings), clock)
        assert through(keeper).words.startswith("There is no backup yet: finish a check")
        keeper.close()
        assert backups(share) == []


class TestWhatIsSaid:
    def test_without_a_folder(self, clock: Clock) -> None:
        keeper = Keeper(Bay(paths.data_folder(), Settings()), clock)
        line = keeper.line(False)
        assert line.words == "No backups are made: choose a folder for them."
        assert not line.loud

    def test_loud_once_the_newest_is_three_times_too_old(
        self, keeper: Keeper, share: Path, clock: Clock
    ) -> None:
        through(keeper)
        share.rename(share.with_name("away"))
        clock.go(hours=71)
        assert not through(keeper).loud
        clock.go(hours=1, minutes=1)
        line = through(keeper)
        assert line.loud
        assert "Last backup: 2031-05-06 12:00" in line.words

    def test_loud_where_the_first_one_of_all_fails(self, keeper: Keeper, share: Path) -> None:
        share.rmdir()
        line = through(keeper)
        assert line.loud
        assert "There is no backup yet:" in line.words

    def test_what_is_under_way(self, keeper: Keeper, held: threading.Event) -> None:
        assert keeper.line(False).words.startswith("Backing up")
        while "share" not in keeper.line(False).words:
            pass
        assert keeper.line(False).words == "Backing up: waiting for the share…"
        held.set()

    @pytest.mark.parametrize(
        ("at", "words"),
        [
            (NOON, "today 12:00"),
            (NOON.astimezone(UTC) - timedelta(hours=11), "today 01:00"),
            (NOON - timedelta(hours=13), "yesterday 23:00"),
            (NOON - timedelta(days=2), "2031-05-04 12:00"),
        ],
    )
    def test_times_are_those_of_the_bay(self, at: datetime, words: str) -> None:
        assert moment_words(at, NOON) == words


class TestDamage:
    def spoil(self, bay: Bay) -> None:
        database = bay.database_file
        content = bytearray(database.read_bytes())
        middle = len(content) // 4096 // 2 * 4096
        content[middle : middle + 4096] = b"\xa5" * 4096
        database.write_bytes(content)

    def kill_a_writer(self, bay: Bay) -> None:
        killed = (
            "import os, pathlib, sys\n"
            "from brimline.records.database import Database\n"
            "kept = Database.open(pathlib.Path(sys.argv[1]), writer=True)\nos._exit(0)\n"
        )
        subprocess.run([sys.executable, "-c", killed, str(bay.database_file)], check=True)

    def test_that_a_backup_finds_is_told_until_one_is_restored(
        self, keeper: Keeper, bay: Bay, share: Path, clock: Clock
    ) -> None:
        through(keeper)
        self.spoil(bay)
        keeper.back_up()
        line = through(keeper)
        assert line.loud
        assert "is damaged" in line.damaged
        assert "brimline restore" not in line.damaged  # here a button leads there
        trouble = keeper.trouble()
        assert trouble is not None
        assert not trouble.grave
        again = Keeper(bay, clock)  # the next start knows it too
        assert through(again).damaged == line.damaged
        again.close()
        work = desk_records.keeping(bay, clock).restore(str(share / backups(share)[0]))
        assert finished(work).works
        fresh = Keeper(bay, clock)
        assert not through(fresh).damaged
        fresh.close()

    def test_after_an_unclean_end_the_records_are_looked_through(
        self, keeper: Keeper, bay: Bay, share: Path
    ) -> None:
        self.kill_a_writer(bay)
        assert keeper.line(False).words.startswith("Looking through the records")
        line = through(keeper)
        assert "Last backup" in line.words
        assert not soundness.is_doubtful(bay.database_file)

    def test_and_what_is_found_is_told(self, keeper: Keeper, bay: Bay, share: Path) -> None:
        self.kill_a_writer(bay)
        self.spoil(bay)
        line = through(keeper)
        assert "is damaged" in line.damaged
        assert backups(share) == []  # of damaged records none is made that could push good ones out

    def test_a_check_that_begins_meanwhile_comes_first(
        self, keeper: Keeper, bay: Bay, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        self.kill_a_writer(bay)
        real, looked = soundness.look_through, []

        def slow(database: Path, watch: Any) -> None:
            looked.append(database)
            while True:
                watch.step("looking")

        monkeypatch.setattr(soundness, "look_through", slow)
        assert keeper.line(False).busy
        through(keeper, check_runs=True)
        assert soundness.is_doubtful(bay.database_file)
        monkeypatch.setattr(soundness, "look_through", real)
        through(keeper)
        assert not soundness.is_doubtful(bay.database_file)
        assert len(looked) == 1

    def test_that_keeps_records_from_being_opened_is_grave(self, keeper: Keeper, bay: Bay) -> None:
        assert keeper.trouble() is None
        bay.database_file.write_bytes(b"\xa5" * 5000)
        trouble = keeper.trouble()
        assert trouble is not None
        assert trouble.grave


class TestClosing:
    def test_the_last_check_of_the_day_is_kept_before_the_program_ends(
        self, keeper: Keeper, share: Path
    ) -> None:
        keeper.line(True)
        keeper.close()
        assert len(backups(share)) == 1

    def test_a_share_that_hangs_keeps_nobody(
        self, keeper: Keeper, held: threading.Event, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(desk_records, "FINISH_S", 0.05)
        assert keeper.line(False).busy
        keeper.close()
        assert keeper._job is not None
        assert keeper._job.aside.done


class TestChoice:
    def test_it_is_kept_and_taken_up_at_once(
        self, keeper: Keeper, bay: Bay, tmp_path: Path, share: Path
    ) -> None:
        through(keeper)
        keeper.save(BackupChoice(str(tmp_path / "new"), 4.0, 5))
        assert read_settings(bay.folder).backup == BackupSettings(
            folder=str(tmp_path / "new"), every_hours=4.0, keep=5
        )
        assert str(tmp_path / "new") in through(keeper).words
        assert len(backups(tmp_path / "new")) == len(backups(share)) == 1
        keeper.save(BackupChoice("", 4.0, 5))
        assert "No backups are made" in through(keeper).words

    def test_what_cannot_be_is_told(self, keeper: Keeper) -> None:
        with pytest.raises(BrimlineError, match="whole path"):
            keeper.save(BackupChoice("bay 2", 4.0, 5))


def finished(work: desk_records.Work) -> WorkState:
    work._aside.thread.join()
    return work.poll(0.0)


class TestWork:
    def test_restoring_waits_for_a_backup_to_end(
        self, bay: Bay, clock: Clock, share: Path, held: threading.Event
    ) -> None:
        held.set()
        keeping = desk_records.keeping(bay, clock)
        while keeping.line(False).busy:
            pass
        held.clear()
        keeping.back_up()
        assert keeping.line(False).busy
        state = finished(keeping.restore(str(share / backups(share)[0])))
        assert state.sentence.startswith("Checked and put in place: 1 record")
        assert "The former records lie at" in state.details[0]
        held.set()
        keeping.close()

    def test_no_backup_begins_while_the_records_are_replaced(
        self, bay: Bay, clock: Clock, share: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        keeping = desk_records.keeping(bay, clock)
        while keeping.line(False).busy:
            pass
        go, real = threading.Event(), recovery.restore

        def restore(*given: Any) -> recovery.Restored:
            assert go.wait(30)
            return real(*given)

        monkeypatch.setattr(recovery, "restore", restore)
        work = keeping.restore(str(share / backups(share)[0]))
        keeping.back_up()
        assert not keeping.line(False).busy
        go.set()
        assert finished(work).works
        assert keeping.line(False).busy  # now it is made
        keeping.close()

    def test_what_cannot_be_restored_is_a_result(self, bay: Bay, clock: Clock) -> None:
        keeping = desk_records.keeping(bay, clock)
        state = finished(keeping.restore(str(bay.folder / "none.sqlite")))
        assert (state.done, state.works) == (True, False)
        assert "There is no file" in state.sentence

    def test_records_of_this_version_need_no_upgrade(self, bay: Bay, clock: Clock) -> None:
        assert desk_records.keeping(bay, clock).upgrade() is None

    def test_given_up_says_so(self) -> None:
        def work(watch: Any) -> WorkState:
            while True:
                watch.step("working")

        made = desk_records.Work(work)
        made.cancel()
        assert finished(made) == WorkState(True, "It was given up.")


class TestAside:
    def wait(self, work: Callable[[], object]) -> Aside[object]:
        made = Aside(work)
        made.thread.join()
        assert made.done
        return made

    @pytest.mark.expects_log
    def test_a_fault_of_the_program_is_noted_and_told(self) -> None:
        made = self.wait(lambda: 1 / 0)
        assert "An unexpected fault" in made.error

    def test_results_faults_and_what_was_given_up(self) -> None:
        def refuse() -> None:
            raise BrimlineError("It cannot be.")

        def give_up() -> None:
            raise GivenUpError("Given up.")

        assert self.wait(lambda: 7).result == 7
        assert self.wait(refuse).error == "It cannot be."
        assert (self.wait(give_up).result, self.wait(give_up).error) == (None, "")


def test_the_log_of_backups_is_what_the_window_shows_while_the_share_is_away(
    keeper: Keeper, bay: Bay, share: Path
) -> None:
    through(keeper)
    last = BackupLog.of(bay.database_file).last
    assert last is not None
    assert last.path == share / backups(share)[0]
