"""Doubts about a spec sheet in sentences, every number with its unit.

Beside :mod:`brimline.wording`, for the codes of :mod:`brimline.estimate.sheet_doubts`. Quantities
that no unit system names (density, length) are written in the units that a data sheet has.
"""

from __future__ import annotations

from collections.abc import Callable

from brimline.estimate.sheet_doubts import DoubtCode, SheetDoubt
from brimline.translation import marked, tr
from brimline.units import UnitSystem, duration


def sentence(found: SheetDoubt, units: UnitSystem) -> str:
    """Return a doubt about a spec sheet as a sentence, its numbers in the units chosen."""
    write, words = _WORDS[found.code]
    first, second = write(found.found, units), write(found.limit, units)
    return tr(words, found=first, limit=second, word=found.word.replace("_", " "))


def _in(spec: str, symbol: str, factor: float = 1.0) -> Callable[[float, UnitSystem], str]:
    return lambda value, _: f"{value * factor:{spec}} {symbol}".rstrip()


def _litres(value: float, units: UnitSystem) -> str:
    return units.volume(value)


_WITHIN = marked("{found} is no more than the {limit} by which the fluid level may be off.")
_WORDS: dict[DoubtCode, tuple[Callable[[float, UnitSystem], str], str]] = {
    DoubtCode.DENSITY_OUTSIDE_TABLE: (
        _in("g", "kg/m³"),
        marked("{word}: no lubricating oil has {found}; the tables end at {limit}.")),
    DoubtCode.EXPANSION_UNLIKE_DENSITY: (
        _in(".6f", "1/K"),
        marked("{word}: {found} is far from the {limit} that goes with its density.")),
    DoubtCode.VISCOSITY_TOO_LOW: (
        _in("g", "mm²/s"),
        marked("{word}: {found} is thinner than the {limit} at which viscosity indices begin.")),
    DoubtCode.VISCOSITY_INDEX_UNLIKELY: (
        _in(".0f", ""),
        marked("{word}: its viscosity index is {found}, and fluids end at {limit}.")),
    DoubtCode.BAND_BEYOND_ACCEPTANCE: (
        _litres,
        marked("From one end of the {word} band to the other, growth moves the fluid level by "
               "{found}, more than the {limit} by which it may be off.")),
    DoubtCode.TILT_BEYOND_ACCEPTANCE: (
        _litres,
        marked("A tilt that is allowed moves the fluid level by {found}, more than the {limit} by "
               "which it may be off.")),
    DoubtCode.RUN_OFF_WITHIN_ACCEPTANCE: (_litres, _WITHIN),
    DoubtCode.TOP_UP_WITHIN_ACCEPTANCE: (_litres, _WITHIN),
    DoubtCode.RUN_OFF_TIME_SHORT: (
        lambda value, _: duration(value),
        marked("{found} is too short: the most that may run off sinks to the drip rate in {limit} "
               "at best.")),
    DoubtCode.DRIP_IS_STREAM: (
        _in("g", "drops/s"),
        marked("{found} cannot be counted; from {limit} on it is a stream.")),
    DoubtCode.DRIP_BELOW_EXPANSION: (
        _in(".2g", "drops/s"),
        marked("It may never slow to {found}: warming alone brings {limit} over the rim.")),
    DoubtCode.STANDPIPE_OUTSIDE_PAN: (
        _in(".0f", "mm", 1000),
        marked("{found} from the centre; a pan of that area reaches {limit} at most.")),
    DoubtCode.PAN_DEPTH_UNLIKELY: (
        _in(".0f", "mm", 1000),
        marked("The filling would stand {found} deep, and pans end at {limit}.")),
}  # fmt: skip
