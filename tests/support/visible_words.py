"""Finds what a window says that did not go through translation.

Under a pseudo language every sentence stands in brackets, and the values of its fields outside of
them. What is then found outside of brackets may be numbers with their units, names and other data,
and punctuation; anything else was never looked up.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from xml.etree import ElementTree as ET

import pyqtgraph as pg
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QAction, QPainter, QTextDocumentFragment
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSpinBox,
    QComboBox,
    QGraphicsView,
    QGroupBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QProgressBar,
    QTabBar,
    QTextEdit,
    QWidget,
)

from brimline import paths, translation

OPEN, CLOSE = "⟦", "⟧"
_FIELD = re.compile(r"(\{[^{}]*\})")
_BRACKETED = re.compile(f"{OPEN}[^{OPEN}{CLOSE}]*{CLOSE}")
_WORD = re.compile(r"(?<![\w])[^\W\d_]+(?:[-'’·./][^\W\d_]+)*")

UNITS = frozenset((
    "C", "F", "K", "L", "mL", "qt", "US", "N·m", "in·lbf", "lbf·ft", "ft·lbf", "km", "mi", "mm",
    "m", "rpm", "s", "min", "h", "bit/s", "kbit/s", "kB", "MB", "GB", "mm²/s", "UTC",
))  # fmt: skip
"""Symbols that are the same in every language; “°” and “%” are no letters."""


def pseudo(text: str) -> str:
    """Return an English sentence as the pseudo language has it."""
    return OPEN + _FIELD.sub(rf"{CLOSE}\1{OPEN}", text) + CLOSE


@contextmanager
def pseudo_language() -> Iterator[None]:
    """Have everything in the catalogue said in the pseudo language meanwhile."""
    file = paths.resources() / "translations" / "brimline_es.ts"
    known = {each.text for each in ET.parse(file).getroot().iter("source")}
    translation.speak(lambda text: pseudo(text) if text in known else "")
    try:
        yield
    finally:
        translation.speak(None)


def escaped(text: str, data: Iterable[str] = ()) -> list[str]:
    """Return the words of a text that are neither translated, nor units, nor data.

    :param data: names and whatever else people or vehicles say, as a whole.
    """
    rest = text
    while (fewer := _BRACKETED.sub(" ", rest)) != rest:
        rest = fewer
    for known in sorted(filter(None, data), key=len, reverse=True):
        rest = re.sub(rf"(?<!\w){re.escape(known)}(?!\w)", " ", rest)
    return [word for word in _WORD.findall(rest) if word not in UNITS]


class Words:
    """Every text that was seen in a window, by the module of the widget that shows it."""

    def __init__(self) -> None:
        self.seen: dict[str, Counter[str]] = {}

    def look(self, window: QWidget) -> None:
        """Take down what the window and everything in it says, shown or not."""
        for widget in (window, *window.findChildren(QWidget)):
            if widget.isWindow() and type(widget).__module__.startswith("pyqtgraph"):
                continue  # dialogues of the chart library, which nothing opens
            for text in _texts(widget):
                self._take(widget, text)
        for action in window.findChildren(QAction):
            if isinstance(action.parent(), QWidget):  # the chart library has others, never shown
                self._take(window, action.text())
                self._take(window, action.toolTip())
        self._take_drawn(window)

    def escapes(self, data: Iterable[str]) -> dict[str, list[str]]:
        """Return the texts that escaped translation, by module."""
        known = tuple(data)
        return {
            module: bad
            for module, texts in sorted(self.seen.items())
            if (bad := sorted(text for text in texts if escaped(text, known)))
        }

    def _take(self, widget: QWidget, text: str) -> None:
        if text.strip():
            self.seen.setdefault(_module(widget), Counter())[_plain(text)] += 1

    def _take_drawn(self, window: QWidget) -> None:
        """Take down what widgets paint themselves."""
        with _drawn() as texts:
            window.grab()
        lines: dict[int, list[str]] = {}  # a sentence that is painted line by line is one
        for painter, text in texts:
            lines.setdefault(id(painter), []).append(text)
        painters = {id(painter): painter for painter, _ in texts}
        for key, parts in lines.items():
            painter = painters[key]
            self._take(painter if isinstance(painter, QWidget) else window, " ".join(parts))


def _module(widget: QWidget) -> str:
    """Name the screen that a widget is part of, by its module; outside of one, its own module."""
    ours = []
    found: object = widget
    while isinstance(found, QWidget):
        if type(found).__module__.startswith("brimline."):
            ours.append(type(found).__module__)
        found = found.parentWidget()
    screens = (module for module in ours if ".screens." in module)
    return next(screens, ours[-1] if ours else type(widget).__module__)


def _plain(text: str) -> str:
    """Return a text without the mnemonic sign and without markup."""
    plain = QTextDocumentFragment.fromHtml(text).toPlainText() if "</" in text else text
    return plain.replace("&&", "\0").replace("&", "").replace("\0", "&")


def _texts(widget: QWidget) -> Iterator[str]:
    yield from (
        widget.toolTip(), widget.statusTip(), widget.whatsThis(), widget.windowTitle(),
        widget.accessibleName(), widget.accessibleDescription(),
    )  # fmt: skip
    for kind, read in _READERS:
        if isinstance(widget, kind):
            yield from read(widget)


def _combo(box: QComboBox) -> Iterator[str]:
    yield box.placeholderText()
    for i in range(box.count()):
        yield box.itemText(i)
        yield str(box.itemData(i, Qt.ItemDataRole.ToolTipRole) or "")


def _view(view: QAbstractItemView) -> Iterator[str]:
    model = view.model()
    if isinstance(view, QHeaderView) or model is None:
        return
    if isinstance(view.parentWidget(), QComboBox):
        return  # the list that opens below it
    roles = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole,
             Qt.ItemDataRole.AccessibleTextRole)  # fmt: skip
    for role in roles:
        for column in range(model.columnCount(QModelIndex())):
            yield str(model.headerData(column, Qt.Orientation.Horizontal, role) or "")
            for row in range(model.rowCount(QModelIndex())):
                yield str(model.data(model.index(row, column), role) or "")


def _chart(view: QGraphicsView) -> Iterator[str]:
    for item in view.scene().items() if view.scene() is not None else ():
        yield item.toolTip()
        if isinstance(item, pg.TextItem):
            yield item.toPlainText()
        elif isinstance(item, pg.LabelItem):
            yield item.text
        elif isinstance(item, pg.AxisItem) and item.isVisible():
            yield item.labelString() if item.label.isVisible() else ""
            low, high = sorted(item.range)
            for spacing, values in item.tickValues(low, high, max(item.width(), item.height())):
                yield from item.tickStrings(values, item.scale, spacing)


def _readable(field: QLineEdit) -> Iterator[str]:
    yield field.placeholderText()
    if field.isReadOnly():
        yield field.text()


_READERS: tuple[tuple[type[QWidget], Callable[..., Iterable[str]]], ...] = (
    (QLabel, lambda w: (w.text(),)),
    (QAbstractButton, lambda w: (w.text(),)),
    (QComboBox, _combo),
    (QLineEdit, _readable),
    (QPlainTextEdit, lambda w: (w.placeholderText(), w.toPlainText() if w.isReadOnly() else "")),
    (QTextEdit, lambda w: (w.placeholderText(), w.toPlainText() if w.isReadOnly() else "")),
    (QGroupBox, lambda w: (w.title(),)),
    (QTabBar, lambda w: [s for i in range(w.count()) for s in (w.tabText(i), w.tabToolTip(i))]),
    (QProgressBar, lambda w: (w.text(),) if w.isTextVisible() else ()),
    (QAbstractSpinBox, lambda w: (w.specialValueText(), w.text())),
    (QAbstractItemView, _view),
    (QGraphicsView, _chart),
)


@contextmanager
def _drawn() -> Iterator[list[tuple[object, str]]]:
    """Collect what is painted meanwhile by code of ours, each with the object that paints it."""
    texts: list[tuple[object, str]] = []
    real = QPainter.drawText

    def draw(self: QPainter, *where: object) -> object:
        caller = sys._getframe(1).f_locals.get("self")
        texts.extend((caller, each) for each in where if isinstance(each, str))
        return real(self, *where)  # type: ignore[call-overload] # whichever form was called

    QPainter.drawText = draw  # type: ignore[method-assign, assignment] # every painter's
    try:
        yield texts
    finally:
        QPainter.drawText = real  # type: ignore[method-assign]
