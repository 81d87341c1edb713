"""What is to be done next until the plug comes out: the first that stands against it.

The order is that in which a technician works, not that of a gate. A press is offered only where
the reducer takes its tap.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from brimline.procedure import cautions, facts, gates, silence
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import CautionAcknowledged
from brimline.procedure.doing import Do, Form, NextStep, Press
from brimline.procedure.events import Item
from brimline.procedure.gates import Gate
from brimline.procedure.names import Stage
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState
from brimline.reading import SignalName


def before_the_plug(state: CheckState) -> NextStep:
    """Return what is next in stages 1 to 7."""
    for reason in _in_working_order(state):
        if not gates.overridden(state, reason):
            return ANSWERS[reason.code](state, reason)
    if gates.reasons(Gate.PLUG_OUT, state):  # signs of coolant: it never comes out again
        return NextStep(Do.STOP_CHECK, form=Form.STOP)
    return NextStep(Do.TAKE_PLUG_OUT, (Press(ev.PlugOut),))


def _in_working_order(state: CheckState) -> Iterator[Reason]:
    """Yield what stands against the plug in the order in which a technician sees to it."""
    yield from gates.asked_again(state)
    yield from gates.identify(state)
    yield from gates.fluid(state)
    yield from gates.sensor(state)
    ground = [*gates.precondition(state), *gates.idle_speed(state)]
    if facts.raised(state):
        ground += gates.running_in_park(state)
    yield from sorted(ground, key=_ground_order)
    yield from cautions.against(state, Stage.RAISE)
    yield from gates.lifted(state)
    yield from gates.readings(state)
    band = list(gates.in_band(state))
    yield from (reason for reason in band if reason.code in _TOO_WARM)
    yield from gates.circulated(state)
    yield from band
    yield from cautions.against(state, Stage.PLUG_OUT)


_TOO_WARM = (Code.ABOVE_BAND, Code.TOO_HOT_FOR_PLUG)

_GROUND_ORDER = (
    Code.ITEM_OPEN, Code.VEHICLE_MOVES, Code.ENGINE_UNKNOWN, Code.ENGINE_NOT_RUNNING,
    Code.RANGE_NOT_SERVED, Code.PARK_UNKNOWN, Code.NOT_IN_PARK, Code.IDLE_SPEED_UNKNOWN,
    Code.IDLE_SPEED_OUTSIDE, Code.IDLE_TIME_SHORT,
)  # fmt: skip


def _ground_order(reason: Reason) -> int:
    """The vehicle is left last."""
    leaving = reason.word in {item.value for item in gates.LEAVE_ITEMS}
    return len(_GROUND_ORDER) if leaving else _GROUND_ORDER.index(reason.code)


def confirm(do: Do, item: Item) -> NextStep:
    """One item of the checklist."""
    return NextStep(do, (Press(ev.Confirmed, {"item": item}),), word=item.value)


def _form(do: Do, form: Form) -> Callable[[CheckState, Reason], NextStep]:
    return lambda _state, reason: NextStep(do, form=form, word=reason.word)


def _caution(_: CheckState, reason: Reason) -> NextStep:
    press = Press(CautionAcknowledged, {"stage": Stage(reason.word)})
    return NextStep(Do.READ_CAUTIONS, (press,), word=reason.word)


def plug_in(cause: str) -> NextStep:
    """The plug goes in: for a cause, for a signal that is lost, or because the work is done."""
    return NextStep(Do.PUT_PLUG_IN, (Press(ev.PlugIn),), word=cause)


def _reading(state: CheckState, _: Reason) -> NextStep:
    """A reading is waited for or keyed; with the plug out not for long."""
    signal = SignalName.FLUID_TEMPERATURE
    if not facts.is_measured(state, signal):
        return NextStep(Do.KEY_TEMPERATURE, form=Form.TEMPERATURE)
    if state.plug_is_out and silence.silent_for(state, signal) > silence.OFFERED_AFTER_S:
        return plug_in(signal.value)
    return NextStep(Do.WAIT_FOR_SIGNAL, word=signal.value)


def _sensor(state: CheckState, reason: Reason) -> NextStep:
    if facts.temperature(state) is None:
        return _reading(state, reason)
    return NextStep(Do.COMPARE_SENSOR, form=Form.SENSOR, word=reason.word)


def _engine(state: CheckState, _: Reason) -> NextStep:
    measured = facts.is_measured(state, SignalName.ENGINE_SPEED)
    if measured and not _engine_is_known(state):
        return _signal(SignalName.ENGINE_SPEED)
    hot = _too_hot_on_the_lift(state)
    if hot is not None:
        return _cool_down(state, hot)
    if measured:
        return NextStep(Do.START_ENGINE)
    if not facts.raised(state) and not state.plug_is_out:
        # What is overridden for the lift is not for the engine's start.
        for item in gates.START_ITEMS:
            if item not in state.confirmed:
                return confirm(Do.CONFIRM, item)
    return NextStep(Do.START_ENGINE, (Press(ev.EngineStarted),))


def _engine_is_known(state: CheckState) -> bool:
    lost_at = facts.engine_lost_at(state)
    return lost_at is None or state.now < lost_at


def _too_hot_on_the_lift(state: CheckState) -> Reason | None:
    """Return why the engine stays off: it was stopped so that the fluid cools."""
    if state.plug_is_out or not facts.raised(state):
        return None
    return next((reason for reason in gates.in_band(state) if reason.code in _TOO_WARM), None)


def _signal(signal: SignalName) -> NextStep:
    return NextStep(Do.WAIT_FOR_SIGNAL, word=signal.value)


def _select(state: CheckState, name: str) -> NextStep:
    if facts.is_measured(state, SignalName.RANGE):
        lost = facts.selected_range(state) is None
        return _signal(SignalName.RANGE) if lost else NextStep(Do.SELECT_RANGE, word=name)
    return NextStep(Do.SELECT_RANGE, (Press(ev.RangeSelected, {"range": name}),), word=name)


def _range(state: CheckState, reason: Reason) -> NextStep:
    if facts.raised(state):
        press = Press(ev.Withdrawn, {"item": Item.LIFT_LOCKED})
        return NextStep(Do.LOWER_LIFT, (press,), word=reason.word)
    due = facts.range_due_at(state)
    if due is not None:
        return NextStep(Do.HOLD_RANGE, until=due, word=facts.selected_range(state) or "")
    return _select(state, reason.word)


def _idle_speed(state: CheckState, reason: Reason) -> NextStep:
    if not facts.is_measured(state, SignalName.ENGINE_SPEED):
        do = Do.NOTE_IDLE_SPEED if reason.value is None else Do.BRING_IDLE_SPEED
        return NextStep(do, form=Form.IDLE_SPEED, value=reason.value, limit=reason.limit)
    if reason.value is None:
        return _signal(SignalName.ENGINE_SPEED)
    return NextStep(Do.BRING_IDLE_SPEED, value=reason.value, limit=reason.limit)


def _until(do: Do) -> Callable[[CheckState, Reason], NextStep]:
    return lambda _state, reason: NextStep(do, until=reason.value)


def _keyed(state: CheckState) -> Form | None:
    measured = facts.is_measured(state, SignalName.FLUID_TEMPERATURE)
    return None if measured else Form.TEMPERATURE


def _warm_up(state: CheckState, reason: Reason) -> NextStep:
    arrived = reason.value is not None and reason.value >= (reason.limit or 0.0)
    if state.plug_is_out or arrived:
        return _stay(state, reason)
    return NextStep(Do.WARM_UP, form=_keyed(state), value=reason.value, limit=reason.limit)


def _cool_down(state: CheckState, reason: Reason) -> NextStep:
    if state.plug_is_out:
        return _stay(state, reason)
    by_tap = not facts.is_measured(state, SignalName.ENGINE_SPEED) and facts.engine_runs(state)
    return NextStep(
        Do.COOL_DOWN,
        (Press(ev.EngineStopped),) if by_tap else (),
        _keyed(state),
        value=reason.value,
        limit=reason.limit,
    )


def _stay(state: CheckState, _: Reason) -> NextStep:
    since = state.temperature.inside_since
    until = None if since is None else since + facts.BAND_DWELL_S
    return NextStep(Do.STAY_IN_BAND, form=_keyed(state), until=until)


ANSWERS: dict[Code, Callable[[CheckState, Reason], NextStep]] = {
    Code.CONFIRM_AGAIN: lambda _, r: confirm(Do.CONFIRM_AGAIN, Item(r.word)),
    Code.NOT_IDENTIFIED: _form(Do.IDENTIFY, Form.VEHICLE),
    Code.FLUID_NOT_CHOSEN: _form(Do.CHOOSE_FLUID, Form.FLUID),
    Code.FLUID_CONDITION: _form(Do.CHOOSE_FLUID, Form.FLUID),
    Code.FLUID_NOT_APPROVED: _form(Do.TAKE_OTHER_FLUID, Form.FLUID),
    Code.FLUID_NOT_FOR_VARIANT: _form(Do.TAKE_OTHER_FLUID, Form.FLUID),
    Code.FILL_PATH_NOT_CHOSEN: _form(Do.CHOOSE_FILL_PATH, Form.FILL_PATH),
    Code.ITEM_OPEN: lambda _, r: confirm(Do.CONFIRM, Item(r.word)),
    Code.SENSOR_NOT_CHECKED: _sensor,
    Code.SENSOR_DOUBTED: _sensor,
    Code.VEHICLE_MOVES: lambda _, r: NextStep(Do.STAND_STILL, value=r.value),
    Code.ENGINE_UNKNOWN: _engine,
    Code.ENGINE_NOT_RUNNING: _engine,
    Code.RANGE_NOT_SERVED: _range,
    Code.PARK_UNKNOWN: lambda state, _: _select(state, facts.PARK),
    Code.NOT_IN_PARK: lambda state, _: _select(state, facts.PARK),
    Code.IDLE_SPEED_UNKNOWN: _idle_speed,
    Code.IDLE_SPEED_OUTSIDE: _idle_speed,
    Code.IDLE_TIME_SHORT: _until(Do.IDLE),
    Code.CAUTION_NOT_SEEN: _caution,
    Code.LIFT_NOT_LOCKED: lambda _, __: confirm(Do.CONFIRM, Item.LIFT_LOCKED),
    Code.TILT_NOT_MEASURED: _form(Do.MEASURE_TILT, Form.TILT),
    Code.TILT_TOO_LARGE: _form(Do.MEASURE_TILT, Form.TILT),
    Code.TILT_ERROR_TOO_LARGE: _form(Do.MEASURE_TILT, Form.TILT),
    Code.NO_READING: _reading,
    Code.READING_STALE: _reading,
    Code.READING_BAD: _reading,
    Code.CIRCULATION_SHORT: _until(Do.CIRCULATE),
    Code.BELOW_BAND: _warm_up,
    Code.ABOVE_BAND: _cool_down,
    Code.TOO_HOT_FOR_PLUG: _cool_down,
    Code.BAND_NOT_STEADY: _stay,
}
"""What is done about a reason that stands against a gate."""
