"""What the program reckoned and showed, kept as it was: never computed again from a record.

An estimate is an event so that a record needs no newer code to say what was known. The reducer
keeps it in the state; no gate reads it. The verdict reads whether a level is surely off.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal


class LevelKnown(StrEnum):
    """How what is known of the level compares with the spec sheet's acceptance."""

    WITHIN = "within"
    DOUBTFUL = "doubtful"
    EXCEEDS = "exceeds"


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownPart:
    """A known cause and the fluid in L that it leaves too much (positive) or too little."""

    name: str
    litres: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelContribution:
    """An input whose value is not exactly known: its standard uncertainty in L, and its part of
    the combined variance, 0 to 1."""

    name: str
    standard: float
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelEstimated:
    """How well the level is known as the check closes; all amounts in L at the closing.

    :param t: s of the check.
    :param model: version of the budget that this came from.
    :param shift: best estimate of fluid above (positive) or below the right filling; the sum of
        ``known``, and nothing was corrected for it.
    :param combined: standard uncertainty of ``shift``; ``expanded`` is ``coverage`` times that,
        for a level of confidence of 95 %.
    :param acceptance: by how much the level may be off, from the spec sheet.
    """

    t: float
    model: int
    shift: float
    combined: float
    coverage: float
    expanded: float
    acceptance: float
    verdict: LevelKnown
    known: tuple[KnownPart, ...]
    contributions: tuple[LevelContribution, ...]
    kind: Literal["level_estimated"] = "level_estimated"

    @property
    def bound(self) -> float:
        """The L within which the level lies of the right one: the shift and what it may be off."""
        return abs(self.shift) + self.expanded


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeLeft:
    """A distribution in short, all in s; ``None`` stands for never within two hours.

    :param median: half of it lies before; ``low`` and ``high`` enclose 80 %.
    :param never: probability that it does not happen within two hours.
    :param told: whether it was sharp enough to be told; otherwise it was too early to tell.
    """

    median: float | None
    low: float | None
    high: float | None
    never: float
    told: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastMade:
    """What was expected of the fluid as the check plug came out.

    :param t: s of the check.
    :param model: version of the forecast that this came from.
    :param basis: ``readings`` of this warm-up, or its ``start`` alone.
    :param seen_at: time of the latest reading then, in s of the check.
    :param entry: until the band is entered, counted from ``seen_at``; ``None`` inside.
    :param exit: until it is left.
    :param learned_from: how many earlier warm-ups of the family in the shop it knew.
    """

    t: float
    model: str
    basis: str
    seen_at: float
    entry: TimeLeft | None
    exit: TimeLeft
    learned_from: int
    kind: Literal["forecast_made"] = "forecast_made"


Estimate = LevelEstimated | ForecastMade
"""All that is kept this way."""
