"""Whatever a hand changes in the file of the records is found, and the right record named."""

from __future__ import annotations

import math
import re
from pathlib import Path

import chain_examples as ex
import pytest
from record_examples import wall
from sqlalchemy.orm import Session

from brimline.errors import StoreError
from brimline.records import chain_walk, seal
from brimline.records.anchor import Anchor, AnchorLink, make_anchor
from brimline.records.attached import place as attachment_place
from brimline.records.chain import ChainVerdict, verify, verify_record
from brimline.records.chain_faults import What
from brimline.records.database import Database
from brimline.records.schema import Base
from brimline.records.tail import tail_file


@pytest.fixture(scope="module")
def sealed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return ex.build(tmp_path_factory.mktemp("sealed") / "records" / "brimline.sqlite")


@pytest.fixture
def path(sealed: Path, tmp_path: Path) -> Path:
    return ex.copied(sealed, tmp_path / "copy")


def looked_at(path: Path, anchor: Anchor | None = None) -> ChainVerdict:
    with Database.open(path, writer=False) as database:
        return verify(database, anchor=anchor)


def looked_at_one(path: Path, record: str) -> ChainVerdict:
    with Database.open(path, writer=False) as database:
        return verify_record(database, record)


def named(found: ChainVerdict) -> tuple[What, int | None, int | None]:
    assert found.first is not None
    assert not found.intact
    assert found.faults >= 1
    assert "\n" not in found.first.sentence
    if found.first.record is not None:
        assert re.search(rf"\b[Rr]ecord {found.first.record}\b", found.first.sentence)
    return found.first.what, found.first.place, found.first.record


def test_what_nobody_touched_is_intact(path: Path) -> None:
    found = looked_at(path)
    assert (found.intact, found.first, found.faults) == (True, None, 0)
    assert (found.checks, found.amendments, found.remarks) == (5, 2, ())
    for record in (1, 2, 3, 5, 6):
        assert looked_at_one(path, str(record)).intact
    assert looked_at_one(path, "1").amendments == 1


def test_one_bay_alone(path: Path) -> None:
    ex.change(path, "UPDATE checks SET plate = 'X' WHERE number = 6")
    with Database.open(path, writer=False) as database:
        assert verify(database, bay="1").checks == 4
        assert verify(database, bay="1").intact
        assert named(verify(database, bay="2")) == (What.CHANGED, 1, 6)


def is_found_alone(path: Path, record: str) -> bool:
    try:
        return not looked_at_one(path, record).intact
    except StoreError as error:  # a header that cannot even be read
        return "damaged" in str(error) or "cannot be used" in str(error)


TARGETS = {
    "checks": ("number = 2", 2, 2),
    "journal": ("check_id = 'check-b' AND seq = 6", 2, 2),
    "traces": ("check_id = 'check-b'", 2, 2),
    "amendments": ("check_id = 'check-a'", 3, 1),
    "attachments": ("check_id = 'check-b'", 2, 2),
}
"""A row of each table: how it is found, its place in the chain of bay 1, the record's number."""


COLUMNS = [(table, each.name) for table in TARGETS for each in Base.metadata.tables[table].columns]


def others(old: object) -> list[object]:
    """Values that are not the old one, nor anything that reads as the old one."""
    if isinstance(old, bytes):
        return [old[:-1] + bytes([old[-1] ^ 1]), old[:-1], b"", "text"]
    if isinstance(old, str):
        return [f"{old}x", old[:-1] or "y", old.swapcase() + "z", b"\xff\xfe", 7]
    if isinstance(old, int):
        return [old + 50, -old - 1, "text", old + 0.5]
    if isinstance(old, float):
        return [math.nextafter(old, math.inf), -old - 1, "text"]
    return ["text", 0]


@pytest.mark.parametrize(("table", "column"), COLUMNS)
def test_a_change_of_any_column_is_found(
    path: Path, tmp_path: Path, table: str, column: str
) -> None:
    which, place, record = TARGETS[table]
    with ex.by_hand(path) as connection:
        old = connection.execute(f"SELECT {column} FROM {table} WHERE {which}").fetchone()[0]
    for at, new in enumerate(others(old)):
        changed = ex.copied(path, tmp_path / f"copy {at}")
        ex.change(changed, f"UPDATE {table} SET {column} = ? WHERE {which}", new)
        found = looked_at(changed)
        assert found.first is not None, new
        if column not in ("check_id", "number"):
            assert is_found_alone(changed, str(record)), new
        if column in ("bay", "check_id", "seal", "previous_seal") and isinstance(new, bytes):
            assert found.first.place in (None, place)  # no text: the chain ends in front of it
            continue
        what, at_place, at_record = named(found)
        if (table, column) in (("checks", "number"), ("amendments", "check_id")):
            assert (at_place, at_record) == (place, new if table == "checks" else None)
        elif column == "seal_number":
            assert at_record == record
        else:
            assert (at_place, at_record) == (place, record), (new, what)


def test_a_check_that_is_no_longer_finished(path: Path) -> None:
    ex.change(path, "UPDATE checks SET finished_at = NULL WHERE number = 3")
    assert named(looked_at(path)) == (What.CHANGED, 4, 3)
    ex.change(path, "UPDATE checks SET seal_number = NULL WHERE number = 3")
    assert named(looked_at(path)) == (What.ORDER, 4, 3)
    with pytest.raises(StoreError, match="Record 3 is not finished"):
        looked_at_one(path, "3")


@pytest.mark.parametrize(
    ("statement", "place", "record"),
    [
        ("DELETE FROM journal WHERE check_id = 'check-b' AND seq = 6", 2, 2),
        ("DELETE FROM traces WHERE check_id = 'check-d'", 6, 5),
        ("DELETE FROM attachments", 2, 2),
        ("INSERT INTO journal SELECT check_id, 99, t, wall, kind, payload FROM journal"
         " WHERE check_id = 'check-c' AND seq = 6", 4, 3),
        ("INSERT INTO traces SELECT check_id, 'range', form, count, content FROM traces"
         " WHERE check_id = 'check-d'", 6, 5),
        ("INSERT INTO attachments SELECT 'check-a', sha256, name, media_type, size, about,"
         " added_at FROM attachments", 1, 1),
        ("UPDATE journal SET payload = (SELECT payload FROM journal WHERE check_id = 'check-b'"
         " AND seq = 5) WHERE check_id = 'check-b' AND seq = 6", 2, 2),
    ],
)  # fmt: skip
def test_rows_that_come_or_go(path: Path, statement: str, place: int, record: int) -> None:
    ex.change(path, statement)
    assert named(looked_at(path)) == (What.CHANGED, place, record)
    assert named(looked_at_one(path, str(record))) == (What.CHANGED, place, record)
    for other in {1, 2, 3, 5} - {record}:
        assert looked_at_one(path, str(other)).intact


KEYS = {"plate_key": "x", "work_order_key": "x", "notes": "another word", "vin_tail": "x"}


@pytest.mark.parametrize("column", sorted(KEYS))
def test_what_a_record_is_searched_by_is_what_it_says(path: Path, column: str) -> None:
    ex.change(path, f"UPDATE checks SET {column} = ? WHERE number = 2", KEYS[column])
    if column == "vin_tail":  # under the seal: only who seals anew gets so far
        ex.reseal(path, 2, 2)
    found = looked_at(path)
    assert named(found) == (What.KEYS, 2, 2)
    assert found.faults == (1 if column != "vin_tail" else 2)


def test_notes_are_those_of_the_events(path: Path) -> None:
    with ex.by_hand(path) as connection:
        notes = connection.execute("SELECT notes FROM checks WHERE number = 2").fetchone()
    assert notes == ("customer waits",)


def without(path: Path, check_id: str) -> None:
    with ex.by_hand(path) as connection:
        for table in ("journal", "traces", "amendments", "attachments", "warm_ups", "checks"):
            connection.execute(f"DELETE FROM {table} WHERE check_id = ?", (check_id,))


def test_the_first_record_is_deleted(path: Path) -> None:
    without(path, "check-a")
    assert named(looked_at(path)) == (What.MISSING, 1, None)
    assert "before record 2" in str(looked_at(path).first)
    assert not looked_at_one(path, "2").intact
    assert looked_at_one(path, "5").intact


def test_a_record_in_the_middle_is_deleted(path: Path) -> None:
    without(path, "check-b")
    found = looked_at(path)
    assert named(found) == (What.MISSING, 2, None)
    assert found.first is not None
    assert "missing from the chain of bay 1, before amendment 1 of record 1" in found.first.sentence
    assert found.faults == 1
    assert not looked_at_one(path, "1").intact


def test_several_are_deleted(path: Path) -> None:
    without(path, "check-b")
    without(path, "check-a")
    found = looked_at(path)
    assert named(found) == (What.MISSING, 1, None)
    assert found.first is not None
    assert found.first.sentence.startswith("3 records or amendments are missing")


def test_the_newest_record_is_deleted(path: Path) -> None:
    without(path, "check-d")
    found = looked_at(path)
    assert named(found) == (What.MISSING, 6, None)
    assert found.first is not None
    assert found.first.sentence == (
        "1 record or amendment is missing from the end of the chain of bay 1, "
        "behind amendment 1 of record 3."
    )
    tail_file(path).unlink()
    found = looked_at(path)
    assert found.intact
    assert [remark.split(":")[0] for remark in found.remarks] == [
        f"Whether the newest records of bay {bay} are missing cannot be told" for bay in "12"
    ]


def test_all_records_of_a_bay_are_deleted(path: Path) -> None:
    without(path, "elsewhere")
    assert named(looked_at(path)) == (What.MISSING, 1, None)


@pytest.mark.parametrize(("check_id", "place"), [("check-a", 3), ("check-c", 5)])
def test_an_amendment_is_deleted(path: Path, check_id: str, place: int) -> None:
    ex.change(path, "DELETE FROM amendments WHERE check_id = ?", check_id)
    assert named(looked_at(path)) == (What.MISSING, place, None)


def test_one_is_deleted_and_the_next_sealed_behind_the_one_before(path: Path) -> None:
    ex.change(path, "DELETE FROM amendments WHERE check_id = 'check-c'")
    ex.reseal(path, 6, 6)
    found = looked_at(path)
    assert named(found) == (What.MISSING, 5, None)
    assert found.faults == 2  # and the end is not what was noted


def test_a_record_is_put_into_the_chain_of_another_bay(path: Path) -> None:
    ex.change(path, "UPDATE checks SET bay = '0' WHERE number = 2")
    found = looked_at(path)
    assert named(found) == (What.MISSING, 1, 2)  # of bay 0, which comes first
    assert found.first is not None
    assert found.first.sentence.endswith(
        "before record 2, if that belongs there: it was changed after it was sealed."
    )
    with Database.open(path, writer=False) as database:
        assert named(verify(database, bay="1")) == (What.ORDER, 2, 2)


def test_not_every_gap_is_worth_a_search(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each takes as long as the whole table does."""
    searched: list[str] = []
    real = chain_walk.sealed_as

    def counted(session: Session, which: str) -> chain_walk.Standing | None:
        searched.append(which)
        return real(session, which)

    monkeypatch.setattr(chain_walk, "sealed_as", counted)
    monkeypatch.setattr(chain_walk, "_MOST_SEARCHES", 1)
    ex.change(path, "UPDATE checks SET seal_number = NULL WHERE number IN (2, 3)")
    assert named(looked_at(path)) == (What.ORDER, 2, 2)
    assert len(searched) == 1


def test_two_records_are_exchanged(path: Path) -> None:
    ex.swap(path, 2, 3)
    found = looked_at(path)
    assert named(found) == (What.ORDER, 2, 3)
    assert found.faults == 2
    assert not looked_at_one(path, "2").intact


def test_two_records_are_exchanged_and_sealed_anew(path: Path) -> None:
    ex.swap(path, 2, 3)
    ex.reseal(path, 2, 4)
    assert named(looked_at(path)) == (What.RESEALED, 4, 2)
    ex.reseal(path, 2)  # and all that follow: now the end alone tells
    found = looked_at(path)
    assert named(found) == (What.RESEALED, 6, 5)
    assert found.faults == 1


def test_a_record_is_changed_and_sealed_anew(path: Path) -> None:
    ex.change(path, "UPDATE checks SET fluid = 'TF-Thin' WHERE number = 2")
    ex.reseal(path, 2, 2)
    found = looked_at(path)
    assert named(found) == (What.RESEALED, 2, 2)
    assert found.faults == 1
    assert not looked_at_one(path, "2").intact
    assert looked_at_one(path, "3").intact
    ex.reseal(path, 3)
    assert named(looked_at(path)) == (What.RESEALED, 6, 5)


def test_the_first_record_is_sealed_behind_another(path: Path) -> None:
    ex.change(path, "UPDATE checks SET previous_seal = ? WHERE number = 1", "0" * 64)
    with Database.open(path, writer=True) as database, database.writing() as session:
        row = session.get_one(ex.CheckRow, "check-a")
        row.seal = ex.seal_now(session, row)
    assert named(looked_at(path)) == (What.ORDER, 1, 1)


@pytest.mark.parametrize(("sealed_well", "what"), [(True, What.APPENDED), (False, What.ORDER)])
def test_a_record_is_appended_by_hand(path: Path, sealed_well: bool, what: What) -> None:
    ex.append_by_hand(path, sealed=sealed_well)
    assert named(looked_at(path)) == (what, 7, 9)
    assert looked_at_one(path, "5").intact


def test_two_stand_at_one_place(path: Path) -> None:
    # Within a table the file itself keeps places apart; a check and an amendment it does not.
    ex.change(path, "UPDATE amendments SET seal_number = 2 WHERE check_id = 'check-a'")
    found = looked_at(path)
    assert named(found) == (What.ORDER, 2, 1)
    assert found.first is not None
    assert found.first.sentence == (
        "Amendment 1 of record 1 stands at a place of its chain that record 2 has."
    )


def test_a_place_before_the_first(path: Path) -> None:
    ex.change(path, "UPDATE checks SET seal_number = 0 WHERE number = 5")
    assert named(looked_at(path)) == (What.ORDER, 0, 5)


def test_a_finished_check_outside_the_chain(path: Path) -> None:
    ex.change(path, "UPDATE checks SET seal_number = NULL WHERE number = 5")
    tail_file(path).unlink()
    assert named(looked_at(path)) == (What.STRAY, None, 5)
    assert named(looked_at_one(path, "5")) == (What.STRAY, None, 5)


def test_a_place_that_is_no_number(path: Path) -> None:
    ex.change(path, "UPDATE checks SET seal_number = 'last' WHERE number = 5")
    tail_file(path).unlink()
    assert named(looked_at(path)) == (What.STRAY, None, 5)


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        ("INSERT INTO traces SELECT 'open-one', signal, form, count, content FROM traces"
         " WHERE check_id = 'check-a'", "is not finished, but has packed readings"),
        ("UPDATE checks SET finished_at = NULL, seal_number = NULL, bay = '9' WHERE number = 6",
         "is not finished, but has packed readings"),
    ],
)  # fmt: skip
def test_rows_of_no_sealed_record(path: Path, statement: str, told: str) -> None:
    ex.change(path, statement)
    tail_file(path).unlink()
    found = looked_at(path)
    assert named(found)[0] is What.STRAY
    assert told in str(found.first)


def test_an_amendment_of_an_open_check(path: Path) -> None:
    with ex.by_hand(path) as connection:
        connection.execute("UPDATE amendments SET check_id = 'open-one' WHERE seal_number = 5")
    ex.reseal(path, 5)
    tail_file(path).unlink()
    found = looked_at(path)
    assert named(found) == (What.STRAY, None, 4)
    assert "was amended" in str(found.first)


def test_rows_without_any_record_are_found_by_the_file_itself(path: Path) -> None:
    ex.change(
        path,
        "INSERT INTO attachments SELECT 'nobody', sha256, name, media_type, size, about, added_at"
        " FROM attachments",
    )
    found = looked_at(path)
    assert named(found) == (What.FILE, None, None)
    assert found.faults == 1
    assert "attachments" in str(found.first)


def test_an_index_that_does_not_fit_its_table(path: Path) -> None:
    with ex.by_hand(path) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_master SET sql = 'CREATE INDEX ix_checks_family ON checks"
            " (duty, opened_at, number)' WHERE name = 'ix_checks_family'"
        )
    assert named(looked_at(path))[0] is What.FILE


def test_a_torn_page(path: Path) -> None:
    content = bytearray(path.read_bytes())
    page = 4096  # SQLite's default, https://www.sqlite.org/pragma.html#pragma_page_size
    start = content.find(b"brimline-nothing")  # never there: the middle of the file is torn
    assert start == -1
    middle = len(content) // page // 2 * page
    content[middle : middle + 512] = b"\x00" * 512
    path.write_bytes(content)
    assert not looked_at(path).intact


@pytest.mark.parametrize("damage", ["gone", "changed", "folder"])
def test_a_file_of_an_attachment(path: Path, damage: str) -> None:
    file = attachment_place(path.parent, ex.SHA256)
    if damage == "changed":
        file.write_bytes(ex.PICTURE + b"!")
    else:
        file.unlink()
    if damage == "folder":
        file.mkdir()
    assert named(looked_at(path)) == (What.ATTACHMENT, 2, 2)
    assert "“drip.png”" in str(looked_at(path).first)
    assert named(looked_at_one(path, "2")) == (What.ATTACHMENT, 2, 2)
    assert looked_at_one(path, "1").intact


def anchor_of(path: Path) -> Anchor:
    with Database.open(path, writer=False) as database:
        return make_anchor(database, wall(0))


def test_an_anchor_holds_as_long_as_the_chain_does(path: Path) -> None:
    anchor = anchor_of(path)
    assert [(each.bay, each.number) for each in anchor.links] == [("1", 6), ("2", 1)]
    assert looked_at(path, anchor).intact
    with Database.open(path, writer=True) as database:
        ex.seal_one(database, "later-one")
    assert looked_at(path, anchor).intact


def test_an_anchor_finds_a_chain_that_was_forged_to_its_end(path: Path) -> None:
    anchor = anchor_of(path)
    ex.change(path, "UPDATE checks SET fluid = 'TF-Thin' WHERE number = 2")
    ex.reseal(path, 2)
    tail_file(path).unlink()
    assert looked_at(path).intact
    found = looked_at(path, anchor)
    assert named(found) == (What.RESEALED, 6, 5)
    assert "the anchor names" in str(found.first)


def test_an_anchor_finds_an_end_that_is_missing(path: Path) -> None:
    anchor = anchor_of(path)
    without(path, "check-d")
    without(path, "elsewhere")
    tail_file(path).unlink()
    found = looked_at(path, anchor)
    assert named(found) == (What.MISSING, 6, None)
    assert found.faults == 2


def test_an_anchor_of_another_shop(path: Path) -> None:
    other = AnchorLink(bay="1", number=3, seal="0" * 64, sealed_at="")
    found = looked_at(path, Anchor(made_at="", links=(other,)))
    assert named(found) == (What.RESEALED, 3, 1)


def test_records_of_the_first_form_are_looked_at_too(path: Path) -> None:
    """As they came out of an older version: every reading in the journal, no trace."""
    with ex.by_hand(path) as connection:
        connection.execute("DELETE FROM traces WHERE check_id = 'elsewhere'")
        connection.execute("UPDATE checks SET seal_form = 1 WHERE number = 6")
    ex.reseal(path, 1, bay="2")
    tail_file(path).unlink()
    assert looked_at(path).intact
    ex.change(path, "UPDATE checks SET plate_key = 'x' WHERE number = 6")
    assert named(looked_at(path)) == (What.KEYS, 1, 6)
    ex.change(path, "UPDATE checks SET plate = 'x' WHERE number = 6")
    assert named(looked_at(path)) == (What.CHANGED, 1, 6)
    assert 1 in seal.SEALED


def test_no_record_of_that_name(path: Path) -> None:
    with pytest.raises(StoreError, match="There is no record “77”"):
        looked_at_one(path, "77")
    with pytest.raises(StoreError, match="Record 4 is not finished"):
        looked_at_one(path, "4")


def test_an_empty_database_is_intact(tmp_path: Path) -> None:
    with Database.open(tmp_path / "brimline.sqlite", writer=False) as database:
        found = verify(database)
        assert (found.intact, found.checks, found.remarks) == (True, 0, ())
        with pytest.raises(StoreError, match="nothing to anchor"):
            make_anchor(database, wall(0))
