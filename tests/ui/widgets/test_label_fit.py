"""The check for clipped text really finds it, and does not cry out where all is well."""

from __future__ import annotations

import pytest
from label_fit import clipped_texts
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)
from pytestqt.qtbot import QtBot

LONG = "Every word of this sentence wants to be read by somebody under the lift."


@pytest.fixture
def window(qtbot: QtBot) -> QWidget:
    shown = QWidget()
    qtbot.addWidget(shown)
    shown.resize(800, 600)
    shown.show()
    return shown


def put(child: QWidget, window: QWidget, x: int, y: int, wide: int, tall: int) -> None:
    child.setParent(window)
    child.setGeometry(x, y, wide, tall)
    child.show()


def faults(window: QWidget) -> str:
    return "\n".join(clipped_texts(window))


def test_good_texts_are_not_reported(window: QWidget) -> None:
    column = QVBoxLayout(window)
    wrapped = QLabel(LONG * 3)
    wrapped.setWordWrap(True)
    edit = QLineEdit()
    edit.setPlaceholderText("for example W-1042")
    combo = QComboBox()
    combo.addItems(["check plug with adapter"])
    for child in (
        QLabel("Good"), wrapped, QLabel("<b>Good</b> &amp; rich"), QPushButton("&Plug out"),
        QCheckBox("Nobody under the vehicle"), edit, combo,
    ):  # fmt: skip
        column.addWidget(child)
    column.activate()
    assert clipped_texts(window) == []


def test_a_label_that_is_too_narrow_is_reported(window: QWidget) -> None:
    put(QLabel(LONG), window, 0, 0, 120, 40)
    assert "px of width and has 120" in faults(window)


def test_a_wrapped_label_that_is_too_low_is_reported(window: QWidget) -> None:
    label = QLabel(LONG)
    label.setWordWrap(True)
    put(label, window, 0, 0, 160, label.fontMetrics().height())
    assert "of height" in faults(window)


def test_a_rich_label_that_is_too_low_is_reported(window: QWidget) -> None:
    label = QLabel(f"<p>{LONG}</p>")
    label.setWordWrap(True)
    put(label, window, 0, 0, 160, label.fontMetrics().height())
    assert "of height" in faults(window)


def test_padding_of_a_style_sheet_counts(window: QWidget) -> None:
    label = QLabel("Plug out")
    put(label, window, 0, 0, label.sizeHint().width() + 4, 60)
    assert clipped_texts(window) == []
    label.setStyleSheet("padding: 0 30px;")
    assert "of width" in faults(window)


@pytest.mark.parametrize("sheet", ["", "QPushButton { padding: 0 24px; border: 1px solid black }"])
def test_a_button_that_is_too_narrow_is_reported(window: QWidget, sheet: str) -> None:
    button = QPushButton("Override this reason")
    button.setStyleSheet(sheet)
    put(button, window, 0, 0, 70, 44)
    assert "QPushButton 'Override this reason': needs" in faults(window)
    button.resize(400, 44)
    assert clipped_texts(window) == []


def test_other_kinds_that_are_too_narrow_are_reported(window: QWidget) -> None:
    box, edit, combo = QCheckBox("Nobody under the vehicle"), QLineEdit(), QComboBox()
    edit.setPlaceholderText("as printed on the work order")
    combo.addItems(["check plug with adapter"])
    for place, child in enumerate((box, edit, combo)):
        put(child, window, 0, 60 * place, 80, 40)
    said = faults(window)
    assert all(kind in said for kind in ("QCheckBox", "QLineEdit", "QComboBox"))
    edit.setText("W-1")  # what is typed scrolls, and the placeholder is gone
    assert "QLineEdit" not in faults(window)


def test_two_labels_upon_each_other_are_reported(window: QWidget) -> None:
    put(QLabel("Temperature"), window, 0, 0, 200, 40)
    put(QLabel("Time of check"), window, 20, 5, 200, 40)
    assert "QLabel 'Temperature': overlaps QLabel 'Time of check'" in faults(window)


def test_boxes_that_meet_where_no_text_is_are_not_reported(window: QWidget) -> None:
    put(QLabel("Left"), window, 0, 0, 300, 40)
    right = QLabel("Right")
    right.setAlignment(Qt.AlignmentFlag.AlignRight)
    put(right, window, 100, 0, 300, 40)
    left = window.findChild(QLabel)
    assert left is not None
    left.raise_()
    right.setGeometry(200, 0, 300, 40)
    assert "'Left'" not in faults(window)


def test_a_panel_over_a_label_is_reported_and_one_behind_it_is_not(window: QWidget) -> None:
    put(QWidget(), window, 0, 0, 400, 100)
    put(QLabel("Plug out"), window, 10, 10, 200, 40)
    assert clipped_texts(window) == []
    put(QWidget(), window, 0, 0, 60, 100)
    assert "overlaps QWidget" in faults(window)


def test_a_label_beyond_the_edge_of_its_parent_is_reported(window: QWidget) -> None:
    put(QLabel("Too hot for the plug"), window, 740, 0, 200, 40)
    assert "is cut off by its QWidget" in faults(window)


def test_what_can_be_scrolled_to_is_not_cut(window: QWidget, qtbot: QtBot) -> None:
    area, body = QScrollArea(), QWidget()
    for line in range(40):
        put(QLabel(f"Line {line}"), body, 0, 30 * line, 300, 30)
    body.setFixedSize(400, 1200)
    area.setWidget(body)
    put(area, window, 0, 0, 500, 300)
    qtbot.waitUntil(lambda: area.verticalScrollBar().maximum() > 0)
    assert clipped_texts(window) == []
    area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    assert "is cut off by its QWidget" in faults(window)


def test_what_is_hidden_is_not_judged(window: QWidget) -> None:
    label = QLabel(LONG)
    put(label, window, 0, 0, 20, 40)
    assert clipped_texts(window)
    label.hide()
    assert clipped_texts(window) == []
