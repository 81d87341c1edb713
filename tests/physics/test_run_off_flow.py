"""The time from a stream to a drip, against closed solutions and an independent integrator."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from brimline.physics import run_off
from brimline.physics.run_off import Outlet, surplus_at, time_to_drip, time_to_flow

PIPE = Outlet.fitted(bore=0.008, hole=0.009, pan_area=0.115)
WIDE = Outlet(rim=0.04, bore=10.0, hole=10.0, pan_area=0.1)  # nothing but the rim holds back

outlets = st.builds(
    Outlet.fitted,
    bore=st.floats(0.004, 0.02),
    hole=st.floats(0.004, 0.02),
    pan_area=st.floats(0.03, 0.3),
)
surpluses = st.floats(0.1, 3.0)
viscosities = st.floats(3.0, 200.0)
flows = st.floats(2e-5, 1e-3)


def test_where_only_the_weir_acts_it_follows_the_closed_solution() -> None:
    # dh/dt = -c·h^1.5 has h^-0.5 = h0^-0.5 + c·t/2, with c = C·P/S
    litres, flow = 1.0, 2e-4
    c = run_off.WEIR * WIDE.rim / WIDE.pan_area
    h0 = litres / 1000 / WIDE.pan_area
    h1 = (flow / 1000 / run_off.WEIR / WIDE.rim) ** (2 / 3)
    expected = 2 / c * (h1**-0.5 - h0**-0.5)
    assert time_to_flow(WIDE, litres, 1e-9, flow) == pytest.approx(expected, rel=1e-6)


def test_where_only_the_film_acts_it_follows_the_closed_solution() -> None:
    # dh/dt = -k·h³ has h^-2 = h0^-2 + 2·k·t, with k = P·g/(3·ν·S): very thick fluid, wide pipe
    nu, flow = 1.0, 1e-6  # m²/s, L/s
    k = WIDE.rim * run_off.GRAVITY / (3 * nu * WIDE.pan_area)
    h0 = 1.0 / 1000 / WIDE.pan_area
    h1 = (flow / 1000 / (k * WIDE.pan_area)) ** (1 / 3)
    expected = (h1**-2 - h0**-2) / (2 * k)
    assert time_to_flow(WIDE, 1.0, nu * 1e6, flow) == pytest.approx(expected, rel=1e-3)


def by_integration(
    outlet: Outlet, surplus: float, viscosity: float, flow: float, inflow: float
) -> float:
    def sinks(_t: float, litres: list[float]) -> list[float]:
        return [inflow - outlet.flow(litres[0], viscosity)]

    def drips(_t: float, litres: list[float]) -> float:
        return outlet.flow(litres[0], viscosity) - flow

    drips.terminal = True  # type: ignore[attr-defined]
    found = solve_ivp(
        sinks, (0, 1e6), [surplus], method="LSODA", events=drips, rtol=1e-9, atol=1e-12
    )
    return float(found.t_events[0][0])


@given(outlets, surpluses, viscosities, flows, st.sampled_from([0.0, 0.3, 0.9, 0.999]))
@settings(max_examples=60, deadline=None)
def test_an_independent_integrator_finds_the_same_time(
    outlet: Outlet, surplus: float, viscosity: float, flow: float, part: float
) -> None:
    if outlet.flow(surplus / 1.01, viscosity) <= flow:
        return
    found = time_to_flow(outlet, surplus, viscosity, flow, part * flow)
    expected = by_integration(outlet, surplus, viscosity, flow, part * flow)
    assert found == pytest.approx(expected, rel=1e-5)


@given(outlets, surpluses, viscosities, flows, st.floats(1.01, 3.0))
def test_what_makes_it_slower(
    outlet: Outlet, surplus: float, viscosity: float, flow: float, more: float
) -> None:
    time = time_to_flow(outlet, surplus, viscosity, flow)
    if time == 0:
        assert outlet.flow(surplus, viscosity) <= flow
        return
    assert time_to_flow(outlet, surplus * more, viscosity, flow) > time
    assert time_to_flow(outlet, surplus, viscosity, flow / more) > time
    assert time_to_flow(replace(outlet, pan_area=outlet.pan_area * more), surplus * more,
                        viscosity, flow) == pytest.approx(time * more)  # fmt: skip
    assert time_to_flow(outlet, surplus, viscosity, flow, flow * 0.2) > time
    assert math.isfinite(time)


@given(outlets, surpluses, viscosities, flows)
def test_a_run_off_may_be_watched_in_portions(
    outlet: Outlet, surplus: float, viscosity: float, flow: float
) -> None:
    halfway = outlet.flow(surplus / 2, viscosity)
    if halfway <= flow:
        return
    first = time_to_flow(outlet, surplus, viscosity, halfway)
    second = time_to_flow(outlet, surplus / 2, viscosity, flow)
    whole = time_to_flow(outlet, surplus, viscosity, flow)
    assert first + second == pytest.approx(whole, rel=1e-6)


@given(outlets, viscosities, st.floats(2e-5, 2e-4))
def test_the_head_at_a_flow(outlet: Outlet, viscosity: float, flow: float) -> None:
    litres = surplus_at(outlet, flow, viscosity)
    assert outlet.flow(litres, viscosity) == pytest.approx(flow, rel=1e-9)


def test_zero_flow_is_never_reached() -> None:
    times = [time_to_flow(PIPE, 0.5, 10.0, 10.0**-n) for n in range(3, 9)]
    assert times == sorted(times)
    assert times[-1] > 100 * times[0]
    with pytest.raises(ValueError, match="above 0"):
        time_to_flow(PIPE, 0.5, 10.0, 0.0)


def test_fluid_that_keeps_coming_holds_up_the_drip() -> None:
    assert time_to_flow(PIPE, 0.5, 10.0, 2e-4, 2e-4) == math.inf
    assert time_to_flow(PIPE, 0.0, 10.0, 2e-4, 2e-4) == 0  # it only dripped from the start
    with pytest.raises(ValueError, match="inflow"):
        time_to_flow(PIPE, 0.5, 10.0, 2e-4, -1e-6)


def test_a_drop_is_a_tenth_of_a_millilitre() -> None:
    # Tate's law, V = 2π·r·γ·F/(ρ·g), with the figures beside the constants (all from memory)
    def drop(radius: float) -> float:
        return 2 * math.pi * radius * 0.028 * 0.6 / (850 * 9.81) * 1000

    assert drop(0.008) == pytest.approx(run_off.DROP_L, rel=0.02)
    assert (drop(0.004), drop(0.010)) == pytest.approx(run_off.DROP_SPREAD_L, rel=0.05)


def test_a_plausible_time_for_a_car() -> None:
    # Common practice, no source: a surplus of a few tenths of a litre runs off within minutes.
    found = time_to_drip(PIPE, (0.15, 1.0), 10.0, 2.0)
    assert 60 < found.low < 240 < found.high < 900


@given(
    outlet=outlets,
    least=surpluses,
    times=st.floats(1, 4),
    viscosity=viscosities,
    drops=st.floats(0.3, 6),
    parts=st.tuples(*[st.floats(0, 1)] * 4),
)
def test_the_range_holds_every_single_answer(
    outlet: Outlet,
    least: float,
    times: float,
    viscosity: float,
    drops: float,
    parts: tuple[float, float, float, float],
) -> None:
    most = least * times
    found = time_to_drip(outlet, (least, most), viscosity, drops)

    def between(ends: tuple[float, float], part: float) -> float:
        return ends[0] + part * (ends[1] - ends[0])

    rim = between(run_off.RIM_SPREAD, parts[0])
    thinned = between((1 - run_off.VISCOSITY_SPREAD, 1 + run_off.VISCOSITY_SPREAD), parts[1])
    flow = drops * between(run_off.DROP_SPREAD_L, parts[2])
    surplus = between((least, most), parts[3])
    single = time_to_flow(replace(outlet, rim=outlet.rim * rim), surplus, viscosity * thinned, flow)
    assert found.low * 0.98 <= single <= found.high * 1.02  # an extreme may lie between the ends
    narrower = time_to_drip(outlet, (least, least), viscosity, drops)
    assert found.low == narrower.low
    assert narrower.high <= found.high


def test_an_inverted_surplus_is_refused() -> None:
    with pytest.raises(ValueError, match="least surplus"):
        time_to_drip(PIPE, (1.0, 0.5), 10.0, 2.0)


def test_a_flow_that_no_head_gives_is_refused() -> None:
    with pytest.raises(ValueError, match="never lets"):
        surplus_at(Outlet.fitted(0.001, 0.001, 0.1), 1.0, 10.0)
