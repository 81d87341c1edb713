"""Axes move in steps, and gaps and lone points of a trace are told apart."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.trace import Trace
from brimline.ui.widgets.chart_scale import (
    ValueScale,
    cut_off,
    lone_points,
    part,
    spread,
    thinned,
    time_ticks,
    time_window,
    value_ticks,
)

NAN = math.nan


@given(st.floats(0, 8 * 3600))
def test_now_is_always_shown(now: float) -> None:
    for whole in (False, True):
        first, last = time_window(now, whole=whole)
        assert first <= now <= last
        assert last - first >= 600
    assert time_window(now, whole=True)[0] == 0
    assert time_window(now, whole=False)[1] - time_window(now, whole=False)[0] == 600


def test_the_window_scrolls_half_a_minute_at_once() -> None:
    windows = {time_window(600 + tenth / 10, whole=False) for tenth in range(1, 601)}
    assert windows == {(30.0, 630.0), (60.0, 660.0)}


@given(st.floats(0, 8 * 3600), st.sampled_from([0.0, 180.0]), st.booleans())
def test_the_time_to_come_is_shown_too(now: float, ahead: float, whole: bool) -> None:
    first, last = time_window(now, whole=whole, ahead=ahead)
    assert first <= now
    assert now + ahead <= last
    assert last - first >= 600
    assert last % 30 == 0
    assert whole or last - first == 600


def test_the_window_scrolls_as_seldom_with_the_time_to_come() -> None:
    windows = {
        time_window(600 + tenth / 10, whole=False, ahead=180.0) for tenth in range(1, 601)
    }  # fmt: skip
    assert windows == {(210.0, 810.0), (240.0, 840.0)}


@given(st.floats(0, 2500))
def test_curves_are_cut_off_where_the_window_ends(last: float) -> None:
    t = np.linspace(0.0, 1800.0, 31)
    rows = np.stack((t, 2 * t + 1, 100 - t))  # straight, so that what is between is known
    cut, values = cut_off(t, rows, last)
    assert cut[-1] == min(last, 1800.0)
    assert np.all(np.diff(cut) > 0)
    assert np.allclose(values, np.stack((cut, 2 * cut + 1, 100 - cut)))
    assert len(cut_off(np.empty(0), np.empty((3, 0)), last)[0]) == 0


@given(st.floats(0, 8 * 3600), st.integers(2, 20), st.booleans())
def test_times_are_round_and_few(now: float, most: int, whole: bool) -> None:
    window = time_window(now, whole=whole)
    ticks = time_ticks(window, most)
    assert 1 <= len(ticks) <= most + 1
    assert all(window[0] <= at <= window[1] and at % 30 == 0 for at, _ in ticks)
    if len(ticks) > 1:
        assert len({text for _, text in ticks}) == len(ticks)


def test_times_and_values_are_written_for_people() -> None:
    assert time_ticks((0, 600), 5) == [
        (0, "0:00"), (120, "2:00"), (240, "4:00"), (360, "6:00"), (480, "8:00"), (600, "10:00"),
    ]  # fmt: skip
    assert value_ticks((0, 1200), 2) == [(0, "0"), (1000, "1,000")]
    assert value_ticks((-15, 25), 4) == [(-10, "-10"), (0, "0"), (10, "10"), (20, "20")]


@given(st.lists(st.tuples(st.floats(-40, 200), st.floats(0, 150)), min_size=1, max_size=30))
def test_the_axis_holds_what_must_be_seen_with_a_margin(needs: list[tuple[float, float]]) -> None:
    scale = ValueScale(5.0)
    for low, size in needs:
        bottom, top = scale.fit(low, low + size)
        assert bottom < low
        assert low + size < top
        assert bottom % 5 == 0
        assert top % 5 == 0


def test_the_axis_does_not_tremble_with_the_trace() -> None:
    jitter = random.Random(3)
    scale = ValueScale(5.0)
    shown = {scale.fit(20.0, 88.0 + jitter.gauss(0, 0.4)) for _ in range(2000)}
    assert len(shown) <= 2


def test_the_axis_shrinks_once_much_of_it_is_idle() -> None:
    scale = ValueScale(5.0)
    assert scale.fit(20, 85)[0] == 15
    assert scale.fit(25, 85)[0] == 15
    assert scale.fit(60, 85)[0] == 55


def test_a_point_between_gaps_is_a_lone_one() -> None:
    y = np.array([1.0, 2.0, NAN, 3.0, NAN, 4.0, 5.0, NAN, 6.0])
    t, lone = lone_points(np.arange(9.0), y)
    assert list(t) == [3, 8]
    assert list(lone) == [3, 6]


@pytest.mark.parametrize("count", [0, 1, 2])
def test_short_traces_have_lone_points_only_where_no_line_is(count: int) -> None:
    lone, _ = lone_points(np.arange(float(count)), np.ones(count))
    assert len(lone) == (1 if count == 1 else 0)


def test_keyed_readings_are_all_lone_points() -> None:
    trace = Trace()
    for t in (10.0, 40.0, 75.0):
        trace.append(t, 50.0)
    assert list(lone_points(*trace.view())[0]) == [10, 40, 75]


def test_the_part_in_the_window_is_drawn_in_from_its_edge() -> None:
    t = np.arange(0.0, 1000.0, 10.0)
    inside, _ = part(t, t, (395.0, 995.0))
    assert inside[0] == 390
    assert inside[-1] == 990


@given(st.lists(st.floats(0, 200), min_size=1, max_size=8), st.floats(1, 20))
def test_words_keep_apart_and_inside(wanted: list[float], least: float) -> None:
    places = spread(wanted, least, (0.0, 200.0))
    ordered = sorted(places)
    assert all(b - a >= least - 1e-6 for a, b in pairwise(ordered))
    assert ordered[0] >= -1e-6
    assert ordered[-1] <= 200 + 1e-6


def test_words_that_do_not_touch_stay_where_they_belong() -> None:
    assert spread([150.0, 20.0, 90.0], 17, (0, 200)) == [150.0, 20.0, 90.0]


@given(st.lists(st.one_of(st.floats(-50, 150), st.just(NAN)), max_size=400), st.integers(4, 80))
def test_thinning_keeps_peaks_gaps_and_the_newest(values: list[float], most: int) -> None:
    y = np.array(values, float)
    t, thin = thinned(np.arange(len(y), dtype=float), y, most)
    gaps = np.isnan(y)
    assert np.isnan(thin).sum() == gaps.sum()
    assert all(np.diff(t) > 0)
    assert len(thin) <= 2 * most + gaps.sum()
    if len(y):
        assert t[-1] >= len(y) - 1 - 4 * len(y) / most
    if not gaps.all():
        assert np.nanmin(thin) == np.nanmin(y)
        assert np.nanmax(thin) == np.nanmax(y)


def test_a_trace_that_gets_longer_keeps_its_shape() -> None:
    y = np.random.default_rng(5).normal(size=7000)
    t = np.arange(7000.0)
    before, after = (set(thinned(t[:n], y[:n], 1000)[0]) for n in (6000, 6999))
    assert {at for at in before if at < 5984} <= after


def test_eight_hours_are_thinned_to_what_a_screen_shows() -> None:
    t = np.arange(288_000) / 10
    assert len(thinned(t, np.sin(t), 3000)[0]) <= 3300
