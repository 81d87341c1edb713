"""A reading: one value of one signal at one moment, as every room of the program sees it.

Both the signal sources, which make readings, and the procedure, which judges them, speak of
readings; so the type stands below both. A reading is itself an entry of the journal.

What belongs to a reading, and where it is found:

* its time, monotonic: :attr:`Reading.t`; by the wall: the journal writes the opening's wall clock
  plus ``t`` beside every entry, so that a clock that is set during a check moves nothing;
* its value, and its unit: one unit for each signal, beside the name in :class:`SignalName`;
* its source: :attr:`Reading.way` and :attr:`Reading.source`;
* its quality: :class:`Quality`. The rule of each and its basis stand in
  :mod:`brimline.signals.quality`. Stale is none of them, because a reading grows old only later.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from brimline.translation import marked


class SignalName(StrEnum):
    """What can be read from a vehicle, and the unit of its value."""

    FLUID_TEMPERATURE = "fluid_temperature"  # °C
    ENGINE_SPEED = "engine_speed"  # rpm
    RANGE = "range"  # the spec sheet's name of the selected range, a text such as "P" or "R"
    VEHICLE_SPEED = "vehicle_speed"  # km/h


SIGNAL_WORDS = {
    SignalName.FLUID_TEMPERATURE: marked("fluid temperature"),
    SignalName.ENGINE_SPEED: marked("engine speed"),
    SignalName.RANGE: marked("selected range"),
    SignalName.VEHICLE_SPEED: marked("road speed"),
}
"""What each is called, to be said through ``tr``."""


class Quality(StrEnum):
    """Whether a value may be used. Only ``GOOD`` ones ever open a gate."""

    GOOD = "good"
    NOT_AVAILABLE = "not_available"  # the sender says that it has no value
    ERROR = "error"  # the sender says that its sensor is faulty
    OUT_OF_RANGE = "out_of_range"  # outside what the signal can physically be
    IMPLAUSIBLE_STEP = "implausible_step"  # faster than fluid can change
    FROZEN = "frozen"  # stands as neither sound fluid nor a sound sensor does


class Way(StrEnum):
    """How a reading reached the program."""

    BUS = "bus"  # decoded from the vehicle's bus, live or from a recording
    KEYED = "keyed"  # typed in by a person who read an instrument


@dataclass(frozen=True, slots=True)
class Reading:
    """One value of one signal.

    :param t: time of the check in s (monotonic, 0 at the opening of the check).
    :param signal: what was read.
    :param value: in the signal's unit; a range name for ``RANGE``; ``None`` where the sender
        gave no value. A value that is not ``GOOD`` is kept for the record only.
    :param quality: whether the value may be used.
    :param way: from the bus or keyed in.
    :param source: where it came from, for the record, e.g. ``"obd 7E8 pid 05"``.
    """

    t: float
    signal: SignalName
    value: float | str | None
    quality: Quality = Quality.GOOD
    way: Way = Way.BUS
    source: str = ""
    kind: Literal["reading"] = "reading"

    @property
    def number(self) -> float | None:
        """The value where it is a usable number, else ``None``."""
        if self.quality is Quality.GOOD and isinstance(self.value, int | float):
            return float(self.value)
        return None

    @property
    def range_name(self) -> str | None:
        """The value where it is a usable range name, else ``None``."""
        if self.quality is Quality.GOOD and isinstance(self.value, str):
            return self.value
        return None
