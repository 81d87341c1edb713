"""Small pieces of language that several parts of the summary share."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime

from brimline.errors import UnitError
from brimline.specsheet.model import Band
from brimline.translation import tr
from brimline.units import Dimension, UnitSystem, clock, from_inside, unit

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
_LAST_DIGIT = 0.05
_MINUS = "\N{EN DASH}"  # as wide as the plus sign; the font has no minus sign of its own


def day(when: date) -> str:
    """Write a date with its month in letters, which nobody can read the wrong way round."""
    return f"{when.day} {_MONTHS[when.month - 1]} {when.year}"


def local(when: datetime) -> datetime:
    """Return a time of day by this computer's clock; one without a zone is taken for UTC."""
    return (when.replace(tzinfo=UTC) if when.tzinfo is None else when).astimezone()


def offset(when: datetime) -> str:
    """Write how far a clock with a zone is ahead of UTC, such as ``UTC+02:00``."""
    ahead = f"{when:%z}"
    return f"UTC{ahead[:3]}:{ahead[3:5]}"


def moment(when: datetime) -> str:
    """Write date and time of day by this computer's clock, with what that is ahead of UTC.

    Where it is printed is where it was done: at the bay. Records keep UTC.
    """
    here = local(when)
    return f"{day(here)}, {here:%H:%M} ({offset(here)})"


def edge(celsius: float, units: UnitSystem) -> str:
    """Write a limit given in °C, with a decimal only where it has one."""
    number = from_inside(celsius, Dimension.TEMPERATURE, units.temperature_symbol)
    is_whole = abs(number - round(number)) < _LAST_DIGIT
    return units.temperature(celsius, 0 if is_whole else 1)


def band(target: Band, units: UnitSystem) -> str:
    """Write a target band; an open end is said in words, with the limit for the plug."""
    if target.low is None:
        words = f"up to {edge(target.limit if target.high is None else target.high, units)}"
    elif target.high is None:
        words = f"{edge(target.low, units)} and above"
    else:
        words = f"{edge(target.low, units)} to {edge(target.high, units)}"
    if target.max_plug_out is None:
        return words
    return f"{words}; plug never out above {edge(target.max_plug_out, units)}"


def duty(name: str) -> str:
    """Write the name of a duty as words."""
    return name.replace("_", " ")


def signed_volume(litres: float, units: UnitSystem) -> str:
    """Write an amount in L that may be negative, with its sign."""
    written = units.volume(abs(litres))
    if written == units.volume(0.0):
        return written
    return f"{'+' if litres > 0 else _MINUS}{written}"


def signed_small_volume(litres: float, units: UnitSystem) -> str:
    """Write a small amount in L that may be negative, with its sign."""
    written = units.small_volume(abs(litres))
    if written == units.small_volume(0.0):
        return written
    return f"{'+' if litres > 0 else _MINUS}{written}"


def signed_angle(degrees: float, axis: str, positive: str, negative: str) -> str:
    """Write an angle in degrees with its sign, its axis, and which way that sign means."""
    written = f"{abs(degrees):.1f}°"
    if written == "0.0°":
        return f"{written} {axis}"
    if degrees > 0:
        return f"{written} {axis} ({positive})"
    return f"{_MINUS}{written} {axis} ({negative})"


def amounts(added: float, run_off: float, units: UnitSystem) -> list[str]:
    """Write what went in and what came out, in L; what is nothing is left out."""
    parts = [tr("{amount} added", amount=units.volume(added))] if added else []
    if run_off:
        parts.append(tr("{amount} run off", amount=units.volume(run_off)))
    return parts


def torque(newton_metres: float, symbol: str, units: UnitSystem) -> str:
    """Write a torque given in N·m in the unit of the wrench that was in hand."""
    try:
        known = unit(Dimension.TORQUE, symbol).symbol
    except UnitError:  # an older record may name a unit that is no longer known
        return units.torque(newton_metres)
    return replace(units, torque_symbol=known).torque(newton_metres)


def at_clock(seconds: float) -> str:
    """Write a moment of the check given in s since its opening."""
    return f"{clock(seconds)} (min:s)"


def listed(words: Iterable[str]) -> str:
    """Join words as in a sentence: ``a, b and c``."""
    *head, last = words
    return f"{', '.join(head)} and {last}" if head else last


def sentence(words: str) -> str:
    """Make one sentence of words: a capital at the beginning, a full stop at the end."""
    words = words.strip()
    if not words:
        return ""
    ended = words if words.endswith((".", "!", "?")) else f"{words}."
    return ended[0].upper() + ended[1:]
