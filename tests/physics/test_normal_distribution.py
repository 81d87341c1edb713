"""The normal distribution against scipy's (scipy.stats.norm, Cephes' error function)."""

from __future__ import annotations

import math

import numpy as np
from scipy.stats import norm

from brimline.physics.normal import below


def test_it_agrees_with_scipy_within_the_stated_error() -> None:
    z = np.concatenate((np.linspace(-9.0, 9.0, 4001), [-1e6, -40.0, 40.0, 1e6]))
    assert np.abs(below(z) - norm.cdf(z)).max() < 1.5e-7


def test_it_is_a_probability_that_does_not_fall() -> None:
    chances = below(np.linspace(-30.0, 30.0, 6001))
    assert chances.min() >= 0.0
    assert chances.max() <= 1.0
    assert np.diff(chances).min() > -1e-9


def test_both_sides_add_up_to_one_and_shapes_are_kept() -> None:
    z = np.linspace(0.1, 5.0, 24).reshape(2, 3, 4)
    assert below(z).shape == z.shape
    assert np.abs(below(z) + below(-z) - 1).max() < 1e-12
    assert math.isnan(below(np.array([math.nan]))[0])
