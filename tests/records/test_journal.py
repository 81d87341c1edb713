from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta, timezone

import pytest
from faulty_disk import Clock, disk_full, disk_refuses, on_disk
from record_examples import NOON, deadline, opened, outcome, plug_out, reading, tap, wall
from sqlalchemy import select
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.procedure.events import Event, IdleSpeedNoted, Origin
from brimline.records import journal as journal_module
from brimline.records.codec import decode_event
from brimline.records.database import Database
from brimline.records.journal import HOLD_COUNT, HOLD_S, Journal
from brimline.records.repository import Repository
from brimline.records.schema import JournalRow


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def journal(database: Database, clock: Clock) -> Journal:
    made = Journal(database, clock=clock)
    made.begin(opened(), wall(0))
    return made


def test_begin_writes_header_and_first_event(database: Database) -> None:
    first = opened(origin=Origin.KEYED, duty="sustained load")
    header = Journal(database).begin(first, wall(0))
    record = Repository(database).load(first.check_id)
    assert record.header == header
    assert record.events == (first,)
    assert (header.number, header.opened_at, header.finished_at) == (1, NOON, None)
    assert (header.origin, header.invented, header.duty) == (Origin.KEYED, True, "sustained load")
    assert (header.family, header.sheet_id, header.sheet_revision) == ("K7", "tarnholm-k7", "C")
    assert (header.technician, header.vin, header.seal, header.verdict) == (
        "R. Quill",
        "",
        "",
        None,
    )


def test_checks_are_numbered_as_they_are_begun(database: Database) -> None:
    journal = Journal(database)
    numbers = [journal.begin(opened(f"check-{n:08d}"), wall(n)).number for n in range(3)]
    assert numbers == [1, 2, 3]


def test_the_same_check_is_not_begun_twice(database: Database, journal: Journal) -> None:
    with pytest.raises(StoreError, match="already"):
        Journal(database).begin(opened(), wall(0))
    assert on_disk(database) == [opened()]


def test_begin_raises_where_the_disk_refuses(database: Database) -> None:
    with disk_refuses(database), pytest.raises(StoreError, match="cannot be written"):
        Journal(database).begin(opened(), wall(0))
    assert Repository(database).open_checks() == ()


@pytest.mark.parametrize("make", [tap, deadline, plug_out])
def test_a_tap_or_deadline_is_on_the_disk_on_return_with_what_waited(
    database: Database, journal: Journal, make: Callable[[float], Event]
) -> None:
    journal.append(reading(1), wall(1))
    journal.append(reading(2), wall(2))
    assert (journal.unsaved, on_disk(database)) == (2, [opened()])
    journal.append(make(3), wall(3))
    assert journal.unsaved == 0
    assert on_disk(database) == [opened(), reading(1), reading(2), make(3)]


def test_readings_wait_a_second_at_most(database: Database, journal: Journal, clock: Clock) -> None:
    journal.append(reading(1), wall(1))
    clock.now += HOLD_S / 2
    journal.append(reading(2), wall(2))
    clock.now += HOLD_S / 2 - 0.01
    journal.append(reading(3), wall(3))
    assert len(on_disk(database)) == 1
    clock.now += 0.02
    journal.append(reading(4), wall(4))
    assert len(on_disk(database)) == 5
    journal.append(reading(5), wall(5))  # the second begins anew
    assert len(on_disk(database)) == 5


def test_readings_are_written_when_none_follow(
    database: Database, journal: Journal, clock: Clock
) -> None:
    journal.append(reading(1), wall(1))
    journal.save_due()
    assert journal.unsaved == 1
    clock.now += HOLD_S
    journal.save_due()
    assert journal.unsaved == 0
    assert len(on_disk(database)) == 2


def test_the_five_hundredth_reading_is_not_waited_with(
    database: Database, journal: Journal
) -> None:
    for n in range(HOLD_COUNT - 1):
        journal.append(reading(n), wall(n))
    assert journal.unsaved == HOLD_COUNT - 1
    journal.append(reading(HOLD_COUNT), wall(HOLD_COUNT))
    assert journal.unsaved == 0
    assert len(on_disk(database)) == HOLD_COUNT + 1


def test_flush_writes_what_waits(database: Database, journal: Journal) -> None:
    journal.append(reading(1), wall(1))
    journal.flush()
    assert journal.unsaved == 0
    assert on_disk(database) == [opened(), reading(1)]


def test_the_wall_clock_is_kept_in_utc(database: Database, journal: Journal) -> None:
    local = timezone(timedelta(hours=-7))
    journal.append(tap(1), (NOON + timedelta(seconds=1)).astimezone(local))
    with database.reading() as session:
        assert session.scalars(select(JournalRow.wall)).all() == [wall(0), wall(1)]
        texts = session.connection().exec_driver_sql("SELECT wall FROM journal").scalars().all()
    assert texts == ["2031-05-06T12:00:00.000000Z", "2031-05-06T12:00:01.000000Z"]


def test_a_refusing_disk_raises_nothing_and_loses_nothing(
    database: Database, journal: Journal
) -> None:
    journal.append(reading(1), wall(1))
    with disk_refuses(database):
        journal.append(tap(2), wall(2))
        assert journal.unsaved == 2
        assert "cannot be written" in str(journal.error)
        journal.append(reading(3), wall(3))
        journal.append(deadline(4), wall(4))
        assert journal.unsaved == 4
        with pytest.raises(StoreError, match="cannot be written"):
            journal.flush()
        assert journal.unsaved == 4
    assert on_disk(database) == [opened()]
    journal.append(tap(5), wall(5))
    assert (journal.unsaved, journal.error) == (0, None)
    assert on_disk(database) == [opened(), reading(1), tap(2), reading(3), deadline(4), tap(5)]


def test_a_full_disk_is_told_and_survived(database: Database, journal: Journal) -> None:
    sent: list[Event] = [opened()]
    with disk_full(database):
        for n in range(1, 300):
            sent.append(tap(n))
            journal.append(tap(n), wall(n))
        assert "is full" in str(journal.error)
        assert 0 < journal.unsaved < 299
    journal.flush()
    assert journal.error is None
    assert on_disk(database) == sent


def test_readings_try_a_refusing_disk_once_a_second(
    database: Database, journal: Journal, clock: Clock
) -> None:
    with disk_refuses(database):
        journal.append(tap(1), wall(1))
    journal.append(reading(2), wall(2))
    assert journal.unsaved == 2
    clock.now += HOLD_S
    journal.append(reading(3), wall(3))
    assert (journal.unsaved, journal.error) == (0, None)
    assert len(on_disk(database)) == 4


def test_what_a_refused_commit_brought_to_the_disk_is_not_written_twice(
    database: Database, journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    written = Database.writing

    @contextmanager
    def refuse_afterwards(self: Database) -> Iterator[Session]:
        with written(self) as session:
            yield session
        raise StoreError("The disk hesitates.")

    with monkeypatch.context() as patch:
        patch.setattr(Database, "writing", refuse_afterwards)
        journal.append(reading(1), wall(1))
        journal.append(tap(2), wall(2))
        assert journal.unsaved == 2
    journal.append(tap(3), wall(3))
    assert journal.unsaved == 0
    assert on_disk(database) == [opened(), reading(1), tap(2), tap(3)]


def test_a_long_backlog_is_written_in_order_and_in_parts(
    database: Database, journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(journal_module, "_CHUNK", 4)
    with disk_refuses(database):
        for n in range(1, 12):
            journal.append(tap(n), wall(n))
    journal.flush()
    assert on_disk(database) == [opened(), *(tap(n) for n in range(1, 12))]


def test_memory_is_bounded_and_only_readings_are_given_up(
    database: Database, journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(journal_module, "MOST_UNSAVED", 3)
    with disk_refuses(database):
        journal.append(tap(1), wall(1))
        for n in range(2, 6):
            journal.append(reading(n), wall(n))
        journal.append(tap(6), wall(6))
        assert (journal.unsaved, journal.dropped) == (4, 2)
    journal.flush()
    assert on_disk(database) == [opened(), tap(1), reading(2), reading(3), tap(6)]


def test_a_check_that_was_interrupted_is_gone_on_with(database: Database, journal: Journal) -> None:
    journal.append(tap(1), wall(1))
    later = Journal(database)
    later.resume(opened().check_id)
    later.append(tap(2), wall(2))
    assert on_disk(database) == [opened(), tap(1), tap(2)]


def test_only_an_open_check_is_gone_on_with(database: Database, journal: Journal) -> None:
    with pytest.raises(StoreError, match="no record “unheard-of”"):
        journal.resume("unheard-of")
    Repository(database).finish(opened().check_id, outcome(), wall(9))
    with pytest.raises(StoreError, match="no open record"):
        journal.resume(opened().check_id)


def test_nothing_is_entered_after_the_end(database: Database, journal: Journal) -> None:
    Repository(database).finish(opened().check_id, outcome(), wall(9))
    with pytest.raises(StoreError, match="is finished"):
        journal.append(tap(10), wall(10))
    assert on_disk(database) == [opened()]
    journal.begin(opened("the-next-check"), wall(11))
    journal.append(tap(1), wall(12))
    assert on_disk(database, 2) == [opened("the-next-check"), tap(1)]


def test_the_next_check_waits_for_what_is_unsaved_of_the_last(
    database: Database, journal: Journal
) -> None:
    with disk_refuses(database):
        journal.append(tap(1), wall(1))
        for go_on in (
            lambda: journal.begin(opened("the-next-check"), wall(2)),
            lambda: journal.resume(opened().check_id),
        ):
            with pytest.raises(StoreError, match="cannot be written"):
                go_on()
    journal.begin(opened("the-next-check"), wall(2))
    assert on_disk(database, 1) == [opened(), tap(1)]


@pytest.mark.parametrize(
    ("event_", "moment"),
    [
        (opened(), wall(1)),
        (tap(float("nan")), wall(1)),
        (tap(float("inf")), wall(1)),
        (tap(1), datetime(2031, 5, 6)),  # noqa: DTZ001 - the mistake under test
    ],
)
def test_a_fault_of_the_caller_is_raised_and_not_kept(
    database: Database, journal: Journal, event_: Event, moment: datetime
) -> None:
    with pytest.raises(ValueError, match=r"begin|time"):
        journal.append(event_, moment)
    journal.append(tap(2), wall(2))
    assert on_disk(database) == [opened(), tap(2)]


def test_an_entry_that_cannot_be_written_as_text_is_not_kept(
    database: Database, journal: Journal
) -> None:
    with pytest.raises(StoreError, match="idle_speed_noted"):
        journal.append(IdleSpeedNoted(t=1.0, rpm="800"), wall(1))  # type: ignore[arg-type] # so
    assert journal.unsaved == 0
    journal.append(tap(2), wall(2))
    assert on_disk(database) == [opened(), tap(2)]


def test_a_journal_needs_a_beginning(database: Database) -> None:
    with pytest.raises(ValueError, match="begin"):
        Journal(database).append(tap(1), wall(1))


def test_what_is_in_memory_only_can_be_had_with_its_place(
    database: Database, journal: Journal
) -> None:
    journal.append(tap(1), wall(1))
    assert (journal.last, journal.held()) == (2, ())
    journal.append(reading(2), wall(2))
    with disk_refuses(database):
        journal.append(tap(3), wall(3))
        held = journal.held()
    assert [(entry.seq, entry.wall) for entry in held] == [(3, wall(2)), (4, wall(3))]
    assert [decode_event(entry.payload) for entry in held] == [reading(2), tap(3)]
    assert journal.last == 4
    journal.flush()
    assert (journal.last, journal.held()) == (4, ())
