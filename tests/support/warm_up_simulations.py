"""Simulated warm-ups with a known truth, by equations of their own.

Nothing here is shared with the program: neither its simulated vehicle nor its forecast. Two masses,
fluid and case, in units of the fluid's own heat capacity::

    dF/dt = heat(F, t) - g (F - C) - k open(F) (F - air)
    dC/dt = (g (F - C) - l (C - air)) / r

``heat`` falls with the fluid's viscosity to a power (0: constant), is raised by a cold engine's
fast idle, and may change once and for all (gear engaged or released); a fan raises ``l``. Group A
is drawn from ranges that a forecast may be developed on; group B from others that lie outside them
and are for judging only. All is seeded.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from warm_up_curves import (
    LATEST_ENTRY_S,
    LEAST_RISE_K,
    RISE_DONE,
    Array,
    Curve,
    Target,
    asked_at,
    first_passage,
)

Span = tuple[float, float]

STEP_S = 2.0
LENGTH_S = 12_600.0
"""Long enough for two hours after the last question, so that "never" is known."""

EARLIEST_ENTRY_S = 60.0
LEAST_WHOLE_RISE_K = 14.0

# Walther's equation, log10 log10 (v + 0.7) = A - B log10 T, for 35 mm²/s at 40 °C and 7.3 at 100.
WALTHER_A, WALTHER_B = 7.90632, 3.09135


@dataclass(frozen=True)
class Ranges:
    """Where a group's parameters are drawn from; with two spans, either with equal chance."""

    seed: int
    time_constant: tuple[Span, ...]
    """Of both masses together against the air, in s; logarithmic."""
    mixing: tuple[Span, ...]
    """Time constant of fluid and case against one another, in s; logarithmic."""
    case_ratio: tuple[Span, ...]
    """Heat capacity of the case over the fluid's; logarithmic."""
    start: Span
    """Of the fluid, in °C."""
    above_air: Span
    """Of fluid at the start above the air, in K."""
    case_below: Span
    """Of the case below the fluid at the start, in K."""
    rise: Span
    """Of the steady fluid, without cooler and change, above its start, in K."""
    viscosity_power: Span
    cooled: float
    """Share with a cooler that opens by a thermostat."""
    changed: float
    """Share whose heat or loss changes on the way."""
    keyed: float
    """Share with one whole degree keyed every two to four minutes."""


A = Ranges(
    seed=11, time_constant=((900.0, 2200.0),), mixing=((40.0, 150.0),), case_ratio=((1.0, 2.5),),
    start=(5.0, 40.0), above_air=(0.0, 8.0), case_below=(0.0, 2.0), rise=(30.0, 75.0),
    viscosity_power=(0.0, 0.25), cooled=0.4, changed=0.0, keyed=0.08,
)  # fmt: skip

B = Ranges(
    seed=12, time_constant=((250.0, 800.0), (2400.0, 5000.0)),
    mixing=((12.0, 35.0), (170.0, 600.0)),
    case_ratio=((0.25, 0.9), (2.7, 6.0)), start=(-15.0, 45.0), above_air=(0.0, 20.0),
    case_below=(0.0, 10.0), rise=(20.0, 95.0), viscosity_power=(0.0, 0.5), cooled=0.5,
    changed=1 / 3, keyed=0.12,
)  # fmt: skip


@dataclass(frozen=True)
class Vehicles:
    """Drawn parameters, one entry for each vehicle; see the module's equations."""

    start: Array
    case_start: Array
    air: Array
    heat: Array
    power: Array
    exchange: Array
    loss: Array
    ratio: Array
    cooler: Array
    opens_at: Array
    flare: Array
    flare_s: Array
    change_at: Array
    heat_after: Array
    loss_after: Array


def relative_viscosity(celsius: Array) -> Array:
    """Return the viscosity over that at 40 °C, for -60 to 250 °C."""

    def viscosity(value: Array) -> Array:
        return 10 ** (10 ** (WALTHER_A - WALTHER_B * np.log10(value + 273.15))) - 0.7

    return viscosity(np.clip(celsius, -60.0, 250.0)) / viscosity(np.array(40.0))


def _logarithmic(rng: np.random.Generator, spans: tuple[Span, ...], count: int) -> Array:
    limits = np.log(np.array(spans))[rng.integers(len(spans), size=count)]
    return np.exp(rng.uniform(limits[:, 0], limits[:, 1]))


def draw(ranges: Ranges, count: int, rng: np.random.Generator) -> Vehicles:
    """Draw the parameters of some vehicles.

    The heat is chosen so that the steady fluid lies the drawn rise above the start.
    """
    total = _logarithmic(rng, ranges.time_constant, count)
    mixing = _logarithmic(rng, ranges.mixing, count)
    ratio = _logarithmic(rng, ranges.case_ratio, count)
    start = rng.uniform(*ranges.start, count)
    above = rng.uniform(*ranges.above_air, count)
    rise = rng.uniform(*ranges.rise, count)
    power = rng.uniform(*ranges.viscosity_power, count) * (rng.random(count) < 0.8)
    exchange, loss = ratio / (1 + ratio) / mixing, (1 + ratio) / total
    steady = (rise + above) / (1 / exchange + 1 / loss)
    cooled = rng.random(count) < ranges.cooled
    flared = (start < 15.0) & (rng.random(count) < 0.5)
    changed, fan = rng.random(count) < ranges.changed, rng.random(count) < 0.4
    gear = np.where(rng.random(count) < 0.7, rng.uniform(1.2, 2.0, count), 0.65)
    return Vehicles(
        start=start,
        case_start=start - rng.uniform(*ranges.case_below, count),
        air=start - above,
        heat=steady / relative_viscosity(start + rise) ** power,
        power=power,
        exchange=exchange,
        loss=loss,
        ratio=ratio,
        cooler=loss * rng.uniform(0.5, 3.0, count) * cooled,
        opens_at=start + rise * rng.uniform(0.5, 0.95, count),
        flare=rng.uniform(0.3, 1.0, count) * flared,
        flare_s=rng.uniform(60.0, 200.0, count),
        change_at=np.where(changed, total * rng.uniform(0.1, 1.0, count), np.inf),
        heat_after=np.where(changed & ~fan, gear, 1.0),
        loss_after=np.where(changed & fan, rng.uniform(1.5, 3.0, count), 1.0),
    )


def _slopes(of: Vehicles, t: float, fluid: Array, case: Array) -> tuple[Array, Array]:
    after = t >= of.change_at
    fast_idle = (1 + of.flare * np.exp(-t / of.flare_s)) ** 2
    heat = of.heat * relative_viscosity(fluid) ** of.power * fast_idle
    heat = heat * np.where(after, of.heat_after, 1.0)
    loss = of.loss * np.where(after, of.loss_after, 1.0)
    opened = np.clip((fluid - of.opens_at) / 8.0, 0.0, 1.0)
    passed = of.exchange * (fluid - case)
    return (
        heat - passed - of.cooler * opened * (fluid - of.air),
        (passed - loss * (case - of.air)) / of.ratio,
    )


def simulate(of: Vehicles, length: float = LENGTH_S, step: float = STEP_S) -> tuple[Array, Array]:
    """Integrate by the classical Runge-Kutta method.

    :returns: times in s, shape (n,), and the fluid in °C, shape (vehicles, n).
    """
    times = np.arange(0.0, length + step / 2, step)
    fluid, case = of.start, of.case_start
    out = np.empty((len(times), len(fluid)))
    for i, t in enumerate(times):
        out[i] = fluid
        f1, c1 = _slopes(of, t, fluid, case)
        f2, c2 = _slopes(of, t + step / 2, fluid + step / 2 * f1, case + step / 2 * c1)
        f3, c3 = _slopes(of, t + step / 2, fluid + step / 2 * f2, case + step / 2 * c2)
        f4, c4 = _slopes(of, t + step, fluid + step * f3, case + step * c3)
        fluid = fluid + step / 6 * (f1 + 2 * f2 + 2 * f3 + f4)
        case = case + step / 6 * (c1 + 2 * c2 + 2 * c3 + c4)
    return times, np.ascontiguousarray(out.T)


def _level(times: Array, true: Array, rng: np.random.Generator) -> float:
    # Between 10 K above the start and just below the top; a quarter only just below.
    start = float(true[0])
    top = float(true[times <= LATEST_ENTRY_S].max())
    if rng.random() < 0.25:
        return max(start + LEAST_RISE_K, top - float(rng.uniform(0.3, 1.5)))
    return float(rng.uniform(start + LEAST_RISE_K, start + max(0.92 * (top - start), 11.0)))


def _sampled_times(until: float, rng: np.random.Generator, keyed: bool) -> Array:
    if keyed:
        steps = rng.uniform(120.0, 240.0, int(until / 120.0) + 2)
    else:
        period = 1 / np.exp(rng.uniform(np.log(0.1), np.log(10.0)))
        count = int(until / period / 0.75) + 2
        steps = period * rng.uniform(0.8, 1.2, count)
        if rng.random() < 0.5:
            gaps = rng.random(count) < period / 240.0
            steps = steps + np.where(gaps, rng.uniform(5.0, 30.0, count), 0.0)
    times = np.concatenate(([0.0], np.cumsum(steps)))
    return times[times <= until]


@dataclass(frozen=True)
class Sensor:
    """How a sensor shows what is: its step in K, its jitter in K rms, rounding or cutting off."""

    step: float
    jitter: float
    rounds: bool

    def shown(self, true: Array, rng: np.random.Generator) -> Array:
        """Return readings in °C."""
        noisy = (true + rng.normal(0.0, 1.0, true.shape) * self.jitter) / self.step
        return self.step * (np.round(noisy) if self.rounds else np.floor(noisy))

    def shows_from(self, level: float) -> float:
        """Return the true temperature from which a level is shown reached, but for the jitter."""
        return self.step * (math.ceil(level / self.step - 1e-9) - (0.5 if self.rounds else 0.0))


def _sensor(rng: np.random.Generator, keyed: bool) -> Sensor:
    jitter = rng.uniform(0.0, 0.4) * (rng.random() < 0.85)
    step = rng.choice([0.03125, 0.1, 0.5, 1.0, float(np.exp(rng.uniform(-3.5, 0.0)))])
    rounds = rng.random() < 0.6
    return Sensor(1.0, jitter, True) if keyed else Sensor(float(step), jitter, bool(rounds))


def _curve(name: str, ranges: Ranges, group: str, times: Array, true: Array) -> Curve | None:
    # Each curve has its own stream, so that the others stay what they are when one is left out.
    rng = np.random.default_rng((ranges.seed, int(name.rpartition("-")[2])))
    level, never = _level(times, true, rng), rng.random() < 0.4
    keyed = bool(rng.random() < ranges.keyed)
    sensor = _sensor(rng, keyed)
    entry = first_passage(times, true, sensor.shows_from(level))
    if entry is None or not EARLIEST_ENTRY_S <= entry <= LATEST_ENTRY_S:
        return None
    targets = [Target(level, entry, asked_at(0.0, entry))]
    if never:
        top = float(true.max())
        done = first_passage(times, true, true[0] + RISE_DONE * (top - true[0]))
        assert done is not None
        above = top + float(rng.uniform(1.5, 12.0))
        targets.append(Target(above, None, asked_at(0.0, min(done, LATEST_ENTRY_S))))
    sampled = _sampled_times(max(target.asked[-1] for target in targets), rng, keyed)
    readings = sensor.shown(np.interp(sampled, times, true), rng)
    return Curve(name, group, sampled, readings, tuple(targets))


def simulated_curves(ranges: Ranges, group: str, count: int = 200) -> list[Curve]:
    """Make simulated curves, always the same ones.

    A level counts as reached when the sensor, but for its jitter, shows it: gates go by readings.
    Each has one level that is reached within 60 to 5400 s; two in five also have one that is
    never reached. Vehicles whose fluid rises by less than 14 K are left out.
    """
    drawn = draw(ranges, count * 3 // 2, np.random.default_rng(ranges.seed))
    times, fluids = simulate(drawn)
    curves = []
    for number, true in enumerate(fluids):
        if true[times <= LATEST_ENTRY_S].max() - true[0] < LEAST_WHOLE_RISE_K:
            continue
        curve = _curve(f"{group}-{number}", ranges, group, times, true)
        if curve is not None:
            curves.append(curve)
    assert len(curves) >= count
    return curves[:count]
