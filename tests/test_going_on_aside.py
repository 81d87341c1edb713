"""Going on with an interrupted check in the window waits for nothing, and can be given up."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import can
import pytest
from check_play import Play

from brimline import bus_recordings, desk_bus, desk_open, interrupted_session, live_check
from brimline.aside import Aside, Turns
from brimline.bootstrap import Bay
from brimline.config import Connection, read_settings, write_section
from brimline.errors import BusError
from brimline.interrupted import utc_now
from brimline.procedure.events import CheckAborted, CheckOpened, Event, Origin, Resumed
from brimline.reading import Reading, SignalName, Way
from brimline.records.journal import Journal
from brimline.ui.ports.interrupted import Answer
from brimline.ui.ports.services import BeginHandle, BeginState, CheckOrder
from brimline.units import METRIC

BOUND_S = 30.0
ORDER = CheckOrder("R. Calloway (invented)", "k7-demo", "normal", Way.BUS, record=True)


@pytest.fixture
def bay(tmp_path: Path) -> Bay:
    bay = Bay(tmp_path, read_settings(tmp_path))
    write_section(bay.folder, Connection(interface="slcan", channel="COM3"))
    return bay


class Adapter:
    """An adapter whose opening takes until it is told to go on; its wire is within this process."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, channel: str, *, slow: bool) -> None:
        self.channel = channel
        self.asked = threading.Semaphore(0)
        self.go_on = threading.Semaphore(0 if slow else 1000)
        self.opened: list[can.BusABC] = []
        monkeypatch.setattr(live_check, "open_quietly", self._open)

    def _open(self, _connection: Connection, _pause: Callable[[float], None]) -> can.BusABC:
        self.asked.release()
        assert self.go_on.acquire(timeout=BOUND_S)
        self.opened.append(can.Bus(interface="virtual", channel=self.channel))
        return self.opened[-1]

    @property
    def closed(self) -> list[bool]:
        return [bus._is_shutdown for bus in self.opened]


@pytest.fixture
def adapter(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Adapter:
    return Adapter(monkeypatch, str(tmp_path), slow=False)


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Adapter:
    return Adapter(monkeypatch, str(tmp_path), slow=True)


def cut_off(bay: Bay, readings: int = 3, **changes: object) -> str:
    """Leave an open check of a bus behind, as a program that dies does; return its id."""
    play = Play()
    opened = play.events[0]
    assert isinstance(opened, CheckOpened)
    began = datetime.now(UTC) - timedelta(seconds=readings + 100)
    made: dict[str, object] = {
        "origin": Origin.LIVE, "source": "live from the vehicle's bus: OBD", "opened_at": began,
        "measured": (SignalName.FLUID_TEMPERATURE,),
    }  # fmt: skip
    opened = replace(opened, **(made | changes))  # type: ignore[arg-type]
    with bay.records(writer=True) as database:
        journal = Journal(database)
        journal.begin(opened, opened.opened_at)
        for t in range(readings):
            reading = Reading(float(t), SignalName.FLUID_TEMPERATURE, 30.0 + t * 0.001)
            journal.append(reading, opened.opened_at + timedelta(seconds=t))
        journal.flush()
    return opened.check_id


def going_on(bay: Bay, check_id: str, turns: Turns | None = None) -> desk_open.GoingOn:
    answer = Answer(check_id, plug_is_out=False, engine_runs=True)
    return desk_open.GoingOn(bay, answer, lambda: lambda: 0.0, turns or Turns(), utc_now)


def ended(handle: BeginHandle) -> BeginState:
    deadline = time.monotonic() + BOUND_S
    while not (state := handle.poll(0.0)).done:
        assert time.monotonic() < deadline, state
        time.sleep(0.005)  # another thread needs its time
    return state


def until_done(handle: desk_open.GoingOn) -> None:
    handle._aside.thread.join(BOUND_S)
    assert handle.done


def test_nothing_waits_for_an_adapter_that_hangs(bay: Bay, slow: Adapter) -> None:
    check_id = cut_off(bay)
    services = desk_open.open_services(bay, METRIC, lambda _: lambda: 0.0, Turns())
    handle = services.go_on(Answer(check_id, plug_is_out=False, engine_runs=True))
    assert slow.asked.acquire(timeout=BOUND_S)
    state = handle.poll(0.0)
    assert (state.done, state.sentence) == (
        False, "Opening slcan COM3, 500 kbit/s, and listening before anything is sent…",
    )  # fmt: skip
    assert isinstance(handle, desk_open.GoingOn)
    handle.cancel()  # returns although the driver does not
    assert not handle.done
    assert [row.check_id for row in services.rows()] == [check_id]
    with bay.records(writer=True):  # the records are free meanwhile: it can be ended, say
        assert [row.check_id for row in services.rows()] == [check_id]
    slow.go_on.release()
    until_done(handle)
    assert slow.closed == [True]
    assert handle.poll(0.0) == BeginState(True, "It was given up.")


def test_it_goes_on_in_its_turn(bay: Bay, slow: Adapter) -> None:
    check_id, turns = cut_off(bay), Turns()
    trial = threading.Event()
    before: Aside[bool] = Aside(lambda: trial.wait(BOUND_S), turns=turns)
    handle = going_on(bay, check_id, turns)
    assert not slow.asked.acquire(timeout=0.2)
    trial.set()
    slow.go_on.release()
    begun = ended(handle).check
    assert before.done
    assert begun is not None
    begun.end()
    assert slow.closed == [True]


def test_what_keeps_it_from_going_on_is_a_result(bay: Bay, adapter: Adapter) -> None:
    check_id = cut_off(bay)
    with bay.records(writer=True):
        state = ended(going_on(bay, check_id))
    assert state.check is None
    assert "Another Brimline is running a check" in state.sentence
    assert adapter.closed == [True]
    bay.database_file.write_bytes(b"no database " * 100)
    state = ended(going_on(bay, check_id))
    assert state.damaged is not None


def test_an_adapter_that_is_not_there_is_a_result(
    bay: Bay, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> can.BusABC:
        raise BusError("The adapter slcan COM3 cannot be opened.")

    monkeypatch.setattr(live_check, "open_quietly", refuse)
    state = ended(going_on(bay, cut_off(bay)))
    assert state == BeginState(True, "The adapter slcan COM3 cannot be opened.")


def test_a_long_record_is_given_up_in_the_middle(
    bay: Bay, adapter: Adapter, monkeypatch: pytest.MonkeyPatch
) -> None:
    check_id = cut_off(bay, readings=300)
    halfway, go_on = threading.Event(), threading.Event()
    replayed: list[Event] = []
    real = interrupted_session._until_given_up

    def watched(*given: object) -> Iterator[Event]:
        for event in real(*given):  # type: ignore[arg-type]
            replayed.append(event)
            if len(replayed) == 100:
                halfway.set()
                assert go_on.wait(BOUND_S)
            yield event

    monkeypatch.setattr(interrupted_session, "_until_given_up", watched)
    handle = going_on(bay, check_id)
    assert halfway.wait(BOUND_S)
    assert handle.poll(0.0).sentence == "Going through the record of the check…"
    handle.cancel()
    go_on.set()
    until_done(handle)
    assert len(replayed) == 100
    assert adapter.closed == [True]
    with bay.records(writer=True):
        pass
    assert len(bay.load(check_id).events) == 301  # as it was


def test_it_is_replayed_in_another_thread_and_its_time_begins_after(
    bay: Bay, adapter: Adapter, monkeypatch: pytest.MonkeyPatch
) -> None:
    check_id = cut_off(bay)
    threads: list[threading.Thread] = []
    real = interrupted_session.prepare

    def prepare(*given: object) -> interrupted_session.Prepared:
        threads.append(threading.current_thread())
        return real(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(desk_open, "prepare", prepare)
    begun = ended(going_on(bay, check_id)).check
    assert begun is not None
    assert threads != [threading.main_thread()]
    resumed = begun.session.state.resumed
    begun.end()
    assert [each.gap_s for each in resumed] == [pytest.approx(101, abs=BOUND_S)]
    assert any(isinstance(each, Resumed) for each in bay.load(check_id).events)


def test_what_waited_in_the_adapter_is_no_reading_of_now(bay: Bay, adapter: Adapter) -> None:
    """Nobody knows how old a frame is that came while the record was replayed."""
    check_id = cut_off(bay)
    handle = going_on(bay, check_id)
    until_done(handle)
    with can.Bus(interface="virtual", channel=adapter.channel) as vehicle:
        vehicle.send(can.Message(arbitration_id=0x7E8, is_extended_id=False, data=b"old"))
        begun = handle.poll(0.0).check
        assert begun is not None
        vehicle.send(can.Message(arbitration_id=0x7E8, is_extended_id=False, data=b"new"))
        heard = adapter.opened[0].recv(timeout=1.0)
        assert heard is not None
        assert bytes(heard.data) == b"new"
    begun.end()


def frames_of(path: Path) -> int:
    with can.CanutilsLogReader(path) as log:
        return sum(1 for _ in log)


def test_a_recording_goes_on_beside_the_first(bay: Bay, adapter: Adapter) -> None:
    """Both are kept, and both get the number of the record."""
    begun = ended(desk_bus.LiveBeginning(bay, ORDER, lambda: lambda: 1.0, Turns())).check
    assert begun is not None
    begun.session.step()
    check_id = begun.session.state.opened.check_id
    begun.end()  # as if the computer had gone off
    folder = bus_recordings.folder_of(bay.folder)
    assert [path.name for path in folder.iterdir()] == [f"recording-{check_id}.log"]
    again = ended(going_on(bay, check_id)).check
    assert again is not None
    assert again.records_bus
    again.session.step()
    assert not again.session.tap(CheckAborted, reason="enough seen", plug_left_out=False)
    assert not again.session.close()
    again.end()
    number = bay.load(check_id).header.number
    parts = [folder / f"record-{number}.log", folder / f"record-{number}-2.log"]
    assert sorted(folder.iterdir()) == sorted(parts)
    assert min(map(frames_of, parts)) > 0
    opened = bay.load(check_id).header.opened_at.timestamp()
    with can.CanutilsLogReader(parts[1]) as log:
        assert next(iter(log)).timestamp >= opened  # on the time of the check, as the first


def test_one_that_was_not_recorded_is_not_recorded_now(bay: Bay, adapter: Adapter) -> None:
    begun = ended(going_on(bay, cut_off(bay))).check
    assert begun is not None
    assert not begun.records_bus
    begun.end()


def test_parts_of_a_recording_are_never_written_over(tmp_path: Path) -> None:
    here, there = tmp_path / "here", tmp_path / "there"
    assert bus_recordings.next_part((here, there), "abc") is None
    first = bus_recordings.first_part(there, "abc")
    for number in (1, 2, 3):
        part = first if number == 1 else bus_recordings.next_part((here, there), "abc")
        assert part is not None
        assert not part.exists()
        part.write_text(str(number), "utf-8")
    bus_recordings.first_part(there, "other").write_text("x", "utf-8")
    named = bus_recordings.give_number((here, there, there), "abc", 7)
    assert [path.name for path in named] == ["record-7.log", "record-7-2.log", "record-7-3.log"]
    assert [path.read_text("utf-8") for path in named] == ["1", "2", "3"]
    assert (there / "recording-other.log").exists()
    assert bus_recordings.give_number((there,), "abc", 8) == ()
