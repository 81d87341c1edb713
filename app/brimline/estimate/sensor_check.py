"""What the comparison of the fluid's sensor says: infrared gun, and a rested vehicle.

It answers a person and is a witness beside the gate, which alone decides. Whatever was typed,
it gives an answer or none; it raises nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from brimline.physics.cold_soak import SoakJudgement, judge_soak
from brimline.physics.infrared import USUAL_SETTING, GunJudgement, judge_gun
from brimline.procedure.events import SensorChecked
from brimline.procedure.state import CheckState


@dataclass(frozen=True, slots=True)
class SensorAnswer:
    """What the comparison says.

    :param gun: ``None`` where no gun was used, or its numbers cannot be.
    :param setting: the emissivity that the gun is set to.
    :param setting_assumed: nobody said it; the usual one was taken.
    :param soak: ``None`` where the vehicle did not rest, or the numbers cannot be.
    """

    gun: GunJudgement | None
    setting: float
    setting_assumed: bool
    soak: SoakJudgement | None


def answer_to(check: SensorChecked, fluid: float) -> SensorAnswer:
    """Return what a comparison says.

    :param check: ambient, coolant, gun (°C), the gun's setting and the rest (s), as known.
    :param fluid: what the fluid's sensor showed at that moment, in °C.
    """
    setting = USUAL_SETTING if check.gun_emissivity is None else check.gun_emissivity
    assumed = check.gun_emissivity is None
    return SensorAnswer(_gun(check, fluid, setting), setting, assumed, _soak(check, fluid))


def answer(state: CheckState) -> SensorAnswer | None:
    """Return what the check's own comparison says, ``None`` before there was one."""
    if state.sensor is None or state.sensor_celsius is None:
        return None
    return answer_to(state.sensor, state.sensor_celsius)


def _gun(check: SensorChecked, fluid: float, setting: float) -> GunJudgement | None:
    if check.infrared is None:
        return None
    try:
        return judge_gun(fluid, check.infrared, check.ambient, setting)
    except ValueError:
        return None


def _soak(check: SensorChecked, fluid: float) -> SoakJudgement | None:
    if not check.rested:
        return None
    try:
        return judge_soak(fluid, check.ambient, check.coolant, check.rest_s)
    except ValueError:
        return None
