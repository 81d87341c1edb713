"""Without a display Qt's one senseless sentence is left out, and nothing else."""

from __future__ import annotations

import os
import subprocess
import sys

from brimline.ui.without_display import SENSELESS

PROGRAM = """
from PySide6.QtCore import qInstallMessageHandler, qWarning
from PySide6.QtWidgets import QMainWindow
{before}
from brimline.ui.opening import application
app = application(offscreen=True)
window = QMainWindow()
window.setMinimumSize(300, 300)
window.show()
app.processEvents()
window.setMinimumSize(400, 300)
qWarning({words!r})
qWarning("Something else is wrong.")
"""
LISTENS = "qInstallMessageHandler(lambda kind, where, words: print('heard:', words))"
WITHOUT = "from brimline.ui import without_display; without_display.SENSELESS = ''"


def said(before: str = "", words: str = SENSELESS) -> tuple[str, str]:
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM.format(before=before, words=words)],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True, text=True, check=True, timeout=60,
    )  # fmt: skip
    return done.stdout, done.stderr


def test_that_sentence_is_left_out_and_every_other_is_said() -> None:
    assert said() == ("", "Something else is wrong.\n")
    longer = f"{SENSELESS} at all"
    assert said(words=longer) == ("", f"{longer}\nSomething else is wrong.\n")


def test_whoever_listened_before_hears_the_rest() -> None:
    assert said(LISTENS) == ("heard: Something else is wrong.\n", "")


def test_qt_does_say_it() -> None:
    """Where a later Qt does not, all of this may go."""
    assert SENSELESS in said(WITHOUT)[1].splitlines()
