"""How soon the fluid burns, at the temperature that a check has now."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimline.estimate.sensor_check import bias_found
from brimline.physics.burn import BurnKind, BurnTime, burn_time
from brimline.procedure import facts, gates
from brimline.procedure.state import CheckState

SENSOR_K = 2.5
"""In K: so much too low a sensor may read that nothing speaks against (common practice, no source).
"""

__all__ = ["BurnKind", "BurnRisk", "BurnTime", "burn_risk"]


@dataclass(frozen=True, slots=True)
class BurnRisk:
    """How soon the fluid burns skin; both ``None`` where no fresh temperature is known.

    :param celsius: the fluid's temperature in whole °C, what was read rounded up.
    :param doubted: nothing speaks for the sensor, or something against it.
    """

    celsius: float | None
    time: BurnTime | None
    doubted: bool = False


def burn_risk(state: CheckState) -> BurnRisk:
    """Return what the fluid's present temperature does to skin.

    The fluid is taken for :data:`SENSOR_K` hotter than the sensor reads. A sensor that was never
    compared, or that the comparison casts doubt on, whoever overrode it, counts for nothing.
    """
    celsius = facts.temperature(state)
    if celsius is None:
        return BurnRisk(None, None)
    celsius = float(math.ceil(celsius - 1e-9))  # one answer for each degree that is shown
    if any(gates.sensor(state)) or _reads_low(state):
        return BurnRisk(celsius, BurnTime(BurnKind.IMMEDIATE, None), doubted=True)
    return BurnRisk(celsius, burn_time(celsius + SENSOR_K))


def _reads_low(state: CheckState) -> bool:
    """Whether the cold soak found the sensor to read low, though the gate lets that much pass."""
    found = bias_found(state.sensor, state.sensor_celsius)
    return found is not None and (found.bias or 0.0) < 0
