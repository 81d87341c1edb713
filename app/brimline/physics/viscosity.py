"""Kinematic viscosity of a fluid at another temperature.

ASTM D341: log10 log10 Z = A - B·log10 T with T in K and Z = ν + 0.7 + exp(-1.47 - 1.84·ν -
0.51·ν²), ν in mm²/s. A and B follow from the two values that a data sheet gives. From 2 mm²/s
upwards the exponential is below 0.001 and is often left out (Walther's short form). The standard
was not read; both forms and the published inverse were read in public pages and code that cite it.

The published inverse ν = (Z - 0.7) - exp(-0.7487 - 3.295·(Z - 0.7) + 0.6119·(Z - 0.7)² -
0.3193·(Z - 0.7)³) is an approximation. Here it is only where a search begins, so that the result
meets the data sheet's own two values exactly.
"""

from __future__ import annotations

import math

_KELVIN = 273.15
_COLD_C, _HOT_C = 40.0, 100.0  # the two temperatures that data sheets give
_SHIFT = 0.7

LOWEST = 0.21
"""In mm²/s: the lowest viscosity that the standard's equation covers (from memory)."""


def kinematic_viscosity(celsius: float, at_40: float, at_100: float) -> float:
    """Return the kinematic viscosity in mm²/s.

    :param celsius: temperature, -60 to 200 °C; where the fluid would be thinner than
        :data:`LOWEST`, the result is an extrapolation.
    :param at_40: viscosity at 40 °C in mm²/s, above ``at_100``.
    :param at_100: viscosity at 100 °C in mm²/s, at least :data:`LOWEST`.
    :raises ValueError: outside those ranges, or so hot that the equation gives no viscosity.
    """
    if not -60.0 <= celsius <= 200.0:
        raise ValueError("temperature must lie between -60 and 200 °C")
    if not LOWEST <= at_100 < at_40:
        raise ValueError(f"viscosity must be at least {LOWEST} mm²/s at 100 °C, higher at 40 °C")
    intercept, slope = walther_constants(at_40, at_100)
    twice_log = intercept - slope * math.log10(celsius + _KELVIN)
    return from_z(10.0 ** (10.0**twice_log))


def walther_constants(at_40: float, at_100: float) -> tuple[float, float]:
    """Return A and B for temperatures in K.

    :param at_40: viscosity at 40 °C in mm²/s, at least :data:`LOWEST`.
    :param at_100: viscosity at 100 °C in mm²/s, at least :data:`LOWEST`.
    :raises ValueError: a viscosity below that.
    """
    if not min(at_40, at_100) >= LOWEST:
        raise ValueError(f"viscosity must be at least {LOWEST} mm²/s")
    cold, hot = (math.log10(math.log10(to_z(value))) for value in (at_40, at_100))
    log_cold, log_hot = (math.log10(celsius + _KELVIN) for celsius in (_COLD_C, _HOT_C))
    slope = (cold - hot) / (log_hot - log_cold)
    return cold + slope * log_cold, slope


def to_z(viscosity: float) -> float:
    """Return Z (no unit) of a viscosity in mm²/s, 0 or more."""
    return viscosity + _SHIFT + _thin(viscosity)


def from_z(z: float) -> float:
    """Return the viscosity (mm²/s) whose Z this is.

    :param z: as :func:`to_z` gives it, at least that of 0 mm²/s (about 0.93).
    :raises ValueError: a smaller one.
    """
    if z < to_z(0.0):
        raise ValueError("the equation gives no viscosity there")
    over = z - _SHIFT
    found = over
    if over < 10:  # above, the exponential is nothing beside the last digit
        found -= math.exp(-0.7487 - 3.295 * over + 0.6119 * over**2 - 0.3193 * over**3)
    found = max(0.0, found)
    for _ in range(50):  # Newton; Z rises with viscosity and is convex, so it cannot run away
        slope = 1 - _thin(found) * (1.84 + 1.02 * found)
        step = (to_z(found) - z) / slope
        found = max(0.0, found - step)
        if abs(step) <= 1e-14 * (1 + found):
            break
    return found


def _thin(viscosity: float) -> float:
    """The term that counts for thin fluids; its square is cut off where it no longer counts."""
    return math.exp(-1.47 - 1.84 * viscosity - 0.51 * min(viscosity, 1e3) ** 2)
