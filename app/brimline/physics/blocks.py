"""Readings gathered in blocks that grow with the time gone by.

A block's mean is what ten minutes ahead depend on; its readings one by one are not. Blocks begin
short, so that a change shows, and grow to a minute and a half.
"""

from __future__ import annotations

import math
from itertools import pairwise

SHORTEST_S, LONGEST_S = 4.0, 90.0
SHARE = 1 / 12
"""Of the time since the regime began: so long is a block, between the two limits."""

LATELY_S = 8.0
"""A change of regime is looked for in the last so many seconds."""

UNNOTICED_S = 16.0
"""Before a change of regime shows, it has lasted for about so many seconds."""

FEWEST_LATELY = 4

COARSEST_STEP_K = 1.0
"""A degree is assumed until readings show a finer step."""

_LEAST_VARIANCE_K2 = 1e-4

Block = tuple[float, float, float]
"""Mean time (s), mean temperature (°C), and its variance by the sensor's step (K²)."""


class Blocks:
    """The block that is being gathered, and the step in which the sensor counts."""

    def __init__(self) -> None:
        self._gathered: list[tuple[float, float]] = []
        self._finest: float | None = None
        self.latest: tuple[float, float] | None = None
        """Time (s) and value (°C) of the latest reading."""

    @property
    def is_empty(self) -> bool:
        """Whether no reading has been added since the last block was taken."""
        return not self._gathered

    @property
    def started(self) -> float:
        """Time of the block's first reading, in s; the block must not be empty."""
        return self._gathered[0][0]

    @property
    def step(self) -> float:
        """The sensor's step in K, as seen so far."""
        return min(self._finest or COARSEST_STEP_K, COARSEST_STEP_K)

    def shown_from(self, level: float, *, up: bool) -> float:
        """Return the temperature (°C) from which the sensor shows a level reached.

        Its mean reading is taken for the temperature; whether it rounds or cuts off is then one.
        """
        if self.latest is None:
            return level
        value, side = self.latest[1], 1 if up else -1
        steps = math.ceil(side * (level - value) / self.step - 1e-6)
        return value + side * (steps - 0.5) * self.step

    def is_due(self, t: float, began: float) -> bool:
        """Say whether a reading at ``t`` s belongs into the next block."""
        length = min(max((t - began) * SHARE, SHORTEST_S), LONGEST_S)
        return bool(self._gathered) and t - self.started >= length

    def add(self, t: float, celsius: float) -> None:
        """Add a reading."""
        if self.latest is not None:
            moved = abs(celsius - self.latest[1])
            if moved > 1e-9 and (self._finest is None or moved < self._finest):
                self._finest = moved
        self._gathered.append((t, celsius))
        self.latest = (t, celsius)

    def mean(self) -> Block:
        """Return the block so far; it must not be empty.

        A mean over several plateaus of a coarse sensor is known that much better than one plateau.
        """
        times, values = zip(*self._gathered, strict=True)
        plateaus = 1 + sum(a != b for a, b in pairwise(values))
        count = len(times)
        variance = self.step**2 / 12 / plateaus + _LEAST_VARIANCE_K2
        return sum(times) / count, sum(values) / count, variance

    def lately(self) -> Block | None:
        """Return the last few seconds of the block, ``None`` where they hold too little."""
        end = self._gathered[-1][0]
        recent = [pair for pair in self._gathered if pair[0] > end - LATELY_S]
        if len(recent) < FEWEST_LATELY or end - recent[0][0] < LATELY_S / 2:
            return None
        count = len(recent)
        times, values = zip(*recent, strict=True)
        middle = sum(values) / count
        jitter = sum((value - middle) ** 2 for value in values) / (count - 1) / count
        return sum(times) / count, middle, jitter + self.step**2 / 12 + _LEAST_VARIANCE_K2

    def take_older(self) -> Block | None:
        """Return the block up to :data:`UNNOTICED_S` ago and keep the rest; ``None`` if all is."""
        end = self._gathered[-1][0]
        recent = [pair for pair in self._gathered if pair[0] > end - UNNOTICED_S]
        self._gathered = self._gathered[: len(self._gathered) - len(recent)]
        block = self.take() if self._gathered else None
        self._gathered = recent
        return block

    def take(self) -> Block:
        """Return the block and begin the next."""
        block = self.mean()
        self._gathered.clear()
        return block
