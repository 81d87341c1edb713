"""Checks that were begun and not finished, because the program or its computer stopped: listing
them, going on with one, ending one, adding a file to one.

A record is the list of its events, so going on is replaying them and taking the next one in. That
one says what somebody found at the vehicle, and for how long nobody had watched.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

from brimline import bus_recordings, wording
from brimline.bootstrap import Bay
from brimline.check_runner import CheckRunner
from brimline.demo import SimulatedBay
from brimline.errors import BrimlineError, StoreError
from brimline.finishing import finish_record, past_warm_ups
from brimline.procedure import reducer, resuming
from brimline.procedure.attaching import About, AttachmentKept
from brimline.procedure.effects import Effect, Refused
from brimline.procedure.events import CheckAborted, CheckOpened, Event, Origin, Resumed
from brimline.procedure.state import CheckState
from brimline.records import rescue
from brimline.records.attachments import Kept
from brimline.records.database import Database, is_written_elsewhere
from brimline.records.journal import Journal
from brimline.records.model import Header
from brimline.records.repository import Repository
from brimline.session import CheckSession
from brimline.signals.manual import KeyedSource
from brimline.simulator.families import FAMILIES
from brimline.translation import tr
from brimline.units import UnitSystem

Clock = Callable[[], float]
Now = Callable[[], datetime]
"""The time of day, aware of its zone."""


Replayed = dict[str, tuple[int, CheckState]]
"""By check: how many entries its record had, and how they leave the check."""


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


def is_run_elsewhere(bay: Bay) -> bool:
    """Return whether another program runs a check on this database now."""
    return is_written_elsewhere(bay.database_file)


def open_checks(
    bay: Bay, now: Now = utc_now, replayed: Replayed | None = None
) -> tuple[Interrupted, ...]:
    """Return the checks that were begun and not finished, oldest first.

    One whose record is damaged is among them, with the sentence that says so.

    :param replayed: what an earlier call has replayed, and after this one what it has.
    :raises StoreError: the database refuses.
    """
    with bay.records() as database:
        headers = Repository(database).open_checks()
        known = {} if replayed is None else replayed
        return tuple(_look_at(database, header, now, known) for header in headers)


def has_unknown(bay: Bay) -> bool:
    """Return whether :func:`open_checks` would have to replay a record, which may take seconds.

    :raises BrimlineError: the database refuses.
    """
    with bay.records() as database:
        repository = Repository(database)
        return any(
            bay.replayed.get(header.check_id, (0, None))[0] != repository.entries(header.check_id)
            for header in repository.open_checks()
        )


def find(bay: Bay, record_id: str, now: Now = utc_now) -> Interrupted:
    """Return one open check by its number or id.

    :raises StoreError: no such record, it is finished, or it is damaged.
    """
    with bay.records() as database:
        header = Repository(database).load(record_id).header
        if header.finished_at is not None:
            raise StoreError(
                tr(
                    "Record {number} is finished and sealed; it stays as it is.",
                    number=header.number,
                )
            )
        return _look_at(database, header, now, {})


def _look_at(database: Database, header: Header, now: Now, replayed: Replayed) -> Interrupted:
    unsaved = rescue.find(header.check_id, rescue.places())
    try:
        state = _replayed(Repository(database), header.check_id, replayed)
    except BrimlineError as error:
        return Interrupted(header, unsaved=unsaved, fault=error.sentence)
    kind = kind_of(state.opened)
    _, away_s = moment(state.opened, state.now, now())
    return Interrupted(header, kind, state, away_s, unsaved, only_ended=only_ended(state, kind))


def _replayed(repository: Repository, check_id: str, known: Replayed) -> CheckState:
    """Return how a record leaves its check; some 0.2 ms an entry, unless that was done before."""
    entries = repository.entries(check_id)
    if known.get(check_id, (0, None))[0] != entries:
        known[check_id] = entries, reducer.replay(repository.load(check_id).events)
    return known[check_id][1]


def kind_of(opened: CheckOpened) -> Kind:
    """Return where the readings of a check come from."""
    if opened.origin is Origin.REPLAY:
        return Kind.REPLAY
    if opened.source == KeyedSource.description:
        return Kind.KEYED
    simulated = opened.source.startswith(SimulatedBay.CALLED)
    return Kind.SIMULATED if simulated else Kind.BUS


def only_ended(state: CheckState, kind: Kind) -> str:
    """Return why a check cannot go on in a window, in one sentence, else empty."""
    if kind is Kind.REPLAY:
        return tr(
            "A replay goes on from the command line (“brimline resume”); here it can be ended."
        )
    family = state.sheet.transmission.family
    if kind is Kind.SIMULATED and family not in FAMILIES:
        return tr(
            "There is no simulated {family} to go on with, so that it can only be ended.",
            family=family,
        )
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
        raise StoreError(
            tr(
                "Record {number} is finished; it cannot be gone on with.",
                number=record.header.number,
            )
        )
    return record.events


def opening(events: Sequence[Event]) -> CheckOpened:
    """Return a record's first event.

    :raises StoreError: it is no opening of a check.
    """
    if not events or not isinstance(events[0], CheckOpened):
        raise StoreError(tr("The record does not begin with the opening of its check."))
    return events[0]


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
        raise StoreError(tr("Say why the check ends; it goes on the record."))
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
        header = finish_record(database, runner.state, runner.watch.warm_up())
    bus_recordings.give_number((bus_recordings.folder_of(bay.folder),), check_id, header.number)
    return header


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
            raise StoreError(tr("This check is closed and only its seal is missing: end it first."))
        kept = bay.attachments.keep(file)
        event = AttachmentKept(t=state.now, **asdict(kept), about=about)
        _, effects = reducer.reduce(state, event)
        _taken(effects, units, tr("“{name}” is not taken into the record", name=kept.name))
        journal = Journal(database)
        journal.resume(check_id)
        journal.append(event, now())
        rescue.flush(journal)
    return kept


def _taken(
    effects: tuple[Effect, ...], units: UnitSystem, failed: str = tr("The check cannot be ended")
) -> None:
    refused = next((effect for effect in effects if isinstance(effect, Refused)), None)
    if refused is not None:
        said = " ".join(wording.sentence(reason, units) for reason in refused.reasons)
        raise StoreError(tr("{failed}: {said}", failed=failed, said=said))
