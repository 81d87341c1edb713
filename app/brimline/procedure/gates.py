"""Why a step may not be taken yet.

A gate is a function from a state to the reasons against the step; no reasons, and it is open.
Reasons that a person has overridden are left out; :func:`all_reasons` keeps them, for the record.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from enum import StrEnum

from brimline.procedure import cautions, edges, facts, resuming, run_off, sensing, tilting
from brimline.procedure.events import Flow, Item
from brimline.procedure.names import Stage
from brimline.procedure.reasons import SAFETY, Code, Reason
from brimline.procedure.state import BandPlace, CheckState, End, Override
from brimline.reading import Quality, Reading
from brimline.specsheet.model import Approval

FLUID_ITEMS = (
    Item.FILL_PATH_READY,
    Item.PUMP_PRIMED,
    Item.FLUID_WITHIN_REACH,
    Item.CHECK_PLUG_IDENTIFIED,
)
START_ITEMS = (
    Item.NOBODY_UNDER,
    Item.WHEELS_CHOCKED,
    Item.EXHAUST_EXTRACTED,
    Item.AUTO_STOP_DISABLED,
    Item.BRAKE_HELD,
)
LEAVE_ITEMS = (Item.PARKING_BRAKE, Item.OCCUPANT_OUT)
RAISE_ITEMS = (Item.CREW_CLEAR, Item.CATCH_PAN, Item.PROTECTION_WORN)

NEVER_OVERRIDDEN_ITEMS = frozenset({Item.NOBODY_UNDER, Item.OCCUPANT_OUT})
"""Items on which people's lives hang: no reason opens a gate against them."""

TILT_CODES = frozenset({Code.TILT_TOO_LARGE, Code.TILT_ERROR_TOO_LARGE})
"""Reasons whose value is the error in L that a tilt brings; its sign does not matter."""

_WORSE_BY = {Code.BELOW_BAND: 1.0, Code.ABOVE_BAND: 1.0, Code.IDLE_SPEED_OUTSIDE: 50.0}
"""Before jitter was allowed for (:mod:`.edges`), an override held while what it covers got worse by
no more than this (K, rpm)."""


class Gate(StrEnum):
    """The steps that a gate stands before."""

    PRECONDITION = "precondition"
    RAISE = "raise"
    PLUG_OUT = "plug_out"
    TOP_UP = "top_up"
    LEVEL_REACHED = "level_reached"
    RECORD = "record"


def reasons(gate: Gate, state: CheckState) -> tuple[Reason, ...]:
    """Return what stands against the step now, gravest first; empty when the gate is open."""
    standing = (r for r in all_reasons(gate, state) if not overridden(state, r))
    return tuple(sorted(standing, key=lambda reason: reason.code not in SAFETY))


def all_reasons(gate: Gate, state: CheckState) -> tuple[Reason, ...]:
    """Return every reason against the step, overridden ones included."""
    over = state.closed or state.aborted or state.closing.stripped
    if over and gate is not Gate.RECORD:
        return (Reason(Code.CHECK_OVER),)
    return tuple(_GATES[gate](state))


def overridden(state: CheckState, reason: Reason) -> bool:
    """Return whether a person has overridden this reason, as bad as it is now."""
    return any(_covers(state, override, reason) for override in state.active_overrides)


def _covers(state: CheckState, override: Override, reason: Reason) -> bool:
    if (override.code, override.word) != reason.key:
        return False
    if override.value is None or reason.value is None:
        return True
    if reason.code in TILT_CODES:
        return abs(reason.value) <= abs(override.value)
    if reason.code not in _WORSE_BY:
        return True
    if edges.steady(state):
        worst = edges.beyond(state, reason.code, override.value) + edges.WORSE_BY[reason.code]
        return edges.beyond(state, reason.code, reason.value) <= worst
    limit = reason.limit or 0.0
    return abs(reason.value - limit) <= abs(override.value - limit) + _WORSE_BY[reason.code]


def open_items(state: CheckState, items: Iterable[Item]) -> Iterator[Reason]:
    """Yield a reason for each item that nobody has confirmed."""
    for item in items:
        if item not in state.confirmed:
            yield Reason(Code.ITEM_OPEN, item.value)


def still_asked(state: CheckState) -> tuple[Item, ...]:
    """Return the items that were confirmed before a gap and matter now, until confirmed again."""
    asked = state.asked_again & state.confirmed
    if not asked:
        return ()
    if state.closed or state.aborted or state.closing.stripped:
        asked = frozenset()
    elif state.end is not None:
        asked &= resuming.AT_CLOSING if any(closing(state)) else frozenset()
    elif facts.raised(state):
        asked -= resuming.ON_THE_GROUND
    elif Item.OCCUPANT_OUT in state.confirmed:
        asked -= {Item.BRAKE_HELD}
    return tuple(item for item in Item if item in asked)


def asked_again(state: CheckState) -> Iterator[Reason]:
    """Yield a reason for each item that has to be confirmed again."""
    for item in still_asked(state):
        yield Reason(Code.CONFIRM_AGAIN, item.value)


def identify(state: CheckState) -> Iterator[Reason]:
    """Stage 1: the vehicle is known."""
    if state.vehicle is None:
        yield Reason(Code.NOT_IDENTIFIED)


def fluid(state: CheckState) -> Iterator[Reason]:
    """Stage 2: the right fluid and a way in are at hand."""
    yield from fluid_approved(state)
    if state.fill_path is None:
        yield Reason(Code.FILL_PATH_NOT_CHOSEN)
    yield from open_items(state, FLUID_ITEMS)
    if state.vehicle is not None and state.vehicle.drained:
        yield from open_items(state, (Item.INITIAL_FILL_DONE,))


def fluid_approved(state: CheckState) -> Iterator[Reason]:
    """Whether the product in hand is allowed by the sheet, its condition included."""
    if state.fluid is None:
        yield Reason(Code.FLUID_NOT_CHOSEN)
        return
    known = state.sheet.fluid(state.fluid.product)
    if known is None or known.approval is Approval.REFUSED:
        yield Reason(Code.FLUID_NOT_APPROVED, state.fluid.product)
    elif known.variants and (state.vehicle is None or state.vehicle.variant not in known.variants):
        yield Reason(Code.FLUID_NOT_FOR_VARIANT, f"{known.name}: {', '.join(known.variants)}")
    elif known.condition and not state.fluid.condition_confirmed:
        yield Reason(Code.FLUID_CONDITION, known.condition)


def sensor(state: CheckState) -> Iterator[Reason]:
    """Stage 3: the fluid's sensor was compared with something, and nothing speaks against it."""
    yield from sensing.against(state)


def precondition(state: CheckState) -> Iterator[Reason]:
    """Stage 4: on the ground, ranges held, back in park, idled for the sheet's time."""
    if not facts.raised(state):  # up on the lift the engine may rest to let the fluid cool
        yield from open_items(state, START_ITEMS)
        yield from running_in_park(state)
    for dwell in state.sheet.ranges:
        if not facts.range_served(state, dwell.name):
            yield Reason(Code.RANGE_NOT_SERVED, dwell.name, limit=dwell.dwell)
    if state.engine.idle_served_at is None:
        due = facts.idle_due_at(state)
        yield Reason(Code.IDLE_TIME_SHORT, value=due, limit=state.sheet.idle.time)
    yield from open_items(state, LEAVE_ITEMS)


def running_in_park(state: CheckState) -> Iterator[Reason]:
    """Whether the engine is known to run, at rest, with the selector in park."""
    if not facts.engine_known(state):
        yield Reason(Code.ENGINE_UNKNOWN)
    elif not facts.engine_runs(state):
        yield Reason(Code.ENGINE_NOT_RUNNING)
    selected = facts.selected_range(state)
    if selected is None:
        yield Reason(Code.PARK_UNKNOWN)
    elif selected != facts.PARK:
        yield Reason(Code.NOT_IN_PARK, selected)
    if state.speed is not None and state.speed > facts.MOVING_KMH:
        yield Reason(Code.VEHICLE_MOVES, value=state.speed)


def idle_speed(state: CheckState) -> Iterator[Reason]:
    """Whether the idle speed lies inside its window, short excursions allowed."""
    engine, idle = state.engine, state.sheet.idle
    if engine.rpm is None:
        yield Reason(Code.IDLE_SPEED_UNKNOWN)
    elif edges.off_idle(state, engine.rpm):
        low = engine.rpm < (idle.speed_low + idle.speed_high) / 2
        limit = idle.speed_low if low else idle.speed_high
        yield Reason(Code.IDLE_SPEED_OUTSIDE, value=engine.rpm, limit=limit)


def lifted(state: CheckState) -> Iterator[Reason]:
    """Stage 5: up, locked, level, people protected."""
    if not facts.raised(state):
        yield Reason(Code.LIFT_NOT_LOCKED)
    yield from open_items(state, RAISE_ITEMS)
    yield from tilting.against(state)


def readings(state: CheckState) -> Iterator[Reason]:
    """Whether there is a fresh, good temperature."""
    now = state.temperature
    if now.bad is not None and _counts(now.bad, now.bad_readings):
        yield Reason(Code.READING_BAD, now.bad.quality.value)
    if now.last is None:
        yield Reason(Code.NO_READING)
    elif facts.temperature(state) is None:
        yield Reason(Code.READING_STALE, value=facts.temperature_lost_at(state))


def _counts(bad: Reading, in_a_row: int) -> bool:
    """A sender without a value may have dropped one; what it says wrongly counts at once."""
    dropped = bad.quality in (Quality.NOT_AVAILABLE, Quality.ERROR)
    return not dropped or in_a_row >= facts.BAD_READINGS


def in_band(state: CheckState) -> Iterator[Reason]:
    """Whether the fluid is inside its band, and below the limit for the plug in any case."""
    celsius, band = facts.temperature(state), state.band
    if celsius is None:
        return
    if edges.steady(state):
        yield from edges.against_band(state, celsius)
    elif celsius > band.limit:
        if band.max_plug_out is not None or not _held(state):
            yield Reason(Code.TOO_HOT_FOR_PLUG, value=celsius, limit=band.limit)
    elif band.low is not None and celsius < band.low:
        if not _held(state):
            yield Reason(Code.BELOW_BAND, value=celsius, limit=band.low)
    elif band.high is not None and celsius > band.high:
        if not _held(state):
            yield Reason(Code.ABOVE_BAND, value=celsius, limit=band.high)
    elif state.temperature.place is not BandPlace.INSIDE:
        yield Reason(Code.BAND_NOT_STEADY, limit=facts.BAND_DWELL_S)


def _held(state: CheckState) -> bool:
    """A reading beyond the edge by jitter alone does not leave a band once entered."""
    return state.temperature.place is BandPlace.INSIDE


def circulated(state: CheckState) -> Iterator[Reason]:
    """Whether the fluid has circulated since the engine's last start."""
    at = facts.circulated_at(state)
    if at is None or state.now < at:
        yield Reason(
            Code.CIRCULATION_SHORT, value=at, limit=state.sheet.idle.circulation_after_stop
        )


def _precondition_gate(state: CheckState) -> Iterator[Reason]:
    yield from asked_again(state)
    yield from identify(state)
    yield from fluid(state)
    yield from sensor(state)


def _raise_gate(state: CheckState) -> Iterator[Reason]:
    yield from _precondition_gate(state)
    yield from precondition(state)
    yield from idle_speed(state)
    yield from cautions.against(state, Stage.RAISE)


def _plug_out_gate(state: CheckState) -> Iterator[Reason]:
    if state.plug_is_out:
        yield Reason(Code.PLUG_IS_OUT)
    if state.end is not None:
        yield Reason(Code.CHECK_OVER)
    if state.coolant_seen:
        yield Reason(Code.COOLANT_SIGNS)
    if state.level.pump_since is not None:
        yield Reason(Code.PUMP_RUNS)
    yield from _raise_gate(state)
    if facts.raised(state):
        yield from running_in_park(state)
    yield from lifted(state)
    yield from readings(state)
    yield from circulated(state)
    yield from in_band(state)
    yield from cautions.against(state, Stage.PLUG_OUT)


def _at_open_plug(state: CheckState) -> Iterator[Reason]:
    """What both topping up and accepting the level need."""
    if not state.plug_is_out:
        yield Reason(Code.PLUG_IS_IN)
    if state.causes:
        yield Reason(Code.PLUG_IN_FIRST, state.causes[0].value)
    if state.first_look is None:
        yield Reason(Code.NO_FIRST_LOOK)
    if state.coolant_seen:
        yield Reason(Code.COOLANT_SIGNS)
    if state.level.pump_since is not None:
        yield Reason(Code.PUMP_RUNS)
    if facts.settling(state):
        yield Reason(Code.SETTLING, value=facts.settled_at(state))
    yield from asked_again(state)
    yield from running_in_park(state)
    yield from idle_speed(state)
    yield from lifted(state)
    yield from readings(state)
    yield from in_band(state)


def _top_up_gate(state: CheckState) -> Iterator[Reason]:
    yield from fluid_approved(state)
    yield from _at_open_plug(state)
    flow = state.level.flow
    if flow is None:
        yield Reason(Code.FLOW_NOT_JUDGED)
    elif flow.flow is not Flow.NOTHING or state.level.overflowed:
        yield Reason(Code.FLUID_STILL_COMES)
    if facts.top_up_left(state) <= 0:
        yield Reason(Code.TOP_UP_LIMIT, value=state.added, limit=state.sheet.level.max_top_up)
    yield from cautions.against(state, Stage.LEVEL)


def _record_gate(state: CheckState) -> Iterator[Reason]:
    if state.closed:
        yield Reason(Code.CHECK_OVER)
    if state.aborted or state.closing.stripped:
        return
    if state.level.pump_since is not None:
        yield Reason(Code.PUMP_RUNS)
    if state.end is None:
        yield Reason(Code.NOT_CLOSED)
        return
    if run_off_unknown(state):
        yield Reason(Code.RUN_OFF_UNKNOWN)
    yield from closing(state)
    if state.condition is None:
        yield Reason(Code.NO_CONDITION)


def run_off_unknown(state: CheckState) -> bool:
    """Return whether fluid ran off and nobody has said how much, or that it was not measured."""
    told = run_off.is_told(state)
    return state.ran_off and not told and state.end in (End.LEVEL, End.PROVISIONAL)


def closing(state: CheckState) -> Iterator[Reason]:
    """Stage 9: seal, torque, leak look."""
    if state.closing.seal is None:
        yield Reason(Code.SEAL_NOT_DONE, state.sheet.plug.seal.value)
    if state.closing.torque is None:
        yield Reason(Code.NOT_TORQUED, limit=state.sheet.plug.torque)
    if state.closing.leak is None:
        yield Reason(Code.LEAK_NOT_LOOKED)
    elif not state.closing.leak.dry:
        yield Reason(Code.LEAKS)


_GATES: dict[Gate, Callable[[CheckState], Iterator[Reason]]] = {
    Gate.PRECONDITION: _precondition_gate,
    Gate.RAISE: _raise_gate,
    Gate.PLUG_OUT: _plug_out_gate,
    Gate.TOP_UP: _top_up_gate,
    Gate.LEVEL_REACHED: _at_open_plug,
    Gate.RECORD: _record_gate,
}
