"""Taps of stages 7 and 8: plug out, first look, flow, pump, amounts, plug in."""

from __future__ import annotations

from dataclasses import replace

from brimline.condition.rules import shows_coolant
from brimline.procedure import events as ev
from brimline.procedure import facts, gates, observe, run_off
from brimline.procedure.gates import Gate
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import (
    BandPlace,
    Cause,
    CheckState,
    Closing,
    End,
    LedgerEntry,
    Level,
    PlugSpan,
)
from brimline.procedure.steps import Refusal, Step, refuse
from brimline.reading import Way

MAX_LITRES = 30.0
"""No passenger-vehicle or truck box holds more; a larger amount is a slip of the keyboard."""

_ENDS = {  # the first that applies, in this order
    Cause.COOLANT_SIGNS: End.REFERRED,
    Cause.RUN_OFF_LIMIT: End.STOPPED,
    Cause.RUN_OFF_TIME: End.STOPPED,
    Cause.TOP_UP_LIMIT: End.STOPPED,
}

_GROUND_ITEMS = frozenset(
    {ev.Item.LIFT_LOCKED, *gates.START_ITEMS, *gates.RAISE_ITEMS, *gates.LEAVE_ITEMS}
)
"""What is confirmed anew when a check starts again from the ground."""


def plug_out(state: CheckState, tap: ev.PlugOut) -> Step:
    """Stage 7: only when the gate was open at the tap's own moment."""
    against = gate_at(state, tap.at)
    if against:
        return Refusal(against)
    return _take_out(state, tap.at)


def gate_at(state: CheckState, at: float) -> tuple[Reason, ...]:
    """Return why the plug gate was closed at ``at``, up to a minute ago."""
    if at >= state.now:
        return gates.reasons(Gate.PLUG_OUT, state)
    moments = [moment for moment in state.gate_history if moment.t <= at]
    if not moments:
        return (Reason(Code.TOO_LATE),)
    now = {reason.key: reason for reason in gates.reasons(Gate.PLUG_OUT, state)}
    return tuple(now.get(key, Reason(*key)) for key in moments[-1].closed_by)


def _take_out(state: CheckState, at: float) -> CheckState:
    overridden = {override.code for override in state.active_overrides}
    return replace(
        run_off.opened_again(state, at),
        plug_spans=(*state.plug_spans, PlugSpan(at)),
        level=Level(pump_since=state.level.pump_since),
        overridden_at_plug=frozenset(overridden),
    )


def first_look(state: CheckState, tap: ev.FirstLook) -> Step:
    """Stage 8: judged before anything is added. Where nothing comes, a sample is drawn.

    Signs of coolant seen only with the plug in again, in the catch pan, refer all the same.
    """
    if not state.plug_spans:
        return refuse(Code.PLUG_IS_IN)
    state = replace(state, first_look=tap)
    if not shows_coolant(tap.findings):
        return state
    state = replace(state, coolant_seen=True)
    if state.plug_is_out:
        return observe.latch(state, Cause.COOLANT_SIGNS)
    return replace(state, end=End.REFERRED)


def judge_flow(state: CheckState, tap: ev.FlowJudged) -> Step:
    """Stage 8: what comes now. A drip straight after pumping is the pumped fluid, so it waits."""
    if not state.plug_is_out:
        return refuse(Code.PLUG_IS_IN)
    if state.level.pump_since is not None:
        return refuse(Code.PUMP_RUNS)
    if facts.settling(state, tap.at):
        return Refusal((Reason(Code.SETTLING, value=facts.settled_at(state)),))
    if tap.flow is ev.Flow.DRIPS and not _plausible_drip(tap):
        return refuse(Code.BAD_NUMBER)
    if level_shows(state, tap):
        return _reach(state, tap)
    return _take_flow_down(state, tap)


def _plausible_drip(tap: ev.FlowJudged) -> bool:
    return tap.drops_per_second is not None and 0 < tap.drops_per_second <= 20


def level_shows(state: CheckState, tap: ev.FlowJudged) -> bool:
    """Return whether what comes means that the fluid stands at the standpipe's rim."""
    if tap.flow is ev.Flow.DRIPS:
        return (tap.drops_per_second or 0.0) <= state.sheet.level.drip_rate
    return tap.flow is ev.Flow.NOTHING and state.level.overflowed


def _reach(state: CheckState, tap: ev.FlowJudged) -> Step:
    against = gates.reasons(Gate.LEVEL_REACHED, state)
    first_only = {reason.code for reason in against} == {Code.NO_FIRST_LOOK}
    if against and not first_only:
        return Refusal(against)
    level = replace(
        state.level,
        flow=tap,
        overflowed=True,
        reached_at=None if first_only else tap.at,
    )
    return replace(state, level=level, provisional=state.provisional and first_only)


def _take_flow_down(state: CheckState, tap: ev.FlowJudged) -> CheckState:
    comes = tap.flow is not ev.Flow.NOTHING
    since = state.level.run_off_since
    level = replace(
        state.level,
        flow=tap,
        overflowed=state.level.overflowed or comes,
        run_off_since=tap.at if comes and since is None else since,
        reached_at=None,
    )
    state = replace(state, level=level)
    state = run_off.seen(state, tap.flow) if comes else state
    exhausted = not comes and facts.top_up_left(state) <= 0.001
    return observe.latch(state, Cause.TOP_UP_LIMIT) if exhausted else state


def pump_started(state: CheckState, tap: ev.PumpStarted) -> Step:
    """Stage 8: fluid is pumped in, only through an open gate."""
    against = gates.reasons(Gate.TOP_UP, state)
    if against:
        return Refusal(against)
    return replace(state, level=replace(state.level, pump_since=tap.at, pump_off_at=None))


def pump_stopped(state: CheckState, tap: ev.PumpStopped) -> Step:
    """The amount goes into the ledger whatever happened meanwhile."""
    if state.level.pump_since is None:
        return refuse(Code.PUMP_NOT_RUNNING)
    if not 0 <= tap.litres <= MAX_LITRES:
        return refuse(Code.BAD_NUMBER)
    level = Level(pump_off_at=tap.at)
    product, lot = (state.fluid.product, state.fluid.lot) if state.fluid else ("", "")
    entry = LedgerEntry(tap.at, tap.litres, tap.fluid_celsius, product, lot)
    ledger = (*state.ledger, entry) if tap.litres > 0 else state.ledger
    state = replace(state, level=level, ledger=ledger)
    too_much = state.plug_is_out and facts.top_up_left(state) < -0.001
    return observe.latch(state, Cause.TOP_UP_LIMIT) if too_much else state


def run_off_measured(state: CheckState, tap: ev.RunOffMeasured) -> Step:
    """What the catch pan held; more than the sheet's maximum means a standpipe or a gross fault."""
    if not state.plug_spans:
        return refuse(Code.PLUG_IS_IN)
    if not 0 < tap.litres <= MAX_LITRES:
        return refuse(Code.BAD_NUMBER)
    ran_at = state.closing.celsius if not state.plug_is_out else facts.temperature(state)
    celsius = ran_at if tap.fluid_celsius is None else tap.fluid_celsius
    entry = LedgerEntry(tap.at, -tap.litres, celsius)
    state = replace(state, ledger=(*state.ledger, entry))
    if state.plug_is_out and state.run_off > state.sheet.level.max_run_off:
        return observe.latch(state, Cause.RUN_OFF_LIMIT)
    return state


def plug_in(state: CheckState, tap: ev.PlugIn) -> Step:
    """The plug is in. What follows depends on why it went in.

    A cause that came only after the plug was really in does not count.
    """
    if not state.plug_is_out:
        return refuse(Code.PLUG_IS_IN)
    span = replace(state.plug_spans[-1], until=max(tap.at, state.plug_spans[-1].since))
    causes = tuple(latched.cause for latched in state.latched if latched.at <= tap.at)
    state = replace(
        state,
        plug_spans=(*state.plug_spans[:-1], span),
        closing=_as_it_stands(state),
        latched=(),
        past_causes=(*state.past_causes, *causes),
    )
    ended = next((end for cause, end in _ENDS.items() if cause in causes), None)
    if ended is None and not causes and state.level.reached_at is not None:
        return replace(state, end=End.LEVEL, provisional=False)
    if ended is not None:
        return replace(state, end=ended)
    return _start_over(state, causes, span.until or tap.at)


def _as_it_stands(state: CheckState) -> Closing:
    last = state.temperature.last
    return Closing(
        seal=state.closing.seal,
        celsius=facts.temperature(state),
        keyed=last is not None and last.way is Way.KEYED,
        tilt=state.tilt,
        sensor=state.sensor,
        sensor_celsius=state.sensor_celsius,
    )


def _start_over(state: CheckState, causes: tuple[Cause, ...], at: float) -> CheckState:
    """Not done: again from circulation, or after an engine stop from the ground."""
    pumped = Level(pump_since=state.level.pump_since)
    state = replace(state, level=pumped, active_overrides=frozenset())
    if Cause.BAND_LEFT in causes:
        state = replace(state, circulate_from=at)
    if Cause.ENGINE_STOPPED in causes:
        state = observe.void_by_stop(state)
    if Cause.ENGINE_STOPPED in causes or Cause.NOT_SECURE in causes:
        state = replace(state, confirmed=state.confirmed - _GROUND_ITEMS, tilt=None)
    return state


def band_is_left(state: CheckState) -> bool:
    """Return whether the fluid has left its band, jitter and overrides allowed for."""
    if state.temperature.place is not BandPlace.OUTSIDE:
        return False
    standing = [r for r in gates.in_band(state) if not gates.overridden(state, r)]
    return any(reason.code is not Code.BAND_NOT_STEADY for reason in standing)


def is_insecure(state: CheckState) -> bool:
    """Return whether the vehicle is known to have left park, to move, or its lift unlocked."""
    selected = facts.selected_range(state)
    moves = state.speed is not None and state.speed > facts.MOVING_KMH
    return moves or (selected is not None and selected != facts.PARK) or not facts.raised(state)


def find_out(state: CheckState, at: float) -> CheckState:
    """The plug was found out where the record had it in: it goes in before anything else.

    A level that was accepted before has run off unseen.
    """
    if state.end is End.LEVEL:
        state = replace(state, end=None, provisional=True)
    return observe.latch(_take_out(state, at), Cause.FOUND_OUT)
