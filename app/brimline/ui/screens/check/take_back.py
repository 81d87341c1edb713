"""At arm's length: the latest answer may be taken back, quietly, for as long as the check says."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from brimline.procedure import cautions, undoing
from brimline.procedure.names import Stage
from brimline.procedure.state import CheckState, Undoable
from brimline.translation import lowered, tr
from brimline.ui.forms import button, keep_place, label, main_tap
from brimline.ui.tokens import Space
from brimline.units import duration
from brimline.wording.taps import tapped


class TakeBack(QWidget):
    """Says which answer may be taken back, and has the button for it.

    Its place is kept while nothing may be, so that no answer moves what stands above. Only before
    anything was answered, or where a caution is to be read yet, the page has it.

    :param take_back: takes it back.
    """

    def __init__(self, take_back: Callable[[], object]) -> None:
        super().__init__()
        self.last = label("", "small")
        self.last.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Ignored)
        self.go = main_tap(button("", take_back))
        keep_place(self.go)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, Space.SMALL, 0)
        row.setSpacing(Space.SMALL)
        row.addWidget(self.last, 1)
        row.addWidget(self.go)
        self.go.hide()
        self.hide()

    def show_state(self, state: CheckState) -> None:
        """Show what may be taken back now, and for how much longer."""
        allowed = undoing.allowed(state)
        known = allowed if isinstance(allowed, Undoable) else None
        said = tr("Last answer: {tap}", tap=lowered(tapped(known.tap))) if known else ""
        if self.last.text() != said:
            self.last.setText(said)
            self.go.setAccessibleDescription(said)
        if self.isHidden():
            first = state.stage is Stage.IDENTIFY or cautions.asked(state, state.stage)
            self.setVisible(known is not None or not first)
        if known is not None:
            left = duration(max(0.0, undoing.until(known) - state.now))
            text = tr("Take back ({left})", left=left)
            if self.go.text() != text:
                self.go.setText(text)
        self.go.setVisible(known is not None)
