"""Units, at the edges only.

Inside the program every quantity is a plain ``float`` in one fixed unit for its dimension:
°C, s, L, N·m, rpm, kPa, kg/m³, m, m², ° (degrees of angle), mm²/s, km, km/h, drops/s, 1/K.
Text with a unit is read once, on the way in (:func:`parse`), and written once, on the way out
(:class:`UnitSystem`).

The factors are exact by definition: 1 in = 0.0254 m, 1 lbf = 4.4482216152605 N,
1 US gal = 231 in³, 1 mi = 1609.344 m (NIST SP 811, appendix B).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum

from brimline.errors import UnitError
from brimline.translation import grouped, joined, marked, tr

_INCH = 0.0254
_POUND_FORCE = 4.4482216152605
_US_QUART_LITRES = 231 * (_INCH * 10) ** 3 / 4


class Dimension(StrEnum):
    """Kinds of quantity, each with the unit used inside the program."""

    TEMPERATURE = marked("temperature")  # °C
    TIME = marked("time")  # s
    VOLUME = marked("volume")  # L
    TORQUE = marked("torque")  # N·m
    ROTATION = marked("rotational speed")  # rpm
    LENGTH = marked("length")  # m
    AREA = marked("area")  # m²
    ANGLE = marked("angle")  # °
    DENSITY = marked("density")  # kg/m³
    VISCOSITY = marked("kinematic viscosity")  # mm²/s
    DISTANCE = marked("distance")  # km
    SPEED = marked("speed")  # km/h
    DRIP = marked("drip rate")  # drops/s
    EXPANSION = marked("expansion coefficient")  # 1/K
    TEMPERATURE_DIFFERENCE = marked("temperature difference")  # K


@dataclass(frozen=True)
class Unit:
    """A unit: inside value = number * factor + offset."""

    symbol: str
    factor: float
    offset: float = 0.0


_UNITS: dict[Dimension, tuple[Unit, ...]] = {
    Dimension.TEMPERATURE: (Unit("°C", 1.0), Unit("°F", 5 / 9, -32 * 5 / 9)),
    Dimension.TIME: (Unit("s", 1.0), Unit("min", 60.0), Unit("h", 3600.0)),
    Dimension.VOLUME: (Unit("L", 1.0), Unit("mL", 0.001), Unit("US qt", _US_QUART_LITRES)),
    Dimension.TORQUE: (
        Unit("N·m", 1.0),
        Unit("in·lbf", _INCH * _POUND_FORCE),
        Unit("ft·lbf", 12 * _INCH * _POUND_FORCE),
    ),
    Dimension.ROTATION: (Unit("rpm", 1.0),),
    Dimension.LENGTH: (Unit("m", 1.0), Unit("mm", 0.001), Unit("cm", 0.01), Unit("in", _INCH)),
    Dimension.AREA: (Unit("m²", 1.0), Unit("cm²", 1e-4), Unit("in²", _INCH**2)),
    Dimension.ANGLE: (Unit("°", 1.0),),
    Dimension.DENSITY: (Unit("kg/m³", 1.0),),
    Dimension.VISCOSITY: (Unit("mm²/s", 1.0),),
    Dimension.DISTANCE: (Unit("km", 1.0), Unit("mi", 1.609344)),
    Dimension.SPEED: (Unit("km/h", 1.0), Unit("mph", 1.609344)),
    Dimension.DRIP: (Unit(marked("drops/s"), 1.0), Unit(marked("drops/min"), 1 / 60)),
    Dimension.EXPANSION: (Unit("1/K", 1.0),),
    Dimension.TEMPERATURE_DIFFERENCE: (Unit("K", 1.0),),
}

# What people type where a keyboard lacks the proper sign; each maps to exactly one symbol above.
_SPELLINGS = {
    "degC": "°C", "C": "°C", "degF": "°F", "F": "°F", "l": "L", "ml": "mL", "ltr": "L",
    "qt": "US qt", "Nm": "N·m", "N.m": "N·m", "in-lbf": "in·lbf", "in.lbf": "in·lbf",
    "ft-lbf": "ft·lbf", "ft.lbf": "ft·lbf", "1/min": "rpm", "r/min": "rpm", "m2": "m²",
    "cm2": "cm²", "in2": "in²", "deg": "°", "kg/m3": "kg/m³", "mm2/s": "mm²/s", "cSt": "mm²/s",
}  # fmt: skip

_QUANTITY = re.compile(r"\s*([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*(.*?)\s*\Z")


def unit(dimension: Dimension, symbol: str) -> Unit:
    """Return the unit written ``symbol``; raises :class:`UnitError` for any other kind."""
    wanted = _SPELLINGS.get(symbol, symbol)
    for candidate in _UNITS[dimension]:
        if candidate.symbol == wanted:
            return candidate
    known = ", ".join(candidate.symbol for candidate in _UNITS[dimension])
    if not symbol:
        raise UnitError(
            tr(
                "the unit is missing; a {dimension} is given in {known}",
                dimension=tr(dimension.value),
                known=known,
            )
        )
    raise UnitError(
        tr(
            "“{symbol}” is not a unit of {dimension}; known are {known}",
            symbol=symbol,
            dimension=tr(dimension.value),
            known=known,
        )
    )


def symbols(dimension: Dimension) -> frozenset[str]:
    """Return the symbols of all units of a dimension."""
    return frozenset(each.symbol for each in _UNITS[dimension])


def symbol_in(text: str, dimension: Dimension) -> str:
    """Return the symbol of the unit in a text such as ``"80 in-lbf"``, as the program writes it.

    :raises UnitError: as :func:`parse`.
    """
    match = _QUANTITY.match(text)
    return unit(dimension, match.group(2) if match else "").symbol


def parse(text: str, dimension: Dimension, *, assume: str = "") -> float:
    """Read a number with its unit, for example ``"122 °F"``, into the inside unit.

    :param assume: symbol of the unit of a bare number, where the place it was typed shows one.
    :raises UnitError: no number, no unit, an unknown unit or one of another dimension, or a
        number that is not finite.
    """
    match = _QUANTITY.match(text)
    if match is None:
        raise UnitError(tr("“{text}” is not a number with a unit", text=text))
    number, symbol = match.groups()
    value = to_inside(float(number), dimension, symbol or assume)
    if not math.isfinite(value):
        raise UnitError(tr("“{text}” is too large a number", text=text))
    return value


def to_inside(number: float, dimension: Dimension, symbol: str) -> float:
    """Convert from the unit written ``symbol`` to the inside unit."""
    chosen = unit(dimension, symbol)
    return number * chosen.factor + chosen.offset


def from_inside(value: float, dimension: Dimension, symbol: str) -> float:
    """Convert from the inside unit to the unit written ``symbol``."""
    chosen = unit(dimension, symbol)
    return (value - chosen.offset) / chosen.factor


def inside_symbol(dimension: Dimension) -> str:
    """Return the symbol of the unit used inside the program."""
    return _UNITS[dimension][0].symbol


@dataclass(frozen=True)
class UnitSystem:
    """How quantities are written for people: always a number with its unit."""

    name: str
    temperature_symbol: str
    volume_symbol: str
    torque_symbol: str
    distance_symbol: str
    speed_symbol: str

    def symbol(self, dimension: Dimension) -> str:
        """Return the symbol in which people read this kind of quantity."""
        chosen = {
            Dimension.TEMPERATURE: self.temperature_symbol,
            Dimension.VOLUME: self.volume_symbol,
            Dimension.TORQUE: self.torque_symbol,
            Dimension.DISTANCE: self.distance_symbol,
            Dimension.SPEED: self.speed_symbol,
        }
        return chosen.get(dimension, inside_symbol(dimension))

    def _write(self, value: float, dimension: Dimension, symbol: str, decimals: int) -> str:
        number = from_inside(value, dimension, symbol)
        rounded = round(number, decimals) + 0.0  # no “-0”
        return joined((grouped(f"{rounded:,.{decimals}f}"), symbol), " ")

    def temperature(self, celsius: float, decimals: int = 0) -> str:
        """Write a temperature given in °C."""
        return self._write(celsius, Dimension.TEMPERATURE, self.temperature_symbol, decimals)

    def volume(self, litres: float) -> str:
        """Write an amount of fluid given in L, to 0.01."""
        return self._write(litres, Dimension.VOLUME, self.volume_symbol, 2)

    def small_volume(self, litres: float) -> str:
        """Write a small amount of fluid given in L: whole mL, or 0.01 US qt."""
        if self.volume_symbol == "L":
            return self._write(litres, Dimension.VOLUME, "mL", 0)
        return self.volume(litres)

    def temperature_difference(self, kelvin: float, decimals: int = 1) -> str:
        """Write a difference of temperatures given in K, in the degrees people read."""
        step = from_inside(kelvin, Dimension.TEMPERATURE, self.temperature_symbol) - from_inside(
            0.0, Dimension.TEMPERATURE, self.temperature_symbol
        )
        return f"{step:.{decimals}f} {self.temperature_symbol}"

    def torque(self, newton_metres: float) -> str:
        """Write a torque given in N·m, to 0.1."""
        return self._write(newton_metres, Dimension.TORQUE, self.torque_symbol, 1)

    def distance(self, kilometres: float) -> str:
        """Write a distance given in km, to the whole unit."""
        return self._write(kilometres, Dimension.DISTANCE, self.distance_symbol, 0)

    def speed(self, kilometres_per_hour: float) -> str:
        """Write a road speed given in km/h, to the whole unit."""
        return self._write(kilometres_per_hour, Dimension.SPEED, self.speed_symbol, 0)

    def rotation(self, rpm: float) -> str:
        """Write an engine speed given in rpm."""
        return self._write(rpm, Dimension.ROTATION, "rpm", 0)


METRIC = UnitSystem("metric", "°C", "L", "N·m", "km", "km/h")
US = UnitSystem("us", "°F", "US qt", "in·lbf", "mi", "mph")
UNIT_SYSTEMS = {system.name: system for system in (METRIC, US)}

CHOICES = {
    Dimension.TEMPERATURE: ("°C", "°F"),
    Dimension.VOLUME: ("L", "US qt"),
    Dimension.DISTANCE: ("km", "mi"),
    Dimension.TORQUE: ("N·m", "in·lbf", "ft·lbf"),
}
"""What may be chosen by itself, and among which symbols; a speed goes with its distance."""

_SPEEDS = {"km": "km/h", "mi": "mph"}


def unit_system(
    base: str, *, temperature: str = "", volume: str = "", distance: str = "", torque: str = ""
) -> UnitSystem:
    """Return the units of a shop: those of a system, but for what was chosen by itself.

    :param base: a name in :data:`UNIT_SYSTEMS`, which the whole keeps.
    :param temperature: and the others: a symbol of :data:`CHOICES`; empty: as in the system.
    :raises UnitError: no such system, or a symbol that cannot be chosen.
    """
    if base not in UNIT_SYSTEMS:
        raise UnitError(
            tr(
                "“{base}” is no system of units; known are {known}",
                base=base,
                known=", ".join(UNIT_SYSTEMS),
            )
        )
    whole = UNIT_SYSTEMS[base]
    asked = (temperature, volume, distance, torque)
    for (dimension, symbols_known), symbol in zip(CHOICES.items(), asked, strict=True):
        if symbol and symbol not in symbols_known:
            known = ", ".join(symbols_known)
            raise UnitError(
                tr(
                    "“{symbol}” cannot be chosen for {dimension}; known are {known}",
                    symbol=symbol,
                    dimension=tr(dimension.value),
                    known=known,
                )
            )
    far = distance or whole.distance_symbol
    return UnitSystem(
        whole.name, temperature or whole.temperature_symbol, volume or whole.volume_symbol,
        torque or whole.torque_symbol, far, _SPEEDS[far],
    )  # fmt: skip


def duration(seconds: float) -> str:
    """Write a duration given in s: ``45 s``, ``2 min 05 s``, ``1 h 04 min``."""
    whole = round(seconds)
    if whole < 60:
        return f"{whole} s"
    if whole < 3600:
        return f"{whole // 60} min {whole % 60:02d} s"
    return f"{whole // 3600} h {whole % 3600 // 60:02d} min"


def clock(seconds: float) -> str:
    """Write a moment of a check given in s since its opening, as ``m:ss`` (min:s)."""
    whole = max(0, int(seconds))
    return f"{whole // 60}:{whole % 60:02d}"


def file_size(size: int) -> str:
    """Write a file's size in bytes: ``34 kB``, ``1.2 MB`` (decimal prefixes, IEC 80000-13)."""
    if size < 1_000_000:
        return joined((grouped(f"{max(1, round(size / 1000)):,}"), "kB"), " ")
    return joined((grouped(f"{size / 1e6:,.1f}"), "MB"), " ")
