"""Cautions before a step: by keyboard alone, by mouse alone, and what they never hide."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel
from pytestqt.qtbot import QtBot
from test_check_in_window import record_of, window_play
from test_hard_cases_in_window import in_drawer, play_until, screen
from window_hands import MadeTime
from window_play import WindowPlay

from brimline.estimate.sentences import BURN_SOURCE
from brimline.procedure import cautions
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import CautionAcknowledged
from brimline.procedure.events import Flow, Item
from brimline.procedure.state import Stage
from brimline.ui.hands.held_key import CAUTION_S
from brimline.ui.screens.check.screen import PAGES


def until_asked(play: WindowPlay, stage: Stage) -> None:
    """Let the technician work until the cautions of a stage are asked for."""
    play_until(play, lambda: play.model.state.stage is stage and asked(play, stage))


def asked(play: WindowPlay, stage: Stage) -> bool:
    return cautions.asked(play.model.state, stage)


def seen_buttons(play: WindowPlay) -> set[str]:
    return {each.text() for each in play.page.findChildren(QAbstractButton) if each.isVisible()}


@pytest.mark.parametrize("keyboard", [True, False], ids=["keyboard", "mouse"])
def test_a_caution_stands_large_in_place_of_its_step(qtbot: QtBot, keyboard: bool) -> None:
    with window_play("K5", "", keyboard=keyboard) as play:
        until_asked(play, Stage.RAISE)
        page = play.page
        assert seen_buttons(play) == {"Hold: I have read this"}
        assert BURN_SOURCE in [each._source.text() for each in page._cautions]
        large = [each.height() for each in page._cautions]
        play.hands.hold(page.acknowledge)
        assert not asked(play, Stage.RAISE)
        assert "Lift up and locked" in seen_buttons(play)
        assert "Hold: I have read this" not in seen_buttons(play)
        assert all(each.isVisible() for each in page._cautions)
        assert all(now != was for now, was in zip(
            (each.height() for each in page._cautions), large, strict=True
        ))  # fmt: skip
        # Whoever held a key holds it still: it has gone to no button.
        assert not isinstance(QApplication.focusWidget(), QAbstractButton)


def test_a_key_held_on_and_on_takes_out_no_plug(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=True) as play:
        until_asked(play, Stage.PLUG_OUT)
        button = play.page.acknowledge
        assert QApplication.focusWidget() is button  # it came there by itself
        clock = MadeTime()
        clock.now, button.clock = button.clock(), clock
        QTest.keyPress(button, Qt.Key.Key_Return)
        clock.now += CAUTION_S
        button.tick()
        assert not asked(play, Stage.PLUG_OUT)
        for _ in range(5):
            QTest.keyPress(QApplication.focusWidget() or play.window, Qt.Key.Key_Return)
        assert not play.model.state.plug_is_out
        assert play.page.out.isVisible()


def test_told_by_another_way_the_keyboard_goes_to_no_button(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=True) as play:
        until_asked(play, Stage.PLUG_OUT)
        assert play.model.tap(CautionAcknowledged, stage=Stage.PLUG_OUT)  # by the one button
        assert not isinstance(QApplication.focusWidget(), QAbstractButton)


def test_plug_and_pump_never_wait_for_a_caution(qtbot: QtBot) -> None:
    with window_play("K5", "low", keyboard=False) as play:
        play_until(play, lambda: play.model.state.plug_is_out)
        assert not asked(play, Stage.LEVEL)  # read with the plug's, before fluid came
        facts = {"plug_is_out": True, "engine_runs": True}
        assert play.model.tap(ev.HandedOver, to="M. Oduya", **facts)
        assert seen_buttons(play) == {"Hold: I have read this", "Plug put in"}
        assert "Read the caution first" in play.page.next.text()
        shown = screen(play)
        assert shown.abort.isVisible()
        play.hands.hold(play.page.acknowledge)
        play_until(play, lambda: play.model.state.level.pump_since is not None)
        state = play.model.state
        assert play.model.tap(ev.HandedOver, to="A. Berg", **facts)
        assert asked(play, Stage.LEVEL)
        assert {"Plug put in", "Pump stopped", "Hold: I have read this"} <= seen_buttons(play)
        assert "It runs" not in seen_buttons(play)
        play.hands.type(play.page.amount, "0.2 L")
        play.hands.press(play.page.pump_off)
        assert play.model.state.added == pytest.approx(state.added + 0.2)
        assert "Pump stopped" not in seen_buttons(play)
        play.hands.hold(play.page.acknowledge)
        assert "It runs" in seen_buttons(play)
        play.hands.press(play.page.plug_in)
        assert not play.model.state.plug_is_out


def test_burn_time_stands_wherever_hot_fluid_reaches_a_person() -> None:
    burning = {page.stage for page in PAGES if any(each.burns for each in page.cautions)}
    assert burning == {Stage.RAISE, Stage.PLUG_OUT, Stage.LEVEL, Stage.CLOSE}


def test_a_check_is_handed_over_in_one_view(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.plug_is_out)
        shown = screen(play)
        play.hands.press(shown.hand_over)
        drawer = shown._drawer
        assert drawer is not None
        QApplication.processEvents()
        parts = [*drawer.findChildren(QAbstractButton), shown.figures._heat, shown.figures._clock]
        for part in (*parts, play.page.plug_in, shown.abort):
            assert part.visibleRegion().boundingRect() == part.rect(), part
        words = [each.text() for each in drawer.findChildren(QLabel)]
        was = play.model.state.technician
        assert any(was in each for each in words)
        play.hands.type(drawer.to, "M. Oduya")  # type: ignore[attr-defined] # the hand-over drawer
        play.hands.press(drawer.facts.plug_out)  # type: ignore[attr-defined]
        play.hands.press(drawer.facts.engine_on)  # type: ignore[attr-defined]
        play.hands.press(in_drawer(play, "Take over"))
        assert shown._drawer is None
        assert play.model.state.technician == "M. Oduya"
        assert asked(play, Stage.LEVEL)  # whoever takes over has read none
        play.play()
        events = record_of(play).events
        assert isinstance(events[0], ev.CheckOpened)
        assert events[0].technician == was
        assert [each.to for each in events if isinstance(each, ev.HandedOver)] == ["M. Oduya"]


def test_the_latest_answer_is_taken_back_at_the_pc(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        shown = screen(play)
        assert not shown.take_back.go.isVisible()
        play_until(play, lambda: play.model.state.plug_is_out)
        assert shown.take_back.last.text() == "Last answer: plug out"
        assert shown.take_back.go.text() == "Take back (30 s)"
        play.clock.now += 7.0
        play.model.step()
        assert shown.take_back.go.text() == "Take back (23 s)"
        play.hands.press(shown.take_back.go)
        assert not play.model.state.plug_is_out
        assert not shown.take_back.go.isVisible()
        play_until(play, lambda: play.model.state.level.flow is not None)
        assert play.model.state.level.flow is not None
        assert play.model.state.level.flow.flow is Flow.RUNS
        assert shown.take_back.go.isVisible()
        for _ in range(4):  # after half a minute it is too late
            play.clock.now += 8.0
            play.model.step()
        assert not shown.take_back.go.isVisible()


def test_without_work_at_the_plug_no_recheck_is_offered(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play.hands.press(screen(play).abort)
        play.stop_in_drawer()
        assert play.model.state.stage is Stage.RECORD
        assert play.page.finish.isVisible()
        assert not play.page.recheck.isVisible()
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.RECORD)
        assert play.page.recheck.isVisible()
        assert Item.LIFT_LOCKED in play.model.state.confirmed
