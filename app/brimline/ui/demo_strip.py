"""What stands under a demonstration: what to press, what one sees, the vehicle's own controls."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol

from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from brimline.translation import joined, marked, tr
from brimline.ui.forms import button, label
from brimline.ui.tokens import Space
from brimline.units import UnitSystem

if TYPE_CHECKING:
    from brimline.procedure.state import CheckState
    from brimline.session import Snapshot


_ACTS = {
    "engine on": marked("Engine on"),
    "engine off": marked("Engine off"),
    "fan on": marked("Fan on"),
    "fan off": marked("Fan off"),
}
"""Acts that are no selector range, and what is written on their buttons."""


class DemoControls(Protocol):
    """The simulated vehicle as the strip needs it."""

    @property
    def acts(self) -> tuple[str, ...]:
        """What can be done at the vehicle that is no tap."""

    def act(self, name: str) -> None:
        """Do it."""

    def hint(self, state: CheckState, units: UnitSystem) -> str:
        """Return what to press now."""

    def seen(self, units: UnitSystem) -> str:
        """Return what a person beside the vehicle sees."""

    def at_the_hole(self) -> str:
        """Return what comes out of the plug hole, short; empty while the plug is in."""


class DemoStrip(QFrame):
    """Two lines of words and two rows of buttons."""

    def __init__(self, controls: DemoControls, units: UnitSystem) -> None:
        super().__init__()
        self._units = units
        self.setProperty("role", "panel")
        self._controls = controls
        self.hint, self.seen = label("", "heading"), label("", "soft")
        words = QWidget()
        column = QVBoxLayout(words)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.TIGHT)
        column.addWidget(self.hint)
        column.addWidget(self.seen)
        self.buttons = _buttons(controls)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.LARGE, Space.SMALL, Space.LARGE, Space.SMALL)
        row.setSpacing(Space.SMALL)
        row.addWidget(label(tr("Simulated\nvehicle"), "mark"))
        row.addWidget(words, 1)
        row.addLayout(self._in_two_rows())

    def _in_two_rows(self) -> QGridLayout:
        """Ranges in pairs between engine and fan: side by side all of it would squash the words."""
        ranges = [name for name in self.buttons if name not in _ACTS]
        engine, fan = list(_ACTS)[:2], list(_ACTS)[2:]
        grid = QGridLayout()
        grid.setSpacing(Space.SMALL)
        columns = [engine, *(ranges[at : at + 2] for at in range(0, len(ranges), 2)), fan]
        for column, names in enumerate(columns):
            for line, name in enumerate(names):
                if name in self.buttons:
                    grid.addWidget(self.buttons[name], line, column)
        return grid

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show what applies now."""
        self.hint.setText(self._controls.hint(snapshot.state, self._units))
        self.seen.setText(self._controls.seen(self._units))


class DemoLine(QFrame):
    """One line under the far view, which leaves that its size: what to press, and the buttons.

    :param back: leads back to what is seen and to the forms.
    """

    def __init__(self, controls: DemoControls, units: UnitSystem, back: Callable[[], None]) -> None:
        super().__init__()
        self._controls, self._units = controls, units
        self.setProperty("role", "panel")
        self.hint = label("")
        self.buttons = _buttons(controls)
        self.back = button(tr("Back (F9)"), back)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.SMALL, Space.TIGHT, Space.SMALL, Space.TIGHT)
        row.setSpacing(Space.SMALL)
        row.addWidget(self.hint, 1)
        for made in (*self.buttons.values(), self.back):
            row.addWidget(made)

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show what applies now."""
        words = (self._controls.hint(snapshot.state, self._units), self._controls.at_the_hole())
        self.hint.setText(joined(filter(None, words), " "))


def _buttons(controls: DemoControls) -> dict[str, QPushButton]:
    return {name: button(_words(name), _actor(controls, name)) for name in controls.acts}


def _actor(controls: DemoControls, name: str) -> Callable[[], None]:
    return lambda: controls.act(name)


def _words(name: str) -> str:
    """Return an act as it stands on its button: a selector range by its name alone."""
    return tr(_ACTS[name]) if name in _ACTS else name.removeprefix("range ")
