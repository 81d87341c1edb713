"""The first screen: begin a check or a demonstration, look at finished checks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from brimline.translation import capitalised, counted, marked, tr
from brimline.ui.forms import Choice, button, form, label, scrolled
from brimline.ui.ports.keeping import BackupLine
from brimline.ui.ports.services import CheckOrder, DemoOrder, Services
from brimline.ui.screens.check_panel import CheckPanel
from brimline.ui.screens.finished import FinishedTable
from brimline.ui.tokens import Space
from brimline.ui.widgets.caution import CautionBox
from brimline.ui.widgets.marks import set_role

LEFT_PX = 460
FIRST = marked(
    "The vehicle maker's service information, local codes and licensed practice come first; where "
    "they differ from what is shown here, they hold."
)
SPEEDS = (
    (marked("Real time"), 1.0),
    (marked("5 times as fast"), 5.0),
    (marked("20 times as fast"), 20.0),
)


@dataclass(frozen=True)
class HomeActs:
    """What the first screen leads to."""

    begin_check: Callable[[CheckOrder], None]
    give_up: Callable[[], None]
    begin_demo: Callable[[DemoOrder], None]
    connection: Callable[[], None]
    backups: Callable[[], None]
    settings: Callable[[], None] = lambda: None


class HomeScreen(QWidget):
    """A check on a vehicle on the left; finished checks and the demonstration on the right."""

    def __init__(self, services: Services, acts: HomeActs) -> None:
        super().__init__()
        self._acts = acts
        self._begins = self._looks = False
        self.vehicle = CheckPanel(services, acts.begin_check, acts.give_up, acts.connection)
        self.family, self.fault, self.speed = Choice(), Choice(), Choice()
        self.family.addItems(list(services.demo_families))
        self.family.setCurrentText(services.demo_family)
        self.family.setMinimumContentsLength(3)  # “K7”, and the rest is the speed's room
        self.fault.addItem(tr("Sound vehicle"), "")
        for name, words in services.demo_faults():
            self.fault.addItem(capitalised(words), name)
        for words, factor in SPEEDS:
            self.speed.addItem(tr(words), factor)
        self.go = button(tr("Begin the demonstration"), self._go)
        self.finished = FinishedTable(services)
        self.backup_line = label("", "soft")
        self.backups = button(tr("Backups…"), acts.backups)
        self.settings = button(tr("Settings… (F2)"), acts.settings)
        QShortcut(QKeySequence(Qt.Key.Key_F2), self, acts.settings)
        column = QVBoxLayout(self)
        column.setContentsMargins(Space.WIDE, Space.LARGE, Space.WIDE, Space.LARGE)
        column.setSpacing(Space.MEDIUM)
        row = QHBoxLayout()
        row.setSpacing(Space.WIDE)
        column.addWidget(self._open_bar())
        column.addLayout(row, 1)
        column.addWidget(CautionBox("NOTICE", tr(FIRST)))
        self.backups.setVisible(services.keeping is not None)
        self.settings.setVisible(services.settings is not None)
        row.addWidget(self._left())
        right = QVBoxLayout()
        right.setSpacing(Space.LARGE)
        right.addWidget(self.finished, 1)
        demonstration = self._demonstration()
        right.addWidget(demonstration)
        right.addWidget(self._foot())
        # Whoever filters wants to see a list; the demonstration can wait.
        self.finished.bar.show_filters.toggled.connect(demonstration.setHidden)
        row.addLayout(right, 1)

    def refresh(self) -> None:
        """Read anew what may have changed meanwhile: finished checks, sheets, connection."""
        self.finished.refresh()
        self.vehicle.refresh()

    def show_beginning(self, sentence: str) -> None:
        """Show what the beginning of a check waits for; an empty sentence: nothing."""
        self.vehicle.show_beginning(sentence)
        self._begins = bool(sentence)
        self._enable()

    def show_looking(self, sentence: str) -> None:
        """Show that the records are not known yet; an empty sentence: they are."""
        self.vehicle.show_looking(sentence)
        self.finished.show_looking(sentence)
        self._looks = bool(sentence)
        self._enable()

    def _enable(self) -> None:
        # Restoring, or another check on the same adapter, would get in its way.
        for other in (self.settings, self.open_show):
            other.setEnabled(not self._begins)
        for other in (self.go, self.backups):  # these want the records besides
            other.setEnabled(not (self._begins or self._looks))

    def _open_bar(self) -> QWidget:
        self.open_words = label("", "heading")
        self.open_show = button(tr("Show it"), self._show_interrupted)
        self._show_open: Callable[[], None] = lambda: None
        self._open_frame = QFrame()
        self._open_frame.setProperty("role", "panel")
        row = QHBoxLayout(self._open_frame)
        row.setContentsMargins(Space.LARGE, Space.SMALL, Space.SMALL, Space.SMALL)
        row.addWidget(self.open_words, 1)
        row.addWidget(self.open_show)
        self._open_frame.hide()
        return self._open_frame

    def _show_interrupted(self) -> None:
        self._show_open()

    def show_open(self, count: int, show: Callable[[], None]) -> None:
        """Tell of so many checks that were interrupted; ``show`` leads to them."""
        one = marked("One check was interrupted and not finished.")
        many = marked("{count} checks were interrupted and not finished.")
        self.open_words.setText(counted(count, one, many))
        self.open_show.setText(tr("Show it") if count == 1 else tr("Show them"))
        self._show_open = show
        self._open_frame.setVisible(count > 0)

    def show_backups(self, line: BackupLine) -> None:
        """Show how backups of the records stand."""
        set_role(self.backup_line, "alarm" if line.loud else "soft")
        if self.backup_line.text() != line.words:
            self.backup_line.setText(line.words)

    def _foot(self) -> QWidget:
        holder = QWidget()
        row = QHBoxLayout(holder)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(Space.LARGE)
        row.addWidget(self.backup_line, 1)
        row.addWidget(self.backups)
        row.addWidget(self.settings)
        return holder

    def _left(self) -> QWidget:
        area = scrolled(self.vehicle)
        area.setFixedWidth(LEFT_PX)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        return area

    def _demonstration(self) -> QFrame:
        frame = QFrame()
        frame.setProperty("role", "panel")
        column = QVBoxLayout(frame)
        column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        column.setSpacing(Space.SMALL)
        column.addWidget(label(tr("Demonstration"), "heading"))
        column.addWidget(
            label(
                tr(
                    "A simulated vehicle answers on a bus as a real one would. Everything in it is "
                    "invented. Its records are marked as training: the list of finished checks "
                    "shows them only with “Training and replays too” ticked."
                ),
                "soft",
            )
        )
        column.addWidget(form((tr("Vehicle"), self.fault)))  # its words need the whole width
        row = QHBoxLayout()
        row.setSpacing(Space.MEDIUM)
        row.addWidget(form((tr("Family"), self.family)))
        row.addWidget(form((tr("Speed"), self.speed)), 1)
        row.addWidget(self.go)
        column.addLayout(row)
        return frame

    def _go(self) -> None:
        self._acts.begin_demo(
            DemoOrder(
                family=self.family.currentText(),
                fault=str(self.fault.currentData()),
                speed=float(self.speed.currentData()),
            )
        )
