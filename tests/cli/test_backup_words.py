"""``backup`` and ``restore`` at the command line, and every start with a database that is not."""

from __future__ import annotations

import io
import json
import sqlite3
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from brimline.cli import main
from brimline.config import read_settings
from brimline.paths import data_folder, database_file

VIN = "0THFC3K71RL104218"

Says = Callable[..., str]


@pytest.fixture
def says(capsys: pytest.CaptureFixture[str]) -> Says:
    """Run a command; return what it printed, on standard error where it failed."""

    def run(*words: object, fails: bool = False) -> str:
        capsys.readouterr()
        code = main([str(word) for word in words])
        printed = capsys.readouterr()
        assert code == (1 if fails else 0), printed.err
        if fails:
            assert printed.err.startswith("brimline: ")
            assert "unexpected fault" not in printed.err
            assert printed.err.count("\n") == 1
        return printed.err if fails else printed.out

    return run


@pytest.fixture
def share(tmp_path: Path) -> Path:
    return tmp_path / "share"


def check(says: Says, tmp_path: Path) -> None:
    """Add a record."""
    out = tmp_path / "out"
    says("replay", "family-car-curve", "--script", "abort", "--headless", "--out", out)


def listed(says: Says) -> list[int]:
    """The numbers of the records that the history shows, the newest first."""
    found = json.loads(says("history", VIN, "--all", "--json"))
    return [record["number"] for record in found]


def test_backed_up_listed_and_restored(says: Says, tmp_path: Path, share: Path) -> None:
    check(says, tmp_path)
    assert "Backed up and checked: 1 record, the newest of" in says("backup", "--to", share)
    check(says, tmp_path)
    (copy,) = share.glob("*.sqlite")
    shown = says("backup", "--to", share, "--list")
    assert str(copy) in shown
    assert "1 record, the newest of" in shown
    restored = says("restore", copy, "--yes")
    assert "Not in it, or not as it is now: record 2." in restored
    (aside,) = data_folder().glob("brimline-replaced-*.sqlite")
    assert f"The former records lie at {aside}" in restored
    assert listed(says) == [1]
    says("restore", aside, "--yes")
    assert listed(says) == [2, 1]


def test_a_folder_that_is_kept_serves_from_then_on(says: Says, tmp_path: Path, share: Path) -> None:
    check(says, tmp_path)
    says("backup", "--to", share, "--save")
    assert read_settings(data_folder()).backup.path == share
    made = json.loads(says("backup", "--json"))
    assert made["newest"] == 1
    found = json.loads(says("backup", "--list", "--json"))
    assert [(each["kind"], each["checked"]) for each in found] == [("backup", True)] * 2
    check(says, tmp_path)
    assert made["file"] in says("restore", "--yes")
    assert listed(says) == [1]


@pytest.mark.expects_log
def test_what_is_missing_is_said(says: Says, tmp_path: Path, share: Path) -> None:
    assert "No backup folder is chosen" in says("backup", fails=True)
    assert "no records yet" in says("backup", "--to", share, fails=True)
    assert not share.exists()
    check(says, tmp_path)
    assert "no backup folder is chosen" in says("restore", "--yes", fails=True)
    assert "There is no file" in says("restore", share / "none.sqlite", "--yes", fails=True)
    assert "No backup folder is chosen" in says("backup", "--list")


@pytest.mark.expects_log
def test_without_a_yes_nothing_is_changed(
    says: Says, tmp_path: Path, share: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    check(says, tmp_path)
    says("backup", "--to", share, "--save")
    before = database_file(data_folder()).read_bytes()
    monkeypatch.setattr(sys, "stdin", io.StringIO("yes\n"))
    assert "add --yes" in says("restore", fails=True)
    assert "add --yes" in says("restore", "--empty", fails=True)

    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr(sys, "stdin", Terminal("perhaps\n"))
    assert "Nothing was changed" in says("restore", fails=True)
    assert database_file(data_folder()).read_bytes() == before
    monkeypatch.setattr(sys, "stdin", Terminal("Yes\n"))
    assert "Checked and put in place" in says("restore")


def spoil_head(database: Path) -> None:
    content = bytearray(database.read_bytes())
    content[:4096] = b"\xa5" * 4096
    database.write_bytes(content)


def spoil_first_page(database: Path) -> None:
    content = bytearray(database.read_bytes())
    content[100:4096] = b"\xa5" * 3996
    database.write_bytes(content)


def cut_short(database: Path) -> None:
    database.write_bytes(database.read_bytes()[: 3 * 4096])


def empty(database: Path) -> None:
    database.write_bytes(b"")


def exchange(database: Path) -> None:
    database.unlink()
    with closing(sqlite3.connect(database)) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")


DAMAGES = [spoil_head, spoil_first_page, cut_short, empty, Path.unlink, exchange]


@pytest.mark.expects_log
@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_database_leads_to_the_command_and_never_to_a_new_one(
    says: Says, tmp_path: Path, share: Path, damage: Callable[[Path], None]
) -> None:
    check(says, tmp_path)
    says("backup", "--to", share, "--save")
    database = database_file(data_folder())
    damage(database)
    before = database.read_bytes() if database.exists() else None
    for words in (
        ("history", VIN), ("init",), ("backup",), ("gates", "1"),
        ("replay", "family-car-curve", "--script", "abort", "--headless", "--out", tmp_path / "o"),
        ("demo", "--auto", "--out", tmp_path / "demo"),
    ):  # fmt: skip
        said = says(*words, fails=True)
        assert "“brimline restore” puts a backup in its place" in said
        assert str(database) in said
    assert (database.read_bytes() if database.exists() else None) == before
    restored = says("restore", "--yes")
    assert listed(says) == [1]
    asides = [path.read_bytes() for path in data_folder().glob("brimline-replaced-*.sqlite")]
    assert asides == ([] if before is None else [before])
    assert ("cannot be told" in restored) is (before is not None)


@pytest.mark.expects_log
def test_where_there_is_no_backup_at_all(says: Says, tmp_path: Path) -> None:
    check(says, tmp_path)
    database = database_file(data_folder())
    spoil_head(database)
    assert "No backup was found" in says("restore", "--yes", fails=True)
    assert "There are no records now." in says("restore", "--empty", "--yes")
    assert listed(says) == []
    check(says, tmp_path)
    assert listed(says) == [1]


@pytest.mark.expects_log
def test_a_page_in_the_middle_is_found_by_the_backup(
    says: Says, tmp_path: Path, share: Path
) -> None:
    check(says, tmp_path)
    says("backup", "--to", share, "--save")
    database = database_file(data_folder())
    content = bytearray(database.read_bytes())
    middle = len(content) // 4096 // 2 * 4096
    content[middle : middle + 4096] = b"\xa5" * 4096
    database.write_bytes(content)
    assert main(["backup"]) == 1
    assert len(list(share.glob("*.sqlite"))) == 1
    says("restore", "--yes")
    assert "Backed up and checked" in says("backup")
