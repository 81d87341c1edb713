"""Shows checks that were interrupted before anything else, and keeps them in sight."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QStackedWidget

from brimline.errors import BrimlineError
from brimline.ui.open_services import Answer, OpenRow, OpenServices
from brimline.ui.screens.home import HomeScreen
from brimline.ui.screens.open_checks import OpenActs, OpenChecksScreen
from brimline.ui.services import RunningCheck
from brimline.units import UnitSystem

OUT_FIRST = (
    "A check was interrupted with its plug out. Go on with it or end it before another one begins."
)


class OpenScreens:
    """The cards of interrupted checks.

    :param begin: shows a check that goes on.
    :param go_home: leads to the first screen.
    """

    def __init__(
        self,
        services: OpenServices,
        units: UnitSystem,
        stack: QStackedWidget,
        home: HomeScreen,
        begin: Callable[[Callable[[], RunningCheck]], None],
        go_home: Callable[[], None],
    ) -> None:
        self._services, self._units = services, units
        self._stack, self._home = stack, home
        self._begin, self._go_home = begin, go_home
        self._left = False
        self._told = ""
        self.screen: OpenChecksScreen | None = None

    def stand_in(self) -> bool:
        """Show the cards before the first screen, unless they were left; say whether they are up.

        Left or not, the first screen tells of what is open.
        """
        rows = self._rows()
        self._home.show_open(len(rows), self.show)
        if not rows or self._left:
            self._left = self._left and bool(rows)
            self._told = ""
            return False
        self._show(rows)
        return True

    def show(self) -> None:
        """Show the cards, also those that were left."""
        rows = self._rows()
        if rows:
            self._show(rows)

    def refusal(self) -> str:
        """Return why no other check may begin now, in one sentence; empty where one may."""
        return OUT_FIRST if any(row.plug_is_out and not row.closed for row in self._rows()) else ""

    def leave(self) -> None:
        """Take the cards away."""
        screen, self.screen = self.screen, None
        if screen is not None:
            self._stack.removeWidget(screen)
            screen.deleteLater()

    def _rows(self) -> Sequence[OpenRow]:
        try:
            return self._services.rows()
        except BrimlineError:  # whoever keeps the records says what is wrong with them
            return ()

    def _show(self, rows: Sequence[OpenRow]) -> None:
        self.leave()
        acts = OpenActs(self._go_on, self._end)
        self.screen = OpenChecksScreen(rows, self._units, acts, self._leave_open)
        self.screen.say(self._told)
        self._told = ""
        self._stack.addWidget(self.screen)
        self._stack.setCurrentWidget(self.screen)
        self.screen.setFocus(Qt.FocusReason.OtherFocusReason)

    def _leave_open(self) -> None:
        self._left = True
        self._go_home()

    def _go_on(self, answer: Answer) -> None:
        running = self._services.go_on(answer)  # a refusal is told on its card
        self._left = False
        self._begin(lambda: running)

    def _end(self, answer: Answer, reason: str) -> None:
        self._told = self._services.end(answer, reason)
        self._left = False
        self._go_home()
