"""A whole check over TCP within this computer: frames are lost, and the server is away twice."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from two_processes import (
    BOUND_S,
    SCRIPT,
    SPEED,
    assert_only_true_temperatures,
    check_on_a_cut_line,
    connection,
    simulator,
)


@pytest.mark.long
def test_a_check_survives_a_bad_line_and_accepts_no_wrong_temperature(tmp_path: Path) -> None:
    run = check_on_a_cut_line(
        tmp_path, ["--socketcand", "0"], "--busy", "0.05", "--pending", "0.02"
    )
    assert run.code == 0, run.said
    assert "Verdict: level corrected" in run.said
    assert run.losses >= 2
    assert run.said.count("The connection to the vehicle's bus is lost") >= 2
    assert run.said.count("The vehicle's bus is back.") >= 2
    assert "busy repeat request (code 21)" in run.said
    assert_only_true_temperatures(run)


@pytest.mark.skipif(os.name != "posix", reason="Ctrl+C cannot be sent to one process elsewhere")
def test_a_check_that_somebody_interrupts_is_closed_as_stopped(tmp_path: Path) -> None:
    with simulator(["--arrival", "63", "--socketcand", "0"]) as (_, address):
        process = subprocess.Popen(
            [sys.executable, "-u", "-W", "error", "-m", "brimline", "check", "--script", SCRIPT,
             "--speed", f"{SPEED:g}", "--out", str(tmp_path / "out"), *connection(address)],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            env={**os.environ, "BRIMLINE_DATA": str(tmp_path / "data")},
        )  # fmt: skip
        try:
            assert process.stdout is not None
            said = ""
            for line in process.stdout:  # nobody starts the engine, so that it waits
                said += line
                if "  waiting for" in line:  # once: a second one would end the process
                    process.send_signal(signal.SIGINT)
            assert process.wait(timeout=BOUND_S) == 1
        finally:
            process.kill()
            process.communicate(timeout=BOUND_S)
    assert "waiting for “confirmed lift_locked”: The engine is not running." in said
    assert "Verdict: check stopped (somebody stopped the script while" in said
    assert "Work summary" in said
    assert (tmp_path / "out" / "record-1.jsonl").is_file()
