"""Amounts of a check brought to the reference temperature, and levels set at a wrong one."""

from __future__ import annotations

import math
from collections.abc import Iterable

from brimline.physics import volume
from brimline.physics.volume import Expansion, Misset
from brimline.procedure.state import CheckState, LedgerEntry
from brimline.specsheet.model import Band, Fluid, SpecSheet

REFERENCE_C = volume.REFERENCE_C
"""The temperature (°C) that amounts are brought to, so that they can be compared."""


def fluid_expansion(fluid: Fluid) -> Expansion | None:
    """Return a fluid's expansion with its uncertainty, ``None`` where it is not known.

    The sheet's own figure comes first; else it follows from the density (table 54D, see
    :mod:`brimline.physics.volume`).
    """
    try:
        return volume.expansion(fluid.density_15, fluid.expansion)
    except ValueError:  # outside of the table: no figure is better than a wrong one
        return None


def expansion_known(state: CheckState) -> Expansion | None:
    """Return the expansion of a check's fluid, ``None`` where it is not known."""
    fluid = None if state.fluid is None else state.sheet.fluid(state.fluid.product)
    return None if fluid is None else fluid_expansion(fluid)


def expansion_of(state: CheckState) -> float | None:
    """Return the coefficient (1/K at 15 °C) of a check's fluid, ``None`` where it is not known."""
    found = expansion_known(state)
    return None if found is None else found.coefficient


def at_reference(entries: Iterable[LedgerEntry], expansion: float | None) -> float | None:
    """Return the sum of the entries (L) at 15 °C, ``None`` where one cannot be brought there.

    :param expansion: the fluid's coefficient in 1/K at 15 °C.
    """
    total = 0.0
    for entry in entries:
        if entry.celsius is None or expansion is None:
            return None
        try:
            total += volume.at_reference(entry.litres, entry.celsius, expansion)
        except ValueError:  # a temperature outside of the table
            return None
    return total


def misset(sheet: SpecSheet, fluid: Fluid, duty: str, set_at: float) -> Misset | None:
    """Return what the level is off by that was set with the fluid at ``set_at`` (°C).

    It is asked for at :func:`reference_of` the duty's band. ``None`` where the fluid's expansion
    is not known, the sheet has no such duty, or a temperature lies outside of table 54D.
    """
    expansion, band = fluid_expansion(fluid), sheet.bands.get(duty)
    if expansion is None or band is None:
        return None
    high = band.high if band.high is not None else band.limit
    ends = (-math.inf if band.low is None else band.low, high)
    try:
        return volume.misset(sheet.level.capacity, set_at, ends, reference_of(band), expansion)
    except ValueError:
        return None


def reference_of(band: Band) -> float:
    """Return the temperature (°C) at which a band asks for the level: its middle.

    A band that is open above ends at its ``max_plug_out``; one that is open below has no middle,
    and its upper end counts.
    """
    high = band.high if band.high is not None else band.limit
    return high if band.low is None else (band.low + high) / 2
