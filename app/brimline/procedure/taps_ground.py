"""Taps of stages 1 to 6: identify, fluid, sensor, precondition, raise, to temperature."""

from __future__ import annotations

from dataclasses import replace

from brimline.procedure import edges, facts, gates, observe, resuming, run_off, sensing, tilting
from brimline.procedure import events as ev
from brimline.procedure.gates import Gate
from brimline.procedure.reasons import OVERRIDABLE, SAFETY, Code
from brimline.procedure.state import (
    Cause,
    CheckState,
    End,
    Evidence,
    Override,
    Temperature,
)
from brimline.procedure.steps import Refusal, Step, refuse
from brimline.reading import SignalName

COLDEST_C, HOTTEST_C = -60.0, 200.0
"""No hall, coolant or pan is colder or hotter; anything else is a slip of the keyboard."""

MAX_WITHIN_REACH_L = 100.0
"""Half a drum; a larger number is a slip of the keyboard."""

MAX_ODOMETER_KM = 3_000_000.0
"""No road vehicle has run further; a larger number is a slip of the keyboard."""


def identify(state: CheckState, tap: ev.VehicleIdentified) -> Step:
    """Stage 1; may be corrected until the plug comes out."""
    if tap.variant and tap.variant not in state.sheet.transmission.variants:
        return refuse(Code.UNKNOWN_VARIANT, tap.variant)
    if state.plug_spans and state.vehicle is not None:
        return refuse(Code.CHECK_OVER)
    if tap.odometer_km is not None and not 0 <= tap.odometer_km <= MAX_ODOMETER_KM:
        return refuse(Code.BAD_NUMBER, "odometer")
    return replace(state, vehicle=tap)


def choose_fluid(state: CheckState, tap: ev.FluidChosen) -> Step:
    """Stage 2: the product is taken down even where it is wrong; the gate then stays closed."""
    if state.end is not None:
        return refuse(Code.CHECK_OVER)
    chosen = replace(state, fluid=tap)
    if state.plug_is_out and tuple(gates.fluid_approved(chosen)):
        return Refusal(tuple(gates.fluid_approved(chosen)))
    return chosen


def choose_fill_path(state: CheckState, tap: ev.FillPathChosen) -> Step:
    """Stage 2."""
    if tap.name not in {path.name for path in state.sheet.fill_paths}:
        return refuse(Code.UNKNOWN_FILL_PATH, tap.name)
    if not 0 < tap.litres_within_reach <= MAX_WITHIN_REACH_L:
        return refuse(Code.BAD_NUMBER, "within_reach")
    return replace(state, fill_path=tap)


def confirm(state: CheckState, tap: ev.Confirmed) -> Step:
    """Any stage; what belongs to a raised vehicle only once it may go up."""
    stands_up = tap.item in gates.still_asked(state)  # it was raised before the gap
    if tap.item is ev.Item.LIFT_LOCKED and not stands_up:
        against = gates.reasons(Gate.RAISE, state)
        if against:
            return Refusal(against)
    if unfit := run_off.against(state, tap):
        return Refusal(unfit)
    not_measured = tap.item is ev.Item.RUN_OFF_NOT_MEASURED
    return replace(
        state,
        run_off_why=tap.reason.strip() if not_measured else state.run_off_why,
        confirmed=state.confirmed | {tap.item},
        asked_again=state.asked_again - {tap.item},
    )


def withdraw(state: CheckState, tap: ev.Withdrawn) -> Step:
    """Any stage. A lift that is unlocked comes down: the ground is made safe anew."""
    if tap.item is not ev.Item.LIFT_LOCKED:
        return replace(state, confirmed=state.confirmed - {tap.item})
    gone = {tap.item, *gates.START_ITEMS, *gates.RAISE_ITEMS, *gates.LEAVE_ITEMS}
    return replace(state, confirmed=state.confirmed - gone, tilt=None)


def check_sensor(state: CheckState, tap: ev.SensorChecked) -> Step:
    """Stage 3: compares with the temperature that is fresh now."""
    said = (tap.ambient, tap.coolant, tap.infrared)
    if not all(c is None or COLDEST_C <= c <= HOTTEST_C for c in said):
        return refuse(Code.BAD_NUMBER, "temperature")
    celsius = facts.temperature(state)
    if celsius is None:
        known = state.temperature.last is not None
        return refuse(Code.READING_STALE if known else Code.NO_READING)
    return sensing.compared(state, tap, celsius)


def engine_started(state: CheckState, tap: ev.EngineStarted) -> Step:
    """Stage 4, attested. With the plug out no engine is started; it may still be running."""
    if facts.is_measured(state, SignalName.ENGINE_SPEED):
        return refuse(Code.IS_MEASURED, SignalName.ENGINE_SPEED.value)
    if state.plug_is_out and state.engine.known:
        return refuse(Code.PLUG_IS_OUT)
    if state.plug_is_out:
        return observe.start_engine(state, tap.at)
    against = gates.reasons(Gate.PRECONDITION, state)
    if not facts.raised(state):
        against += tuple(gates.open_items(state, gates.START_ITEMS))
    if against:
        return Refusal(against)
    if state.engine.running_since is not None:
        return state
    return observe.start_engine(state, tap.at)


def engine_stopped(state: CheckState, tap: ev.EngineStopped) -> Step:
    """Any stage, attested. Told late, it may have been while the plug was out."""
    if facts.is_measured(state, SignalName.ENGINE_SPEED):
        return refuse(Code.IS_MEASURED, SignalName.ENGINE_SPEED.value)
    state = observe.stop_engine(state, tap.at)
    span = state.plug_spans[-1] if state.plug_spans else None
    if span is None or span.until is None or not span.since <= tap.at < span.until:
        return state
    past = (*state.past_causes, Cause.ENGINE_STOPPED)
    end = None if state.end is End.LEVEL else state.end
    return replace(observe.void_by_stop(state), past_causes=past, end=end, provisional=end is None)


def select_range(state: CheckState, tap: ev.RangeSelected) -> Step:
    """Stage 4, attested. A dwell that the tap cuts short afterwards was not served."""
    if facts.is_measured(state, SignalName.RANGE):
        return refuse(Code.IS_MEASURED, SignalName.RANGE.value)
    if tap.range != facts.PARK and state.sheet.dwell_of(tap.range) is None:
        return refuse(Code.UNKNOWN_RANGE, tap.range)
    served = tuple(
        s for s in state.ranges.served if s.evidence is Evidence.MEASURED or s.at <= tap.at
    )
    ranges = replace(state.ranges, current=tap.range, since=tap.at, seen_at=None, served=served)
    return observe.serve_idle(replace(state, ranges=ranges), tap.at)


def note_idle_speed(state: CheckState, tap: ev.IdleSpeedNoted) -> Step:
    """Stage 4, attested; holds until the engine stops."""
    if facts.is_measured(state, SignalName.ENGINE_SPEED):
        return refuse(Code.IS_MEASURED, SignalName.ENGINE_SPEED.value)
    if not 0 <= tap.rpm < 10_000:
        return refuse(Code.BAD_NUMBER, "idle_speed")
    if state.engine.running_since is None:
        return refuse(Code.ENGINE_NOT_RUNNING)
    return replace(state, engine=replace(state.engine, rpm=tap.rpm))


def withdraw_signal(state: CheckState, tap: ev.SignalWithdrawn) -> Step:
    """A signal that is gone for good is attested or keyed from here on, starting from nothing."""
    if not tap.reason.strip():
        return refuse(Code.NO_REASON_GIVEN)
    state = replace(state, measured=state.measured - {tap.signal})
    if tap.signal is SignalName.FLUID_TEMPERATURE:
        return replace(state, temperature=Temperature())
    if tap.signal is SignalName.ENGINE_SPEED:
        engine = replace(state.engine, known=False, running_since=None, rpm=None, seen_at=None)
        if edges.steady(state):  # nobody will say any more that an excursion is over
            engine = replace(engine, outside_since=None, back_since=None)
        return observe.serve_idle(replace(state, engine=engine), state.now)
    if tap.signal is SignalName.RANGE:
        ranges = replace(state.ranges, current=None, seen_at=None)
        return observe.serve_idle(replace(state, ranges=ranges), state.now)
    return replace(state, speed=None)


def measure_tilt(state: CheckState, tap: ev.TiltMeasured) -> Step:
    """Stage 5: taken down as read; the gate judges it. What cannot be a pair is refused."""
    readings = (tap.lengthwise, tap.lengthwise_turned, tap.crosswise, tap.crosswise_turned)
    if not all(abs(angle) <= 45 for angle in readings):
        return refuse(Code.BAD_NUMBER, "angle")
    if not facts.raised(state):
        return refuse(Code.LIFT_NOT_LOCKED)
    if state.opened.procedure >= tilting.PAIRS_SINCE and not tilting.pairs_agree(tap):
        return refuse(Code.TILT_PAIR_DIFFERS)
    kept = frozenset(o for o in state.active_overrides if o.code not in _OF_TILT)
    return replace(state, tilt=tap, active_overrides=kept)


_OF_TILT = frozenset({Code.TILT_NOT_MEASURED, *gates.TILT_CODES})
"""Overrides that a new measurement of the tilt ends."""


def override(state: CheckState, tap: ev.GateOverridden) -> Step:
    """A person opens a gate against one reason that stands now, and says why."""
    if tap.code in SAFETY:
        return refuse(Code.NEVER_OVERRIDDEN, tap.code.value)
    if tap.code not in OVERRIDABLE:
        return refuse(Code.NOTHING_TO_OVERRIDE, tap.code.value)
    if not tap.reason.strip() or not tap.by.strip():
        return refuse(Code.NO_REASON_GIVEN)
    if tap.word in gates.NEVER_OVERRIDDEN_ITEMS:
        return refuse(Code.NEVER_OVERRIDDEN, tap.word)
    standing = {reason.key: reason for reason in gates.reasons(Gate.PLUG_OUT, state)}
    reason = standing.get((tap.code, tap.word))
    if reason is None:
        return refuse(Code.NOTHING_TO_OVERRIDE, tap.code.value)
    at_plug = state.overridden_at_plug
    if state.plug_is_out and state.opened.procedure >= resuming.ASKED_AGAIN_SINCE:
        at_plug |= {tap.code}
    return replace(
        state,
        overrides=(*state.overrides, tap),
        active_overrides=state.active_overrides | {Override(tap.code, tap.word, reason.value)},
        overridden_at_plug=at_plug,
    )


def hand_over(state: CheckState, tap: ev.HandedOver) -> Step:
    """Another technician takes over; what they find at the vehicle stands."""
    if not tap.to.strip():
        return refuse(Code.NO_REASON_GIVEN)
    return replace(state, technician=tap.to)
