"""The vehicle's bus for the window: what takes time is done aside and asked about by a timer.

A search for adapters, the trial of a connection and the opening of an adapter may wait for
drivers, so each has a thread of its own that ends by itself. Once the adapter is open, nothing
waits.
"""

from __future__ import annotations

import tomllib
import uuid
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import asdict

import tomlkit

from brimline import bus_recordings, interrupted, live_check
from brimline.aside import Aside, Stop, Turns
from brimline.bootstrap import Bay
from brimline.config import Connection, check_connection, read_settings, write_section
from brimline.errors import BrimlineError, BusError, DamagedError
from brimline.signals.adapters import Detection, detected_channels, installed_backends
from brimline.signals.bus import Bus
from brimline.signals.discovery import Proposal
from brimline.signals.discovery_judge import LIKENESS_WORDS, Likeness, finding_words
from brimline.signals.discovery_run import DiscoveryRun
from brimline.signals.identifier_scan import ScanReport
from brimline.signals.link import close_quietly
from brimline.signals.try_out import TryResult, UnitAnswer, try_connection
from brimline.translation import joined, tr
from brimline.ui.ports.services import (
    AdapterKind,
    BeginState,
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


def bus_services(bay: Bay, units: UnitSystem, turns: Turns) -> BusServices:
    """Return what the connection screen needs."""
    return BusServices(
        connection=lambda: _choice(read_settings(bay.folder).connection),
        save=lambda choice: _save(bay, choice),
        kinds=lambda: [AdapterKind(k.name, k.words, k.listens_only) for k in installed_backends()],
        look=Look,
        try_it=lambda choice: Trial(_connection(choice), units, turns),
        discover=lambda choice: Discovery(_connection(choice), units, turns),
    )


def _choice(connection: Connection) -> ConnectionChoice:
    return ConnectionChoice(**connection.model_dump())


def _connection(choice: ConnectionChoice) -> Connection:
    return check_connection(**asdict(choice))


def _save(bay: Bay, choice: ConnectionChoice) -> None:
    write_section(bay.folder, _connection(choice))


class Look:
    """A search for adapters."""

    def __init__(self) -> None:
        # It opens nothing, so it waits for nobody, and nobody for it.
        self._aside: Aside[Detection] = Aside(detected_channels)

    def poll(self, now: float) -> LookState:
        """Return how it stands."""
        del now
        if not self._aside.done:
            return LookState(done=False)
        found = self._aside.take()
        if found is None:
            return LookState(done=True)
        channels = tuple(
            FoundChannel(each.interface, each.channel, each.words, dict(each.options))
            for each in found.channels
        )
        return LookState(True, channels, found.unanswered)

    def cancel(self) -> None:
        """Leave it to itself: it ends within seconds."""


class Trial:
    """The trial of a connection."""

    def __init__(self, connection: Connection, units: UnitSystem, turns: Turns) -> None:
        self._units = units
        stop = Stop()
        self._aside: Aside[TryResult] = Aside(
            lambda: try_connection(connection, pause=stop.pause), stop=stop, turns=turns
        )

    def poll(self, now: float) -> TryState:
        """Return how it stands; an adapter that cannot be opened is a result too."""
        del now
        if not self._aside.done:
            return TryState(False, tr("Listening, then asking every control unit…"))
        result = self._aside.take()
        if result is None:
            return TryState(True, self._aside.error or tr("The trial was given up."))
        answered = tuple(self._unit(unit) for unit in result.units)
        return TryState(True, result.sentence, result.works, result.details, answered)

    def cancel(self) -> None:
        """Give it up; the adapter is closed with the next step of the trial."""
        self._aside.give_up()

    def _unit(self, unit: UnitAnswer) -> str:
        known = []
        if unit.coolant is not None:
            known.append(tr("coolant {celsius}", celsius=self._units.temperature(unit.coolant)))
        if unit.engine_speed is not None:
            known.append(tr("engine {speed}", speed=self._units.rotation(unit.engine_speed)))
        if unit.vin:
            known.append(tr("VIN {vin}", vin=unit.vin))
        known += unit.refusals
        pids = " ".join(f"{pid:02X}" for pid in unit.pids)
        if pids:
            known.append(tr("PIDs {pids}", pids=pids))
        return tr(
            "Control unit {response:X}: {known}",
            response=unit.response_id, known=joined(known, "; ") or tr("answered"),
        )  # fmt: skip


def _opening(connection: Connection, turns: Turns) -> Aside[Bus]:
    """Open the adapter aside, after listening for a moment: nothing is sent at a wrong bit rate."""
    stop = Stop()
    return Aside(
        lambda: live_check.open_quietly(connection, stop.pause),
        stop=stop, turns=turns, undo=close_quietly,
    )  # fmt: skip


class LiveBeginning:
    """A check on a vehicle's bus through the connection of the settings, about to begin.

    :param start: starts the check's clock.
    :raises BrimlineError: sheet, duty or connection cannot be used.
    """

    def __init__(
        self, bay: Bay, order: CheckOrder, start: Callable[[], Callable[[], float]], turns: Turns
    ) -> None:
        self._bay, self._order, self._start = bay, order, start
        self._sheet = bay.guided(order.sheet, order.duty)
        self._connection = read_settings(bay.folder).connection
        if not self._connection.is_chosen:
            raise BusError(tr("No connection to a vehicle's bus is chosen yet: see “Connection…”."))
        self._aside = _opening(self._connection, turns)

    def poll(self, now: float) -> BeginState:
        """Return how it stands; the check begins once the adapter is open."""
        del now
        if not self._aside.done:
            return BeginState(False, live_check.opening_words(self._connection))
        bus = self._aside.take()
        if bus is None:
            return BeginState(True, self._aside.error or tr("The check was given up."))
        try:
            return BeginState(True, check=self._begin(bus))
        except DamagedError as error:
            return BeginState(True, error.sentence, damaged=error)
        except BrimlineError as error:
            return BeginState(True, error.sentence)

    def cancel(self) -> None:
        """Give it up; an adapter that opens after all is closed again."""
        self._aside.give_up()

    def _begin(self, bus: Bus) -> RunningCheck:
        bay, order, sheet = self._bay, self._order, self._sheet
        with ExitStack() as stack:
            stack.callback(close_quietly, bus)
            database = stack.enter_context(bay.records(writer=True))
            check_id, folder = uuid.uuid4().hex, bus_recordings.folder_of(bay.folder)
            path = bus_recordings.first_part(folder, check_id) if order.record else None
            numbers: list[int] = []
            stack.callback(  # once the file is closed: some systems rename no open one
                lambda: [bus_recordings.give_number((folder,), check_id, each) for each in numbers]
            )
            source, recorder = live_check.connect(bus, self._connection, sheet, stack, path)
            origin = live_check.origin_of(sheet)
            opened = bay.opening(
                sheet, order.duty, source, None, origin, order.technician, check_id
            )
            if recorder is not None:
                recorder.start = opened.opened_at.timestamp()
            session = bay.session(
                opened, database, stack, live_check.Assessed(source), self._start(),
                sealed=lambda header: numbers.append(header.number),
            )  # fmt: skip
            return RunningCheck(
                session, stack.pop_all().close, records_bus=recorder is not None,
                rescue=interrupted.rescuer(session),
            )  # fmt: skip
        raise AssertionError("the stack swallows nothing")


class Discovery:
    """Listening for the temperature."""

    def __init__(self, connection: Connection, units: UnitSystem, turns: Turns) -> None:
        self._units, self._connection = units, connection
        self._aside = _opening(connection, turns)
        self._bus: Bus | None = None
        self._run: DiscoveryRun | None = None
        self._began = self._now = 0.0

    def poll(self, now: float) -> DiscoveryState:
        """Take in what came; return how it stands."""
        if self._run is None:
            if not self._aside.done:
                return DiscoveryState(False, live_check.opening_words(self._connection))
            self._bus = self._aside.take()
            if self._bus is None:
                return DiscoveryState(True, self._aside.error or tr("The listening was given up."))
            self._run = DiscoveryRun(self._bus, identifiers=self._connection.identifiers)
            self._began = self._now = now
        self._now = max(self._now, now)
        self._run.pump(self._now)
        proposals = self._run.survey.proposals()[:_MOST_PROPOSALS]
        return DiscoveryState(
            done=bool(self._run.lost),
            sentence=self._run.lost or _listening_words(self._run.report),
            seconds=self._now - self._began,
            proposals=tuple(proposal_row(each, self._units) for each in proposals),
        )

    def ask(self, identifiers: IdentifierRange) -> None:
        """Read these identifiers besides, again and again.

        :raises BrimlineError: the range is empty or too wide, or the adapter is not open yet.
        """
        if self._run is None:
            raise BusError(tr("The adapter is not open yet: ask once it listens."))
        self._run.read_range(
            identifiers.first, identifiers.last,
            identifiers.request_id, identifiers.response_id, self._now,
        )  # fmt: skip

    def cancel(self) -> None:
        """End it and give the adapter back."""
        self._aside.give_up()
        if self._bus is not None:
            close_quietly(self._bus)


def _listening_words(report: ScanReport) -> str:
    if not report.asked:
        return tr("Listening. Let the engine idle: what warms slowly and steadily shows itself.")
    found, locked = len(report.records), len(report.locked)
    if not locked:
        return tr(
            "Identifiers asked for: {asked}; answered: {found}.", asked=report.asked, found=found
        )
    return tr(
        "Identifiers asked for: {asked}; answered: {found}; locked: {locked}.",
        asked=report.asked, found=found, locked=locked,
    )  # fmt: skip


def proposal_row(proposal: Proposal, units: UnitSystem) -> ProposalRow:
    """Return a candidate as a person reads it, with what a sheet would say of it."""
    mapping = proposal.place.mapping
    return ProposalRow(
        place=proposal.place.words,
        likeness=tr(LIKENESS_WORDS[proposal.likeness]),
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
