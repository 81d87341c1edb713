"""What the window is handed for the bus, against a simulated vehicle in another process."""

from __future__ import annotations

import threading
import time
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Protocol, TypeVar

import can
import pytest
from two_processes import simulator

from brimline import desk_bus, live_check
from brimline.aside import Turns
from brimline.bootstrap import Bay
from brimline.config import Connection, read_settings
from brimline.errors import BrimlineError
from brimline.procedure.events import CheckAborted, Origin
from brimline.reading import SignalName, Way
from brimline.records.query import Query
from brimline.signals.adapters import Channel, Detection
from brimline.signals.discovery import Field, Layout, Named, Proposal
from brimline.signals.discovery_judge import Finding, Likeness, Observation
from brimline.specsheet.signal_map import SignalMap
from brimline.ui.ports.services import CheckOrder, ConnectionChoice, IdentifierRange
from brimline.units import METRIC, US

S = TypeVar("S")
BOUND_S = 30.0

ORDER = CheckOrder("R. Calloway (invented)", "k7-demo", "normal", Way.BUS, record=True)
NOWHERE = ConnectionChoice("socketcand", "can0", options={"host": "127.0.0.1", "port": 9})


class Polled(Protocol[S]):
    def poll(self, now: float) -> S: ...


def until(handle: Polled[S], reached: Callable[[S], bool]) -> S:
    """Ask a handle until it has come so far, as the window's timer does."""
    deadline = time.monotonic() + BOUND_S
    while not reached(state := handle.poll(time.monotonic())):
        assert time.monotonic() < deadline, state
        time.sleep(0.02)  # the other side is a process that needs its time
    return state


def beginning(bay: Bay, clock: Callable[[], float] = lambda: 0.0) -> desk_bus.LiveBeginning:
    return desk_bus.LiveBeginning(bay, ORDER, lambda: clock, Turns())


def choice(address: str) -> ConnectionChoice:
    host, _, port = address.rpartition(":")
    return ConnectionChoice("socketcand", "can0", options={"host": host, "port": int(port)})


@pytest.fixture
def bay(tmp_path: Path) -> Bay:
    return Bay(tmp_path, read_settings(tmp_path))


def test_a_connection_is_kept_and_read_back(bay: Bay) -> None:
    services = desk_bus.bus_services(bay, METRIC, Turns())
    assert not services.connection().is_chosen
    kept = ConnectionChoice("slcan", "COM3", 250_000, 29, "physical", listen_only_first=False)
    services.save(kept)
    assert services.connection() == kept
    assert {"slcan", "socketcand"} <= {kind.name for kind in services.kinds()}
    with pytest.raises(BrimlineError):
        services.save(ConnectionChoice("slcan", bitrate=-5))
    assert services.connection() == kept


def test_a_vehicle_is_tried_listened_to_and_checked(bay: Bay) -> None:
    services = desk_bus.bus_services(bay, METRIC, Turns())
    with simulator(["--socketcand", "0"]) as (vehicle, address):
        assert vehicle.stdin is not None
        vehicle.stdin.write("engine on\n")
        vehicle.stdin.flush()
        services.save(choice(address))
        tried = until(services.try_it(choice(address)), lambda state: state.done)
        assert tried.works
        assert tried.sentence == "It works: One control unit answered."
        assert "coolant" in tried.units[0]
        assert "°C" in tried.units[0]
        found = services.discover(choice(address))
        with pytest.raises(BrimlineError, match="not open yet"):
            found.ask(IdentifierRange(0x31A0, 0x31A0, 0x7E1, 0x7E9))
        until(found, lambda state: state.sentence.startswith("Listening."))
        found.ask(IdentifierRange(0x31A0, 0x31A0, 0x7E1, 0x7E9))
        listened = until(found, lambda state: "answered: 1" in state.sentence)
        assert listened.sentence == "Identifiers asked for: 1; answered: 1."
        assert listened.seconds > 0
        found.cancel()
        check_runs_on(bay)


def check_runs_on(bay: Bay) -> None:
    start = time.monotonic()
    begun = until(beginning(bay, lambda: (time.monotonic() - start) * 20), lambda s: s.done)
    running = begun.check
    assert running is not None, begun.sentence
    try:
        assert running.records_bus
        # The sheet is invented, so that nothing of this may count for a vehicle.
        assert running.session.state.opened.origin is Origin.TRAINING
        deadline = start + BOUND_S
        while running.session.state.temperature.last is None:
            assert time.monotonic() < deadline
            running.session.step()
            time.sleep(0.02)
        assert SignalName.FLUID_TEMPERATURE in running.session.state.measured
        assert running.session.tap(CheckAborted, reason="enough seen", plug_left_out=False) == ()
        assert running.session.close() == ()
    finally:
        running.end()
    (finished,) = bay.find(Query(origins=tuple(Origin))).hits
    (recording,) = (bay.folder / "recordings").iterdir()
    assert recording.name == f"record-{finished.number}.log"
    assert recording.stat().st_size > 0


def test_an_adapter_that_is_not_there_is_a_result(bay: Bay) -> None:
    tried = until(
        desk_bus.bus_services(bay, METRIC, Turns()).try_it(NOWHERE),
        lambda state: state.done,
    )
    assert not tried.works
    assert "cannot be opened" in tried.sentence


def test_a_trial_can_be_given_up(bay: Bay) -> None:
    handle = desk_bus.bus_services(bay, METRIC, Turns()).try_it(
        ConnectionChoice("virtual", "nobody")
    )
    assert not handle.poll(0.0).done
    handle.cancel()
    assert "given up" in until(handle, lambda state: state.done).sentence


def test_what_a_search_finds_is_handed_on(bay: Bay, monkeypatch: pytest.MonkeyPatch) -> None:
    port = Channel("slcan", "COM7", "serial port; may be an adapter", (("rtscts", True),))
    monkeypatch.setattr(desk_bus, "detected_channels", lambda: Detection((port,), ("neovi",)))
    state = until(desk_bus.bus_services(bay, METRIC, Turns()).look(), lambda state: state.done)
    (found,) = state.channels
    assert (found.interface, found.channel, found.options) == ("slcan", "COM7", {"rtscts": True})
    assert state.unanswered == ("neovi",)


def test_a_proposal_says_what_a_sheet_would_say() -> None:
    place = Field(0x31A0, 0x7E1, 0x7E9, 0, Layout.PLAIN)
    finding = Finding(Observation.ROSE, 18.0)
    row = desk_bus.proposal_row(Proposal(place, Likeness.FLUID, 70, (finding,), 64.2), US)
    assert row.likely
    assert row.latest == 64.2
    assert any("32" in reason and "°F" in reason for reason in row.reasons)
    ((kind, mapping),) = tomllib.loads(row.entry)["signals"].items()
    assert kind == "fluid_temperature"
    assert SignalMap(fluid_temperature=mapping).fluid_temperature == place.mapping
    assert "identifier = 0x31A0" in row.entry
    named = Proposal(Named("OBD PID 05"), Likeness.NONE, 0, (), 80.0)
    assert desk_bus.proposal_row(named, US).entry == ""


def test_without_a_connection_no_check_begins(bay: Bay) -> None:
    with pytest.raises(BrimlineError, match="No connection"):
        beginning(bay)
    assert bay.find(Query(origins=tuple(Origin))).hits == ()


def test_an_adapter_that_is_not_there_begins_no_check(bay: Bay) -> None:
    desk_bus.bus_services(bay, METRIC, Turns()).save(NOWHERE)
    begun = until(beginning(bay), lambda state: state.done)
    assert begun.check is None
    assert "cannot be opened" in begun.sentence
    listened = until(
        desk_bus.bus_services(bay, METRIC, Turns()).discover(NOWHERE), lambda s: s.done
    )
    assert listened.sentence == begun.sentence


class SlowAdapter:
    """An adapter whose opening takes until it is told to go on."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.asked = threading.Semaphore(0)
        self.go_on = threading.Semaphore(0)
        self.opened: list[can.BusABC] = []
        monkeypatch.setattr(live_check, "open_quietly", self._open)

    def _open(self, _connection: Connection, _pause: Callable[[float], None]) -> can.BusABC:
        self.asked.release()
        assert self.go_on.acquire(timeout=BOUND_S)
        self.opened.append(can.Bus(interface="virtual", channel="slow-adapter"))
        return self.opened[-1]


def is_closed(bus: can.BusABC) -> bool:
    return bus._is_shutdown


def test_a_check_is_given_up_while_its_adapter_opens(
    bay: Bay, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow = SlowAdapter(monkeypatch)
    desk_bus.bus_services(bay, METRIC, Turns()).save(ConnectionChoice("slcan", "COM3"))
    handle = beginning(bay)
    assert slow.asked.acquire(timeout=BOUND_S)
    state = handle.poll(0.0)
    assert (state.done, state.check) == (False, None)
    assert state.sentence == (
        "Opening slcan COM3, 500 kbit/s, and listening before anything is sent…"
    )
    handle.cancel()  # returns although the driver does not
    assert not handle.poll(0.0).done
    slow.go_on.release()
    assert until(handle, lambda each: each.done).check is None
    assert [is_closed(bus) for bus in slow.opened] == [True]


def test_an_adapter_is_opened_by_one_after_the_other(
    bay: Bay, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow, turns = SlowAdapter(monkeypatch), Turns()
    services = desk_bus.bus_services(bay, METRIC, turns)
    services.save(ConnectionChoice("slcan", "COM3"))
    first = services.discover(services.connection())
    assert slow.asked.acquire(timeout=BOUND_S)
    first.cancel()
    second = desk_bus.LiveBeginning(bay, ORDER, lambda: lambda: 0.0, turns)
    assert not slow.asked.acquire(timeout=0.2)  # it waits: the first one has not let go yet
    slow.go_on.release(2)
    begun = until(second, lambda state: state.done).check
    assert begun is not None
    assert [is_closed(bus) for bus in slow.opened] == [True, False]
    begun.end()
    assert is_closed(slow.opened[1])


def test_damaged_records_are_told_apart_from_an_adapter_that_fails(
    bay: Bay, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow = SlowAdapter(monkeypatch)
    slow.go_on.release()
    desk_bus.bus_services(bay, METRIC, Turns()).save(ConnectionChoice("slcan", "COM3"))
    with bay.records(writer=True):
        pass
    bay.database_file.write_bytes(b"no database " * 100)
    begun = until(beginning(bay), lambda state: state.done)
    assert begun.check is None
    assert begun.damaged is not None
    assert begun.damaged.what.rstrip(".") in begun.sentence
    assert [is_closed(bus) for bus in slow.opened] == [True]


def test_a_check_whose_records_are_in_use_gives_the_adapter_back(
    bay: Bay, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow = SlowAdapter(monkeypatch)
    slow.go_on.release()
    desk_bus.bus_services(bay, METRIC, Turns()).save(ConnectionChoice("slcan", "COM3"))
    with bay.records(writer=True):
        begun = until(beginning(bay), lambda state: state.done)
    assert begun.check is None
    assert begun.sentence
    assert [is_closed(bus) for bus in slow.opened] == [True]
