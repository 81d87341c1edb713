"""Photos added in the real window: into the record, in pictures, and never in the way."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import picture_files as files
import pytest
from label_fit import clipped_texts
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QLineEdit
from pytestqt.qtbot import QtBot
from test_check_in_window import window_play
from test_hard_cases_in_window import play_until
from window_play import WindowPlay

from brimline.procedure import events as ev
from brimline.procedure.attaching import About
from brimline.procedure.state import Stage
from brimline.records import chain, disk
from brimline.ui.samples.capture import EVERY_LOOK, settle
from brimline.ui.screens.check.photo_strip import PhotoStrip

JPEG, PNG = files.encoded("JPEG"), files.encoded("PNG")


@pytest.fixture
def at_condition(qtbot: QtBot) -> Iterator[WindowPlay]:
    """A check that stands at the condition assessment."""
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.CONDITION)
        QApplication.processEvents()
        yield play


@pytest.fixture
def stopped(qtbot: QtBot) -> Iterator[WindowPlay]:
    """A check that was stopped, and stands at its last page."""
    with window_play("K7", "", keyboard=False) as play:
        assert play.model.tap(ev.CheckAborted, reason="enough")
        QApplication.processEvents()
        yield play


def photo(folder: Path, name: str = "IMG_1.jpg", content: bytes = JPEG) -> Path:
    path = folder / name
    path.write_bytes(content)
    return path


def strip(play: WindowPlay) -> PhotoStrip:
    made = play.page.photos
    assert isinstance(made, PhotoStrip)
    return made


def dialog(play: WindowPlay) -> QFileDialog:
    shown = strip(play).dialog
    assert shown is not None
    return shown


def choose(play: WindowPlay, *paths: Path) -> None:
    """Press the button and type the files' names in the dialog."""
    play.hands.press(strip(play).add)
    shown = dialog(play)
    typed = shown.findChild(QLineEdit, "fileNameEdit")
    assert isinstance(typed, QLineEdit)
    typed.setText(" ".join(f'"{path}"' for path in paths))
    shown.accept()
    assert strip(play).dialog is None
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def wait(qtbot: QtBot, play: WindowPlay) -> None:
    """Step until nothing is on its way any more."""

    def over() -> bool:
        play.model.step()
        filing = play.model.filing
        return filing is not None and not filing.busy

    qtbot.waitUntil(over, timeout=20_000)


def names(play: WindowPlay) -> list[str]:
    return [each.name for each in play.model.state.attachments]


def rows(play: WindowPlay) -> list[str]:
    shown = [label.text() for label in strip(play).findChildren(QLabel) if "\n" in label.text()]
    return sorted(shown)


def test_a_photo_goes_into_the_record_and_its_picture_onto_the_page(
    qtbot: QtBot, at_condition: WindowPlay, tmp_path: Path
) -> None:
    play = at_condition
    choose(play, photo(tmp_path), photo(tmp_path, "two.png", PNG))
    wait(qtbot, play)
    assert names(play) == ["IMG_1.jpg", "two.png"]
    assert {each.about for each in play.model.state.attachments} == {About.CONDITION}
    first = rows(play)[0]
    assert first.startswith("IMG_1.jpg\nThe fluid's condition\n")
    assert first.endswith(f" of the check, {round(len(JPEG) / 1000)} kB")
    pictures = [label for label in strip(play).findChildren(QLabel) if not label.pixmap().isNull()]
    assert [label.pixmap().size().toTuple() for label in pictures] == [(80, 60)] * 2
    play.play()
    record = play.bay.load("1")
    assert [each.name for each in record.attachments] == ["IMG_1.jpg", "two.png"]
    assert play.bay.attachments.read(record.attachments[0]) == JPEG
    with play.bay.records() as database:
        found = chain.verify(database)
    assert (found.intact, found.remarks) == (True, ())
    assert strip(play).adding.isHidden()
    assert play.services.write_summary(1).stat().st_size > 1000


def test_what_the_photo_shows_is_chosen_before(
    qtbot: QtBot, stopped: WindowPlay, tmp_path: Path
) -> None:
    stopped.hands.choose(strip(stopped).about, About.PLUG)
    choose(stopped, photo(tmp_path))
    wait(qtbot, stopped)
    assert [each.about for each in stopped.model.state.attachments] == [About.PLUG]
    assert rows(stopped)[0].startswith("IMG_1.jpg\nThe check plug\n")


def test_the_dialog_leaves_the_window_alone(
    qtbot: QtBot, stopped: WindowPlay, tmp_path: Path
) -> None:
    play = stopped
    play.hands.press(strip(play).add)
    shown = dialog(play)
    assert shown.isVisible()
    assert not shown.isModal()
    assert QApplication.activeModalWidget() is None
    play.hands.press(strip(play).add)
    assert dialog(play) is shown  # not a second one
    play.hands.press(strip(play).add)
    shown.reject()
    assert strip(play).dialog is None
    assert names(play) == []


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda f: photo(f, "cut.jpg", JPEG[:2000]), "“cut.jpg” is damaged: the picture does"),
        (lambda f: photo(f, "film.mp4", b"\0\0\0\x18ftypmp42"), "“film.mp4” is of a kind that"),
        (lambda f: photo(f, "empty.jpg", b""), "“empty.jpg” is empty, so that there is nothing"),
    ],
)
def test_a_file_that_cannot_be_kept_is_said_under_the_button(
    qtbot: QtBot, stopped: WindowPlay, tmp_path: Path, make: Callable[[Path], Path], told: str
) -> None:
    play = stopped
    choose(play, make(tmp_path))
    wait(qtbot, play)
    assert names(play) == []
    assert strip(play).said.text().startswith(told)
    assert strip(play).said.isVisible()
    choose(play, photo(tmp_path))
    wait(qtbot, play)
    assert names(play) == ["IMG_1.jpg"]
    assert not strip(play).said.isVisible()


def test_every_file_that_was_not_kept_is_named(
    qtbot: QtBot, stopped: WindowPlay, tmp_path: Path
) -> None:
    paths = [photo(tmp_path, f"{name}.jpg", b"") for name in "ab"]
    choose(stopped, *paths, photo(tmp_path))
    wait(qtbot, stopped)
    assert [line[:3] for line in strip(stopped).said.text().splitlines()] == ["“a.", "“b."]
    assert names(stopped) == ["IMG_1.jpg"]


def test_the_same_photo_twice_is_said(qtbot: QtBot, stopped: WindowPlay, tmp_path: Path) -> None:
    choose(stopped, photo(tmp_path), photo(tmp_path, "again.jpg"))
    wait(qtbot, stopped)
    assert names(stopped) == ["IMG_1.jpg"]
    assert stopped.window.check is not None
    assert stopped.window.check.said.text() == "This file is with the record already."


class SlowDisk:
    """A disk that takes its time until it is let go."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.go = threading.Event()
        real = disk.put_bytes

        def put(path: Path, content: bytes) -> None:
            if len(path.name) == 64:  # an attachment, by its hash
                self.go.wait(20)
            real(path, content)

        patch.setattr(disk, "put_bytes", put)


def test_a_slow_disk_holds_nothing_up_but_the_closing(
    qtbot: QtBot, at_condition: WindowPlay, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    play = at_condition
    slow = SlowDisk(monkeypatch)
    choose(play, photo(tmp_path))
    play_until(play, lambda: play.model.state.stage is Stage.RECORD)
    assert names(play) == []
    QApplication.processEvents()
    assert strip(play).busy.isVisible()
    play.hands.press(play.page.finish)
    assert play.model.state.closed is None
    assert play.window.check is not None
    told = "A photo is on its way into the record; close it in a moment."
    assert play.window.check.said.text() == told
    slow.go.set()
    wait(qtbot, play)
    assert names(play) == ["IMG_1.jpg"]
    assert rows(play)[0].startswith("IMG_1.jpg")  # on the page that is up by now
    play.hands.press(play.page.finish)
    assert play.model.state.closed is not None


def test_photos_of_a_check_that_goes_on_are_shown_again(
    qtbot: QtBot, stopped: WindowPlay, tmp_path: Path
) -> None:
    """As after a restart, when the window knows no small pictures yet."""
    play = stopped
    choose(play, photo(tmp_path), photo(tmp_path, "scan.txt", b"P0218"))
    wait(qtbot, play)
    filing = play.model.filing
    assert filing is not None
    known = dict(filing.previews)
    filing.previews.clear()
    qtbot.waitUntil(lambda: (play.model.step(), filing.previews == known)[1], timeout=20_000)
    assert sorted(map(bool, known.values())) == [False, True]


def test_a_window_that_keeps_no_photos_shows_no_button(qtbot: QtBot) -> None:
    with window_play("K7", "", keyboard=False) as play:
        play.abort()
        play.window._services = replace(play.services, attaching=None)
        play.begin("K7", "")
        assert play.model.filing is None
        assert play.model.tap(ev.CheckAborted, reason="enough")
        QApplication.processEvents()
        assert play.page.photos is None
        play.hands.press(play.page.finish)
        assert play.model.state.closed is not None


def test_no_label_is_cut_in_any_look(
    qtbot: QtBot, at_condition: WindowPlay, tmp_path: Path
) -> None:
    play = at_condition
    long = "a-very-long-name-that-some-telephone-gave-to-this-photo-2031-05-06-120301.jpg"
    choose(play, photo(tmp_path, long), photo(tmp_path, "cut.jpg", JPEG[:2000]))
    wait(qtbot, play)
    for look in EVERY_LOOK:
        play.window.resize(look.width, look.height)
        play.window.set_palette(look.palette)
        settle()
        assert not clipped_texts(play.window)
