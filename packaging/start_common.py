"""What every part of the starter shares: places, plain output, commands whose output is logged."""

from __future__ import annotations

import os
import shlex
import subprocess
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

ROOT = Path(__file__).resolve().parent.parent
LOCK = ROOT / "packaging" / "requirements.lock"
LOG = ROOT / "out" / "start.log"


class StartError(Exception):
    """A step failed; its text is the one sentence the user reads."""


@dataclass(frozen=True)
class Outcome:
    """How a logged command ended: its exit code and all it printed."""

    code: int
    text: str


def say(line: str) -> None:
    """Print one line now, so that it stands in order with what child processes print."""
    print(line, flush=True)


def shown(path: Path) -> str:
    """Name a path as the user would type it from the project's folder."""
    return path.relative_to(ROOT).as_posix() if path.is_relative_to(ROOT) else str(path)


def start_log() -> None:
    """Begin an empty log, so that it tells of this start only."""
    LOG.parent.mkdir(parents=True, exist_ok=True)
    LOG.write_bytes(b"")


def run_logged(command: Sequence[str], extra: Mapping[str, str] | None = None) -> Outcome:
    """Run a command without standard input, its output appended to the log.

    :param extra: environment variables set besides the present ones.
    :raises OSError: the program cannot be started, or the log cannot be written.
    """
    LOG.parent.mkdir(parents=True, exist_ok=True)
    with LOG.open("ab") as log:
        log.write(f"$ {shlex.join(command)}\n".encode())
        log.flush()
        begin = log.tell()
        code = subprocess.run(
            command,
            cwd=ROOT,
            env={**os.environ, **(extra or {})},
            stdin=subprocess.DEVNULL,
            stdout=log,
            stderr=subprocess.STDOUT,
            check=False,
        ).returncode
    return Outcome(code, LOG.read_bytes()[begin:].decode(errors="replace"))
