"""What a forecast of the warm-up has to beat: a straight line, and one exponential.

Both are as good as such methods can be made: starts come from the data, readings are averaged and
not dropped, and the interval is what the least-squares covariance gives (delta method). A fit
that did not converge says so and gives no number.
"""

from __future__ import annotations

import math
import warnings
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import OptimizeWarning, curve_fit

Array = NDArray[np.float64]
Model = Callable[..., Array]

WINDOW_S = 120.0
"""The straight line looks back so far, but never over fewer than three readings."""

LEAST_READINGS = 3
MOST_POINTS = 300
Z80 = 1.2815515655446004
"""Nine tenths of a normal distribution lie below so many standard deviations."""

FASTEST_S, SLOWEST_S = 5.0, 30_000.0
"""Bounds of the exponential's time constant."""

COLDEST_C, HOTTEST_C = -100.0, 400.0
"""Bounds of its temperatures."""


class DidNotConverge(Exception):  # noqa: N818 - it says what happened, as the table does
    """The fit gives no number; the text says why."""


@dataclass(frozen=True)
class Fit:
    """Fitted values, their covariance scaled by the residuals, and the residual sum of squares."""

    values: Array
    covariance: Array
    residual: float


@dataclass(frozen=True)
class Answer:
    """A forecast as the benchmark sees it; times in s from the last reading.

    ``median`` is ``None`` for "too early" (``known`` is false) and for "more likely never";
    ``low`` and ``high`` enclose 80 %; ``never`` is a probability.
    """

    median: float | None = None
    low: float | None = None
    high: float | None = None
    never: float = 0.0
    known: bool = False


TOO_EARLY = Answer()


def fit_line(x: Array, y: Array) -> Fit:
    """Fit ``y = b0 + b1 x`` by least squares.

    :raises DidNotConverge: fewer than three points, or all at one place.
    """
    if len(x) < LEAST_READINGS or np.ptp(x) == 0:
        raise DidNotConverge("too few points")
    middle = x.mean()
    spread = float(((x - middle) ** 2).sum())
    slope = float(((x - middle) * (y - y.mean())).sum()) / spread
    height = float(y.mean())
    residual = float(((y - height - slope * (x - middle)) ** 2).sum())
    variance = residual / (len(x) - 2)
    slope_variance = variance / spread
    covariance = np.array(
        [[variance / len(x) + middle**2 * slope_variance, 0], [0, slope_variance]]
    )
    covariance[0, 1] = covariance[1, 0] = -middle * slope_variance
    return Fit(np.array([height - slope * middle, slope]), covariance, residual)


def fit_curve(
    model: Model,
    data: tuple[Array, Array, Array],
    start: Array,
    bounds: tuple[Array, Array] | None = None,
    jacobian: Model | None = None,
) -> Fit:
    """Fit a model by least squares from one start.

    :param data: x, y, and how many readings each point stands for.
    :raises DidNotConverge: the solver gave up, a value lies at its bound, or the data say nothing
        about one of the values (its standard deviation is not finite, or 10 000 times the value).
    """
    x, y, counts = data
    limits = (-np.inf, np.inf) if bounds is None else bounds
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", OptimizeWarning)
            warnings.simplefilter("ignore", RuntimeWarning)  # overflow on the way is no fault
            values, covariance = curve_fit(
                model, x, y, start, sigma=1 / np.sqrt(counts), bounds=limits, jac=jacobian,
                method="lm" if bounds is None else "trf", ftol=1e-12, xtol=1e-12, gtol=1e-12,
                **({} if bounds is None else {"x_scale": "jac"}),
            )  # fmt: skip
    except (RuntimeError, ValueError, TypeError, OptimizeWarning) as error:
        raise DidNotConverge(str(error)) from error
    deviations = np.sqrt(np.diag(covariance))
    if not np.isfinite(deviations).all() or (deviations > 1e4 * np.abs(values)).any():
        raise DidNotConverge("the covariance is not usable")
    if bounds is not None:
        margin = 1e-6 * (bounds[1] - bounds[0])
        if ((values - bounds[0] < margin) | (bounds[1] - values < margin)).any():
            raise DidNotConverge("a value lies at its bound")
    return Fit(values, covariance, float((counts * (y - model(x, *values)) ** 2).sum()))


def averaged(times: Array, values: Array, most: int = MOST_POINTS) -> tuple[Array, Array, Array]:
    """Average readings within equal spans of time, so that at most so many points are left.

    :returns: mean times, mean values, and how many readings each stands for.
    """
    if len(times) <= most:
        return times, values, np.ones(len(times))
    edges = np.linspace(times[0], times[-1], most + 1)
    slots = np.clip(np.searchsorted(edges, times, side="right") - 1, 0, most - 1)
    counts = np.bincount(slots, minlength=most).astype(float)
    full = counts > 0
    total = np.bincount(slots, times, most)[full], np.bincount(slots, values, most)[full]
    return total[0] / counts[full], total[1] / counts[full], counts[full]


def saturating(x: Array, final: float, drop: float, tau: float) -> Array:
    """``final - drop exp(-x / tau)``: the single exponential, with drop = T_inf - T_0."""
    return final - drop * np.exp(-x / tau)


def _saturating_slopes(x: Array, final: float, drop: float, tau: float) -> Array:
    decay = np.exp(-x / tau)
    return np.stack([np.ones_like(x), -decay, -drop * decay * x / tau**2], axis=1)


def start_of(data: tuple[Array, Array, Array]) -> Array:
    """Find where to start: with tau given the rest is linear, so the best of a row of them."""
    x, y, counts = data
    root = np.sqrt(counts)
    best, found = math.inf, np.zeros(3)
    for tau in np.geomspace(
        max(FASTEST_S * 2, x[-1] / 50), min(SLOWEST_S / 2, 20 * x[-1] + 20), 25
    ):
        design = np.stack([np.ones_like(x), -np.exp(-x / tau)], axis=1) * root[:, None]
        (final, drop), *_ = np.linalg.lstsq(design, y * root, rcond=None)
        residual = float((counts * (y - saturating(x, final, drop, tau)) ** 2).sum())
        if residual < best:
            best, found = residual, np.array([final, drop, tau])
    return found


def fit_exponential(times: Array, values: Array) -> Fit:
    """Fit one exponential to readings; values are T_inf, T_inf - T_0 and tau from the first time.

    :raises DidNotConverge: fewer than four readings, all alike, or see :func:`fit_curve`.
    """
    if len(times) <= LEAST_READINGS or np.ptp(times) == 0:
        raise DidNotConverge("too few points")
    if np.ptp(values) == 0:
        raise DidNotConverge("nothing has moved yet")
    x, y, counts = averaged(times - times[0], values)
    lower = np.array([COLDEST_C, COLDEST_C - HOTTEST_C, FASTEST_S])
    upper = np.array([HOTTEST_C, HOTTEST_C - COLDEST_C, SLOWEST_S])
    start = np.clip(start_of((x, y, counts)), lower + 1e-3, upper - 1e-3)
    return fit_curve(saturating, (x, y, counts), start, (lower, upper), _saturating_slopes)


def normal_below(value: float) -> float:
    """Return the standard normal distribution's share below a value."""
    return 0.5 * math.erfc(-value / math.sqrt(2))


class _Gathered:
    """Readings kept as they come."""

    def __init__(self) -> None:
        self._times: list[float] = []
        self._values: list[float] = []

    def observe(self, t_s: float, celsius: float) -> None:
        """Take a reading in s and °C, in order of time."""
        self._times.append(t_s)
        self._values.append(celsius)


class StraightLine(_Gathered):
    """A line by least squares through the last two minutes."""

    def passage(self, level_c: float) -> Answer:
        """Say when the line reaches a level, in s from the last reading."""
        times, values = np.array(self._times), np.array(self._values)
        recent = min(
            int(np.searchsorted(times, times[-1] - WINDOW_S)), max(0, len(times) - LEAST_READINGS)
        )
        try:
            fit = fit_line(times[recent:] - times[-1], values[recent:])
        except DidNotConverge:
            return TOO_EARLY
        height, slope = fit.values
        if slope == 0 and fit.residual == 0:
            return TOO_EARLY
        if slope <= 0:
            return Answer(never=1.0, known=True)
        ahead = (level_c - height) / slope
        gradient = np.array([-1 / slope, -ahead / slope])
        spread = math.sqrt(float(gradient @ fit.covariance @ gradient))
        return _normal_answer(float(ahead), spread, 0.0)


class SingleExponential(_Gathered):
    """One exponential by least squares through all readings."""

    def passage(self, level_c: float) -> Answer:
        """Say when the exponential reaches a level, in s from the last reading."""
        try:
            fit = fit_exponential(np.array(self._times), np.array(self._values))
        except DidNotConverge:
            return TOO_EARLY
        final, drop, tau = (float(value) for value in fit.values)
        deviation = math.sqrt(fit.covariance[0, 0])
        above = final - level_c
        never = normal_below(-above / deviation) if deviation > 0 else float(above <= 0)
        if drop <= 0:
            return Answer(never=1.0, known=True)
        if above <= 0:
            return Answer(never=never, known=True)
        reached = tau * math.log(drop / above)
        gradient = np.array([-tau / above, tau / drop, reached / tau])
        spread = math.sqrt(max(0.0, float(gradient @ fit.covariance @ gradient)))
        return _normal_answer(reached - (self._times[-1] - self._times[0]), spread, never)


def _normal_answer(ahead: float, spread: float, never: float) -> Answer:
    # A level that the fit has passed already is reached now.
    low, high = (max(0.0, ahead + sign * Z80 * spread) for sign in (-1, 1))
    return Answer(max(0.0, ahead), low, high, never, known=True)
