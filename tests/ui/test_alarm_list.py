"""The list of alarms: order, words, places under a finger, and no flapping."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from itertools import pairwise

import pytest
from check_play import Play
from edge_play import JITTERS, EdgePlay
from label_fit import clipped_texts
from live_play import LivePlay
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from test_check_in_window import window_play
from test_hard_cases_in_window import play_until, screen
from window_hands import MadeTime

from brimline.paths import resources
from brimline.procedure import events as ev
from brimline.procedure.names import Alarm
from brimline.procedure.state import Cause, CheckState, Latched, StandingAlarm
from brimline.reading import Reading, SignalName, Way
from brimline.session import NotSaved, Snapshot
from brimline.ui import theme
from brimline.ui.hands.held_key import BOUNCE_S
from brimline.ui.hands.one_button import NEW_S
from brimline.ui.samples.capture import settle
from brimline.ui.screens.check.alarm_list import AlarmList
from brimline.ui.tokens import PALETTES

ENGINE, PLUG, LOST = Alarm.ENGINE_STOPPED, Alarm.PLUG_IN, Alarm.READINGS_LOST


class Model:
    """What the list asks of its model: taps, that go to a check."""

    def __init__(self, play: Play) -> None:
        self.play = play
        self.taps: list[Alarm] = []

    def tap(self, kind: type, **fields: Alarm) -> bool:
        self.taps.append(fields["alarm"])
        self.play.do(kind(t=self.play.t, **fields))
        return not self.play.refused()


class Shown:
    """The list of a check, as wide as the window at 1280 px."""

    def __init__(self, qtbot: QtBot, play: Play) -> None:
        self.clock = MadeTime()
        self.play = play
        self.model = Model(play)
        self.list = AlarmList(self.model, self.clock)  # type: ignore[arg-type]
        qtbot.addWidget(self.list)
        self.list.resize(1264, 300)

    def look(self, state: CheckState | None = None) -> None:
        snapshot = Snapshot(state or self.play.state, (), {}, 0)
        self.list.show_snapshot(snapshot)
        QApplication.processEvents()

    def later(self, seconds: float) -> None:
        self.clock.now += seconds
        self.look()

    @property
    def words(self) -> list[str]:
        return self.list.words().split("\n")


@pytest.fixture(params=sorted(PALETTES))
def look(request: pytest.FixtureRequest, qapp: QApplication, qtbot: QtBot) -> object:
    theme.load_fonts(resources() / "fonts")
    before = qapp.palette(), qapp.font(), qapp.style().objectName()
    theme.apply(qapp, PALETTES[request.param])
    yield request.param
    qapp.setStyleSheet("")
    qapp.setStyle(before[2])
    qapp.setPalette(before[0])
    qapp.setFont(before[1])


def at_open_plug() -> LivePlay:
    play = LivePlay().in_air()
    play.drive(60, 40, 70).drive(15, 70, 70)
    play.plug_out()
    return play


def with_three(state: CheckState) -> CheckState:
    """All alarms at once, each in another state."""
    now = state.now
    standing = (
        StandingAlarm(ENGINE, now - 12),
        StandingAlarm(LOST, now - 75, acknowledged=True),
        StandingAlarm(PLUG, now - 600, active=False),
    )
    causes = (Latched(Cause.ENGINE_STOPPED, now - 12),)
    return replace(state, standing=standing, latched=causes, alarms=frozenset({ENGINE, LOST}))


def test_each_says_where_it_stands_by_word_symbol_and_frame(qtbot: QtBot, look: object) -> None:
    shown = Shown(qtbot, at_open_plug())
    state = shown.play.state
    shown.look(with_three(state))
    shown.list.show()
    QApplication.processEvents()
    assert shown.list.order == [ENGINE, LOST, PLUG]
    rows = [shown.list.rows[alarm] for alarm in shown.list.order]
    assert [row.phase.text() for row in rows] == ["NEW", "acknowledged", "over, not acknowledged"]
    assert [row.since.text() for row in rows] == [
        "for 0:12 (min:s)", "for 1:15 (min:s)", "for 10:00 (min:s)",
    ]  # fmt: skip
    assert len({row.property("role") for row in rows}) == 3
    assert len({row.sign._shape for row in rows}) == 3
    assert [row.acknowledge.isVisible() for row in rows] == [True, False, True]
    assert rows[0].acknowledge.text() == "Acknowledge (F6)"
    assert rows[2].acknowledge.text() == "Acknowledge"
    assert "Fluid is being lost: plug in" in rows[0].to_do.text()
    assert all(row.to_do.text() for row in rows)
    assert clipped_texts(shown.list) == []
    pictures = [row.sign.grab().toImage() for row in rows]
    assert all(one != other for one, other in pairwise(pictures))
    # Steady: nothing blinks, so nothing can blink too fast (WCAG 2.1, success criterion 2.3.1).
    before = shown.list.grab().toImage()
    for _ in range(12):
        shown.clock.now += 0.1
        shown.look(with_three(state))
        assert shown.list.grab().toImage() == before


def test_lost_readings_say_what_to_do_and_when(qtbot: QtBot) -> None:
    shown = Shown(qtbot, at_open_plug())
    play = shown.play
    play.wait(6)
    shown.look()
    assert shown.list.order == [LOST]
    # 20 s after the last one the far view asks for the plug as well
    assert "Plug in if no reading comes within 14 s" in shown.words[0]
    play.wait(14)
    shown.look()
    assert shown.words[0].endswith("No readings come: put the plug in.")
    assert isinstance(play, LivePlay)
    play.drive(3, 70, 70)
    shown.look()
    assert shown.words[0].endswith("Readings come again. Wait until they hold.")
    play.drive(12, 70, 70)
    shown.look()
    assert shown.list.order == []
    assert not shown.list.isVisibleTo(shown.list.parentWidget())


def test_keyed_readings_that_grow_old_ask_for_another(qtbot: QtBot) -> None:
    play = Play(())
    play.identified()
    play.do(play.celsius(22.0, way=Way.KEYED))
    play.taken(ev.SensorChecked(t=play.t, ambient=21.0, rested=True))
    play.on_the_ground()
    play.raised()
    for _ in range(2):
        play.wait(12)
        play.do(play.celsius(70.0, way=Way.KEYED))
    play.plug_out().wait(61)
    shown = Shown(qtbot, play)
    shown.look()
    assert "Key in the fluid temperature now, or put the plug in." in shown.words[0]


def test_an_engine_that_is_not_heard_is_looked_at(qtbot: QtBot) -> None:
    shown = Shown(qtbot, at_open_plug())
    for _ in range(8):
        shown.play.t += 1
        shown.play.do(shown.play.celsius(70.0))
    shown.look()
    assert "Look whether the engine runs. Plug in if" in shown.words[0]


def test_the_key_takes_the_most_urgent_that_was_to_be_read(qtbot: QtBot) -> None:
    play = at_open_plug()
    shown = Shown(qtbot, play)
    for _ in range(2):
        play.t += 0.5
        play.do(Reading(play.t, SignalName.ENGINE_SPEED, 0.0))
    shown.look()
    assert shown.list.order == [ENGINE, PLUG]
    shown.list.acknowledge_first()
    assert shown.model.taps == []  # it has only just come
    shown.later(NEW_S + 0.01)
    shown.list.acknowledge_first()
    shown.look()
    assert shown.model.taps == [ENGINE]
    assert shown.list.rows[PLUG].acknowledge.text() == "Acknowledge (F6)"
    shown.list.acknowledge_first()
    shown.look()
    shown.list.acknowledge_first()
    assert shown.model.taps == [ENGINE, PLUG]
    assert [row.phase.text() for row in shown.list.rows.values() if row.alarm is not LOST] == [
        "acknowledged", "acknowledged",
    ]  # fmt: skip


def test_rows_keep_their_places_under_a_finger(qtbot: QtBot) -> None:
    shown = Shown(qtbot, at_open_plug())
    state = shown.play.state
    plug = StandingAlarm(PLUG, 1.0)
    shown.look(replace(state, standing=(plug,)))
    shown.list.show()
    press = shown.list.rows[PLUG].acknowledge
    QTest.mousePress(press, Qt.MouseButton.LeftButton)
    engine = StandingAlarm(ENGINE, 2.0)
    shown.look(replace(state, standing=(engine, plug)))
    assert shown.list.order == [PLUG, ENGINE]  # the more urgent one has to wait below
    assert shown.list.rows[ENGINE].isVisible()
    at = press.mapTo(shown.list, press.rect().topLeft())
    QTest.mouseRelease(press, Qt.MouseButton.LeftButton)
    assert shown.model.taps == [PLUG]
    shown.clock.now += BOUNCE_S - 0.1
    shown.look(replace(state, standing=(engine,)))  # it has ended, and its place stands empty
    assert shown.list.order == [PLUG, ENGINE]
    assert shown.list.rows[PLUG].phase.text() == "ended"
    assert not press.isVisible()
    assert press.mapTo(shown.list, press.rect().topLeft()) == at
    shown.clock.now += 0.2
    shown.look(replace(state, standing=(engine,)))
    assert shown.list.order == [ENGINE]


def test_a_button_that_goes_hands_the_keyboard_to_no_other(qtbot: QtBot) -> None:
    shown = Shown(qtbot, at_open_plug())
    state = shown.play.state
    both = (StandingAlarm(ENGINE, 2.0), StandingAlarm(PLUG, 1.0))
    shown.look(replace(state, standing=both))
    shown.list.show()
    shown.list.activateWindow()
    press = shown.list.rows[ENGINE].acknowledge
    press.setFocus()
    QTest.keyClick(press, Qt.Key.Key_Space)
    assert shown.model.taps == [ENGINE]
    assert QApplication.focusWidget() is shown.list


def test_in_older_records_alarms_stand_while_their_condition_does(qtbot: QtBot) -> None:
    play = at_open_plug()
    shown = Shown(qtbot, play)
    opened = replace(play.state.opened, procedure=4)
    causes = (Latched(Cause.BAND_LEFT, 1.0),)
    shown.look(replace(play.state, opened=opened, alarms=frozenset({PLUG}), latched=causes))
    row = shown.list.rows[PLUG]
    assert shown.list.order == [PLUG]
    assert (row.phase.text(), row.since.text()) == ("stands", "")
    assert row.acknowledge.isHidden()
    assert "Pump off, plug in" in row.to_do.text()


@pytest.mark.parametrize("jitter", sorted(JITTERS))
def test_jitter_flaps_no_row(qtbot: QtBot, jitter: str) -> None:
    """Out of the band and back with the plug out: one row comes, and stays until it is heard."""
    play = EdgePlay().at_temperature(83.0)
    play.plug_out()
    shown = Shown(qtbot, play)
    seen: list[tuple[list[Alarm], list[str]]] = []

    def note() -> None:
        shown.list.show_snapshot(Snapshot(play.state, (), {}, 0))
        rows = [shown.list.rows[alarm] for alarm in shown.list.order]
        now = (list(shown.list.order), [row.phase.text() for row in rows])
        if not seen or seen[-1] != now:
            seen.append(now)

    for start, end in ((83.0, 89.0), (89.0, 82.0)):
        for step in range(30):
            shown.clock.now += 2.0
            low = start + (end - start) * step / 30
            play.ramp(low, low + (end - start) / 30, 2.0, 2.0, jitter, step)
            note()
    assert seen == [([], []), ([PLUG], ["NEW"])]
    shown.later(1.0)
    shown.list.acknowledge_first()
    note()
    assert seen[-1] == ([PLUG], ["acknowledged"])


def test_three_at_once_and_a_disk_that_refuses_cover_nothing(qtbot: QtBot) -> None:
    with window_play("K5", "", keyboard=False) as play:
        play_until(play, lambda: play.model.state.plug_is_out)
        play.model.stop()  # nothing else is shown from now on
        check = screen(play)
        check.distances.leave()
        snapshot = play.model.session.snapshot()
        at = datetime(2026, 5, 4, 8, 30, tzinfo=UTC)
        bad = replace(
            snapshot,
            state=with_three(snapshot.state),
            not_saved=NotSaved(at, 14, "The records' disk is full."),
        )
        for palette in PALETTES.values():
            play.window.set_palette(palette)
            check._show(bad)
            settle()
            rows = [check.alarms.rows[alarm] for alarm in check.alarms.order]
            assert len(rows) == 3
            for part in (*rows, check.not_saved, check.abort, check.figures._heat):
                assert part.visibleRegion().boundingRect() == part.rect(), part
            assert clipped_texts(check.alarms) == []
            # They stand above the chart, never on it.
            low = max(row.mapTo(check, row.rect().bottomLeft()).y() for row in rows)
            assert low < check.whole.mapTo(check, check.whole.rect().topLeft()).y()
