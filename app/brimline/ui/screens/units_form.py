"""The choice of units: a system by two large buttons, then single units that differ from it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from brimline.config import Settings, UnitChoices
from brimline.translation import marked, tr
from brimline.ui.forms import Choice, form, label
from brimline.ui.tokens import Space
from brimline.ui.widgets.answers import FactButton
from brimline.units import CHOICES, UNIT_SYSTEMS, Dimension, UnitSystem, unit_system

_SYSTEMS: dict[Literal["metric", "us"], str] = {"metric": marked("Metric"), "us": marked("US")}
_SINGLES = {
    Dimension.TEMPERATURE: marked("Temperatures"),
    Dimension.VOLUME: marked("Amounts of fluid"),
    Dimension.DISTANCE: marked("Distances and speeds"),
    Dimension.TORQUE: marked("Torques"),
}


def example(units: UnitSystem) -> str:
    """Return one line with a number of each kind, such as stands on a work summary."""
    kinds = (
        units.temperature(65), units.volume(0.4), units.distance(84210), units.torque(22),
    )  # fmt: skip
    return " · ".join(kinds)


class UnitsForm(QWidget):
    """The units of a shop, with a line that shows what numbers will look like.

    :param singles: whether units may be chosen singly, besides the system.
    """

    def __init__(
        self, settings: Settings, *, singles: bool, changed: Callable[[], None] = lambda: None
    ) -> None:
        super().__init__()
        self._changed = changed
        self.systems = {name: self._system(name) for name in _SYSTEMS}
        self.singles = {dimension: Choice(symbols) for dimension, symbols in CHOICES.items()}
        self.shown = label("", "heading")
        self.shown.setAccessibleName(tr("What numbers look like"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        row = QHBoxLayout()
        row.setSpacing(Space.SMALL)
        for name, made in self.systems.items():
            under = QVBoxLayout()
            under.setSpacing(Space.TIGHT)
            under.addWidget(made)
            if not singles:
                under.addWidget(label(example(UNIT_SYSTEMS[name])))
            row.addLayout(under, 1)
        column.addLayout(row)
        one_by_one = form(*((tr(_SINGLES[kind]), box) for kind, box in self.singles.items()))
        for part in (one_by_one, self.shown):
            column.addWidget(part)
            part.setVisible(singles)
        self.show_settings(settings)
        for box in self.singles.values():
            box.currentIndexChanged.connect(lambda _at: self._show_example())

    def _system(self, name: str) -> QPushButton:
        words = next(said for known, said in _SYSTEMS.items() if known == name)
        made = FactButton(tr(words))
        made.clicked.connect(lambda: self._choose(name, UNIT_SYSTEMS[name]))
        return made

    def show_settings(self, settings: Settings) -> None:
        """Show the units of these settings."""
        self._choose(settings.units, settings.unit_system)

    def _choose(self, name: str, system: UnitSystem) -> None:
        for (
            known,
            made,
        ) in self.systems.items():  # no group: a tabulator would pass one of them over
            made.setChecked(known == name)
        for dimension, box in self.singles.items():
            box.setCurrentText(system.symbol(dimension))
        self._show_example()

    def _show_example(self) -> None:
        self.shown.setText(example(self.units))
        self._changed()

    @property
    def system(self) -> Literal["metric", "us"]:
        """The system that is chosen."""
        return next((name for name, made in self.systems.items() if made.isChecked()), "metric")

    @property
    def choices(self) -> UnitChoices:
        """The single units that differ from those of the system."""
        whole = UNIT_SYSTEMS[self.system]
        return UnitChoices.model_validate(
            {
                dimension.value: box.currentText()
                for dimension, box in self.singles.items()
                if box.currentText() != whole.symbol(dimension)
            }
        )

    @property
    def units(self) -> UnitSystem:
        """The units that are chosen."""
        return unit_system(self.system, **self.choices.model_dump())
