"""The sum of relaxations against scipy: matrix exponential, Van Loan's block, numeric integral."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.linalg import expm

from brimline.physics.relaxation import (
    DISTURBED_FOR_S,
    MODES,
    OBSERVED,
    PLACED,
    SIZE,
    TIME_CONSTANTS,
    Array,
    disturbance,
    outlook,
    outlook_variance,
    shares,
    transition,
)

HELD = 4  # place of the amplitude that takes the disturbance up: of 1920 s
MOMENTS = st.floats(0.0, 7200.0)
STEPS = (0.05, 0.1, 1.0, 4.0, 45.0, 90.0, 240.0)


def drift() -> Array:
    """Dynamics written down by hand: a temperature above its end decays, a disturbance adds."""
    system = np.zeros((SIZE, SIZE))
    system[1 : 1 + MODES, 1 : 1 + MODES] = -np.diag(1 / TIME_CONSTANTS)
    system[-1, -1] = -1 / DISTURBED_FOR_S
    system[HELD, -1] = -1.0
    return system


def van_loan(dt: float) -> tuple[Array, Array]:
    """Transition and noise by one matrix exponential (Van Loan 1978, from memory)."""
    noise = np.zeros((SIZE, SIZE))
    noise[-1, -1] = 2 / DISTURBED_FOR_S  # so that the disturbance stays at 1 K/s rms
    block = expm(np.block([[-drift(), noise], [np.zeros((SIZE, SIZE)), drift().T]]) * dt)
    moved = block[SIZE:, SIZE:].T
    return moved, moved @ block[:SIZE, SIZE:]


@pytest.mark.parametrize("dt", STEPS)
def test_transition_and_disturbance_are_the_matrix_exponentials(dt: float) -> None:
    moved, added = van_loan(dt)
    assert transition(dt) == pytest.approx(moved, abs=1e-10)
    assert disturbance(dt) == pytest.approx(added, rel=1e-5, abs=1e-12)


def test_a_millisecond_adds_what_it_adds() -> None:
    # Leading term of the integral, dt³ 2/60 / 3, and not what is left of a cancellation.
    dt = 1e-3
    leading = 2 / DISTURBED_FOR_S * dt**3 / 3
    assert disturbance(dt)[HELD, HELD] == pytest.approx(leading, rel=1e-3, abs=0.0)


@given(MOMENTS, MOMENTS)
def test_two_steps_are_one(first: float, second: float) -> None:
    assert transition(second) @ transition(first) == pytest.approx(
        transition(first + second), abs=1e-9
    )


@given(MOMENTS, MOMENTS)
def test_noise_of_two_steps_is_that_of_one(first: float, second: float) -> None:
    moved = transition(second)
    both = moved @ disturbance(first) @ moved.T + disturbance(second)
    assert both == pytest.approx(disturbance(first + second), rel=1e-6, abs=1e-6)


@given(st.floats(0.0, 36_000.0))
def test_noise_is_a_covariance(dt: float) -> None:
    added = disturbance(dt)
    assert (added == added.T).all()
    assert np.linalg.eigvalsh(added).min() > -1e-9 * max(added.max(), 1e-9)


def test_the_outlook_is_the_moved_state_as_it_is_seen() -> None:
    times = np.array((0.0, *STEPS, 600.0, 7200.0))
    by_steps = np.array([OBSERVED @ transition(float(t)) for t in times])
    assert outlook(times) == pytest.approx(by_steps, abs=1e-9)
    spread = np.array([OBSERVED @ disturbance(float(t)) @ OBSERVED for t in times])
    assert outlook_variance(times) == pytest.approx(spread, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("t", [1.0, 60.0, 900.0])
def test_the_outlook_s_variance_is_the_integral_of_the_answer_to_a_push(t: float) -> None:
    def answer_squared(since: float) -> float:
        return float((OBSERVED @ expm(drift() * since))[-1] ** 2 * 2 / DISTURBED_FOR_S)

    assert outlook_variance(np.array([t]))[0] == pytest.approx(
        quad(answer_squared, 0.0, t, limit=200)[0], rel=1e-6
    )


def test_placed_leaves_the_temperature_what_it_is() -> None:
    amplitudes = np.array((1.0, -2.0, 30.0, 4.0, 5.0))
    state = PLACED @ np.concatenate(([21.0], amplitudes, [0.3]))
    assert OBSERVED @ state == pytest.approx(21.0)
    assert state[0] == pytest.approx(21.0 + amplitudes.sum())
    assert (state[1:-1] == amplitudes).all()


def test_other_exponentials_are_met_as_closely_as_stated() -> None:
    wanted = np.geomspace(20.0, 12_000.0, 240)
    times = np.linspace(0.0, 7200.0, 1500)
    made = shares(wanted) @ np.exp(-times / TIME_CONSTANTS[:, None])
    assert np.abs(made - np.exp(-times / wanted[:, None])).max() < 0.06
    assert np.abs(shares(wanted).sum(axis=1) - 1).max() < 0.01


def test_a_step_of_the_ladder_is_nearly_itself() -> None:
    assert shares(TIME_CONSTANTS) == pytest.approx(np.eye(MODES), abs=0.15)


def test_beyond_the_table_the_nearest_end_is_taken() -> None:
    assert (shares(np.array([1.0, 1e6])) == shares(np.array([5.0, 20_000.0]))).all()
