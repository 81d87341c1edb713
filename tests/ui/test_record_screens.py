"""The screens about the records' file: a damaged or missing database leads to a backup."""

from __future__ import annotations

import functools
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from alembic import command
from label_fit import clipped_texts
from pytestqt.qtbot import QtBot
from records_in_window import Opens, Told, at_home, backups_of, recovery_of

from brimline import paths
from brimline.cli import main
from brimline.records import migrate
from brimline.ui.ports.keeping import BackupLine, Trouble, WorkState
from brimline.ui.ports.services import DemoOrder
from brimline.ui.samples.bus import Laid
from brimline.ui.samples.capture import EVERY_LOOK, EVERY_SIZE, picture_records, settle
from brimline.ui.samples.keeping import DAMAGED, sample_keeping
from brimline.ui.screens.copies_panel import NONE_FOUND
from brimline.ui.screens.recovery import WORD
from brimline.ui.screens.upkeep import UpkeepScreen


@pytest.fixture
def database() -> Path:
    return paths.database_file(paths.data_folder())


def spoil(path: Path, start: int, length: int) -> None:
    content = bytearray(path.read_bytes())
    content[start : start + length] = b"\xa5" * length
    path.write_bytes(content)


def head(path: Path) -> None:
    spoil(path, 0, 4096)


def first_page(path: Path) -> None:
    spoil(path, 100, 3996)


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: 3 * 4096])


def empty(path: Path) -> None:
    path.write_bytes(b"")


class TestStart:
    @pytest.mark.usefixtures("record")
    @pytest.mark.parametrize("damage", [head, first_page, cut_short, empty, Path.unlink])
    def test_a_database_that_cannot_be_used_leads_to_its_backup(
        self, opens: Opens, qtbot: QtBot, database: Path, damage: Callable[[Path], None]
    ) -> None:
        damage(database)
        before = database.read_bytes() if database.exists() else None
        play = opens()
        screen = recovery_of(play)
        assert str(database) in screen.sentence.text()
        assert "brimline restore" not in screen.sentence.text()
        assert not screen.leave.isVisible()
        assert (database.read_bytes() if database.exists() else None) == before
        qtbot.waitUntil(screen.copies.go.isEnabled)
        qtbot.waitUntil(lambda: "cannot be told" in screen.copies.lost.text())
        play.hands.press(screen.copies.go)
        qtbot.waitUntil(screen.go_on.isVisible)
        assert "Checked and put in place: 1 record" in screen.copies.standing.text()
        asides = list(database.parent.glob("brimline-replaced-*.sqlite"))
        assert [aside.read_bytes() for aside in asides] == ([] if before is None else [before])
        play.hands.press(screen.go_on)
        assert at_home(play)
        assert play.window.home.finished.table.rowCount() == 1

    def test_a_first_start_ever_shows_the_first_screen(self, opens: Opens) -> None:
        play = opens()
        assert at_home(play)
        assert not play.window.home.backup_line.text().endswith("…")

    @pytest.mark.usefixtures("record")
    def test_a_demonstration_waits_until_there_are_records(
        self, opens: Opens, qtbot: QtBot, database: Path
    ) -> None:
        head(database)
        play = opens()
        play.window.when_home(lambda: play.window.begin_demo(DemoOrder("K7", "", 1.0)))
        assert play.window.model is None
        screen = recovery_of(play)
        qtbot.waitUntil(screen.copies.go.isEnabled)
        play.hands.press(screen.copies.go)
        qtbot.waitUntil(screen.go_on.isVisible)
        play.hands.press(screen.go_on)
        assert play.window.model is not None

    @pytest.mark.usefixtures("record")
    def test_a_database_that_is_damaged_meanwhile_is_met_when_a_check_begins(
        self, opens: Opens, database: Path
    ) -> None:
        play = opens()
        assert at_home(play)
        head(database)
        play.window.begin_demo(DemoOrder("K7", "", 1.0))
        assert play.window.model is None
        assert "is not a Brimline database" in recovery_of(play).sentence.text()


class TestBeginningAnew:
    def test_only_with_the_word_and_all_is_moved_aside(
        self, opens: Opens, qtbot: QtBot, database: Path, tmp_path: Path
    ) -> None:
        out = str(tmp_path / "out")
        main(["replay", "family-car-curve", "--script", "abort", "--headless", "--out", out])
        head(database)
        content = database.read_bytes()
        play = opens()
        screen = recovery_of(play)
        qtbot.waitUntil(lambda: screen.copies.empty.text() == NONE_FOUND)
        assert not screen.copies.go.isEnabled()
        for typed in ("", "empty", "EMPT"):
            screen.word.setText(typed)
            assert not screen.anew.isEnabled()
        play.hands.type(screen.word, WORD)
        play.hands.press(screen.anew)
        qtbot.waitUntil(screen.go_on.isVisible)
        (aside,) = database.parent.glob("brimline-replaced-*.sqlite")
        assert aside.read_bytes() == content
        assert str(aside) in screen.copies.standing.text()
        play.hands.press(screen.go_on)
        assert at_home(play)
        assert play.window.home.finished.table.rowCount() == 0


class TestDamageFoundLater:
    def test_it_leads_there_once_and_can_be_left(self, opens: Opens) -> None:
        line = [BackupLine("The database x is damaged.", loud=True, damaged="It is damaged.")]
        play = opens(replace(sample_keeping(), line=lambda _runs: line[0]))
        records = play.window.records
        assert records is not None
        records.look()
        screen = recovery_of(play)
        assert screen.sentence.text() == "It is damaged."
        play.hands.press(screen.leave)
        assert at_home(play)
        records.look()
        assert at_home(play)
        assert play.window.home.backup_line.property("role") == "alarm"
        line[0] = BackupLine("All is well.")
        records.look()
        assert play.window.home.backup_line.property("role") == "soft"

    def test_a_running_check_comes_first(self, opens: Opens) -> None:
        line, asked = [BackupLine("Well.")], []

        def tell(check_runs: bool) -> BackupLine:
            asked.append(check_runs)
            return line[0]

        play = opens(replace(sample_keeping(), line=tell))
        play.begin_keyed()
        line[0] = BackupLine("Damaged.", loud=True, damaged="It is damaged.")
        records = play.window.records
        assert records is not None
        records.look()
        records.show_backups()
        assert asked[-1] is True
        assert records.screen is None
        play.abort()
        records.look()
        assert asked[-1] is False
        assert recovery_of(play).sentence.text() == "It is damaged."


class TestUpkeep:
    def test_older_records_are_brought_up_before_the_first_screen(
        self, opens: Opens, qtbot: QtBot, database: Path, tmp_path: Path
    ) -> None:
        out = str(tmp_path / "out")
        main(["replay", "family-car-curve", "--script", "abort", "--headless", "--out", out])
        config = migrate.configuration(paths.migrations())
        with closing(sqlite3.connect(database)) as connection:
            assert connection.execute("SELECT count(*) FROM checks").fetchone() == (1,)
        migrate.run(database, config, functools.partial(command.downgrade, config, "0002"))
        play = opens()
        records = play.window.records
        assert records is not None
        assert isinstance(records.screen, UpkeepScreen)
        qtbot.waitUntil(lambda: at_home(play), timeout=20_000)
        assert migrate.is_current(database)
        assert play.window.home.finished.table.rowCount() == 1

    def test_a_failure_is_told_and_can_be_tried_again(self, opens: Opens) -> None:
        failed = WorkState(True, "The database x could not be brought up to this version.")
        working = WorkState(False, "Bringing the records to this version…")
        handle = Told(working)
        handles = [handle, Told(working), None]
        play = opens(replace(sample_keeping(), upgrade=lambda: handles.pop(0)))
        records = play.window.records
        assert records is not None
        screen = records.screen
        assert isinstance(screen, UpkeepScreen)
        assert screen.sentence.text() == working.sentence
        assert not screen.again.isVisible()
        records.look()  # no backup meanwhile
        assert play.window.home.backup_line.text() == ""
        handle.state = failed
        screen._poller.poll()
        assert screen.sentence.text() == failed.sentence
        play.hands.press(screen.again)
        assert screen.sentence.text() == working.sentence
        screen._show(WorkState(True, "Done.", works=True))
        assert at_home(play)


def test_no_text_is_cut(opens: Opens, tmp_path: Path) -> None:
    """Every screen and state of them that there are pictures of, and the upkeep screen."""
    misfits: list[str] = []
    working = WorkState(False, "Bringing the records to this version; a copy is made first…")
    handles: list[Laid[WorkState] | None] = [Laid([working]), None]
    play = opens(replace(sample_keeping(), upgrade=lambda: handles.pop(0) if handles else None))
    window = play.window

    def look(where: str) -> None:
        for each in EVERY_SIZE:
            window.resize(each.width, each.height)
            window.set_palette(each.palette)
            settle()
            misfits.extend(f"{where} {each.name}: {m}" for m in clipped_texts(window))

    look("upkeep")
    window._show_home()
    look("home")
    records = window.records
    assert records is not None
    records.show_backups()
    look("backups")
    backups_of(play)._say("x " * 60)
    backups_of(play).show_line(BackupLine("The backup folder went away. " * 3, loud=True))
    look("backups with faults")
    records.show_recovery(Trouble("It is damaged. " * 6, grave=False))
    look("damaged")
    records.show_recovery(DAMAGED)
    look("recovery")
    recovery_of(play).copies.go.click()
    look("under way")
    records.show_recovery(DAMAGED)
    recovery_of(play).word.setText(WORD)
    recovery_of(play).anew.click()
    look("done")
    assert misfits == []
    assert len(picture_records(window, EVERY_LOOK[:1], tmp_path)) == 4
    assert at_home(play)
