"""Small parts that every form is made of: labels, buttons, fields with units, item buttons."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from enum import StrEnum
from functools import partial
from typing import TypeVar

from PySide6.QtCore import QPoint, QSize, Qt, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QFormLayout,
    QFrame,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QRadioButton,
    QScrollArea,
    QStyle,
    QStyleOptionButton,
    QTableWidget,
    QVBoxLayout,
    QWidget,
)

from brimline.errors import UnitError
from brimline.translation import capitalised, tr
from brimline.ui.hands.number_pad import PadField
from brimline.ui.hints import hint, such_as, written
from brimline.ui.tokens import TOUCH, Space
from brimline.ui.words import Words
from brimline.units import Dimension, UnitSystem, parse

LABEL_PX = 26
"""Qt puts no label lower than 7/4 of its height: so that it stands in the middle of its field."""

Word = TypeVar("Word", bound=StrEnum)


def label(text: str, role: str = "") -> QLabel:
    """Return a wrapping label; ``role`` is a kind of text of the style sheet."""
    made = Words(text)
    if role:
        made.setProperty("role", role)
    return made


def button(text: str, pressed: Callable[[], object], role: str = "") -> QPushButton:
    """Return a button that can be reached by keyboard."""
    made = QPushButton(text)
    made.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    made.setAutoDefault(True)
    if role:
        made.setProperty("role", role)
    made.clicked.connect(lambda _checked=False: pressed())
    return made


def main_tap(made: QPushButton) -> QPushButton:
    """Make a button as high as what a check is worked with, see :mod:`.ui.touch`."""
    made.setProperty("tap", "main")
    return made


def keep_place(made: QWidget) -> None:
    """Let a widget keep its place while it is hidden: its coming and going moves nothing."""
    policy = made.sizePolicy()
    policy.setRetainSizeWhenHidden(True)
    made.setSizePolicy(policy)


def panel(*children: QWidget) -> QFrame:
    """Return a framed column of widgets."""
    frame = QFrame()
    frame.setProperty("role", "panel")
    column = QVBoxLayout(frame)
    column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
    column.setSpacing(Space.SMALL)
    for child in children:
        column.addWidget(child)
    return frame


def form(*rows: tuple[str, QWidget]) -> QWidget:
    """Return fields under each other, each with its label."""
    holder = QWidget()
    layout = QFormLayout(holder)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setHorizontalSpacing(Space.MEDIUM)
    layout.setVerticalSpacing(Space.SMALL)
    layout.setLabelAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    layout.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
    layout.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
    for text, field in rows:
        named = QLabel(text)
        named.setBuddy(field)
        named.setMinimumHeight(LABEL_PX)
        field.setAccessibleName(text)
        layout.addRow(named, field)
    return holder


def scrolled(*children: QWidget) -> QScrollArea:
    """Return a column of widgets that scrolls where there is too little room."""
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.setContentsMargins(0, 0, Space.SMALL, 0)
    column.setSpacing(Space.SMALL)
    for child in children:
        column.addWidget(child)
    column.addStretch(1)
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setWidget(holder)
    return area


def table(columns: Sequence[str], *, stretched: int | None = None) -> QTableWidget:
    """Return a table of which one row can be chosen; nothing in it can be changed.

    :param stretched: number of the column that takes the room left over, instead of the last
        one, and is written on more lines where there is too little: for a table of few rows.
    """
    made = QTableWidget(0, len(columns))
    made.setHorizontalHeaderLabels(list(columns))
    made.verticalHeader().hide()
    made.verticalHeader().setDefaultSectionSize(TOUCH)
    made.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    made.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    made.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    made.setTabKeyNavigation(False)
    made.setShowGrid(False)
    header = made.horizontalHeader()
    header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    if stretched is None:
        header.setStretchLastSection(True)
    else:
        header.setSectionResizeMode(stretched, QHeaderView.ResizeMode.Stretch)
        made.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        made.verticalHeader().setMinimumSectionSize(TOUCH)
        header.sectionResized.connect(made.resizeRowsToContents)
    header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    return made


class TextBox(QPlainTextEdit):
    """A field of several lines: Enter ends it, Shift+Enter begins another line."""

    returnPressed = Signal()  # noqa: N815 - as other fields have it

    def __init__(self) -> None:
        super().__init__()
        self.setTabChangesFocus(True)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take Enter; all others are typed."""
        ends = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if ends and not event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self.returnPressed.emit()
        else:
            super().keyPressEvent(event)


def enter_sends(send: QPushButton, *fields: QLineEdit | TextBox) -> None:
    """Let Enter lead from a field to the next one, and press a button from the last one.

    Fields that are hidden or cannot be used are passed over, and such a button is not pressed.
    """
    for at, field in enumerate(fields):
        later = fields[at + 1 :]
        field.returnPressed.connect(lambda field=field, later=later: _go_on(send, field, later))
        if isinstance(field, PadField):
            field.onward = partial(_onward, send, field, later)


def _onward(send: QPushButton, field: QWidget, later: Sequence[QWidget]) -> QWidget | None:
    """Return where Enter leads from a field: to another one, to the button, or nowhere."""
    for other in later:
        if other.isVisible() and other.isEnabled():
            return other
    return send if field.isVisible() and send.isVisible() and send.isEnabled() else None


def _go_on(send: QPushButton, field: QWidget, later: Sequence[QWidget]) -> None:
    leads = _onward(send, field, later)
    if leads is send:
        send.click()
    elif leads is not None:
        leads.setFocus(Qt.FocusReason.TabFocusReason)


def on_edit(holder: QWidget, edited: Callable[[], object]) -> None:
    """Do something whenever a field inside a holder holds something else than before."""
    for line in holder.findChildren(QLineEdit):
        line.textChanged.connect(lambda _: edited())
    for box in holder.findChildren(QPlainTextEdit):
        box.textChanged.connect(edited)
    for choice in holder.findChildren(QComboBox):
        choice.currentIndexChanged.connect(lambda _: edited())
    for kind in (QCheckBox, QRadioButton):
        for tick in holder.findChildren(kind):
            tick.toggled.connect(lambda _: edited())


class QuantityField(PadField):
    """A field for a number with its unit; a bare number is taken in the unit shown.

    :param example: in the inside unit, shown in the empty field in the units chosen; may be none.
    """

    def __init__(self, dimension: Dimension, units: UnitSystem, example: float | None) -> None:
        super().__init__()
        self._dimension = dimension
        self._symbol = units.symbol(dimension)
        if example is not None:
            hint(self, such_as(written(example, dimension, units)))

    @property
    def symbol(self) -> str:
        """The unit that a bare number is taken in, as it is shown."""
        return tr(self._symbol)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return a size with room for the example; beside too long a label the row is wrapped."""
        size = super().minimumSizeHint()
        text = self.fontMetrics().horizontalAdvance(self.placeholderText())
        return QSize(size.width() + text, size.height())

    def quantity(self) -> float | None:
        """Return the value in the inside unit, ``None`` where nothing is typed.

        :raises UnitError: what is typed is no such quantity.
        """
        typed = self.text().strip()
        if re.search(r",\d{3}(\D|$)", typed):
            raise UnitError(
                tr(
                    "{name}: “{typed}” may mean two things; write it without a comma.",
                    name=self.accessibleName(),
                    typed=typed,
                )
            )
        typed = typed.replace(",", ".").replace(self.symbol, self._symbol)
        try:
            return parse(typed, self._dimension, assume=self._symbol) if typed else None
        except UnitError as error:
            raise UnitError(
                tr("{name}: {fault}.", name=self.accessibleName(), fault=error.sentence)
            ) from error

    def needed(self) -> float:
        """Return the value in the inside unit.

        :raises UnitError: nothing is typed, or no such quantity.
        """
        value = self.quantity()
        if value is None:
            raise UnitError(tr("{name} is missing.", name=self.accessibleName()))
        return value


class Choice(QComboBox):
    """A choice that is as wide as there is room, not as its longest word."""

    def __init__(self, words: Iterable[str] = ()) -> None:
        super().__init__()
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(10)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.addItems(list(words))

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """A wheel that scrolls the page must not change an answer on its way."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw an arrow of our own: a styled box has none without a picture file."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().text().color(), 2))
        x, y = self.width() - 18, self.height() // 2
        painter.drawPolyline([QPoint(x - 5, y - 2), QPoint(x, y + 3), QPoint(x + 5, y - 2)])
        painter.end()


class TickBox(QCheckBox):
    """A box to tick, with a tick of our own: a styled one is only filled without a picture file."""

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the tick over the filled box."""
        super().paintEvent(event)
        if not self.isChecked():
            return
        option = QStyleOptionButton()
        self.initStyleOption(option)
        place = QStyle.SubElement.SE_CheckBoxIndicator
        box = self.style().subElementRect(place, option, self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().highlightedText().color(), 2.5))
        x, y = box.center().x(), box.center().y()
        painter.drawPolyline([QPoint(x - 4, y), QPoint(x - 1, y + 4), QPoint(x + 5, y - 4)])
        painter.end()


class WordBox(Choice):
    """A choice among the words of an enumeration, in plain language."""

    def __init__(self, words: dict[Word, str]) -> None:
        super().__init__()
        self.addItem(tr("choose…"), None)
        for word, text in words.items():
            self.addItem(capitalised(tr(text)), word)

    def choose(self, word: StrEnum) -> None:
        """Choose one."""
        self.setCurrentIndex(self.findData(word))

    def chosen(self) -> str:
        """Return the word chosen.

        :raises UnitError: none is chosen yet.
        """
        if self.currentData() is None:
            raise UnitError(tr("{name} is not chosen yet.", name=self.accessibleName()))
        return str(self.currentData())
