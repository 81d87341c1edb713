"""Whether a temperature that the bus gives can be what the fluid really has.

What each quality of a reading rests on:

=================  =============================================  ==============================
quality            rule                                           basis, and where it stands
=================  =============================================  ==============================
not available,     the sender says so                             the codes that SAE J1939-71
error                                                             reserves, or those that the
                                                                  sheet names: :mod:`.decoder`
out of range       beyond what the signal can be                  :mod:`.limits`
implausible step   faster than fluid can change its temperature   heat over heat capacity:
                                                                  ``physics.plausibility``
frozen             a standstill that sound fluid and a sound      the slowest warm-up, and the
                   sensor do not show, the engine running         signal's own jitter: below
good               none of these
=================  =============================================  ==============================

*Stale* is no quality of a reading but of the moment: ``procedure.facts`` derives it from a good
reading's age, 5 s on the bus where the sheet says nothing else (five missed ones at the usual 1 Hz)
and 60 s keyed (the fluid warms a degree or two in it).

**Steps.** While the engine is known to stand, much less is possible; and however long nothing came,
fluid has its limits. Two steps of a sensor that counts whole degrees are allowed besides.

**Standstills.** Two signs are looked for, both only while good engine speeds say that the engine
runs:

* *Cold fluid must move.* How long it may stand, :func:`.longest_standstill` says: 4 minutes up to
  20 °C, 400 s at 30 °C, 20 minutes at 40 °C, and for ever from 45 °C on, where fluid may be held.
  It may well: of the oil of a hydraulic rig, read in whole degrees, one value stood for 70 minutes.
  The shipped recording of a car being driven holds one for up to 68 s, another of that car for
  85 s, both where the thermostat holds it.
* *Jitter does not cease.* Where the 30 readings before had at least six different values and went
  to and fro by three times what they span, one value in 60 readings and 60 s is no fluid's. Sound
  sensors never came near it: the rig's oil, read in steps of 0.003 to 0.1 K, stood for 26 s at most
  after such readings.

What cannot be told: a sensor that counts whole degrees and dies in warm fluid shows what it would
show of fluid that a thermostat holds. It stays good; against it help a second instrument (the
sensor's page) and an eye for the flat line in the chart.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from brimline.physics.plausibility import (
    RESOLUTION_K,
    EngineState,
    is_possible,
    longest_standstill,
    step_allowance,
)
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.specsheet.signal_map import DEFAULT_STALE_S

STEP_ALLOWANCE = step_allowance()
"""In K: two steps of a sensor that counts whole degrees Celsius."""

AGREEING_READINGS = 3
"""So many readings in a row that agree with each other are believed after a step."""

AGREEING_AT_REST_S = 5.0
"""And with the engine off they must besides have agreed for so long, in s: a ramp in steps small
enough would otherwise be believed again and again."""

LOOK_BACK_S = 5.0
"""A reading is also held against the oldest trusted one of the last so many s: the allowance for a
sensor's step is granted once in that time, and not anew with each reading of a steep ramp."""

BEFORE_READINGS = 30
"""So many readings before a standstill tell whether the signal jitters."""

JITTER_VALUES = 6
"""So many different values among them: a sensor finer than its jitter."""

JITTER_PATH = 3.0
"""And their way, up and down added up, is so many times their span: jitter, and no slope."""

DEAD_READINGS, DEAD_AFTER_S = 60, 60.0
"""So many equal readings in a row, over so many s, end a jitter for good: over twice what sound
sensors were seen to do."""

RUNNING_RPM = 300.0
"""Above this engine speed the engine runs; starter motors turn it slower, idling is faster
(common practice, no source)."""

STOP_READINGS = 2
"""Engine speeds below that in a row that make a stop: one alone may be a fault on the bus."""


class QualityAssessor:
    """Assesses the readings of one check, in order of time; it knows only what they say.

    Only ``GOOD`` fluid temperatures from the bus are judged: a person who keys one in has read an
    instrument, and two equal readings of it are no fault. Without an engine speed from whatever
    source, nothing is ever ``FROZEN``, because fluid in a standing vehicle hardly changes, and the
    widest limits hold for a step.
    """

    def __init__(self) -> None:
        self._engine = _Engine()
        self._trusted: Reading | None = None
        self._recent: deque[Reading] = deque()  # the trusted ones of the last seconds
        self._at_rest: Reading | None = None  # the first trusted one since the engine stopped
        self._doubtful: _Row | None = None
        self._standstill = _Standstill()  # of what was trusted

    def assess(self, reading: Reading) -> Reading:
        """Return the reading, with another quality where it cannot be true.

        After a step the readings are ``IMPLAUSIBLE_STEP``, until the third in a row that agrees
        with the others; with the engine off they must have agreed for 5 s besides. That one and
        those behind it are believed again. A standstill is ``FROZEN`` until the value changes; it
        counts only while the engine is known to run, that is while good engine speeds above
        300 rpm keep coming.

        :param reading: the next reading of any signal, its time not before the last one's.
        """
        if reading.signal is SignalName.ENGINE_SPEED:
            self._engine.note(reading)
        if reading.signal is not SignalName.FLUID_TEMPERATURE or reading.way is not Way.BUS:
            return reading
        value = reading.number
        if value is None:
            self._doubtful = None
            return reading
        if not self._is_believed(reading):
            return replace(reading, quality=Quality.IMPLAUSIBLE_STEP)
        self._standstill.note(reading.t, value)
        if self._is_frozen(reading.t):
            return replace(reading, quality=Quality.FROZEN)
        return reading

    def _is_believed(self, reading: Reading) -> bool:
        while self._recent and reading.t - self._recent[0].t > LOOK_BACK_S:
            self._recent.popleft()
        oldest = self._recent[0] if self._recent else None
        possible = all(
            self._agree(earlier, reading) for earlier in (self._trusted, oldest, self._at_rest)
        )
        if not possible and not self._row_believes(reading):
            return False
        if not possible:
            self._recent.clear()  # what was trusted before the step says nothing any more
            self._standstill = _Standstill()
        self._doubtful = None
        self._trusted = reading
        self._recent.append(reading)
        if self._engine.between(reading.t, reading.t) is not EngineState.OFF:
            self._at_rest = None
        elif self._at_rest is None or not possible:
            self._at_rest = reading
        return True

    def _row_believes(self, reading: Reading) -> bool:
        """Add a reading to the doubtful ones; say whether together they are to be believed."""
        row = self._doubtful
        if row is None or not (self._agree(row.first, reading) and self._agree(row.last, reading)):
            row = _Row(reading, reading, 0)
        self._doubtful = row = _Row(row.first, reading, row.count + 1)
        at_rest = self._engine.between(row.first.t, reading.t) is EngineState.OFF
        long_enough = reading.t - row.first.t >= (AGREEING_AT_REST_S if at_rest else 0.0)
        return row.count >= AGREEING_READINGS and long_enough

    def _agree(self, earlier: Reading | None, later: Reading) -> bool:
        """Say whether fluid can go from one reading to the other in the time between."""
        if earlier is None:
            return True
        before, after = earlier.number, later.number
        if before is None or after is None:
            return False
        elapsed = max(0.0, later.t - earlier.t)
        engine = self._engine.between(earlier.t, later.t)
        return is_possible(before, after, elapsed, engine, STEP_ALLOWANCE)

    def _is_frozen(self, now: float) -> bool:
        running_since = self._engine.running_since
        if running_since is None or self._engine.silent(now):
            return False
        return self._standstill.is_dead(now, running_since)


class _Standstill:
    """Since when the value stands, and how the signal went before."""

    def __init__(self) -> None:
        self._since = 0.0
        self._readings = 0  # so many in a row have the latest value
        self._latest: deque[float] = deque(maxlen=BEFORE_READINGS)
        self._before: tuple[float, ...] = ()  # the latest, before the value began to stand
        self._coldest = math.inf
        self._step = math.inf  # the smallest change so far

    def note(self, t: float, value: float) -> None:
        """Take in the next value (°C)."""
        last = self._latest[-1] if self._latest else None
        if value != last:
            if last is not None:
                self._step = min(self._step, abs(value - last))
            self._before = tuple(self._latest)
            self._since, self._readings = t, 0
        self._readings += 1
        self._latest.append(value)
        self._coldest = min(self._coldest, value)

    def is_dead(self, now: float, running_since: float) -> bool:
        """Say whether no sound sensor stands like this with the engine running (both in s)."""
        stood = now - max(self._since, running_since)
        long_enough = self._readings >= DEAD_READINGS and stood >= DEAD_AFTER_S
        if long_enough and _to_and_fro(self._before):
            return True
        step = self._step if math.isfinite(self._step) else RESOLUTION_K
        return stood >= longest_standstill(self._latest[-1], self._coldest, step)


def _to_and_fro(values: Sequence[float]) -> bool:
    if len(values) < BEFORE_READINGS or len(set(values)) < JITTER_VALUES:
        return False
    way = sum(abs(b - a) for a, b in pairwise(values))
    return way >= JITTER_PATH * (max(values) - min(values))


@dataclass(frozen=True, slots=True)
class _Row:
    """Doubtful readings in a row that agree: the first, the last, and how many."""

    first: Reading
    last: Reading
    count: int


class _Engine:
    """What the engine's speeds say of the engine."""

    def __init__(self) -> None:
        self.running_since: float | None = None
        self._off_since: float | None = None
        self._off_readings = 0
        self._seen_at = 0.0

    def note(self, reading: Reading) -> None:
        """Take in the next engine speed."""
        speed = reading.number
        if speed is None:
            return
        again = self.silent(reading.t)
        if speed <= RUNNING_RPM:
            if self._off_since is None or again:
                self._off_since, self._off_readings = reading.t, 0
            self._off_readings += 1
            self.running_since = None
        else:
            if self.running_since is None or again:
                self.running_since = reading.t
            self._off_since, self._off_readings = None, 0
        self._seen_at = reading.t

    def silent(self, now: float) -> bool:
        """Return whether the last speed is too old to say anything."""
        return now - self._seen_at > DEFAULT_STALE_S

    def between(self, since: float, until: float) -> EngineState:
        """Return the engine's state where it was the same all the time, else ``UNKNOWN``."""
        if self.silent(until):
            return EngineState.UNKNOWN
        if self.running_since is not None and self.running_since <= since:
            return EngineState.RUNNING
        stands = self._off_since is not None and self._off_readings >= STOP_READINGS
        if stands and self._off_since is not None and self._off_since <= since:
            return EngineState.OFF
        return EngineState.UNKNOWN
