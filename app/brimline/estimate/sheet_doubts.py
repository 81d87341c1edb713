"""Doubts about a spec sheet: numbers that contradict each other, or that no fluid or pan has.

The reader refuses what cannot be read or used. A doubt stops nothing: it is a warning to the
person who wrote the sheet, most often of a wrong unit or a slipped digit. Every limit here is far
enough out that a sound sheet does not meet it; what it rests on stands beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from brimline.estimate.amounts import fluid_expansion
from brimline.estimate.run_off import outlet_of, viscosity_of
from brimline.physics import run_off, tilt, viscosity_index, volume
from brimline.specsheet.model import IDLE_OVERFLOW, Approval, Fluid, Level, SpecSheet

INDEX_RANGE = (0.0, 400.0)
"""Viscosity indices that fluids have. 0 and 100 are the reference oils of ASTM D2270; fluids with
improvers reach 150 to 250, silicones about 400 (from memory)."""

EXPANSION_TOLERANCE = 0.3
"""Most by which a coefficient may differ from table 54D's. Five standard uncertainties of the
table; a figure per °F taken for one per K is 44 % low."""

SLOWEST_WARMING = 0.5 / 60
"""K/s: slower than that an idling transmission hardly warms below its cooler's thermostat (common
practice, no source)."""

PAN_DEPTH_M = (0.015, 0.5)
"""Depths in m at which a whole filling stands over its pan's area (common practice, no source)."""


class DoubtCode(StrEnum):
    """What is doubted. ``found`` and ``limit`` are in the unit named, see :class:`SheetDoubt`."""

    DENSITY_OUTSIDE_TABLE = "density_outside_table"  # kg/m³
    EXPANSION_UNLIKE_DENSITY = "expansion_unlike_density"  # 1/K
    VISCOSITY_TOO_LOW = "viscosity_too_low"  # mm²/s
    VISCOSITY_INDEX_UNLIKELY = "viscosity_index_unlikely"  # no unit
    BAND_BEYOND_ACCEPTANCE = "band_beyond_acceptance"  # L
    TILT_BEYOND_ACCEPTANCE = "tilt_beyond_acceptance"  # L
    RUN_OFF_WITHIN_ACCEPTANCE = "run_off_within_acceptance"  # L
    TOP_UP_WITHIN_ACCEPTANCE = "top_up_within_acceptance"  # L
    RUN_OFF_TIME_SHORT = "run_off_time_short"  # s
    DRIP_IS_STREAM = "drip_is_stream"  # drops/s
    DRIP_BELOW_EXPANSION = "drip_below_expansion"  # drops/s
    STANDPIPE_OUTSIDE_PAN = "standpipe_outside_pan"  # m
    PAN_DEPTH_UNLIKELY = "pan_depth_unlikely"  # m


@dataclass(frozen=True)
class SheetDoubt:
    """One doubt.

    :param place: dotted path of the key, for example ``fluids[0].viscosity_40``.
    :param found: the sheet's figure, or what follows from it, in the inside unit.
    :param limit: what it is held against, in the same unit.
    :param word: the fluid's or the duty's name, where the doubt is about one.
    """

    code: DoubtCode
    place: str
    found: float
    limit: float
    word: str = ""


def doubts(sheet: SpecSheet) -> tuple[SheetDoubt, ...]:
    """Return every doubt about a sheet, in the order of its keys.

    Bands and level are looked at only where the check is by overflow; elsewhere their numbers may
    mean something else.
    """
    found = [doubt for i, fluid in enumerate(sheet.fluids) for doubt in _of_fluid(i, fluid)]
    if sheet.check_method != IDLE_OVERFLOW:
        return tuple(found)
    found = [*_of_bands(sheet), *found, *_of_limits(sheet.level), *_of_pan(sheet.level)]
    return (*found, *_of_run_off(sheet))


def _of_fluid(index: int, fluid: Fluid) -> Iterator[SheetDoubt]:
    place = f"fluids[{index}]"
    if fluid.density_15 is not None:
        yield from _of_density(place, fluid, fluid.density_15)
    if fluid.viscosity_40 is None or fluid.viscosity_100 is None:
        return
    if fluid.viscosity_100 < viscosity_index.LOWEST:
        yield SheetDoubt(
            DoubtCode.VISCOSITY_TOO_LOW, f"{place}.viscosity_100",
            fluid.viscosity_100, viscosity_index.LOWEST, fluid.name,
        )  # fmt: skip
        return
    index_found = viscosity_index.viscosity_index(fluid.viscosity_40, fluid.viscosity_100)
    nearest = _into(INDEX_RANGE, index_found)
    if index_found != nearest:
        yield SheetDoubt(
            DoubtCode.VISCOSITY_INDEX_UNLIKELY, f"{place}.viscosity_40",
            index_found, nearest, fluid.name,
        )  # fmt: skip


def _of_density(place: str, fluid: Fluid, density: float) -> Iterator[SheetDoubt]:
    nearest = _into(volume.DENSITY_KG_M3, density)
    if density != nearest:
        code = DoubtCode.DENSITY_OUTSIDE_TABLE
        yield SheetDoubt(code, f"{place}.density_15", density, nearest, fluid.name)
    elif fluid.expansion is not None:
        by_table = volume.expansion_at_15(density)
        if abs(fluid.expansion / by_table - 1) > EXPANSION_TOLERANCE:
            code = DoubtCode.EXPANSION_UNLIKE_DENSITY
            yield SheetDoubt(code, f"{place}.expansion", fluid.expansion, by_table, fluid.name)


def _of_bands(sheet: SpecSheet) -> Iterator[SheetDoubt]:
    """Two checks, one at either end of a band, are both right and must not differ by more."""
    level = sheet.level
    for duty, band in sheet.bands.items():
        if band.low is None:
            continue
        high = band.high if band.high is not None else band.limit
        moved = min(
            (
                volume.sure_change(level.capacity, band.low, high, expansion)
                for fluid in _approved(sheet)
                if (expansion := fluid_expansion(fluid)) is not None
                and volume.reaches(band.low, high)
            ),
            default=0.0,
        )
        if moved > level.acceptance:
            code = DoubtCode.BAND_BEYOND_ACCEPTANCE
            yield SheetDoubt(code, f"bands.{duty}", moved, level.acceptance, duty)


def _of_limits(level: Level) -> Iterator[SheetDoubt]:
    off = _worst_tilt(level)
    if off > level.acceptance:
        code = DoubtCode.TILT_BEYOND_ACCEPTANCE
        yield SheetDoubt(code, "level.allowed_tilt", off, level.acceptance)
    if level.max_run_off <= level.acceptance:
        code = DoubtCode.RUN_OFF_WITHIN_ACCEPTANCE
        yield SheetDoubt(code, "level.max_run_off", level.max_run_off, level.acceptance)
    if level.max_top_up <= level.acceptance:
        code = DoubtCode.TOP_UP_WITHIN_ACCEPTANCE
        yield SheetDoubt(code, "level.max_top_up", level.max_top_up, level.acceptance)


def _worst_tilt(level: Level) -> float:
    """L that the level is off with both angles at the limit, as the gate would let pass."""
    forward, right = abs(level.standpipe_forward), abs(level.standpipe_right)
    angle = min(level.allowed_tilt, 45.0)  # the formula ends there, and nobody allows as much
    return tilt.level_error(level.pan_area, forward, right, angle, angle)


def _of_pan(level: Level) -> Iterator[SheetDoubt]:
    away = math.hypot(level.standpipe_forward, level.standpipe_right)
    reach = math.sqrt(level.pan_area)  # half the length of a pan four times as long as wide
    if away > reach:
        yield SheetDoubt(DoubtCode.STANDPIPE_OUTSIDE_PAN, "level.standpipe_forward", away, reach)
    depth = level.capacity / 1000 / level.pan_area
    nearest = _into(PAN_DEPTH_M, depth)
    if depth != nearest:
        yield SheetDoubt(DoubtCode.PAN_DEPTH_UNLIKELY, "level.pan_area", depth, nearest)


def _of_run_off(sheet: SpecSheet) -> Iterator[SheetDoubt]:
    level = sheet.level
    if level.drip_rate >= run_off.STREAM_DROPS:
        code = DoubtCode.DRIP_IS_STREAM
        yield SheetDoubt(code, "level.drip_rate", level.drip_rate, run_off.STREAM_DROPS)
    coming = _drops_of_expansion(sheet)
    if coming >= level.drip_rate:
        code = DoubtCode.DRIP_BELOW_EXPANSION
        yield SheetDoubt(code, "level.drip_rate", level.drip_rate, coming)
    fastest = _fastest_run_off(sheet)
    if fastest is not None and fastest > level.max_run_off_time:
        code = DoubtCode.RUN_OFF_TIME_SHORT
        yield SheetDoubt(code, "level.max_run_off_time", level.max_run_off_time, fastest)


def _drops_of_expansion(sheet: SpecSheet) -> float:
    """Drops a second that slow warming alone brings over the rim, at least."""
    least = min(
        (found.least for fluid in _approved(sheet) if (found := fluid_expansion(fluid))),
        default=0.0,
    )
    largest_drop = run_off.DROP_SPREAD_L[1]
    return sheet.level.capacity * least * SLOWEST_WARMING / largest_drop


def _fastest_run_off(sheet: SpecSheet) -> float | None:
    """The least time in s in which the most that may run off can sink to the drip rate."""
    level = sheet.level
    viscosities = [
        viscosity
        for fluid in _approved(sheet)
        for band in sheet.bands.values()
        if (viscosity := viscosity_of(fluid, band.limit))
    ]
    if not viscosities:
        return None
    surplus = (level.max_run_off, level.max_run_off)
    return min(
        run_off.time_to_drip(outlet_of(level), surplus, viscosity, level.drip_rate).low
        for viscosity in viscosities
    )


def _approved(sheet: SpecSheet) -> Iterator[Fluid]:
    return (fluid for fluid in sheet.fluids if fluid.approval is Approval.APPROVED)


def _into(ends: tuple[float, float], value: float) -> float:
    return min(max(value, ends[0]), ends[1])
