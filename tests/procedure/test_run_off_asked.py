"""What ran off is asked wherever fluid may have run, answered once, and never a dead end.

Common practice, no source: with the engine stopped the converter and the lines drain into the pan,
whose fluid then runs off over the standpipe's rim.
"""

from __future__ import annotations

import pytest
from check_play import Play

from brimline.estimate.ledger import ledger_of
from brimline.procedure import events as ev
from brimline.procedure import gates, run_off
from brimline.procedure.acknowledging import AlarmAcknowledged, Undone
from brimline.procedure.doing import Do, Form
from brimline.procedure.events import Flow, Item, Verdict
from brimline.procedure.next_step import next_step
from brimline.procedure.reasons import Code
from brimline.procedure.state import Stage
from brimline.procedure.verdict import closing_event


def engine_stopped_at_the_plug() -> Play:
    play = Play().ready().plug_out()
    return play.taken(ev.EngineStopped(t=play.t))


def engine_stopped_and_plugged() -> Play:
    play = engine_stopped_at_the_plug()
    return play.taken(ev.PlugIn(t=play.t))


def aborted(play: Play, *, left_out: bool = False) -> Play:
    return play.taken(
        ev.CheckAborted(t=play.t, reason="the lift is needed", plug_left_out=left_out)
    )


def sealed(play: Play) -> Play:
    return play.taken(closing_event(play.state, play.t))


def test_after_an_engine_stop_it_is_asked_once_the_plug_is_in() -> None:
    play = engine_stopped_at_the_plug()
    assert not run_off.is_asked(play.state)  # first the plug
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.stage is Stage.PRECONDITION
    assert run_off.is_asked(play.state)
    assert ledger_of(play.state).unmeasured
    play.taken(ev.RunOffMeasured(t=play.t, litres=0.4))
    assert not run_off.is_asked(play.state)
    assert ledger_of(play.state).run_off.used == pytest.approx(0.4)
    assert not ledger_of(play.state).unmeasured


def test_a_check_that_is_stopped_asks_before_it_is_sealed() -> None:
    play = aborted(engine_stopped_and_plugged())
    assert play.state.stage is Stage.RECORD
    assert [r.code for r in run_off.before_sealing(play.state)] == [Code.RUN_OFF_UNKNOWN]
    while next_step(play.state).do is Do.ACKNOWLEDGE_ALARM:
        (heard, *_) = play.state.standing
        play.taken(AlarmAcknowledged(t=play.t, alarm=heard.alarm))
    assert next_step(play.state).do is Do.MEASURE_RUN_OFF
    assert next_step(play.state).form is Form.RUN_OFF
    answer = ev.Confirmed(
        t=play.t, item=Item.RUN_OFF_NOT_MEASURED, reason=" the pan was tipped over "
    )
    play.taken(answer)
    assert play.state.run_off_why == "the pan was tipped over"
    assert ledger_of(play.state).why == "the pan was tipped over"
    assert ledger_of(play.state).unmeasured
    assert run_off.before_sealing(play.state) == ()
    assert next_step(play.state).do is Do.CLOSE_RECORD
    assert sealed(play).state.closed is not None


@pytest.mark.parametrize("left_out", [False, True])
def test_with_the_plug_out_a_moment_ago_nobody_knows_that_nothing_ran(left_out: bool) -> None:
    play = Play().ready().plug_out()
    if not left_out:
        play.taken(ev.PlugIn(t=play.t))
    aborted(play, left_out=left_out)
    assert run_off.is_asked(play.state)
    play.confirm(Item.NOTHING_RAN_OFF)
    assert not run_off.is_asked(play.state)
    assert not ledger_of(play.state).unmeasured
    assert sealed(play).state.closed is not None


def test_a_stripped_plug_asks_too() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS)
    play.taken(ev.PlugStripped(t=play.t))
    assert run_off.is_asked(play.state)
    assert not run_off.is_asked(play.taken(ev.RunOffMeasured(t=play.t, litres=0.2)).state)


def test_it_is_not_asked_where_nothing_can_have_run() -> None:
    assert not run_off.is_asked(aborted(Play().ready()).state)  # the plug never came out
    drawn = Play().ready().plug_out().flow(Flow.NOTHING).look(drawn=True)
    assert not run_off.is_asked(aborted(drawn.taken(ev.PlugIn(t=drawn.t))).state)
    level = Play().ready().plug_out().flow(Flow.DRIPS, 1.0).look().flow(Flow.DRIPS, 1.0)
    assert not run_off.is_asked(level.closed_up().state)


def test_no_other_item_is_confirmed_after_a_stop() -> None:
    play = aborted(Play().ready())
    tap = ev.Confirmed(t=play.t, item=Item.PUMP_PRIMED)
    assert play.do(tap).refused() == {Code.CHECK_OVER}


def test_a_record_that_nobody_was_asked_for_replays_as_it_was_closed() -> None:
    """Asking is not a gate: those sealed before keep their end."""
    play = aborted(engine_stopped_and_plugged())
    assert gates.reasons(gates.Gate.RECORD, play.state) == ()
    sealed(play)
    assert play.state.closed is not None
    assert play.state.closed.verdict is Verdict.STOPPED
    assert not run_off.is_asked(play.state)


def test_taken_back_the_answer_is_asked_again() -> None:
    play = engine_stopped_and_plugged().confirm(Item.NOTHING_RAN_OFF)
    play.do(Undone(t=play.t))
    assert run_off.is_asked(play.state)
