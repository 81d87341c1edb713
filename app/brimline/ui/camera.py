"""The window's side of the camera: shows what the program beside it sees, and has photos taken.

Nothing here waits; why there is no photo is told in one sentence. See :mod:`.ui.eye`.
"""

from __future__ import annotations

import base64
import json
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QObject, QProcess, Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QPixmap
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from brimline.translation import marked, tr
from brimline.ui.eye import Why
from brimline.ui.forms import button, label, main_tap
from brimline.ui.tokens import Space

PATIENCE_MS = 15_000
"""A camera that shows nothing for so long (ms) is given up (our choice)."""

END_MS = 2_000
"""How long the program may take to end by itself, in ms."""

_SENTENCES = {
    Why.LIBRARY: marked("No camera here: a library is missing ({detail}). Add a file instead."),
    Why.DEVICE: marked("No camera here: this computer has none. Add a file instead."),
    Why.FAILED: marked("The camera failed ({detail}). Add a file instead."),
    Why.WRITE: marked("The photo could not be written to {detail}."),
    Why.SILENT: marked("The camera shows nothing. Add a file instead."),
    Why.GONE: marked("The camera's program does not answer. Add a file instead."),
}


def program() -> tuple[str, ...]:
    """Return the program that looks through the camera, with its arguments."""
    return sys.executable, "-m", "brimline.ui.eye"


class Camera(QObject):
    """A camera that is looked through from :meth:`begin` to :meth:`end`.

    ``seen`` carries a small picture, ``taken`` the file of a photo, and ``failed`` in one sentence
    why there is none; the camera is given up then.
    """

    seen = Signal(QPixmap)
    taken = Signal(str)
    failed = Signal(str)

    def __init__(self, command: Sequence[str], parent: QObject) -> None:
        super().__init__(parent)
        self._command = tuple(command)
        self._process: QProcess | None = None
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(PATIENCE_MS)
        self._patience.timeout.connect(lambda: self._fail(Why.SILENT))

    def begin(self) -> None:
        """Start looking; pictures come once the camera is ready."""
        if self._process is not None:
            return
        self._process = process = QProcess(self)
        process.setStandardErrorFile(QProcess.nullDevice())
        process.readyReadStandardOutput.connect(self._read)
        process.errorOccurred.connect(lambda _error: self._fail(Why.GONE))
        process.finished.connect(lambda _code, _status: self._fail(Why.GONE))
        self._patience.start()
        process.start(self._command[0], list(self._command[1:]))

    def take(self, path: Path) -> None:
        """Have a photo written."""
        if self._process is not None:
            self._process.write(json.dumps({"path": str(path)}).encode() + b"\n")

    def end(self) -> None:
        """Look no more; the program is given a moment to let go of the camera."""
        process, self._process = self._process, None
        self._patience.stop()
        if process is None:
            return
        for told in (process.readyReadStandardOutput, process.errorOccurred, process.finished):
            told.disconnect()
        process.finished.connect(process.deleteLater)
        process.closeWriteChannel()  # its input ends, and so does it
        if process.state() is QProcess.ProcessState.NotRunning:
            process.deleteLater()
        else:
            QTimer.singleShot(END_MS, process, process.kill)

    def _read(self) -> None:
        while self._process is not None and self._process.canReadLine():
            line = bytes(self._process.readLine().data()).decode("utf-8", "replace")
            if line.startswith("{"):
                self._take_in(json.loads(line))

    def _take_in(self, said: dict[str, str]) -> None:
        if "why" in said:
            self._fail(Why(said["why"]), said["detail"])
        elif "taken" in said:
            self.taken.emit(said["taken"])
        else:
            self._patience.start()
            picture = QPixmap()
            picture.loadFromData(base64.b64decode(said["seen"]))
            self.seen.emit(picture)

    def _fail(self, why: Why, detail: str = "") -> None:
        if self._process is not None:
            self.end()
            self.failed.emit(tr(_SENTENCES[why], detail=detail))


class CameraBox(QWidget):
    """What the camera shows, on the page, with the button that takes the photo.

    ``taken`` carries the file of a photo; it stays there as long as the box does.
    """

    taken = Signal(str)

    def __init__(self, command: Sequence[str] | None = None) -> None:
        super().__init__()
        self.camera = Camera(program() if command is None else command, self)
        self._folder: tempfile.TemporaryDirectory[str] | None = None
        self._count = 0
        self.open = button(tr("Take a photo…"), self.begin)
        self.picture = QLabel()
        self.picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.picture.setAccessibleName(tr("What the camera shows"))
        self.waits = label(tr("Waiting for the camera…"), "soft")
        self.shoot = main_tap(button(tr("Take it now"), self._take))
        self.leave = button(tr("Close the camera"), self.end)
        self.said = label("", "bad")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        for made in (self.open, self.picture, self.waits, self.shoot, self.leave, self.said):
            column.addWidget(made)
        self.camera.seen.connect(self._show)
        self.camera.taken.connect(self.taken)
        self.camera.failed.connect(self._fail)
        self.end()

    def begin(self) -> None:
        """Open the camera."""
        self.said.clear()
        self.said.hide()
        self.open.hide()
        self.waits.show()
        self.leave.show()
        self.camera.begin()

    def end(self) -> None:
        """Close the camera."""
        self.camera.end()
        for made in (self.picture, self.waits, self.shoot, self.leave):
            made.hide()
        self.open.show()
        self.said.setVisible(bool(self.said.text()))

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """A camera that nobody sees looks no more."""
        super().hideEvent(event)
        self.end()

    def _show(self, picture: QPixmap) -> None:
        self.picture.setPixmap(picture)
        self.waits.hide()
        self.picture.show()
        self.shoot.show()

    def _take(self) -> None:
        if self._folder is None:
            self._folder = tempfile.TemporaryDirectory(prefix="brimline-photos-")
            self.destroyed.connect(self._folder.cleanup)
        self._count += 1
        self.camera.take(Path(self._folder.name) / f"photo-{self._count}.jpg")

    def _fail(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.end()
