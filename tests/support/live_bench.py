"""A simulated vehicle and the program's side on one virtual bus, moved on together."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any
from uuid import uuid4

import can

from brimline.reading import Reading
from brimline.signals.bus import VIRTUAL, open_bus
from brimline.signals.live import BusSource
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.vehicle import Vehicle

STEP_S = 0.1


@contextmanager
def virtual_buses(count: int) -> Iterator[list[can.BusABC]]:
    """Yield ends of one virtual bus that nobody else is on, and shut them down."""
    channel = str(uuid4())
    buses = [open_bus(VIRTUAL, channel) for _ in range(count)]
    try:
        yield buses
    finally:
        for bus in buses:
            bus.shutdown()


def drain(bus: can.BusABC) -> list[can.Message]:
    """Return all frames that wait at one end."""
    frames = []
    while (frame := bus.recv(timeout=0)) is not None:
        frames.append(frame)
    return frames


@dataclass
class Bench:
    """Vehicle, its control units, and the program's side."""

    vehicle: Vehicle
    units: VehicleOnBus
    source: BusSource
    witness: can.BusABC
    now: float = 0.0
    ticks: int = field(default=0, repr=False)

    def run(self, seconds: float) -> list[Reading]:
        """Move on; return the readings on the way."""
        readings = []
        for _ in range(round(seconds / STEP_S)):
            self.ticks += 1
            self.now = self.ticks * STEP_S
            self.vehicle.step(STEP_S)
            self.units.pump(self.now)
            readings += self.source.pump(self.now)
        return readings


@contextmanager
def bench(vehicle: Vehicle, **options: Any) -> Iterator[Bench]:
    """Yield a bench for a vehicle; ``options`` go to the program's side."""
    with virtual_buses(3) as (far, near, witness):
        units = VehicleOnBus(vehicle, vehicle.sheet, far)
        source = BusSource(near, vehicle.sheet.signals, **options)
        yield Bench(vehicle, units, source, witness)
