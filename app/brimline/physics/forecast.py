"""When the fluid enters its band and when it leaves it, from the readings so far.

Readings are gathered in blocks, because noise from one second to the next says nothing of the next
ten minutes, and a sensor that counts whole degrees holds one value for a minute and then jumps. The
blocks go to the filters of :mod:`.mode_bank`; what these say of the time to come is mixed by
their weights. The model was developed on simulated two-mass boxes and on recordings of coolant and
of hydraulic oil; no open recording of a transmission's fluid was found.

Levels are meant as the instrument shows them, since gates go by readings: one that counts whole
degrees shows 65 °C half a degree early, and 65.2 °C half a degree late.
"""

from __future__ import annotations

import math
from enum import StrEnum
from functools import lru_cache

import numpy as np

from brimline.physics.blocks import Blocks
from brimline.physics.mode_bank import ModeBank
from brimline.physics.normal import below
from brimline.physics.passage import GRID_S, Passage, from_distribution
from brimline.physics.relaxation import Array
from brimline.physics.warm_up_prior import (
    IDLING,
    RESTARTED,
    STOPPED,
    BoxRanges,
    Prior,
    either,
)

VERSION = "relaxations-1"
"""Goes into the record with a forecast that was shown; changed whenever an answer may change."""

REACHED_BY_DESIGN = 0.9
"""Probability that idling warms the fluid into its band at all, before any reading: a sheet asks
for no band that its box does not reach (common practice, no source)."""

ENOUGH_S = 30.0
"""In s: nothing is said sooner after the first reading or a change of regime; only of a warm-up
whose prior was given something is said at once."""

GAP_S = 600.0
"""In s: after a longer gap the heat is unknown again; keyed readings may come minutes apart."""

BEYOND_K = 1e-3
"""In K: a value so far beyond an end of a band lies outside of it."""

STARTLED = 5.0
"""Standard deviations by which a block must lie off before a change of regime is assumed."""


_HALVINGS = 24  # of the span in which a quantile lies: then it is known to 0.001 K


class Regime(StrEnum):
    """What heats or cools the fluid."""

    IDLING = "idling"
    STOPPED = "stopped"
    OTHER = "other"  # in gear, at another speed, with a fan: heat unknown, temperature as it was


class Forecaster:
    """Follows one warm-up or cool-down.

    :param known: prior of the warm-up, see :func:`.warm_up_prior.prior`; made from the first
        reading's temperature where none is given.
    """

    def __init__(self, known: Prior | None = None) -> None:
        self._known = known
        self._bank: ModeBank | None = None
        self._first: ModeBank | None = None  # as it was before any second block
        self._blocks = Blocks()
        self._began = 0.0
        self._is_foreknown = known is not None

    def observe(self, t: float, celsius: float) -> None:
        """Take the next reading in.

        :param t: in s; a reading that is not later than the one before is left out.
        :param celsius: a reading fit for use, in °C; what is not finite is left out.
        """
        if not (math.isfinite(t) and math.isfinite(celsius)):
            return
        blocks = self._blocks
        if blocks.latest is None:
            self._began = t
        elif t <= blocks.latest[0]:
            return
        elif t - blocks.latest[0] > GAP_S:
            self._close_block()
            self._loosen(blocks.latest[0])
        elif blocks.is_due(t, self._began):
            self._close_block()
        blocks.add(t, celsius)
        self._watch()

    def change(self, regime: Regime) -> None:
        """Say that from the latest reading on the fluid is heated in another way."""
        if self._blocks.latest is None:
            return
        self._close_block()
        self._begin(self._blocks.latest[0])
        if regime is Regime.OTHER:
            self._loosen(self._began)
            return
        celsius, variance = self._current().temperature(self._began)
        ranges = STOPPED if regime is Regime.STOPPED else RESTARTED
        self._bank = ModeBank.started(self._began, celsius, variance, usual(celsius, ranges))
        self._first = self._bank if regime is Regime.IDLING else None

    def passage(self, level: float, *, up: bool | None = None, by_design: bool = True) -> Passage:
        """Return when ``level`` (°C) is reached, seen from the latest reading.

        :param up: whether from below; towards it from where the fluid is, if left out.
        :param by_design: whether it is the near end of a band, which idling is meant to reach.
        :raises ValueError: before the first reading.
        """
        bank = self._current()
        if up is None:
            # As of the block's middle: a level passed a moment ago was passed on the way up.
            up = bank.temperature(bank.t)[0] < level
        passed = self._passed(bank, level, up=up)
        if up and by_design and self._first is not None:
            passed = self._reached_by_design(passed, level)
        return from_distribution(passed, enough=self._enough())

    def leaving(self, low: float | None, high: float) -> Passage:
        """Return when a band (°C), open below where ``low`` is ``None``, is left at either end.

        Its ends belong to it: it is left once the instrument shows a value beyond one of them.

        :raises ValueError: before the first reading.
        """
        bank = self._current()
        passed = self._passed(bank, high + BEYOND_K, up=True)
        if low is not None:
            passed = np.minimum(1.0, passed + self._passed(bank, low - BEYOND_K, up=False))
        return from_distribution(passed, enough=self._enough())

    @property
    def celsius(self) -> float:
        """The fluid's temperature in °C as far as the readings tell.

        :raises ValueError: before the first reading.
        """
        bank = self._current()
        return bank.temperature(bank.t + self._lag(bank))[0]

    def course(self, times: Array, shares: Array) -> Array:
        """Return quantiles of the temperature to come, for drawing.

        :param times: in s from the latest reading, shape (n,), none negative.
        :param shares: of the distribution, shape (m,), between 0 and 1.
        :returns: °C, shape (m, n).
        :raises ValueError: before the first reading.
        """
        bank = self._current()
        mean, spread = bank.ahead(times + self._lag(bank))
        wanted = shares[:, None]
        low = np.tile((mean - 6 * spread).min(axis=0), (len(shares), 1))
        high = np.tile((mean + 6 * spread).max(axis=0), (len(shares), 1))
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            short = np.einsum("k,kmn->mn", bank.weights, below(_standard(middle, mean, spread)))
            low, high = (
                np.where(short < wanted, middle, low),
                np.where(short < wanted, high, middle),
            )
        return np.asarray((low + high) / 2)

    def _passed(self, bank: ModeBank, level: float, *, up: bool) -> Array:
        mean, spread = bank.ahead(GRID_S + self._lag(bank))
        shown = self._blocks.shown_from(level, up=up)
        off = mean - shown if up else shown - mean
        return np.asarray(np.maximum.accumulate(bank.weights @ below(off / spread)))

    def _reached_by_design(self, passed: Array, level: float) -> Array:
        """Bayes' rule for the two answers "reached" and "never", given what is known beforehand."""
        assert self._first is not None
        mean, spread = self._first.ahead(GRID_S[::8])
        blind = float((self._first.weights @ below((mean - level) / spread)).max())
        blind = min(max(blind, 0.02), 0.98)
        reached = passed[-1] * REACHED_BY_DESIGN / blind
        never = (1 - passed[-1]) * (1 - REACHED_BY_DESIGN) / (1 - blind)
        return np.asarray(passed * (reached / (reached + never) / max(passed[-1], 1e-12)))

    def _begin(self, t: float) -> None:
        """A new regime: what was known beforehand is known of the one before."""
        self._began, self._is_foreknown = t, False

    def _enough(self) -> bool:
        latest = self._blocks.latest
        return latest is not None and (self._is_foreknown or latest[0] - self._began >= ENOUGH_S)

    def _lag(self, bank: ModeBank) -> float:
        latest = self._blocks.latest
        return 0.0 if latest is None else latest[0] - bank.t

    def _current(self) -> ModeBank:
        """The filters with the block that is still being gathered."""
        bank = self._bank
        if not self._blocks.is_empty:
            block = self._blocks.mean()
            bank = self._start(block) if bank is None else bank.updated(*block)
        if bank is None:
            raise ValueError("there is no reading yet")
        return bank

    def _close_block(self) -> None:
        if self._blocks.is_empty:
            return
        block = self._blocks.take()
        if self._bank is None:
            self._bank = self._first = self._start(block)
        else:
            self._bank = self._bank.updated(*block)

    def _watch(self) -> None:
        """Notice that the fluid is suddenly heated in another way though nobody said so."""
        lately = None if self._bank is None else self._blocks.lately()
        if lately is None or self._bank is None:
            return
        if abs(self._bank.surprise(*lately)) > STARTLED:
            older = self._blocks.take_older()
            if older is not None:
                self._bank = self._bank.updated(*older)
            self._begin(self._blocks.started)
            self._loosen(self._began)

    def _start(self, block: tuple[float, float, float]) -> ModeBank:
        known = usual(block[1], IDLING) if self._known is None else (self._known,)
        return ModeBank.started(*block, known)

    def _loosen(self, t: float) -> None:
        if self._bank is not None:
            celsius, _ = self._bank.temperature(t)
            self._bank = self._bank.loosened(t, usual(celsius, RESTARTED)[0])


def _standard(celsius: Array, mean: Array, spread: Array) -> Array:
    return (celsius[None] - mean[:, None]) / spread[:, None]


@lru_cache(maxsize=64)
def _usual(start: int, ranges: BoxRanges) -> tuple[Prior, ...]:
    return either(float(start), ranges)


def usual(start: float, ranges: BoxRanges) -> tuple[Prior, ...]:
    """Return the priors for a start temperature in °C, to the nearest degree."""
    return _usual(round(start), ranges)
