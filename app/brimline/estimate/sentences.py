"""What the estimates of sensor and burn say to a person, every number with its unit.

Beside :mod:`brimline.wording`, for the answers that it does not know: those of this room.
"""

from __future__ import annotations

from brimline.estimate.burn_risk import BurnKind, BurnRisk
from brimline.estimate.sensor_check import SensorAnswer
from brimline.physics.burn import LOWEST_C
from brimline.physics.cold_soak import SoakJudgement, SoakVerdict
from brimline.physics.infrared import GunJudgement, GunVerdict
from brimline.translation import joined, marked, tr
from brimline.units import UnitSystem

BURN_SOURCE = marked(
    "After published times to a burn of the second degree on adult skin by flowing hot water; "
    "rounded down, and for a fluid hotter than its reading by as much as the sensor may be off."
)

_SHINY = 0.4
"""Below it a surface is called shiny: tables differ fivefold for one metal, so no finer word is
honest."""


def gun_sentence(answer: SensorAnswer, units: UnitSystem) -> str:
    """Return what the infrared gun says, empty where it was not used or its numbers cannot be."""
    judged = answer.gun
    if judged is None:
        return ""
    if judged.verdict is GunVerdict.NOT_CONCLUSIVE:
        return tr(
            "The gun says nothing here, for the sensor or against it: gun or fluid is too near the "
            "shop air."
        )
    if judged.verdict.implausible:
        return gun_doubt(judged.verdict, judged.difference, units)
    if judged.verdict is GunVerdict.AGREES:
        allowed = units.temperature_difference(judged.allowed)
        said = [tr("Gun and sensor agree within {allowed}.", allowed=allowed)]
    else:
        said = [joined((_reads(judged.difference, units), "."), ""), _emissivity(judged)]
    if answer.setting_assumed:
        said.append(tr("The gun is taken as set to {setting:.2f}.", setting=answer.setting))
    return joined(filter(None, said), " ")


def gun_doubt(verdict: str, difference: float | None, units: UnitSystem) -> str:
    """Return what a gun says that no surface can explain, for the page and for the gate alike.

    :param verdict: a :class:`GunVerdict` that is implausible.
    :param difference: gun minus sensor in K, ``None`` where it is past and no longer known.
    """
    if verdict == GunVerdict.OTHER_SIDE:
        return tr(
            "Gun and sensor lie on different sides of the shop air, which no surface can explain. "
            "Aim again; if it stays, doubt the sensor."
        )
    off = tr("The gun reads far off the sensor")
    return tr(
        "{what}, which no surface can explain. Aim again, clear of hot parts; if it stays, doubt "
        "the sensor.",
        what=off if difference is None else _reads(difference, units),
    )


def _emissivity(judged: GunJudgement) -> str:
    if judged.emissivity is None or judged.uncertainty is None:
        return ""
    known = {"emissivity": judged.emissivity, "spread": judged.uncertainty}
    if judged.emissivity < _SHINY:
        return tr(
            "A pan with an emissivity of {emissivity:.2f} (±{spread:.2f}) explains that, as shiny "
            "metal has.",
            **known,
        )
    return tr(
        "A pan with an emissivity of {emissivity:.2f} (±{spread:.2f}) explains that. Matt tape on "
        "the pan would settle it.",
        **known,
    )


def soak_sentence(answer: SensorAnswer, units: UnitSystem) -> str:
    """Return what a rested vehicle says, empty where it did not rest."""
    judged = answer.soak
    if judged is None:
        return ""
    if judged.left_over is None:
        return tr("How long it stood is not said, so being cold proves little.")
    if judged.verdict is SoakVerdict.TOO_SHORT:
        left = units.temperature_difference(judged.left_over)
        return tr(
            "Too short a rest to compare: as much as {left} of its heat may be left. It takes "
            "{hours:.1f} h.",
            left=left, hours=judged.rest_needed / 3600,
        )  # fmt: skip
    if judged.verdict is SoakVerdict.NOT_CONCLUSIVE:
        return tr("Coolant and shop air are too far apart to say which the sensor should match.")
    return _bias(judged, units)


def _bias(judged: SoakJudgement, units: UnitSystem) -> str:
    spread = units.temperature_difference(judged.uncertainty or 0.0)
    bias = judged.bias or 0.0
    if judged.verdict is SoakVerdict.AGREES:
        return tr(
            "Rested and cold: the sensor is right within what can be told (±{spread}).",
            spread=spread,
        )
    off = units.temperature_difference(abs(bias))
    if bias > 0:
        return tr(
            "Rested and cold: the sensor reads {off} too high (±{spread}).", off=off, spread=spread
        )
    return tr(
        "Rested and cold: the sensor reads {off} too low (±{spread}).", off=off, spread=spread
    )


def _reads(difference: float, units: UnitSystem) -> str:
    apart = units.temperature_difference(abs(difference))
    if difference > 0:
        return tr("The gun reads {apart} above the sensor", apart=apart)
    return tr("The gun reads {apart} below the sensor", apart=apart)


def gun_doubts(answer: SensorAnswer) -> bool:
    """Return whether the gun casts doubt on the sensor, or on itself."""
    return answer.gun is not None and answer.gun.verdict.implausible


def soak_doubts(answer: SensorAnswer) -> bool:
    """Return whether a rested vehicle casts doubt on the sensor."""
    return answer.soak is not None and answer.soak.verdict is SoakVerdict.BIASED


def burn_sentence(risk: BurnRisk, units: UnitSystem) -> str:
    """Return what the fluid does to skin at its present temperature."""
    if risk.celsius is None or risk.time is None:
        return tr("No fresh temperature: take it that the fluid burns skin immediately.")
    if risk.doubted:
        return tr("The sensor is not trusted: take it that the fluid burns skin immediately.")
    if risk.time.kind is BurnKind.NOT_CLAIMED:
        lowest = units.temperature(LOWEST_C)
        return tr(
            "Below {lowest} no time to a burn is published; that is no leave to touch it.",
            lowest=lowest,
        )
    celsius = units.temperature(risk.celsius)
    if risk.time.seconds is None:
        return tr("Fluid at {celsius} burns skin immediately.", celsius=celsius)
    time = _whole(risk.time.seconds)
    return tr("Fluid at {celsius} burns skin within {time}.", celsius=celsius, time=time)


def _whole(seconds: int) -> str:
    """Write a figure that is whole in s, min or h."""
    for symbol, size in (("h", 3600), ("min", 60)):
        if seconds >= size:
            return f"{seconds // size} {symbol}"
    return f"{seconds} s"
