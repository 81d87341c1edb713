"""Cautions after ANSI Z535.4, and hazard symbols that are told apart at 40 px."""

from __future__ import annotations

from itertools import combinations

import pytest
from label_fit import clipped_texts
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QLabel,
    QLineEdit,
    QToolTip,
    QVBoxLayout,
    QWidget,
)
from pytestqt.qtbot import QtBot

from brimline.ui.tokens import SIGNAL_WORDS, Palette
from brimline.ui.widgets.caution import CautionBox, Hazard, HazardIcon, SignalPanel

LONG = (
    "Fluid, pan and exhaust are hot and the engine runs overhead. Keep hair, sleeves and cables "
    "away from belts and fans; wear gloves and eye protection; keep the crew clear."
)


@pytest.fixture
def window(qtbot: QtBot, palette: Palette) -> QWidget:
    shown = QWidget()
    qtbot.addWidget(shown)
    QVBoxLayout(shown)
    shown.show()
    return shown


def put(window: QWidget, *children: QWidget) -> None:
    column = window.layout()
    assert column is not None
    for child in children:
        column.addWidget(child)
    QApplication.processEvents()


def said(holder: QWidget) -> list[str]:
    """What labels say that are shown."""
    return [each.text() for each in holder.findChildren(QLabel) if each.isVisible()]


def share(image: QImage, colour: str) -> float:
    spots = [(x, y) for x in range(image.width()) for y in range(image.height())]
    return sum(image.pixelColor(x, y).name() == colour for x, y in spots) / len(spots)


@pytest.mark.parametrize("wide", [340, 480, 900])
def test_long_words_wrap_and_fit_at_any_width(window: QWidget, wide: int) -> None:
    boxes = [CautionBox(word, LONG) for word in SIGNAL_WORDS]
    put(window, *boxes)
    window.setFixedWidth(wide)
    window.resize(wide, window.heightForWidth(wide))
    QApplication.processEvents()
    assert clipped_texts(window) == []
    assert set(said(window)) == {LONG}


def test_a_narrow_box_is_higher_than_a_wide_one(window: QWidget) -> None:
    box = CautionBox("WARNING", LONG)
    put(window, box)
    assert box.hasHeightForWidth()
    assert box.heightForWidth(360) > box.heightForWidth(900) >= 44


@pytest.mark.parametrize("word", SIGNAL_WORDS)
def test_the_word_stands_on_its_colour(window: QWidget, word: str) -> None:
    box = CautionBox(word, "Short.")
    put(window, box)
    panel = box.findChild(SignalPanel)
    assert panel is not None
    assert share(panel.grab().toImage(), SIGNAL_WORDS[word].ground) > 0.5
    assert share(panel.grab().toImage(), SIGNAL_WORDS[word].ink) > 0.03
    assert box.accessibleName() == f"{word}: Short."


def test_only_notice_goes_without_the_alert_symbol(
    window: QWidget, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[str] = []
    monkeypatch.setattr(
        "brimline.ui.widgets.caution.draw_alert",
        lambda _painter, _box, _ink, ground: drawn.append(ground.name()),
    )
    for word in SIGNAL_WORDS:
        panel = SignalPanel(word)
        put(window, panel)
        panel.grab()
    assert set(drawn) == {c.ground for w, c in SIGNAL_WORDS.items() if w != "NOTICE"}


def test_another_caution_takes_its_place(window: QWidget) -> None:
    box = CautionBox("NOTICE", "One.")
    put(window, box)
    box.set_caution("DANGER", "Two.")
    assert said(box) == ["Two."]
    assert box.accessibleName() == "DANGER: Two."


def test_hazard_symbols_differ_and_are_named(window: QWidget) -> None:
    icons = [HazardIcon(kind, 40) for kind in Hazard]
    put(window, *icons)
    images = {icon.kind: icon.grab().toImage() for icon in icons}
    assert all(icon.accessibleName() and icon.width() == icon.height() == 40 for icon in icons)
    for one, other in combinations(Hazard, 2):
        differing = sum(
            images[one].pixelColor(x, y) != images[other].pixelColor(x, y)
            for x in range(40)
            for y in range(40)
        )
        assert differing > 200, (one, other)


@pytest.mark.parametrize("kind", Hazard)
def test_hazard_symbols_stand_inside_their_ground(window: QWidget, kind: Hazard) -> None:
    icon = HazardIcon(kind, 96)
    put(window, icon)
    image = icon.grab().toImage()
    look = SIGNAL_WORDS["NOTICE" if "protection" in kind else "CAUTION"]
    assert 0.08 < share(image, look.ink) < 0.5
    edge = {image.pixelColor(x, y).name() for x in range(20, 76) for y in (1, 94)}
    assert look.ink not in edge


def test_a_danger_that_changes_stands_under_the_caution(window: QWidget) -> None:
    box = CautionBox("WARNING", "Hot.")
    put(window, box)
    box.set_danger("It burns at once.", "From a table.")
    assert said(box) == ["Hot.\nIt burns at once."]
    assert box.accessibleName() == "WARNING: Hot.\nIt burns at once."
    assert box.toolTip() == "From a table."
    box.set_danger("It burns within 5 s.")
    assert said(box) == ["Hot.\nIt burns within 5 s."]
    box.set_danger("", "From a table.")
    assert (said(box), box.toolTip()) == (["Hot."], "")
    box.set_caution("DANGER", "Very hot.")
    box.set_danger("It burns at once.")
    assert said(box) == ["Very hot.\nIt burns at once."]
    box.set_danger(LONG)
    window.setFixedWidth(360)
    window.resize(360, window.heightForWidth(360))
    QApplication.processEvents()
    assert clipped_texts(window) == []


@pytest.mark.parametrize("wide", [340, 900])
def test_large_it_stands_under_its_word_with_the_source_in_sight(
    window: QWidget, wide: int
) -> None:
    box = CautionBox("WARNING", LONG)
    put(window, box)
    window.setFixedWidth(wide)
    small = box.heightForWidth(wide)
    box.set_danger("It burns at once.", "From a table.")
    box.set_large(large=True)
    window.resize(wide, window.heightForWidth(wide))
    QApplication.processEvents()
    panel = box.findChild(SignalPanel)
    assert panel is not None
    assert panel.width() == box.width() - 4
    assert said(box) == [f"{LONG}\nIt burns at once.", "From a table."]
    assert box.toolTip() == ""
    assert clipped_texts(window) == []
    assert share(panel.grab().toImage(), SIGNAL_WORDS["WARNING"].ground) > 0.5
    box.set_large(large=False)
    box.set_danger("")
    QApplication.processEvents()
    assert said(box) == [LONG]
    assert box.heightForWidth(wide) == small


def test_the_source_is_told_to_a_keyboard(window: QWidget) -> None:
    field, box = QLineEdit(), CautionBox("WARNING", "Hot.")
    put(window, field, box)
    window.activateWindow()
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is not box  # nothing to tell yet
    box.set_danger("It burns at once.", "From a table.")
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is box
    assert QToolTip.text() == "From a table."
    field.setFocus()
    assert box.accessibleDescription() == "From a table."
