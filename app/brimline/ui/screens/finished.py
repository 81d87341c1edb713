"""Finished checks: finding them again, and their work summaries."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices, QHideEvent, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QSizePolicy,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from brimline.errors import BrimlineError
from brimline.translation import counted, joined, marked, tr
from brimline.ui.forms import button, label, table
from brimline.ui.poller import Poller
from brimline.ui.ports.finding import FindOrder, FindState, FoundRow
from brimline.ui.ports.services import Services
from brimline.ui.screens.find_bar import FindBar
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import set_role

if TYPE_CHECKING:
    from brimline.procedure.events import Origin

COLUMNS = (
    marked("No."),
    marked("Date"),
    marked("VIN"),
    marked("Plate"),
    marked("Family"),
    marked("Verdict"),
    marked("Marks"),
    marked("Technician"),
)

NARROW = 900
"""In a list of less px there is no room for technicians; the line below names them."""

LOOK_MS = 20
"""How often a search that takes its time is looked after, in ms."""

_NONE_YET = marked(
    "No check has been finished yet. Begin one on the left, or the demonstration below."
)
_NO_SERVICE = marked(
    "No service on a vehicle is on record; tick “Training and replays too” for the rest."
)
_TYPE = marked(
    "Type a whole VIN or its last eight characters, a whole plate or work order, or words that "
    "were written down."
)
_LEFT_OUT = marked("Training and replays are left out.")


class FinishedTable(QFrame):
    """Finished checks, newest first; the chosen one's summary can be written."""

    def __init__(self, services: Services) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self._services = services
        self._rows: list[FoundRow] = []
        self._more = ""
        self._poller: Poller[FindState] = Poller(time.monotonic, self._take, self, every_ms=LOOK_MS)
        self._order = FindOrder()
        self._appends = False
        self._waits = False
        self.bar = FindBar(self._find, self._to_list)
        self.table = table([tr(name) for name in COLUMNS])
        self.table.setWordWrap(False)
        self.table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.table.currentCellChanged.connect(lambda row, *_: self._show_details(row))
        self.count = label("", "soft")
        self.count.setWordWrap(False)
        self.older = button(tr("Older"), self._find_older)
        self.empty = label("", "soft")
        self.said = label("", "soft")
        self.print = button(tr("Write the work summary (PDF)"), self._write, "next")
        self._written: Path | None = None
        self.open = button(tr("Open it"), self._open)
        self.open.hide()
        self._lay_out()
        QShortcut(QKeySequence.StandardKey.Find, self, self._to_box)
        for key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            shortcut = QShortcut(key, self.table, self._write)
            shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        column.setSpacing(Space.SMALL)
        head = QHBoxLayout()
        head.setSpacing(Space.MEDIUM)
        head.addWidget(label(tr("Finished checks"), "title"), 1)
        head.addWidget(self.count)
        head.addWidget(self.older)
        column.addLayout(head)
        column.addWidget(self.bar)
        column.addWidget(self.empty)
        column.addWidget(self.table, 1)
        self.rest = QWidget()  # holds the title up while there is no table
        column.addWidget(self.rest, 1)
        self.print.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout()
        row.setSpacing(Space.MEDIUM)
        row.addWidget(self.said, 1)
        row.addWidget(self.open)
        row.addWidget(self.print)
        column.addLayout(row)

    def refresh(self) -> None:
        """Read the list anew."""
        try:
            self.bar.offer(self._services.finding.families())
        except BrimlineError as error:
            self._take(FindState(True, fault=error.sentence))
            return
        self._find()

    def show_looking(self, sentence: str) -> None:
        """Show that the records are not known yet, and ask nothing of them; empty: ask again."""
        self._waits = bool(sentence)
        if sentence and not self._rows:
            set_role(self.empty, "soft")
            self.empty.setText(sentence)
            for shown in (self.empty, self.rest):
                shown.show()
            self.table.hide()
            for pressed in (self.print, self.older):
                pressed.setEnabled(False)

    def include(self, origin: Origin) -> None:
        """Let a check that has just been finished be in the list."""
        from brimline.procedure.events import Origin  # noqa: PLC0415 - loaded with that check

        self.bar.clear()
        if origin not in (Origin.LIVE, Origin.KEYED):
            self.bar.tick()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """What is not looked at keeps nothing open: the records may be about to be moved."""
        self._poller.cancel()
        self._services.finding.close()
        super().hideEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Leave out what there is no room for."""
        self.table.setColumnHidden(len(COLUMNS) - 1, self.width() < NARROW)
        super().resizeEvent(event)

    def _find(self) -> None:
        if not self._waits:  # else whoever ends that lists anew
            self._begin(self.bar.order(), "")

    def _find_older(self) -> None:
        self._begin(self._order, self._more)

    def _begin(self, order: FindOrder, after: str) -> None:
        self._order, self._appends = order, bool(after)
        self.count.setText(tr("Looking…"))
        self._poller.begin(self._services.finding.find(order, after))

    def _take(self, state: FindState) -> None:
        if not state.done:
            return
        if self._shows_too_little(state):
            self.bar.tick()
            self._find()
            return
        first = len(self._rows) if self._appends else 0
        self._rows[first:] = state.rows
        self._more = state.more
        self.table.setRowCount(len(self._rows))
        for at, row in enumerate(state.rows, first):
            self._fill(at, row)
        self._show(state, first)

    def _shows_too_little(self, state: FindState) -> bool:
        """Whether nothing is shown though there may be training, and nobody has asked for that."""
        nothing = not state.rows and not state.fault and not self._appends
        is_asked = self._order.everything or self.bar.chosen_by_hand
        return nothing and self._order.is_open and not is_asked

    def _show(self, state: FindState, first: int) -> None:
        rows = len(self._rows)
        set_role(self.empty, "bad" if state.fault else "soft")
        self.empty.setText(state.fault or self._nothing_words())
        self.empty.setVisible(bool(state.fault) or not rows)
        self.table.setVisible(bool(rows))
        self.rest.setVisible(not rows)
        self.print.setEnabled(bool(rows))
        self.older.setEnabled(bool(self._more))
        self.count.setText(self._count_words())
        self._say("")
        if first < rows:
            self.table.selectRow(first)
            self._show_details(first)

    def _count_words(self) -> str:
        count = len(self._rows)
        if self._more:
            return tr("the newest {count}", count=count)
        return counted(count, marked("{count} check"), marked("{count} checks")) if count else ""

    def _nothing_words(self) -> str:
        if self._order.is_open:
            return tr(_NONE_YET if self._order.everything else _NO_SERVICE)
        text = self._order.text.strip()
        said = [
            tr("Nothing fits “{text}”.", text=text) if text else tr("Nothing fits the filters.")
        ]
        if not self._order.everything:
            said.append(tr(_LEFT_OUT))
        return joined((*said, tr(_TYPE)), " ")

    def _fill(self, at: int, row: FoundRow) -> None:
        words = (
            str(row.number), row.date, row.vin, row.plate, row.family, row.verdict, row.marks,
            row.technician,
        )  # fmt: skip
        for column, text in enumerate(words):
            item = QTableWidgetItem(text)
            item.setToolTip(text)
            self.table.setItem(at, column, item)

    def _show_details(self, row: int) -> None:
        if 0 <= row < len(self._rows):
            self._say(self._rows[row].details)

    def _to_box(self) -> None:
        self.bar.text.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.bar.text.selectAll()

    def _to_list(self) -> None:
        if self._rows:
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _write(self) -> None:
        at = self.table.currentRow()
        if not 0 <= at < len(self._rows):
            self._say(tr("Choose a check first."))
            return
        try:
            path = self._services.write_summary(self._rows[at].number)
        except BrimlineError as error:
            self._say(error.sentence)
            return
        self._say(tr("Written to {path}", path=path), path)

    def _say(self, words: str, written: Path | None = None) -> None:
        """Say something in the line below; of a summary just written, with what opens it."""
        self.said.setText(words)
        self._written = written
        self.open.setVisible(written is not None)

    def _open(self) -> None:
        """Show the summary just written in whatever this computer shows such files with."""
        path = self._written
        if path is None:
            return
        if not path.is_file():
            self._say(tr("{path} is not there any more; write it again.", path=path))
        elif not QDesktopServices.openUrl(QUrl.fromLocalFile(str(path.absolute()))):
            told = tr("Nothing on this computer opens {path}; a PDF viewer is needed.", path=path)
            self.said.setText(told)
