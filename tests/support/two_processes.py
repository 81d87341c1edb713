"""A simulated vehicle in one process, a check without a window in another, and what each tells."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from threading import Timer
from typing import Any

SCRIPT = "k7-on-its-bus"
SPEED = 20.0
"""Both processes run so many times as fast as the clock."""

BOUND_S = 90.0
"""A computer under load; without any a run takes a fifth of this."""

# What somebody does at the vehicle, and to the cable, as the check enters its stages.
HANDS = {
    "On the ground": (
        "engine on",
        "after 5 range R",
        "after 25 range N",
        "after 45 range D",
        "after 65 range P",
        "after 100 cut 10",
    ),
    "Raise": ("lift up",),
    "First look": ("plug out", "after 8 cut 10"),
    "Close": ("plug in",),
}


@dataclass(frozen=True)
class Run:
    """What came of it.

    :param said: everything that the check printed.
    :param readings: every event of the record that is a reading.
    :param truth: wall clock (s), true temperature and what the sensor told (°C), step by step.
    """

    code: int
    said: str
    header: dict[str, Any]
    readings: list[dict[str, Any]]
    truth: list[tuple[float, float, float]]
    recording: Path

    @property
    def losses(self) -> int:
        """How often the check says that it lost its connection."""
        found = re.search(r"lost (\d+) times", self.said)
        return int(found[1]) if found else 0

    def accepted(self) -> list[tuple[float, float]]:
        """Return wall clock (s) and value of every temperature that was taken as good."""
        opened = datetime.fromisoformat(self.header["opened_at"]).timestamp()
        return [
            (opened + each["t"] / SPEED, each["value"])
            for each in self.readings
            if each["signal"] == "fluid_temperature" and each["quality"] == "good"
        ]

    def told_between(self, start: float, end: float) -> list[tuple[float, float, float]]:
        """Return the vehicle's own account between two moments of the wall clock (s)."""
        times = [moment for moment, _, _ in self.truth]
        return self.truth[max(0, bisect_left(times, start) - 1) : bisect_right(times, end)]


def check_on_a_cut_line(folder: Path, port: list[str], *faults: str) -> Run:
    """Run a whole check while frames are lost and the cable is out twice for ten seconds.

    :param port: words that choose the simulator's port.
    :param faults: more words for the simulator.
    """
    truth = folder / "truth.csv"
    words = ["--arrival", "63", "--drop", "0.05", "--truth", str(truth), *port, *faults]
    with simulator(words) as (vehicle, address):
        code, said = _check(folder, address, vehicle)
    record, recording = folder / "out" / "record-1.jsonl", folder / "out" / "record-1.log"
    header, *events = [json.loads(line) for line in record.read_text("utf-8").splitlines()]
    return Run(
        code=code,
        said=said,
        header=header,
        readings=[each for each in events if each["kind"] == "reading"],
        truth=[_truth(line) for line in truth.read_text("utf-8").splitlines()],
        recording=recording,
    )


def _truth(line: str) -> tuple[float, float, float]:
    wall, _, fluid, sensor = (float(part) for part in line.split(","))
    return wall, fluid, sensor


@contextmanager
def simulator(words: list[str]) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Yield a simulated vehicle in another process, and where it can be reached."""
    command = [sys.executable, "-W", "error", "-m", "brimline.simulator", "--speed", f"{SPEED:g}"]
    process = subprocess.Popen(
        [*command, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        assert process.stdout is not None
        address = process.stdout.readline().strip().removeprefix("port ")
        yield process, address
        _, errors = process.communicate(timeout=BOUND_S)  # closes its input, which ends it
        assert errors == ""
        assert process.returncode == 0
    finally:
        process.kill()
        process.communicate(timeout=BOUND_S)


def connection(address: str) -> list[str]:
    """Return the words that connect a check with a simulator's port."""
    host, colon, number = address.rpartition(":")
    if colon:
        where = ["--option", f"host={host}", "--option", f"port={number}"]
        return ["--interface", "socketcand", "--channel", "can0", *where]
    return ["--interface", "slcan", "--channel", address, "--option", "sleep_after_open=0.0"]


def _check(folder: Path, address: str, vehicle: subprocess.Popen[str]) -> tuple[int, str]:
    words = ["check", "--script", SCRIPT, "--record", *connection(address)]
    return brimline(folder, [*words, "--out", str(folder / "out")], vehicle)


def brimline(
    folder: Path, words: list[str], vehicle: subprocess.Popen[str], killed_at: str = ""
) -> tuple[int, str]:
    """Run a check in another process, with somebody at the vehicle; return code and all it said.

    :param folder: has the data folder in it.
    :param killed_at: the stage at which the program is killed.
    """
    command = [
        sys.executable, "-u", "-W", "error", "-m", "brimline", *words,
        "--speed", f"{SPEED:g}",
    ]  # fmt: skip
    process = subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "BRIMLINE_DATA": str(folder / "data")},
    )
    bound = Timer(BOUND_S, process.kill)
    bound.start()
    said = ""
    try:
        assert process.stdout is not None
        assert vehicle.stdin is not None
        for line in process.stdout:
            said += line
            if killed_at and f"== {killed_at}" in line:
                process.kill()
                break
            for stage, deeds in HANDS.items():
                if f"== {stage}" in line:
                    vehicle.stdin.write("".join(f"{deed}\n" for deed in deeds))
                    vehicle.stdin.flush()
        return process.wait(timeout=BOUND_S), said
    finally:
        bound.cancel()
        bound.join()
        process.kill()
        process.communicate(timeout=BOUND_S)


def assert_only_true_temperatures(run: Run) -> None:
    """Every temperature that was taken as good is one that the vehicle told just before.

    The program throws away what is older than 3 s of the check; half a second of the clock is
    allowed besides for two processes on a loaded computer. A tenth of a degree is the sheet's
    resolution; the sensor stays within 0.5 K of its lagging element.
    """
    accepted = run.accepted()
    assert len(accepted) > 100
    for wall, value in accepted:
        told = run.told_between(wall - 3.0 / SPEED - 0.5, wall + 0.1)
        assert any(abs(sensor - value) < 0.051 for _, _, sensor in told), (wall, value)
        assert min(abs(fluid - value) for _, fluid, _ in told) < 1.0, (wall, value)
