"""Reasons as sentences: locked ones first, rows kept while their reason stands."""

from __future__ import annotations

import pytest
from label_fit import clipped_texts
from live_play import LivePlay
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from brimline.procedure import gates
from brimline.procedure.reasons import Code, Reason
from brimline.ui.tokens import Palette
from brimline.ui.widgets.marks import Mark, Shape
from brimline.ui.widgets.reasons import ReasonList, ReasonRow
from brimline.units import METRIC, US
from brimline.wording import sentence

BELOW = Reason(Code.BELOW_BAND, value=50.0, limit=65.0)
TOO_HOT = Reason(Code.TOO_HOT_FOR_PLUG, value=108.0, limit=105.0)
ORDER = Reason(Code.PLUG_IN_FIRST)
CHOCKS = Reason(Code.ITEM_OPEN, "wheels_chocked")


@pytest.fixture
def reasons(qtbot: QtBot, palette: Palette) -> ReasonList:
    shown = ReasonList(METRIC)
    qtbot.addWidget(shown)
    shown.resize(420, 400)
    shown.show()
    return shown


def rows(shown: ReasonList) -> list[ReasonRow]:
    return list(shown._rows.values())


def said(shown: ReasonList) -> list[str]:
    """The visible texts from top to bottom."""
    QApplication.processEvents()
    body = shown.widget()
    assert body is not None
    labels = [label for label in body.findChildren(QLabel) if label.text() and label.isVisible()]
    labels.sort(key=lambda label: label.mapTo(body, label.rect().topLeft()).y())
    return [label.text() for label in labels]


def test_an_open_gate_says_so(reasons: ReasonList) -> None:
    assert said(reasons) == ["The gate is open."]
    reasons.set_open_text("The plug may come out.")
    reasons.show_reasons((BELOW,))
    assert said(reasons) == [sentence(BELOW, METRIC)]
    reasons.show_reasons(())
    assert said(reasons) == ["The plug may come out."]


def test_locked_reasons_come_first_and_cannot_be_overridden(reasons: ReasonList) -> None:
    reasons.show_reasons((BELOW, TOO_HOT, ORDER))
    assert said(reasons) == [
        sentence(TOO_HOT, METRIC), "never overridden", sentence(BELOW, METRIC),
        sentence(ORDER, METRIC),
    ]  # fmt: skip
    buttons = [len(row.findChildren(QPushButton)) for row in rows(reasons)]
    assert buttons == [0, 1, 0]  # there is nothing to override in an order of steps
    marks = [mark.shape for row in rows(reasons) for mark in row.findChildren(Mark)]
    assert marks == [Shape.LOCK, Shape.DOT, Shape.DOT]


def test_items_on_which_lives_hang_are_locked(reasons: ReasonList) -> None:
    for item in gates.NEVER_OVERRIDDEN_ITEMS:
        reasons.show_reasons((Reason(Code.ITEM_OPEN, item.value),))
        assert "never overridden" in said(reasons)
        assert not rows(reasons)[0].findChildren(QPushButton)


def test_override_is_asked_for_the_reason_as_it_stands(reasons: ReasonList, qtbot: QtBot) -> None:
    reasons.show_reasons((BELOW, CHOCKS))
    later = Reason(Code.BELOW_BAND, value=58.0, limit=65.0)
    reasons.show_reasons((later, CHOCKS))
    button = rows(reasons)[0].findChild(QPushButton)
    assert button is not None
    with qtbot.waitSignal(reasons.override_asked) as signal:
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert signal.args == [later]


def test_numbers_change_in_place(reasons: ReasonList) -> None:
    reasons.show_reasons((BELOW, TOO_HOT))
    before = rows(reasons)
    reasons.show_reasons((Reason(Code.BELOW_BAND, value=51.0, limit=65.0), TOO_HOT))
    assert rows(reasons) == before
    assert "51.0 °C" in said(reasons)[2]
    reasons.set_units(US)
    assert rows(reasons) == before
    assert "123.8 °F" in said(reasons)[2]


def test_rows_stay_while_their_reason_stands(reasons: ReasonList, qtbot: QtBot) -> None:
    reasons.show_reasons((BELOW, CHOCKS))
    below, chocks = rows(reasons)
    chocks.findChildren(QPushButton)[0].setFocus()
    reasons.show_reasons((CHOCKS, TOO_HOT))
    hot, kept = rows(reasons)
    assert kept is chocks
    assert kept.findChildren(QPushButton)[0].hasFocus()
    assert said(reasons)[0] == sentence(TOO_HOT, METRIC)
    assert not below.isVisible()
    qtbot.waitUntil(lambda: len(reasons.findChildren(ReasonRow)) == 2)
    assert hot.isVisible()


@pytest.mark.parametrize("wide", [320, 420, 800])
def test_every_reason_of_a_fresh_check_fits(reasons: ReasonList, live: LivePlay, wide: int) -> None:
    against = live.snapshot().against_plug
    assert len(against) > 10
    reasons.show_reasons(against)
    reasons.resize(wide, 300)
    QApplication.processEvents()
    assert clipped_texts(reasons) == []
    assert reasons.horizontalScrollBar().maximum() == 0


def test_feeding_makes_nothing_new(reasons: ReasonList, live: LivePlay) -> None:
    live.in_air()
    reasons.show_reasons(live.snapshot().against_plug)
    before = rows(reasons)
    assert before
    for _ in range(50):
        live.drive(1, 40, 40)
        reasons.show_reasons(live.snapshot().against_plug)
    assert rows(reasons) == before
