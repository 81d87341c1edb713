"""What a program that stopped and was started again leaves uncertain, and what is asked again."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from check_play import ALL_SIGNALS, GOOD, MILKY, Play
from hypothesis import given, settings
from hypothesis import strategies as st
from test_properties import STEPS, plays

from brimline.procedure import events as ev
from brimline.procedure import facts, gates, reducer, resuming
from brimline.procedure.effects import AlarmRaised
from brimline.procedure.events import Flow, Item
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.reasons import Code
from brimline.procedure.state import Alarm, Cause, End, Stage
from brimline.procedure.verdict import verdict_of
from brimline.reading import Reading, SignalName

LONG = facts.TRUSTED_GAP_S + 1
AT_THE_LIFT = {
    Item.LIFT_LOCKED, Item.CREW_CLEAR, Item.CATCH_PAN, Item.PROTECTION_WORN,
    Item.PARKING_BRAKE, Item.OCCUPANT_OUT, Item.EXHAUST_EXTRACTED,
}  # fmt: skip
DONE_ONCE = {
    Item.INITIAL_FILL_DONE, Item.PUMP_PRIMED, Item.FILL_PATH_READY, Item.FLUID_WITHIN_REACH,
    Item.CHECK_PLUG_IDENTIFIED, Item.RUN_OFF_NOT_MEASURED,
}  # fmt: skip


def resumed(
    play: Play, gap: float | None = LONG, *, out: bool | None = None, runs: bool | None = True
) -> Play:
    """Let the program be away for so long; plug and engine are found as they were, if not said."""
    play.t += gap or 0.0
    is_out = play.state.plug_is_out if out is None else out
    return play.taken(ev.Resumed(t=play.t, gap_s=gap, plug_is_out=is_out, engine_runs=runs))


def codes(play: Play, gate: Gate = Gate.PLUG_OUT) -> set[Code]:
    return {reason.code for reason in reasons(gate, play.state)}


def asked(play: Play) -> set[Item]:
    return set(gates.still_asked(play.state))


def at_the_plug() -> Play:
    return Play().ready().plug_out().flow(Flow.RUNS).look()


def confirm_all(play: Play) -> Play:
    return play.confirm(*gates.still_asked(play.state))


def settled(play: Play, celsius: float = 71.0) -> Play:
    """Give what is attested besides items again: selector, idle speed, fresh readings. Cautions
    are acknowledged anew."""
    play.warned(Stage.LEVEL if play.state.plug_is_out else Stage.PLUG_OUT)
    play.taken(ev.RangeSelected(t=play.t, range="P")).taken(ev.IdleSpeedNoted(t=play.t, rpm=640))
    return play.wait(12, celsius)


def test_up_on_the_lift_people_and_moment_are_asked_again_and_things_done_stay() -> None:
    play = resumed(Play().ready())
    assert asked(play) == AT_THE_LIFT
    assert not DONE_ONCE & play.state.asked_again
    assert Code.CONFIRM_AGAIN in codes(play)
    assert play.do(ev.PlugOut(t=play.t)).refused()


def test_a_short_gap_asks_nothing_again() -> None:
    play = resumed(Play().ready(), facts.TRUSTED_GAP_S)
    assert asked(play) == set()
    assert play.state.tilt is not None
    assert play.state.temperature.last is not None


def test_an_unknown_gap_counts_as_long_and_readings_before_it_as_old() -> None:
    play = resumed(Play().ready(), None)
    assert asked(play) == AT_THE_LIFT
    assert play.state.tilt is None
    assert {
        Code.NO_READING, Code.CIRCULATION_SHORT, Code.PARK_UNKNOWN, Code.IDLE_SPEED_UNKNOWN,
    } <= codes(play)  # fmt: skip


def test_on_the_ground_it_is_what_stands_around_the_wheels() -> None:
    play = Play().identified().sensor_trusted()
    play.confirm(Item.NOBODY_UNDER, Item.WHEELS_CHOCKED, Item.EXHAUST_EXTRACTED)
    play.confirm(Item.AUTO_STOP_DISABLED, Item.BRAKE_HELD)
    resumed(play, runs=False)
    assert asked(play) == set(gates.START_ITEMS)  # the engine is off: auto-stop too
    assert {Code.CONFIRM_AGAIN} <= {r.code for r in reasons(Gate.PRECONDITION, play.state)}
    assert Code.CONFIRM_AGAIN in play.do(ev.EngineStarted(t=play.t)).refused()
    confirm_all(play).do(play.celsius(22.0))
    play.taken(ev.EngineStarted(t=play.t))


def test_an_engine_that_runs_keeps_its_automatic_stop_disabled() -> None:
    play = Play().identified().sensor_trusted().on_the_ground()
    resumed(play)
    assert Item.AUTO_STOP_DISABLED not in asked(play)
    assert Item.BRAKE_HELD not in asked(play)  # nobody is in it any more
    assert {Item.NOBODY_UNDER, Item.OCCUPANT_OUT} <= asked(play)


def test_nothing_demands_the_plug_in_because_a_program_was_restarted() -> None:
    play = resumed(at_the_plug(), 40.0)
    assert play.state.causes == ()
    assert Alarm.PLUG_IN not in play.state.alarms
    assert play.state.stage is Stage.LEVEL
    assert asked(play) == AT_THE_LIFT
    play.wait(30, 71.0)
    assert play.state.causes == ()


def test_with_the_plug_out_nothing_goes_on_before_all_is_confirmed() -> None:
    play = settled(resumed(at_the_plug(), 40.0))
    assert play.flow(Flow.DRIPS, 1.0).refused() == {Code.CONFIRM_AGAIN}
    assert play.state.level.reached_at is None
    assert not play.flow(Flow.NOTHING).refused()  # what comes is a fact
    assert play.do(ev.PumpStarted(t=play.t)).refused() == {Code.CONFIRM_AGAIN}
    *most, last = gates.still_asked(play.state)
    play.confirm(*most)
    assert play.do(ev.PumpStarted(t=play.t)).refused() == {Code.CONFIRM_AGAIN}
    play.confirm(last)
    play.taken(ev.PumpStarted(t=play.t))


@pytest.mark.parametrize(
    "tap",
    [
        lambda t: ev.PlugIn(t=t),
        lambda t: ev.CheckAborted(t=t, reason="fire alarm", plug_left_out=True),
        lambda t: ev.EngineStopped(t=t),
        lambda t: ev.FlowJudged(t=t, flow=Flow.RUNS),
        lambda t: ev.FirstLook(t=t, findings=MILKY),
        lambda t: ev.RunOffMeasured(t=t, litres=0.2),
        lambda t: ev.SealDone(t=t, replaced=True),
        lambda t: ev.PlugStripped(t=t),
        lambda t: ev.HandedOver(t=t, to="M. Oduya", plug_is_out=True, engine_runs=True),
        lambda t: ev.Withdrawn(t=t, item=Item.LIFT_LOCKED),
    ],
)
def test_facts_are_never_refused_because_something_is_asked_again(tap: Any) -> None:
    play = resumed(at_the_plug(), 40.0)
    assert asked(play)
    assert not play.do(tap(play.t)).refused()


def test_a_level_judged_before_the_gap_is_judged_again_with_the_plug_still_out() -> None:
    play = at_the_plug().wait(20, 71.0).flow(Flow.DRIPS, 1.0)
    assert play.state.level.reached_at is not None
    resumed(play, 400.0)  # longer than a run-off may last: it had ended before
    assert play.state.level.reached_at is None
    assert play.state.causes == ()
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.end is None  # nobody judged the level that it went in on


def test_a_level_judged_before_stands_where_the_plug_was_found_in_with_no_temperature_known() -> (
    None
):
    play = at_the_plug().wait(20, 71.0).flow(Flow.DRIPS, 1.0)
    resumed(play, 400.0, out=False)
    assert play.state.end is End.LEVEL
    assert "closing_temperature_not_known" in verdict_of(play.state)[1]


def test_nothing_after_a_gap_is_not_taken_for_a_level_at_the_rim() -> None:
    """Fluid came before it; if the engine stopped unseen, "nothing" now means that it is low."""
    play = settled(resumed(at_the_plug(), 40.0))
    confirm_all(play)
    play.flow(Flow.NOTHING)
    assert play.state.level.reached_at is None
    play.taken(ev.PumpStarted(t=play.t))


def test_a_run_off_that_had_not_ended_is_timed_from_its_beginning() -> None:
    play = resumed(at_the_plug(), 300.0 + 1)
    assert Cause.RUN_OFF_TIME in play.state.causes
    assert Alarm.PLUG_IN in play.state.alarms


def test_an_engine_found_stopped_with_the_plug_out_alarms() -> None:
    play = resumed(at_the_plug(), runs=False)
    assert play.state.causes == (Cause.ENGINE_STOPPED,)
    assert AlarmRaised(Alarm.ENGINE_STOPPED) in play.effects


def test_where_nobody_looked_at_the_engine_it_stays_as_it_was() -> None:
    play = resumed(at_the_plug(), runs=None)
    assert play.state.causes == ()
    assert play.state.engine.running_since is not None


def test_a_band_left_meanwhile_is_found_on_the_first_good_reading() -> None:
    play = resumed(at_the_plug())
    play.do(play.celsius(62.0))  # more than the jitter below 65 °C
    assert play.state.causes == (Cause.BAND_LEFT,)


def test_a_vehicle_that_tells_its_engine_is_not_known_to_run_until_it_says_so() -> None:
    play = Play((SignalName.FLUID_TEMPERATURE, SignalName.ENGINE_SPEED)).identified()
    play.sensor_trusted().confirm(*gates.START_ITEMS)
    play.do(Reading(play.t, SignalName.ENGINE_SPEED, 640.0))
    assert facts.engine_runs(play.state)
    resumed(play, None)
    assert not facts.engine_known(play.state)
    play.t += 1
    play.do(Reading(play.t, SignalName.ENGINE_SPEED, 640.0))
    assert facts.engine_runs(play.state)
    assert facts.circulated_at(play.state) == play.t + 45


def test_the_tilt_is_measured_again_only_after_a_longer_gap() -> None:
    play = resumed(Play().ready(), resuming.TILT_TRUSTED_GAP_S)
    assert play.state.tilt is not None
    play = resumed(Play().ready(), resuming.TILT_TRUSTED_GAP_S + 1)
    assert Code.TILT_NOT_MEASURED in codes(play)
    assert play.state.stage is Stage.RAISE


def test_overrides_do_not_survive_a_gap() -> None:
    play = Play().ready(60.0)
    tap = ev.GateOverridden(t=play.t, code=Code.BELOW_BAND, reason="sensor low", by="R.")
    play.taken(tap)
    assert not reasons(Gate.PLUG_OUT, play.state)
    confirm_all(settled(resumed(play), 60.0)).wait(60, 60.0)
    assert codes(play) == {Code.BELOW_BAND}
    assert len(play.state.overrides) == 1  # it stays on record


def test_an_override_of_something_that_still_stands_is_asked_for_again_too() -> None:
    play = Play().ready()
    play.taken(
        ev.TiltMeasured(
            t=play.t, lengthwise=2, lengthwise_turned=2, crosswise=0, crosswise_turned=0
        )
    )
    tap = ev.GateOverridden(t=play.t, code=Code.TILT_TOO_LARGE, reason="no other lift", by="R.")
    play.taken(tap)
    assert not reasons(Gate.PLUG_OUT, play.state)
    confirm_all(settled(resumed(play), 70.0)).wait(60, 70.0)
    assert codes(play) == {Code.TILT_TOO_LARGE}
    play.taken(replace(tap, t=play.t))
    assert not reasons(Gate.PLUG_OUT, play.state)


def test_what_is_overridden_with_the_plug_out_counts_for_the_verdict() -> None:
    play = resumed(Play().ready().plug_out(), resuming.TILT_TRUSTED_GAP_S + 1)
    play.taken(ev.GateOverridden(t=play.t, code=Code.TILT_NOT_MEASURED, reason="no level", by="R."))
    assert Code.TILT_NOT_MEASURED in play.state.overridden_at_plug


def test_asking_again_is_never_overridden() -> None:
    play = resumed(Play().ready())
    tap = ev.GateOverridden(
        t=play.t, code=Code.CONFIRM_AGAIN, word=Item.CATCH_PAN.value, reason="x", by="R."
    )
    assert play.do(tap).refused() == {Code.NEVER_OVERRIDDEN}


def test_a_late_tap_does_not_reach_back_beyond_the_gap() -> None:
    play = Play().ready()
    before = play.t
    resumed(play, 40.0)
    late = ev.PlugOut(t=play.t, happened=before)
    assert play.do(late).refused() == {Code.TOO_LATE}


def test_a_lift_that_came_down_meanwhile_is_withdrawn_and_the_ground_made_safe_anew() -> None:
    play = resumed(Play().ready())
    play.taken(ev.Withdrawn(t=play.t, item=Item.LIFT_LOCKED))
    assert asked(play) == set()
    assert play.state.stage is Stage.PRECONDITION


def test_the_lift_is_confirmed_again_though_the_engine_rests() -> None:
    """It stands up already: what a vehicle needs before it is raised is no question now."""
    play = Play().ready(110.0)
    play.taken(ev.EngineStopped(t=play.t))
    resumed(play, runs=False)
    play.confirm(Item.LIFT_LOCKED)
    assert Item.LIFT_LOCKED not in asked(play)


def test_torque_and_leak_look_wait_for_those_who_stand_below() -> None:
    play = at_the_plug().wait(20, 71.0).flow(Flow.DRIPS, 1.0)
    play.taken(ev.PlugIn(t=play.t))
    resumed(play)
    assert asked(play) == resuming.AT_CLOSING
    torque = ev.PlugTorqued(t=play.t, torque=10, wrench_low=4, wrench_high=20, unit="N·m")
    play.taken(ev.SealDone(t=play.t, replaced=True))
    assert play.do(torque).refused() == {Code.CONFIRM_AGAIN}
    confirm_all(play).taken(torque).taken(ev.LeakLook(t=play.t, dry=True))
    resumed(play)
    assert asked(play) == set()  # nobody goes below any more
    play.finished()


def test_a_stopped_check_takes_what_is_found_and_nothing_more() -> None:
    play = at_the_plug()
    play.taken(ev.CheckAborted(t=play.t, reason="power cut", plug_left_out=True))
    resumed(play, out=False)
    assert not play.state.plug_is_out
    assert asked(play) == set()
    assert play.do(ev.Confirmed(t=play.t, item=Item.CATCH_PAN)).refused() == {Code.CHECK_OVER}


def test_a_record_made_before_is_replayed_by_the_rules_of_its_day() -> None:
    play = Play().ready().plug_out()
    old = [ev.CheckOpened(**_fields(play.events[0]) | {"procedure": 3}), *play.events[1:]]
    old.append(ev.Resumed(t=play.t + 700, gap_s=700.0, plug_is_out=True, engine_runs=True))
    state = reducer.replay(old)
    assert gates.still_asked(state) == ()
    assert state.tilt is not None
    assert state.engine.rpm == 640
    assert state.temperature.last is not None


def _fields(opened: Any) -> dict[str, Any]:
    return {name: getattr(opened, name) for name in opened.__dataclass_fields__}


GAPS = st.one_of(st.none(), st.floats(0, 2000))


@given(plays(), STEPS, GAPS, st.booleans(), st.sampled_from([True, False, None]), STEPS)
@settings(max_examples=150)
def test_the_plug_never_comes_out_through_anything_asked_again(
    play: Play, before: list[Any], gap: float | None, out: bool, runs: bool | None, after: list[Any]
) -> None:
    for pause, make in before:
        play.t += pause
        play.do(make(play.t))
    play.t += gap or 0.0
    play.do(ev.Resumed(t=play.t, gap_s=gap, plug_is_out=out, engine_runs=runs))
    if resuming.is_long(gap) and play.state.closed is None:
        assert play.state.active_overrides == frozenset()
    for pause, make in after:
        play.t += pause
        event = make(play.t)
        open_items = gates.still_asked(reducer.advance(play.state, play.t)[0])
        spans, reached = len(play.state.plug_spans), play.state.level.reached_at
        play.do(event)
        if open_items and isinstance(event, ev.PlugOut | ev.PumpStarted | ev.PlugTorqued):
            assert play.refused()
            assert len(play.state.plug_spans) == spans
        if open_items and isinstance(event, ev.FlowJudged):
            assert play.state.level.reached_at in (None, reached)
    assert reducer.replay(play.events) == play.state


@given(plays(), STEPS, GAPS, st.booleans(), st.floats(0, 700), st.floats(0, 700))
def test_time_after_a_gap_may_pass_in_any_portions(
    play: Play, before: list[Any], gap: float | None, out: bool, first: float, second: float
) -> None:
    for pause, make in before:
        play.t += pause
        play.do(make(play.t))
    play.t += gap or 0.0
    play.do(ev.Resumed(t=play.t, gap_s=gap, plug_is_out=out, engine_runs=True))
    start = play.state
    a, b = sorted((start.now + first, start.now + second))
    halfway, early = reducer.advance(start, a)
    twice, late = reducer.advance(halfway, b)
    assert (twice, early + late) == reducer.advance(start, b)


@pytest.mark.parametrize("measured", [ALL_SIGNALS, (SignalName.FLUID_TEMPERATURE,)])
def test_every_item_asked_again_can_be_given_again(measured: tuple[SignalName, ...]) -> None:
    play = Play(measured).identified().confirm(*(set(Item) - {Item.LIFT_LOCKED}))
    resumed(play, None, runs=False)
    confirm_all(play)
    assert asked(play) == set()
    assert play.look(GOOD).refused() == {Code.PLUG_IS_IN}
