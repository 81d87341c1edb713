"""How forecasts are asked for, scored and compared: what the benchmark prints rests on this.

A forecast is asked for at 30, 50, 70 and 90 % of the time from a curve's first reading to the true
entry, with all readings up to then, and answers in seconds from the last of them.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from forecast_baselines import Answer
from warm_up_curves import FRACTIONS, HORIZON_S, Curve

LIKELY_NEVER = 0.5
NEVER = " never"
"""What the group's name ends in for levels that are never reached."""


class Method(Protocol):
    """Something that forecasts from readings."""

    def observe(self, t_s: float, celsius: float) -> None:
        """Take a reading in s and °C, in order of time."""

    def passage(self, level_c: float) -> Answer:
        """Say when a level in °C is first reached, in s from the last reading."""


@dataclass(frozen=True)
class Case:
    """One question and its answer.

    ``left`` is what was truly left in s from the last reading; ``None``: never within two hours.
    """

    group: str
    curve: str
    level: float
    fraction: float
    left: float | None
    answer: Answer

    @property
    def number(self) -> float | None:
        """The median, shown to a person or not: silence gains and costs nothing."""
        return self.answer.median

    @property
    def error(self) -> float | None:
        """By how much the median was off in s; ``None`` where there is no number or no truth."""
        if self.left is None or self.number is None:
            return None
        return abs(min(self.number, HORIZON_S) - self.left)

    @property
    def error_or_horizon(self) -> float:
        """The error, with two hours for the answer where none was given."""
        assert self.left is not None
        error = self.error
        return HORIZON_S - self.left if error is None else error

    @property
    def covered(self) -> bool | None:
        """Whether the truth lies in the 80 % interval; ``None`` without answer or truth.

        An answer that says never with nine in ten holds no truth that came to be.
        """
        answer = self.answer
        if self.left is None or (answer.low is None and not answer.never):
            return None
        if answer.low is None:
            return False
        return answer.low <= self.left <= (math.inf if answer.high is None else answer.high)

    @property
    def width(self) -> float | None:
        """Width of the 80 % interval in s, cut at two hours; ``None`` without interval."""
        answer = self.answer
        if answer.low is None:
            return None
        high = math.inf if answer.high is None else answer.high
        return min(high, HORIZON_S) - min(answer.low, HORIZON_S)


def ask(curve: Curve, make: Callable[[], Method]) -> list[Case]:
    """Feed a curve to one fresh method in order of time, and ask it at all its targets' times."""
    questions = sorted(
        (when, number, place)
        for number, target in enumerate(curve.targets)
        for place, when in enumerate(target.asked)
    )
    method, fed, cases = make(), 0, []
    times, readings = curve.times.tolist(), curve.readings.tolist()
    for when, number, place in questions:
        while fed < len(times) and times[fed] <= when:
            method.observe(times[fed], readings[fed])
            fed += 1
        target = curve.targets[number]
        left = None if target.entry is None else target.entry - times[fed - 1]
        group = curve.group if left is not None else curve.group + NEVER
        answer = method.passage(target.level)
        cases.append(Case(group, curve.name, target.level, FRACTIONS[place], left, answer))
    return cases


@dataclass(frozen=True)
class Score:
    """What a method did on some questions; times in s, shares from 0 to 1.

    Errors are over the questions that got a number. ``never`` counts answers that hold "never"
    for more likely than not; ``missing_median`` puts two hours for every missing number.
    """

    asked: int
    given: float
    too_early: float
    never: float
    median: float
    ninetieth: float
    relative: float
    coverage: float
    width: float
    missing_median: float


def _mean(values: Iterable[float | bool | None]) -> float:
    present = [float(value) for value in values if value is not None]
    return sum(present) / len(present) if present else math.nan


def _percentile(values: Sequence[float], percent: float) -> float:
    return float(np.percentile(values, percent)) if values else math.nan


def score(cases: Sequence[Case]) -> Score:
    """Score the answers to some questions, of one method."""
    off = [case.error for case in cases if case.error is not None]
    relative = [case.error / case.left for case in cases if case.error is not None and case.left]
    reached = [case for case in cases if case.left is not None]
    return Score(
        asked=len(cases),
        given=_mean(case.number is not None for case in cases),
        too_early=_mean(not case.answer.known for case in cases),
        never=_mean(case.answer.never > LIKELY_NEVER for case in cases),
        median=_percentile(off, 50),
        ninetieth=_percentile(off, 90),
        relative=_percentile(relative, 50),
        coverage=_mean(case.covered for case in cases),
        width=_mean(case.width for case in cases),
        missing_median=_percentile([case.error_or_horizon for case in reached], 50),
    )


def by_place(cases: Iterable[Case]) -> dict[tuple[str, float], list[Case]]:
    """Part cases by group and fraction, in the order in which they come."""
    parted: dict[tuple[str, float], list[Case]] = defaultdict(list)
    for case in cases:
        parted[case.group, case.fraction].append(case)
    return parted


@dataclass(frozen=True)
class Duel:
    """A forecast against one baseline on the questions that both answered with a number, in s.

    ``all_*`` are the medians over all questions with two hours for every missing number.
    """

    common: int
    ours: float
    theirs: float
    all_ours: float
    all_theirs: float

    def within(self, share: float, floor: float = 0.0) -> bool:
        """Whether our median error is at most a share of theirs, or at most so many seconds.

        Both readings must hold: on the common questions a baseline pays nothing for those it left
        out, and over all questions silence of ours gains nothing.
        """
        common = not self.common or self.ours <= max(share * self.theirs, floor)
        return common and self.all_ours <= max(share * self.all_theirs, floor)


def better(baselines: Mapping[str, Sequence[Case]]) -> str:
    """Name the baseline with the smaller median error, two hours for every missing number."""
    return min(baselines, key=lambda name: score(baselines[name]).missing_median)


def duel(ours: Sequence[Case], theirs: Sequence[Case]) -> Duel:
    """Compare two methods on the same questions in the same order.

    :raises ValueError: the questions differ.
    """
    pairs = list(zip(ours, theirs, strict=True))
    for a, b in pairs:
        if (a.curve, a.level, a.fraction) != (b.curve, b.level, b.fraction):
            raise ValueError(f"{a.curve} and {b.curve} are different questions")
    both = [(a.error, b.error) for a, b in pairs if a.error is not None and b.error is not None]
    return Duel(
        len(both),
        _percentile([a for a, _ in both], 50),
        _percentile([b for _, b in both], 50),
        _percentile([a.error_or_horizon for a, _ in pairs], 50),
        _percentile([b.error_or_horizon for _, b in pairs], 50),
    )
