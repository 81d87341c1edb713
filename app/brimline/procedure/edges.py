"""What keeps jitter at an edge from flapping a gate: of the target band, and of the idle window.

Readings of a real vehicle jitter by up to 1 °C to either side. So no single one moves the fluid
from one side of an edge to the other; what does depends on the way:

* into the band and out of it: readings that agree for 10 s, or out at once 2 K beyond;
* out of it by keyed readings that lie outside for a minute, or by one 2 K beyond, because one may
  be off by a degree; into it by one, for it is a person's word;
* above the limit for the plug: at once, and back only 2 K below it;
* out of the idle window: 3 s outside, and back after 10 s inside.

Until the fluid is inside, the gate names the side from which it comes, whatever single readings
say; else its reasons, and what a person overrode, would come and go with each of them.

All this holds from version :data:`STEADY_SINCE` of the procedure on. Before, the dwell alone held:
the reasons flapped, a keyed reading decided at once, and one speed inside the window was enough.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from brimline.procedure import facts
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import BandPlace, BandSide, CheckState, Engine, Temperature
from brimline.reading import Reading, Way
from brimline.specsheet.model import Band

STEADY_SINCE = 4
"""Version of the procedure from which jitter changes nothing at an edge."""

WORSE_BY = {
    Code.BELOW_BAND: facts.BAND_MARGIN_K,
    Code.ABOVE_BAND: facts.BAND_MARGIN_K,
    Code.IDLE_SPEED_OUTSIDE: 50.0,
}
"""An override holds while what it covers gets worse by no more than this (K, rpm): jitter by 1 °C
to either side spans 2 K, and the tap may have met its upper end."""

_CODES = {
    BandSide.BELOW: Code.BELOW_BAND,
    BandSide.ABOVE: Code.ABOVE_BAND,
    BandSide.TOO_HOT: Code.TOO_HOT_FOR_PLUG,
}


def steady(state: CheckState) -> bool:
    """Return whether the check goes by the rules of this module."""
    return state.opened.procedure >= STEADY_SINCE


def located(band: Band, known: Temperature, reading: Reading, celsius: float) -> Temperature:
    """Return where a good reading places the fluid, ``known`` having taken the reading in."""
    known = replace(known, side=_side(band, known.side, celsius))
    return replace(known, place=_place(band, known, reading, celsius))


def _side(band: Band, known: BandSide | None, celsius: float) -> BandSide | None:
    """On which side of the band the fluid is taken to be while it is not inside."""
    margin = facts.BAND_MARGIN_K
    if celsius > band.limit or (known is BandSide.TOO_HOT and celsius > band.limit - margin):
        return BandSide.TOO_HOT
    if band.low is not None and celsius < band.low + margin * (known is BandSide.BELOW):
        return BandSide.BELOW
    if band.high is not None and celsius > band.high - margin * (known is BandSide.ABOVE):
        return BandSide.ABOVE
    return None


def _place(band: Band, t: Temperature, reading: Reading, celsius: float) -> BandPlace:
    below = 0.0 if band.low is None else band.low - celsius
    above = 0.0 if band.high is None else celsius - band.high
    forbidden = band.max_plug_out is not None and t.side is BandSide.TOO_HOT
    if forbidden or max(below, above) > facts.BAND_MARGIN_K:
        return BandPlace.OUTSIDE
    inside = t.inside_since is not None
    if reading.way is Way.KEYED:
        since = t.outside_since
        lasted = since is not None and reading.t >= since + facts.KEYED_STALE_S
        held = inside or (t.place is BandPlace.INSIDE and not lasted)
        return BandPlace.INSIDE if held else BandPlace.OUTSIDE
    since = t.inside_since if inside else t.outside_since
    if since is None or reading.t < since + facts.BAND_DWELL_S:
        return t.place
    return BandPlace.INSIDE if inside else BandPlace.OUTSIDE


def against_band(state: CheckState, celsius: float) -> Iterator[Reason]:
    """Yield why the fluid, which shows ``celsius`` now, does not count as inside its band."""
    t, band = state.temperature, state.band
    if t.place is BandPlace.INSIDE:
        return
    if t.side is None:
        yield Reason(Code.BAND_NOT_STEADY, limit=facts.BAND_DWELL_S)
        return
    edges = {BandSide.BELOW: band.low, BandSide.ABOVE: band.high, BandSide.TOO_HOT: band.limit}
    yield Reason(_CODES[t.side], value=celsius, limit=edges[t.side])


def kept_to_window(engine: Engine, t: float, inside: bool) -> Engine:
    """Return the engine with its latest speed inside the idle window or not.

    An excursion that lasted for less than the grace is forgotten at once.
    """
    since, back = engine.outside_since, engine.back_since
    if not inside:
        return replace(engine, outside_since=t if since is None else since, back_since=None)
    counted = since is not None and t >= since + facts.IDLE_GRACE_S
    if not counted or (back is not None and t >= back + facts.IDLE_RETURN_S):
        return replace(engine, outside_since=None, back_since=None)
    return replace(engine, back_since=t if back is None else back)


def started(state: CheckState, engine: Engine, at: float) -> Engine:
    """Return the engine with its measured speed at ``at``, as it starts, for the first one.

    What was before is no excursion: the engine stood.
    """
    off = engine.rpm is not None and not facts.in_idle_window(state, engine.rpm)
    return replace(engine, outside_since=at if off else None, back_since=None)


def beyond(state: CheckState, code: Code, value: float) -> float:
    """Return how far a value (°C, rpm) lies beyond its edge, below 0 where it lies inside.

    :param code: one of :data:`WORSE_BY`.
    """
    band, idle = state.band, state.sheet.idle
    if code is Code.IDLE_SPEED_OUTSIDE:
        return max(idle.speed_low - value, value - idle.speed_high)
    below = -math.inf if band.low is None else band.low - value
    above = -math.inf if band.high is None else value - band.high
    return below if code is Code.BELOW_BAND else above


def off_idle(state: CheckState, rpm: float) -> bool:
    """Return whether the idle speed, which is ``rpm`` now, counts as outside its window."""
    since = state.engine.outside_since
    lasted = since is not None and state.now >= since + facts.IDLE_GRACE_S
    if steady(state) and lasted:
        return True
    return not facts.in_idle_window(state, rpm) and (since is None or lasted)
