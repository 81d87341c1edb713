"""What CI runs, and the benchmarks, both with the environment's Python."""

from __future__ import annotations

import os
import subprocess
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

import start_venv
from start_common import ROOT, StartError, say, shown

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

BENCHMARKS = ROOT / "tests" / "benchmarks"


# Each test stands alone, and a slow one holds up no other. Three processes, on two cores: some
# tests wait for programs that they started.
_SHARED = ("-n", "3", "--dist", "worksteal")


@dataclass(frozen=True)
class Check:
    """One tool of CI: what it is called here, and its command."""

    name: str
    command: tuple[str, ...]


def checks(python: Path, pytest_arguments: Sequence[str]) -> tuple[Check, ...]:
    """List what CI runs, in order; pytest is last, so that its closing line is near the end."""
    run = (str(python), "-m")
    linter = start_venv.script_of(start_venv.VENV, "lint-imports")
    return (
        Check("ruff check", (*run, "ruff", "check", ".")),
        Check("ruff format", (*run, "ruff", "format", "--check", ".")),
        Check("mypy", (*run, "mypy")),
        Check("mypy packaging", (*run, "mypy", "packaging/start.py")),
        Check("lint-imports", (str(linter),)),
        Check("pytest", (*run, "pytest", *_SHARED, *pytest_arguments)),
    )


def _call(command: Sequence[str]) -> int:
    # Qt draws nowhere: the same result with and without a screen, and no windows popping up.
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    # Else every process of the tests, and every program they start, would compile all it imports.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    try:
        return subprocess.run(
            command, cwd=ROOT, env=environment, stdin=subprocess.DEVNULL, check=False
        ).returncode
    except FileNotFoundError as error:
        raise StartError(
            f"{error.filename} is missing: remove the folder .venv and start again."
        ) from error


def run_all(listed: Sequence[Check], call: Callable[[Sequence[str]], int] = _call) -> list[str]:
    """Run every check, whatever fails, and print one line about each.

    :returns: the names of those that failed.
    """
    failed = []
    for check in listed:
        begin = time.monotonic()
        code = call(check.command)
        word = "ok" if code == 0 else f"failed (exit code {code})"
        say(f"{check.name}: {word}, {time.monotonic() - begin:.1f} s")
        if code != 0:
            failed.append(check.name)
    return failed


def benchmark_names(folder: Path = BENCHMARKS) -> list[str]:
    """Name the benchmarks there are: ``tests/benchmarks/bench_NAME.py``."""
    return sorted(path.stem.removeprefix("bench_") for path in folder.glob("bench_*.py"))


def chosen_benchmarks(name: str | None, known: Sequence[str]) -> list[str]:
    """Pick one benchmark by name, or all.

    :raises StartError: there is none of that name.
    """
    if name is None:
        return list(known)
    if name in known:
        return [name]
    there = f"there are: {', '.join(known)}" if known else "there are none yet"
    raise StartError(f"There is no benchmark named {name}; {there}.")


def run_benchmarks(python: Path, names: Sequence[str], arguments: Sequence[str]) -> list[str]:
    """Run benchmarks one after the other as scripts.

    :returns: the names of those that failed.
    """
    listed = []
    for name in names:
        path = BENCHMARKS / f"bench_{name}.py"
        say(f"Benchmark: {shown(path)}")
        listed.append(Check(f"bench {name}", (str(python), str(path), *arguments)))
    return run_all(listed)


def run_crash_test(
    python: Path,
    count: int,
    arguments: Sequence[str],
    call: Callable[[Sequence[str]], int] = _call,
) -> int:
    """Kill the program in mid-check so often; return the exit code."""
    script = str(BENCHMARKS / "crash_test.py")
    return call((str(python), script, "--count", str(count), *arguments))
