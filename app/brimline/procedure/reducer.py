"""The only way from one state of a level check to the next.

``reduce(state, event)`` first lets time pass up to the event (:func:`advance`) and then takes the
event in. Time passes in steps from deadline to deadline, each judged at its own moment, so that
``advance(advance(s, a), b)`` equals ``advance(s, b)`` however the time is cut. A refused tap
changes nothing but the time. Replaying a list of events gives the same state.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Any

from brimline.procedure import (
    alarms,
    cautions,
    facts,
    gates,
    observe,
    resuming,
    run_off,
    taps_close,
    taps_ground,
    taps_plug,
    undoing,
)
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import AlarmAcknowledged, CautionAcknowledged, Undone
from brimline.procedure.attaching import AttachmentKept
from brimline.procedure.deadlines import next_deadline
from brimline.procedure.effects import (
    AlarmCleared,
    AlarmRaised,
    Effect,
    PlugGateChanged,
    Refused,
    StageEntered,
)
from brimline.procedure.estimates import Estimate, LevelEstimated
from brimline.procedure.gates import Gate
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.stages import stage_of
from brimline.procedure.state import (
    BandPlace,
    Cause,
    CheckState,
    Evidence,
    GateMoment,
)
from brimline.procedure.steps import Refusal, Step
from brimline.reading import Reading, SignalName

Outcome = tuple[CheckState, tuple[Effect, ...]]

_HANDLERS: dict[type, Callable[[CheckState, Any], Step]] = {
    ev.VehicleIdentified: taps_ground.identify,
    ev.FluidChosen: taps_ground.choose_fluid,
    ev.FillPathChosen: taps_ground.choose_fill_path,
    ev.Confirmed: taps_ground.confirm,
    ev.Withdrawn: taps_ground.withdraw,
    ev.SensorChecked: taps_ground.check_sensor,
    ev.EngineStarted: taps_ground.engine_started,
    ev.EngineStopped: taps_ground.engine_stopped,
    ev.RangeSelected: taps_ground.select_range,
    ev.IdleSpeedNoted: taps_ground.note_idle_speed,
    ev.SignalWithdrawn: taps_ground.withdraw_signal,
    ev.TiltMeasured: taps_ground.measure_tilt,
    ev.GateOverridden: taps_ground.override,
    ev.HandedOver: taps_ground.hand_over,
    ev.PlugOut: taps_plug.plug_out,
    ev.FirstLook: taps_plug.first_look,
    ev.FlowJudged: taps_plug.judge_flow,
    ev.PumpStarted: taps_plug.pump_started,
    ev.PumpStopped: taps_plug.pump_stopped,
    ev.RunOffMeasured: taps_plug.run_off_measured,
    ev.PlugIn: taps_plug.plug_in,
    ev.EndedProvisional: taps_close.end_provisional,
    ev.SealDone: taps_close.seal_done,
    ev.PlugTorqued: taps_close.torque_plug,
    ev.PlugStripped: taps_close.plug_stripped,
    ev.LeakLook: taps_close.look_for_leak,
    ev.ConditionAssessed: taps_close.assess,
    AttachmentKept: taps_close.keep_attachment,
    AlarmAcknowledged: alarms.acknowledge,
    CautionAcknowledged: cautions.acknowledge,
    ev.CheckAborted: taps_close.abort,
    ev.CheckClosed: taps_close.close,
}


_AFTER_ABORT = (
    AlarmAcknowledged,
    AttachmentKept,
    ev.ConditionAssessed,
    ev.CheckClosed,
    ev.FirstLook,
    ev.PlugIn,
    ev.PumpStopped,
    ev.RunOffMeasured,
)
"""What is still taken after an abort: facts do not stop with the check."""


def open_check(opened: ev.CheckOpened) -> CheckState:
    """Return the state that the first event makes."""
    state = CheckState(
        opened=opened,
        now=opened.t,
        technician=opened.technician,
        measured=frozenset(opened.measured),
        circulate_from=opened.t,
    )
    return _settle(state)[0]


def replay(events: Iterable[ev.Event]) -> CheckState:
    """Return the state after a record's events, firing no effect.

    :raises ValueError: the list is empty or does not begin with the opening of a check.
    """
    listed = iter(events)
    first = next(listed, None)
    if first is None or first.kind != "check_opened":
        raise ValueError("a record begins with the opening of its check")
    state = open_check(first)
    for event in listed:
        state, _ = reduce(state, event)
    return state


def reduce(state: CheckState, event: ev.Event) -> Outcome:
    """Take one event in; an event older than the state is taken at the state's own time."""
    state, effects = advance(state, event.t)
    if state.closed is not None:
        return state, effects if isinstance(event, Reading) else (*effects, _over())
    if isinstance(event, ev.DeadlineReached):
        return state, effects
    if isinstance(event, Estimate):
        return _noted(state, event), effects
    if isinstance(event, Reading):
        current = replace(event, t=state.now) if event.t < state.now else event
        return _settled(undoing.seen(observe.on_reading(state, current), current), effects)
    return _answered(state, event, effects)


def _answered(
    state: CheckState, tap: ev.TapEvent | ev.CheckOpened, effects: tuple[Effect, ...]
) -> Outcome:
    if isinstance(tap, ev.CheckOpened):
        return state, (*effects, _over())
    if isinstance(tap, Undone):
        return _taken_back(state, effects)
    step = _tapped(state, tap)
    if isinstance(step, Refusal):
        return state, (*effects, Refused(step.reasons))
    after, effects = _settled(step, effects)
    return undoing.remembered(state, tap, after), effects


def _taken_back(state: CheckState, effects: tuple[Effect, ...]) -> Outcome:
    """Go back to the state that met the latest tap, and let what came since meet that."""
    known = undoing.allowed(state)
    if isinstance(known, Refusal):
        return state, (*effects, Refused(known.reasons))
    after = known.before
    for event in known.since:
        after, _ = reduce(after, event)
    after, _ = advance(after, state.now)
    return after, (*effects, *_differences(state, after))


def _differences(before: CheckState, after: CheckState) -> Iterator[Effect]:
    """Yield what those outside must know of a state that takes the place of another."""
    was, now = (gates.reasons(Gate.PLUG_OUT, state) for state in (before, after))
    if [reason.key for reason in was] != [reason.key for reason in now]:
        yield PlugGateChanged(now)
    yield from (AlarmRaised(alarm) for alarm in sorted(after.alarms - before.alarms))
    yield from (AlarmCleared(alarm) for alarm in sorted(before.alarms - after.alarms))
    if before.stage is not after.stage:
        yield StageEntered(after.stage)


def _noted(state: CheckState, estimate: Estimate) -> CheckState:
    if isinstance(estimate, LevelEstimated):
        return replace(state, level_estimate=estimate)
    return replace(state, forecast=estimate)


def _over() -> Refused:
    return Refused((Reason(Code.CHECK_OVER),))


def _tapped(state: CheckState, event: ev.TapEvent) -> Step:
    if not state.now - ev.MAX_LATE_S <= event.at <= state.now or event.at < state.opened.t:
        return Refusal((Reason(Code.TOO_LATE, limit=ev.MAX_LATE_S),))
    if state.aborted is not None and not _is_taken_after_abort(state, event):
        return Refusal((Reason(Code.CHECK_OVER),))
    if isinstance(event, ev.Resumed):
        return _resume(state, event)
    step = _HANDLERS[type(event)](state, event)
    if isinstance(event, ev.HandedOver) and isinstance(step, CheckState):
        step = cautions.unseen(step)
        return _found(step, event.t, event.plug_is_out, event.engine_runs)
    return step


def _is_taken_after_abort(state: CheckState, event: ev.TapEvent) -> bool:
    if isinstance(event, ev.Confirmed) and event.item in run_off.ANSWERS:
        return run_off.by_opening(state)
    told_again = state.opened.procedure >= resuming.ASKED_AGAIN_SINCE
    return isinstance(event, _AFTER_ABORT) or (told_again and isinstance(event, ev.Resumed))


def _resume(state: CheckState, event: ev.Resumed) -> CheckState:
    """After a gap nothing that needs watching is known: it is asked for again."""
    is_long = resuming.is_long(event.gap_s)
    state = replace(
        state,
        temperature=replace(state.temperature, inside_since=None, place=BandPlace.UNKNOWN),
        ranges=replace(state.ranges, current=None, seen_at=None),
        circulate_from=event.t if is_long else state.circulate_from,
        resumed=(*state.resumed, event),
    )
    state = cautions.unseen(state)
    state = observe.serve_idle(state, event.t)
    state = _found(state, event.t, event.plug_is_out, event.engine_runs)
    if is_long and state.opened.procedure >= resuming.ASKED_AGAIN_SINCE:
        state = resuming.ask_again(state, event)
    return state


def _found(state: CheckState, at: float, plug_is_out: bool, engine_runs: bool | None) -> CheckState:
    """Take what a person finds at the vehicle as the truth; ``None``: nobody looked."""
    if plug_is_out and not state.plug_is_out:
        state = taps_plug.find_out(state, at)
    elif state.plug_is_out and not plug_is_out:
        done = taps_plug.plug_in(state, ev.PlugIn(t=at))
        state = done if isinstance(done, CheckState) else state
    if engine_runs is None or facts.is_measured(state, SignalName.ENGINE_SPEED):
        return state
    runs = state.engine.running_since is not None
    if runs and not engine_runs:
        return observe.stop_engine(state, at)
    return observe.start_engine(state, at) if engine_runs and not runs else state


def advance(state: CheckState, t: float) -> Outcome:
    """Let time pass to ``t`` (s of the check); an earlier ``t`` changes nothing."""
    effects: tuple[Effect, ...] = ()
    while (due := next_deadline(state)) is not None and due.t <= t:
        state, effects = _settled(replace(state, now=due.t), effects)
    if t > state.now:
        state = replace(state, now=t)
    return undoing.forgotten(_forget_old_gates(state)), effects


def _settled(state: CheckState, before: tuple[Effect, ...]) -> Outcome:
    state, effects = _settle(state)
    return state, (*before, *effects)


def _settle(state: CheckState) -> Outcome:
    """Latch what the moment brings, then note what changed for those outside."""
    if state.closed is None:
        state = _latch_served(state)
        state = _latch_causes(state)
        state = _end_overrides(state)
    effects: list[Effect] = []
    state = _note_gate(state, effects)
    state = alarms.noted(state, effects)
    stage = stage_of(state)
    if stage is not state.stage:
        effects.append(StageEntered(stage))
        state = replace(state, stage=stage)
    return state, tuple(effects)


def _latch_served(state: CheckState) -> CheckState:
    """Serve what is attested by timer alone; what is measured is served by readings."""
    due = facts.range_due_at(state)
    attested = not facts.is_measured(state, SignalName.RANGE)
    if attested and due is not None and state.now >= due:
        state = observe.serve_range(state, due, Evidence.ATTESTED)
    if not facts.is_measured(state, SignalName.ENGINE_SPEED):
        state = observe.serve_idle(state, state.now)
    return state


def _latch_causes(state: CheckState) -> CheckState:
    """With the plug out, what demands it in; found wherever it and the open plug meet."""
    if not state.plug_is_out or state.aborted is not None or state.closing.stripped:
        return state
    stopped = facts.engine_known(state) and not facts.engine_runs(state)
    if stopped and Cause.ENGINE_STOPPED not in state.causes:
        state = observe.void_by_stop(observe.latch(state, Cause.ENGINE_STOPPED))
    if taps_plug.is_insecure(state):
        state = observe.latch(state, Cause.NOT_SECURE)
    if taps_plug.band_is_left(state):
        state = observe.latch(state, Cause.BAND_LEFT)
    if {Cause.BAND_LEFT, Cause.NOT_SECURE} & set(state.causes):
        state = replace(state, provisional=True)
    over_at = facts.run_off_over_at(state)
    if over_at is not None and state.now >= over_at:
        state = observe.latch(state, Cause.RUN_OFF_TIME)
    return state


def _end_overrides(state: CheckState) -> CheckState:
    """An override ends with the reason that it was given for."""
    if not state.active_overrides:
        return state
    standing = {reason.key for reason in gates.all_reasons(Gate.PLUG_OUT, state)}
    kept = frozenset(o for o in state.active_overrides if (o.code, o.word) in standing)
    return replace(state, active_overrides=kept)


def _note_gate(state: CheckState, effects: list[Effect]) -> CheckState:
    reasons = gates.reasons(Gate.PLUG_OUT, state)
    keys = tuple(reason.key for reason in reasons)
    history = state.gate_history
    if history and history[-1].closed_by == keys:
        return state
    effects.append(PlugGateChanged(reasons))
    kept = history[:-1] if history and history[-1].t == state.now else history
    return replace(state, gate_history=(*kept, GateMoment(state.now, keys)))


def _forget_old_gates(state: CheckState) -> CheckState:
    """Keep what a late tap may still ask for, and the moment before it."""
    horizon = state.now - ev.MAX_LATE_S
    old = [moment for moment in state.gate_history if moment.t <= horizon]
    if len(old) < 2:
        return state
    return replace(state, gate_history=state.gate_history[len(old) - 1 :])
