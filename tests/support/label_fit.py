"""Finds text that does not fit its box: cut by the box, by a parent, or covered by a neighbour.

Measured with the font's metrics against the room that the style leaves for text, so that padding
and borders of a style sheet count. Of a button the whole frame counts, of a choice whatever may be
chosen. Text that scrolls or is shortened on purpose (a line being edited, the cells of a table) is
not judged; what is drawn by hand is not seen. Whoever leads a person through steps must show all of
them: :func:`out_of_sight` finds what a scroll area hides.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QFontMetrics, QTextDocument
from PySide6.QtGui import Qt as TextQt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QRadioButton,
    QStyle,
    QStyleOptionButton,
    QStyleOptionComboBox,
    QStyleOptionFrame,
    QWidget,
)

from brimline.ui.widgets.far_text import PITCH, FarText

_LINE_EDIT_GAP = 2  # px that Qt keeps free on either side of the text of a line edit
_SLACK = 1  # px: metrics are rounded

Text = tuple[str, QSize, QRect]
"""A text, the room it needs, and the room it has (in the widget's own coordinates)."""


def clipped_texts(widget: QWidget) -> list[str]:
    """Return a description of every visible text in ``widget`` that is cut or covered."""
    found = []
    for child in [widget, *widget.findChildren(QWidget)]:
        text = _text_of(child) if child.isVisible() else None
        if text is None:
            continue
        found += [f"{_name(child)} {text[0]!r}: {fault}" for fault in _faults(child, text)]
    return found


def out_of_sight(holder: QWidget, kind: type[QWidget] = QWidget) -> list[str]:
    """Return a description of every shown widget in ``holder`` that is not all on the screen.

    :param kind: which widgets are judged.
    """
    found = []
    for child in holder.findChildren(kind):
        seen = child.visibleRegion().boundingRect()
        if child.isVisibleTo(holder) and seen != child.rect():
            words = _words(child) or child.accessibleName()
            found.append(f"{_name(child)} {words!r}: {seen} of {child.rect()}")
    return found


def _faults(child: QWidget, text: Text) -> Iterator[str]:
    _, needs, room = text
    if needs.width() > room.width() + _SLACK:
        yield f"needs {needs.width()} px of width and has {room.width()}"
    if needs.height() > room.height() + _SLACK:
        yield f"needs {needs.height()} px of height and has {room.height()}"
    box = _placed(child, needs, room)
    cutter = _cut_by(child, child.rect() if isinstance(child, QPushButton) else box)
    if cutter is not None:
        yield f"is cut off by its {_name(cutter)}"
    for other in _covering(child, box):
        yield f"overlaps {_name(other)} {_words(other)!r}"


def _text_of(child: QWidget) -> Text | None:
    """Return what a widget says and the room for it, or ``None`` where it says nothing."""
    measure: tuple[tuple[type[QWidget], Callable[..., Text]], ...] = (
        (QLabel, _label),
        (QCheckBox, _ticked),
        (QRadioButton, _ticked),
        (QPushButton, _button),
        (QComboBox, _combo),
        (QLineEdit, _placeholder),
    )
    if not _words(child):
        return None
    return next((of(child) for kind, of in measure if isinstance(child, kind)), None)


def _words(child: QWidget) -> str:
    if isinstance(child, QLabel | QAbstractButton):
        return child.text()
    if isinstance(child, QComboBox):
        return child.currentText()
    if isinstance(child, QLineEdit):
        return "" if child.text() else child.placeholderText()
    return ""


def _label(label: QLabel) -> Text:
    if isinstance(label, FarText):
        return _tight(label)
    gap = label.margin()
    room = label.contentsRect().adjusted(gap, gap, -gap, -gap)
    indent = max(0, label.indent())
    if indent and label.alignment() & Qt.AlignmentFlag.AlignLeft:
        room.adjust(indent, 0, 0, 0)
    rich = label.textFormat() is Qt.TextFormat.RichText or (
        label.textFormat() is Qt.TextFormat.AutoText and TextQt.mightBeRichText(label.text())
    )
    needs = _rich if rich else _plain
    return label.text(), needs(label, room), room


def _tight(label: FarText) -> Text:
    """Measure lines that stand closer than Qt's own, wrapped where the label wraps them."""
    room, metrics = label.room(), QFontMetrics(label.face())
    wide = max(metrics.horizontalAdvance(line) for line in label.lines)
    tall = math.floor(len(label.lines) * label.px * PITCH)
    assert " ".join(label.lines).split() == label.text().split()
    return label.text(), QSize(wide, tall), room


def _plain(label: QLabel, room: QRect) -> QSize:
    flags = int(Qt.TextFlag.TextExpandTabs)
    if label.wordWrap():
        flags |= int(Qt.TextFlag.TextWordWrap)
    tall = QRect(0, 0, max(1, room.width()) if label.wordWrap() else 1 << 16, 1 << 16)
    return label.fontMetrics().boundingRect(tall, flags, label.text()).size()


def _rich(label: QLabel, room: QRect) -> QSize:
    document = QTextDocument()
    document.setDocumentMargin(0)
    document.setDefaultFont(label.font())
    document.setHtml(label.text())
    if label.wordWrap():
        document.setTextWidth(room.width())
    size = document.size()
    return QSize(math.ceil(document.idealWidth()), math.ceil(size.height()))


def _button(button: QPushButton) -> Text:
    option = QStyleOptionButton()
    button.initStyleOption(option)
    inside = QStyle.SubElement.SE_PushButtonContents
    room = button.style().subElementRect(inside, option, button)
    needs = _line(button.fontMetrics(), button.text())
    if not button.icon().isNull():
        needs += QSize(button.iconSize().width() + 4, 0)
    return button.text(), needs, room


def _ticked(button: QCheckBox | QRadioButton) -> Text:
    option = QStyleOptionButton()
    button.initStyleOption(option)
    elements = QStyle.SubElement
    box = elements.SE_CheckBoxContents
    if isinstance(button, QRadioButton):
        box = elements.SE_RadioButtonContents
    room = button.style().subElementRect(box, option, button).intersected(button.rect())
    return button.text(), _line(button.fontMetrics(), button.text()), room


def _combo(combo: QComboBox) -> Text:
    option = QStyleOptionComboBox()
    combo.initStyleOption(option)
    field = QStyle.SubControl.SC_ComboBoxEditField
    room = combo.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, field, combo)
    texts = [combo.itemText(at) for at in range(combo.count())]
    widest = max(texts, key=lambda text: _line(combo.fontMetrics(), text).width())
    return widest, _line(combo.fontMetrics(), widest), room


def _placeholder(edit: QLineEdit) -> Text:
    option = QStyleOptionFrame()
    edit.initStyleOption(option)
    inside = QStyle.SubElement.SE_LineEditContents
    room = edit.style().subElementRect(inside, option, edit).marginsRemoved(edit.textMargins())
    room.adjust(_LINE_EDIT_GAP, 0, -_LINE_EDIT_GAP, 0)
    return edit.placeholderText(), _line(edit.fontMetrics(), edit.placeholderText()), room


def _line(metrics: QFontMetrics, text: str) -> QSize:
    """Return the size of a line in which ``&`` marks a key."""
    shown = text.replace("&&", "\0").replace("&", "").replace("\0", "&")
    return QSize(metrics.horizontalAdvance(shown), metrics.height())


def _placed(child: QWidget, needs: QSize, room: QRect) -> QRect:
    """Return where the text lies in its room, by the widget's alignment."""
    start = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
    alignment = child.alignment() if isinstance(child, QLabel | QLineEdit) else start
    if isinstance(child, QPushButton):
        alignment = Qt.AlignmentFlag.AlignCenter
    size = needs.boundedTo(room.size())
    return QStyle.alignedRect(child.layoutDirection(), alignment, size, room)


def _cut_by(child: QWidget, box: QRect) -> QWidget | None:
    """Return the widget beyond whose edge the text reaches; what can be scrolled to is not cut."""
    at = child
    while not at.isWindow() and not box.isEmpty():
        parent = at.parentWidget()
        if parent is None:
            return None
        box = QRect(at.mapTo(parent, box.topLeft()), box.size())
        area = parent.parentWidget()
        scrolls = isinstance(area, QAbstractScrollArea) and area.viewport() is parent
        room = _reachable(area, parent.rect()) if scrolls else parent.rect()
        if not room.adjusted(-_SLACK, -_SLACK, _SLACK, _SLACK).contains(box):
            return parent
        if scrolls:
            box = box.intersected(parent.rect())  # the rest is hidden until it is scrolled to
        at = parent
    return None


def _reachable(area: QWidget | None, room: QRect) -> QRect:
    """Return what a person may see by scrolling, in the viewport's coordinates."""
    if not isinstance(area, QAbstractScrollArea):
        return room
    across, down = area.horizontalScrollBar(), area.verticalScrollBar()
    off = Qt.ScrollBarPolicy.ScrollBarAlwaysOff
    wide, tall = (
        (bar.value(), bar.maximum() - bar.value()) if policy is not off else (0, 0)
        for bar, policy in (
            (across, area.horizontalScrollBarPolicy()),
            (down, area.verticalScrollBarPolicy()),
        )
    )
    return room.adjusted(-wide[0], -tall[0], wide[1], tall[1])


def _covering(child: QWidget, box: QRect) -> Iterator[QWidget]:
    """Yield the siblings that lie on a text, and those whose own text this one lies on.

    A sibling that lets every click through is an overlay that draws where there is room.
    """
    parent = child.parentWidget()
    if parent is None or child.isWindow():
        return
    ours = QRect(child.mapTo(parent, QPoint(0, 0)) + box.topLeft(), box.size())
    above = False
    for other in parent.children():
        if other is child:
            above = True
            continue
        if not isinstance(other, QWidget) or other.isWindow() or not other.isVisible():
            continue
        if other.testAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents):
            continue
        text = _text_of(other)
        if above:
            theirs = other.geometry()
        elif text is not None:
            theirs = _placed(other, text[1], text[2]).translated(other.pos())
        else:
            continue
        if theirs.adjusted(_SLACK, _SLACK, -_SLACK, -_SLACK).intersects(ours):
            yield other


def _name(widget: QWidget) -> str:
    kind = type(widget).__name__
    return f"{kind} “{widget.objectName()}”" if widget.objectName() else kind
