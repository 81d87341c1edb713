"""Plays a check with live signals whose traces are charted: snapshots for what a window shows."""

from __future__ import annotations

import random
from dataclasses import replace

from check_play import Play, sheet

from brimline.estimate.warm_up import BandWatch
from brimline.procedure import events as ev
from brimline.procedure.events import Item
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.moments import Moment, Moments
from brimline.reading import Reading, SignalName
from brimline.session import CHARTED, Snapshot
from brimline.trace import Trace

MEASURED = (SignalName.FLUID_TEMPERATURE, SignalName.ENGINE_SPEED)


class LivePlay(Play):
    """A check whose temperature and engine speed are charted, as a session does."""

    def __init__(self, duty: str = "normal", **changes: object) -> None:
        super().__init__(MEASURED, duty, sheet(**changes) if changes else None)
        self.traces = {signal: Trace() for signal in CHARTED}
        self.watch = BandWatch(self.state.sheet, duty)
        self._moments = Moments(self.state)
        self._jitter = random.Random(7)

    def do(self, event: ev.Event) -> Play:
        if isinstance(event, Reading) and event.signal in self.traces and event.number is not None:
            self.traces[event.signal].append(event.t, event.number)
        super().do(event)
        self._moments.note(self.state, event)
        if isinstance(event, Reading):
            self.watch.take(self.state, event)
        return self

    @property
    def moments(self) -> tuple[Moment, ...]:
        """What happened so far."""
        return self._moments.so_far

    def drive(self, seconds: float, start: float, end: float, rate: float = 2.0) -> LivePlay:
        """Let the fluid warm from ``start`` to ``end`` °C, the engine idling."""
        steps, begun = int(seconds * rate), self.t
        for step in range(1, steps + 1):
            self.t = begun + step / rate
            celsius = start + (end - start) * step / steps + self._jitter.gauss(0, 0.2)
            self.do(self.celsius(celsius))
            self.do(Reading(self.t, SignalName.ENGINE_SPEED, 640 + self._jitter.gauss(0, 5)))
        return self

    def in_air(self) -> LivePlay:
        """Stages 1 to 5, in about a minute and a half."""
        self.identified().sensor_trusted()
        self.confirm(
            Item.NOBODY_UNDER, Item.WHEELS_CHOCKED, Item.EXHAUST_EXTRACTED,
            Item.AUTO_STOP_DISABLED, Item.BRAKE_HELD,
        )  # fmt: skip
        self.drive(3, 22, 24)
        for name in ("R", "D", "P"):
            self.taken(ev.RangeSelected(t=self.t, range=name))
            self.drive(6, 24, 26)
        self.drive(64, 26, 34)
        self.confirm(Item.PARKING_BRAKE, Item.OCCUPANT_OUT)
        self.raised()
        return self

    def snapshot(self) -> Snapshot:
        traces = {signal: trace.view() for signal, trace in self.traces.items()}
        against = reasons(Gate.PLUG_OUT, self.state)
        return Snapshot(self.state, against, traces, 0, moments=self.moments)

    def foreseen(self) -> Snapshot:
        """Return a snapshot with what is to be expected of the band."""
        outlook, course = self.watch.outlook(self.state), self.watch.course(self.state)
        return replace(self.snapshot(), outlook=outlook, course=course)
