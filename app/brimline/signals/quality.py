"""Whether a temperature that the bus gives can be what the fluid really has.

A sender may go on sending numbers while its sensor jumps or its software hangs. Two signs are
looked for:

* **A step** faster than fluid can change. Stall heating raises the converter's fluid by about 10 °F
  each second (common practice, no source), which is 5.6 K/s, and nothing in a transmission is
  faster; cooling is slower, but the same limit serves. Two steps of a sensor that counts whole
  degrees are allowed besides.
* **A standstill** while the engine runs. The shipped recording of a car being driven, whose sensor
  counts whole degrees, holds one value for up to 68 s (measured in
  ``tests/signals/test_quality.py``), and another recording of that car for 85 s; 240 s is nearly
  three times that.
"""

from __future__ import annotations

from dataclasses import replace

from brimline.reading import Quality, Reading, SignalName, Way
from brimline.specsheet.signal_map import DEFAULT_STALE_S

FASTEST_CHANGE = 10 * 5 / 9
"""In K/s: 10 °F each second."""

STEP_ALLOWANCE = 2.0
"""In K: two steps of a sensor that counts whole degrees Celsius."""

AGREEING_READINGS = 3
"""So many readings in a row that agree with each other are believed after a step."""

FROZEN_AFTER_S = 240.0
"""In s: how long a value may stand still while the engine runs."""

RUNNING_RPM = 300.0
"""Above this engine speed the engine runs; starter motors turn it slower, idling is faster
(common practice, no source)."""


class QualityAssessor:
    """Assesses the readings of one check, in order of time; it knows only what they say.

    Only ``GOOD`` fluid temperatures from the bus are judged: a person who keys one in has read an
    instrument, and two equal readings of it are no fault. Without an engine speed from whatever
    source, nothing is ever ``FROZEN``, because fluid in a standing vehicle hardly changes.
    """

    def __init__(self) -> None:
        self._trusted: Reading | None = None
        self._doubtful: list[Reading] = []
        self._still: Reading | None = None  # the first of those that all have the latest value
        self._running_since: float | None = None
        self._speed_at = 0.0

    def assess(self, reading: Reading) -> Reading:
        """Return the reading, with another quality where it cannot be true.

        After a step the readings are ``IMPLAUSIBLE_STEP``, until the third in a row that agrees
        with its neighbours; that one and those behind it are believed again. A standstill is
        ``FROZEN`` from 240 s on until the value changes; it counts only while the engine is known
        to run, that is while good engine speeds above 300 rpm keep coming.

        :param reading: the next reading of any signal, its time not before the last one's.
        """
        if reading.signal is SignalName.ENGINE_SPEED:
            self._note_engine_speed(reading)
        if reading.signal is not SignalName.FLUID_TEMPERATURE or reading.way is not Way.BUS:
            return reading
        value = reading.number
        if value is None:
            self._doubtful.clear()
            return reading
        if self._still is None or self._still.value != reading.value:
            self._still = reading
        if not self._is_believed(reading):
            return replace(reading, quality=Quality.IMPLAUSIBLE_STEP)
        if self._is_frozen(reading):
            return replace(reading, quality=Quality.FROZEN)
        return reading

    def _note_engine_speed(self, reading: Reading) -> None:
        speed = reading.number
        if speed is None:
            return
        if speed <= RUNNING_RPM:
            self._running_since = None
        elif self._running_since is None or reading.t - self._speed_at > DEFAULT_STALE_S:
            self._running_since = reading.t
        self._speed_at = reading.t

    def _is_believed(self, reading: Reading) -> bool:
        if self._trusted is not None and not _agree(self._trusted, reading):
            if self._doubtful and not _agree(self._doubtful[-1], reading):
                self._doubtful.clear()
            self._doubtful.append(reading)
            if len(self._doubtful) < AGREEING_READINGS:
                return False
        self._doubtful.clear()
        self._trusted = reading
        return True

    def _is_frozen(self, reading: Reading) -> bool:
        if self._running_since is None or self._still is None:
            return False
        if reading.t - self._speed_at > DEFAULT_STALE_S:
            return False
        return reading.t - max(self._still.t, self._running_since) >= FROZEN_AFTER_S


def _agree(earlier: Reading, later: Reading) -> bool:
    """Say whether fluid can go from one reading to the other in the time between."""
    before, after = earlier.number, later.number
    if before is None or after is None:
        return False
    elapsed = max(0.0, later.t - earlier.t)
    return abs(after - before) <= FASTEST_CHANGE * elapsed + STEP_ALLOWANCE
