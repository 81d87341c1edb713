"""``brimline verify``, ``anchor`` and ``amend``: text, data, exit codes."""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from brimline.cli import main
from brimline.paths import data_folder, database_file
from brimline.records import tail

VIN = "0THFC3K71RL104218"
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def words(*given: str) -> tuple[int, str, str]:
        code = main(list(given))
        printed = capsys.readouterr()
        assert "Traceback" not in printed.err
        return code, printed.out, printed.err

    return words


@pytest.fixture
def records(run: Run, tmp_path: Path) -> None:
    for script in ("abort", "runs-off"):
        done = run("replay", "family-car-curve", "--headless", "--script", script,
                   "--out", str(tmp_path / "out"))  # fmt: skip
        assert done[0] == 0


def amend(run: Run, field: str, value: str, *more: str) -> tuple[int, str, str]:
    return run("amend", "1", "--field", field, "--value", value, "--author", "M. Reed",
               "--reason", "typed wrongly", *more)  # fmt: skip


def by_hand(statement: str) -> None:
    with closing(sqlite3.connect(database_file(data_folder()))) as connection:
        names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        for (name,) in names.fetchall():
            connection.execute(f"DROP TRIGGER {name}")
        connection.execute(statement)
        connection.commit()


def test_no_records_are_intact(run: Run) -> None:
    code, out, err = run("verify")
    assert (code, err) == (0, "")
    assert out == "Intact: 0 checks and 0 amendments are what was sealed.\n"


@pytest.mark.expects_log
def test_verify_names_the_first_broken_record(run: Run, records: None) -> None:
    assert run("verify") == (0, "Intact: 2 checks and 0 amendments are what was sealed.\n", "")
    code, out, _ = run("verify", "2")
    assert code == 0
    assert out.endswith("are what was sealed, and so is its place in the chain.\n")
    by_hand("UPDATE checks SET technician = 'Nobody' || number")
    code, out, err = run("verify")
    assert (code, err) == (1, "")
    assert out.splitlines() == [
        "NOT INTACT. Record 1 was changed after it was sealed.",
        "That is the first of 2 faults.",
        "2 checks and 0 amendments were looked at.",
    ]
    code, out, _ = run("verify", "2")
    assert code == 1
    assert out.startswith("NOT INTACT. Record 2 was changed after it was sealed.\n1 check ")
    code, out, _ = run("verify", "--json")
    assert code == 1
    data = json.loads(out)
    assert (data["intact"], data["faults"], data["checks"]) == (False, 2, 2)
    assert data["first"] == {
        "what": "changed", "sentence": "Record 1 was changed after it was sealed.", "bay": "1",
        "place": 1, "record": 1,
    }  # fmt: skip
    code, _, err = run("verify", "7")
    assert code == 1
    assert err.startswith("brimline: There is no record “7”")


def test_verify_says_what_it_cannot_tell(run: Run, records: None) -> None:
    tail.tail_file(database_file(data_folder())).unlink()
    code, out, _ = run("verify")
    assert code == 0
    assert out.splitlines()[1] == (
        "Whether the newest records of bay 1 are missing cannot be told: chain-tail.json beside "
        "the database says nothing of them."
    )


@pytest.mark.expects_log
def test_an_anchor_is_exported_and_checked_against(run: Run, records: None, tmp_path: Path) -> None:
    file = tmp_path / "anchor.json"
    code, out, _ = run("anchor", "--out", str(file))
    assert code == 0
    data = json.loads(file.read_text("utf-8"))
    (link,) = data["links"]
    assert (data["anchor"], link["bay"], link["number"]) == (1, "1", 2)
    groups = " ".join(re.findall("....", link["seal"][:16]))
    assert out.splitlines() == [
        f"Bay 1: no. 2 of the chain, sealed {link['sealed_at'][:10]} {link['sealed_at'][11:16]} "
        f"(UTC+00:00), seal {groups}",
        f"Written to {file}; keep it where nobody at the bay can change it.",
    ]
    assert run("verify", "--anchor", str(file))[0] == 0
    file.write_text(json.dumps(data | {"links": [link | {"seal": "0" * 64}]}), "utf-8")
    code, out, _ = run("verify", "--anchor", str(file))
    assert code == 1
    assert out.startswith("NOT INTACT. Record 2 is not what the anchor names")
    code, out, _ = run("anchor", "--json")
    assert json.loads(out)["links"] == [link]
    for wrong in ("", "[]", '{"anchor": 1, "made_at": "", "links": []}', "\xff"):
        file.write_text(wrong, "utf-8")
        code, _, err = run("verify", "--anchor", str(file))
        assert (code, err) == (1, f"brimline: {file} is no anchor that Brimline wrote.\n")
    code, _, err = run("verify", "--anchor", str(tmp_path / "none"))
    assert code == 1
    assert "cannot be read" in err
    code, _, err = run("anchor", "--out", str(tmp_path / "none" / "there"))
    assert code == 1
    assert "cannot be written" in err


@pytest.mark.expects_log
def test_nothing_to_anchor(run: Run) -> None:
    code, _, err = run("anchor")
    assert (code, err) == (
        1, "brimline: No record was sealed yet, so there is nothing to anchor.\n",
    )  # fmt: skip


@pytest.mark.expects_log
def test_a_record_is_amended(run: Run, records: None, tmp_path: Path) -> None:
    code, out, err = amend(run, "plate", "HL 21 QR")
    assert (code, err) == (0, "")
    assert re.fullmatch(
        r"Plate amended from DEMO 17 to HL 21 QR; no\. 3 of the chain, seal( [0-9a-f]{4}){4}\.\n",
        out,
    )
    # 84,210 km / 1.609344 = 52,325.7 mi; 52,330 mi · 1.609344 = 84,217 km.
    code, out, _ = amend(run, "odometer", "52330", "--units", "us")
    assert out.startswith("Odometer amended from 52,326 mi to 52,330 mi; no. 4 of")
    code, out, _ = amend(run, "odometer", "52340 mi")
    assert out.startswith("Odometer amended from 84,217 km to 84,233 km; no. 5 of")
    code, out, _ = amend(run, "note", "Rang again.")
    assert out.startswith("Note added; no. 6 of the chain, seal")
    assert run("verify")[1] == "Intact: 2 checks and 4 amendments are what was sealed.\n"
    code, out, _ = run("history", VIN, "--all")
    newest, oldest = out.splitlines()[:2]
    assert "amended" not in newest
    assert "84,233 km" in oldest
    assert oldest.endswith("[amended: plate, odometer, note]")
    assert run("summary", "1", "-o", str(tmp_path / "again.pdf"))[0] == 0
    for field, value, told in (
        ("vin", "0THFC3K7", "exactly 17"),
        ("odometer", "far", "not a number"),
        ("plate", "HL 21 QR", "Record 1 says so already"),
        ("technician", "", "nothing to amend"),
    ):
        code, out, err = amend(run, field, value)
        assert (code, out) == (1, "")
        assert told in err
    with pytest.raises(SystemExit) as caught:
        amend(run, "verdict", "set")
    assert caught.value.code == 2


@pytest.mark.expects_log
def test_an_end_that_cannot_be_noted_is_told(
    run: Run, records: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(tail, "put", refuse)
    code, out, err = amend(run, "note", "Rang again.")
    assert code == 0
    assert out.startswith("Note added")
    assert err.startswith("The newest record is sealed, but this cannot be noted in")
