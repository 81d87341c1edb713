"""Whether the forecast reaches what it was meant to: against the better baseline, and in coverage.

The target: on recorded curves, at 50 and 70 % of the way, at most half of the better baseline's
median error, or 15 s; nowhere worse than it; the 80 % interval holds 72 to 88 % of group B.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from forecast_scores import Case, Duel, Score, better, by_place, duel, score

OURS = "forecast"
RECORDED = ("car", "oil")
JUDGED_AT = (0.5, 0.7)
HALF, GOOD_ENOUGH_S = 0.5, 15.0
COVERAGE = (0.72, 0.88)

Scores = dict[tuple[str, float, str], Score]
Duels = dict[tuple[str, float], tuple[str, dict[str, Duel]]]
"""By group and fraction: the better baseline, and the forecast against each of them."""


def evaluate(cases: Mapping[str, Sequence[Case]]) -> tuple[Scores, Duels]:
    """Score each method at each group and fraction, and the forecast against each baseline."""
    parted = {name: by_place(given) for name, given in cases.items()}
    scores: Scores = {}
    duels: Duels = {}
    for place in sorted(parted[OURS]):
        for name in parted:
            scores[*place, name] = score(parted[name][place])
        ours = parted[OURS][place]
        theirs = {name: parted[name][place] for name in parted if name != OURS}
        if ours[0].left is not None:
            against = {name: duel(ours, given) for name, given in theirs.items()}
            duels[place] = better(theirs), against
    return scores, duels


def coverage_over_all(cases: Sequence[Case], group: str) -> float:
    """Return the share of a group's true entries inside the forecast's 80 % intervals."""
    return score([case for case in cases if case.group == group]).coverage


def _against(name: str, met: Duel) -> str:
    return (
        f"{met.ours:.0f} s against {met.theirs:.0f} s ({name}, {met.common} common questions; "
        f"missing as 2 h: {met.all_ours:.0f} and {met.all_theirs:.0f} s)"
    )


def verdicts(duels: Duels, coverage: float) -> list[tuple[bool | None, str]]:
    """Judge what the forecast was meant to reach: whether, and in which words.

    ``None`` stands before what is told but not judged: the other baseline, where it answers.
    """
    listed: list[tuple[bool | None, str]] = []
    for (group, fraction), (best, met) in duels.items():
        if group in RECORDED and fraction in JUDGED_AT:
            place = f"{group} at {100 * fraction:.0f} %, median error: "
            wanted = f"; wanted: half, or {GOOD_ENOUGH_S:.0f} s"
            words = place + _against(best, met[best]) + wanted
            listed.append((met[best].within(HALF, GOOD_ENOUGH_S), words))
            listed += [(None, place + _against(n, d)) for n, d in met.items() if n != best]
    worse = [
        f"{group} {100 * fraction:.0f} %: {_against(best, met[best])}"
        for (group, fraction), (best, met) in duels.items()
        if not met[best].within(1.0)
    ]
    words = f"never worse than the better baseline: {'; '.join(worse) or 'nowhere is it'}"
    listed.append((not worse, words))
    if not math.isnan(coverage):
        inside = COVERAGE[0] <= coverage <= COVERAGE[1]
        listed.append((inside, f"80 % interval on B holds {100 * coverage:.0f} %; wanted 72 to 88"))
    return listed
