"""What an empty field says: slanted, and an example named as one, so that neither looks typed."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit

from brimline.translation import joined, tr
from brimline.units import Dimension, UnitSystem, from_inside

HINTED = "hinted"
"""A property of fields: whether such words stand in them now; the style sheet slants them by it."""


def hint(field: QLineEdit, words: str) -> None:
    """Show words in a field for as long as it is empty; they are slanted, what is typed is not."""
    field.setPlaceholderText(words)
    if field.property(HINTED) is None:
        field.textChanged.connect(lambda _text: _slant(field))
    _slant(field)


def such_as(example: str) -> str:
    """Return an example, called one."""
    return tr("e.g. {example}", example=example)


def written(value: float, dimension: Dimension, units: UnitSystem) -> str:
    """Return an example with its unit as somebody would type it, rounded for that unit.

    :param value: in the inside unit.
    """
    symbol = units.symbol(dimension)
    number = from_inside(value, dimension, symbol)
    whole = dimension is Dimension.TEMPERATURE
    shown = float(round(number)) if whole else round(float(f"{number:.3g}"), 2)
    return joined((f"{shown:g}", tr(symbol)), " ")


def _slant(field: QLineEdit) -> None:
    empty = not field.text()
    if field.property(HINTED) is not empty:
        field.setProperty(HINTED, empty)
        field.style().unpolish(field)
        field.style().polish(field)
