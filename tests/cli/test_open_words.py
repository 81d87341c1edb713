"""``open``, ``resume`` and ``end`` on the command line, and what a replay says is saved."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from brimline.bootstrap import Bay, ReplayOrder
from brimline.cli import main
from brimline.config import Settings
from brimline.paths import data_folder
from brimline.procedure import reducer, resuming
from brimline.procedure.effects import Effect
from brimline.procedure.events import Event, Resumed, Verdict
from brimline.procedure.state import CheckState, Stage
from brimline.reading import Reading, Way
from brimline.units import METRIC

CURVE = "family-car-curve"
LINE = re.compile(r"(ack|read|held|saved) (\d+)(?: (\d+\.\d+|\d+e-\d+))?(?: ([a-z_]+))?")


class PowerCutError(Exception):
    """What stands for a computer that goes off: nothing after it is written."""


def cut_off(stage: Stage, tmp_path: Path, script: str | None = "runs-off") -> list[Event]:
    """Replay until a stage is entered and break off there; return what is on the disk."""

    def observe(state: CheckState, _effect: Effect) -> None:
        if state.stage is stage:
            raise PowerCutError

    order = ReplayOrder(CURVE, "family-car-demo", script, None, tmp_path / "out")
    bay = Bay(data_folder(), Settings())
    with pytest.raises(PowerCutError):
        bay.replay(order, METRIC, observe, lambda _runner, _source: None)
    return list(bay.load("1").events)


def said(capsys: pytest.CaptureFixture[str]) -> str:
    return capsys.readouterr().out


def listed(capsys: pytest.CaptureFixture[str]) -> list[dict[str, Any]]:
    assert main(["open", "--json"]) == 0
    found: list[dict[str, Any]] = json.loads(said(capsys))
    return found


def go_on(tmp_path: Path, *words: str, plug: str = "in") -> int:
    found = ["--plug", plug, "--engine", "on", "--out", str(tmp_path / "out")]
    return main(["resume", "1", *found, *words])


def test_what_is_open_is_told_with_what_to_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["open"]) == 0
    assert said(capsys) == "No check is open.\n"
    cut_off(Stage.LEVEL, tmp_path)
    assert main(["open"]) == 0
    told = said(capsys)
    assert "The plug was OUT and the engine was running when the program stopped" in told
    assert "WARNING: Hot fluid may be running off" in told
    assert "Stands at: First look, then fluid level." in told
    assert "brimline resume 1 --plug in|out --engine on|off" in told
    (data,) = listed(capsys)
    assert (data["plug_is_out"], data["engine"], data["stage"]) == (True, "running", "level")
    assert (data["kind"], data["another_program_runs_a_check"]) == ("replay", False)
    assert data["record"]["number"] == 1


@pytest.mark.parametrize("stage", [Stage.FLUID, Stage.PRECONDITION, Stage.LEVEL, Stage.CLOSE])
def test_a_replay_goes_on_to_its_end_from_wherever_it_was(
    stage: Stage, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = cut_off(stage, tmp_path)
    plug = "out" if stage is Stage.LEVEL else "in"
    assert go_on(tmp_path, "--json", plug=plug) == 0
    answer = json.loads(said(capsys))
    assert answer["record"]["verdict"] == Verdict.SET
    assert answer["waiting_for"] is None
    assert Path(answer["summary"]).is_file()
    events = list(Bay(data_folder(), Settings()).load("1").events)
    assert events[: len(before)] == before
    assert isinstance(events[len(before)], Resumed)
    measured = [e for e in events if isinstance(e, Reading) and e.way is Way.BUS]
    times = [reading.t for reading in measured]
    assert times == sorted(set(times))  # none twice, none left out
    assert max(b - a for a, b in pairwise(times)) < 3.0
    assert listed(capsys) == []
    assert reducer.replay(events).closed is not None


def test_what_has_to_be_confirmed_again_is_said_and_confirmed_by_the_script(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cut_off(Stage.LEVEL, tmp_path)
    assert go_on(tmp_path, plug="out") == 0
    told = said(capsys)
    assert "It goes on at: First look, then fluid level." in told
    assert "- Confirm again: lift up and locked." in told
    state = reducer.replay(Bay(data_folder(), Settings()).load("1").events)
    assert not state.asked_again - resuming.ON_THE_GROUND  # nothing of what mattered on the lift


def test_a_replay_without_a_script_ends_with_its_recording(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    order = ReplayOrder(CURVE, "family-car-demo", None, None, tmp_path / "out")

    def observe(state: CheckState, _effect: Effect) -> None:
        if state.now > 10:
            raise PowerCutError

    with pytest.raises(PowerCutError):
        Bay(data_folder(), Settings()).replay(order, METRIC, observe, lambda *_: None)
    assert go_on(tmp_path) == 0
    assert "the recording ended before the check did" in said(capsys)


@pytest.mark.expects_log
@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["--script", "two-top-ups"], "is not the same"),
        (["--recording", "family-car-drive"], "was begun on another recording"),
        (["--recording", "nowhere.csv"], "There is no recording"),
        (["--speed", "0"], "is no speed"),
    ],
)
def test_another_script_or_recording_is_refused(
    words: list[str], sentence: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cut_off(Stage.FLUID, tmp_path)
    assert go_on(tmp_path, *words) == 1
    assert sentence in capsys.readouterr().err
    assert len(listed(capsys)) == 1  # it stands as it was


def test_ending_asks_why_and_seals(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cut_off(Stage.LEVEL, tmp_path)
    assert main(["end", "1", "--plug", "out", "--reason", "power cut"]) == 0
    assert said(capsys) == "Verdict: check stopped. Record 1 is sealed.\n"
    assert listed(capsys) == []
    record = Bay(data_folder(), Settings()).load("1")
    assert record.header.verdict is Verdict.STOPPED
    assert record.header.seal
    state = reducer.replay(record.events)
    assert state.aborted is not None
    assert state.aborted.plug_left_out


@pytest.mark.expects_log
@pytest.mark.parametrize("verb", ["resume", "end"])
def test_there_is_nothing_to_do_with_a_record_that_is_finished(
    verb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = str(tmp_path / "out")
    assert main(["replay", CURVE, "--script", "abort", "--headless", "--out", out]) == 0
    capsys.readouterr()
    more = ["--engine", "on", "--out", out] if verb == "resume" else ["--reason", "x"]
    assert main([verb, "1", "--plug", "in", *more]) == 1
    assert "finished and sealed" in capsys.readouterr().err
    assert main([verb, "7", "--plug", "in", *more]) == 1
    assert "There is no record" in capsys.readouterr().err


def test_how_the_plug_is_must_be_said(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["resume", "1", "--engine", "on"], ["resume", "1", "--plug", "in"]):
        with pytest.raises(SystemExit) as refused:
            main(words)
        assert refused.value.code == 2
    assert "required" in capsys.readouterr().err


def acknowledged(lines: list[str]) -> list[tuple[str, int, str]]:
    found = [LINE.fullmatch(line) for line in lines]
    return [(m[1], int(m[2]), m[4] or "") for m in found if m is not None]


def test_a_replay_says_line_by_line_what_is_in_its_record(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["replay", CURVE, "--script", "abort", "--headless", "--acknowledge"]
    assert main([*words, "--out", str(tmp_path / "out")]) == 0
    told = acknowledged(said(capsys).splitlines())
    record = Bay(data_folder(), Settings()).load("1")
    expected = [
        ("read", seq, "") if isinstance(event, Reading) else ("ack", seq, event.kind)
        for seq, event in enumerate(record.events, 1)
    ]
    assert told == expected


def test_a_process_that_is_killed_loses_nothing_that_it_acknowledged(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "killed"
    command = [
        sys.executable, "-m", "brimline", "replay", CURVE, "--script", "runs-off", "--headless",
        "--speed", "100", "--acknowledge", "--out", str(tmp_path / "out"),
    ]  # fmt: skip
    environment = {**os.environ, "BRIMLINE_DATA": str(folder)}
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as child:
        assert child.stdout is not None
        lines = [child.stdout.readline() for _ in range(45)]
        child.kill()
        lines += child.stdout.readlines()
    told = acknowledged([line.rstrip("\n") for line in lines])
    monkeypatch.setenv("BRIMLINE_DATA", str(folder))
    events = Bay(folder, Settings()).load("1").events
    acks = [(seq, kind) for word, seq, kind in told if word == "ack"]
    assert len(acks) > 20
    for seq, kind in acks:
        assert events[seq - 1].kind == kind
    assert len(listed(capsys)) == 1
    assert go_on(tmp_path, "--acknowledge") == 0
    more = acknowledged(said(capsys).splitlines())
    assert more[0][:2] == ("ack", len(events) + 1)
    assert listed(capsys) == []
