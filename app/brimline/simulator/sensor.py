"""The temperature sensor in the valve body, and the engine's coolant."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass

LAG_S = 2.0
"""Time constant of a sensor in moving fluid (common practice, no source)."""

JITTER_K = 0.2
"""Standard deviation: recordings of real trucks showed 0.2 to 0.4 K at idle."""

LARGEST_JITTER_K = 0.5
"""So that no step reaches beyond what those recordings showed, 1.03 K."""

COOLANT_C = 88.0
COOLANT_S = 420.0
COOLANT_REST_S = 5400.0
"""Where the engine's thermostat holds the coolant, how fast it gets there at idle, and how fast it
cools at rest (time constants; common practice, no source)."""


@dataclass(frozen=True)
class SensorFault:
    """What is wrong with a sensor, or merely coarse.

    :param offset: in K.
    :param freezes_after: so many s of idling.
    :param jitter: standard deviation in K; single readings stay within 2.5 times that.
    :param step: it counts in steps of so many K; 0 where it does not.
    """

    offset: float = 0.0
    freezes_after: float = math.inf
    jitter: float = JITTER_K
    step: float = 0.0


NO_FAULT = SensorFault()


class Sensor:
    """What the control unit takes for the fluid's temperature."""

    def __init__(self, celsius: float, fault: SensorFault, chance: random.Random) -> None:
        self._lagging = celsius
        self._fault = fault
        self._chance = chance
        self._ran = 0.0
        self.celsius = celsius + fault.offset
        """What it says, in °C, before the bus rounds it."""

    def step(self, dt: float, celsius: float, *, running: bool) -> None:
        """Move on by ``dt`` (s) in fluid of this temperature (°C)."""
        self._ran += dt if running else 0.0
        self._lagging += (celsius - self._lagging) * (1 - math.exp(-dt / LAG_S))
        fault = self._fault
        jitter = self._chance.gauss(0.0, fault.jitter)
        if self._ran < fault.freezes_after:
            largest = fault.jitter * LARGEST_JITTER_K / JITTER_K
            jitter = max(-largest, min(largest, jitter))
            celsius = self._lagging + fault.offset + jitter
            self.celsius = round(celsius / fault.step) * fault.step if fault.step else celsius


class Coolant:
    """The engine's coolant; it takes no part in the transmission's heat."""

    def __init__(self, celsius: float, ambient: float) -> None:
        self.celsius = celsius
        """In °C."""
        self._ambient = ambient

    def step(self, dt: float, *, running: bool) -> None:
        """Move on by ``dt`` (s)."""
        goal, pace = (COOLANT_C, COOLANT_S) if running else (self._ambient, COOLANT_REST_S)
        self.celsius += (goal - self.celsius) * (1 - math.exp(-dt / pace))
