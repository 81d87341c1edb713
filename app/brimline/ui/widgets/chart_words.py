"""The words on the strip chart, laid over it so that none covers the trace or another word."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from brimline.ui.tokens import FAMILY, Palette, Space, Type
from brimline.ui.widgets.chart_scale import Range, spread

TOP_ROOM = Type.SMALL + 10
"""Room in px above a panel for one line of words."""

TIME_ROOM = Type.SMALL + 14
"""Room in px below a panel for the numbers of its time axis."""


@dataclass(frozen=True)
class SideWord:
    """A word right of a panel, beside the value it belongs to."""

    value: float
    text: str
    strong: bool = False


@dataclass(frozen=True)
class TopWord:
    """A word above a panel; ``start`` and ``end`` are s of the check."""

    start: float
    end: float
    text: str
    strong: bool = False


@dataclass(frozen=True)
class Words:
    """What is written around one panel, and where the panel lies."""

    area: QRectF
    x: Range
    y: Range
    title: str = ""
    below: str = ""
    middle: str = ""
    side: Sequence[SideWord] = ()
    top: Sequence[TopWord] = ()


class WordLayer(QWidget):
    """Writes the words of all panels; lets every click through.

    :param ask: returns what is to be written, at the moment of painting, when all sizes are known.
    """

    def __init__(
        self, ask: Callable[[], Sequence[Words]], palette: Palette, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._ask = ask
        self._palette = palette
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def set_palette(self, palette: Palette) -> None:
        """Take other colours."""
        self._palette = palette
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write everything."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for words in self._ask():
            self._titles(painter, words)
            self._side(painter, words)
            self._top(painter, words)
            self._middle(painter, words)
        painter.end()

    def _titles(self, painter: QPainter, words: Words) -> None:
        """What the values are called, above; the unit of the times, right of their numbers."""
        font, colour = _font(strong=False), self._palette.soft
        left = words.area.left()  # beside the topmost number, not upon it
        above = QRectF(left, words.area.top() - TOP_ROOM, self.width() - left, TOP_ROOM)
        self._write(painter, above, words.title, colour, font)
        left = words.area.right() + Space.WIDE
        below = QRectF(left, words.area.bottom(), self.width() - left, TIME_ROOM)
        self._write(painter, below, words.below, colour, font)

    def _middle(self, painter: QPainter, words: Words) -> None:
        font = _font(strong=False, size=Type.LABEL)
        box = words.area.adjusted(Space.SMALL, 0, -Space.SMALL, 0)
        centred = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
        painter.setFont(font)
        painter.setPen(QColor(self._palette.ink))
        painter.drawText(box, centred, words.middle)

    def _side(self, painter: QPainter, words: Words) -> None:
        area, tall = words.area, Type.SMALL + 4.0
        inside = [word for word in words.side if words.y[0] <= word.value <= words.y[1]]
        wanted = [_up(word.value, words) for word in inside]
        places = spread(wanted, tall, (area.top(), area.bottom()))
        for word, at, place in zip(inside, wanted, places, strict=True):
            colour = self._palette.bad if word.strong else self._palette.ink
            painter.setPen(QColor(colour))
            painter.drawLine(
                round(area.right()), round(at), round(area.right()) + Space.SMALL, round(place)
            )
            left = area.right() + Space.SMALL + Space.HAIR
            box = QRectF(left, place - tall / 2, self.width() - left, tall)
            self._write(painter, box, word.text, colour, _font(strong=word.strong))

    def _top(self, painter: QPainter, words: Words) -> None:
        """Right of the title; strong words first; one that finds no free room is left out."""
        named = text_width(words.title) + Space.LARGE if words.title else 0.0
        taken: list[Range] = []
        for word in sorted(words.top, key=lambda word: not word.strong):
            font = _font(strong=word.strong)
            wide = QFontMetricsF(font).horizontalAdvance(word.text) + Space.SMALL
            low, high = words.area.left() + named, words.area.right() - wide
            middle = (_along(word.start, words) + _along(word.end, words)) / 2
            left = min(max(middle - wide / 2, low), high)
            if any(left < end and begin < left + wide for begin, end in taken):
                continue
            taken.append((left, left + wide))
            box = QRectF(left, words.area.top() - TOP_ROOM, wide, TOP_ROOM)
            self._write(painter, box, word.text, self._palette.ink, font, middle=True)

    def _write(
        self,
        painter: QPainter,
        box: QRectF,
        text: str,
        colour: str,
        font: QFont,
        *,
        middle: bool = False,
    ) -> None:
        painter.setFont(font)
        painter.setPen(QColor(colour))
        across = Qt.AlignmentFlag.AlignHCenter if middle else Qt.AlignmentFlag.AlignLeft
        painter.drawText(box, across | Qt.AlignmentFlag.AlignVCenter, text)


def text_width(text: str, *, strong: bool = False) -> float:
    """Return the width of a side word in px."""
    return QFontMetricsF(_font(strong=strong)).horizontalAdvance(text)


def _font(*, strong: bool, size: int = Type.SMALL) -> QFont:
    font = QFont(FAMILY)
    font.setPixelSize(size)
    font.setBold(strong)
    return font


def _up(value: float, words: Words) -> float:
    low, high = words.y
    return words.area.bottom() - (value - low) / (high - low) * words.area.height()


def _along(moment: float, words: Words) -> float:
    first, last = words.x
    share = (min(max(moment, first), last) - first) / (last - first)
    return words.area.left() + share * words.area.width()
