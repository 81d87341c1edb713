"""Tilt against a numerical volume integral over the pan: there is no published example."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.physics.tilt import level_error, reversal_mean

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
