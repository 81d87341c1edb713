"""The filters against exact conditioning of one large Gaussian, written down without recursion."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.linalg import expm
from scipy.stats import multivariate_normal

from brimline.physics.mode_bank import DISTURBANCES, OUTLIER, STRAYINGS, TRUST, ModeBank
from brimline.physics.relaxation import DISTURBED_FOR_S, MODES, SIZE, TIME_CONSTANTS, Array
from brimline.physics.warm_up_prior import IDLING, Prior, prior

PAIRS = [(restless, straying) for restless in DISTURBANCES for straying in STRAYINGS]
SEEN = np.array([1.0] + [-1.0] * MODES + [0.0])
TIMES = np.array((2.0, 6.0, 15.0, 40.0, 41.0, 120.0, 300.0))
BLOCKS = np.array((20.1, 20.3, 20.9, 22.2, 22.4, 26.0, 33.5))
VARIANCE = 0.02
AHEAD = np.array((0.0, 5.0, 100.0, 1500.0))


def usual() -> Prior:
    rng = np.random.default_rng(4)
    root = rng.normal(0.0, 6.0, (MODES, MODES))
    return Prior(np.array((0.5, 3.0, 15.0, 30.0, 10.0)), root @ root.T + 0.25 * np.eye(MODES))


def moved(dt: float, restless: float) -> tuple[Array, Array]:
    """Transition and noise by Van Loan's block exponential (from memory), in parts of a minute."""
    if dt > 60.0:
        step, added = moved(dt / 2, restless)
        return step @ step, step @ added @ step.T + added
    system, noise = np.zeros((SIZE, SIZE)), np.zeros((SIZE, SIZE))
    system[1:-1, 1:-1] = -np.diag(1 / TIME_CONSTANTS)
    system[-1, -1], system[4, -1] = -1 / DISTURBED_FOR_S, -1.0
    noise[-1, -1] = 2 / DISTURBED_FOR_S * restless**2
    block = expm(np.block([[-system, noise], [np.zeros((SIZE, SIZE)), system.T]]) * dt)
    return block[SIZE:, SIZE:].T, block[SIZE:, SIZE:].T @ block[:SIZE, SIZE:]


def joint(times: Array, restless: float, straying: float) -> tuple[Array, Array]:
    """Mean and covariance of the fluid's temperature at some times, the first block given."""
    known = usual()
    placed = np.eye(SIZE)
    placed[0, 1:-1] = 1.0
    spread = np.zeros((SIZE, SIZE))
    spread[0, 0], spread[-1, -1] = VARIANCE + straying**2, restless**2
    spread[1:-1, 1:-1] = known.covariance
    mean, spread = placed @ np.array([BLOCKS[0], *known.mean, 0.0]), placed @ spread @ placed.T
    count = len(times)
    means, between = np.empty(count), np.empty((count, count))
    for i, t in enumerate(times):
        forward, added = moved(t - TIMES[0], restless)
        then = forward @ spread @ forward.T + added
        means[i] = SEEN @ forward @ mean
        for j in range(i, count):
            on = moved(times[j] - t, restless)[0]
            between[i, j] = between[j, i] = SEEN @ on @ then @ SEEN
    return means, between


def filtered() -> ModeBank:
    bank = ModeBank.started(TIMES[0], BLOCKS[0], VARIANCE, (usual(),))
    for t, celsius in zip(TIMES[1:], BLOCKS[1:], strict=True):
        bank = bank.updated(t, celsius, VARIANCE)
    return bank


@pytest.mark.parametrize("k", range(len(PAIRS)))
def test_each_filter_foretells_as_exact_conditioning_does(k: int) -> None:
    restless, straying = PAIRS[k]
    means, between = joint(np.append(TIMES[1:], TIMES[-1] + AHEAD), restless, straying)
    count = len(TIMES) - 1
    known = between[:count, :count] + (VARIANCE + straying**2) * np.eye(count)
    gain = np.linalg.solve(known, between[:count, count:]).T
    mean = means[count:] + gain @ (BLOCKS[1:] - means[:count])
    spread = np.sqrt(np.diag(between[count:, count:] - gain @ between[:count, count:]))
    found_mean, found_spread = filtered().ahead(AHEAD)
    assert found_mean[k] == pytest.approx(mean, rel=1e-6)
    assert found_spread[k] == pytest.approx(spread, rel=1e-5)


def test_weights_are_the_tempered_likelihoods() -> None:
    logs = []
    for restless, straying in PAIRS:
        means, between = joint(TIMES[1:], restless, straying)
        seen = between + (VARIANCE + straying**2) * np.eye(len(means))
        logs.append(TRUST * multivariate_normal.logpdf(BLOCKS[1:], means, seen))
    wanted = np.exp(np.array(logs) - max(logs))
    assert filtered().weights == pytest.approx(wanted / wanted.sum(), rel=1e-5)
    assert filtered().log_weight.max() == 0.0


def test_the_temperature_is_that_of_the_mixture() -> None:
    bank = filtered()
    mean, spread = bank.ahead(np.array([30.0]))
    found, variance = bank.temperature(bank.t + 30.0)
    first = bank.weights @ mean[:, 0]
    second = bank.weights @ (spread[:, 0] ** 2 + mean[:, 0] ** 2)
    assert found == pytest.approx(first)
    assert variance == pytest.approx(second - first**2, rel=1e-6)


def test_surprise_is_the_standardised_distance_from_the_best_filter() -> None:
    bank = filtered()
    best = int(bank.weights.argmax())
    mean, spread = bank.ahead(np.array([45.0]))
    expected = np.sqrt(spread[best, 0] ** 2 + VARIANCE + PAIRS[best][1] ** 2)
    for off in (-3.0, 0.0, 2.5):
        found = bank.surprise(bank.t + 45.0, float(mean[best, 0] + off * expected), VARIANCE)
        assert found == pytest.approx(off, abs=1e-9)


def test_an_outlier_pulls_no_more_than_one_at_the_limit() -> None:
    bank = filtered()
    mean, spread = bank.ahead(np.array([10.0]))
    far = bank.updated(bank.t + 10.0, 90.0, VARIANCE)
    farther = bank.updated(bank.t + 10.0, 900.0, VARIANCE)
    assert (far.mean == farther.mean).all()
    assert far.log_weight == pytest.approx(farther.log_weight)
    expected = np.sqrt(spread[:, 0] ** 2 + VARIANCE + np.array(PAIRS)[:, 1] ** 2)
    pulled = far.mean @ SEEN - mean[:, 0]
    assert (pulled <= OUTLIER * expected).all()
    assert pulled == pytest.approx(OUTLIER * spread[:, 0] ** 2 / expected, rel=1e-6)


def test_loosened_keeps_the_temperature_and_forgets_the_heat() -> None:
    bank, known = filtered(), usual()
    loose = bank.loosened(bank.t + 20.0, known)
    assert loose.t == bank.t + 20.0
    assert loose.temperature(loose.t) == pytest.approx(bank.temperature(loose.t), rel=1e-9)
    before, after = bank.ahead(20.0 + AHEAD), loose.ahead(AHEAD)
    assert after[0] == pytest.approx(before[0])
    assert (after[1][:, 2:] > 2.0 * before[1][:, 2:])[:4].all()
    decays = 1 - np.exp(-AHEAD[-1] / TIME_CONSTANTS)
    widened = before[1][:, -1] ** 2 + decays @ known.covariance @ decays
    assert after[1][:, -1] ** 2 == pytest.approx(widened, rel=1e-6)


@pytest.mark.parametrize("length", [0.1, 4.0, 90.0])
def test_covariances_stay_covariances_over_many_hours(length: float) -> None:
    # Blocks of 4 s over eight hours, and single readings at 10 Hz, which blocks forbid, for 10 min.
    rng = np.random.default_rng(9)
    bank = ModeBank.started(0.0, 20.0, 1e-4, (usual(),))
    for k in range(1, min(6000, int(8 * 3600 / length)) + 1):
        t = k * length
        bank = bank.updated(t, 90 - 70 * np.exp(-t / 900) + rng.normal(0.0, 0.05), 1e-4)
    largest = np.abs(bank.covariance).max(axis=(1, 2))
    skew = np.abs(bank.covariance - bank.covariance.transpose(0, 2, 1)).max(axis=(1, 2))
    assert (skew < 1e-9 * largest).all()
    even = (bank.covariance + bank.covariance.transpose(0, 2, 1)) / 2
    assert (np.linalg.eigvalsh(even)[:, 0] > -1e-9 * largest).all()
    truth = 90 - 70 * np.exp(-bank.t / 900)
    assert bank.temperature(bank.t)[0] == pytest.approx(truth, abs=0.2)


def test_of_two_priors_the_one_that_foretold_the_readings_gains() -> None:
    cold, hot = (prior(20.0, replace(IDLING, steady=span)) for span in ((45, 60), (200, 250)))
    bank = ModeBank.started(0.0, 20.0, 0.01, (cold, hot))
    half = len(bank.weights) // 2
    assert bank.weights[:half].sum() == pytest.approx(0.5)
    alone = ModeBank.started(0.0, 20.0, 0.01, (hot,))
    for t in range(30, 900, 30):
        celsius = float(alone.ahead(np.array([float(t)]))[0].mean())
        bank = bank.updated(float(t), celsius, 0.01)
    assert bank.weights[half:].sum() > 0.9
    assert np.isclose(bank.restless[:half], bank.restless[half:]).all()
    assert np.isclose(bank.straying, np.tile(STRAYINGS, half)).all()
