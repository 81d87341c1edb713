"""Signals that stay silent in a running check: what is offered, what giving one up means."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from check_play import GOOD, Play
from label_fit import clipped_texts
from PySide6.QtCore import QPoint, QRect
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget
from pytestqt.qtbot import QtBot
from test_check_in_window import record_of, window_play
from test_hard_cases_in_window import in_drawer, play_until, screen
from window_play import WindowPlay

from brimline.procedure import events as ev
from brimline.procedure import facts, silence
from brimline.procedure.events import Flow
from brimline.procedure.state import Stage
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.ui.samples.capture import EVERY_SIZE, settle
from brimline.ui.screens.check.silent_bar import GiveUpDrawer

HEAT, ENGINE, RANGE = SignalName.FLUID_TEMPERATURE, SignalName.ENGINE_SPEED, SignalName.RANGE


class Muted:
    """The readings of a bus from which some signals no longer come."""

    def __init__(self, play: WindowPlay, *signals: SignalName, lost: str = "") -> None:
        self._real, self.signals, self._lost = play.controls, signals, lost
        play.model.session.readings = self

    def pump(self, now: float) -> Iterable[Reading]:
        return [r for r in self._real.pump(now) if r.signal not in self.signals]

    @property
    def lost(self) -> str:
        return self._lost


def wait(play: WindowPlay, seconds: int) -> None:
    for _ in range(seconds):
        play.clock.now += 1
        play.model.step()
    QApplication.processEvents()


def drawer(play: WindowPlay) -> GiveUpDrawer:
    found = screen(play)._drawer
    assert isinstance(found, GiveUpDrawer)
    return found


def where_on_screen(widget: QWidget) -> QRect:
    return QRect(widget.mapToGlobal(QPoint(0, 0)), widget.size())


def seen_of(widget: QWidget) -> QRect:
    """Return where that part of a widget is that its scrolling parents do not hide."""
    seen = where_on_screen(widget)
    parent = widget.parentWidget()
    while parent is not None:
        if isinstance(parent, QScrollArea):
            seen = seen.intersected(where_on_screen(parent))
        parent = parent.parentWidget()
    return seen


def test_a_silent_temperature_is_offered_and_keyed_from_then_on(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.TEMPERATURE)
        Muted(play, HEAT)
        bar = screen(play).silent
        wait(play, 18)
        assert not bar.isVisible()  # a connection that is reopened is back by then
        wait(play, 5)
        assert bar.words.text().startswith("No usable fluid temperature from the vehicle for 2")
        assert not screen(play).by_hand.heat.isVisible()
        play.hands.press(bar.offers[HEAT])
        assert "For the rest of this check only what you key counts" in drawer(play).meaning.text()
        assert "record says so" in drawer(play).meaning.text()
        play.hands.press(in_drawer(play, "Give it up for this check"))
        assert not facts.is_measured(play.model.state, HEAT)
        assert not bar.isVisible()
        strip = screen(play).by_hand
        assert strip.due.text() == "no reading yet: type one"
        play.hands.type(strip.temperature, "50 °C")
        strip.take()
        Muted(play)  # the bus is back, and counts for this no more
        wait(play, 10)
        last = play.model.state.temperature.last
        assert last is not None
        assert (last.number, last.way) == (50.0, Way.KEYED)
        charted = play.model.session.snapshot().traces[HEAT]
        assert charted[1][-1] == 50.0
        play.hands.press(screen(play).abort)
        play.stop_in_drawer()
        play.hands.press(play.page.finish)
        given_up = [e for e in record_of(play).events if isinstance(e, ev.SignalWithdrawn)]
        assert [(e.signal, e.reason[:28]) for e in given_up] == [
            (HEAT, "no usable fluid temperature ")
        ]


def test_a_silent_signal_that_comes_again_takes_its_offer_back(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.TEMPERATURE)
        Muted(play, HEAT)
        wait(play, 25)
        play.hands.press(screen(play).silent.offers[HEAT])
        Muted(play)
        wait(play, 3)
        assert not screen(play).silent.isVisible()
        assert "It comes again" in drawer(play).again.text()
        play.hands.press(in_drawer(play, "Back"))
        assert facts.is_measured(play.model.state, HEAT)


def test_nothing_is_given_up_without_a_reason(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.TEMPERATURE)
        Muted(play, HEAT)
        wait(play, 25)
        play.hands.press(screen(play).silent.offers[HEAT])
        drawer(play).why.clear()
        play.hands.press(in_drawer(play, "Give it up for this check"))
        assert facts.is_measured(play.model.state, HEAT)
        assert "A reason and a name must be given" in screen(play).said.text()


def test_engine_and_selector_go_on_by_taps(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.PLUG_OUT)
        Muted(play, ENGINE, RANGE)
        wait(play, 25)
        bar, strip = screen(play).silent, screen(play).by_hand
        assert "engine speed and selected range" in bar.words.text()
        for signal in (ENGINE, RANGE):
            play.hands.press(bar.offers[signal])
            play.hands.press(in_drawer(play, "Give it up for this check"))
        assert play.model.state.stage is Stage.TEMPERATURE
        play.hands.press(strip.park)
        play.hands.press(strip.started)
        play.hands.type(strip.rpm, "650 rpm")
        strip._note_rpm()
        wait(play, int(play.model.state.sheet.idle.circulation_after_stop) + 2)
        assert play.model.state.stage is Stage.PLUG_OUT
        assert not strip.park.isVisible()


def test_on_the_ground_the_page_offers_taps_for_what_was_given_up(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.PRECONDITION)
        QApplication.processEvents()
        assert not [b for b in play.page.findChildren(type(play.window.leave)) if
                    b.text() == "Engine started" and b.isVisible()]  # fmt: skip
        assert play.model.tap(ev.SignalWithdrawn, signal=ENGINE, reason="unplugged")
        QApplication.processEvents()
        assert play._button("Engine started").isVisible()
        assert play.page.idle.isVisible()


def test_a_lost_bus_says_so_and_the_check_goes_on_by_itself(qtbot: QtBot) -> None:
    sentence = "The connection to the vehicle's bus is lost; it is tried again by itself."
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.stage is Stage.TEMPERATURE)
        Muted(play, *SignalName, lost=sentence)
        wait(play, 15)
        assert screen(play).trouble.text() == sentence
        assert screen(play).trouble.isVisible()
        assert facts.temperature(play.model.state) is None
        Muted(play)
        wait(play, 3)
        assert not screen(play).trouble.isVisible()
        assert facts.temperature(play.model.state) is not None


def test_no_text_is_cut_while_everything_is_silent(qtbot: QtBot) -> None:
    misfits: list[str] = []
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.plug_is_out)
        lost = (
            "The connection to the vehicle's bus is lost; it is tried again by itself. Check the "
        )
        Muted(play, *SignalName, lost=f"{lost}adapter and its cable.")
        wait(play, 30)

        def look(where: str) -> None:
            for each in EVERY_SIZE:
                play.window.resize(each.width, each.height)
                play.window.set_palette(each.palette)
                settle()
                assert (play.window.width(), play.window.height()) == (each.width, each.height)
                if screen(play).by_hand.isVisible():
                    covered = where_on_screen(screen(play).by_hand)
                    assert not covered.intersects(seen_of(screen(play).chart))
                misfits.extend(f"{where} {each.name}: {m}" for m in clipped_texts(play.window))
            play.window.resize(1280, 800)
            settle()

        look("silent")
        play.hands.press(screen(play).silent.offers[HEAT])
        look("asked")
        play.hands.press(in_drawer(play, "Give it up for this check"))
        look("given up")
    assert misfits == []


@pytest.mark.parametrize(("signal", "stage"), [(HEAT, Stage.SENSOR), (ENGINE, Stage.PRECONDITION)])
def test_nothing_is_offered_before_a_signal_is_needed(signal: SignalName, stage: Stage) -> None:
    play = Play(measured=(HEAT, ENGINE, RANGE)).wait(100)
    assert silence.silent_signals(play.state) == ()  # the ignition may be off
    play.identified().wait(1)
    if stage is Stage.PRECONDITION:
        play.sensor_trusted().wait(25)
    assert play.state.stage is stage
    assert signal in silence.silent_signals(play.state)


def test_nothing_is_offered_once_the_work_at_the_plug_is_over() -> None:
    play = Play().ready().plug_out().flow(Flow.DRIPS, 1.0)
    play.taken(ev.FirstLook(t=play.t, findings=GOOD, drawn_sample=False)).flow(Flow.DRIPS, 1.0)
    assert play.state.level.reached_at is not None
    play.wait(25)
    assert silence.silent_signals(play.state) == (HEAT,)
    play.do(play.celsius(70.0)).taken(ev.PlugIn(t=play.t)).wait(60)
    assert play.state.end is not None
    assert silence.silent_signals(play.state) == ()


def test_readings_that_cannot_be_used_are_silence_too() -> None:
    play = Play().identified()
    play.do(play.celsius(22.0))
    for _ in range(21):
        play.t += 1
        play.do(play.celsius(22.0, Quality.FROZEN))
    assert silence.silent_signals(play.state) == (HEAT,)
    assert silence.heard_at(play.state, HEAT) == 0.0
    play.do(play.celsius(23.0))
    assert silence.silent_signals(play.state) == ()
