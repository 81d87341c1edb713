"""Any one change of any one row that belongs to a sealed record is found, and the record named."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from pathlib import Path

import chain_examples as ex
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from brimline.records.chain import ChainVerdict, verify
from brimline.records.database import Database
from brimline.records.schema import Base

TABLES = ("checks", "journal", "traces", "amendments", "attachments")
IDS = {"check-a": 1, "check-b": 2, "check-c": 3, "check-d": 5, "elsewhere": 6}
VALUES = st.one_of(
    st.integers(-3, 9), st.integers(-(2**63), 2**63 - 1), st.floats(allow_nan=False),
    st.text(max_size=12), st.binary(max_size=12), st.sampled_from(["1", "2", *IDS]),
)  # fmt: skip


@pytest.fixture(scope="module")
def sealed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return ex.build(tmp_path_factory.mktemp("sealed") / "records" / "brimline.sqlite")


def rows(connection: sqlite3.Connection, table: str) -> list[tuple[int, str]]:
    """Row and record of whatever belongs to a sealed record."""
    which = ", ".join(f"'{each}'" for each in IDS)
    query = f"SELECT rowid, check_id FROM {table} WHERE check_id IN ({which}) ORDER BY rowid"
    return connection.execute(query).fetchall()


def looked_at(path: Path) -> ChainVerdict:
    with Database.open(path, writer=False) as database:
        return verify(database)


@given(st.sampled_from(TABLES), st.data())
def test_a_change_is_found(sealed: Path, table: str, data: st.DataObject) -> None:
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "records" / sealed.name
        shutil.copytree(sealed.parent, path.parent)
        with ex.by_hand(path) as connection:
            row, check_id = data.draw(st.sampled_from(rows(connection, table)))
            column = data.draw(st.sampled_from(Base.metadata.tables[table].columns.keys()))
            read = f"SELECT typeof({column}), {column} FROM {table} WHERE rowid = {row}"
            old = connection.execute(read).fetchone()
            try:
                connection.execute(
                    f"UPDATE {table} SET {column} = ? WHERE rowid = {row}", (data.draw(VALUES),)
                )
            except sqlite3.IntegrityError:  # a place or number that another one has
                assume(False)
            new = connection.execute(read).fetchone()
            assume(new != old)
        found = looked_at(path)
        assert found.first is not None
        if column == "check_id":
            return
        unreadable = isinstance(new[1], bytes) and column in ("bay", "seal", "previous_seal")
        assert unreadable or found.first.record in (IDS[check_id], new[1])


@given(st.sampled_from(TABLES[1:]), st.data())
def test_a_row_that_goes_is_found(sealed: Path, table: str, data: st.DataObject) -> None:
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "records" / sealed.name
        shutil.copytree(sealed.parent, path.parent)
        with ex.by_hand(path) as connection:
            row, check_id = data.draw(st.sampled_from(rows(connection, table)))
            connection.execute(f"DELETE FROM {table} WHERE rowid = {row}")
        found = looked_at(path)
        assert found.first is not None
        if table == "amendments":
            assert found.first.place == ex.AMENDED[IDS[check_id]]
        else:
            assert found.first.record == IDS[check_id]
