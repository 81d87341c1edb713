"""One button: every moment of a check has one next thing to do, and doing it ends the check."""

from __future__ import annotations

from typing import Any

import pytest
from check_play import ALL_SIGNALS, MILKY, TEMPERATURE_ONLY, Play, sheet
from hypothesis import given, settings
from one_button import OneButton
from test_properties import STEPS, plays

from brimline.procedure import events as ev
from brimline.procedure import gates, reducer
from brimline.procedure.acknowledging import AlarmAcknowledged
from brimline.procedure.doing import LATE, Do, Form, NextStep, Press
from brimline.procedure.effects import Refused
from brimline.procedure.events import Flow, Item, Verdict
from brimline.procedure.gates import Gate
from brimline.procedure.names import Alarm, Stage
from brimline.procedure.next_at_plug import LOOK_S
from brimline.procedure.next_before_plug import ANSWERS
from brimline.procedure.next_step import next_step
from brimline.procedure.reasons import Code
from brimline.procedure.state import Cause, CheckState, End
from brimline.reading import Quality, Reading, SignalName
from brimline.specsheet.model import SealRule
from brimline.units import METRIC, US
from brimline.wording.next_step import SHORT, long, short
from brimline.wording.taps import tapped


def warming(t: float) -> float:
    return min(72.0, 21.0 + t / 5)


def rising(t: float) -> float:
    """Too hot when it comes, then cooler while the engine rests."""
    return 95.0 if 100 < t < 160 else warming(t)


# ── a whole check by one button ──────────────────────────────────────────────


@pytest.mark.parametrize("measured", [TEMPERATURE_ONLY, ()])
def test_a_whole_check_is_walked_by_its_next_step(measured: tuple[SignalName, ...]) -> None:
    walker = OneButton(Play(measured), warming)
    state = walker.walk().state
    assert state.closed is not None
    assert state.closed.verdict is Verdict.SET
    # What no press can say is a number or a judgement; all else was pressed.
    forms = {form for form in walker.keyed if form is not Form.TEMPERATURE}
    assert forms == {
        Form.VEHICLE, Form.FLUID, Form.FILL_PATH, Form.SENSOR, Form.IDLE_SPEED, Form.TILT,
        Form.FINDINGS, Form.TORQUE, Form.RUN_OFF, Form.CONDITION,
    }  # fmt: skip
    assert (Form.TEMPERATURE in walker.keyed) is (not measured)
    assert reducer.replay(walker.play.events) == walker.play.state


def test_topping_up_is_pressed_dose_by_dose_and_the_drip_that_ends_it_is_said() -> None:
    comes = (Flow.NOTHING, Flow.NOTHING, Flow.DRIPS)
    walker = OneButton(Play(), warming, comes)
    state = walker.walk().state
    assert state.closed is not None
    assert state.closed.verdict is Verdict.CORRECTED
    assert state.added == pytest.approx(0.4)
    assert walker.keyed.count(Form.PUMPED) == 2
    # "Nothing" as the plug comes out and the last drip are answers besides the first.
    assert walker.keyed.count(Form.FLOW) == 2


def test_signs_of_coolant_end_in_a_referral() -> None:
    walker = OneButton(Play(), warming, findings=MILKY)
    state = walker.walk().state
    assert state.closed is not None
    assert state.closed.verdict is Verdict.REFERRED
    at = walker.done.index(Do.PUT_PLUG_IN)
    assert walker.done[at + 1] is Do.ACKNOWLEDGE_ALARM


def test_a_fluid_that_is_too_hot_is_cooled_and_circulated_again() -> None:
    walker = OneButton(Play(), rising)
    assert walker.walk().state.closed is not None
    order = [do for do in walker.done if do in (Do.COOL_DOWN, Do.START_ENGINE, Do.CIRCULATE)]
    assert order[-3:] == [Do.COOL_DOWN, Do.START_ENGINE, Do.CIRCULATE]


def test_an_engine_stopped_to_cool_is_not_asked_to_start_before_it_has_cooled() -> None:
    """Common practice, no source: the engine heats the fluid, so it stays off until it is cool."""
    play = Play((SignalName.FLUID_TEMPERATURE, SignalName.ENGINE_SPEED)).identified()
    play.sensor_trusted().confirm(
        Item.NOBODY_UNDER, Item.WHEELS_CHOCKED, Item.EXHAUST_EXTRACTED,
        Item.AUTO_STOP_DISABLED, Item.BRAKE_HELD,
    )  # fmt: skip
    _run(play, 5, celsius=25, rpm=640)
    for name in ("R", "D", "P"):
        play.taken(ev.RangeSelected(t=play.t, range=name))
        _run(play, 70 if name == "P" else 5, celsius=30, rpm=640)
    play.confirm(Item.PARKING_BRAKE, Item.OCCUPANT_OUT).raised()
    _run(play, 5, celsius=95, rpm=640)
    assert next_step(play.state).do is Do.COOL_DOWN
    _run(play, 30, celsius=95, rpm=0)
    assert next_step(play.state) == NextStep(Do.COOL_DOWN, value=95.0, limit=85.0)
    _run(play, 30, celsius=80, rpm=0)
    assert next_step(play.state).do is Do.START_ENGINE


def test_fluid_that_has_arrived_is_not_said_to_be_waited_for() -> None:
    play = Play().ready(60.0)
    seen = set()
    for celsius in (64.9, 65.2, 65.8, 65.9, 66.0, 66.1):
        play.wait(1, celsius)
        step = next_step(play.state)
        seen.add(step.do)
        assert step.do is not Do.WARM_UP or (step.value or 0) < (step.limit or 0), step
    assert {Do.WARM_UP, Do.STAY_IN_BAND} <= seen


def _run(play: Play, seconds: int, *, celsius: float, rpm: float) -> None:
    """Let time pass, with a reading of both each second."""
    for _ in range(seconds):
        play.wait(1, celsius)
        play.do(Reading(play.t, SignalName.ENGINE_SPEED, rpm, Quality.GOOD))


def test_a_check_that_is_gone_on_with_is_walked_to_its_end() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS)
    play.t += 200
    play.taken(ev.Resumed(t=play.t, gap_s=200.0, plug_is_out=True, engine_runs=True))
    walker = OneButton(play, lambda _t: 72.0, (Flow.RUNS, Flow.DRIPS))
    assert walker.walk().state.closed is not None
    assert Do.CONFIRM_AGAIN in walker.done


@pytest.mark.parametrize("rule", SealRule)
def test_the_seal_is_said_as_the_sheet_wants_it(rule: SealRule) -> None:
    plug = {"torque": "10 N·m", "torque_tolerance": "1 N·m", "seal": rule.value}
    walker = OneButton(Play(spec=sheet(plug=plug)), warming)
    seal = walker.walk().state.closing.seal
    assert seal is not None
    assert seal.replaced is (rule is SealRule.REPLACE)


def test_before_version_5_nothing_is_acknowledged() -> None:
    opened = Play().events[0]
    assert isinstance(opened, ev.CheckOpened)
    play = Play()
    play.state = reducer.open_check(ev.CheckOpened(**_fields(opened) | {"procedure": 4}))
    walker = OneButton(play, warming, findings=MILKY)
    assert walker.walk().state.closed is not None
    assert not {Do.READ_CAUTIONS, Do.ACKNOWLEDGE_ALARM} & set(walker.done)


def _fields(opened: ev.CheckOpened) -> dict[str, Any]:
    return {name: getattr(opened, name) for name in opened.__dataclass_fields__}


# ── at any moment ────────────────────────────────────────────────────────────


def refused(state: CheckState, press: Press) -> bool:
    effects = reducer.reduce(state, press.kind(t=state.now, **press.fields))[1]
    return any(isinstance(effect, Refused) for effect in effects)


@given(plays(), STEPS)
@settings(max_examples=60)
def test_every_press_that_is_offered_is_taken(play: Play, steps: list[Any]) -> None:
    for pause, make in steps:
        play.t += pause
        play.do(make(play.t))
        step = next_step(play.state)
        for press in step.presses:
            assert not refused(play.state, press), (step, press)
        assert step.presses or step.form or step.closes or step.do in WAITING, step
        if step.until is not None:
            assert step.until > play.state.now, step
        for units in (METRIC, US):
            assert len(short(step, units, play.state.now)) <= SHORT
            assert long(step, units, play.state.now)
    again, _ = reducer.advance(reducer.replay(play.events), play.state.now)
    assert next_step(again) == next_step(play.state)


WAITING = {
    Do.WAIT_FOR_SIGNAL, Do.STAND_STILL, Do.START_ENGINE, Do.SELECT_RANGE, Do.HOLD_RANGE,
    Do.BRING_IDLE_SPEED, Do.IDLE, Do.WARM_UP, Do.COOL_DOWN, Do.CIRCULATE, Do.STAY_IN_BAND,
    Do.SETTLE, Do.WAIT_FOR_DRIP, Do.NOTHING,
}  # fmt: skip
"""What a vehicle does, or time, and no tap."""


def test_whatever_stands_against_the_plug_has_an_answer() -> None:
    """Of the reasons a gate may give before the plug comes out, none is left without a step."""
    asked = set(gates.Code) - {
        # at the plug, or after it: answered there
        Code.COOLANT_SIGNS, Code.PLUG_IS_OUT, Code.PLUG_IS_IN, Code.PLUG_IN_FIRST,
        Code.NO_FIRST_LOOK, Code.FLOW_NOT_JUDGED, Code.FLUID_STILL_COMES, Code.PUMP_RUNS,
        Code.PUMP_NOT_RUNNING, Code.SETTLING, Code.TOP_UP_LIMIT, Code.NOT_CLOSED,
        Code.SEAL_NOT_DONE, Code.NOT_TORQUED, Code.LEAK_NOT_LOOKED, Code.LEAKS, Code.NO_CONDITION,
        Code.RUN_OFF_UNKNOWN, Code.RUN_OFF_SEEN, Code.RUN_OFF_WHY, Code.CHECK_OVER,
        # never of a gate: why a tap is refused
        Code.WRENCH_UNFIT, Code.TORQUE_WRONG, Code.NOT_PROVISIONAL, Code.IS_MEASURED,
        Code.UNKNOWN_RANGE, Code.UNKNOWN_FILL_PATH, Code.UNKNOWN_VARIANT, Code.BAD_NUMBER,
        Code.TILT_PAIR_DIFFERS, Code.NO_REASON_GIVEN, Code.TOO_LATE, Code.FACTS_NOT_SAID,
        Code.NEVER_OVERRIDDEN, Code.REFERRAL_STANDS, Code.NOTHING_TO_OVERRIDE,
        Code.ATTACHED_ALREADY, Code.NOTHING_TO_UNDO, Code.NOTHING_TO_ACKNOWLEDGE,
    }  # fmt: skip
    assert asked == set(ANSWERS)


def test_a_press_that_may_be_late_is_an_act_at_the_vehicle() -> None:
    play = Play().ready()
    step = next_step(play.state)
    assert step == NextStep(Do.TAKE_PLUG_OUT, (Press(ev.PlugOut),))
    assert step.may_be_late
    assert not next_step(Play().state).may_be_late
    assert {Do.CONFIRM, Do.READ_CAUTIONS, Do.LOOK_FOR_LEAK}.isdisjoint(LATE)


# ── pressing on without looking ──────────────────────────────────────────────


def pressed_on(play: Play) -> NextStep:
    """Press what is offered as the plug comes out, look at the fluid, and return what is next."""
    step = next_step(play.state)
    assert step.press is not None
    play.taken(step.press.kind(t=play.t, **step.press.fields)).look()
    return next_step(play.state)


def test_right_after_it_ran_no_press_says_that_it_drips() -> None:
    play = Play().ready().plug_out()
    assert pressed_on(play) == NextStep(Do.WAIT_FOR_DRIP, until=play.t + LOOK_S)
    assert short(next_step(play.state), METRIC, play.t) == "Watch what comes: 5 s"
    play.wait(LOOK_S - 0.1, 70.0)
    assert next_step(play.state).presses == ()
    play.wait(0.1)
    step = next_step(play.state)
    assert step.press == Press(ev.FlowJudged, {"flow": Flow.DRIPS, "drops_per_second": 2.0})
    play.flow(Flow.RUNS)  # said again: looked again
    assert next_step(play.state).presses == ()


def test_looking_is_timed_from_the_press_where_that_is_told_late() -> None:
    play = Play().ready().plug_out().wait(12, 70.0)
    play.taken(ev.FlowJudged(t=play.t, happened=play.t - 10, flow=Flow.RUNS)).look()
    assert next_step(play.state).presses == ()


def test_a_fast_drip_is_watched_and_a_slow_one_that_was_seen_before_is_not() -> None:
    fast = Play().ready().plug_out().flow(Flow.DRIPS, 12.0).look()
    assert next_step(fast.state).presses == ()
    slow = Play().ready().plug_out().flow(Flow.DRIPS, 1.0).look()
    assert next_step(slow.state).press is not None


# ── single cases ─────────────────────────────────────────────────────────────


def test_an_alarm_with_the_plug_out_is_answered_by_the_plug_first() -> None:
    play = Play().ready().plug_out().wait(12, 90.0)
    assert play.state.causes == (Cause.BAND_LEFT,)
    step = next_step(play.state)
    assert (step.do, step.word) == (Do.PUT_PLUG_IN, "band_left")
    assert long(step, METRIC, play.t).startswith("Pump off, plug in")
    play.taken(ev.PlugIn(t=play.t))
    step = next_step(play.state)
    assert step.press == Press(AlarmAcknowledged, {"alarm": Alarm.PLUG_IN})


def test_readings_that_stay_away_with_the_plug_out_end_in_the_plug() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().wait(6)
    assert next_step(play.state).word == "readings_lost"
    play.taken(AlarmAcknowledged(t=play.t, alarm=Alarm.READINGS_LOST))
    assert next_step(play.state).do is Do.WAIT_FOR_SIGNAL
    play.wait(20)
    step = next_step(play.state)
    assert step.press == Press(ev.PlugIn)
    assert long(step, METRIC, play.t).startswith("No readings come")


def test_an_engine_that_the_vehicle_tells_is_started_at_the_vehicle() -> None:
    play = Play(ALL_SIGNALS).identified()
    play.do(play.celsius(22.0)).do(Reading(play.t, SignalName.ENGINE_SPEED, 0.0))
    play.do(Reading(play.t, SignalName.RANGE, "P"))
    play.taken(ev.SensorChecked(t=play.t, ambient=21.0, rested=True)).confirm(*gates.START_ITEMS)
    step = next_step(play.state)
    assert (step.do, step.press) == (Do.START_ENGINE, None)
    play.do(Reading(play.t, SignalName.ENGINE_SPEED, 640.0))
    assert next_step(play.state) == NextStep(Do.SELECT_RANGE, word="R")
    play.wait(10)
    assert next_step(play.state) == NextStep(Do.WAIT_FOR_SIGNAL, word="engine_speed")


def test_a_wrong_fluid_is_put_away() -> None:
    play = Play()
    play.taken(ev.VehicleIdentified(t=0, vin="", work_order="W"))
    play.taken(ev.FluidChosen(t=0, product="TF-Red"))
    step = next_step(play.state)
    assert step.do is Do.TAKE_OTHER_FLUID
    assert long(step, METRIC, 0.0).startswith("TF-Red must not go in")


def test_a_stopped_check_is_closed_once_what_rang_was_heard() -> None:
    play = Play().ready().plug_out().wait(12, 90.0)
    play.taken(ev.CheckAborted(t=play.t, reason="fire alarm", plug_left_out=True))
    assert next_step(play.state).do is Do.ACKNOWLEDGE_ALARM
    play.taken(AlarmAcknowledged(t=play.t, alarm=Alarm.PLUG_IN))
    assert next_step(play.state) == NextStep(Do.MEASURE_RUN_OFF, form=Form.RUN_OFF)
    play.confirm(Item.RUN_OFF_NOT_MEASURED)
    assert next_step(play.state) == NextStep(Do.CLOSE_RECORD, closes=True)


def test_signs_of_coolant_with_the_plug_in_are_the_end_of_it() -> None:
    """Seen after the plug was really in: no cause counted, and it never comes out again."""
    play = Play().ready().plug_out().flow(Flow.RUNS).wait(5, 70.0)
    before = play.t
    play.t += 5
    play.look(MILKY).taken(ev.PlugIn(t=play.t, happened=before))
    assert play.state.stage is Stage.TEMPERATURE
    play.taken(AlarmAcknowledged(t=play.t, alarm=Alarm.PLUG_IN))
    play.wait(60, 70.0)
    assert play.state.end is None
    assert next_step(play.state) == NextStep(Do.STOP_CHECK, form=Form.STOP)


def test_the_words_say_what_is_left_and_every_number_its_unit() -> None:
    play = Play().identified().sensor_trusted().confirm(*gates.START_ITEMS)
    play.taken(ev.EngineStarted(t=play.t)).taken(ev.RangeSelected(t=play.t, range="R")).wait(1)
    step = next_step(play.state)
    assert short(step, METRIC, play.state.now) == "Hold R: 2 s"
    assert short(NextStep(Do.TORQUE_PLUG, limit=10.0), US, 0.0) == "Torque the plug: 88.5 in·lbf"
    cold = Play().ready(60.0)
    said = short(next_step(cold.state), METRIC, cold.t)
    assert said == "Wait: 60.0 °C, band from 65 °C"
    assert short(next_step(cold.state), US, cold.t) == "Wait: 140.0 °F, band from 149 °F"


def test_every_answer_and_every_tap_has_words() -> None:
    kinds = set(ev.TapEvent.__args__)
    made = [
        ev.Confirmed(t=0, item=Item.CATCH_PAN), ev.Withdrawn(t=0, item=Item.CATCH_PAN),
        ev.RangeSelected(t=0, range="R"), ev.SealDone(t=0, replaced=False),
        ev.LeakLook(t=0, dry=False), ev.FlowJudged(t=0, flow=Flow.DRIPS, drops_per_second=2),
    ]  # fmt: skip
    assert [tapped(tap) for tap in made] == [
        "Confirmed: catch pan in place", "Not so any more: catch pan in place", "Selector in R",
        "Seal inspected and good", "It leaks", "It drips",
    ]  # fmt: skip
    for kind in kinds - {type(tap) for tap in made}:
        assert tapped(object.__new__(kind))


def test_a_dropped_reading_is_waited_for() -> None:
    play = Play().ready()
    for _ in range(2):
        play.t += 1
        play.do(play.celsius(0.0, Quality.NOT_AVAILABLE))
    assert next_step(play.state).do is Do.WAIT_FOR_SIGNAL
    assert play.state.end is not End.LEVEL
    assert gates.reasons(Gate.PLUG_OUT, play.state)
