"""Axes that move in steps, and what of a trace is drawn: pure, in the units that are shown.

A live axis that follows every reading trembles. Here the time axis scrolls by half a minute at
once, and the value axis grows to the next round step and shrinks only when much of it is idle.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from brimline.trace import Array
from brimline.translation import grouped
from brimline.units import clock

WINDOW_S = 600.0
"""How much of the check is shown, in s, where not the whole of it is."""

FUTURE_S = 180.0
"""How much of the time to come is kept free for what is expected, in s."""

_SCROLL_S = 30.0
_WHOLE_S = (600.0, 900.0, 1200.0, 1800.0, 2700.0, 3600.0, 5400.0, 7200.0, 10800.0, 14400.0)
_TICK_S = (30.0, 60.0, 120.0, 300.0, 600.0, 900.0, 1800.0, 3600.0, 7200.0, 14400.0)
_IDLE_STEPS = 2.0

Range = tuple[float, float]


def time_window(now: float, *, whole: bool, ahead: float = 0.0) -> Range:
    """Return first and last moment shown (s of the check), at least ten minutes apart.

    :param ahead: so many s after ``now`` are shown at least.
    """
    until = now + ahead
    if whole:
        last = next((s for s in _WHOLE_S if s >= until), math.ceil(until / 3600.0) * 3600.0)
        return 0.0, last
    last = max(WINDOW_S, math.ceil(until / _SCROLL_S) * _SCROLL_S)
    return last - WINDOW_S, last


def time_ticks(window: Range, most: int) -> list[tuple[float, str]]:
    """Return up to ``most`` (at least 2) round moments with their ``m:ss``."""
    span = window[1] - window[0]
    step = next((s for s in _TICK_S if span / s <= most), span)
    return [(at, clock(at)) for at in _multiples(window, step)]


def value_ticks(shown: Range, most: int) -> list[tuple[float, str]]:
    """Return up to about ``most`` (at least 1) round values with their text, without unit."""
    step = _round_step((shown[1] - shown[0]) / most)
    return [(value, grouped(f"{round(value, 6) + 0.0:,g}")) for value in _multiples(shown, step)]


def _multiples(within: Range, step: float) -> list[float]:
    first, last = math.ceil(within[0] / step - 1e-9), math.floor(within[1] / step + 1e-9)
    return [number * step for number in range(first, last + 1)]


def _round_step(at_least: float) -> float:
    power = 10.0 ** math.floor(math.log10(at_least))
    return next(f * power for f in (1.0, 2.0, 5.0, 10.0) if f * power >= at_least * (1 - 1e-9))


class ValueScale:
    """A value axis that changes in steps.

    :param step: what the ends of the axis are multiples of, above 0, in the unit shown.
    """

    def __init__(self, step: float) -> None:
        self._step = step
        self._shown: Range | None = None

    def fit(self, low: float, high: float) -> Range:
        """Return an axis around ``low`` to ``high`` with a margin; the last one where it serves."""
        margin = max(0.05 * (high - low), 0.2 * self._step)
        bottom = math.floor((low - margin) / self._step) * self._step
        top = math.ceil((high + margin) / self._step) * self._step
        if self._shown is not None and self._serves(low, high, bottom, top):
            return self._shown
        self._shown = bottom, top
        return self._shown

    def _serves(self, low: float, high: float, bottom: float, top: float) -> bool:
        """Whether nothing touches the ends of the last axis and little of it is idle."""
        if self._shown is None:
            return False
        room, idle = 0.1 * self._step, _IDLE_STEPS * self._step
        holds = self._shown[0] + room <= low and high <= self._shown[1] - room
        return holds and bottom - self._shown[0] <= idle and self._shown[1] - top <= idle


def around_band(low: float | None, high: float, step: float) -> Range:
    """Return an axis that shows a band with a margin of a quarter of it, at least ``step``.

    :param low: lower end; an open one is shown four steps below ``high``.
    """
    bottom = high - 4 * step if low is None else low
    margin = max((high - bottom) / 4, step)
    return (
        math.floor((bottom - margin) / step) * step,
        math.ceil((high + margin) / step) * step,
    )


def part(t: Array, y: Array, window: Range) -> tuple[Array, Array]:
    """Return what of a trace lies in the window, with the point before it to draw in from."""
    first = max(0, int(np.searchsorted(t, window[0])) - 1)
    return t[first:], y[first:]


def cut_off(t: Array, rows: Array, last: float) -> tuple[Array, Array]:
    """Return the beginning of several curves up to ``last``, ending there exactly.

    :param t: shape (n,), rising.
    :param rows: shape (m, n).
    """
    if not len(t) or t[-1] <= last:
        return t, rows
    inside = t < last
    ends = [[np.interp(last, t, row)] for row in rows]
    return np.append(t[inside], last), np.hstack((rows[:, inside], ends))


def thinned(t: Array, y: Array, most: int) -> tuple[Array, Array]:
    """Return about ``most`` points or fewer, with every peak and every gap of the trace.

    Lowest and highest of each group of points stay. Groups begin at the first point and grow by
    doubling, so that a trace that only gets longer keeps its shape.
    """
    count = len(y)
    if count <= most:
        return t, y
    size = 2 ** math.ceil(math.log2(2 * count / most))
    whole = count // size * size
    there = np.isfinite(y)
    groups, known = y[:whole].reshape(-1, size), there[:whole].reshape(-1, size)
    starts = np.arange(len(groups)) * size
    lowest = starts + np.where(known, groups, np.inf).argmin(axis=1)
    highest = starts + np.where(known, groups, -np.inf).argmax(axis=1)
    kept = ~there
    kept[lowest] = kept[highest] = kept[whole:] = True
    return t[kept], y[kept]


def lone_points(t: Array, y: Array) -> tuple[Array, Array]:
    """Return the points that no line reaches, because a gap lies on either side of them."""
    there = np.isfinite(y)
    beside = np.zeros_like(there)
    beside[1:] |= there[:-1]
    beside[:-1] |= there[1:]
    lone = there & ~beside
    return t[lone], y[lone]


def spread(wanted: Sequence[float], least: float, within: Range) -> list[float]:
    """Return places near those wanted, at least ``least`` apart where the room allows it.

    :param wanted: places in px, in any order; the answer keeps their order.
    """
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    places = [0.0] * len(wanted)
    free = within[0]
    for i in order:
        places[i] = max(wanted[i], free)
        free = places[i] + least
    free = within[1]
    for i in reversed(order):
        places[i] = min(places[i], free)
        free = places[i] - least
    return places
