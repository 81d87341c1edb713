"""A bay with a simulated vehicle on a real bus: the demonstration, and training later.

The vehicle's control units answer on one end of a python-can bus and the program asks on the
other, so that every reading takes the way that it takes on a vehicle. Both ends are pumped in
small steps of the check's time, at whatever pace that time passes.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import can

from brimline import wording
from brimline.headless.technician import DEMO_VIN, Bench
from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.acknowledging import Undone
from brimline.procedure.attaching import AttachmentKept
from brimline.procedure.doing import Do, NextStep
from brimline.procedure.events import Item, TapEvent
from brimline.procedure.next_step import next_step
from brimline.procedure.reasons import Code
from brimline.procedure.state import CheckState, Stage
from brimline.reading import Reading, SignalName
from brimline.signals.live import BusSource
from brimline.signals.quality import QualityAssessor
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.families import AMBIENT_C
from brimline.simulator.vehicle import LONGEST_STEP_S, Vehicle
from brimline.simulator.view import View
from brimline.translation import joined, marked, tr
from brimline.units import UnitSystem
from brimline.wording import next_step as next_words

STEP_S = 0.1
"""Time of the check between two looks at the bus: often enough for answers to arrive in time."""

PUMP_LITRES_PER_SECOND = 0.02

RESTED_K = 2.0
"""A vehicle that arrives so close to the shop air has stood overnight."""

SHINY_PAN_K = 4.0
"""A gun reads so much below the fluid on the simulated pan."""


SETTLED_S = 5.0
"""A simulated engine has fired, flared and settled by then."""


class SimulatedBay:
    """The vehicle, its control units and the program's end of the bus, moved in one step.

    :param began: the time of the check, in s, that is now.
    """

    CALLED = "a simulated vehicle: "
    """How every description of one begins."""

    def __init__(
        self, vehicle: Vehicle, units: VehicleOnBus, source: BusSource, began: float = 0.0
    ) -> None:
        self._vehicle = vehicle
        self._units = units
        self.source = source
        self._assessor = QualityAssessor()
        self._now = began
        self._rested = abs(vehicle.signals().fluid - AMBIENT_C) < RESTED_K
        self._stood = vehicle.view().lamps

    def stand(self, for_s: float, *, raised: bool, plug_is_out: bool, engine_runs: bool) -> None:
        """Bring a vehicle that has just arrived to where another one stood, and leave it there.

        :param for_s: for so many s; what lies beyond an hour is left out.
        """
        if raised:
            self._vehicle.raise_lift()
        if engine_runs:
            self._vehicle.start_engine()
            self._vehicle.step(SETTLED_S)
        if plug_is_out:
            self._vehicle.plug_out()
        self._vehicle.step(min(for_s, LONGEST_STEP_S))

    @property
    def description(self) -> str:
        """What the readings come from, for the record: no vehicle that anybody could touch."""
        return f"{self.CALLED}{self.source.description}"

    @property
    def declared(self) -> frozenset[SignalName]:
        """The signals that the vehicle tells."""
        return self.source.declared

    @property
    def lost(self) -> str:
        """One sentence once the bus is gone, else empty."""
        return self.source.lost

    @property
    def view(self) -> View:
        """What a person beside the vehicle sees."""
        return self._vehicle.view()

    @property
    def bench(self) -> Bench:
        """What a technician beside the vehicle has in hand and measures."""
        true = self._vehicle.signals().fluid
        return Bench(
            product=self._vehicle.fluid_in_hand,
            ambient=AMBIENT_C,
            rested=self._rested,
            infrared=true - SHINY_PAN_K,
            tilt=self._tilt(),
        )

    def _tilt(self) -> tuple[float, float]:
        return (0.1, -0.1) if self._vehicle.tilt == (0.0, 0.0) else self._vehicle.tilt

    def pump(self, now: float) -> list[Reading]:
        """Let the vehicle live until ``now`` (s of the check); return what was read."""
        readings: list[Reading] = []
        while self._now + STEP_S <= now:
            self._now += STEP_S
            self._vehicle.step(STEP_S)
            self._units.pump(self._now)
            asked = self.source.sent
            readings += self.source.pump(self._now)
            if self.source.sent != asked:  # and answered at once
                self._units.pump(self._now)
                readings += self.source.pump(self._now)
        return [self._assessor.assess(reading) for reading in readings]

    def tapped(self, tap: TapEvent) -> None:
        """Do at the vehicle what a tap says was done, or take it back there as well."""
        if isinstance(tap, Undone):
            self._take_back()
            return
        vehicle = self._vehicle
        if not isinstance(tap, AttachmentKept):
            self._stood = vehicle.view().lamps
        match tap:
            case ev.PlugOut():
                vehicle.plug_out()
            case ev.PlugIn():
                vehicle.plug_in()
            case ev.PumpStarted():
                vehicle.pump_on(PUMP_LITRES_PER_SECOND)
            case ev.PumpStopped():
                vehicle.pump_off()
            case ev.Confirmed(item=Item.LIFT_LOCKED):
                vehicle.raise_lift()
            case ev.Withdrawn(item=Item.LIFT_LOCKED):
                vehicle.lower_lift()

    def _take_back(self) -> None:
        """Leave plug, pump and lift as they stood: nobody had done what the last tap said."""
        vehicle, stood, now = self._vehicle, self._stood, self._vehicle.view().lamps
        if stood.plug_out is not now.plug_out:
            (vehicle.plug_out if stood.plug_out else vehicle.plug_in)()
        if stood.lift_up is not now.lift_up:
            (vehicle.raise_lift if stood.lift_up else vehicle.lower_lift)()
        if stood.pump_on and not now.pump_on:
            vehicle.pump_on(PUMP_LITRES_PER_SECOND)
        elif now.pump_on and not stood.pump_on:
            vehicle.pump_off()

    def act(self, name: str) -> None:
        """Do something at the vehicle that is no tap: key, selector, fan."""
        if name.startswith("range "):
            self._vehicle.select_range(name.removeprefix("range "))
            return
        acts: dict[str, Callable[[], object]] = {
            "engine on": self._vehicle.start_engine,
            "engine off": self._vehicle.stop_engine,
            "fan on": lambda: self._vehicle.fan(True),
            "fan off": lambda: self._vehicle.fan(False),
        }
        acts[name]()

    def hint(self, state: CheckState, units: UnitSystem) -> str:
        """Return what to press now."""
        return hint(state, self.view, units)

    def seen(self, units: UnitSystem) -> str:
        """Return what a person beside the vehicle sees."""
        return seen(self.view, self.bench, units)

    def at_the_hole(self) -> str:
        """Return what comes out of the plug hole, short; empty while the plug is in."""
        if not self.view.lamps.plug_out:
            return ""
        return tr("Plug hole: {flow}.", flow=_flow(self.view))

    @property
    def acts(self) -> tuple[str, ...]:
        """The names that :meth:`act` knows."""
        ranges = tuple(f"range {r.name}" for r in self._vehicle.sheet.ranges)
        return ("engine on", "engine off", "range P", *ranges, "fan on", "fan off")


@contextmanager
def simulated_bay(vehicle: Vehicle, began: float = 0.0) -> Iterator[SimulatedBay]:
    """Put a vehicle on a bus within this process, and the program on its other end.

    :param began: the time of the check, in s, that is now.
    """
    channel = f"brimline-{uuid.uuid4().hex}"
    with (
        can.Bus(channel, interface="virtual") as theirs,
        can.Bus(channel, interface="virtual") as ours,
    ):
        sheet = vehicle.sheet
        units, source = VehicleOnBus(vehicle, sheet, theirs), BusSource(ours, sheet.signals)
        yield SimulatedBay(vehicle, units, source, began)


def hint(state: CheckState, view: View, units: UnitSystem) -> str:
    """Return what to press at a stage, for somebody who sees this for the first time."""
    step = next_step(state)
    if state.closed is not None:
        return tr(_DONE)
    if state.stage is Stage.LEVEL and state.causes:
        return tr("An alarm stands: do what the page says first.")
    if _rests_to_cool(state, step):
        return tr(_HINTS[Stage.TEMPERATURE].words)
    own = _HINTS.get(state.stage)
    if own is not None and (own.fits is None or step.do in own.fits):
        return tr(own.words, vin=DEMO_VIN, button=tr(own.pressed)) if own.pressed else tr(own.words)
    return _at_the_vehicle(state, step, view, units) or next_words.long(step, units, state.now)


def _rests_to_cool(state: CheckState, step: NextStep) -> bool:
    """Whether the engine is off for the fluid to cool: then it is not wanted on again yet."""
    hot = {Code.ABOVE_BAND, Code.TOO_HOT_FOR_PLUG}
    is_off = state.stage is Stage.TEMPERATURE and step.do is Do.START_ENGINE
    return is_off and any(reason.code in hot for reason in gates.in_band(state))


def _at_the_vehicle(state: CheckState, step: NextStep, view: View, units: UnitSystem) -> str:
    """What is done by the buttons beside the hint, and what else only a demonstration knows."""
    if step.do in _AT_THE_PLUG:
        torque = state.sheet.plug.torque
        low, high = units.torque(torque / 3), units.torque(torque * 3)
        return tr(
            "Seal, torque (this wrench reads {low} to {high}), then look for a leak.",
            low=low, high=high,
        )  # fmt: skip
    if step.do is Do.START_ENGINE:
        return tr("Press “{button}” here.", button=tr("Engine on"))
    if step.do is Do.SELECT_RANGE:
        dwell = next((r.dwell for r in state.sheet.ranges if r.name == step.word), None)
        if dwell is None:
            return tr("Press P here: back to park.")
        return tr(
            "Press {range} here and wait {seconds:g} s, until it says “{held}”.",
            range=step.word, seconds=dwell, held=tr("held"),
        )  # fmt: skip
    before = {item.value for item in gates.START_ITEMS}
    if step.do is Do.CONFIRM and step.word in before and not view.lamps.engine_runs:
        return tr(
            "Confirm the first five items, then press “{button}” here.", button=tr("Engine on")
        )
    return ""


_AT_THE_PLUG = {Do.DO_SEAL, Do.TORQUE_PLUG, Do.TORQUE_AGAIN, Do.LOOK_FOR_LEAK}

_DONE = marked("Done. The record is sealed.")


@dataclass(frozen=True)
class _Hint:
    """What to press, with what stands on the button where one is named, and what it answers.

    :param fits: the steps that it says; ``None``: whatever is next.
    """

    words: str
    pressed: str = ""
    fits: frozenset[Do] | None = None


_HINTS = {
    Stage.IDENTIFY: _Hint(
        marked("Type VIN {vin} and a work order, then press “{button}”."),
        marked("Identify the vehicle"),
        frozenset({Do.IDENTIFY}),
    ),
    Stage.FLUID: _Hint(
        marked("Match the product in hand, choose the fill path, confirm the items."),
        fits=frozenset({Do.CHOOSE_FLUID, Do.CHOOSE_FILL_PATH}),
    ),
    Stage.SENSOR: _Hint(
        marked("Enter shop air and gun as seen here; tick the box if it stood overnight."),
        fits=frozenset({Do.COMPARE_SENSOR}),
    ),
    Stage.RAISE: _Hint(
        marked("Read the cautions, confirm each item, then enter the tilt as seen here."),
        fits=frozenset({Do.READ_CAUTIONS, Do.CONFIRM, Do.MEASURE_TILT}),
    ),
    Stage.TEMPERATURE: _Hint(
        marked("Wait for the band. Too hot: “Engine off” and “Fan on” here, then on again."),
        fits=frozenset({Do.WARM_UP, Do.COOL_DOWN}),
    ),
    Stage.PLUG_OUT: _Hint(
        marked("Acknowledge the cautions, then press “{button}”."),
        marked("Plug is out"),
        frozenset({Do.READ_CAUTIONS, Do.TAKE_PLUG_OUT}),
    ),
    Stage.LEVEL: _Hint(marked("Do what stands in bold; what comes is seen here.")),
    Stage.CONDITION: _Hint(
        marked("Take the run-off down as seen here, then press “{button}”."),
        marked("Condition assessed"),
        frozenset({Do.MEASURE_RUN_OFF, Do.ASSESS_CONDITION}),
    ),
    Stage.RECORD: _Hint(
        marked("Press “{button}”."),
        marked("Close and seal the record"),
        frozenset({Do.CLOSE_RECORD}),
    ),
}
"""A stage's own words, where what is next fits them; else the procedure's own next step is told."""

_FLOWS = {"runs": marked("runs"), "drips": marked("drips"), "nothing": marked("nothing")}


def seen(view: View, bench: Bench, units: UnitSystem) -> str:
    """Return what a person beside the vehicle sees, in one line."""
    parts = [tr("In hand: {product}", product=bench.product), _air(bench, units)]
    if view.lamps.lift_up:
        along, across = bench.tilt
        parts.append(
            tr(
                "tilt {along:.1f}° lengthwise, {across:.1f}° crosswise, the same turned",
                along=along, across=across,
            )
        )  # fmt: skip
    else:
        parts.append(tr("on the ground"))
    if view.lamps.plug_out:
        parts.append(_at_the_hole(view))
    if view.caught or view.pumped:
        parts.append(
            tr(
                "catch pan {caught}, pumped {pumped}",
                caught=units.volume(view.caught), pumped=units.volume(view.pumped),
            )
        )  # fmt: skip
    return tr("Seen: {parts}.", parts=joined(parts, "; "))


def _air(bench: Bench, units: UnitSystem) -> str:
    rested = marked("shop air {ambient}, gun {gun}, stood overnight")
    driven = marked("shop air {ambient}, gun {gun}, did not stand overnight")
    return tr(
        rested if bench.rested else driven,
        ambient=units.temperature(bench.ambient), gun=units.temperature(bench.infrared),
    )  # fmt: skip


def _at_the_hole(view: View) -> str:
    look = view.findings
    return tr(
        "plug hole: {flow}; fluid {colour}, {clarity}, smells {odour}",
        flow=_flow(view), colour=tr(wording.COLOURS[look.colour]),
        clarity=tr(wording.CLARITIES[look.clarity]), odour=tr(wording.ODOURS[look.odour]),
    )  # fmt: skip


def _flow(view: View) -> str:
    if view.flow == "drips":
        return tr("drips {rate:.1f} drops/s", rate=view.drops_per_second)
    return tr(_FLOWS[view.flow])
