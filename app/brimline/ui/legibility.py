"""How high characters must be to be read from a distance: the rule of the visual angle.

The height of a capital letter that is seen under an angle α from a distance D is h = 2·D·tan(α/2).
ISO 9241-303 (secondary) prefers 20 to 22 minutes of arc and names 16 as the least; NUREG-0700 has
the same 16.
"""

from __future__ import annotations

import math

from brimline.ui.touch import MM_PER_INCH

ARC_MINUTES = 20.0
"""Where the preferred angles begin."""

MAIN_ARC, LEAST_ARC = 22.0, 16.0
"""What the far view's main figures have at least, and all of its text."""

CAP_HEIGHT = 0.714
"""Height of a capital letter or a figure of the shipped type, as a part of the type's size."""


def character_height_mm(distance_m: float, arc_minutes: float = ARC_MINUTES) -> float:
    """Return the height in mm of a capital letter that is read from a distance: 2·D·tan(α/2).

    :param distance_m: from the eye to the screen, above 0 m.
    :param arc_minutes: the angle under which it is seen, in minutes of arc above 0.
    """
    return 1000 * distance_m * _ratio(arc_minutes)


def type_px(height_mm: float, dpi: float) -> float:
    """Return the size of type in px whose capital letters have a height in mm.

    :param dpi: px to an inch, above 0.
    """
    return height_mm / MM_PER_INCH * dpi / CAP_HEIGHT


def read_from_m(px: float, dpi: float, arc_minutes: float) -> float:
    """Return from how far, in m, type of a size in px is seen under an angle."""
    return px * CAP_HEIGHT / dpi * MM_PER_INCH / (1000 * _ratio(arc_minutes))


def _ratio(arc_minutes: float) -> float:
    """Height over distance."""
    return 2 * math.tan(math.radians(arc_minutes / 60) / 2)
