"""Tilt against a numerical volume integral over the pan: there is no published example."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.physics.tilt import (
    largest_error,
    level_error,
    level_error_budget,
    reversal_mean,
    reversal_uncertainty,
)

LENGTH, WIDTH, RIM = 0.40, 0.30, 0.05  # m


def volume_under_surface(x: float, y: float, nose_up: float, right_up: float) -> float:
    """L of fluid in a box pan, filled to the rim of a standpipe at (x, y), by integration.

    In the pan's frame the horizontal surface through the rim is a plane that drops towards the
    raised side.
    """
    cells = 400
    xs = (np.arange(cells) + 0.5) / cells * LENGTH - LENGTH / 2
    ys = (np.arange(cells) + 0.5) / cells * WIDTH - WIDTH / 2
    grid_x, grid_y = np.meshgrid(xs, ys)
    height = (
        RIM
        - math.tan(math.radians(nose_up)) * (grid_x - x)
        - math.tan(math.radians(right_up)) * (grid_y - y)
    )
    assert height.min() > 0
    return float(height.mean() * LENGTH * WIDTH * 1000)


@given(st.floats(-0.15, 0.15), st.floats(-0.12, 0.12), st.floats(-3, 3), st.floats(-3, 3))
def test_agrees_with_the_integral(x: float, y: float, nose: float, right: float) -> None:
    retained = volume_under_surface(x, y, nose, right) - RIM * LENGTH * WIDTH * 1000
    ours = level_error(LENGTH * WIDTH, x, y, nose, right)
    assert ours == pytest.approx(retained, abs=1e-6)


def test_one_degree_can_exceed_the_whole_temperature_band() -> None:
    # 0.40 m x 0.30 m, standpipe 0.15 m off the centroid, 1°: 0.314 L; 8 L over 10 °C: 0.061 L.
    assert level_error(0.12, 0.15, 0.0, 1.0, 0.0) == pytest.approx(0.314, abs=5e-4)


def test_a_turned_instrument_shows_its_own_offset() -> None:
    true, offset = 0.4, 0.3
    assert reversal_mean(true + offset, true - offset) == pytest.approx(true)


@pytest.mark.parametrize(("area", "angle"), [(0.0, 1.0), (-0.1, 1.0), (0.1, 46.0), (0.1, -90.0)])
def test_senseless_input_is_refused(area: float, angle: float) -> None:
    with pytest.raises(ValueError, match=r"area|angles"):
        level_error(area, 0.1, 0.0, angle, 0.0)


@pytest.mark.parametrize(
    ("length", "width", "forward", "degrees", "litres"),
    [
        (0.40, 0.30, 0.15, 1.0, 0.314),
        (0.40, 0.30, 0.15, 2.0, 0.629),
        (0.40, 0.30, 0.0, 1.0, 0.0),
        (0.35, 0.25, 0.10, 0.5, 0.0764),
    ],
)
def test_pans_of_several_sizes(
    length: float, width: float, forward: float, degrees: float, litres: float
) -> None:
    # A·x·tan θ by hand; one of them is 2.618 mm of rise over 0.12 m². The integral bears them out.
    assert level_error(length * width, forward, 0.0, degrees, 0.0) == pytest.approx(
        litres, abs=6e-4
    )
    retained = filling(length, width, (forward, 0.0), (degrees, 0.0)) - length * width * 50
    assert retained == pytest.approx(litres, abs=6e-4)


def filling(
    length: float, width: float, pipe: tuple[float, float], angles: tuple[float, float]
) -> float:
    """L in a box pan of any size, filled to a rim 0.05 m above its floor, by summing columns.

    Where the surface would lie below the floor there is no fluid, so this holds beyond the walls.
    """
    xs, ys = (((np.arange(600) + 0.5) / 600 - 0.5) * side for side in (length, width))
    grid_x, grid_y = np.meshgrid(xs, ys)
    slope_x, slope_y = (math.tan(math.radians(angle)) for angle in angles)
    height = RIM - slope_x * (grid_x - pipe[0]) - slope_y * (grid_y - pipe[1])
    return float(np.maximum(height, 0.0).mean() * length * width * 1000)


PIPES = st.tuples(st.floats(-0.15, 0.15), st.floats(-0.12, 0.12))
ANGLES = st.tuples(st.floats(-25, 25), st.floats(-25, 25))


@given(PIPES, ANGLES)
def test_the_formula_holds_just_as_long_as_the_surface_stays_on_the_walls(
    pipe: tuple[float, float], angles: tuple[float, float]
) -> None:
    slopes = [math.tan(math.radians(angle)) for angle in angles]
    at_centroid = RIM + slopes[0] * pipe[0] + slopes[1] * pipe[1]
    if at_centroid <= 0.001:
        return  # the pan is all but dry
    formula = RIM * LENGTH * WIDTH * 1000 + level_error(LENGTH * WIDTH, *pipe, *angles)
    integral = filling(LENGTH, WIDTH, pipe, angles)
    falls = abs(slopes[0]) * LENGTH / 2 + abs(slopes[1]) * WIDTH / 2
    if falls < at_centroid:
        assert formula == pytest.approx(integral, abs=1e-9 + 1e-9 * abs(integral))
    else:  # fluid that the formula takes away below the floor is not there to be taken
        assert formula <= integral + 1e-9


@given(PIPES, st.floats(-3, 3), st.floats(-3, 3))
def test_a_vehicle_that_really_leans_both_ways(
    pipe: tuple[float, float], pitch: float, roll: float
) -> None:
    """Turn the pan in space, read what a level laid along each axis shows, then integrate."""
    a, b = math.radians(pitch), math.radians(roll)
    nose = np.array([math.cos(a), 0.0, math.sin(a)])
    right = np.array([0.0, math.cos(b), math.sin(b)])
    right = right - (right @ nose) * nose
    right /= np.linalg.norm(right)
    shown = [math.degrees(math.asin(axis[2])) for axis in (nose, right)]
    upright = np.cross(nose, right)
    # horizontal plane in the pan's own frame: height falls where an axis points up
    rise = [axis[2] / abs(upright[2]) for axis in (nose, right)]
    truth = LENGTH * WIDTH * (rise[0] * pipe[0] + rise[1] * pipe[1]) * 1000
    ours = level_error(LENGTH * WIDTH, *pipe, *shown)
    largest = LENGTH * WIDTH * 1000 * sum(abs(r * x) for r, x in zip(rise, pipe, strict=True))
    assert abs(ours - truth) <= 0.002 * largest + 1e-12


@given(PIPES, st.floats(-3, 3), st.floats(-3, 3), st.floats(0.01, 0.3))
def test_the_spread_of_an_error_agrees_with_readings_drawn_at_random(
    pipe: tuple[float, float], nose: float, right: float, reading: float
) -> None:
    draws = np.random.default_rng(7).normal(0.0, reading, (4, 20_000))
    offset = np.random.default_rng(8).uniform(-0.5, 0.5, (2, 20_000))  # a different one each time
    seen = [
        (angle + draws[2 * i] + offset[i] + angle + draws[2 * i + 1] - offset[i]) / 2
        for i, angle in enumerate((nose, right))
    ]
    errors = (
        LENGTH * WIDTH * 1000 * sum(
            x * np.tan(np.radians(angle)) for x, angle in zip(pipe, seen, strict=True)
        )
    )  # fmt: skip
    budget = level_error_budget(LENGTH * WIDTH, *pipe, nose, right, reading)
    assert budget.combined == pytest.approx(float(np.std(errors)), rel=0.03, abs=1e-6)
    assert budget.estimate == level_error(LENGTH * WIDTH, *pipe, nose, right)


def test_a_mean_of_two_readings_scatters_less() -> None:
    assert reversal_uncertainty(0.1) == pytest.approx(0.1 / math.sqrt(2))
    with pytest.raises(ValueError, match="0 or more"):
        reversal_uncertainty(-0.1)


@given(PIPES, st.floats(-2, 2), st.floats(-2, 2))
def test_a_limit_on_each_axis_lets_no_larger_error_through(
    pipe: tuple[float, float], nose: float, right: float
) -> None:
    limit = max(abs(nose), abs(right))
    most = largest_error(LENGTH * WIDTH, *pipe, limit)
    assert abs(level_error(LENGTH * WIDTH, *pipe, nose, right)) <= most + 1e-12
    corners = [
        level_error(LENGTH * WIDTH, *pipe, i * limit, j * limit) for i in (-1, 1) for j in (-1, 1)
    ]
    assert max(corners) == pytest.approx(most)


@pytest.mark.parametrize(
    "call",
    [
        lambda: level_error_budget(0.1, 0.1, 0.0, 44.5, 0.0, 0.1),
        lambda: level_error_budget(0.1, 0.1, 0.0, 0.0, 0.0, 1.5),
        lambda: largest_error(0.0, 0.1, 0.0, 0.1),
        lambda: largest_error(0.1, 0.1, 0.0, 45.5),
    ],
)
def test_beyond_its_range_it_says_so(call: object) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=r"angles|above"):
        call()
