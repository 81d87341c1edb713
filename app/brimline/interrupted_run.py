"""Going on with an interrupted check without a window: its taps come from a script."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from itertools import islice
from pathlib import Path

from brimline import bus_recordings, interrupted, live_check
from brimline.bootstrap import (
    Bay,
    Described,
    ReplayOutcome,
    assessed,
    require_writable,
)
from brimline.check_runner import CheckRunner, Observer
from brimline.errors import BusError, RecordingError, ScriptError
from brimline.finishing import finish_record, past_warm_ups
from brimline.headless.acknowledged import Say, acknowledging
from brimline.headless.driver import Driver, Stuck
from brimline.headless.going_on import parted, to_be_tapped
from brimline.headless.live_driver import Around, LiveDriver
from brimline.headless.pace import pace_at
from brimline.headless.script import Step
from brimline.interrupted import Found, Kind
from brimline.procedure.events import CheckOpened, Event, Resumed
from brimline.reading import Reading, Way
from brimline.records import rescue
from brimline.records.journal import Journal
from brimline.signals.library import SHIPPED, find_recording, open_source
from brimline.signals.recorder import BusRecorder
from brimline.signals.source import ReadingSource
from brimline.units import UnitSystem


@dataclass(frozen=True)
class ResumeOrder:
    """Which check to go on with, and how.

    :param record: its number or id.
    :param script: the technician's taps; that of the record where left out.
    :param recording: of a replay; the shipped one that the record names where left out.
    :param speed: times as fast as real, ``None`` for as fast as can be. On a bus 1 to 100.
    :param acknowledge: is told line by line what is in the journal.
    """

    record: str
    found: Found
    script: str | None
    recording: str | None
    speed: float | None
    out: Path
    acknowledge: Say | None = None


Begun = Callable[[CheckRunner, Described], None]


def resume(
    bay: Bay, order: ResumeOrder, units: UnitSystem, observe: Observer, begun: Begun
) -> ReplayOutcome:
    """Go on with a check to the end of its script, keep its record and write its summary.

    :param begun: is told once it goes on.
    :raises BrimlineError: no such open check, or something that it needs is not there.
    """
    check = interrupted.find(bay, order.record)
    require_writable(order.out)
    with ExitStack() as stack:
        database = stack.enter_context(bay.records(writer=True))
        events = interrupted.events_of(database, check.header.check_id)
        opened = interrupted.opening(events)
        part = _part(bay, order, opened, events, stack)
        journal = Journal(database)
        port = acknowledging(journal, order.acknowledge)
        past = past_warm_ups(database, opened)
        runner = CheckRunner(opened, port, observe, past, events[1:])
        stuck = None
        if runner.state.closed is None:
            _go_on(runner, order.found)
            begun(runner, part.source)
            part.refresh()
            stuck = part.play(runner, to_be_tapped(part.taken, part.left, runner.state))
        rescue.flush(journal)
        header = finish_record(database, runner.state, runner.watch.warm_up())
        files = bay.write_out(database, header.check_id, order.out, units)
    bus_recordings.give_number(_recordings(bay, order), header.check_id, header.number)
    trouble = part.recorder.trouble if part.recorder else ""
    return ReplayOutcome(header, runner.state, stuck, *files, bay.database_file, trouble)


def _recordings(bay: Bay, order: ResumeOrder) -> tuple[Path, Path]:
    """Return where recordings of the check's bus may lie: it began without a window, or in one."""
    return order.out.absolute(), bus_recordings.folder_of(bay.folder).absolute()


def _go_on(runner: CheckRunner, found: Found) -> None:
    state = runner.state
    t, gap_s = interrupted.moment(state.opened, state.now, datetime.now(UTC))
    runner.tap(
        Resumed(t=t, gap_s=gap_s, plug_is_out=found.plug_is_out, engine_runs=found.engine_runs)
    )


@dataclass(frozen=True)
class _Part:
    """What a kind of check needs to go on: its source, its script, and how it is played."""

    source: Described
    taken: tuple[Step, ...]
    left: tuple[Step, ...]
    play: Callable[[CheckRunner, tuple[Step, ...]], Stuck | None]
    recorder: BusRecorder | None = None
    refresh: Callable[[], None] = lambda: None


def _part(
    bay: Bay, order: ResumeOrder, opened: CheckOpened, events: Sequence[Event], stack: ExitStack
) -> _Part:
    kind = interrupted.kind_of(opened)
    if kind not in (Kind.REPLAY, Kind.BUS):
        raise ScriptError("This check goes on in the window; from here it can be ended.")
    taken, left = parted(_steps(bay, order, opened), events)
    if kind is Kind.REPLAY:
        source = _recording(order, opened)
        readings = _behind(source, events)
        return _Part(source, taken, left, partial(_play_recording, readings, order.speed))
    if opened.script is None and order.script is None:
        raise ScriptError("A check without a window needs a script of taps: --script.")
    if not bay.settings.connection.is_chosen:
        raise BusError("No connection to a vehicle's bus is chosen in the settings.")
    connection = bay.settings.connection
    bus = live_check.open_quietly(connection)
    again = bus_recordings.next_part(_recordings(bay, order), opened.check_id)
    live, recorder = live_check.connect(bus, connection, opened.sheet, stack, again)
    if recorder is not None:
        recorder.start = opened.opened_at.timestamp()
    play = partial(_play_live, live_check.Assessed(live), order.speed or 1.0)
    return _Part(live, taken, left, play, recorder, live.throw_away)


def _steps(bay: Bay, order: ResumeOrder, opened: CheckOpened) -> tuple[Step, ...]:
    """Return the script's steps: that of the record, or one for a record that has none."""
    noted = opened.script
    name = order.script or (noted.name if noted else None)
    script = bay.script(name)
    if script is None:
        return ()
    if noted is not None and script.note.sha256 != noted.sha256:
        raise ScriptError(
            f"This check was begun with the script {noted.name}, and {name} is not the same; "
            "give that file with --script."
        )
    return script.steps


def _recording(order: ResumeOrder, opened: CheckOpened) -> ReadingSource:
    """Open the recording of a replay, and make sure that it is the one."""
    shipped = (name for name, file in SHIPPED.items() if f" {file}," in opened.source)
    name = order.recording or next(shipped, None)
    if name is None:
        raise RecordingError(
            f"Say which recording this check was begun on with --recording: {opened.source}."
        )
    sheet = opened.sheet
    source = open_source(find_recording(name), sheet.signals, sheet_id=sheet.id)
    if source.description != opened.source:
        raise RecordingError(
            f"This check was begun on another recording ({opened.source}); {name} is "
            f"{source.description}."
        )
    return source


def _behind(source: ReadingSource, events: Sequence[Event]) -> Iterator[Reading]:
    """Yield the recording's readings that the record does not hold yet.

    They are counted, since several may be of one moment. All of them pass by whoever judges their
    quality, who so knows what was before.
    """
    known = sum(isinstance(event, Reading) and event.way is Way.BUS for event in events)
    return islice(assessed(source), known, None)


def _play_recording(
    readings: Iterator[Reading], speed: float | None, runner: CheckRunner, steps: tuple[Step, ...]
) -> Stuck | None:
    pace = pace_at(speed, begun=runner.state.now, meanwhile=runner.save_due)
    return Driver(runner, readings, steps, pace).play()


def _play_live(
    readings: live_check.Assessed, speed: float, runner: CheckRunner, steps: tuple[Step, ...]
) -> Stuck | None:
    passed, began = live_check.running_clock(speed), runner.state.now
    around = Around(partial(time.sleep, live_check.LOOK_EVERY_S / speed))
    return LiveDriver(runner, readings, steps, lambda: round(began + passed(), 6), around).play()
