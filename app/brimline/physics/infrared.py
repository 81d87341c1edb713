"""What an infrared gun on the pan says about the sensor in the transmission.

A gun takes in what a surface sends: its own radiation, and the part of the hall's that it throws
back. For an opaque grey surface that is S = ε·B(surface) + (1 - ε)·B(ambient), with B Planck's
law over the gun's band, 8 to 14 µm, or σT⁴ for all wavelengths. The gun turns S into degrees by
the emissivity it is set to, and makes up for the reflected part with the same ambient:
S = s·B(shown) + (1 - s)·B(ambient). Hence ε = s·(B(shown) - B(ambient)) / (B(true) - B(ambient)).
Shiny metal has a small ε, so that a gun on it shows little more than the hall.

Constants: CODATA 2018, all exact since the SI of 2019. The equation is the textbook one for an
opaque grey target. The gun never decides: what follows from here may cast doubt on the sensor, no
more.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

STEFAN_BOLTZMANN = 5.670374419e-8
"""In W/(m²·K⁴)."""

_C1 = 3.741771852192757e-16  # W·m², 2πhc²
_C2 = 1.438776877503933e-2  # m·K, hc/k
_KELVIN = 273.15
_COLDEST_C, _HOTTEST_C = -60.0, 400.0

BAND_UM = (8.0, 14.0)
"""In µm: what a gun for the workshop takes in (common practice, no source)."""

USUAL_SETTING = 0.95
"""What most guns are fixed at where nobody can set them (common practice, no source)."""

GUN_K, GUN_SHARE = 2.0, 0.02
"""A gun is good to ±2 K or ±2 % of its reading in °C, whichever is more (from memory, as data
sheets of simple guns have it); taken as a 95 % interval."""

SENSOR_K = 2.0
AMBIENT_K = 1.0
"""Sensor in the transmission and thermometer in the hall, ±, 95 % (common practice, no source)."""

_TOO_NEAR = 2.0
"""The fluid must differ from ambient by so many times the uncertainty of gun and sensor
together; nearer, the emissivity would be uncertain by half of all it can be."""

Radiation = Callable[[float], float]
"""From a temperature in °C to W/m²."""

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(64)


class GunVerdict(StrEnum):
    """What the gun's reading means beside the sensor's."""

    AGREES = "agrees"
    DISAGREES = "disagrees"  # and an emissivity between 0 and 1 would reconcile them
    BEYOND = "beyond"  # implausible: that emissivity would have to be above 1
    OTHER_SIDE = "other_side"  # implausible: gun and sensor on different sides of ambient
    NOT_CONCLUSIVE = "not_conclusive"

    @property
    def implausible(self) -> bool:
        """Whether no surface at all can explain gun and sensor together."""
        return self in (GunVerdict.BEYOND, GunVerdict.OTHER_SIDE)


@dataclass(frozen=True, slots=True)
class GunJudgement:
    """A verdict with what it rests on.

    :param emissivity: what would reconcile gun and sensor; ``None`` where nothing can be said.
    :param uncertainty: of the emissivity, ±, 95 %.
    :param difference: gun minus sensor in K.
    :param allowed: how far gun and sensor may be apart by their uncertainties, in K, 95 %.
    """

    verdict: GunVerdict
    emissivity: float | None
    uncertainty: float | None
    difference: float
    allowed: float


def total_radiation(celsius: float) -> float:
    """Return what a black surface sends at all wavelengths, σT⁴, in W/m².

    :param celsius: -60 to 400 °C.
    :raises ValueError: outside that range.
    """
    return STEFAN_BOLTZMANN * _kelvin(celsius) ** 4


def band_radiation(celsius: float, band_um: tuple[float, float] = BAND_UM) -> float:
    """Return what a black surface sends within a band, in W/m², by Planck's law.

    Gauss-Legendre quadrature with 64 nodes over the logarithm of the wavelength; agrees with an
    adaptive integral to 1e-9 for bands of up to two decades.

    :param celsius: -60 to 400 °C.
    :param band_um: shortest and longest wavelength in µm, above 0 and rising.
    :raises ValueError: outside those ranges.
    """
    kelvin = _kelvin(celsius)
    low, high = band_um
    if not 0 < low < high < math.inf:
        raise ValueError("band must rise from above 0 µm")
    middle, half = (math.log(high) + math.log(low)) / 2, (math.log(high) - math.log(low)) / 2
    wavelength = np.exp(middle + half * _NODES) * 1e-6
    exponent = np.minimum(_C2 / (wavelength * kelvin), 700.0)  # e⁷⁰⁰: nothing is sent there
    # one power of the wavelength less: dλ = λ·d(ln λ)
    sent = _C1 / wavelength**4 / np.expm1(exponent)
    return float(half * np.dot(_WEIGHTS, sent))


def reconciling_emissivity(
    sensor: float,
    gun: float,
    ambient: float,
    setting: float,
    radiation: Radiation = band_radiation,
) -> float:
    """Return the emissivity with which a surface at the sensor's temperature shows so on the gun.

    Above 1 or not above 0 it is that of no surface.

    :param sensor: °C of the fluid, taken as the pan's, -60 to 400 °C.
    :param gun: what the gun shows, -60 to 400 °C.
    :param ambient: of the hall, -60 to 400 °C, not equal to ``sensor``.
    :param setting: the emissivity the gun is set to, above 0 and up to 1.
    :raises ValueError: outside those ranges.
    """
    _check_setting(setting)
    around = radiation(ambient)
    sent = radiation(sensor) - around
    if sent == 0:
        raise ValueError("sensor and ambient must differ")
    return setting * (radiation(gun) - around) / sent


def shown_by_gun(
    surface: float,
    ambient: float,
    emissivity: float,
    setting: float,
    radiation: Radiation = band_radiation,
) -> float:
    """Return what a gun shows in °C on a surface of that temperature, by bisection to 1e-6 K.

    :param surface: °C, -60 to 400.
    :param ambient: °C, -60 to 400.
    :param emissivity: of the surface, above 0 and up to 1.
    :param setting: the emissivity the gun is set to, above 0 and up to 1.
    :raises ValueError: outside those ranges, or where the gun would show more than 400 °C.
    """
    _check_setting(emissivity)
    _check_setting(setting)
    around = radiation(ambient)
    wanted = around + emissivity / setting * (radiation(surface) - around)
    low, high = _COLDEST_C, _HOTTEST_C
    if not radiation(low) <= wanted <= radiation(high):
        raise ValueError("the gun would show what is outside -60 to 400 °C")
    while high - low > 1e-6:
        middle = (low + high) / 2
        low, high = (middle, high) if radiation(middle) < wanted else (low, middle)
    return (low + high) / 2


def gun_uncertainty(celsius: float) -> float:
    """Return how far a gun's reading (°C) may be off, ±, 95 %, in K."""
    return max(GUN_K, GUN_SHARE * abs(celsius))


def judge_gun(sensor: float, gun: float, ambient: float, setting: float) -> GunJudgement:
    """Say what the gun's reading means beside the sensor's.

    Uncertainties of gun, sensor and ambient are carried through linearly, in squares.

    :param sensor: °C of the fluid, -50 to 390.
    :param gun: what the gun shows in °C, -50 to 390.
    :param ambient: of the hall in °C, -50 to 390.
    :param setting: the emissivity the gun is set to, above 0 and up to 1.
    :raises ValueError: outside those ranges.
    """
    _check_setting(setting)
    if not all(-50 <= celsius <= 390 for celsius in (sensor, gun, ambient)):
        raise ValueError("temperatures must lie between -50 and 390 °C")
    difference, allowed = gun - sensor, math.hypot(gun_uncertainty(gun), SENSOR_K)

    def judged(verdict: GunVerdict, e: float | None = None, u: float | None = None) -> GunJudgement:
        return GunJudgement(verdict, e, u, difference, allowed)

    if abs(sensor - ambient) <= _TOO_NEAR * allowed:
        # A surface shows something between its own temperature and the hall's.
        between = min(sensor, ambient) - allowed <= gun <= max(sensor, ambient) + allowed
        return judged(GunVerdict.NOT_CONCLUSIVE if between else GunVerdict.BEYOND)
    emissivity = reconciling_emissivity(sensor, gun, ambient, setting)
    spread = _spread(sensor, gun, ambient, setting)
    if abs(difference) <= allowed:
        return judged(GunVerdict.AGREES, min(emissivity, 1.0), spread)
    if emissivity > 1:
        return judged(GunVerdict.BEYOND)
    if emissivity + spread < 0:
        return judged(GunVerdict.OTHER_SIDE)
    if emissivity - spread < 0:
        return judged(GunVerdict.NOT_CONCLUSIVE)
    return judged(GunVerdict.DISAGREES, emissivity, spread)


def _spread(sensor: float, gun: float, ambient: float, setting: float) -> float:
    """Return the uncertainty of the emissivity, from slopes over a hundredth of each input's."""
    values = (sensor, gun, ambient)
    changes = []
    for place, width in enumerate((SENSOR_K, gun_uncertainty(gun), AMBIENT_K)):
        ends = []
        for step in (width / 100, -width / 100):
            fluid, shown, around = (v + step * (place == n) for n, v in enumerate(values))
            ends.append(reconciling_emissivity(fluid, shown, around, setting))
        changes.append((ends[0] - ends[1]) * 50)
    return math.hypot(*changes)


def _kelvin(celsius: float) -> float:
    if not _COLDEST_C <= celsius <= _HOTTEST_C:
        raise ValueError("temperature must lie between -60 and 400 °C")
    return celsius + _KELVIN


def _check_setting(emissivity: float) -> None:
    if not 0 < emissivity <= 1:
        raise ValueError("emissivity must be above 0 and at most 1")
