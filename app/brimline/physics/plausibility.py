"""What the temperature of transmission fluid cannot do.

A rate is power over heat capacity. The least heat capacity is that of little fluid alone, 6 kg at
2000 J/(kg·K), without any metal, so that every limit below is an upper bound:

=========  =======================================================  =========================
engine     rises by at most                                         falls by at most
=========  =======================================================  =========================
running    5.6 K/s: stall heating, 10 °F a second (common           3.6 K/s: a cooler that
           practice, no source); that is 67 kW into 12 kJ/K         takes 30 kW, and cold fluid
                                                                    pumped in besides
off        1 K/s, and 20 K in all: hot fluid of the converter runs  1.5 K/s: a fan that takes
           back into the sump and hot metal soaks through (common   4 kW, and cold fluid
           practice, no source); or up to what stands around it     pumped in besides
unknown    the larger of both                                       the larger of both
=========  =======================================================  =========================

The specific heat agrees with Cragoe's equation for a fluid of density 0.85 at 60 °C, 2050 J/(kg·K)
(read in secondary sources). Cooler, fan and pump are common practice, no source.

Nor can cold fluid stand still while the engine runs, see :func:`longest_standstill`.
"""

from __future__ import annotations

import math
from enum import StrEnum

from brimline.physics.warm_up_prior import IDLING

HEAT_CAPACITY = 6.0 * 2000.0
"""Of the least fluid, in J/K."""

STALL_HEATING = 10 * 5 / 9
"""In K/s: 10 °F each second (common practice, no source)."""

_COOLER_W = 30_000.0  # 0.15 kg/s through a cooler that takes 100 K out of it
_FAN_W = 4_000.0  # 50 W/(m²·K) from 0.8 m² that are 100 K above the air
_PUMPED_IN_W = 0.085 * 2000.0 * 80.0  # 0.1 L/s of fluid that is 80 K colder
_SOAK_RATE = 1.0  # half of the fluid comes back 20 K hotter within 10 s

HEAT_SOAK_K = 20.0
"""How far fluid rises after the engine has stopped, in all (common practice, no source)."""

WARMEST_AROUND_C = 60.0
"""Fluid at rest may slowly become as warm as this, as a vehicle in the sun does."""

COLDEST_C, HOTTEST_C = -50.0, 200.0
"""No workshop is colder, no fluid hotter, however long nobody looked."""

RESOLUTION_K = 1.0
"""Most senders count whole degrees Celsius."""

LEAST_END_C, SLOWEST_S = IDLING.steady[0], IDLING.whole[1]
"""An engine that idles brings fluid to 45 °C at least, with a time constant of 6000 s at most."""

LEAST_LIFT_K = LEAST_END_C - 20.0
"""That is 25 K above a shop of 20 °C; in a colder shop it is 25 K above that."""


class EngineState(StrEnum):
    """What is known of the engine over the whole time between two readings."""

    RUNNING = "running"
    OFF = "off"
    UNKNOWN = "unknown"


_RISE = {EngineState.RUNNING: STALL_HEATING, EngineState.OFF: _SOAK_RATE}
_FALL = {
    EngineState.RUNNING: (_COOLER_W + _PUMPED_IN_W) / HEAT_CAPACITY,
    EngineState.OFF: (_FAN_W + _PUMPED_IN_W) / HEAT_CAPACITY,
}


def fastest_rise(engine: EngineState) -> float:
    """Return how fast fluid can become warmer, at most, in K/s."""
    return _RISE.get(engine, max(_RISE.values()))


def fastest_fall(engine: EngineState) -> float:
    """Return how fast fluid can become colder, at most, in K/s; above 0."""
    return _FALL.get(engine, max(_FALL.values()))


def reachable(celsius: float, elapsed: float, engine: EngineState) -> tuple[float, float]:
    """Return the lowest and highest temperature (°C) that fluid can have after some time.

    The range widens with time, but never beyond what fluid can reach at all: -50 to 200 °C, and
    with the engine off no more than :data:`HEAT_SOAK_K` above the start, or the warmest that may
    stand around it.

    :param celsius: at the start; a start outside -50 to 200 °C is kept, and only ever left inwards.
    :param elapsed: in s, 0 or more.
    :raises ValueError: ``elapsed`` below 0 or not a number.
    """
    if not elapsed >= 0:
        raise ValueError("elapsed must be 0 s or more")
    ceiling = HOTTEST_C
    if engine is EngineState.OFF:
        ceiling = min(HOTTEST_C, max(celsius + HEAT_SOAK_K, WARMEST_AROUND_C))
    low = max(celsius - fastest_fall(engine) * elapsed, COLDEST_C)
    high = min(celsius + fastest_rise(engine) * elapsed, ceiling)
    return min(low, celsius), max(high, celsius)


def step_allowance(resolution: float = RESOLUTION_K) -> float:
    """Return how far two readings of unmoved fluid may differ, in K: two steps of the sensor.

    One step by rounding, one by the jitter of a reading near an edge; recordings of real trucks
    jumped by up to 1.03 K at idle.

    :param resolution: one step of the sensor in K, 0 or more.
    :raises ValueError: below 0 or not a number.
    """
    if not resolution >= 0:
        raise ValueError("resolution must be 0 K or more")
    return 2 * resolution


def is_possible(
    before: float,
    after: float,
    elapsed: float,
    engine: EngineState,
    allowance: float = 2 * RESOLUTION_K,
) -> bool:
    """Return whether fluid can go from one temperature to another in a time.

    :param before: in °C.
    :param after: in °C.
    :param elapsed: in s, 0 or more.
    :param allowance: in K, see :func:`step_allowance`.
    :raises ValueError: ``elapsed`` below 0 or not a number.
    """
    low, high = reachable(before, elapsed, engine)
    return low - allowance <= after <= high + allowance


def longest_standstill(celsius: float, coldest: float, step: float = RESOLUTION_K) -> float:
    """Return for how long a sensor in sound fluid shows one value while the engine runs, in s.

    Of all boxes that :data:`~brimline.physics.warm_up_prior.IDLING` allows for, the slowest gains
    one step in ``step · 6000 s / (end − celsius)``. The end is 45 °C, or 25 K above the coldest
    seen where that is less; so no answer is shorter than 240 s, nearly three times what recordings
    of a car being driven hold one whole degree for (85 s). Fluid at its end stands for ever, as
    does fluid that a thermostat holds: from the end on the answer is infinite, and nothing in the
    temperature alone tells such fluid from a sensor that died.

    :param celsius: the value that stands.
    :param coldest: the coldest that the fluid was seen at, ``celsius`` at most.
    :param step: one step of the sensor in K, above 0; finer ones count as whole degrees, because
        how finely a sensor counts says little of how finely its sender does.
    """
    left = min(LEAST_END_C, coldest + LEAST_LIFT_K) - celsius
    if left <= 0:
        return math.inf
    return max(step, RESOLUTION_K) * SLOWEST_S / left
