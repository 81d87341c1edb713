"""Hazard symbols, drawn here: yellow squares warn, blue discs say what to wear.

The shapes are ours and simple enough to read at 40 px; only the meaning of the colours follows
ISO 3864 (yellow with black: warning, blue with white: what must be done).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from enum import StrEnum

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent
from PySide6.QtWidgets import QWidget

from brimline.translation import marked, tr
from brimline.ui.tokens import SIGNAL_WORDS, TOUCH
from brimline.ui.widgets.marks import polygon, stroke


class Hazard(StrEnum):
    """What a symbol warns of, or tells to wear."""

    HOT_SURFACE = "hot_surface"
    MOVING_PARTS = "moving_parts"
    LIFT = "lift"
    EYE_PROTECTION = "eye_protection"
    HAND_PROTECTION = "hand_protection"
    EXHAUST = "exhaust"


HAZARD_NAMES = {
    Hazard.HOT_SURFACE: marked("Hot surface"),
    Hazard.MOVING_PARTS: marked("Moving parts"),
    Hazard.LIFT: marked("Raised load"),
    Hazard.EYE_PROTECTION: marked("Wear eye protection"),
    Hazard.HAND_PROTECTION: marked("Wear hand protection"),
    Hazard.EXHAUST: marked("Exhaust gas"),
}

_TO_WEAR = (Hazard.EYE_PROTECTION, Hazard.HAND_PROTECTION)


class HazardIcon(QWidget):
    """One hazard symbol, square; its name is the tool tip and what a screen reader says.

    :param size: width and height in px, at least 40.
    """

    def __init__(self, kind: Hazard, size: int = TOUCH, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kind = kind
        self.setFixedSize(size, size)
        self.setToolTip(tr(HAZARD_NAMES[kind]))
        self.setAccessibleName(tr(HAZARD_NAMES[kind]))

    @property
    def kind(self) -> Hazard:
        """What is shown."""
        return self._kind

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw ground and symbol."""
        painter = QPainter(self)
        draw_hazard(painter, self._kind, QRectF(self.rect()))
        painter.end()


def draw_hazard(painter: QPainter, kind: Hazard, box: QRectF) -> None:
    """Draw a symbol into a square box, in px."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(box.topLeft())
    painter.scale(box.width() / 48, box.height() / 48)
    look = SIGNAL_WORDS["NOTICE" if kind in _TO_WEAR else "CAUTION"]
    ink = QColor(look.ink)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(look.ground))
    if kind in _TO_WEAR:
        painter.drawEllipse(QRectF(0, 0, 48, 48))
    else:
        painter.drawRoundedRect(QRectF(0, 0, 48, 48), 6, 6)
    painter.setBrush(ink)
    _DRAWINGS[kind](painter, ink, QColor(look.ground))
    painter.restore()


def _hot_surface(painter: QPainter, ink: QColor, _: QColor) -> None:
    """Three waves of heat over a plate."""
    painter.drawRect(QRectF(7, 37, 34, 4.5))
    stroke(painter, ink, 3.4)
    for x in (14.0, 24.0, 34.0):
        wave = QPainterPath(QPointF(x, 31))
        wave.cubicTo(x - 6, 25, x + 6, 20, x, 14)
        wave.cubicTo(x - 2.4, 11.5, x - 1.5, 9, x, 7)
        painter.drawPath(wave)


def _moving_parts(painter: QPainter, _: QColor, ground: QColor) -> None:
    """Two gears that mesh."""
    _gear(painter, QPointF(18.5, 29.5), 12.0, ground, turned=0.0)
    _gear(painter, QPointF(34.8, 13.9), 8.2, ground, turned=math.pi / 8)


def _gear(
    painter: QPainter, centre: QPointF, radius: float, ground: QColor, *, turned: float
) -> None:
    teeth, path = 8, QPainterPath()
    for tooth in range(teeth):
        middle = turned + tooth * 2 * math.pi / teeth
        for offset, far in ((-0.27, 1.0), (-0.18, 1.3), (0.18, 1.3), (0.27, 1.0)):
            angle, reach = middle + offset, radius * far
            corner = centre + QPointF(math.cos(angle), math.sin(angle)) * reach
            if path.elementCount():
                path.lineTo(corner)
            else:
                path.moveTo(corner)
    path.closeSubpath()
    painter.drawPath(path)
    painter.save()
    painter.setBrush(ground)
    painter.drawEllipse(centre, radius * 0.42, radius * 0.42)
    painter.restore()


def _lift(painter: QPainter, ink: QColor, ground: QColor) -> None:
    """A car on the arms of a two-post lift, which may come down."""
    painter.drawRect(QRectF(4, 6, 4.5, 36))
    painter.drawRect(QRectF(39.5, 6, 4.5, 36))
    painter.drawRect(QRectF(3, 40, 9, 3))
    painter.drawRect(QRectF(36, 40, 9, 3))
    painter.drawRect(QRectF(8, 25, 32, 3))
    painter.drawPolygon(polygon((11, 20), (11, 15), (16, 14), (20, 8), (30, 8), (34, 14), (37, 15),
                                (37, 20)))  # fmt: skip
    painter.drawEllipse(QPointF(16.5, 20.5), 3.6, 3.6)
    painter.drawEllipse(QPointF(31.5, 20.5), 3.6, 3.6)
    painter.save()
    painter.setBrush(ground)
    painter.drawPolygon(polygon((19, 14), (21.4, 10), (24.4, 10), (24.4, 14)))
    painter.drawPolygon(polygon((26, 14), (26, 10), (29, 10), (31.4, 14)))
    painter.restore()
    stroke(painter, ink, 3)
    painter.drawLine(QPointF(24, 32), QPointF(24, 41))
    painter.drawPolyline(polygon((20, 37.5), (24, 41.5), (28, 37.5)))


def _eye_protection(painter: QPainter, ink: QColor, ground: QColor) -> None:
    """A face with safety glasses."""
    painter.drawEllipse(QRectF(11, 7, 26, 34))
    painter.setBrush(ground)
    painter.drawRect(QRectF(9, 19, 30, 3))
    painter.drawRoundedRect(QRectF(12.5, 17, 10.5, 9), 3.5, 3.5)
    painter.drawRoundedRect(QRectF(25, 17, 10.5, 9), 3.5, 3.5)
    painter.setBrush(ink)
    painter.drawRoundedRect(QRectF(14.6, 19, 6.3, 5), 2, 2)
    painter.drawRoundedRect(QRectF(27.1, 19, 6.3, 5), 2, 2)
    stroke(painter, ground, 2)
    painter.drawLine(QPointF(20, 34), QPointF(28, 34))


def _hand_protection(painter: QPainter, _ink: QColor, _ground: QColor) -> None:
    """A glove with its cuff."""
    for x, top in ((15.2, 13.0), (20.4, 9.5), (25.6, 10.0), (30.8, 13.5)):
        painter.drawRoundedRect(QRectF(x, top, 4.4, 20), 2.2, 2.2)
    painter.drawRect(QRectF(15.2, 22, 20, 11))
    thumb = QPainterPath(QPointF(15.2, 32))
    thumb.lineTo(8.6, 24.4)
    thumb.cubicTo(7, 21.6, 10.6, 19.6, 12.4, 21.6)
    thumb.lineTo(18, 27)
    painter.drawPath(thumb)
    painter.drawRect(QRectF(15.2, 32, 20, 3.4))
    painter.drawRoundedRect(QRectF(13.6, 37, 23.2, 4.6), 1.5, 1.5)


def _exhaust(painter: QPainter, _ink: QColor, _ground: QColor) -> None:
    """A tail pipe and the cloud that comes out of it."""
    painter.drawRoundedRect(QRectF(3, 34, 17, 7), 2, 2)
    painter.drawRect(QRectF(17, 32, 4, 11))
    cloud = ((28.0, 25.0, 5.5), (34.0, 18.5, 8.0), (26.5, 16.5, 6.5), (40.0, 23.5, 5.0))
    puffs = ((26.0, 36.0, 2.6), (33.0, 33.5, 3.2))
    for x, y, radius in (*cloud, *puffs, (34.5, 25.5, 4.5)):
        painter.drawEllipse(QPointF(x, y), radius, radius)


_DRAWINGS: dict[Hazard, Callable[[QPainter, QColor, QColor], None]] = {
    Hazard.HOT_SURFACE: _hot_surface,
    Hazard.MOVING_PARTS: _moving_parts,
    Hazard.LIFT: _lift,
    Hazard.EYE_PROTECTION: _eye_protection,
    Hazard.HAND_PROTECTION: _hand_protection,
    Hazard.EXHAUST: _exhaust,
}
