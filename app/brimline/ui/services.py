"""What the window asks of the rest of the program; bootstrap hands it in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from brimline.session import CheckSession
from brimline.ui.demo_strip import DemoControls
from brimline.units import UnitSystem


@dataclass(frozen=True)
class FinishedRow:
    """One finished check in the list."""

    number: int
    date: str
    vin: str
    family: str
    verdict: str
    technician: str
    origin: str


@dataclass(frozen=True)
class DemoOrder:
    """Which demonstration to run.

    :param fault: empty for a sound vehicle; ``speed``: times as fast as real.
    """

    family: str
    fault: str
    speed: float


@dataclass(frozen=True)
class RunningDemo:
    """A demonstration that has begun; ``end`` gives back what it holds."""

    session: CheckSession
    controls: DemoControls
    end: Callable[[], None]


@dataclass(frozen=True)
class Services:
    """Everything the window needs.

    :param demo_families: names of the simulated families.
    :param demo_faults: name and words of each simulated fault.
    :param begin_demo: starts one; raises ``BrimlineError`` with one sentence.
    :param finished: the finished checks, newest first, replays and training included.
    :param write_summary: writes the work summary of a record by its number; returns its path.
    """

    shop: str
    units: UnitSystem
    fonts: Path
    demo_families: Sequence[str]
    demo_faults: Sequence[tuple[str, str]]
    begin_demo: Callable[[DemoOrder], RunningDemo]
    finished: Callable[[], Sequence[FinishedRow]]
    write_summary: Callable[[int], Path]
