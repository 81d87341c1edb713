"""When the fluid of a running check enters its band and leaves it.

Outside of the reducer: gates and verdict never read it. The readings that feed it are the good ones
that the procedure sees, and what the engine does is what the procedure holds for true.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from brimline.physics import warm_up_prior
from brimline.physics.forecast import BEYOND_K, VERSION, Forecaster, Regime
from brimline.physics.passage import Passage
from brimline.physics.relaxation import Array
from brimline.physics.warm_up_prior import PastWarmUp, Prior, StatedWarmUp
from brimline.procedure import facts
from brimline.procedure.estimates import ForecastMade, TimeLeft
from brimline.procedure.state import BandPlace, CheckState
from brimline.reading import Reading, SignalName
from brimline.specsheet.model import Band, SpecSheet

AHEAD_S = 1800.0
"""How far a course is drawn ahead, in s."""

LONG_S = 15.0
"""A range selected for longer changes how the fluid is heated."""

_COURSE_POINTS = 31
_DIRECTION_POINTS = 7
_NO_START_C, _NO_END_C = -273.15, 1000.0  # colder and hotter than any fluid
_QUANTILES = np.array((0.1, 0.5, 0.9))
_KEPT_EVERY_S = 10.0
_RESTING = frozenset(("P", "N"))
_LONGEST_KEPT = 720  # two hours of a warm-up are all that a forecast looks ahead


class Basis(StrEnum):
    """What a forecast rests on."""

    READINGS = "readings"  # of this warm-up or cool-down
    START = "start"  # the start temperature alone: if the engine were started now


class Place(StrEnum):
    """Where the fluid is, as the forecast sees it: no gate goes by this.

    Once the procedure says that the band is entered it is inside; before that, single readings
    jitter over the edge, so the smoothed temperature counts.
    """

    BELOW = "below"
    INSIDE = "inside"
    ABOVE = "above"


@dataclass(frozen=True)
class BandOutlook:
    """What is to be expected, in s from ``at``.

    :param at: time of the latest reading, in s of the check.
    :param entry: until the band is entered; ``None`` inside.
    :param exit: until it is left at its far end: the one that the fluid moves towards.
    """

    at: float
    basis: Basis
    place: Place
    entry: Passage | None
    exit: Passage
    learned_from: int

    @property
    def next(self) -> Passage:
        """What is waited for: the band, or inside it its end."""
        return self.exit if self.entry is None else self.entry

    def as_event(self, t: float) -> ForecastMade:
        """Return what goes into the record when this was shown and matters."""
        return ForecastMade(
            t=t,
            model=VERSION,
            basis=self.basis.value,
            seen_at=self.at,
            entry=None if self.entry is None else time_left(self.entry),
            exit=time_left(self.exit),
            learned_from=self.learned_from,
        )


@dataclass(frozen=True)
class Course:
    """Temperatures to come: times in s of the check, and three quantiles (10, 50, 90 %) in °C."""

    times: Array
    quantiles: Array


class BandWatch:
    """Follows the fluid of one check.

    :param sheet: says the band and, perhaps, how long a warm-up takes.
    :param past: earlier warm-ups of the family in this shop, live or keyed.
    """

    def __init__(self, sheet: SpecSheet, duty: str, past: Sequence[PastWarmUp] = ()) -> None:
        self._band = sheet.bands[duty]
        self._stated = _stated(sheet)
        self._past = tuple(past)
        self._forecaster: Forecaster | None = None
        self._regime = Regime.STOPPED
        self._latest: tuple[float, float] | None = None
        self._warm_up: list[tuple[float, float]] = []
        self._gathering = True

    def take(self, state: CheckState, reading: Reading) -> None:
        """Take a reading in, with the state after it."""
        celsius = reading.number
        is_fluid = reading.signal is SignalName.FLUID_TEMPERATURE
        if is_fluid and celsius is not None and facts.counts(state, reading):
            self._follow(state, reading.t, celsius)

    def interrupt(self) -> None:
        """Say that nobody watched for a while: what heated the fluid meanwhile is not known.

        What comes after is no warm-up for the shop's next ones: the engine may have stood.
        """
        if self._forecaster is not None:
            self._forecaster.change(Regime.OTHER)
        self._latest, self._gathering = None, False

    def outlook(self, state: CheckState) -> BandOutlook | None:
        """Return what is to be expected; ``None`` without fresh readings or after the end."""
        celsius = facts.temperature(state)
        if celsius is None or self._latest is None or not can_be_told(state):
            return None
        if self._forecaster is None:
            place = _place(self._band, celsius)
            if place is not Place.BELOW:
                return None
            fresh = Forecaster(self._prior(celsius))
            fresh.observe(0.0, celsius)
            return self._answer(fresh, place, Basis.START)
        place = _place(self._band, self._forecaster.celsius)
        if state.temperature.place is BandPlace.INSIDE:
            place = Place.INSIDE
        return self._answer(self._forecaster, place, Basis.READINGS)

    def course(self, state: CheckState) -> Course | None:
        """Return the temperatures to come, for a chart; ``None`` where nothing can be told."""
        if self._forecaster is None or self._latest is None or not can_be_told(state):
            return None
        ahead = np.linspace(0.0, AHEAD_S, _COURSE_POINTS)
        return Course(ahead + self._latest[0], self._forecaster.course(ahead, _QUANTILES))

    def warm_up(self) -> PastWarmUp | None:
        """Return this check's own warm-up, for the shop's next ones; ``None`` if it has none."""
        if len(self._warm_up) < 3:
            return None
        times, celsius = (np.array(part) for part in zip(*self._warm_up, strict=True))
        return PastWarmUp(times - times[0], celsius)

    def _answer(self, forecaster: Forecaster, place: Place, basis: Basis) -> BandOutlook:
        assert self._latest is not None
        band = self._band
        top = band.high if band.high is not None else band.limit
        entry = None
        if place is Place.INSIDE or (place is Place.BELOW and band.low is None):
            leaving = _leaving(forecaster, band)
        elif place is Place.BELOW and band.low is not None:
            entry = forecaster.passage(band.low, up=True)
            leaving = forecaster.passage(top + BEYOND_K, up=True, by_design=False)
        else:
            bottom = band.low if band.low is not None else _NO_START_C
            entry = forecaster.passage(top, up=False)
            leaving = forecaster.passage(bottom - BEYOND_K, up=False)
        learned = len(self._past)
        return BandOutlook(self._latest[0], basis, place, entry, leaving, learned)

    def _follow(self, state: CheckState, t: float, celsius: float) -> None:
        regime = _regime(state)
        if self._forecaster is None:
            if regime is Regime.STOPPED:
                self._latest = (t, celsius)
                return
            self._forecaster = Forecaster(self._prior(celsius) if self._is_special else None)
        elif regime is not self._regime:
            stopped = Regime.STOPPED in (regime, self._regime)
            self._forecaster.change(regime if stopped else Regime.OTHER)
            # A later part of a warm-up is none that starts like the next one.
            self._gathering = self._gathering and not stopped
        self._regime, self._latest = regime, (t, celsius)
        self._forecaster.observe(t, celsius)
        self._keep(state, t, celsius)

    @property
    def _is_special(self) -> bool:
        return self._stated is not None or bool(self._past)

    def _prior(self, celsius: float) -> Prior:
        known = warm_up_prior.prior(celsius, stated=self._stated)
        return warm_up_prior.sharpened(known, celsius, self._past)

    def _keep(self, state: CheckState, t: float, celsius: float) -> None:
        self._gathering = self._gathering and not state.plug_spans
        kept = self._warm_up
        due = not kept or t - kept[-1][0] >= _KEPT_EVERY_S
        if self._gathering and due and len(kept) < _LONGEST_KEPT:
            kept.append((t, celsius))


def awaits_band(state: CheckState) -> bool:
    """Return whether the band still matters: until the plug is in for good, or the check ends."""
    over = state.closed is not None or state.aborted is not None
    return not over and (state.end is None or state.plug_is_out)


def can_be_told(state: CheckState) -> bool:
    """Return whether anything may be told now: also of a forecast that was made a moment ago."""
    return awaits_band(state) and facts.temperature(state) is not None


def time_left(passage: Passage) -> TimeLeft:
    """Return a passage as records keep it."""
    return TimeLeft(
        median=passage.median,
        low=passage.low,
        high=None if passage.high == float("inf") else passage.high,
        never=passage.never,
        told=passage.known,
    )


def _regime(state: CheckState) -> Regime:
    if state.engine.running_since is None:
        return Regime.STOPPED
    selected = state.ranges.current
    resting = selected is None or selected in _RESTING
    # The dwells of the preconditions are too short to heat the fluid.
    return Regime.IDLING if resting or state.now - state.ranges.since < LONG_S else Regime.OTHER


def _place(band: Band, celsius: float) -> Place:
    if band.contains(celsius):
        return Place.INSIDE
    return Place.BELOW if band.low is not None and celsius < band.low else Place.ABOVE


def _leaving(forecaster: Forecaster, band: Band) -> Passage:
    """Return when the band is left at the end that the fluid moves towards.

    The other end counts for nothing: just inside of it, noise alone would say that it is left.
    """
    ahead = np.linspace(0.0, AHEAD_S, _DIRECTION_POINTS)
    course = forecaster.course(ahead, _QUANTILES[1:2])[0]
    if course.max() - course[0] >= course[0] - course.min():
        return forecaster.leaving(None, band.high if band.high is not None else band.limit)
    return forecaster.leaving(band.low, _NO_END_C)


def _stated(sheet: SpecSheet) -> StatedWarmUp | None:
    known = sheet.warm_up
    return None if known is None else StatedWarmUp(known.start, known.end, known.time)
