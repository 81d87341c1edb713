"""Serves a simulated vehicle on a serial port and does what is written to it, line by line."""

from __future__ import annotations

import argparse
import os
import select
import sys
import time
from collections.abc import Callable
from typing import TextIO

from brimline.errors import BrimlineError, SimulationError
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.families import FAMILIES
from brimline.simulator.faults import FAULTS
from brimline.simulator.slcan_port import SlcanPort
from brimline.simulator.vehicle import Vehicle, make_vehicle

WAIT_S = 0.01
"""The vehicle moves on at least this often, in s of the clock."""

LONGEST_STEP_S = 1.0
"""After a pause of the computer the vehicle goes on from where it was."""

_HELP = "engine on|off; range NAME; lift up|down; plug out|in; pump L/s|off; fan on|off; look; help"


def obey(vehicle: Vehicle, line: str) -> str:
    """Do what one line says; return what is to be shown.

    :raises SimulationError: nothing that can be done to the vehicle.
    """
    words = line.split()
    if not words:
        return ""
    if words == ["look"]:
        return look(vehicle)
    if words == ["help"]:
        return _HELP
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
    raise SimulationError(f"“{line.strip()}” is nothing that can be done; there are: {_HELP}.")


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")  # refused by the pump, in its own words


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


def serve(vehicle: Vehicle, port: SlcanPort, commands: int, out: TextIO, speed: float) -> None:
    """Serve a vehicle until the commands end.

    :param commands: file descriptor from which the lines come.
    :param out: where the path of the port, and an answer to each line, are written.
    :param speed: times as fast as the clock, above 0.
    """
    units = VehicleOnBus(vehicle, vehicle.sheet, port)
    _say(out, f"port {port.port}")
    last, now, pending = time.monotonic(), 0.0, b""
    while True:
        ready, _, _ = select.select([commands, port.fileno()], [], [], WAIT_S)
        clock = time.monotonic()
        step = min((clock - last) * speed, LONGEST_STEP_S * speed)
        last, now = clock, now + step
        vehicle.step(step)
        units.pump(now)
        if commands in ready:
            chunk = os.read(commands, 4096)
            if not chunk:
                return
            *lines, pending = (pending + chunk).split(b"\n")
            for line in lines:
                _say(out, _answer(vehicle, line.decode("utf-8", errors="replace")))


def _answer(vehicle: Vehicle, line: str) -> str:
    try:
        return obey(vehicle, line)
    except SimulationError as error:
        return error.sentence


def _say(out: TextIO, text: str) -> None:
    out.write(text + "\n")
    out.flush()


def main(arguments: list[str] | None = None) -> int:
    """Run ``python -m brimline.simulator``; return the exit code."""
    parser = argparse.ArgumentParser(
        prog="python -m brimline.simulator",
        description="Serve a simulated vehicle on a serial port. Commands on standard input: "
        + _HELP,
    )
    parser.add_argument("--family", choices=list(FAMILIES), default="K7")
    parser.add_argument("--fault", choices=list(FAULTS))
    parser.add_argument("--speed", type=float, default=1.0, help="times as fast, 1 to 100")
    parser.add_argument("--seed", type=int, default=0)
    given = parser.parse_args(arguments)
    if not 1 <= given.speed <= 100:
        parser.error("--speed must lie between 1 and 100")
    try:
        vehicle = make_vehicle(given.family, given.fault, given.seed)
        port = SlcanPort()
    except BrimlineError as error:
        sys.stderr.write(error.sentence + "\n")
        return 1
    try:
        serve(vehicle, port, sys.stdin.fileno(), sys.stdout, given.speed)
    except KeyboardInterrupt:
        return 0
    finally:
        port.shutdown()
    return 0
