"""What can be wrong with a simulated vehicle, by name."""

from __future__ import annotations

from dataclasses import dataclass, replace

from brimline.condition.model import Clarity, Colour, Findings, Odour, Particles
from brimline.errors import SimulationError
from brimline.simulator.families import AMBIENT_C, Family
from brimline.simulator.fluid import filled_with
from brimline.simulator.names import FAULTS, SENSOR_OFF_K
from brimline.simulator.sensor import NO_FAULT, SensorFault
from brimline.specsheet.model import NORMAL_DUTY, Approval, SpecSheet

SOUND_EXCESS = 0.2
"""A sound vehicle comes in with a little above the right filling, in L, so that it runs off."""

HOT_BY_K = 12.0
"""So much above the band arrives what arrives hot."""


@dataclass(frozen=True)
class Plan:
    """How a vehicle departs from the right filling and a sound condition.

    :param excess: L at 15 °C above the right filling, may be negative.
    :param arrival: fluid and case temperature in °C.
    :param leak: L/s lost elsewhere while the engine runs.
    :param stalls_after: s with the plug out until the engine stops by itself; ``None``: never.
    :param fluid_in_hand: the product that the technician has taken from the shelf.
    """

    excess: float
    arrival: float
    findings: Findings
    fluid_in_hand: str
    sensor: SensorFault = NO_FAULT
    leak: float = 0.0
    stalls_after: float | None = None


def plan(fault: str | None, sheet: SpecSheet, family: Family) -> Plan:
    """Return what a fault means for a family; ``None`` is a sound vehicle.

    :raises SimulationError: there is no such fault, or the sheet refuses no fluid.
    """
    level = sheet.level
    sound = Plan(SOUND_EXCESS, family.arrival, family.findings, filled_with(sheet).name)
    if fault is None:
        return sound
    if fault not in FAULTS:
        raise SimulationError(
            f"There is no simulated fault “{fault}”; there are {', '.join(FAULTS)}."
        )
    if fault == "wrong-fluid":
        return replace(sound, fluid_in_hand=_refused(sheet))
    band = sheet.bands[NORMAL_DUTY]
    hot = (band.high if band.high is not None else band.limit) + HOT_BY_K
    foamy = replace(family.findings, clarity=Clarity.FOAMY)
    coolant = Findings(Colour.PINK, Clarity.MILKY, Odour.SWEET, Particles.NONE, coolant_signs=True)
    planned = {
        "overfilled": replace(sound, excess=level.max_run_off + 0.4, findings=foamy),
        "low": replace(sound, excess=-0.35),
        "hot-arrival": replace(sound, arrival=hot),
        "leaking": replace(sound, excess=-level.max_top_up - 0.4, leak=0.0004),
        "coolant": replace(sound, findings=coolant),
        "sensor-offset": replace(sound, arrival=AMBIENT_C, sensor=SensorFault(offset=SENSOR_OFF_K)),
        "sensor-frozen": replace(sound, sensor=SensorFault(freezes_after=90.0)),
        "engine-stall": replace(sound, stalls_after=30.0),
    }
    return planned[fault]


def _refused(sheet: SpecSheet) -> str:
    for fluid in sheet.fluids:
        if fluid.approval is Approval.REFUSED:
            return fluid.name
    raise SimulationError(f"Spec sheet {sheet.id} refuses no fluid that could be in hand.")
