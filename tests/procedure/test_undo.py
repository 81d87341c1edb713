"""Taking back the latest tap: as if it had not been made, and nothing measured gets lost."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from check_play import GOOD, MILKY, Play
from edge_play import EdgePlay
from hypothesis import given, settings
from hypothesis import strategies as st
from test_properties import MAKERS, STEPS, plays

from brimline.demo import simulated_bay
from brimline.procedure import VERSION, reducer, undoing
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import AlarmAcknowledged, CautionAcknowledged, Undone
from brimline.procedure.attaching import About, AttachmentKept
from brimline.procedure.effects import AlarmCleared, AlarmRaised, PlugGateChanged, StageEntered
from brimline.procedure.events import Flow, Item
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.names import Alarm, Stage
from brimline.procedure.reasons import Code
from brimline.procedure.state import AlarmPhase, Cause, CheckState
from brimline.reading import Reading
from brimline.simulator.vehicle import make_vehicle
from brimline.units import METRIC
from brimline.wording import sentence


def undo(play: Play) -> Play:
    return play.do(Undone(t=play.t))


def bare(state: CheckState) -> CheckState:
    """The state without what may be taken back next."""
    return replace(state, undoable=None)


# ── as if it had not been made ───────────────────────────────────────────────


@given(plays(), STEPS, st.one_of(MAKERS), st.lists(st.floats(0, 9), max_size=4), st.data())
@settings(max_examples=100)
def test_a_tap_that_is_taken_back_was_never_made(
    play: Play, before: list[Any], make: Any, pauses: list[float], data: st.DataObject
) -> None:
    for pause, earlier in before:
        play.t += pause
        play.do(earlier(play.t))
    tap = make(play.t)
    met = reducer.advance(play.state, play.t)[0]
    play.do(tap)
    left = play.state.undoable
    if left is None or left.tap is not tap:
        return
    plain = met
    for pause in pauses:
        play.t += pause
        event = data.draw(st.one_of(MAKERS))(play.t)
        if not isinstance(event, Reading):
            continue
        plain, _ = reducer.reduce(plain, event)
        play.do(event)
    if isinstance(undoing.allowed(reducer.advance(play.state, play.t)[0]), undoing.Refusal):
        return
    assert not undo(play).refused()
    assert play.state == bare(reducer.advance(plain, play.t)[0])
    assert reducer.replay(play.events) == play.state


@given(plays(), STEPS, st.floats(0, 60), st.floats(0, 60))
def test_time_may_pass_in_any_portions_before_it(
    play: Play, steps: list[Any], first: float, second: float
) -> None:
    for pause, make in steps:
        play.t += pause
        play.do(make(play.t))
    a, b = sorted((play.t + first, play.t + second))
    halfway, _ = reducer.advance(play.state, a)
    tap = Undone(t=b)
    once, twice = reducer.reduce(play.state, tap), reducer.reduce(halfway, tap)
    assert once[0] == twice[0]


@given(plays(), STEPS)
def test_what_is_kept_for_it_holds_one_tap_and_half_a_minute(play: Play, steps: list[Any]) -> None:
    for pause, make in steps:
        play.t += pause
        play.do(make(play.t))
        known = play.state.undoable
        if known is not None:
            assert known.before.undoable is None
            assert play.state.now <= undoing.until(known)


def test_beyond_so_many_readings_nothing_is_kept_and_nothing_taken_back(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(undoing, "MOST_SINCE", 8)
    play = Play().ready()
    play.taken(ev.PlugOut(t=play.t)).wait(8, 71.0)
    assert play.state.undoable is not None
    assert len(play.state.undoable.since) == 8
    play.wait(1, 71.0)
    assert play.state.undoable is None
    assert undo(play).refused() == {Code.NOTHING_TO_UNDO}


# ── for how long, and which ──────────────────────────────────────────────────


def test_a_tap_is_taken_back_within_half_a_minute_and_not_later() -> None:
    for waited, refused in ((29.9, set()), (30.1, {Code.NOTHING_TO_UNDO})):
        play = Play().identified()
        before = bare(play.state)
        play.confirm(Item.NOBODY_UNDER).wait(waited)
        assert undo(play).refused() == refused
        assert (bare(play.state) == replace(before, now=play.t)) is not refused


def test_nothing_to_take_back_is_said_in_a_sentence() -> None:
    (refused,) = undo(Play()).effects
    assert [sentence(r, METRIC) for r in refused.reasons] == [  # type: ignore[union-attr]
        "Nothing that was tapped in the last 30 s can be taken back."
    ]


def test_only_the_latest_tap_is_taken_back_and_only_once() -> None:
    play = Play().identified()
    play.confirm(Item.NOBODY_UNDER, Item.WHEELS_CHOCKED)
    assert not undo(play).refused()
    assert Item.WHEELS_CHOCKED not in play.state.confirmed
    assert Item.NOBODY_UNDER in play.state.confirmed
    assert undo(play).refused() == {Code.NOTHING_TO_UNDO}


def test_a_refused_tap_is_no_latest_one() -> None:
    play = Play().ready().taken(ev.PlugOut(t=82)).do(ev.EngineStarted(t=82))
    assert play.refused()
    assert not undo(play).refused()
    assert play.state.plug_spans == ()


TAKEN_FOR_GOOD: dict[str, Any] = {
    "handed over": lambda p: ev.HandedOver(t=p.t, to="M.", plug_is_out=True, engine_runs=True),
    "gone on with": lambda p: ev.Resumed(t=p.t, gap_s=5, plug_is_out=True, engine_runs=True),
    "stopped": lambda p: ev.CheckAborted(t=p.t, reason="enough", plug_left_out=True),
}


@pytest.mark.parametrize("what", TAKEN_FOR_GOOD)
def test_what_somebody_thinks_over_is_not_taken_back(what: str) -> None:
    play = Play().ready().plug_out()
    play.taken(TAKEN_FOR_GOOD[what](play))
    assert undo(play).refused() == {Code.NOTHING_TO_UNDO}


def test_a_file_that_comes_in_by_itself_stays_and_stands_in_no_way() -> None:
    play = Play().identified().confirm(Item.NOBODY_UNDER)
    play.t += 5
    kept = AttachmentKept(
        t=play.t, sha256="a" * 64, name="pan.jpg", media_type="image/jpeg", size=7, about=About.PLUG
    )
    play.taken(kept)
    assert not undo(play).refused()
    assert Item.NOBODY_UNDER not in play.state.confirmed
    assert play.state.attachments == (kept,)


def test_before_version_5_nothing_is_taken_back() -> None:
    state = Play().of_version(4).state
    state, _ = reducer.reduce(state, ev.Confirmed(t=1, item=Item.NOBODY_UNDER))
    after, effects = reducer.reduce(state, Undone(t=2))
    assert after == replace(state, now=2)
    assert effects


# ── what the vehicle has done meanwhile ──────────────────────────────────────


def test_a_band_that_was_left_under_a_plug_said_to_be_in_calls_for_it() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look()
    play.taken(ev.PlugIn(t=play.t)).wait(12, 90.0)
    assert play.state.causes == ()
    left_at = play.t - 11
    undo(play)
    assert play.state.plug_is_out
    assert [latched.cause for latched in play.state.latched] == [Cause.BAND_LEFT]
    assert play.state.latched[0].at == left_at  # of that reading, not of the undo
    assert AlarmRaised(Alarm.PLUG_IN) in play.effects
    assert StageEntered(Stage.LEVEL) in play.effects


def test_a_plug_said_to_be_out_by_mistake_goes_in_without_a_trace() -> None:
    play = Play().ready()
    play.taken(ev.PlugOut(t=play.t)).wait(10, 71.0)
    undo(play)
    assert play.state.plug_spans == ()
    assert play.state.forecast is None
    assert not reasons(Gate.PLUG_OUT, play.state)
    assert any(isinstance(e, PlugGateChanged) and not e.reasons for e in play.effects)
    assert play.state.stage is Stage.PLUG_OUT


def test_a_plug_that_something_demands_in_is_put_in_and_not_undone() -> None:
    play = Play().ready()
    play.taken(ev.PlugOut(t=play.t)).wait(12, 90.0)
    assert undo(play).refused() == {Code.PLUG_IN_FIRST}
    assert play.state.plug_is_out


def test_signs_of_coolant_are_not_taken_back() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look(MILKY)
    assert undo(play).refused() == {Code.REFERRAL_STANDS}
    play = Play().ready().plug_out().flow(Flow.RUNS).look(GOOD)
    assert not undo(play).refused()
    assert play.state.first_look is None


def test_an_engine_said_to_have_stopped_by_mistake_runs_on() -> None:
    play = Play().ready().plug_out()
    play.taken(ev.EngineStopped(t=play.t)).wait(5, 71.0)
    assert play.state.alarms == {Alarm.PLUG_IN, Alarm.ENGINE_STOPPED}
    undo(play)
    assert play.state.causes == play.state.standing == ()
    assert {e.alarm for e in play.effects if isinstance(e, AlarmCleared)} == {
        Alarm.PLUG_IN, Alarm.ENGINE_STOPPED,
    }  # fmt: skip
    assert all(served.name in {"R", "D"} for served in play.state.ranges.served)
    assert len(play.state.ranges.served) == 2


def test_an_amount_that_was_mistyped_is_told_again_and_the_pump_runs_on() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look(drawn=True).pump(0.9)
    started = play.t - 5
    undo(play)
    assert play.state.ledger == ()
    assert play.state.level.pump_since == started
    play.taken(ev.PumpStopped(t=play.t, litres=0.09))
    assert play.state.added == 0.09


def test_a_late_tap_is_taken_back_for_as_long_as_any_other() -> None:
    play = Play().ready().wait(40, 70.0)
    play.taken(ev.PlugOut(t=play.t, happened=play.t - 35)).wait(20, 70.0)
    assert not undo(play).refused()
    assert play.state.plug_spans == ()


def wrongly_plugged(version: int) -> Play:
    """The band was left with the plug out, "Plug is in" pressed by mistake, its alarm heard."""
    play = Play().of_version(version).ready().plug_out().flow(Flow.RUNS).look().wait(12, 90.0)
    play.taken(ev.PlugIn(t=play.t)).wait(2, 90.0)
    return play.taken(AlarmAcknowledged(t=play.t, alarm=Alarm.PLUG_IN))


def test_a_wrong_plug_in_is_taken_back_after_its_alarm_was_heard_and_the_alarm_is_back() -> None:
    play = wrongly_plugged(VERSION)
    assert play.state.standing == ()
    assert not undo(play).refused()
    assert play.state.plug_is_out
    (standing,) = play.state.standing
    assert standing.phase is AlarmPhase.UNACKNOWLEDGED
    assert AlarmRaised(Alarm.PLUG_IN) in play.effects
    assert reducer.replay(play.events) == play.state


def test_cautions_that_were_read_stand_in_no_way_and_are_read_anew() -> None:
    play = Play().identified().sensor_trusted().on_the_ground().confirm(Item.NOBODY_UNDER)
    play.taken(CautionAcknowledged(t=play.t, stage=Stage.RAISE))
    assert not undo(play).refused()
    assert play.state.cautions_seen == frozenset()


def test_what_was_acknowledged_is_not_itself_taken_back() -> None:
    play = Play().ready().plug_out().wait(31)
    play.taken(AlarmAcknowledged(t=play.t, alarm=Alarm.READINGS_LOST))
    assert undo(play).refused() == {Code.NOTHING_TO_UNDO}
    assert play.state.standing[0].acknowledged


def test_before_version_6_acknowledging_ends_what_may_be_taken_back() -> None:
    assert undo(wrongly_plugged(5)).refused() == {Code.NOTHING_TO_UNDO}


def test_half_a_minute_of_a_busy_bus_is_met_again_by_a_vehicle_that_tells_all() -> None:
    play = EdgePlay().at_temperature(70.0)
    play.taken(ev.PlugOut(t=play.t))
    for _ in range(250):
        play.tick(0.1, 70.5)
    met = play.state.undoable
    assert met is not None
    assert len(met.since) == 750
    undo(play)
    assert play.state.temperature.last is not None
    assert play.state.temperature.last.t == play.t
    assert not reasons(Gate.PLUG_OUT, play.state)


# ── the simulated vehicle's hands ────────────────────────────────────────────


def test_the_simulated_hands_take_back_what_they_did() -> None:
    with simulated_bay(make_vehicle("K7")) as bay:
        undone = Undone(t=9)
        raised = ev.Confirmed(t=1, item=Item.LIFT_LOCKED)
        steps: list[tuple[ev.TapEvent, str]] = [
            (raised, "lift_up"), (ev.PlugOut(t=2), "plug_out"), (ev.PumpStarted(t=3), "pump_on"),
        ]  # fmt: skip
        for tap, lamp in steps:
            bay.tapped(tap)
            assert getattr(bay.view.lamps, lamp)
            bay.tapped(undone)
            assert not getattr(bay.view.lamps, lamp)
            bay.tapped(tap)
        for tap, lamp in (
            (ev.PumpStopped(t=4, litres=0.1), "pump_on"), (ev.PlugIn(t=5), "plug_out"),
            (raised, "lift_up"),  # it was up already
        ):  # fmt: skip
            bay.tapped(tap)
            bay.tapped(undone)
            assert getattr(bay.view.lamps, lamp)
