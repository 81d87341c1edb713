"""What ran off is asked wherever fluid may have run, answered once, and never a dead end.

Common practice, no source: with the engine stopped the converter and the lines drain into the pan,
whose fluid then runs off over the standpipe's rim.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from check_play import Play

from brimline.estimate.ledger import ledger_of
from brimline.procedure import VERSION, gates, reducer, run_off, taps_plug
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import AlarmAcknowledged, Undone
from brimline.procedure.doing import Do, Form
from brimline.procedure.events import Flow, Item, Verdict
from brimline.procedure.next_step import next_step
from brimline.procedure.reasons import Code
from brimline.procedure.state import End, PlugSpan, Stage
from brimline.procedure.verdict import closing_event, verdict_of


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


# ── every opening by itself, from version 6 of the procedure on ──────────────


def opened_again_after(item: Item, version: int = VERSION) -> Play:
    """The plug out and in, the run-off answered without an amount, and the plug out again."""
    play = Play().of_version(version).ready().plug_out()
    play.taken(ev.PlugIn(t=play.t)).confirm(item).wait(1, 70.0)
    return play.plug_out()


def ran_down(play: Play) -> Play:
    """Fluid runs until it only drips, and the plug is in and tight."""
    play.flow(Flow.RUNS).look().wait(20, 70.0)
    return play.flow(Flow.DRIPS, 1.0).closed_up()


def test_that_nothing_ran_off_holds_for_the_openings_before_it_alone() -> None:
    play = ran_down(opened_again_after(Item.NOTHING_RAN_OFF))
    assert run_off.is_asked(play.state)
    assert ledger_of(play.state).unmeasured
    assert Code.RUN_OFF_UNKNOWN in {r.code for r in gates.reasons(gates.Gate.RECORD, play.state)}
    assert verdict_of(play.state) == (Verdict.SET, ("level_at_rim", "run_off_not_measured"))
    assert next_step(play.state).do is Do.MEASURE_RUN_OFF
    assert reducer.replay(play.events) == play.state


@pytest.mark.parametrize("item", sorted(run_off.ANSWERS))
def test_an_opening_of_which_nobody_saw_anything_is_asked_about_by_itself(item: Item) -> None:
    play = opened_again_after(item)
    aborted(play.taken(ev.PlugIn(t=play.t)))
    assert not run_off.was_seen(play.state)
    assert run_off.is_asked(play.state)


def test_an_amount_that_was_noted_before_answers_for_no_later_opening() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look()
    play.taken(ev.PlugIn(t=play.t))
    play.taken(ev.RunOffMeasured(t=play.t, litres=0.1)).wait(1, 70.0)
    ran_down(play.plug_out())
    assert run_off.is_asked(play.state)
    assert ledger_of(play.state).unmeasured
    play.taken(ev.RunOffMeasured(t=play.t, litres=0.3))
    assert not run_off.is_asked(play.state)
    assert not ledger_of(play.state).unmeasured
    assert ledger_of(play.state).run_off.used == pytest.approx(0.4)


def test_nothing_is_asked_of_an_opening_at_which_nothing_ran() -> None:
    """What was seen at the earlier one was answered there, an engine stop included."""
    play = engine_stopped_at_the_plug().flow(Flow.RUNS)
    play.taken(ev.PlugIn(t=play.t)).taken(ev.RunOffMeasured(t=play.t, litres=0.2))
    seen, _ = reducer.advance(play.state, play.t)
    again = taps_plug.find_out(seen, play.t + 1)
    again = replace(again, end=End.LEVEL, plug_spans=(*again.plug_spans[:-1], PlugSpan(1, 2)))
    assert not run_off.was_seen(again)
    assert not run_off.is_asked(again)


def test_openings_that_nobody_answered_for_are_one_question() -> None:
    """They run into one catch pan, whose amount answers for all of them."""
    play = Play().ready().plug_out().flow(Flow.RUNS).look()
    play.taken(ev.PlugIn(t=play.t)).wait(1, 70.0).plug_out()
    assert run_off.was_seen(play.state)
    ran_down(play).taken(ev.RunOffMeasured(t=play.t, litres=0.5))
    assert not run_off.is_asked(play.state)
    assert not ledger_of(play.state).unmeasured


def test_what_nobody_will_ever_know_is_not_healed_by_a_later_amount() -> None:
    play = ran_down(opened_again_after(Item.RUN_OFF_NOT_MEASURED))
    play.taken(ev.RunOffMeasured(t=play.t, litres=0.1))
    assert not run_off.is_asked(play.state)
    assert ledger_of(play.state).unmeasured
    assert ledger_of(play.state).why == "the pan was tipped over"
    assert verdict_of(play.state)[1] == ("level_at_rim", "run_off_not_measured")


def test_a_fast_drip_was_seen_after_the_check_began_again_too() -> None:
    play = Play().ready().plug_out().flow(Flow.DRIPS, 12.0).look().wait(12, 90.0)
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.end is None
    assert run_off.was_seen(play.state)
    assert ledger_of(play.state).unmeasured


@pytest.mark.parametrize(("flow", "drops"), [(Flow.RUNS, None), (Flow.DRIPS, 12.0)])
def test_nobody_says_that_nothing_ran_off_where_it_was_seen(flow: Flow, drops: float) -> None:
    play = Play().ready().plug_out().flow(flow, drops).look()
    play.do(ev.Confirmed(t=play.t, item=Item.NOTHING_RAN_OFF))
    assert play.refused() == {Code.RUN_OFF_SEEN}
    assert ledger_of(play.state).unmeasured
    early = Play().ready().plug_out().confirm(Item.NOTHING_RAN_OFF).flow(flow, drops)
    assert ledger_of(early.state).unmeasured  # said too soon


def test_nobody_says_that_nothing_ran_off_where_an_amount_is_noted() -> None:
    play = engine_stopped_and_plugged()
    play.taken(ev.RunOffMeasured(t=play.t, litres=0.2))
    play.do(ev.Confirmed(t=play.t, item=Item.NOTHING_RAN_OFF))
    assert play.refused() == {Code.RUN_OFF_SEEN}


@pytest.mark.parametrize("why", ["", "  "])
def test_that_nobody_measured_it_is_said_with_a_reason(why: str) -> None:
    play = engine_stopped_and_plugged()
    play.do(ev.Confirmed(t=play.t, item=Item.RUN_OFF_NOT_MEASURED, reason=why))
    assert play.refused() == {Code.RUN_OFF_WHY}
    assert run_off.is_asked(play.state)


# ── records of older versions ────────────────────────────────────────────────


@pytest.mark.parametrize("version", [4, 5])
def test_older_checks_take_no_answer_after_a_stop_and_are_not_asked(version: int) -> None:
    play = Play().of_version(version).ready().plug_out()
    aborted(play.taken(ev.PlugIn(t=play.t)))
    assert not run_off.is_asked(play.state)
    for item in run_off.ANSWERS:
        play.do(ev.Confirmed(t=play.t, item=item, reason="spilt"))
        assert play.refused() == {Code.CHECK_OVER}
    play.taken(ev.RunOffMeasured(t=play.t, litres=0.2))


@pytest.mark.parametrize("version", [4, 5])
def test_older_checks_keep_one_answer_for_all_openings(version: int) -> None:
    play = ran_down(opened_again_after(Item.RUN_OFF_NOT_MEASURED, version))
    assert Item.RUN_OFF_NOT_MEASURED in play.state.confirmed
    assert not run_off.is_asked(play.state)
    against = {r.code for r in gates.reasons(gates.Gate.RECORD, play.state)}
    assert Code.RUN_OFF_UNKNOWN not in against
    play = Play().of_version(version).ready().plug_out().flow(Flow.DRIPS, 12.0)
    assert not play.state.ran_off
    play.taken(ev.Confirmed(t=play.t, item=Item.RUN_OFF_NOT_MEASURED))
