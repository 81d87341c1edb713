"""Command-line words that tell of one check: ``summary``, ``gates`` and ``level``."""

from __future__ import annotations

import argparse
from pathlib import Path

from brimline import cli_text
from brimline.bootstrap import Bay
from brimline.cli_text import add_json, add_units, units_of
from brimline.procedure.reducer import replay
from brimline.procedure.timeline import plug_gate_over_time

_Verbs = argparse._SubParsersAction  # argparse has no public name for it


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the words to a command line."""
    _add_summary(verbs)
    _add_gates(verbs)
    _add_level(verbs)


def _add_summary(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    summary = verbs.add_parser("summary", help="write the work summary (PDF) of a finished check")
    summary.add_argument("record", help="number or id of the record")
    summary.add_argument("-o", "--output", type=Path, required=True, metavar="FILE")
    add_units(summary)
    summary.set_defaults(command=_summary)


def _add_gates(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    gates = verbs.add_parser("gates", help="why the plug had to stay in, over a check's time")
    gates.add_argument("record", help="number or id of the record")
    add_units(gates)
    add_json(gates)
    gates.set_defaults(command=_gates)


def _add_level(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    level = verbs.add_parser("level", help="how well a check's level is known, and why")
    level.add_argument("record", help="number or id of the record")
    add_units(level)
    add_json(level)
    level.set_defaults(command=_level)


def _summary(bay: Bay, chosen: argparse.Namespace) -> int:
    bay.write_summary(bay.load(chosen.record), chosen.output, units_of(bay, chosen))
    print(f"Work summary written to {chosen.output}.")
    return 0


def _gates(bay: Bay, chosen: argparse.Namespace) -> int:
    record, units = bay.load(chosen.record), units_of(bay, chosen)
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
        cli_text.tell_level(estimate, units_of(bay, chosen))
    return 0
