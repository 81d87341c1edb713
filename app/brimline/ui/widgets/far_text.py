"""Text that is as large as its place allows, up to a size: for what is read from far away.

Lines stand closer than in a label, whose leading would cost a third of the height.
"""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QLabel, QWidget

from brimline.ui.legibility import CAP_HEIGHT
from brimline.ui.tokens import FAMILY
from brimline.ui.words import TIE, tied

PITCH = 1.2
"""From one line to the next, as a part of the size of type: accents above and tails below fit."""
_LEAST_PX = 6
_ABOVE = 0.23
"""Room for accents over a capital letter, as a part of the size of type."""


class FarText(QLabel):
    """A few words, wrapped into at most so many lines, on a plate where they have one.

    :param bold: the weight of its type.
    """

    def __init__(self, *, bold: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self._bold = bold
        self._wanted, self._lines_allowed = 15.0, 1
        self._ink, self._plate, self._edge = QColor("black"), QColor(), QColor()
        self._part = 0.0
        self.px = 15.0
        """The size of type in px as it is written."""
        self.lines: list[str] = []

    def set_size(self, px: float, lines: int = 1) -> None:
        """Write as large as this (px), or as fits, in at most so many lines."""
        if (px, lines) != (self._wanted, self._lines_allowed):
            self._wanted, self._lines_allowed = px, lines
            self._fit()

    def set_colours(self, ink: str, plate: str = "", edge: str = "") -> None:
        """Write in a colour, on a plate, with an edge; an empty one is left out."""
        new = (QColor(ink), QColor(plate or None), QColor(edge or None))
        if new != (self._ink, self._plate, self._edge):
            self._ink, self._plate, self._edge = new
            self.update()

    def show_text(self, text: str) -> None:
        """Show a text."""
        if text != self.text():
            self.setText(text)
            self.setAccessibleName(text)
            self._fit()

    def set_part(self, part: float) -> None:
        """Show how much of something has gone by, 0 to 1, as a bar in place of the words."""
        if part != self._part:
            self._part = part
            self.update()

    def face(self) -> QFont:
        """Return the type as it is written."""
        return _face(self.px, bold=self._bold)

    def room(self) -> QRect:
        """Return the room for words."""
        sides = round(self._wanted * 0.22) if self._on_plate else 0
        return self.rect().adjusted(sides, 0, -sides, 0)

    @property
    def _on_plate(self) -> bool:
        return self._plate.isValid() or self._edge.isValid()

    def needs(self) -> float:
        """Return the height in px that the words take."""
        return len(self.lines) * self.px * PITCH

    def advance(self) -> int:
        """Return the width in px that the words would take in one line, in the size wanted."""
        return round(
            QFontMetricsF(_face(self._wanted, bold=self._bold)).horizontalAdvance(self.text())
        )

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Fit the words into their new place."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        room = self.room()
        self.px, self.lines = fitted(
            self.text(), self._wanted, (room.width(), room.height()), self._lines_allowed,
            bold=self._bold,
        )  # fmt: skip
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the plate, and the words in the middle of its height, or the bar."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._on_plate and self.text():
            self._draw_plate(painter)
        if self._part > 0:
            self._draw_bar(painter)
            painter.end()
            return
        room = QRectF(self.room())
        painter.setFont(self.face())
        painter.setPen(self._ink)
        first = self._first_baseline(room)
        for number, line in enumerate(self.lines):
            painter.drawText(QPointF(room.left(), first + self.px * PITCH * number), line)
        painter.end()

    def _first_baseline(self, room: QRectF) -> float:
        """Return how far down (px) the first line stands.

        On a plate the letters themselves are in the middle: an accent over a capital one, or a
        tail, would else touch the edge where the other side has room.
        """
        if not self._on_plate:
            top = room.top() + (room.height() - self.needs()) / 2
            return top + self.px * (_ABOVE + CAP_HEIGHT)
        metrics = QFontMetricsF(self.face())
        above = -metrics.tightBoundingRect(self.lines[0]).top()
        below = metrics.tightBoundingRect(self.lines[-1]).bottom()
        height = above + (len(self.lines) - 1) * self.px * PITCH + below
        return room.top() + (room.height() - height) / 2 + above

    def _draw_bar(self, painter: QPainter) -> None:
        whole = QRectF(self.rect()).adjusted(0, self.height() * 0.2, 0, -self.height() * 0.2)
        painter.setPen(QPen(self._ink, 2))
        painter.drawRect(whole.adjusted(1, 1, -1, -1))
        whole.setWidth(whole.width() * self._part)
        painter.fillRect(whole, self._ink)

    def _draw_plate(self, painter: QPainter) -> None:
        width = max(2.0, self._wanted * 0.04) if self._edge.isValid() else 0.0
        gap = self._wanted * 0.04 + width / 2
        pen = QPen(self._edge, width) if width else QPen(Qt.PenStyle.NoPen)
        painter.setPen(pen)
        painter.setBrush(self._plate if self._plate.isValid() else Qt.BrushStyle.NoBrush)
        corner = self._wanted * 0.12
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(gap, gap, -gap, -gap), corner, corner)


def _face(px: float, *, bold: bool) -> QFont:
    font = QFont(FAMILY)
    font.setPixelSize(max(_LEAST_PX, int(px)))
    font.setBold(bold)
    return font


@lru_cache(maxsize=512)
def fitted(
    text: str, px: float, room: tuple[int, int], most: int, *, bold: bool
) -> tuple[float, list[str]]:
    """Return the size of type in whole px, at most ``px``, at which words fit, and their lines.

    :param room: width and height in px.
    :param most: so many lines.
    """
    size = max(_LEAST_PX, int(px))
    while True:
        lines = _wrapped(text, QFontMetricsF(_face(size, bold=bold)), room[0])
        fits = lines is not None and len(lines) <= most and len(lines) * size * PITCH <= room[1]
        if fits or size <= _LEAST_PX:
            return float(size), lines or [text]
        size -= 1


def _wrapped(text: str, metrics: QFontMetricsF, width: float) -> list[str] | None:
    """Return the lines of a text; ``None`` where a word is wider than there is room."""
    lines: list[str] = []
    for paragraph in tied(text).split("\n"):
        line = ""
        for word in paragraph.split(" "):
            longer = f"{line} {word}" if line else word
            if metrics.horizontalAdvance(longer) <= width:
                line = longer
            elif metrics.horizontalAdvance(word) > width:
                return None
            else:
                lines.append(line)
                line = word
        lines.append(line)
    return [line.replace(TIE, " ") for line in lines]
