"""Whether a rested vehicle shows that the fluid's sensor is right.

Left alone, transmission and engine cool towards the hall, each roughly as exp(-t/τ). After a rest
long enough, fluid, coolant and ambient are equal, and what the fluid's sensor then shows beyond
the others is its bias. All figures below are common practice, no source: time constants of 1 to
2 hours for either mass, no more than 80 K above the hall at the start, thermometers of ±3 K.

No maker's cold-start rule is meant or replaced by them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

FLUID_TAU_S = (3600.0, 7200.0)
"""Range of the transmission's time constant at rest, in s (common practice, no source)."""

COOLANT_TAU_S = (3600.0, 7200.0)
"""Range of the engine's, in s (common practice, no source)."""

START_EXCESS_K = 80.0
"""How far above the hall a warm vehicle begins, at most (common practice, no source)."""

LEFT_OVER_K = 2.0
"""A rest is long enough once no more than this may be left of that."""

AMBIENT_U_K = 1.5
COOLANT_U_K = 1.5
READING_U_K = 0.5
"""Standard uncertainties of the hall's thermometer with its place, of the coolant's sensor, and
of one reading of the fluid's sensor with its steps of 1 °C (common practice, no source)."""

COVERAGE = 2.0
"""Expanded uncertainties are twice the standard ones (JCGM 100:2008, clause 6.2.1)."""


class SoakVerdict(StrEnum):
    """What the comparison of a rested vehicle says."""

    AGREES = "agrees"
    BIASED = "biased"
    TOO_SHORT = "rest_too_short"
    NOT_CONCLUSIVE = "not_conclusive"


@dataclass(frozen=True, slots=True)
class SoakJudgement:
    """A verdict with what it rests on.

    :param bias: fluid's sensor minus what it was compared with, in K; ``None`` where a
        comparison says nothing.
    :param uncertainty: of the bias, ±, 95 %, in K.
    :param rest_needed: a rest long enough, in s.
    :param left_over: what may be left of the vehicle's heat, at most, in K; ``None`` where the
        rest is not known.
    """

    verdict: SoakVerdict
    bias: float | None
    uncertainty: float | None
    rest_needed: float
    left_over: float | None


def left_over(rest: float, tau: tuple[float, float]) -> float:
    """Return how far above the hall a mass may still be after a rest, at most, in K.

    :param rest: in s, 0 or more.
    :param tau: fastest and slowest time constant in s, above 0.
    :raises ValueError: outside those ranges.
    """
    if not rest >= 0 or not 0 < tau[0] <= tau[1]:
        raise ValueError("rest must be 0 s or more and time constants above 0 s, rising")
    return START_EXCESS_K * math.exp(-rest / tau[1])


def rest_needed() -> float:
    """Return the rest in s after which fluid and coolant are within :data:`LEFT_OVER_K` of it."""
    return max(FLUID_TAU_S[1], COOLANT_TAU_S[1]) * math.log(START_EXCESS_K / LEFT_OVER_K)


def judge_soak(
    fluid: float, ambient: float, coolant: float | None, rest: float | None
) -> SoakJudgement:
    """Say whether the fluid's sensor agrees with a rested vehicle.

    Ambient and coolant are weighed by their variances. Where they differ by more than their own
    uncertainty, one of them is wrong or the hall has just changed, and nothing follows.

    :param fluid: what the fluid's sensor shows in °C, -60 to 250.
    :param ambient: of the hall in °C, -60 to 250.
    :param coolant: in °C, -60 to 250, ``None`` where it is not known.
    :param rest: how long the vehicle stood with its engine off, in s, 0 or more; ``None`` where
        nobody can say.
    :raises ValueError: outside those ranges.
    """
    known = [c for c in (fluid, ambient, coolant) if c is not None]
    if not all(-60 <= celsius <= 250 for celsius in known):
        raise ValueError("temperatures must lie between -60 and 250 °C")
    needed = rest_needed()
    if rest is None:
        return SoakJudgement(SoakVerdict.NOT_CONCLUSIVE, None, None, needed, None)
    rests = [left_over(rest, FLUID_TAU_S)]
    if coolant is not None:
        rests.append(left_over(rest, COOLANT_TAU_S))
    left = max(rests)
    if rest < needed:
        return SoakJudgement(SoakVerdict.TOO_SHORT, None, None, needed, left)
    if coolant is not None and abs(coolant - ambient) > _apart(left):
        return SoakJudgement(SoakVerdict.NOT_CONCLUSIVE, None, None, needed, left)
    reference, reference_u = _reference(ambient, coolant)
    bias = fluid - reference
    uncertainty = COVERAGE * math.hypot(reference_u, READING_U_K, _rectangular(left))
    verdict = SoakVerdict.AGREES if abs(bias) <= uncertainty else SoakVerdict.BIASED
    return SoakJudgement(verdict, bias, uncertainty, needed, left)


def _reference(ambient: float, coolant: float | None) -> tuple[float, float]:
    """Return the weighted mean and its standard uncertainty."""
    if coolant is None:
        return ambient, AMBIENT_U_K
    by_ambient, by_coolant = AMBIENT_U_K**-2, COOLANT_U_K**-2
    both = by_ambient + by_coolant
    return (ambient * by_ambient + coolant * by_coolant) / both, both**-0.5


def _apart(left: float) -> float:
    """Return how far coolant and ambient may differ, 95 %, in K."""
    return COVERAGE * math.hypot(AMBIENT_U_K, COOLANT_U_K, _rectangular(left))


def _rectangular(half_width: float) -> float:
    """Anywhere within ±: JCGM 100:2008, clause 4.3.7."""
    return half_width / math.sqrt(3)
