"""Drives a check over the edges of its gates with readings that jitter, and counts what changes."""

from __future__ import annotations

import copy
import random
from collections.abc import Callable, Iterable

from check_play import Play

from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.effects import AlarmCleared, AlarmRaised, PlugGateChanged
from brimline.procedure.events import Event, Item
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.state import Alarm
from brimline.reading import Reading, SignalName
from brimline.specsheet.model import SpecSheet

MEASURED = (SignalName.FLUID_TEMPERATURE, SignalName.ENGINE_SPEED, SignalName.RANGE)

Jitter = Callable[[float, random.Random], float]

JITTERS: dict[str, Jitter] = {
    "one whole degree to either side": lambda t, chance: round(t) + chance.choice((-1, 0, 1)),
    "up to 1 °C to either side": lambda t, chance: t + chance.uniform(-1, 1),
    # recordings of real trucks: 0.2 to 0.4 °C at idle
    "normal, 0.3 °C": lambda t, chance: round((t + chance.gauss(0, 0.3)) * 32) / 32,
    "normal, 0.3 °C, in whole degrees": lambda t, chance: round(t + chance.gauss(0, 0.3)),
}


class EdgePlay(Play):
    """A check that tells temperature, engine speed and range, and keeps what changed."""

    def __init__(
        self,
        duty: str = "normal",
        measured: tuple[SignalName, ...] = MEASURED,
        spec: SpecSheet | None = None,
    ) -> None:
        super().__init__(measured, duty, spec)
        self.forget()

    def forget(self) -> None:
        """Count from now on."""
        self.was_open = not reasons(Gate.PLUG_OUT, self.state)
        self.gate_changes = 0
        """How often the gate before "plug out" opened or closed."""
        self.reason_changes = 0
        """How often other reasons stood against it than before."""
        self.raised_alarms: list[Alarm] = []
        self.cleared_alarms: list[Alarm] = []

    def do(self, event: Event) -> Play:
        super().do(event)
        for effect in self.effects:
            if isinstance(effect, PlugGateChanged):
                is_open = not effect.reasons
                self.gate_changes += is_open is not self.was_open
                self.reason_changes += 1
                self.was_open = is_open
            elif isinstance(effect, AlarmRaised):
                self.raised_alarms.append(effect.alarm)
            elif isinstance(effect, AlarmCleared):
                self.cleared_alarms.append(effect.alarm)
        return self

    def tick(
        self, dt: float, celsius: float | None, rpm: float | None = 650.0, name: str | None = "P"
    ) -> None:
        """Let ``dt`` s pass, then take in one reading of each signal that is not ``None``."""
        self.t += dt
        if rpm is not None and SignalName.ENGINE_SPEED in self.state.measured:
            self.do(Reading(self.t, SignalName.ENGINE_SPEED, rpm))
        if name is not None and SignalName.RANGE in self.state.measured:
            self.do(Reading(self.t, SignalName.RANGE, name))
        if celsius is not None:
            self.do(self.celsius(celsius))

    def steadily(self, seconds: int, celsius: float, rpm: float = 650.0, name: str = "P") -> None:
        """Let a vehicle stand still at one temperature."""
        for _ in range(seconds):
            self.tick(1.0, celsius, rpm, name)

    def at_temperature(self, celsius: float) -> EdgePlay:
        """Stages 1 to 5 with measured signals, then the fluid as warm as this."""
        self.identified()
        self.tick(1.0, 22.0, 0.0)
        self.taken(ev.SensorChecked(t=self.t, ambient=21.0, rested=True))
        self.confirm(*gates.START_ITEMS)
        self.steadily(3, 25.0)
        for dwell in self.state.sheet.ranges:
            self.steadily(int(dwell.dwell) + 2, 25.0, name=dwell.name)
        self.steadily(75, 40.0)
        self.confirm(Item.PARKING_BRAKE, Item.OCCUPANT_OUT).raised()
        self.steadily(15, celsius)
        return self

    def ramp(
        self, start: float, end: float, seconds: float, hertz: float, jitter: str, seed: int
    ) -> None:
        """Take the fluid from one temperature to another (°C); the other signals at 1 Hz."""
        chance, shown = random.Random(seed), JITTERS[jitter]
        steps = round(seconds * hertz)
        for step in range(1, steps + 1):
            others = step % int(hertz) == 0
            celsius = shown(start + (end - start) * step / steps, chance)
            self.tick(1 / hertz, celsius, 650.0 if others else None, "P" if others else None)

    def again(self) -> EdgePlay:
        """Return another that goes on from here and counts from here."""
        other = copy.copy(self)
        other.events = [*self.events]
        other.forget()
        return other

    def speeds(self, course: Iterable[float], hertz: float) -> None:
        """Take in engine speeds (rpm), the fluid staying as warm as it is; the others at 1 Hz."""
        celsius = self.state.temperature.last
        assert celsius is not None
        for step, rpm in enumerate(course):
            others = step % int(hertz) == 0
            self.tick(1 / hertz, celsius.number if others else None, rpm, "P" if others else None)
