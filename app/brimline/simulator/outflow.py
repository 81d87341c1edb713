"""What leaves a simulated vehicle through its standpipe: one model with the estimate of run-off.

The flow itself, its sources and its assumptions are in :mod:`brimline.physics.run_off`.
"""

from __future__ import annotations

from brimline.physics.run_off import DROP_L, STREAM_DROPS
from brimline.physics.run_off import Outlet as _Outlet
from brimline.specsheet.model import Level

__all__ = ["DROP_L", "FEWEST_DROPS", "STREAM_DROPS", "Outlet"]

FEWEST_DROPS = 1 / 60
"""Fewer than one drop a minute are nothing."""


class Outlet(_Outlet):
    """Standpipe and hole of one family."""

    @classmethod
    def of(cls, level: Level) -> Outlet:
        """Return the outlet that a spec sheet describes."""
        return cls.fitted(level.standpipe_bore, level.plug_hole, level.pan_area)
