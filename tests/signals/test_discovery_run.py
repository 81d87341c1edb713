"""Looking for the fluid's temperature on the bus of a simulated vehicle that warms up."""

from __future__ import annotations

from collections.abc import Iterator

import can
import pytest
from live_bench import STEP_S, drain, virtual_buses

from brimline.errors import BusError
from brimline.signals.discovery import Field, Named
from brimline.signals.discovery_judge import Likeness
from brimline.signals.discovery_run import DiscoveryRun
from brimline.signals.identifier_scan import Ending
from brimline.signals.requests import PERMITTED_LENGTHS
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.vehicle import Vehicle, make_vehicle
from brimline.specsheet.signal_map import UdsSignal


class Warming:
    """A vehicle that idles from cold, and the program listening."""

    def __init__(self, vehicle: Vehicle, buses: list[can.BusABC]) -> None:
        self.vehicle = vehicle
        self.units = VehicleOnBus(vehicle, vehicle.sheet, buses[0])
        self.run = DiscoveryRun(buses[1])
        self.witness = buses[2]
        self.now = 0.0

    def go_on(self, seconds: float) -> None:
        for _ in range(round(seconds / STEP_S)):
            self.now += STEP_S
            self.vehicle.step(STEP_S)
            self.units.pump(self.now)
            self.run.pump(self.now)


@pytest.fixture
def warming() -> Iterator[Warming]:
    vehicle = make_vehicle("K7", None)
    vehicle.start_engine()
    with virtual_buses(3) as buses:
        yield Warming(vehicle, buses)


def mapped(warming: Warming) -> UdsSignal:
    found = warming.vehicle.sheet.signals.fluid_temperature
    assert isinstance(found, UdsSignal)
    return found


def test_the_identifier_of_the_fluid_is_proposed(warming: Warming) -> None:
    signal = mapped(warming)
    first = signal.identifier - 3
    warming.go_on(2)
    warming.run.read_range(first, first + 6, signal.request_id, signal.response_id, warming.now)
    warming.go_on(400)
    assert set(warming.run.report.records) >= {signal.identifier}
    assert warming.run.report.ending is Ending.COMPLETE
    proposals = warming.run.survey.proposals()
    likely = [each for each in proposals if isinstance(each.place, Field)]
    assert signal.identifier in {each.place.identifier for each in likely}
    right = [
        each for each in likely
        if each.place.mapping.scale == signal.scale and each.place.mapping.offset == signal.offset
    ]  # fmt: skip
    true = warming.vehicle.signals().fluid
    assert any(each.latest == pytest.approx(true, abs=1.0) for each in right)


def test_the_coolant_is_never_taken_for_certain(warming: Warming) -> None:
    warming.go_on(120)
    names = [each for each in warming.run.survey.ranking() if isinstance(each.place, Named)]
    assert names
    assert all(each.likeness is not Likeness.FLUID for each in names)


def test_nothing_but_reading_is_sent(warming: Warming) -> None:
    signal = mapped(warming)
    warming.run.read_range(0x3100, 0x3105, signal.request_id, signal.response_id, 0.0)
    warming.go_on(20)
    asked = [m for m in drain(warming.witness) if m.arbitration_id in (0x7DF, signal.request_id)]
    services = {bytes(m.data)[1] for m in asked if bytes(m.data)[0] >> 4 == 0}
    assert services <= set(PERMITTED_LENGTHS)
    assert {0x01, 0x22} <= services


def test_a_silent_unit_ends_the_reading_and_listening_goes_on(warming: Warming) -> None:
    warming.run.read_range(0x3100, 0x3140, 0x7E5, 0x7ED, 0.0)
    warming.go_on(20)
    assert warming.run.report.ending is Ending.SILENT
    assert warming.run.lost == ""
    assert any(isinstance(each.place, Named) for each in warming.run.survey.ranking())


@pytest.mark.parametrize(("first", "last"), [(5, 4), (0, 0x10000), (0, 0x7FFF)])
def test_no_range_is_one_sentence(warming: Warming, first: int, last: int) -> None:
    with pytest.raises(BusError):
        warming.run.read_range(first, last, 0x7E1, 0x7E9, 0.0)


def test_a_bus_that_goes_away_is_told(warming: Warming) -> None:
    def pulled(timeout: float | None = None) -> can.Message | None:
        raise can.CanOperationError("gone")

    with virtual_buses(1) as (gone,):
        gone.recv = pulled  # type: ignore[method-assign] # a cable that was pulled
        run = DiscoveryRun(gone)
        run.pump(0.0)
        assert "lost" in run.lost
        run.pump(1.0)
