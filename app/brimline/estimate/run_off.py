"""How long the run-off of a sheet's transmission takes to sink from a stream to its drip rate."""

from __future__ import annotations

from brimline.estimate.amounts import fluid_expansion
from brimline.physics.run_off import Outlet, TimeRange, time_to_drip
from brimline.physics.viscosity import kinematic_viscosity
from brimline.specsheet.model import Fluid, Level, SpecSheet


def outlet_of(level: Level) -> Outlet:
    """Return the outlet that a spec sheet describes."""
    return Outlet.fitted(level.standpipe_bore, level.plug_hole, level.pan_area)


def viscosity_of(fluid: Fluid, celsius: float) -> float | None:
    """Return a fluid's viscosity (mm²/s) at ``celsius`` (-60 to 200 °C).

    ``None`` where the sheet does not tell it, or tells what no oil is.
    """
    if fluid.viscosity_40 is None or fluid.viscosity_100 is None:
        return None
    try:
        return kinematic_viscosity(celsius, fluid.viscosity_40, fluid.viscosity_100)
    except ValueError:
        return None


def expected_time(
    sheet: SpecSheet, fluid: Fluid, celsius: float, warming: float = 0.0
) -> TimeRange | None:
    """Return the plausible time (s) from the first stream to the sheet's drip rate.

    The surplus is taken to lie between what the sheet accepts as level and the most that may run
    off; see :func:`brimline.physics.run_off.time_to_drip` for the other spreads.

    :param celsius: the fluid's temperature, -50 to 150 °C.
    :param warming: K/s by which it warms meanwhile; its growth comes over the rim and lengthens
        the high end, to infinity where it alone keeps up the drip. Cooling counts as 0.
    :returns: ``None`` where the fluid's viscosity is not known.
    """
    viscosity = viscosity_of(fluid, celsius)
    if viscosity is None or viscosity <= 0:
        return None
    level = sheet.level
    expansion = fluid_expansion(fluid)
    coefficient = 0.0 if expansion is None else expansion.coefficient
    surplus = (min(level.acceptance, level.max_run_off), level.max_run_off)
    return time_to_drip(
        outlet_of(level),
        surplus,
        viscosity,
        level.drip_rate,
        inflow=level.capacity * coefficient * max(0.0, warming),
    )
