"""What the warm-up forecast would have said over a recorded curve, beside what then happened.

What happened is judged as a check judges it (:mod:`brimline.procedure.facts`): the band is entered
where readings begin to stay inside for 10 s, and left where they begin to stay outside as long, or
to end up more than 2 °C outside. Both count from the first such reading, so a check knows of them a
little later. Times are in s on the recording's own clock.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from brimline.estimate.warm_up import Place
from brimline.physics.forecast import BEYOND_K, Forecaster
from brimline.physics.passage import Passage
from brimline.procedure.facts import BAND_DWELL_S, BAND_MARGIN_K

Curve = Sequence[tuple[float, float]]
"""Times (s, rising) and temperatures (°C) of readings fit for use; at least one."""

SHARES = (0.3, 0.5, 0.7, 0.9)
"""Where it is asked by default: so much of the way from the first reading to the event."""


class Event(StrEnum):
    """What the way leads to."""

    ENTRY = "entry"
    EXIT = "exit"


@dataclass(frozen=True, slots=True)
class Target:
    """A target band in °C, ends included; ``low`` lies below ``high``."""

    low: float
    high: float

    def place(self, celsius: float) -> Place:
        """Return where a temperature lies."""
        if celsius < self.low:
            return Place.BELOW
        return Place.ABOVE if celsius > self.high else Place.INSIDE

    def beyond(self, celsius: float) -> float:
        """Return by how many K a temperature lies outside, 0 inside."""
        return max(self.low - celsius, celsius - self.high, 0.0)


@dataclass(frozen=True, slots=True)
class Stay:
    """Once in the band: when it was entered and left (s), and to which side.

    ``None`` where the recording ends inside.
    """

    entered: float
    left: float | None = None
    to: Place | None = None


@dataclass(frozen=True, slots=True)
class Moment:
    """When a forecast is asked for (s), and where on the way to an event that is, if on one."""

    at: float
    share: float | None = None
    way: Event | None = None


@dataclass(frozen=True, slots=True)
class Foresight:
    """What the forecast said at one moment, and what came of it.

    :param moment: when it was asked.
    :param seen_at: time of the latest reading then, in s.
    :param celsius: the fluid's temperature as the forecast took it, in °C.
    :param entry: from the moment until the band is entered; ``None`` where the fluid is inside.
    :param leaving: from the moment until it is left: outside, at its far end.
    :param stay: the stay that lasted then, else the next one; ``None`` where none came.
    """

    moment: Moment
    seen_at: float
    celsius: float
    entry: Passage | None
    leaving: Passage
    stay: Stay | None


def stays(curve: Curve, target: Target) -> tuple[Stay, ...]:
    """Return every stay in the band, in order of time."""
    found: list[Stay] = []
    inside = False
    since, place = curve[0][0], target.place(curve[0][1])
    for t, celsius in curve:
        here = target.place(celsius)
        if (here is Place.INSIDE) is not (place is Place.INSIDE):
            since = t
        place = here
        agreed = t - since >= BAND_DWELL_S or target.beyond(celsius) > BAND_MARGIN_K
        if inside is (place is Place.INSIDE) or not agreed:
            continue
        inside = not inside
        if inside:
            found.append(Stay(since))
        else:
            found[-1] = replace(found[-1], left=since, to=place)
    return tuple(found)


def when_to_ask(curve: Curve, happened: Sequence[Stay]) -> tuple[Moment, ...]:
    """Return the moments to ask at: on the way to the first entry, :data:`SHARES` of it.

    On the way to the exit where the recording begins inside the band, and evenly over the whole
    recording where it never came to what is asked for.
    """
    start, end = curve[0][0], curve[-1][0]
    first = happened[0] if happened else Stay(start)
    way = Event.ENTRY if first.entered > start else Event.EXIT
    event = first.entered if way is Event.ENTRY else first.left
    if event is not None:
        return tuple(Moment(start + share * (event - start), share, way) for share in SHARES)
    parts = len(SHARES) + 1
    evenly = (start + part * (end - start) / parts for part in range(1, parts))
    return tuple(Moment(t) for t in dict.fromkeys(evenly))


def look_back(
    curve: Curve, target: Target, happened: Sequence[Stay], moments: Iterable[Moment]
) -> Iterator[Foresight]:
    """Yield what the forecast said at each moment, in order of time, from the readings up to it.

    :raises ValueError: a moment before the first reading.
    """
    forecaster = Forecaster()
    seen_at, unseen = curve[0][0], 0
    for moment in sorted(moments, key=lambda each: each.at):
        while unseen < len(curve) and curve[unseen][0] <= moment.at:
            seen_at = curve[unseen][0]
            forecaster.observe(*curve[unseen])
            unseen += 1
        entry, leaving = _answers(forecaster, target, moment.at - seen_at)
        stay = next((s for s in happened if s.left is None or s.left > moment.at), None)
        yield Foresight(moment, seen_at, forecaster.celsius, entry, leaving, stay)


def _answers(forecaster: Forecaster, target: Target, age: float) -> tuple[Passage | None, Passage]:
    """Return what is said of entry and exit; the latest reading is ``age`` s old."""
    place = target.place(forecaster.celsius)
    if place is Place.INSIDE:
        return None, _later(forecaster.leaving(target.low, target.high), age)
    up = place is Place.BELOW
    near, far = (target.low, target.high) if up else (target.high, target.low)
    beyond = far + BEYOND_K if up else far - BEYOND_K
    leaving = forecaster.passage(beyond, up=up, by_design=False)
    return _later(forecaster.passage(near, up=up), age), _later(leaving, age)


def _later(passage: Passage, age: float) -> Passage:
    """Count from ``age`` s after the latest reading; what should have happened since is now."""
    low, median = (
        None if seconds is None else max(0.0, seconds - age)
        for seconds in (passage.low, passage.median)
    )
    return replace(passage, low=low, median=median, high=max(0.0, passage.high - age))
