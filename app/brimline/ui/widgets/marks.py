"""Small symbols of our own drawing: what colour says is also said by a shape.

The shipped type family has no such signs, and what a system would put in their place differs.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QLabel, QWidget

from brimline.translation import marked, tr


class Shape(StrEnum):
    """What a mark looks like."""

    UP = marked("triangle pointing up")
    DOWN = marked("triangle pointing down")
    DISC = marked("disc")
    HALF = marked("half-filled disc")
    QUESTION = marked("question mark in a ring")
    CHECK = marked("check mark")
    DASH = marked("dash")
    LOCK = marked("lock")
    DOT = marked("small dot")
    CROSS = marked("cross")


def set_role(widget: QWidget, role: str) -> None:
    """Give a widget another role in the style sheet, where it has not got it already."""
    if widget.property("role") == role:
        return
    widget.setProperty("role", role)
    widget.style().unpolish(widget)
    widget.style().polish(widget)


def draw(painter: QPainter, shape: Shape, box: QRectF, colour: QColor) -> None:
    """Draw a shape into a square box, in px."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(box.topLeft())
    painter.scale(box.width() / 20, box.height() / 20)
    painter.setBrush(colour)
    painter.setPen(Qt.PenStyle.NoPen)
    _SHAPES[shape](painter, colour)
    painter.restore()


def stroke(painter: QPainter, colour: QColor, width: float) -> None:
    """Draw lines of this width from now on, with round ends and no filling."""
    pen = QPen(colour, width)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def polygon(*corners: tuple[float, float]) -> QPolygonF:
    """Return a polygon through the corners."""
    return QPolygonF([QPointF(x, y) for x, y in corners])


def _up(painter: QPainter, _: QColor) -> None:
    painter.drawPolygon(polygon((10, 2.5), (18.5, 17), (1.5, 17)))


def _down(painter: QPainter, _: QColor) -> None:
    painter.drawPolygon(polygon((10, 17.5), (18.5, 3), (1.5, 3)))


def _disc(painter: QPainter, _: QColor) -> None:
    painter.drawEllipse(QPointF(10, 10), 8, 8)


def _half(painter: QPainter, colour: QColor) -> None:
    painter.drawPie(QRectF(2, 2, 16, 16), 90 * 16, 180 * 16)
    stroke(painter, colour, 2)
    painter.drawEllipse(QPointF(10, 10), 7.5, 7.5)


def _question(painter: QPainter, colour: QColor) -> None:
    painter.drawEllipse(QPointF(10, 15), 1.3, 1.3)
    stroke(painter, colour, 2)
    painter.drawEllipse(QPointF(10, 10), 8.6, 8.6)
    hook = QPainterPath(QPointF(7.2, 8))
    hook.cubicTo(7.2, 3.6, 13, 4, 12.8, 7.8)
    hook.cubicTo(12.6, 9.8, 10, 9.6, 10, 12)
    painter.drawPath(hook)


def _check(painter: QPainter, colour: QColor) -> None:
    stroke(painter, colour, 3)
    painter.drawPolyline(polygon((3.5, 10.5), (8, 15), (16.5, 5.5)))


def _dash(painter: QPainter, colour: QColor) -> None:
    stroke(painter, colour, 3)
    painter.drawLine(QPointF(5, 10), QPointF(15, 10))


def _lock(painter: QPainter, colour: QColor) -> None:
    painter.drawRoundedRect(QRectF(3, 9, 14, 10), 1.5, 1.5)
    stroke(painter, colour, 2.2)
    shackle = QPainterPath(QPointF(6, 9))
    shackle.lineTo(6, 6)
    shackle.cubicTo(6, 0.2, 14, 0.2, 14, 6)
    shackle.lineTo(14, 9)
    painter.drawPath(shackle)


def _dot(painter: QPainter, _: QColor) -> None:
    painter.drawEllipse(QPointF(10, 10), 3.5, 3.5)


def _cross(painter: QPainter, colour: QColor) -> None:
    stroke(painter, colour, 3)
    painter.drawLine(QPointF(4.5, 4.5), QPointF(15.5, 15.5))
    painter.drawLine(QPointF(4.5, 15.5), QPointF(15.5, 4.5))


_SHAPES: dict[Shape, Callable[[QPainter, QColor], None]] = {
    Shape.UP: _up,
    Shape.DOWN: _down,
    Shape.DISC: _disc,
    Shape.HALF: _half,
    Shape.QUESTION: _question,
    Shape.CHECK: _check,
    Shape.DASH: _dash,
    Shape.LOCK: _lock,
    Shape.DOT: _dot,
    Shape.CROSS: _cross,
}


class Mark(QLabel):
    """One shape in the colour of the text; a label, so that the style sheet's roles colour it.

    :param size: width and height in px.
    """

    def __init__(self, shape: Shape, size: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shape = shape
        self.setFixedSize(size, size)
        self.setAccessibleName(tr(shape.value))

    @property
    def shape(self) -> Shape:
        """What is drawn."""
        return self._shape

    def set_shape(self, shape: Shape) -> None:
        """Draw another shape."""
        if shape is not self._shape:
            self._shape = shape
            self.setAccessibleName(tr(shape.value))
            self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the fixed size."""
        return self.size()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the shape."""
        painter = QPainter(self)
        draw(painter, self._shape, QRectF(self.rect()), self.palette().windowText().color())
        painter.end()
