"""What goes wrong in the bay, and what the procedure answers."""

from __future__ import annotations

import pytest
from check_play import ALL_SIGNALS, Play

from brimline.procedure import alarms
from brimline.procedure import events as ev
from brimline.procedure.effects import AlarmRaised
from brimline.procedure.events import Flow, Item, Verdict
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.reasons import Code
from brimline.procedure.state import Alarm, BandPlace, Cause, Stage
from brimline.reading import Quality, Reading, SignalName


def codes(play: Play, gate: Gate = Gate.PLUG_OUT) -> set[Code]:
    return {reason.code for reason in reasons(gate, play.state)}


def read(play: Play, signal: SignalName, value: float | str | None) -> None:
    play.do(Reading(play.t, signal, value))


def live(play: Play, seconds: int, celsius: float, rpm: float, selected: str = "P") -> None:
    """Let a vehicle that tells everything run on."""
    for _ in range(seconds):
        play.t += 1
        read(play, SignalName.ENGINE_SPEED, rpm)
        read(play, SignalName.RANGE, selected)
        read(play, SignalName.VEHICLE_SPEED, 0.0)
        read(play, SignalName.FLUID_TEMPERATURE, celsius)


def live_ready() -> Play:
    play = Play(ALL_SIGNALS).identified()
    live(play, 1, 22.0, 0.0)
    play.taken(ev.SensorChecked(t=play.t, ambient=21.0, rested=True)).confirm(
        Item.NOBODY_UNDER, Item.WHEELS_CHOCKED, Item.EXHAUST_EXTRACTED,
        Item.AUTO_STOP_DISABLED, Item.BRAKE_HELD,
    )  # fmt: skip
    live(play, 2, 25.0, 900.0)
    live(play, 5, 25.0, 640.0, "R")
    live(play, 6, 26.0, 640.0, "D")
    live(play, 62, 40.0, 640.0)
    play.confirm(Item.PARKING_BRAKE, Item.OCCUPANT_OUT).raised()
    live(play, 12, 70.0, 640.0)
    return play


def test_everything_measured_opens_the_gate() -> None:
    play = live_ready()
    assert play.state.stage is Stage.PLUG_OUT
    assert {s.evidence.value for s in play.state.ranges.served} == {"measured"}


def test_temperature_leaves_the_band_with_the_plug_out() -> None:
    play = Play().ready(84.0).plug_out().flow(Flow.NOTHING).look(drawn=True)
    play.taken(ev.PumpStarted(t=play.t)).wait(9, 86.0)
    assert play.state.causes == ()  # one degree over for less than the dwell may be jitter
    play.wait(2, 86.0)
    assert play.state.causes == (Cause.BAND_LEFT,)
    assert play.state.alarms == {Alarm.PLUG_IN}
    assert play.state.provisional
    play.taken(ev.PumpStopped(t=play.t, litres=0.2, fluid_celsius=21))
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.stage is Stage.TEMPERATURE
    assert play.state.added == pytest.approx(0.2)  # amounts stay
    play.wait(44, 80.0)
    assert codes(play) == {Code.CIRCULATION_SHORT}  # again from circulation
    play.wait(1, 80.0).plug_out().flow(Flow.RUNS).wait(5, 80.0).flow(Flow.DRIPS, 1.0)
    play.closed_up().finished()
    assert play.state.closed.verdict is Verdict.CORRECTED


def test_a_band_far_left_alarms_at_once() -> None:
    play = Play().ready(84.0).plug_out()
    play.t += 1
    play.do(play.celsius(87.5))
    assert AlarmRaised(Alarm.PLUG_IN) in play.effects


def test_a_level_reached_outside_its_band_is_not_kept() -> None:
    play = Play().ready(84.0).plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0)
    assert play.state.level.reached_at is not None
    play.t += 1
    play.do(play.celsius(88.0)).taken(ev.PlugIn(t=play.t))
    assert play.state.end is None
    refused = play.do(ev.EndedProvisional(t=play.t, reason=" ")).refused()
    assert refused == {Code.NO_REASON_GIVEN}
    play.taken(ev.EndedProvisional(t=play.t, reason="the bay is needed"))
    assert play.state.stage is Stage.CLOSE


def test_readings_that_stop_close_the_gate_and_alarm_with_the_plug_out() -> None:
    play = Play().ready()
    play.wait(4.9)
    assert codes(play) == set()
    play.wait(0.1)
    assert codes(play) == {Code.READING_STALE}
    play.wait(12, 70.0).plug_out().wait(5)
    assert play.state.alarms == {Alarm.READINGS_LOST}
    refused = play.flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0).refused()
    assert refused == {Code.READING_STALE}
    play.wait(alarms.OFF_DELAY_S, 70.0)
    assert play.state.alarms == {Alarm.READINGS_LOST}  # the first of them came after a second
    play.wait(1, 70.0)
    assert play.state.alarms == frozenset()


def test_one_dropped_value_closes_nothing_and_two_do() -> None:
    play = Play().ready()
    for expected in (set(), {Code.READING_BAD}):
        play.t += 1
        play.do(play.celsius(0.0, Quality.NOT_AVAILABLE))
        assert codes(play) == expected


@pytest.mark.parametrize("quality", [Quality.FROZEN, Quality.IMPLAUSIBLE_STEP])
def test_readings_that_freeze_or_jump_close_the_gate(quality: Quality) -> None:
    play = Play().ready()
    play.t += 1
    play.do(play.celsius(71.0, quality))
    assert codes(play) == {Code.READING_BAD}
    assert play.do(ev.PlugOut(t=play.t)).refused() == {Code.READING_BAD}


def test_engine_stops_with_the_plug_out() -> None:
    play = live_ready().plug_out().flow(Flow.RUNS).look()
    live(play, 1, 70.0, 0.0)
    assert play.state.causes == ()  # one reading alone may be a fault on the bus
    live(play, 1, 70.0, 0.0)
    assert play.state.causes == (Cause.ENGINE_STOPPED,)
    assert play.state.alarms == {Alarm.PLUG_IN, Alarm.ENGINE_STOPPED}
    assert play.state.ranges.served == ()
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.stage is Stage.PRECONDITION
    assert Item.LIFT_LOCKED not in play.state.confirmed
    live(play, 30, 70.0, 640.0)
    assert play.do(ev.PlugOut(t=play.t)).refused() >= {
        Code.RANGE_NOT_SERVED, Code.IDLE_TIME_SHORT, Code.LIFT_NOT_LOCKED, Code.TILT_NOT_MEASURED,
    }  # fmt: skip


def test_an_attested_engine_is_not_restarted_with_the_plug_out() -> None:
    play = Play().ready().plug_out()
    play.taken(ev.EngineStopped(t=play.t))
    assert play.state.causes == (Cause.ENGINE_STOPPED,)
    assert play.do(ev.EngineStarted(t=play.t)).refused() == {Code.PLUG_IS_OUT}


def test_too_hot_on_arrival_waits_then_circulates() -> None:
    play = Play().ready(110.0)
    assert codes(play) == {Code.TOO_HOT_FOR_PLUG}
    play.taken(ev.EngineStopped(t=play.t)).wait(300, 80.0)
    assert play.state.stage is Stage.TEMPERATURE
    assert codes(play) == {
        Code.ENGINE_NOT_RUNNING, Code.CIRCULATION_SHORT, Code.IDLE_SPEED_UNKNOWN,
    }  # fmt: skip
    play.taken(ev.EngineStarted(t=play.t)).taken(ev.IdleSpeedNoted(t=play.t, rpm=650))
    play.wait(44, 81.0)
    assert codes(play) == {Code.CIRCULATION_SHORT}
    play.wait(1, 81.0).plug_out()


def test_the_program_dies_with_the_plug_out_and_it_was_put_in_meanwhile() -> None:
    play = Play().ready().plug_out()
    play.t += 120
    play.do(ev.Resumed(t=play.t, gap_s=120, plug_is_out=False, engine_runs=True))
    assert not play.state.plug_is_out
    assert play.state.temperature.place is BandPlace.UNKNOWN
    assert codes(play) == {
        Code.PARK_UNKNOWN, Code.NO_READING, Code.CIRCULATION_SHORT, Code.IDLE_SPEED_UNKNOWN,
        Code.CONFIRM_AGAIN, Code.CAUTION_NOT_SEEN,
    }  # fmt: skip


def test_the_plug_found_out_after_a_restart_goes_in_first() -> None:
    play = Play().ready()
    play.t += 200
    play.do(ev.Resumed(t=play.t, gap_s=200, plug_is_out=True, engine_runs=False))
    assert Cause.FOUND_OUT in play.state.causes
    assert Alarm.PLUG_IN in play.state.alarms


def test_hand_over_names_both_and_asks_for_plug_and_engine() -> None:
    play = Play().ready()
    nobody = ev.HandedOver(t=play.t, to="", plug_is_out=False, engine_runs=True)
    assert play.do(nobody).refused() == {Code.NO_REASON_GIVEN}
    play.taken(ev.HandedOver(t=play.t, to="M. Oduya", plug_is_out=False, engine_runs=True))
    assert play.state.technician == "M. Oduya"
    assert play.state.opened.technician == "R. Calloway (invented)"
    assert codes(play) == {Code.CAUTION_NOT_SEEN}  # whoever takes over reads them too
    assert play.state.stage is Stage.PLUG_OUT
    play.plug_out()


def test_a_late_tap_is_judged_at_its_own_moment() -> None:
    play = Play().ready(84.0)
    opened_at = play.t
    play.wait(12, 86.0)  # the band has been left by now
    assert play.do(ev.PlugOut(t=play.t)).refused() == {Code.TOO_HOT_FOR_PLUG}
    play.taken(ev.PlugOut(t=play.t, happened=opened_at))
    assert play.state.plug_spans[0].since == opened_at
    assert play.state.causes == (Cause.BAND_LEFT,)  # and what came after it is answered now


def test_a_tap_from_when_the_gate_was_closed_is_refused() -> None:
    play = Play().identified().sensor_trusted().on_the_ground().raised()
    before = play.t
    play.wait(12, 70.0)
    refused = play.do(ev.PlugOut(t=play.t, happened=before)).refused()
    assert Code.BELOW_BAND in refused
    assert play.do(ev.PlugOut(t=play.t, happened=play.t - 61)).refused() == {Code.TOO_LATE}
    assert play.do(ev.PlugOut(t=play.t, happened=play.t + 5)).refused() == {Code.TOO_LATE}


def test_a_moving_vehicle_voids_attested_park() -> None:
    play = Play((SignalName.FLUID_TEMPERATURE, SignalName.VEHICLE_SPEED)).ready()
    read(play, SignalName.VEHICLE_SPEED, 4.0)
    assert codes(play) >= {Code.VEHICLE_MOVES, Code.PARK_UNKNOWN}
    read(play, SignalName.VEHICLE_SPEED, 0.0)
    assert Code.PARK_UNKNOWN in codes(play)


def test_a_lost_signal_is_given_up_and_attested_from_then_on() -> None:
    play = live_ready()
    play.wait(6, 70.0)
    assert codes(play) >= {Code.ENGINE_UNKNOWN, Code.PARK_UNKNOWN}
    for signal in (SignalName.ENGINE_SPEED, SignalName.RANGE):
        play.taken(ev.SignalWithdrawn(t=play.t, signal=signal, reason="plug pulled off"))
    play.taken(ev.EngineStarted(t=play.t)).taken(ev.RangeSelected(t=play.t, range="P"))
    play.taken(ev.IdleSpeedNoted(t=play.t, rpm=640)).wait(46, 70.0)
    assert codes(play) == set()


def test_short_idle_excursions_do_not_flap_the_gate() -> None:
    play = live_ready()
    live(play, 2, 70.0, 820.0)
    assert codes(play) == set()
    live(play, 3, 70.0, 820.0)
    assert codes(play) == {Code.IDLE_SPEED_OUTSIDE}
    live(play, 10, 70.0, 640.0)
    assert codes(play) == {Code.IDLE_SPEED_OUTSIDE}
    live(play, 1, 70.0, 640.0)  # back for ten seconds
    assert codes(play) == set()


def test_sensor_that_disagrees_with_a_rested_vehicle_is_doubted() -> None:
    play = Play().identified()
    play.do(play.celsius(31.0))
    play.taken(ev.SensorChecked(t=0, ambient=21.0, rested=True))
    assert play.state.stage is Stage.SENSOR
    play.taken(ev.SensorChecked(t=0, ambient=21.0, rested=False))  # warm: the gun is left
    assert play.state.stage is Stage.SENSOR
    play.taken(ev.SensorChecked(t=0, ambient=21.0, infrared=28.0))
    assert play.state.stage is Stage.PRECONDITION


def test_a_gun_below_the_sensor_casts_no_doubt_and_one_above_does() -> None:
    # Seen in the trade: a gun read 99-100 °F on a pan whose sensor read 140 °F (common practice,
    # no source): shiny pans read low.
    play = Play().identified()
    play.do(play.celsius(60.0))
    play.taken(ev.SensorChecked(t=0, ambient=21.0, infrared=37.5))
    assert play.state.stage is Stage.PRECONDITION
    play.taken(ev.SensorChecked(t=0, ambient=21.0, infrared=66.0))
    assert play.state.stage is Stage.SENSOR
