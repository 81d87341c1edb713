"""What to expect of a sheet's run-off, and that a simulated vehicle keeps to it."""

from __future__ import annotations

import math

import pytest
from check_play import SHEET, sheet

from brimline.estimate.run_off import expected_time, outlet_of, viscosity_of
from brimline.paths import resources
from brimline.physics.run_off import DROP_L, time_to_flow
from brimline.simulator.families import FAMILIES
from brimline.simulator.outflow import Outlet
from brimline.simulator.vehicle import make_vehicle
from brimline.specsheet.model import NORMAL_DUTY, Fluid
from brimline.specsheet.reader import read_sheet

CLEAR = sheet().fluids[0]
SHEETS = sorted((resources() / "sheets").glob("*.toml"))


def test_the_simulated_vehicle_and_the_estimate_have_one_outlet() -> None:
    level = sheet().level
    simulated, ours = Outlet.of(level), outlet_of(level)
    assert simulated.rim == ours.rim == pytest.approx(math.pi * 0.012)  # 8 mm and two walls
    for litres in (0.001, 0.1, 1.0):
        assert simulated.flow(litres, 10.0) == ours.flow(litres, 10.0)


def test_the_time_for_one_sheet() -> None:
    found = expected_time(sheet(), CLEAR, 75.0)
    assert found is not None
    viscosity = viscosity_of(CLEAR, 75.0)
    assert viscosity == pytest.approx(10.0, abs=0.2)  # Walther's short form by hand: 10.05
    for surplus in (0.15, 0.5, 1.0):  # from the acceptance to the most that may run off
        single = time_to_flow(outlet_of(sheet().level), surplus, viscosity, 2 * DROP_L)
        assert found.low < single < found.high


def test_warming_lengthens_it_without_end() -> None:
    still = expected_time(sheet(), CLEAR, 75.0)
    slow = expected_time(sheet(), CLEAR, 75.0, warming=0.5 / 60)
    fast = expected_time(sheet(), CLEAR, 75.0, warming=2.0 / 60)
    cooling = expected_time(sheet(), CLEAR, 75.0, warming=-1.0)
    assert still is not None
    assert slow is not None
    assert fast is not None
    assert still == cooling
    assert slow.low == fast.low == still.low
    # 8.6 L · 7.42e-4 1/K · 2 K/min is 0.21 mL/s: more than two drops a second of the small kind
    assert still.high < slow.high < fast.high == math.inf


def test_without_a_viscosity_there_is_no_answer() -> None:
    assert expected_time(sheet(), Fluid(name="TF-Red", approval="refused"), 75.0) is None
    thin = sheet(fluids=[SHEET["fluids"][0] | {"viscosity_100": "0.1 mm²/s"}])
    assert expected_time(thin, thin.fluids[0], 75.0) is None


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_the_shipped_sheets_allow_a_plausible_time(path: object) -> None:
    shipped = read_sheet(path)  # type: ignore[arg-type]
    found = expected_time(shipped, shipped.fluids[0], shipped.bands["normal"].limit)
    assert found is not None
    assert found.low < shipped.level.max_run_off_time


@pytest.mark.parametrize("family", sorted(FAMILIES))
def test_a_simulated_vehicle_drips_within_the_range(family: str) -> None:
    # one model of the outlet, but the simulation also warms, draws up fluid and steps in time
    vehicle = make_vehicle(family)
    spec = vehicle.sheet
    low = spec.bands[NORMAL_DUTY].low
    assert low is not None
    vehicle.start_engine()
    while vehicle.heat.fluid < low + 1:
        vehicle.step(1)
    vehicle.raise_lift()
    vehicle.plug_out()
    began, seconds = vehicle.heat.fluid, 0
    dripping = False
    while not dripping:
        vehicle.step(1)
        seconds += 1
        view = vehicle.view()
        dripping = view.flow != "runs" and view.drops_per_second <= spec.level.drip_rate
    warming = (vehicle.heat.fluid - began) / seconds
    found = expected_time(spec, spec.fluids[0], began, warming)
    assert found is not None
    assert found.low < seconds < found.high
    assert seconds > 100  # it was a stream to begin with
