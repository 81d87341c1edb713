"""How well the level is known when a check closes: an uncertainty budget in litres.

**What is estimated** is the fluid above (positive) or below the right filling, in L. The right
filling is the one that drips over the standpipe's rim at the sheet's ``drip_rate``, on a level
vehicle, at the temperature that the pipe was cut for, T_ref; with it the transmission holds the
sheet's ``capacity``. Closed at T and at the drip rate that was judged::

    excess = capacity · (VCF(T) / VCF(T_ref) - 1) + tilt error + head(judged) - head(drip_rate)

where a head is the fluid over the rim that lets so many drops pass; both with the same drop, rim
and viscosity. All but the first are volumes at T; bringing them to T_ref would change them by a
hundredth.

**What is known is not corrected.** Nobody adds or takes fluid for the tilt that was measured, for
closing off the middle of the band, or for a drip off the sheet's rate, so these stay in the level
as a *shift* with a value and a sign. An uncertainty must not stand in for a known effect (GUM
3.2.4), so the shift is told apart from it; only the bound for people adds both, |shift| + U, as
F.2.4.5 has it where a correction is not applied. Clauses are cited from memory.

**What the cold soak found.** A sensor that a rested vehicle shows to be off, and by more than the
comparison itself may be, is a recognised effect: the fluid is taken for what the sensor read less
that bias (GUM 3.2.3), which puts the level off by one more known part. How well the bias was found
adds to what is uncertain, and the ±2 K of any sensor stays beside it: a comparison in the cold does
not say how the sensor reads a hot filling. A bias within its own uncertainty is not recognised,
and those ±2 K have to hold it. What counts is the comparison that stood when the plug went in.

**Where in the band.** The temperature at closing is measured, so its distance from the middle
counts as shift. For which temperature the pipe was cut is not on the sheet, only that it lies in
the band and likelier near the middle: a triangle over the band (GUM 4.3.9). The sheet's acceptance
has to hold this, because the maker takes any temperature of the band for right.

**What does not enter.** Amounts poured in or run off: the rim sets the level, whatever the jug
said; a jug matters to the ledger alone. Left out as unknown, all of which makes the level less
certain: pan and pipe as built, foam, what converter and cooler hold back. So it is "at least".

The figures assumed here are constants with their basis. As guesses good to a quarter they count
8 degrees of freedom each (GUM G.4.2).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from brimline.estimate.amounts import fluid_expansion, reference_of
from brimline.estimate.sensor_check import bias_found
from brimline.physics import tilt
from brimline.physics.cold_soak import COVERAGE
from brimline.physics.run_off import (
    DROP_SPREAD_L,
    RIM_SPREAD,
    VISCOSITY_SPREAD,
    Outlet,
    surplus_at,
)
from brimline.physics.uncertainty import (
    Budget,
    Input,
    freedom_of_guess,
    propagate,
    rectangular,
    triangular,
)
from brimline.physics.viscosity import kinematic_viscosity
from brimline.physics.volume import CASE_EXPANSION, Expansion, change
from brimline.procedure.estimates import (
    KnownPart,
    LevelContribution,
    LevelEstimated,
    LevelKnown,
)
from brimline.procedure.events import Flow, FlowJudged
from brimline.procedure.state import CheckState, Closing, End
from brimline.procedure.tilting import READING_DEG, mean_tilt
from brimline.specsheet.model import Fluid, SpecSheet

VERSION = 3
"""Version of this budget; a record keeps the one that it was made with."""

SENSOR_HALF_K = 2.0
"""A transmission's own sensor, and the place it sits in, against the filling (from memory)."""

SHOWN_HALF_K = 0.5
"""Half a step of a signal that comes in whole °C, as most do (common practice, no source)."""

KEYED_HALF_K = 1.0
"""More where a person keyed it in: the fluid warms a degree or two before that goes stale."""

DRIP_HALF = 0.25
"""Drops counted by eye over some seconds are right within this part (common practice, no source)"""

FEWEST_DROPS = 1 / 60
"""Fewer than one drop a minute pass for none (common practice, no source)."""

_GUESS = freedom_of_guess(0.25)

INPUTS = (
    "sensor_temperature", "reference_temperature", "expansion", "tilt_lengthwise",
    "tilt_crosswise", "drip_rate", "drop_size", "wetted_rim", "viscosity",
)  # fmt: skip
"""Codes of the contributions, in the order of the budget."""

KNOWN = ("temperature", "sensor", "tilt", "drip")
"""Codes of the known parts of the shift; the sensor's only where it was found to be off."""


@dataclass(frozen=True, slots=True)
class LevelBudget:
    """How well the level is known; amounts in L.

    :param budget: its estimate is the shift; its rows are in the order of :data:`INPUTS`.
    :param known: the parts of the shift, in the order of :data:`KNOWN`.
    :param acceptance: by how much the level may be off, from the sheet.
    """

    budget: Budget
    known: tuple[KnownPart, ...]
    acceptance: float

    @property
    def verdict(self) -> LevelKnown:
        """Whether the level surely keeps to the acceptance, surely not, or neither.

        The interval shift ± U must lie wholly inside or wholly outside (guarded acceptance and
        rejection of JCGM 106, from memory).
        """
        shift, expanded = abs(self.budget.estimate), self.budget.expanded()
        if shift + expanded <= self.acceptance:
            return LevelKnown.WITHIN
        return LevelKnown.EXCEEDS if shift - expanded > self.acceptance else LevelKnown.DOUBTFUL

    def event(self, t: float) -> LevelEstimated:
        """Return this as an entry for the record, at ``t`` s of the check."""
        return LevelEstimated(
            t=t,
            model=VERSION,
            shift=self.budget.estimate,
            combined=self.budget.combined,
            coverage=self.budget.coverage(),
            expanded=self.budget.expanded(),
            acceptance=self.acceptance,
            verdict=self.verdict,
            known=self.known,
            contributions=tuple(
                LevelContribution(name=row.source.name, standard=row.standard, share=row.share)
                for row in self.budget.rows
            ),
        )


def level_budget(state: CheckState) -> LevelBudget | None:
    """Return how well the level is known, or ``None`` where it was not set or cannot be told.

    It takes a level that was reached and is still the end of the check, the temperature and the
    tilt of that moment, a band with two ends, and a fluid in the range of the formulas: -50 to
    150 °C, 800 to 1164 kg/m³ (or an expansion coefficient), at least 2 mm²/s at 100 °C.
    """
    fluid = None if state.fluid is None else state.sheet.fluid(state.fluid.product)
    inputs = None if fluid is None else _inputs(state, fluid)
    if fluid is None or inputs is None:
        return None
    try:
        bias, _ = _found_off(state.closing)
        excess = _Excess(state.sheet, fluid, inputs[0].estimate, bias)
        budget = propagate(excess.of, inputs)
        known = tuple(excess.parts(*(each.estimate for each in inputs)))
    except ValueError:  # outside the range of a formula: no figure is better than a wrong one
        return None
    parts = (KnownPart(name=n, litres=part) for n, part in zip(KNOWN, known, strict=True))
    told = tuple(part for part in parts if bias or part.name != "sensor")
    return LevelBudget(budget, told, state.sheet.level.acceptance)


def estimated_level(state: CheckState, t: float) -> LevelEstimated | None:
    """Return the entry that goes into a record just before its closing at ``t`` s, if any."""
    known = level_budget(state)
    return None if known is None else known.event(t)


def _inputs(state: CheckState, fluid: Fluid) -> tuple[Input, ...] | None:
    closing, flow, band = state.closing, state.level.flow, state.band
    set_now = state.end is End.LEVEL and state.aborted is None and not closing.stripped
    if not set_now or closing.celsius is None or closing.tilt is None:
        return None
    expansion = fluid_expansion(fluid)
    if flow is None or band.low is None or expansion is None:
        return None
    reference = reference_of(band)
    lengthwise, crosswise = mean_tilt(closing.tilt)
    angle = tilt.reversal_uncertainty(READING_DEG)
    bias, bias_spread = _found_off(closing)
    sensor = math.hypot(
        rectangular(SENSOR_HALF_K),
        rectangular(SHOWN_HALF_K),
        rectangular(KEYED_HALF_K if closing.keyed else 0.0),
        bias_spread,
    )
    values = (
        (closing.celsius - bias, sensor, _GUESS),
        (reference, triangular(reference - band.low), math.inf),
        (expansion.coefficient, _expansion_spread(expansion), _GUESS),
        (lengthwise, angle, _GUESS),
        (crosswise, angle, _GUESS),
        (*_rate(flow), _GUESS),
        (*_middle(*DROP_SPREAD_L), _GUESS),
        (*_middle(*RIM_SPREAD), _GUESS),
        (1.0, rectangular(VISCOSITY_SPREAD), _GUESS),
    )
    return tuple(Input(name, *three) for name, three in zip(INPUTS, values, strict=True))


def _found_off(closing: Closing) -> tuple[float, float]:
    """By how many K the cold soak found the sensor to read too high, and how well that is known.

    The second is a standard uncertainty; both are 0 where nothing was found.
    """
    found = bias_found(closing.sensor, closing.sensor_celsius)
    if found is None or found.bias is None or found.uncertainty is None:
        return 0.0, 0.0
    return found.bias, found.uncertainty / COVERAGE


def _expansion_spread(expansion: Expansion) -> float:
    """Standard uncertainty in 1/K: the fluid's, and the case, which may grow with it or not."""
    return math.hypot(expansion.coefficient * expansion.uncertainty, rectangular(CASE_EXPANSION))


def _rate(flow: FlowJudged) -> tuple[float, float]:
    """Drops per second as the level was accepted, and their standard uncertainty."""
    if flow.flow is Flow.DRIPS and flow.drops_per_second:
        return flow.drops_per_second, rectangular(DRIP_HALF * flow.drops_per_second)
    return _middle(0.0, FEWEST_DROPS)


def _middle(low: float, high: float) -> tuple[float, float]:
    return (low + high) / 2, rectangular((high - low) / 2)


class _Excess:
    """The model: fluid above the right filling in L.

    :param celsius: of the fluid at closing, in °C; the sensor showed ``bias`` K more.
    """

    def __init__(self, sheet: SpecSheet, fluid: Fluid, celsius: float, bias: float) -> None:
        level = sheet.level
        self._bias = bias
        self._level = level
        self._right_drops = level.drip_rate
        self._outlet = Outlet.fitted(level.standpipe_bore, level.plug_hole, level.pan_area)
        self._viscosity = kinematic_viscosity(
            celsius, fluid.viscosity_40 or math.nan, fluid.viscosity_100 or math.nan
        )

    def of(self, *inputs: float) -> float:
        """The whole of it, from values in the order of :data:`INPUTS`."""
        return sum(self.parts(*inputs))

    def parts(self, *inputs: float) -> Iterator[float]:
        """The same by cause, in the order of :data:`KNOWN`."""
        as_shown = self._expanded(inputs[0] + self._bias, *inputs[1:3])
        yield as_shown
        yield self._expanded(*inputs[:3]) - as_shown
        yield self._tilted(*inputs[3:5])
        yield self._head(*inputs[5:])

    def _expanded(self, celsius: float, reference: float, expansion: float) -> float:
        return change(self._level.capacity, celsius, reference, expansion)

    def _tilted(self, lengthwise: float, crosswise: float) -> float:
        level = self._level
        return tilt.level_error(
            level.pan_area, level.standpipe_forward, level.standpipe_right, lengthwise, crosswise
        )

    def _head(self, drops: float, drop: float, rim: float, thickness: float) -> float:
        """Over the right filling, which by the sheet's own word still drips at its rate."""
        wetted = replace(self._outlet, rim=self._outlet.rim * rim)
        judged, right = (
            surplus_at(wetted, rate * drop, self._viscosity * thickness)
            for rate in (drops, self._right_drops)
        )
        return judged - right
