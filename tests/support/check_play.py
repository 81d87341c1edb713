"""Plays the procedure in tests: an invented sheet, and taps and readings in a few words."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from brimline.condition.model import (
    Clarity,
    Colour,
    Findings,
    Odour,
    Particles,
    Recommendation,
)
from brimline.condition.rules import advise
from brimline.procedure import VERSION, cautions, gates, reducer
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import CautionAcknowledged
from brimline.procedure.effects import Effect, Refused
from brimline.procedure.events import Event, Flow, Item
from brimline.procedure.names import Stage
from brimline.procedure.reasons import Code
from brimline.procedure.state import CheckState
from brimline.procedure.verdict import closing_event
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.specsheet.model import SpecSheet

SHEET: dict[str, Any] = {
    "schema": 1,
    "id": "test-sheet",
    "check_method": "idle_overflow",
    "plug_out_engine": "idling",
    "invented": True,
    "source": {
        "title": "Leaflet (invented)", "date": "2026-01-02", "revision": "A", "status": "approved",
    },
    "transmission": {
        "maker": "Tarnholm", "family": "K7", "variants": ["K7-H"], "forward_ranges": 7,
    },
    "ranges": [{"name": "R", "dwell": "3 s"}, {"name": "D", "dwell": "4 s"}],
    "idle": {
        "speed_low": "560 rpm", "speed_high": "760 rpm", "time": "60 s",
        "circulation_after_stop": "45 s",
    },
    "bands": {
        "normal": {"low": "65 °C", "high": "85 °C"},
        "sustained_load": {"low": "92 °C", "max_plug_out": "105 °C"},
    },
    "fluids": [
        {
            "name": "TF-Clear", "approval": "approved", "density_15": "846 kg/m³",
            "viscosity_40": "28.5 mm²/s", "viscosity_100": "5.9 mm²/s",
        },
        {
            "name": "TF-Thin", "approval": "approved", "condition": "bulletin B03",
            "density_15": "838 kg/m³", "viscosity_40": "22 mm²/s", "viscosity_100": "4.9 mm²/s",
        },
        {"name": "TF-Red", "approval": "refused"},
    ],
    "level": {
        "capacity": "8.6 L", "acceptance": "150 mL", "pan_area": "1150 cm²",
        "standpipe_forward": "-55 mm", "standpipe_right": "40 mm", "standpipe_bore": "8 mm",
        "allowed_tilt": "0.5 °", "plug_hole": "9 mm", "drip_rate": "2 drops/s",
        "settle_time": "30 s", "max_run_off": "1.0 L", "max_run_off_time": "5 min",
        "max_top_up": "1.0 L",
    },
    "plug": {"torque": "10 N·m", "torque_tolerance": "1 N·m", "seal": "replace"},
    "fill_paths": [{"name": "check plug with adapter"}],
}  # fmt: skip

GOOD = Findings(Colour.CLEAR_RED, Clarity.CLEAR, Odour.NORMAL, Particles.NONE)
MILKY = Findings(Colour.PINK, Clarity.MILKY, Odour.SWEET, Particles.NONE)
VIN = "0THFC3K71RL104218"
TEMPERATURE_ONLY = (SignalName.FLUID_TEMPERATURE,)
ALL_SIGNALS = tuple(SignalName)


def sheet(**changes: Any) -> SpecSheet:
    """Return the test sheet with top-level keys replaced."""
    return SpecSheet.model_validate(SHEET | changes)


class Play:
    """One check under test: its state, its events, and the effects of the last one."""

    def __init__(
        self,
        measured: tuple[SignalName, ...] = TEMPERATURE_ONLY,
        duty: str = "normal",
        spec: SpecSheet | None = None,
    ) -> None:
        opened = ev.CheckOpened(
            check_id="c" * 32, opened_at=datetime(2026, 5, 4, 8, 30, tzinfo=UTC),
            origin=ev.Origin.REPLAY, sheet=spec or sheet(), duty=duty, measured=measured,
            source="test", technician="R. Calloway (invented)", shop="Harrow Lane Driveline",
            program="0", procedure=VERSION,
        )  # fmt: skip
        self.events: list[Event] = [opened]
        self.state: CheckState = reducer.open_check(opened)
        self.effects: tuple[Effect, ...] = ()
        self.t = 0.0

    def of_version(self, version: int) -> Play:
        """Begin anew as a check of another version of the procedure."""
        (opened,) = self.events
        assert isinstance(opened, ev.CheckOpened)
        opened = replace(opened, procedure=version)
        self.events, self.state = [opened], reducer.open_check(opened)
        return self

    def do(self, event: Event) -> Play:
        """Take one event in."""
        self.events.append(event)
        self.state, self.effects = reducer.reduce(self.state, event)
        return self

    def refused(self) -> set[Code]:
        """Return why the last event was refused; empty where it was taken."""
        return {r.code for e in self.effects if isinstance(e, Refused) for r in e.reasons}

    def taken(self, event: Event) -> Play:
        """Take one event in, which must not be refused."""
        self.do(event)
        assert not self.refused(), self.refused()
        return self

    def confirm(self, *items: Item) -> Play:
        """Confirm items now; before the lift goes up, its cautions are acknowledged."""
        for item in items:
            if item is Item.LIFT_LOCKED:
                self.warned(Stage.RAISE)
            why = "the pan was tipped over" if item is Item.RUN_OFF_NOT_MEASURED else ""
            self.taken(ev.Confirmed(t=self.t, item=item, reason=why))
        return self

    def wait(self, seconds: float, celsius: float | None = None) -> Play:
        """Let time pass; with a temperature, one reading each second."""
        end = self.t + seconds
        while celsius is not None and self.t + 1 <= end:
            self.t += 1
            self.do(self.celsius(celsius))
        self.t = end
        self.state, self.effects = reducer.advance(self.state, end)
        return self

    def celsius(self, value: float, quality: Quality = Quality.GOOD, way: Way = Way.BUS) -> Reading:
        """Return a reading of the fluid's temperature now."""
        return Reading(self.t, SignalName.FLUID_TEMPERATURE, value, quality, way)

    def identified(self) -> Play:
        """Stages 1 and 2."""
        self.taken(ev.VehicleIdentified(t=self.t, vin=VIN, work_order="W-1", odometer_km=84210))
        self.taken(ev.FluidChosen(t=self.t, product="TF-Clear", lot="7"))
        path = "check plug with adapter"
        self.taken(ev.FillPathChosen(t=self.t, name=path, litres_within_reach=2.0))
        return self.confirm(
            Item.FILL_PATH_READY, Item.PUMP_PRIMED, Item.FLUID_WITHIN_REACH,
            Item.CHECK_PLUG_IDENTIFIED,
        )  # fmt: skip

    def sensor_trusted(self) -> Play:
        """Stage 3, cold."""
        self.do(self.celsius(22.0))
        return self.taken(ev.SensorChecked(t=self.t, ambient=21.0, rested=True))

    def on_the_ground(self) -> Play:
        """Stage 4 by tap and timer."""
        self.confirm(
            Item.NOBODY_UNDER, Item.WHEELS_CHOCKED, Item.EXHAUST_EXTRACTED,
            Item.AUTO_STOP_DISABLED, Item.BRAKE_HELD,
        )  # fmt: skip
        self.taken(ev.EngineStarted(t=self.t))
        for name in ("R", "D"):
            self.taken(ev.RangeSelected(t=self.t, range=name)).wait(5, 25.0)
        self.taken(ev.RangeSelected(t=self.t, range="P"))
        self.taken(ev.IdleSpeedNoted(t=self.t, rpm=640))
        self.wait(60, 30.0)
        return self.confirm(Item.PARKING_BRAKE, Item.OCCUPANT_OUT)

    def raised(self) -> Play:
        """Stage 5, with the cautions before it and those before the plug comes out."""
        self.confirm(Item.LIFT_LOCKED, Item.CREW_CLEAR, Item.CATCH_PAN, Item.PROTECTION_WORN)
        self.taken(
            ev.TiltMeasured(
                t=self.t, lengthwise=0.3, lengthwise_turned=0.1, crosswise=-0.2,
                crosswise_turned=0.0,
            )
        )  # fmt: skip
        return self.warned(Stage.PLUG_OUT)

    def warned(self, stage: Stage) -> Play:
        """Acknowledge the cautions of a stage, where they are asked for."""
        if cautions.asked(self.state, stage):
            self.taken(CautionAcknowledged(t=self.t, stage=stage))
        return self

    def ready(self, celsius: float = 70.0) -> Play:
        """Everything before the plug, by tap and timer, fluid in its band."""
        return self.identified().sensor_trusted().on_the_ground().raised().wait(12, celsius)

    def plug_out(self) -> Play:
        """Stage 7."""
        return self.warned(Stage.PLUG_OUT).taken(ev.PlugOut(t=self.t))

    def flow(self, flow: Flow, drops: float | None = None) -> Play:
        """Judge what comes."""
        return self.do(ev.FlowJudged(t=self.t, flow=flow, drops_per_second=drops))

    def look(self, findings: Findings = GOOD, *, drawn: bool = False) -> Play:
        """Take the first look."""
        return self.do(ev.FirstLook(t=self.t, findings=findings, drawn_sample=drawn))

    def pump(self, litres: float) -> Play:
        """Pump for five seconds."""
        self.do(ev.PumpStarted(t=self.t))
        if self.refused():
            return self
        self.wait(5, 72.0)
        return self.taken(ev.PumpStopped(t=self.t, litres=litres, fluid_celsius=21.0))

    def closed_up(self) -> Play:
        """Plug in and stage 9."""
        self.taken(ev.PlugIn(t=self.t))
        self.taken(ev.SealDone(t=self.t, replaced=True))
        self.taken(
            ev.PlugTorqued(t=self.t, torque=10.0, wrench_low=4.0, wrench_high=20.0, unit="N·m")
        )
        return self.taken(ev.LeakLook(t=self.t, dry=True))

    def finished(self, findings: Findings | None = GOOD) -> Play:
        """Stages 10 and 11."""
        if gates.run_off_unknown(self.state):
            self.confirm(Item.RUN_OFF_NOT_MEASURED)
        advice = advise(findings) if findings else None
        advised = advice.recommendation if advice else Recommendation.NO_ACTION
        self.taken(
            ev.ConditionAssessed(
                t=self.t, findings=findings, advised=advised,
                advised_reasons=advice.reasons if advice else (), recommendation=advised,
            )
        )  # fmt: skip
        return self.taken(closing_event(self.state, self.t))

    def level_set(self) -> Play:
        """A whole check in which a little fluid runs off."""
        self.ready().plug_out().flow(Flow.RUNS).look().wait(20, 71.0)
        return self.flow(Flow.DRIPS, 1.5).closed_up().finished()
