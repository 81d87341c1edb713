"""The command line: ``brimline [COMMAND]``, where ``COMMAND`` is ``demo``, ``screens``, ``replay``,
``check``, ``bus``, ``summary``, ``find``, ``history``, ``gates``, ``level``, ``estimate``,
``sheets``, ``backup``, ``restore``, ``verify``, ``anchor``, ``amend``, ``attach``,
``attachments``, ``open``, ``resume``, ``end`` or ``init``.

Exit code 0: done; 1: one sentence on standard error says what is wrong, or a script was not played
to its end; 2: the words of the command line do not fit. Results go to standard output, as text or
with ``--json`` as data.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from brimline import __version__, cli_bus, cli_estimate, cli_text, log, paths
from brimline.bootstrap import Bay, ReplayOrder
from brimline.config import read_settings
from brimline.errors import BrimlineError, SheetError
from brimline.estimate.sheet_doubts import doubts
from brimline.headless.pace import FASTEST, parse_speed
from brimline.procedure.reducer import replay
from brimline.procedure.timeline import plug_gate_over_time
from brimline.specsheet.reader import read_sheet
from brimline.units import UNIT_SYSTEMS, UnitSystem
from brimline.verbs import attach, backup, find, open_checks, verify

if TYPE_CHECKING:
    from brimline.ui.capture import Look

_CAUTION = (
    "Brimline guides; the vehicle maker's service information, local codes and licensed "
    "practice decide."
)


def main(words: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit code."""
    chosen = _parser().parse_args(words)
    _speak_utf8()
    try:
        folder = paths.data_folder()
        log.start(folder)
        bay = Bay(folder, read_settings(folder), tell=_tell)
        command: Callable[[Bay, argparse.Namespace], int] = chosen.command
        return command(bay, chosen)
    except BrimlineError as error:
        log.note(error)
        print(f"brimline: {error.sentence}", file=sys.stderr)
    except BrokenPipeError:  # the reader of our output has gone, which is no fault
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except Exception as error:  # the last resort: nobody at a bay PC can read a traceback
        log.crashed(error)
        print(f"brimline: an unexpected fault, noted in {log.FILE_NAME}: {error}", file=sys.stderr)
    except KeyboardInterrupt:
        print("brimline: stopped.", file=sys.stderr)
    return 1


def _tell(sentence: str) -> None:
    """Say what takes long before it is begun; results alone go to standard output."""
    print(sentence, file=sys.stderr, flush=True)


def _speak_utf8() -> None:
    """Units need their signs, whatever the terminal was set to."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="brimline", description=__doc__, epilog=_CAUTION)
    parser.add_argument("--version", action="version", version=f"brimline {__version__}")
    parser.set_defaults(command=_window)
    verbs = parser.add_subparsers(metavar="COMMAND")
    _add_replay(verbs)
    cli_bus.add_verbs(verbs)
    _add_summary(verbs)
    find.add_verbs(verbs)
    _add_gates(verbs)
    _add_level(verbs)
    _add_estimate(verbs)
    _add_sheets(verbs)
    _add_demo(verbs)
    _add_screens(verbs)
    backup.add_verbs(verbs)
    verify.add_verbs(verbs)
    open_checks.add_verbs(verbs)
    attach.add_verbs(verbs)
    init = verbs.add_parser("init", help="make the database, or bring it to this version")
    init.set_defaults(command=_init)
    return parser


_Verbs = argparse._SubParsersAction  # argparse has no public name for it


def _add_replay(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    replay = verbs.add_parser("replay", help="run a whole check on a recording")
    replay.add_argument("recording", help="a recording's file, or the name of a shipped one")
    replay.add_argument("--sheet", metavar="ID", help="spec sheet, by its id or file")
    replay.add_argument("--script", metavar="FILE", help="the technician's taps and findings")
    replay.add_argument("--speed", default="max", metavar="N", help="1 to 100, or max (default)")
    replay.add_argument("--headless", action="store_true", help="without a window")
    open_checks.add_acknowledge(replay)
    replay.add_argument("--out", type=Path, default=Path("out"), metavar="DIR")
    _add_units(replay)
    _add_json(replay)
    replay.set_defaults(command=_replay)


def _add_summary(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    summary = verbs.add_parser("summary", help="write the work summary (PDF) of a finished check")
    summary.add_argument("record", help="number or id of the record")
    summary.add_argument("-o", "--output", type=Path, required=True, metavar="FILE")
    _add_units(summary)
    summary.set_defaults(command=_summary)


def _add_gates(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    gates = verbs.add_parser("gates", help="why the plug had to stay in, over a check's time")
    gates.add_argument("record", help="number or id of the record")
    _add_units(gates)
    _add_json(gates)
    gates.set_defaults(command=_gates)


def _add_level(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    level = verbs.add_parser("level", help="how well a check's level is known, and why")
    level.add_argument("record", help="number or id of the record")
    _add_units(level)
    _add_json(level)
    level.set_defaults(command=_level)


def _add_estimate(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    estimate = verbs.add_parser("estimate", help="forecast a recorded curve, and what came of it")
    estimate.add_argument("recording", metavar="FILE.csv", help="a table, or a shipped one's name")
    for end in ("--low", "--high"):
        words = "end of the target band, such as “65 °C”; bare: in the units' degrees"
        estimate.add_argument(end, required=True, metavar="C", help=words)
    estimate.add_argument("--column", default="", metavar="NAME", help="of the temperature")
    words = "when to ask, in s of the recording; default: at 30, 50, 70 and 90 %% of the way"
    estimate.add_argument("--at", nargs="+", default=(), metavar="S", help=words)
    _add_units(estimate)
    _add_json(estimate)
    estimate.set_defaults(command=_estimate)


def _add_sheets(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    sheets = verbs.add_parser("sheets", help="spec sheets")
    actions = sheets.add_subparsers(metavar="ACTION", required=True)
    lint = actions.add_parser("lint", help="name every fault and doubt in spec sheets")
    lint.add_argument("files", nargs="+", type=Path, metavar="FILE")
    _add_units(lint)
    _add_json(lint)
    lint.set_defaults(command=_lint)


def _add_demo(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    demo = verbs.add_parser("demo", help="a check on a simulated vehicle, in the window")
    _add_vehicle(demo)
    demo.add_argument("--speed", default="1", metavar="N", help="1 to 100 times real time, or max")
    demo.add_argument("--auto", action="store_true", help="without a person or a display")
    demo.add_argument("--out", type=Path, default=Path("out/demo"), metavar="DIR")
    _add_units(demo)
    demo.set_defaults(command=_demo)


def _add_screens(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    screens = verbs.add_parser("screens", help="picture every screen, in two sizes and two looks")
    _add_vehicle(screens)
    screens.add_argument("--out", type=Path, default=Path("out/screens"), metavar="DIR")
    _add_units(screens)
    screens.set_defaults(command=_screens)


def _add_vehicle(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--family", default="K7", metavar="NAME", help="K5, K7 or K9")
    parser.add_argument("--fault", default="", metavar="NAME", help="what is wrong with it")


def _add_json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="print data instead of text")


def _add_units(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--units", choices=sorted(UNIT_SYSTEMS), help="default: the settings'")


def _units(bay: Bay, chosen: argparse.Namespace) -> UnitSystem:
    return UNIT_SYSTEMS[chosen.units] if chosen.units else bay.settings.unit_system


def _window(bay: Bay, _chosen: argparse.Namespace) -> int:
    from brimline import desk  # noqa: PLC0415 - Qt only where a window opens
    from brimline.ui import capture  # noqa: PLC0415

    _require_display()
    units = bay.settings.unit_system
    return capture.show(desk.window_services(bay, units), None)


def _demo(bay: Bay, chosen: argparse.Namespace) -> int:
    from brimline import desk  # noqa: PLC0415 - Qt only where a window opens
    from brimline.ui import capture  # noqa: PLC0415
    from brimline.ui.services import DemoOrder  # noqa: PLC0415

    speed = parse_speed(chosen.speed) or FASTEST
    order = DemoOrder(chosen.family, chosen.fault, speed)
    bay.require_demo(chosen.family, chosen.fault or None)
    if chosen.auto:
        return _auto(bay, chosen, capture.EVERY_LOOK[:1])
    _require_display()
    services = desk.window_services(bay, _units(bay, chosen))
    return capture.show(services, order)


def _screens(bay: Bay, chosen: argparse.Namespace) -> int:
    from brimline.ui import capture  # noqa: PLC0415 - Qt only where a window opens

    return _auto(bay, chosen, capture.EVERY_LOOK)


def _auto(bay: Bay, chosen: argparse.Namespace, looks: Sequence[Look]) -> int:
    from brimline import auto_demo  # noqa: PLC0415 - Qt only where a window opens
    from brimline.ui.services import DemoOrder  # noqa: PLC0415

    order = DemoOrder(chosen.family, chosen.fault, FASTEST)
    done = auto_demo.play(bay, _units(bay, chosen), order, chosen.out, looks, print)
    print(f"Verdict: {done.verdict}.")
    print(f"{len(done.pictures)} pictures of the screens in {chosen.out}")
    print(f"Record {done.number} in {bay.database_file}")
    print(f"A copy of the record: {done.copy}")
    print(f"Work summary: {done.summary}")
    return 0


def _require_display() -> None:
    """Qt ends the process without a word where there is no display."""
    if sys.platform not in ("win32", "darwin") and not (
        os.environ.get("DISPLAY")
        or os.environ.get("WAYLAND_DISPLAY")
        or os.environ.get("QT_QPA_PLATFORM")
    ):
        raise BrimlineError(
            "There is no display to open a window on; “brimline demo --auto” needs none."
        )


def _init(bay: Bay, _chosen: argparse.Namespace) -> int:
    with bay.records():
        print(f"Records are kept in {bay.database_file}.")
    return 0


def _replay(bay: Bay, chosen: argparse.Namespace) -> int:
    if not chosen.headless:
        raise BrimlineError("Recordings are replayed without a window; add --headless.")
    say = open_checks.acknowledge(chosen)
    order = ReplayOrder(
        chosen.recording, chosen.sheet, chosen.script, parse_speed(chosen.speed), chosen.out, say
    )
    units = _units(bay, chosen)
    silent = chosen.json or say is not None
    teller = cli_text.Teller(units, silent=silent, last_check=bay.last_check)
    outcome = bay.replay(order, units, teller.observe, teller.begun)
    if chosen.json:
        cli_text.print_json(cli_text.replay_data(outcome, teller, units))
    else:
        cli_text.tell_outcome(outcome, units)
    return 0 if outcome.stuck is None else 1


def _summary(bay: Bay, chosen: argparse.Namespace) -> int:
    bay.write_summary(bay.load(chosen.record), chosen.output, _units(bay, chosen))
    print(f"Work summary written to {chosen.output}.")
    return 0


def _gates(bay: Bay, chosen: argparse.Namespace) -> int:
    record, units = bay.load(chosen.record), _units(bay, chosen)
    moments = plug_gate_over_time(record.events)
    if chosen.json:
        cli_text.print_json([cli_text.gate_data(t, reasons, units) for t, reasons in moments])
    else:
        cli_text.tell_gates(moments, units)
    return 0


def _level(bay: Bay, chosen: argparse.Namespace) -> int:
    estimate = replay(bay.load(chosen.record).events).level_estimate
    if chosen.json:
        cli_text.print_json(None if estimate is None else cli_text.level_data(estimate))
    else:
        cli_text.tell_level(estimate, _units(bay, chosen))
    return 0


def _estimate(bay: Bay, chosen: argparse.Namespace) -> int:
    units = _units(bay, chosen)
    order = cli_estimate.Order(
        chosen.recording, chosen.column, chosen.low, chosen.high, tuple(chosen.at)
    )
    found = cli_estimate.estimate(order, units)
    if chosen.json:
        cli_text.print_json(cli_estimate.data(found))
    else:
        cli_estimate.tell(found, units)
    return 0


def _lint(bay: Bay, chosen: argparse.Namespace) -> int:
    results: list[cli_text.Linted] = []
    for path in chosen.files:
        try:
            results.append(cli_text.Linted(path, doubts=doubts(read_sheet(path))))
        except SheetError as error:
            results.append(cli_text.Linted(path, error.faults))
    units = _units(bay, chosen)
    if chosen.json:
        cli_text.print_json([cli_text.lint_data(found, units) for found in results])
    else:
        cli_text.tell_lint(results, units)
    return 1 if any(found.faults for found in results) else 0
