"""At arm's length: the latest answer may be taken back, quietly, for as long as the check says."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QWidget

from brimline.procedure import undoing
from brimline.procedure.state import CheckState, Undoable
from brimline.translation import lowered, tr
from brimline.ui.forms import button, label, main_tap
from brimline.ui.tokens import Space
from brimline.units import duration
from brimline.wording.taps import tapped


class TakeBack(QWidget):
    """Says which answer may be taken back, and has the button for it; hidden where none may.

    :param take_back: takes it back.
    """

    def __init__(self, take_back: Callable[[], object]) -> None:
        super().__init__()
        self.last = label("", "small")
        self.go = main_tap(button("", take_back))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(Space.SMALL)
        row.addWidget(self.last, 1)
        row.addWidget(self.go)
        self.hide()

    def show_state(self, state: CheckState) -> None:
        """Show what may be taken back now, and for how much longer."""
        known = undoing.allowed(state)
        if isinstance(known, Undoable):
            left = duration(max(0.0, undoing.until(known) - state.now))
            said = tr("Last answer: {tap}", tap=lowered(tapped(known.tap)))
            for shown, text in ((self.last, said), (self.go, tr("Take back ({left})", left=left))):
                if shown.text() != text:
                    shown.setText(text)
            self.go.setAccessibleDescription(said)
        self.setVisible(isinstance(known, Undoable))
