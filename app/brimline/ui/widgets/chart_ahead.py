"""Where the forecast crosses the ends of the band: moments, how well they are known, in words.

An estimate is told in steps that nobody takes for exact, as everywhere in the window.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from brimline.estimate.warm_up import BandOutlook, Course, Place, can_be_told, time_left
from brimline.procedure.estimates import TimeLeft
from brimline.session import Snapshot
from brimline.translation import tr
from brimline.units import clock

_STEPS = ((90.0, 10.0), (1200.0, 30.0), (math.inf, 60.0))
"""How coarsely a moment is told that lies up to so many s ahead, in s."""


@dataclass(frozen=True)
class Crossing:
    """The band is entered or left, in s of the check; eight in ten cases lie between the ends.

    :param at: the middle; ``first`` and ``last``: the ends; infinite where nobody can tell.
    :param celsius: where the course is then.
    :param text: what is written beside it.
    :param above: whether the course comes from below, so that the room above is free.
    """

    at: float
    first: float
    last: float
    celsius: float
    text: str
    above: bool


def foreseen(snapshot: Snapshot) -> bool:
    """Whether what is told of the time to come may be drawn: never on from lost readings."""
    outlook = snapshot.outlook
    return can_be_told(snapshot.state) and outlook is not None and outlook.next.known


def crossings(snapshot: Snapshot) -> tuple[Crossing, ...]:
    """Return where the band is entered and left, as far as it can be told."""
    outlook, course = snapshot.outlook, snapshot.course
    if not foreseen(snapshot) or outlook is None or course is None:
        return ()
    entry = None if outlook.entry is None else time_left(outlook.entry)
    found = (
        _crossing(outlook, course, entry, _enters),
        _crossing(outlook, course, time_left(outlook.exit), _leaves),
    )
    return tuple(crossing for crossing in found if crossing is not None)


def _crossing(
    outlook: BandOutlook, course: Course, left: TimeLeft | None, words: Callable[..., str]
) -> Crossing | None:
    if left is None or not left.told or left.median is None or left.low is None:
        return None
    ahead = (left.low, left.median, math.inf if left.high is None else left.high)
    first, at, last = (outlook.at + seconds for seconds in ahead)
    if not course.times[0] <= at <= course.times[-1]:
        return None
    rises = outlook.place is not Place.ABOVE and course.quantiles[1, -1] >= course.quantiles[1, 0]
    return Crossing(
        at, first, last, float(np.interp(at, course.times, course.quantiles[1])),
        words(*(_told(outlook.at, s, whole) for s, whole in zip(ahead, _WHOLE, strict=True))),
        rises,
    )  # fmt: skip


_WHOLE: tuple[Callable[[float], int], ...] = (math.floor, round, math.ceil)
"""How the earliest, the likely and the latest moment are made whole: never closer together."""


def _told(since: float, ahead: float, whole: Callable[[float], int]) -> str:
    """Return a moment of the check, as coarsely as it is known; empty where it is not."""
    if math.isinf(ahead):
        return ""
    step = next(step for reach, step in _STEPS if ahead < reach)
    return clock(whole((since + ahead) / step) * step)


def _enters(first: str, at: str, last: str) -> str:
    if not last:
        return tr("Enters about {at} (from {first})", at=at, first=first)
    return tr("Enters about {at} ({first}–{last})", at=at, first=first, last=last)


def _leaves(first: str, at: str, last: str) -> str:
    if not last:
        return tr("Leaves the band after {first}", first=first)
    return tr("Leaves about {at} ({first}–{last})", at=at, first=first, last=last)
