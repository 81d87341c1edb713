"""The idling engine: crank, flare, settle, wobble, run out."""

from __future__ import annotations

import math
import random
from enum import Enum

from brimline.specsheet.model import Idle

CRANK_RPM = 200.0
CRANK_S = 0.8
"""A warm engine fires within a second (common practice, no source)."""
FLARE_RPM = 400.0
FLARE_S = 0.8
"""Overshoot after firing and its time constant: over within three seconds."""
IN_GEAR_RPM = -15.0
"""A driving range with the brake held pulls the idle down a little."""
WOBBLE_RPM = 5.0
WOBBLE_S = 1.5
"""Standard deviation and correlation time of a sound engine's idle."""
FOLLOW_S = 0.3
RUN_OUT_S = 0.25
STANDSTILL_RPM = 20.0
HIGHEST_OVER_IDLE = 500.0
"""Nothing here takes the engine further above its idle, in rpm; nobody touches the throttle."""


class _Phase(Enum):
    OFF = "off"
    CRANKING = "cranking"
    RUNNING = "running"


class Engine:
    """Engine speed at idle.

    :param idle: the sheet's idle window; the engine aims at its middle.
    :param chance: where the wobble comes from.
    """

    def __init__(self, idle: Idle, chance: random.Random) -> None:
        self._aim = (idle.speed_low + idle.speed_high) / 2
        self._widest = (idle.speed_high - idle.speed_low) / 4
        self._chance = chance
        self._phase = _Phase.OFF
        self._since = 0.0
        self._wobble = 0.0
        self.rpm = 0.0
        """Engine speed in rpm."""

    @property
    def running(self) -> bool:
        """Whether it runs by itself."""
        return self._phase is _Phase.RUNNING

    @property
    def turning(self) -> bool:
        """Whether it runs or is being cranked."""
        return self._phase is not _Phase.OFF

    def start(self) -> None:
        """Crank; it fires by itself."""
        if not self.turning:
            self._phase, self._since = _Phase.CRANKING, 0.0

    def stop(self) -> None:
        """Switch off."""
        self._phase, self._since = _Phase.OFF, 0.0

    def step(self, dt: float, *, in_gear: bool) -> None:
        """Move on by ``dt`` (s)."""
        self._since += dt
        keep = math.exp(-dt / WOBBLE_S)
        fresh = self._chance.gauss(0.0, WOBBLE_RPM) * math.sqrt(1 - keep * keep)
        self._wobble = max(-self._widest, min(self._widest, self._wobble * keep + fresh))
        if self._phase is _Phase.CRANKING and self._since >= CRANK_S:
            self._phase, self._since = _Phase.RUNNING, 0.0
        goal, pace = self._goal(in_gear=in_gear)
        self.rpm += (goal - self.rpm) * (1 - math.exp(-dt / pace))
        if not self.turning and self.rpm < STANDSTILL_RPM:
            self.rpm = 0.0

    def _goal(self, *, in_gear: bool) -> tuple[float, float]:
        if self._phase is _Phase.OFF:
            return 0.0, RUN_OUT_S
        if self._phase is _Phase.CRANKING:
            return CRANK_RPM, FOLLOW_S
        flare = FLARE_RPM * math.exp(-self._since / FLARE_S)
        load = IN_GEAR_RPM if in_gear else 0.0
        return self._aim + flare + load + self._wobble, FOLLOW_S
