"""A press that comes twice does one thing, wherever a page turns or gets shorter under the hand."""

from __future__ import annotations

from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QWidget
from pytestqt.qtbot import QtBot
from test_check_in_window import window_play
from test_hard_cases_in_window import screen
from window_play import TICK_S, WindowPlay

from brimline.headless.technician import Act, DoTap
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import Undone
from brimline.procedure.state import Stage
from brimline.ui.hands.steady import SAID_S
from brimline.ui.samples.capture import settle

NEW = "This is new: look, then press."


def until(play: WindowPlay, kind: object) -> dict[str, Any]:
    """Let the technician work until this is to be tapped, and return with what."""
    while True:
        assert play.clock.now < 3600
        play.clock.now += TICK_S
        play.model.step()
        deed = play.technician.next_deed(play.model.state, play.controls.view)
        if isinstance(deed, DoTap) and deed.kind is kind:
            screen(play).distances.leave()
            settle()
            return dict(deed.fields)
        if isinstance(deed, DoTap):
            assert play.model.tap(deed.kind, **deed.fields)
        elif isinstance(deed, Act):
            play.controls.act(deed.name)


def middle(play: WindowPlay, target: QWidget) -> QPoint:
    """Return where the hand is over a button that has stood there."""
    settle()
    play.hands.look()
    at = target.mapTo(play.window, target.rect().center())
    assert play.window.childAt(at) is target
    return at


def press(play: WindowPlay, at: QPoint) -> None:
    QTest.mouseClick(play.window.windowHandle(), Qt.MouseButton.LeftButton, pos=at)
    settle()


def words_at(play: WindowPlay, at: QPoint) -> str:
    hit = play.window.childAt(at)
    return hit.text() if isinstance(hit, QAbstractButton) else ""


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1080)])
def test_the_first_look_pressed_twice_leaves_the_plug_out(
    qtbot: QtBot, size: tuple[int, int]
) -> None:
    """The page gets shorter, so that Qt may scroll it; another button comes under the hand."""
    with window_play("K5", "", keyboard=False) as play:
        play.window.resize(*size)
        findings = until(play, ev.FirstLook)["findings"]
        page = play.page
        play._find(page.form, findings)
        page.area.ensureWidgetVisible(page.form.coolant.tiles[findings.coolant_signs])
        at = middle(play, page.look)
        scrolled = page.area.verticalScrollBar().value()
        press(play, at)
        assert play.model.state.first_look is not None
        assert page.area.verticalScrollBar().value() <= scrolled
        assert words_at(play, at) == "Plug put in"
        press(play, at)
        assert play.model.state.plug_is_out
        assert screen(play).said.isVisible()
        assert screen(play).said.text() == NEW
        play.hands.look()
        press(play, at)
        assert not play.model.state.plug_is_out
        assert not screen(play).said.isVisible()


def test_matching_the_fluid_twice_chooses_no_fill_path(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        fluid = until(play, ev.FluidChosen)
        page = play.page
        page.product.setEditText(fluid["product"])
        page.lot.setText(fluid["lot"])
        page.within_reach.setText("2 L")
        at = middle(play, page.match)
        press(play, at)
        assert play.model.state.fluid is not None
        assert words_at(play, at) == "Choose the fill path"
        press(play, at)
        assert play.model.state.fill_path is None
        assert screen(play).said.text() == NEW
        screen(play).steady.clock.now += SAID_S  # type: ignore[attr-defined] # the hands' own
        screen(play).steady.look()
        assert screen(play).said.text() == ""


def test_the_last_raise_button_twice_takes_nothing_back(qtbot: QtBot) -> None:
    """The far view comes up, with what takes the answer back under the hand."""
    with window_play("K5", "", keyboard=False) as play:
        play.window.resize(3840, 2160)
        angles = until(play, ev.TiltMeasured)
        shown = screen(play)
        assert shown.strip is not None
        assert shown.far_line is not None
        for only_of_a_demo in (shown.strip, shown.far_line):
            only_of_a_demo.setMaximumHeight(0)
        for key, angle in angles.items():
            play.page.tilt.fields[key].setText(f"{angle!r} °")
        at = middle(play, play._button("Write down the tilt"))
        press(play, at)
        far = shown.distances.far
        assert shown.distances.is_far
        assert play.window.childAt(at) is far.take_back
        press(play, at)
        assert play.model.state.tilt is not None
        assert far.told.isVisible()
        assert far.told.text() == NEW


def test_the_far_view_takes_back_when_the_hand_lets_go(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        angles = until(play, ev.TiltMeasured)
        assert play.model.tap(ev.TiltMeasured, **angles)
        shown = screen(play)
        far = shown.distances.far
        assert shown.distances.is_far
        assert far.take_back.geometry() == far.undo.rect()
        assert far.take_back.accessibleName() == far.undo.text()
        drawn = far.undo.grab().toImage()
        far.take_back.hide()
        assert far.undo.grab().toImage() == drawn  # the words are all that is seen of it
        far.take_back.show()
        at, away = middle(play, far.take_back), middle(play, far.back)
        window = play.window.windowHandle()
        QTest.mousePress(window, Qt.MouseButton.LeftButton, pos=at)
        QTest.mouseMove(window, away)
        QTest.mouseRelease(window, Qt.MouseButton.LeftButton, pos=away)
        settle()
        assert play.model.state.tilt is not None  # let go beside it
        assert shown.distances.is_far
        QTest.mousePress(window, Qt.MouseButton.LeftButton, pos=at)
        settle()
        assert play.model.state.tilt is not None  # still held
        QTest.mouseRelease(window, Qt.MouseButton.LeftButton, pos=at)
        settle()
        assert play.model.state.tilt is None
        assert play.model.state.stage is Stage.RAISE
        assert not play.model.tap(Undone)
        settle()
        assert not far.take_back.isVisibleTo(far)  # nothing is left to take back
