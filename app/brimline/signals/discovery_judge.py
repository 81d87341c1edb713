"""How a series of values behaves, and how much that is like a fluid's temperature.

The limits are this program's own choice, each for the reason beside it. Findings are codes with
numbers in °C, K and K/min; :func:`finding_words` says them in the units that people read.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from itertools import pairwise
from statistics import fmean, median

from brimline.reading import SignalName
from brimline.signals.limits import LIMITS
from brimline.translation import marked, tr
from brimline.units import UnitSystem

SPACING_S = 1.0
"""Values are kept once a second; a fluid does not change within one."""

MOST_SAMPLES = 1200
"""A series that is longer is thinned to half, again and again."""

BIN_S = 30.0
"""Rates and comparisons look at means over so long, which levels sensor noise."""

SHORTEST_S = 180.0
"""Below that nothing is said: an idling engine warms coolant by some 10 K in it."""

SMALLEST_RISE = 5.0
"""In K: less could be the drift of anything."""

FASTEST = 40.0
"""In K/min, between half minutes. The coolant of the shipped drive of a real car gains 13 K from
one half minute to the next at its beginning, which is 26 K/min, and nothing with mass is much
faster."""

NEARLY_WARM = 0.9
"""Of its whole rise. Behind that a thermostat opens and closes, and values go up and down."""

STEADY_SHARE = 0.8
"""Of all that a series goes up and down until it is nearly warm, so much must remain."""

KEPT_SHARE = 0.5
"""Of what it has then risen, so much must stay for good; what a thermostat lets in takes a tenth in
the shipped drive."""

SAME_WITHIN = 2.0
"""In K: two senders of one temperature differ by rounding and age."""

SLOWER = 0.8
"""A candidate that gains less than this share of the coolant's gain is slower than it: the fluid
is warmed by the converter and by the coolant, so it lags (common practice, no source)."""

COLD_START = 10.0
"""In K: after a night all fluids begin alike."""

COARSEST = 2.0
"""In K: sensors count in steps of 1 K or less."""

_JUMP = 5.0  # K within a second: no fluid
_MOST_JUMPS = 0.01


class Likeness(StrEnum):
    """What a candidate may be; even the first is a proposal."""

    FLUID = "fluid"
    SOMETHING = "something"
    NONE = "none"


class Observation(StrEnum):
    """What is found about a candidate; the numbers of each are in :class:`Finding`."""

    CALLED_FLUID = "called_fluid"
    CALLED_OTHERWISE = "called_otherwise"  # word
    SLOWER_THAN_COOLANT = "slower_than_coolant"  # first: its rise, second: the coolant's, in K
    NOT_SLOWER = "not_slower"  # the same
    SAME_AS_COOLANT = "same_as_coolant"  # first: largest difference in K
    COOLANT_UNKNOWN = "coolant_unknown"
    STARTS_LIKE_COOLANT = "starts_like_coolant"  # first: difference in K
    IN_RANGE = "in_range"  # lowest and highest in °C
    ROSE = "rose"  # in K
    STEADY = "steady"  # first: share, 0 to 1
    SLOW = "slow"  # first: K/min
    FINE_STEPS = "fine_steps"  # first: step in K
    ENGINE_UNKNOWN = "engine_unknown"
    TOO_SHORT = "too_short"  # first: seconds
    OUT_OF_RANGE = "out_of_range"  # lowest and highest in °C
    NOT_RISING = "not_rising"  # first: rise in K
    FALLS_BACK = "falls_back"  # first: share, 0 to 1
    TOO_FAST = "too_fast"  # first: K/min
    JUMPS = "jumps"
    COARSE = "coarse"  # first: step in K


_POINTS = {
    Observation.CALLED_FLUID: 40,
    Observation.CALLED_OTHERWISE: -60,
    Observation.SLOWER_THAN_COOLANT: 25,
    Observation.NOT_SLOWER: -15,
    Observation.SAME_AS_COOLANT: -30,
    Observation.STARTS_LIKE_COOLANT: 10,
    Observation.FINE_STEPS: 5,
    Observation.COARSE: -10,
}
_BEHAVES = 40  # in range, rising, steady and slow: a temperature of something


@dataclass(frozen=True)
class Finding:
    """One reason, with its numbers; see :class:`Observation`."""

    what: Observation
    first: float = 0.0
    second: float = 0.0
    word: str = ""


@dataclass
class Track:
    """The values of one candidate, thinned so that their number is bounded."""

    latest: float = 0.0
    """In °C."""
    _times: list[float] = field(default_factory=list)
    _values: list[float] = field(default_factory=list)
    _spacing: float = SPACING_S

    def add(self, t: float, celsius: float) -> None:
        """Take a value; what comes sooner than a second after another is passed over."""
        self.latest = celsius
        if self._times and t - self._times[-1] < self._spacing * 0.9:
            return
        self._times.append(t)
        self._values.append(celsius)
        if len(self._times) > MOST_SAMPLES:
            self._times, self._values = self._times[::2], self._values[::2]
            self._spacing *= 2

    @property
    def length(self) -> float:
        """From the first to the last value in s."""
        return self._times[-1] - self._times[0] if self._times else 0.0

    @property
    def extremes(self) -> tuple[float, float]:
        """Lowest and highest value in °C."""
        return min(self._values), max(self._values)

    @property
    def step(self) -> float:
        """Smallest difference between values that follow each other, in K; 0 if there is none."""
        steps = [abs(b - a) for a, b in pairwise(self._values) if a != b]
        return min(steps, default=0.0)

    @property
    def jumps(self) -> float:
        """Share of values that differ by more than any fluid could from the one before."""
        pairs = list(pairwise(zip(self._times, self._values, strict=True)))
        wild = sum(abs(b - a) > _JUMP * max(1.0, u - t) for (t, a), (u, b) in pairs)
        return wild / len(pairs) if pairs else 0.0

    def means(self) -> dict[int, float]:
        """Return the mean of each half minute, by its number on the clock."""
        bins: dict[int, list[float]] = {}
        for t, value in zip(self._times, self._values, strict=True):
            bins.setdefault(int(t // BIN_S), []).append(value)
        return {at: fmean(values) for at, values in bins.items()}


def judge_track(
    track: Track,
    *,
    coolant: Track | None,
    called: str | None,
    is_the_one: bool,
    engine_known: bool,
) -> tuple[Likeness, int, tuple[Finding, ...]]:
    """Return what a candidate may be, its score (0 to 100) and the reasons.

    :param coolant: the coolant's values, where they are known.
    :param called: what a standard calls the candidate, if any does.
    :param is_the_one: a standard calls it the transmission fluid's temperature.
    :param engine_known: whether it is known that the engine ran.
    """
    why_not = _exclusion(track)
    if why_not is not None:
        return Likeness.NONE, 0, (why_not,)
    findings = []
    if is_the_one:
        findings.append(Finding(Observation.CALLED_FLUID))
    elif called is not None:
        findings.append(Finding(Observation.CALLED_OTHERWISE, word=called))
    if called is None or is_the_one:
        findings += _against_coolant(track, coolant)
    findings += _behaviour(track)
    if not engine_known:
        findings.append(Finding(Observation.ENGINE_UNKNOWN))
    score = _BEHAVES + sum(_POINTS.get(each.what, 0) for each in findings)
    found = {each.what for each in findings}
    slower = Observation.SLOWER_THAN_COOLANT in found
    if Observation.CALLED_OTHERWISE in found:
        likeness = Likeness.NONE
    elif (is_the_one or slower) and Observation.SAME_AS_COOLANT not in found:
        likeness = Likeness.FLUID
    else:
        likeness = Likeness.SOMETHING
    return likeness, max(0, min(100, score)), tuple(findings)


def _exclusion(track: Track) -> Finding | None:
    """Return the first reason why a candidate is no fluid's temperature, if there is one."""
    if track.length < SHORTEST_S:
        return Finding(Observation.TOO_SHORT, track.length)
    lowest, highest = track.extremes
    low, high = LIMITS[SignalName.FLUID_TEMPERATURE]
    if lowest < low or highest > high:
        return Finding(Observation.OUT_OF_RANGE, lowest, highest)
    means = list(track.means().items())
    rise, share, rate, kept = _rise(means), _steadiness(means), _fastest(means), _kept(means)
    reasons = (
        (track.jumps > _MOST_JUMPS, Finding(Observation.JUMPS)),
        (rise < SMALLEST_RISE, Finding(Observation.NOT_RISING, rise)),
        (share < STEADY_SHARE, Finding(Observation.FALLS_BACK, share)),
        (kept < KEPT_SHARE, Finding(Observation.FALLS_BACK, max(0.0, kept))),
        (rate > FASTEST, Finding(Observation.TOO_FAST, rate)),
    )
    return next((finding for applies, finding in reasons if applies), None)


def _behaviour(track: Track) -> list[Finding]:
    means = list(track.means().items())
    step = track.step
    fine = Observation.FINE_STEPS if step <= COARSEST else Observation.COARSE
    return [
        Finding(Observation.ROSE, _rise(means)),
        Finding(Observation.STEADY, _steadiness(means)),
        Finding(Observation.SLOW, _fastest(means)),
        Finding(Observation.IN_RANGE, *track.extremes),
        Finding(fine, step),
    ]


def _rise(means: list[tuple[int, float]]) -> float:
    return max(value for _, value in means) - means[0][1]


def _nearly_warm(values: list[float]) -> int:
    warm = values[0] + NEARLY_WARM * (max(values) - values[0])
    return next(at for at, value in enumerate(values) if value >= warm)


def _steadiness(means: list[tuple[int, float]]) -> float:
    """Return how much of all ups and downs remains when it is nearly warm, 0 to 1."""
    values = [value for _, value in means]
    end = _nearly_warm(values)
    gone = sum(abs(b - a) for a, b in pairwise(values[: end + 1]))
    return (values[end] - values[0]) / gone if gone else 0.0


def _kept(means: list[tuple[int, float]]) -> float:
    """Return how much of the rise is there at the lowest value behind it; 1 for all."""
    values = [value for _, value in means]
    end = _nearly_warm(values)
    risen = values[end] - values[0]
    return (min(values[end:]) - values[0]) / risen if risen else 0.0


def _fastest(means: list[tuple[int, float]]) -> float:
    """Return the fastest change between neighbouring half minutes, in K/min."""
    rates = (
        abs(b - a) / ((later - sooner) * BIN_S / 60) for (sooner, a), (later, b) in pairwise(means)
    )
    return max(rates, default=0.0)


def _against_coolant(track: Track, coolant: Track | None) -> list[Finding]:
    unknown = [Finding(Observation.COOLANT_UNKNOWN)]
    if coolant is None:
        return unknown
    ours, theirs = track.means(), coolant.means()
    common = sorted(ours.keys() & theirs.keys())
    if len(common) * BIN_S < SHORTEST_S:
        return unknown
    apart = [abs(ours[at] - theirs[at]) for at in common]
    # Up to where the coolant is nearly warm; behind that nothing lags any more.
    warm = theirs[common[0]] + NEARLY_WARM * (max(theirs[at] for at in common) - theirs[common[0]])
    end = next(at for at in common if theirs[at] >= warm)
    gain, coolants = ours[end] - ours[common[0]], theirs[end] - theirs[common[0]]
    if coolants < SMALLEST_RISE:
        return unknown
    findings = []
    if median(apart) <= SAME_WITHIN:
        findings.append(Finding(Observation.SAME_AS_COOLANT, max(apart)))
    else:
        slower = gain < SLOWER * coolants
        what = Observation.SLOWER_THAN_COOLANT if slower else Observation.NOT_SLOWER
        findings.append(Finding(what, gain, coolants))
    if apart[0] <= COLD_START:
        findings.append(Finding(Observation.STARTS_LIKE_COOLANT, apart[0]))
    return findings


_SENTENCES = {
    Observation.CALLED_FLUID: marked("The standard calls it the transmission oil temperature."),
    Observation.CALLED_OTHERWISE: marked("It is known as something else: {word}."),
    Observation.SLOWER_THAN_COOLANT: marked(
        "It rose by {first} while the coolant rose by {second}, as a transmission's fluid lags."
    ),
    Observation.NOT_SLOWER: marked(
        "It rose by {first} while the coolant rose by {second}; a "
        "transmission's fluid usually lags more."
    ),
    Observation.SAME_AS_COOLANT: marked(
        "It stays within {first} of the coolant: it may be the coolant itself."
    ),
    Observation.COOLANT_UNKNOWN: marked(
        "There was no coolant temperature to compare it with: it may be the coolant."
    ),
    Observation.STARTS_LIKE_COOLANT: marked(
        "It began {first} from the coolant, as all fluids of a cold vehicle do."
    ),
    Observation.IN_RANGE: marked("It stayed between {first} and {second}."),
    Observation.ROSE: marked("It rose by {first} while the engine warmed."),
    Observation.STEADY: marked("It rose steadily: {first} of all ups and downs remained."),
    Observation.SLOW: marked("It changed by {first} a minute at most."),
    Observation.FINE_STEPS: marked("It counts in steps of {first}."),
    Observation.ENGINE_UNKNOWN: marked("Whether the engine ran is not known."),
    Observation.TOO_SHORT: marked("It was watched for {first} only."),
    Observation.OUT_OF_RANGE: marked("It went from {first} to {second}, which no fluid does."),
    Observation.NOT_RISING: marked("It rose by {first} only."),
    Observation.FALLS_BACK: marked("It goes up and down: {first} of the way remained."),
    Observation.TOO_FAST: marked("It changed by {first} a minute, faster than a fluid at idle."),
    Observation.JUMPS: marked("It jumps, as no fluid does."),
    Observation.COARSE: marked("It counts in steps of {first}, coarser than a sensor."),
}
_TEMPERATURE = (Observation.IN_RANGE, Observation.OUT_OF_RANGE)
_SHARES = (Observation.STEADY, Observation.FALLS_BACK)

LIKENESS_WORDS = {
    Likeness.FLUID: marked(
        "Behaves like a transmission's fluid; confirm it with a second instrument."
    ),
    Likeness.SOMETHING: marked(
        "The temperature of something, maybe of the coolant; confirm it with a second instrument."
    ),
    Likeness.NONE: marked("Not the temperature of a transmission's fluid."),
}


def finding_words(finding: Finding, units: UnitSystem) -> str:
    """Say a reason in one sentence, its numbers in the units that people read."""
    what = finding.what

    def number(value: float) -> str:
        if what in _TEMPERATURE:
            return units.temperature(value)
        if what in _SHARES:
            return f"{value:.0%}"
        if what is Observation.TOO_SHORT:
            return f"{value:.0f} s"
        return units.temperature_difference(value)

    return tr(
        _SENTENCES[what], first=number(finding.first), second=number(finding.second),
        word=tr(finding.word),
    )  # fmt: skip
