"""Whether a temperature that the bus gives can be what the fluid really has.

A sender may go on sending numbers while its sensor jumps or its software hangs. Two signs are
looked for:

* **A step** beyond what fluid can reach in the time, see :mod:`brimline.physics.plausibility`.
  While the engine is known to stand, much less is possible; and however long nothing came, fluid
  has its limits. Two steps of a sensor that counts whole degrees are allowed besides.
* **A standstill** while the engine runs. The shipped recording of a car being driven, whose sensor
  counts whole degrees, holds one value for up to 68 s (measured in
  ``tests/signals/test_quality.py``), and another recording of that car for 85 s; 240 s is nearly
  three times that.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, replace

from brimline.physics.plausibility import EngineState, is_possible, step_allowance
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

FROZEN_AFTER_S = 240.0
"""In s: how long a value may stand still while the engine runs."""

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
        self._still: Reading | None = None  # the first of those that all have the latest value

    def assess(self, reading: Reading) -> Reading:
        """Return the reading, with another quality where it cannot be true.

        After a step the readings are ``IMPLAUSIBLE_STEP``, until the third in a row that agrees
        with the others; with the engine off they must have agreed for 5 s besides. That one and
        those behind it are believed again. A standstill is ``FROZEN`` from 240 s on until the
        value changes; it counts only while the engine is known to run, that is while good engine
        speeds above 300 rpm keep coming.

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
        if self._still is None or self._still.value != reading.value:
            self._still = reading
        if not self._is_believed(reading):
            return replace(reading, quality=Quality.IMPLAUSIBLE_STEP)
        if self._is_frozen(reading):
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

    def _is_frozen(self, reading: Reading) -> bool:
        running_since = self._engine.running_since
        if running_since is None or self._still is None or self._engine.silent(reading.t):
            return False
        return reading.t - max(self._still.t, running_since) >= FROZEN_AFTER_S


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
