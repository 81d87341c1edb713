"""A temperature as a sum of relaxations, the language in which the forecast thinks.

Whatever a lumped box of oil, metal and air does under steady heat is a sum of decaying
exponentials around a final temperature. The time constants of a vehicle at hand are not known, so
a fixed ladder of them stands for all: the temperature is ``final - Σ amplitude_k``, where amplitude
k decays with :data:`TIME_CONSTANTS` [k]. What the ladder cannot say is left to a disturbance of the
rate, an Ornstein-Uhlenbeck process: heat from a driver's foot, a fan, a gust.

State vector, in this order: final temperature (°C), the amplitudes (K), disturbance (K/s).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

TIME_CONSTANTS: Array = np.array((30.0, 120.0, 480.0, 1920.0, 7680.0))
"""In s, a factor of four apart: from fluid against converter to a whole vehicle against its air."""

MODES = len(TIME_CONSTANTS)
SIZE = MODES + 2

DISTURBED_FOR_S = 60.0
"""Correlation time of the disturbance, in s: a stop at a crossing, a gust (from memory)."""

_HELD_BY = 3  # the amplitude that takes the disturbance up: it lasts, and is forgotten in the end
_RATES: Array = np.concatenate(([0.0], 1 / TIME_CONSTANTS))
_FADE = 1 / DISTURBED_FOR_S
_HOLD = float(1 / TIME_CONSTANTS[_HELD_BY])
_GAP = _HOLD - _FADE
_HELD_ROW = 1 + _HELD_BY

OBSERVED: Array = np.concatenate(([1.0], -np.ones(MODES), [0.0]))
"""The temperature as a row upon the state vector."""

PLACED: Array = np.eye(SIZE)
"""Takes (temperature, amplitudes, disturbance) to the state vector."""
PLACED[0, 1 : 1 + MODES] = 1.0


def transition(dt: float) -> Array:
    """Return the matrix, shape (7, 7), that takes the state vector ``dt`` s onwards, dt >= 0."""
    matrix = np.diag(np.append(np.exp(-_RATES * dt), np.exp(-_FADE * dt)))
    matrix[_HELD_ROW, -1] = -_carried(np.array(dt))
    return matrix


def disturbance(dt: float) -> Array:
    """Return the covariance, shape (7, 7), that ``dt`` s add for a disturbance of 1 K/s rms."""
    both, mixed, held = (_integral(k, np.array(dt)) for k in (2 * _FADE, _FADE + _HOLD, 2 * _HOLD))
    added = np.zeros((SIZE, SIZE))
    added[-1, -1] = both
    added[_HELD_ROW, _HELD_ROW] = (both - 2 * mixed + held) / _GAP**2
    added[_HELD_ROW, -1] = added[-1, _HELD_ROW] = -(both - mixed) / _GAP
    return added * 2 * _FADE


def outlook(times: Array) -> Array:
    """Return rows, shape (n, 7), that give the temperature ``times`` (n,) s from now."""
    decays = np.exp(-np.outer(times, _RATES)) * OBSERVED[:-1]
    return np.concatenate((decays, _carried(times)[:, None]), axis=1)


def outlook_variance(times: Array) -> Array:
    """Return the variance (K²), shape (n,), that a disturbance of 1 K/s rms adds until then."""
    both, mixed, held = (_integral(k, times) for k in (2 * _FADE, _FADE + _HOLD, 2 * _HOLD))
    return (both - 2 * mixed + held) / _GAP**2 * 2 * _FADE


def _carried(dt: Array) -> Array:
    return (np.exp(-_FADE * dt) - np.exp(-_HOLD * dt)) / _GAP


def _integral(rate: float, dt: Array) -> Array:
    return -np.expm1(-rate * dt) / rate


def _projection_table() -> tuple[Array, Array]:
    """Shares of the ladder for a range of time constants; each one's add up to 1 within 0.01."""
    times = np.concatenate(([0.0], np.geomspace(2.0, 7200.0, 120)))
    curves = np.exp(-times[:, None] / TIME_CONSTANTS)
    # A weight on the sum, and a slight ridge that keeps neighbours from cancelling one another.
    left = np.vstack((curves, np.full(MODES, 10.0), 0.02 * np.eye(MODES)))
    wanted = np.geomspace(5.0, 20000.0, 200)
    right = np.vstack(
        (np.exp(-times[:, None] / wanted), np.full(200, 10.0), np.zeros((MODES, 200)))
    )
    return np.log(wanted), np.linalg.lstsq(left, right, rcond=None)[0]


_LOG_WANTED, _SHARES = _projection_table()


def shares(time_constants: Array) -> Array:
    """Return how the ladder stands for other exponentials.

    :param time_constants: in s, shape (n,), 5 to 20000; beyond, the nearest end is taken.
    :returns: shape (n, 5); ``exp(-t/τ)`` is about ``Σ share_k exp(-t/TIME_CONSTANTS[k])``, within
        0.06 for τ of 20 to 12000 s and t up to two hours.
    """
    logs = np.log(time_constants)
    return np.stack([np.interp(logs, _LOG_WANTED, row) for row in _SHARES], axis=-1)
