"""What a shop sees of such vehicles. All of it is common practice, no source, unless said."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from brimline.physics.volume import correction_factor, expansion_at_15
from brimline.simulator.families import FAMILIES
from brimline.simulator.outflow import DROP_L, Outlet
from brimline.simulator.vehicle import Vehicle, make_vehicle
from brimline.specsheet.model import NORMAL_DUTY


def step_until(vehicle: Vehicle, reached: Callable[[Vehicle], bool], *, within: float) -> float:
    """Step a second at a time; return how long it took."""
    start = vehicle.time
    while not reached(vehicle):
        vehicle.step(1)
        assert vehicle.time - start <= within
    return vehicle.time - start


def in_band(vehicle: Vehicle) -> bool:
    low = vehicle.sheet.bands[NORMAL_DUTY].low
    return low is not None and vehicle.heat.fluid >= low + 2


def opened(family: str, fault: str | None = None) -> Vehicle:
    """Return a vehicle in its band on the lift, idling, its plug just out."""
    vehicle = make_vehicle(family, fault)
    vehicle.start_engine()
    step_until(vehicle, in_band, within=1200)
    vehicle.raise_lift()
    vehicle.plug_out()
    vehicle.step(0.1)
    return vehicle


def drip_rate_reached(vehicle: Vehicle) -> bool:
    view = vehicle.view()
    return view.flow != "runs" and view.drops_per_second <= vehicle.sheet.level.drip_rate


@pytest.mark.parametrize("family", ["K5", "K7"])
def test_a_car_idles_from_131_to_149_f_within_a_few_minutes(family: str) -> None:
    vehicle = make_vehicle(family, arrival=30.0)  # 86 °F
    vehicle.start_engine()
    warm_up = step_until(vehicle, lambda v: v.heat.fluid >= 55, within=1500)
    stay = step_until(vehicle, lambda v: v.heat.fluid > 65, within=600)
    assert warm_up > 5 * 60
    assert 3 * 60 < stay < 8 * 60


def test_a_truck_takes_longer_for_its_masses() -> None:
    vehicle = make_vehicle("K9", arrival=30.0)
    vehicle.start_engine()
    step_until(vehicle, lambda v: v.heat.fluid >= 55, within=2400)
    assert step_until(vehicle, lambda v: v.heat.fluid > 65, within=1200) > 8 * 60


@pytest.mark.parametrize("family", sorted(FAMILIES))
def test_in_gear_at_idle_it_warms_somewhat_faster_and_at_rest_it_cools(family: str) -> None:
    parked, driving = make_vehicle(family, arrival=50.0), make_vehicle(family, arrival=50.0)
    resting, fanned = make_vehicle(family, arrival=50.0), make_vehicle(family, arrival=50.0)
    fanned.fan(True)
    for vehicle in (parked, driving):
        vehicle.start_engine()
    driving.select_range("D")
    for vehicle in (parked, driving, resting, fanned):
        vehicle.step(180)
    assert 50 < parked.heat.fluid < driving.heat.fluid < 50 + 3 * (parked.heat.fluid - 50)
    assert fanned.heat.fluid < resting.heat.fluid < 50


@pytest.mark.parametrize("family", sorted(FAMILIES))
def test_it_never_boils_however_long_it_idles(family: str) -> None:
    vehicle = make_vehicle(family)
    vehicle.start_engine()
    vehicle.step(3600)
    vehicle.step(3600)
    hottest = vehicle.heat.fluid
    vehicle.step(3600)
    assert vehicle.heat.fluid == pytest.approx(hottest, abs=1)
    assert vehicle.family.thermostat < vehicle.heat.fluid < vehicle.family.thermostat + 10


@pytest.mark.parametrize("family", sorted(FAMILIES))
def test_the_run_off_slows_to_a_drip_over_minutes(family: str) -> None:
    vehicle = opened(family)
    level = vehicle.sheet.level
    assert vehicle.view().flow == "runs"
    to_drops = step_until(vehicle, lambda v: v.view().flow == "drips", within=300)
    to_rate = to_drops + step_until(vehicle, drip_rate_reached, within=600)
    assert to_drops > 30
    assert 120 < to_rate < level.max_run_off_time
    assert 0.1 < vehicle.view().caught < level.max_run_off
    assert vehicle.over_rim < level.acceptance
    high = vehicle.sheet.bands[NORMAL_DUTY].high
    assert high is not None
    assert vehicle.heat.fluid < high


@pytest.mark.parametrize("family", sorted(FAMILIES))
def test_in_the_end_it_drips_as_fast_as_the_fluid_expands(family: str) -> None:
    # from Table 54D's expansion alone: what the warming adds must leave by the hole
    vehicle = opened(family)
    vehicle.step(900)
    before, volume = vehicle.heat.fluid, vehicle.fluid.inside
    vehicle.step(60)
    fluid = next(f for f in vehicle.sheet.fluids if f.approval.value == "approved")
    expansion = fluid.expansion or expansion_at_15(fluid.density_15 or 0)
    grown = volume / correction_factor(expansion, vehicle.heat.fluid)
    grown -= volume / correction_factor(expansion, before)
    assert vehicle.view().drops_per_second * DROP_L * 60 == pytest.approx(grown, rel=0.1)


def test_thicker_fluid_runs_more_slowly_and_more_fluid_faster() -> None:
    outlet = Outlet.of(make_vehicle("K7").sheet.level)
    assert outlet.flow(0, 10) == outlet.flow(-1, 10) == 0
    assert outlet.flow(1e-200, 10) == 0
    amounts = [0.001, 0.01, 0.1, 0.5, 1.0, 2.0]
    thin, thick = ([outlet.flow(a, nu) for a in amounts] for nu in (8.0, 80.0))
    assert thin == sorted(thin)
    assert all(0 < slow < fast for slow, fast in zip(thick, thin, strict=True))
    # Torricelli through the bare bore is the upper bound: 0.6·A·√(2·g·h) of 8 mm under 57 mm
    assert thin[-1] < 0.6 * 5.03e-5 * (2 * 9.81 * 0.0574) ** 0.5 * 1000


def test_cold_fluid_stands_lower_and_a_stopped_engine_drains_back() -> None:
    vehicle = make_vehicle("K7", arrival=20.0)
    vehicle.start_engine()
    vehicle.step(30)
    cold = vehicle.over_rim
    step_until(vehicle, in_band, within=2400)
    warm = vehicle.over_rim
    # 8.6 L at α = 7.42e-4 1/K grow by about 0.3 L over the 45 K (Table 54D)
    assert warm - cold == pytest.approx(0.3, abs=0.03)
    vehicle.stop_engine()
    vehicle.step(20)
    soon = vehicle.over_rim
    vehicle.step(400)
    assert warm < soon < vehicle.over_rim
    assert vehicle.over_rim - warm == pytest.approx(1.2, abs=0.1)  # held running less resting


def test_a_tilt_retains_what_the_geometry_says() -> None:
    vehicle = make_vehicle("K5")
    level = vehicle.over_rim
    vehicle.raise_lift(1.0, 0.0)  # nose up, the standpipe 70 mm ahead of the centroid rises
    # 0.098 m² · 0.070 m · tan 1° = 0.1197 L
    assert level - vehicle.over_rim == pytest.approx(0.1197, abs=1e-4)
    assert vehicle.tilt == (1.0, 0.0)
    vehicle.lower_lift()
    assert vehicle.over_rim == level


def test_pumped_fluid_runs_back_for_a_while_and_fakes_a_drip() -> None:
    vehicle = opened("K7", "low")
    level = vehicle.sheet.level
    assert vehicle.view().flow == "nothing"
    vehicle.pump_on(0.02)
    vehicle.step(10)
    assert vehicle.view().flow == "nothing"  # the adapter fills the hole
    vehicle.pump_off()
    vehicle.step(2)
    assert vehicle.over_rim < -0.1
    assert vehicle.view().flow in ("runs", "drips")
    vehicle.step(level.settle_time)
    assert vehicle.view().drops_per_second < 0.5
    assert vehicle.view().pumped == pytest.approx(0.2, abs=0.002)
    vehicle.step(60)
    assert vehicle.view().flow == "nothing"


def test_enough_of_it_brings_the_level_to_the_rim() -> None:
    vehicle = opened("K7", "low")
    for _ in range(3):
        vehicle.pump_on(0.02)
        vehicle.step(7.5)
        vehicle.pump_off()
        vehicle.step(vehicle.sheet.level.settle_time)
    assert vehicle.view().pumped < vehicle.sheet.level.max_top_up
    step_until(vehicle, drip_rate_reached, within=300)
    assert vehicle.view().flow == "drips"
    assert abs(vehicle.over_rim) < vehicle.sheet.level.acceptance


def test_the_engine_cranks_flares_and_settles_in_the_window() -> None:
    vehicle = make_vehicle("K7")
    idle = vehicle.sheet.idle
    assert vehicle.start_engine()
    speeds = []
    for _ in range(100):
        vehicle.step(0.1)
        speeds.append(vehicle.signals().engine_speed)
    assert max(speeds[:6]) < 300
    assert max(speeds) > idle.speed_high
    assert all(idle.speed_low < speed < idle.speed_high for speed in speeds[40:])
    assert len(set(speeds[40:])) > 50  # it wobbles
    vehicle.stop_engine()
    vehicle.step(3)
    assert vehicle.signals().engine_speed == 0


def test_the_starter_does_not_turn_in_gear() -> None:
    vehicle = make_vehicle("K7")
    vehicle.select_range("D")
    assert not vehicle.start_engine()
    vehicle.step(5)
    assert vehicle.signals().engine_speed == 0
    assert not vehicle.view().lamps.engine_runs
    vehicle.select_range("N")
    assert vehicle.start_engine()
