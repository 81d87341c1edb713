"""A simulated vehicle on a lift: what a person does to it, and what then happens.

Time moves in ticks of 0.1 s and only in :meth:`Vehicle.step`. What is left of a step is kept for
the next one, so the same seconds in any portions give the same vehicle: real time, a hundred times
as fast and full speed differ in nothing. What a person does takes effect with the next tick.
"""

from __future__ import annotations

import random
from dataclasses import replace

from brimline.errors import SimulationError
from brimline.paths import resources
from brimline.physics.tilt import level_error
from brimline.simulator.encoding import as_sent
from brimline.simulator.engine import Engine
from brimline.simulator.families import AMBIENT_C, Family, find_family
from brimline.simulator.faults import Plan, plan
from brimline.simulator.fluid import FluidModel, Handling
from brimline.simulator.heat import HeatModel
from brimline.simulator.outflow import DROP_L, FEWEST_DROPS, STREAM_DROPS
from brimline.simulator.sensor import Coolant, Sensor
from brimline.simulator.view import FlowWord, Lamps, Signals, View
from brimline.specsheet.library import SheetLibrary
from brimline.specsheet.model import SpecSheet

TICK_S = 0.1
"""The model's own step in s."""

LONGEST_STEP_S = 3600.0

MOST_PUMPED = 0.2
"""L/s: no hand pump is faster (common practice, no source)."""

COLDEST_ARRIVAL_C, HOTTEST_ARRIVAL_C = 0.0, 120.0
"""Within these, in °C, a simulated vehicle may arrive."""

PARK = "P"
_STANDING = (PARK, "N")


class Vehicle:
    """One vehicle.

    :param sheet: geometry, fluid, idle window and signals.
    :param family: everything that the sheet does not say.
    :param planned: what is wrong with it.
    :param seed: of the wobble and jitter.
    """

    def __init__(self, sheet: SpecSheet, family: Family, planned: Plan, seed: int) -> None:
        self.sheet = sheet
        self.family = family
        self._plan = planned
        arrival = planned.arrival
        self.fluid = FluidModel(
            sheet, family, excess=planned.excess, leak=planned.leak, celsius=arrival
        )
        """Where the fluid is, with the ledger of volumes."""
        self.heat = HeatModel(family, self._kilograms(self.fluid.inside), arrival, AMBIENT_C)
        """Temperatures, with the ledger of heat."""
        # Separate generators, so that what one of them gives depends on no other part.
        self._engine = Engine(sheet.idle, random.Random(f"engine {seed}"))
        self._sensor = Sensor(arrival, planned.sensor, random.Random(f"sensor {seed}"))
        self._coolant = Coolant(arrival, AMBIENT_C)
        self._range = PARK
        self._lift_up = False
        self._tilt = (0.0, 0.0)
        self._plug_out = False
        self._plug_out_for = 0.0
        self._pump = 0.0
        self._pumped_as_seen = 0.0
        self._fan = False
        self._run_off = 0.0
        self._ticks = 0
        self._left_over = 0.0

    # What a person does

    def start_engine(self) -> bool:
        """Turn the key; return whether the starter turns: in gear it does not."""
        if self._range not in _STANDING:
            return False
        self._engine.start()
        return True

    def stop_engine(self) -> None:
        """Switch the engine off."""
        self._engine.stop()

    def select_range(self, name: str) -> None:
        """Move the selector to a range of the sheet or to ``"P"``.

        :raises SimulationError: the family has no such range.
        """
        known = (PARK, *(each.name for each in self.sheet.ranges))
        if name not in known:
            ranges = ", ".join(known)
            raise SimulationError(f"The {self.family.name} has no range “{name}”; it has {ranges}.")
        self._range = name

    def raise_lift(self, lengthwise: float = 0.1, crosswise: float = -0.1) -> None:
        """Raise the vehicle; it then stands at these angles (°, nose up and right side up).

        :raises SimulationError: an angle beyond 5°, at which it would slide off.
        """
        if not (abs(lengthwise) <= 5 and abs(crosswise) <= 5):
            raise SimulationError("The simulated lift stands within 5° of level.")
        self._lift_up, self._tilt = True, (lengthwise, crosswise)

    def lower_lift(self) -> None:
        """Lower the vehicle onto the shop's level floor."""
        self._lift_up, self._tilt = False, (0.0, 0.0)

    def plug_out(self) -> None:
        """Take the check plug out."""
        self._plug_out = True

    def plug_in(self) -> None:
        """Put the check plug in."""
        self._plug_out = False

    def pump_on(self, litres_per_second: float = 0.02) -> None:
        """Pump fluid in: up the standpipe where the plug is out, else through a fill plug.

        :raises SimulationError: nothing, or more than 0.2 L/s.
        """
        if not 0 < litres_per_second <= MOST_PUMPED:
            raise SimulationError("The simulated pump moves more than 0 and at most 0.2 L/s.")
        self._pump = litres_per_second

    def pump_off(self) -> None:
        """Stop pumping."""
        self._pump = 0.0

    def fan(self, on: bool) -> None:
        """Switch a fan beside the vehicle on or off."""
        self._fan = on

    # What then happens

    @property
    def time(self) -> float:
        """Time of the model in s since its start."""
        return self._ticks * TICK_S

    @property
    def tilt(self) -> tuple[float, float]:
        """Angles in ° that a person measures: lengthwise (nose up), crosswise (right side up)."""
        return self._tilt

    @property
    def fluid_in_hand(self) -> str:
        """The product that the technician has taken from the shelf."""
        return self._plan.fluid_in_hand

    @property
    def over_rim(self) -> float:
        """L above the standpipe's rim, negative below it: the truth, which nobody sees."""
        return self.fluid.over_rim(self.heat.fluid, self._level_error())

    def step(self, dt_s: float) -> None:
        """Move on by ``dt_s``, 0 to 3600 s.

        :raises ValueError: outside that range.
        """
        if not 0 <= dt_s <= LONGEST_STEP_S:
            raise ValueError("a step lasts between 0 and 3600 s")
        self._left_over += dt_s
        while self._left_over > TICK_S - 1e-9:
            self._left_over -= TICK_S
            self._ticks += 1
            self._tick()

    def _tick(self) -> None:
        self._stall_if_planned()
        engine, in_gear = self._engine, self._range not in _STANDING
        engine.step(TICK_S, in_gear=in_gear)
        done = Handling(engine.running, self._plug_out, self._pump, self._level_error())
        moved = self.fluid.step(TICK_S, self.heat.fluid, done)
        self._run_off = moved.run_off
        self._pumped_as_seen += self._pump * TICK_S
        self.heat.remove_fluid(self._kilograms(moved.left))
        self.heat.add_fluid(self._kilograms(moved.pumped), AMBIENT_C)
        warms = self.family.gear_heat if in_gear else self.family.park_heat
        power = warms if engine.running else 0.0
        self.heat.exchange_heat(TICK_S, power, running=engine.running, fan=self._fan)
        self._sensor.step(TICK_S, self.heat.fluid, running=engine.running)
        self._coolant.step(TICK_S, running=engine.running)

    def _stall_if_planned(self) -> None:
        after = self._plan.stalls_after
        self._plug_out_for = self._plug_out_for + TICK_S if self._plug_out else 0.0
        if after is not None and after <= self._plug_out_for < after + TICK_S:
            self._engine.stop()

    def _kilograms(self, litres_15: float) -> float:
        return litres_15 * self.fluid.density_15 / 1000

    def _level_error(self) -> float:
        level, (lengthwise, crosswise) = self.sheet.level, self._tilt
        return level_error(
            level.pan_area, level.standpipe_forward, level.standpipe_right, lengthwise, crosswise
        )

    # What can be known of it

    def view(self) -> View:
        """Return what a person sees."""
        drops = self._run_off / DROP_L
        flow: FlowWord = "runs"
        if drops < FEWEST_DROPS:
            flow = "nothing"
        elif drops < STREAM_DROPS:
            flow = "drips"
        lamps = Lamps(
            engine_runs=self._engine.running,
            in_park=self._range == PARK,
            lift_up=self._lift_up,
            plug_out=self._plug_out,
            pump_on=self._pump > 0,
            fan_on=self._fan,
        )
        return View(
            flow=flow,
            drops_per_second=drops if flow == "drips" else 0.0,
            caught=self.fluid.caught_as_seen,
            pumped=self._pumped_as_seen,
            findings=self._plan.findings,
            wet_elsewhere=self.fluid.leaked > 0,
            lamps=lamps,
        )

    def signals(self) -> Signals:
        """Return what the control units know."""
        return Signals(
            fluid=self.heat.fluid,
            sensor=as_sent(self.sheet.signals.fluid_temperature, self._sensor.celsius),
            coolant=self._coolant.celsius,
            engine_speed=self._engine.rpm,
            range=self._range,
        )


def make_vehicle(
    family: str,
    fault: str | None = None,
    seed: int = 0,
    *,
    sheet: SpecSheet | None = None,
    arrival: float | None = None,
    noise: float | None = None,
    sensor_step: float = 0.0,
) -> Vehicle:
    """Return a vehicle of a family, its engine at rest on the ground, the plug in.

    :param family: ``"K5"``, ``"K7"`` or ``"K9"``.
    :param fault: a name in :data:`brimline.simulator.names.FAULTS`, ``None`` for a sound one.
    :param seed: of wobble and jitter; the same seed gives the same vehicle.
    :param sheet: another spec sheet than the one shipped for the family.
    :param arrival: fluid and case temperature in °C, 0 to 120, where not as planned.
    :param noise: of the fluid's sensor, standard deviation in K, 0 to 2, where not the usual one.
    :param sensor_step: it counts in steps of so many K, 0 to 5.
    :raises SimulationError: no such family or fault, or another temperature, noise or step.
    :raises brimline.errors.SheetError: the shipped sheet has faults.
    """
    parameters = find_family(family)
    if sheet is None:
        sheet = SheetLibrary((resources() / "sheets",)).find(parameters.sheet_id)
    planned = plan(fault, sheet, parameters)
    if arrival is not None:
        if not COLDEST_ARRIVAL_C <= arrival <= HOTTEST_ARRIVAL_C:
            raise SimulationError("A simulated vehicle arrives at 0 to 120 °C.")
        planned = replace(planned, arrival=arrival)
    jitter = planned.sensor.jitter if noise is None else noise
    if not (0 <= jitter <= 2 and 0 <= sensor_step <= 5):
        raise SimulationError("A simulated sensor jitters by 0 to 2 K and counts by at most 5 K.")
    sensor = replace(planned.sensor, jitter=jitter, step=sensor_step)
    planned = replace(planned, sensor=sensor)
    return Vehicle(sheet, parameters, planned, seed)
