"""Doubts about spec sheets: each appears where it should, and sound sheets have none."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import Any

import pytest
from check_play import SHEET, sheet
from hypothesis import given
from hypothesis import strategies as st

from brimline.cli import main
from brimline.estimate.doubt_sentences import sentence
from brimline.estimate.sheet_doubts import DoubtCode, SheetDoubt, doubts
from brimline.paths import resources
from brimline.specsheet.model import SpecSheet
from brimline.specsheet.reader import read_sheet
from brimline.units import METRIC, US, UnitSystem

SHEETS = sorted((resources() / "sheets").glob("*.toml"))


def level(**changes: str) -> SpecSheet:
    return sheet(level=SHEET["level"] | changes)


def fluid(**changes: str) -> SpecSheet:
    return sheet(fluids=[SHEET["fluids"][0] | changes])


def normal_band(**ends: str) -> SpecSheet:
    return sheet(bands={"normal": ends})


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_the_shipped_sheets_raise_no_doubt(path: Path) -> None:
    assert doubts(read_sheet(path)) == ()


def test_neither_does_the_sheet_of_the_tests() -> None:
    assert doubts(sheet()) == ()


CASES: list[tuple[SpecSheet, DoubtCode, str, float, float]] = [
    # (sheet, code, place, found, limit), the figures worked out by hand unless said otherwise
    (fluid(density_15="0.846 kg/m³"), DoubtCode.DENSITY_OUTSIDE_TABLE,
     "fluids[0].density_15", 0.846, 800),
    (fluid(density_15="8460 kg/m³"), DoubtCode.DENSITY_OUTSIDE_TABLE,
     "fluids[0].density_15", 8460, 1164),
    # per °F taken for per K: 7.42e-4/1.8
    (fluid(expansion="0.000412 1/K"), DoubtCode.EXPANSION_UNLIKE_DENSITY,
     "fluids[0].expansion", 0.000412, 0.6278 / 846),
    (fluid(viscosity_100="1.9 mm²/s"), DoubtCode.VISCOSITY_TOO_LOW,
     "fluids[0].viscosity_100", 1.9, 2),
    # the standard's L and H at 5.9 are 56.20 and 37.23 (its table): 100·(56.20 - 285)/18.97 = -1206
    (fluid(viscosity_40="285 mm²/s"), DoubtCode.VISCOSITY_INDEX_UNLIKELY,
     "fluids[0].viscosity_40", -1206, 0),
    # α = 0.88 · 7.42080e-4 1/K; 54D's exponents at 85 and 65 °C are 0.0473838 and 0.0335044;
    # 8.6 L · (exp(0.0138794) - 1) = 0.12020 L, less 8.6 · 7e-5 · 20 = 0.01204 L
    (level(acceptance="90 mL"), DoubtCode.BAND_BEYOND_ACCEPTANCE, "bands.normal", 0.10816, 0.09),
    # 0.115 m² · (55 + 40) mm · tan 1° = 0.1907 L
    (level(allowed_tilt="1 °"), DoubtCode.TILT_BEYOND_ACCEPTANCE,
     "level.allowed_tilt", 0.1907, 0.15),
    (level(max_run_off="0.15 L"), DoubtCode.RUN_OFF_WITHIN_ACCEPTANCE,
     "level.max_run_off", 0.15, 0.15),
    (level(max_top_up="0.1 L"), DoubtCode.TOP_UP_WITHIN_ACCEPTANCE,
     "level.max_top_up", 0.1, 0.15),
    (level(drip_rate="8 drops/s"), DoubtCode.DRIP_IS_STREAM, "level.drip_rate", 8, 8),
    # 8.6 L · 0.88 · 7.42e-4 1/K · 0.5 K/min / 0.13 mL = 0.36 drops/s
    (level(drip_rate="0.3 drops/s"), DoubtCode.DRIP_BELOW_EXPANSION, "level.drip_rate", 0.3, 0.36),
    (level(standpipe_forward="-55 cm"), DoubtCode.STANDPIPE_OUTSIDE_PAN,
     "level.standpipe_forward", 0.5515, 0.3391),
    # 8.6 L over 115 cm² is 748 mm
    (level(pan_area="115 cm²"), DoubtCode.PAN_DEPTH_UNLIKELY, "level.pan_area", 0.748, 0.5),
    (level(pan_area="1.15 m²"), DoubtCode.PAN_DEPTH_UNLIKELY, "level.pan_area", 0.00748, 0.015),
    (level(max_run_off_time="1 min"), DoubtCode.RUN_OFF_TIME_SHORT,
     "level.max_run_off_time", 60, 215),
]  # fmt: skip


@pytest.mark.parametrize(
    ("doubted", "code", "place", "found", "limit"),
    CASES,
    ids=[f"{code.value}-{i}" for i, (_, code, *_rest) in enumerate(CASES)],
)
def test_each_doubt(
    doubted: SpecSheet, code: DoubtCode, place: str, found: float, limit: float
) -> None:
    (doubt,) = [each for each in doubts(doubted) if each.code is code]
    assert doubt.place == place
    assert doubt.found == pytest.approx(found, rel=0.03)
    assert doubt.limit == pytest.approx(limit, rel=0.03)


def test_every_code_has_its_case() -> None:
    assert {case[1] for case in CASES} == set(DoubtCode)


def test_a_check_of_another_kind_is_not_held_to_the_overflow() -> None:
    other = SHEET["level"] | {"max_run_off_time": "1 s", "acceptance": "1 mL"}
    dipstick = sheet(level=other, check_method="dipstick")
    assert doubts(dipstick) == ()
    assert doubts(sheet(level=other)) != ()


def test_a_refused_fluid_without_properties_and_one_with() -> None:
    bare = {"name": "TF-Red", "approval": "refused"}
    odd = bare | {"viscosity_40": "300 mm²/s", "viscosity_100": "5 mm²/s"}
    assert doubts(sheet(fluids=[*SHEET["fluids"][:1], bare])) == ()
    (doubt,) = doubts(sheet(fluids=[*SHEET["fluids"][:1], odd]))
    assert (doubt.place, doubt.word) == ("fluids[1].viscosity_40", "TF-Red")


def test_bands_that_are_open_or_beyond_the_table() -> None:
    assert doubts(normal_band(high="60 °C", max_plug_out="70 °C")) == ()
    assert doubts(normal_band(low="145 °C", high="160 °C")) == ()
    wide = doubts(normal_band(low="40 °C", max_plug_out="90 °C"))
    assert [each.code for each in wide] == [DoubtCode.BAND_BEYOND_ACCEPTANCE]


def test_the_largest_tilt_is_doubted_and_does_not_fail() -> None:
    (doubt,) = doubts(level(allowed_tilt="10 °"))
    assert doubt.code is DoubtCode.TILT_BEYOND_ACCEPTANCE


@given(
    capacity=st.floats(0.5, 100),
    area=st.floats(1e-4, 5),
    bore=st.floats(0.0005, 0.1),
    hole=st.floats(0.0005, 0.1),
    drip=st.floats(0.001, 100),
    most=st.floats(0.001, 0.4),
    thin=st.tuples(st.floats(0.01, 60), st.floats(1.01, 60)),
    density=st.floats(0.1, 9000),
)
def test_no_readable_sheet_makes_the_doubts_fail(
    capacity: float, area: float, bore: float, hole: float, drip: float, most: float,
    thin: tuple[float, float], density: float,
) -> None:  # fmt: skip
    figures = {
        "capacity": f"{capacity} L", "pan_area": f"{area} m²", "standpipe_bore": f"{bore} m",
        "plug_hole": f"{hole} m", "drip_rate": f"{drip} drops/s", "max_run_off": f"{most} L",
        "acceptance": "0.1 L", "max_top_up": "0.3 L",
    }  # fmt: skip
    oil = {
        "viscosity_100": f"{thin[0]} mm²/s", "viscosity_40": f"{thin[0] * thin[1]} mm²/s",
        "density_15": f"{density} kg/m³",
    }  # fmt: skip
    odd = sheet(level=SHEET["level"] | figures, fluids=[SHEET["fluids"][0] | oil])
    for doubt in doubts(odd):
        assert not math.isnan(doubt.found)
        assert sentence(doubt, METRIC)


@pytest.mark.parametrize("units", [METRIC, US], ids=["metric", "us"])
@pytest.mark.parametrize("code", list(DoubtCode))
def test_every_doubt_is_one_sentence_with_its_units(code: DoubtCode, units: UnitSystem) -> None:
    said = sentence(SheetDoubt(code, "level", 0.12, 0.34, "some_duty"), units)
    assert said.endswith(".")
    assert "{" not in said
    assert "_" not in said
    if code is not DoubtCode.VISCOSITY_INDEX_UNLIKELY:  # an index has no unit
        for number in re.findall(r"[\d.]*\d (\S+)", said.rstrip(".")):
            assert re.match(r"(L|US|kg|1/K|mm|mm²/s|s|drops/s)\b", number), said


def test_litres_become_quarts_in_us_units() -> None:
    found = SheetDoubt(DoubtCode.TILT_BEYOND_ACCEPTANCE, "level.allowed_tilt", 0.94635, 0.47318)
    # 1 US liquid quart = 0.946353 L (NIST SP 811)
    assert "1.00 US qt, more than the 0.50 US qt" in sentence(found, US)
    assert "0.95 L, more than the 0.47 L" in sentence(found, METRIC)


def test_lengths_are_written_in_millimetres() -> None:
    found = SheetDoubt(DoubtCode.STANDPIPE_OUTSIDE_PAN, "level.standpipe_forward", 0.5515, 0.3391)
    assert sentence(found, US).startswith("552 mm from the centre")
    assert "339 mm" in sentence(found, METRIC)


@pytest.fixture
def doubtful(tmp_path: Path) -> Path:
    text = (resources() / "sheets" / "k7-demo.toml").read_text("utf-8")
    file = tmp_path / "doubtful.toml"
    file.write_text(text.replace('allowed_tilt = "0.5 °"', 'allowed_tilt = "1 °"'), "utf-8")
    return file


def test_lint_tells_doubts_and_still_succeeds(
    doubtful: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheets", "lint", "--units", "us", str(doubtful)]) == 0
    first, second = capsys.readouterr().out.splitlines()
    assert first == f"{doubtful}: sound, but doubtful"
    assert second.startswith(f"{doubtful}: level.allowed_tilt: ")
    assert "0.20 US qt" in second  # 0.1907 L


def test_lint_gives_doubts_as_data(doubtful: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheets", "lint", "--json", str(doubtful)]) == 0
    (found,) = json.loads(capsys.readouterr().out)
    assert (found["sound"], found["faults"]) == (True, [])
    (doubt,) = found["doubts"]
    expected: dict[str, Any] = {"code": "tilt_beyond_acceptance", "place": "level.allowed_tilt"}
    assert doubt.items() >= expected.items()
    assert "0.19 L" in doubt["sentence"]


def test_a_faulty_sheet_has_no_doubts_yet(
    doubtful: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    doubtful.write_text(doubtful.read_text("utf-8").replace('"8.6 L"', "8.6"), "utf-8")
    assert main(["sheets", "lint", str(doubtful)]) == 1
    (line,) = capsys.readouterr().out.splitlines()
    assert "level.capacity" in line
