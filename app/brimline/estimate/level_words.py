"""What temperature and run-off do to the level, in sentences for the technician."""

from __future__ import annotations

import math

from brimline.estimate.amounts import misset
from brimline.estimate.run_off import expected_time
from brimline.procedure import facts
from brimline.procedure.state import CheckState
from brimline.specsheet.model import Fluid
from brimline.units import UnitSystem, duration


def misset_words(state: CheckState, units: UnitSystem) -> str:
    """Return what a level that is set now will be off by in its band; empty inside the band.

    What is said is sure; drain-back, converter and aeration add to it.
    """
    celsius, fluid = facts.temperature(state), _fluid(state)
    if celsius is None or fluid is None:
        return ""
    off = misset(state.sheet, fluid, state.opened.duty, celsius)
    if off is None or off.at_least == 0:
        return ""
    side = "high" if off.at_least > 0 else "low"
    amount = units.small_volume(abs(off.at_least))
    return f"Set now, the level will be at least {amount} too {side} in its band."


def run_off_words(state: CheckState) -> str:
    """Return in a few words how long a stream may take to sink to the drip rate, and may last."""
    celsius, fluid = facts.temperature(state), _fluid(state)
    if celsius is None or fluid is None:
        return ""
    expected = expected_time(state.sheet, fluid, celsius)
    if expected is None or not math.isfinite(expected.high):
        return ""
    low, high = math.floor(expected.low / 60), math.ceil(expected.high / 60)
    allowed = duration(state.sheet.level.max_run_off_time).replace(" 00 s", "")
    return f"Stream to drip: {low}–{high} min ({allowed} allowed)"


def _fluid(state: CheckState) -> Fluid | None:
    return None if state.fluid is None else state.sheet.fluid(state.fluid.product)
