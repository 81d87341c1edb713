"""The real program, killed without warning in mid-check, and what its disk then holds.

One round starts ``brimline replay … --acknowledge`` in a process of its own, kills it at a random
moment, holds what it had said against the database, and lets ``brimline resume`` bring the check
to its end; one resumed check in four is killed as well. A data folder serves many rounds, so that
each database has been through all the deaths before.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO, Protocol

from brimline.bootstrap import Bay
from brimline.config import Settings
from brimline.interrupted import Interrupted, open_checks

CHECK = ("replay", "family-car-curve", "--script", "runs-off", "--headless", "--acknowledge")
FASTEST_S, PACED_S = 2.0, 5.0
"""About so long, in s, lasts the check at full speed, and at 100 times its own."""

BOUND_S = 120.0
"""A program that has not ended by then hangs, s."""


class Child(Protocol):
    """A running program whose standard output is read here."""

    output: IO[str]

    def kill(self) -> None:
        """Kill it without warning."""

    def wait(self) -> int:
        """Wait for its end; return its exit code, below 0 for a signal."""


class Launcher(Protocol):
    """Starts the program with words, on a data folder."""

    def __call__(self, words: Sequence[str], folder: Path) -> Child:
        """Return the running program."""


@dataclass(frozen=True)
class Said:
    """What a program had said when it ended: each line with the time (s) at which it was heard."""

    lines: Sequence[tuple[float, str]]
    ended_at: float
    code: int

    def acknowledged(self) -> dict[int, tuple[float, str]]:
        """Time and kind of each event that was said to be on the disk, by its place."""
        return {
            int(seq): (float(t), kind)
            for _, line in self.lines
            for word, seq, t, kind in [_parts(line)]
            if word == "ack"
        }

    def readings(self) -> dict[int, float]:
        """When each reading was heard of (s), by its place in the record."""
        return {
            int(seq): at
            for at, line in self.lines
            for word, seq, _, _ in [_parts(line)]
            if word == "read"
        }


def _parts(line: str) -> tuple[str, str, str, str]:
    parts = line.split()
    word = parts[0] if parts and parts[0] in ("ack", "read") else ""
    if not word or not line.endswith("\n"):  # the last line may be cut off
        return "", "0", "0", ""
    return word, parts[1], parts[2], parts[3] if word == "ack" else "reading"


@dataclass
class Tally:
    """What many rounds came to. All but the first five must be 0, or at most a second."""

    rounds: int = 0
    killed: int = 0
    in_mid_check: int = 0
    resumed: int = 0
    acknowledged: int = 0
    events_lost: int = 0
    readings_lost: int = 0
    oldest_lost_s: float = 0.0
    faults: list[str] = field(default_factory=list)

    def sentence(self) -> str:
        """Return the whole result in words."""
        return (
            f"{self.rounds} rounds, {self.killed} kills, {self.in_mid_check} of them in mid-check, "
            f"{self.resumed} checks resumed and brought to their end; "
            f"{self.acknowledged} events acknowledged, {self.events_lost} of them lost; "
            f"{self.readings_lost} readings lost, the oldest {self.oldest_lost_s:.3f} s old; "
            f"{len(self.faults)} faults"
        )


class CrashTest:
    """Rounds on one data folder.

    :param launch: starts the program.
    :param folder: holds the data; nothing else may be in it.
    """

    def __init__(self, launch: Launcher, folder: Path, seed: int) -> None:
        self._launch = launch
        self._folder = folder
        self._bay = Bay(folder, Settings())
        self._chance = random.Random(seed)
        self._startup_s = 1.0
        self.tally = Tally()

    def run(self, rounds: int) -> Iterator[Tally]:
        """Yield the tally after each round."""
        for number in range(rounds):
            self._round(number)
            self.tally.rounds += 1
            yield self.tally

    def _round(self, number: int) -> None:
        speed, length = ("max", FASTEST_S) if number % 2 else ("100", PACED_S)
        words = (*CHECK, "--speed", speed, "--out", str(self._folder / "out"))
        if number % 10 == 9:  # while it starts
            said = self._strike(words, None, self._chance.uniform(0.0, self._startup_s))
        else:
            said = self._strike(words, self._chance.uniform(0.0, length), None)
        self._look(said, None)
        for check in self._open():
            self.tally.in_mid_check += 1
            self._go_on(check)
        if left := self._open():
            self.tally.faults.append(f"{len(left)} checks are still open")

    def _go_on(self, check: Interrupted) -> None:
        if self._chance.random() < 0.25:
            again = self._strike(self._resume(check), self._chance.uniform(0.0, 1.0), None)
            self._look(again, check.header.number)
            left = self._open()
            if not left:  # it was quicker than the blow
                self.tally.resumed += 1
                return
            (check,) = left
        said = self._strike(self._resume(check), None, None)
        self._look(said, check.header.number)
        header = self._bay.load(str(check.header.number)).header
        if said.code == 0 and header.finished_at is not None:
            self.tally.resumed += 1
        else:
            tail = "".join(line for _, line in said.lines[-3:])
            self.tally.faults.append(f"not resumed (exit code {said.code}): {tail}")

    def _resume(self, check: Interrupted) -> tuple[str, ...]:
        state = check.state
        assert state is not None, check.fault
        plug = "out" if state.plug_is_out else "in"
        engine = "on" if state.engine.running_since is not None else "off"
        out = str(self._folder / "out")
        return (
            "resume", str(check.header.number), "--plug", plug, "--engine", engine,
            "--acknowledge", "--out", out,
        )  # fmt: skip

    def _open(self) -> tuple[Interrupted, ...]:
        return open_checks(self._bay) if self._bay.database_file.exists() else ()

    def _strike(
        self, words: Sequence[str], after_first_s: float | None, after_start_s: float | None
    ) -> Said:
        """Run the program and kill it so long after its first line or its start, or let it end."""
        child = self._launch(words, self._folder)
        started = time.monotonic()
        lines: list[tuple[float, str]] = []
        first = threading.Event()

        def hear() -> None:
            for line in child.output:
                lines.append((time.monotonic(), line))
                first.set()
            first.set()

        ear = threading.Thread(target=hear)
        ear.start()
        guard = threading.Timer(BOUND_S, child.kill)
        guard.start()
        try:
            if after_first_s is not None:
                first.wait(BOUND_S)
                self._startup_s = time.monotonic() - started
                self._sleep_unless_ended(ear, after_first_s)
            elif after_start_s is not None:
                self._sleep_unless_ended(ear, after_start_s)
            if after_first_s is not None or after_start_s is not None:
                child.kill()
            ended_at = time.monotonic()
            code = child.wait()
        finally:
            guard.cancel()
            guard.join()
            ear.join()
            child.output.close()
        self.tally.killed += code == -signal.SIGKILL
        return Said(lines, ended_at, code)

    @staticmethod
    def _sleep_unless_ended(ear: threading.Thread, seconds: float) -> None:
        ear.join(seconds)  # its pipe closes where the program ends first

    def _look(self, said: Said, number: int | None) -> None:
        """Hold what a program said against what the disk has."""
        path = self._bay.database_file
        if not path.exists():
            return
        with closing(sqlite3.connect(path)) as connection:
            found = connection.execute("PRAGMA integrity_check").fetchall()
            has_checks = connection.execute(
                "SELECT name FROM sqlite_master WHERE name = 'checks'"
            ).fetchone()
            newest = has_checks and connection.execute("SELECT max(number) FROM checks").fetchone()
        if found != [("ok",)]:
            self.tally.faults.append(f"integrity: {found[:3]}")
        acknowledged, readings = said.acknowledged(), said.readings()
        self.tally.acknowledged += len(acknowledged)
        if not acknowledged:
            return
        record = number if number is not None else newest[0]
        events = self._bay.load(str(record)).events
        for seq, expected in acknowledged.items():
            event = events[seq - 1] if seq <= len(events) else None
            if event is None or (event.t, event.kind) != expected:
                self.tally.events_lost += 1
        lost = [said.ended_at - at for seq, at in readings.items() if seq > len(events)]
        self.tally.readings_lost += len(lost)
        self.tally.oldest_lost_s = max([self.tally.oldest_lost_s, *lost])


class _Program:
    """The program as its user starts it."""

    def __init__(self, words: Sequence[str], environment: Mapping[str, str]) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "brimline", *words],
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
            env=environment, text=True,
        )  # fmt: skip
        assert self._process.stdout is not None
        self.output: IO[str] = self._process.stdout

    def kill(self) -> None:
        self._process.kill()

    def wait(self) -> int:
        return self._process.wait()


def launch(words: Sequence[str], folder: Path) -> Child:
    """Start the program in a process of its own."""
    return _Program(words, {**os.environ, "BRIMLINE_DATA": str(folder), "PYTHONUTF8": "1"})


def verified(folder: Path) -> str:
    """Return what ``brimline verify`` says of a data folder; empty where all is well."""
    said = subprocess.run(
        [sys.executable, "-m", "brimline", "verify", "--json"],
        env={**os.environ, "BRIMLINE_DATA": str(folder)}, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    return "" if said.returncode == 0 and json.loads(said.stdout) else said.stdout + said.stderr
