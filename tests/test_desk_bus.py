"""What the window is handed for the bus, against a simulated vehicle in another process."""

from __future__ import annotations

import time
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Protocol, TypeVar

import pytest
from two_processes import simulator

from brimline import desk_bus
from brimline.bootstrap import Bay
from brimline.config import read_settings
from brimline.errors import BrimlineError
from brimline.procedure.events import Origin
from brimline.reading import SignalName, Way
from brimline.signals.adapters import Channel, Detection
from brimline.signals.discovery import Field, Layout, Named, Proposal
from brimline.signals.discovery_judge import Finding, Likeness, Observation
from brimline.specsheet.signal_map import SignalMap
from brimline.ui.services import CheckOrder, ConnectionChoice, IdentifierRange
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


def choice(address: str) -> ConnectionChoice:
    host, _, port = address.rpartition(":")
    return ConnectionChoice("socketcand", "can0", options={"host": host, "port": int(port)})


@pytest.fixture
def bay(tmp_path: Path) -> Bay:
    return Bay(tmp_path, read_settings(tmp_path))


def test_a_connection_is_kept_and_read_back(bay: Bay) -> None:
    services = desk_bus.bus_services(bay, METRIC)
    assert not services.connection().is_chosen
    kept = ConnectionChoice("slcan", "COM3", 250_000, 29, "physical", listen_only_first=False)
    services.save(kept)
    assert services.connection() == kept
    assert {"slcan", "socketcand"} <= {kind.name for kind in services.kinds()}
    with pytest.raises(BrimlineError):
        services.save(ConnectionChoice("slcan", bitrate=-5))
    assert services.connection() == kept


def test_a_vehicle_is_tried_listened_to_and_checked(bay: Bay) -> None:
    services = desk_bus.bus_services(bay, METRIC)
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
        found.ask(IdentifierRange(0x31A0, 0x31A0, 0x7E1, 0x7E9))
        listened = until(found, lambda state: "answered: 1" in state.sentence)
        assert listened.sentence == "Identifiers asked for: 1; answered: 1."
        assert listened.seconds > 0
        found.cancel()
        check_runs_on(bay)


def check_runs_on(bay: Bay) -> None:
    start = time.monotonic()
    running = desk_bus.begin_live(bay, ORDER, lambda: (time.monotonic() - start) * 20)
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
    finally:
        running.end()
    (recording,) = (bay.folder / "recordings").glob("recording-*")
    assert recording.stat().st_size > 0


def test_an_adapter_that_is_not_there_is_a_result(bay: Bay) -> None:
    tried = until(desk_bus.bus_services(bay, METRIC).try_it(NOWHERE), lambda state: state.done)
    assert not tried.works
    assert "cannot be opened" in tried.sentence


def test_a_trial_can_be_given_up(bay: Bay) -> None:
    handle = desk_bus.bus_services(bay, METRIC).try_it(ConnectionChoice("virtual", "nobody"))
    assert not handle.poll(0.0).done
    handle.cancel()
    assert "given up" in until(handle, lambda state: state.done).sentence


def test_what_a_search_finds_is_handed_on(bay: Bay, monkeypatch: pytest.MonkeyPatch) -> None:
    port = Channel("slcan", "COM7", "serial port; may be an adapter", (("rtscts", True),))
    monkeypatch.setattr(desk_bus, "detected_channels", lambda: Detection((port,), ("neovi",)))
    state = until(desk_bus.bus_services(bay, METRIC).look(), lambda state: state.done)
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
        desk_bus.begin_live(bay, ORDER, lambda: 0.0)
    assert bay.finished() == ()
