"""Gathering readings: how long a block grows, the sensor's step, what its mean is worth."""

from __future__ import annotations

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.physics.blocks import LATELY_S, LONGEST_S, SHORTEST_S, UNNOTICED_S, Blocks

READINGS = st.lists(
    st.tuples(st.floats(0.05, 300.0), st.floats(-40.0, 140.0)), min_size=1, max_size=40
)


def filled(*readings: tuple[float, float]) -> Blocks:
    blocks = Blocks()
    for t, celsius in readings:
        blocks.add(t, celsius)
    return blocks


@given(READINGS)
def test_a_block_is_the_plain_mean(steps: list[tuple[float, float]]) -> None:
    t, readings = 0.0, []
    for step, celsius in steps:
        t += step
        readings.append((t, celsius))
    blocks = filled(*readings)
    mean_t, mean_c, variance = blocks.take()
    assert mean_t == pytest.approx(statistics.fmean(t for t, _ in readings))
    assert mean_c == pytest.approx(statistics.fmean(c for _, c in readings), abs=1e-9)
    assert 0 < variance <= 1 / 12 + 1e-3
    assert blocks.is_empty
    assert blocks.latest == readings[-1]


@given(st.floats(0.02, 30.0), st.floats(0.0, 20_000.0))
def test_no_block_is_longer_than_the_longest_and_ten_hertz_is_bounded(
    period: float, age: float
) -> None:
    blocks, t = filled((age, 20.0)), age
    while not blocks.is_due(t + period, 0.0):
        t += period
        blocks.add(t, 20.0)
    assert t - blocks.started < min(max(t / 12, SHORTEST_S), LONGEST_S) + period
    assert t - blocks.started <= LONGEST_S


def test_blocks_begin_short_and_grow_with_the_time_gone_by() -> None:
    assert filled((0.0, 20.0)).is_due(SHORTEST_S, 0.0)
    assert not filled((600.0, 20.0)).is_due(649.0, 0.0)
    assert filled((600.0, 20.0)).is_due(660.0, 0.0)  # a twelfth of 660 s is 55 s
    assert not Blocks().is_due(1e6, 0.0)


def test_the_step_is_the_finest_one_seen_and_a_degree_before() -> None:
    blocks = filled((0.0, 20.0))
    assert blocks.step == 1.0
    for t, celsius, step in (
        (1.0, 22.0, 1.0),
        (2.0, 22.5, 0.5),
        (3.0, 22.6, 0.1),
        (4.0, 30.0, 0.1),
    ):
        blocks.add(t, celsius)
        assert blocks.step == pytest.approx(step)


def test_a_mean_is_known_the_better_the_more_plateaus_it_holds() -> None:
    one = filled((0.0, 20.0), (1.0, 20.0), (2.0, 20.0), (3.0, 20.0))
    four = filled((0.0, 20.0), (1.0, 21.0), (2.0, 22.0), (3.0, 23.0))
    # A uniform error over one step has a variance of step²/12 (GUM 4.3.7, from memory).
    assert one.mean()[2] == pytest.approx(1 / 12, abs=2e-4)
    assert four.mean()[2] == pytest.approx(1 / 48, abs=2e-4)


@given(st.integers(-40, 120), st.floats(-40.0, 140.0), st.booleans())
def test_whole_degrees_show_a_level_from_half_a_degree_before_the_next_mark(
    value: int, level: float, up: bool
) -> None:
    shown = filled((0.0, float(value))).shown_from(level, up=up)
    # The first whole degree at or beyond the level; a mean reading is half a step before it.
    mark = math.ceil(level - 1e-6) if up else math.floor(level + 1e-6)
    assert shown == pytest.approx(mark - 0.5 if up else mark + 0.5)


def test_without_a_reading_a_level_is_what_it_is() -> None:
    assert Blocks().shown_from(65.0, up=True) == 65.0


def test_lately_tells_of_the_last_seconds_alone() -> None:
    blocks = filled(*((float(t), 20.0 if t < 30 else 30.0) for t in range(40)))
    found = blocks.lately()
    assert found is not None
    assert found[0] > 39.0 - LATELY_S
    assert found[1] == pytest.approx(30.0)
    assert filled((0.0, 20.0), (1.0, 20.0)).lately() is None
    assert filled(*((0.1 * i, 20.0) for i in range(30))).lately() is None  # 3 s are too short


def test_what_came_before_a_change_is_taken_and_the_rest_stays() -> None:
    blocks = filled(*((float(t), float(t)) for t in range(60)))
    older = blocks.take_older()
    assert older is not None
    assert older[0] == pytest.approx(statistics.fmean(range(44)))
    assert blocks.started == 59.0 - UNNOTICED_S + 1
    assert blocks.take_older() is None
    assert blocks.take()[0] == pytest.approx(statistics.fmean(range(44, 60)))
