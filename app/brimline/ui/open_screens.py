"""Shows checks that were interrupted before anything else, and keeps them in sight."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QStackedWidget

from brimline.errors import BrimlineError
from brimline.translation import marked, tr
from brimline.ui.ports.interrupted import Answer, OpenRow, OpenServices
from brimline.ui.ports.services import BeginHandle, BeginState
from brimline.ui.screens.home import HomeScreen
from brimline.units import UnitSystem

if TYPE_CHECKING:
    from brimline.ui.screens.open_checks import OpenChecksScreen

OUT_FIRST = marked(
    "A check was interrupted with its plug out. Go on with it or end it before another one begins."
)


class OpenScreens:
    """The cards of interrupted checks.

    :param begin: is given a check that is about to go on; ``give_up`` gives it up.
    :param go_home: leads to the first screen.
    """

    def __init__(
        self,
        services: OpenServices,
        units: UnitSystem,
        stack: QStackedWidget,
        home: HomeScreen,
        begin: Callable[[BeginHandle], None],
        give_up: Callable[[], None],
        go_home: Callable[[], None],
    ) -> None:
        self._services, self._units = services, units
        self._stack, self._home = stack, home
        self._begin, self._give_up, self._go_home = begin, give_up, go_home
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
        self._home.show_open(len(rows), self.show)  # another program may have ended them
        if rows:
            self._show(rows)

    def refusal(self) -> str:
        """Return why no other check may begin now, in one sentence; empty where one may."""
        is_out = any(row.plug_is_out and not row.closed for row in self._rows())
        return tr(OUT_FIRST) if is_out else ""

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
        from brimline.ui.screens import open_checks  # noqa: PLC0415 - seldom wanted

        self.leave()
        acts = open_checks.OpenActs(self._go_on, self._end, self._give_up)
        self.screen = open_checks.OpenChecksScreen(rows, self._units, acts, self._leave_open)
        self.screen.say(self._told)
        self._told = ""
        self._stack.addWidget(self.screen)
        self._stack.setCurrentWidget(self.screen)
        self.screen.setFocus(Qt.FocusReason.OtherFocusReason)

    def _leave_open(self) -> None:
        self._left = True
        self._go_home()

    def _go_on(self, answer: Answer) -> None:
        self._left = False
        self._begin(self._services.go_on(answer))

    def show_beginning(self, state: BeginState) -> bool:
        """Show on its card how going on with a check stands; say whether the cards are up."""
        if self.screen is None:
            return False
        self.screen.show_beginning(state)
        return True

    def _end(self, answer: Answer, reason: str) -> None:
        self._told = self._services.end(answer, reason)
        self._left = False
        self._go_home()
