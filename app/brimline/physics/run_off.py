"""How fast fluid leaves through standpipe and plug hole, and when the stream sinks to a drip.

Four resistances lie in series, and each gives the flow that it alone would allow; the thinner the
sheet of fluid over the rim, the more its viscosity counts:

* the rim as a round weir: C·P·h^1.5 with C = 1.8 m^0.5/s, the usual figure for a drop inlet at
  small heads (from memory), and P the outer edge of the pipe's wall;
* the film over the rim and down the pipe: P·g·h³/(3·ν), gravity against viscosity (Nusselt);
* the pipe: π·g·d⁴/(128·ν), laminar, under its own height alone (Hagen-Poiseuille);
* the hole: 0.6·A·√(2·g·(length + h)) (Torricelli, contraction 0.6).

They add like conductances in series, 1/Q = Σ 1/Q_i: a choice for its smoothness, no measurement.
For a pan with vertical walls dt = -S·dh/Q(h), which integrates term by term in closed form. Flow
over a rim goes to zero with its head, so the time to no flow at all is endless; the time to a drip
rate is not. Fluid that comes on meanwhile (it grows as it warms) delays the drip, or forbids it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Self

import numpy as np

GRAVITY = 9.81  # m/s²
WEIR = 1.8  # m^0.5/s
CONTRACTION = 0.6
WALL_M = 0.002
"""Wall of a standpipe, in m; invented."""
PIPE_M = 0.04
"""Height of a standpipe, in m; invented."""

DROP_L = 1.0e-4
"""One drop: 0.1 mL. Tate's law, 2π·r·γ·F/(ρ·g), with the wetted boss around the hole of r = 8 mm,
γ = 0.028 N/m, F = 0.6 and ρ = 850 kg/m³ (all from memory) gives 0.101 mL."""

DROP_SPREAD_L = (0.5e-4, 1.3e-4)
"""Smallest and largest drop in L: the same law with r = 4 mm, as from the bare edge of a hole, and
r = 10 mm."""

STREAM_DROPS = 8.0
"""So many drops a second and more are a stream: a person can no longer count them (common
practice, no source)."""

VISCOSITY_SPREAD = 0.2
"""Fluid in service is this much thinner or thicker than its data sheet: sheared or oxidised, and
a few K off what its sensor says. An assumption."""

RIM_SPREAD = (0.35, 1.0)
"""Part of the rim that is wetted. A rim that is not level, or has a burr, drains over one side; at
a drip the head is a quarter of a millimetre. An assumption."""

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(80)


@dataclass(frozen=True)
class Outlet:
    """Standpipe and hole of one family.

    :param rim: length of the rim in m.
    :param bore: of the standpipe in m.
    :param hole: diameter of the hole in m.
    :param pan_area: in m².
    """

    rim: float
    bore: float
    hole: float
    pan_area: float

    @classmethod
    def fitted(cls, bore: float, hole: float, pan_area: float) -> Self:
        """Return the outlet of a standpipe whose wall is :data:`WALL_M`; m and m², above 0."""
        return cls(math.pi * (bore + 2 * WALL_M), bore, hole, pan_area)

    def flow(self, litres_over_rim: float, viscosity: float) -> float:
        """Return the flow in L/s.

        :param litres_over_rim: fluid above the rim in L; none flows from 0 on downwards.
        :param viscosity: kinematic, in mm²/s, above 0.
        """
        head = litres_over_rim / 1000 / self.pan_area
        if head <= 0:
            return 0.0
        nu = viscosity * 1e-6
        weir = WEIR * self.rim * head**1.5
        film = self.rim * GRAVITY * head**3 / (3 * nu)
        pipe = math.pi * GRAVITY * self.bore**4 / (128 * nu)
        hole = CONTRACTION * self.narrowest * math.sqrt(2 * GRAVITY * (PIPE_M + head))
        allowed = (weir, film, pipe, hole)
        if min(allowed) <= 0:  # a head so small that its cube is no number any more
            return 0.0
        return 1000 / sum(1 / each for each in allowed)

    @property
    def narrowest(self) -> float:
        """The narrowest cross-section in m²."""
        return math.pi / 4 * min(self.bore, self.hole) ** 2


@dataclass(frozen=True)
class TimeRange:
    """From ``low`` to ``high``, both in s; ``high`` is infinite where it may never come."""

    low: float
    high: float


def surplus_at(outlet: Outlet, flow: float, viscosity: float) -> float:
    """Return the fluid over the rim (L) with which it leaves at ``flow``.

    :param flow: L/s, above 0.
    :param viscosity: mm²/s, above 0.
    :raises ValueError: outside those ranges, or more than 1000 L above the rim would let pass.
    """
    if not (flow > 0 and viscosity > 0):
        raise ValueError("flow and viscosity must be above 0")
    low, high = 1e-12, 1e3
    if outlet.flow(high, viscosity) < flow:
        raise ValueError("this outlet never lets so much pass")
    while high / low > 1 + 1e-13:
        middle = math.sqrt(low * high)
        if outlet.flow(middle, viscosity) < flow:
            low = middle
        else:
            high = middle
    return math.sqrt(low * high)


def time_to_flow(
    outlet: Outlet, surplus: float, viscosity: float, flow: float, inflow: float = 0.0
) -> float:
    """Return the time in s until the flow has sunk to ``flow``.

    :param surplus: fluid over the rim in L as the plug comes out; 0 or less gives 0 s.
    :param viscosity: kinematic, in mm²/s, above 0.
    :param flow: L/s, above 0.
    :param inflow: L/s that come on above the rim meanwhile, 0 or more; from ``flow`` upwards the
        answer is infinite, unless the stream is that small at the start.
    :raises ValueError: outside those ranges.
    """
    if not (flow > 0 and viscosity > 0 and inflow >= 0):
        raise ValueError("flow and viscosity must be above 0, and inflow not below it")
    if outlet.flow(surplus, viscosity) <= flow:
        return 0.0
    if inflow >= flow:
        return math.inf
    end = surplus_at(outlet, flow, viscosity)
    alone = _fall(outlet, end, viscosity) - _fall(outlet, surplus, viscosity)
    if inflow == 0:
        return alone
    return alone + _delay(outlet, (end, surplus), viscosity, flow, inflow)


def _fall(outlet: Outlet, litres: float, viscosity: float) -> float:
    """The integral of dV/Q from a head on upwards, less a constant: each term in closed form."""
    area, nu = outlet.pan_area, viscosity * 1e-6
    head = litres / 1000 / area
    weir = 2 / (WEIR * outlet.rim * math.sqrt(head))
    film = 3 * nu / (2 * outlet.rim * GRAVITY * head**2)
    pipe = -head * 128 * nu / (math.pi * GRAVITY * outlet.bore**4)
    orifice = CONTRACTION * outlet.narrowest * math.sqrt(2 * GRAVITY)
    hole = -2 * math.sqrt(PIPE_M + head) / orifice
    return area * (weir + film + pipe + hole)


def _delay(
    outlet: Outlet, ends: tuple[float, float], viscosity: float, flow: float, inflow: float
) -> float:
    """What the inflow adds: the integral of q/(Q·(Q - q)) dV.

    Near the end Q - q is almost linear in V, so the logarithm of the distance to where it would
    vanish makes the integrand smooth.
    """
    end, surplus = ends
    nudge = end * 1e-6
    slope = (outlet.flow(end + nudge, viscosity) - flow) / nudge
    offset = (flow - inflow) / slope
    low, high = math.log(offset), math.log(surplus - end + offset)
    half, middle = (high - low) / 2, (high + low) / 2
    total = 0.0
    for node, weight in zip(_NODES.tolist(), _WEIGHTS.tolist(), strict=True):
        distance = math.exp(middle + half * node)
        passing = outlet.flow(end - offset + distance, viscosity)
        total += weight * distance * inflow / (passing * (passing - inflow))
    return total * half


def time_to_drip(
    outlet: Outlet,
    surplus: tuple[float, float],
    viscosity: float,
    drops_per_second: float,
    inflow: float = 0.0,
) -> TimeRange:
    """Return the plausible time from "stream" to the drip rate.

    The low end has the smaller surplus and large drops, the high end the larger surplus, small
    drops and the inflow; each has the thinner or thicker fluid and the whole or the partly wetted
    rim, whichever goes further. (Mostly thick fluid and a narrow rim are slower, but they also
    drip at a higher head, which a small surplus reaches sooner.) The spreads are the assumptions
    at the top of this module, taken all together: the true time should lie inside nearly always.

    :param surplus: least and most fluid over the rim in L as the plug comes out.
    :param viscosity: kinematic, in mm²/s at the fluid's temperature, above 0.
    :param drops_per_second: the drip rate at which the run-off counts as over, above 0.
    :param inflow: most L/s that may come on above the rim meanwhile, 0 or more.
    :raises ValueError: outside those ranges, or a surplus that is inverted.
    """
    least, most = surplus
    if least > most:
        raise ValueError("the least surplus must not be above the most")
    small, large = (drop * drops_per_second for drop in DROP_SPREAD_L)
    cases = [
        (replace(outlet, rim=outlet.rim * wetted), viscosity * (1 + part))
        for wetted in RIM_SPREAD
        for part in (-VISCOSITY_SPREAD, VISCOSITY_SPREAD)
    ]
    return TimeRange(
        low=min(time_to_flow(each, least, nu, large) for each, nu in cases),
        high=max(time_to_flow(each, most, nu, small, inflow) for each, nu in cases),
    )
