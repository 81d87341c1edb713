"""Axes, thinning, and what of the readings gets into the chart."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from finished_checks import Bay, spec
from hypothesis import given
from hypothesis import strategies as st
from printed import record_of, summary_of
from reportlab.graphics.shapes import Circle, PolyLine, Rect, String

from brimline.procedure import events as ev
from brimline.procedure.verdict import closing_event
from brimline.reading import Quality
from brimline.report import axis, chart
from brimline.report.axis import Axis
from brimline.report.playback import play
from brimline.report.summary import Chart
from brimline.report.trace import chart as chart_of
from brimline.units import METRIC, US

SPOTS = st.lists(
    st.tuples(st.floats(0, 400, allow_nan=False), st.floats(-50, 200, allow_nan=False)),
    max_size=300,
).map(sorted)


def _chart(name: str, units: str = "metric") -> Chart:
    data = summary_of(name, units).chart
    assert data is not None
    return data


def _cold(bay: Bay) -> Chart:
    bay.taken(ev.CheckAborted(t=bay.t, reason="enough"))
    bay.taken(closing_event(bay.state, bay.t))
    data = chart_of(play(bay.record()), METRIC)
    assert data is not None
    return data


@given(SPOTS)
def test_thinning_keeps_ends_and_peaks(spots: list[axis.Spot]) -> None:
    thin = axis.thinned(spots, 1.0)
    assert len(thin) <= 4 * 401
    assert set(thin) <= set(spots)
    assert [x for x, _ in thin] == sorted(x for x, _ in thin)
    if spots:
        assert (thin[0], thin[-1]) == (spots[0], spots[-1])
        assert min(y for _, y in thin) == min(y for _, y in spots)
        assert max(y for _, y in thin) == max(y for _, y in spots)


def test_a_long_trace_is_thinned() -> None:
    spots = [(t / 1000, math.sin(t)) for t in range(400_000)]
    assert len(axis.thinned(spots, 0.75)) < 2200


@given(st.floats(1e-3, 1e6), st.integers(2, 12))
def test_ticks_are_few_round_and_inside(span: float, most: int) -> None:
    scale = Axis(0.0, span, 0.0, 100.0)
    ticks = scale.ticks(most)
    assert 1 <= len(ticks) <= most + 1
    assert all(-1e-6 * span <= tick <= span * (1 + 1e-6) for tick in ticks)


@pytest.mark.parametrize(
    ("value", "step"), [(0.9, 1.0), (1.0, 1.0), (1.1, 2.0), (3.0, 5.0), (7.0, 10.0), (0.03, 0.05)]
)
def test_steps_are_round(value: float, step: float) -> None:
    assert axis.round_step(value) == pytest.approx(step)


def test_chart_holds_the_readings_in_the_unit_chosen() -> None:
    metric, us = _chart("runs_off"), _chart("runs_off", "us")
    first = metric.segments[0].points[5]
    assert us.segments[0].points[5].degrees == pytest.approx(first.degrees * 1.8 + 32)
    assert (metric.low, metric.high, metric.limit) == (65.0, 85.0, None)
    assert us.low == pytest.approx(149.0)
    assert metric.temperature_title == "Fluid temperature (°C)"
    assert us.temperature_title == "Fluid temperature (°F)"
    assert metric.time_title.endswith("(min)")


def test_chart_marks_the_plug_out_and_the_closing() -> None:
    data, events = _chart("runs_off"), record_of("runs_off").events
    out = next(e.at for e in events if isinstance(e, ev.PlugOut))
    put_in = next(e.at for e in events if isinstance(e, ev.PlugIn))
    (span,) = data.plug_out
    assert (span.start, span.end) == pytest.approx((out / 60, put_in / 60))
    assert data.closing is not None
    assert data.closing.degrees == record_of("runs_off").header.closing_celsius


def test_coolant_in_place_of_the_fluid_is_named_on_the_axis() -> None:
    bay = Bay(sheet=spec(signals={"fluid_temperature": {"kind": "obd", "pid": 5}}))
    bay.wait(5, 0.0)
    assert _cold(bay).temperature_title == "Engine coolant, in place of the fluid (°C)"


def test_a_plug_left_out_is_out_to_the_end() -> None:
    data = _chart("plug_left_out")
    assert data.plug_out[0].end == pytest.approx(record_of("plug_left_out").events[-1].t / 60)
    assert data.closing is None


def test_a_time_in_which_nobody_watched_breaks_the_line_however_short_it_seems() -> None:
    bay = Bay()
    bay.wait(5, 0.0)
    bay.taken(ev.Resumed(t=bay.t, gap_s=None, plug_is_out=False, engine_runs=False))
    bay.wait(5, 0.0)
    data = _cold(bay)
    assert len(data.segments) == 2
    assert "Where the line is broken there were no readings." in data.caption


def test_a_gap_breaks_the_line() -> None:
    bay = Bay()
    bay.wait(10, 0.0)
    bay.wait(6)
    bay.wait(10, 0.0)
    data = _cold(bay)
    assert [len(segment.points) for segment in data.segments] == [10, 10]


def test_a_bad_reading_breaks_the_line_and_is_not_drawn() -> None:
    bay = Bay()
    bay.wait(5, 0.0)
    bay.t += 1
    bay.do(bay.celsius(160.0, Quality.ERROR))
    bay.wait(5, 0.0)
    data = _cold(bay)
    assert [len(segment.points) for segment in data.segments] == [5, 5]
    assert max(p.degrees for s in data.segments for p in s.points) < 100


def test_keyed_readings_are_marked_and_those_of_the_bus_not() -> None:
    assert [segment.keyed for segment in _chart("signal_lost").segments] == [False, True]
    assert all(segment.keyed for segment in _chart("stripped_plug").segments)


def _drawn(name: str) -> list[object]:
    return list(chart.draw(_chart(name), 499.0, 180.0).contents)


def test_everything_stays_inside_the_drawing() -> None:
    for name in ("runs_off", "provisional", "stripped_plug", "signal_lost", "plug_left_out"):
        left, bottom, right, top = chart.draw(_chart(name), 499.0, 180.0).getBounds()
        assert left >= -0.5
        assert bottom >= -0.5
        assert right <= 499.5
        assert top <= 180.5


def test_labels_of_band_and_limit_do_not_overlap() -> None:
    words = [shape for shape in _drawn("provisional") if isinstance(shape, String)]
    beside = sorted(shape.y for shape in words if shape.x > 430)
    assert len(beside) == 4
    assert all(upper - lower >= 8 for lower, upper in pairwise(beside))


def test_the_chart_says_everything_without_colour() -> None:
    shapes = _drawn("provisional")
    words = {shape.text for shape in shapes if isinstance(shape, String)}
    assert {"target band", "plug stays in", "plug out", "Fluid temperature (°C)"} <= words
    dashed = [s for s in shapes if getattr(s, "strokeDashArray", None) is not None]
    assert len(dashed) == 1
    assert [s for s in shapes if isinstance(s, Rect)]
    assert [s for s in shapes if isinstance(s, PolyLine)]
    assert len([s for s in shapes if isinstance(s, Circle)]) == 1


def test_no_chart_without_readings() -> None:
    assert summary_of("aborted_at_once").chart is None
    assert chart_of(play(record_of("aborted_at_once")), US) is None
