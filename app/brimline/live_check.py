"""A level check on a vehicle's bus without a window: its taps come from a script."""

from __future__ import annotations

import time
import uuid
from collections.abc import Callable, Mapping
from contextlib import ExitStack
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Protocol

from brimline import bus_recordings
from brimline.bootstrap import (
    Bay,
    Described,
    ReplayOutcome,
    require_writable,
)
from brimline.check_runner import CheckRunner
from brimline.config import Connection
from brimline.errors import ScriptError
from brimline.finishing import finish_record, past_warm_ups
from brimline.headless.live_driver import Around, LiveDriver
from brimline.headless.script import Script, Step
from brimline.procedure.effects import Effect
from brimline.procedure.events import Origin
from brimline.procedure.reasons import Reason
from brimline.procedure.state import CheckState
from brimline.reading import Reading
from brimline.records import rescue
from brimline.records.journal import Journal
from brimline.signals.bus import Bus, can_listen_only, open_connection
from brimline.signals.link import ReopeningSource, close_quietly
from brimline.signals.quality import QualityAssessor
from brimline.signals.recorder import BusRecorder
from brimline.signals.try_out import refuse_disturbed
from brimline.specsheet.model import SpecSheet
from brimline.specsheet.reader import require_guided
from brimline.translation import tr
from brimline.units import UnitSystem

LOOK_EVERY_S = 0.02
"""Of the check's time, and at most as much of the clock's: ten times as often as the fastest
signal is asked for and answered."""


@dataclass(frozen=True)
class LiveOrder:
    """What to check: a vehicle behind a connection, with a script, and perhaps another sheet.

    :param record: keep the frames of the bus beside the record.
    :param speed: times as fast as the clock, 1 to 100; only a simulated vehicle that is as fast
        can be checked with more than 1.
    """

    connection: Connection
    script: str
    sheet: str | None
    duty: str | None
    record: bool
    speed: float
    out: Path


@dataclass(frozen=True)
class LiveOutcome:
    """What came of it.

    :param recording: of the bus, where it was asked for.
    :param link: counts of the connection, and how often it was lost.
    :param last_refusal: the latest negative answer as a sentence, else empty.
    """

    check: ReplayOutcome
    recording: Path | None
    link: Mapping[str, int]
    last_refusal: str


def origin_of(sheet: SpecSheet) -> Origin:
    """Return the origin of a check on a live bus.

    An invented sheet must not be used on a vehicle, so what its check says is worth nothing for
    any vehicle's history: it is training, whatever hangs on the bus.
    """
    return Origin.TRAINING if sheet.invented else Origin.LIVE


class Listener(Protocol):
    """Is told how a check goes on."""

    def begun(self, runner: CheckRunner, source: Described) -> None:
        """Hear what is about to run."""

    def observe(self, state: CheckState, effect: Effect) -> None:
        """Hear of one effect."""

    def waiting(self, state: CheckState, step: Step, reasons: tuple[Reason, ...]) -> None:
        """Hear of a tap that waits, and what stands against it."""

    def connection(self, state: CheckState, lost: str) -> None:
        """Hear that the bus is lost, in a sentence, or back, where it is empty."""


def run(
    bay: Bay,
    order: LiveOrder,
    units: UnitSystem,
    listener: Listener,
    stopped: Callable[[], bool],
) -> LiveOutcome:
    """Run a whole check, keep its record and write its summary.

    :param stopped: whether somebody wants it to end; the check is then closed as stopped.
    :raises BrimlineError: sheet, script, connection, database or folder cannot be used.
    :raises KeyboardInterrupt: it was stopped before there was a check to close.
    """
    script, sheet, duty = _prepare(bay, order)
    require_writable(order.out)
    with ExitStack() as stack:
        database = stack.enter_context(bay.records(writer=True))
        check_id = uuid.uuid4().hex
        path = bus_recordings.first_part(order.out, check_id) if order.record else None
        bus = open_quietly(order.connection)
        source, recorder = connect(bus, order.connection, sheet, stack, path)
        journal = Journal(database)
        opened = bay.opening(
            sheet, duty, source, script, origin_of(sheet), script.technician, check_id
        )
        if recorder is not None:
            recorder.start = opened.opened_at.timestamp()
        if stopped():
            raise KeyboardInterrupt
        runner = CheckRunner(opened, journal, listener.observe, past_warm_ups(database, opened))
        clock = running_clock(order.speed)
        listener.begun(runner, source)
        readings = Assessed(source)
        around = Around(
            wait=partial(time.sleep, LOOK_EVERY_S / order.speed),
            each_step=_each_step(runner, readings, listener),
            stopped=stopped,
            waiting=lambda step, reasons: listener.waiting(runner.state, step, reasons),
        )
        stuck = LiveDriver(runner, readings, script.steps, clock, around).play()
        source.close()
        rescue.flush(journal)
        header = finish_record(database, runner.state, runner.watch.warm_up())
        files = bay.write_out(database, header.check_id, order.out, units)
    trouble = recorder.trouble if recorder else ""
    check = ReplayOutcome(header, runner.state, stuck, *files, bay.database_file, trouble)
    counts = {**source.counts, "losses": source.losses}
    named = bus_recordings.give_number((order.out,), header.check_id, header.number)
    recording = next(iter(named), path)
    return LiveOutcome(check, recording, counts, source.last_refusal)


def _each_step(runner: CheckRunner, readings: Assessed, listener: Listener) -> Callable[[], None]:
    """Return what tells when the bus is lost and back."""
    lost = ""

    def step() -> None:
        nonlocal lost
        if readings.lost != lost:
            lost = readings.lost
            listener.connection(runner.state, lost)

    return step


def _prepare(bay: Bay, order: LiveOrder) -> tuple[Script, SpecSheet, str]:
    """Read what must be sound before anything is opened; return script, sheet and duty."""
    script = bay.script(order.script)
    if script is None:
        raise ScriptError(tr("A check without a window needs a script of taps."))
    name = order.sheet or script.sheet
    if name is None:
        raise ScriptError(tr("Say which spec sheet to use with --sheet."))
    sheet = bay.sheets.find(name)
    require_guided(sheet)
    duty = order.duty or script.duty
    if duty not in sheet.bands:
        raise ScriptError(tr("Spec sheet {id} has no duty “{duty}”.", id=sheet.id, duty=duty))
    return script, sheet, duty


def open_quietly(connection: Connection, pause: Callable[[float], None] = time.sleep) -> Bus:
    """Open the bus for a check, after listening for a moment where the adapter can.

    Takes up to a few seconds.

    :param pause: waits for so many s while it listens; what it raises ends the listening.
    :raises BusError: the adapter cannot be opened, or the bus is disturbed at this bit rate.
    """
    refuse_disturbed(connection, pause=pause)
    return open_connection(connection)


def opening_words(connection: Connection) -> str:
    """Say what is being waited for while an adapter is opened."""
    if connection.listen_only_first and can_listen_only(connection.interface):
        return tr(
            "Opening {connection}, and listening before anything is sent…",
            connection=connection.words,
        )
    return tr("Opening {connection}…", connection=connection.words)


def connect(
    bus: Bus, connection: Connection, sheet: SpecSheet, stack: ExitStack, recording: Path | None
) -> tuple[ReopeningSource, BusRecorder | None]:
    """Read an open bus and, where a file is given, record it; the stack closes both.

    :raises RecordingError: the file cannot be written.
    """
    opener = partial(open_connection, connection)
    stack.callback(close_quietly, bus)
    recorder = None
    if recording is not None:
        recorder = BusRecorder(recording)
        stack.callback(recorder.close)
    source = ReopeningSource(
        bus,
        sheet.signals,
        opener,
        obd_physical=connection.addressing == "physical",
        overhear=recorder.take if recorder else None,
    )
    stack.callback(source.close)
    return source, recorder


def running_clock(speed: float) -> Callable[[], float]:
    """Return a clock that starts now at 0 s and runs so many times as fast as real time."""
    start = time.monotonic()
    # To the microsecond, like the time of day: finer digits would be noise that a record holds.
    return lambda: round((time.monotonic() - start) * speed, 6)


class Assessed:
    """The readings with their quality."""

    def __init__(self, source: ReopeningSource) -> None:
        self._source = source
        self._assessor = QualityAssessor()

    @property
    def lost(self) -> str:
        """One sentence while the bus is away, else empty."""
        return self._source.lost

    def pump(self, now: float) -> list[Reading]:
        """Return the readings up to ``now`` (s of the check)."""
        return [self._assessor.assess(reading) for reading in self._source.pump(now)]
