"""Words on several lines: a line never ends between a number and its unit."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget

TIE = "\N{NO-BREAK SPACE}"
_NUMBER_AND_UNIT = re.compile(r"(?<=\d) (?=[%°]|\S+/|\S{1,3}\b)")

_TWO_UNITS = re.compile(rf"({TIE}(?:min|h)) (?=\d)")
"""Between the parts of a duration, such as 2 min 05 s."""


def tied(text: str) -> str:
    """Return a text whose numbers keep their units beside them when it is wrapped.

    :param text: plain words; a unit is what follows a digit and is a sign, holds a stroke, or has
        three letters at most up to its first break: %, km/h, °C, the US of “US qt”.
    """
    return _TWO_UNITS.sub(rf"\1{TIE}", _NUMBER_AND_UNIT.sub(TIE, text))


class Words(QLabel):
    """A label of plain text that is wrapped, with numbers and units tied to each other.

    :meth:`text` returns what was said, without the ties.
    """

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._said = ""
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setText(text)

    def setText(self, text: str) -> None:  # noqa: N802 - Qt's name
        """Show these words."""
        if text != self._said:
            self._said = text
            super().setText(tied(text))

    def text(self) -> str:
        """Return the words as they were said."""
        return self._said
