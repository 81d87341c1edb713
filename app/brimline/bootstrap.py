"""The only place where the parts are wired together, by constructor."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Protocol

from brimline import __version__, paths
from brimline.check_runner import CheckRunner, Observer
from brimline.config import DEMO_SHOP, Settings
from brimline.demo import SimulatedBay, simulated_bay
from brimline.errors import CannotGuideError, ReportError, ScriptError
from brimline.finishing import finish_record, past_warm_ups
from brimline.headless.acknowledged import Say, acknowledging
from brimline.headless.driver import Driver, Stuck
from brimline.headless.pace import pace_at
from brimline.headless.script import Script, read_script
from brimline.procedure import VERSION
from brimline.procedure.events import CheckOpened, Event, Origin, TapEvent
from brimline.procedure.state import CheckState
from brimline.reading import Reading, SignalName
from brimline.records import recovery, rescue, tail
from brimline.records.attachments import Attachments
from brimline.records.database import Database, Tell
from brimline.records.export import write_record
from brimline.records.journal import Journal
from brimline.records.model import Header, Record
from brimline.records.query import SERVICES, Query
from brimline.records.repository import Repository
from brimline.records.saver import Saver
from brimline.records.search import MOST, PAGE, Hit, Page, Search
from brimline.session import CheckSession, Readings
from brimline.signals.library import find_recording, open_source
from brimline.signals.manual import KeyedSource
from brimline.signals.quality import QualityAssessor
from brimline.signals.source import ReadingSource
from brimline.simulator.vehicle import make_vehicle
from brimline.specsheet.library import SheetLibrary
from brimline.specsheet.model import NORMAL_DUTY, SheetStatus, SpecSheet
from brimline.specsheet.reader import require_guided
from brimline.translation import in_english, tr
from brimline.units import UnitSystem

_SHEETS_OF_SHIPPED = {
    "family-car-drive": "family-car-demo",
    "family-car-curve": "family-car-demo",
}
"""The demonstration sheet that each shipped recording was mapped in."""


PRINTED_PX = 640
"""Longer side of a printed photo: 300 to an inch where it is 54 mm wide."""

DEMO_TECHNICIAN = "R. Calloway (invented)"


class Described(Protocol):
    """What a record says of where its readings come from."""

    @property
    def description(self) -> str:
        """In words."""

    @property
    def declared(self) -> frozenset[SignalName]:
        """The signals that are measured."""


@dataclass(frozen=True)
class ReplayOrder:
    """What to replay: a recording (path or shipped name) with a sheet and a script.

    :param acknowledge: is told line by line what is in the journal, see
        :mod:`brimline.headless.acknowledged`.
    """

    recording: str
    sheet: str | None
    script: str | None
    speed: float | None
    out: Path
    acknowledge: Say | None = None


@dataclass(frozen=True)
class ReplayOutcome:
    """What came of it."""

    header: Header
    state: CheckState
    stuck: Stuck | None
    summary: Path
    copy: Path
    database: Path
    warning: str


class Bay:
    """The parts of one bay, made on demand from one data folder.

    :param tell: is told in a sentence before the database is brought to this version.
    """

    def __init__(
        self, folder: Path, settings: Settings, tell: Tell = lambda _sentence: None
    ) -> None:
        self.folder = folder
        self.settings = settings
        self._tell = tell
        self._unnoted: dict[str, tail.Unnoted] = {}
        self.replayed: dict[str, tuple[int, CheckState]] = {}
        """How interrupted checks stand that were gone through, see :mod:`.interrupted`."""

    @property
    def database_file(self) -> Path:
        """Where the records lie."""
        return paths.database_file(self.folder)

    @property
    def attachments(self) -> Attachments:
        """The photos and other files beside the records."""
        return Attachments(self.database_file.parent)

    def shop_name(self, origin: Origin) -> str:
        """The shop's name as record and summary have it; empty where none was ever said."""
        return self.settings.shop_name or ("" if origin in SERVICES else DEMO_SHOP)

    @property
    def summaries(self) -> Path:
        """Where the window puts work summaries."""
        return self.folder / "summaries"

    @property
    def sheets(self) -> SheetLibrary:
        """The sheets that ship and those of the shop."""
        return SheetLibrary((paths.resources() / "sheets", self.folder / "sheets"))

    @contextmanager
    def records(self, *, writer: bool = False) -> Iterator[Database]:
        """Open the database; ``writer`` for a running check.

        :raises DamagedError: it is damaged, or gone though there were records in it.
        """
        recovery.require(self.database_file)
        with (
            Database.open(
                self.database_file, writer=writer, tell=self._tell, unnoted=self._unnoted
            ) as database,
            tail.noting_late(database),
        ):
            yield database

    def load(self, record_id: str) -> Record:
        """Load one record by its number or id."""
        with self.records() as database:
            return Repository(database).load(record_id)

    @contextmanager
    def search(self) -> Iterator[Search]:
        """Open the database for looking finished checks up.

        :raises BrimlineError: as :meth:`records` does.
        """
        with self.records() as database, Search(database) as search:
            yield search

    def find(self, *queries: Query, limit: int = PAGE, after: str = "") -> Page:
        """Look finished checks up once, as :meth:`.search.Search.find` does."""
        with self.search() as search:
            return search.find(*queries, limit=limit, after=after)

    def last_check(self, vin: str) -> Hit | None:
        """Return the newest service on record of the vehicle with this VIN, by what it says now."""
        hits = self.find(Query(vin=vin), limit=MOST).hits
        return next((hit for hit in hits if hit.vin == vin), None)

    def write_record(self, record: Record, folder: Path) -> Path:
        """Write a copy of a record into a folder; returns the file."""
        path = folder / f"record-{record.header.number}.jsonl"
        write_record(record, path)
        return path

    def write_summary(self, record: Record, path: Path, units: UnitSystem) -> None:
        """Write the customer's work summary of a finished check."""
        from brimline.report import summary, writer  # noqa: PLC0415 - history needs no reportlab

        shop = summary.Shop(
            name=self.shop_name(record.header.origin),
            address=self.settings.shop_address,
            phone=self.settings.shop_phone,
        )
        with in_english():  # a page is in one language, and this one's words are
            writer.write_summary(
                record, path, units=units, shop=shop,
                pictures=lambda file: self.attachments.preview(file, PRINTED_PX),
            )  # fmt: skip

    def replay(
        self,
        order: ReplayOrder,
        units: UnitSystem,
        observe: Observer,
        begun: Callable[[CheckRunner, ReadingSource], None],
    ) -> ReplayOutcome:
        """Replay a recording through a whole check, keep its record and write its summary."""
        recording = find_recording(order.recording)
        script = self.script(order.script)
        sheet = self._sheet(order, script)
        source = open_source(recording, sheet.signals, sheet_id=sheet.id)
        duty = script.duty if script else "normal"
        if duty not in sheet.bands:
            raise ScriptError(tr("Spec sheet {id} has no duty “{duty}”.", id=sheet.id, duty=duty))
        require_writable(order.out)
        with self.records(writer=True) as database:
            journal = Journal(database)
            technician = script.technician if script else "nobody (replay)"
            opened = self.opening(sheet, duty, source, script, Origin.REPLAY, technician)
            port = acknowledging(journal, order.acknowledge)
            runner = CheckRunner(opened, port, observe, past_warm_ups(database, opened))
            begun(runner, source)
            steps = script.steps if script else ()
            pace = pace_at(order.speed, meanwhile=runner.save_due)
            stuck = Driver(runner, assessed(source), steps, pace).play()
            rescue.flush(journal)
            header = finish_record(database, runner.state, runner.watch.warm_up())
            files = self.write_out(database, header.check_id, order.out, units)
        warning = str(getattr(source, "warning", ""))
        return ReplayOutcome(header, runner.state, stuck, *files, self.database_file, warning)

    def write_out(
        self, database: Database, check_id: str, folder: Path, units: UnitSystem
    ) -> tuple[Path, Path]:
        """Write the summary and a copy of a finished record; return both files."""
        record = Repository(database).load(check_id)
        summary = folder / f"work-summary-{record.header.number}.pdf"
        self.write_summary(record, summary, units)
        return summary, self.write_record(record, folder)

    def require_demo(self, family: str, fault: str | None) -> None:
        """Refuse a demonstration that cannot be, before anything opens.

        :raises BrimlineError: no such family or fault.
        """
        make_vehicle(family, fault)

    def begin_demo(
        self, family: str, fault: str | None, clock: Callable[[], float]
    ) -> tuple[CheckSession, SimulatedBay, ExitStack]:
        """Begin a demonstration; closing the stack gives back bus and database.

        :raises BrimlineError: no such family or fault, or another check is running.
        """
        vehicle = make_vehicle(family, fault)
        with ExitStack() as stack:
            database = stack.enter_context(self.records(writer=True))
            bay = stack.enter_context(simulated_bay(vehicle))
            opened = self.opening(
                vehicle.sheet, NORMAL_DUTY, bay, None, Origin.TRAINING, DEMO_TECHNICIAN
            )
            session = self.session(opened, database, stack, bay, clock, bay.tapped)
            return session, bay, stack.pop_all()
        raise AssertionError("the stack swallows nothing")

    def begin_keyed(
        self, technician: str, sheet_id: str, duty: str, clock: Callable[[], float]
    ) -> tuple[CheckSession, ExitStack]:
        """Begin a check by keyed readings; closing the stack gives back the database.

        :raises BrimlineError: no such sheet or duty, or another check is running.
        """
        sheet = self.guided(sheet_id, duty)
        with ExitStack() as stack:
            database = stack.enter_context(self.records(writer=True))
            source = KeyedSource()
            # What an invented sheet says is worth nothing for any vehicle's history.
            origin = Origin.TRAINING if sheet.invented else Origin.KEYED
            opened = self.opening(sheet, duty, source, None, origin, technician)
            session = self.session(opened, database, stack, source, clock)
            return session, stack.pop_all()
        raise AssertionError("the stack swallows nothing")

    def guided(self, sheet_id: str, duty: str) -> SpecSheet:
        """Return a sheet that this program guides.

        :raises BrimlineError: no such sheet, one for another method, or without such a duty.
        """
        sheet = self.sheets.find(sheet_id)
        require_guided(sheet)
        if sheet.source.status is not SheetStatus.APPROVED:
            raise CannotGuideError(
                tr("Spec sheet {id} is a draft: have it approved first.", id=sheet.id)
            )
        if duty not in sheet.bands:
            raise ScriptError(tr("Spec sheet {id} has no duty “{duty}”.", id=sheet.id, duty=duty))
        return sheet

    def session(
        self, opened: CheckOpened, database: Database, stack: ExitStack, readings: Readings,
        clock: Callable[[], float], tapped: Callable[[TapEvent], None] = lambda _tap: None,
        sealed: Callable[[Header], None] = lambda _header: None,
        earlier: Iterable[Event] | None = None,
    ) -> CheckSession:  # fmt: skip
        """Return a check in a window, whose record is sealed at its end.

        :param stack: ends, when it is closed, the thread that writes readings in time even while
            the window is busy; the database must be closed behind it.
        :param tapped: is told of every tap that was taken; ``sealed`` of the finished record.
        :param earlier: of a check that goes on: its events behind the first.
        """
        journal = Journal(database)
        session: CheckSession

        def finish(state: CheckState) -> None:
            journal.flush()
            sealed(finish_record(database, state, session.warm_up))
            if database.tail_error is not None:
                session.besides = database.tail_error.sentence

        session = CheckSession(
            opened, journal, readings, clock, tapped=tapped, finished=finish,
            past=past_warm_ups(database, opened), earlier=earlier,
        )  # fmt: skip
        stack.enter_context(Saver(journal))
        return session

    def script(self, name: str | None) -> Script | None:
        """Return a script, shipped or from a file; none where none is named."""
        if name is None:
            return None
        shipped = {path.stem: path for path in _shipped_scripts().glob("*.toml")}
        path = shipped.get(name, Path(name))
        if name not in shipped and path.suffix != ".toml":
            known = ", ".join(sorted(shipped))
            raise ScriptError(
                tr("There is no script “{name}”; shipped are: {known}.", name=name, known=known)
            )
        return read_script(path)

    def _sheet(self, order: ReplayOrder, script: Script | None) -> SpecSheet:
        asked = order.sheet or (script.sheet if script else None)
        name = asked or _SHEETS_OF_SHIPPED.get(order.recording)
        if name is None:
            known = ", ".join(self.sheets.files())
            raise ScriptError(
                tr("Say which spec sheet to use with --sheet; known are: {known}.", known=known)
            )
        sheet = self.sheets.find(name)
        require_guided(sheet)
        return sheet

    def opening(
        self,
        sheet: SpecSheet,
        duty: str,
        source: Described,
        script: Script | None,
        origin: Origin,
        technician: str,
        check_id: str = "",
    ) -> CheckOpened:
        """Return the first event of a check that begins now, with an id of its own or this one."""
        return CheckOpened(
            check_id=check_id or uuid.uuid4().hex,
            opened_at=datetime.now(UTC),
            origin=origin,
            sheet=sheet,
            duty=duty,
            measured=tuple(sorted(source.declared)),
            source=source.description,
            technician=technician,
            shop=self.shop_name(origin),
            program=__version__,
            procedure=VERSION,
            script=script.note if script else None,
        )


def _shipped_scripts() -> Path:
    return paths.resources() / "scripts"


def assessed(source: ReadingSource) -> Iterator[Reading]:
    """Yield a recording's readings with their quality."""
    assessor = QualityAssessor()
    return (assessor.assess(reading) for reading in source.readings())


def require_writable(folder: Path) -> None:
    """Find out before a check begins that its summary will have a place."""
    probe = folder / ".brimline-probe"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe.touch()
        probe.unlink()
    except OSError as error:
        raise ReportError(
            tr(
                "The output folder {folder} cannot be written: {why}.",
                folder=folder,
                why=error.strerror or error,
            )
        ) from error
