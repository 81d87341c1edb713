"""How soon fluid burns skin.

Published times for flowing hot water on the skin of adults, to a burn of the second degree, as
public pages on scalding tabulate them. That the figures are those of Moritz and
Henriques, American Journal of Pathology 23 (1947), is from memory, the paper unread. Between the
tabulated temperatures the logarithm of time is taken as linear. What is given out is rounded down
twice: the temperature up to a whole degree, the time down to a figure that can be remembered.

The times are for water, from which skin takes up heat faster than from oil, but oil clings and is
not washed off. Below the table's lowest temperature nothing is claimed, which is no permission.
The tests hold the figures against the damage integral of Henriques and Moritz; it is not used
here, because of the two constants in circulation for it the larger gives unsafe times.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

SECOND_DEGREE = (
    (45.0, 7200.0),
    (47.0, 1200.0),
    (48.0, 900.0),
    (49.0, 480.0),
    (51.0, 120.0),
    (55.0, 17.0),
    (60.0, 3.0),
)
"""Temperature in °C and time in s to a burn of the second degree, flowing water."""

LOWEST_C, HIGHEST_C = SECOND_DEGREE[0][0], SECOND_DEGREE[-1][0]
"""Below the first nothing is claimed; above the second it is immediate."""

_FIGURES = (1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200)


class BurnKind(StrEnum):
    """What can be said of a burn."""

    IMMEDIATE = "immediate"
    WITHIN = "within"
    NOT_CLAIMED = "not_claimed"


@dataclass(frozen=True, slots=True)
class BurnTime:
    """How soon it burns; ``seconds`` (rounded down) only where that is ``WITHIN``."""

    kind: BurnKind
    seconds: int | None = None


def burn_time(celsius: float) -> BurnTime:
    """Return how soon fluid of that temperature burns skin to the second degree.

    :param celsius: of the fluid; any number.
    :raises ValueError: not a number.
    """
    if math.isnan(celsius):
        raise ValueError("temperature must be a number")
    if celsius < LOWEST_C:
        return BurnTime(BurnKind.NOT_CLAIMED)
    if celsius > HIGHEST_C:
        return BurnTime(BurnKind.IMMEDIATE)
    exact = interpolated(math.ceil(celsius))
    return BurnTime(BurnKind.WITHIN, max(f for f in _FIGURES if f <= exact))


def interpolated(celsius: float) -> float:
    """Return the time in s of the table, its logarithm linear between the entries.

    :param celsius: 45 to 60 °C.
    :raises ValueError: outside that range.
    """
    if not LOWEST_C <= celsius <= HIGHEST_C:
        raise ValueError("temperature must lie between 45 and 60 °C")
    (cold, long), (hot, short) = next(
        pair for pair in pairwise(SECOND_DEGREE) if celsius <= pair[1][0]
    )
    if celsius in (cold, hot):  # as published, not as the logarithm rounds it
        return long if celsius == cold else short
    share = (celsius - cold) / (hot - cold)
    return math.exp(math.log(long) + share * (math.log(short) - math.log(long)))
