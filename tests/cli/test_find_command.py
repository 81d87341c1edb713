"""``brimline find`` and ``history``: what they print, and what cannot be looked for."""

from __future__ import annotations

import json
from datetime import timedelta
from typing import Any

import pytest
from search_examples import NOON, VIN, Kept, keep

from brimline.bootstrap import Bay
from brimline.cli import main
from brimline.config import Settings
from brimline.paths import data_folder
from brimline.procedure.events import Origin, Verdict
from brimline.records.model import Amendable

CHECKS = [
    Kept(notes="slips"),
    Kept(vin="0THK5A1230L004218", plate="AB 99", family="K5", verdict=Verdict.REFERRED,
         work_order="HL-2041", technician="Jörg Vane", fluid="TF-Red", notes="BURNT smell",
         amended=[(Amendable.PLATE, "AB 98"), (Amendable.NOTE, "called")]),
    Kept(origin=Origin.TRAINING),
    Kept(plate="", work_order=""),
]  # fmt: skip


@pytest.fixture
def bay() -> Bay:
    made = Bay(data_folder(), Settings())
    with made.records(writer=True) as database:
        days = [
            Kept(**{**vars(check), "opened_at": NOON + timedelta(days=day)})
            for day, check in enumerate(CHECKS)
        ]
        keep(database, days)
    return made


@pytest.fixture
def says(bay: Bay, capsys: pytest.CaptureFixture[str]) -> Any:
    """Return a function that runs a command and returns what it prints."""

    def run(*words: str) -> str:
        assert main(list(words)) == 0
        return capsys.readouterr().out

    return run


def numbers(printed: str) -> list[int]:
    return [int(line.split()[0]) for line in printed.splitlines() if line.split()[0].isdigit()]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ([], [4, 2, 1]),
        (["--all"], [4, 3, 2, 1]),
        (["--vin", VIN], [4, 1]),
        (["--vin", "0lane123", "--all"], [4, 3, 1]),
        (["--plate", "ab99"], [2]),
        (["--plate", "ab98"], [2]),
        (["--order", "hl 2041"], [2]),
        (["--from", "2031-05-07", "--until", "2031-05-08"], [2]),
        (["--family", "k5"], [2]),
        (["--technician", "JÖRG"], [2]),
        (["--verdict", "referred"], [2]),
        (["--fluid", "red"], [2]),
        (["--words", "smell burnt"], [2]),
        (["--words", "called"], [2]),
        (["--words", "called", "--family", "K7"], []),
        (["--limit", "2"], [4, 2]),
    ],
)
def test_find(says: Any, words: list[str], found: list[int]) -> None:
    assert numbers(says("find", *words)) == found


def test_a_line_says_what_was_done_and_what_was_amended(says: Any) -> None:
    line = says("find", "--plate", "AB98").splitlines()[0]
    assert "  0THK5A1230L004218  AB 98  K5" in line
    assert "referred; TF-Red; Jörg Vane; order HL-2041 [amended: plate, note]" in line
    assert says("find", "--all", "--limit", "2").splitlines()[1].endswith("[training]")


def test_pages_follow_one_another(says: Any) -> None:
    first = json.loads(says("find", "--limit", "2", "--json"))
    assert [check["number"] for check in first["checks"]] == [4, 2]
    rest = json.loads(says("find", "--limit", "2", "--json", "--after", first["next"]))
    assert [check["number"] for check in rest["checks"]] == [1]
    assert rest["next"] == ""
    printed = says("find", "--limit", "2")
    assert f"--after {first['next']}" in printed
    assert "No older check on record fits" in says(
        "find", "--vin", "00000000", "--after", first["next"]
    )


def test_history_is_the_short_way(says: Any) -> None:
    assert numbers(says("history", VIN[-8:])) == [4, 1]
    listed = json.loads(says("history", VIN, "--all", "--json"))
    assert [check["number"] for check in listed] == [4, 3, 1]
    assert "No finished check of this vehicle" in says("history", "00000000")


def test_the_last_check_of_a_vehicle_is_of_what_it_is_now(bay: Bay) -> None:
    was, now = VIN, "0THK5A1230L004218"
    with bay.records(writer=True) as database:
        later = NOON + timedelta(days=9)
        keep(database, [Kept(opened_at=later, vin=was, amended=[(Amendable.VIN, now)])], first=5)
    for vin, number in ((was, 4), (now, 5)):
        hit = bay.last_check(vin)
        assert hit is not None
        assert hit.number == number
    assert bay.last_check("0THK5A1230L004219") is None


@pytest.mark.expects_log
@pytest.mark.usefixtures("bay")
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--from", "yesterday"], "“yesterday” is no date; write it as 2031-05-06."),
        (["--until", "2031-02-30"], "“2031-02-30” is no date"),
        (["--from", "2031-05-07", "--until", "2031-05-06"], "The last day, 2031-05-06, is before"),
        (["--verdict", "fine"], "“fine” is no verdict; there are: set, corrected, "),
        (["--family", "K6"], "No record is of the family “K6”; there are: K5, K7."),
        (["--vin", "0THK5"], "neither a whole VIN (17 characters) nor the last 8"),
        (["--plate", "?"], "“?” is no plate"),
        (["--order", "?"], "“?” is no work order"),
        (["--limit", "0"], "A page has 1 to 500 checks, not 0."),
        (["--limit", "501"], "A page has 1 to 500 checks"),
        (["--after", "here"], "“here” is no place in a list"),
        (["--words", "x" * 300], "More than 200 characters"),
    ],
)
def test_what_cannot_be_looked_for_is_one_sentence(
    capsys: pytest.CaptureFixture[str], words: list[str], said: str
) -> None:
    assert main(["find", *words]) == 1
    printed = capsys.readouterr()
    assert said in printed.err
    assert printed.err.startswith("brimline: ")
    assert printed.err.count("\n") == 1
    assert printed.out == ""
