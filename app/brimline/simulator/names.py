"""What can be wrong with a simulated vehicle, in words: all that the first screen asks of it."""

from __future__ import annotations

from brimline.translation import marked, tr
from brimline.units import UnitSystem

DEMO_FAMILY = "K7"
"""The family of a demonstration where nobody has chosen another."""

SENSOR_OFF_K = 9.0
"""By how much (K) the sensor reads too high whose fault that is."""

FAULTS: dict[str, str] = {
    "overfilled": marked("far too much fluid inside: more runs off than the sheet allows"),
    "low": marked("too little fluid inside: one or two top-ups bring it right"),
    "hot-arrival": marked("arrives above the target band"),
    "leaking": marked(
        "leaks elsewhere and is so low that the sheet's largest top-up does not reach"
    ),
    "coolant": marked("coolant in the fluid: milky, pink, sweet"),
    "sensor-offset": marked("the fluid's sensor says {off} too much"),
    "sensor-frozen": marked("the fluid's sensor stands still after a minute and a half of idling"),
    "wrong-fluid": marked("the fluid in hand is not approved; the vehicle itself is sound"),
    "engine-stall": marked("the engine stops by itself half a minute after the plug came out"),
}
"""The faults by name, each in words."""


def fault_words(units: UnitSystem) -> tuple[tuple[str, str], ...]:
    """Return each fault's name, and its words in the language of the window."""
    off = units.temperature_difference(SENSOR_OFF_K)
    return tuple((name, tr(words, off=off)) for name, words in FAULTS.items())
