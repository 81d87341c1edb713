"""Volume of lubricating oil at another temperature, and what a wrong temperature does to a level.

Generalised lubricating oils of ASTM D1250 / API MPMS chapter 11.1, metric form of 1980 (table
54D): α = 0.6278 / ρ15 and VCF = exp(-α·Δt·(1 + 0.8·α·Δt)) with Δt = t - 15 °C. The constants
were read in secondary sources. A correlation for mineral lubricating oils: for a transmission
fluid with its additives it is an estimate, so every coefficient carries an uncertainty.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

REFERENCE_C = 15.0
"""Temperature in °C to which amounts are brought, as in the metric tables."""

_K1 = 0.6278
DENSITY_KG_M3 = (800.0, 1164.0)
"""Lowest and highest density at 15 °C in table 54D (read in a public table)."""
_TEMPERATURE_C = (-50.0, 150.0)

STATED_UNCERTAINTY = 0.02
"""Relative standard uncertainty of a data sheet's own coefficient. An assumption: such figures
have two digits, which leaves up to ±5 % where the first is small, and a batch is not its sheet."""

TABLE_UNCERTAINTY = 0.06
"""Relative standard uncertainty of table 54D for a fluid with additives, often synthetic. An
assumption: ±10 % taken as equally likely throughout (10 %/√3), the distance that lies between
base oils of equal density and different kind (from memory: polyalphaolefins about 8e-4 1/K where
the table says 7.6e-4, esters 7.5e-4 where it says 6.7e-4)."""

CASE_EXPANSION = 7.0e-5
"""Cubic expansion in 1/K of the vessel: three times aluminium's 23e-6 1/K (from memory). A warm
case has more room below the rim and so hides a tenth of the fluid's growth; steel hides less."""


class Basis(StrEnum):
    """What a coefficient rests on."""

    STATED = "stated"
    TABLE_54D = "table_54d"


@dataclass(frozen=True)
class Expansion:
    """A fluid's thermal expansion.

    :param coefficient: in 1/K at 15 °C.
    :param uncertainty: standard uncertainty relative to the coefficient.
    """

    coefficient: float
    uncertainty: float
    basis: Basis

    @property
    def least(self) -> float:
        """The coefficient less two standard uncertainties, 1/K."""
        return self.coefficient * (1 - 2 * self.uncertainty)


@dataclass(frozen=True)
class Misset:
    """What a level set at a wrong temperature is off by; above 0 overfilled, below 0 underfilled.

    :param litres: L with the fluid at the band's reference, by the fluid's expansion alone.
    :param at_least: L of the same sign that are sure: against the nearer end of the band, with the
        least coefficient and the case growing too; 0 for a level set inside the band.

    Both leave out drain-back, converter and aeration, which add to them.
    """

    litres: float
    at_least: float


def expansion(density_15: float | None, stated: float | None = None) -> Expansion:
    """Return a fluid's expansion: the coefficient that its data sheet states, else table 54D's.

    :param density_15: density at 15 °C in kg/m³, 800 to 1164; not looked at beside ``stated``.
    :param stated: coefficient at 15 °C in 1/K, above 0 and below 0.01.
    :raises ValueError: neither is given, or outside those ranges.
    """
    if stated is not None:
        if not 0 < stated < 0.01:
            raise ValueError("expansion must lie between 0 and 0.01 1/K")
        return Expansion(stated, STATED_UNCERTAINTY, Basis.STATED)
    if density_15 is None:
        raise ValueError("neither an expansion coefficient nor a density at 15 °C is given")
    return Expansion(expansion_at_15(density_15), TABLE_UNCERTAINTY, Basis.TABLE_54D)


def expansion_at_15(density_15: float) -> float:
    """Return table 54D's thermal expansion coefficient (1/K) at 15 °C.

    :param density_15: density at 15 °C in kg/m³, 800 to 1164.
    :raises ValueError: outside that range.
    """
    low, high = DENSITY_KG_M3
    if not low <= density_15 <= high:
        raise ValueError(f"density at 15 °C must lie between {low:g} and {high:g} kg/m³")
    return _K1 / density_15


def correction_factor(expansion: float, celsius: float) -> float:
    """Return VCF: volume at 15 °C divided by volume at ``celsius``.

    :param expansion: coefficient at 15 °C in 1/K, see :func:`expansion_at_15`.
    :param celsius: -50 to 150 °C.
    :raises ValueError: outside that range.
    """
    if not reaches(celsius):
        low, high = _TEMPERATURE_C
        raise ValueError(f"temperature must lie between {low:g} and {high:g} °C")
    product = expansion * (celsius - REFERENCE_C)
    return math.exp(-product * (1 + 0.8 * product))


def reaches(*celsius: float) -> bool:
    """Return whether the table reaches to all of these temperatures (°C)."""
    low, high = _TEMPERATURE_C
    return all(low <= each <= high for each in celsius)


def at_reference(litres: float, celsius: float, expansion: float) -> float:
    """Return the volume (L) that ``litres`` measured at ``celsius`` take up at 15 °C.

    :param celsius: -50 to 150 °C.
    :param expansion: coefficient at 15 °C in 1/K.
    :raises ValueError: a temperature outside that range.
    """
    return litres * correction_factor(expansion, celsius)


def from_reference(litres_15: float, celsius: float, expansion: float) -> float:
    """Return the volume (L) at ``celsius`` of what takes up ``litres_15`` at 15 °C.

    The inverse of :func:`at_reference`, with the same ranges and errors.
    """
    return litres_15 / correction_factor(expansion, celsius)


def change(litres: float, before: float, after: float, expansion: float) -> float:
    """Return by how many L ``litres`` grow (positive) or shrink from one temperature to another.

    :param litres: volume at ``before``.
    :param before: °C, -50 to 150.
    :param after: °C, -50 to 150.
    :param expansion: coefficient at 15 °C in 1/K.
    :raises ValueError: a temperature outside that range.
    """
    growth = correction_factor(expansion, before) / correction_factor(expansion, after)
    return litres * (growth - 1)


def sure_change(litres: float, before: float, after: float, expansion: Expansion) -> float:
    """Return the part of :func:`change` (L) that is sure to show as a change of level.

    The least coefficient counts, less what the case grows meanwhile (:data:`CASE_EXPANSION`); both
    only ever make it smaller. Ranges and errors as there.
    """
    grown = change(litres, before, after, expansion.least)
    sure = abs(grown) - litres * CASE_EXPANSION * abs(after - before)
    return math.copysign(max(0.0, sure), grown)


def misset(
    capacity: float,
    set_at: float,
    band: tuple[float, float],
    reference: float,
    expansion: Expansion,
) -> Misset:
    """Return what a level is off by that was set at the rim with the fluid at ``set_at``.

    :param capacity: fluid in the transmission in L when its level is right.
    :param set_at: °C, -50 to 150.
    :param band: lower and upper end of the target band in °C; infinite where it is open.
    :param reference: °C inside the band at which the level is then asked for, -50 to 150.
    :raises ValueError: a temperature outside that range, or a reference outside the band.
    """
    low, high = band
    if not low <= reference <= high:
        raise ValueError("the reference must lie inside the band")
    nearer = min(max(set_at, low), high)
    return Misset(
        litres=change(capacity, set_at, reference, expansion.coefficient),
        at_least=sure_change(capacity, set_at, nearer, expansion),
    )
