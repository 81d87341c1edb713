"""What readings do to a state. Facts of the vehicle are never refused."""

from __future__ import annotations

from dataclasses import replace

from brimline.procedure import edges, facts
from brimline.procedure.state import (
    BandPlace,
    Cause,
    CheckState,
    Engine,
    Evidence,
    Latched,
    Level,
    Ranges,
    Served,
    Temperature,
)
from brimline.reading import Reading, SignalName, Way


def on_reading(state: CheckState, reading: Reading) -> CheckState:
    """Take one reading in, where it counts."""
    if not facts.counts(state, reading):
        return state
    if reading.signal is SignalName.FLUID_TEMPERATURE:
        return replace(state, temperature=_temperature(state, reading))
    if reading.signal is SignalName.ENGINE_SPEED:
        return _engine_speed(state, reading)
    if reading.signal is SignalName.RANGE:
        return _range(state, reading)
    return _vehicle_speed(state, reading)


def _temperature(state: CheckState, reading: Reading) -> Temperature:
    known = state.temperature
    celsius = reading.number
    if celsius is None:
        in_a_row = known.bad_readings + 1
        since = None if in_a_row >= facts.BAD_READINGS else known.inside_since
        return replace(known, bad=reading, bad_readings=in_a_row, inside_since=since)
    lost_at = facts.temperature_lost_at(state)
    if lost_at is not None and reading.t >= lost_at:  # what was before the gap says nothing now
        known = Temperature()
    inside = state.band.contains(celsius)
    since_in = known.inside_since if known.inside_since is not None else reading.t
    since_out = known.outside_since if known.outside_since is not None else reading.t
    placed = replace(
        known,
        last=reading,
        bad=None,
        bad_readings=0,
        inside_since=since_in if inside else None,
        outside_since=None if inside else since_out,
    )
    if edges.steady(state):
        return edges.located(state.band, placed, reading, celsius)
    return replace(placed, place=_place(state, placed, reading, celsius))


def _place(state: CheckState, t: Temperature, reading: Reading, celsius: float) -> BandPlace:
    band = state.band
    below = 0.0 if band.low is None else band.low - celsius
    above = 0.0 if band.high is None else celsius - band.high
    forbidden = band.max_plug_out is not None and celsius > band.max_plug_out
    if forbidden or max(below, above) > facts.BAND_MARGIN_K:
        return BandPlace.OUTSIDE
    since = t.inside_since if t.inside_since is not None else t.outside_since
    agreed = since is not None and reading.t >= since + facts.BAND_DWELL_S
    if agreed or reading.way is Way.KEYED:
        return BandPlace.OUTSIDE if t.inside_since is None else BandPlace.INSIDE
    return t.place


def _engine_speed(state: CheckState, reading: Reading) -> CheckState:
    rpm = reading.number
    if rpm is None:
        return state
    engine = state.engine
    if reading.way is Way.KEYED:
        return replace(state, engine=replace(engine, rpm=rpm))
    low = engine.low_readings + 1 if rpm < facts.RUNNING_RPM else 0
    gap = engine.seen_at is None or reading.t - engine.seen_at > facts.TRUSTED_GAP_S
    seen = replace(engine, seen_at=reading.t, rpm=rpm, low_readings=low)
    inside = facts.in_idle_window(state, rpm)
    if inside and not edges.steady(state):
        seen = replace(seen, outside_since=None)
    else:
        seen = edges.kept_to_window(seen, reading.t, inside)
    state = replace(state, engine=seen)
    if low >= facts.STOP_READINGS:
        news = engine.running_since is not None or not engine.known
        return stop_engine(state, reading.t) if news else state
    if low == 0 and (engine.running_since is None or gap):
        state = start_engine(state, reading.t)
    return serve_idle(state, reading.t)


def start_engine(state: CheckState, at: float) -> CheckState:
    """The engine runs since ``at``, or since its last stop where that was later."""
    since = at if state.engine.stopped_at is None else max(at, state.engine.stopped_at)
    engine = replace(state.engine, running_since=since, known=True, idle_since=None)
    if edges.steady(state) and facts.is_measured(state, SignalName.ENGINE_SPEED):
        engine = edges.started(state, engine, at)
    return serve_idle(replace(state, engine=engine), at)


def stop_engine(state: CheckState, at: float) -> CheckState:
    """The engine is at rest: idling and circulation are void.

    With the plug out far more is; that is latched wherever a known stop and an open plug meet.
    """
    engine = Engine(
        known=True,
        stopped_at=at,
        seen_at=state.engine.seen_at,
        rpm=state.engine.rpm if facts.is_measured(state, SignalName.ENGINE_SPEED) else None,
        low_readings=state.engine.low_readings,
        outside_since=state.engine.outside_since,
        back_since=state.engine.back_since,
    )
    if facts.raised(state) and not state.plug_is_out:
        engine = replace(engine, idle_served_at=state.engine.idle_served_at)
    return replace(state, engine=engine)


def void_by_stop(state: CheckState) -> CheckState:
    """The engine stopped with the plug out: preconditions and this run-off are void."""
    ranges = replace(state.ranges, served=())
    pump = Level(pump_since=state.level.pump_since)
    engine = replace(state.engine, idle_served_at=None)
    return replace(state, ranges=ranges, level=pump, engine=engine)


def latch(state: CheckState, cause: Cause) -> CheckState:
    """Demand the plug in from now on, once for each cause."""
    if cause in state.causes:
        return state
    return replace(state, latched=(*state.latched, Latched(cause, state.now)))


def serve_idle(state: CheckState, at: float) -> CheckState:
    """Start, keep, serve or void the idle time by how engine and selector stand.

    Idle time counts in park, from the last return to it; a speed outside the window voids it
    after a short grace. A time once served stays served until park is left or the engine stops
    on the ground; up on the lift it can only be circulated again, not idled out of gear.
    """
    engine = state.engine
    if engine.running_since is None or not facts.in_park(state):
        served = engine.idle_served_at if facts.raised(state) else None
        return replace(state, engine=replace(engine, idle_since=None, idle_served_at=served))
    out = engine.outside_since
    if out is not None and at >= out + facts.IDLE_GRACE_S:
        return replace(state, engine=replace(engine, idle_since=None))
    if engine.idle_since is None and out is None:
        engine = replace(engine, idle_since=max(at, engine.running_since))
        state = replace(state, engine=engine)
    due = facts.idle_due_at(state)
    if due is not None and at >= due:
        return replace(state, engine=replace(engine, idle_served_at=due))
    return state


def _range(state: CheckState, reading: Reading) -> CheckState:
    name = reading.range_name
    if name is None:
        return state
    known = state.ranges
    lost_at = facts.range_lost_at(state)
    unbroken = known.current == name and lost_at is not None and reading.t < lost_at
    ranges = replace(
        known, current=name, since=known.since if unbroken else reading.t, seen_at=reading.t
    )
    state = replace(state, ranges=ranges)
    due = facts.range_due_at(state)
    if due is not None and reading.t >= due:
        state = serve_range(state, due, Evidence.MEASURED)
    return serve_idle(state, reading.t)


def serve_range(state: CheckState, at: float, how: Evidence) -> CheckState:
    """The present range was held for its dwell."""
    served = Served(state.ranges.current or "", at, how)
    return replace(state, ranges=replace(state.ranges, served=(*state.ranges.served, served)))


def _vehicle_speed(state: CheckState, reading: Reading) -> CheckState:
    speed = reading.number
    if speed is None:
        return state
    state = replace(state, speed=speed)
    attested = not facts.is_measured(state, SignalName.RANGE)
    if speed > facts.MOVING_KMH and attested and state.ranges.current is not None:
        # Whoever attested park was wrong, or it was left.
        state = replace(state, ranges=Ranges(served=state.ranges.served))
        return serve_idle(state, reading.t)
    return state
