"""Going on with an interrupted check in a window.

:func:`prepare` does what takes long, in a thread of its own: an adapter is opened, the record read
and replayed, some 0.2 ms an entry. The check's time stands still meanwhile. :meth:`Prepared.go_on`
starts it and takes down what was found at the vehicle, and waits for nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from typing import NamedTuple

from brimline import bus_recordings, live_check
from brimline.aside import Stop
from brimline.bootstrap import Bay
from brimline.config import Connection, read_settings
from brimline.demo import SimulatedBay, simulated_bay
from brimline.errors import BusError, StoreError
from brimline.interrupted import (
    Clock,
    Found,
    Kind,
    Now,
    events_of,
    kind_of,
    moment,
    only_ended,
    opening,
    utc_now,
)
from brimline.procedure import facts, reducer
from brimline.procedure.events import CheckOpened, Event
from brimline.procedure.state import CheckState
from brimline.reading import Reading, SignalName
from brimline.session import CheckSession, Readings
from brimline.signals.bus import Bus
from brimline.signals.link import close_quietly
from brimline.signals.manual import KeyedSource
from brimline.simulator.families import AMBIENT_C
from brimline.simulator.vehicle import COLDEST_ARRIVAL_C, HOTTEST_ARRIVAL_C, make_vehicle
from brimline.translation import tr

Tell = Callable[[str], None]


class StandingClock:
    """The time of a check, in s, which stands still until it is started."""

    def __init__(self, at: float) -> None:
        self._began = at
        self._passed: Clock = lambda: 0.0

    def start(self, at: float, passed: Clock) -> None:
        """Go on from a time of the check, as fast as another clock does."""
        self._began, self._passed = at - passed(), passed

    def __call__(self) -> float:
        """Return it."""
        return round(self._began + self._passed(), 6)


class Ends(NamedTuple):
    """Where the readings come from now.

    :param records_bus: whether the frames of the bus are kept beside the record.
    :param refresh: drops what came while nobody took it in.
    """

    readings: Readings
    simulated: SimulatedBay | None = None
    records_bus: bool = False
    refresh: Callable[[], None] = lambda: None


@dataclass(frozen=True)
class Prepared:
    """A check that is about to go on; closing ``stack`` gives back what it holds.

    :param last: the time of its last entry, in s of the check.
    """

    session: CheckSession
    stack: ExitStack
    clock: StandingClock
    last: float
    ends: Ends

    def go_on(self, found: Found, passed: Clock, now: Now = utc_now) -> None:
        """Start the check's time and take down what was found.

        :param passed: a clock in s that has just begun.
        """
        began, gap_s = moment(self.session.state.opened, self.last, now())
        self.ends.refresh()
        self.clock.start(began, passed)
        if self.session.state.closed is None:
            self.session.resume(
                gap_is_known=gap_s is not None,
                plug_is_out=found.plug_is_out,
                engine_runs=found.engine_runs,
            )


def prepare(
    bay: Bay, check_id: str, found: Found, stop: Stop, tell: Tell, now: Now = utc_now
) -> Prepared:
    """Open what a check needs and replay its record.

    The adapter comes first: a driver that hangs must not keep the records from being written.

    :param tell: is told what is being done, in a sentence.
    :raises BrimlineError: it cannot be gone on with, or another check is running.
    :raises GivenUpError: it was given up.
    """
    opened = opening(bay.load(check_id).events)
    kind = kind_of(opened)
    refused = only_ended(reducer.open_check(opened), kind)
    if refused:
        raise StoreError(refused)
    with ExitStack() as stack:
        wire = _wire(bay, stop, tell, stack) if kind is Kind.BUS else None
        tell(tr("Going through the record of the check…"))
        database = stack.enter_context(bay.records(writer=True))
        events = events_of(database, check_id)
        opened, last = opening(events), max(event.t for event in events)
        began, gap_s = moment(opened, last, now())
        numbers: list[int] = []
        if wire is None:
            ends = _without_bus(events, stack, began)
        else:
            ends = _on_bus(bay, opened, stack, wire, numbers)
        clock, vehicle = StandingClock(began), ends.simulated
        session = bay.session(
            opened, database, stack, ends.readings, clock,
            vehicle.tapped if vehicle else lambda _tap: None,
            sealed=lambda header: numbers.append(header.number),
            earlier=_until_given_up(events[1:], stop),
        )  # fmt: skip
        if vehicle is not None:
            _set_up(vehicle, session.state, found, gap_s or 0.0)
        return Prepared(session, stack.pop_all(), clock, last, ends)
    raise AssertionError("the stack swallows nothing")


def _until_given_up(events: Sequence[Event], stop: Stop) -> Iterator[Event]:
    for event in events:
        stop.pause(0.0)
        yield event


def _wire(bay: Bay, stop: Stop, tell: Tell, stack: ExitStack) -> tuple[Bus, Connection]:
    connection = read_settings(bay.folder).connection
    if not connection.is_chosen:
        raise BusError(tr("No connection to a vehicle's bus is chosen: see “Connection…”."))
    tell(live_check.opening_words(connection))
    bus = live_check.open_quietly(connection, stop.pause)
    stack.callback(close_quietly, bus)
    return bus, connection


def _on_bus(
    bay: Bay,
    opened: CheckOpened,
    stack: ExitStack,
    wire: tuple[Bus, Connection],
    numbers: list[int],
) -> Ends:
    """Read the bus again, and record it where it was recorded before.

    :param numbers: holds the record's number once it is sealed.
    """
    folders = (bus_recordings.folder_of(bay.folder),)
    part = bus_recordings.next_part(folders, opened.check_id)
    stack.callback(  # once the file is closed: some systems rename no open one
        lambda: [bus_recordings.give_number(folders, opened.check_id, each) for each in numbers]
    )
    source, recorder = live_check.connect(*wire, opened.sheet, stack, part)
    if recorder is not None:
        recorder.start = opened.opened_at.timestamp()
    return Ends(
        live_check.Assessed(source), records_bus=recorder is not None, refresh=source.throw_away
    )


def _without_bus(events: Sequence[Event], stack: ExitStack, began: float) -> Ends:
    """Take up again what a person keys, or put a new vehicle where the old one stood."""
    opened = opening(events)
    if kind_of(opened) is Kind.KEYED:
        return Ends(KeyedSource())
    family, celsius = opened.sheet.transmission.family, _last_celsius(events)
    vehicle = make_vehicle(family, sheet=opened.sheet, arrival=celsius)
    made = stack.enter_context(simulated_bay(vehicle, began))
    return Ends(made, made)


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
