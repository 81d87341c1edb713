"""An uncertainty budget as the GUM makes it (JCGM 100:2008).

First-order law of propagation for independent inputs (equation 10), standard uncertainties of
bounded quantities (4.3.7, 4.3.9, H.1.3.4), effective degrees of freedom by Welch-Satterthwaite
(equation G.2b), expanded uncertainty by Student's t (G.6.4). The numbers of the GUM's own example
H.1 were read in a public transcription of it; its clauses are cited from memory.

Left out: correlated inputs (equation 13), because no budget of this program has any, and terms of
second order (5.1.2, note), so a function must be nearly straight over an input's uncertainty.
Student's t comes from its finite series for a whole number of degrees of freedom (Abramowitz and
Stegun, 26.7.3 and 26.7.4, from memory), turned round by halving the interval.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import NormalDist

LEVEL_OF_CONFIDENCE = 0.95
"""What an expanded uncertainty of this program covers unless it says otherwise."""

_STEP = 0.01
"""Step of a central difference as a part of the standard uncertainty: small enough for a slope,
large enough not to drown in rounding where an input is known to one part in a million."""

_MANY = 200
"""From so many degrees of freedom on, t comes from its expansion about the normal distribution
(Abramowitz and Stegun, 26.7.5, from memory), which is then right to 1e-9."""


def rectangular(half_width: float) -> float:
    """Return the standard uncertainty of a quantity known to lie within ``± half_width``.

    :param half_width: at least 0, in the quantity's own unit, which is also that of the result.
    :raises ValueError: a negative or endless half-width; likewise in the two functions below.
    """
    return _bounded(half_width) / math.sqrt(3)


def triangular(half_width: float) -> float:
    """The same where the middle is likelier than the edges: a symmetric triangle (4.3.9)."""
    return _bounded(half_width) / math.sqrt(6)


def arcsine(half_width: float) -> float:
    """The same for what swings to and fro as a sine, such as a cycling temperature (H.1.3.4)."""
    return _bounded(half_width) / math.sqrt(2)


def _bounded(half_width: float) -> float:
    if not 0 <= half_width < math.inf:
        raise ValueError("a half-width must be a number of 0 or more")
    return half_width


def freedom_of_guess(relative: float) -> float:
    """Return the degrees of freedom of a standard uncertainty that is itself a guess (G.4.2).

    :param relative: how far the standard uncertainty may be off, as a part of it; above 0. A
        quarter gives 8.
    :raises ValueError: not above 0.
    """
    if not relative > 0:
        raise ValueError("the doubt must be above 0")
    return 0.5 / relative**2


@dataclass(frozen=True, slots=True)
class Input:
    """One input quantity: its estimate, standard uncertainty and degrees of freedom.

    :param standard: standard uncertainty in the unit of ``estimate``, at least 0.
    :param freedom: degrees of freedom, above 0; infinite where the bounds are certain.
    :raises ValueError: outside those ranges.
    """

    name: str
    estimate: float
    standard: float
    freedom: float = math.inf

    def __post_init__(self) -> None:
        if not (math.isfinite(self.estimate) and 0 <= self.standard < math.inf):
            raise ValueError(f"{self.name}: a standard uncertainty is a number of 0 or more")
        if not self.freedom > 0:
            raise ValueError(f"{self.name}: degrees of freedom must be above 0")


@dataclass(frozen=True, slots=True)
class Contribution:
    """One row of a budget.

    :param sensitivity: ∂f/∂x at the estimates.
    :param standard: sensitivity · standard uncertainty of the input, unsigned, in the output's
        unit.
    :param share: part of the combined variance, 0 to 1; all shares together make 1.
    """

    source: Input
    sensitivity: float
    standard: float
    share: float


@dataclass(frozen=True, slots=True)
class Budget:
    """A whole budget; the rows in the order of the inputs, all in the output's unit.

    :param freedom: effective degrees of freedom, infinite where no input limits them.
    """

    estimate: float
    rows: tuple[Contribution, ...]
    combined: float
    freedom: float

    def coverage(self, confidence: float = LEVEL_OF_CONFIDENCE) -> float:
        """Return the coverage factor k for a level of confidence, 0 to 1 exclusive.

        Degrees of freedom are cut to the next lower whole number, at least 1 (G.4.1).
        """
        return coverage_factor(self.freedom, confidence)

    def expanded(self, confidence: float = LEVEL_OF_CONFIDENCE) -> float:
        """Return the expanded uncertainty, k · combined."""
        return self.coverage(confidence) * self.combined


def combine(estimate: float, inputs: Sequence[Input], sensitivities: Sequence[float]) -> Budget:
    """Return the budget of an output whose sensitivities are known.

    :raises ValueError: not one finite sensitivity for each input.
    """
    if len(inputs) != len(sensitivities) or not all(map(math.isfinite, sensitivities)):
        raise ValueError("each input needs one finite sensitivity")
    parts = [abs(c) * each.standard for c, each in zip(sensitivities, inputs, strict=True)]
    combined = math.hypot(*parts)
    shares = [(part / combined) ** 2 if combined else 0.0 for part in parts]
    rows = tuple(map(Contribution, inputs, sensitivities, parts, shares))
    return Budget(estimate, rows, combined, effective_freedom(rows))


def propagate(function: Callable[..., float], inputs: Sequence[Input]) -> Budget:
    """Return the budget of ``function``, called with the estimates in the order of ``inputs``.

    Sensitivities are central differences over a hundredth of each standard uncertainty; that of
    an input without uncertainty is given as 0, because it does not matter.

    :raises ValueError: the function has no finite slope there.
    """
    at = [each.estimate for each in inputs]
    slopes = [_slope(function, at, place, each.standard) for place, each in enumerate(inputs)]
    return combine(function(*at), inputs, slopes)


def _slope(
    function: Callable[..., float], at: Sequence[float], place: int, standard: float
) -> float:
    step = _STEP * standard
    above, below = at[place] + step, at[place] - step
    if above == below:
        return 0.0
    high = function(*at[:place], above, *at[place + 1 :])
    low = function(*at[:place], below, *at[place + 1 :])
    return (high - low) / (above - below)


def effective_freedom(rows: Sequence[Contribution]) -> float:
    """Return the effective degrees of freedom (Welch-Satterthwaite, G.2b)."""
    weight = sum(row.share**2 / row.source.freedom for row in rows)
    return 1 / weight if weight > 0 else math.inf


def coverage_factor(freedom: float, confidence: float) -> float:
    """Return k such that Student's t lies within ``± k`` with that probability.

    :param freedom: degrees of freedom above 0, infinite allowed; cut to the next lower whole
        number (G.4.1), and below 1 taken as 1.
    :param confidence: between 0 and 1, both exclusive.
    :raises ValueError: outside those ranges.
    """
    if not (freedom > 0 and 0 < confidence < 1):
        raise ValueError("degrees of freedom lie above 0, a level of confidence between 0 and 1")
    normal = NormalDist().inv_cdf((1 + confidence) / 2)
    if math.isinf(freedom):
        return normal
    whole = max(1, math.floor(freedom))
    if whole >= _MANY:
        return _expanded_about_normal(normal, whole)
    low, high = 0.0, math.pi / 2
    for _ in range(60):  # t = √ν · tan θ; sixty halvings exhaust a double
        middle = (low + high) / 2
        low, high = (middle, high) if _within(middle, whole) < confidence else (low, middle)
    return math.sqrt(whole) * math.tan((low + high) / 2)


def _within(theta: float, freedom: int) -> float:
    """Probability that t stays within ±√ν · tan θ (26.7.3 for odd ν, 26.7.4 for even)."""
    cosine, sine = math.cos(theta), math.sin(theta)
    odd = freedom % 2
    term = cosine if odd else 1.0
    total = 0.0
    for power in range(1 if odd else 0, freedom - 1, 2):
        total += term
        term *= (power + 1) / (power + 2) * cosine**2
    return 2 / math.pi * (theta + sine * total) if odd else sine * total


def _expanded_about_normal(x: float, freedom: int) -> float:
    g1 = (x**3 + x) / 4
    g2 = (5 * x**5 + 16 * x**3 + 3 * x) / 96
    g3 = (3 * x**7 + 19 * x**5 + 17 * x**3 - 15 * x) / 384
    g4 = (79 * x**9 + 776 * x**7 + 1482 * x**5 - 1920 * x**3 - 945 * x) / 92160
    return x + sum(g / float(freedom) ** n for n, g in enumerate((g1, g2, g3, g4), start=1))
