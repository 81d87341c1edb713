"""One item of the checklist."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint, QRectF
from PySide6.QtGui import QPainter, QPen

from brimline import wording
from brimline.procedure.events import Item
from brimline.translation import capitalised, tr
from brimline.ui.widgets.answers import MarkedButton


class ItemButton(MarkedButton):
    """One item of the checklist: pressed once it is confirmed, pressed again it is taken back."""

    def __init__(self, item: Item, toggled: Callable[[Item, bool], None]) -> None:
        super().__init__(capitalised(tr(wording.ITEMS[item])), "item")
        self.item = item
        self.clicked.connect(lambda checked: toggled(item, bool(checked)))

    def draw(self, painter: QPainter, *, chosen: bool) -> None:
        """A box, with a tick once it is confirmed."""
        painter.drawRoundedRect(QRectF(5, 5, 30, 30), 5, 5)
        if chosen:
            painter.setPen(QPen(painter.pen().color(), 5))
            painter.drawPolyline([QPoint(12, 20), QPoint(18, 27), QPoint(29, 13)])
