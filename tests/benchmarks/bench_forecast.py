"""How far off the warm-up forecast is, against a straight line and a single exponential.

Run by ``python3 packaging/start.py bench forecast``; after ``--`` come options, of which ``--oil
FILE`` adds a hydraulic rig's oil temperatures (columns time_s, TS1 to TS4) and ``--json FILE``
keeps the figures. What is asked, and how it is scored: ``forecast_scores``.
"""

from __future__ import annotations

import argparse
import json
import math
import multiprocessing
import os
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import asdict
from pathlib import Path

# Fits here are tiny: threads of the linear algebra would only get into one another's way.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

from forecast_baselines import Answer, SingleExponential, StraightLine
from forecast_scores import NEVER, Case, Method, Score, ask
from forecast_verdicts import OURS, Scores, coverage_over_all, evaluate, verdicts
from warm_up_curves import FRACTIONS, Curve, driven_car_curves, oil_curves
from warm_up_simulations import A, B, simulated_curves

from brimline.paths import resources
from brimline.physics.forecast import Forecaster, Passage

PROCESSES = 2

GROUPS = {
    "car": "two drives of one car: engine coolant, standing in for fluid",
    "oil": "hydraulic rig, four oil temperatures, standing in for fluid",
    "A": "simulated, ranges that the forecast may be developed on",
    "B": "simulated, other ranges, for judging only",
}


def answer_of(passage: Passage) -> Answer:
    """Put the program's answer into the benchmark's words: the only place that knows both."""
    return Answer(passage.median, passage.low, passage.high, passage.never, passage.known)


class Ours:
    """The program's forecast as a method of the benchmark."""

    def __init__(self) -> None:
        self._forecaster = Forecaster()

    def observe(self, t_s: float, celsius: float) -> None:
        """Take a reading in s and °C."""
        self._forecaster.observe(t_s, celsius)

    def passage(self, level_c: float) -> Answer:
        """Say when a level in °C is reached."""
        return answer_of(self._forecaster.passage(level_c))


METHODS: dict[str, Callable[[], Method]] = {
    OURS: Ours, "line": StraightLine, "exponential": SingleExponential,
}  # fmt: skip


def curves(oil: Path | None, only: Sequence[str] = ()) -> list[Curve]:
    """Gather the curves of all groups, or of some."""
    gathered = driven_car_curves(resources() / "recordings")
    if oil is not None:
        gathered += oil_curves(oil)
    for group, ranges in (("A", A), ("B", B)):
        if not only or group in only:
            gathered += simulated_curves(ranges, group)
    return [curve for curve in gathered if not only or curve.group in only]


def ask_all(curve: Curve) -> dict[str, list[Case]]:
    """Ask every method about one curve."""
    return {name: ask(curve, make) for name, make in METHODS.items()}


def gather(listed: Sequence[Curve]) -> dict[str, list[Case]]:
    """Ask every method about every curve, on two processes, in the curves' order."""
    cases: dict[str, list[Case]] = {name: [] for name in METHODS}
    with multiprocessing.get_context("spawn").Pool(PROCESSES) as pool:
        for answers in pool.imap(ask_all, listed, chunksize=4):
            for name, given in answers.items():
                cases[name] += given
    return cases


def microseconds(curve: Curve, most: int = 1000) -> float:
    """Return the median time of one reading and one question after it, in µs."""
    method, spent = Ours(), []
    level = curve.targets[-1].level
    for t, celsius in zip(curve.times[:most].tolist(), curve.readings[:most].tolist(), strict=True):
        begin = time.perf_counter()
        method.observe(t, celsius)
        method.passage(level)
        spent.append(time.perf_counter() - begin)
    return statistics.median(spent) * 1e6


HEADING = (
    "group    at  method        asked  given  early  never   median   90th  relative"
    "  2h-median  cover  width"
)


def _number(value: float, digits: int = 0) -> str:
    return "-" if math.isnan(value) else f"{value:.{digits}f}"


def row(group: str, fraction: float, name: str, found: Score) -> str:
    """Write one line of the table."""
    shares = "".join(
        f"{_number(100 * share):>6}%" for share in (found.given, found.too_early, found.never)
    )
    return (
        f"{group:8} {100 * fraction:.0f}%  {name:12} {found.asked:6}{shares}"
        f" {_number(found.median):>7} {_number(found.ninetieth):>6} {_number(found.relative, 2):>9}"
        f" {_number(found.missing_median):>10} {_number(100 * found.coverage):>5}%"
        f" {_number(found.width):>6}"
    )


def never_row(scores: Scores, group: str, name: str) -> str:
    """Write how often a method held for more likely than not what never happened."""
    shares = [scores[group, fraction, name] for fraction in FRACTIONS]
    cells = "".join(f"{_number(100 * found.never):>6}%" for found in shares)
    early = "".join(f"{_number(100 * found.too_early):>6}%" for found in shares)
    return f"{group:10} {name:12} {shares[0].asked:6}  {cells}  {early}"


def show_table(scores: Scores) -> None:
    """Print both tables: levels that are reached, and those that never are."""
    print("Asked at 30, 50, 70 and 90 % of the time from the first reading to the true entry.")
    print("Errors in s, over the questions that got a number; 2h-median puts two hours for each")
    print("missing one. Width of the 80 % interval in s, cut at two hours; those of the baselines")
    print("come from their covariance. early: too early to tell; never: more likely than not.")
    for group, words in GROUPS.items():
        print(f"  {group}: {words}")
    print(HEADING)
    last = None
    for (group, fraction, name), found in scores.items():
        if not group.endswith(NEVER):
            if (group, fraction) != last:
                print()
            print(row(group, fraction, name, found))
            last = (group, fraction)
    print("\nLevels never reached, asked at 30 to 90 % of the time to 95 % of the whole rise:")
    print("group      method        asked     held for never: 30 to 90 %    too early: 30 to 90 %")
    for group in sorted({group for group, *_ in scores if group.endswith(NEVER)}):
        for name in METHODS:
            print(never_row(scores, group, name))


def show_verdicts(judged: Sequence[tuple[bool | None, str]], speed: float) -> None:
    """Print what was meant to be reached, and the time of a call."""
    print()
    for met, words in judged:
        print(f"{'        ' if met is None else 'met     ' if met else 'MISSED  '}{words}")
    print(f"one reading and one question: {speed:.0f} µs (median)")


def as_json(scores: Scores, judged: Sequence[tuple[bool | None, str]], speed: float) -> str:
    """Write all figures as JSON; what is no number is null."""

    def plain(found: Score) -> dict[str, float | None]:
        return {key: None if math.isnan(value) else value for key, value in asdict(found).items()}

    table = [
        {"group": group, "at": fraction, "method": name, **plain(found)}
        for (group, fraction, name), found in scores.items()
    ]
    met = [{"met": met, "words": words} for met, words in judged]
    return json.dumps({"scores": table, "verdicts": met, "microseconds": speed}, indent=1)


def options(words: Sequence[str] | None = None) -> argparse.Namespace:
    """Read the command line."""
    made = argparse.ArgumentParser(description=__doc__)
    made.add_argument("--oil", type=Path, metavar="FILE", help="oil temperatures TS1 to TS4")
    made.add_argument("--only", nargs="+", choices=GROUPS, default=(), help="these groups alone")
    made.add_argument("--json", type=Path, metavar="FILE", help="where to keep the figures")
    return made.parse_args(words)


def main() -> None:
    """Ask, score, compare, print."""
    chosen = options()
    begin = time.perf_counter()
    if chosen.oil is None:
        print("Oil of a hydraulic rig: left out, as its file does not travel along; --oil FILE.")
    listed = curves(chosen.oil, chosen.only)
    cases = gather(listed)
    scores, duels = evaluate(cases)
    judged = verdicts(duels, coverage_over_all(cases[OURS], "B"))
    speed = microseconds(listed[0])
    show_table(scores)
    show_verdicts(judged, speed)
    print(f"whole run: {time.perf_counter() - begin:.0f} s")
    if chosen.json is not None:
        chosen.json.write_text(as_json(scores, judged, speed), encoding="utf-8")


if __name__ == "__main__":
    main()
