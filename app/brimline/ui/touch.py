"""How high something is that is pressed: 15 mm for gloved hands, as far as the screen has room."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimline.ui.tokens import TOUCH, TOUCH_MM

ROWS = 11
"""So many taps can stand under each other on a screen; a page keeps its layout then."""

MM_PER_INCH = 25.4
LEAST_DPI, MOST_DPI = 70.0, 400.0
"""Outside of these a screen tells nonsense, as many do behind a switch or a remote session."""


@dataclass(frozen=True)
class Touch:
    """Least heights in px.

    :param main: what a check is worked with: next, plug out and in, pump, stop, items.
    :param side: everything else that is pressed, and fields.
    """

    main: int
    side: int = TOUCH


def dots_per_inch(physical: float, logical: float) -> float:
    """Return how many px of a screen make an inch.

    :param physical: as the screen tells; ``logical``: as the desktop scales it, which is taken
        where the former cannot be.
    """
    return physical if LEAST_DPI <= physical <= MOST_DPI else logical


def touch_at(dpi: float, height: int) -> Touch:
    """Return how high things are on a screen.

    :param dpi: px to an inch; ``height``: of the screen in px.
    """
    wanted = math.ceil(TOUCH_MM / MM_PER_INCH * dpi)
    return Touch(max(TOUCH, min(wanted, height // ROWS)))
