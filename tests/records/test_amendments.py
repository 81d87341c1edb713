from __future__ import annotations

import hashlib
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import timedelta, timezone
from typing import Any

import chain_examples as ex
import pytest
from record_examples import NOON

from brimline.errors import AmendmentError, BrimlineError, StoreError, UnitError, VinError
from brimline.records import seal_amendment
from brimline.records.amendments import amend, amendments_of
from brimline.records.database import Database
from brimline.records.model import Amendable, Amendment, amended, short_seal
from brimline.records.repository import Repository
from brimline.records.schema import AmendmentRow

LATER = NOON + timedelta(days=2)


def correct(database: Database, field: Amendable, value: str, **changes: Any) -> Amendment:
    words = {"author": "M. Reed", "reason": "typed wrongly", "at": LATER} | changes
    record = words.pop("record", "1")
    return amend(database, record, field=field, value=value, **words)


@pytest.fixture
def sealed(database: Database) -> Database:
    ex.seal_one(database, "check-a")
    return database


def test_an_amendment_stands_beside_what_was_sealed(sealed: Database) -> None:
    before = Repository(sealed).load("1")
    made = correct(
        sealed, Amendable.PLATE, "  HL 21 QR ", at=LATER.astimezone(timezone(timedelta(hours=-7)))
    )
    record = Repository(sealed).load("check-a")
    assert replace(record, amendments=()) == before
    assert Repository(sealed).is_intact("1")
    assert record.amendments == (made,) == amendments_of(sealed, "check-a")
    assert (made.check_id, made.number, made.at, made.field) == (
        "check-a", 1, LATER, Amendable.PLATE,
    )  # fmt: skip
    assert (made.was, made.value) == ("HL 12 QR", "HL 21 QR")
    assert (made.author, made.reason) == ("M. Reed", "typed wrongly")
    assert (made.bay, made.seal_number, made.previous_seal) == ("1", 2, before.header.seal)
    now = amended(record.header, record.amendments)
    assert now == replace(record.header, plate="HL 21 QR")


def test_checks_and_amendments_are_links_of_one_chain(sealed: Database) -> None:
    first = correct(sealed, Amendable.NOTE, "one")
    second = ex.seal_one(sealed, "check-b")
    third = correct(sealed, Amendable.NOTE, "two", record="check-b")
    other = ex.seal_one(sealed, "check-c", bay="2")
    assert [first.seal_number, second.seal_number, third.seal_number] == [2, 3, 4]
    assert (second.previous_seal, third.previous_seal) == (first.seal, second.seal)
    assert (other.seal_number, other.previous_seal) == (1, "")
    assert (first.number, third.number) == (1, 1)


def test_what_was_is_what_the_record_said_last(sealed: Database) -> None:
    made = [correct(sealed, Amendable.TECHNICIAN, name) for name in ("R. Quil", "R. Quill II")]
    assert [(each.was, each.value) for each in made] == [
        ("R. Quill", "R. Quil"), ("R. Quil", "R. Quill II"),
    ]  # fmt: skip
    with pytest.raises(AmendmentError, match="Record 1 says so already"):
        correct(sealed, Amendable.TECHNICIAN, "R. Quill II ")
    back = correct(sealed, Amendable.TECHNICIAN, "R. Quill")
    assert back.was == "R. Quill II"
    record = Repository(sealed).load("1")
    assert amended(record.header, record.amendments) == record.header


@pytest.mark.parametrize(
    ("field", "typed", "value", "key"),
    [
        (Amendable.VIN, "i1111-1111 1111 11111", "1" * 17, "1" * 8),
        (Amendable.VIN, "zz9k7harr0lane124", "ZZ9K7HARR0LANE124", "0LANE124"),
        (Amendable.PLATE, "hl-21 Qr", "hl-21 Qr", "hl21qr"),
        (Amendable.PLATE, " ", "", ""),
        (Amendable.WORK_ORDER, "WO/8", "WO/8", "wo8"),
        (Amendable.ODOMETER, "84220", "84220.0", "84220.0"),
        # NIST SP 811, appendix B: 1 mi = 1.609344 km.
        (Amendable.ODOMETER, "1 mi", "1.609344", "1.609344"),
        (Amendable.ODOMETER, "-0 km", "0.0", "0.0"),
        (Amendable.TECHNICIAN, "Straße", "Straße", "strasse"),
        (Amendable.NOTE, "Leaks\r\nSTILL", "Leaks\nSTILL", "leaks\nstill"),
    ],
)  # fmt: skip
def test_each_field_is_kept_and_looked_up(
    sealed: Database, field: Amendable, typed: str, value: str, key: str
) -> None:
    assert correct(sealed, field, typed).value == value
    with sealed.reading() as session:
        assert session.get_one(AmendmentRow, ("check-a", 1)).value_key == key
    record = Repository(sealed).load("1")
    now = amended(record.header, record.amendments)
    if field is not Amendable.NOTE:
        assert str(getattr(now, field.value)) == value
    assert now.vin_tail == now.vin[-8:]


@pytest.mark.parametrize(
    ("field", "typed", "kind", "told"),
    [
        (Amendable.VIN, "1M8GDM9A1KP042788", VinError, "check digit"),
        (Amendable.VIN, "", VinError, "exactly 17"),
        (Amendable.ODOMETER, "a lot", UnitError, "not a number"),
        (Amendable.ODOMETER, "-1 km", UnitError, "no reading of an odometer"),
        (Amendable.ODOMETER, "3000001", UnitError, "no reading of an odometer"),
        (Amendable.ODOMETER, "9 L", UnitError, "not a unit of distance"),
        (Amendable.TECHNICIAN, " ", AmendmentError, "nothing to amend"),
        (Amendable.NOTE, "\n", AmendmentError, "nothing to amend"),
        (Amendable.PLATE, "HL 12 QR", AmendmentError, "says so already"),
        (Amendable.PLATE, "HL\x07", AmendmentError, "type them anew"),
        (Amendable.NOTE, "\udcff", AmendmentError, "type them anew"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(
    sealed: Database, field: Amendable, typed: str, kind: type[BrimlineError], told: str
) -> None:
    with pytest.raises(kind, match=told) as caught:
        correct(sealed, field, typed)
    assert "\n" not in str(caught.value)
    assert amendments_of(sealed, "check-a") == ()


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"author": " "}, "Who amends must be said"),
        ({"reason": ""}, "The reason must be said"),
        ({"author": "M.\x00"}, "type them anew"),
    ],
)
def test_who_and_why_must_be_said(sealed: Database, changes: dict[str, str], told: str) -> None:
    with pytest.raises(AmendmentError, match=told):
        correct(sealed, Amendable.NOTE, "x", **changes)


def test_a_time_has_its_zone(sealed: Database) -> None:
    with pytest.raises(ValueError, match="without its zone"):
        correct(sealed, Amendable.NOTE, "x", at=LATER.replace(tzinfo=None))


def test_only_a_finished_check_is_amended(database: Database) -> None:
    ex.run_check(database, "open-one")
    with pytest.raises(AmendmentError, match="Record 1 is not finished"):
        correct(database, Amendable.NOTE, "x")
    with pytest.raises(StoreError, match="no record “7”"):
        correct(database, Amendable.NOTE, "x", record="7")


def test_a_damaged_amendment_is_one_sentence(sealed: Database) -> None:
    correct(sealed, Amendable.ODOMETER, "5 km")
    for damage in ("field = 'colour'", "value = 'far'", "at = 'noon'"):
        ex.change(sealed.path, f"UPDATE amendments SET {damage}")
        with pytest.raises(StoreError, match="damaged"):
            Repository(sealed).load("1")


CHANGES = [
    "UPDATE amendments SET value = 'x'",
    "DELETE FROM amendments",
    "INSERT OR REPLACE INTO amendments SELECT * FROM amendments",
    "INSERT INTO amendments SELECT 'open-one', number, at, author, reason, field, was, value,"
    " value_key, bay, seal, previous_seal, 77, seal_form FROM amendments",
]


@pytest.mark.parametrize("statement", CHANGES)
def test_the_file_itself_guards_amendments(sealed: Database, statement: str) -> None:
    ex.run_check(sealed, "open-one")
    made = correct(sealed, Amendable.NOTE, "x")
    with (
        closing(sqlite3.connect(sealed.path, isolation_level=None)) as connection,
        pytest.raises(sqlite3.IntegrityError, match="amend"),
    ):
        connection.execute(statement)
    assert amendments_of(sealed, "check-a") == (made,)


COLUMNS: dict[str, str | float | None] = {
    "check_id": "check-a", "number": 1, "at": "2031-05-08T12:00:00.000000Z", "author": "M. Réed",
    "reason": "typed", "field": "plate", "was": "HL 12", "value": "HL 21", "value_key": "hl21",
    "bay": "1", "previous_seal": "ab" * 32, "seal_number": 2,
}  # fmt: skip


def test_the_form_is_the_one_described() -> None:
    text = (
        '["brimline-amendment",1]\n'
        '{"at":"2031-05-08T12:00:00.000000Z","author":"M. R\\u00e9ed","bay":"1",'
        '"check_id":"check-a","field":"plate","number":1,'
        f'"previous_seal":"{"ab" * 32}","reason":"typed","seal_number":2,'
        '"value":"HL 21","value_key":"hl21","was":"HL 12"}\n'
    )
    assert seal_amendment.compute(COLUMNS) == hashlib.sha256(text.encode("ascii")).hexdigest()


def test_every_column_but_the_seal_and_its_form_is_under_the_seal() -> None:
    assert {*seal_amendment.SEALED, "seal", "seal_form"} == set(AmendmentRow.__table__.c.keys())
    for wrong in (COLUMNS | {"seal": ""}, {k: v for k, v in COLUMNS.items() if k != "was"}):
        with pytest.raises(ValueError, match="columns"):
            seal_amendment.compute(wrong)


def test_a_short_seal_is_read_in_groups() -> None:
    assert short_seal("c9d0036bed6744bc" + "0" * 48) == "c9d0 036b ed67 44bc"
    assert short_seal("") == ""
