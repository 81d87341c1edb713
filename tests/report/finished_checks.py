"""Finished checks to print: the procedure driven along a made-up warm-up curve."""

from __future__ import annotations

import hashlib
import math
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from check_play import ALL_SIGNALS, GOOD, MILKY, SHEET, TEMPERATURE_ONLY, VIN, Play

from brimline.condition.model import Clarity, Colour, Findings, Odour, Particles, Recommendation
from brimline.condition.rules import advise
from brimline.procedure import events as ev
from brimline.procedure import reducer
from brimline.procedure.events import CheckOpened, Flow, Item, Origin, ScriptNote
from brimline.procedure.reasons import Code
from brimline.procedure.verdict import closing_event
from brimline.reading import Reading, SignalName, Way
from brimline.records.model import Header, Record
from brimline.report.summary import Shop
from brimline.specsheet.model import SpecSheet

SHOP = Shop(
    name="Harrow Lane Driveline",
    address=("14 Harrow Lane", "Millbrook Works, Unit 3"),
    phone="+1 555 0142",
)
SCRIPT = ScriptNote(name="two-top-ups", sha256="ab" * 32)
SOURCE = {
    "title": "Tarnholm service leaflet K7-210 (invented)",
    "date": "2026-04-20",
    "revision": "B",
    "status": "approved",
}
_SOURCES = {
    Origin.LIVE: "the vehicle's bus",
    Origin.KEYED: "read from the shop's instrument and keyed in",
    Origin.REPLAY: "warm-up-curve.csv (engine coolant, stands in for the fluid)",
    Origin.TRAINING: "the simulated vehicle",
}
WORN = Findings(
    Colour.BROWN, Clarity.CLEAR, Odour.STALE, Particles.FINE_DARK, note="Dark film on the plug."
)


def spec(**changes: Any) -> SpecSheet:
    return SpecSheet.model_validate(SHEET | {"id": "k7-test", "source": SOURCE} | changes)


class Bay(Play):
    """A check in which time brings readings of a fluid that warms up by itself."""

    def __init__(
        self,
        *,
        origin: Origin = Origin.LIVE,
        measured: tuple[SignalName, ...] = TEMPERATURE_ONLY,
        script: ScriptNote | None = None,
        duty: str = "normal",
        sheet: SpecSheet | None = None,
        hottest: float = 100.0,
    ) -> None:
        super().__init__(measured, duty, sheet or spec())
        opened = self.events[0]
        assert isinstance(opened, CheckOpened)
        opened = replace(
            opened,
            origin=origin,
            script=script,
            technician="R. Calloway",
            source=_SOURCES[origin],
            program="0.1.0",
        )
        self.events = [opened]
        self.state = reducer.open_check(opened)
        self.hottest = hottest
        self.rpm, self.range = 0.0, "P"
        self.way = Way.BUS

    def temperature_now(self) -> float:
        running = max(0.0, self.t - 5.0)
        rise = (self.hottest - 22.0) * (1.0 - math.exp(-running / 900.0))
        return round(22.0 + rise + 0.25 * math.sin(self.t * 1.7), 1)

    def wait(self, seconds: float, celsius: float | None = None) -> Bay:
        """Let time pass with one reading of each measured signal a second."""
        end = self.t + seconds
        every = 1.0 if self.way is Way.BUS else 45.0
        while celsius is not None and self.t + every <= end:
            self.t += every
            self.readings()
        self.t = end
        self.state, self.effects = reducer.advance(self.state, end)
        return self

    def readings(self) -> None:
        self.do(self.celsius(self.temperature_now(), way=self.way))
        if SignalName.ENGINE_SPEED in self.state.measured:
            self.do(Reading(self.t, SignalName.ENGINE_SPEED, self.rpm))
        if SignalName.RANGE in self.state.measured:
            self.do(Reading(self.t, SignalName.RANGE, self.range))

    def identified(self) -> Bay:
        self.taken(
            ev.VehicleIdentified(
                t=self.t,
                vin=VIN,
                work_order="HL-20417",
                plate="KRN 4417",
                odometer_km=84210.0,
                complaint="Shifts late from second to third when cold.",
                variant="K7-H",
            )
        )
        self.taken(ev.FluidChosen(t=self.t, product="TF-Clear", lot="LC-0731"))
        self.taken(
            ev.FillPathChosen(t=self.t, name="check plug with adapter", litres_within_reach=2.0)
        )
        self.confirm(
            Item.FILL_PATH_READY,
            Item.PUMP_PRIMED,
            Item.FLUID_WITHIN_REACH,
            Item.CHECK_PLUG_IDENTIFIED,
        )
        return self

    def sensor_trusted(self) -> Bay:
        self.readings()
        self.taken(ev.SensorChecked(t=self.t, ambient=21.0, coolant=22.5, rested=True))
        return self

    def on_the_ground(self) -> Bay:
        if self.state.measured != frozenset(ALL_SIGNALS):
            super().on_the_ground()
            return self
        self.confirm(
            Item.NOBODY_UNDER,
            Item.WHEELS_CHOCKED,
            Item.EXHAUST_EXTRACTED,
            Item.AUTO_STOP_DISABLED,
            Item.BRAKE_HELD,
        )
        self.rpm = 640.0
        for self.range in ("R", "D", "P"):
            self.wait(8, 0.0)
        self.wait(60, 0.0)
        self.confirm(Item.PARKING_BRAKE, Item.OCCUPANT_OUT)
        return self

    def in_band(self, celsius: float) -> Bay:
        """Stages 1 to 6, the fluid a good way into its band."""
        self.identified().sensor_trusted().on_the_ground().raised()
        while self.temperature_now() < celsius:
            self.wait(45, 0.0)
        return self

    def record(self, number: int = 27) -> Record:
        """The finished check as the store would hand it out."""
        opened, closed = self.events[0], self.events[-1]
        assert isinstance(opened, CheckOpened)
        assert isinstance(closed, ev.CheckClosed)
        assert self.state.closed is not None
        return Record(_header(self, opened, closed, number), tuple(self.events))


def _header(bay: Bay, opened: CheckOpened, closed: ev.CheckClosed, number: int) -> Header:
    vehicle = bay.state.vehicle
    return Header(
        check_id="6f1c2a9e-4b7d-4c55-9d20-0c9a51b7e3f8",
        number=number,
        opened_at=opened.opened_at,
        finished_at=datetime(2026, 5, 4, 9, 15, tzinfo=UTC),
        origin=opened.origin,
        invented=opened.sheet.invented,
        vin=vehicle.vin if vehicle else "",
        vin_tail=vehicle.vin[-8:] if vehicle else "",
        plate=vehicle.plate if vehicle else "",
        odometer_km=vehicle.odometer_km if vehicle else None,
        work_order=vehicle.work_order if vehicle else "",
        technician=bay.state.technician,
        family=opened.sheet.transmission.family,
        sheet_id=opened.sheet.id,
        sheet_revision=opened.sheet.source.revision,
        duty=opened.duty,
        fluid=bay.state.fluid.product if bay.state.fluid else "",
        verdict=closed.verdict,
        closing_celsius=bay.state.closing.celsius,
        added_litres=bay.state.added,
        run_off_litres=bay.state.run_off,
        seal=hashlib.sha256(b"sealed").hexdigest(),
        previous_seal="",
        seal_number=number,
        seal_form=1,
        bay="1",
    )


def runs_off(litres: float = 0.08) -> Bay:
    """Set: live, every signal read, a real (not invented) sheet, a little runs off."""
    bay = Bay(measured=ALL_SIGNALS, sheet=spec(invented=False))
    bay.in_band(71).plug_out().flow(Flow.RUNS).look()
    bay.wait(40, 0.0)
    bay.taken(ev.RunOffMeasured(t=bay.t, litres=litres))
    bay.flow(Flow.DRIPS, 1.5)
    bay.wait(6, 0.0)
    bay.closed_up()
    bay.wait(60, 0.0)
    bay.finished()
    return bay


def two_top_ups() -> Bay:
    """Corrected: replay with a script, invented sheet, two top-ups and a hand-over."""
    bay = Bay(origin=Origin.REPLAY, script=SCRIPT)
    bay.in_band(69).plug_out().flow(Flow.NOTHING).look(WORN, drawn=True)
    bay.wait(20, 0.0)
    for litres in (0.25, 0.15):
        bay.taken(ev.PumpStarted(t=bay.t)).wait(15, 0.0)
        bay.taken(ev.PumpStopped(t=bay.t, litres=litres, fluid_celsius=21.0)).wait(35, 0.0)
        if litres == 0.25:
            assert not bay.flow(Flow.NOTHING).refused()
    assert not bay.flow(Flow.DRIPS, 1.0).refused()
    bay.wait(10, 0.0)
    bay.taken(ev.HandedOver(t=bay.t, to="M. Okafor-Lind", plug_is_out=True, engine_runs=True))
    bay.closed_up()
    bay.wait(45, 0.0)
    bay.finished(WORN)
    return bay


def coolant_signs() -> Bay:
    """Referred at the first look."""
    bay = Bay(origin=Origin.REPLAY, script=SCRIPT)
    bay.in_band(68).plug_out().flow(Flow.RUNS).look(MILKY)
    bay.wait(8, 0.0)
    bay.closed_up()
    bay.finished(MILKY)
    return bay


def stripped_plug() -> Bay:
    """Stopped: keyed readings, the thread gives way after the level was reached."""
    bay = Bay(origin=Origin.KEYED, measured=())
    bay.way = Way.KEYED
    bay.in_band(72).plug_out().flow(Flow.DRIPS, 1.2).look()
    bay.flow(Flow.DRIPS, 1.2)
    bay.taken(ev.PlugIn(t=bay.t))
    bay.taken(ev.PlugStripped(t=bay.t + 0.0, note="turns freely"))
    bay.taken(closing_event(bay.state, bay.t))
    return bay


def aborted_at_once(reason: str = "the customer needs the vehicle back") -> Bay:
    """Stopped before anything was read or opened."""
    bay = Bay()
    bay.t = 40.0
    bay.taken(ev.CheckAborted(t=bay.t, reason=reason))
    bay.taken(closing_event(bay.state, bay.t))
    return bay


def provisional() -> Bay:
    """Recheck: training, sustained load, an override, the band left during a top-up."""
    bay = Bay(origin=Origin.TRAINING, measured=ALL_SIGNALS, duty="sustained_load", hottest=112.0)
    bay.identified().sensor_trusted().on_the_ground()
    bay.confirm(Item.LIFT_LOCKED, Item.CREW_CLEAR, Item.CATCH_PAN, Item.PROTECTION_WORN)
    while bay.temperature_now() < 102.0:
        bay.wait(30, 0.0)
    bay.taken(
        ev.GateOverridden(
            t=bay.t,
            code=Code.TILT_NOT_MEASURED,
            reason="the lift was levelled this morning",
            by="R. Calloway",
        )
    )
    bay.plug_out().flow(Flow.NOTHING).look(drawn=True)
    bay.taken(ev.PumpStarted(t=bay.t)).wait(10, 0.0)
    bay.taken(ev.PumpStopped(t=bay.t, litres=0.2))
    while not bay.state.causes:
        bay.wait(5, 0.0)
    bay.taken(ev.PlugIn(t=bay.t))
    bay.wait(20, 0.0)
    bay.taken(ev.EndedProvisional(t=bay.t, reason="the bay is needed"))
    bay.taken(ev.SealDone(t=bay.t, replaced=True))
    bay.taken(ev.PlugTorqued(t=bay.t, torque=10.1, wrench_low=5.0, wrench_high=25.0, unit="in·lbf"))
    bay.taken(ev.LeakLook(t=bay.t, dry=True))
    advice = advise(WORN)
    bay.taken(
        ev.ConditionAssessed(
            t=bay.t,
            findings=WORN,
            advised=advice.recommendation,
            advised_reasons=advice.reasons,
            recommendation=Recommendation.WATCH,
            override_reason="changed 8,000 km ago; the customer has the invoice",
        )
    )
    bay.taken(closing_event(bay.state, bay.t, recheck_after_drive=True))
    return bay


def plug_left_out() -> Bay:
    """Stopped with the plug out, because it was lost."""
    bay = Bay()
    bay.in_band(70).plug_out().flow(Flow.RUNS).look(GOOD)
    bay.wait(30, 0.0)
    bay.taken(
        ev.CheckAborted(t=bay.t, reason="the check plug fell into the drain", plug_left_out=True)
    )
    bay.taken(closing_event(bay.state, bay.t))
    return bay


def found_high() -> Bay:
    """Corrected because more ran off than the sheet accepts."""
    return runs_off(0.6)


def recording_ended() -> Bay:
    """Stopped because the recording was over while the fluid was still cold."""
    bay = Bay(origin=Origin.REPLAY, script=SCRIPT)
    bay.identified().sensor_trusted().on_the_ground()
    bay.taken(ev.CheckAborted(t=bay.t, reason="the recording ended before the check did"))
    bay.taken(closing_event(bay.state, bay.t))
    return bay


def signal_lost() -> Bay:
    """Set: the bus falls silent, is given up, and a person keys the temperature in."""
    bay = Bay()
    bay.in_band(66)
    bay.wait(30)
    lost = SignalName.FLUID_TEMPERATURE
    bay.taken(ev.SignalWithdrawn(t=bay.t, signal=lost, reason="the plug of the adapter broke"))
    bay.way = Way.KEYED
    bay.wait(90, 0.0)
    bay.taken(ev.Resumed(t=bay.t, gap_s=12.0, plug_is_out=False, engine_runs=True))
    bay.taken(ev.RangeSelected(t=bay.t, range="P"))
    bay.wait(90, 0.0)
    bay.plug_out().flow(Flow.DRIPS, 1.0).look()
    assert not bay.flow(Flow.DRIPS, 1.0).refused()
    bay.closed_up()
    bay.finished()
    return bay


ALL = {
    "runs_off": runs_off,
    "found_high": found_high,
    "recording_ended": recording_ended,
    "signal_lost": signal_lost,
    "two_top_ups": two_top_ups,
    "coolant_signs": coolant_signs,
    "stripped_plug": stripped_plug,
    "aborted_at_once": aborted_at_once,
    "provisional": provisional,
    "plug_left_out": plug_left_out,
}
