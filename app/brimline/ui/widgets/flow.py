"""A layout that fills one row after the other, as words fill lines."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class FlowRows(QLayout):
    """Puts as many widgets into a row as fit, and stretches them over its width.

    One that is hidden takes no room.
    """

    def __init__(self, parent: QWidget, gap: int) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:  # noqa: N802 - Qt's name
        """Take an item in, after those that are there."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:  # noqa: N802 - Qt's name
        """Return an item, ``None`` where there is none."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:  # noqa: N802 - Qt's name
        """Give an item back."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:  # noqa: N802 - Qt's name
        """Take no more height than is needed."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:  # noqa: N802 - Qt's name
        """The narrower, the more rows."""
        return True

    def heightForWidth(self, width: int) -> int:  # noqa: N802 - Qt's name
        """Return the height (px) of all rows at a width (px)."""
        rows = list(self._rows(width))
        return sum(map(_height, rows)) + self._gap * max(0, len(rows) - 1)

    def minimumSize(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the largest."""
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.sizeHint())
        return size

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the same: how wide it is, others decide."""
        return self.minimumSize()

    def setGeometry(self, rect: QRect) -> None:  # noqa: N802 - Qt's name
        """Place the rows."""
        super().setGeometry(rect)
        y = rect.y()
        for row in self._rows(rect.width()):
            x, height = rect.x(), _height(row)
            spare = rect.width() - sum(_width(item) for item in row) - self._gap * (len(row) - 1)
            for at, item in enumerate(row):
                more = spare * (at + 1) // len(row) - spare * at // len(row)
                item.setGeometry(QRect(x, y, _width(item) + more, height))
                x += _width(item) + more + self._gap
            y += height + self._gap

    def _rows(self, width: int) -> Iterator[list[QLayoutItem]]:
        row: list[QLayoutItem] = []
        used = 0
        for item in self._items:
            if item.isEmpty():
                continue
            needed = _width(item)
            if row and used + self._gap + needed > width:
                yield row
                row, used = [], 0
            used += needed + (self._gap if row else 0)
            row.append(item)
        if row:
            yield row


def _width(item: QLayoutItem) -> int:
    return item.sizeHint().width()


def _height(row: list[QLayoutItem]) -> int:
    return max(item.sizeHint().height() for item in row)
