"""The camera: a photo of it goes into the record, and without one a sentence says so."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import picture_files as files
import pytest
from PySide6.QtCore import QProcess, QSize
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot
from test_check_in_window import window_play
from window_play import WindowPlay

from brimline.procedure import events as ev
from brimline.procedure.attaching import About
from brimline.ui import camera as camera_module
from brimline.ui import eye
from brimline.ui.camera import CameraBox
from brimline.ui.eye import SEEN_PX, Eye, QtCamera, Why

FAKE = """
import base64, json, sys
picture = open(sys.argv[1], "rb").read()
kind = sys.argv[2]
def tell(**fields):
    print(json.dumps(fields), flush=True)
if kind == "dies":
    sys.exit(3)
if kind in ("library", "device", "failed"):
    tell(why=kind, detail="libpulse.so.0")
elif kind != "silent":
    tell(seen=base64.b64encode(picture).decode())
for line in sys.stdin:
    path = json.loads(line)["path"]
    if kind == "full":
        tell(why="write", detail=path)
    else:
        open(path, "wb").write(picture)
        tell(taken=path)
"""
"""Answers as the real program does."""


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    path = tmp_path / "seen.jpg"
    path.write_bytes(files.encoded("JPEG"))
    return path


def command(picture: Path, kind: str) -> list[str]:
    return [sys.executable, "-c", FAKE, str(picture), kind]


def box(qtbot: QtBot, picture: Path, kind: str) -> CameraBox:
    made = CameraBox(command(picture, kind))
    qtbot.addWidget(made)
    made.show()
    return made


def wait_for_end(qtbot: QtBot, made: CameraBox) -> None:
    """Until the program beside is gone."""
    made.end()
    qtbot.waitUntil(lambda: not made.camera.findChildren(QProcess), timeout=10_000)


@pytest.fixture
def stopped(qtbot: QtBot, picture: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[WindowPlay]:
    """A check that was stopped, and stands at its last page."""
    monkeypatch.setattr(camera_module, "program", lambda: command(picture, "good"))
    with window_play("K7", "", keyboard=False) as play:
        assert play.model.tap(ev.CheckAborted, reason="enough")
        yield play


def test_a_photo_goes_into_the_record(qtbot: QtBot, stopped: WindowPlay) -> None:
    strip, model = stopped.page.photos, stopped.model
    assert strip is not None
    strip.about.choose(About.PLUG)
    stopped.hands.press(strip.camera.open)
    qtbot.waitUntil(strip.camera.shoot.isVisible, timeout=20_000)
    assert not strip.camera.picture.pixmap().isNull()
    stopped.hands.press(strip.camera.shoot)

    def kept() -> bool:
        model.step()
        return bool(model.state.attachments)

    qtbot.waitUntil(kept, timeout=20_000)
    photo = model.state.attachments[0]
    assert (photo.name, photo.about) == ("photo-1.jpg", About.PLUG)
    assert photo.media_type == "image/jpeg"
    wait_for_end(qtbot, strip.camera)


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("library", "No camera here: a library is missing (libpulse.so.0). Add a file instead."),
        ("device", "No camera here: this computer has none. Add a file instead."),
        ("failed", "The camera failed (libpulse.so.0). Add a file instead."),
        ("dies", "The camera's program does not answer. Add a file instead."),
    ],
)
def test_without_a_camera_one_sentence_says_so(
    qtbot: QtBot, picture: Path, kind: str, said: str
) -> None:
    made = box(qtbot, picture, kind)
    made.open.click()
    assert made.waits.isVisible()
    qtbot.waitUntil(made.said.isVisible, timeout=20_000)
    assert made.said.text() == said
    assert made.open.isVisible()  # to be tried again
    assert made.waits.isHidden()
    wait_for_end(qtbot, made)


def test_a_program_that_is_not_there(qtbot: QtBot) -> None:
    made = CameraBox(["/nowhere/at/all"])
    qtbot.addWidget(made)
    made.show()
    made.open.click()
    qtbot.waitUntil(made.said.isVisible)
    assert "does not answer" in made.said.text()


def test_a_camera_that_shows_nothing_is_given_up(qtbot: QtBot, picture: Path) -> None:
    made = box(qtbot, picture, "silent")
    made.camera._patience.setInterval(50)
    made.open.click()
    qtbot.waitUntil(made.said.isVisible, timeout=10_000)
    assert made.said.text() == "The camera shows nothing. Add a file instead."
    wait_for_end(qtbot, made)


def test_a_disk_that_is_full_is_told(qtbot: QtBot, picture: Path) -> None:
    made = box(qtbot, picture, "full")
    made.open.click()
    qtbot.waitUntil(made.shoot.isVisible, timeout=20_000)
    made.shoot.click()
    qtbot.waitUntil(made.said.isVisible, timeout=10_000)
    assert made.said.text().startswith("The photo could not be written to ")
    wait_for_end(qtbot, made)


def test_a_camera_that_nobody_sees_looks_no_more(qtbot: QtBot, picture: Path) -> None:
    made = box(qtbot, picture, "good")
    made.open.click()
    qtbot.waitUntil(made.shoot.isVisible, timeout=20_000)
    made.hide()
    qtbot.waitUntil(lambda: not made.camera.findChildren(QProcess), timeout=10_000)
    made.show()
    assert made.open.isVisible()
    assert made.shoot.isHidden()


def test_the_eye_shows_small_pictures_and_writes_large_ones(qtbot: QtBot, tmp_path: Path) -> None:
    told: list[dict[str, str]] = []
    made = Eye(told.append)
    path = tmp_path / "photo.jpg"
    made.take(f'{{"path": "{path.as_posix()}"}}')
    assert told.pop() == {"why": Why.SILENT, "detail": ""}
    image = QImage(1600, 900, QImage.Format.Format_RGB32)
    image.fill(0xC4202B)
    made.see(image)
    made.see(image)  # so soon after it is no news
    assert len(told) == 1
    small = QImage.fromData(eye.base64.b64decode(told.pop()["seen"]))
    assert small.size() == QSize(SEEN_PX, SEEN_PX * 9 // 16)
    made.take(f'{{"path": "{path.as_posix()}"}}')
    assert told.pop() == {"taken": path.as_posix()}
    assert QImage(str(path)).size() == QSize(1600, 900)
    made.take(f'{{"path": "{(tmp_path / "no" / "where.jpg").as_posix()}"}}')
    assert told.pop()["why"] == Why.WRITE


def test_a_library_that_is_missing_is_named(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> None:
        raise ImportError(f"libpulse.so.0: cannot open {name}")

    told: list[dict[str, str]] = []
    monkeypatch.setattr(eye.importlib, "import_module", missing)
    QtCamera(Eye(told.append), told.append)
    assert told == [{"why": Why.LIBRARY, "detail": "libpulse.so.0"}]
