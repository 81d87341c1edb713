"""The list of finished checks, and their work summaries."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QSizePolicy,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from brimline.errors import BrimlineError
from brimline.ui.forms import button, label
from brimline.ui.services import FinishedRow, Services
from brimline.ui.tokens import TOUCH, Space

COLUMNS = ("No.", "Date", "VIN", "Family", "Verdict", "Technician", "Origin")


class FinishedTable(QFrame):
    """Finished checks, newest first; the chosen one's summary can be written."""

    def __init__(self, services: Services) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self._services = services
        self.table = QTableWidget(0, len(COLUMNS))
        self.table.setHorizontalHeaderLabels(list(COLUMNS))
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(TOUCH)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setTabKeyNavigation(False)
        self.table.setShowGrid(False)
        self.table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.empty = label(
            "No check has been finished yet. Begin the demonstration below to see one.",
            "soft",
        )
        self.said = label("", "soft")
        self.print = button("Write the work summary (PDF)", self._write, "next")
        column = QVBoxLayout(self)
        column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        column.setSpacing(Space.SMALL)
        column.addWidget(label("Finished checks", "title"))
        column.addWidget(self.empty)
        column.addWidget(self.table, 1)
        self.rest = QWidget()  # holds the title up while there is no table
        column.addWidget(self.rest, 1)
        self.print.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout()
        row.addWidget(self.said, 1)
        row.addWidget(self.print)
        column.addLayout(row)
        self.refresh()

    def refresh(self) -> None:
        """Read the list anew."""
        try:
            rows = list(self._services.finished())
        except BrimlineError as error:
            rows = []
            self.said.setText(error.sentence)
        self.table.setRowCount(len(rows))
        for at, row in enumerate(rows):
            self._fill(at, row)
        self.empty.setVisible(not rows)
        self.table.setVisible(bool(rows))
        self.rest.setVisible(not rows)
        self.print.setEnabled(bool(rows))
        if rows:
            self.table.selectRow(0)

    def _fill(self, at: int, row: FinishedRow) -> None:
        words = (
            str(row.number), row.date, row.vin, row.family, row.verdict, row.technician, row.origin,
        )  # fmt: skip
        for column, text in enumerate(words):
            self.table.setItem(at, column, QTableWidgetItem(text))

    def _write(self) -> None:
        item = self.table.item(self.table.currentRow(), 0)
        if item is None:
            self.said.setText("Choose a check first.")
            return
        try:
            path: Path = self._services.write_summary(int(item.text()))
        except BrimlineError as error:
            self.said.setText(error.sentence)
            return
        self.said.setText(f"Written to {path}")
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))
