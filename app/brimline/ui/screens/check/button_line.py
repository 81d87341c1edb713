"""At arm's length: one line that says what the one button does, once somebody has used it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QHBoxLayout, QProgressBar

from brimline.translation import tr
from brimline.ui.forms import button, label, main_tap
from brimline.ui.tokens import Space


class ButtonLine(QFrame):
    """What is next, what a press does, how long it has been held, what may be taken back."""

    def __init__(self, take_back: Callable[[], None]) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self.next, self.press, self.told = label("", "heading"), label(""), label("", "bad")
        self.bar = QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setTextVisible(False)
        self.bar.setFixedWidth(120)
        self.undo = main_tap(button("", take_back))
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.LARGE, Space.TIGHT, Space.LARGE, Space.TIGHT)
        row.setSpacing(Space.LARGE)
        row.addWidget(self.next, 2)
        row.addWidget(self.press, 2)
        row.addWidget(self.told, 2)
        row.addWidget(self.bar)
        row.addWidget(self.undo)
        self.bar.hide()
        self.hide()

    def show_words(self, following: str, press: str, told: str, undo: str, key: str) -> None:
        """Show what is next, what a press does, why one did nothing, and what is taken back."""
        press = tr("{key}: {what}", key=key, what=press)
        for shown, text in ((self.next, following), (self.press, press), (self.told, told)):
            if shown.text() != text:
                shown.setText(text)
        self.told.setVisible(bool(told))
        if self.undo.text() != undo:
            self.undo.setText(undo)
        self.undo.setVisible(bool(undo))

    def show_held(self, part: float) -> None:
        """Show how much of a long press has gone by, 0 to 1."""
        self.bar.setVisible(part > 0)
        self.bar.setValue(round(100 * part))
