"""What Qt says without a display: all of it but one sentence that says nothing."""

from __future__ import annotations

import sys

from PySide6.QtCore import QMessageLogContext, QtMsgType, qFormatLogMessage, qInstallMessageHandler
from PySide6.QtGui import QGuiApplication

SENSELESS = "This plugin does not support propagateSizeHints()"
"""Qt's platform `offscreen` says so of every window that has a least size: nobody resizes one."""


def hush(app: QGuiApplication) -> None:
    """Leave that one sentence out, where there is no display; all others are said as before."""
    if app.platformName() != "offscreen":
        return
    former = qInstallMessageHandler(None)

    def say(kind: QtMsgType, where: QMessageLogContext, words: str) -> None:
        if words == SENSELESS:
            return
        if former is not None:
            former(kind, where, words)
        elif sys.stderr is not None:
            sys.stderr.write(f"{qFormatLogMessage(kind, where, words)}\n")

    qInstallMessageHandler(say)
