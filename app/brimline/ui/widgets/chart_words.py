"""The words on the strip chart, laid over it so that none covers the trace or another word."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QPolygonF,
)
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
class Note:
    """Words inside a panel, left of a place on it; ``at`` is in s of the check.

    :param above: whether they stand over the place or under it.
    """

    at: float
    value: float
    text: str
    above: bool


@dataclass(frozen=True)
class Beyond:
    """A value that lies beyond the upper or lower end of a panel, at ``at`` s of the check."""

    at: float
    text: str
    up: bool


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
    notes: Sequence[Note] = ()
    beyond: Beyond | None = None


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
        self._framed = False
        self._drawn = QPixmap()
        self._stale = True
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def set_palette(self, palette: Palette) -> None:
        """Take other colours."""
        self._palette = palette
        self.refresh()

    def set_framed(self, framed: bool) -> None:
        """Draw a frame around everything, which shows where the keyboard is."""
        self._framed = framed
        self.refresh()

    def refresh(self) -> None:
        """Write everything anew when it is next painted."""
        self._stale = True
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Lay what is written over the chart; the trace below moves far more often.

        The picture is kept as long as it fits: PySide 6.11 gains six references to ``None`` with
        each new one that is painted on.
        """
        ratio = self.devicePixelRatioF()
        size = (QSizeF(self.size()) * ratio).toSize()
        if self._drawn.size() != size:
            self._drawn = QPixmap(size)
            self._drawn.setDevicePixelRatio(ratio)
            self._stale = True
        if self._stale:
            self._stale = False
            self._drawn.fill(Qt.GlobalColor.transparent)
            self._write_all(self._drawn)
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._drawn)
        painter.end()

    def _write_all(self, ground: QPixmap) -> None:
        painter = QPainter(ground)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for words in self._ask():
            self._titles(painter, words)
            self._side(painter, words)
            self._top(painter, words)
            self._middle(painter, words)
            self._notes(painter, words)
        if self._framed:
            self._frame(painter)
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
        for word, box in placed_above(words):
            font = _font(strong=word.strong)
            self._write(painter, box, word.text, self._palette.ink, font, middle=True)

    def _notes(self, painter: QPainter, words: Words) -> None:
        """Upon a ground of their own, because a fan or an old trace may lie below them."""
        boxes = placed_inside(words)
        if words.beyond is not None:
            arrow, box = beyond_place(words, words.beyond)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(self._palette.ink))
            painter.drawPolygon(arrow)
            boxes = [(words.beyond.text, box), *((t, b) for t, b in boxes if not b.intersects(box))]
        for text, box in boxes:
            painter.fillRect(box, QColor(self._palette.surface))
            self._write(painter, box, text, self._palette.ink, _font(strong=False), middle=True)

    def _frame(self, painter: QPainter) -> None:
        painter.setPen(QPen(QColor(self._palette.accent), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

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


def placed_above(words: Words) -> list[tuple[TopWord, QRectF]]:
    """Return the words above a panel with their places, right of the title, none over another.

    Strong words come first and then the latest; one that finds no free room is left out, and so is
    the name of a moment that would not stand at its own moment.
    """
    named = text_width(words.title) + Space.LARGE if words.title else 0.0
    placed: list[tuple[TopWord, QRectF]] = []
    for word in sorted(words.top, key=lambda word: (not word.strong, -word.start)):
        wide = text_width(word.text, strong=word.strong) + Space.SMALL
        low, high = words.area.left() + named, words.area.right() - wide
        middle = (_along(word.start, words) + _along(word.end, words)) / 2
        left = min(max(middle - wide / 2, low), high)
        box = QRectF(left, words.area.top() - TOP_ROOM, wide, TOP_ROOM)
        moved = word.start == word.end and not left <= middle <= left + wide
        if left < low or moved or any(box.intersects(other) for _, other in placed):
            continue
        placed.append((word, box))
    return placed


def placed_inside(words: Words) -> list[tuple[str, QRectF]]:
    """Return the notes with their places: left of where they belong, where no course lies."""
    area, placed = words.area, list[tuple[str, QRectF]]()
    for note in words.notes:
        wide, tall = text_width(note.text) + Space.SMALL, Type.SMALL + 6.0
        left = min(_along(note.at, words), area.right()) - wide - Space.SMALL
        line = _up(min(max(note.value, words.y[0]), words.y[1]), words)
        top = line - tall - Space.TIGHT if note.above else line + Space.TIGHT
        top = min(max(top, area.top() + 1), area.bottom() - tall - 1)
        box = QRectF(max(left, area.left() + 1), top, wide, tall)
        if box.right() > area.right() or any(box.intersects(other) for _, other in placed):
            continue
        placed.append((note.text, box))
    return placed


def beyond_place(words: Words, beyond: Beyond) -> tuple[QPolygonF, QRectF]:
    """Return an arrow at the end of a panel and the place of the number beside it."""
    area, half, tall = words.area, Space.SMALL, Type.SMALL + 6.0
    wide = text_width(beyond.text) + Space.SMALL
    at = min(max(_along(beyond.at, words), area.left() + half), area.right() - half)
    edge, way = (area.top() + 1, 1) if beyond.up else (area.bottom() - 1, -1)
    base = edge + way * 1.5 * half
    arrow = QPolygonF([QPointF(at, edge), QPointF(at - half, base), QPointF(at + half, base)])
    left = at - half - Space.TIGHT - wide
    if left < area.left():
        left = at + half + Space.TIGHT
    return arrow, QRectF(left, edge if beyond.up else edge - tall, wide, tall)


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
