"""Kinematic viscosity of a fluid at another temperature.

Walther's equation as ASTM D341 uses it: log10 log10(ν + 0.7) = A - B·log10 T, with ν in mm²/s and
T in K. A and B follow from the two values that a data sheet gives. The standard was not read; the
short form and its limit of 2 mm²/s were read in two public pages that cite it.
"""

from __future__ import annotations

import math

_KELVIN = 273.15
_COLD_C, _HOT_C = 40.0, 100.0  # the two temperatures that data sheets give
_SHIFT = 0.7

LOWEST = 2.0
"""In mm²/s: below it the short form no longer holds."""


def kinematic_viscosity(celsius: float, at_40: float, at_100: float) -> float:
    """Return the kinematic viscosity in mm²/s.

    :param celsius: temperature, -60 to 200 °C; where the fluid would be thinner than
        :data:`LOWEST`, the result is an extrapolation.
    :param at_40: viscosity at 40 °C in mm²/s, above ``at_100``.
    :param at_100: viscosity at 100 °C in mm²/s, at least :data:`LOWEST`.
    :raises ValueError: outside those ranges.
    """
    if not -60.0 <= celsius <= 200.0:
        raise ValueError("temperature must lie between -60 and 200 °C")
    if not LOWEST <= at_100 < at_40:
        raise ValueError("viscosity must be at least 2 mm²/s at 100 °C and higher at 40 °C")
    intercept, slope = walther_constants(at_40, at_100)
    twice_log = intercept - slope * math.log10(celsius + _KELVIN)
    return float(10.0 ** (10.0**twice_log) - _SHIFT)


def walther_constants(at_40: float, at_100: float) -> tuple[float, float]:
    """Return A and B of Walther's equation for temperatures in K.

    :param at_40: viscosity at 40 °C in mm²/s, above 0.3.
    :param at_100: viscosity at 100 °C in mm²/s, above 0.3.
    :raises ValueError: a viscosity that has no double logarithm.
    """
    if min(at_40, at_100) <= 1 - _SHIFT:
        raise ValueError("viscosity must be above 0.3 mm²/s")
    cold, hot = (math.log10(math.log10(value + _SHIFT)) for value in (at_40, at_100))
    log_cold, log_hot = (math.log10(celsius + _KELVIN) for celsius in (_COLD_C, _HOT_C))
    slope = (cold - hot) / (log_hot - log_cold)
    return cold + slope * log_cold, slope
