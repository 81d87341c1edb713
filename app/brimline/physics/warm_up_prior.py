"""What is known of a warm-up before the first reading of it.

A box is taken for two masses, fluid and case, that exchange heat; the engine heats the fluid and
the case loses heat to the air. Its parameters are not known but their ranges are; boxes spread
evenly over the ranges give a mean and a covariance of the amplitudes of :mod:`.relaxation`, the
*prior*. A spec sheet that says how long a warm-up takes weights the boxes by how well they agree
with it. The shop's own earlier warm-ups, each turned into amplitudes by regression, sharpen the
prior by the conjugate normal-inverse-Wishart rule (Gelman et al., Bayesian Data Analysis, section
3.6; from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from brimline.physics.relaxation import MODES, TIME_CONSTANTS, Array, shares

Span = tuple[float, float]

BOXES = 400
"""So many boxes stand for the ranges."""

SLACK_K = 0.5
"""In K: by how much an amplitude may lie beside what boxes have."""

REGRESSION_K = 0.4
"""In K: by how much a recorded warm-up strays from relaxations; the shipped recordings' residuals
lie between 0.1 and 0.7 K."""

ALIKE_K = 15.0
"""Warm-ups whose start temperatures differ by so much count 0.6 of one with the same start."""

_PRIOR_COUNTS = 1.0  # the boxes count as much as one earlier warm-up as to the mean
_PRIOR_FREEDOM = MODES + 5.0  # and as to the spread, as much as a handful


@dataclass(frozen=True)
class BoxRanges:
    """Where a box's parameters lie; logarithmic ones are spread evenly by their logarithm.

    :param steady: temperature that the fluid tends to, in °C.
    :param whole: time constant of both masses together against the air, in s; logarithmic.
    :param mixing: time constant of fluid against case, in s; logarithmic.
    :param case_ratio: heat capacity of the case over that of the fluid; logarithmic.
    :param case_below: of the case below the fluid at the start, in K.
    :param above_air: of the fluid at the start above the air, in K.
    :param fast_idle: share of a cold engine's additional heat over the steady heat; a negative one
        counts as none.
    :param heated: whether anything heats the fluid. If not, the air has the steady temperature
        and ``above_air`` counts for nothing.
    """

    steady: Span = (45.0, 250.0)
    whole: Span = (300.0, 6000.0)
    mixing: Span = (10.0, 500.0)
    case_ratio: Span = (0.3, 6.0)
    case_below: Span = (-2.0, 5.0)
    above_air: Span = (0.0, 15.0)
    fast_idle: Span = (-1.2, 1.2)
    heated: bool = True


IDLING = BoxRanges()
"""Boxes with the engine idling. The ranges are common practice, no source; no open recording of
such warm-ups was found. A steady temperature that no fluid stands is one that a cooler prevents."""

HELD_C = 100.0
"""Boxes that tend to less are as likely as those that tend to more, in °C."""

RESTARTED = replace(IDLING, case_below=(-5.0, 15.0), above_air=(0.0, 60.0), fast_idle=(-1.0, 0.0))
"""Boxes that are warm already, seen from where a new regime began."""

STOPPED = replace(
    IDLING, steady=(0.0, 35.0), whole=(1800.0, 12000.0), case_below=(-5.0, 40.0),
    fast_idle=(-1.0, 0.0), heated=False,
)  # fmt: skip
"""Boxes with the engine stopped: the fluid meets the case's temperature, then both cool down."""


@dataclass(frozen=True)
class Prior:
    """Mean (K), shape (5,), and covariance (K²), shape (5, 5), of the amplitudes at the start."""

    mean: Array
    covariance: Array


@dataclass(frozen=True)
class StatedWarmUp:
    """A sheet's word: idling, ``duration`` s take the fluid from ``start`` to ``end`` (°C)."""

    start: float
    end: float
    duration: float


@dataclass(frozen=True)
class PastWarmUp:
    """An earlier warm-up of the same family: times in s from its start, temperatures in °C."""

    times: Array
    celsius: Array


def prior(start: float, ranges: BoxRanges = IDLING, stated: StatedWarmUp | None = None) -> Prior:
    """Return what boxes of some ranges do from ``start`` °C on.

    :param stated: weights the boxes; a warm-up takes the stated time within about a third.
    """
    amplitudes = _boxes(start, ranges)
    weights = np.ones(BOXES)
    if stated is not None:
        weights = _agreement(_boxes(stated.start, ranges), stated)
    weights = weights / weights.sum()
    mean = weights @ amplitudes
    beside = amplitudes - mean
    covariance = (beside * weights[:, None]).T @ beside + SLACK_K**2 * np.eye(MODES)
    return Prior(mean, covariance)


def either(start: float, ranges: BoxRanges = IDLING) -> tuple[Prior, ...]:
    """Return the priors of boxes that tend below :data:`HELD_C` and of those that tend above.

    Ranges that lie on one side of it give one prior.
    """
    low, high = ranges.steady
    if not low < HELD_C < high:
        return (prior(start, ranges),)
    sides = ((low, HELD_C), (HELD_C, high))
    return tuple(prior(start, replace(ranges, steady=side)) for side in sides)


def sharpened(known: Prior, start: float, past: Sequence[PastWarmUp]) -> Prior:
    """Return the prior after earlier warm-ups of the family.

    :param start: in °C; warm-ups that began at another temperature count less, see
        :data:`ALIKE_K`.
    :param past: those with fewer than three readings are left out.
    """
    usable = [warm_up for warm_up in past if len(warm_up.times) >= 3]
    if not usable:
        return known
    starts = np.array([warm_up.celsius[0] for warm_up in usable])
    weights = np.exp(-(((starts - start) / ALIKE_K) ** 2) / 2)
    if weights.sum() < 1e-3:
        return known
    fits = [_regression(known, warm_up) for warm_up in usable]
    found = np.array([fitted for fitted, _ in fits])
    count = weights.sum()
    average = weights @ found / count
    beside = found - average
    scatter = (beside * weights[:, None]).T @ beside
    # What a short warm-up leaves open is as open as before, and must not count as agreement.
    scatter = scatter + np.einsum("n,nij->ij", weights, np.array([open_ for _, open_ in fits]))
    counts, freedom = _PRIOR_COUNTS + count, _PRIOR_FREEDOM + count
    moved = average - known.mean
    # So that without earlier warm-ups the next one is foretold as the boxes say.
    scale = known.covariance * (_PRIOR_FREEDOM - MODES - 1) * _PRIOR_COUNTS / (_PRIOR_COUNTS + 1)
    scale = scale + scatter + _PRIOR_COUNTS * count / counts * np.outer(moved, moved)
    mean = (_PRIOR_COUNTS * known.mean + count * average) / counts
    return Prior(mean, scale * (counts + 1) / (counts * (freedom - MODES - 1)))


def amplitudes_of(known: Prior, warm_up: PastWarmUp) -> Array:
    """Return the amplitudes (K), shape (5,), of a warm-up by regression, a prior given."""
    return _regression(known, warm_up)[0]


def _regression(known: Prior, warm_up: PastWarmUp) -> tuple[Array, Array]:
    """The amplitudes (K) of a warm-up, and the covariance (K²) of what it leaves open."""
    decays = np.exp(-np.outer(warm_up.times - warm_up.times[0], 1 / TIME_CONSTANTS))
    design = 1 - decays  # the rise from the first reading, as parts of the amplitudes
    risen = warm_up.celsius - warm_up.celsius[0]
    spacing = np.gradient(warm_up.times)
    # Neighbouring readings stray together, so a minute's readings count as one.
    weight = np.minimum(spacing / 60.0, 1.0) / REGRESSION_K**2
    precision = np.linalg.inv(known.covariance)
    left_open = np.linalg.inv((design * weight[:, None]).T @ design + precision)
    pull = (design * weight[:, None]).T @ risen + precision @ known.mean
    return left_open @ pull, left_open


def _agreement(amplitudes: Array, stated: StatedWarmUp) -> Array:
    left = np.exp(-stated.duration / TIME_CONSTANTS)
    reached = stated.start + amplitudes @ (1 - left)
    spread = max(2.0, abs(stated.end - stated.start) / 6)
    logs = -(((reached - stated.end) / spread) ** 2) / 2
    return np.asarray(np.exp(logs - logs.max()) + 1e-6)


def _spread_evenly(spans: Sequence[Span]) -> list[Array]:
    """Points of an additive recurrence (Roberts' R sequence, from memory): even, and no chance."""
    ratio = 2.0
    for _ in range(60):
        ratio = (1 + ratio) ** (1 / (len(spans) + 1))
    steps = np.arange(1, BOXES + 1)
    return [
        np.asarray(low + (high - low) * ((0.5 + steps * ratio ** -(i + 1)) % 1))
        for i, (low, high) in enumerate(spans)
    ]


def _logarithms(span: Span) -> Span:
    return float(np.log(span[0])), float(np.log(span[1]))


def _boxes(start: float, ranges: BoxRanges) -> Array:
    """Amplitudes, shape (n, 5), of the boxes' fluid from ``start`` °C on."""
    logs = [_logarithms(span) for span in (ranges.whole, ranges.mixing, ranges.case_ratio)]
    drawn = _spread_evenly(
        (*logs, ranges.steady, ranges.case_below, ranges.above_air, ranges.fast_idle, (60.0, 200.0))
    )
    whole, mixing, ratio = (np.exp(part) for part in drawn[:3])
    steady, case_below, above_air, fast_idle, fast_idle_s = drawn[3:]
    exchange, loss = ratio / (1 + ratio) / mixing, (1 + ratio) / whole  # both in 1/s
    heat = ranges.heated * (steady - start + above_air) / (1 / exchange + 1 / loss)  # in K/s
    rates, parts = _fluid_modes(
        exchange, loss, ratio,
        np.stack((start - steady, start - case_below - steady + heat / exchange), axis=-1),
    )  # fmt: skip
    amplitudes = sum(
        (-parts[:, i : i + 1] * shares(1 / rates[:, i]) for i in (0, 1)), np.zeros((BOXES, MODES))
    )
    # A cold engine idles fast at first: its heat comes with one time constant, goes with the box's.
    gained = np.maximum(fast_idle, 0.0) * np.abs(heat) * fast_idle_s / (1 + ratio)
    slowest = np.maximum(1 / rates.min(axis=1), 300.0)
    amplitudes = amplitudes + gained[:, None] * (shares(fast_idle_s) - shares(slowest))
    return np.asarray(amplitudes)


def _fluid_modes(exchange: Array, loss: Array, ratio: Array, off: Array) -> tuple[Array, Array]:
    """Decay rates (1/s) and the fluid's parts (K), each (n, 2), of masses ``off`` K their ends."""
    system = np.empty((len(ratio), 2, 2))
    system[:, 0, 0], system[:, 0, 1] = -exchange, exchange
    system[:, 1, 0], system[:, 1, 1] = exchange / ratio, -(exchange + loss) / ratio
    values, vectors = np.linalg.eig(system)
    weights = np.linalg.solve(vectors, off[:, :, None])[:, :, 0]
    return -values, vectors[:, 0, :] * weights
