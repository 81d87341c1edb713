"""What a tilted vehicle does to the level.

The fluid's surface stays horizontal while the pan turns with the vehicle about its area centroid.
A standpipe off that centroid then rises or sinks against the surface by distance · tan(angle),
which retains or loses area · distance · tan(angle) of fluid. Exact for a pan with vertical walls
while the surface stays on all four of them. Derived here; checked against a numerical volume
integral in the tests.
"""

from __future__ import annotations

import math


def reversal_mean(first: float, turned: float) -> float:
    """Return the angle (°) free of the instrument's own offset.

    :param first: reading in degrees.
    :param turned: reading in the same sense with the instrument turned end for end; its offset
        then has the other sign (common practice, no source).
    """
    return (first + turned) / 2


def level_error(
    pan_area: float, forward: float, right: float, lengthwise: float, crosswise: float
) -> float:
    """Return the fluid (L) that a tilt leaves in the pan too much (positive) or too little.

    :param pan_area: free surface in m², above 0.
    :param forward: standpipe ahead of the area centroid in m, may be negative.
    :param right: standpipe to the right of it in m, may be negative.
    :param lengthwise: nose up in degrees, between -45 and 45.
    :param crosswise: right side up in degrees, between -45 and 45.
    :raises ValueError: an angle outside that range, or an area not above 0.
    """
    if pan_area <= 0:
        raise ValueError("pan_area must be above 0 m²")
    if max(abs(lengthwise), abs(crosswise)) > 45:
        raise ValueError("angles must lie between -45° and 45°")
    rise = forward * math.tan(math.radians(lengthwise)) + right * math.tan(math.radians(crosswise))
    return pan_area * rise * 1000
