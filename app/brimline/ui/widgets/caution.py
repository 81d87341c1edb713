"""Cautions after ANSI Z535.4: a signal word panel, and the words beside it.

The safety alert symbol stands with every word that warns of an injury and never with NOTICE.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPainterPath, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QWidget

from brimline.ui.tokens import FAMILY, SIGNAL_WORDS, TOUCH, Space, Type
from brimline.ui.widgets.hazards import HAZARD_NAMES, Hazard, HazardIcon, draw_hazard

__all__ = ["HAZARD_NAMES", "CautionBox", "Hazard", "HazardIcon", "draw_alert", "draw_hazard"]

_ALERT = 24  # px
_BORDER = 2
_NO_INJURY = "NOTICE"


class SignalPanel(QWidget):
    """The signal word on its ground, with the safety alert symbol where it belongs."""

    def __init__(self, word: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._word = word
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(word)

    @property
    def word(self) -> str:
        """The signal word."""
        return self._word

    def set_word(self, word: str) -> None:
        """Show another signal word; all panels are of one width."""
        self._word = word
        self.setAccessibleName(word)
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room for the longest signal word, so that panels below one another align."""
        metrics = QFontMetrics(_word_font("WARNING"))
        widest = max(metrics.horizontalAdvance(word) for word in SIGNAL_WORDS)
        return QSize(widest + _ALERT + Space.SMALL + 2 * Space.MEDIUM, TOUCH)

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
        wide = QFontMetrics(font).horizontalAdvance(self._word)
        alert = 0 if self._word == _NO_INJURY else _ALERT + Space.SMALL
        left = (self.width() - wide - alert) / 2
        if alert:
            box = QRectF(left, (self.height() - _ALERT) / 2, _ALERT, _ALERT)
            draw_alert(painter, box, QColor(look.ink), QColor(look.ground))
        painter.setFont(font)
        painter.setPen(QColor(look.ink))
        words = QRectF(left + alert, 0, wide + Space.TIGHT, self.height())
        painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, self._word)
        painter.end()


class CautionBox(QFrame):
    """A signal word panel with the words of a caution beside it, as high as they need.

    A caution may name a danger that changes, such as what the fluid does at its present
    temperature, and where that is from; the latter is the tool tip.

    :param word: a signal word of :data:`~brimline.ui.tokens.SIGNAL_WORDS`.
    """

    def __init__(self, word: str, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._panel = SignalPanel(word)
        self._text = QLabel()
        self._always = text
        self._text.setWordWrap(True)
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        self._text.setContentsMargins(Space.MEDIUM, Space.SMALL, Space.MEDIUM, Space.SMALL)
        row = QHBoxLayout(self)
        row.setContentsMargins(_BORDER, _BORDER, _BORDER, _BORDER)
        row.setSpacing(0)
        row.addWidget(self._panel)
        row.addWidget(self._text, 1)
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
        self.setToolTip(source if sentence else "")

    def _show(self, text: str) -> None:
        if text != self._text.text():  # set anew it would be laid out anew, ten times a second
            self._text.setText(text)
        self.setAccessibleName(f"{self._panel.word}: {text}")

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the border in the ground's colour."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(SIGNAL_WORDS[self._panel.word].ground))
        inside = self.rect().adjusted(_BORDER, _BORDER, -_BORDER, -_BORDER)
        painter.fillRect(inside, self.palette().base())
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
