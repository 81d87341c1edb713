"""Checks that were begun and not finished, because the program or its computer stopped: listing
them, going on with one, ending one, adding a file to one.

A record is the list of its events, so going on is replaying them and taking the next one in. That
one says what somebody found at the vehicle, and for how long nobody had watched.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import ExitStack
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

from brimline import live_check, wording
from brimline.bootstrap import Bay, finish_record, past_warm_ups
from brimline.check_runner import CheckRunner
from brimline.config import read_settings
from brimline.demo import SimulatedBay, simulated_bay
from brimline.errors import BrimlineError, BusError, StoreError
from brimline.procedure import facts, reducer, resuming
from brimline.procedure.attaching import About, AttachmentKept
from brimline.procedure.effects import Effect, Refused
from brimline.procedure.events import CheckAborted, CheckOpened, Event, Origin, Resumed
from brimline.procedure.state import CheckState
from brimline.reading import Reading, SignalName
from brimline.records import rescue
from brimline.records.attachments import Kept
from brimline.records.database import Database, is_written_elsewhere
from brimline.records.journal import Journal
from brimline.records.model import Header
from brimline.records.repository import Repository
from brimline.session import CheckSession, Readings
from brimline.signals.manual import KeyedSource
from brimline.simulator.families import AMBIENT_C, FAMILIES
from brimline.simulator.vehicle import COLDEST_ARRIVAL_C, HOTTEST_ARRIVAL_C, make_vehicle
from brimline.units import UnitSystem

Clock = Callable[[], float]
Now = Callable[[], datetime]
"""The time of day, aware of its zone."""


def utc_now() -> datetime:
    """Return the computer's time of day."""
    return datetime.now(UTC)


class Kind(StrEnum):
    """Where a check's readings come from, and so how it can go on."""

    BUS = "bus"
    KEYED = "keyed"
    SIMULATED = "simulated"
    REPLAY = "replay"


@dataclass(frozen=True)
class Interrupted:
    """One open check.

    :param state: as its record leaves it; ``None`` where that cannot be read, see ``fault``.
    :param away_s: s since its last entry by the computer's clock; ``None`` where that cannot be
        told: the clock was set back, or the check's time is not the clock's.
    :param unsaved: a file with entries that its disk had refused.
    :param only_ended: why it cannot be gone on with in a window, in one sentence, else empty.
    """

    header: Header
    kind: Kind = Kind.BUS
    state: CheckState | None = None
    away_s: float | None = None
    unsaved: Path | None = None
    fault: str = ""
    only_ended: str = ""


@dataclass(frozen=True)
class Found:
    """What somebody found at the vehicle; ``engine_runs`` is ``None`` where nobody looked."""

    plug_is_out: bool
    engine_runs: bool | None


@dataclass(frozen=True)
class GoingOn:
    """A check that goes on; closing ``stack`` gives back what it holds."""

    session: CheckSession
    stack: ExitStack
    simulated: SimulatedBay | None = None


def is_run_elsewhere(bay: Bay) -> bool:
    """Return whether another program runs a check on this database now."""
    return is_written_elsewhere(bay.database_file)


def open_checks(bay: Bay, now: Now = utc_now) -> tuple[Interrupted, ...]:
    """Return the checks that were begun and not finished, oldest first.

    One whose record is damaged is among them, with the sentence that says so.

    :raises StoreError: the database refuses.
    """
    with bay.records() as database:
        headers = Repository(database).open_checks()
        return tuple(_look_at(database, header, now) for header in headers)


def find(bay: Bay, record_id: str, now: Now = utc_now) -> Interrupted:
    """Return one open check by its number or id.

    :raises StoreError: no such record, it is finished, or it is damaged.
    """
    with bay.records() as database:
        header = Repository(database).load(record_id).header
        if header.finished_at is not None:
            raise StoreError(f"Record {header.number} is finished and sealed; it stays as it is.")
        return _look_at(database, header, now)


def _look_at(database: Database, header: Header, now: Now) -> Interrupted:
    unsaved = rescue.find(header.check_id, rescue.places())
    try:
        state = reducer.replay(Repository(database).load(header.check_id).events)
    except BrimlineError as error:
        return Interrupted(header, unsaved=unsaved, fault=error.sentence)
    kind = kind_of(state.opened)
    _, away_s = moment(state.opened, state.now, now())
    return Interrupted(header, kind, state, away_s, unsaved, only_ended=_only_ended(state, kind))


def kind_of(opened: CheckOpened) -> Kind:
    """Return where the readings of a check come from."""
    if opened.origin is Origin.REPLAY:
        return Kind.REPLAY
    if opened.source == KeyedSource.description:
        return Kind.KEYED
    simulated = opened.source.startswith(SimulatedBay.CALLED)
    return Kind.SIMULATED if simulated else Kind.BUS


def _only_ended(state: CheckState, kind: Kind) -> str:
    if kind is Kind.REPLAY:
        return "A replay goes on from the command line (“brimline resume”); here it can be ended."
    family = state.sheet.transmission.family
    if kind is Kind.SIMULATED and family not in FAMILIES:
        return f"There is no simulated {family} to go on with, so that it can only be ended."
    return ""


def moment(opened: CheckOpened, last: float, now: datetime) -> tuple[float, float | None]:
    """Return at which time of the check (s) it goes on, and for how long nobody watched (s).

    The check's time never goes back. Where the computer's clock did, or where the check's time was
    never the clock's, as in a replay, it goes on where it stood, and the gap is not known.
    """
    passed = round((now - opened.opened_at).total_seconds(), 6)
    if kind_of(opened) is Kind.REPLAY or passed < last:
        return last, None
    return passed, round(passed - last, 6)


def events_of(database: Database, check_id: str) -> tuple[Event, ...]:
    """Return everything that an open check's record holds, and what its disk had refused.

    :raises StoreError: the record is finished or damaged, or what was kept elsewhere does not fit.
    """
    repository = Repository(database)
    open_ids = {header.check_id for header in repository.open_checks()}
    kept = rescue.find(check_id, rescue.places())
    if kept is not None and check_id in open_ids:
        rescue.take_in(database, check_id, kept)
    record = repository.load(check_id)
    if check_id not in open_ids:
        raise StoreError(f"Record {record.header.number} is finished; it cannot be gone on with.")
    return record.events


def resume(
    bay: Bay,
    check_id: str,
    found: Found,
    make_clock: Callable[[float], Clock],
    now: Now = utc_now,
) -> GoingOn:
    """Go on with a check in a window.

    :param make_clock: makes a clock in s from a speed.
    :raises BrimlineError: it cannot be gone on with, or another check is running.
    """
    with ExitStack() as stack:
        database = stack.enter_context(bay.records(writer=True))
        events = events_of(database, check_id)
        opened = opening(events)
        last = _last(events)
        readings, simulated = _readings(bay, events, stack, moment(opened, last, now())[0])
        began, gap_s = moment(opened, last, now())  # opening an adapter takes its time
        passed = make_clock(1.0)
        began -= passed()
        session = bay.session(
            opened, database, stack, readings, lambda: round(began + passed(), 6),
            simulated.tapped if simulated else lambda _tap: None, earlier=events[1:],
        )  # fmt: skip
        if simulated is not None:
            _set_up(simulated, session.state, found, gap_s or 0.0)
        if session.state.closed is None:
            session.resume(
                gap_is_known=gap_s is not None,
                plug_is_out=found.plug_is_out,
                engine_runs=found.engine_runs,
            )
        return GoingOn(session, stack.pop_all(), simulated)
    raise AssertionError("the stack swallows nothing")


def opening(events: Sequence[Event]) -> CheckOpened:
    """Return a record's first event.

    :raises StoreError: it is no opening of a check.
    """
    if not events or not isinstance(events[0], CheckOpened):
        raise StoreError("The record does not begin with the opening of its check.")
    return events[0]


def _last(events: Sequence[Event]) -> float:
    return max(event.t for event in events)


def _readings(
    bay: Bay, events: Sequence[Event], stack: ExitStack, began: float
) -> tuple[Readings, SimulatedBay | None]:
    """Return where the readings come from now: the bus again, a person, or a new vehicle."""
    opened = opening(events)
    kind = kind_of(opened)
    refused = _only_ended(reducer.open_check(opened), kind)
    if refused:
        raise StoreError(refused)
    if kind is Kind.KEYED:
        return KeyedSource(), None
    if kind is Kind.SIMULATED:
        family, celsius = opened.sheet.transmission.family, _last_celsius(events)
        vehicle = make_vehicle(family, sheet=opened.sheet, arrival=celsius)
        made = stack.enter_context(simulated_bay(vehicle, began))
        return made, made
    connection = read_settings(bay.folder).connection
    if not connection.is_chosen:
        raise BusError("No connection to a vehicle's bus is chosen: see “Connection…”.")
    bus = live_check.open_quietly(connection)
    source, _ = live_check.connect(bus, connection, opened.sheet, stack, None)
    return live_check.Assessed(source), None


def _last_celsius(events: Sequence[Event]) -> float:
    """Return the last good temperature, within what a simulated vehicle may arrive with."""
    known = (
        event.number for event in reversed(events)
        if isinstance(event, Reading) and event.signal is SignalName.FLUID_TEMPERATURE
    )  # fmt: skip
    celsius = next((number for number in known if number is not None), AMBIENT_C)
    return min(max(celsius, COLDEST_ARRIVAL_C), HOTTEST_ARRIVAL_C)


def _set_up(simulated: SimulatedBay, state: CheckState, found: Found, gap_s: float) -> None:
    """Bring a new simulated vehicle to where the old one stood, and to what was found since."""
    simulated.stand(
        gap_s,
        raised=facts.raised(state),
        plug_is_out=found.plug_is_out,
        engine_runs=bool(found.engine_runs),
    )


def rescuer(session: CheckSession) -> Callable[[], Path]:
    """Return what writes a check's unsaved entries to another place, and gives the file."""
    check_id = session.state.opened.check_id
    return lambda: rescue.write(check_id, session.held(), rescue.places())


def end(
    bay: Bay,
    check_id: str,
    found: Found,
    reason: str,
    units: UnitSystem,
    now: Now = utc_now,
) -> Header:
    """End an open check where it stands: stopped for a reason, closed and sealed.

    With the plug out it is on record that it stays out.

    :raises BrimlineError: no reason is given, or the database refuses.
    """
    if not reason.strip():
        raise StoreError("Say why the check ends; it goes on the record.")
    with bay.records(writer=True) as database:
        events = events_of(database, check_id)
        opened = opening(events)
        journal = Journal(database)
        runner = CheckRunner(
            opened, journal, lambda _state, _effect: None, past_warm_ups(database, opened),
            events[1:],
        )  # fmt: skip
        t, gap_s = moment(opened, runner.state.now, now())
        if runner.state.closed is None:
            said = Resumed(
                t=t, gap_s=gap_s, plug_is_out=found.plug_is_out, engine_runs=found.engine_runs
            )
            # Under earlier rules a check that was stopped takes no more of what is found.
            if runner.state.aborted is None or opened.procedure >= resuming.ASKED_AGAIN_SINCE:
                _taken(runner.tap(said), units)
            if runner.state.aborted is None and not runner.state.closing.stripped:
                out = runner.state.plug_is_out
                _taken(runner.tap(CheckAborted(t=t, reason=reason, plug_left_out=out)), units)
            _taken(runner.close(t), units)
        rescue.flush(journal)
        return finish_record(database, runner.state, runner.watch.warm_up())


def attach(
    bay: Bay, check_id: str, file: Path, about: About, units: UnitSystem, now: Now = utc_now
) -> Kept:
    """Keep a file with an open check that nobody runs.

    The check's own time stands still meanwhile: nobody watched, and how long that was is asked and
    judged when it goes on. The entry is dated by the computer's clock.

    :raises BrimlineError: the file cannot be kept, the check is closed or has it already, another
        check is running, or the database refuses.
    """
    with bay.records(writer=True) as database:
        state = reducer.replay(events_of(database, check_id))
        if state.closed is not None:
            raise StoreError("This check is closed and only its seal is missing: end it first.")
        kept = bay.attachments.keep(file)
        event = AttachmentKept(t=state.now, **asdict(kept), about=about)
        _, effects = reducer.reduce(state, event)
        _taken(effects, units, f"“{kept.name}” is not taken into the record")
        journal = Journal(database)
        journal.resume(check_id)
        journal.append(event, now())
        rescue.flush(journal)
    return kept


def _taken(
    effects: tuple[Effect, ...], units: UnitSystem, failed: str = "The check cannot be ended"
) -> None:
    refused = next((effect for effect in effects if isinstance(effect, Refused)), None)
    if refused is not None:
        said = " ".join(wording.sentence(reason, units) for reason in refused.reasons)
        raise StoreError(f"{failed}: {said}")
