"""The starter's verbs: none (set-up, then the main job), setup, test, bench, crash-test, screens,
translate, lock.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import time
from typing import TYPE_CHECKING

import start_checks
import start_libraries
import start_lock
import start_translate
import start_venv
from start_common import ROOT, StartError, say, start_log

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

DEMONSTRATION = ("demo",)
WITHOUT_DISPLAY = ("demo", "--auto", "--out", "out/demo")


def parser() -> argparse.ArgumentParser:
    """Build the parser of the words before a ``--``; those after it are handed on."""
    made = argparse.ArgumentParser(
        prog="start.py",
        description="Set Brimline up in .venv and start it.",
        epilog="Words after `--` go to brimline itself, with `test` to pytest and with `bench` "
        "to the benchmark: start.py -- history VIN, start.py test -- -k gates",
    )
    verbs = made.add_subparsers(dest="verb", metavar="VERB", title="verbs (none: the main job)")
    verbs.add_parser("setup", help="make or renew .venv and the database, and stop there")
    verbs.add_parser("test", help="run everything CI runs")
    bench = verbs.add_parser("bench", help="run the benchmarks, or one of them")
    bench.add_argument("name", nargs="?", metavar="NAME", help="the one to run")
    crash = verbs.add_parser("crash-test", help="kill the program in mid-check, again and again")
    crash.add_argument("--count", type=int, default=100, metavar="N", help="how often (100)")
    screens = verbs.add_parser("screens", help="picture every screen, in all sizes and looks")
    screens.add_argument("--out", default="out/screens", metavar="DIR", help="where to")
    verbs.add_parser("translate", help="gather what people read, and compile its translations")
    lock = verbs.add_parser("lock", help="remake packaging/requirements.lock")
    lock.add_argument("--upgrade", action="store_true", help="raise all pins")
    return made


def split(words: Sequence[str]) -> tuple[list[str], list[str]]:
    """Part the command line at its first ``--`` into our words and those handed on."""
    ours = list(words)
    if "--" not in ours:
        return ours, []
    at = ours.index("--")
    return ours[:at], ours[at + 1 :]


def has_display(platform: str, environment: Mapping[str, str]) -> bool:
    """Tell whether a window could open: always on Windows and macOS, else by the environment."""
    if platform in {"win32", "darwin"}:
        return True
    return bool(environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"))


def set_up() -> Path:
    """Bring system libraries and the environment into order; give the environment's Python."""
    start_log()
    start_libraries.ensure()
    return start_venv.set_up()


def make_database(python: Path) -> None:
    """Let brimline make its database on the first run, or bring it to this version."""
    done = subprocess.run([str(python), "-m", "brimline", "init"], cwd=ROOT, check=False)
    if done.returncode != 0:
        raise StartError("The database could not be made ready.")


def main_job(python: Path, handed_on: Sequence[str]) -> int:
    """Run brimline with the words handed on, else the shipped demonstration check."""
    words: Sequence[str] = handed_on
    if not words and has_display(sys.platform, os.environ):
        say(
            "Opening the window on a simulated vehicle; the strip at the bottom says what to press."
        )
        words = DEMONSTRATION
    elif not words:
        say("There is no display here: a whole check runs by itself on a simulated vehicle,")
        say("at full speed; pictures of its screens, its record and its summary are kept.")
        words = WITHOUT_DISPLAY
    code = subprocess.run([str(python), "-m", "brimline", *words], cwd=ROOT, check=False).returncode
    if code < 0:
        raise StartError(f"Brimline was ended by signal {-code}.")
    return code


def test(handed_on: Sequence[str]) -> int:
    """Run everything CI runs."""
    begin = time.monotonic()
    failed = start_checks.run_all(start_checks.checks(set_up(), handed_on))
    seconds = f"{time.monotonic() - begin:.0f} s"
    say(f"Failed: {', '.join(failed)} ({seconds})" if failed else f"All is well ({seconds}).")
    return 1 if failed else 0


def bench(name: str | None, handed_on: Sequence[str]) -> int:
    """Run the benchmarks, or the one named."""
    names = start_checks.chosen_benchmarks(name, start_checks.benchmark_names())
    if not names:
        say("There are no benchmarks yet in tests/benchmarks.")
        return 0
    return 1 if start_checks.run_benchmarks(set_up(), names, handed_on) else 0


def run(words: Sequence[str]) -> int:
    """Carry out one command line; failures are exceptions."""
    ours, handed_on = split(words)
    chosen = parser().parse_args(ours)
    if chosen.verb == "test":
        return test(handed_on)
    if chosen.verb == "bench":
        return bench(chosen.name, handed_on)
    if chosen.verb == "crash-test":
        return start_checks.run_crash_test(set_up(), chosen.count, handed_on)
    if chosen.verb is None:
        # It makes its database itself, and leads to a backup where that is damaged.
        return main_job(set_up(), handed_on)
    if handed_on:
        parser().error(f"`{chosen.verb}` hands nothing on, so there can be no words after `--`")
    if chosen.verb in ("screens", "translate"):
        python, pictures = set_up(), chosen.verb == "screens"
        return (
            main_job(python, ("screens", "--out", chosen.out))
            if pictures
            else start_translate.translate(python)
        )
    if chosen.verb == "lock":
        start_log()
        start_lock.remake(chosen.upgrade)
    else:
        make_database(set_up())
    return 0


def main(words: Sequence[str]) -> int:
    """Carry out one command line.

    :returns: the exit code; a failing step is one sentence on standard error.
    """
    try:
        return run(words)
    except StartError as error:
        sentence = str(error)
    except OSError as error:
        what = f" ({error.filename})" if error.filename else ""
        sentence = f"The system refused{what}: {error.strerror or error}."
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return 130
    print(sentence, file=sys.stderr)
    return 1
