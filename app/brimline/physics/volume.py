"""Volume of lubricating oil at another temperature.

Generalised lubricating oils of ASTM D1250 / API MPMS chapter 11.1, metric form of 1980 (table
54D): α = 0.6278 / ρ15 and VCF = exp(-α·Δt·(1 + 0.8·α·Δt)) with Δt = t - 15 °C. The constants
were read in secondary sources. A correlation for mineral lubricating oils: for a transmission
fluid with its additives it is an estimate.
"""

from __future__ import annotations

import math

REFERENCE_C = 15.0
"""Temperature in °C to which amounts are brought, as in the metric tables."""

_K1 = 0.6278
_DENSITY_KG_M3 = (800.0, 1164.0)
_TEMPERATURE_C = (-50.0, 150.0)


def expansion_at_15(density_15: float) -> float:
    """Return the thermal expansion coefficient (1/K) at 15 °C.

    :param density_15: density at 15 °C in kg/m³, 800 to 1164.
    :raises ValueError: outside that range.
    """
    low, high = _DENSITY_KG_M3
    if not low <= density_15 <= high:
        raise ValueError(f"density at 15 °C must lie between {low:g} and {high:g} kg/m³")
    return _K1 / density_15


def correction_factor(expansion: float, celsius: float) -> float:
    """Return VCF: volume at 15 °C divided by volume at ``celsius``.

    :param expansion: coefficient at 15 °C in 1/K, see :func:`expansion_at_15`.
    :param celsius: -50 to 150 °C.
    :raises ValueError: outside that range.
    """
    low, high = _TEMPERATURE_C
    if not low <= celsius <= high:
        raise ValueError(f"temperature must lie between {low:g} and {high:g} °C")
    product = expansion * (celsius - REFERENCE_C)
    return math.exp(-product * (1 + 0.8 * product))


def at_reference(litres: float, celsius: float, expansion: float) -> float:
    """Return the volume (L) that ``litres`` measured at ``celsius`` take up at 15 °C."""
    return litres * correction_factor(expansion, celsius)
