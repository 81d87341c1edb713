"""The copies of the records that were found; one is checked and put in their place."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtWidgets import (
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QProgressBar,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from brimline.translation import marked, tr
from brimline.ui.forms import button, label, main_tap, table
from brimline.ui.poller import Poller
from brimline.ui.ports.keeping import CopiesState, CopyRow, Keeping, WorkHandle, WorkState
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import set_role

COLUMNS = (marked("Made"), marked("Kind"), marked("Holds"), marked("Checked"))
LOOKING = marked("Looking for copies…")
NONE_FOUND = marked(
    "No copy was found. Connect the disk or share with the backups and look there, or look in "
    "another folder."
)
CHOOSE = marked("Choose a copy to see what it holds.")
QUESTION = marked("It is checked from end to end first; the present records are then moved aside.")
GO = marked("Check and restore")
SURE = marked("Yes, put it in their place")


class CopiesPanel(QFrame):
    """A table of copies, and under it what restoring the chosen one means.

    :param done: is told what came of restoring, once it came to a good end.
    :param busy: is told whether something is under way that must not be disturbed.
    :param asks: whether a second press is wanted, because the present records are in order.
    :param clock: time in s, monotonic.
    """

    def __init__(
        self,
        keeping: Keeping,
        done: Callable[[WorkState], None],
        busy: Callable[[bool], None],
        *,
        asks: bool = False,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self._keeping, self._done, self._tell_busy = keeping, done, busy
        self._asks, self._is_asked = asks, False
        self._rows: tuple[CopyRow, ...] = ()
        self._under_way: WorkHandle | None = None
        self._look = Poller[CopiesState](clock, self._show_copies, self)
        self._compare = Poller[WorkState](clock, self._show_lost, self)
        self._work = Poller[WorkState](clock, self._show_work, self)
        self.table = table([tr(name) for name in COLUMNS], stretched=2)
        self.table.itemSelectionChanged.connect(self._show_chosen)
        self.empty = label(tr(LOOKING), "soft")
        self.path, self.lost = label(tr(CHOOSE), "soft"), label("")
        self.question, self.standing = label(tr(QUESTION), "soft"), label("", "heading")
        self.foot = QWidget()
        self.progress = QProgressBar()
        self.progress.setTextVisible(False)
        self.elsewhere = main_tap(button(tr("Look in another folder…"), self._ask_folder))
        self.give_up = main_tap(button(tr("Cancel"), self._give_up))
        self.go = button(tr(GO), self._restore, "stop" if asks else "next")
        self._lay_out()
        self.look_in("")

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        column.setSpacing(Space.SMALL)
        column.addWidget(label(tr("Copies of the records"), "title"))
        column.addWidget(self.empty)
        column.addWidget(self.table, 1)
        for made in (self.path, self.lost, self.question, self.standing, self.progress):
            column.addWidget(made)
        row = QHBoxLayout(self.foot)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(Space.SMALL)
        for pressed in (self.elsewhere, self.give_up, self.go):
            row.addWidget(pressed, 1)
        column.addWidget(self.foot)
        column.addStretch(0)

    def look_in(self, folder: str) -> None:
        """Look for copies in a folder; in the chosen one where it is empty."""
        self.empty.setText(tr(LOOKING))
        self._look.begin(self._keeping.copies(folder))
        self._show_busy()

    def begin(self, handle: WorkHandle) -> None:
        """Show something under way that changes the records' file."""
        self._compare.cancel()
        self._under_way = handle
        self._work.begin(handle)

    def finish(self) -> None:
        """Show nothing any more but what came of it."""
        for done in (self.table, self.empty, self.path, self.lost, self.question, self.foot):
            done.hide()

    def stop(self) -> None:
        """Give up what is under way."""
        for poller in (self._look, self._compare, self._work):
            poller.cancel()

    @property
    def is_busy(self) -> bool:
        """Whether the records' file is being changed."""
        return self._work.is_busy

    def _show_copies(self, state: CopiesState) -> None:
        self._rows = state.rows
        self.table.blockSignals(True)
        self.table.setRowCount(len(state.rows))
        for at, row in enumerate(state.rows):
            for column, text in enumerate((row.made, row.kind, row.holds, row.checked)):
                item = QTableWidgetItem(text)
                item.setToolTip(row.path)
                self.table.setItem(at, column, item)
        first = next((at for at, row in enumerate(state.rows) if not row.fault), -1)
        self.table.setCurrentCell(first, 0)
        self.table.blockSignals(False)
        self.empty.setText(tr(NONE_FOUND if state.done else LOOKING))
        self._show_chosen()

    def _chosen(self) -> CopyRow | None:
        at = self.table.currentRow()
        return self._rows[at] if 0 <= at < len(self._rows) else None

    def _show_chosen(self) -> None:
        row = self._chosen()
        self._compare.cancel()
        self._ask_again(is_asked=False)
        self.path.setText(tr(CHOOSE) if row is None else row.path)
        self.lost.setText("" if row is None else row.fault)
        if row is not None and not row.fault:
            self._compare.begin(self._keeping.lost_by(row.path))
        self._show_busy()

    def _show_lost(self, state: WorkState) -> None:
        self.lost.setText(state.sentence)

    def _restore(self) -> None:
        row = self._chosen()
        if self._asks and not self._is_asked:
            self._ask_again(is_asked=True)
        elif row is not None:
            self._ask_again(is_asked=False)
            self.begin(self._keeping.restore(row.path))

    def _ask_again(self, *, is_asked: bool) -> None:
        """Ask whether that is really wanted, or no longer."""
        self._is_asked = is_asked
        self.go.setText(tr(SURE if is_asked else GO))

    def _give_up(self) -> None:
        """Ask it to end; what comes of that is told like any other result."""
        if self._under_way is not None:
            self._under_way.cancel()

    def _show_work(self, state: WorkState) -> None:
        set_role(self.standing, ("good" if state.works else "bad") if state.done else "heading")
        self.standing.setText("\n".join((state.sentence, *state.details)))
        self.progress.setRange(0, 100 if state.share else 0)
        self.progress.setValue(round(100 * state.share))
        self._show_busy()
        if state.done and state.works:
            self._done(state)

    def _show_busy(self) -> None:
        busy, row = self._work.is_busy, self._chosen()
        self.table.setVisible(bool(self._rows))
        self.empty.setVisible(not self._rows)
        self.standing.setVisible(bool(self.standing.text()))
        self.progress.setVisible(busy)
        self.give_up.setVisible(busy)
        self.elsewhere.setVisible(not busy)
        self.table.setEnabled(not busy)
        self.go.setEnabled(not busy and row is not None and not row.fault)
        self._tell_busy(busy)

    def _ask_folder(self) -> None:
        folder = QFileDialog.getExistingDirectory(self, tr("Folder with backups"))
        if folder:
            self.look_in(folder)
