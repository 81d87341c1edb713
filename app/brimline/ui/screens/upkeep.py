"""What is shown while the records are brought to this version of the program."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QVBoxLayout, QWidget

from brimline.ui.forms import button, label, panel
from brimline.ui.poller import Poller
from brimline.ui.ports.keeping import WorkHandle, WorkState
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import set_role

PATIENCE = (
    "With many records this takes minutes. Leave the computer on; if it is switched off all the "
    "same, the records stay as they were."
)


class UpkeepScreen(QWidget):
    """One sentence, and a bar that says that something is going on.

    :param begin: begins it again where it failed.
    :param done: is called once it has come to a good end.
    :param clock: time in s, monotonic.
    """

    def __init__(
        self,
        begin: Callable[[], WorkHandle | None],
        done: Callable[[], None],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        super().__init__()
        self._begin, self._done = begin, done
        self._poller = Poller[WorkState](clock, self._show, self)
        self.sentence = label("", "heading")
        self.progress = QProgressBar()
        self.progress.setTextVisible(False)
        self.progress.setRange(0, 0)
        self.again = button("Try again", self._try_again, "next")
        frame = panel(
            label("Bringing the records up to date", "title"),
            self.sentence, self.progress, label(PATIENCE, "soft"), self.again,
        )  # fmt: skip
        frame.setFixedWidth(640)
        column = QVBoxLayout(self)
        column.setContentsMargins(Space.WIDE, Space.LARGE, Space.WIDE, Space.LARGE)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(frame)
        row.addStretch(1)
        column.addStretch(1)
        column.addLayout(row)
        column.addStretch(2)

    def watch(self, handle: WorkHandle) -> None:
        """Show how it goes on."""
        self._poller.begin(handle)

    def _try_again(self) -> None:
        handle = self._begin()
        if handle is None:
            self._done()
        else:
            self.watch(handle)

    def stop(self) -> None:
        """Leave it to itself: it ends whole or not at all."""
        self._poller.cancel()

    def _show(self, state: WorkState) -> None:
        set_role(self.sentence, "bad" if state.done and not state.works else "heading")
        self.sentence.setText(state.sentence)
        self.progress.setVisible(not state.done)
        self.again.setVisible(state.done and not state.works)
        if state.done and state.works:
            self._done()
