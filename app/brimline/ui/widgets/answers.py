"""Buttons that stay chosen, with a mark that says so besides their colour."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap
from PySide6.QtWidgets import QPushButton, QSizePolicy

from brimline.ui.widgets.marks import set_role

_SIDE = 40
_SHOWN = QSize(26, 26)


class MarkedButton(QPushButton):
    """A button that can be chosen, with its mark before its words."""

    def __init__(self, text: str, role: str) -> None:
        super().__init__(text)
        self._shown: tuple[bool, str] | None = None
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setIconSize(_SHOWN)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        set_role(self, role)
        self.toggled.connect(lambda _chosen: self._show_mark())
        self._show_mark()

    def draw(self, painter: QPainter, *, chosen: bool) -> None:
        """Draw the mark on a square of 40 px, in the painter's pen."""
        raise NotImplementedError

    def ink(self) -> QColor:
        """Return the colour of the mark."""
        return self.palette().buttonText().color()

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the mark anew in other colours."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.StyleChange):
            self._show_mark()

    def _show_mark(self) -> None:
        colour = self.ink()
        shown = (self.isChecked(), colour.name())
        if shown == self._shown:
            return
        self._shown = shown
        picture = QPixmap(_SIDE, _SIDE)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(colour, 3))
        self.draw(painter, chosen=self.isChecked())
        painter.end()
        self.setIcon(QIcon(picture))


class FactButton(MarkedButton):
    """One of several answers that exclude each other; what excludes the others is not its own."""

    def __init__(self, text: str) -> None:
        super().__init__(text, "fact")

    def ink(self) -> QColor:
        """A chosen one is filled."""
        palette = self.palette()
        return (palette.highlightedText() if self.isChecked() else palette.buttonText()).color()

    def draw(self, painter: QPainter, *, chosen: bool) -> None:
        """A ring, with a disc in it once it is chosen."""
        painter.drawEllipse(QRectF(5, 5, 30, 30))
        if chosen:
            painter.setBrush(painter.pen().color())
            painter.drawEllipse(QRectF(13, 13, 14, 14))
