"""When a level is passed: a distribution over the time that is left, and what it says in short."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from brimline.physics.relaxation import Array

HORIZON_S = 7200.0
"""What does not happen within so many seconds counts as never."""

GRID_S: Array = np.concatenate(([0.0], np.geomspace(1.0, HORIZON_S, 95)))
"""Times from now, in s, shape (96,), at which the distribution is kept."""

SURELY_NEVER = 0.8
"""From this probability on, "never" is an answer."""

WIDEST = 3.0
"""A forecast whose interval is wider than so many times its median says too little."""

_ALWAYS_FINE_S = 60.0  # an interval of a minute is of use whatever the median


@dataclass(frozen=True)
class Passage:
    """How long until a temperature is passed, in s from the moment of the forecast.

    :param median: half of the distribution lies before it; ``None`` where it is more likely that
        the level is never passed.
    :param low: tenth percentile; ``None`` where nine in ten say never.
    :param high: ninetieth percentile, ``inf`` where more than one in ten says never.
    :param never: probability that it is not passed within :data:`HORIZON_S`, 0 to 1.
    :param known: whether this is sharp enough to be told; otherwise it is too early to tell.
    """

    median: float | None
    low: float | None
    high: float
    never: float
    known: bool

    @property
    def likely_never(self) -> bool:
        """Whether the answer is that it will not happen."""
        return self.never >= SURELY_NEVER


def from_distribution(passed: Array, *, enough: bool) -> Passage:
    """Return what a distribution says.

    :param passed: probability that it has happened by each of :data:`GRID_S`, never falling.
    :param enough: whether enough was read to say anything.
    """
    low, median, high = (_quantile(passed, share) for share in (0.1, 0.5, 0.9))
    never = max(0.0, 1 - float(passed[-1]))  # weights add up to one but for rounding
    sharp = never >= SURELY_NEVER or (median is not None and _is_narrow(passed))
    return Passage(median, low, math.inf if high is None else high, never, known=enough and sharp)


def _is_narrow(passed: Array) -> bool:
    """Whether the interval is of use, should the level be passed at all."""
    low, median, high = (
        float(np.interp(share * passed[-1], passed, GRID_S)) for share in (0.1, 0.5, 0.9)
    )
    return high - low <= max(_ALWAYS_FINE_S, WIDEST * median)


def _quantile(passed: Array, share: float) -> float | None:
    if passed[-1] < share:
        return None
    return float(np.interp(share, passed, GRID_S))
