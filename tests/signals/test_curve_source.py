"""One temperature out of a table with whatever columns."""

from __future__ import annotations

from pathlib import Path

import pytest

from brimline.errors import RecordingError
from brimline.reading import Quality
from brimline.signals.curve_source import CurveSource

LOGGED = """\
# workshop logger
time_s,oil (°F),rpm,note,ambient
600.5,122,650,cold,n/a
601.5,212,,,
"""


def source(tmp_path: Path, text: str, column: str = "") -> CurveSource:
    path = tmp_path / "shop.csv"
    path.write_text(text, "utf-8")
    return CurveSource(path, column)


def refusal(tmp_path: Path, text: str, column: str = "") -> str:
    with pytest.raises(RecordingError) as caught:
        source(tmp_path, text, column)
    sentence = str(caught.value)
    assert sentence.startswith("The recording shop.csv ")
    assert sentence.endswith(".")
    return sentence.removeprefix("The recording shop.csv ").removesuffix(".")


def test_the_only_temperature_is_read_and_the_rest_left_alone(tmp_path: Path) -> None:
    found = source(tmp_path, LOGGED)
    assert found.column == "oil"
    assert found.label == "workshop logger"
    assert (found.begins, found.rows, found.length) == (600.5, 2, 1.0)
    # exact: 122 °F = 50 °C, 212 °F = 100 °C (NIST SP 811)
    assert [(r.t, r.value) for r in found.readings()] == [
        (0.0, pytest.approx(50)),
        (1.0, pytest.approx(100)),
    ]


@pytest.mark.parametrize(
    ("heading", "column", "celsius"),
    [
        ("time [s],oil [°C]", "oil", 50),
        ("Time (s), oil ( degC )", "oil", 50),
        ("time_s,oil_temp_C", "oil_temp", 50),
        ("time_min,oil_F", "oil", 10),
        ("time [s],inlet (left) [°C]", "inlet (left)", 50),
        ("time [s],fluid_temperature [°C]", "fluid_temperature", 50),
    ],
)
def test_units_stand_in_brackets_parentheses_or_behind_an_underscore(
    tmp_path: Path, heading: str, column: str, celsius: float
) -> None:
    found = source(tmp_path, f"{heading}\n1,50\n")
    assert found.column == column
    assert [r.value for r in found.readings()] == [pytest.approx(celsius)]
    assert found.begins == (60.0 if "min" in heading else 1.0)


TWO = "time [s],TS1 [°C],TS2 [°C],fluid_temperature,rpm [rpm]\n0,40,50,60,650\n"


@pytest.mark.parametrize("asked", ["TS2", " ts2 ", "TS2 [°C]"])
def test_a_column_is_chosen_by_its_name(tmp_path: Path, asked: str) -> None:
    found = source(tmp_path, TWO, asked)
    assert found.column == "TS2"
    assert [r.value for r in found.readings()] == [50.0]


def test_the_fluid_s_own_name_goes_first(tmp_path: Path) -> None:
    found = source(tmp_path, TWO.replace("fluid_temperature", "fluid_temperature [°C]"))
    assert found.column == "fluid_temperature"


@pytest.mark.parametrize(
    ("text", "column", "fault"),
    [
        (TWO, "", "has several columns that may be meant (TS1, TS2); name one"),
        (
            TWO,
            "oil",
            "has no column oil; its columns beside the time are TS1, TS2, fluid_temperature, rpm",
        ),
        (
            TWO,
            "time",
            "has no column time; its columns beside the time are TS1, TS2, fluid_temperature, rpm",
        ),
        (
            TWO,
            "fluid_temperature",
            "has a faulty heading (line 1, column fluid_temperature): the unit is missing; "
            "a temperature is given in °C, °F",
        ),
        (
            TWO,
            "rpm",
            "has a faulty heading (line 1, column rpm): “rpm” is not a unit of temperature; "
            "known are °C, °F",
        ),
        (
            "time [s],oil,rpm\n0,40,650\n",
            "",
            "has no column whose heading gives °C or °F; its columns beside the time are oil, rpm",
        ),
        (
            "time [s]\n0\n",
            "",
            "has no column whose heading gives °C or °F; its columns beside the time are none",
        ),
        ("t [s],oil [°C]\n0,40\n", "", "has no column time; its columns are t, oil"),
        (
            "time [s],time [s],oil [°C]\n0,0,40\n",
            "",
            "has several columns time; its columns are time, time, oil",
        ),
        (
            "time,oil [°C]\n0,40\n",
            "",
            "has a faulty heading (line 1, column time): the unit is missing; "
            "a time is given in s, min, h",
        ),
        (
            "time [s];oil [°C]\n0;40\n",
            "",
            "separates its columns by semicolons; save it with commas",
        ),
        ("time [s],oil [°C]\n0,\n1,nan\n", "", "has no value in the column oil"),
        ("time [s],oil [°C]\n", "", "has a heading but no row of values"),
        (
            "time [s],oil [°C],rpm\n5,40,1\n4,41,2\n",
            "",
            "goes back in time: line 3, column time, is not above the row before",
        ),
        (
            "time [s],rpm,oil [°C]\n0,x,hot\n",
            "",
            "has “hot” for a number in line 2, column oil",
        ),
        ("time [s],oil [°C]\nnoon,40\n", "", "has “noon” for a number in line 2, column time"),
        ("time [s],oil [°C],rpm\n0,40\n", "", "has 2 instead of 3 cells in line 2"),
    ],
)
def test_a_table_that_does_not_serve(tmp_path: Path, text: str, column: str, fault: str) -> None:
    assert refusal(tmp_path, text, column) == fault


def test_what_no_fluid_can_be_is_kept_but_never_good(tmp_path: Path) -> None:
    found = source(tmp_path, "time [s],oil [°C]\n0,215\n1,40\n")
    assert [r.quality for r in found.readings()] == [Quality.OUT_OF_RANGE, Quality.GOOD]
