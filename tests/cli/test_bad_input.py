"""Bad input at the command line: one clear sentence, an exit code, no traceback, nothing lost."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from brimline.cli import main
from brimline.paths import data_folder, database_file, resources
from brimline.records.database import Database

pytestmark = pytest.mark.expects_log

LOG = resources() / "recordings" / "family-car-drive.log"
SHEET = (resources() / "sheets" / "family-car-demo.toml").read_text("utf-8")


@pytest.fixture
def fails(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    """Return a function that runs a command which must fail with one sentence."""

    def run(*words: str) -> str:
        assert main(list(words)) == 1
        printed = capsys.readouterr()
        assert "Traceback" not in printed.err
        assert printed.err.startswith("brimline: ")
        assert "unexpected fault" not in printed.err
        return printed.err

    return run


def replay(recording: object, tmp_path: Path, *more: str) -> list[str]:
    sheet = () if "--sheet" in more else ("--sheet", "family-car-demo")
    return ["replay", str(recording), "--headless", "--out", str(tmp_path / "out"), *sheet, *more]


@pytest.mark.parametrize("suffix", [".log", ".asc", ".blf", ".csv"])
def test_garbage_and_empty_recordings(fails: Any, tmp_path: Path, suffix: str) -> None:
    bad = tmp_path / f"bad{suffix}"
    bad.write_bytes(b"\x00\xffnothing that a bus ever said\n" * 50)
    assert bad.name in fails(*replay(bad, tmp_path))
    bad.write_bytes(b"")
    assert "empty" in fails(*replay(bad, tmp_path))
    assert list((tmp_path / "out").glob("*.pdf")) == []


def test_a_truncated_recording_counts_up_to_its_end(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cut = tmp_path / "cut.log"
    cut.write_bytes(LOG.read_bytes()[:100_003])
    assert main(replay(cut, tmp_path)) == 0
    assert "ends early" in capsys.readouterr().out


def test_a_recording_without_the_mapped_signal(fails: Any, tmp_path: Path) -> None:
    said = fails(*replay(LOG, tmp_path, "--sheet", "k7-demo"))
    assert "fluid temperature" in said
    assert "k7-demo" in said
    said = fails(*replay(LOG, tmp_path, "--sheet", "k9-demo"))
    assert "SPN 177" in said


def test_unknown_names_list_what_is_known(fails: Any, tmp_path: Path) -> None:
    assert "family-car-drive" in fails(*replay("no-such-recording", tmp_path))
    assert "k7-demo" in fails(*replay(LOG, tmp_path, "--sheet", "k8-demo"))
    assert "runs-off" in fails(*replay(LOG, tmp_path, "--script", "runs-up"))
    assert "is no speed" in fails(*replay(LOG, tmp_path, "--speed", "1000"))
    said = fails("replay", str(LOG), "--headless", "--out", str(tmp_path))
    assert "--sheet" in said


@pytest.mark.parametrize(
    ("vin", "said"),
    [
        ("1M8GDM9A1KP042788", "check digit"),
        ("OTHFC3K71RL104218", "“O”"),
        ("0THFC3K71QL104218", "“Q”"),
        ("0THFC3K71RL10421I", "“I”"),
        ("0THFC3K7", "exactly 17"),
    ],
)
def test_vins_that_cannot_be(fails: Any, tmp_path: Path, vin: str, said: str) -> None:
    script = tmp_path / "script.toml"
    script.write_text(
        'schema = 1\ndescription = "x"\ntechnician = "x"\n[[tap]]\ndo = "vehicle_identified"\n'
        f'vin = "{vin}"\nwork_order = "1"\n',
        "utf-8",
    )
    assert said in fails(*replay(LOG, tmp_path, "--script", str(script)))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('high = "85 °C"', 'high = "45 °C"', "the band is inverted"),
        ('capacity = "8.6 L"', "capacity = 8.6", "the unit is missing"),
        ('"idle_overflow"', '"engine_off_dipstick"', "cannot guide this check"),
    ],
)
def test_sheets_that_cannot_be_used(
    fails: Any, tmp_path: Path, old: str, new: str, said: str
) -> None:
    sheet = tmp_path / "mine.toml"
    sheet.write_text(SHEET.replace(old, new).replace('"family-car-demo"', '"mine"'), "utf-8")
    assert said in fails(*replay(LOG, tmp_path, "--sheet", str(sheet)))


def test_sheets_lint_lists_every_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(SHEET.replace('"8.6 L"', "8.6").replace('"85 °C"', '"45 °C"'), "utf-8")
    good = resources() / "sheets" / "k5-demo.toml"
    assert main(["sheets", "lint", str(bad), str(good)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert len([line for line in lines if line.startswith(f"{bad}: ")]) == 2
    assert f"{good}: sound" in lines


def test_an_output_folder_that_cannot_be(fails: Any, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file stands here", "utf-8")
    assert "output folder" in fails(*replay(LOG, tmp_path))
    with Database.open(database_file(data_folder()), writer=False):
        pass  # no check was begun, and the records can be opened


def test_a_data_folder_that_cannot_be(
    fails: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    monkeypatch.setenv("BRIMLINE_DATA", str(tmp_path / "file" / "below"))
    fails(*replay(LOG, tmp_path))
    fails("history", "0THFC3K71RL104218")


def test_a_database_that_is_none(fails: Any, tmp_path: Path) -> None:
    data_folder().mkdir(parents=True)
    file = database_file(data_folder())
    file.write_bytes(b"this is a letter to my aunt" * 200)
    fails(*replay(LOG, tmp_path))
    assert file.read_bytes().startswith(b"this is a letter")  # nothing is overwritten


def test_a_second_program_on_the_same_database(fails: Any, tmp_path: Path) -> None:
    holder = (
        "import sys; from pathlib import Path; from brimline.records.database import Database\n"
        "with Database.open(Path(sys.argv[1]), writer=True):\n"
        "    print('held', flush=True); sys.stdin.read()\n"
    )
    file = database_file(data_folder())
    with subprocess.Popen(
        [sys.executable, "-c", holder, str(file)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=dict(os.environ),
    ) as other:  # fmt: skip
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        assert "Another Brimline" in fails(*replay(LOG, tmp_path))
        assert main(["history", "0THFC3K71RL104218"]) == 0  # reading goes on meanwhile
        other.communicate()


def test_records_that_are_not_there(fails: Any, tmp_path: Path) -> None:
    assert "12" in fails("summary", "12", "-o", str(tmp_path / "x.pdf"))
    assert "99" in fails("gates", "99")
    fails("history", "not a vin")


def test_a_summary_that_cannot_be_written(
    fails: Any, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(replay("family-car-curve", tmp_path, "--script", "abort")) == 0
    capsys.readouterr()
    fails("summary", "1", "-o", str(tmp_path / "none" / "there" / "x.pdf"))
    target = tmp_path / "again.pdf"
    assert main(["summary", "1", "-o", str(target)]) == 0
    assert target.read_bytes().startswith(b"%PDF")


def test_settings_with_faults(fails: Any, tmp_path: Path) -> None:
    data_folder().mkdir(parents=True)
    (data_folder() / "settings.toml").write_text('units = "imperial"\ncolor = 1\n', "utf-8")
    said = fails("history", "0THFC3K71RL104218")
    assert "units" in said
    assert "color" in said


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="these always have a display")
@pytest.mark.parametrize("words", [[], ["demo"]], ids=["brimline", "brimline demo"])
def test_without_a_display_the_window_is_refused_in_a_sentence(
    fails: Any, monkeypatch: pytest.MonkeyPatch, words: list[str]
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    assert "no display" in fails(*words)


def test_a_demonstration_that_cannot_begin(fails: Any, tmp_path: Path) -> None:
    out = str(tmp_path / "out")
    assert "K6" in fails("demo", "--auto", "--family", "K6", "--out", out)
    assert "sabotage" in fails("demo", "--auto", "--fault", "sabotage", "--out", out)


def test_history_runs_without_qt_reportlab_or_alembic() -> None:
    code = (
        "import sys; from brimline.cli import main; main(['history', '0THFC3K71RL104218']);"
        "print(sorted({'PySide6', 'reportlab', 'alembic'} & set(sys.modules)))"
    )
    main(["init"])
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
