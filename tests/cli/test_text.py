"""What the command line says of earlier checks."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from check_play import Play

from brimline.cli_text import Teller, last_time
from brimline.headless.script import Step
from brimline.procedure import events as ev
from brimline.procedure.effects import StageEntered
from brimline.procedure.events import Origin, Verdict
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import Stage
from brimline.records.search import Hit
from brimline.units import METRIC, US

HIT = Hit(
    opened_at=datetime(2025, 3, 9, 10, 0, tzinfo=UTC), number=7, check_id="a" * 32,
    origin=Origin.LIVE, verdict=Verdict.CORRECTED, vin="0THFC3K71RL104218", plate="DEMO 17",
    work_order="HL-1", odometer_km=84210.0, technician="R. Calloway (invented)", family="K7",
    fluid="TF-Clear", added_litres=0.4, run_off_litres=0.0, amended=(),
)  # fmt: skip


def test_last_time_in_one_line() -> None:
    line = last_time(HIT, METRIC)
    assert line == "Last time, 2025-03-09 at 84,210 km: level corrected, 0.40 L added."
    assert "0.42 US qt" in last_time(HIT, US)
    assert "52,326 mi" in last_time(HIT, US)


def test_an_earlier_check_is_told_once_the_vehicle_is_known(
    capsys: pytest.CaptureFixture[str],
) -> None:
    asked: list[str] = []

    def last_check(vin: str) -> Hit:
        asked.append(vin)
        return HIT

    teller = Teller(METRIC, silent=False, last_check=last_check)
    play = Play()
    teller.observe(play.state, StageEntered(Stage.IDENTIFY))
    assert asked == []
    play.do(ev.VehicleIdentified(t=0, vin="0THFC3K71RL104218", work_order="W"))
    for _ in range(2):
        teller.observe(play.state, StageEntered(Stage.FLUID))
    assert asked == ["0THFC3K71RL104218"]
    assert capsys.readouterr().out.count("Last time") == 1


def test_what_a_script_waits_for_and_the_bus_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    teller = Teller(METRIC, silent=False, last_check=lambda _vin: None)
    state = Play().state
    lift = Step(do="confirmed", item="lift_locked")
    teller.waiting(state, lift, (Reason(Code.ENGINE_NOT_RUNNING),) * 5)
    teller.waiting(state, Step(do="plug_in", when="alarm"), ())
    teller.connection(state, "The bus is lost.")
    teller.connection(state, "")
    first, second, *bus = (line[8:] for line in capsys.readouterr().out.splitlines())
    assert first == (
        "waiting for “confirmed lift_locked”: " + "The engine is not running. " * 3 + "And 2 more."
    )
    assert second == "waiting for “plug_in”: Nothing has raised an alarm."
    assert bus == ["The bus is lost.", "The vehicle's bus is back."]
