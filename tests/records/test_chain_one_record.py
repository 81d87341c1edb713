"""One record, its amendments and what stands beside them: every fault counts once."""

from __future__ import annotations

from pathlib import Path

import chain_examples as ex
import pytest

from brimline.records.chain import ChainVerdict, verify, verify_record
from brimline.records.chain_faults import What
from brimline.records.database import Database
from brimline.records.model import Amendable
from brimline.records.schema import AmendmentRow


@pytest.fixture(scope="module")
def sealed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return ex.build(tmp_path_factory.mktemp("sealed") / "records" / "brimline.sqlite")


@pytest.fixture
def path(sealed: Path, tmp_path: Path) -> Path:
    return ex.copied(sealed, tmp_path / "copy")


def looked_at(path: Path, record: str) -> ChainVerdict:
    with Database.open(path, writer=False) as database:
        return verify_record(database, record)


def told(found: ChainVerdict) -> tuple[int, What | None, int | None]:
    first = found.first
    return found.faults, first and first.what, first and first.place


# Record 3 stands at place 4 and its amendment at 5; record 1 at 1 and its amendment at 3.
@pytest.mark.parametrize(
    ("record", "statement", "expected"),
    [
        ("3", "UPDATE checks SET plate = 'x' WHERE number = 3", (1, What.CHANGED, 4)),
        ("3", "UPDATE amendments SET reason = 'x' WHERE seal_number = 5", (1, What.CHANGED, 5)),
        ("3", "UPDATE checks SET notes = 'x' WHERE number = 3", (1, What.KEYS, 4)),
        ("1", "DELETE FROM checks WHERE number = 2", (1, What.MISSING, 2)),
        ("3", "DELETE FROM checks WHERE number = 5", (0, None, None)),
        ("1", "UPDATE checks SET plate = 'x' WHERE number = 2", (0, None, None)),
    ],
)
def test_a_fault_between_a_record_and_its_amendment_counts_once(
    path: Path, record: str, statement: str, expected: tuple[int, What | None, int | None]
) -> None:
    ex.change(path, statement)
    assert told(looked_at(path, record)) == expected


def test_faults_of_a_record_and_of_its_amendment_are_two(path: Path) -> None:
    ex.change(path, "UPDATE checks SET plate = 'x' WHERE number = 3")
    ex.change(path, "UPDATE amendments SET reason = 'x' WHERE seal_number = 5")
    found = looked_at(path, "3")
    assert told(found) == (2, What.CHANGED, 4)
    assert (found.checks, found.amendments) == (1, 1)


def test_amendments_far_from_their_record_are_looked_at_too(path: Path) -> None:
    with Database.open(path, writer=True) as database:
        for check_id in ("late-a", "late-b", "late-c"):
            ex.seal_one(database, check_id)
        ex.correct(database, 1, field=Amendable.NOTE, value="Rang a third time")
    found = looked_at(path, "1")
    assert (found.intact, found.checks, found.amendments) == (True, 1, 2)
    ex.change(path, "UPDATE amendments SET reason = 'x' WHERE seal_number = 10")
    assert told(looked_at(path, "1")) == (1, What.CHANGED, 10)


def test_a_record_and_its_amendment_at_one_place_are_each_looked_at(path: Path) -> None:
    ex.change(path, "UPDATE amendments SET seal_number = 4 WHERE seal_number = 5")
    found = looked_at(path, "3")
    assert (found.checks, found.amendments) == (1, 1)
    assert not found.intact


@pytest.mark.parametrize("value", ["no file at all", f"{'a' * 63}\0 5 image/png condition x.png"])
def test_an_amendment_that_names_no_file_is_named(path: Path, value: str) -> None:
    """Sealed anew by a hand that knows the rules; the system is not asked for such a file."""
    with Database.open(path, writer=True) as database:
        with ex.by_hand(path):
            pass
        with database.writing() as session:
            row = session.get_one(AmendmentRow, ("check-c", 1))
            row.field, row.value = Amendable.ATTACHMENT.value, value
        ex.reseal_open(database, 5)
        found = verify(database)
    assert found.first is not None
    assert (found.first.what, found.first.place, found.first.record) == (What.ATTACHMENT, 5, 3)
    assert "of amendment 1 of record 3 has a name that no kept file bears." in found.first.sentence
