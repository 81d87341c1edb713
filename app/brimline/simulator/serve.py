"""Serves a simulated vehicle on a port and does what is written to it, line by line."""

from __future__ import annotations

import os
import select
import time
from collections.abc import Callable
from random import Random
from typing import TextIO

from brimline.errors import SimulationError
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.line_faults import NO_FAULTS, FaultyBus, LineFaults, Manners, Outage
from brimline.simulator.slcan_port import SlcanPort
from brimline.simulator.socketcand_port import SocketcandPort
from brimline.simulator.vehicle import TICK_S, Vehicle

WAIT_S = 0.01
"""The vehicle moves on at least this often, in s of the clock."""

LONGEST_STEP_S = 1.0
"""After a pause of the computer the vehicle goes on from where it was."""

MOST_WAITING = 100
"""Lines that may wait for their time."""

HELP = (
    "engine on|off; range NAME; lift up|down; plug out|in; pump L/s|off; fan on|off; look; "
    "cut S (the cable is out for S seconds); busoff S; after S LINE (does LINE in S seconds); help"
)

Port = SlcanPort | SocketcandPort


def obey(vehicle: Vehicle, line: str) -> str:
    """Do what one line says to the vehicle; return what is to be shown.

    :raises SimulationError: nothing that can be done to the vehicle.
    """
    words = line.split()
    if not words:
        return ""
    if words == ["look"]:
        return look(vehicle)
    if words == ["help"]:
        return HELP
    simple: dict[tuple[str, ...], Callable[[], object]] = {
        ("engine", "on"): vehicle.start_engine,
        ("engine", "off"): vehicle.stop_engine,
        ("lift", "up"): vehicle.raise_lift,
        ("lift", "down"): vehicle.lower_lift,
        ("plug", "out"): vehicle.plug_out,
        ("plug", "in"): vehicle.plug_in,
        ("pump", "off"): vehicle.pump_off,
        ("fan", "on"): lambda: vehicle.fan(True),
        ("fan", "off"): lambda: vehicle.fan(False),
    }
    if (action := simple.get(tuple(words))) is not None:
        return "the starter does not turn in gear" if action() is False else "done"
    if words[0] == "range" and len(words) == 2:
        vehicle.select_range(words[1])
        return "done"
    if words[0] == "pump" and len(words) == 2:
        vehicle.pump_on(_number(words[1]))
        return "done"
    raise SimulationError(f"“{line.strip()}” is nothing that can be done; there are: {HELP}.")


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")  # refused by whoever takes it, in its own words


def look(vehicle: Vehicle) -> str:
    """Return what a person sees, on one line."""
    view, signals = vehicle.view(), vehicle.signals()
    seen = view.findings
    drops = f" {view.drops_per_second:.1f} drops/s" if view.flow == "drips" else ""
    return (
        f"{vehicle.time:.1f} s; sensor {signals.sensor:.1f} °C; {signals.engine_speed:.0f} rpm; "
        f"range {signals.range}; {view.flow}{drops}; caught {view.caught:.3f} L; "
        f"pumped {view.pumped:.3f} L; {seen.colour}, {seen.clarity}, {seen.odour}, "
        f"{seen.particles}"
    )


class Station:
    """A vehicle, its control units and its port, moved on together.

    :param faults: of line and units.
    :param cuts: when the cable is out, in s of the vehicle's time.
    :param seed: of the faults.
    :param truth: where the vehicle's own account goes, a line each step: wall clock (s), time of
        the vehicle (s), true temperature of the fluid (°C), what the sensor tells (°C).
    """

    def __init__(
        self,
        vehicle: Vehicle,
        port: Port,
        faults: LineFaults = NO_FAULTS,
        cuts: tuple[Outage, ...] = (),
        *,
        seed: int = 0,
        truth: TextIO | None = None,
    ) -> None:
        self.now = 0.0
        """Time of the vehicle in s."""
        self.port = port
        self._vehicle = vehicle
        self._bus = FaultyBus(port, faults, seed)
        manners = Manners(faults, Random(f"manners {seed}"))
        self._units = VehicleOnBus(
            vehicle, vehicle.sheet, self._bus, manners=manners, second_unit=faults.second_unit
        )
        self._cuts = list(cuts)
        self._waiting: list[tuple[float, str]] = []
        self._truth = truth
        self.told: list[str] = []
        """Answers to lines that waited for their time, since the last look."""

    def step(self, seconds: float) -> None:
        """Let so many s pass."""
        self.now += seconds
        self._vehicle.step(seconds)
        self._bus.now = self.now
        if any(cut.covers(self.now) for cut in self._cuts):
            self.port.cut()
        else:
            self.port.restore()
        self._do_what_is_due()
        if self._truth is not None:
            signals = self._vehicle.signals()
            self._truth.write(
                f"{time.time():.6f},{self.now:.3f},{signals.fluid:.4f},{signals.sensor:.4f}\n"
            )
        self._units.pump(self.now)

    def close(self) -> None:
        """Give the faulty line back; the port is its owner's."""
        self._bus.shutdown()

    def obey(self, line: str) -> str:
        """Do what one line says, to the vehicle or to its line; return what is to be shown."""
        words = line.split()
        try:
            if words and words[0] == "after" and len(words) > 2:
                return self._wait(words)
            if len(words) == 2 and words[0] in ("cut", "busoff"):
                return self._go_away(words)
            return obey(self._vehicle, line)
        except SimulationError as error:
            return error.sentence

    def _wait(self, words: list[str]) -> str:
        seconds = _number(words[1])
        if not 0 <= seconds <= 86_400 or len(self._waiting) >= MOST_WAITING:
            raise SimulationError(
                f"A line waits for 0 to 86400 s, and at most {MOST_WAITING} lines wait."
            )
        line = " ".join(words[2:])
        self._waiting.append((self.now + seconds, line))
        return f"in {seconds:g} s: {line}"

    def _go_away(self, words: list[str]) -> str:
        seconds = _number(words[1])
        if not 0 < seconds <= 3600:
            raise SimulationError("The line is away for more than 0 and at most 3600 s.")
        away = self._cuts if words[0] == "cut" else self._bus.outages
        away[:] = [*(each for each in away if each.start + each.length > self.now)]
        away.append(Outage(self.now, seconds))
        return "done"

    def _do_what_is_due(self) -> None:
        due = [line for at, line in self._waiting if at <= self.now]
        self._waiting = [each for each in self._waiting if each[0] > self.now]
        self.told += [f"{line}: {self.obey(line)}" for line in due]


def serve(station: Station, commands: int, out: TextIO, speed: float) -> None:
    """Serve a vehicle until the commands end.

    :param commands: file descriptor from which the lines come.
    :param out: where the path of the port, and an answer to each line, are written.
    :param speed: times as fast as the clock, above 0.
    """
    _say(out, f"port {station.port.port}")
    last, pending = time.monotonic(), b""
    wait = max(0.001, min(WAIT_S, TICK_S / speed))
    while True:
        ready, _, _ = select.select([commands, *station.port.filenos()], [], [], wait)
        clock = time.monotonic()
        step = min((clock - last) * speed, LONGEST_STEP_S * speed)
        last = clock
        station.step(step)
        if commands in ready:
            chunk = os.read(commands, 4096)
            if not chunk:
                return
            *lines, pending = (pending + chunk).split(b"\n")
            for line in lines:
                _say(out, station.obey(line.decode("utf-8", errors="replace")))
        for answer in station.told:
            _say(out, answer)
        station.told.clear()


def _say(out: TextIO, text: str) -> None:
    out.write(text + "\n")
    out.flush()
