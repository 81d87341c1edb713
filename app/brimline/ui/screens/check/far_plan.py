"""How large the far view writes: by the rule of the visual angle, as far as there is room.

Main rows carry the temperature and the next action, side rows everything else.
"""

from __future__ import annotations

from dataclasses import dataclass

from brimline.ui import legibility
from brimline.ui.legibility import LEAST_ARC, MAIN_ARC
from brimline.ui.tokens import Space
from brimline.ui.widgets.far_text import PITCH

MARGIN = Space.SMALL

SIDE_ROWS, MAIN_ROWS = 6.0, 2.1
"""Beside the temperature three, then outlook or alarm, what a press does, what may be taken back;
two lines for the next action, with air around them."""

LEAST_PART = 0.6
"""A side row is never written smaller than this part of a main row (our choice)."""


@dataclass(frozen=True)
class FarSizes:
    """Sizes of type in px."""

    main: float
    side: float

    def reach_m(self, dpi: float) -> tuple[float, float]:
        """Return from how far, in m, the main rows can be read well, and all of the text at all."""
        return (
            legibility.read_from_m(self.main, dpi, MAIN_ARC),
            legibility.read_from_m(self.side, dpi, LEAST_ARC),
        )


def wanted(distance_m: float, dpi: float) -> FarSizes:
    """Return the sizes by the rule alone.

    :param distance_m: above 0 m; ``dpi``: px to an inch, above 0.
    """
    return FarSizes(
        *(
            legibility.type_px(legibility.character_height_mm(distance_m, arc), dpi)
            for arc in (MAIN_ARC, LEAST_ARC)
        )
    )


def sizes(height: int, rule: FarSizes, more_rows: int = 0) -> FarSizes:
    """Return the sizes that fill a window.

    Where there is room for the rule, everything is as large as fits. Where there is not, the side
    rows give way first, and then all.

    :param height: of the window in px, above twice the margin.
    :param more_rows: side rows besides the usual ones.
    """
    room, side_rows = height - 2 * MARGIN, (SIDE_ROWS + more_rows) * PITCH
    main_rows = MAIN_ROWS * PITCH
    part = rule.side / rule.main
    main = room / (main_rows + side_rows * part)
    if main >= rule.main:
        return FarSizes(main, main * part)
    side = (room - main_rows * rule.main) / side_rows
    if side >= LEAST_PART * rule.main:
        return FarSizes(rule.main, side)
    main = room / (main_rows + side_rows * LEAST_PART)
    return FarSizes(main, main * LEAST_PART)
