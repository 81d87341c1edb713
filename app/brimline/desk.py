"""The window's wiring: what bootstrap makes, handed to the screens as they ask for it.

Imported only when a window opens, so that the command line runs without Qt.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from brimline import paths, wording
from brimline.bootstrap import Bay
from brimline.errors import ReportError
from brimline.records.model import Header
from brimline.simulator.families import FAMILIES
from brimline.simulator.faults import FAULTS
from brimline.ui.services import DemoOrder, FinishedRow, RunningDemo, Services
from brimline.units import UnitSystem

Clock = Callable[[], float]


def services(
    bay: Bay, units: UnitSystem, summaries: Path, clock: Callable[[float], Clock] | None = None
) -> Services:
    """Return what the window needs.

    :param summaries: the folder that work summaries are written into.
    :param clock: makes the clock of a check from its speed; real time where left out.
    """
    make_clock = clock if clock is not None else real_clock

    def begin_demo(order: DemoOrder) -> RunningDemo:
        session, controls, stack = bay.begin_demo(
            order.family, order.fault or None, make_clock(order.speed)
        )
        return RunningDemo(session, controls, stack.close)

    def write_summary(number: int) -> Path:
        try:
            summaries.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise ReportError(
                f"The folder {summaries} cannot be made: {error.strerror or error}."
            ) from error
        path = summaries / f"work-summary-{number}.pdf"
        bay.write_summary(bay.load(str(number)), path, units)
        return path

    return Services(
        shop=bay.settings.shop_name,
        units=units,
        fonts=paths.resources() / "fonts",
        demo_families=tuple(FAMILIES),
        demo_faults=tuple(FAULTS.items()),
        begin_demo=begin_demo,
        finished=lambda: [_row(header) for header in bay.finished()],
        write_summary=write_summary,
    )


def real_clock(speed: float) -> Clock:
    """Return a clock of the check that runs so many times as fast as real time."""
    start = time.monotonic()
    return lambda: (time.monotonic() - start) * speed


def _row(header: Header) -> FinishedRow:
    return FinishedRow(
        number=header.number,
        date=f"{header.opened_at:%Y-%m-%d}",
        vin=header.vin,
        family=header.family,
        verdict=wording.VERDICTS[header.verdict] if header.verdict else "",
        technician=header.technician,
        origin=header.origin.value,
    )
