"""What the disk refused, written elsewhere and taken in again."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from faulty_disk import disk_refuses, on_disk
from record_examples import opened, reading, tap, wall

from brimline.errors import StoreError
from brimline.procedure.events import CheckAborted
from brimline.records import rescue
from brimline.records.database import Database
from brimline.records.journal import Journal

CHECK = opened().check_id


def held_back(database: Database, folder: Path) -> tuple[Journal, Path]:
    """A journal with one tap on the disk, and two entries that it refused in a file."""
    journal = Journal(database)
    journal.begin(opened(), wall(0))
    journal.append(tap(1), wall(1))
    with disk_refuses(database):
        journal.append(reading(2), wall(2))
        journal.append(tap(3), wall(3))
        assert journal.unsaved == 2
        path = rescue.write(CHECK, journal.held(), [folder])
    return journal, path


def test_what_was_refused_is_taken_in_behind_what_is_there(
    database: Database, tmp_path: Path
) -> None:
    _, path = held_back(database, tmp_path)
    assert path == tmp_path / f"unsaved-{CHECK}.jsonl"
    assert rescue.find(CHECK, [tmp_path / "elsewhere", tmp_path]) == path
    assert on_disk(database) == [opened(), tap(1)]
    assert rescue.take_in(database, CHECK, path) == 2
    assert on_disk(database) == [opened(), tap(1), reading(2), tap(3)]
    assert rescue.find(CHECK, [tmp_path]) is None
    assert path.with_name(path.name + rescue.TAKEN).is_file()
    going_on = Journal(database)
    going_on.resume(CHECK)
    going_on.append(tap(4), wall(4))
    assert on_disk(database)[-1] == tap(4)


def test_what_the_disk_took_after_all_is_not_written_twice(
    database: Database, tmp_path: Path
) -> None:
    journal, path = held_back(database, tmp_path)
    journal.flush()
    assert rescue.take_in(database, CHECK, path) == 0
    assert on_disk(database) == [opened(), tap(1), reading(2), tap(3)]


def test_the_first_folder_that_takes_it_has_it(database: Database, tmp_path: Path) -> None:
    journal, _ = held_back(database, tmp_path)
    nowhere = tmp_path / "not" / "there"
    assert rescue.write(CHECK, journal.held(), [nowhere, tmp_path]).parent == tmp_path
    with pytest.raises(StoreError, match="could not be written to another place either"):
        rescue.write(CHECK, journal.held(), [nowhere])
    with pytest.raises(StoreError, match="there is none"):
        rescue.write(CHECK, journal.held(), [])


def _lines(path: Path) -> list[str]:
    return path.read_text("utf-8").splitlines()


@pytest.mark.parametrize(
    "spoil",
    [
        lambda lines: lines[:-1],  # cut off
        lambda lines: [lines[0], *lines[2:]],
        lambda lines: [lines[0], lines[2], lines[1]],
        lambda lines: [lines[0].replace(CHECK, "another"), *lines[1:]],
        lambda lines: [lines[0].replace("unsaved-1", "unsaved-9"), *lines[1:]],
        lambda lines: [*lines[:-1], lines[-1].replace("kind", "kine")],
        lambda lines: ["[]", *lines[1:]],
        lambda lines: ["{", *lines[1:]],
        lambda _lines: [],
    ],
)
def test_a_file_that_is_not_whole_is_refused_and_changes_nothing(
    database: Database, tmp_path: Path, spoil: Callable[[list[str]], list[str]]
) -> None:
    _, path = held_back(database, tmp_path)
    path.write_text("\n".join(spoil(_lines(path))), "utf-8")
    with pytest.raises(StoreError, match="does not fit its record"):
        rescue.take_in(database, CHECK, path)
    assert on_disk(database) == [opened(), tap(1)]
    assert path.is_file()


def test_a_file_of_a_record_that_went_on_otherwise_is_refused(
    database: Database, tmp_path: Path
) -> None:
    _, path = held_back(database, tmp_path)
    other = Journal(database)
    other.resume(CHECK)
    other.append(tap(9), wall(9))
    with pytest.raises(StoreError, match="does not fit its record"):
        rescue.take_in(database, CHECK, path)
    assert on_disk(database) == [opened(), tap(1), tap(9)]


def test_a_gap_before_what_was_rescued_is_refused(database: Database, tmp_path: Path) -> None:
    _, path = held_back(database, tmp_path)
    head, *rows = _lines(path)
    later = [json.dumps([row[0] + 1, *row[1:]]) for row in map(json.loads, rows)]
    path.write_text("\n".join([head, *later]), "utf-8")
    with pytest.raises(StoreError, match="does not fit its record"):
        rescue.take_in(database, CHECK, path)


def test_a_flush_that_is_refused_says_where_the_rest_is(
    database: Database, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(rescue, "places", lambda: (tmp_path,))
    journal = Journal(database)
    journal.begin(opened(), wall(0))
    with disk_refuses(database):
        journal.append(tap(1), wall(1))
        with pytest.raises(StoreError, match=r"cannot be written.* kept in ") as refused:
            rescue.flush(journal)
    assert str(tmp_path / f"unsaved-{CHECK}.jsonl") in refused.value.sentence
    rescue.flush(journal)
    assert on_disk(database) == [opened(), tap(1)]


def test_home_comes_before_the_folder_for_temporary_files(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert rescue.places()[0] == tmp_path
    assert len(rescue.places()) == 2

    def nobody() -> Path:
        raise RuntimeError("no home")

    monkeypatch.setattr(Path, "home", nobody)
    assert tmp_path not in rescue.places()


def test_a_file_without_entries_is_taken_in_and_changes_nothing(
    database: Database, tmp_path: Path
) -> None:
    journal = Journal(database)
    journal.begin(opened(), wall(0))
    path = rescue.write(CHECK, journal.held(), [tmp_path])
    assert rescue.take_in(database, CHECK, path) == 0
    assert on_disk(database) == [opened()]
    assert rescue.find(CHECK, [tmp_path]) is None


@pytest.mark.parametrize("sign", ["\u2028", "\u2029", "\x85", "\n"])
def test_signs_that_part_lines_in_other_texts_part_none_here(
    database: Database, tmp_path: Path, sign: str
) -> None:
    journal = Journal(database)
    journal.begin(opened(), wall(0))
    said = CheckAborted(t=1.0, reason=f"fire{sign}alarm")
    with disk_refuses(database):
        journal.append(said, wall(1))
        path = rescue.write(CHECK, journal.held(), [tmp_path])
    assert rescue.take_in(database, CHECK, path) == 1
    assert on_disk(database) == [opened(), said]


def test_a_file_that_cannot_be_renamed_is_taken_in_all_the_same(
    database: Database, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, path = held_back(database, tmp_path)

    def refuse(_path: Path, _target: Path) -> None:
        raise PermissionError("held open")

    monkeypatch.setattr(Path, "replace", refuse)
    assert rescue.take_in(database, CHECK, path) == 2
    assert rescue.take_in(database, CHECK, path) == 0
    assert on_disk(database) == [opened(), tap(1), reading(2), tap(3)]
