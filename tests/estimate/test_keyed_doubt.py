"""Which keyed temperatures are asked about: slips, and never a real warm-up or cool-down."""

from __future__ import annotations

from dataclasses import replace

import pytest
from check_play import Play
from hypothesis import given
from hypothesis import strategies as st

from brimline.estimate.keyed import KeyedDoubt, keyed_doubt
from brimline.procedure import events as ev
from brimline.procedure.state import CheckState, Engine, Level
from brimline.reading import SignalName, Way
from brimline.simulator.families import FAMILIES
from brimline.simulator.vehicle import make_vehicle


def idling(celsius: float, age: float, engine: Engine | None = None) -> CheckState:
    """A check whose last keyed reading is so many s old."""
    play = Play(measured=())
    play.t = 1000.0
    play.do(play.celsius(celsius, way=Way.KEYED))
    runs = Engine(known=True, running_since=500.0)
    return replace(play.state, now=1000.0 + age, engine=engine or runs)


def test_the_first_one_is_never_asked_about() -> None:
    assert keyed_doubt(Play(measured=()).wait(5).state, 150.0) is None


def test_58_to_95_in_10_s_is_asked_about() -> None:
    """The slip that the question is for; 37 K in 10 s is faster than stall heating at idle."""
    assert keyed_doubt(idling(58.0, 10.0), 95.0) == KeyedDoubt(58.0, 95.0, 10.0)


@pytest.mark.parametrize("typed", [38.0, 8.3, 183.0, 138.0])
def test_digits_turned_or_lost_are_asked_about_half_a_minute_later(typed: float) -> None:
    assert keyed_doubt(idling(83.0, 30.0), typed) is not None


@pytest.mark.parametrize("typed", [81.0, 83.0, 85.0])
def test_what_an_instrument_jitters_is_not(typed: float) -> None:
    assert keyed_doubt(idling(83.0, 0.0), typed) is None


@pytest.mark.parametrize("family", sorted(FAMILIES))
@pytest.mark.parametrize("every", [5.0, 30.0, 60.0])
def test_a_warm_up_and_a_cool_down_are_never_asked_about(family: str, every: float) -> None:
    """Keyed from a simulated vehicle, whose heat is modelled apart from these limits."""
    vehicle = make_vehicle(family, None)
    vehicle.start_engine()
    last, was = vehicle.signals().fluid, Engine(known=True, running_since=0.0)
    for at in range(int(3000 / every)):
        if at == int(2400 / every):
            vehicle.stop_engine()
            vehicle.fan(True)
            was = Engine(known=True, stopped_at=999.0)
        for _ in range(int(every)):
            vehicle.step(1.0)
        now = vehicle.signals().fluid
        assert keyed_doubt(idling(last, every, was), now) is None, (at, last, now)
        last = now


def test_pumped_in_cold_fluid_may_chill_it_faster() -> None:
    """Physics allows 3.6 K/s with cold fluid pumped in; a slip of the same size else is asked."""
    state = idling(80.0, 20.0)
    assert keyed_doubt(state, 40.0) is not None
    assert keyed_doubt(replace(state, level=Level(pump_since=1005.0)), 40.0) is None
    assert keyed_doubt(replace(state, level=Level(pump_off_at=1005.0)), 40.0) is None
    assert keyed_doubt(replace(state, level=Level(pump_off_at=900.0)), 40.0) is not None


def test_at_rest_fluid_soaks_by_20_k_at_most() -> None:
    """Heat soak after a stop: common practice, no source (see physics.plausibility)."""
    rest = Engine(known=True, stopped_at=900.0)
    assert keyed_doubt(idling(80.0, 60.0, rest), 99.0) is None
    assert keyed_doubt(idling(80.0, 60.0, rest), 110.0) is not None


def test_an_engine_that_was_started_since_may_have_done_either() -> None:
    started = Engine(known=True, running_since=1010.0)
    assert keyed_doubt(idling(50.0, 20.0, started), 65.0) is None
    assert keyed_doubt(idling(50.0, 20.0), 65.0) is not None


@given(
    before=st.floats(-50, 200), after=st.floats(-50, 200), age=st.floats(0, 3000),
    runs=st.booleans(),
)  # fmt: skip
def test_a_larger_change_never_needs_less_asking(
    before: float, after: float, age: float, runs: bool
) -> None:
    engine = Engine(known=True, running_since=0.0) if runs else Engine()
    state = idling(before, age, engine)
    doubt = keyed_doubt(state, after)
    halfway = keyed_doubt(state, before + (after - before) / 2)
    assert halfway is None or doubt is not None
    if doubt is not None:
        assert (doubt.before, doubt.after, doubt.elapsed) == (before, after, pytest.approx(age))


def test_after_a_signal_is_given_up_there_is_nothing_to_compare_with() -> None:
    play = Play().identified()
    play.do(play.celsius(30.0))
    play.taken(ev.SignalWithdrawn(t=1.0, signal=SignalName.FLUID_TEMPERATURE, reason="unplugged"))
    assert keyed_doubt(play.state, 150.0) is None
