"""Command-line words that reach a vehicle's bus: ``bus list``, ``bus try`` and ``check``."""

from __future__ import annotations

import argparse
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import asdict
from pathlib import Path
from typing import Any

from brimline import cli_text, live_check
from brimline.bootstrap import Bay
from brimline.config import Connection, check_connection, parse_option, write_section
from brimline.errors import BrimlineError
from brimline.headless.pace import parse_speed
from brimline.signals.adapters import (
    Detection,
    detected_channels,
    installed_backends,
    is_described,
)
from brimline.signals.try_out import (
    LISTEN_S,
    LONGEST_S,
    SHORTEST_S,
    TryResult,
    try_connection,
)
from brimline.units import UNIT_SYSTEMS, UnitSystem

_Verbs = argparse._SubParsersAction  # argparse has no public name for it


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the words to a command line."""
    bus = verbs.add_parser("bus", help="adapters, and whether a connection works")
    actions = bus.add_subparsers(metavar="ACTION", required=True)
    listing = actions.add_parser("list", help="kinds of adapter, and those that are plugged in")
    listing.add_argument("--json", action="store_true", help="print data instead of text")
    listing.set_defaults(command=_list)
    trial = actions.add_parser("try", help="listen, ask, and say plainly what came of it")
    _add_connection(trial)
    trial.add_argument(
        "--seconds", type=float, default=LISTEN_S, metavar="N", help="to listen, 0.5 to 30 (2)"
    )
    trial.add_argument("--no-ask", action="store_true", help="send nothing")
    trial.add_argument("--save", action="store_true", help="keep it in the settings if it works")
    _add_output(trial)
    trial.set_defaults(command=_try)
    check = verbs.add_parser("check", help="a check on a vehicle's bus, its taps from a script")
    check.add_argument("--sheet", metavar="ID", help="spec sheet, by its id or file")
    check.add_argument("--script", required=True, metavar="FILE", help="taps and findings")
    check.add_argument("--duty", metavar="NAME", help="default: the script's")
    check.add_argument("--record", action="store_true", help="keep the bus's frames too")
    check.add_argument(
        "--speed",
        default="1",
        metavar="N",
        help="for a simulated vehicle that is as fast, 1 to 100",
    )
    check.add_argument("--out", type=Path, default=Path("out"), metavar="DIR")
    _add_connection(check)
    _add_output(check)
    check.set_defaults(command=_check)


def _add_connection(parser: argparse.ArgumentParser) -> None:
    chosen = parser.add_argument_group("connection", "what is left out comes from the settings")
    chosen.add_argument("--interface", metavar="KIND", help="kind of adapter, see “bus list”")
    chosen.add_argument("--channel", metavar="NAME", help="which one: a port or a device")
    chosen.add_argument(
        "--bitrate", type=int, metavar="N", help="in bit/s; 0: as the adapter has it"
    )
    chosen.add_argument(
        "--identifiers", type=int, choices=(11, 29), help="bits of generic requests"
    )
    chosen.add_argument("--addressing", choices=("functional", "physical"))
    chosen.add_argument(
        "--option", action="append", default=[], metavar="KEY=VALUE", help="what the kind needs"
    )


def _add_output(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--units", choices=sorted(UNIT_SYSTEMS), help="default: the settings'")
    parser.add_argument("--json", action="store_true", help="print data instead of text")


def connection_of(bay: Bay, chosen: argparse.Namespace) -> Connection:
    """Return the connection of the settings, with what the command line says put in its place.

    :raises ConfigError: something in it cannot be right.
    """
    kept = bay.settings.connection
    fields: dict[str, Any] = kept.model_dump()
    if chosen.interface is not None and chosen.interface != kept.interface:
        fields |= {"channel": "", "options": {}}  # belong to the other kind of adapter
    for name in ("interface", "channel", "bitrate", "identifiers", "addressing"):
        if (given := getattr(chosen, name)) is not None:
            fields[name] = given
    fields["options"] = {**fields["options"], **dict(map(parse_option, chosen.option))}
    return check_connection(**fields)


def _list(_bay: Bay, chosen: argparse.Namespace) -> int:
    backends, found = installed_backends(), detected_channels()
    if chosen.json:
        kinds = [asdict(each) for each in backends]
        cli_text.print_json({"kinds": kinds, **_detection_data(found)})
        return 0
    print("Kinds of adapter (of some only opening one shows that its maker's driver is missing):")
    for backend in backends:
        words = [backend.words] if is_described(backend.name) else []
        words += ["can listen only"] if backend.listens_only else []
        print(f"  {backend.name:<14} {'; '.join(words)}".rstrip())
    print("Found:" if found.channels else "No adapter was found.")
    for channel in found.channels:
        options = "".join(f" --option {key}={value}" for key, value in channel.options)
        print(f"  --interface {channel.interface} --channel {channel.channel}{options}")
        print(f"      {channel.words}")
    if found.unanswered:
        print(f"These drivers did not answer in time: {', '.join(found.unanswered)}.")
    return 0


def _detection_data(found: Detection) -> dict[str, Any]:
    channels = [{**asdict(each), "options": dict(each.options)} for each in found.channels]
    return {"found": channels, "unanswered": list(found.unanswered)}


def _try(bay: Bay, chosen: argparse.Namespace) -> int:
    connection = connection_of(bay, chosen)
    if not SHORTEST_S <= chosen.seconds <= LONGEST_S:
        raise BrimlineError(f"A trial listens for {SHORTEST_S:g} s to {LONGEST_S:g} s.")
    _meanwhile(f"Listening on {connection.words} for {chosen.seconds:g} s, then asking…")
    result = try_connection(connection, seconds=chosen.seconds, may_ask=not chosen.no_ask)
    kept = write_section(bay.folder, connection) if chosen.save and result.works else None
    if chosen.json:
        cli_text.print_json({**asdict(result), "vin": result.vin})
    else:
        _tell_trial(result, _units(bay, chosen))
        if kept is not None:
            print(f"Kept in {kept}.")
    return 0 if result.works else 1


def _meanwhile(sentence: str) -> None:
    """Say to a person at a terminal why there is nothing to read for some seconds."""
    if sys.stderr.isatty():
        print(sentence, file=sys.stderr)


def _tell_trial(result: TryResult, units: UnitSystem) -> None:
    print(result.sentence)
    for unit in result.units:
        said = [f"PIDs {' '.join(f'{pid:02X}' for pid in unit.pids)}"] if unit.pids else []
        said += [] if unit.coolant is None else [f"coolant {units.temperature(unit.coolant)}"]
        said += [] if unit.engine_speed is None else [f"engine {unit.engine_speed:.0f} rpm"]
        said += [f"VIN {unit.vin}"] if unit.vin else []
        said += [f"refused {refusal}" for refusal in unit.refusals]
        print(f"  Control unit {unit.response_id:X}: {'; '.join(said) or 'nothing of use'}")
    for detail in result.details:
        print(f"  {detail}")


def _check(bay: Bay, chosen: argparse.Namespace) -> int:
    order = live_check.LiveOrder(
        connection=connection_of(bay, chosen),
        script=chosen.script,
        sheet=chosen.sheet,
        duty=chosen.duty,
        record=chosen.record,
        speed=_speed(chosen.speed),
        out=chosen.out,
    )
    units = _units(bay, chosen)
    _meanwhile(f"Opening {order.connection.words}…")
    teller = cli_text.Teller(units, silent=chosen.json, last_check=bay.last_check)
    with _interruptible() as stopped:
        outcome = live_check.run(bay, order, units, teller, stopped)
    if chosen.json:
        link = {**outcome.link, "last_refusal": outcome.last_refusal}
        data = cli_text.replay_data(outcome.check, teller, units)
        recording = None if outcome.recording is None else str(outcome.recording)
        cli_text.print_json({**data, "link": link, "recording": recording})
    else:
        cli_text.tell_outcome(outcome.check, units)
        _tell_link(outcome)
    return 0 if outcome.check.stuck is None else 1


@contextmanager
def _interruptible() -> Iterator[Callable[[], bool]]:
    """Yield whether Ctrl+C was pressed; pressed again, it ends the program wherever it is."""
    pressed = threading.Event()

    def note(_number: int, _frame: object) -> None:
        pressed.set()
        signal.signal(signal.SIGINT, signal.default_int_handler)

    before = signal.signal(signal.SIGINT, note)
    try:
        yield pressed.is_set
    finally:
        signal.signal(signal.SIGINT, before)


def _tell_link(outcome: live_check.LiveOutcome) -> None:
    link = outcome.link
    print(
        f"Bus: {link['frames']:,} frames heard, {link['sent']:,} sent; {link['timeouts']} requests "
        f"without an answer, {link['refusals']} refused; lost {link['losses']} times."
    )
    if outcome.last_refusal:
        print(outcome.last_refusal)
    if outcome.recording is not None:
        print(f"Recording of the bus: {outcome.recording}")


def _speed(text: str) -> float:
    speed = parse_speed(text)
    if speed is None:
        raise BrimlineError(
            "A check on a bus takes the time that it takes; give a speed of 1 to 100."
        )
    return speed


def _units(bay: Bay, chosen: argparse.Namespace) -> UnitSystem:
    return UNIT_SYSTEMS[chosen.units] if chosen.units else bay.settings.unit_system
