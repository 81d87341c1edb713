"""The window: a header, and one screen below it. It assembles, and decides nothing."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtGui import QCloseEvent, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from brimline.errors import BrimlineError, DamagedError
from brimline.translation import tr
from brimline.ui import theme
from brimline.ui.bus_screens import BusScreens
from brimline.ui.forms import button, label
from brimline.ui.header import MUTE_KEYS, Header
from brimline.ui.look import LookFollower
from brimline.ui.looking import LOOKING, Looking
from brimline.ui.open_screens import OpenScreens
from brimline.ui.poller import Poller
from brimline.ui.ports.keeping import Trouble
from brimline.ui.ports.services import (
    BeginState,
    CheckOrder,
    DemoOrder,
    RunningCheck,
    Services,
)
from brimline.ui.record_screens import RecordScreens
from brimline.ui.screens.home import HomeActs, HomeScreen
from brimline.ui.setting_screens import SettingScreens, WindowActs
from brimline.ui.speech.aloud import Aloud, Program
from brimline.ui.tokens import DARK, Palette, Space

if TYPE_CHECKING:
    # Imported when they are first shown: what a check needs takes longer than the first screen.
    from brimline.session import Snapshot
    from brimline.ui.model import CheckModel
    from brimline.ui.screens.check.screen import CheckScreen
    from brimline.ui.screens.connection import ConnectionScreen
    from brimline.ui.screens.discovery import DiscoveryScreen
    from brimline.ui.speech.speaking import Speaking

FIRST_DEMO_SPEED = 5.0
"""A demonstration that somebody begins before anything else is not waited for."""


class MainWindow(QMainWindow):
    """Home, or one running check.

    :param paint: applies a palette to the application.
    :param sounds: the program that makes sounds and speaks; ``None`` where nothing is to be heard.
    """

    def __init__(
        self,
        services: Services,
        palette: Palette,
        paint: Callable[[Palette], None],
        sounds: Program | None = None,
    ) -> None:
        super().__init__()
        self._services = services
        self._palette = palette
        self._paint = paint
        self._running: RunningCheck | None = None
        self._given_up = False
        self.model: CheckModel | None = None
        self.check: CheckScreen | None = None
        self.setWindowTitle("Brimline")
        self.setMinimumSize(1280, 780)
        self.beginning = Poller[BeginState](time.monotonic, self._show_beginning, self)
        self.follower = LookFollower(QApplication.styleHints(), self.set_palette, palette, self)
        self._then: Callable[[], None] = lambda: None
        self._knows_its_screen = False
        self.looking = Looking(self, self._show_looking)
        self.aloud = Aloud(sounds, services.settings, self)
        self.aloud.tested.connect(self._say)
        QShortcut(QKeySequence(MUTE_KEYS), self, self.aloud.switch_mute)  # from afar too
        self._assemble()
        self._show_home()

    def _assemble(self) -> None:
        """Make what is in the window, in the units and the language of now."""
        services = self._services
        self.header = Header(self._ask_leave, self._switch_look, self.aloud.switch_mute)
        self.aloud.muting.connect(self.header.show_muted)
        self.mark, self.leave = self.header.mark, self.header.leave
        acts = HomeActs(
            self.begin_check, self.give_up_beginning, self.begin_demo, self.show_connection,
            self.show_backups, self.show_settings,
        )  # fmt: skip
        self.home = HomeScreen(services, acts)
        self.stack = QStackedWidget()
        self.stack.addWidget(self.home)
        self.records = self._record_screens()
        self.open = self._open_screens()
        self.bus = self._bus_screens()
        self.settings = self._setting_screens()
        self.said = label("", "bad")
        self.said.setContentsMargins(Space.WIDE, Space.SMALL, Space.WIDE, 0)
        self.said.hide()
        body = QWidget()
        column = QVBoxLayout(body)
        self.head = QWidget()
        self._in_head = QVBoxLayout(self.head)
        for layout in (column, self._in_head):
            layout.setContentsMargins(0, 0, 0, 0)
            layout.setSpacing(0)
        for part in (self.header, self.said):
            self._in_head.addWidget(part)
        column.addWidget(self.head)
        column.addWidget(self.stack, 1)
        self.setCentralWidget(body)

    def renew(self, services: Services) -> None:
        """Show everything anew: in other units, another language, with another shop's name."""
        self._services = services
        self._leave_bus()
        self._take_away()
        former = self.takeCentralWidget()
        self._assemble()
        if former is not None:
            former.deleteLater()
        self._show_home()

    def begin_demo(self, order: DemoOrder) -> None:
        """Begin a demonstration and show it."""
        if self._may_begin():
            self._begin(lambda: self._services.begin_demo(order))

    def _may_begin(self) -> bool:
        """Say why no other check may begin: one that was interrupted has its plug out, or may."""
        if self.looking.is_busy:
            refusal = tr(LOOKING)
        else:
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
        self._show_waiting(BeginState(True))

    def _show_beginning(self, state: BeginState) -> None:
        on_cards = self._show_waiting(state)
        if state.check is not None:
            self._show_check(state.check)
        elif state.damaged is not None:
            self._say_damaged(state.damaged)
        elif state.done and not on_cards:
            self._say(state.sentence)

    def _show_waiting(self, state: BeginState) -> bool:
        """Show what is waited for; say whether the cards of interrupted checks do."""
        self.home.show_beginning("" if state.done else state.sentence)
        return self.open is not None and self.open.show_beginning(state)

    def _show_check(self, running: RunningCheck) -> None:
        self._say("")
        self._take_away()
        self._running = running
        from brimline.ui.model import CheckModel  # noqa: PLC0415 - see above

        services = self._services
        self.model = CheckModel(running.session, services.units, self, services.attaching)
        from brimline.ui.screens.check.screen import CheckScreen  # noqa: PLC0415 - see above

        self.check = CheckScreen(
            self.model, self._palette, running.controls, self._after_closing, services.afar
        )
        self.check.distances.changed.connect(self.head.setHidden)
        self.model.changed.connect(self._show_subject)
        self.model.closed.connect(lambda state: self.home.finished.include(state.opened.origin))
        self.stack.addWidget(self.check)
        self.stack.setCurrentWidget(self.check)
        self.leave.show()
        self.aloud.follow(self.model, self._in_head)
        self.model.start()

    def when_home(self, then: Callable[[], None]) -> None:
        """Do something as soon as the first screen is up: the records may need something first."""
        if self.stack.currentWidget() is self.home and not self.looking.is_busy:
            then()
        else:
            self._then = then

    def show_backups(self) -> None:
        """Show how backups of the records are made; never during a check."""
        if self.records is not None and self.model is None and not self.looking.is_busy:
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
            services.interrupted, services.units, self.stack, self.home, self.beginning.begin,
            self.give_up_beginning, self._show_home,
        )  # fmt: skip

    def _bus_screens(self) -> BusScreens | None:
        services = self._services
        if services.bus is None:
            return None
        return BusScreens(services.bus, services.units, self.stack, self._show_home)

    def _setting_screens(self) -> SettingScreens | None:
        services = self._services
        if services.settings is None:
            return None
        acts = WindowActs(
            self._show_home, self.renew, self.follower.choose, self._say,
            lambda: self.begin_demo(DemoOrder(services.demo_family, "", FIRST_DEMO_SPEED)),
            None if services.bus is None else self.show_connection,
            None if services.keeping is None else self.show_backups,
            services.sound_test or self.aloud.tester,
        )  # fmt: skip
        return SettingScreens(services.settings, self.stack, acts)

    def show_settings(self) -> None:
        """Show what the shop has chosen; never during a check."""
        if self.settings is not None and self.model is None and not self.beginning.is_busy:
            self._say("")
            self._leave_bus()
            self._take_away()
            self.settings.show()

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
        is_busy = self.beginning.is_busy or self.looking.is_busy
        if self.bus is not None and self.model is None and not is_busy:
            self._say("")
            self.bus.show_connection()

    def _leave_bus(self) -> None:
        """End what the screens of the bus have under way: a check wants the adapter to itself."""
        if self.bus is not None:
            self.bus.leave()

    @property
    def connection(self) -> ConnectionScreen | None:
        """The screen that shows how the bay is connected, while it is up."""
        return None if self.bus is None else self.bus.connection

    @property
    def discovery(self) -> DiscoveryScreen | None:
        """The screen that shows what was found on the bus, while it is up."""
        return None if self.bus is None else self.bus.discovery

    @property
    def speaking(self) -> Speaking:
        """What has prompts said aloud."""
        return self.aloud.speaking

    def _after_closing(self) -> QWidget:
        """What is shown under the verdict: the printed summary is two clicks away."""
        return button(tr("To the work summary"), self._show_home, "next")

    def _show_subject(self, snapshot: Snapshot) -> None:
        kept = self._running is not None and self._running.records_bus
        self.header.show_check(snapshot.state, records_bus=kept)

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
            self.check.say(tr("The record is not sealed yet; leave the window open until it is."))
        elif self.model.state.aborted is not None:
            self.check.say(tr("Close and seal the record first."))
        else:
            self.check.say(tr("This check is running. Stop it first, or go through to its end."))
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
        self.header.show_home(self._services.shop)
        self.header.show_look(self._palette)
        self._take_away()
        self.stack.setCurrentWidget(self.home)
        self.looking.begin(self._services.ready, self._show_known)
        if self.looking.is_busy and self.settings is not None:
            self.settings.stand_in()

    def _show_looking(self, sentence: str) -> None:
        self.home.show_looking(sentence)

    def _show_known(self) -> None:
        """Show what the records want before anything else, else the first screen as it is now."""
        asks = self.settings is not None and self.settings.is_asking
        if self.stack.currentWidget() is not self.home and not asks:
            return  # settings, say; whoever leaves them comes by here
        for screens in (self.records, self.open):
            if screens is not None and screens.stand_in():
                if asks and self.settings is not None:
                    self.settings.leave()
                return
        if asks or (self.settings is not None and self.settings.stand_in()):
            return
        self.home.refresh()
        then, self._then = self._then, lambda: None
        then()

    def _take_away(self) -> None:
        """Take away what stood in for the first screen."""
        for screens in (self.records, self.open, self.settings):
            if screens is not None:
                screens.leave()

    def end_check(self) -> None:
        """Give back what a check holds; the database and the bus above all."""
        running, self._running = self._running, None
        if running is not None:
            running.end()
        self.aloud.end()
        if self.model is not None:
            self.model.stop()
            self.model.deleteLater()
            self.model = None
        if self.check is not None:
            self.stack.removeWidget(self.check)
            self.check.deleteLater()
            self.check = None
        self.head.show()

    def _switch_look(self) -> None:
        self.follower.choose("light" if self._palette is DARK else "dark")

    def set_palette(self, palette: Palette) -> None:
        """Show everything in this palette."""
        if palette is not self._palette:
            self._palette = palette
            self._dress()

    def _dress(self) -> None:
        palette = self._palette
        self._paint(palette)
        if self.check is not None:
            self.check.set_palette(palette)
        self.header.show_look(palette)

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """On another screen taps are as high as there."""
        super().showEvent(event)
        handle = self.windowHandle()
        if handle is not None and not self._knows_its_screen:
            self._knows_its_screen = True
            handle.screenChanged.connect(lambda _screen: self._dress())

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """An open or unsealed check keeps the window; the person is asked beside the chart."""
        if self._keeps_open():
            event.ignore()
            return
        self.end_check()
        self.looking.cancel()
        self.beginning.cancel()
        self._leave_bus()
        self._take_away()
        super().closeEvent(event)


def open_window(
    app: QApplication, services: Services, palette: Palette, sounds: Program | None = None
) -> MainWindow:
    """Make the window, dressed and not yet shown."""
    theme.load_fonts(services.fonts)
    theme.apply(app, palette)
    window = MainWindow(
        services, palette, lambda chosen: theme.apply(app, chosen, window.screen()), sounds
    )
    return window
