"""Room at 1280 x 800: nothing scrolls out of sight that a person under a vehicle has to see."""

from __future__ import annotations

import pytest
from keyed_play import KeyedPlay, keyed_play
from label_fit import clipped_texts
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLineEdit
from pytestqt.qtbot import QtBot

from brimline.procedure import events as ev
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import Stage
from brimline.ui.samples.capture import settle
from brimline.ui.screens.check.drawers import AbortDrawer
from brimline.ui.screens.check.screen import CheckScreen


def screen(play: KeyedPlay) -> CheckScreen:
    shown = play.window.check
    assert shown is not None
    return shown


def scrolls(play: KeyedPlay) -> bool:
    """Whether the page as a whole is higher than its room."""
    settle()
    return screen(play).whole.verticalScrollBar().maximum() > 0


def test_every_stage_fits_without_scrolling_the_whole(qtbot: QtBot) -> None:
    found: list[str] = []

    def look(play: KeyedPlay, where: str) -> None:
        if scrolls(play):
            found.append(where)
        shown = screen(play)
        for part in (shown.abort, shown.figures):
            if part.visibleRegion().boundingRect() != part.rect():
                found.append(f"{where}: {type(part).__name__} is not all in sight")

    with keyed_play() as play:
        play.begin_keyed()
        look(play, "identify")
        play.to_the_sensor()
        screen(play).say("In reach is missing.")
        look(play, "a sentence")
        play.to_the_ground()
        look(play, "ground")
        screen(play).ask_abort()
        look(play, "a question")
        screen(play).close_drawer()
        play.to_the_lift()
        look(play, "lift")
        play.to_temperature()
        look(play, "temperature")
        play.warm_up()
        assert play.model.state.stage is Stage.PLUG_OUT
        look(play, "plug out")
    assert found == []


def test_what_is_scrolled_away_is_back_with_the_next_stage(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        body = screen(play).whole.widget()
        assert body is not None
        body.setMinimumHeight(2000)  # as if there were no room
        settle()
        bar = screen(play).whole.verticalScrollBar()
        bar.setValue(bar.maximum())
        assert bar.value() > 0
        play.to_the_sensor()
        assert bar.value() == 0


@pytest.mark.parametrize("height", [800, 1080])
@pytest.mark.parametrize("question", ["stripped", "override", "hand over"])
def test_a_question_is_whole_in_sight(
    tongue: str, qtbot: QtBot, question: str, height: int
) -> None:
    """What it asks and every answer, with the readings still beside the page above it."""
    with keyed_play() as play:
        play.begin_keyed()
        play.window.resize(1280, height)
        shown = screen(play)
        if question == "stripped":
            shown.page(Stage.CLOSE).ask_stripped()
        elif question == "override":
            shown.reasons.override_asked.emit(Reason(Code.BELOW_BAND, value=60.0, limit=65.0))
        else:
            play.hands.press(shown.hand_over)
        settle()
        drawer = shown._drawer
        assert drawer is not None
        asked = [*drawer.findChildren(QAbstractButton), *drawer.findChildren(QLineEdit)]
        parts = [each for each in asked if not each.isHidden()]
        assert len(parts) >= 3
        for part in (*parts, shown.figures._heat):
            assert part.visibleRegion().boundingRect() == part.rect(), part
        assert clipped_texts(play.window) == []


def test_what_stops_a_check_is_whole_in_sight_and_enter_leads_there(qtbot: QtBot) -> None:
    with keyed_play(keyboard=True) as play:
        play.begin_keyed()
        play.to_the_sensor()
        play.to_the_ground()
        play.to_the_lift()
        play.to_temperature()
        play.warm_up()
        shown = screen(play)

        def look(where: str) -> list[str]:
            settle()
            drawer = shown._drawer
            assert isinstance(drawer, AbortDrawer)
            parts = (drawer.title, drawer.why, drawer.stop, shown.figures)
            return [
                f"{where}: {type(part).__name__} {part.visibleRegion().boundingRect()}"
                for part in parts
                if part.visibleRegion().boundingRect() != part.rect()
            ]

        shown.ask_abort()
        assert look("plug in") == []
        drawer = shown._drawer
        assert isinstance(drawer, AbortDrawer)
        play.hands.type(drawer.why, "the lift is wanted")
        QTest.keyClick(drawer.why, Qt.Key.Key_Return)
        assert drawer.stop.hasFocus()
        assert play.model.state.aborted is None  # Enter alone ends no check
        shown.close_drawer()
        play._PlugOut()
        play.pass_time(1)
        assert play.model.tap(ev.EngineStopped)
        play.pass_time(1)
        assert shown.alarms.isVisible()
        shown.ask_abort()
        assert look("plug out, an alarm stands") == []
        drawer = shown._drawer
        assert isinstance(drawer, AbortDrawer)
        assert drawer.stays_out.visibleRegion().boundingRect() == drawer.stays_out.rect()
        QTest.keyClick(drawer.why, Qt.Key.Key_Return)
        assert drawer.stays_out.hasFocus()
