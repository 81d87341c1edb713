"""A line never ends between a number and its unit (NIST SP 811, 7.2: the two belong together)."""

from __future__ import annotations

import re

import pytest
from PySide6.QtGui import QTextLayout
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from brimline.ui.words import Words, tied
from brimline.units import METRIC, US, Dimension, duration, symbols

SYMBOLS = sorted(
    {each for dimension in Dimension for each in symbols(dimension)} | {"%", "kPa", "V", "MB"}
)


@pytest.fixture
def words(qtbot: QtBot) -> Words:
    """A label without words yet."""
    made = Words()
    qtbot.addWidget(made)
    return made


def lines_of(label: QLabel, width: float) -> list[str]:
    """Return the words as Qt breaks them into lines of a width (px)."""
    shown = QLabel.text(label)
    layout = QTextLayout(shown, label.font())
    layout.beginLayout()
    found = []
    while (line := layout.createLine()).isValid():
        line.setLineWidth(width)
        found.append(shown[line.textStart() : line.textStart() + line.textLength()])
    layout.endLayout()
    return found


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_number_and_unit_stand_on_one_line_at_every_width(words: Words, symbol: str) -> None:
    words.setText(f"The fluid stands at 65 {symbol}, which is 12 {symbol} more than it may be.")
    unbroken = words.fontMetrics().horizontalAdvance("65 US qt at ")
    for width in range(unbroken, 6 * unbroken, 3):
        lines = lines_of(words, width)
        assert not [line for line in lines if re.search(r"\d\s*\Z", line)], (width, lines)


def test_lines_without_ties_do_end_between_them(words: Words) -> None:
    """The check above can fail: at some width Qt ends a line there by itself."""
    words.setText("The fluid stands at 65 °C.")
    QLabel.setText(words, "The fluid stands at 65 °C.")
    narrow = words.fontMetrics().horizontalAdvance("The fluid stands at 65 ")
    assert lines_of(words, narrow)[0].rstrip().endswith("65")


def test_words_are_returned_as_they_were_said(words: Words) -> None:
    for units in (METRIC, US):
        said = f"{units.temperature(65)} after {duration(125)}, {units.volume(1.25)} ran off"
        words.setText(said)
        assert words.text() == said
        assert tied(said) != said


def test_words_that_hold_no_number_stay_as_they_are() -> None:
    assert tied("Check it by hand, then go on.") == "Check it by hand, then go on."
