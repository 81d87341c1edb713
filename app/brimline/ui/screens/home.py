"""The first screen: begin a check or a demonstration, look at finished checks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from brimline.ui.forms import Choice, button, form, label
from brimline.ui.screens.check_panel import CheckPanel
from brimline.ui.screens.finished import FinishedTable
from brimline.ui.services import CheckOrder, DemoOrder, Services
from brimline.ui.tokens import Space
from brimline.ui.widgets.caution import CautionBox

SPEEDS = (("Real time", 1.0), ("5 times as fast", 5.0), ("20 times as fast", 20.0))


@dataclass(frozen=True)
class HomeActs:
    """What the first screen leads to."""

    begin_check: Callable[[CheckOrder], None]
    give_up: Callable[[], None]
    begin_demo: Callable[[DemoOrder], None]
    connection: Callable[[], None]


class HomeScreen(QWidget):
    """A check on a vehicle on the left; finished checks and the demonstration on the right."""

    def __init__(self, services: Services, acts: HomeActs) -> None:
        super().__init__()
        self._acts = acts
        self.vehicle = CheckPanel(services, acts.begin_check, acts.give_up, acts.connection)
        self.family, self.fault, self.speed = Choice(), Choice(), Choice()
        self.family.addItems(list(services.demo_families))
        self.fault.addItem("Sound vehicle", "")
        for name, words in services.demo_faults:
            self.fault.addItem(words[:1].upper() + words[1:], name)
        for words, factor in SPEEDS:
            self.speed.addItem(words, factor)
        self.go = button("Begin the demonstration", self._go)
        self.finished = FinishedTable(services)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.WIDE, Space.LARGE, Space.WIDE, Space.LARGE)
        row.setSpacing(Space.WIDE)
        row.addWidget(self._left())
        right = QVBoxLayout()
        right.setSpacing(Space.LARGE)
        right.addWidget(self.finished, 1)
        right.addWidget(self._demonstration())
        row.addLayout(right, 1)

    def refresh(self) -> None:
        """Read anew what may have changed meanwhile: finished checks, sheets, connection."""
        self.finished.refresh()
        self.vehicle.refresh()

    def show_beginning(self, sentence: str) -> None:
        """Show what the beginning of a check waits for; an empty sentence: nothing."""
        self.vehicle.show_beginning(sentence)
        self.go.setEnabled(not sentence)

    def _left(self) -> QWidget:
        holder = QWidget()
        holder.setFixedWidth(444)
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.LARGE)
        column.addWidget(self.vehicle)
        column.addWidget(
            CautionBox(
                "NOTICE",
                "The vehicle maker's service information, local codes and licensed practice come "
                "first; where they differ from what is shown here, they hold.",
            )
        )
        column.addStretch(1)
        return holder

    def _demonstration(self) -> QFrame:
        frame = QFrame()
        frame.setProperty("role", "panel")
        column = QVBoxLayout(frame)
        column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        column.setSpacing(Space.SMALL)
        column.addWidget(label("Demonstration", "heading"))
        column.addWidget(
            label(
                "A simulated vehicle answers on a bus as a real one would. Everything in it is "
                "invented, and its records stay out of history.",
                "soft",
            )
        )
        row = QHBoxLayout()
        row.setSpacing(Space.MEDIUM)
        row.addWidget(form(("Family", self.family)))
        row.addWidget(form(("Vehicle", self.fault)), 1)
        row.addWidget(form(("Speed", self.speed)))
        column.addLayout(row)
        column.addWidget(self.go)
        return frame

    def _go(self) -> None:
        self._acts.begin_demo(
            DemoOrder(
                family=self.family.currentText(),
                fault=str(self.fault.currentData()),
                speed=float(self.speed.currentData()),
            )
        )
