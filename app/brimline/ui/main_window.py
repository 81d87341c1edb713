"""The window: a header, and one screen below it. It assembles, and decides nothing."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from brimline import wording
from brimline.errors import BrimlineError, DamagedError
from brimline.session import Snapshot
from brimline.ui import theme
from brimline.ui.forms import button, label
from brimline.ui.keeping import Trouble
from brimline.ui.model import CheckModel
from brimline.ui.open_screens import OpenScreens
from brimline.ui.poller import Poller
from brimline.ui.record_screens import RecordScreens
from brimline.ui.screens.check.screen import CheckScreen
from brimline.ui.screens.connection import ConnectionScreen
from brimline.ui.screens.discovery import DiscoveryScreen
from brimline.ui.screens.home import HomeActs, HomeScreen
from brimline.ui.services import (
    BeginState,
    CheckOrder,
    ConnectionChoice,
    DemoOrder,
    RunningCheck,
    Services,
)
from brimline.ui.tokens import DARK, LIGHT, Palette, Space


class MainWindow(QMainWindow):
    """Home, or one running check.

    :param paint: applies a palette to the application.
    """

    def __init__(self, services: Services, palette: Palette, paint: Callable[[Palette], None]):
        super().__init__()
        self._services = services
        self._palette = palette
        self._paint = paint
        self._running: RunningCheck | None = None
        self._given_up = False
        self.connection: ConnectionScreen | None = None
        self.discovery: DiscoveryScreen | None = None
        self.model: CheckModel | None = None
        self.check: CheckScreen | None = None
        self.setWindowTitle("Brimline")
        self.setMinimumSize(1280, 780)
        self.subject = label("", "heading")
        self.subject.setWordWrap(False)
        self.mark = label("", "mark")
        self.mark.setWordWrap(False)
        self.leave = button("Finished checks", self._ask_leave)
        self.look = button("", self._switch_look)
        self.beginning = Poller[BeginState](time.monotonic, self._show_beginning, self)
        acts = HomeActs(
            self.begin_check, self.give_up_beginning, self.begin_demo, self.show_connection,
            self.show_backups,
        )  # fmt: skip
        self.home = HomeScreen(services, acts)
        self.stack = QStackedWidget()
        self.stack.addWidget(self.home)
        self.records = self._record_screens()
        self.open = self._open_screens()
        self._then: Callable[[], None] = lambda: None
        self.said = label("", "bad")
        self.said.setContentsMargins(Space.WIDE, Space.SMALL, Space.WIDE, 0)
        self.said.hide()
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._header())
        column.addWidget(self.said)
        column.addWidget(self.stack, 1)
        self.setCentralWidget(body)
        self._show_home()

    def _header(self) -> QWidget:
        header = QFrame()
        header.setProperty("role", "header")
        row = QHBoxLayout(header)
        row.setContentsMargins(Space.LARGE, Space.SMALL, Space.LARGE, Space.SMALL)
        row.setSpacing(Space.LARGE)
        name = label("Brimline", "title")
        name.setWordWrap(False)
        row.addWidget(name)
        row.addWidget(self.subject, 1)
        row.addWidget(self.mark)
        row.addWidget(self.leave)
        row.addWidget(self.look)
        return header

    def begin_demo(self, order: DemoOrder) -> None:
        """Begin a demonstration and show it."""
        if self._may_begin():
            self._begin(lambda: self._services.begin_demo(order))

    def _may_begin(self) -> bool:
        """Say why no other check may begin: one that was interrupted has its plug out."""
        refusal = "" if self.open is None else self.open.refusal()
        self._say(refusal)
        return not refusal

    def _begin(self, begin: Callable[[], RunningCheck]) -> None:
        try:
            running = begin()
        except DamagedError as error:
            self._say_damaged(error)
            return
        except BrimlineError as error:
            self._say(error.sentence)
            return
        self._show_check(running)

    def begin_check(self, order: CheckOrder) -> None:
        """Begin a check on a vehicle and show it as soon as its adapter is open."""
        if not self._may_begin():
            return
        try:
            self.beginning.begin(self._services.begin_check(order))
        except DamagedError as error:
            self._say_damaged(error)
        except BrimlineError as error:
            self._say(error.sentence)

    def give_up_beginning(self) -> None:
        """Begin no check after all."""
        self.beginning.cancel()
        self.home.show_beginning("")

    def _show_beginning(self, state: BeginState) -> None:
        self.home.show_beginning("" if state.done else state.sentence)
        if state.check is not None:
            self._show_check(state.check)
        elif state.damaged is not None:
            self._say_damaged(state.damaged)
        elif state.done:
            self._say(state.sentence)

    def _show_check(self, running: RunningCheck) -> None:
        self._say("")
        self._take_away()
        self._running = running
        services = self._services
        self.model = CheckModel(running.session, services.units, self, services.attaching)
        self.check = CheckScreen(self.model, self._palette, running.controls, self._after_closing)
        self.model.changed.connect(self._show_subject)
        self.model.closed.connect(lambda state: self.home.finished.include(state.opened.origin))
        self.stack.addWidget(self.check)
        self.stack.setCurrentWidget(self.check)
        self.leave.setVisible(True)
        self.model.start()

    def when_home(self, then: Callable[[], None]) -> None:
        """Do something as soon as the first screen is up: the records may need something first."""
        if self.stack.currentWidget() is self.home:
            then()
        else:
            self._then = then

    def show_backups(self) -> None:
        """Show how backups of the records are made; never during a check."""
        if self.records is not None and self.model is None:
            self._say("")
            self._leave_bus()
            self.records.show_backups()

    def _record_screens(self) -> RecordScreens | None:
        keeping = self._services.keeping
        if keeping is None:
            return None
        return RecordScreens(keeping, self.stack, self.home, self._show_home, self._check_runs)

    def _open_screens(self) -> OpenScreens | None:
        services = self._services
        if services.interrupted is None:
            return None
        return OpenScreens(
            services.interrupted, services.units, self.stack, self.home, self._begin,
            self._show_home,
        )  # fmt: skip

    def _check_runs(self) -> bool:
        return self.model is not None and not self.model.session.sealed

    def _say_damaged(self, error: DamagedError) -> None:
        if self.records is None:
            self._say(error.sentence)
        else:
            self._say("")
            self._leave_bus()
            self.records.show_recovery(Trouble(error.what, grave=True))

    def show_connection(self) -> None:
        """Show how the bay is connected; never during a check."""
        bus = self._services.bus
        if bus is None or self.model is not None or self.beginning.is_busy:
            return
        self._say("")
        self._leave_bus()
        self.connection = ConnectionScreen(bus, self._show_home, self.show_discovery)
        self.stack.addWidget(self.connection)
        self.stack.setCurrentWidget(self.connection)

    def show_discovery(self, connection: ConnectionChoice) -> None:
        """Show what on the bus may be the fluid temperature; never during a check."""
        bus = self._services.bus
        if bus is None or self.model is not None:
            return
        self._leave_bus()
        self.discovery = DiscoveryScreen(
            bus, connection, self._services.units, self.show_connection
        )
        self.stack.addWidget(self.discovery)
        self.stack.setCurrentWidget(self.discovery)

    def _leave_bus(self) -> None:
        """End what the screens of the bus have under way: a check wants the adapter to itself."""
        for screen in (self.connection, self.discovery):
            if screen is not None:
                screen.stop()
                self.stack.removeWidget(screen)
                screen.deleteLater()
        self.connection = self.discovery = None

    def _after_closing(self) -> QWidget:
        """What is shown under the verdict: the printed summary is two clicks away."""
        return button("To the work summary", self._show_home, "next")

    def _show_subject(self, snapshot: Snapshot) -> None:
        state = snapshot.state
        duty = state.opened.duty.replace("_", " ")
        parts = [f"{state.sheet.transmission.family}, {duty} duty"]
        if state.vehicle is not None:
            parts += [state.vehicle.vin, *([state.vehicle.plate] if state.vehicle.plate else [])]
        self.subject.setText("  ·  ".join(parts))
        words = wording.ORIGINS[state.opened.origin]
        kept = self._running is not None and self._running.records_bus
        self.mark.setText(words[:1].upper() + words[1:] + ("  ·  recording" if kept else ""))
        self.mark.setVisible(True)

    def _ask_leave(self) -> None:
        """A running check is left only once it is stopped or closed."""
        if not self._keeps_open():
            self._show_home()

    def _keeps_open(self) -> bool:
        """Return whether a check is still open or unsealed; the person is told, or asked."""
        if self.model is None or self.check is None or self.model.session.sealed:
            return False
        if self._given_up:
            return False
        if self.model.session.not_saved is not None and self._running is not None:
            self.check.ask_rescue(self._running.rescue, self._close_unsaved)
            return True
        if self.model.state.closed is not None:
            self.check.say("The record is not sealed yet; leave the window open until it is.")
        elif self.model.state.aborted is not None:
            self.check.say("Close and seal the record first.")
        else:
            self.check.say("This check is running. Stop it first, or go through to its end.")
            self.check.ask_abort()
        return True

    def _close_unsaved(self) -> None:
        """Close the program though the disk refuses; the person was asked."""
        self._given_up = True
        self.close()

    def _show_home(self) -> None:
        self.end_check()
        self.give_up_beginning()
        self._leave_bus()
        self.subject.setText(self._services.shop)
        self.mark.setVisible(False)
        self.leave.setVisible(False)
        self._show_look()
        self._take_away()
        if self.records is not None and self.records.stand_in():
            return
        if self.open is not None and self.open.stand_in():
            return
        self.home.refresh()
        self.stack.setCurrentWidget(self.home)
        then, self._then = self._then, lambda: None
        then()

    def _take_away(self) -> None:
        """Take away what stood in for the first screen."""
        for screens in (self.records, self.open):
            if screens is not None:
                screens.leave()

    def end_check(self) -> None:
        """Give back what a check holds; the database and the bus above all."""
        running, self._running = self._running, None
        if running is not None:
            running.end()
        if self.model is not None:
            self.model.stop()
            self.model.deleteLater()
            self.model = None
        if self.check is not None:
            self.stack.removeWidget(self.check)
            self.check.deleteLater()
            self.check = None

    def _switch_look(self) -> None:
        self.set_palette(LIGHT if self._palette is DARK else DARK)

    def set_palette(self, palette: Palette) -> None:
        """Show everything in this palette."""
        self._palette = palette
        self._paint(palette)
        if self.check is not None:
            self.check.chart.set_palette(palette)
        self._show_look()

    def _show_look(self) -> None:
        self.look.setText("Light" if self._palette is DARK else "Dark")

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """An open or unsealed check keeps the window; the person is asked beside the chart."""
        if self._keeps_open():
            event.ignore()
            return
        self.end_check()
        self.beginning.cancel()
        self._leave_bus()
        self._take_away()
        super().closeEvent(event)


def open_window(app: QApplication, services: Services, palette: Palette) -> MainWindow:
    """Make the window, dressed and not yet shown."""
    theme.load_fonts(services.fonts)
    theme.apply(app, palette)
    return MainWindow(services, palette, lambda chosen: theme.apply(app, chosen))
