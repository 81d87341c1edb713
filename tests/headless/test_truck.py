"""A whole check with everything measured, on a synthetic J1939 warm-up that jitters as real ones.

The frames are invented (see ``j1939_warmup``): another sender says nothing with every byte FF, and
the edge frames of real recordings, −50.03 °C and 215 °C, lie between the good ones.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from j1939_warmup import (
    BENCH_WITHOUT_SENSOR,
    PARK,
    TEST_TRAFFIC,
    frame,
    frames,
    temperatures,
    write,
)

from brimline.cli import main
from brimline.paths import data_folder, database_file
from brimline.procedure.timeline import plug_gate_over_time
from brimline.reading import Quality, Reading, SignalName
from brimline.records.database import Database
from brimline.records.repository import Repository

SECONDS = 900
SCRIPT = """
schema = 1
description = "Everything measured on a truck (invented)."
technician = "R. Calloway (invented)"
sheet = "k9-demo"
tap = [
  { do = "vehicle_identified", vin = "0THFC3K71RL104218", work_order = "T-1" },
  { do = "fluid_chosen", product = "TF-Thin" },
  { do = "fill_path_chosen", name = "check plug with hooked adapter", within_reach = "2 L" },
  { do = "confirmed", item = "fill_path_ready" }, { do = "confirmed", item = "pump_primed" },
  { do = "confirmed", item = "fluid_within_reach" },
  { do = "confirmed", item = "check_plug_identified" },
  { do = "sensor_checked", ambient = "20 °C", rested = true },
  { do = "confirmed", item = "nobody_under" }, { do = "confirmed", item = "wheels_chocked" },
  { do = "confirmed", item = "exhaust_extracted" },
  { do = "confirmed", item = "auto_stop_disabled" }, { do = "confirmed", item = "brake_held" },
  { do = "confirmed", item = "parking_brake", at = "40 s" },
  { do = "confirmed", item = "occupant_out" },
  { do = "caution_acknowledged", stage = "raise" },
  { do = "confirmed", item = "lift_locked" }, { do = "confirmed", item = "crew_clear" },
  { do = "confirmed", item = "catch_pan" }, { do = "confirmed", item = "protection_worn" },
  { do = "tilt_measured", lengthwise = "0.2 °", lengthwise_turned = "0.2 °",
    crosswise = "0.1 °", crosswise_turned = "0.1 °" },
  { do = "caution_acknowledged", stage = "plug_out" },
  { do = "plug_out" },
  { do = "flow_judged", flow = "runs", after = "3 s" },
  { do = "first_look", after = "9 s", findings = { colour = "clear_red", clarity = "clear",
    odour = "normal", particles = "none" } },
  { do = "flow_judged", flow = "drips", drip = "1 drops/s", after = "40 s" },
  { do = "plug_in", after = "5 s" }, { do = "seal_done", replaced = false },
  { do = "plug_torqued", torque = "70 in·lbf", wrench_low = "20 in·lbf", wrench_high = "200 in·lbf",
    after = "20 s" },
  { do = "leak_look", dry = true, after = "30 s" },
  { do = "run_off_measured", amount = "90 mL" },
  { do = "condition_assessed", colour = "clear_red", clarity = "clear", odour = "normal",
    particles = "none" },
  { do = "check_closed" },
]
"""


def gear(second: int) -> int:
    """Reverse, neutral, first gear, park again: 124, 125, 126, 251 of SPN 523."""
    return (
        124
        if 6 <= second < 14
        else 125
        if 14 <= second < 21
        else 126
        if 21 <= second < 29
        else PARK
    )


def recording(folder: Path, suffix: str) -> Path:
    messages = []
    for number, message in enumerate(
        frames(temperatures(SECONDS, start=20.0, heat=900.0), gear=gear)
    ):
        messages.append(message)
        if number % 50 == 7:
            messages.append(frame(message.timestamp + 0.002, *BENCH_WITHOUT_SENSOR))
        if number % 50 == 27:
            messages.append(frame(message.timestamp + 0.002, *TEST_TRAFFIC))
    return write(folder / f"truck{suffix}", messages)


@pytest.mark.parametrize("suffix", [".log", ".asc", ".blf"])
def test_everything_measured(
    tmp_path: Path, suffix: str, capsys: pytest.CaptureFixture[str]
) -> None:
    script = tmp_path / "truck.toml"
    script.write_text(SCRIPT.replace(",\n    ", ", "), "utf-8")  # a table stays on its line
    words = ["replay", str(recording(tmp_path, suffix)), "--script", str(script), "--headless"]
    assert main([*words, "--out", str(tmp_path), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["record"]["verdict"] == "set"
    assert answer["refused"] == []
    with Database.open(database_file(data_folder()), writer=False) as database:
        record = Repository(database).load(answer["record"]["check_id"])
    taken = [
        e.number for e in record.events
        if isinstance(e, Reading) and e.signal is SignalName.FLUID_TEMPERATURE
        and e.quality is Quality.GOOD
    ]  # fmt: skip
    assert len(taken) > 300
    assert 18 < min(taken) <= max(taken) < 46  # neither -50.03 °C nor 215 °C
    opened = [t for t, reasons in plug_gate_over_time(record.events) if not reasons]
    assert len(opened) >= 1
    assert 35 <= answer["record"]["closing_celsius"] <= 45
