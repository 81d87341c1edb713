"""Scripts of taps: the shipped ones are sound, a bad one is refused with its place."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from brimline.errors import FileFaultsError, ScriptError
from brimline.headless.pace import LOOK_EVERY_S, pace_at, parse_speed
from brimline.headless.script import read_script
from brimline.paths import resources

SHIPPED = sorted((resources() / "scripts").glob("*.toml"))
HEAD = 'schema = 1\ndescription = "x"\ntechnician = "R. Calloway (invented)"\n'


@pytest.mark.parametrize("path", SHIPPED, ids=lambda p: p.stem)
def test_shipped_scripts_are_sound(path: Path) -> None:
    script = read_script(path)
    assert script.steps
    assert "(invented)" in script.technician
    assert len(script.note.sha256) == 64


@pytest.mark.parametrize(
    ("taps", "place", "reason"),
    [
        ('[[tap]]\ndo = "fly"', "tap 1 (fly)", "nothing that a person can do"),
        ('[[tap]]\ndo = "plug_out"\nhow = "slowly"', "tap 1 (plug_out)", "has no field how"),
        ('[[tap]]\ndo = "pump_stopped"\namount = 0.2', "tap 1 (pump_stopped)", "unit is missing"),
        ('[[tap]]\ndo = "pump_stopped"\namount = "0.2 °C"', "tap 1 (pump_stopped)", "not a unit"),
        ('[[tap]]\ndo = "pump_stopped"', "tap 1 (pump_stopped) pump_stopped.litres", "is missing"),
        ('[[tap]]\ndo = "plug_out"\nat = "soon"', "tap.0.at", "not a number with a unit"),
        ('[[tap]]\ndo = "plug_out"\nafter = "-3 s"', "tap.0.after", "greater than or equal"),
        ('[[tap]]\ndo = "plug_out"\nwhen = "later"', "tap.0.when", "'gate' or 'alarm'"),
        ('[[tap]]\ndo = "vehicle_identified"\nvin = "I0Q"\nwork_order = "1"',
         "tap 1 (vehicle_identified)", "exactly 17"),
        (
            '[[tap]]\ndo = "confirmed"\nitem = "beer"',
            "tap 1 (confirmed) confirmed.item",
            "should be",
        ),
        ('extra = 1', "extra", "unknown key"),
        ('[[tap]', "file", "is not TOML"),
    ],
)  # fmt: skip
def test_faults_have_their_place(tmp_path: Path, taps: str, place: str, reason: str) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(HEAD + taps, "utf-8")
    with pytest.raises(FileFaultsError, match=reason) as caught:
        read_script(path)
    assert [(f.file, f.key) for f in caught.value.faults] == [(str(path), place)]


def test_all_faults_of_a_script_are_named_at_once(tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(HEAD + '[[tap]]\ndo = "fly"\n[[tap]]\ndo = "swim"\n', "utf-8")
    with pytest.raises(FileFaultsError, match="2 faults"):
        read_script(path)


def test_a_script_before_it_must_be_there_and_stand_alone(tmp_path: Path) -> None:
    path = tmp_path / "second.toml"
    path.write_text(HEAD + 'before = "first"\n', "utf-8")
    with pytest.raises(FileFaultsError, match="cannot be read"):
        read_script(path)
    (tmp_path / "first.toml").write_text(HEAD + 'before = "zeroth"\n', "utf-8")
    with pytest.raises(FileFaultsError, match="itself needs another"):
        read_script(path)


def test_a_changed_script_before_it_changes_the_digest(tmp_path: Path) -> None:
    first, second = tmp_path / "first.toml", tmp_path / "second.toml"
    second.write_text(HEAD + 'before = "first"\n', "utf-8")
    first.write_text(HEAD, "utf-8")
    one = read_script(second).note.sha256
    first.write_text(HEAD + '[[tap]]\ndo = "plug_out"\n', "utf-8")
    assert read_script(second).note.sha256 != one


def test_speeds() -> None:
    assert parse_speed("max") is None
    assert [parse_speed(text) for text in ("1", "2.5", "100", "40x")] == [1, 2.5, 100, 40]
    for text in ("0", "0.5", "101", "fast", "nan", "inf", ""):
        with pytest.raises(ScriptError, match="is no speed"):
            parse_speed(text)


def test_the_pace_follows_the_speed_and_catches_up() -> None:
    now, slept = [100.0], []

    def sleep(seconds: float) -> None:
        slept.append(seconds)
        now[0] += seconds

    pace = pace_at(10.0, clock=lambda: now[0], sleep=sleep)
    pace(20.0)
    now[0] += 5.0  # the program was busy
    pace(30.0)
    pace(80.0)
    assert sum(slept) == pytest.approx(3.0)
    assert max(slept) <= LOOK_EVERY_S


def test_whoever_waits_looks_after_what_must_be_written() -> None:
    now, looks = [0.0], []

    def sleep(seconds: float) -> None:
        now[0] += seconds

    pace = pace_at(
        1.0, clock=lambda: now[0], sleep=sleep, begun=60.0, meanwhile=lambda: looks.append(now[0])
    )
    pace(62.0)
    assert now[0] == pytest.approx(2.0)
    assert all(later - sooner <= LOOK_EVERY_S + 1e-9 for sooner, later in pairwise([0.0, *looks]))
