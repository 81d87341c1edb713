"""Eight simulated hours for the window: four signals at 10 Hz, as a session's snapshots show them.

A long idle in the band with a slow swing of the temperature, sensor noise, a gap, the outlook made
anew each second, and something that happens every ten minutes.
"""

from __future__ import annotations

import random
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from live_play import LivePlay

from brimline.estimate.warm_up import BandOutlook, Basis, Course, Place
from brimline.physics.passage import Passage
from brimline.procedure.moments import Happening, Moment
from brimline.reading import Reading, SignalName
from brimline.session import CHARTED, Snapshot
from brimline.trace import Trace

HZ = 10
HOURS = 8
SIGNALS = (
    SignalName.FLUID_TEMPERATURE, SignalName.ENGINE_SPEED, SignalName.RANGE,
    SignalName.VEHICLE_SPEED,
)  # fmt: skip


class LongCheck:
    """A check in the air whose readings come for as long as anybody asks."""

    def __init__(self) -> None:
        begun = LivePlay().in_air()
        self._state, self._against = begun.state, begun.snapshot().against_plug
        self._traces = {signal: Trace() for signal in CHARTED}  # as a session keeps them
        self._last: dict[SignalName, Reading] = {}
        self._chance = random.Random(8)
        self._moments: tuple[Moment, ...] = ()
        self._outlook: BandOutlook | None = None
        self._course: Course | None = None
        self.t = self._start = begun.state.now
        self.ticks = 0

    def tick(self) -> None:
        """Take in one reading of each signal, a tenth of a second on."""
        self.ticks += 1
        self.t = self._start + self.ticks / HZ
        if 5000 < self.ticks < 5300:  # half a minute without readings
            return
        noise = self._chance.gauss
        values = (60 + 15 * np.sin(self.t / 2400) + noise(0, 0.2), 650 + noise(0, 6), 0.0, 0.0)
        for signal, value in zip(SIGNALS, values, strict=True):
            reading = Reading(self.t, signal, float(value))
            self._last[signal] = reading
            if signal in self._traces:
                self._traces[signal].append(self.t, float(value))
        if self.ticks % (600 * HZ) == 0:
            happening = list(Happening)[self.ticks // (600 * HZ) % len(Happening)]
            self._moments += (Moment(self.t, happening, 0.4),)
        if self.ticks % HZ == 0 or self._course is None:
            self._foresee(float(values[0]))

    def _foresee(self, celsius: float) -> None:
        ahead = np.linspace(0, 1800, 31)
        middle = celsius + ahead / 60
        quantiles = np.stack((middle - ahead / 200, middle, middle + ahead / 150))
        self._course = Course(self.t + ahead, quantiles)
        entry = Passage(120.0 + self.ticks % 60, 90.0, 240.0, 0.0, known=True)
        leaving = Passage(900.0, 700.0, 1500.0, 0.0, known=True)
        self._outlook = BandOutlook(self.t, Basis.READINGS, Place.BELOW, entry, leaving, 0)

    def snapshot(self) -> Snapshot:
        """Return what the window is shown now."""
        views = {signal: trace.view() for signal, trace in self._traces.items()}
        heat = replace(self._state.temperature, last=self._last[SignalName.FLUID_TEMPERATURE])
        engine = replace(self._state.engine, rpm=self._last[SignalName.ENGINE_SPEED].number)
        state = replace(self._state, now=self.t, temperature=heat, engine=engine)
        return Snapshot(
            state, self._against, views, 0, outlook=self._outlook, course=self._course,
            moments=self._moments,
        )  # fmt: skip
