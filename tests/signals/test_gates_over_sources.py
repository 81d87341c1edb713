"""The gate before "plug out" over real sources of readings: a live bus, and recordings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

import pytest
from check_play import TEMPERATURE_ONLY
from edge_play import MEASURED, EdgePlay
from live_bench import Bench, drain, virtual_buses

from brimline.paths import resources
from brimline.procedure.state import Alarm, AlarmPhase, Cause
from brimline.reading import Reading, SignalName
from brimline.signals.library import open_source
from brimline.signals.live import BusSource
from brimline.signals.quality import QualityAssessor
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.line_faults import FaultyBus, LineFaults
from brimline.simulator.vehicle import make_vehicle
from brimline.specsheet.signal_map import ObdSignal, SignalMap

FLUID = SignalName.FLUID_TEMPERATURE


def feed(play: EdgePlay, readings: Iterable[Reading]) -> list[float]:
    """Feed readings whose time begins now; return the temperatures among them."""
    assessor, begun, shown = QualityAssessor(), play.t, []
    for reading in readings:
        assessed = assessor.assess(replace(reading, t=reading.t + begun))
        play.t = assessed.t
        play.do(assessed)
        if assessed.signal is FLUID and assessed.number is not None:
            shown.append(assessed.number)
    return shown


def crossings(values: list[float], edge: float) -> int:
    """Return how often single readings lie on the other side of an edge than the one before."""
    return sum((a >= edge) is not (b >= edge) for a, b in pairwise(values))


@pytest.mark.parametrize(
    ("hertz", "step", "drop"),
    # Where a twentieth of the frames is lost, signals pause for up to 4 s; beyond 5 s they would
    # count as lost, and the gate would rightly close.
    [(1.0, 0.0, 0.0), (1.0, 1.0, 0.05), (10.0, 0.0, 0.05), (10.0, 1.0, 0.0)],
)
def test_a_vehicle_on_a_bus_warms_into_its_band_and_opens_the_gate_once(
    hertz: float, step: float, drop: float
) -> None:
    # 0.4 °C is the largest standard deviation that recordings of real trucks showed at idle.
    vehicle = make_vehicle("K7", arrival=62.5, noise=0.4, sensor_step=step, seed=3)
    vehicle.start_engine()
    with virtual_buses(3) as (far, near, witness):
        line = FaultyBus(far, LineFaults(drop=drop), 5)
        units = VehicleOnBus(vehicle, vehicle.sheet, line)
        source = BusSource(near, vehicle.sheet.signals, rates={FLUID: hertz})
        bench = Bench(vehicle, units, source, witness)
        bench.run(5.0)  # the engine has started
        drain(witness)
        play = EdgePlay(measured=MEASURED).at_temperature(62.0).again()
        begun = bench.now
        readings = [replace(r, t=r.t - begun) for r in bench.run(150.0)]
        shown = feed(play, readings)
        line.shutdown()
    assert vehicle.heat.fluid > 66.5
    assert crossings(shown, 65.0) >= 5  # the readings did flap
    assert play.was_open
    assert play.gate_changes == 1
    assert play.reason_changes <= 2
    assert not play.raised_alarms
    assert play.state.standing == ()
    assert (line.dropped > 20) is (drop > 0)


@pytest.mark.parametrize("name", ["family-car-curve", "family-car-second-curve"])
@pytest.mark.parametrize("plug_out", [False, True])
def test_a_recorded_warm_up_opens_the_gate_once_and_closes_it_once(
    name: str, plug_out: bool
) -> None:
    # Coolant of a car being driven stands in for fluid: through the band from 65 to 85 °C, then
    # held by its thermostat at about 93 °C with whole degrees to and fro.
    signals = SignalMap(fluid_temperature=ObdSignal(kind="obd", pid=0x05))
    drive = list(open_source(resources() / "recordings" / f"{name}.csv", signals).readings())
    begun = next(n for n, reading in enumerate(drive) if (reading.number or 0.0) >= 50.0)
    play = EdgePlay(measured=TEMPERATURE_ONLY)
    play.identified().sensor_trusted().on_the_ground().raised().wait(15, 50.0)
    play.forget()
    rest = [replace(r, t=r.t - drive[begun].t + 1.0) for r in drive[begun:]]
    inside = next(n for n, reading in enumerate(rest) if (reading.number or 0.0) >= 75.0)
    feed(play, rest[:inside])
    assert play.was_open
    assert play.gate_changes == 1
    if plug_out:
        play.plug_out()
        play.forget()
    here = rest[inside].t - 1.0
    feed(play, [replace(r, t=r.t - here) for r in rest[inside:]])
    if plug_out:
        assert play.state.causes == (Cause.BAND_LEFT,)
        assert (play.raised_alarms, play.cleared_alarms) == ([Alarm.PLUG_IN], [])
        (standing,) = play.state.standing
        assert standing.phase is AlarmPhase.UNACKNOWLEDGED
    else:
        assert not play.was_open
        assert play.gate_changes == 2
