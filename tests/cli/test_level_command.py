"""``brimline level``: the budget behind a level, from the record."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from brimline.cli import main

CURVE = "family-car-curve"


@pytest.fixture
def record(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> object:
    def replay(script: str) -> str:
        words = ["replay", CURVE, "--headless", "--json", "--out", str(tmp_path / script)]
        assert main([*words, "--script", script]) == 0
        check_id: str = json.loads(capsys.readouterr().out)["record"]["check_id"]
        return check_id

    return replay


def test_the_budget_is_printed_and_given_as_data(
    record: object, capsys: pytest.CaptureFixture[str]
) -> None:
    assert callable(record)
    check_id = record("runs-off")
    assert main(["level", check_id, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["kind"] == "level_estimated"
    assert data["acceptance"] == 0.15
    assert data["bound"] == pytest.approx(abs(data["shift"]) + data["expanded"])
    assert sum(each["share"] for each in data["contributions"]) == pytest.approx(1)
    assert main(["level", check_id]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split()[0] == "Known"
    assert any(line.startswith("temperature sensor ") and "mL" in line for line in lines)
    total = next(line for line in lines if line.startswith("together "))
    assert f"{data['combined'] * 1000:.1f} mL" in total
    assert "the spec sheet allows 150 mL" in lines[-1]
    assert main(["level", check_id, "--units", "us"]) == 0
    assert "0.16 US qt" in capsys.readouterr().out


def test_a_check_without_a_level_says_so(
    record: object, capsys: pytest.CaptureFixture[str]
) -> None:
    assert callable(record)
    check_id = record("abort")
    assert main(["level", check_id]) == 0
    assert "No estimate of the fluid level" in capsys.readouterr().out
    assert main(["level", check_id, "--json"]) == 0
    assert json.loads(capsys.readouterr().out) is None
