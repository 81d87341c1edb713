"""The bench of the search: it fills in what the program writes, and every way finds the same."""

from __future__ import annotations

import sqlite3
import sys
from contextlib import closing
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "benchmarks"))

from bench_records import WAYS, Kind, Times, Turns, kinds, tell
from records_fill import AMENDED, Filled, fill

from brimline.records import keys
from brimline.records.database import Database
from brimline.records.schema import CheckRow

COUNT = 3 * AMENDED


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Filled]:
    path = tmp_path_factory.mktemp("bench") / "brimline.sqlite"
    return path, fill(path, COUNT, wanted=COUNT)


def things(path: Path) -> set[tuple[str, ...]]:
    with closing(sqlite3.connect(path)) as connection:
        return set(connection.execute("SELECT type, name, tbl_name, sql FROM sqlite_master"))


def test_the_filled_database_has_all_tables_indexes_and_triggers(
    filled: tuple[Path, Filled], database_path: Path
) -> None:
    Database.open(database_path, writer=True).close()
    assert things(filled[0]) == things(database_path)


def test_what_is_filled_is_found_by_its_keys(filled: tuple[Path, Filled]) -> None:
    path, drawn = filled
    assert len(drawn.vins) == len(drawn.plates) == len(drawn.work_orders) > COUNT / 2
    with Database.open(path, writer=False) as database, database.reading() as session:
        rows = session.query(CheckRow).all()
        assert len(rows) == COUNT
        for row in rows:
            expected = keys.derived(row.vin, row.plate, row.work_order, ()) | {"notes": row.notes}
            assert {name: getattr(row, name) for name in expected} == expected
        seals = {row.seal_number: row for row in rows}
        assert all(
            row.previous_seal == (seals[place - 1].seal if place > 1 else "")
            for place, row in seals.items()
        )
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT count(*) FROM amendments").fetchone() == (3,)
        with pytest.raises(sqlite3.IntegrityError, match="cannot be changed"):
            connection.execute("UPDATE checks SET vin = ''")


def test_every_way_finds_the_same(filled: tuple[Path, Filled]) -> None:
    path, drawn = filled
    with (
        Database.open(path, writer=False) as database,
        closing(Turns(path, database)) as turns,
    ):
        for kind in kinds(drawn, 20):
            times = turns.times(kind)  # which compares what was found
            assert {len(each) for each in times.values()} == {20}
        wrong = Kind("wrong", [{"vin": "00000000000000000"}], "vin = ?", ("vin",))
        with pytest.raises(AssertionError):
            turns.times(wrong)


@pytest.mark.parametrize(
    ("ours", "sound"), [(1.4, True), (1.6, False), (5.2, False)], ids=["well", "slow", "slower"]
)
def test_the_bounds_are_looked_at(ours: float, sound: bool) -> None:
    kind = Kind("VIN", [], "", ())
    sql = 4.0 if ours > 5 else 1.0
    times: Times = {
        (when, way): [ours if way == "ours" else sql] * 3
        for when in ("first", "again")
        for way in WAYS
    }
    assert tell(kind, times) is sound
