"""The target band as a bar, with a pointer where the temperature stands. Our own design.

The band takes the middle, drawn to scale. What lies outside is pressed together, so that a cold
start and a hot arrival are on it too: the sides are for “how far about”, not for reading off.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QWidget

from brimline.specsheet.model import Band
from brimline.ui.tokens import FAR, FarPalette
from brimline.ui.widgets.far_text import FarText

SIDE_PART = 0.2
"""So much of the bar is on either side of the band."""

BELOW_K, ABOVE_K = 60.0, 30.0
"""So far from the band the ends of the bar are, in K; what is farther stands at the end."""

OPEN_K = 20.0
"""So much of a band that is open at one end is drawn, in K."""

POINTER = 0.26
"""The part of the height that the pointer takes, above the bar."""


def place_on_bar(celsius: float, band: Band) -> float:
    """Return where on the bar a temperature stands: 0 left end, 1 right end.

    :param celsius: in °C.
    """
    low = band.low if band.low is not None else (band.high or 0.0) - OPEN_K
    high = band.high if band.high is not None else low + OPEN_K
    left = SIDE_PART if band.low is not None else 0.0
    right = 1 - SIDE_PART if band.high is not None else 1.0
    if celsius < low:
        return max(0.0, left * (1 - (low - celsius) / BELOW_K))
    if celsius > high:
        return min(1.0, right + (1 - right) * (celsius - high) / ABOVE_K)
    return left + (right - left) * (celsius - low) / (high - low)


class BandBar(QWidget):
    """The bar, with the band's ends written inside of it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.words = FarText(parent=self)
        self._band: Band | None = None
        self._celsius: float | None = None
        self._colours = FAR["light"]

    def show_band(self, band: Band, words: str, celsius: float | None) -> None:
        """Show a band, what it is called, and where the fluid is (°C), where that is known."""
        if (band, celsius) != (self._band, self._celsius):
            self._band, self._celsius = band, celsius
            self.update()
        self.words.show_text(words)
        self._lay_out()

    def set_colours(self, colours: FarPalette) -> None:
        """Draw in these colours."""
        self._colours = colours
        self.words.set_colours(colours.ink)
        self.update()

    def set_size(self, px: float) -> None:
        """Write the band's ends in this size of type (px), as far as they fit."""
        self.words.set_size(px)
        self._lay_out()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Lay out anew."""
        super().resizeEvent(event)
        self._lay_out()

    def _ends(self) -> tuple[float, float]:
        """Return where the band lies, as parts of the bar."""
        low_open = self._band is not None and self._band.low is None
        high_open = self._band is not None and self._band.high is None
        return (0.0 if low_open else SIDE_PART, 1.0 if high_open else 1 - SIDE_PART)

    def _bar(self) -> QRectF:
        return QRectF(self.rect()).adjusted(0, self.height() * POINTER, 0, 0)

    def _lay_out(self) -> None:
        left, right = self._ends()
        bar = self._bar()
        inside = QRectF(
            bar.left() + left * bar.width(), bar.top(), (right - left) * bar.width(), bar.height()
        )
        # Where the words stand in the middle, the pointer's stem does not reach.
        wide = min(inside.width(), self.words.advance() + 4)
        inside = QRectF(inside.center().x() - wide / 2, inside.top(), wide, inside.height())
        self.words.setGeometry(inside.toRect())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw bar, band and pointer."""
        colours, bar, (left, right) = self._colours, self._bar(), self._ends()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        edge = max(2.0, self.height() / 40)
        painter.setPen(QPen(QColor(colours.line), edge))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        inner = bar.adjusted(edge / 2, edge / 2, -edge / 2, -edge / 2)
        painter.drawRect(inner)
        band = QRectF(inner.left() + left * inner.width(), inner.top(),
                      (right - left) * inner.width(), inner.height())  # fmt: skip
        painter.fillRect(band, QColor(colours.band))
        painter.setPen(QPen(QColor(colours.band_edge), 2 * edge))
        for part, is_open in ((left, left == 0.0), (right, right == 1.0)):
            if not is_open:
                x = inner.left() + part * inner.width()
                painter.drawLine(QPointF(x, inner.top()), QPointF(x, inner.bottom()))
        if self._band is not None and self._celsius is not None:
            self._draw_pointer(painter, inner, place_on_bar(self._celsius, self._band))
        painter.end()

    def _draw_pointer(self, painter: QPainter, bar: QRectF, part: float) -> None:
        """A wedge from above; its tip stands at the temperature."""
        size = self.height() * POINTER
        x = bar.left() + part * bar.width()
        wedge = min(max(x, size * 0.7), self.width() - size * 0.7)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._colours.ink))
        tip = bar.top() + size * 0.35
        painter.drawPolygon(
            QPolygonF(
                [
                    QPointF(wedge - size * 0.7, 0),
                    QPointF(wedge + size * 0.7, 0),
                    QPointF(x, tip),
                ]
            )
        )
