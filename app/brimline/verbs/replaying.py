"""The command-line word that runs a check on a recording: ``replay``."""

from __future__ import annotations

import argparse
from pathlib import Path

from brimline import cli_text
from brimline.bootstrap import Bay, ReplayOrder
from brimline.cli_text import add_json, add_units, units_of
from brimline.errors import BrimlineError
from brimline.headless.pace import parse_speed
from brimline.verbs import open_checks

_Verbs = argparse._SubParsersAction  # argparse has no public name for it


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the word to a command line."""
    replay = verbs.add_parser("replay", help="run a whole check on a recording")
    replay.add_argument("recording", help="a recording's file, or the name of a shipped one")
    replay.add_argument("--sheet", metavar="ID", help="spec sheet, by its id or file")
    replay.add_argument("--script", metavar="FILE", help="the technician's taps and findings")
    replay.add_argument("--speed", default="max", metavar="N", help="1 to 100, or max (default)")
    replay.add_argument("--headless", action="store_true", help="without a window")
    open_checks.add_acknowledge(replay)
    replay.add_argument("--out", type=Path, default=Path("out"), metavar="DIR")
    add_units(replay)
    add_json(replay)
    replay.set_defaults(command=_replay)


def _replay(bay: Bay, chosen: argparse.Namespace) -> int:
    if not chosen.headless:
        raise BrimlineError("Recordings are replayed without a window; add --headless.")
    say = open_checks.acknowledge(chosen)
    order = ReplayOrder(
        chosen.recording, chosen.sheet, chosen.script, parse_speed(chosen.speed), chosen.out, say
    )
    units = units_of(bay, chosen)
    silent = chosen.json or say is not None
    teller = cli_text.Teller(units, silent=silent, last_check=bay.last_check)
    outcome = bay.replay(order, units, teller.observe, teller.begun)
    if chosen.json:
        cli_text.print_json(cli_text.replay_data(outcome, teller, units))
    else:
        cli_text.tell_outcome(outcome, units)
    return 0 if outcome.stuck is None else 1
