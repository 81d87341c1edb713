"""Warm-up curves to judge a forecast by: recorded ones, and what both kinds have in common.

The recorded curves are engine coolant of a car being driven and, where its file is at hand, the oil
of a hydraulic test rig. Both stand in for transmission fluid: no open recording of a transmission's
fluid warming up was found. Simulated ones come from ``warm_up_simulations``.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FRACTIONS = (0.3, 0.5, 0.7, 0.9)
"""How far on the way a forecast is asked for: of the time from first reading to true entry."""

HORIZON_S = 7200.0
"""What is not reached within so many seconds counts as never reached."""

SMOOTHING_S = 10.0
"""Length of the centred median that decides when a recording has reached a level."""

CAR_STEP_K, OIL_STEP_K = 5.0, 1.0
"""Between the levels asked for; the rig's oil rises by less than 20 K, and slowly."""

LATEST_ENTRY_S = 5400.0
LEAST_RISE_K = 10.0
"""A level to forecast lies at least so far above the first reading."""

RISE_DONE = 0.95
"""A level that is never reached is asked for on the way to this share of the whole rise."""

DRIVEN_CAR = ("family-car-curve", "family-car-second-curve")
OIL_COLUMNS = ("TS1", "TS2", "TS3", "TS4")


@dataclass(frozen=True)
class Target:
    """A level in °C, when it is truly reached (s on the curve's clock; ``None``: never), and when
    its passage is asked for: one time for each of :data:`FRACTIONS`."""

    level: float
    entry: float | None
    asked: tuple[float, ...]


@dataclass(frozen=True)
class Curve:
    """Readings in order of time (s, °C), and the levels whose passage is asked for."""

    name: str
    group: str
    times: Array
    readings: Array
    targets: tuple[Target, ...]


def asked_at(start: float, end: float) -> tuple[float, ...]:
    """Return the times at which to ask between a curve's start and its entry, in s."""
    return tuple(start + fraction * (end - start) for fraction in FRACTIONS)


def first_passage(times: Array, values: Array, level: float) -> float | None:
    """Return when a noise-free curve first reaches a level, linear between its points.

    :returns: s on the clock of ``times``; ``None`` where it never does.
    """
    above = np.flatnonzero(values >= level)
    if not above.size:
        return None
    after = int(above[0])
    if after == 0:
        return float(times[0])
    rise = values[after] - values[after - 1]
    share = (level - values[after - 1]) / rise
    return float(times[after - 1] + share * (times[after] - times[after - 1]))


def centred_median(times: Array, values: Array, window: float = SMOOTHING_S) -> Array:
    """Return, for each reading, the median of all readings within half a window on either side."""
    first = np.searchsorted(times, times - window / 2, side="left")
    last = np.searchsorted(times, times + window / 2, side="right")
    return np.array([np.median(values[a:b]) for a, b in zip(first, last, strict=True)])


def recorded_entry(times: Array, smooth: Array, level: float) -> float | None:
    """Return the time of the first reading whose centred median has reached the level, in s."""
    above = np.flatnonzero(smooth >= level)
    return float(times[above[0]]) if above.size else None


def recorded_curve(
    names: tuple[str, str], times: Array, values: Array, step: float, never_above: Sequence[float]
) -> Curve:
    """Make a curve of a recording: targets from 10 K above the first reading up to its top.

    :param names: of the curve and of its group.
    :param step: levels are the multiples of this, in °C; those reached later than after
        :data:`LATEST_ENTRY_S` are left out.
    :param never_above: so many K above the highest median lie levels that are never reached; only
        for recordings that go on for :data:`HORIZON_S` after the last question.
    """
    smooth = centred_median(times, values)
    start, top = float(times[0]), float(smooth.max())
    lowest = math.ceil((values[0] + LEAST_RISE_K) / step) * step
    targets = []
    for level in np.arange(lowest, top + 1e-9, step):
        entry = recorded_entry(times, smooth, level)
        if entry is not None and entry - start <= LATEST_ENTRY_S:
            targets.append(Target(float(level), entry, asked_at(start, entry)))
    if never_above:
        done = recorded_entry(times, smooth, smooth[0] + RISE_DONE * (top - smooth[0]))
        assert done is not None
        assert times[-1] - done >= HORIZON_S
        targets += [Target(top + more, None, asked_at(start, done)) for more in never_above]
    return Curve(*names, times, values, tuple(targets))


def _columns(lines: Iterable[str], names: Sequence[str]) -> tuple[Array, ...]:
    # Names are compared without their units: "time [s]" and "time_s" both begin with "time".
    rows = csv.reader(line for line in lines if not line.startswith("#"))
    heading = next(rows)
    places = [next(i for i, cell in enumerate(heading) if cell.startswith(name)) for name in names]
    table = np.array([[float(row[place]) for place in places] for row in rows])
    return tuple(table[:, i] for i in range(len(names)))


def driven_car_curves(folder: Path) -> list[Curve]:
    """Load the shipped recordings of a driven car's coolant: one value a second, whole °C."""
    curves = []
    for name in DRIVEN_CAR:
        with (folder / f"{name}.csv").open(encoding="utf-8") as lines:
            times, values = _columns(lines, ("time", "fluid_temperature"))
        curves.append(recorded_curve((name, "car"), times, values, CAR_STEP_K, ()))
    return curves


def oil_curves(path: Path) -> list[Curve]:
    """Load a hydraulic rig's oil temperatures: columns time_s, TS1 to TS4, one value a second.

    The recording goes on for hours at a steady temperature, so levels above it are known to be
    never reached.
    """
    with path.open(encoding="utf-8") as lines:
        times, *columns = _columns(lines, ("time", *OIL_COLUMNS))
    return [
        recorded_curve((f"oil-{name}", "oil"), times, values, OIL_STEP_K, (2.0, 6.0))
        for name, values in zip(OIL_COLUMNS, columns, strict=True)
    ]
