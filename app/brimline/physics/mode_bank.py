"""Several Kalman filters over the same relaxations, for noises of several sizes.

How restless the heating is and how far readings stray is not known beforehand, and differs between
an idling box and a car being driven by a factor of a hundred. So one filter runs for each pair of a
disturbance and a straying; each is exact for its pair, and how well it foretold the readings gives
its weight. Weights follow the readings with a reserve (:data:`TRUST`), because none of the models
is true and readings a few seconds apart are not independent witnesses.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from brimline.physics.relaxation import (
    MODES,
    OBSERVED,
    PLACED,
    SIZE,
    Array,
    disturbance,
    outlook,
    outlook_variance,
    transition,
)
from brimline.physics.warm_up_prior import Prior

DISTURBANCES: Array = np.array((0.0005, 0.002, 0.008, 0.03, 0.1))
"""Of the heating, in K/s rms: from a steady idle to stop and go."""

STRAYINGS: Array = np.array((0.1, 0.3))
"""Of a block of readings beside the fluid's mean temperature, in K rms."""

TRUST = 0.15
"""Power to which a likelihood counts for the weights."""

OUTLIER = 4.0
"""A reading further off than so many standard deviations counts as if it were so far."""

_PAIRS = np.array(list(product(DISTURBANCES, STRAYINGS)))


@dataclass(frozen=True)
class ModeBank:
    """The filters at one moment: ten for each prior, k in all.

    :param t: that moment, in s.
    :param mean: shape (k, 7), see :mod:`.relaxation`.
    :param covariance: shape (k, 7, 7).
    :param log_weight: shape (k,); the largest is 0.
    """

    t: float
    mean: Array
    covariance: Array
    log_weight: Array

    @classmethod
    def started(
        cls, t: float, celsius: float, variance: float, priors: Sequence[Prior]
    ) -> ModeBank:
        """Return the filters at the first block of readings, its mean °C and variance K² given.

        :param priors: one or more, each as likely as the next.
        """
        begun = [_begun(celsius, variance, prior) for prior in priors]
        mean = np.concatenate([mean for mean, _ in begun])
        spread = np.concatenate([spread for _, spread in begun])
        return cls(t, mean, spread, np.zeros(len(mean)))

    @property
    def restless(self) -> Array:
        """Each filter's disturbance in K/s rms, shape (k,)."""
        return np.tile(_PAIRS[:, 0], len(self.mean) // len(_PAIRS))

    @property
    def straying(self) -> Array:
        """Each filter's straying in K rms, shape (k,)."""
        return np.tile(_PAIRS[:, 1], len(self.mean) // len(_PAIRS))

    @property
    def weights(self) -> Array:
        """Shape (k,), adding up to 1."""
        shares = np.exp(self.log_weight - self.log_weight.max())
        return np.asarray(shares / shares.sum())

    def updated(self, t: float, celsius: float, variance: float) -> ModeBank:
        """Return the filters after a block of readings at ``t`` >= :attr:`t`."""
        mean, spread = self._moved(t - self.t)
        seen = spread @ OBSERVED
        expected = seen @ OBSERVED + variance + self.straying**2
        off = celsius - mean @ OBSERVED
        limit = OUTLIER * np.sqrt(expected)
        gain = seen / expected[:, None]
        mean = mean + gain * np.clip(off, -limit, limit)[:, None]
        spread = spread - gain[:, :, None] * seen[:, None, :]
        surprise = np.minimum(off**2 / expected, OUTLIER**2)
        log_weight = self.log_weight - TRUST / 2 * (np.log(expected) + surprise)
        return ModeBank(t, mean, spread, log_weight - log_weight.max())

    def surprise(self, t: float, celsius: float, variance: float) -> float:
        """Return by how many standard deviations a block lies beside what the best filter says."""
        best = int(self.log_weight.argmax())
        row = outlook(np.array([t - self.t]))[0]
        moved = outlook_variance(np.array([t - self.t]))[0] * self.restless[best] ** 2
        expected = row @ self.covariance[best] @ row + moved + variance + self.straying[best] ** 2
        return float((celsius - row @ self.mean[best]) / math.sqrt(expected))

    def loosened(self, t: float, prior: Prior) -> ModeBank:
        """Return the filters at ``t`` >= :attr:`t`, from when on the heat is unknown again.

        The temperature at ``t`` stays as it was foretold.
        """
        mean, covariance = self._moved(t - self.t)
        spread = np.zeros((SIZE, SIZE))
        spread[1 : 1 + MODES, 1 : 1 + MODES] = prior.covariance
        return ModeBank(t, mean, covariance + PLACED @ spread @ PLACED.T, self.log_weight)

    def temperature(self, t: float) -> tuple[float, float]:
        """Return the fluid's temperature (°C) at ``t`` >= :attr:`t` and its variance (K²)."""
        each, spread = (part[:, 0] for part in self.ahead(np.array([t - self.t])))
        mean = float(self.weights @ each)
        return mean, float(self.weights @ (spread**2 + (each - mean) ** 2))

    def ahead(self, times: Array) -> tuple[Array, Array]:
        """Return temperatures (°C) and their standard deviations (K), each (k, n).

        :param times: in s from :attr:`t`, shape (n,), none negative.
        """
        rows = outlook(times)
        spread = np.einsum("ni,kij,nj->kn", rows, self.covariance, rows, optimize=True)
        spread = spread + np.outer(self.restless**2, outlook_variance(times))
        return self.mean @ rows.T, np.sqrt(np.maximum(spread, 1e-9))

    def _moved(self, dt: float) -> tuple[Array, Array]:
        step = transition(dt)
        added = (self.restless**2)[:, None, None] * disturbance(dt)
        return self.mean @ step.T, step @ self.covariance @ step.T + added


def _begun(celsius: float, variance: float, prior: Prior) -> tuple[Array, Array]:
    """Mean (10, 7) and covariance (10, 7, 7) of the filters of one prior."""
    restless, straying = _PAIRS.T
    placed = np.concatenate(([celsius], prior.mean, [0.0]))
    spread = np.zeros((len(_PAIRS), SIZE, SIZE))
    spread[:, 0, 0] = variance + straying**2
    spread[:, 1 : 1 + MODES, 1 : 1 + MODES] = prior.covariance
    spread[:, -1, -1] = restless**2
    return np.tile(PLACED @ placed, (len(_PAIRS), 1)), PLACED @ spread @ PLACED.T
