"""``brimline attach`` and ``attachments``: into an open record, after it, and out again."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import picture_files as files
import pytest
from check_play import Play, sheet

from brimline import interrupted
from brimline.bootstrap import Bay
from brimline.cli import main
from brimline.config import Settings
from brimline.paths import data_folder, database_file
from brimline.procedure import events as ev
from brimline.procedure.attaching import About, AttachmentKept
from brimline.procedure.verdict import closing_event
from brimline.records.attached import place
from brimline.records.database import Database
from brimline.records.journal import Journal
from brimline.units import METRIC

JPEG = files.encoded("JPEG")
OPENED = datetime(2031, 5, 6, 12, tzinfo=UTC)
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def words(*given: str | Path) -> tuple[int, str, str]:
        code = main([str(word) for word in given])
        printed = capsys.readouterr()
        assert "Traceback" not in printed.err
        return code, printed.out, printed.err

    return words


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "IMG 1.jpg"
    path.write_bytes(JPEG)
    return path


@contextmanager
def writing() -> Iterator[Database]:
    with Database.open(database_file(data_folder()), writer=True) as database:
        yield database


def begin(play: Play | None = None) -> None:
    """Leave a check open, as a program that was killed does."""
    opened, *events = (play or Play()).events
    assert isinstance(opened, ev.CheckOpened)
    opened = replace(opened, opened_at=OPENED, sheet=sheet(), origin=ev.Origin.LIVE)
    with writing() as database:
        journal = Journal(database)
        journal.begin(opened, OPENED)
        for event in events:
            journal.append(event, OPENED + timedelta(seconds=event.t))
        journal.flush()


def end(run: Run) -> None:
    assert run("end", "1", "--plug", "in", "--engine", "off", "--reason", "enough")[0] == 0


def test_a_photo_goes_into_an_open_record(run: Run, photo: Path) -> None:
    begin()
    code, out, err = run("attach", "1", photo)
    assert (code, err) == (0, "")
    size = f"{round(len(JPEG) / 1000)} kB"
    assert out == (
        f"“IMG 1.jpg” (image/jpeg, {size}) is kept with the open record 1; nothing takes it out.\n"
    )
    code, out, _ = run("attachments", "1")
    assert code == 0
    assert out.endswith(f"  IMG 1.jpg  (image/jpeg, {size}): the fluid's condition\n")
    end(run)
    (file,) = Bay(data_folder(), Settings()).load("1").attachments
    assert (file.name, file.about, file.amendment) == ("IMG 1.jpg", About.CONDITION, 0)
    assert run("verify")[:2] == (
        0, "Intact: 1 check and 0 amendments are what was sealed.\n",
    )  # fmt: skip


def test_the_time_of_the_check_stands_still_meanwhile(run: Run, photo: Path) -> None:
    """Else the gap before it goes on would seem short, and nothing would be asked again."""
    play = Play().ready()
    begin(play)
    bay = Bay(data_folder(), Settings())
    later = OPENED + timedelta(hours=5)
    kept = interrupted.attach(
        bay, bay.load("1").header.check_id, photo, About.PLUG, METRIC, lambda: later
    )
    record = bay.load("1")
    event = record.events[-1]
    assert isinstance(event, AttachmentKept)
    assert (event.t, event.sha256) == (play.state.now, kept.sha256)
    assert record.attachments[0].added_at == later
    (check,) = interrupted.open_checks(bay, lambda: later)
    assert check.away_s == pytest.approx(5 * 3600 - play.state.now)


@pytest.mark.expects_log
def test_an_open_record_takes_no_words_of_an_author(run: Run, photo: Path) -> None:
    begin()
    code, _, err = run("attach", "1", photo, "--author", "M. Reed")
    assert code == 1
    assert "is open, so that its technician adds the file" in err


@pytest.mark.expects_log
def test_the_same_photo_is_taken_once(run: Run, photo: Path) -> None:
    begin()
    assert run("attach", "1", photo)[0] == 0
    code, _, err = run("attach", "1", photo)
    assert code == 1
    assert err == (
        "brimline: “IMG 1.jpg” is not taken into the record: This file is with the record "
        "already.\n"
    )


@pytest.mark.expects_log
def test_a_check_that_lacks_its_seal_alone_is_ended_first(run: Run, photo: Path) -> None:
    play = Play().taken(ev.CheckAborted(t=0.0, reason="enough"))
    begin(play.taken(closing_event(play.state, 0.0)))
    code, _, err = run("attach", "1", photo)
    assert (code, err) == (
        1, "brimline: This check is closed and only its seal is missing: end it first.\n",
    )  # fmt: skip
    assert not (data_folder() / "attachments").exists()


@pytest.mark.expects_log
def test_a_check_that_another_program_runs_takes_none(run: Run, photo: Path) -> None:
    begin()
    with writing():
        code, _, err = run("attach", "1", photo)
    assert code == 1
    assert "another" in err.lower()
    assert not (data_folder() / "attachments").exists()


def test_after_its_end_a_record_takes_one_with_author_and_reason(run: Run, photo: Path) -> None:
    begin()
    end(run)
    words = ("--about", "plug", "--author", "M. Reed", "--reason", "from her telephone")
    code, out, err = run("attach", "1", photo, *words)
    assert (code, err) == (0, "")
    assert "is kept with record 1; no. 2 of the chain, seal " in out
    code, out, _ = run("attachments", "1")
    assert out.endswith("): the check plug, with amendment 1\n")
    assert run("verify")[:2] == (
        0, "Intact: 1 check and 1 amendment are what was sealed.\n",
    )  # fmt: skip
    assert "[amended: attachment]" in run("find", "--all")[1]


@pytest.mark.expects_log
@pytest.mark.parametrize("words", [(), ("--author", "M. Reed"), ("--reason", "why")])
def test_after_its_end_who_and_why_must_be_said(
    run: Run, photo: Path, words: tuple[str, ...]
) -> None:
    begin()
    end(run)
    code, _, err = run("attach", "1", photo, *words)
    assert code == 1
    assert err == (
        "brimline: Record 1 is finished: say who adds the file with --author NAME and why with "
        "--reason WHY.\n"
    )
    assert not (data_folder() / "attachments").exists()


def test_files_are_copied_out_by_names_that_every_system_takes(run: Run, tmp_path: Path) -> None:
    begin()
    pdf = files.pdf()
    names = {"a:b?.jpg": JPEG, "scan.exe": b"P0218", "..": pdf, "ü" * 80: files.encoded("PNG")}
    for number, (name, content) in enumerate(names.items()):
        source = tmp_path / f"{number}" / (name if name != ".." else "dots")
        source.parent.mkdir()
        source.write_bytes(content)
        assert run("attach", "1", source, "--about", "other")[0] == 0
    out = tmp_path / "out"
    assert run("attachments", "1", "--out", out)[0] == 0
    assert {path.name: path.read_bytes() for path in out.iterdir()} == {
        "record-1-1-a-b-.jpg": JPEG,
        "record-1-2-scan.txt": b"P0218",
        "record-1-3-dots.pdf": pdf,
        f"record-1-4-{'ü' * 60}.png": names["ü" * 80],
    }


def test_a_file_that_is_missing_is_said_and_not_copied(
    run: Run, photo: Path, tmp_path: Path
) -> None:
    begin()
    assert run("attach", "1", photo)[0] == 0
    other = tmp_path / "scan.txt"
    other.write_bytes(b"P0218")
    assert run("attach", "1", other)[0] == 0
    (first, _) = Bay(data_folder(), Settings()).load("1").attachments
    place(data_folder(), first.sha256).unlink()
    code, out, _ = run("attachments", "1", "--out", tmp_path / "out")
    assert code == 1
    assert "    THE FILE IS MISSING.\n" in out
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["record-1-2-scan.txt"]
    code, out, _ = run("attachments", "1", "--json")
    assert [row["fault"] for row in json.loads(out)] == ["is missing", ""]
    assert json.loads(out)[1]["size"] == 5


def test_a_record_without_any_says_so(run: Run) -> None:
    begin()
    assert run("attachments", "1") == (0, "No file is kept with record 1.\n", "")
    assert run("attachments", "1", "--json")[1] == "[]\n"


def test_verify_counts_files_of_no_record(run: Run, photo: Path) -> None:
    begin()
    Bay(data_folder(), Settings()).attachments.keep(photo)
    code, out, _ = run("verify")
    assert code == 0
    size = f"{round(len(JPEG) / 1000)} kB"
    assert out.endswith(f"1 file ({size}) in the folder attachments belongs to no record.\n")


def test_the_printed_summary_shows_the_photo(run: Run, photo: Path, tmp_path: Path) -> None:
    begin()
    assert run("attach", "1", photo)[0] == 0
    end(run)
    assert run("summary", "1", "-o", tmp_path / "a.pdf")[0] == 0
    with_photo = (tmp_path / "a.pdf").read_bytes()
    assert b"/Subtype /Image" in with_photo
