"""Round numbers for an axis, and traces thinned to what a page can show."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Axis:
    """A straight axis from ``low`` to ``high``, drawn from ``start`` over ``length`` points."""

    low: float
    high: float
    start: float
    length: float

    def place(self, value: float) -> float:
        """Return where the value stands, in points of the page."""
        return self.start + (value - self.low) / (self.high - self.low) * self.length

    def ticks(self, most: int) -> tuple[float, ...]:
        """Return up to ``most`` round values inside the axis."""
        step = round_step((self.high - self.low) / most)
        first, last = math.ceil(self.low / step - 1e-9), math.floor(self.high / step + 1e-9)
        return tuple(number * step for number in range(first, last + 1))


def round_step(at_least: float) -> float:
    """Return the smallest of 1, 2, 5 times a power of ten that is not below ``at_least`` (> 0)."""
    power = 10.0 ** math.floor(math.log10(at_least))
    for factor in (1.0, 2.0, 5.0):
        if factor * power >= at_least * (1 - 1e-9):
            return factor * power
    return 10.0 * power


def rounded_out(values: Iterable[float], most: int, narrowest: float) -> tuple[float, float]:
    """Return round limits around all values, at least ``narrowest`` apart."""
    known = list(values)
    low, high = min(known), max(known)
    spare = max(0.04 * (high - low), (narrowest - (high - low)) / 2)
    low, high = low - spare, high + spare
    step = round_step((high - low) / most / 5)  # a fifth of a tick wastes little of the page
    return math.floor(low / step) * step, math.ceil(high / step) * step


def label(value: float) -> str:
    """Write a tick value without a needless decimal, and never ``-0``."""
    return f"{round(value, 6) + 0.0:g}"


def thinned(spots: Sequence[Spot], column: float) -> list[Spot]:
    """Return the spots with at most four left in each column of the page.

    First, lowest, highest and last of a column stay, in their order, so that no peak is lost.

    :param spots: places on the page in points, ordered by their first coordinate.
    :param column: width of a column in points, above 0.
    """
    kept: list[Spot] = []
    for _, group in groupby(spots, key=lambda spot: math.floor(spot[0] / column)):
        held = list(group)
        lowest = min(range(len(held)), key=lambda i: held[i][1])
        highest = max(range(len(held)), key=lambda i: held[i][1])
        kept += [held[i] for i in sorted({0, lowest, highest, len(held) - 1})]
    return kept
