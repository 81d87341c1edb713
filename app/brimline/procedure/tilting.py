"""What a measured tilt means for the level, and which way the vehicle goes up to cure it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from brimline.physics import tilt, uncertainty
from brimline.procedure.events import TiltMeasured
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState
from brimline.specsheet.model import SpecSheet

SHOWN_HALF_DEG = 0.05
"""A digital level shows tenths of a degree (common practice, no source)."""

PLACED_HALF_DEG = 0.1
"""Set down again on the same face, it shows the same within this: dirt, paint and hand (common
practice, no source)."""

READING_DEG = math.hypot(
    uncertainty.rectangular(SHOWN_HALF_DEG), uncertainty.rectangular(PLACED_HALF_DEG)
)
"""Standard uncertainty of one reading in degrees; its offset cancels in the reversal."""

COVERAGE = 2.0
"""Coverage factor of what stands behind “±” beside an error: some 95 % (GUM 6.3.3)."""

ACCEPTANCE_SINCE = 2
"""Version of the procedure from which a tilt must also keep within the sheet's acceptance; a
record made before is replayed by the rules of its day."""

MOST_OFFSET_DEG = 0.5
"""A level that is off by more is no instrument any more (common practice, no source)."""

_ROUNDING_DEG = 1e-9  # 0.8 and -0.2 are half a degree from each other's mean

PAIRS_SINCE = 3
"""Version of the procedure from which a pair that no offset explains is refused: read as a signed
level shows them, 4° and -4° turned round, their mean would hide any tilt."""


class Side(StrEnum):
    """The side of a vehicle to raise."""

    FRONT = "front"
    REAR = "rear"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class TiltError:
    """What a measured tilt does to the level, all in L.

    :param litres: fluid left too much (positive) or too little; ``spread`` either way of it.
    :param limit: the most that the sheet's allowed tilt lets through, both axes the worse way.
    :param sides: what to raise to cure it, the steeper axis first; empty where the readings
        cannot tell the vehicle from a level one.
    """

    litres: float
    spread: float
    limit: float
    sides: tuple[Side, ...]


def pairs_agree(measured: TiltMeasured) -> bool:
    """Return whether an instrument's own offset explains how both pairs differ.

    The offset is half of a pair's difference; up to :data:`MOST_OFFSET_DEG` degrees it counts.
    """
    offsets = (
        (measured.lengthwise - measured.lengthwise_turned) / 2,
        (measured.crosswise - measured.crosswise_turned) / 2,
    )
    return all(abs(offset) <= MOST_OFFSET_DEG + _ROUNDING_DEG for offset in offsets)


def mean_tilt(measured: TiltMeasured) -> tuple[float, float]:
    """Return the lengthwise and crosswise angles in degrees, free of the instrument's offset."""
    return (
        tilt.reversal_mean(measured.lengthwise, measured.lengthwise_turned),
        tilt.reversal_mean(measured.crosswise, measured.crosswise_turned),
    )


def largest_tilt(measured: TiltMeasured) -> float:
    """Return the larger of the two angles in degrees, without its sign."""
    return max(abs(angle) for angle in mean_tilt(measured))


def tilt_error(sheet: SpecSheet, measured: TiltMeasured) -> TiltError:
    """Return what a measured tilt does to the level."""
    level = sheet.level
    geometry = (level.pan_area, level.standpipe_forward, level.standpipe_right)
    return _error(geometry, level.allowed_tilt, mean_tilt(measured))


@lru_cache(maxsize=32)  # asked for with every reading, and the same from one measurement on
def _error(
    geometry: tuple[float, float, float], allowed: float, angles: tuple[float, float]
) -> TiltError:
    # Beyond 44° only the slope is taken at the edge of its range; no gate opens there.
    lengthwise, crosswise = (max(-44.0, min(44.0, angle)) for angle in angles)
    budget = tilt.level_error_budget(*geometry, lengthwise, crosswise, READING_DEG)
    return TiltError(
        litres=tilt.level_error(*geometry, *angles),
        spread=COVERAGE * budget.combined,
        limit=tilt.largest_error(*geometry, allowed),
        sides=_sides(*angles),
    )


def _sides(lengthwise: float, crosswise: float) -> tuple[Side, ...]:
    seen = COVERAGE * tilt.reversal_uncertainty(READING_DEG)
    axes = (
        (abs(lengthwise), Side.REAR if lengthwise > 0 else Side.FRONT),
        (abs(crosswise), Side.LEFT if crosswise > 0 else Side.RIGHT),
    )
    steepest_first = sorted(axes, key=lambda axis: -axis[0])
    return tuple(side for angle, side in steepest_first if angle > seen)


def against(state: CheckState) -> Iterator[Reason]:
    """Yield what the vehicle's tilt has against the level check.

    An angle beyond what the sheet allows, or one that it allows but that by itself uses up more
    than the level may be off.
    """
    if state.tilt is None:
        yield Reason(Code.TILT_NOT_MEASURED)
        return
    level, error = state.sheet.level, tilt_error(state.sheet, state.tilt)
    sides = tuple(side.value for side in error.sides)
    if largest_tilt(state.tilt) > level.allowed_tilt:
        yield Reason(
            Code.TILT_TOO_LARGE,
            value=error.litres,
            limit=error.limit,
            spread=error.spread,
            sides=sides,
        )
    elif state.opened.procedure >= ACCEPTANCE_SINCE and abs(error.litres) > level.acceptance:
        yield Reason(
            Code.TILT_ERROR_TOO_LARGE,
            value=error.litres,
            limit=level.acceptance,
            spread=error.spread,
            sides=sides,
        )
