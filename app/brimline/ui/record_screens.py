"""The screens about the records' file, and the line about backups on the first screen."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QStackedWidget

from brimline.ui.ports.keeping import BackupLine, Keeping, Trouble
from brimline.ui.screens.backups import BackupsScreen
from brimline.ui.screens.home import HomeScreen
from brimline.ui.screens.recovery import RecoveryScreen
from brimline.ui.screens.upkeep import UpkeepScreen

LOOK_MS = 1000
"""How often it is asked whether a backup is due, and how backups stand."""


class RecordScreens(QObject):
    """Shows what the records need before anything else, and keeps backups going.

    :param home: the first screen; ``go_home`` leads there.
    :param check_runs: says whether a check is running: then nothing is done to the records.
    """

    def __init__(
        self,
        keeping: Keeping,
        stack: QStackedWidget,
        home: HomeScreen,
        go_home: Callable[[], None],
        check_runs: Callable[[], bool],
    ) -> None:
        super().__init__(stack)
        self._keeping, self._stack, self._home = keeping, stack, home
        self._go_home, self._check_runs = go_home, check_runs
        self._left_damaged = False
        self.screen: RecoveryScreen | BackupsScreen | UpkeepScreen | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_MS)
        self._timer.timeout.connect(self.look)

    def stand_in(self) -> bool:
        """Show what must be done before the first screen can be; return whether anything must.

        From now on backups are made when they are due.
        """
        self._timer.start()
        trouble = self._keeping.trouble()
        if trouble is not None and trouble.grave:
            self.show_recovery(trouble)
            return True
        handle = self._keeping.upgrade()
        if handle is None:
            return False
        screen = UpkeepScreen(self._keeping.upgrade, self._go_home)
        self._show(screen)
        screen.watch(handle)
        return True

    def show_recovery(self, trouble: Trouble) -> None:
        """Show what is wrong, and the copies."""
        self._show(RecoveryScreen(self._keeping, trouble, self._go_home))

    def show_backups(self) -> None:
        """Show how backups are made; never during a check."""
        if not self._check_runs():
            self._show(BackupsScreen(self._keeping, self._go_home))
            self.look()

    def leave(self) -> None:
        """Take the screen away, and end what it has under way."""
        screen, self.screen = self.screen, None
        if screen is not None:
            screen.stop()
            self._stack.removeWidget(screen)
            screen.deleteLater()

    def _show(self, screen: RecoveryScreen | BackupsScreen | UpkeepScreen) -> None:
        self.leave()
        self.screen = screen
        self._stack.addWidget(screen)
        self._stack.setCurrentWidget(screen)

    def look(self) -> None:
        """Let what is due be done, and show how backups stand."""
        if isinstance(self.screen, UpkeepScreen):
            return
        line = self._keeping.line(self._check_runs())
        self._home.show_backups(line)
        if isinstance(self.screen, BackupsScreen):
            self.screen.show_line(line)
        self._show_damage(line)

    def _show_damage(self, line: BackupLine) -> None:
        """Lead to a backup once, when damage is found; after that the line alone says so."""
        at_home = self._stack.currentWidget() is self._home
        if line.damaged and at_home and not self._left_damaged:
            self._left_damaged = True
            self.show_recovery(Trouble(line.damaged, grave=False))
        elif not line.damaged:
            self._left_damaged = False
