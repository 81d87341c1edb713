"""The one thing to do next, for whoever looks from four metres and has one button."""

from __future__ import annotations

from brimline.procedure import run_off
from brimline.procedure.acknowledging import AlarmAcknowledged
from brimline.procedure.doing import Do, Form, NextStep, Press
from brimline.procedure.names import Stage
from brimline.procedure.next_at_plug import STOP_PUMP, at_open_plug, closing
from brimline.procedure.next_before_plug import before_the_plug
from brimline.procedure.state import CheckState


def next_step(state: CheckState) -> NextStep:
    """Return the one thing to do next, at any moment of a check."""
    if state.closed is not None:
        return NextStep(Do.NOTHING)
    if (heard := _alarm(state)) is not None:
        return heard
    if state.stage is Stage.LEVEL:
        return at_open_plug(state)
    if state.stage is Stage.CLOSE:
        return closing(state)
    if state.stage in (Stage.CONDITION, Stage.RECORD):
        return _ending(state)
    return before_the_plug(state)


def _alarm(state: CheckState) -> NextStep | None:
    """What calls for the plug or the pump is answered there; any other alarm by hearing it."""
    heard = next((each for each in state.standing if not each.acknowledged), None)
    answered_there = state.causes and state.plug_is_out
    if heard is None or answered_there or state.level.pump_since is not None:
        return None
    press = Press(AlarmAcknowledged, {"alarm": heard.alarm})
    return NextStep(Do.ACKNOWLEDGE_ALARM, (press,), word=heard.alarm.value)


def _ending(state: CheckState) -> NextStep:
    if state.stage is Stage.RECORD:
        pumping = state.level.pump_since is not None
        if pumping:
            return STOP_PUMP
    if run_off.is_asked(state):
        return NextStep(Do.MEASURE_RUN_OFF, form=Form.RUN_OFF)
    if state.stage is Stage.RECORD:
        return NextStep(Do.CLOSE_RECORD, closes=True)
    return NextStep(Do.ASSESS_CONDITION, form=Form.CONDITION)
