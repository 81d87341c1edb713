"""The four readings of the vehicle's level: each way, and turned round."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from brimline.translation import marked, tr
from brimline.ui.forms import QuantityField, form
from brimline.units import Dimension, UnitSystem

_NAMES = (
    ("lengthwise", marked("Lengthwise")),
    ("lengthwise_turned", marked("Lengthwise, turned")),
    ("crosswise", marked("Crosswise")),
    ("crosswise_turned", marked("Crosswise, turned")),
)


class TiltForm(QWidget):
    """Four fields in degrees, named as the fields of the tap."""

    def __init__(self, units: UnitSystem) -> None:
        super().__init__()
        self.fields = {key: QuantityField(Dimension.ANGLE, units, 0.2) for key, _ in _NAMES}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(form(*((tr(name), self.fields[key]) for key, name in _NAMES)))

    def clear(self) -> None:
        """Empty the fields: what they held is on record, or of a vehicle that came down."""
        for field in self.fields.values():
            field.clear()

    def angles(self) -> dict[str, float]:
        """Return the readings in degrees.

        :raises UnitError: one is missing, or is no angle.
        """
        return {key: field.needed() for key, field in self.fields.items()}
