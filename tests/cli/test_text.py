"""What the command line says of earlier checks."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from check_play import Play

from brimline.cli_text import Teller, last_time, tell_history
from brimline.headless.script import Step
from brimline.procedure import events as ev
from brimline.procedure.effects import StageEntered
from brimline.procedure.events import Origin, Verdict
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import Stage
from brimline.records.model import Header
from brimline.units import METRIC, US

HEADER = Header(
    check_id="a" * 32, number=7, opened_at=datetime(2025, 3, 9, 10, 0, tzinfo=UTC),
    finished_at=datetime(2025, 3, 9, 11, 0, tzinfo=UTC), origin=Origin.LIVE, invented=True,
    vin="0THFC3K71RL104218", vin_tail="RL104218", plate="DEMO 17", odometer_km=84210.0,
    work_order="HL-1", technician="R. Calloway (invented)", family="K7", sheet_id="k7-demo",
    sheet_revision="B", duty="normal", fluid="TF-Clear", verdict=Verdict.CORRECTED,
    closing_celsius=71.0, added_litres=0.4, run_off_litres=0.0, seal="0" * 64, previous_seal="",
    seal_number=1,
)  # fmt: skip


def test_last_time_in_one_line() -> None:
    line = last_time(HEADER, METRIC)
    assert line == "Last time, 2025-03-09 at 84,210 km: level corrected, 0.40 L added."
    assert "0.42 US qt" in last_time(HEADER, US)
    assert "52,326 mi" in last_time(HEADER, US)


def test_an_earlier_check_is_told_once_the_vehicle_is_known(
    capsys: pytest.CaptureFixture[str],
) -> None:
    asked: list[str] = []

    def earlier(vin: str, *, everything: bool) -> tuple[Header, ...]:
        asked.append(vin)
        assert not everything
        return (HEADER,)

    teller = Teller(METRIC, silent=False, earlier=earlier)
    play = Play()
    teller.observe(play.state, StageEntered(Stage.IDENTIFY))
    assert asked == []
    play.do(ev.VehicleIdentified(t=0, vin="0THFC3K71RL104218", work_order="W"))
    for _ in range(2):
        teller.observe(play.state, StageEntered(Stage.FLUID))
    assert asked == ["0THFC3K71RL104218"]
    assert capsys.readouterr().out.count("Last time") == 1


def test_history_marks_what_is_no_service(capsys: pytest.CaptureFixture[str]) -> None:
    tell_history([HEADER, replace(HEADER, origin=Origin.TRAINING)], METRIC, everything=True)
    first, second = capsys.readouterr().out.splitlines()
    assert "0.40 L added" in first
    assert "[" not in first
    assert second.endswith("[training]")


def test_what_a_script_waits_for_and_the_bus_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    teller = Teller(METRIC, silent=False, earlier=lambda _vin, everything: ())
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
