"""One whole level check after another, on real recordings, from the command line to the PDF.

The recordings are of a real car (see ``resources/recordings``): one as it was on the bus, one with
its temperature alone. The temperature is engine coolant and stands in for the fluid.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from brimline.cli import main
from brimline.paths import data_folder, database_file, resources
from brimline.procedure import reducer
from brimline.procedure.events import CheckOpened, PlugIn, Verdict
from brimline.procedure.reasons import Code
from brimline.reading import Quality, Reading, SignalName
from brimline.records.database import Database
from brimline.records.model import Record
from brimline.records.repository import Repository

CURVE, DRIVE = "family-car-curve", "family-car-drive"


@pytest.fixture
def replay(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    """Return a function that replays and gives the answer as data."""

    def run(recording: str, script: str | None, *more: str) -> dict[str, Any]:
        words = ["replay", recording, "--headless", "--json", "--out", str(tmp_path / "out"), *more]
        assert main([*words, *(["--script", script] if script else [])]) == 0
        answer: dict[str, Any] = json.loads(capsys.readouterr().out)
        return answer

    return run


def load(answer: dict[str, Any]) -> Record:
    with Database.open(database_file(data_folder()), writer=False) as database:
        return Repository(database).load(answer["record"]["check_id"])


def pdf_text(answer: dict[str, Any]) -> str:
    pages = PdfReader(answer["summary"]).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def curve() -> list[tuple[float, float]]:
    """The recorded temperatures, read without the program's own reader."""
    lines = (resources() / "recordings" / "family-car-curve.csv").read_text("utf-8").splitlines()
    rows = [line for line in lines if not line.startswith("#")][1:]
    return [(float(t), float(c)) for t, c in csv.reader(rows)]


@pytest.mark.parametrize(
    ("script", "verdict", "words"),
    [
        ("runs-off", Verdict.SET, ["Level set", "0.11 L", "TF-Clear", "no signs"]),
        ("two-top-ups", Verdict.CORRECTED, ["Level corrected", "0.45 L"]),
        ("band-left", Verdict.RECHECK, ["Recheck needed", "0.15 L"]),
        ("coolant-signs", Verdict.REFERRED, ["Referred", "not drive", "milky"]),
        ("stripped-plug", Verdict.STOPPED, ["Check stopped", "lower or drive"]),
        ("abort", Verdict.STOPPED, ["Check stopped", "The lift is needed for an emergency"]),
    ],
)
def test_every_way_a_check_can_go(
    replay: Any, script: str, verdict: Verdict, words: list[str]
) -> None:
    answer = replay(CURVE, script)
    assert answer["record"]["verdict"] == verdict
    assert answer["waiting_for"] is None
    text = pdf_text(answer)
    for word in ("65 °C", "85 °C", "REPLAY OF A RECORDING", "Invented demonstration data", *words):
        assert word in text, word
    record = load(answer)
    assert reducer.replay(record.events).closed.verdict is verdict
    assert record.header.finished_at is not None


def test_the_check_waits_for_the_band_on_the_real_curve(replay: Any) -> None:
    answer = replay(CURVE, "runs-off")
    record = load(answer)
    state = reducer.replay(record.events)
    out = state.plug_spans[0].since
    # Every reading of the last 10 s before the plug came out was inside the band, and the one
    # before those was not: the gate opened as early as it may on this curve.
    inside = [(t, 65 <= c <= 85) for t, c in curve() if t <= out]
    assert all(is_in for t, is_in in inside if t >= out - 10)
    first_in = next(t for t, is_in in inside if is_in)
    assert out == pytest.approx(first_in + 10, abs=1.1)
    closing = next(e for e in record.events if isinstance(e, PlugIn)).t
    shown = [c for t, c in curve() if t <= closing][-1]
    assert state.closing.celsius == shown
    assert f"{shown:.1f} °C" in pdf_text(answer)


def test_the_record_holds_every_sample_in_one_sequence(replay: Any) -> None:
    record = load(replay(CURVE, "runs-off"))
    temperatures = [
        (e.t, e.value) for e in record.events
        if isinstance(e, Reading) and e.signal is SignalName.FLUID_TEMPERATURE
    ]  # fmt: skip
    samples = curve()
    offset = samples[0][0] - temperatures[0][0]
    for (t, value), (sample_t, celsius) in zip(temperatures, samples, strict=False):
        assert (t + offset, value) == (pytest.approx(sample_t), celsius)
    times = [e.t for e in record.events]
    assert times == sorted(times)
    opened = record.events[0]
    assert isinstance(opened, CheckOpened)
    assert opened.sheet.id == "family-car-demo"
    assert opened.script is not None
    assert opened.script.name == "runs-off"


def test_a_car_being_driven_is_decoded_right_and_refused_throughout(
    replay: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    """The plug gate over 40 minutes of a real car's bus: never open, and for the right reasons."""
    answer = replay(DRIVE, "drive-refused")
    assert len(answer["refused"]) == 3
    for refusal in answer["refused"]:
        codes = {reason["code"] for reason in refusal["reasons"]}
        assert {Code.PARK_UNKNOWN, Code.IDLE_SPEED_OUTSIDE, Code.VEHICLE_MOVES} <= codes
    assert main(["gates", answer["record"]["check_id"], "--json"]) == 0
    moments = json.loads(capsys.readouterr().out)
    assert len(moments) > 10
    assert not any(moment["open"] for moment in moments)
    for moment in moments[:-1]:  # the last one says that the check is over
        assert Code.PARK_UNKNOWN in {reason["code"] for reason in moment["reasons"]}
    speeding = [m for m in moments if Code.IDLE_SPEED_OUTSIDE in {r["code"] for r in m["reasons"]}]
    assert len(speeding) > len(moments) / 2
    assert "check stopped" in pdf_text(answer).lower()


def test_every_sample_of_the_drive_equals_the_independent_decoding(replay: Any) -> None:
    # The table beside the recording was decoded by its publishers' tool, not by this program.
    record = load(replay(DRIVE, None))
    ours = [
        e for e in record.events
        if isinstance(e, Reading) and e.signal is SignalName.FLUID_TEMPERATURE
    ]  # fmt: skip
    table = Path(__file__).parents[1] / "data" / "family-car-drive.decoded.csv"
    rows = list(csv.DictReader(table.read_text("utf-8").splitlines()))
    assert len(ours) == len(rows) > 2000
    assert [e.value for e in ours] == [float(row["coolant_C"]) for row in rows]
    assert {e.quality for e in ours} == {Quality.GOOD}


def test_replays_stay_out_of_history_unless_asked_for(
    replay: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    vin = replay(CURVE, "runs-off")["record"]["vin"]
    assert main(["history", vin]) == 0
    assert "No finished check" in capsys.readouterr().out
    assert main(["history", vin[-8:].lower(), "--all", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [(each["origin"], each["vin"]) for each in found] == [("replay", vin)]


def test_the_same_inputs_give_the_same_events(replay: Any) -> None:
    first, second = (load(replay(CURVE, "two-top-ups")).events[1:] for _ in range(2))
    assert first == second


def test_units_of_the_united_states(replay: Any) -> None:
    text = pdf_text(replay(CURVE, "two-top-ups", "--units", "us"))
    assert "149 °F" in text
    assert "185 °F" in text
    assert "0.48 US qt" in text  # 0.45 L / 0.946352946
    assert "°C" not in text.replace("15 °C", "")
