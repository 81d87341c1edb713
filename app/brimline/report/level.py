"""How well the level is known, in words: read from the record's estimate, never reckoned again."""

from __future__ import annotations

import math
from collections.abc import Iterator

from brimline.procedure.estimates import LevelEstimated, LevelKnown
from brimline.report import phrases
from brimline.report.summary import Grid
from brimline.units import Dimension, UnitSystem, from_inside, to_inside

PARTS = {
    "temperature": "closed off the middle of the band",
    "sensor": "sensor found off on the cold vehicle",
    "tilt": "tilt of the vehicle",
    "drip": "head over the rim at the drip judged",
}
"""What puts a level off by a known amount."""

INPUTS = {
    "reference_temperature": "where in the band the fluid level is meant",
    "sensor_temperature": "temperature sensor",
    "expansion": "expansion of fluid and case",
    "tilt_lengthwise": "tilt, lengthwise",
    "tilt_crosswise": "tilt, crosswise",
    "drip_rate": "drip rate judged by eye",
    "drop_size": "size of a drop",
    "wetted_rim": "how much of the rim is wetted",
    "viscosity": "viscosity of the fluid",
}
"""What leaves a level less than exactly known."""

_MAIN = 2  # contributions named where there is no room for a table


def known_to(estimate: LevelEstimated, units: UnitSystem) -> str:
    """Return one plain sentence for the customer."""
    bound, allowed = bound_of(estimate, units), units.small_volume(estimate.acceptance)
    if estimate.verdict is LevelKnown.EXCEEDS:
        off, spread = units.small_volume(abs(estimate.shift)), stated(estimate.expanded, units)
        return f"The fluid level is off by {off} ± {spread}, more than the {allowed} allowed."
    words = f"The fluid level is off by at most {bound}; the spec sheet allows {allowed}"
    if estimate.verdict is LevelKnown.DOUBTFUL:
        return f"{words}, so it may be off by more than that."
    return f"{words}."


def rests_on(estimate: LevelEstimated, units: UnitSystem) -> str:
    """Return shift and uncertainty in short, with what the uncertainty comes from for the most."""
    shift = phrases.signed_small_volume(estimate.shift, units)
    largest = sorted(estimate.contributions, key=lambda each: -each.share)[:_MAIN]
    mostly = ", ".join(f"{_input(each.name)} ({each.share:.0%})" for each in largest)
    return (
        f"{shift} by estimate, ± {stated(estimate.expanded, units)}: together at most "
        f"{bound_of(estimate, units)}; mostly from: {mostly}"
    )


def table(estimate: LevelEstimated, units: UnitSystem) -> Grid:
    """Return the whole budget: the known parts of the shift, then what is left uncertain."""
    return Grid(
        columns=("", "Known", "Standard uncertainty", "Share"),
        rows=tuple(_rows(estimate, units)),
        numeric=(False, True, True, True),
    )


def _rows(estimate: LevelEstimated, units: UnitSystem) -> Iterator[tuple[str, str, str, str]]:
    for part in estimate.known:
        name = PARTS.get(part.name, _plain(part.name))
        yield (name, phrases.signed_small_volume(part.litres, units), "", "")
    for each in estimate.contributions:
        yield (_input(each.name), "", _fine(each.standard, units), f"{each.share:.0%}")
    together = phrases.signed_small_volume(estimate.shift, units)
    yield ("together", together, _fine(estimate.combined, units), "100%")


def _input(name: str) -> str:
    return INPUTS.get(name, _plain(name))


def _plain(name: str) -> str:
    return name.replace("_", " ")  # a name of an older or newer program


def _fine(litres: float, units: UnitSystem) -> str:
    """Write a standard uncertainty one decimal finer than amounts, as a sum of squares needs."""
    symbol, decimals = ("mL", 1) if units.volume_symbol == "L" else (units.volume_symbol, 3)
    return f"{from_inside(litres, Dimension.VOLUME, symbol):.{decimals}f} {symbol}"


def bound_of(estimate: LevelEstimated, units: UnitSystem) -> str:
    """Write by how much the level is off at most: the sum of the two figures as they are written.

    So that a reader who adds up shift and uncertainty comes to the same figure.
    """
    symbol, decimals = ("mL", 0) if units.volume_symbol == "L" else (units.volume_symbol, 2)
    parts = (abs(estimate.shift), _rounded_up(estimate.expanded))
    written = (round(from_inside(part, Dimension.VOLUME, symbol), decimals) for part in parts)
    return units.small_volume(to_inside(sum(written), Dimension.VOLUME, symbol))


def stated(litres: float, units: UnitSystem) -> str:
    """Write an uncertainty given in L to two digits, rounded up (GUM 7.2.6), in units chosen."""
    return units.small_volume(_rounded_up(litres))


def _rounded_up(litres: float) -> float:
    if litres <= 0:
        return 0.0
    step = max(0.001, 10.0 ** (math.floor(math.log10(litres)) - 1))
    return math.ceil(litres / step - 1e-9) * step
