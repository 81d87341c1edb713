"""What speaks against the fluid's sensor: hall and coolant of a rested vehicle, an infrared gun.

The gun never decides. A surface can make it show too little by as much as it likes, so a gun that
some emissivity reconciles with the sensor speaks neither for nor against it. A gun that none
reconciles casts doubt, by the same judgement that the sensor's page tells
(:mod:`brimline.physics.infrared`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from brimline.physics.infrared import USUAL_SETTING, GunJudgement, judge_gun
from brimline.procedure import facts
from brimline.procedure.events import SensorChecked
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState

GUN_SINCE = 4
"""Version of the procedure from which a gun counts by what it means. Before, one that read more
than the tolerance above the sensor cast doubt, on whichever side of ambient both lay."""


def gun_setting(check: SensorChecked) -> float:
    """Return the emissivity the gun is set to, the usual one where nobody said."""
    return USUAL_SETTING if check.gun_emissivity is None else check.gun_emissivity


def gun_judgement(check: SensorChecked, fluid: float) -> GunJudgement | None:
    """Return what the gun says beside the sensor; it raises nothing, whatever was typed.

    :param fluid: what the fluid's sensor showed at that moment, in °C.
    :returns: ``None`` where no gun was used, or its numbers cannot be judged.
    """
    if check.infrared is None:
        return None
    try:
        return judge_gun(fluid, check.infrared, check.ambient, gun_setting(check))
    except ValueError:  # colder than -50 °C, or set to an emissivity that no surface has
        return None


def compared(state: CheckState, check: SensorChecked, fluid: float) -> CheckState:
    """Return the state with the sensor compared, the fluid at ``fluid`` °C.

    The gun is judged here once, because gates are asked at every reading.
    """
    gun = gun_judgement(check, fluid) if state.opened.procedure >= GUN_SINCE else None
    return replace(state, sensor=check, sensor_celsius=fluid, gun=gun)


def against(state: CheckState) -> Iterator[Reason]:
    """Yield what speaks against the sensor as it was compared last.

    Hall and coolant count only of a vehicle that rested; one that is warm is compared with the gun
    alone. What the gun adds is a doubt of its own, whose word is the verdict:

    - agreeing, or reconciled by an emissivity: nothing, however far apart the two are.
    - not conclusive (fluid or gun too near ambient): nothing either. It says no more than a gun
      on a mirror, so it lifts no doubt that hall or coolant raise, and raises none: the gate asks
      that somebody compared and that nothing speaks against the sensor, not for a proof of it.
    - numbers that cannot be judged: the plain tolerance above the sensor, as for the others.
    """
    check, fluid = state.sensor, state.sensor_celsius
    if check is None or fluid is None:
        yield Reason(Code.SENSOR_NOT_CHECKED)
        return
    others = [check.ambient, check.coolant] if check.rested else []
    apart = [abs(fluid - other) for other in others if other is not None]
    judged = state.gun
    if check.infrared is not None and judged is None:
        apart.append(check.infrared - fluid)
    if judged is None and not apart:
        yield Reason(Code.SENSOR_NOT_CHECKED)
    elif apart and max(apart) > facts.SENSOR_TOLERANCE_K:
        yield Reason(Code.SENSOR_DOUBTED, value=max(apart), limit=facts.SENSOR_TOLERANCE_K)
    if judged is not None and judged.verdict.implausible:
        word, off = judged.verdict.value, judged.difference
        yield Reason(Code.SENSOR_DOUBTED, word, value=off, limit=judged.allowed)
