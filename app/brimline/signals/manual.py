"""Readings that a person takes from an instrument and types in."""

from __future__ import annotations

from brimline.errors import UnitError
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.signals.limits import LIMITS, judge
from brimline.translation import tr
from brimline.units import Dimension, UnitSystem, parse

_SOURCE = "keyed"


class KeyedSource:
    """Where nothing is connected: the vehicle tells nothing, a person keys and attests all."""

    description = "keyed by the technician from an instrument"
    declared: frozenset[SignalName] = frozenset()
    lost = ""

    def pump(self, _now: float) -> tuple[Reading, ...]:
        """Return nothing: what is keyed reaches the check by another way."""
        return ()


def keyed_temperature(text: str, t: float, unit_system: UnitSystem) -> Reading:
    """Make a reading of the fluid temperature out of what was typed.

    Accepts ``58 °C``, ``136 °F`` (also ``58C``, ``136 f``), or a bare number in the unit that is
    being shown.

    :param text: what was typed.
    :param t: time of the check in s.
    :param unit_system: the one that is being shown.
    :raises UnitError: no temperature, or one outside −50 to +200 °C.
    """
    symbol = unit_system.temperature_symbol
    cleaned = text.strip()
    if cleaned[-1:] in ("c", "f"):
        cleaned = cleaned[:-1] + cleaned[-1].upper()
    try:
        # rounded, because −58 °F is −50 °C and not a hair's breadth below it
        value = round(parse(_with_unit(cleaned, symbol), Dimension.TEMPERATURE), 9)
    except UnitError as error:
        raise UnitError(
            tr("“{text}” is not a temperature; type one like 58 °C or 136 °F.", text=text.strip()),
            detail=str(error),
        ) from error
    if judge(SignalName.FLUID_TEMPERATURE, value) is not Quality.GOOD:
        low, high = LIMITS[SignalName.FLUID_TEMPERATURE]
        raise UnitError(
            tr(
                "“{text}” cannot be a fluid temperature; that lies between {lowest} and {highest}.",
                text=text.strip(),
                lowest=unit_system.temperature(low),
                highest=unit_system.temperature(high),
            )
        )
    return Reading(t, SignalName.FLUID_TEMPERATURE, value, way=Way.KEYED, source=_SOURCE)


def keyed_engine_speed(text: str, t: float) -> Reading:
    """Make a reading of the engine speed out of what was typed, such as ``650`` or ``650 rpm``.

    :param text: what was typed; a bare number is rpm.
    :param t: time of the check in s.
    :raises UnitError: no engine speed, or one outside 0 to 10,000 rpm.
    """
    try:
        value = parse(_with_unit(text.strip(), "rpm"), Dimension.ROTATION)
    except UnitError as error:
        raise UnitError(
            tr("“{text}” is not an engine speed; type one like 650 rpm.", text=text.strip()),
            detail=str(error),
        ) from error
    if judge(SignalName.ENGINE_SPEED, value) is not Quality.GOOD:
        low, high = LIMITS[SignalName.ENGINE_SPEED]
        raise UnitError(
            tr(
                "“{text}” cannot be an engine speed; that lies between {low:,.0f} and "
                "{high:,.0f} rpm.",
                text=text.strip(),
                low=low,
                high=high,
            )
        )
    return Reading(t, SignalName.ENGINE_SPEED, value, way=Way.KEYED, source=_SOURCE)


def _with_unit(text: str, symbol: str) -> str:
    return f"{text} {symbol}" if text[-1:].isdigit() or text.endswith(".") else text
