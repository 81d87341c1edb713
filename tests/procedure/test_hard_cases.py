"""Cases in which a person could be hurt or misled, one by one."""

from __future__ import annotations

import pytest
from check_play import GOOD, MILKY, SHEET, Play, sheet

from brimline.condition.model import Recommendation
from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.events import Flow, Item, Verdict
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.reasons import Code
from brimline.procedure.state import Alarm, Cause, End, Stage
from brimline.procedure.verdict import closing_event, verdict_of
from brimline.reading import Reading, SignalName

TWO_VARIANTS = SHEET["transmission"] | {"variants": ["K7-H", "K7-L"]}
FOR_ONE_VARIANT = SHEET["fluids"][0] | {"variants": ["K7-L"]}


def codes(play: Play, gate: Gate = Gate.PLUG_OUT) -> set[Code]:
    return {reason.code for reason in reasons(gate, play.state)}


def at_the_plug() -> Play:
    return Play().ready().plug_out().flow(Flow.RUNS).look()


def override(play: Play, code: Code, word: str = "") -> set[Code]:
    tap = ev.GateOverridden(t=play.t, code=code, word=word, reason="because", by="R.")
    return play.do(tap).refused()


def test_a_lift_unlocked_with_the_plug_out_alarms_and_voids_the_level() -> None:
    play = at_the_plug().flow(Flow.DRIPS, 1.0)
    play.taken(ev.Withdrawn(t=play.t, item=Item.LIFT_LOCKED))
    assert play.state.causes == (Cause.NOT_SECURE,)
    assert Alarm.PLUG_IN in play.state.alarms
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.end is None
    assert play.state.provisional


@pytest.mark.parametrize(
    ("signal", "value"), [(SignalName.VEHICLE_SPEED, 20.0), (SignalName.RANGE, "D")]
)
def test_a_vehicle_that_moves_or_leaves_park_with_the_plug_out(
    signal: SignalName, value: float | str
) -> None:
    play = Play((SignalName.FLUID_TEMPERATURE, SignalName.VEHICLE_SPEED)).ready().plug_out()
    if signal is SignalName.RANGE:
        play.taken(ev.RangeSelected(t=play.t, range="D"))
    else:
        play.do(Reading(play.t, signal, value))
    assert Cause.NOT_SECURE in play.state.causes


def test_the_level_is_not_accepted_on_a_tilted_vehicle_nor_off_idle() -> None:
    play = at_the_plug()
    play.taken(
        ev.TiltMeasured(
            t=play.t, lengthwise=5, lengthwise_turned=5, crosswise=0, crosswise_turned=0
        )
    )
    assert play.flow(Flow.DRIPS, 1.0).refused() == {Code.TILT_TOO_LARGE}
    play = at_the_plug()
    play.taken(ev.IdleSpeedNoted(t=play.t, rpm=1800))
    assert play.flow(Flow.DRIPS, 1.0).refused() == {Code.IDLE_SPEED_OUTSIDE}


def test_pumped_fluid_reaches_the_ledger_whatever_happens_meanwhile() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look()
    play.taken(ev.PumpStarted(t=play.t)).taken(ev.PlugIn(t=play.t))
    assert Code.PUMP_RUNS in codes(play)
    play.taken(ev.PumpStopped(t=play.t, litres=0.6))
    assert play.state.added == pytest.approx(0.6)
    assert play.state.ledger[0].product == "TF-Clear"


def test_pumped_fluid_reaches_the_ledger_after_an_abort() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look()
    play.taken(ev.PumpStarted(t=play.t))
    play.taken(ev.CheckAborted(t=play.t, reason="hose burst", plug_left_out=True))
    assert verdict_of(play.state)[1] == ("aborted: hose burst", "amount_added_not_known")
    play.taken(ev.PumpStopped(t=play.t, litres=0.5)).taken(ev.PlugIn(t=play.t))
    assert play.state.added == pytest.approx(0.5)
    assert verdict_of(play.state)[1] == ("aborted: hose burst",)
    play.taken(closing_event(play.state, play.t))


def test_an_engine_that_stopped_before_a_late_plug_out_alarms() -> None:
    play = Play().ready()
    out = play.t
    play.wait(5, 71.0).taken(ev.EngineStopped(t=play.t))
    play.taken(ev.PlugOut(t=play.t, happened=out))
    assert play.state.causes == (Cause.ENGINE_STOPPED,)


def test_an_engine_stop_told_after_the_signal_was_lost_alarms() -> None:
    signals = (SignalName.FLUID_TEMPERATURE, SignalName.ENGINE_SPEED)
    play = Play(signals).identified().sensor_trusted()
    play.confirm(*gates.START_ITEMS)
    rpm = Reading(0.0, SignalName.ENGINE_SPEED, 640.0)

    def run(seconds: int, celsius: float) -> None:
        for _ in range(seconds):
            play.t += 1
            play.do(Reading(play.t, SignalName.ENGINE_SPEED, rpm.value))
            play.do(play.celsius(celsius))

    run(2, 25.0)
    for name in ("R", "D", "P"):
        play.taken(ev.RangeSelected(t=play.t, range=name))
        run(5, 25.0)
    run(60, 30.0)
    play.confirm(Item.PARKING_BRAKE, Item.OCCUPANT_OUT).raised()
    run(12, 70.0)
    play.plug_out().wait(6, 70.0)
    assert Alarm.READINGS_LOST in play.state.alarms  # nobody knows whether the engine runs
    play.taken(ev.SignalWithdrawn(t=play.t, signal=SignalName.ENGINE_SPEED, reason="unplugged"))
    still = ev.EngineStarted(t=play.t)  # "it is still running" can be said
    assert not play.do(still).refused()
    assert play.state.causes == ()
    play.taken(ev.EngineStopped(t=play.t))
    assert play.state.causes == (Cause.ENGINE_STOPPED,)


def test_an_engine_stop_told_late_undoes_a_level_that_was_set_after_it() -> None:
    play = at_the_plug().flow(Flow.DRIPS, 1.0)
    stopped = play.t
    play.wait(3, 71.0).taken(ev.PlugIn(t=play.t))
    assert play.state.end is End.LEVEL
    play.taken(ev.EngineStopped(t=play.t, happened=stopped + 1))
    assert play.state.end is None
    assert play.state.ranges.served == ()
    assert Cause.ENGINE_STOPPED in play.state.past_causes


def test_coolant_once_seen_outranks_everything_that_follows() -> None:
    play = at_the_plug().look(MILKY).look(GOOD)
    play.taken(ev.PlugIn(t=play.t))
    milder = ev.ConditionAssessed(
        t=play.t, findings=GOOD, advised=Recommendation.NO_ACTION, advised_reasons=(),
        recommendation=Recommendation.NO_ACTION,
    )  # fmt: skip
    assert play.do(milder).refused() == {Code.REFERRAL_STANDS}
    play.taken(ev.CheckAborted(t=play.t, reason="customer waits"))
    verdict, why = verdict_of(play.state)
    assert verdict is Verdict.REFERRED
    assert why == ("coolant_signs", "aborted: customer waits")


def test_coolant_outranks_a_stripped_plug_and_a_run_off_limit() -> None:
    play = at_the_plug().wait(300, 71.0).look(MILKY)
    assert play.state.causes == (Cause.RUN_OFF_TIME, Cause.COOLANT_SIGNS)
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.end is End.REFERRED
    play.taken(ev.PlugStripped(t=play.t))
    assert verdict_of(play.state) == (
        Verdict.REFERRED, ("coolant_signs", "plug_stripped", "run_off_time"),
    )  # fmt: skip


def test_coolant_seen_in_the_catch_pan_refers_with_the_plug_in() -> None:
    play = Play().ready().plug_out()
    play.taken(ev.PlugIn(t=play.t))
    play.look(MILKY)
    assert play.state.end is End.REFERRED


def test_coolant_can_be_reported_before_anything_else_is_judged() -> None:
    play = Play().ready().plug_out().wait(6)
    assert not play.look(MILKY).refused()
    assert play.state.causes == (Cause.COOLANT_SIGNS,)


def test_a_plug_found_out_after_closing_undoes_the_level() -> None:
    play = at_the_plug().flow(Flow.DRIPS, 1.0).closed_up()
    play.do(ev.Resumed(t=play.t, gap_s=9, plug_is_out=True, engine_runs=True))
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.end is None
    assert play.state.stage is not Stage.CONDITION


def test_stripped_and_aborted_are_both_told() -> None:
    play = at_the_plug()
    play.taken(ev.PlugIn(t=play.t)).taken(ev.PlugStripped(t=play.t))
    play.taken(ev.CheckAborted(t=play.t, reason="x"))
    assert verdict_of(play.state)[1] == ("plug_stripped", "aborted: x")


def test_a_late_judgement_inside_the_settle_time_is_the_faked_drip() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look().pump(0.2)
    off = play.t
    play.wait(31, 72.0)
    early = ev.FlowJudged(t=play.t, happened=off + 3, flow=Flow.DRIPS, drops_per_second=1.0)
    assert play.do(early).refused() == {Code.SETTLING}
    assert not play.flow(Flow.DRIPS, 1.0).refused()


def test_a_plug_that_was_in_before_the_band_was_left_keeps_its_level() -> None:
    play = Play().ready(84.0).plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0)
    really_in = play.t + 2
    play.wait(3, 84.0).wait(2, 88.0)
    assert Cause.BAND_LEFT in play.state.causes
    play.taken(ev.PlugIn(t=play.t, happened=really_in))
    assert play.state.end is End.LEVEL
    assert not play.state.provisional


def test_late_taps_do_not_reach_behind_a_stop_or_a_start() -> None:
    play = Play().ready()
    start = play.t
    play.wait(10, 71.0).taken(ev.EngineStopped(t=play.t)).wait(5, 71.0)
    play.taken(ev.EngineStarted(t=play.t, happened=start)).taken(
        ev.IdleSpeedNoted(t=play.t, rpm=640)
    )
    assert Code.CIRCULATION_SHORT in codes(play)
    other = Play().identified().sensor_trusted().confirm(*gates.START_ITEMS).wait(50)
    other.taken(ev.EngineStarted(t=other.t)).taken(
        ev.RangeSelected(t=other.t, happened=0.0, range="P")
    )
    assert other.state.engine.idle_since == 50


def test_no_engine_is_started_before_the_ground_is_safe() -> None:
    play = Play().identified().sensor_trusted()
    assert play.do(ev.EngineStarted(t=play.t)).refused() == {Code.ITEM_OPEN}
    play = Play().ready().plug_out()
    play.taken(ev.EngineStopped(t=play.t)).taken(ev.PlugIn(t=play.t))
    assert Item.NOBODY_UNDER not in play.state.confirmed  # somebody was, a moment ago
    assert play.do(ev.EngineStarted(t=play.t)).refused() == {Code.ITEM_OPEN}


@pytest.mark.parametrize("item", [Item.NOBODY_UNDER, Item.OCCUPANT_OUT])
def test_people_are_never_overridden(item: Item) -> None:
    play = Play().identified().sensor_trusted()
    assert override(play, Code.ITEM_OPEN, item) == {Code.NEVER_OVERRIDDEN}
    assert not override(play, Code.ITEM_OPEN, Item.CATCH_PAN)


def test_an_override_ends_with_its_reason_and_covers_nothing_worse() -> None:
    play = Play().ready(63.0)
    assert not override(play, Code.BELOW_BAND)
    assert codes(play) == set()
    play.wait(2, 62.2)
    assert codes(play) == set()
    play.wait(2, 60.9)  # more than 2 °C worse, which is as far as jitter spans
    assert codes(play) == {Code.BELOW_BAND}
    play.wait(12, 70.0)
    assert play.state.active_overrides == frozenset()
    play.plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0).closed_up().finished()
    assert play.state.closed.verdict is Verdict.SET  # it was given, and not needed in the end


def test_a_new_measurement_of_the_tilt_asks_again() -> None:
    play = Play().ready()

    def tilt(angle: float) -> None:
        play.taken(
            ev.TiltMeasured(
                t=play.t, lengthwise=angle, lengthwise_turned=angle, crosswise=0, crosswise_turned=0
            )
        )

    tilt(0.6)
    assert not override(play, Code.TILT_TOO_LARGE)
    tilt(8.0)
    assert codes(play) == {Code.TILT_TOO_LARGE}


def test_after_a_gap_the_band_is_entered_anew() -> None:
    play = Play().ready()
    play.wait(600).wait(1, 66.0)
    assert codes(play) == {Code.BAND_NOT_STEADY}
    play.wait(10, 66.0)
    assert codes(play) == set()


def test_what_ran_off_is_told_before_the_record_closes() -> None:
    play = at_the_plug().flow(Flow.DRIPS, 1.0).closed_up()
    assert Code.RUN_OFF_UNKNOWN in {r.code for r in reasons(Gate.RECORD, play.state)}
    play.confirm(Item.RUN_OFF_NOT_MEASURED).finished()
    assert play.state.closed.reasons == ("level_at_rim", "run_off_not_measured")


def test_a_level_without_its_closing_temperature_needs_a_recheck() -> None:
    play = at_the_plug().flow(Flow.DRIPS, 1.0).wait(120)
    play.closed_up().finished()
    assert play.state.closed.verdict is Verdict.RECHECK
    assert play.state.closed.reasons == ("closing_temperature_not_known",)


def test_the_fluid_on_record_is_the_one_that_went_in() -> None:
    play = at_the_plug().flow(Flow.DRIPS, 1.0).closed_up()
    assert play.do(ev.FluidChosen(t=play.t, product="TF-Red")).refused() == {Code.CHECK_OVER}


def test_a_seal_is_replaced_while_the_plug_is_in_the_hand() -> None:
    play = at_the_plug().flow(Flow.DRIPS, 1.0)
    play.taken(ev.SealDone(t=play.t, replaced=True))
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.closing.seal is not None


def test_a_torque_in_no_unit_is_refused() -> None:
    play = at_the_plug().flow(Flow.DRIPS, 1.0)
    play.taken(ev.SealDone(t=play.t, replaced=True))
    play.taken(ev.PlugIn(t=play.t))
    torqued = ev.PlugTorqued(t=play.t, torque=10, wrench_low=4, wrench_high=20, unit="30N·m")
    assert play.do(torqued).refused() == {Code.BAD_NUMBER}


def test_a_fluid_for_another_variant_is_refused_whatever_is_ticked() -> None:
    play = Play(spec=sheet(transmission=TWO_VARIANTS, fluids=[FOR_ONE_VARIANT]))
    play.taken(ev.VehicleIdentified(t=0, vin="0THFC3K71RL104218", work_order="W", variant="K7-H"))
    play.taken(ev.FluidChosen(t=0, product="TF-Clear", condition_confirmed=True))
    assert Code.FLUID_NOT_FOR_VARIANT in codes(play)
    assert override(play, Code.FLUID_NOT_FOR_VARIANT) == {Code.NEVER_OVERRIDDEN}
    play.taken(ev.VehicleIdentified(t=0, vin="0THFC3K71RL104218", work_order="W", variant="K7-L"))
    assert not {c for c in codes(play) if c.value.startswith("fluid_")}


@pytest.mark.parametrize("said", [{"ambient": 500.0}, {"ambient": 20.0, "infrared": -90.0}])
def test_a_hall_or_gun_that_cannot_be_is_refused(said: dict[str, float]) -> None:
    play = Play().identified()
    play.do(play.celsius(22.0))
    assert play.do(ev.SensorChecked(t=0, **said)).refused() == {Code.BAD_NUMBER}


def test_more_fluid_than_any_shop_has_in_reach_is_refused() -> None:
    path = ev.FillPathChosen(t=0, name="check plug with adapter", litres_within_reach=900.0)
    assert Play().do(path).refused() == {Code.BAD_NUMBER}
