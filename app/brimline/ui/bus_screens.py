"""The screens about the vehicle's bus: how the bay is connected, and what is found there."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QStackedWidget

from brimline.ui.ports.services import BusServices, ConnectionChoice
from brimline.units import UnitSystem

if TYPE_CHECKING:
    # Imported when they are first shown: the first screen does not wait for them.
    from brimline.ui.screens.connection import ConnectionScreen
    from brimline.ui.screens.discovery import DiscoveryScreen


class BusScreens:
    """Shows one of them at a time, and ends what it has under way when it is left.

    :param go_home: leads to the first screen.
    """

    def __init__(
        self,
        bus: BusServices,
        units: UnitSystem,
        stack: QStackedWidget,
        go_home: Callable[[], None],
    ) -> None:
        self._bus, self._units, self._stack, self._go_home = bus, units, stack, go_home
        self.connection: ConnectionScreen | None = None
        self.discovery: DiscoveryScreen | None = None

    def show_connection(self) -> None:
        """Show how the bay is connected."""
        from brimline.ui.screens.connection import ConnectionScreen  # noqa: PLC0415 - see above

        self.leave()
        self.connection = ConnectionScreen(self._bus, self._go_home, self.show_discovery)
        self._stack.addWidget(self.connection)
        self._stack.setCurrentWidget(self.connection)

    def show_discovery(self, connection: ConnectionChoice) -> None:
        """Show what on the bus may be the fluid temperature."""
        from brimline.ui.screens.discovery import DiscoveryScreen  # noqa: PLC0415 - see above

        self.leave()
        self.discovery = DiscoveryScreen(self._bus, connection, self._units, self.show_connection)
        self._stack.addWidget(self.discovery)
        self._stack.setCurrentWidget(self.discovery)

    def leave(self) -> None:
        """End what they have under way: a check wants the adapter to itself."""
        for screen in (self.connection, self.discovery):
            if screen is not None:
                screen.stop()
                self._stack.removeWidget(screen)
                screen.deleteLater()
        self.connection = self.discovery = None
