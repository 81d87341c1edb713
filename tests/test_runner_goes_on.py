"""A runner that goes on from a journal stands where the one before stood, and fires nothing."""

from __future__ import annotations

from datetime import datetime

from live_play import LivePlay
from record_play import Journaled

from brimline.check_runner import CheckRunner
from brimline.procedure import events as ev
from brimline.procedure import reducer
from brimline.procedure.effects import Effect
from brimline.procedure.events import CheckOpened, Event
from brimline.procedure.state import CheckState


class Reopened(Journaled):
    """A journal that is gone on with."""

    resumed = ""

    def begin(self, opened: CheckOpened, _wall: datetime) -> None:
        raise AssertionError("begun a second time")

    def resume(self, check_id: str) -> None:
        self.resumed = check_id


def warming() -> LivePlay:
    play = LivePlay().in_air()
    play.drive(200, 34, 50)
    return play


def goes_on(events: list[Event]) -> tuple[CheckRunner, Reopened, list[Effect], list[CheckState]]:
    opened, journal = events[0], Reopened()
    assert isinstance(opened, CheckOpened)
    fired: list[Effect] = []
    seen: list[CheckState] = []
    runner = CheckRunner(
        opened, journal, lambda _, effect: fired.append(effect), (), events[1:],
        lambda state, _event: seen.append(state),
    )  # fmt: skip
    return runner, journal, fired, seen


def test_the_state_is_that_of_the_record_and_nothing_is_fired_or_written() -> None:
    play = warming()
    runner, journal, fired, seen = goes_on(play.events)
    assert runner.state == play.state == reducer.replay(play.events)
    assert journal.resumed == play.state.opened.check_id
    assert (journal.events, fired) == ([], [])
    assert len(seen) == len(play.events) - 1
    assert seen[-1] == runner.state


def test_the_forecast_is_the_one_that_was() -> None:
    play = warming()
    runner, *_ = goes_on(play.events)
    before, after = play.watch.outlook(play.state), runner.watch.outlook(runner.state)
    assert before is not None
    assert before == after
    assert runner.watch.warm_up() is not None


def test_after_a_gap_nothing_is_foretold_from_before_it_and_no_warm_up_is_kept() -> None:
    play = warming()
    runner, journal, *_ = goes_on(play.events)
    kept = runner.watch.warm_up()
    assert kept is not None
    told = ev.Resumed(t=play.t + 300, gap_s=300.0, plug_is_out=False, engine_runs=True)
    runner.tap(told)
    assert journal.events[-1] == told
    assert runner.watch.outlook(runner.state) is None
    again, *_ = goes_on([*play.events, *journal.events])
    play.t += 300
    for each in (play.do(told), play.drive(120, 44, 49)):  # it had cooled unseen
        assert each is play
    for event in play.events[-240:]:
        runner.offer(event)  # type: ignore[arg-type] # readings alone
        again.offer(event)  # type: ignore[arg-type]
    runner.advance(play.t)
    again.advance(play.t)
    outlook = runner.watch.outlook(runner.state)
    assert outlook == again.watch.outlook(again.state)
    assert outlook is not None
    assert outlook.entry is not None
    # 16 K below the band at 2.5 K a minute: far from what the record before the gap foretold.
    assert 200 < (outlook.entry.median or 0) < 1500
    after = runner.watch.warm_up()
    assert after is not None
    assert len(after.times) == len(kept.times)


def test_a_check_that_goes_on_may_be_interrupted_again() -> None:
    play = warming()
    runner, journal, *_ = goes_on(play.events)
    runner.tap(ev.Resumed(t=play.t + 60, gap_s=60.0, plug_is_out=False, engine_runs=True))
    again, *_ = goes_on([*play.events, *journal.events])
    assert again.state == runner.state
