"""Checks that were interrupted: found, gone on with, ended."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from check_play import Play

from brimline import interrupted, interrupted_words, paths
from brimline.aside import Stop
from brimline.bootstrap import Bay
from brimline.config import Settings
from brimline.errors import BrimlineError, StoreError
from brimline.finishing import finish_record
from brimline.interrupted import Found, Kind, utc_now
from brimline.interrupted_session import Prepared, prepare
from brimline.physics.warm_up_prior import PastWarmUp
from brimline.procedure import events as ev
from brimline.procedure import reducer
from brimline.procedure.events import CheckOpened, Event, Flow, Item, Origin, Verdict
from brimline.procedure.state import Cause
from brimline.reading import SignalName
from brimline.records import rescue, warm_ups
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.session import CheckSession
from brimline.units import METRIC

KEYED = "keyed by the technician from an instrument"
HEAT = SignalName.FLUID_TEMPERATURE


@pytest.fixture
def bay(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Bay:
    monkeypatch.setattr(rescue, "places", lambda: (tmp_path,))
    return Bay(paths.data_folder(), Settings())


def cut_off(bay: Bay, play: Play, **changes: object) -> Play:
    """Leave the events of a play in the database as a program that dies leaves them."""
    opened = play.events[0]
    assert isinstance(opened, CheckOpened)
    play.events[0] = opened = replace(opened, **changes)  # type: ignore[arg-type]
    with bay.records(writer=True) as database:
        journal = Journal(database)
        journal.begin(opened, opened.opened_at)
        for event in play.events[1:]:
            journal.append(event, opened.opened_at + timedelta(seconds=event.t))
        journal.flush()
    return play


def keyed(play: Play) -> dict[str, object]:
    """What makes a play a check by keyed readings that was opened so that it stopped just now."""
    opened_at = datetime.now(UTC) - timedelta(seconds=play.t)
    return {"source": KEYED, "origin": Origin.KEYED, "opened_at": opened_at}


def at(play: Play, seconds: float) -> Callable[[], datetime]:
    """The time of day so many seconds after a play stopped."""
    opened = play.events[0]
    assert isinstance(opened, CheckOpened)
    return lambda: opened.opened_at + timedelta(seconds=play.t + seconds)


class Clock:
    now = 0.0

    def __call__(self) -> float:
        return self.now


def going_on(bay: Bay, play: Play, seconds: float, found: Found) -> Prepared:
    return goes_on(bay, play.state.opened.check_id, found, Clock(), at(play, seconds))


def goes_on(
    bay: Bay, check_id: str, found: Found, clock: Clock, now: Callable[[], datetime] = utc_now
) -> Prepared:
    """Go on with a check as the window does, without its thread."""
    going = prepare(bay, check_id, found, Stop(), lambda _doing: None, now)
    going.go_on(found, clock, now)
    return going


def ready() -> Play:
    return Play().ready().plug_out().flow(Flow.RUNS).look()


@pytest.mark.parametrize(
    ("passed", "expected"),
    [(700.0, (700.0, 100.0)), (600.0, (600.0, 0.0)), (599.9, (600.0, None)), (-5e8, (600.0, None))],
)
def test_the_time_of_a_check_never_goes_back(
    passed: float, expected: tuple[float, float | None]
) -> None:
    opened = Play().state.opened
    live = replace(opened, origin=Origin.LIVE)
    assert interrupted.moment(live, 600.0, live.opened_at + timedelta(seconds=passed)) == expected
    replayed = interrupted.moment(opened, 600.0, opened.opened_at + timedelta(seconds=passed))
    assert replayed == (600.0, None)  # a recording's time is not the clock's


def test_open_checks_are_found_with_plug_and_engine_and_since_when(bay: Bay) -> None:
    assert interrupted.open_checks(bay) == ()
    play = cut_off(bay, ready(), **keyed(ready()))
    (found,) = interrupted.open_checks(bay, at(play, 7 * 60 + 5))
    assert found.state == reducer.replay(play.events)
    assert (found.kind, found.fault, found.only_ended) == (Kind.KEYED, "", "")
    assert found.away_s == pytest.approx(425)
    assert found.state is not None
    assert interrupted_words.stood(found.state, found.away_s) == (
        "The plug was OUT and the engine was running when the program stopped, 7 min ago."
    )
    assert interrupted_words.caution(found.state)[0] == "WARNING"
    set_back = interrupted.open_checks(bay, at(play, -3600))[0]
    assert set_back.away_s is None
    assert "how long ago is not known" in interrupted_words.stood(found.state, set_back.away_s)


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (4, "4 s ago"), (59, "59 s ago"), (61, "1 min ago"), (3599, "59 min ago"),
        (3700, "1 h 01 min ago"), (86400, "1 day ago"), (200000, "2 days ago"),
        (None, "how long ago is not known"),
    ],
)  # fmt: skip
def test_how_long_ago(seconds: float | None, words: str) -> None:
    assert interrupted_words.ago(seconds) == words


def test_a_damaged_one_is_named_and_hides_no_other(bay: Bay) -> None:
    cut_off(bay, Play(), check_id="a" * 32)
    cut_off(bay, Play(), check_id="b" * 32)
    with closing(sqlite3.connect(bay.database_file)) as connection:
        connection.execute("UPDATE journal SET payload='{}' WHERE check_id=?", ("a" * 32,))
        connection.commit()
    damaged, sound = interrupted.open_checks(bay)
    assert "damaged" in damaged.fault
    assert damaged.state is None
    assert sound.state is not None


def test_another_program_that_runs_a_check_is_noticed(bay: Bay) -> None:
    assert not interrupted.is_run_elsewhere(bay)  # no folder yet
    with bay.records():
        assert not interrupted.is_run_elsewhere(bay)  # who looks is not in the way
    with bay.records(writer=True):
        assert interrupted.is_run_elsewhere(bay)
    assert not interrupted.is_run_elsewhere(bay)


def test_a_keyed_check_goes_on_where_it_stood_and_asks_again(bay: Bay) -> None:
    play = cut_off(bay, ready(), **keyed(ready()))
    going = going_on(bay, play, 100.0, Found(plug_is_out=True, engine_runs=True))
    with going.stack:
        state = going.session.state
        assert state.now == pytest.approx(play.t + 100)
        (resumed,) = state.resumed
        assert resumed.gap_s == pytest.approx(100)
        assert state.plug_is_out
        assert Item.CATCH_PAN in state.asked_again
        times, values = going.session.snapshot().traces[HEAT]
        assert len(times) == len(values) > 50
        assert not going.session.tap(ev.Confirmed, item=Item.CATCH_PAN)
        with pytest.raises(StoreError, match="Another Brimline"):
            going_on(bay, play, 100.0, Found(plug_is_out=True, engine_runs=True))
    (again,) = interrupted.open_checks(bay, at(play, 130.0))
    assert again.state is not None
    assert Item.CATCH_PAN not in again.state.asked_again
    assert again.away_s == pytest.approx(30)


def test_a_clock_that_was_set_back_breaks_nothing(bay: Bay) -> None:
    play = cut_off(bay, ready(), **keyed(ready()))
    going = going_on(bay, play, -1e6, Found(plug_is_out=True, engine_runs=True))
    with going.stack:
        assert going.session.state.now == play.t
        assert going.session.state.resumed[0].gap_s is None
        assert not going.session.tap(ev.PlugIn)
        assert not going.session.tap(ev.CheckAborted, reason="enough")
        assert not going.session.close()
        assert going.session.sealed
    assert interrupted.open_checks(bay) == ()


def test_a_simulated_vehicle_is_a_new_one_where_the_old_one_stood(bay: Bay) -> None:
    clock = Clock()
    session, _, stack = bay.begin_demo("K7", None, clock)
    with stack:
        clock.now = 30.0
        session.step()
        last = session.state.temperature.last
        assert last is not None
        assert not session.tap(ev.Confirmed, item=Item.CATCH_PAN)
        check_id = session.state.opened.check_id
    (found,) = interrupted.open_checks(bay)
    assert found.kind is Kind.SIMULATED
    fresh = Clock()
    going = goes_on(bay, check_id, Found(False, True), fresh)
    with going.stack:
        vehicle = going.ends.simulated
        assert vehicle is not None
        assert vehicle.view.lamps.engine_runs
        assert not vehicle.view.lamps.plug_out
        fresh.now = 5.0
        going.session.step()
        state = going.session.state
        assert state.temperature.last is not None
        assert state.temperature.last.number == pytest.approx(last.number, abs=1.5)
        assert state.engine.running_since is not None


def test_with_the_plug_out_the_new_vehicle_runs_before_it_is_heard(bay: Bay) -> None:
    """An engine that is only being cranked reads as stopped, which is an alarm with the plug out"""
    clock = Clock()
    session, _, stack = bay.begin_demo("K7", None, clock)
    with stack:
        clock.now = 5.0
        session.step()
        check_id = session.state.opened.check_id
    fresh = Clock()
    going = goes_on(bay, check_id, Found(True, True), fresh)
    with going.stack:
        for _ in range(10):
            fresh.now += 1.0
            going.session.step()
        causes = going.session.state.causes
        assert Cause.FOUND_OUT in causes
        assert Cause.ENGINE_STOPPED not in causes


def test_a_replay_goes_on_from_the_command_line_only(bay: Bay) -> None:
    play = cut_off(bay, ready())
    (found,) = interrupted.open_checks(bay)
    assert found.kind is Kind.REPLAY
    assert "command line" in found.only_ended
    assert found.away_s is None
    with pytest.raises(BrimlineError, match="command line"):
        going_on(bay, play, 10.0, Found(plug_is_out=True, engine_runs=True))


def test_a_live_check_needs_its_connection_again(bay: Bay) -> None:
    play = cut_off(bay, ready(), origin=Origin.LIVE, source="live from the vehicle's bus: OBD")
    assert interrupted.open_checks(bay)[0].kind is Kind.BUS
    with pytest.raises(BrimlineError, match="No connection"):
        going_on(bay, play, 10.0, Found(plug_is_out=True, engine_runs=True))
    assert not interrupted.is_run_elsewhere(bay)  # nothing was left open


@pytest.mark.parametrize("out", [True, False])
def test_ending_seals_it_like_any_stopped_check(bay: Bay, out: bool) -> None:
    play = cut_off(bay, ready(), **keyed(ready()))
    check_id = play.state.opened.check_id
    found = Found(plug_is_out=out, engine_runs=None)
    with pytest.raises(StoreError, match="Say why"):
        interrupted.end(bay, check_id, found, "  ", METRIC)
    header = interrupted.end(bay, check_id, found, "power cut", METRIC, at(play, 60))
    assert header.verdict is Verdict.STOPPED
    assert header.seal
    record = bay.load(check_id)
    state = reducer.replay(record.events)
    assert state.aborted is not None
    assert (state.aborted.reason, state.aborted.plug_left_out) == ("power cut", out)
    assert state.plug_is_out is out
    assert state.resumed[0].gap_s == pytest.approx(60)
    assert interrupted.open_checks(bay) == ()
    with pytest.raises(StoreError, match="finished"):
        interrupted.end(bay, check_id, found, "again", METRIC)
    with pytest.raises(StoreError, match="finished"):
        interrupted.find(bay, check_id)


def test_one_that_was_stopped_before_is_closed_with_what_is_found(bay: Bay) -> None:
    play = ready()
    play.taken(ev.CheckAborted(t=play.t, reason="fire alarm", plug_left_out=True))
    cut_off(bay, play, **keyed(play))
    check_id = play.state.opened.check_id
    interrupted.end(bay, check_id, Found(False, None), "stopped before", METRIC)
    state = reducer.replay(bay.load(check_id).events)
    assert state.aborted is not None
    assert state.aborted.reason == "fire alarm"
    assert not state.plug_is_out


def test_one_that_was_stopped_under_earlier_rules_is_closed_as_it_stands(bay: Bay) -> None:
    play = ready()
    play.taken(ev.CheckAborted(t=play.t, reason="fire alarm", plug_left_out=True))
    cut_off(bay, play, **keyed(play), procedure=3)
    check_id = play.state.opened.check_id
    interrupted.end(bay, check_id, Found(False, None), "stopped before", METRIC)
    assert bay.load(check_id).header.verdict is Verdict.STOPPED


@pytest.mark.expects_log
def test_a_warm_up_that_cannot_be_kept_keeps_no_check_from_being_sealed(
    bay: Bay, monkeypatch: pytest.MonkeyPatch
) -> None:
    play = cut_off(bay, Play().level_set())
    warm_up = PastWarmUp(np.array([0.0, 60.0]), np.array([20.0, 25.0]))

    def refuse(*_: object) -> None:
        raise StoreError("The disk is full.")

    monkeypatch.setattr(warm_ups, "keep", refuse)
    with bay.records(writer=True) as database:
        header = finish_record(database, play.state, warm_up)
    assert header.seal
    assert bay.load(header.check_id).header == header


def test_one_that_is_closed_and_not_sealed_is_only_sealed(bay: Bay) -> None:
    play = cut_off(bay, Play().level_set())
    events = play.events
    (found,) = interrupted.open_checks(bay)
    assert found.state is not None
    assert found.state.closed is not None
    interrupted.end(bay, play.state.opened.check_id, Found(False, None), "sealed later", METRIC)
    assert list(bay.load(play.state.opened.check_id).events) == events


def test_what_the_disk_had_refused_is_named_and_taken_in(bay: Bay, tmp_path: Path) -> None:
    play = ready()
    held = play.events[-3:]
    play.events = play.events[:-3]
    cut_off(bay, play, **keyed(play))
    check_id = play.state.opened.check_id
    path = rescued(bay, check_id, held, tmp_path)
    assert interrupted.open_checks(bay)[0].unsaved == path
    going = going_on(bay, play, 50.0, Found(plug_is_out=True, engine_runs=True))
    with going.stack:
        assert going.session.state.plug_is_out
        assert going.session.state.first_look is not None
    assert interrupted.open_checks(bay)[0].unsaved is None


def rescued(bay: Bay, check_id: str, events: list[Event], folder: Path) -> Path:
    """What a journal that could not write these events puts elsewhere."""
    opened_at = bay.load(check_id).header.opened_at
    with Database.open(bay.database_file, writer=True) as database:
        journal = Journal(database)
        journal.resume(check_id)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(journal, "_write_some", _refuse)
            for event in events:
                journal.append(event, opened_at + timedelta(seconds=event.t))
            return rescue.write(check_id, journal.held(), [folder])


def _refuse() -> None:
    raise StoreError("The disk is full.")


def test_a_window_s_unsaved_entries_can_be_written_elsewhere(bay: Bay, tmp_path: Path) -> None:
    session, stack = bay.begin_keyed("R. Calloway", "k7-demo", "normal", Clock())
    with stack, pytest.MonkeyPatch.context() as patch:
        journal = session._journal
        patch.setattr(journal, "_write_some", _refuse)
        assert not session.tap(ev.Confirmed, item=Item.CATCH_PAN)
        assert isinstance(session, CheckSession)
        assert session.not_saved is not None
        path = interrupted.rescuer(session)()
    assert path.parent == tmp_path
    (found,) = interrupted.open_checks(bay)
    assert found.unsaved == path
    assert found.state is not None
    assert found.state.confirmed == frozenset()
