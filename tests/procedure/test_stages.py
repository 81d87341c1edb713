"""The eleven stages, one whole check each way it can go."""

from __future__ import annotations

import pytest
from check_play import ALL_SIGNALS, GOOD, MILKY, Play, sheet

from brimline.condition.model import Recommendation
from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.events import Flow, Item, Verdict
from brimline.procedure.reasons import Code
from brimline.procedure.state import Alarm, Cause, Evidence, Stage
from brimline.procedure.verdict import closing_event, verdict_of
from brimline.reading import Quality, Reading, SignalName, Way


def test_a_whole_check_walks_every_stage() -> None:
    play, seen = Play(), []
    for step in ("identified", "sensor_trusted", "on_the_ground", "raised"):
        seen.append(play.state.stage)
        getattr(play, step)()
    seen.append(play.state.stage)
    play.wait(12, 70.0)
    seen.append(play.state.stage)
    play.plug_out()
    seen.append(play.state.stage)
    play.flow(Flow.RUNS).look().wait(20, 71.0).flow(Flow.DRIPS, 1.5)
    play.taken(ev.PlugIn(t=play.t))
    seen.append(play.state.stage)
    play.taken(ev.SealDone(t=play.t, replaced=True))
    play.taken(ev.PlugTorqued(t=play.t, torque=10, wrench_low=4, wrench_high=20, unit="N·m"))
    play.taken(ev.LeakLook(t=play.t, dry=True))
    play.taken(ev.RunOffMeasured(t=play.t, litres=0.1))
    seen.append(play.state.stage)
    play.taken(
        ev.ConditionAssessed(
            t=play.t, findings=GOOD, advised=Recommendation.NO_ACTION, advised_reasons=(),
            recommendation=Recommendation.NO_ACTION,
        )
    )  # fmt: skip
    seen.append(play.state.stage)
    play.taken(closing_event(play.state, play.t))
    seen.append(play.state.stage)
    assert seen == [s for s in Stage if s is not Stage.FLUID]  # fluid follows identify at once
    assert play.state.closed is not None
    assert play.state.closed.verdict is Verdict.SET
    assert play.state.closing.celsius == 71.0


def test_fluid_run_off_beyond_the_acceptance_is_a_correction() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().wait(20, 71.0).flow(Flow.DRIPS, 2.0)
    play.closed_up().taken(ev.RunOffMeasured(t=play.t, litres=0.4))
    assert play.finished().state.closed.verdict is Verdict.CORRECTED


def test_two_top_ups_each_with_its_settle_time() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look(drawn=True)
    play.pump(0.25).flow(Flow.DRIPS, 1.0)
    assert play.refused() == {Code.SETTLING}  # pumped fluid running back fakes a drip
    play.wait(30, 72.0).flow(Flow.NOTHING).pump(0.2).wait(30, 72.0).flow(Flow.RUNS)
    assert not play.refused()
    play.wait(10, 72.0).flow(Flow.DRIPS, 2.0).closed_up().finished()
    assert play.state.closed.verdict is Verdict.CORRECTED
    assert play.state.added == pytest.approx(0.45)


def test_nothing_is_added_before_the_first_look_nor_while_fluid_comes() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING)
    assert play.do(ev.PumpStarted(t=play.t)).refused() == {Code.NO_FIRST_LOOK}
    play.look(drawn=True).flow(Flow.RUNS)
    assert play.do(ev.PumpStarted(t=play.t)).refused() == {Code.FLUID_STILL_COMES}


def test_a_drip_before_the_first_look_is_not_the_level_yet() -> None:
    play = Play().ready().plug_out().flow(Flow.DRIPS, 1.0)
    assert play.state.level.reached_at is None
    play.look().flow(Flow.DRIPS, 1.0)
    assert play.state.level.reached_at == play.t


def test_a_drip_faster_than_the_sheet_allows_is_not_the_level() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 2.1)
    assert play.state.level.reached_at is None
    assert play.flow(Flow.DRIPS, 2.0).state.level.reached_at == play.t


def test_fluid_that_ran_and_stopped_stands_at_the_rim() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().wait(9, 71.0).flow(Flow.NOTHING)
    assert play.state.level.reached_at == play.t


def test_top_up_limit_demands_the_plug_in_and_stops_the_check() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look(drawn=True)
    play.pump(1.0).wait(30, 72.0).flow(Flow.NOTHING)
    assert play.state.causes == (Cause.TOP_UP_LIMIT,)
    assert Alarm.PLUG_IN in play.state.alarms
    assert play.do(ev.PumpStarted(t=play.t)).refused() >= {Code.PLUG_IN_FIRST, Code.TOP_UP_LIMIT}
    assert play.closed_up().finished().state.closed.verdict is Verdict.STOPPED


def test_too_much_pumped_in_at_once_is_kept_in_the_ledger_and_stops_the_check() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look(drawn=True).pump(1.3)
    assert play.state.causes == (Cause.TOP_UP_LIMIT,)
    assert play.state.added == pytest.approx(1.3)


def test_run_off_longer_than_the_sheet_allows() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().wait(299, 71.0)
    assert play.state.causes == ()
    play.wait(1, 71.0)
    assert play.state.causes == (Cause.RUN_OFF_TIME,)
    assert play.closed_up().finished().state.closed.verdict is Verdict.STOPPED


def test_more_run_off_than_the_sheet_allows() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look()
    play.taken(ev.RunOffMeasured(t=play.t, litres=0.7)).taken(
        ev.RunOffMeasured(t=play.t, litres=0.4)
    )
    assert play.state.causes == (Cause.RUN_OFF_LIMIT,)
    assert play.closed_up().finished().state.closed.verdict is Verdict.STOPPED


def test_too_much_run_off_found_after_closing_needs_a_recheck() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0).closed_up()
    play.taken(ev.RunOffMeasured(t=play.t, litres=1.4))
    assert play.finished().state.closed.verdict is Verdict.RECHECK


def test_coolant_signs_end_in_a_referral_that_nobody_overrides() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look(MILKY)
    assert play.state.causes == (Cause.COOLANT_SIGNS,)
    assert Code.COOLANT_SIGNS in play.do(ev.PumpStarted(t=play.t)).refused()
    play.closed_up()
    milder = ev.ConditionAssessed(
        t=play.t, findings=GOOD, advised=Recommendation.NO_ACTION, advised_reasons=(),
        recommendation=Recommendation.NO_ACTION, override_reason="looks fine",
    )  # fmt: skip
    assert play.do(milder).refused() == {Code.REFERRAL_STANDS}
    assert play.finished(MILKY).state.closed.verdict is Verdict.REFERRED


def test_coolant_signs_found_only_in_the_assessment_refer_too() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0).closed_up()
    assert play.finished(MILKY).state.closed.verdict is Verdict.REFERRED


def test_stripped_plug_stops_the_check_where_it_stands() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0)
    play.taken(ev.PlugIn(t=play.t)).taken(ev.PlugStripped(t=play.t, note="turns"))
    assert play.state.stage is Stage.RECORD
    assert verdict_of(play.state) == (Verdict.STOPPED, ("plug_stripped",))
    assert not play.do(closing_event(play.state, play.t)).refused()


@pytest.mark.parametrize("steps", range(6))
def test_abort_at_any_time(steps: int) -> None:
    play = Play()
    for name in ("identified", "sensor_trusted", "on_the_ground", "raised")[:steps]:
        getattr(play, name)()
    if steps == 5:
        play.wait(12, 70.0).plug_out()
        refused = play.do(ev.CheckAborted(t=play.t, reason="power cut")).refused()
        assert refused == {Code.PLUG_IN_FIRST}
        play.taken(ev.CheckAborted(t=play.t, reason="power cut", plug_left_out=True))
    else:
        play.taken(ev.CheckAborted(t=play.t, reason="power cut"))
    assert play.do(ev.PlugOut(t=play.t)).refused() == {Code.CHECK_OVER}
    assert not play.do(closing_event(play.state, play.t)).refused()
    assert play.state.closed.verdict is Verdict.STOPPED


def test_wrong_fluid_is_a_hard_stop_before_the_engine_is_started() -> None:
    play = Play().identified().sensor_trusted().confirm(*gates.START_ITEMS)
    play.taken(ev.FluidChosen(t=0, product="TF-Red"))
    assert play.do(ev.EngineStarted(t=0)).refused() == {Code.FLUID_NOT_APPROVED}
    override = ev.GateOverridden(t=0, code=Code.FLUID_NOT_APPROVED, reason="hurry", by="R.")
    assert play.do(override).refused() == {Code.NEVER_OVERRIDDEN}
    play.taken(ev.FluidChosen(t=0, product="TF-Unheard-Of"))
    assert play.do(ev.EngineStarted(t=0)).refused() == {Code.FLUID_NOT_APPROVED}


def test_a_conditional_approval_must_be_confirmed() -> None:
    play = Play().identified().sensor_trusted().confirm(*gates.START_ITEMS)
    play.taken(ev.FluidChosen(t=0, product="tf-thin"))
    assert play.do(ev.EngineStarted(t=0)).refused() == {Code.FLUID_CONDITION}
    play.taken(ev.FluidChosen(t=0, product="tf-thin", condition_confirmed=True))
    play.taken(ev.EngineStarted(t=0))


def test_a_drained_box_takes_its_initial_fill_first() -> None:
    play = Play().identified()
    play.taken(ev.VehicleIdentified(t=0, vin="0THFC3K71RL104218", work_order="W", drained=True))
    assert play.state.stage is Stage.FLUID
    assert play.confirm(Item.INITIAL_FILL_DONE).state.stage is Stage.SENSOR


def test_the_lift_waits_for_the_idle_time() -> None:
    play = Play().identified().sensor_trusted()
    play.confirm(
        Item.NOBODY_UNDER, Item.WHEELS_CHOCKED, Item.EXHAUST_EXTRACTED,
        Item.AUTO_STOP_DISABLED, Item.BRAKE_HELD,
    )  # fmt: skip
    play.taken(ev.EngineStarted(t=play.t))
    play.taken(ev.RangeSelected(t=play.t, range="R")).wait(2.9)
    play.taken(ev.RangeSelected(t=play.t, range="D")).wait(4)
    play.taken(ev.RangeSelected(t=play.t, range="P"))
    play.taken(ev.IdleSpeedNoted(t=play.t, rpm=640)).confirm(Item.PARKING_BRAKE, Item.OCCUPANT_OUT)
    play.wait(59.9).warned(Stage.RAISE)
    refused = play.do(ev.Confirmed(t=play.t, item=Item.LIFT_LOCKED)).refused()
    assert refused == {Code.RANGE_NOT_SERVED, Code.IDLE_TIME_SHORT}  # R was left 0.1 s early
    play.wait(0.2)
    refused = play.do(ev.Confirmed(t=play.t, item=Item.LIFT_LOCKED)).refused()
    assert refused == {Code.RANGE_NOT_SERVED}
    assert [(s.name, s.evidence) for s in play.state.ranges.served] == [("D", Evidence.ATTESTED)]


def test_a_dwell_that_a_late_tap_cuts_short_was_not_served() -> None:
    play = Play().identified().sensor_trusted().confirm(*gates.START_ITEMS)
    play.taken(ev.EngineStarted(t=0)).taken(ev.RangeSelected(t=0, range="R")).wait(5)
    assert len(play.state.ranges.served) == 1
    play.taken(ev.RangeSelected(t=play.t, happened=2.0, range="P"))
    assert play.state.ranges.served == ()


def test_tilt_answers_in_litres_and_closes_the_gate() -> None:
    play = Play().ready()
    play.taken(
        ev.TiltMeasured(
            t=play.t, lengthwise=1.1, lengthwise_turned=0.9, crosswise=0, crosswise_turned=0
        )
    )
    refused = play.do(ev.PlugOut(t=play.t))
    assert refused.refused() == {Code.TILT_TOO_LARGE}
    reason = refused.effects[0].reasons[0]
    # 0.115 m² · -0.055 m · tan 1° = -0.1104 L, computed by hand.
    assert reason.value == pytest.approx(-0.1104, abs=1e-4)


def test_torque_in_the_wrong_unit_and_an_unfit_wrench_are_refused() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0)
    play.taken(ev.PlugIn(t=play.t))
    good = {"wrench_low": 4.0, "wrench_high": 20.0, "unit": "N·m"}
    torqued = ev.PlugTorqued(t=play.t, torque=10.0, **good)
    assert play.do(torqued).refused() == {Code.SEAL_NOT_DONE}
    assert play.do(ev.SealDone(t=play.t, replaced=False)).refused() == {Code.SEAL_NOT_DONE}
    play.taken(ev.SealDone(t=play.t, replaced=True))
    # 88 in·lbf are 10 N·m; 88 ft·lbf are twelve times as much.
    assert play.do(ev.PlugTorqued(t=play.t, torque=119.3, **good)).refused() == {Code.TORQUE_WRONG}
    coarse = ev.PlugTorqued(t=play.t, torque=10, wrench_low=20, wrench_high=200, unit="N·m")
    assert play.do(coarse).refused() == {Code.WRENCH_UNFIT}
    play.taken(torqued).taken(ev.LeakLook(t=play.t, dry=False))
    assert play.state.stage is Stage.CLOSE
    play.taken(torqued).taken(ev.LeakLook(t=play.t, dry=True))
    assert play.state.stage is Stage.CONDITION


def test_recommendation_is_overridden_only_with_a_reason() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0).closed_up()
    differs = {
        "findings": GOOD, "advised": Recommendation.NO_ACTION, "advised_reasons": (),
        "recommendation": Recommendation.CHANGE_FLUID,
    }  # fmt: skip
    refused = play.do(ev.ConditionAssessed(t=play.t, **differs)).refused()
    assert refused == {Code.NO_REASON_GIVEN}
    play.taken(ev.ConditionAssessed(t=play.t, **differs, override_reason="tows every day"))


def test_an_override_that_touches_the_level_needs_a_recheck() -> None:
    play = Play().ready()
    play.taken(
        ev.TiltMeasured(
            t=play.t, lengthwise=0.7, lengthwise_turned=0.7, crosswise=0, crosswise_turned=0
        )
    )
    empty = ev.GateOverridden(t=play.t, code=Code.TILT_TOO_LARGE, reason=" ", by="R.")
    assert play.do(empty).refused() == {Code.NO_REASON_GIVEN}
    other = ev.GateOverridden(t=play.t, code=Code.BELOW_BAND, reason="x", by="R.")
    assert play.do(other).refused() == {Code.NOTHING_TO_OVERRIDE}
    play.taken(ev.GateOverridden(t=play.t, code=Code.TILT_TOO_LARGE, reason="sloped", by="R."))
    play.plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0).closed_up().finished()
    assert play.state.closed.verdict is Verdict.RECHECK
    assert play.state.closed.reasons == ("overridden: tilt_too_large",)


def test_measured_signals_are_not_replaced_by_taps() -> None:
    play = Play(ALL_SIGNALS).identified().sensor_trusted()
    for tap in (
        ev.EngineStarted(t=0), ev.EngineStopped(t=0), ev.RangeSelected(t=0, range="P"),
        ev.IdleSpeedNoted(t=0, rpm=640),
    ):  # fmt: skip
        assert play.do(tap).refused() == {Code.IS_MEASURED}
    keyed = Reading(0, SignalName.FLUID_TEMPERATURE, 70.0, Quality.GOOD, Way.KEYED)
    assert play.do(keyed).state.temperature.last.number == 22.0


def test_the_whole_procedure_on_keyed_readings_alone() -> None:
    play = Play(measured=()).identified()
    play.do(play.celsius(22.0, way=Way.KEYED))
    play.taken(ev.SensorChecked(t=0, ambient=21.0, rested=True)).on_the_ground().raised()
    play.do(play.celsius(70.0, way=Way.KEYED))
    play.wait(59.9)
    assert play.state.stage is Stage.PLUG_OUT
    play.wait(0.1)
    assert play.do(ev.PlugOut(t=play.t)).refused() == {Code.READING_STALE}  # after a stated time
    play.do(play.celsius(71.0, way=Way.KEYED)).plug_out()


def test_sustained_load_is_open_at_the_top_up_to_its_limit() -> None:
    play = Play(duty="sustained_load", spec=sheet()).ready(celsius=99.0)
    assert play.state.stage is Stage.PLUG_OUT
    play.t += 1
    play.do(play.celsius(105.5))
    assert play.do(ev.PlugOut(t=play.t)).refused() == {Code.TOO_HOT_FOR_PLUG}
    override = ev.GateOverridden(t=play.t, code=Code.TOO_HOT_FOR_PLUG, reason="now", by="R.")
    assert play.do(override).refused() == {Code.NEVER_OVERRIDDEN}
