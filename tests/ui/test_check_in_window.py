"""Whole checks in the real window, by keyboard alone and by mouse alone, on a simulated vehicle."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime

import pytest
from label_fit import clipped_texts
from PySide6.QtCore import QEvent, QTimer
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from window_hands import MadeTime
from window_play import TICK_S, WindowPlay, newest, warm_arrival

from brimline.demo import simulated_bay
from brimline.headless.technician import Act, DoTap, Technician
from brimline.procedure.events import CheckOpened, Event, Verdict
from brimline.procedure.state import Stage
from brimline.records.model import Record
from brimline.session import CheckSession
from brimline.simulator.vehicle import make_vehicle
from brimline.ui.samples.capture import EVERY_SIZE, settle

KEYBOARD, MOUSE = True, False
WAYS = [
    ("", (KEYBOARD, MOUSE), Verdict.CORRECTED),  # runs off more than the acceptance
    ("low", (KEYBOARD, MOUSE), Verdict.CORRECTED),  # topped up
    ("coolant", (KEYBOARD,), Verdict.REFERRED),
    ("hot-arrival", (MOUSE,), Verdict.CORRECTED),
]
"""What is wrong, by what hands it is checked, and what comes of it."""


@contextmanager
def window_play(family: str, fault: str, *, keyboard: bool) -> Iterator[WindowPlay]:
    play = WindowPlay(family, fault, keyboard=keyboard)
    try:
        yield play
    finally:
        play.window.end_check()
        play.window.close()
        play.window.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


class ListJournal:
    """Keeps events in memory."""

    def __init__(self) -> None:
        self.events: list[Event] = []

    def begin(self, opened: CheckOpened, wall: datetime) -> None:
        assert wall == opened.opened_at
        self.events.append(opened)

    def append(self, event: Event, _wall: datetime) -> None:
        self.events.append(event)

    def save_due(self) -> None:
        """Nothing waits."""

    @property
    def error(self) -> None:
        return None


def without_window(opened: CheckOpened, family: str, fault: str) -> list[Event]:
    """The same check by the same technician on the same vehicle, without any window."""
    clock, journal = MadeTime(), ListJournal()
    with warm_arrival():
        vehicle = make_vehicle(family, fault or None)
    with simulated_bay(vehicle) as bay:
        session = CheckSession(opened, journal, bay, clock, tapped=bay.tapped)
        technician = Technician(bay.bench)
        session.step()
        while session.state.closed is None:
            clock.now += TICK_S
            session.step()
            deed = technician.next_deed(session.state, bay.view)
            if isinstance(deed, DoTap):
                assert not session.tap(deed.kind, **deed.fields)
            elif isinstance(deed, Act):
                bay.act(deed.name)
            elif deed is not None:
                session.close()
            session.step()
    return journal.events


def record_of(play: WindowPlay) -> Record:
    return play.bay.load(newest(play.bay))


@pytest.mark.long
@pytest.mark.parametrize(
    ("fault", "hands", "verdict"), WAYS, ids=[fault or "runs-off" for fault, *_ in WAYS]
)
def test_a_whole_check_through_the_window(
    qtbot: QtBot, fault: str, hands: tuple[bool, ...], verdict: Verdict
) -> None:
    """By keyboard alone, by mouse alone and without a window: the same record, event by event."""
    headless: list[Event] = []
    for keyboard in hands:
        with window_play("K5", fault, keyboard=keyboard) as play:
            play.play()
            record = record_of(play)
            assert record.header.verdict is verdict
            opened = record.events[0]
            assert isinstance(opened, CheckOpened)
            assert opened.source.startswith("a simulated vehicle")
            headless = headless or without_window(opened, "K5", fault)
        # Where the bus lies differs from run to run, and the number of the check.
        assert list(record.events)[1:] == headless[1:]


@pytest.mark.long
def test_no_text_is_cut_on_any_screen(qtbot: QtBot) -> None:
    misfits: list[str] = []
    with window_play("K7", "low", keyboard=False) as play:
        seen: set[tuple[Stage, bool, bool]] = set()

        def look() -> None:
            state = play.model.state
            assert play.window.check is not None
            is_far = play.window.check.distances.is_far
            key = (state.stage, state.level.pump_since is not None, is_far)
            if key in seen:
                return
            seen.add(key)
            for each in EVERY_SIZE:
                play.window.resize(each.width, each.height)
                play.window.set_palette(each.palette)
                settle()
                misfits.extend(
                    f"{state.stage} {each.name}: {m}" for m in clipped_texts(play.window)
                )
            play.window.resize(1280, 800)
            settle()

        play.play(look)
        look()
        play.window.leave.click()
        settle()
        misfits.extend(clipped_texts(play.window))
        assert {stage for stage, *_ in seen} == set(Stage)
    assert misfits == []


def test_a_window_with_a_running_check_asks_before_it_closes(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        for _ in range(5):
            play.clock.now += 1
            play.model.step()
        play.window.close()
        assert play.window.isVisible()
        assert play.window.check is not None
        assert "Stop it first" in play.window.check.said.text()
        play.stop_in_drawer()
        play.window.close()
        assert play.window.isVisible()  # stopped, and not sealed yet
        play.hands.press(play.page.finish)
        play.window.close()
        assert not play.window.isVisible()
        assert record_of(play).header.verdict is Verdict.STOPPED


def test_running_check_after_check_leaves_nothing_behind(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        counts = []
        for _ in range(3):
            play.abort()
            play.begin("K5", "")
            counts.append(
                (len(play.window.findChildren(QWidget)), len(play.window.findChildren(QTimer)))
            )
    assert counts[0] == counts[1] == counts[2]


def test_bad_input_is_answered_in_a_sentence_and_loses_nothing(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=True) as play:
        page, hands = play.page, play.hands
        hands.type(page.vin, "0THFC3K7IRL104218")
        hands.type(page.work_order, "W-7")
        hands.press(play._button("Identify the vehicle"))
        assert play.window.check is not None
        said = play.window.check.said
        assert said.isVisible()
        assert "without I, O and Q" in said.text()
        assert page.work_order.text() == "W-7"
        hands.type(page.vin, "0THFC3K71RL104218")
        hands.type(page.odometer, "far")
        hands.press(play._button("Identify the vehicle"))
        assert "not a number with a unit" in said.text()
        hands.type(page.odometer, "52326 mi")
        hands.press(play._button("Identify the vehicle"))
        assert not said.isVisible()
        assert play.model.state.vehicle is not None
        assert play.model.state.vehicle.odometer_km == pytest.approx(84210, abs=1)
