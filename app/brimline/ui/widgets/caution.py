"""Cautions after ANSI Z535.4: a signal word panel, and the words beside it.

The safety alert symbol stands with every word that warns of an injury and never with NOTICE.
"""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFont,
    QFontMetrics,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QBoxLayout, QFrame, QSizePolicy, QToolTip, QWidget

from brimline.translation import joined, tr
from brimline.ui.tokens import FAMILY, SIGNAL_WORDS, TOUCH, Space, Type
from brimline.ui.widgets.hazards import HAZARD_NAMES, Hazard, HazardIcon, draw_hazard
from brimline.ui.widgets.marks import set_role
from brimline.ui.words import Words

__all__ = ["HAZARD_NAMES", "CautionBox", "Hazard", "HazardIcon", "draw_alert", "draw_hazard"]

_ALERT = 24  # px
_BORDER = 2
_NO_INJURY = "NOTICE"

MOST_PART = 0.45
"""Of a caution's width its signal word takes no more, where it stands beside the words."""


class SignalPanel(QWidget):
    """The signal word on its ground, with the safety alert symbol where it belongs."""

    def __init__(self, word: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._word = word
        self.set_across(across=False)
        self.setAccessibleName(tr(word))

    @property
    def word(self) -> str:
        """The signal word, in English."""
        return self._word

    def set_word(self, word: str) -> None:
        """Show another signal word; all panels are of one width."""
        self._word = word
        self.setAccessibleName(tr(word))
        self.update()

    def set_across(self, *, across: bool) -> None:
        """Stand over the words of a caution, or beside them."""
        self._across = across
        fixed, grows = QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding
        self.setSizePolicy(*((grows, fixed) if across else (fixed, grows)))

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room for the longest signal word, so that panels below one another align."""
        metrics = QFontMetrics(_word_font("WARNING"))
        widest = max(metrics.horizontalAdvance(tr(word)) for word in SIGNAL_WORDS)
        height = _ALERT + Space.SMALL if self._across else TOUCH
        return QSize(widest + _ALERT + Space.SMALL + 2 * Space.MEDIUM, height)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the same: the word is never cut."""
        return self.sizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw ground, symbol and word."""
        look = SIGNAL_WORDS[self._word]
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(look.ground))
        font = _word_font(self._word)
        said = tr(self._word)
        wide = QFontMetrics(font).horizontalAdvance(said)
        alert = 0 if self._word == _NO_INJURY else _ALERT + Space.SMALL
        left = (self.width() - wide - alert) / 2
        if alert:
            box = QRectF(left, (self.height() - _ALERT) / 2, _ALERT, _ALERT)
            draw_alert(painter, box, QColor(look.ink), QColor(look.ground))
        painter.setFont(font)
        painter.setPen(QColor(look.ink))
        words = QRectF(left + alert, 0, wide + Space.TIGHT, self.height())
        painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, said)
        painter.end()


class CautionBox(QFrame):
    """A signal word panel with the words of a caution beside it, as high as they need.

    A caution may name a danger that changes, such as what the fluid does at its present
    temperature, and where that is from. The source stands under the words while the box is large,
    which is before a step; afterwards it is the tool tip, which the tabulator key reaches too.

    :param word: a signal word of :data:`~brimline.ui.tokens.SIGNAL_WORDS`.
    """

    def __init__(self, word: str, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._panel = SignalPanel(word)
        self._text, self._source = Words(), Words()
        self._source.setProperty("role", "small")
        self._source.hide()
        self._always = text
        self._large = self._over = False
        column = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        column.setContentsMargins(Space.MEDIUM, Space.SMALL, Space.MEDIUM, Space.SMALL)
        column.setSpacing(Space.TIGHT)
        column.addWidget(self._text)
        column.addWidget(self._source)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(_BORDER, _BORDER, _BORDER, _BORDER)
        self._row.setSpacing(0)
        self._row.addWidget(self._panel)
        self._row.addLayout(column, 1)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.set_caution(word, text)

    def set_caution(self, word: str, text: str) -> None:
        """Show another caution."""
        self._always = text
        self._panel.set_word(word)
        self._show(text)
        self.update()

    def set_danger(self, sentence: str, source: str = "") -> None:
        """Show a sentence under the caution, in place of the last one; empty: none.

        :param source: where it is from.
        """
        self._show("\n".join(part for part in (self._always, sentence) if part))
        said = source if sentence else ""
        if said != self._source.text():
            self._source.setText(said)
            self.setAccessibleDescription(said)
        self._show_source()

    def set_large(self, *, large: bool) -> None:
        """Be large, the signal word over the words, as before a step; or small, beside them."""
        if large is self._large:
            return
        self._large = large
        set_role(self._text, "heading" if large else "")
        self._show_source()
        self._place_word()
        self.updateGeometry()

    def _place_word(self) -> None:
        """Put the signal word over the words where it would leave them a ribbon beside it."""
        over = self._large or self._panel.sizeHint().width() > MOST_PART * self.width()
        if over is not self._over:
            self._over = over
            ways = QBoxLayout.Direction
            self._row.setDirection(ways.TopToBottom if over else ways.LeftToRight)
            self._panel.set_across(across=over)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Place the signal word for another width."""
        super().resizeEvent(event)
        self._place_word()

    def _show_source(self) -> None:
        said = self._source.text()
        self._source.setVisible(self._large and bool(said))
        tip = "" if self._large else said
        if tip != self.toolTip():
            self.setToolTip(tip)
        reached = Qt.FocusPolicy.TabFocus if tip else Qt.FocusPolicy.NoFocus
        self.setFocusPolicy(reached)

    def _show(self, text: str) -> None:
        if text != self._text.text():  # set anew it would be laid out anew, ten times a second
            self._text.setText(text)
        self.setAccessibleName(joined((tr(self._panel.word), text), ": "))

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Say where the danger is from to whoever came by keyboard."""
        super().focusInEvent(event)
        if self.toolTip():
            below = self.mapToGlobal(QPoint(0, self.height()))
            QToolTip.showText(below, self.toolTip(), self)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Take it away again."""
        super().focusOutEvent(event)
        QToolTip.hideText()
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the border in the ground's colour, and a frame where the keyboard is."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(SIGNAL_WORDS[self._panel.word].ground))
        inside = self.rect().adjusted(_BORDER, _BORDER, -_BORDER, -_BORDER)
        painter.fillRect(inside, self.palette().base())
        if self.hasFocus():
            painter.setPen(QPen(self.palette().text().color(), _BORDER))
            painter.drawRect(inside.adjusted(_BORDER, _BORDER, -_BORDER, -_BORDER))
        painter.end()


def draw_alert(painter: QPainter, box: QRectF, ink: QColor, ground: QColor) -> None:
    """Draw the safety alert symbol: an exclamation mark in an upright triangle."""
    painter.save()
    painter.translate(box.topLeft())
    painter.scale(box.width() / 24, box.height() / 24)
    painter.setPen(Qt.PenStyle.NoPen)
    triangle = QPainterPath(QPointF(12, 1.5))
    triangle.lineTo(23.5, 21.5)
    triangle.lineTo(0.5, 21.5)
    triangle.closeSubpath()
    painter.setBrush(ink)
    painter.drawPath(triangle)
    painter.setBrush(ground)
    bar = QPainterPath(QPointF(10.3, 8))
    bar.lineTo(13.7, 8)
    bar.lineTo(12.9, 15.2)
    bar.lineTo(11.1, 15.2)
    bar.closeSubpath()
    painter.drawPath(bar)
    painter.drawEllipse(QPointF(12, 18), 1.5, 1.5)
    painter.restore()


def _word_font(word: str) -> QFont:
    font = QFont(FAMILY)
    font.setPixelSize(Type.LABEL)
    font.setBold(True)
    font.setItalic(word == _NO_INJURY)  # the standard's way to keep it apart
    return font
