"""A running check tells of a disk that refuses and of a bus that is gone, seals in the end, and
goes on where it was interrupted."""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from check_play import TEMPERATURE_ONLY, sheet

from brimline.check_runner import QUEUE_LENGTH
from brimline.errors import StoreError
from brimline.procedure import events as ev
from brimline.procedure.events import CheckOpened, Event, Item
from brimline.procedure.state import CheckState
from brimline.reading import Reading, SignalName
from brimline.session import LOST_TOLD_S, SAVED_AGAIN_S, SEAL_AGAIN_S, CheckSession
from brimline.trace import GAP_S, Trace


class FailingJournal:
    """Keeps nothing while it fails."""

    def __init__(self) -> None:
        self.error: StoreError | None = None
        self.due = 0
        self.unsaved = 0
        self.resumed = ""

    def begin(self, opened: CheckOpened, wall: datetime) -> None:
        assert wall == opened.opened_at

    def resume(self, check_id: str) -> None:
        self.resumed = check_id

    def held(self) -> tuple[()]:
        return ()

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
    source.lost = "The adapter was pulled off."
    session.step()
    assert session.snapshot().troubles == ("The adapter was pulled off.",)
    assert journal.due == 1
    source.lost = ""
    assert session.snapshot().troubles == ()


def test_readings_left_out_are_told_for_a_minute_after_the_last_loss() -> None:
    source, now = Source(), [1.0]
    session = CheckSession(opened(), FailingJournal(), source, lambda: now[0])

    def flood() -> None:
        source.waiting = [
            Reading(now[0], SignalName.FLUID_TEMPERATURE, 70.0) for _ in range(QUEUE_LENGTH + 3)
        ]
        session.step()

    flood()
    now[0] = 31.0
    flood()
    (told,) = session.snapshot().troubles
    assert told.startswith("6 readings")
    assert "nothing needs to be done" in told
    now[0] = 31.0 + LOST_TOLD_S
    session.step()
    assert session.snapshot().troubles == (told,)
    now[0] += 1.0
    session.step()
    assert session.snapshot().troubles == ()
    assert session.snapshot().dropped == 6
    flood()
    assert session.snapshot().troubles[0].startswith("9 readings")


def test_a_disk_that_refuses_is_told_with_since_when_and_how_much_and_when_it_is_over() -> None:
    journal, now = FailingJournal(), [10.0]
    session = CheckSession(opened(), journal, Source(), lambda: now[0])
    assert session.snapshot().not_saved is None
    journal.error, journal.unsaved = StoreError("The disk is full; make room."), 3
    session.step()
    now[0], journal.unsaved = 75.0, 37
    session.step()
    told = session.snapshot().not_saved
    assert told is not None
    assert (told.entries, told.why) == (37, "The disk is full; make room.")
    assert told.since == opened().opened_at + timedelta(seconds=10)
    assert not told.unsealed
    journal.error, now[0] = None, 80.0
    session.step()
    shown = session.snapshot()
    assert shown.not_saved is None
    assert shown.saved_again == opened().opened_at + timedelta(seconds=80)
    now[0] = 80.0 + SAVED_AGAIN_S + 1
    assert session.snapshot().saved_again is None


def test_a_tap_is_never_shown_as_saved_before_it_is() -> None:
    """What the window shows with a tap says in the same moment that it is in memory only."""
    journal = FailingJournal()
    session = CheckSession(opened(), journal, Source(), lambda: 1.0)
    journal.error, journal.unsaved = StoreError("The disk is full; make room."), 1
    assert not session.tap(ev.Confirmed, item=Item.CATCH_PAN)
    shown = session.snapshot()
    assert Item.CATCH_PAN in shown.state.confirmed
    assert shown.not_saved is not None


def test_a_record_that_cannot_be_sealed_is_tried_again() -> None:
    tries: list[CheckState] = []

    def finished(state: CheckState) -> None:
        tries.append(state)
        if len(tries) < 3:
            raise StoreError("The disk is full; make room.")

    now = [2.0]
    session = CheckSession(opened(), FailingJournal(), Source(), lambda: now[0], finished=finished)
    assert not session.tap(ev.CheckAborted, reason="enough")
    assert not session.close()
    assert not session.sealed
    told = session.snapshot().not_saved
    assert told is not None
    assert (told.unsealed, told.why) == (True, "The disk is full; make room.")
    session.step()
    assert len(tries) == 1  # a refusal may hold the window for long
    for _ in range(2):
        now[0] += SEAL_AGAIN_S
        session.step()
    assert session.sealed
    assert len(tries) == 3
    assert session.snapshot().not_saved is None
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


HEAT = SignalName.FLUID_TEMPERATURE
EARLIER = (
    *(Reading(t, HEAT, 20.0 + t) for t in (1.0, 2.0, 3.0)),
    ev.Confirmed(t=3.0, item=Item.CATCH_PAN),
)


def test_a_check_goes_on_with_its_traces_its_gap_and_no_effect_fired() -> None:
    journal, source, now = FailingJournal(), Source(), [400.0]
    session = CheckSession(opened(), journal, source, lambda: now[0], earlier=EARLIER)
    assert journal.resumed == opened().check_id
    assert not session.resume(gap_is_known=True, plug_is_out=False, engine_runs=False)
    assert session.step() == ()
    assert Item.CATCH_PAN in session.state.confirmed
    assert session.state.resumed[0].gap_s == 397.0
    source.waiting = [Reading(401.0, HEAT, 60.0)]
    now[0] = 401.0
    session.step()
    t, y = session.snapshot().traces[HEAT]
    assert list(t[[0, 1, 2, -1]]) == [1.0, 2.0, 3.0, 401.0]
    assert list(y[:3]) == [21.0, 22.0, 23.0]
    assert all(map(math.isnan, y[3:-1]))
    assert len(y) > 4


def test_values_from_both_sides_of_an_unknown_gap_are_not_joined_however_near_they_are() -> None:
    source = Source()
    session = CheckSession(opened(), FailingJournal(), source, lambda: 4.0, earlier=EARLIER)
    session.resume(gap_is_known=False, plug_is_out=False, engine_runs=False)
    source.waiting = [Reading(4.0, HEAT, 24.0)]
    session.step()
    assert math.isnan(session.snapshot().traces[HEAT][1][3])
    told = [*EARLIER, ev.Resumed(t=4.0, gap_s=None, plug_is_out=False, engine_runs=False)]
    again = CheckSession(
        opened(), FailingJournal(), source, lambda: 5.0,
        earlier=[*told, Reading(4.0, HEAT, 24.0)],
    )  # fmt: skip
    assert math.isnan(again.snapshot().traces[HEAT][1][3])


def test_a_trace_grows_without_losing_anything() -> None:
    trace = Trace()
    for i in range(5000):
        trace.append(i * GAP_S / 2, float(i))
    t, y = trace.view()
    assert len(trace) == len(t) == 5000
    assert y[0] == 0
    assert y[-1] == 4999
