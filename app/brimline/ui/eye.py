"""The program beside the window that looks through a camera.

``python -m brimline.ui.eye``.

A program of its own for the reasons that :mod:`.ui.speech.mouth` gives: its libraries may be
missing, and no driver may hold up or end a running check. It reads requests from its standard
input, a JSON object a line with the ``path`` of the photo to write, and answers on its standard
output: small pictures as they come (``seen``, a JPEG in base64), each photo once it is written
(``taken``), and why there is none (``why``, a code of :class:`Why`, with ``detail``). It ends with
its input.
"""

from __future__ import annotations

import base64
import importlib
import json
import sys
import threading
from collections.abc import Callable
from enum import StrEnum
from typing import Any

from PySide6.QtCore import QBuffer, QElapsedTimer, QIODevice, QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication, QImage

SEEN_MS = 150
"""How often a small picture is shown, which is enough to aim by."""

SEEN_PX = 360
"""The longer side of a small picture."""

QUALITY = 92
"""Of the photo as a JPEG, in %."""


class Why(StrEnum):
    """Why there is no photo."""

    LIBRARY = "library"  # the detail names it
    DEVICE = "device"
    FAILED = "failed"
    WRITE = "write"
    SILENT = "silent"  # said by the window: no picture comes
    GONE = "gone"  # said by the window: the program itself does not answer


Tell = Callable[[dict[str, str]], None]


class Eye(QObject):
    """Shows what comes, and writes the latest of it.

    :param tell: is given each answer.
    """

    def __init__(self, tell: Tell) -> None:
        super().__init__()
        self._tell = tell
        self._latest = QImage()
        self._since = QElapsedTimer()

    def see(self, image: QImage) -> None:
        """Take in a picture as it comes from the camera."""
        if image.isNull():
            return
        self._latest = image
        if self._since.isValid() and self._since.elapsed() < SEEN_MS:
            return
        self._since.start()
        small = image.scaled(
            SEEN_PX, SEEN_PX, Qt.AspectRatioMode.KeepAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )  # fmt: skip
        held = QBuffer()
        held.open(QIODevice.OpenModeFlag.WriteOnly)
        small.save(held, "JPEG", 70)  # type: ignore[call-overload] # the stub wants bytes
        self._tell({"seen": base64.b64encode(held.data().data()).decode()})

    def take(self, line: str) -> None:
        """Write the latest picture as it was asked for."""
        path = str(json.loads(line)["path"])
        if self._latest.isNull():
            self._tell({"why": Why.SILENT, "detail": ""})
        elif self._latest.save(path, "JPEG", QUALITY):  # type: ignore[call-overload] # as above
            self._tell({"taken": path})
        else:
            self._tell({"why": Why.WRITE, "detail": path})


class QtCamera(QObject):
    """The computer's camera by Qt Multimedia; ``tell`` is given why there is none."""

    def __init__(self, eye: Eye, tell: Tell) -> None:
        super().__init__()
        try:
            media: Any = importlib.import_module("PySide6.QtMultimedia")
        except ImportError as error:
            tell({"why": Why.LIBRARY, "detail": str(error).split(":", maxsplit=1)[0]})
            return
        device = media.QMediaDevices.defaultVideoInput()
        if device.isNull():
            tell({"why": Why.DEVICE, "detail": ""})
            return
        self._camera = media.QCamera(device, self)
        self._sink = media.QVideoSink(self)
        self._session = media.QMediaCaptureSession(self)
        self._session.setCamera(self._camera)
        self._session.setVideoSink(self._sink)
        self._sink.videoFrameChanged.connect(lambda frame: eye.see(frame.toImage()))
        self._camera.errorOccurred.connect(
            lambda _error, detail: tell({"why": Why.FAILED, "detail": str(detail)})
        )
        self._camera.start()


class _Lines(QObject):
    """Standard input, read aside: nothing of Qt waits for a pipe on every system."""

    came = Signal(str)
    ended = Signal()

    def read(self) -> None:
        """Read until the end."""
        for line in sys.stdin:
            self.came.emit(line)
        self.ended.emit()


def main() -> int:
    """Look until the input ends."""
    app = QGuiApplication(sys.argv[:1])
    lines, eye = _Lines(), Eye(_answer)
    lines.came.connect(eye.take)
    lines.ended.connect(app.quit)
    camera = QtCamera(eye, _answer)
    threading.Thread(target=lines.read, daemon=True).start()
    code = app.exec()
    del camera
    return code


def _answer(fields: dict[str, str]) -> None:
    sys.stdout.write(json.dumps(fields) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
