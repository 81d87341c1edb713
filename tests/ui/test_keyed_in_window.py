"""Checks by keyed readings in the real window, from the first screen to the verdict."""

from __future__ import annotations

import pytest
from keyed_play import KeyedPlay, keyed_play, write_real_sheet
from label_fit import clipped_texts
from PySide6.QtCore import QPoint, QRect
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from window_play import newest

from brimline import paths
from brimline.procedure import events as ev
from brimline.procedure.events import Origin, Verdict
from brimline.procedure.state import Stage
from brimline.reading import Reading, SignalName, Way
from brimline.ui.samples.capture import EVERY_SIZE, settle
from brimline.ui.tokens import PALETTES
from brimline.ui.widgets.strip_chart import StripChart
from brimline.units import METRIC, US, UnitSystem


def keyed(play: KeyedPlay, signal: SignalName = SignalName.FLUID_TEMPERATURE) -> list[float]:
    record = play.bay.load(newest(play.bay))
    return [
        event.number or 0.0
        for event in record.events
        if isinstance(event, Reading) and event.signal is signal and event.way is Way.KEYED
    ]


@pytest.mark.parametrize("keyboard", [True, False], ids=["keyboard", "mouse"])
def test_a_whole_keyed_check_through_the_window(qtbot: QtBot, keyboard: bool) -> None:
    with keyed_play(keyboard=keyboard) as play:
        play.begin_keyed()
        assert play.window.check is not None
        assert play.window.check.strip is None  # no demonstration
        play.to_the_plug()
        play.finish()
        record = play.bay.load(newest(play.bay))
        assert record.header.verdict is Verdict.SET
        assert record.header.origin is Origin.TRAINING  # the sheet is invented
        assert record.header.technician == "R. Calloway"
        assert [event for event in record.events if isinstance(event, Reading)]
        assert keyed(play)[0] == 22.0
        assert keyed(play)[-1] == 71.0
        assert play.services.write_summary(record.header.number).stat().st_size > 1000


def test_a_sheet_that_is_not_invented_makes_a_keyed_record(qtbot: QtBot) -> None:
    sheet = write_real_sheet(paths.data_folder())
    with keyed_play() as play:
        play.begin_keyed(sheet)
        assert play.model.state.opened.origin is Origin.KEYED
        assert play.window.mark.isVisible()
        assert play.window.mark.text() == "Keyed readings"
        assert play.window.check is not None
        words = play.window.check.source.text()
        assert words == "By hand: fluid temperature, engine speed, selected range."


def test_time_goes_on_between_keyed_readings(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        play.pass_time(7)
        assert play.model.session.snapshot().state.now == 7.0


def test_the_countdown_says_when_the_next_reading_is_due(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        due = play.strip.due
        assert due.text() == "no reading yet: type one"
        play.key("22")
        assert due.text() == "next reading due in 1 min 00 s"
        play.pass_time(35)
        assert due.text() == "next reading due in 25 s"
        assert due.property("role") == "soft"
        play.pass_time(15)
        assert due.property("role") == "bad"
        play.pass_time(10)
        assert due.text() == "too old: read again"
        play.key("23 °C")
        assert due.text() == "next reading due in 1 min 00 s"


def test_bad_input_is_answered_in_one_sentence_and_nothing_is_taken(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        for typed, answer in (
            ("warm", "is not a temperature"),
            ("700", "cannot be a fluid temperature"),
            ("58 K", "is not a temperature"),
            ("", "Type the temperature"),
        ):
            play.key(typed)
            assert answer in play.strip.said.text()
            assert play.strip.said.isVisible()
            assert play.model.state.temperature.last is None
        play.key("22")
        assert not play.strip.said.isVisible()
        assert play.strip.temperature.text() == ""


def test_a_bare_number_is_in_the_unit_shown(qtbot: QtBot) -> None:
    with keyed_play(units=US) as play:
        play.begin_keyed()
        play.key("72")
        last = play.model.state.temperature.last
        assert last is not None
        assert last.number == pytest.approx((72 - 32) / 1.8)  # 72 °F


def test_a_value_out_of_reach_is_asked_about_beside_the_chart(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        play.key("58")
        play.pass_time(10)
        play.key("95")
        question = play.strip.question
        assert question.words.text() == "58 °C to 95 °C in 10 s: keep it?"
        assert QApplication.activeModalWidget() is None
        assert QApplication.focusWidget() is question.again  # Enter again keeps nothing
        chart = play.window.findChild(StripChart)
        assert chart is not None
        assert not _rect(chart).intersects(_rect(play.strip))
        assert _celsius(play) == 58.0
        play.hands.press(question.again)
        assert not question.isVisible()
        assert play.strip.temperature.text() == ""
        play.key("59")
        assert _celsius(play) == 59.0
        play.key("95")
        play.hands.press(question.keep)
        assert not question.isVisible()
        assert _celsius(play) == 95.0


def _celsius(play: KeyedPlay) -> float | None:
    last = play.model.state.temperature.last
    return None if last is None else last.number


def _rect(widget: QWidget) -> QRect:
    return QRect(widget.mapToGlobal(QPoint(0, 0)), widget.size())


def test_a_text_changed_under_the_question_is_never_kept_unasked(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        play.key("58")
        play.key("95")
        play.hands.type(play.strip.temperature, "150")
        assert not play.strip.question.isVisible()
        QTest.keyClick(play.strip.temperature, "\r")
        assert "150 °C" in play.strip.question.words.text()
        assert _celsius(play) == 58.0
        play.strip.temperature.setText("20")  # as no person can: the question is kept, not this
        play.hands.press(play.strip.question.keep)
        assert _celsius(play) == 150.0


def test_engine_and_idle_speed_stay_at_hand_with_the_plug_out(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        play.to_the_plug()
        play._PlugOut()
        strip = play.strip
        assert strip.temperature.isVisible()
        play.hands.type(strip.rpm, "fast")
        QTest.keyClick(strip.rpm, "\r")
        assert "not an engine speed" in strip.said.text()
        play.hands.type(strip.rpm, "655")
        QTest.keyClick(strip.rpm, "\r")
        assert play.model.state.engine.rpm == 655.0
        play.hands.press(strip.stopped)
        assert play.window.check is not None
        assert "Fluid is being lost: plug in" in play.window.check.alarms.words()
        assert not strip.stopped.isVisible()


def test_an_engine_that_rests_on_the_lift_starts_again_by_tap(qtbot: QtBot) -> None:
    with keyed_play() as play:
        play.begin_keyed()
        play.to_the_plug()
        play.hands.press(play.strip.stopped)
        assert play.model.state.stage is Stage.TEMPERATURE
        play.hands.press(play.strip.started)
        play.hands.type(play.strip.rpm, "640")
        QTest.keyClick(play.strip.rpm, "\r")
        play.key("70")
        for _ in range(3):
            play.pass_time(25)
            play.key("70")
        assert play.model.state.stage is Stage.PLUG_OUT


def test_a_stage_that_opens_while_somebody_types_leaves_the_keyboard(qtbot: QtBot) -> None:
    with keyed_play(keyboard=True) as play:
        play.begin_keyed()
        play.to_the_sensor()
        play.to_the_ground()
        play.to_the_lift()
        play.to_temperature()
        play.warm_up(62.0)
        assert play.model.state.stage is Stage.TEMPERATURE
        play.pass_time(15)
        play.hands.type(play.strip.temperature, "66")
        QTest.keyClick(play.strip.temperature, "\r")
        assert play.model.state.stage is Stage.PLUG_OUT
        assert QApplication.focusWidget() is play.strip.temperature
        QTest.keyClicks(play.strip.temperature, " ")
        assert not play.model.state.plug_is_out


@pytest.mark.parametrize("units", [METRIC, US], ids=["metric", "us"])
def test_no_text_is_cut_in_a_keyed_check(qtbot: QtBot, units: UnitSystem) -> None:
    misfits: list[str] = []

    def look(play: KeyedPlay, where: str) -> None:
        for each in EVERY_SIZE:
            play.window.resize(each.width, each.height)
            play.window.set_palette(each.palette)
            settle()
            assert play.window.size().width() == each.width
            assert play.window.size().height() == each.height
            misfits.extend(f"{where} {each.name}: {m}" for m in clipped_texts(play.window))
        play.window.resize(1280, 800)
        settle()

    with keyed_play(units=units) as play:
        play.begin_keyed()
        play.to_the_sensor()
        play.key("20 °C")
        play.key("95 °C")
        look(play, "question")
        play.hands.press(play.strip.question.again)
        play.key("hot")
        look(play, "sentence")
        play.to_the_ground()
        look(play, "ground")
        play.to_the_lift()
        play.to_temperature()
        play.warm_up()
        look(play, "plug out")
        play._PlugOut()
        assert play.model.tap(ev.EngineStopped)
        play.model.tap(ev.RangeSelected, range="R")
        look(play, "engine stopped")
    assert misfits == []


def test_what_is_typed_stands_upright_in_every_look(qtbot: QtBot) -> None:
    """The style sheet once gave back the slant that a field had when it was first dressed."""
    with keyed_play() as play:
        play.begin_keyed()
        settle()
        assert play.window.check is not None
        typed = play.window.check.by_hand.temperature
        typed.setText("58 °C")
        for look in (*PALETTES.values(), *PALETTES.values()):
            play.window.set_palette(look)
            settle()
            assert not typed.font().italic(), look.name
        typed.clear()
        assert typed.font().italic()
