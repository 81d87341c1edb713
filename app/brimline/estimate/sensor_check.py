"""What the comparison of the fluid's sensor says: infrared gun, and a rested vehicle.

It answers a person; the gate, which alone decides, judges the gun by the same function. Whatever
was typed, it gives an answer or none; it raises nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from brimline.physics.cold_soak import SoakJudgement, SoakVerdict, judge_soak
from brimline.physics.infrared import GunJudgement
from brimline.procedure.events import SensorChecked
from brimline.procedure.sensing import gun_judgement, gun_setting
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
    gun, assumed = gun_judgement(check, fluid), check.gun_emissivity is None
    return SensorAnswer(gun, gun_setting(check), assumed, _soak(check, fluid))


def answer(state: CheckState) -> SensorAnswer | None:
    """Return what the check's own comparison says, ``None`` before there was one."""
    if state.sensor is None or state.sensor_celsius is None:
        return None
    return answer_to(state.sensor, state.sensor_celsius)


def bias_found(check: SensorChecked | None, fluid: float | None) -> SoakJudgement | None:
    """Return what a cold soak found the sensor to be off by.

    ``None`` where there was no such comparison, it says nothing, or the sensor agrees with it
    within its uncertainty. Parameters as for :func:`answer_to`.
    """
    soak = None if check is None or fluid is None else _soak(check, fluid)
    return soak if soak is not None and soak.verdict is SoakVerdict.BIASED else None


def _soak(check: SensorChecked, fluid: float) -> SoakJudgement | None:
    if not check.rested:
        return None
    try:
        return judge_soak(fluid, check.ambient, check.coolant, check.rest_s)
    except ValueError:
        return None
