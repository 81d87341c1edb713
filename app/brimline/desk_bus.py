"""The vehicle's bus for the window: what takes time is done aside and asked about by a timer.

A search for adapters and the trial of a connection may wait for drivers, so each has a thread of
its own that ends by itself. Listening for the temperature never waits once the adapter is open.
"""

from __future__ import annotations

import threading
import time
import tomllib
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import asdict
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Generic, TypeVar

import tomlkit

from brimline import live_check
from brimline.bootstrap import Bay
from brimline.config import Connection, check_connection, read_settings, write_connection
from brimline.errors import BrimlineError, BusError
from brimline.signals.adapters import Detection, detected_channels, installed_backends
from brimline.signals.bus import open_connection
from brimline.signals.discovery import Proposal
from brimline.signals.discovery_judge import LIKENESS_WORDS, Likeness, finding_words
from brimline.signals.discovery_run import DiscoveryRun
from brimline.signals.link import close_quietly
from brimline.signals.recorder import SUFFIX
from brimline.signals.try_out import (
    TryResult,
    UnitAnswer,
    refuse_disturbed,
    try_connection,
)
from brimline.ui.services import (
    AdapterKind,
    BusServices,
    CheckOrder,
    ConnectionChoice,
    DiscoveryState,
    FoundChannel,
    IdentifierRange,
    LookState,
    ProposalRow,
    RunningCheck,
    TryState,
)
from brimline.units import UnitSystem

_MOST_PROPOSALS = 12
_CLOSING_S = 2.0

T = TypeVar("T")


def bus_services(bay: Bay, units: UnitSystem) -> BusServices:
    """Return what the connection screen needs."""
    return BusServices(
        connection=lambda: _choice(read_settings(bay.folder).connection),
        save=lambda choice: _save(bay, choice),
        kinds=lambda: [AdapterKind(k.name, k.words, k.listens_only) for k in installed_backends()],
        look=Look,
        try_it=lambda choice: Trial(_connection(choice), units),
        discover=lambda choice: Discovery(_connection(choice), units),
    )


def begin_live(bay: Bay, order: CheckOrder, clock: Callable[[], float]) -> RunningCheck:
    """Begin a check on a vehicle's bus through the connection of the settings.

    Opening the adapter and listening before anything is sent may take a few seconds.

    :raises BrimlineError: sheet, duty, connection or database cannot be used.
    """
    sheet = bay.guided(order.sheet, order.duty)
    connection = read_settings(bay.folder).connection
    if not connection.is_chosen:
        raise BusError("No connection to a vehicle's bus is chosen yet: see “Connection…”.")
    with ExitStack() as stack:
        database = stack.enter_context(bay.records(writer=True))
        path = _recording(bay) if order.record else None
        source, recorder = live_check.connect(connection, sheet, stack, path)
        origin = live_check.origin_of(sheet)
        opened = bay.opening(sheet, order.duty, source, None, origin, order.technician)
        if recorder is not None:
            recorder.start = opened.opened_at.timestamp()
        session = bay.session(opened, database, live_check.Assessed(source), clock)
        return RunningCheck(session, stack.pop_all().close, records_bus=recorder is not None)
    raise AssertionError("the stack swallows nothing")


def _recording(bay: Bay) -> Path:
    folder = bay.folder / "recordings"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BusError(
            f"The folder {folder} for recordings cannot be made: {error.strerror or error}."
        ) from error
    return folder / f"recording-{datetime.now(UTC):%Y%m%d-%H%M%S}{SUFFIX}"


def _choice(connection: Connection) -> ConnectionChoice:
    return ConnectionChoice(**connection.model_dump())


def _connection(choice: ConnectionChoice) -> Connection:
    return check_connection(**asdict(choice))


def _save(bay: Bay, choice: ConnectionChoice) -> None:
    write_connection(bay.folder, _connection(choice))


class _Cancelled(Exception):  # noqa: N818 - no error: somebody thought better of it
    pass


class _Aside(Generic[T]):
    """Something that waits, done in a thread of its own."""

    def __init__(self, work: Callable[[], T]) -> None:
        self.result: T | None = None
        self.error = ""
        self._work = work
        self.thread = threading.Thread(target=self._run, daemon=True)
        self.thread.start()

    def _run(self) -> None:
        try:
            self.result = self._work()
        except BrimlineError as error:
            self.error = error.sentence
        except _Cancelled:
            pass

    @property
    def done(self) -> bool:
        return not self.thread.is_alive()


class Look:
    """A search for adapters."""

    def __init__(self) -> None:
        self._aside: _Aside[Detection] = _Aside(detected_channels)

    def poll(self, now: float) -> LookState:
        """Return how it stands."""
        del now
        found = self._aside.result
        if not self._aside.done or found is None:
            return LookState(done=self._aside.done)
        channels = tuple(
            FoundChannel(each.interface, each.channel, each.words, dict(each.options))
            for each in found.channels
        )
        return LookState(True, channels, found.unanswered)

    def cancel(self) -> None:
        """Leave it to itself: it opens nothing and ends within seconds."""


class Trial:
    """The trial of a connection."""

    def __init__(self, connection: Connection, units: UnitSystem) -> None:
        self._units = units
        self._stop = threading.Event()
        self._aside: _Aside[TryResult] = _Aside(
            partial(try_connection, connection, pause=self._pause)
        )

    def poll(self, now: float) -> TryState:
        """Return how it stands; an adapter that cannot be opened is a result too."""
        del now
        if not self._aside.done:
            return TryState(False, "Listening, then asking every control unit…")
        result = self._aside.result
        if result is None:
            return TryState(True, self._aside.error or "The trial was given up.")
        answered = tuple(self._unit(unit) for unit in result.units)
        return TryState(True, result.sentence, result.works, result.details, answered)

    def cancel(self) -> None:
        """Give it up; the adapter is closed with the next step of the trial."""
        self._stop.set()
        self._aside.thread.join(_CLOSING_S)

    def _pause(self, seconds: float) -> None:
        if self._stop.wait(seconds):
            raise _Cancelled

    def _unit(self, unit: UnitAnswer) -> str:
        known = []
        if unit.coolant is not None:
            known.append(f"coolant {self._units.temperature(unit.coolant)}")
        if unit.engine_speed is not None:
            known.append(f"engine {self._units.rotation(unit.engine_speed)}")
        if unit.vin:
            known.append(f"VIN {unit.vin}")
        known += unit.refusals
        pids = " ".join(f"{pid:02X}" for pid in unit.pids)
        if pids:
            known.append(f"PIDs {pids}")
        return f"Control unit {unit.response_id:X}: {'; '.join(known) or 'answered'}"


class Discovery:
    """Listening for the temperature.

    :raises BrimlineError: the adapter cannot be opened, or the bus is disturbed at this bit rate.
    """

    def __init__(
        self, connection: Connection, units: UnitSystem,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:  # fmt: skip
        self._units, self._clock = units, clock
        refuse_disturbed(connection)  # nothing is sent at a wrong bit rate
        self._bus = open_connection(connection)
        self._run = DiscoveryRun(self._bus, identifiers=connection.identifiers)
        self._began = clock()
        self._now = self._began

    def poll(self, now: float) -> DiscoveryState:
        """Take in what came; return how it stands."""
        self._now = max(self._now, now)
        self._run.pump(self._now)
        proposals = self._run.survey.proposals()[:_MOST_PROPOSALS]
        return DiscoveryState(
            done=bool(self._run.lost),
            sentence=self._run.lost or self._words(),
            seconds=self._now - self._began,
            proposals=tuple(proposal_row(each, self._units) for each in proposals),
        )

    def ask(self, identifiers: IdentifierRange) -> None:
        """Read these identifiers besides, again and again.

        :raises BrimlineError: the range is empty or too wide.
        """
        self._run.read_range(
            identifiers.first, identifiers.last,
            identifiers.request_id, identifiers.response_id, self._now,
        )  # fmt: skip

    def cancel(self) -> None:
        """End it and give the adapter back."""
        close_quietly(self._bus)

    def _words(self) -> str:
        report = self._run.report
        if not report.asked:
            return "Listening. Let the engine idle: what warms slowly and steadily shows itself."
        found, locked = len(report.records), len(report.locked)
        words = f"Identifiers asked for: {report.asked}; answered: {found}"
        return f"{words}; locked: {locked}." if locked else f"{words}."


def proposal_row(proposal: Proposal, units: UnitSystem) -> ProposalRow:
    """Return a candidate as a person reads it, with what a sheet would say of it."""
    mapping = proposal.place.mapping
    return ProposalRow(
        place=proposal.place.words,
        likeness=LIKENESS_WORDS[proposal.likeness],
        likely=proposal.likeness is Likeness.FLUID,
        latest=proposal.latest,
        reasons=tuple(finding_words(each, units) for each in proposal.findings),
        entry="" if mapping is None else _as_toml(mapping.model_dump(exclude_defaults=True)),
    )


def _as_toml(mapping: dict[str, object]) -> str:
    """Write what a sheet would say; identifiers and ids as people know them."""
    table = tomlkit.table()
    for key, value in mapping.items():
        is_id = key in ("identifier", "request_id", "response_id", "source_address")
        table[key] = tomlkit.parse(f"x = 0x{value:X}")["x"] if is_id else value
    text = tomlkit.dumps({"signals": {"fluid_temperature": table}})
    tomllib.loads(text)  # what is offered for copying can be read again
    return text.strip()
