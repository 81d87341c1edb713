"""How soon the fluid burns, at the temperature that a check has now."""

from __future__ import annotations

from dataclasses import dataclass

from brimline.physics.burn import BurnKind, BurnTime, burn_time
from brimline.procedure import facts
from brimline.procedure.state import CheckState

__all__ = ["BurnKind", "BurnRisk", "BurnTime", "burn_risk"]


@dataclass(frozen=True, slots=True)
class BurnRisk:
    """How soon the fluid burns skin; both ``None`` where no fresh temperature is known.

    :param celsius: the fluid's temperature in °C.
    """

    celsius: float | None
    time: BurnTime | None


def burn_risk(state: CheckState) -> BurnRisk:
    """Return what the fluid's present temperature does to skin."""
    celsius = facts.temperature(state)
    return BurnRisk(celsius, None if celsius is None else burn_time(celsius))
