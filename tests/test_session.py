"""A running check tells of a disk that refuses and of a bus that is gone, and seals in the end."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime

from check_play import TEMPERATURE_ONLY, sheet

from brimline.errors import StoreError
from brimline.procedure import events as ev
from brimline.procedure.events import CheckOpened, Event
from brimline.procedure.state import CheckState
from brimline.reading import Reading, SignalName
from brimline.session import CheckSession
from brimline.trace import GAP_S, Trace


class FailingJournal:
    """Keeps nothing while it fails."""

    def __init__(self) -> None:
        self.error: StoreError | None = None
        self.due = 0

    def begin(self, opened: CheckOpened, wall: datetime) -> None:
        assert wall == opened.opened_at

    def append(self, event: Event, wall: datetime) -> None:
        assert event.t >= 0
        assert wall.tzinfo is not None

    def save_due(self) -> None:
        self.due += 1


class Source:
    """Readings by hand."""

    def __init__(self) -> None:
        self.waiting: list[Reading] = []
        self.lost = ""

    def pump(self, now: float) -> Iterable[Reading]:
        taken, self.waiting = self.waiting, []
        return [reading for reading in taken if reading.t <= now]


def opened() -> CheckOpened:
    return CheckOpened(
        check_id="s" * 32, opened_at=datetime(2026, 5, 4, tzinfo=UTC), origin=ev.Origin.TRAINING,
        sheet=sheet(), duty="normal", measured=TEMPERATURE_ONLY, source="by hand",
        technician="R. Calloway (invented)", shop="Harrow Lane", program="0", procedure=1,
    )  # fmt: skip


def test_troubles_are_told_and_end() -> None:
    journal, source = FailingJournal(), Source()
    session = CheckSession(opened(), journal, source, lambda: 1.0)
    assert session.snapshot().troubles == ()
    journal.error = StoreError("The disk is full; make room.")
    source.lost = "The adapter was pulled off."
    session.step()
    saved, bus = session.snapshot().troubles
    assert saved.startswith("NOT SAVED. The disk is full; make room.")
    assert bus == "The adapter was pulled off."
    assert journal.due == 1
    journal.error, source.lost = None, ""
    assert session.snapshot().troubles == ()


def test_a_record_that_cannot_be_sealed_is_tried_again() -> None:
    tries: list[CheckState] = []

    def finished(state: CheckState) -> None:
        tries.append(state)
        if len(tries) < 3:
            raise StoreError("The disk is full; make room.")

    session = CheckSession(opened(), FailingJournal(), Source(), lambda: 2.0, finished=finished)
    assert not session.tap(ev.CheckAborted, reason="enough")
    assert not session.close()
    assert not session.sealed
    assert session.snapshot().troubles[0].startswith("NOT SEALED. The disk is full")
    session.step()
    session.step()
    assert session.sealed
    assert len(tries) == 3
    assert session.snapshot().troubles == ()
    session.step()
    assert len(tries) == 3


def test_readings_are_charted_with_their_gaps() -> None:
    source = Source()
    session = CheckSession(opened(), FailingJournal(), source, lambda: 60.0)
    source.waiting = [Reading(t, SignalName.FLUID_TEMPERATURE, 20.0 + t) for t in (1.0, 2.0, 30.0)]
    session.step()
    t, y = session.snapshot().traces[SignalName.FLUID_TEMPERATURE]
    assert list(t) == [1.0, 2.0, 30.0, 30.0]
    assert [str(v) for v in y] == ["21.0", "22.0", "nan", "50.0"]
    assert not y.flags.writeable


def test_a_trace_grows_without_losing_anything() -> None:
    trace = Trace()
    for i in range(5000):
        trace.append(i * GAP_S / 2, float(i))
    t, y = trace.view()
    assert len(trace) == len(t) == 5000
    assert y[0] == 0
    assert y[-1] == 4999
