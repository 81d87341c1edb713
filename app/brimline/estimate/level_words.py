"""What temperature and run-off do to the level, in sentences for technician and customer."""

from __future__ import annotations

import math

from brimline.estimate.amounts import misset
from brimline.estimate.run_off import expected_time
from brimline.procedure import facts
from brimline.procedure.reasons import BAND_EDGES
from brimline.procedure.state import CheckState, End
from brimline.specsheet.model import Fluid
from brimline.translation import tr
from brimline.units import UnitSystem, duration


def misset_words(state: CheckState, units: UnitSystem) -> str:
    """Return what a level that is set now will be off by in its band; empty inside the band.

    What is said is sure; drain-back, converter and aeration add to it.
    """
    amount = _off(state, facts.temperature(state), units)
    return (
        tr("Set now, the fluid level will be at least {off} in its band.", off=amount)
        if amount
        else ""
    )


def was_misset_words(state: CheckState, units: UnitSystem) -> str:
    """Return for the customer what a level is off by that an override let be set out of its band.

    Empty where none was given, no level was set, or the fluid had come into its band by then.
    """
    celsius = state.closing.celsius
    overridden = any(override.code in BAND_EDGES for override in state.overrides)
    if not overridden or celsius is None or state.end is not End.LEVEL:
        return ""
    amount = _off(state, celsius, units)
    if not amount:
        return ""
    return tr(
        "The fluid level was set at {celsius}, outside the target band; by that alone it will be "
        "at least {off} once the fluid is in its band.",
        celsius=units.temperature(celsius, 1), off=amount,
    )  # fmt: skip


def _off(state: CheckState, celsius: float | None, units: UnitSystem) -> str:
    """Return by how much and which way a level set at ``celsius`` is off; empty where it is not."""
    fluid = _fluid(state)
    if celsius is None or fluid is None:
        return ""
    off = misset(state.sheet, fluid, state.opened.duty, celsius)
    if off is None:
        return ""
    amount = units.small_volume(abs(off.at_least))
    if amount == units.small_volume(0.0):
        return ""
    high = off.at_least > 0
    return tr("{amount} too high", amount=amount) if high else tr("{amount} too low", amount=amount)


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
    return tr(
        "Stream to drip: {low}–{high} min ({allowed} allowed)", low=low, high=high, allowed=allowed
    )


def _fluid(state: CheckState) -> Fluid | None:
    return None if state.fluid is None else state.sheet.fluid(state.fluid.product)
