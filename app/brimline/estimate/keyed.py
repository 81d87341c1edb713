"""Whether a keyed temperature needs a second look: it went further than fluid does at idle.

:mod:`brimline.physics.plausibility` says what fluid cannot do at all, stall heating included. A
person who types every half minute would never be asked anything by those limits, and a slip such
as 95 for 59 would pass. A guided check idles, so what is asked about here is narrower; the answer
is a person's, and nothing is refused. The least heat capacity is again that of 6 kg of fluid:

========  =====================================  ==============================================
engine    rises by at most                       falls by at most
========  =====================================  ==============================================
running   0.33 K/s: 60 N·m of an idling engine   1 K/s: a fan that takes 4 kW and a cooler that
          at 650 rpm are 4 kW in the converter   takes 8 kW at idle; with cold fluid pumped in
                                                 meanwhile as much as fluid can at all
else      as much as fluid can with the engine   the same
          off: 1 K/s
========  =====================================  ==============================================

All of these are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from brimline.physics import plausibility
from brimline.physics.plausibility import HEAT_CAPACITY, EngineState
from brimline.procedure import facts
from brimline.procedure.state import CheckState

IDLE_RISE = 4_000.0 / HEAT_CAPACITY
IDLE_FALL = 12_000.0 / HEAT_CAPACITY
"""In K/s."""


@dataclass(frozen=True)
class KeyedDoubt:
    """What is asked about: from one temperature (°C) to another, and in how many s."""

    before: float
    after: float
    elapsed: float


def keyed_doubt(state: CheckState, celsius: float) -> KeyedDoubt | None:
    """Return what is to be asked before a keyed temperature is taken, ``None`` for nothing.

    Without an earlier reading there is nothing to compare with.

    :param celsius: as keyed, −50 to 200 °C, read at the state's own time.
    """
    last = state.temperature.last
    if last is None or last.number is None:
        return None
    elapsed = max(0.0, state.now - last.t)
    engine = _engine_since(state, last.t)
    allowance = plausibility.step_allowance()
    change = celsius - last.number
    rise, fall = _limits(state, last.t, engine)
    usual = -fall * elapsed - allowance <= change <= rise * elapsed + allowance
    possible = plausibility.is_possible(last.number, celsius, elapsed, engine, allowance)
    return None if usual and possible else KeyedDoubt(last.number, celsius, elapsed)


def _engine_since(state: CheckState, since: float) -> EngineState:
    """Return what is known of the engine over the whole time from ``since`` (s) on."""
    engine = state.engine
    if not facts.engine_known(state):
        return EngineState.UNKNOWN
    if engine.running_since is not None:
        return EngineState.RUNNING if engine.running_since <= since else EngineState.UNKNOWN
    stands = engine.stopped_at is not None and engine.stopped_at <= since
    return EngineState.OFF if stands else EngineState.UNKNOWN


def _limits(state: CheckState, since: float, engine: EngineState) -> tuple[float, float]:
    level = state.level
    pumped = level.pump_since is not None or (level.pump_off_at or -1.0) >= since
    rise = (
        IDLE_RISE if engine is EngineState.RUNNING else plausibility.fastest_rise(EngineState.OFF)
    )
    return rise, plausibility.fastest_fall(engine) if pumped else IDLE_FALL
