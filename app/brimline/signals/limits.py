"""What each signal can physically be; a value outside is kept for the record but never used.

The limits are this program's own choice, each for the reason beside it:

* Fluid temperature −50 to +200 °C. A bench control unit without a sensor was seen to report
  −50.03 °C, and test traffic 215.00 °C, which is also what PID 05 gives for the byte FF. No
  workshop is colder than −50 °C, and spec sheets accept nothing above 200 °C.
* Engine speed 0 to 10,000 rpm. The scale of SPN 190 ends at 8,031.875 rpm, that of PID 0C at
  16,383.75 rpm; engines before an automatic transmission turn slower (common practice, no
  source).
* Vehicle speed 0 to 250 km/h. Above lies what PID 0D gives for the filler byte FF, 255 km/h.
"""

from __future__ import annotations

from brimline.reading import Quality, SignalName

LIMITS: dict[SignalName, tuple[float, float]] = {
    SignalName.FLUID_TEMPERATURE: (-50.0, 200.0),  # °C
    SignalName.ENGINE_SPEED: (0.0, 10_000.0),  # rpm
    SignalName.VEHICLE_SPEED: (0.0, 250.0),  # km/h
}
"""Lowest and highest possible value, ends included, in the signal's unit."""


def judge(signal: SignalName, value: float) -> Quality:
    """Return ``GOOD`` inside the limits of the signal, else ``OUT_OF_RANGE`` (also for NaN).

    :param signal: a signal whose value is a number.
    :param value: in the signal's unit.
    """
    low, high = LIMITS[signal]
    return Quality.GOOD if low <= value <= high else Quality.OUT_OF_RANGE
