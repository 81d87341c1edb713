"""Readings move into traces when a check is finished, and nothing of them changes."""

from __future__ import annotations

import sqlite3
import uuid
from contextlib import closing
from typing import Any

import pytest
from check_play import Play
from faulty_disk import disk_refuses
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from record_examples import deadline, opened, outcome, reading, tap, wall

from brimline.errors import StoreError
from brimline.procedure import reducer
from brimline.procedure.events import CheckOpened, Event
from brimline.procedure.state import CheckState
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.records import repository as finishing
from brimline.records import traces
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.packing import Packed, unpack
from brimline.records.repository import Repository

CHECK = "a1b2c3d4e5f60718"


@pytest.fixture
def repository(database: Database) -> Repository:
    return Repository(database)


def write(database: Database, events: list[Event], check_id: str = CHECK) -> None:
    journal = Journal(database)
    journal.begin(opened(check_id), wall(0))
    for event in events:
        journal.append(event, wall(event.t))
    journal.flush()


def rows(database: Database, table: str, check_id: str = CHECK) -> list[tuple[Any, ...]]:
    """The rows of a check as another program sees them."""
    with closing(sqlite3.connect(database.path)) as connection:
        found = connection.execute(f"SELECT * FROM {table} WHERE check_id = ?", (check_id,))
        return [row[1:] for row in found.fetchall()]


def unpacked(database: Database, check_id: str = CHECK) -> list[tuple[Any, ...]]:
    return [
        tuple(line)
        for row in rows(database, "traces", check_id)
        for line in unpack(Packed(*row)).lines()
    ]


def mixed(count: int) -> list[Event]:
    """Readings of all signals, with taps and deadlines between them."""
    events: list[Event] = []
    for n in range(count):
        t = n / 2
        events += [
            Reading(t, SignalName.FLUID_TEMPERATURE, 20.0 + n // 9, source="obd 7E8 pid 05"),
            Reading(t, SignalName.ENGINE_SPEED, 650.25 - n % 5, source="obd 7E8 pid 0C"),
            Reading(t, SignalName.RANGE, "P" if n % 7 else None, Quality.ERROR),
            Reading(t, SignalName.VEHICLE_SPEED, 0.0, way=Way.KEYED),
        ]
        events += [tap(t)] if n % 10 == 3 else []
        events += [deadline(t)] if n % 10 == 7 else []
    return events


def test_readings_leave_the_journal_and_events_remain(
    database: Database, repository: Repository
) -> None:
    write(database, mixed(50))
    before, events = rows(database, "journal"), repository.load(CHECK).events
    repository.finish(CHECK, outcome(), wall(60))
    after = rows(database, "journal")
    assert [row[3] for row in before].count("reading") == 200
    assert after == [row for row in before if row[3] != "reading"]
    assert [row[:3] for row in rows(database, "traces")] == [
        (signal, 1, 50) for signal in sorted(SignalName)
    ]
    assert sorted(after + unpacked(database)) == before
    assert repository.load(CHECK).events == events == (opened(CHECK), *mixed(50))
    assert repository.is_intact(CHECK)


ANY_EVENT = st.builds(
    Reading,
    t=st.floats(-1e12, 1e12),
    signal=st.sampled_from(SignalName),
    value=st.floats() | st.text(max_size=5) | st.none() | st.integers(0, 9),
    quality=st.sampled_from(Quality),
    way=st.sampled_from(Way),
    source=st.text(max_size=5),
) | st.floats(0, 9).map(tap)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=20)
@given(st.lists(ANY_EVENT, max_size=30))
def test_any_mixture_comes_back_as_it_was(database: Database, events: list[Event]) -> None:
    repository, check_id = Repository(database), uuid.uuid4().hex
    journal = Journal(database)
    journal.begin(opened(check_id), wall(0))
    for place, event in enumerate(events):
        journal.append(event, wall(place))
    journal.flush()
    before = rows(database, "journal", check_id)
    happened = repr(repository.load(check_id).events)
    repository.finish(check_id, outcome(), wall(60))
    assert repr(repository.load(check_id).events) == happened
    assert repository.is_intact(check_id)
    after = rows(database, "journal", check_id) + unpacked(database, check_id)
    assert sorted(map(repr, after)) == sorted(map(repr, before))


# Such as another version could have written it, or a hand.
PECULIAR = [
    pytest.param("payload = replace(payload, '40.0', '40')", id="a whole number"),
    pytest.param("payload = replace(payload, '40.0', '4e1')", id="a number written otherwise"),
    pytest.param("payload = replace(payload, ',', ', ')", id="spaces"),
    pytest.param("payload = replace(payload, ',\"source\":\"obd 7E8 pid 05\"', '')", id="default"),
    pytest.param("wall = replace(wall, 'Z', '+00:00')", id="zone written otherwise"),
    pytest.param("wall = 'at noon'", id="no time of day"),
]


@pytest.mark.parametrize("change", PECULIAR)
def test_a_reading_that_would_not_come_back_to_the_letter_stays_a_row(
    database: Database, repository: Repository, change: str
) -> None:
    write(database, [reading(1), reading(2), tap(3), reading(4)])
    with closing(sqlite3.connect(database.path)) as connection:
        connection.execute(f"UPDATE journal SET {change} WHERE seq = 3")
        connection.commit()
    before, events = rows(database, "journal"), repository.load(CHECK).events
    repository.finish(CHECK, outcome(), wall(60))
    after = rows(database, "journal")
    assert after == [before[0], before[2], before[3]]
    assert sorted(after + unpacked(database)) == before
    assert repository.load(CHECK).events == events
    assert repository.is_intact(CHECK)


def test_a_check_without_readings_has_no_trace(database: Database, repository: Repository) -> None:
    write(database, [tap(1)])
    repository.finish(CHECK, outcome(), wall(60))
    assert rows(database, "traces") == []
    assert repository.load(CHECK).events == (opened(CHECK), tap(1))


def everything(database: Database) -> list[str]:
    with closing(sqlite3.connect(database.path)) as connection:
        return list(connection.iterdump())


@pytest.mark.parametrize(
    "step", ["pack_readings", "_events", "_fill", "next_link", "seal_of", "header_of"]
)
def test_a_failure_anywhere_leaves_the_journal_whole(
    database: Database, repository: Repository, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    write(database, mixed(20))
    before = everything(database)
    whole = getattr(finishing, step)

    def fails(*arguments: Any) -> object:
        done = whole(*arguments)
        if step == "header_of" and arguments[0].finished_at is None:
            return done  # it is asked for before anything is done, too
        raise StoreError("the power of the example failed")

    monkeypatch.setattr(finishing, step, fails)
    with pytest.raises(StoreError, match="power of the example"):
        repository.finish(CHECK, outcome(), wall(60))
    assert everything(database) == before
    monkeypatch.undo()
    repository.finish(CHECK, outcome(), wall(60))
    assert repository.load(CHECK).events == (opened(CHECK), *mixed(20))


def test_a_disk_that_refuses_leaves_the_journal_whole(
    database: Database, repository: Repository
) -> None:
    write(database, mixed(200))
    before = everything(database)
    with disk_refuses(database), pytest.raises(StoreError, match="cannot be written"):
        repository.finish(CHECK, outcome(), wall(60))
    assert everything(database) == before
    repository.finish(CHECK, outcome(), wall(60))
    assert repository.load(CHECK).events == (opened(CHECK), *mixed(200))


@pytest.mark.parametrize(
    "damage",
    [
        "DELETE FROM journal WHERE seq = 2",
        "UPDATE journal SET payload = substr(payload, 2) WHERE seq = 2",
        "UPDATE journal SET t = 99 WHERE seq = 2",
        "UPDATE journal SET t = 'noon' WHERE seq = 2",
        "UPDATE journal SET wall = X'00' WHERE seq = 2",
        "UPDATE journal SET seq = 'two' WHERE seq = 2",
        "UPDATE journal SET payload = CAST(payload AS BLOB) WHERE seq = 2",
        "INSERT INTO traces VALUES ('a1b2c3d4e5f60718', 'range', 1, 1, X'00')",
    ],
)
def test_a_damaged_journal_is_not_finished(
    database: Database, repository: Repository, damage: str
) -> None:
    write(database, mixed(5))
    with closing(sqlite3.connect(database.path)) as connection:
        connection.execute(damage)
        connection.commit()
    before = everything(database)
    with pytest.raises(StoreError, match="Record 1 is damaged"):
        repository.finish(CHECK, outcome(), wall(60))
    assert everything(database) == before


def test_what_was_packed_is_compared_before_anything_is_deleted(
    database: Database, repository: Repository, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A packer with a fault costs room, never a reading."""
    whole = traces.Packer.add

    def faulty(packer: Any, line: Any, given: Reading) -> bool:
        return whole(packer, line._replace(t=line.t + 1e-9) if line.seq == 7 else line, given)

    monkeypatch.setattr(traces.Packer, "add", faulty)
    write(database, mixed(5))
    before = rows(database, "journal")
    repository.finish(CHECK, outcome(), wall(60))
    assert [row for row in rows(database, "journal") if row[3] == "reading"] == [before[6]]
    assert sorted(rows(database, "journal") + unpacked(database)) == before


def test_packed_readings_are_loaded_without_reading_any_text(
    database: Database, repository: Repository, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(database, mixed(500))
    repository.finish(CHECK, outcome(), wall(600))
    whole = traces.decode_event
    decoded: list[str] = []

    def counted(text: str) -> Event:
        decoded.append(text)
        return whole(text)

    monkeypatch.setattr(traces, "decode_event", counted)
    assert len(repository.load(CHECK).events) == 1 + 2000 + 100
    assert len(decoded) == 1 + 100


def replayed(events: tuple[Event, ...]) -> CheckState:
    first, *rest = events
    assert isinstance(first, CheckOpened)
    state = reducer.open_check(first)
    for event in rest:
        state, _ = reducer.reduce(state, event)
    return state


def test_a_record_replays_to_the_same_state_as_its_journal(
    database: Database, repository: Repository
) -> None:
    play = Play().level_set()
    first, *rest = play.events
    assert isinstance(first, CheckOpened)
    journal = Journal(database)
    journal.begin(first, wall(0))
    for event in rest:
        journal.append(event, wall(event.t))
    journal.flush()
    before = repository.load(first.check_id).events
    repository.finish(first.check_id, outcome(), wall(600))
    after = repository.load(first.check_id).events
    assert sum(isinstance(event, Reading) for event in after) > 80
    assert [row[3] for row in rows(database, "journal", first.check_id)].count("reading") == 0
    assert after == before == tuple(play.events)
    assert replayed(after) == replayed(before) == play.state
    assert replayed(after).closed is not None
