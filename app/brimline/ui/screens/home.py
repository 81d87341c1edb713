"""The first screen: begin a check, look at finished ones."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from brimline.ui.forms import Choice, button, form, label, panel
from brimline.ui.screens.finished import FinishedTable
from brimline.ui.services import DemoOrder, Services
from brimline.ui.tokens import Space
from brimline.ui.widgets.caution import CautionBox

SPEEDS = (("Real time", 1.0), ("5 times as fast", 5.0), ("20 times as fast", 20.0))


class HomeScreen(QWidget):
    """What can be begun on the left, finished checks on the right."""

    def __init__(self, services: Services, begin: Callable[[DemoOrder], None]) -> None:
        super().__init__()
        self._begin = begin
        self.family, self.fault, self.speed = Choice(), Choice(), Choice()
        self.family.addItems(list(services.demo_families))
        self.fault.addItem("Sound vehicle", "")
        for name, words in services.demo_faults:
            self.fault.addItem(words[:1].upper() + words[1:], name)
        for words, factor in SPEEDS:
            self.speed.addItem(words, factor)
        self.go = button("Begin the demonstration", self._go, "next")
        self.finished = FinishedTable(services)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.WIDE, Space.WIDE, Space.WIDE, Space.WIDE)
        row.setSpacing(Space.WIDE)
        row.addWidget(self._left())
        row.addWidget(self.finished, 1)

    def _left(self) -> QWidget:
        holder = QWidget()
        holder.setFixedWidth(420)
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.LARGE)
        column.addWidget(
            panel(
                label("Demonstration", "title"),
                label(
                    "A simulated vehicle answers on a bus as a real one would. Everything in it "
                    "is invented, and its records stay out of history.",
                    "soft",
                ),
                form(("Family", self.family), ("Vehicle", self.fault), ("Speed", self.speed)),
                self.go,
            )
        )
        column.addWidget(
            CautionBox(
                "NOTICE",
                "The vehicle maker's service information, local codes and licensed practice come "
                "first; where they differ from what is shown here, they hold.",
            )
        )
        column.addWidget(
            label(
                "Checks on vehicles begin here once a connection to the vehicle's bus is set up, "
                "which comes with a later version. Until then recordings are replayed from the "
                "command line.",
                "soft",
            )
        )
        column.addStretch(1)
        column.setAlignment(Qt.AlignmentFlag.AlignTop)
        return holder

    def _go(self) -> None:
        self._begin(
            DemoOrder(
                family=self.family.currentText(),
                fault=str(self.fault.currentData()),
                speed=float(self.speed.currentData()),
            )
        )
