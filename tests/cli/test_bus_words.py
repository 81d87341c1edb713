"""``bus list``, ``bus try`` and ``check`` on the command line, without a vehicle or with one."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import pytest
from two_processes import SCRIPT, connection, simulator

from brimline.cli import main
from brimline.config import FILE_NAME, read_settings
from brimline.live_check import origin_of
from brimline.paths import data_folder, resources
from brimline.procedure.events import Origin
from brimline.records.query import SERVICES
from brimline.specsheet.reader import read_sheet


def test_kinds_of_adapter_are_listed(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("brimline.signals.adapters.list_ports.comports", list)
    assert main(["bus", "list"]) == 0
    said = capsys.readouterr().out
    assert (
        "slcan          serial adapters that speak the ASCII protocol (slcan); can listen" in said
    )
    assert main(["bus", "list", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert set(data) == {"kinds", "found", "unanswered"}
    kinds = {kind["name"]: kind for kind in data["kinds"]}
    assert kinds["slcan"]["listens_only"]
    assert not kinds["socketcand"]["listens_only"]


@pytest.mark.expects_log  # the log keeps every error with its detail
@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["bus", "try"], "No connection to a vehicle is set"),
        (["bus", "try", "--interface", "teacup"], "teacup"),
        (["bus", "try", "--interface", "virtual", "--bitrate", "-1"], "bitrate"),
        (["bus", "try", "--interface", "virtual", "--seconds", "-1"], "0.5 s to 30 s"),
        (["bus", "try", "--interface", "socketcand"], "options host and port"),
        (["bus", "try", "--interface", "virtual", "--option", "x"], "write KEY=VALUE"),
        (["check", "--script", SCRIPT], "No connection to a vehicle is set"),
        (["check", "--script", "nothing"], "There is no script"),
        (["check", "--script", SCRIPT, "--duty", "x"], "has no duty"),
        (["check", "--script", SCRIPT, "--speed", "max"], "takes the time that it takes"),
    ],
)
def test_what_cannot_be_is_one_sentence(
    words: list[str], sentence: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    more = ["--out", str(tmp_path / "out")] if words[0] == "check" else []
    assert main([*words, *more]) == 1
    said = capsys.readouterr().err
    assert sentence in said
    assert said.count("\n") == 1


def test_a_bus_without_a_vehicle_is_tried_and_not_kept(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["bus", "try", "--interface", "virtual", "--channel", "nobody", "--seconds", "0.5"]
    assert main([*words, "--save"]) == 1
    said = capsys.readouterr().out
    assert said.startswith("The adapter opens, but the vehicle is silent")
    assert "Generic OBD has no transmission-fluid temperature" in said
    assert not (data_folder() / FILE_NAME).exists()
    assert main([*words, "--no-ask", "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert (data["works"], data["asked"], data["listened_only"]) == (False, False, True)


@pytest.mark.parametrize("port", [["--socketcand", "0"], []])
def test_a_simulated_vehicle_is_tried_and_kept(
    port: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    if not port and os.name != "posix":
        pytest.skip("pseudo-terminals are POSIX")
    with simulator(["--second-unit", *port]) as (_, address):
        words = [*connection(address), "--seconds", "0.5"]
        assert main(["bus", "try", *words, "--save"]) == 0
        said = capsys.readouterr().out
        assert "It works: 2 control units answered." in said
        # It cools while a loaded computer takes its time.
        known = r"PIDs 05 0C 0D; coolant 5[0-2] °C; engine 0 rpm; VIN 0THFC3K71RL104218"
        assert re.search(f"Control unit 7E8: {known}", said)
        kept = read_settings(data_folder()).connection
        assert kept.is_chosen
        # and from then on the settings are enough
        assert main(["bus", "try", "--seconds", "0.5", "--units", "us"]) == 0
        assert re.search(r"coolant 12[0-6] °F", capsys.readouterr().out)


def test_what_an_invented_sheet_says_is_no_vehicles_history() -> None:
    invented = read_sheet(resources() / "sheets" / "k7-demo.toml")
    assert origin_of(invented) is Origin.TRAINING
    assert origin_of(invented) not in SERVICES
    assert origin_of(invented.model_copy(update={"invented": False})) is Origin.LIVE
