"""Cases in which the window itself could mislead or trap a person."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel
from pytestqt.qtbot import QtBot
from test_check_in_window import record_of, window_play
from window_play import TICK_S, WindowPlay

from brimline.headless.technician import AskVerdict, DoTap
from brimline.procedure import events as ev
from brimline.procedure import facts
from brimline.procedure.acknowledging import CautionAcknowledged
from brimline.procedure.events import Verdict
from brimline.procedure.state import Stage
from brimline.ui.screens.check.screen import CheckScreen


def play_until(play: WindowPlay, done: Callable[[], bool]) -> None:
    """Let the technician work until something holds, then stop before the next deed, at the PC."""
    while not done():
        assert play.clock.now < 3600
        play.pass_on()
        if done():
            break
        deed = play.technician.next_deed(play.model.state, play.controls.view)
        if isinstance(deed, DoTap):
            assert play.model.tap(deed.kind, **deed.fields)
        elif deed is not None:
            assert not isinstance(deed, AskVerdict)
            play.controls.act(deed.name)
    play.model.step()
    QApplication.processEvents()
    play.come_near()


def screen(play: WindowPlay) -> CheckScreen:
    assert play.window.check is not None
    return play.window.check


def in_drawer(play: WindowPlay, words: str) -> QAbstractButton:
    drawer = screen(play)._drawer
    assert drawer is not None
    return next(b for b in drawer.findChildren(QAbstractButton) if b.text() == words)


def test_typing_in_a_drawer_never_says_that_the_plug_is_out(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=True) as play:
        play_until(play, lambda: play.model.state.stage is Stage.TEMPERATURE)
        QApplication.processEvents()
        play.hands.press(screen(play).hand_over)
        drawer = screen(play)._drawer
        assert drawer is not None
        play.hands.type(drawer.to, "R. Cal")  # type: ignore[attr-defined] # the hand-over drawer
        play_until(play, lambda: play.model.state.stage is Stage.PLUG_OUT)
        QApplication.processEvents()
        assert drawer.isAncestorOf(QApplication.focusWidget())
        QTest.keyClicks(QApplication.focusWidget(), "loway ")
        assert not play.model.state.plug_is_out
        assert drawer.to.text() == "R. Calloway "  # type: ignore[attr-defined]


def test_a_gate_that_opens_puts_the_keyboard_on_no_button(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=True) as play:
        play_until(play, lambda: play.model.state.stage is Stage.PLUG_OUT)
        QApplication.processEvents()
        QTest.keyClick(QApplication.focusWidget() or play.window, Qt.Key.Key_Space)
        assert not play.model.state.plug_is_out


def test_hand_over_takes_no_answer_that_was_not_given(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.PLUG_OUT)
        QApplication.processEvents()
        play.hands.press(screen(play).hand_over)
        drawer = screen(play)._drawer
        assert drawer is not None
        play.hands.type(drawer.to, "M. Oduya")  # type: ignore[attr-defined]
        play.hands.press(in_drawer(play, "Take over"))
        assert "Say first whether the plug is out" in screen(play).said.text()
        facts = drawer.facts  # type: ignore[attr-defined]
        play.hands.press(facts.plug_in)
        play.hands.press(facts.engine_on)
        assert play.model.tap(CautionAcknowledged, stage=Stage.PLUG_OUT)
        assert play.model.tap(ev.PlugOut)  # it came out while the question stood open
        play.hands.press(in_drawer(play, "Take over"))
        assert play.model.state.plug_is_out
        assert play.model.state.technician != "M. Oduya"  # asked again
        play.hands.press(facts.plug_out)
        play.hands.press(in_drawer(play, "Take over"))
        assert play.model.state.technician == "M. Oduya"
        assert play.model.state.plug_is_out


def test_the_plug_in_while_the_pump_runs_is_no_dead_end(qtbot: QtBot) -> None:
    with window_play("K5", "low", keyboard=False) as play:
        play_until(play, lambda: play.model.state.level.pump_since is not None)
        QApplication.processEvents()
        play.hands.press(play.page.plug_in)
        assert play.model.state.stage is Stage.LEVEL
        assert "pump is off" in play.page.next.text()
        play.hands.type(play.page.amount, "0.3 L")
        play.hands.press(play.page.pump_off)
        assert play.model.state.added == pytest.approx(0.3)
        assert play.model.state.stage is Stage.PLUG_OUT
        play.play()
        assert record_of(play).header.verdict is Verdict.CORRECTED


def test_condition_before_the_run_off_is_no_dead_end(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.CONDITION)
        QApplication.processEvents()
        play.hands.press(play._button("Condition assessed"))
        assert play.model.state.condition is not None
        assert play.model.state.stage is Stage.CONDITION
        play.hands.press(play.page.run_off.unmeasured)
        assert "Say why" in screen(play).said.text()  # not without a reason
        play.hands.type(play.page.run_off.why, "the pan was tipped over")
        play.hands.press(play.page.run_off.unmeasured)
        assert play.model.state.run_off_why == "the pan was tipped over"
        assert play.model.state.stage is Stage.RECORD
        play.hands.press(play.page.finish)
        assert record_of(play).header.verdict is Verdict.SET


def test_what_ran_off_is_asked_after_a_stop_and_keeps_nobody_out(qtbot: QtBot) -> None:
    """The engine stopped with the plug out: asked on the ground, and again before the sealing."""
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.plug_is_out)
        play.hands.press(screen(play).strip.buttons["engine off"])  # type: ignore[union-attr]
        for _ in range(30):
            play.clock.now += TICK_S
            play.model.step()
        assert not facts.engine_runs(play.model.state)
        play.come_near()
        play.hands.press(play.page.plug_in)
        assert play.model.state.stage is Stage.PRECONDITION
        assert play.page.run_off.isVisibleTo(play.page)
        play.hands.press(screen(play).abort)
        play.stop_in_drawer()
        page = play.page
        assert play.model.state.stage is Stage.RECORD
        assert page.run_off.isVisible()
        assert "how much fluid ran off" in page.missing.text()
        assert not page.finish.isEnabled()
        play.hands.type(page.run_off.amount, "0.35 L")
        play.hands.press(page.run_off.measured)
        assert not page.run_off.isVisible()
        assert page.finish.isEnabled()
        play.hands.press(page.finish)
        header = record_of(play).header
        assert (header.verdict, header.run_off_litres) == (Verdict.STOPPED, pytest.approx(0.35))


def test_a_wheel_that_scrolls_the_page_changes_no_answer(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.CONDITION)
        QApplication.processEvents()
        assert play.page.photos is not None
        box = play.page.photos.about
        before = box.currentIndex()
        at = QPointF(box.rect().center())
        wheel = QWheelEvent(
            at, QPointF(box.mapToGlobal(at.toPoint())), QPoint(0, -120), QPoint(0, -120),
            Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        screen(play).setFocus()
        QApplication.sendEvent(box, wheel)
        assert box.currentIndex() == before


def test_a_first_look_that_nobody_took_is_refused(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.level.flow is not None)
        QApplication.processEvents()
        play.hands.press(play._button("First look taken"))
        assert play.model.state.first_look is None
        assert "is not chosen yet" in screen(play).said.text()


def test_a_stripped_thread_is_asked_for_and_tells_not_to_drive(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.CLOSE)
        QApplication.processEvents()
        play.hands.press(play._button("The thread is stripped…"))
        assert not play.model.state.closing.stripped
        play.hands.press(in_drawer(play, "It is stripped: stop the check"))
        assert play.model.state.closing.stripped
        assert play.model.state.stage is Stage.RECORD


def test_a_lift_that_is_unlocked_with_the_plug_out_alarms(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.plug_is_out)
        QApplication.processEvents()
        play.hands.press(screen(play).lowered)
        assert screen(play).alarms.isVisible()
        assert "Get clear" in screen(play).alarms.words()


def test_an_override_is_asked_for_with_the_number_of_now(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.TEMPERATURE)
        QApplication.processEvents()
        reason = next(
            r for r in play.model.session.snapshot().against_plug if r.code.value == "below_band"
        )
        screen(play).reasons.override_asked.emit(reason)
        drawer = screen(play)._drawer
        assert drawer is not None
        play.clock.now += 10
        play.model.step()
        words = " ".join(label.text() for label in drawer.findChildren(QLabel))
        now = play.model.state.temperature.last
        assert now is not None
        assert f"{now.number:.1f} °C" in words
        play.hands.type(drawer.why, "sensor reads low")  # type: ignore[attr-defined]
        play.hands.press(in_drawer(play, "Override"))
        assert len(play.model.state.overrides) == 1


def test_a_thousands_comma_is_asked_about(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play.hands.type(play.page.vin, "0THFC3K71RL104218")
        play.hands.type(play.page.odometer, "84,210")
        play.hands.press(play._button("Identify the vehicle"))
        assert "without a comma" in screen(play).said.text()
        assert play.model.state.vehicle is None
