"""A small spec sheet of the invented world, and events to fill records with."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from brimline.procedure.events import (
    CheckOpened,
    Confirmed,
    DeadlineReached,
    Event,
    Item,
    Origin,
    PlugOut,
    ScriptNote,
    Verdict,
)
from brimline.reading import Quality, Reading, SignalName
from brimline.records.model import Outcome
from brimline.specsheet.model import SpecSheet

NOON = datetime(2031, 5, 6, 12, 0, tzinfo=UTC)
VIN = "ZZ9K7HARR0LANE123"

SHEET = SpecSheet.model_validate(
    {
        "schema": 1,
        "id": "tarnholm-k7",
        "check_method": "idle_overflow",
        "plug_out_engine": "idling",
        "invented": True,
        "notice": "Invented; not for use on a vehicle.",
        "source": {
            "title": "Tarnholm K7 service leaflet",
            "date": "2030-02-03",
            "revision": "C",
            "status": "approved",
        },
        "transmission": {
            "maker": "Tarnholm",
            "family": "K7",
            "variants": ["K7-a", "K7-b"],
            "forward_ranges": 7,
        },
        "ranges": [{"name": "R", "dwell": "4 s"}, {"name": "D", "dwell": "0.1 min"}],
        "idle": {
            "speed_low": "550 rpm",
            "speed_high": "750 rpm",
            "time": "90 s",
            "circulation_after_stop": "2 min",
        },
        "bands": {
            "normal": {"low": "35 °C", "high": "45 °C"},
            "sustained load": {"low": "131 °F", "max_plug_out": "95 °C"},
        },
        "fluids": [
            {
                "name": "TF-Clear",
                "approval": "approved",
                "condition": "bulletin 3 applied",
                "density_15": "842.5 kg/m³",
                "viscosity_40": "29.6 mm²/s",
                "viscosity_100": "6 mm²/s",
                "expansion": "0.00083 1/K",
            },
            {"name": "TF-Thin", "approval": "refused"},
        ],
        "level": {
            "capacity": "9.5 US qt",
            "acceptance": "80 mL",
            "pan_area": "1100 cm²",
            "standpipe_forward": "-35 mm",
            "standpipe_right": "0.02 m",
            "standpipe_bore": "9 mm",
            "allowed_tilt": "0.5 °",
            "plug_hole": "12 mm",
            "drip_rate": "40 drops/min",
            "settle_time": "30 s",
            "max_run_off": "1.5 L",
            "max_run_off_time": "180 s",
            "max_top_up": "2 L",
        },
        "plug": {"torque": "80 in·lbf", "torque_tolerance": "1 N·m", "seal": "replace"},
        "fill_paths": [{"name": "adapter", "note": "screw in by hand"}],
        "cautions": [{"stage": "plug_out", "word": "WARNING", "text": "Fluid is hot."}],
        "signals": {
            "fluid_temperature": {"kind": "csv", "column": "fluid"},
            "range": {
                "kind": "uds",
                "identifier": 61712,
                "request_id": 2017,
                "response_id": 2025,
                "names": {"0": "P", "7": "R"},
                "stale_after": "2.5 s",
            },
        },
    }
)


def opened(check_id: str = "a1b2c3d4e5f60718", **changes: object) -> CheckOpened:
    values: dict[str, object] = {
        "check_id": check_id,
        "opened_at": NOON,
        "origin": Origin.LIVE,
        "sheet": SHEET,
        "duty": "normal",
        "measured": (SignalName.FLUID_TEMPERATURE, SignalName.RANGE),
        "source": "bay 2",
        "technician": "R. Quill",
        "shop": "Harrow Lane Driveline",
        "program": "0.1.0",
        "procedure": 1,
        "script": ScriptNote(name="runs off", sha256="ab" * 32),
    }
    return CheckOpened(**(values | changes))  # type: ignore[arg-type] # built from a table


def reading(t: float, celsius: float = 40.0) -> Reading:
    return Reading(t, SignalName.FLUID_TEMPERATURE, celsius, Quality.GOOD, source="obd 7E8 pid 05")


def tap(t: float) -> Event:
    return Confirmed(t=t, item=Item.CATCH_PAN)


def deadline(t: float) -> Event:
    return DeadlineReached(t=t, name="dwell R")


def plug_out(t: float) -> Event:
    return PlugOut(t=t, happened=t - 5)


def wall(t: float) -> datetime:
    return NOON + timedelta(seconds=t)


def outcome(**changes: object) -> Outcome:
    values: dict[str, object] = {
        "vin": VIN,
        "plate": "HL 12 QR",
        "odometer_km": 84210,  # a whole number on purpose: it comes back as a float
        "work_order": "WO-7",
        "technician": "R. Quill",
        "fluid": "TF-Clear",
        "verdict": Verdict.CORRECTED,
        "closing_celsius": 41.5,
        "added_litres": 0.4,
        "run_off_litres": 0,
    }
    return Outcome(**(values | changes))  # type: ignore[arg-type] # built from a table
