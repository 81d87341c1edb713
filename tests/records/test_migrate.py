from __future__ import annotations

import functools
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from record_examples import opened, outcome, reading, tap, wall
from sqlalchemy import create_engine

from brimline import paths
from brimline.errors import StoreError
from brimline.records import migrate
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.records.repository import Repository
from brimline.records.schema import Base

REVISIONS = [
    script.revision
    for script in ScriptDirectory(str(paths.migrations())).walk_revisions(base="base", head="heads")
][::-1]


def dump(path: Path) -> list[str]:
    """The whole database as SQL, the schema and every row."""
    with closing(sqlite3.connect(path)) as connection:
        return list(connection.iterdump())


def write_one_check(path: Path) -> None:
    with Database.open(path, writer=True) as database:
        journal = Journal(database)
        journal.begin(opened(), wall(0))
        journal.append(reading(1), wall(1))
        journal.append(tap(2), wall(2))
        Repository(database).finish(opened().check_id, outcome(), wall(3))


@pytest.fixture
def next_version(tmp_path: Path) -> Path:
    """The migrations of a later version: the present ones and a revision to be written."""
    folder = tmp_path / "100% next ü"
    shutil.copytree(paths.migrations(), folder, ignore=shutil.ignore_patterns("__pycache__"))
    return folder


def add_revision(folder: Path, body: str, revision: str = "9999") -> None:
    lines = "\n".join(f"    {line}" for line in body.splitlines())
    (folder / "versions" / f"{revision}_later.py").write_text(
        "import sqlalchemy as sa\nfrom alembic import op\n"
        f"revision = {revision!r}\ndown_revision = {migrate.HEAD!r}\n"
        f"def upgrade():\n{lines}\n"
        "def downgrade():\n    pass\n",
        encoding="utf-8",
    )


def test_head_is_the_newest_revision_that_travels_with_the_program() -> None:
    assert ScriptDirectory(str(paths.migrations())).get_current_head() == migrate.HEAD


def test_a_fresh_database_has_exactly_the_tables_of_the_program(database_path: Path) -> None:
    database_path.parent.mkdir()
    assert migrate.stored_revision(database_path) is None
    assert migrate.upgrade(database_path) is None
    assert migrate.stored_revision(database_path) == migrate.HEAD
    engine = create_engine(f"sqlite:///{database_path}")
    with engine.connect() as connection:
        context = MigrationContext.configure(
            connection, opts={"compare_type": True, "compare_server_default": True}
        )
        assert compare_metadata(context, Base.metadata) == []
    engine.dispose()
    assert sorted(file.name for file in database_path.parent.iterdir()) == ["brimline.sqlite"]


def test_what_alembic_does_not_compare_is_there_too(database_path: Path) -> None:
    database_path.parent.mkdir()
    migrate.upgrade(database_path)
    with closing(sqlite3.connect(database_path)) as connection:
        triggers = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        assert {name for (name,) in triggers} == {
            "checks_no_replace", "checks_no_update", "checks_no_delete",
            "journal_no_insert", "journal_no_update", "journal_no_delete",
            "traces_no_insert", "traces_no_update", "traces_no_delete",
            "attachments_no_insert", "attachments_no_update", "attachments_no_delete",
            "amendments_no_insert", "amendments_no_update", "amendments_no_delete",
        }  # fmt: skip
        (mode,) = connection.execute("PRAGMA journal_mode").fetchone()
        assert mode == "wal"


def test_every_step_goes_up_down_and_up_again(database_path: Path) -> None:
    database_path.parent.mkdir()
    config = migrate.configuration(paths.migrations())
    for revision in REVISIONS:
        up_to_it = functools.partial(command.upgrade, config, revision)
        migrate.run(database_path, config, up_to_it)
        up = dump(database_path)
        migrate.run(database_path, config, lambda: command.downgrade(config, "-1"))
        assert dump(database_path) != up
        migrate.run(database_path, config, up_to_it)
        assert dump(database_path) == up
    migrate.run(database_path, config, lambda: command.downgrade(config, "base"))
    assert not [line for line in dump(database_path) if "checks" in line or "journal" in line]


def test_an_upgrade_copies_a_database_with_records_first(
    database_path: Path, next_version: Path
) -> None:
    write_one_check(database_path)
    before = dump(database_path)
    add_revision(next_version, "op.create_table('lifts', sa.Column('name', sa.Text()))")
    copy = migrate.upgrade(database_path, scripts=next_version)
    assert copy is not None
    assert copy.parent == database_path.parent
    assert copy.name.startswith("brimline-before-9999-2")
    assert copy.suffix == ".sqlite"
    assert dump(copy) == before
    assert migrate.stored_revision(database_path) == "9999"
    assert any("lifts" in line for line in dump(database_path))


def test_an_upgrade_is_told_before_it_is_begun(database_path: Path, next_version: Path) -> None:
    """Of an empty database nothing is told: that takes no time."""
    said: list[str] = []
    Database.open(database_path, writer=True, tell=said.append).close()
    assert said == []
    write_one_check(database_path)
    add_revision(next_version, "op.create_table('lifts', sa.Column('name', sa.Text()))")

    def tell(sentence: str) -> None:
        assert not list(database_path.parent.glob("*-before-*"))
        said.append(sentence)

    migrate.upgrade(database_path, scripts=next_version, tell=tell)
    (sentence,) = said
    assert "Bringing the records up to this version" in sentence
    assert "takes minutes" in sentence


def test_an_upgrade_of_a_database_without_records_makes_no_copy(
    database_path: Path, next_version: Path
) -> None:
    Database.open(database_path, writer=True).close()
    add_revision(next_version, "op.create_table('lifts', sa.Column('name', sa.Text()))")
    assert migrate.upgrade(database_path, scripts=next_version) is None
    assert not list(database_path.parent.glob("*-before-*"))


HALF_WAY = [
    pytest.param("", id="rolled back"),
    # A migration that commits by itself defeats the transaction; only the copy helps then.
    pytest.param("op.execute('COMMIT')\n", id="committed half-way"),
]


@pytest.mark.parametrize("commits", HALF_WAY)
def test_a_failing_upgrade_leaves_the_old_database_and_names_the_copy(
    database_path: Path, next_version: Path, commits: str
) -> None:
    write_one_check(database_path)
    before = dump(database_path)
    add_revision(
        next_version,
        "op.create_table('lifts', sa.Column('name', sa.Text()))\n"
        "op.execute('DROP TRIGGER journal_no_delete')\n"
        f"op.execute('DELETE FROM journal WHERE seq > 1')\n{commits}"
        "raise RuntimeError('the power of the example failed')",
    )
    with pytest.raises(StoreError, match="is as it was") as caught:
        migrate.upgrade(database_path, scripts=next_version)
    (copy,) = database_path.parent.glob("*-before-9999-*")
    assert str(copy) in str(caught.value)
    assert "the power of the example" in caught.value.detail
    assert "\n" not in str(caught.value)
    assert dump(copy) == before
    assert dump(database_path) == before
    assert migrate.is_current(database_path)
    with Database.open(database_path, writer=True) as database:
        assert len(Repository(database).load("1").events) == 3


def test_a_second_failure_keeps_the_first_copy(database_path: Path, next_version: Path) -> None:
    write_one_check(database_path)
    add_revision(next_version, "raise RuntimeError('again')")
    for _ in range(2):
        with pytest.raises(StoreError, match="is as it was"):
            migrate.upgrade(database_path, scripts=next_version)
    assert len(list(database_path.parent.glob("*-before-9999-*"))) == 2


def test_a_table_made_anew_keeps_the_rows_that_point_at_it(
    database_path: Path, next_version: Path
) -> None:
    write_one_check(database_path)
    add_revision(
        next_version,
        "with op.batch_alter_table('checks', recreate='always') as batch:\n"
        "    batch.add_column(sa.Column('lift', sa.Text(), nullable=True))",
    )
    migrate.upgrade(database_path, scripts=next_version)
    with closing(sqlite3.connect(database_path)) as connection:
        assert connection.execute("SELECT count(*) FROM journal").fetchone() == (2,)
        assert connection.execute("SELECT count(*) FROM traces").fetchone() == (1,)
        assert connection.execute("SELECT number, lift FROM checks").fetchall() == [(1, None)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        with pytest.raises(sqlite3.IntegrityError, match="journal of a finished check"):
            connection.execute("DELETE FROM journal")


def test_an_upgrade_that_leaves_orphans_is_undone(database_path: Path, next_version: Path) -> None:
    write_one_check(database_path)
    before = dump(database_path)
    add_revision(
        next_version,
        "op.execute('DROP TRIGGER checks_no_delete')\nop.execute('DELETE FROM checks')",
    )
    with pytest.raises(StoreError, match="is as it was") as caught:
        migrate.upgrade(database_path, scripts=next_version)
    assert "orphans" in caught.value.detail
    assert dump(database_path) == before


def test_a_database_that_cannot_be_put_back_says_where_the_copy_is(
    database_path: Path, next_version: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_one_check(database_path)
    add_revision(next_version, "raise RuntimeError('no')")

    def refuse(copy: Path, path: Path) -> None:
        raise sqlite3.OperationalError("disk I/O error")

    monkeypatch.setattr("brimline.records.backup.restore", refuse)
    with pytest.raises(StoreError, match="put the copy") as caught:
        migrate.upgrade(database_path, scripts=next_version)
    (copy,) = database_path.parent.glob("*-before-9999-*")
    assert str(copy) in str(caught.value)


def test_without_a_copy_there_is_no_upgrade(
    database_path: Path, next_version: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_one_check(database_path)
    before = dump(database_path)
    add_revision(next_version, "op.create_table('lifts', sa.Column('name', sa.Text()))")

    def refuse(path: Path, *, before: str) -> Path:
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr("brimline.records.backup.back_up", refuse)
    with pytest.raises(StoreError, match="no copy of it can be made"):
        migrate.upgrade(database_path, scripts=next_version)
    assert dump(database_path) == before


def test_a_fresh_database_that_cannot_be_made_is_made_at_the_next_start(
    database_path: Path, next_version: Path
) -> None:
    database_path.parent.mkdir()
    add_revision(next_version, "raise RuntimeError('no')")
    with pytest.raises(StoreError, match="could not be set up"):
        migrate.upgrade(database_path, scripts=next_version)
    assert migrate.stored_revision(database_path) is None
    migrate.upgrade(database_path)
    assert migrate.is_current(database_path)


@pytest.mark.parametrize("writer", [True, False])
def test_a_newer_database_is_refused_untouched(
    database_path: Path, next_version: Path, writer: bool
) -> None:
    write_one_check(database_path)
    add_revision(next_version, "op.create_table('lifts', sa.Column('name', sa.Text()))")
    migrate.upgrade(database_path, scripts=next_version)
    before = dump(database_path)
    with pytest.raises(StoreError, match="written by a newer Brimline"):
        Database.open(database_path, writer=writer)
    assert dump(database_path) == before


def test_opening_a_current_database_does_not_import_alembic(database_path: Path) -> None:
    Database.open(database_path, writer=True).close()
    program = (
        "import sys, pathlib\n"
        "from brimline.records.database import Database\n"
        "path = pathlib.Path(sys.argv[1])\n"
        "for writer in (True, False):\n"
        "    with Database.open(path, writer=writer):\n"
        "        assert 'sqlalchemy' in sys.modules\n"
        "        assert 'alembic' not in sys.modules\n"
        "path.unlink()\n"
        "with Database.open(path, writer=True):\n"
        "    assert 'alembic' in sys.modules\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, str(database_path)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")


def test_env_is_of_no_use_without_the_program() -> None:
    config = migrate.configuration(paths.migrations())
    with pytest.raises(SystemExit, match=r"migrate\.run"):
        command.upgrade(config, "head")
