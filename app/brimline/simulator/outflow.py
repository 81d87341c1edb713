"""How fast fluid leaves through the standpipe and the hole behind the check plug.

Four resistances lie in series, and each gives the flow that it alone would allow; the thinner the
sheet of fluid over the rim, the more its viscosity counts:

* the rim as a round weir: C·P·h^1.5 with C = 1.8 m^0.5/s, the usual figure for a drop inlet at
  small heads (from memory), and P the outer edge of the pipe's wall;
* the film over the rim and down the pipe: P·g·h³/(3·ν), gravity against viscosity (Nusselt);
* the pipe: π·g·d⁴/(128·ν), laminar, under its own height alone (Hagen-Poiseuille);
* the hole: 0.6·A·√(2·g·(length + h)) (Torricelli, contraction 0.6).

They add like conductances in series, 1/Q = Σ 1/Q_i: a choice for its smoothness, no measurement.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimline.specsheet.model import Level

GRAVITY = 9.81  # m/s²
WEIR = 1.8  # m^0.5/s
WALL_M = 0.002
"""Wall of a standpipe, in m; invented."""
PIPE_M = 0.04
"""Height of a standpipe, in m; invented."""

DROP_L = 1.0e-4
"""One drop: 0.1 mL. Tate's law, 2π·r·γ·F/(ρ·g), with the wetted boss around the hole of r = 8 mm,
γ = 0.028 N/m, F = 0.6 and ρ = 850 kg/m³ (all from memory) gives 0.101 mL."""

STREAM_DROPS = 8.0
"""So many drops a second and more are a stream: a person can no longer count them (common
practice, no source)."""

FEWEST_DROPS = 1 / 60
"""Fewer than one drop a minute are nothing."""


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
    def of(cls, level: Level) -> Outlet:
        """Return the outlet that a spec sheet describes."""
        rim = math.pi * (level.standpipe_bore + 2 * WALL_M)
        return cls(rim, level.standpipe_bore, level.plug_hole, level.pan_area)

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
        narrowest = math.pi / 4 * min(self.bore, self.hole) ** 2
        hole = 0.6 * narrowest * math.sqrt(2 * GRAVITY * (PIPE_M + head))
        allowed = (weir, film, pipe, hole)
        if min(allowed) <= 0:  # a head so small that its cube is no number any more
            return 0.0
        return 1000 / sum(1 / each for each in allowed)
