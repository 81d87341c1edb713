"""The strip chart shows what the check knows, in items that are made once."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from live_play import LivePlay
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from brimline.estimate.warm_up import Basis
from brimline.procedure import events as ev
from brimline.session import Snapshot
from brimline.ui.tokens import DARK, FAN_ALPHA, LIGHT, Palette
from brimline.ui.widgets.chart_words import Words, text_width
from brimline.ui.widgets.strip_chart import StripChart
from brimline.units import METRIC, US

WAITING = "Waiting for the first reading: ignition on"
EXPECTED = "Expected"


@pytest.fixture
def chart(qtbot: QtBot, palette: Palette) -> StripChart:
    shown = StripChart(palette, METRIC)
    qtbot.addWidget(shown)
    shown.resize(800, 480)
    shown.show()
    QApplication.processEvents()
    return shown


def curve(chart: StripChart, panel: int = 0) -> tuple[Any, Any]:
    """What the trace of a panel was fed with."""
    drawn = [chart._heat, chart._speed][panel]._curve.getOriginalDataset()
    return ([], []) if drawn[0] is None else drawn


def around(chart: StripChart) -> Words:
    """What is written around the temperature."""
    return chart._written()[0]


def picture(chart: QWidget) -> QImage:
    QApplication.processEvents()
    return chart.grab().toImage()


def at_warm(live: LivePlay) -> Snapshot:
    return live.in_air().drive(100, 34, 60).snapshot()


def test_it_says_that_it_waits(chart: StripChart, live: LivePlay) -> None:
    assert around(chart).middle == WAITING
    chart.show_snapshot(live.snapshot())
    assert around(chart).middle == WAITING
    assert {word.text for word in around(chart).side} == {"65 °C", "85 °C"}
    live.drive(1, 20, 20)
    chart.show_snapshot(live.snapshot())
    assert around(chart).middle == ""


def test_readings_are_drawn_in_the_unit_chosen(chart: StripChart, live: LivePlay) -> None:
    snapshot = at_warm(live)
    chart.show_snapshot(snapshot)
    t, celsius = curve(chart)
    expected = next(iter(snapshot.traces.values()))
    assert np.array_equal(t, expected[0])
    assert np.array_equal(celsius, expected[1], equal_nan=True)
    chart.set_units(US)
    assert np.allclose(curve(chart)[1], expected[1] * 1.8 + 32, equal_nan=True)
    assert {word.text for word in around(chart).side} == {"149 °F", "185 °F"}
    assert around(chart).title == "Fluid temperature (°F)"


def test_band_and_trace_are_inside_the_axes(chart: StripChart, live: LivePlay) -> None:
    chart.show_snapshot(at_warm(live))
    low, high = chart._heat.y
    values = curve(chart)[1]
    assert low < np.nanmin(values)
    assert high > 85
    assert chart._speed.y[0] == 0
    assert chart._speed.y[1] > 760


def test_a_gap_is_a_gap_and_the_newest_point_after_it_a_dot(
    chart: StripChart, live: LivePlay
) -> None:
    live.drive(10, 20, 21)
    live.wait(30)
    live.drive(0.5, 25, 25)
    chart.show_snapshot(live.snapshot())
    assert math.isnan(curve(chart)[1][-2])
    assert chart._heat._curve.opts["connect"] == "finite"
    assert not chart._heat._curve.opts["skipFiniteCheck"]
    assert len(chart._heat._dots.data) == 1


def test_a_band_open_at_the_top_reaches_to_its_limit(chart: StripChart) -> None:
    live = LivePlay("sustained_load")
    chart.show_snapshot(live.in_air().drive(20, 34, 40).snapshot())
    assert chart._heat._band.getRegion() == (92.0, 105.0)
    assert chart._heat._limit.isVisible()
    assert [word.text for word in around(chart).side] == ["92 °C", "105 °C max"]
    assert chart._heat.y[1] > 105


def test_a_band_open_at_the_bottom_is_shaded_from_below(chart: StripChart) -> None:
    bands = {"normal": {"high": "85 °C", "max_plug_out": "90 °C"}}
    live = LivePlay(bands=bands)
    chart.show_snapshot(live.drive(10, 20, 25).snapshot())
    low, high = chart._heat._band.getRegion()
    assert low < chart._heat.y[0]
    assert high == 85
    assert [word.text for word in around(chart).side] == ["85 °C", "90 °C max"]


def test_every_stretch_with_the_plug_out_is_shaded_and_named(
    chart: StripChart, live: LivePlay
) -> None:
    live.in_air().drive(60, 60, 70)
    live.taken(ev.PlugOut(t=live.t))
    live.drive(30, 70, 71)
    live.taken(ev.PlugIn(t=live.t))
    live.drive(60, 71, 72)
    live.taken(ev.PlugOut(t=live.t))
    live.drive(5, 72, 72)
    chart.show_snapshot(live.snapshot())
    first, second = live.state.plug_spans
    opts = chart._heat._spans.opts
    assert list(opts["x0"]) == [first.since, second.since]
    assert list(opts["x1"]) == [first.until, live.state.now]
    assert [word.text for word in around(chart).top] == ["Plug out", "Plug out"]


@pytest.mark.parametrize(
    ("gap", "words"), [(40.0, "not watched "), (None, "for how long is not known")]
)
def test_a_time_in_which_nobody_watched_is_hatched_and_named(
    chart: StripChart, live: LivePlay, gap: float | None, words: str
) -> None:
    live.drive(30, 22, 30)
    live.t += gap or 0.0
    live.taken(ev.Resumed(t=live.t, gap_s=gap, plug_is_out=False, engine_runs=True))
    live.drive(10, 30, 33)
    chart.show_snapshot(live.snapshot())
    (resumed,) = live.state.resumed
    since = resumed.t - (gap or 0.0)
    for panel in (chart._heat, chart._speed):
        opts = panel._gaps.opts
        assert (list(opts["x0"]), list(opts["x1"])) == ([since], [resumed.t])
        assert opts["brush"].style() is Qt.BrushStyle.BDiagPattern
    (told,) = [top for top in chart._written()[1].top if words in top.text]
    assert (told.start, told.end) == (since, resumed.t)
    opened = live.state.opened.opened_at
    at = (opened + timedelta(seconds=resumed.t)).astimezone()
    assert f"{at:%H:%M}" in told.text


def test_the_whole_check_on_a_button_and_on_a_double_click(
    chart: StripChart, live: LivePlay, qtbot: QtBot
) -> None:
    live.drive(1500, 20, 80, rate=0.5)
    chart.show_snapshot(live.snapshot())
    assert chart._heat.x == (1080.0, 1680.0)  # three minutes of it still to come
    assert len(curve(chart)[0]) == pytest.approx(210, abs=3)
    button = chart.whole_button
    with qtbot.waitSignal(chart.whole_changed) as signal:
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert signal.args == [True]
    assert chart._heat.x == (0.0, 1800.0)
    assert len(curve(chart)[0]) == 750
    canvas, at = chart._canvas.viewport(), QPoint(200, 100)
    qtbot.mouseDClick(canvas, Qt.MouseButton.LeftButton, pos=at)
    qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=at)  # Qt holds it down otherwise
    assert chart._heat.x == (1080.0, 1680.0)


def test_the_other_palette_repaints_everything(chart: StripChart, live: LivePlay) -> None:
    chart.show_snapshot(at_warm(live))
    chart.set_palette(LIGHT)
    light = picture(chart._canvas)
    chart.set_palette(DARK)
    dark = picture(chart._canvas)
    assert light.pixelColor(2, 2).name() == LIGHT.surface
    assert dark.pixelColor(2, 2).name() == DARK.surface
    trace = {dark.pixelColor(x, y).name() for x in range(60, 320) for y in range(dark.height())}
    assert DARK.trace in trace
    assert DARK.band in trace


def test_a_new_check_starts_with_a_new_scale(chart: StripChart, live: LivePlay) -> None:
    chart.show_snapshot(live.drive(10, 10, 130).snapshot())
    assert chart._heat.y[1] > 130
    chart.show_snapshot(LivePlay().snapshot())
    assert chart._heat.y == (60, 90)
    assert len(curve(chart)[0]) == 0


def test_words_are_written_inside_the_chart(chart: StripChart) -> None:
    for duty, units in (("normal", METRIC), ("sustained_load", US)):
        chart.set_units(units)
        chart.show_snapshot(LivePlay(duty).in_air().drive(20, 34, 40).snapshot())
        QApplication.processEvents()
        for words in chart._written():
            room = chart._words.width() - words.area.right()
            for side in words.side:
                wide = text_width(side.text, strong=side.strong)
                assert wide + 10 <= room


# What is expected


def fan(chart: StripChart) -> tuple[Any, Any]:
    """The dashed line ahead."""
    t, y = chart._heat._ahead.getData()
    return ([], []) if t is None else (t, y)


def warming(live: LivePlay) -> Snapshot:
    """Fluid that will be in its band in two to three minutes."""
    shown = live.in_air().drive(180, 34, 53).foreseen()
    assert shown.outlook is not None
    assert shown.outlook.next.known
    return shown


def test_the_course_ahead_begins_at_the_last_reading(chart: StripChart, live: LivePlay) -> None:
    snapshot = warming(live)
    chart.show_snapshot(snapshot)
    t, y = fan(chart)
    assert t[0] == live.t
    assert t[-1] == chart._heat.x[1]
    assert y[0] == pytest.approx(53, abs=0.5)  # the jitter's standard deviation is 0.2 °C
    assert np.all(np.diff(y) > 0)
    assert chart._heat.y[0] < y.min()
    assert y.max() < chart._heat.y[1]
    chart.set_units(US)
    assert np.allclose(fan(chart)[1], y * 1.8 + 32)
    assert EXPECTED in {word.text for word in around(chart).top}


def test_the_area_lies_around_the_line(chart: StripChart, live: LivePlay) -> None:
    chart.show_snapshot(warming(live))
    t, middle = fan(chart)
    around_t, edge = chart._heat._fan.getData()
    assert np.array_equal(around_t, np.concatenate((t, t[::-1])))
    assert np.all(edge[: len(t)] > middle)
    assert np.all(edge[len(t) :][::-1] < middle)


def test_the_fan_is_seen_and_lets_the_band_through(
    chart: StripChart, live: LivePlay, palette: Palette
) -> None:
    chart.set_palette(palette)
    chart.resize(1200, 700)
    snapshot = warming(live)
    assert snapshot.course is not None
    wide = snapshot.course.quantiles + np.array([[-6.0], [0.0], [6.0]])
    chart.show_snapshot(replace(snapshot, course=replace(snapshot.course, quantiles=wide)))
    drawn = picture(chart._canvas)
    colours = {
        drawn.pixelColor(x, y).name() for x in range(0, drawn.width(), 2)
        for y in range(drawn.height())
    }  # fmt: skip
    assert any(near(colour, over(palette.fan, palette.surface)) for colour in colours)
    assert any(near(colour, over(palette.fan, palette.band)) for colour in colours)


def over(colour: str, ground: str) -> tuple[int, ...]:
    one, other = (tuple(bytes.fromhex(c[1:])) for c in (colour, ground))
    return tuple(
        round(FAN_ALPHA * a + (1 - FAN_ALPHA) * b) for a, b in zip(one, other, strict=True)
    )


def near(colour: str, wanted: tuple[int, ...]) -> bool:
    parts = bytes.fromhex(colour[1:])
    return all(abs(a - b) <= 1 for a, b in zip(parts, wanted, strict=True))


def test_nothing_is_drawn_on_from_lost_readings(chart: StripChart, live: LivePlay) -> None:
    snapshot = warming(live)
    chart.show_snapshot(snapshot)
    assert len(fan(chart)[0])
    live.wait(30)
    lost = replace(snapshot, state=live.state)  # what was foreseen a moment ago
    chart.show_snapshot(lost)
    assert len(fan(chart)[0]) == 0
    assert EXPECTED not in {word.text for word in around(chart).top}
    assert chart.outlook.value.text() == ""


def test_nothing_is_drawn_of_what_is_too_early_to_tell(chart: StripChart, live: LivePlay) -> None:
    snapshot = warming(live)
    assert snapshot.outlook is not None
    assert snapshot.outlook.entry is not None
    unknown = replace(snapshot.outlook, entry=replace(snapshot.outlook.entry, known=False))
    for outlook in (unknown, None):
        chart.show_snapshot(snapshot)
        assert len(fan(chart)[0])
        chart.show_snapshot(replace(snapshot, outlook=outlook))
        assert len(fan(chart)[0]) == 0


def test_before_the_start_there_is_no_course(chart: StripChart, live: LivePlay) -> None:
    for second in range(20):
        live.t += 1
        live.do(live.celsius(21.0 + second % 2 / 10))
    snapshot = live.foreseen()
    assert snapshot.outlook is not None
    assert snapshot.outlook.basis is Basis.START
    chart.show_snapshot(snapshot)
    assert len(fan(chart)[0]) == 0


def test_the_time_to_come_is_kept_free_until_the_end(chart: StripChart, live: LivePlay) -> None:
    live.drive(900, 20, 50, rate=0.5)
    chart.show_snapshot(live.foreseen())
    assert chart._heat.x == (480.0, 1080.0)
    chart.show_snapshot(live.snapshot())  # without a forecast the axis stands still
    assert chart._heat.x == (480.0, 1080.0)
    live.taken(ev.CheckAborted(t=live.t, reason="the lift is needed"))
    chart.show_snapshot(live.foreseen())
    assert chart._heat.x == (300.0, 900.0)
    assert len(fan(chart)[0]) == 0


def test_the_axis_does_not_tremble_with_the_fan(chart: StripChart, live: LivePlay) -> None:
    live.in_air().drive(120, 34, 45)
    axes = []
    for second in range(120):
        live.drive(1, 45 + second / 11, 45 + (second + 1) / 11)
        chart.show_snapshot(live.foreseen())
        axes.append((chart._heat.x, chart._heat.y))
    changes = sum(a != b for a, b in pairwise(axes))
    assert changes <= 120 / 30 + 2
