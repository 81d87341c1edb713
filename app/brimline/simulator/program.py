"""The words of ``python -m brimline.simulator``: which vehicle, on which port, with what faults."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from brimline.errors import BrimlineError, SimulationError
from brimline.simulator.families import FAMILIES
from brimline.simulator.line_faults import LineFaults, Outage
from brimline.simulator.names import FAULTS
from brimline.simulator.serve import HELP, Port, Station, serve
from brimline.simulator.slcan_port import SlcanPort
from brimline.simulator.socketcand_port import SocketcandPort
from brimline.simulator.vehicle import make_vehicle


def outage(text: str) -> Outage:
    """Read ``AT:FOR``, both in s.

    :raises argparse.ArgumentTypeError: anything else.
    """
    try:
        start, length = (float(part) for part in text.split(":"))
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"“{text}” is not AT:FOR in seconds") from error
    if not (0 <= start <= 86_400 and 0 < length <= 3600):
        raise argparse.ArgumentTypeError("it starts within a day and lasts up to an hour")
    return Outage(start, length)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m brimline.simulator",
        description="Serve a simulated vehicle on a serial port (slcan) or on 127.0.0.1 "
        "(socketcand). Commands on standard input: " + HELP + ". Shares are from 0 to 1; all "
        "times are in seconds of the vehicle; the same seed gives the same faults.",
    )
    parser.add_argument("--family", choices=list(FAMILIES), default="K7")
    parser.add_argument("--fault", choices=list(FAULTS), help="of the vehicle")
    parser.add_argument("--arrival", type=float, metavar="°C", help="how warm it comes in")
    parser.add_argument("--speed", type=float, default=1.0, help="times as fast, 1 to 100")
    parser.add_argument("--seed", type=int, default=0)
    port = parser.add_argument_group("port").add_mutually_exclusive_group()
    port.add_argument("--link", type=Path, metavar="PATH", help="name of the serial port")
    port.add_argument(
        "--socketcand", type=int, metavar="PORT", help="TCP port on 127.0.0.1; 0: any"
    )
    _add_faults(parser.add_argument_group("faults of line and control units"))
    parser.add_argument("--truth", type=Path, metavar="FILE", help="the vehicle's own account, CSV")
    return parser


def _add_faults(faults: argparse._ArgumentGroup) -> None:
    share: dict[str, Any] = {"type": float, "default": 0.0, "metavar": "SHARE"}
    away: dict[str, Any] = {"type": outage, "action": "append", "default": [], "metavar": "AT:FOR"}
    faults.add_argument("--drop", **share, help="frames lost, in either direction")
    faults.add_argument("--late", **share, help="answers that come late")
    faults.add_argument("--late-by", type=float, default=2.0, metavar="S", help="by so much (2)")
    faults.add_argument("--wrong-sequence", **share, help="spoilt numbers in long messages")
    faults.add_argument("--busy", **share, help="answers “busy, repeat the request” (NRC 21)")
    faults.add_argument("--pending", **share, help="answers “pending” first (NRC 78)")
    faults.add_argument("--bus-off", **away, help="units are off the bus; repeatable")
    faults.add_argument("--cut", **away, help="the cable is out; repeatable")
    faults.add_argument("--second-unit", action="store_true", help="one answers with FF only")
    faults.add_argument(
        "--noise", type=float, metavar="K", help="of the fluid's sensor, such as 0.3"
    )
    faults.add_argument(
        "--sensor-step",
        type=float,
        default=0.0,
        metavar="K",
        help="it counts so coarsely, such as 1",
    )


def main(arguments: list[str] | None = None) -> int:
    """Run ``python -m brimline.simulator``; return the exit code."""
    parser = _parser()
    given = parser.parse_args(arguments)
    if not 1 <= given.speed <= 100:
        parser.error("--speed must lie between 1 and 100")
    if given.socketcand is not None and not 0 <= given.socketcand < 0x10000:
        parser.error("--socketcand must be a TCP port, 0 to 65535")
    try:
        with ExitStack() as stack:
            station = _station(given, stack)
            serve(station, sys.stdin.fileno(), sys.stdout, given.speed)
    except BrimlineError as error:
        sys.stderr.write(error.sentence + "\n")
        return 1
    except KeyboardInterrupt:
        return 0
    return 0


def _station(given: argparse.Namespace, stack: ExitStack) -> Station:
    vehicle = make_vehicle(
        given.family,
        given.fault,
        given.seed,
        arrival=given.arrival,
        noise=given.noise,
        sensor_step=given.sensor_step,
    )
    faults = LineFaults(
        drop=given.drop,
        wrong_sequence=given.wrong_sequence,
        busy=given.busy,
        pending=given.pending,
        late=given.late,
        late_by=given.late_by,
        bus_off=tuple(given.bus_off),
        second_unit=given.second_unit,
    )
    truth = None
    if given.truth is not None:
        try:
            truth = stack.enter_context(given.truth.open("w", encoding="utf-8"))
        except OSError as error:
            raise SimulationError(
                f"The vehicle's account {given.truth} cannot be written: {error.strerror}."
            ) from error
    port = stack.enter_context(_port(given.link, given.socketcand))
    station = Station(vehicle, port, faults, tuple(given.cut), seed=given.seed, truth=truth)
    stack.callback(station.close)
    return station


@contextmanager
def _port(link: Path | None, tcp: int | None) -> Iterator[Port]:
    """Open the port; a serial one always has a link, so that its path survives an unplugging."""
    if tcp is not None:
        with SocketcandPort(tcp) as port:
            yield port
        return
    with (
        TemporaryDirectory(prefix="brimline-") as folder,
        SlcanPort(link or Path(folder) / "port") as serial,
    ):
        yield serial
