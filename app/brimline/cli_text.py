"""What the command line prints, as sentences and as data."""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from brimline import wording
from brimline.bootstrap import Bay, Described, ReplayOutcome
from brimline.check_runner import CheckRunner
from brimline.errors import Fault
from brimline.estimate import doubt_sentences
from brimline.estimate.sheet_doubts import SheetDoubt
from brimline.headless.script import Step
from brimline.procedure.effects import (
    AlarmRaised,
    Effect,
    PlugGateChanged,
    Refused,
    StageEntered,
)
from brimline.procedure.estimates import LevelEstimated
from brimline.procedure.events import Origin
from brimline.procedure.reasons import Reason
from brimline.procedure.state import Alarm, CheckState
from brimline.records.model import Header
from brimline.records.search import Hit
from brimline.report import level
from brimline.report.phrases import amounts
from brimline.specsheet.model import SheetStatus
from brimline.units import UNIT_SYSTEMS, UnitSystem, clock

_MOST_REASONS = 3

Moments = Sequence[tuple[float, tuple[Reason, ...]]]


def add_json(parser: argparse.ArgumentParser) -> None:
    """Add the word that asks for data."""
    parser.add_argument("--json", action="store_true", help="print data instead of text")


def add_units(parser: argparse.ArgumentParser) -> None:
    """Add the word that chooses units."""
    parser.add_argument("--units", choices=sorted(UNIT_SYSTEMS), help="default: the settings'")


def units_of(bay: Bay, chosen: argparse.Namespace) -> UnitSystem:
    """Return the units that were chosen, else those of the settings."""
    return UNIT_SYSTEMS[chosen.units] if chosen.units else bay.settings.unit_system


def print_json(data: object) -> None:
    """Print data, readable by people too."""
    print(json.dumps(data, indent=2, ensure_ascii=False, default=str))


class Teller:
    """Tells a running check line by line, and keeps the refusals for the end."""

    def __init__(
        self, units: UnitSystem, *, silent: bool, last_check: Callable[[str], Hit | None]
    ) -> None:
        self._units = units
        self._silent = silent
        self._last_check = last_check
        self._vehicle_told = False
        self.refusals: list[tuple[float, tuple[Reason, ...]]] = []

    def begun(self, runner: CheckRunner, source: Described) -> None:
        """Say what is about to run."""
        opened, sheet = runner.state.opened, runner.state.sheet
        is_replay = opened.origin is Origin.REPLAY
        self._say(f"{'Replay of' if is_replay else 'Check,'} {source.description}")
        notice = f" — {sheet.notice}" if sheet.notice else ""
        if sheet.source.status is SheetStatus.DRAFT:
            notice += " The sheet is a draft that nobody has approved."
        self._say(f"Spec sheet {sheet.id}, revision {sheet.source.revision}{notice}")
        low, high = runner.state.band.low, runner.state.band.high
        ends = [f"from {self._units.temperature(low)}"] if low is not None else []
        ends += [f"to {self._units.temperature(high)}"] if high is not None else []
        self._say(f"Duty {opened.duty.replace('_', ' ')}: target band {' '.join(ends)}")
        measured = ", ".join(name.replace("_", " ") for name in opened.measured)
        where = "recording" if is_replay else "bus"
        self._say(f"Read from the {where}: {measured}; everything else is attested.")

    def observe(self, state: CheckState, effect: Effect) -> None:
        """Tell one effect."""
        if isinstance(effect, Refused):
            self.refusals.append((state.now, effect.reasons))
            self._at(state, "refused:")
            for sentence in self._sentences(effect.reasons):
                self._say(f"        - {sentence}")
        elif isinstance(effect, StageEntered):
            self._at(state, f"== {wording.STAGES[effect.stage]}")
        elif isinstance(effect, PlugGateChanged) and not effect.reasons:
            self._at(state, "Nothing stands against it any more: plug out.")
        elif isinstance(effect, AlarmRaised):
            answer = wording.answer(state) if effect.alarm is Alarm.PLUG_IN else ""
            self._at(state, f"ALARM: {wording.ALARMS[effect.alarm]}. {answer}".rstrip())
        self._tell_vehicle(state)

    def waiting(self, state: CheckState, step: Step, reasons: tuple[Reason, ...]) -> None:
        """Tell of a tap of the script that waits, and what stands against it."""
        sentences = self._sentences(reasons[:_MOST_REASONS]) or ["Nothing has raised an alarm."]
        if len(reasons) > _MOST_REASONS:
            sentences.append(f"And {len(reasons) - _MOST_REASONS} more.")
        what = " ".join([step.do, *filter(None, [str(step.fields().get("item", ""))])])
        self._at(state, f"waiting for “{what}”:", *sentences)

    def connection(self, state: CheckState, lost: str) -> None:
        """Tell that the bus is lost, or back."""
        self._at(state, lost or "The vehicle's bus is back.")

    def _tell_vehicle(self, state: CheckState) -> None:
        """Earlier checks of the vehicle in one line, once it is identified."""
        if state.vehicle is None or self._vehicle_told or self._silent:
            return
        self._vehicle_told = True
        if state.vehicle.vin_warning:
            self._at(state, state.vehicle.vin_warning)
        earlier = self._last_check(state.vehicle.vin)
        if earlier is not None:
            self._at(state, last_time(earlier, self._units))

    def _sentences(self, reasons: Iterable[Reason]) -> list[str]:
        return [wording.sentence(reason, self._units) for reason in reasons]

    def _at(self, state: CheckState, *words: str) -> None:
        self._say(f"{clock(state.now):>6}  {' '.join(words)}")

    def _say(self, line: str) -> None:
        if not self._silent:
            print(line)


def last_time(hit: Hit, units: UnitSystem) -> str:
    """Return one line about an earlier check of a vehicle."""
    where = "" if hit.odometer_km is None else f" at {units.distance(hit.odometer_km)}"
    return f"Last time, {hit.opened_at.astimezone():%Y-%m-%d}{where}: {done(hit, units)}."


def done(header: Header | Hit, units: UnitSystem) -> str:
    """Return how a check ended and what went in and out, within a sentence."""
    verdict = wording.VERDICTS[header.verdict].lower() if header.verdict else "not finished"
    return ", ".join((verdict, *amounts(header.added_litres, header.run_off_litres, units)))


def tell_outcome(outcome: ReplayOutcome, units: UnitSystem) -> None:
    """Print how a check ended and where its record and summary lie."""
    header, closed = outcome.header, outcome.state.closed
    if outcome.warning:
        print(outcome.warning)
    if outcome.stuck is not None:
        waiting = " ".join(wording.sentence(r, units) for r in outcome.stuck.reasons)
        print(f"The script was still waiting for “{outcome.stuck.step.do}”: {waiting}")
    why = "; ".join(wording.verdict_reason(code) for code in closed.reasons) if closed else ""
    print(f"Verdict: {done(header, units)} ({why}).")
    print(f"Record {header.number} ({header.check_id[:12]}) in {outcome.database}")
    print(f"A copy of the record: {outcome.copy}")
    print(f"Work summary: {outcome.summary}")


def replay_data(outcome: ReplayOutcome, teller: Teller, units: UnitSystem) -> dict[str, Any]:
    """Return what came of a replay as data."""
    stuck = outcome.stuck
    return {
        "record": header_data(outcome.header),
        "reasons": list(outcome.state.closed.reasons) if outcome.state.closed else [],
        "refused": [gate_data(t, reasons, units) for t, reasons in teller.refusals],
        "waiting_for": None if stuck is None else stuck.step.do,
        "warning": outcome.warning,
        "database": str(outcome.database),
        "copy": str(outcome.copy),
        "summary": str(outcome.summary),
    }


def header_data(header: Header) -> dict[str, Any]:
    """Return a header as data; quantities carry their unit in the key (km, °C, L)."""
    return asdict(header)


def tell_gates(moments: Moments, units: UnitSystem) -> None:
    """Print why the plug had to stay in, from moment to moment."""
    for t, reasons in moments:
        if not reasons:
            print(f"{clock(t):>6}  open")
            continue
        print(f"{clock(t):>6}  closed")
        for reason in reasons:
            print(f"        - {wording.sentence(reason, units)}")


def gate_data(t: float, reasons: Sequence[Reason], units: UnitSystem) -> dict[str, Any]:
    """Return the gate's answer at a moment (s) as data; numbers in inside units."""
    listed = [{**asdict(r), "sentence": wording.sentence(r, units)} for r in reasons]
    return {"t_s": t, "open": not reasons, "reasons": listed}


def tell_level(estimate: LevelEstimated | None, units: UnitSystem) -> None:
    """Print how well a level is known, with the budget behind it."""
    if estimate is None:
        print("No estimate of the fluid level is on this record: not set, or too little is known.")
        return
    grid = level.table(estimate, units)
    rows = (grid.columns, *grid.rows)
    widths = [max(len(row[column]) for row in rows) for column in range(len(grid.columns))]
    for row in rows:
        cells = [
            cell.rjust(width) if numeric else cell.ljust(width)
            for cell, width, numeric in zip(row, widths, grid.numeric, strict=True)
        ]
        print("  ".join(cells).rstrip())
    print(
        f"Expanded uncertainty, 95 %: {estimate.coverage:.2f} x that = "
        f"{level.stated(estimate.expanded, units)} (budget version {estimate.model})"
    )
    print(level.known_to(estimate, units))


def level_data(estimate: LevelEstimated) -> dict[str, Any]:
    """Return an estimate of the level as data; amounts in L."""
    return {**asdict(estimate), "bound": estimate.bound}


@dataclass(frozen=True)
class Linted:
    """What was found in one sheet: faults, or else doubts about its numbers."""

    path: Path
    faults: tuple[Fault, ...] = ()
    doubts: tuple[SheetDoubt, ...] = ()


def tell_lint(results: Sequence[Linted], units: UnitSystem) -> None:
    """Print every fault and every doubt of the sheets looked at."""
    for found in results:
        for fault in found.faults:
            print(fault)
        if not found.faults:
            print(f"{found.path}: sound{', but doubtful' if found.doubts else ''}")
        for doubt in found.doubts:
            print(f"{found.path}: {doubt.place}: {doubt_sentences.sentence(doubt, units)}")


def lint_data(found: Linted, units: UnitSystem) -> dict[str, Any]:
    """Return the faults and doubts of one sheet as data; numbers in inside units."""
    return {
        "file": str(found.path),
        "sound": not found.faults,
        "faults": [asdict(fault) for fault in found.faults],
        "doubts": [
            {**asdict(d), "sentence": doubt_sentences.sentence(d, units)} for d in found.doubts
        ],
    }
