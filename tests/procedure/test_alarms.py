"""Alarms: their phases after ISA-18.2, which of them stay, and that none chatters.

The phases and what leads from one to the next are those of ANSI/ISA-18.2 and IEC 62682, from
memory: normal, unacknowledged, acknowledged, returned to normal unacknowledged.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from check_play import Play
from edge_play import EdgePlay
from hypothesis import given
from hypothesis import strategies as st
from test_properties import STEPS, plays

from brimline.procedure import alarms, reducer
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import AlarmAcknowledged
from brimline.procedure.effects import AlarmCleared, AlarmRaised
from brimline.procedure.events import Flow
from brimline.procedure.names import Alarm
from brimline.procedure.reasons import Code
from brimline.procedure.state import AlarmPhase, Cause
from brimline.procedure.verdict import closing_event


def phases(play: Play) -> dict[Alarm, AlarmPhase]:
    return {standing.alarm: standing.phase for standing in play.state.standing}


def heard(play: Play, alarm: Alarm) -> Play:
    return play.do(AlarmAcknowledged(t=play.t, alarm=alarm))


def out() -> Play:
    return Play().ready().plug_out().flow(Flow.RUNS).look()


def left() -> Play:
    """The band is left with the plug out."""
    return out().wait(12, 90.0)


# ── phases ───────────────────────────────────────────────────────────────────


def test_acknowledged_while_it_stands_it_ends_with_its_condition() -> None:
    play = left()
    assert phases(play) == {Alarm.PLUG_IN: AlarmPhase.UNACKNOWLEDGED}
    heard(play, Alarm.PLUG_IN)
    assert phases(play) == {Alarm.PLUG_IN: AlarmPhase.ACKNOWLEDGED}
    assert play.state.alarms == {Alarm.PLUG_IN}  # its condition stands
    play.taken(ev.PlugIn(t=play.t))
    assert phases(play) == {}
    assert AlarmCleared(Alarm.PLUG_IN) in play.effects


def test_what_tells_of_lost_fluid_stays_until_it_is_acknowledged() -> None:
    play = left()
    raised_at = play.state.standing[0].since
    play.taken(ev.PlugIn(t=play.t)).wait(300, 80.0)
    assert phases(play) == {Alarm.PLUG_IN: AlarmPhase.RETURNED}
    assert play.state.alarms == frozenset()
    assert play.state.standing[0].since == raised_at
    heard(play, Alarm.PLUG_IN)
    assert phases(play) == {}


def test_readings_that_are_back_need_no_answer() -> None:
    play = out().wait(6)
    assert phases(play) == {Alarm.READINGS_LOST: AlarmPhase.UNACKNOWLEDGED}
    play.wait(alarms.OFF_DELAY_S + 1, 71.0)
    assert phases(play) == {}


def test_an_alarm_that_comes_back_is_unacknowledged() -> None:
    play = heard(out().wait(6), Alarm.READINGS_LOST)
    play.wait(alarms.OFF_DELAY_S + 1, 71.0).wait(6)
    assert phases(play) == {Alarm.READINGS_LOST: AlarmPhase.UNACKNOWLEDGED}


def test_a_returned_alarm_that_comes_back_is_raised_anew() -> None:
    play = left().taken(ev.PlugIn(t=100))
    play.t = 100.0
    play.wait(12, 75.0)
    play.taken(ev.EndedProvisional(t=play.t, reason="the bay is needed"))
    play.do(ev.Resumed(t=play.t, gap_s=5, plug_is_out=True, engine_runs=True))
    assert play.state.causes == (Cause.FOUND_OUT,)
    assert phases(play) == {Alarm.PLUG_IN: AlarmPhase.UNACKNOWLEDGED}
    assert play.state.standing[0].since == play.t


def test_a_further_cause_raises_an_acknowledged_alarm_again() -> None:
    play = heard(left(), Alarm.PLUG_IN)
    play.t += 1
    play.taken(ev.RunOffMeasured(t=play.t, litres=1.5))
    assert Cause.RUN_OFF_LIMIT in play.state.causes
    assert phases(play) == {Alarm.PLUG_IN: AlarmPhase.UNACKNOWLEDGED}
    assert AlarmRaised(Alarm.PLUG_IN) in play.effects


def test_a_further_cause_adds_nothing_to_one_that_nobody_has_heard() -> None:
    play = left()
    play.taken(ev.RunOffMeasured(t=play.t, litres=1.5))
    assert AlarmRaised(Alarm.PLUG_IN) not in play.effects


def test_the_most_urgent_stands_first_and_what_is_over_last() -> None:
    play = out().wait(6)
    play.taken(ev.EngineStopped(t=play.t))
    assert [s.alarm for s in play.state.standing] == [
        Alarm.ENGINE_STOPPED, Alarm.PLUG_IN, Alarm.READINGS_LOST,
    ]  # fmt: skip
    play.taken(ev.PlugIn(t=play.t))
    assert phases(play) == {
        Alarm.ENGINE_STOPPED: AlarmPhase.RETURNED, Alarm.PLUG_IN: AlarmPhase.RETURNED,
    }  # fmt: skip


def test_only_what_stands_is_acknowledged_and_only_once() -> None:
    play = left()
    assert heard(play, Alarm.READINGS_LOST).refused() == {Code.NOTHING_TO_ACKNOWLEDGE}
    assert not heard(play, Alarm.PLUG_IN).refused()
    assert heard(play, Alarm.PLUG_IN).refused() == {Code.NOTHING_TO_ACKNOWLEDGE}


def test_after_a_stop_it_can_still_be_acknowledged_and_closing_ends_it() -> None:
    play = left()
    play.taken(ev.CheckAborted(t=play.t, reason="fire alarm", plug_left_out=True))
    assert phases(play) == {Alarm.PLUG_IN: AlarmPhase.RETURNED}
    closed = Play()
    closed.state, closed.t, closed.events = play.state, play.t, list(play.events)
    assert not heard(play, Alarm.PLUG_IN).refused()
    assert phases(play) == {}
    assert phases(closed.taken(closing_event(closed.state, closed.t))) == {}


def test_records_made_before_keep_the_rules_they_were_made_by() -> None:
    play = left()
    opened = play.events[0]
    assert isinstance(opened, ev.CheckOpened)
    state = reducer.replay([replace(opened, procedure=4), *play.events[1:]])
    assert state.alarms == {Alarm.PLUG_IN}
    assert state.standing == ()
    state, _ = reducer.reduce(state, ev.PlugIn(t=play.t))
    assert state.alarms == frozenset()
    after, effects = reducer.reduce(state, AlarmAcknowledged(t=play.t, alarm=Alarm.PLUG_IN))
    assert after == state
    assert effects


# ── chatter ──────────────────────────────────────────────────────────────────


@cache
def _at_the_plug() -> EdgePlay:
    play = EdgePlay().at_temperature(70.0)
    play.plug_out()
    return play


@given(st.lists(st.floats(0.1, alarms.OFF_DELAY_S - 1.1), min_size=2, max_size=8))
def test_a_line_that_lets_single_readings_through_raises_one_alarm(backs: list[float]) -> None:
    play = _at_the_plug().again()
    play.tick(6.0, None)
    for back in backs:
        play.tick(0.1, 70.0)
        play.tick(back, 70.0)
        play.tick(5.5, None)  # lost again half a second before
    assert play.raised_alarms == [Alarm.READINGS_LOST]
    assert play.cleared_alarms == []
    assert len(play.state.standing) == 1


@given(plays(), STEPS)
def test_standing_and_sounding_tell_the_same(play: Play, steps: list[Any]) -> None:
    """What is raised and ended is what stands, and its condition is what the check says."""
    sounding = set(play.state.alarms)
    for pause, make in steps:
        play.t += pause
        play.do(make(play.t))
        for effect in play.effects:
            if isinstance(effect, AlarmRaised):
                sounding.add(effect.alarm)
            elif isinstance(effect, AlarmCleared):
                sounding.remove(effect.alarm)
        state = play.state
        assert sounding == state.alarms
        assert state.alarms == {s.alarm for s in state.standing if s.active}
        delayed = {s.alarm for s in state.standing if s.gone_since is not None}
        assert state.alarms - delayed == alarms.conditions(state)
        for standing in state.standing:
            assert standing.active or standing.alarm in alarms.LATCHED
            assert standing.active or not standing.acknowledged
            assert standing.since <= state.now


@pytest.mark.parametrize("alarm", Alarm)
def test_every_alarm_has_its_place_in_the_order(alarm: Alarm) -> None:
    assert alarms.URGENCY.count(alarm) == 1
