"""What a tilted vehicle does to the level.

The fluid's surface stays horizontal while the pan turns with the vehicle about its area centroid.
A standpipe off that centroid then rises or sinks against the surface by distance · tan(angle),
which retains or loses area · distance · tan(angle) of fluid. Exact for a pan with vertical walls
while the surface stays on all four of them: while half the pan's length and half its width, each
times the tangent of its angle, come to less than the fluid over the floor at the centroid (and than
what the walls still have above it). A sheet tells neither length nor width; half of a pan 0.4 m
long makes 1.7 mm at half a degree. Derived here; checked against a numerical volume integral in the
tests.

The two angles are the slopes of the vehicle's long and cross axes. Laid on a vehicle that leans
both ways, a level shows the second one a little too small: less than 0.2 % at 3° each.
"""

from __future__ import annotations

import math

from brimline.physics.uncertainty import Budget, Input, propagate

MOST_DEGREES = 45.0
"""No lift holds a vehicle steeper."""


def reversal_mean(first: float, turned: float) -> float:
    """Return the angle (°) free of the instrument's own offset.

    :param first: reading in degrees.
    :param turned: reading in the same sense with the instrument turned end for end; its offset
        then has the other sign (common practice, no source).
    """
    return (first + turned) / 2


def reversal_uncertainty(reading: float) -> float:
    """Return the standard uncertainty (°) of a mean of both readings.

    The offset cancels whatever it is, so nothing of it is left; what one reading scatters by
    itself is halved in variance (GUM equation 10 with both sensitivities ½).

    :param reading: standard uncertainty of one reading in degrees, offset apart; at least 0.
    :raises ValueError: negative.
    """
    if reading < 0:
        raise ValueError("a standard uncertainty is 0 or more")
    return reading / math.sqrt(2)


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
    _require_area(pan_area)
    if max(abs(lengthwise), abs(crosswise)) > MOST_DEGREES:
        raise ValueError("angles must lie between -45° and 45°")
    rise = forward * math.tan(math.radians(lengthwise)) + right * math.tan(math.radians(crosswise))
    return pan_area * rise * 1000


def level_error_budget(
    pan_area: float,
    forward: float,
    right: float,
    lengthwise: float,
    crosswise: float,
    reading: float,
) -> Budget:
    """Return the same error (L) with what the measurement of both angles leaves open.

    :param lengthwise: mean of the readings both ways round in degrees, between -44 and 44;
        ``crosswise`` likewise.
    :param reading: standard uncertainty of one reading in degrees, up to 1, see
        :func:`reversal_uncertainty`. Geometry counts as exact: its faults scale with the error,
        which is small where it matters.
    :raises ValueError: outside those ranges.
    """
    if reading > 1 or max(abs(lengthwise), abs(crosswise)) > MOST_DEGREES - 1:
        raise ValueError("angles must lie between -44° and 44°, known to within 1°")
    spread = reversal_uncertainty(reading)
    angles = (Input("lengthwise", lengthwise, spread), Input("crosswise", crosswise, spread))
    return propagate(lambda a, b: level_error(pan_area, forward, right, a, b), angles)


def largest_error(pan_area: float, forward: float, right: float, angle: float) -> float:
    """Return the error (L, at least 0) with both axes tilted by ``angle`` the worse way.

    This is the most that a limit which is put on each axis by itself lets through.

    :param angle: in degrees, 0 to 45.
    :raises ValueError: as :func:`level_error`.
    """
    return level_error(pan_area, abs(forward), abs(right), abs(angle), abs(angle))


def _require_area(pan_area: float) -> None:
    if pan_area <= 0:
        raise ValueError("pan_area must be above 0 m²")
