"""The copies that were found, and the screen that says where backups go."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from keyed_play import keyed_play
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot
from records_in_window import Opens, Told, at_home, backups_of, recovery_of

from brimline import paths
from brimline.config import read_settings
from brimline.ui.ports.keeping import CopiesState, WorkState
from brimline.ui.samples.bus import Laid
from brimline.ui.samples.keeping import DAMAGED, EMPTIED, LOST, ROWS, WORKING, sample_keeping
from brimline.ui.screens.copies_panel import CHOOSE, GO, NONE_FOUND, SURE


class TestCopies:
    def test_the_newest_that_can_be_read_is_chosen_and_what_it_lacks_told(
        self, opens: Opens
    ) -> None:
        handle = Told(CopiesState(False))
        play = opens(replace(sample_keeping(), copies=lambda _folder: handle))
        play.hands.press(play.window.home.backups)
        panel = backups_of(play).copies
        assert panel.path.text() == CHOOSE
        handle.state = CopiesState(True, (ROWS[3], *ROWS[:3]))
        panel._look.poll()
        assert panel.path.text() == ROWS[0].path
        assert panel.lost.text() == LOST.sentence
        panel.table.selectRow(0)
        assert panel.lost.text() == ROWS[3].fault
        assert not panel.go.isEnabled()

    def test_sound_records_are_replaced_only_when_asked_twice(self, opens: Opens) -> None:
        restored: list[str] = []
        handle = Told(WORKING)

        def restore(path: str) -> Told[WorkState]:
            restored.append(path)
            return handle

        play = opens(replace(sample_keeping(), restore=restore))
        play.hands.press(play.window.home.backups)
        screen = backups_of(play)
        panel = screen.copies
        play.hands.press(panel.go)
        assert (panel.go.text(), restored) == (SURE, [])
        panel.table.selectRow(1)
        assert panel.go.text() == GO
        play.hands.press(panel.go)
        play.hands.press(panel.go)
        assert restored == [ROWS[1].path]
        assert panel.is_busy
        assert not screen.leave.isEnabled()
        handle.state = EMPTIED
        panel._work.poll()
        assert EMPTIED.sentence in panel.standing.text()
        assert screen.leave.isEnabled()

    def test_what_is_under_way_is_given_up_and_said(self, opens: Opens) -> None:
        handle = Told(WORKING)
        play = opens(replace(sample_keeping(), restore=lambda _path: handle))
        records = play.window.records
        assert records is not None
        records.show_recovery(DAMAGED)
        panel = recovery_of(play).copies
        play.hands.press(panel.go)
        assert panel.progress.value() == 40
        play.hands.press(panel.give_up)
        assert handle.cancelled == 1
        handle.state = WorkState(True, "It was given up.")
        panel._work.poll()
        assert panel.standing.text() == "It was given up."
        assert panel.standing.property("role") == "bad"
        assert panel.go.isEnabled()
        assert not recovery_of(play).go_on.isVisible()

    def test_another_folder_is_looked_into(
        self, opens: Opens, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        asked: list[str] = []

        def copies(folder: str) -> Laid[CopiesState]:
            asked.append(folder)
            return Laid([CopiesState(True)])

        play = opens(replace(sample_keeping(), copies=copies))
        play.hands.press(play.window.home.backups)
        panel = backups_of(play).copies
        monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: "/elsewhere")
        play.hands.press(panel.elsewhere)
        assert asked == ["", "/elsewhere"]
        assert panel.empty.text() == NONE_FOUND


class TestBackups:
    @pytest.mark.usefixtures("record")
    def test_a_folder_is_chosen_and_a_backup_made(
        self, opens: Opens, qtbot: QtBot, tmp_path: Path, share: Path
    ) -> None:
        play = opens()
        play.hands.press(play.window.home.backups)
        screen = backups_of(play)
        assert screen.folder.text() == str(share)
        other = tmp_path / "other"
        play.hands.type(screen.folder, str(other))
        play.hands.choose(screen.hours, 4.0)
        play.hands.choose(screen.keep, 20)
        play.hands.press(screen.save_button)
        kept = read_settings(paths.data_folder()).backup
        assert (kept.path, kept.every_hours, kept.keep) == (other, 4.0, 20)
        qtbot.waitUntil(lambda: screen.copies.path.text().startswith(str(other)), timeout=20_000)
        assert str(other) in screen.line.text()
        assert screen.line.text().startswith("Last backup: ")
        play.hands.press(screen.now)
        qtbot.waitUntil(lambda: screen.copies.table.rowCount() == 2, timeout=20_000)
        said = screen.line.text()
        play.hands.press(screen.leave)
        assert at_home(play)
        assert play.window.home.backup_line.text() == said

    def test_what_cannot_be_saved_is_told(self, opens: Opens) -> None:
        play = opens()
        play.hands.press(play.window.home.backups)
        screen = backups_of(play)
        play.hands.type(screen.folder, "bay 2")
        play.hands.press(screen.save_button)
        assert "is not the whole path of a folder" in screen.said.text()
        play.hands.type(screen.folder, "")
        play.hands.press(screen.save_button)
        assert not screen.said.isVisible()

    def test_numbers_that_somebody_wrote_by_hand_stay(self, opens: Opens) -> None:
        folder = paths.data_folder()
        folder.mkdir(parents=True)
        (folder / "settings.toml").write_text("[backup]\nevery_hours = 7\nkeep = 33\n", "utf-8")
        play = opens()
        play.hands.press(play.window.home.backups)
        screen = backups_of(play)
        assert (screen.hours.currentText(), screen.keep.currentText()) == ("7 hours", "33")
        play.hands.press(screen.save_button)
        kept = read_settings(folder).backup
        assert (kept.every_hours, kept.keep) == (7, 33)

    def test_without_somebody_who_keeps_the_records_there_is_no_word_of_it(
        self, qtbot: QtBot
    ) -> None:
        with keyed_play() as play:
            assert not play.window.home.backups.isVisible()
            play.window.show_backups()
            assert at_home(play)
