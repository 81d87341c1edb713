"""A technician who plays a whole check by the book, for demonstrations without a person.

Looks at the check and at the simulated vehicle and says what to do next: one tap in the program
or one act at the vehicle. Judges nothing that the procedure judges; where a gate is closed it
waits.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from brimline.condition.rules import advise
from brimline.procedure import cautions, gates, run_off
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import AlarmAcknowledged, CautionAcknowledged
from brimline.procedure.events import Flow, Item, TapEvent
from brimline.procedure.gates import Gate
from brimline.procedure.reasons import Code
from brimline.procedure.state import Alarm, CheckState, Stage
from brimline.simulator.view import View
from brimline.specsheet.model import SealRule

DEMO_VIN = "0THK7A1230L004217"
FIRST_LOOK_S = 12.0
JUDGE_EVERY_S = 15.0
PUMP_LITRES = 0.2
MAX_COOL_DOWNS = 2
MANY_BAD_READINGS = 30
OVER_NIGHT_S = 12 * 3600.0
GUN_SETTING = 0.95


@dataclass(frozen=True)
class DoTap:
    """One tap in the program."""

    kind: Callable[..., TapEvent]
    fields: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Act:
    """One act at the vehicle, by the name of the demonstration's control."""

    name: str


@dataclass(frozen=True)
class AskVerdict:
    """The check is to be closed."""


Deed = DoTap | Act | AskVerdict


@dataclass(frozen=True)
class Bench:
    """What the technician knows besides the screen.

    :param product: the fluid taken from the shelf.
    :param ambient: of the hall, in °C.
    :param rested: whether the vehicle stood overnight.
    :param infrared: what a gun reads on the pan of a vehicle that is warm, in °C.
    :param tilt: lengthwise and crosswise angle of the vehicle on the lift, in degrees.
    """

    product: str
    ambient: float
    rested: bool
    infrared: float
    tilt: tuple[float, float]


class Technician:
    """Plays one check; asked again and again what to do next."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._acted_at = -1.0
        self._told = 0.0

    def next_deed(self, state: CheckState, view: View) -> Deed | None:
        """Return what to do now, ``None`` to wait."""
        if state.closed is not None:
            return None
        if (known := self._acknowledge(state)) is not None:
            return known
        if state.aborted is not None:
            return AskVerdict()
        by_stage: dict[Stage, Callable[[CheckState, View], Deed | None]] = {
            Stage.IDENTIFY: self._identify,
            Stage.FLUID: self._fluid,
            Stage.SENSOR: self._sensor,
            Stage.PRECONDITION: self._ground,
            Stage.RAISE: self._raise,
            Stage.TEMPERATURE: self._temperature,
            Stage.PLUG_OUT: self._plug_out,
            Stage.LEVEL: self._level,
            Stage.CLOSE: self._close,
            Stage.CONDITION: self._condition,
            Stage.RECORD: lambda state, view: self._run_off(state, view) or AskVerdict(),
        }
        return by_stage[state.stage](state, view)

    def _acknowledge(self, state: CheckState) -> Deed | None:
        """What is alarming or cautioned of is acknowledged before anything else."""
        heard = next((each.alarm for each in state.standing if not each.acknowledged), None)
        if heard is not None:
            return DoTap(AlarmAcknowledged, {"alarm": heard})
        if cautions.asked(state, state.stage):
            return DoTap(CautionAcknowledged, {"stage": state.stage})
        return None

    def _identify(self, state: CheckState, _view: View) -> Deed:
        return DoTap(
            ev.VehicleIdentified,
            {
                "vin": DEMO_VIN, "work_order": "HL-2041", "plate": "DEMO 17",
                "odometer_km": 84210.0, "complaint": "Shifts late when cold.",
                "variant": state.sheet.transmission.variants[0],
            },
        )  # fmt: skip

    def _fluid(self, state: CheckState, _view: View) -> Deed:
        if state.fluid is None:
            return DoTap(ev.FluidChosen, {"product": self._bench.product, "lot": "C-0726"})
        if any(True for _ in gates.fluid_approved(state)):
            return DoTap(ev.CheckAborted, {"reason": "The fluid in hand is not approved."})
        if state.fill_path is None:
            name = state.sheet.fill_paths[0].name
            return DoTap(ev.FillPathChosen, {"name": name, "litres_within_reach": 2.0})
        return self._first_open(state, gates.FLUID_ITEMS)

    def _sensor(self, state: CheckState, view: View) -> Deed | None:
        last = state.temperature.last
        if last is None:
            return None
        if state.sensor is None:
            fields = {"ambient": self._bench.ambient, "rested": self._bench.rested}
            by_gun = {"infrared": self._bench.infrared, "gun_emissivity": GUN_SETTING}
            more = {"rest_s": OVER_NIGHT_S} if self._bench.rested else by_gun
            return DoTap(ev.SensorChecked, fields | more)
        return DoTap(ev.CheckAborted, {"reason": "The temperature sensor cannot be trusted."})

    def _ground(self, state: CheckState, view: View) -> Deed | None:
        if self._open(state, gates.START_ITEMS):
            return self._first_open(state, gates.START_ITEMS)
        if not view.lamps.engine_runs:
            return Act("engine on")
        unserved = {r.word for r in gates.precondition(state) if r.code is Code.RANGE_NOT_SERVED}
        wanted = next((r.name for r in state.sheet.ranges if r.name in unserved), "P")
        if state.ranges.current != wanted:
            return Act(f"range {wanted}")
        if state.engine.idle_served_at is None or wanted != "P":
            return None
        return self._first_open(state, gates.LEAVE_ITEMS)

    def _raise(self, state: CheckState, _view: View) -> Deed | None:
        if Item.LIFT_LOCKED not in state.confirmed:
            if gates.reasons(Gate.RAISE, state):
                return None
            return DoTap(ev.Confirmed, {"item": Item.LIFT_LOCKED})
        if self._open(state, gates.RAISE_ITEMS):
            return self._first_open(state, gates.RAISE_ITEMS)
        along, across = self._bench.tilt
        offset = 0.1  # of the instrument; read both ways round it cancels
        return DoTap(
            ev.TiltMeasured,
            {
                "lengthwise": along + offset, "lengthwise_turned": along - offset,
                "crosswise": across + offset, "crosswise_turned": across - offset,
            },
        )  # fmt: skip

    def _temperature(self, state: CheckState, view: View) -> Deed | None:
        celsius = state.temperature.last.number if state.temperature.last else None
        band = state.band
        if state.provisional and len(state.past_causes) > MAX_COOL_DOWNS:
            return DoTap(ev.EndedProvisional, {"reason": "The bay is needed."})
        if state.temperature.bad_readings >= MANY_BAD_READINGS:
            return DoTap(ev.CheckAborted, {"reason": "The readings cannot be trusted."})
        if celsius is None:
            return None
        over = celsius - (band.high if band.high is not None else band.limit)
        lamps = view.lamps
        wanted = (
            ("fan on", over > -1 and not lamps.fan_on),
            ("engine off", over > 0 and lamps.engine_runs),
            ("engine on", over < -4 and not lamps.engine_runs),
            ("fan off", over < -6 and lamps.fan_on),
        )
        return next((Act(name) for name, now in wanted if now), None)

    def _plug_out(self, _state: CheckState, _view: View) -> Deed:
        return DoTap(ev.PlugOut)

    def _level(self, state: CheckState, view: View) -> Deed | None:
        level = state.level
        if level.pump_since is not None:
            pumping_long = state.now - level.pump_since >= PUMP_LITRES / 0.02
            now = pumping_long or state.causes or not state.plug_is_out
            return self._stop_pump(view) if now else None
        if Alarm.PLUG_IN in state.alarms or level.reached_at is not None:
            return DoTap(ev.PlugIn)
        since = state.now - state.plug_spans[-1].since
        if level.flow is None or state.first_look is None:
            return self._look(state, view) if since >= FIRST_LOOK_S else None
        if not gates.reasons(Gate.TOP_UP, state):
            return DoTap(ev.PumpStarted)
        if gates.reasons(Gate.LEVEL_REACHED, state):
            return None
        return self._judge(state, view) if state.now - level.flow.at >= JUDGE_EVERY_S else None

    def _look(self, state: CheckState, view: View) -> Deed | None:
        if state.level.flow is None:
            against = {r.code for r in gates.reasons(Gate.LEVEL_REACHED, state)}
            return None if Code.SETTLING in against else self._judge(state, view)
        drawn = view.flow == "nothing"
        return DoTap(ev.FirstLook, {"findings": view.findings, "drawn_sample": drawn})

    def _judge(self, _state: CheckState, view: View) -> Deed:
        drops = view.drops_per_second if view.flow == "drips" else None
        return DoTap(ev.FlowJudged, {"flow": Flow(view.flow), "drops_per_second": drops})

    def _stop_pump(self, view: View) -> Deed:
        litres = max(0.0, view.pumped - self._told)
        self._told = view.pumped
        return DoTap(ev.PumpStopped, {"litres": litres, "fluid_celsius": self._bench.ambient})

    def _close(self, state: CheckState, view: View) -> Deed:
        if state.closing.seal is None:
            replaced = state.sheet.plug.seal is SealRule.REPLACE
            return DoTap(ev.SealDone, {"replaced": replaced})
        if state.closing.torque is None:
            torque = state.sheet.plug.torque
            wrench = {"wrench_low": torque / 3, "wrench_high": torque * 3, "unit": "N·m"}
            return DoTap(ev.PlugTorqued, {"torque": torque, **wrench})
        return DoTap(ev.LeakLook, {"dry": True})

    def _condition(self, state: CheckState, view: View) -> Deed:
        if (told := self._run_off(state, view)) is not None:
            return told
        advice = advise(view.findings)
        return DoTap(
            ev.ConditionAssessed,
            {
                "findings": view.findings, "advised": advice.recommendation,
                "advised_reasons": advice.reasons, "recommendation": advice.recommendation,
            },
        )  # fmt: skip

    def _run_off(self, state: CheckState, view: View) -> Deed | None:
        """What the catch pan holds and nobody has told yet."""
        if not state.plug_spans:
            return None
        if view.caught - state.run_off > 0.005:
            return DoTap(ev.RunOffMeasured, {"litres": round(view.caught - state.run_off, 2)})
        if not run_off.is_asked(state):
            return None
        if run_off.was_seen(state):
            said = {"item": Item.RUN_OFF_NOT_MEASURED, "reason": "Too little to measure."}
            return DoTap(ev.Confirmed, said)
        return DoTap(ev.Confirmed, {"item": Item.NOTHING_RAN_OFF})

    def _open(self, state: CheckState, items: tuple[Item, ...]) -> bool:
        return any(item not in state.confirmed for item in items)

    def _first_open(self, state: CheckState, items: tuple[Item, ...]) -> Deed:
        return DoTap(ev.Confirmed, {"item": next(i for i in items if i not in state.confirmed)})
