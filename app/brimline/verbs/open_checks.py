"""Command-line words about checks that were interrupted: ``open``, ``resume`` and ``end``."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from brimline import cli_text, interrupted, interrupted_run, interrupted_words, wording
from brimline.bootstrap import Bay, Described
from brimline.check_runner import CheckRunner
from brimline.headless.acknowledged import Say
from brimline.headless.pace import parse_speed
from brimline.interrupted import Found, Interrupted
from brimline.procedure import gates
from brimline.report.phrases import local, offset
from brimline.units import UNIT_SYSTEMS, UnitSystem

_Verbs = argparse._SubParsersAction  # argparse has no public name for it


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the words to a command line."""
    listing = verbs.add_parser("open", help="checks that were interrupted, and what to do")
    listing.add_argument("--json", action="store_true", help="print data instead of text")
    listing.set_defaults(command=_open)
    resume = verbs.add_parser("resume", help="go on with an interrupted check, without a window")
    _add_found(resume, engine_needed=True)
    resume.add_argument("--script", metavar="FILE", help="taps and findings; default: the record's")
    resume.add_argument("--recording", metavar="FILE", help="of a replay, where it did not ship")
    resume.add_argument("--speed", default="max", metavar="N", help="1 to 100, or max (default)")
    add_acknowledge(resume)
    _add_output(resume)
    resume.set_defaults(command=_resume)
    end = verbs.add_parser("end", help="end an interrupted check where it stands, and seal it")
    _add_found(end, engine_needed=False)
    end.add_argument("--reason", required=True, help="why; it goes on the record")
    end.add_argument("--units", choices=sorted(UNIT_SYSTEMS), help="default: the settings'")
    end.set_defaults(command=_end)


def add_acknowledge(parser: argparse.ArgumentParser) -> None:
    """Add the word that makes a running check say what it has taken down."""
    parser.add_argument(
        "--acknowledge",
        action="store_true",
        help="say line by line what is in the record, and whether it is on the disk",
    )


def acknowledge(chosen: argparse.Namespace) -> Say | None:
    """Return who is told what is in the record, where that is asked for: whoever reads us."""
    return _say_at_once if chosen.acknowledge else None


def _say_at_once(line: str) -> None:
    print(line, flush=True)


def _add_found(parser: argparse.ArgumentParser, *, engine_needed: bool) -> None:
    parser.add_argument("record", help="number or id of the record")
    parser.add_argument(
        "--plug", choices=("in", "out"), required=True, help="how the plug is now: look first"
    )
    parser.add_argument(
        "--engine", choices=("on", "off"), required=engine_needed, help="whether it runs now"
    )


def _add_output(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--out", type=Path, default=Path("out"), metavar="DIR")
    parser.add_argument("--units", choices=sorted(UNIT_SYSTEMS), help="default: the settings'")
    parser.add_argument("--json", action="store_true", help="print data instead of text")


def _found(chosen: argparse.Namespace) -> Found:
    runs = None if chosen.engine is None else chosen.engine == "on"
    return Found(plug_is_out=chosen.plug == "out", engine_runs=runs)


def _units(bay: Bay, chosen: argparse.Namespace) -> UnitSystem:
    return UNIT_SYSTEMS[chosen.units] if chosen.units else bay.settings.unit_system


def _open(bay: Bay, chosen: argparse.Namespace) -> int:
    running = interrupted.is_run_elsewhere(bay)
    found = interrupted.open_checks(bay)
    if chosen.json:
        cli_text.print_json([_data(check, being_run=running) for check in found])
        return 0
    if not found:
        print("No check is open.")
    elif running:
        print("Another Brimline is running a check on this database now; it is among these.")
    for check in found:
        _tell(check)
    return 0


def _tell(check: Interrupted) -> None:
    header, state = check.header, check.state
    at = local(header.opened_at)
    print(f"{header.number:>6}  {at:%Y-%m-%d %H:%M} ({offset(at)})  {header.technician}")
    if state is None:
        print(f"        {check.fault}")
        return
    print(f"        {interrupted_words.vehicle(state)} ({wording.ORIGINS[header.origin]})")
    print(f"        {interrupted_words.stood(state, check.away_s)}")
    word, text = interrupted_words.caution(state)
    print(f"        {word}: {text}")
    print(f"        Stands at: {interrupted_words.stage(state)}. {interrupted_words.to_do(state)}")
    if check.unsaved is not None:
        print(
            f"        Entries that the disk had refused lie in {check.unsaved}; they are taken in "
            "when the check goes on or ends."
        )
    for line in _words_to_use(check):
        print(f"        {line}")


def _words_to_use(check: Interrupted) -> list[str]:
    number = check.header.number
    going_on = f"brimline resume {number} --plug in|out --engine on|off"
    by_window = check.kind in (interrupted.Kind.KEYED, interrupted.Kind.SIMULATED)
    ending = f"brimline end {number} --plug in|out --reason WHY"
    return ["To go on: open the window" if by_window else going_on, ending]


def _data(check: Interrupted, *, being_run: bool) -> dict[str, Any]:
    state = check.state
    known: dict[str, Any] = {
        "record": cli_text.header_data(check.header),
        "kind": check.kind.value,
        "another_program_runs_a_check": being_run,
        "fault": check.fault,
        "unsaved": None if check.unsaved is None else str(check.unsaved),
        "away_s": check.away_s,
    }
    if state is None:
        return known
    return known | {
        "t_s": state.now,
        "plug_is_out": state.plug_is_out,
        "engine": interrupted_words.engine(state).lower().replace(" ", "_"),
        "stage": state.stage.value,
        "stopped": state.aborted is not None,
        "closed": state.closed is not None,
        "causes": [cause.value for cause in state.causes],
        "sentence": interrupted_words.stood(state, check.away_s),
    }


def _resume(bay: Bay, chosen: argparse.Namespace) -> int:
    units = _units(bay, chosen)
    say = acknowledge(chosen)
    silent = chosen.json or say is not None
    teller = cli_text.Teller(units, silent=silent, last_check=bay.last_check)
    order = interrupted_run.ResumeOrder(
        record=chosen.record,
        found=_found(chosen),
        script=chosen.script,
        recording=chosen.recording,
        speed=parse_speed(chosen.speed),
        out=chosen.out,
        acknowledge=say,
    )

    def goes_on(runner: CheckRunner, source: Described) -> None:
        teller.begun(runner, source)
        if not silent:
            _tell_standing(runner, units)

    outcome = interrupted_run.resume(bay, order, units, teller.observe, goes_on)
    if chosen.json:
        cli_text.print_json(cli_text.replay_data(outcome, teller, units))
    else:
        cli_text.tell_outcome(outcome, units)
    return 0 if outcome.stuck is None else 1


def _tell_standing(runner: CheckRunner, units: UnitSystem) -> None:
    """Say what stands as a check goes on: alarms, and what is asked again."""
    state = runner.state
    for alarm in sorted(state.alarms):
        print(f"ALARM: {wording.ALARMS[alarm]}. {wording.answer(state)}".rstrip())
    print(f"It goes on at: {interrupted_words.stage(state)}.")
    for reason in gates.asked_again(state):
        print(f"        - {wording.sentence(reason, units)}")


def _end(bay: Bay, chosen: argparse.Namespace) -> int:
    check = interrupted.find(bay, chosen.record)
    header = interrupted.end(
        bay, check.header.check_id, _found(chosen), chosen.reason, _units(bay, chosen)
    )
    verdict = wording.VERDICTS[header.verdict] if header.verdict else ""
    print(f"Verdict: {verdict.lower()}. Record {header.number} is sealed.")
    return 0
