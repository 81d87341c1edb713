from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import timedelta, timezone

import pytest
from record_examples import NOON, VIN, deadline, opened, outcome, reading, tap, wall

from brimline.errors import StoreError
from brimline.procedure.events import VehicleIdentified, Verdict
from brimline.records import keys
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.repository import Repository


@pytest.fixture
def repository(database: Database) -> Repository:
    return Repository(database)


def begin(database: Database, check_id: str) -> Journal:
    journal = Journal(database)
    journal.begin(opened(check_id), wall(0))
    journal.append(reading(1), wall(1))
    journal.append(tap(2), wall(2))
    return journal


@contextmanager
def without_guards(database: Database) -> Iterator[sqlite3.Connection]:
    """A hand at the file that no trigger stops."""
    with closing(sqlite3.connect(database.path)) as connection:
        names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        for (name,) in names.fetchall():
            connection.execute(f"DROP TRIGGER {name}")
        yield connection
        connection.commit()


def test_finishing_fills_the_header_and_seals(database: Database, repository: Repository) -> None:
    begin(database, "a1b2c3d4")
    local = timezone(timedelta(hours=2))
    header = repository.finish("a1b2c3d4", outcome(vin=VIN.lower()), wall(600).astimezone(local))
    assert (header.vin, header.vin_tail) == (VIN, "0LANE123")
    assert (header.plate, header.work_order, header.fluid) == ("HL 12 QR", "WO-7", "TF-Clear")
    assert header.verdict is Verdict.CORRECTED
    assert (header.odometer_km, header.closing_celsius) == (84210.0, 41.5)
    assert (header.added_litres, header.run_off_litres) == (0.4, 0.0)
    assert (header.finished_at, header.opened_at) == (wall(600), NOON)
    assert len(header.seal) == 64
    assert (header.previous_seal, header.seal_number) == ("", 1)
    record = repository.load("a1b2c3d4")
    assert record.header == header
    assert record.events == (opened("a1b2c3d4"), reading(1), tap(2))
    assert repository.is_intact("a1b2c3d4")


def test_what_was_never_learnt_stays_unknown(database: Database, repository: Repository) -> None:
    begin(database, "a1b2c3d4")
    unknown = outcome(
        vin="", odometer_km=None, closing_celsius=None, verdict=Verdict.STOPPED, fluid=""
    )
    header = repository.finish("a1b2c3d4", unknown, wall(600))
    assert (header.vin, header.vin_tail) == ("", "")
    assert (header.odometer_km, header.closing_celsius) == (None, None)
    assert repository.is_intact("1")


def test_what_follows_from_the_rest_of_a_record_can_be_had_anew(
    database: Database, repository: Repository
) -> None:
    journal = Journal(database)
    journal.begin(opened("a1b2c3d4"), wall(0))
    journal.append(VehicleIdentified(t=1, vin=VIN, work_order="WO-7", complaint="Slips."), wall(1))
    journal.append(reading(2), wall(2))
    repository.finish("a1b2c3d4", outcome(), wall(600))
    names = ("vin_tail", "plate_key", "work_order_key", "notes")
    with closing(sqlite3.connect(database.path)) as connection:
        stored = connection.execute(f"SELECT {', '.join(names)} FROM checks").fetchone()
    record = repository.load("1")
    header = record.header
    anew = keys.derived(header.vin, header.plate, header.work_order, record.events)
    assert anew == dict(zip(names, stored, strict=True))
    assert stored == ("0LANE123", "hl12qr", "wo7", "slips.")


def test_each_seal_holds_the_one_before(database: Database, repository: Repository) -> None:
    for check_id in ("first-check", "second-check", "third-check"):
        begin(database, check_id)
    # Finished in another order than begun, at one and the same time of day.
    seals = [
        repository.finish(check_id, outcome(), wall(600))
        for check_id in ("second-check", "third-check", "first-check")
    ]
    assert [header.previous_seal for header in seals] == ["", seals[0].seal, seals[1].seal]
    assert [header.seal_number for header in seals] == [1, 2, 3]
    assert len({header.seal for header in seals}) == 3


def test_a_check_is_finished_once(database: Database, repository: Repository) -> None:
    begin(database, "a1b2c3d4")
    header = repository.finish("a1b2c3d4", outcome(), wall(600))
    with pytest.raises(StoreError, match="Record 1 is finished and sealed"):
        repository.finish("a1b2c3d4", outcome(plate="HL 9"), wall(601))
    assert repository.load("1").header == header
    with pytest.raises(StoreError, match="no record “a1b2c3d5”"):
        repository.finish("a1b2c3d5", outcome(), wall(600))


def test_open_checks_are_those_not_finished(database: Database, repository: Repository) -> None:
    for check_id in ("first-check", "second-check", "third-check"):
        begin(database, check_id)
    repository.finish("second-check", outcome(), wall(600))
    assert [h.check_id for h in repository.open_checks()] == ["first-check", "third-check"]
    assert repository.open_checks()[0] == repository.load("first-check").header


def test_an_open_check_has_no_seal(database: Database, repository: Repository) -> None:
    begin(database, "a1b2c3d4")
    assert repository.load("1").header.seal == ""
    with pytest.raises(StoreError, match="not finished"):
        repository.is_intact("1")


@pytest.mark.parametrize(
    ("asked", "number"),
    [
        ("a1b2c3d4e5", 1),
        ("a1b2c3d4", 1),
        ("A1B2C3D4", 1),
        (" a1b2c3d4 ", 1),
        ("a1b2c3f", 2),
        ("1", 1),
        ("2", 2),
        ("3", 3),
        ("1234567", 3),
        ("short", 4),  # a whole id counts however short it is
    ],
)
def test_a_record_is_found_by_id_prefix_or_number(
    database: Database, repository: Repository, asked: str, number: int
) -> None:
    for check_id in ("a1b2c3d4e5", "a1b2c3f4e5", "1234567890", "short"):
        begin(database, check_id)
    assert repository.load(asked).header.number == number


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("a1b2c", "no record “a1b2c”; give its number, its id, or at least the first 6"),
        ("a1b2c3", "“a1b2c3” fits more than one record; give more"),
        ("a1b2c3x", "no record “a1b2c3x”"),
        ("%%%%%%", "no record"),
        ("______", "no record"),
        ("0", "no record"),
        ("99", "no record"),
        ("-1", "no record"),
        ("²", "no record"),
        ("", "no record “”"),
        ("9" * 30, "no record"),
        ("a1b2c3\n\ud800", r"no record “a1b2c3\?\?”"),
    ],
)
def test_a_record_that_is_not_found_is_one_sentence(
    database: Database, repository: Repository, asked: str, told: str
) -> None:
    for check_id in ("a1b2c3d4e5", "a1b2c3f4e5"):
        begin(database, check_id)
    with pytest.raises(StoreError, match=told) as caught:
        repository.load(asked)
    assert "\n" not in str(caught.value)


def test_a_number_that_is_also_the_start_of_an_id_is_ambiguous(
    database: Database, repository: Repository
) -> None:
    begin(database, "100000abc")
    begin(database, "fedcba")
    with without_guards(database) as connection:
        connection.execute("UPDATE checks SET number = 100000 WHERE check_id = 'fedcba'")
    with pytest.raises(StoreError, match="more than one"):
        repository.load("100000")
    assert repository.load("100000a").header.check_id == "100000abc"


DAMAGE = [
    pytest.param("UPDATE journal SET payload = substr(payload, 2) WHERE seq = 3", id="payload"),
    pytest.param("UPDATE journal SET payload = X'ff00' WHERE seq = 3", id="payload is bytes"),
    pytest.param("UPDATE journal SET t = 7 WHERE seq = 3", id="time"),
    pytest.param("UPDATE journal SET kind = 'plug_in' WHERE seq = 3", id="kind"),
    pytest.param("DELETE FROM journal WHERE seq = 1", id="first entry gone"),
    pytest.param("UPDATE journal SET seq = 4 WHERE seq = 3", id="entry missing"),
    pytest.param("UPDATE journal SET seq = 2 WHERE seq = 3", id="entry twice"),
    pytest.param("DELETE FROM traces", id="trace gone"),
    pytest.param("UPDATE traces SET content = X'00'", id="trace"),
    pytest.param("UPDATE traces SET content = 'text'", id="trace is text"),
    pytest.param("UPDATE traces SET signal = 'engine_speed'", id="trace of another signal"),
    pytest.param("UPDATE traces SET count = 2", id="count of readings"),
    pytest.param("UPDATE traces SET count = 1e300", id="count is no whole number"),
    pytest.param("UPDATE traces SET form = 2", id="form of the trace"),
    pytest.param("UPDATE checks SET seal_form = 1", id="trace in the first form"),
    pytest.param("UPDATE checks SET finished_at = NULL", id="trace of an open check"),
    pytest.param("UPDATE checks SET origin = 'hearsay'", id="origin"),
    pytest.param("UPDATE checks SET verdict = 'fine'", id="verdict"),
    pytest.param("UPDATE checks SET opened_at = 'at noon'", id="time of day"),
    pytest.param("UPDATE checks SET finished_at = '2031-05-06'", id="time without zone"),
]


@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_record_is_one_sentence(
    database: Database, repository: Repository, damage: str
) -> None:
    begin(database, "a1b2c3d4")
    repository.finish("a1b2c3d4", outcome(), wall(600))
    with without_guards(database) as connection:
        connection.execute(damage)
    with pytest.raises(StoreError, match="damaged") as caught:
        repository.load("1")
    assert "\n" not in str(caught.value)


CHANGES = [
    "UPDATE checks SET plate = 'HL 1'",
    "UPDATE checks SET finished_at = NULL",
    "UPDATE checks SET seal = ''",
    "UPDATE OR REPLACE checks SET number = 1 WHERE number = 2",
    "DELETE FROM checks",
    "INSERT OR REPLACE INTO checks SELECT * FROM checks WHERE number = 1",
    "INSERT OR REPLACE INTO checks (check_id, number, opened_at, origin, invented, vin, vin_tail,"
    " plate, work_order, technician, family, sheet_id, sheet_revision, duty, fluid, added_litres,"
    " run_off_litres, seal, previous_seal)"
    " VALUES ('x', 1, '', '', 0, '', '', '', '', '', '', '', '', '', '', 0, 0, '', '')",
    "UPDATE journal SET t = 9 WHERE seq = 3",
    "UPDATE journal SET check_id = 'finished' WHERE check_id = 'open' AND seq = 3",
    "DELETE FROM journal WHERE seq = 3",
    "INSERT INTO journal VALUES ('finished', 4, 1, '', '', '')",
    "INSERT OR REPLACE INTO journal VALUES ('finished', 3, 1, '', '', '')",
    "UPDATE traces SET count = 2",
    "DELETE FROM traces",
    "INSERT INTO traces VALUES ('finished', 'range', 1, 1, X'00')",
    "INSERT OR REPLACE INTO traces SELECT * FROM traces",
]


@pytest.mark.parametrize("change", CHANGES)
def test_the_file_itself_guards_a_finished_check(
    database: Database, repository: Repository, change: str
) -> None:
    begin(database, "finished")
    begin(database, "open")
    header = repository.finish("finished", outcome(), wall(600))
    # Another program's connection, with SQLite's own defaults.
    with closing(sqlite3.connect(database.path, isolation_level=None)) as connection:
        with pytest.raises(sqlite3.IntegrityError, match="finished check cannot"):
            connection.execute(change)
        connection.execute("DELETE FROM journal WHERE check_id = 'open' AND seq = 3")
        connection.execute("UPDATE checks SET plate = 'HL 1' WHERE check_id = 'open'")
    assert repository.load("finished").header == header
    assert len(repository.load("finished").events) == 3
    assert repository.is_intact("finished")


TAMPERING = [
    "UPDATE journal SET payload = replace(payload, 'catch', 'watch') WHERE seq = 3",
    "UPDATE journal SET wall = replace(wall, ':02.', ':03.') WHERE seq = 3",
    "UPDATE journal SET seq = 9 WHERE seq = 3",
    "DELETE FROM journal WHERE seq = 3",
    "UPDATE journal SET payload = X'00' WHERE seq = 3",
    "UPDATE checks SET plate = 'HL 13 QR'",
    "UPDATE checks SET added_litres = 0.5",
    "UPDATE checks SET verdict = 'set'",
    "UPDATE checks SET bay = '2'",
    "UPDATE checks SET previous_seal = seal",
    "UPDATE checks SET seal = upper(seal)",
    "UPDATE checks SET seal_form = 1",
    "UPDATE checks SET seal_form = 3",
    "UPDATE checks SET seal_form = 'two'",
    "DELETE FROM traces",
    "UPDATE traces SET signal = 'range'",
    "UPDATE traces SET form = 2",
    "UPDATE traces SET count = 2",
    "UPDATE traces SET content = substr(content, 2)",
    "INSERT INTO traces SELECT check_id, 'range', form, count, content FROM traces",
    "INSERT INTO attachments VALUES ('a1b2c3d4', 'ab', 'plug.jpg', 'image/jpeg', 1, '', '')",
]


@pytest.mark.parametrize("change", TAMPERING)
def test_the_seal_shows_what_a_hand_at_the_file_did(
    database: Database, repository: Repository, change: str
) -> None:
    begin(database, "a1b2c3d4")
    repository.finish("a1b2c3d4", outcome(), wall(600))
    assert repository.is_intact("1")
    with without_guards(database) as connection:
        assert connection.execute(change).rowcount == 1
    assert not repository.is_intact("1")


def test_finishing_is_one_transaction(database: Database, repository: Repository) -> None:
    journal = begin(database, "a1b2c3d4")
    with pytest.raises(ValueError, match="not JSON compliant"):
        repository.finish("a1b2c3d4", outcome(closing_celsius=float("nan")), wall(600))
    journal.append(deadline(3), wall(3))
    assert repository.load("1").header.finished_at is None
    with pytest.raises(ValueError, match="without its zone"):
        repository.finish("a1b2c3d4", outcome(), wall(600).replace(tzinfo=None))
    assert repository.load("1").header.plate == ""
