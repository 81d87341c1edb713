"""Nothing is lost and nothing appears, whatever is done to the vehicle."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.simulator.engine import HIGHEST_OVER_IDLE
from brimline.simulator.families import FAMILIES, FLUID_HEAT
from brimline.simulator.names import FAULTS
from brimline.simulator.vehicle import TICK_S, Vehicle, make_vehicle

# Stall heating raises the fluid by about 10 °F each second, and nothing in a transmission is faster
# (common practice, no source).
FASTEST_K_PER_S = 10 * 5 / 9

Deed = Callable[[Vehicle], object]
DEEDS: dict[str, Deed] = {
    "start": Vehicle.start_engine,
    "stop": Vehicle.stop_engine,
    "drive": lambda v: v.select_range("D"),
    "reverse": lambda v: v.select_range("R"),
    "park": lambda v: v.select_range("P"),
    "up": lambda v: v.raise_lift(0.3, -0.2),
    "down": Vehicle.lower_lift,
    "out": Vehicle.plug_out,
    "in": Vehicle.plug_in,
    "pump": lambda v: v.pump_on(0.02),
    "pump hard": lambda v: v.pump_on(0.2),
    "off": Vehicle.pump_off,
    "fan": lambda v: v.fan(True),
    "calm": lambda v: v.fan(False),
}
SEQUENCES = st.lists(
    st.tuples(st.sampled_from(sorted(DEEDS)), st.floats(0.05, 60.0)), min_size=1, max_size=20
)


def heat_capacity(vehicle: Vehicle) -> tuple[float, float]:
    """Recompute J/K of fluid with converter, and of case, from masses alone."""
    kilograms = vehicle.fluid.inside * vehicle.fluid.density_15 / 1000
    return kilograms * FLUID_HEAT + vehicle.family.converter, vehicle.family.case


@given(
    family=st.sampled_from(sorted(FAMILIES)),
    fault=st.sampled_from([None, *FAULTS]),
    arrival=st.one_of(st.none(), st.floats(0, 120)),
    deeds=SEQUENCES,
)
def test_heat_and_volume_balance_to_1e_6(
    family: str, fault: str | None, arrival: float | None, deeds: list[tuple[str, float]]
) -> None:
    vehicle = make_vehicle(family, fault, arrival=arrival)
    for name, seconds in deeds:
        DEEDS[name](vehicle)
        vehicle.step(seconds)
        fluid, heat = vehicle.fluid, vehicle.heat
        assert fluid.pan + fluid.held + fluid.clinging == pytest.approx(fluid.expected, abs=1e-6)
        assert min(fluid.pan, fluid.held, fluid.clinging, fluid.caught, fluid.leaked) >= 0
        with_fluid, of_case = heat_capacity(vehicle)
        stored = with_fluid * heat.fluid + of_case * heat.case
        ledger = heat.ledger
        flows = ledger.from_engine + ledger.with_fluid_in
        flows -= ledger.with_fluid_out + ledger.to_air
        # in kJ: 1e-6 kJ would be lost in the rounding of a day's heat, so relative to it as well
        assert (stored - ledger.at_start) / 1000 == pytest.approx(flows / 1000, rel=1e-6, abs=1e-6)


@given(
    family=st.sampled_from(sorted(FAMILIES)),
    fault=st.sampled_from([None, *FAULTS]),
    deeds=st.lists(st.tuples(st.sampled_from(sorted(DEEDS)), st.integers(1, 40)), max_size=12),
)
def test_nothing_exceeds_what_is_physically_possible(
    family: str, fault: str | None, deeds: list[tuple[str, int]]
) -> None:
    vehicle = make_vehicle(family, fault)
    highest = vehicle.sheet.idle.speed_high + HIGHEST_OVER_IDLE
    fluid, lowest = vehicle.heat.fluid, min(20.0, vehicle.heat.fluid)
    for name, ticks in deeds:
        DEEDS[name](vehicle)
        for _ in range(ticks):
            vehicle.step(TICK_S)
            assert abs(vehicle.heat.fluid - fluid) <= FASTEST_K_PER_S * TICK_S
            fluid = vehicle.heat.fluid
            assert lowest - 1e-9 <= fluid <= 130
            signals = vehicle.signals()
            assert 0 <= signals.engine_speed <= highest
            assert signals.vehicle_speed == 0


@given(
    deeds=st.lists(st.tuples(st.sampled_from(sorted(DEEDS)), st.integers(1, 200)), max_size=10),
    portions=st.lists(st.floats(0.001, 1.0), min_size=1, max_size=7),
)
def test_the_same_time_in_any_portions_gives_the_same_vehicle(
    deeds: list[tuple[str, int]], portions: list[float]
) -> None:
    whole, in_parts = make_vehicle("K7", seed=3), make_vehicle("K7", seed=3)
    for name, ticks in deeds:
        DEEDS[name](whole)
        DEEDS[name](in_parts)
        whole.step(ticks * TICK_S)
        left, turn = ticks * TICK_S, 0
        while left > 0:
            part = min(left, portions[turn % len(portions)])
            in_parts.step(part)
            left, turn = left - part, turn + 1
        assert in_parts.time == whole.time
        assert in_parts.signals() == whole.signals()
        assert in_parts.view() == whole.view()


@pytest.mark.parametrize("dt", [-0.1, 3600.1, float("nan"), float("inf")])
def test_a_step_has_a_length(dt: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 3600"):
        make_vehicle("K5").step(dt)


def test_the_seed_moves_jitter_and_wobble_and_nothing_else() -> None:
    one, same, other = make_vehicle("K7", seed=1), make_vehicle("K7", seed=1), make_vehicle("K7")
    for vehicle in (one, same, other):
        vehicle.start_engine()
        vehicle.step(60)
    assert one.signals() == same.signals()
    assert one.signals() != other.signals()
    assert one.heat.fluid == other.heat.fluid
    assert one.view() == other.view()
