"""What the chart tells of moments: marks, the forecast's crossings, the read-out, the zoom."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from live_play import LivePlay
from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from brimline.procedure import events as ev
from brimline.procedure.moments import Happening, Moment
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.ui.tokens import TOUCH, Palette
from brimline.ui.widgets.chart_words import (
    Note,
    TopWord,
    Words,
    beyond_place,
    placed_above,
    placed_inside,
)
from brimline.ui.widgets.strip_chart import StripChart
from brimline.units import METRIC, US, clock


@pytest.fixture
def chart(qtbot: QtBot, palette: Palette) -> StripChart:
    shown = StripChart(palette, METRIC)
    qtbot.addWidget(shown)
    shown.resize(800, 480)
    shown.show()
    QApplication.processEvents()
    return shown


def warming(live: LivePlay) -> Snapshot:
    """Fluid that will be in its band in two to three minutes."""
    return live.in_air().drive(180, 34, 53).foreseen()


def above_speed(chart: StripChart) -> list[str]:
    return [word.text for word, _ in placed_above(chart._written()[1])]


def move(chart: StripChart, x: float, y: float) -> None:
    """Move the mouse over the plots, also to where it was in the last test."""
    view, button = chart._canvas.viewport(), Qt.MouseButton.NoButton
    at = QPointF(x, y)
    keys = Qt.KeyboardModifier.NoModifier
    event = QMouseEvent(QEvent.Type.MouseMove, at, view.mapToGlobal(at), button, button, keys)
    QApplication.sendEvent(view, event)


def point_at(chart: StripChart, t: float) -> None:
    """Move the mouse over a moment of the check."""
    move(chart, chart._heat.place_of(t), 120)


# Marks


def test_what_happened_is_marked_and_named(chart: StripChart, live: LivePlay) -> None:
    live.in_air().drive(180, 34, 66)
    live.drive(20, 70, 70)
    live.taken(ev.PlugOut(t=live.t))
    chart.show_snapshot(live.snapshot())
    expected = [moment.t for moment in live.moments]
    assert len(expected) == 2
    for panel in (chart._heat, chart._speed):
        assert sorted(set(panel._marks.getData()[0])) == expected
    assert "Plug out" in above_speed(chart)


@given(
    st.lists(st.tuples(st.floats(0, 600), st.sampled_from(list(Happening))), max_size=60),
    st.integers(300, 2500),
)
def test_names_never_touch_and_are_never_cut(
    happened: list[tuple[float, Happening]], wide: int
) -> None:
    top = [TopWord(t, t, what.value.replace("_", " ")) for t, what in happened]
    words = Words(QRectF(56, 20, wide, 200), (0, 600), (0, 100), "Engine speed (rpm)", top=top)
    placed = placed_above(words)
    for (_, one), (_, other) in combinations(placed, 2):
        assert not one.intersects(other)
    for word, box in placed:
        assert words.area.left() <= box.left()
        assert box.right() <= words.area.right()
        assert box.left() <= 56 + word.start / 600 * wide <= box.right()


def test_of_marks_that_are_close_the_latest_is_named() -> None:
    top = [TopWord(t, t, f"at {t}") for t in (300.0, 302.0, 304.0, 550.0)]
    words = Words(QRectF(56, 20, 600, 200), (0, 600), (0, 100), "Engine speed (rpm)", top=top)
    assert [word.start for word, _ in placed_above(words)] == [550.0, 304.0]


# Where the forecast crosses the band


def test_entry_and_exit_are_marked_where_the_fan_crosses(chart: StripChart, live: LivePlay) -> None:
    snapshot = warming(live)
    outlook = snapshot.outlook
    assert outlook is not None
    assert outlook.entry is not None
    chart.show_snapshot(snapshot)
    t, y = chart._heat._crossed.getData()
    assert t[0] == pytest.approx(outlook.at + (outlook.entry.median or 0))
    assert y[0] == pytest.approx(65, abs=0.5)  # the band's lower end
    first, last = chart._heat._reaches.getData()[0][:2]
    assert first == pytest.approx(outlook.at + outlook.entry.low)
    assert last == pytest.approx(min(outlook.at + outlook.entry.high, chart._heat.x[1]))
    (told, *_) = chart._written()[0].notes
    assert told.text.startswith("Enters about ")
    assert "–" in told.text
    chart.set_units(US)
    assert chart._heat._crossed.getData()[1][0] == pytest.approx(149, abs=1)


def test_the_moments_are_told_no_finer_than_they_are_known(
    chart: StripChart, live: LivePlay
) -> None:
    chart.show_snapshot(warming(live))
    for note in chart._written()[0].notes:
        times = [word.strip("()") for word in note.text.replace("–", " ").split() if ":" in word]
        assert times
        assert all(int(time.split(":")[1]) % 10 == 0 for time in times)


def test_no_crossing_outlasts_its_forecast(chart: StripChart, live: LivePlay) -> None:
    snapshot = warming(live)
    chart.show_snapshot(snapshot)
    assert len(chart._heat._crossed.getData()[0])
    live.wait(30)
    chart.show_snapshot(replace(snapshot, state=live.state))
    assert len(chart._heat._crossed.getData()[0]) == 0
    assert not chart._heat._crossed.isVisible()
    assert not chart._written()[0].notes


@given(st.floats(0, 700), st.floats(-20, 120), st.booleans(), st.integers(300, 2500))
def test_notes_stay_inside_their_panel(at: float, value: float, above: bool, wide: int) -> None:
    area = QRectF(56, 20, wide, 150)
    note = Note(at, value, "Enters about 13:30 (12:00–15:30)", above)
    for _, box in placed_inside(Words(area, (0, 600), (0, 100), notes=[note, note])):
        assert area.contains(box)


# The read-out


def test_the_read_out_tells_the_moment_under_the_mouse(chart: StripChart, live: LivePlay) -> None:
    live.in_air().drive(180, 34, 66)
    live.drive(20, 70, 70)
    live.taken(ev.PlugOut(t=live.t))
    snapshot = live.drive(20, 70, 70).snapshot()
    chart.show_snapshot(snapshot)
    assert chart.read_out.isHidden()
    out = live.state.plug_spans[0].since
    point_at(chart, out + 1)
    said = chart.read_out.text().splitlines()
    minutes, seconds = said[0].split()[0].split(":")
    assert abs(int(minutes) * 60 + int(seconds) - out) <= 3
    assert said[1] in {f"{celsius / 10:.1f} °C, good reading" for celsius in range(690, 711)}
    assert said[2].endswith(" rpm")
    assert f"{clock(out)}  Plug out" in said
    chart.set_units(US)
    assert "°F, good reading" in chart.read_out.text()
    assert chart._heat._looked_at.isVisible()
    QApplication.sendEvent(chart._canvas.viewport(), QEvent(QEvent.Type.Leave))
    assert chart.read_out.isHidden()
    assert not chart._heat._looked_at.isVisible()


def test_the_read_out_never_leaves_the_chart(chart: StripChart, live: LivePlay) -> None:
    chart.show_snapshot(warming(live))
    view = chart._canvas.viewport()
    for x in (0, view.width() // 2, view.width() - 1):
        for y in (0, view.height() // 2, view.height() - 1):
            move(chart, x, y)
            assert view.rect().contains(chart.read_out.geometry())
            assert chart.read_out.width() >= chart.read_out.sizeHint().width()


def test_where_nothing_was_read_it_says_so_and_ahead_what_is_expected(
    chart: StripChart, live: LivePlay
) -> None:
    live.in_air().drive(180, 34, 53)
    gap = live.t + 15
    live.wait(30)
    snapshot = live.drive(30, 56, 58).foreseen()
    chart.show_snapshot(snapshot)
    point_at(chart, gap)
    assert "no good reading" in chart.read_out.text()
    point_at(chart, snapshot.state.now + 60)
    course = snapshot.course
    assert course is not None
    middle = float(np.interp(snapshot.state.now + 60, course.times, course.quantiles[1]))
    assert chart.read_out.text().splitlines()[1].startswith("expected ")
    assert abs(int(chart.read_out.text().split("expected ")[1].split()[0]) - middle) <= 1


def test_the_arrow_keys_go_from_moment_to_moment(
    chart: StripChart, live: LivePlay, qtbot: QtBot
) -> None:
    snapshot = replace(
        live.in_air().drive(180, 34, 53).snapshot(),
        moments=(Moment(60.0, Happening.ENGINE_STOPPED), Moment(90.0, Happening.ENGINE_STARTED)),
    )
    chart.show_snapshot(snapshot)
    told = []
    for key in (Qt.Key.Key_End, Qt.Key.Key_PageUp, Qt.Key.Key_PageUp, Qt.Key.Key_Right,
                Qt.Key.Key_Left, Qt.Key.Key_Home):  # fmt: skip
        qtbot.keyClick(chart, key)
        told.append(chart.read_out.text().split()[0])
    now = clock(snapshot.state.now)
    assert told == [now, "1:30", "1:00", "1:10", "1:00", "0:00"]
    qtbot.keyClick(chart, Qt.Key.Key_Escape)
    assert chart.read_out.isHidden()


# The zoom


def test_the_zoom_shows_the_band_with_a_margin_and_back(
    chart: StripChart, live: LivePlay, qtbot: QtBot
) -> None:
    chart.show_snapshot(warming(live))
    before = chart._heat.y
    qtbot.mouseClick(chart.zoom_button, Qt.MouseButton.LeftButton)
    assert chart._heat.y == (60, 90)  # 65 to 85 °C
    beyond = chart._written()[0].beyond
    assert beyond is not None
    assert not beyond.up
    celsius = live.snapshot().traces[SignalName.FLUID_TEMPERATURE][1][-1]
    assert beyond.text == f"{celsius:.1f} °C"
    chart.set_units(US)
    assert chart._heat.y[0] < 149  # 65 °C
    assert chart._heat.y[1] > 185
    qtbot.keyClick(chart, Qt.Key.Key_B)
    chart.set_units(METRIC)
    assert chart._heat.y == before
    assert chart._written()[0].beyond is None


def test_a_lost_reading_beyond_the_zoom_is_in_brackets(chart: StripChart, live: LivePlay) -> None:
    snapshot = warming(live)
    chart.set_zoomed(True)
    live.wait(30)
    chart.show_snapshot(replace(snapshot, state=live.state))
    beyond = chart._written()[0].beyond
    assert beyond is not None
    assert beyond.text.startswith("(")


@pytest.mark.parametrize("up", [False, True])
def test_the_arrow_and_its_number_stay_inside(chart: StripChart, live: LivePlay, up: bool) -> None:
    chart.set_zoomed(True)
    low, high = (110, 100) if up else (24, 24)
    chart.show_snapshot(live.drive(5, low, high).snapshot())
    words = chart._written()[0]
    assert words.beyond is not None
    assert words.beyond.up is up
    arrow, box = beyond_place(words, words.beyond)
    assert words.area.contains(box)
    assert words.area.contains(arrow.boundingRect())
    assert arrow.boundingRect().top() < words.area.top() + 2 or not up
    assert not box.intersects(arrow.boundingRect())


def test_buttons_are_large_enough_for_gloves(chart: StripChart) -> None:
    for button in (chart.zoom_button, chart.whole_button):
        assert button.height() >= TOUCH
        size = button.fontMetrics().size(0, button.text())
        assert size.width() < button.width()
        assert size.height() < button.height()
