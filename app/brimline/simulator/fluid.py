"""Where the fluid is. Amounts are L at 15 °C, so that they add up at any temperature.

The right filling is the sheet's capacity: with the engine idling, the vehicle level and the fluid
in the middle of the normal band, it stands exactly at the standpipe's rim.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimline.physics.viscosity import kinematic_viscosity
from brimline.physics.volume import correction_factor, expansion_at_15
from brimline.simulator.families import AMBIENT_C, Family
from brimline.simulator.outflow import Outlet
from brimline.specsheet.model import NORMAL_DUTY, Approval, Band, Fluid, SpecSheet

DRAW_UP_S = 4.0
"""Time constant in s at which the pump fills converter and clutches after a start."""

DRAIN_BACK_S = 90.0
"""Time constant in s at which they drain after a stop; minutes in all (common practice)."""

CLINGING = 0.12
"""Part of the pumped fluid that stays in standpipe and adapter and runs back, until they hold
:data:`CLINGING_MOST`; invented."""

CLINGING_MOST = 0.02
"""L that standpipe and adapter hold at most: 0.4 m of hose with a bore of 8 mm."""

SETTLED_TAUS = 10.0
"""The sheet's settle time is so many time constants of the running back: it then drips no more."""


@dataclass(frozen=True)
class Handling:
    """What engine and person do during a step.

    :param pump: fluid from the shelf in L/s.
    :param tilt: L that the vehicle's tilt retains, see :mod:`brimline.physics.tilt`.
    """

    running: bool
    plug_out: bool
    pump: float
    tilt: float


@dataclass(frozen=True)
class Moved:
    """What one step moved across the boundary: L at 15 °C in and out, and the run-off in L/s."""

    pumped: float
    left: float
    run_off: float


class FluidModel:
    """The fluid in one transmission.

    :param sheet: geometry and the fluid's properties; its first approved fluid is inside.
    :param family: what converter and clutches hold.
    :param excess: L at 15 °C above the right filling, may be negative.
    :param leak: L/s that are lost elsewhere while the engine runs, at the fluid's temperature.
    :param celsius: at the start, the engine at rest.
    """

    def __init__(
        self, sheet: SpecSheet, family: Family, *, excess: float, leak: float, celsius: float
    ) -> None:
        self._fluid = filled_with(sheet)
        self._family = family
        self._leak = leak
        self._outlet = Outlet.of(sheet.level)
        self._settle = sheet.level.settle_time / SETTLED_TAUS
        if self._fluid.expansion is not None:
            self._expansion = self._fluid.expansion
        else:
            self._expansion = expansion_at_15(self.density_15)
        middle = middle_of(sheet.bands[NORMAL_DUTY])
        self._rim = sheet.level.capacity / self.shrink(middle) - family.held_running
        self.at_start = sheet.level.capacity + excess
        """L at 15 °C inside at the start."""
        self.held = family.held_resting * self.shrink(celsius)
        """In converter and clutches, L at 15 °C."""
        self.pan = self.at_start - self.held
        """Free in the pan, L at 15 °C."""
        self.clinging = 0.0
        """In standpipe and adapter, L at 15 °C."""
        self.caught = 0.0
        """In the catch pan, L at 15 °C."""
        self.caught_as_seen = 0.0
        """The same in L at the temperature at which it ran out."""
        self.leaked = 0.0
        """Lost elsewhere, L at 15 °C."""
        self.pumped = 0.0
        """Pumped in, L at 15 °C."""

    @property
    def density_15(self) -> float:
        """Density at 15 °C in kg/m³."""
        return self._fluid.density_15 or math.nan  # approved fluids have one: the sheet's reader

    @property
    def inside(self) -> float:
        """All fluid in the transmission, L at 15 °C."""
        return self.pan + self.held + self.clinging

    @property
    def expected(self) -> float:
        """What must be inside by the ledger, L at 15 °C."""
        return self.at_start + self.pumped - self.caught - self.leaked

    def shrink(self, celsius: float) -> float:
        """Return volume at 15 °C divided by volume at ``celsius``."""
        return correction_factor(self._expansion, celsius)

    def viscosity(self, celsius: float) -> float:
        """Return the kinematic viscosity in mm²/s."""
        fluid = self._fluid
        at_40, at_100 = fluid.viscosity_40 or math.nan, fluid.viscosity_100 or math.nan
        return kinematic_viscosity(celsius, at_40, at_100)

    def over_rim(self, celsius: float, tilt: float) -> float:
        """Return the fluid above the rim in L at its temperature, negative below the rim.

        :param tilt: L that the vehicle's tilt retains, see :mod:`brimline.physics.tilt`.
        """
        return self.pan / self.shrink(celsius) - self._rim - tilt

    def step(self, dt: float, celsius: float, done: Handling) -> Moved:
        """Move on by ``dt`` (s) with the fluid at ``celsius``."""
        shrink = self.shrink(celsius)
        before = self.caught
        self._hold_up(dt, shrink, running=done.running)
        pumped = self._pump(done.pump * dt * self.shrink(AMBIENT_C), plug_out=done.plug_out)
        # The pump's adapter fills the hole, so nothing runs off beside it.
        if done.plug_out and done.pump <= 0:
            over = max(0.0, self.over_rim(celsius, done.tilt))
            run = min(self._outlet.flow(over, self.viscosity(celsius)) * dt, over) * shrink
            self._catch(min(run, self.pan), dt)
        leaked = min(self._leak * dt * shrink, self.pan) if done.running else 0.0
        self.pan -= leaked
        self.leaked += leaked
        caught = self.caught - before
        self.caught_as_seen += caught / shrink
        return Moved(pumped, caught + leaked, caught / shrink / dt)

    def _hold_up(self, dt: float, shrink: float, *, running: bool) -> None:
        family = self._family
        wanted = family.held_running if running else family.held_resting
        pace = 1 - math.exp(-dt / (DRAW_UP_S if running else DRAIN_BACK_S))
        moved = min((wanted * shrink - self.held) * pace, self.pan)
        self.held += moved
        self.pan -= moved

    def _pump(self, amount: float, *, plug_out: bool) -> float:
        room = max(0.0, 1 - self.clinging / CLINGING_MOST)
        clings = amount * CLINGING * room if plug_out else 0.0
        self.clinging += clings
        self.pan += amount - clings
        self.pumped += amount
        return amount

    def _catch(self, run: float, dt: float) -> None:
        back = self.clinging * (1 - math.exp(-dt / self._settle))
        self.pan -= run
        self.clinging -= back
        self.caught += run + back


def filled_with(sheet: SpecSheet) -> Fluid:
    """Return the fluid that a sound vehicle of this sheet is filled with."""
    return next(fluid for fluid in sheet.fluids if fluid.approval is Approval.APPROVED)


def middle_of(band: Band) -> float:
    """Return the middle of a band in °C; of one that is open below, its upper end."""
    high = band.high if band.high is not None else band.limit
    return high if band.low is None else (band.low + high) / 2
