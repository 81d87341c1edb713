"""What the columns of a check stand in, and where the keyboard goes in them."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QLayout, QScrollArea, QWidget

from brimline.ui.widgets.caution import CautionBox
from brimline.ui.widgets.hold_button import HoldButton


class Body(QWidget):
    """A column that asks for no more height than it needs.

    A scroll area takes the height that wrapped words would like for one that they must have, and
    would scroll although everything fits.
    """

    def __init__(self, column: QLayout) -> None:
        super().__init__()
        self.setLayout(column)

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Return the least height (px) at a width (px)."""
        layout = self.layout()
        return -1 if layout is None else layout.minimumHeightForWidth(width)


def scrolling(widget: QWidget) -> QScrollArea:
    """Return a widget that is scrolled up and down where there is too little room."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(widget)
    return area


def focus_first(holder: QWidget) -> None:
    """Put the keyboard into the first field, or onto a button that is held, but on no other."""
    for child in holder.findChildren(QWidget):
        pressed = isinstance(child, QAbstractButton) and not isinstance(child, HoldButton)
        if pressed or isinstance(child, CautionBox):
            continue
        takes = child.focusPolicy() & Qt.FocusPolicy.TabFocus
        if takes and child.isEnabled() and child.isVisibleTo(holder):
            child.setFocus(Qt.FocusReason.OtherFocusReason)
            return
