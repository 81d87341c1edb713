"""The window's wiring: what bootstrap makes, handed to the screens as they ask for it.

Imported only when a window opens, so that the command line runs without Qt.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from brimline import desk_bus, desk_find, desk_open, desk_records, interrupted, paths, wording
from brimline.aside import Turns
from brimline.bootstrap import Bay
from brimline.errors import BusError, ReportError
from brimline.live_check import running_clock
from brimline.reading import Way
from brimline.simulator.families import FAMILIES
from brimline.simulator.names import DEMO_FAMILY, fault_words
from brimline.specsheet.model import SpecSheet
from brimline.translation import capitalised, tr
from brimline.ui.ports.keeping import Keeping
from brimline.ui.ports.services import (
    BeginHandle,
    Begun,
    BusServices,
    CheckOrder,
    DemoOrder,
    Duty,
    FromAfar,
    RunningCheck,
    Services,
    SheetChoice,
    SheetList,
)
from brimline.units import UnitSystem

Clock = Callable[[], float]


def services(
    bay: Bay,
    units: UnitSystem,
    summaries: Path,
    clock: Callable[[float], Clock] | None = None,
    bus: BusServices | None = None,
    turns: Turns | None = None,
    keeping: Keeping | None = None,
    now: interrupted.Now = interrupted.utc_now,
) -> Services:
    """Return what the window needs.

    :param summaries: the folder that work summaries are written into.
    :param clock: makes the clock of a check from its speed; real time where left out.
    :param bus: the way to a vehicle's bus; without one, checks on vehicles are keyed.
    :param turns: those of that bus, of which one after the other opens the adapter.
    :param keeping: backups and restoring.
    :param now: the time of day, by which an interrupted check goes on.
    """
    make_clock = clock if clock is not None else running_clock

    def begin_demo(order: DemoOrder) -> RunningCheck:
        session, controls, stack = bay.begin_demo(
            order.family, order.fault or None, make_clock(order.speed)
        )
        return RunningCheck(session, stack.close, controls, rescue=interrupted.rescuer(session))

    def begin_check(order: CheckOrder) -> BeginHandle:
        if order.way is not Way.KEYED:
            if turns is None:
                raise BusError(
                    tr("This program cannot reach a vehicle's bus; key the temperatures.")
                )
            return desk_bus.LiveBeginning(bay, order, lambda: make_clock(1.0), turns)
        session, stack = bay.begin_keyed(order.technician, order.sheet, order.duty, make_clock(1.0))
        return Begun(RunningCheck(session, stack.close, rescue=interrupted.rescuer(session)))

    def write_summary(number: int) -> Path:
        try:
            summaries.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise ReportError(
                tr(
                    "The folder {summaries} cannot be made: {why}.",
                    summaries=summaries,
                    why=error.strerror or error,
                )
            ) from error
        path = summaries / f"work-summary-{number}.pdf"
        bay.write_summary(bay.load(str(number)), path, units)
        return path

    return Services(
        shop=bay.settings.shop_name,
        units=units,
        fonts=paths.resources() / "fonts",
        demo_families=tuple(FAMILIES),
        demo_family=DEMO_FAMILY,
        demo_faults=lambda: fault_words(units),
        begin_demo=begin_demo,
        finding=desk_find.finding(bay, units),
        write_summary=write_summary,
        sheets=lambda: _sheets(bay),
        begin_check=begin_check,
        bus=bus,
        keeping=keeping,
        interrupted=desk_open.open_services(bay, units, make_clock, turns or Turns(), now),
        attaching=desk_records.attaching(bay.attachments),
        afar=FromAfar(bay.settings.display.reading_distance_m, bay.settings.input.button_key),
    )


def _sheets(bay: Bay) -> SheetList:
    sheets, faults = bay.sheets.guided()
    families = [sheet.transmission.family for sheet in sheets]
    return SheetList(
        tuple(_choice(sheet, families.count(sheet.transmission.family) > 1) for sheet in sheets),
        tuple(fault.sentence for fault in faults),
    )


def _choice(sheet: SpecSheet, by_id: bool) -> SheetChoice:
    """Return a sheet as it stands in a list; several of one family are told apart by their id."""
    known = sheet.id if by_id else sheet.transmission.family
    return SheetChoice(
        id=sheet.id,
        words=tr("{sheet}, rev. {revision}", sheet=known, revision=sheet.source.revision),
        duties=tuple(Duty(name, capitalised(wording.duty(name))) for name in sheet.bands),
        training_only=sheet.invented,
        tells_temperature=sheet.signals.fluid_temperature is not None,
    )
