from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from brimline.errors import RecordingError
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.signals.csv_source import CsvSource
from brimline.signals.source import ReadingSource
from brimline.specsheet.signal_map import CsvSignal, ObdSignal, SignalMap

FLUID = SignalMap(fluid_temperature=ObdSignal(kind="obd", pid=0x05))
ANY = SignalMap()

FULL = """\
# engine coolant, stands in for fluid
# a second line
time [s],fluid_temperature [°C],engine_speed [rpm],range,vehicle_speed [km/h]
10,40.5,650,P,0
10.5,,655, ,nan
11,NaN,660,R,3.5
"""


def source(tmp_path: Path, text: str | bytes, signals: SignalMap = FLUID) -> CsvSource:
    path = tmp_path / "shop.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return CsvSource(path, signals, sheet_id="k5")


def refusal(tmp_path: Path, text: str | bytes, signals: SignalMap = FLUID) -> str:
    with pytest.raises(RecordingError) as caught:
        source(tmp_path, text, signals)
    return str(caught.value)


def mapped(**columns: str) -> SignalMap:
    found: Any = {name: CsvSignal(kind="csv", column=column) for name, column in columns.items()}
    return SignalMap(**found)


# ── what is read ─────────────────────────────────────────────────────────────


def test_all_columns(tmp_path: Path) -> None:
    table: ReadingSource = source(tmp_path, FULL)
    assert [(r.t, r.signal, r.value) for r in table.readings()] == [
        (0.0, SignalName.FLUID_TEMPERATURE, 40.5),
        (0.0, SignalName.ENGINE_SPEED, 650.0),
        (0.0, SignalName.RANGE, "P"),
        (0.0, SignalName.VEHICLE_SPEED, 0.0),
        (0.5, SignalName.ENGINE_SPEED, 655.0),
        (1.0, SignalName.ENGINE_SPEED, 660.0),
        (1.0, SignalName.RANGE, "R"),
        (1.0, SignalName.VEHICLE_SPEED, 3.5),
    ]
    assert all(r.quality is Quality.GOOD and r.way is Way.BUS for r in table.readings())
    assert table.declared == set(SignalName)
    assert table.description == (
        "recording shop.csv, a table of 3 rows over 1 s (engine coolant, stands in for fluid)"
    )


def test_units_are_converted(tmp_path: Path) -> None:
    text = "time [min],fluid_temperature [°F],vehicle_speed [mph]\n1,122,10\n2,212,0\n"
    readings = list(source(tmp_path, text).readings())
    # exact: 122 °F = 50 °C, 212 °F = 100 °C; 1 mi = 1.609344 km (NIST SP 811)
    assert [(r.t, r.value) for r in readings] == [
        (0.0, pytest.approx(50)),
        (0.0, pytest.approx(16.09344)),
        (60.0, pytest.approx(100)),
        (60.0, 0.0),
    ]


def test_temperature_alone_is_enough(tmp_path: Path) -> None:
    table = source(tmp_path, "time [s],fluid_temperature [°C]\n0,40\n")
    assert table.declared == {SignalName.FLUID_TEMPERATURE}
    assert table.description == "recording shop.csv, a table of 1 row over 0 s"
    assert [r.source for r in table.readings()] == ["csv fluid_temperature"]


def test_columns_may_come_in_any_order_and_spacing(tmp_path: Path) -> None:
    text = " fluid_temperature[ °C ] , time [s]\r\n\r\n 40 , 0\r\n41,1\r\n\r\n"
    readings = list(source(tmp_path, text).readings())
    assert [(r.t, r.value) for r in readings] == [(0.0, 40.0), (1.0, 41.0)]


def test_a_byte_order_mark_is_no_part_of_the_heading(tmp_path: Path) -> None:
    assert source(tmp_path, b"\xef\xbb\xbf" + FULL.encode()).rows == 3
    assert source(tmp_path, b"\xef\xbb\xbf" + FULL.split("\n", 2)[2].encode()).rows == 3


def test_the_sheet_may_name_the_columns(tmp_path: Path) -> None:
    text = "time [s],pan [°C],speed [rpm]\n0,40,650\n"
    table = source(tmp_path, text, mapped(fluid_temperature="pan", engine_speed="speed"))
    assert {r.signal: r.value for r in table.readings()} == {
        SignalName.FLUID_TEMPERATURE: 40.0,
        SignalName.ENGINE_SPEED: 650.0,
    }


def test_impossible_values_are_kept_but_never_good(tmp_path: Path) -> None:
    text = "time [s],fluid_temperature [°C],engine_speed [rpm]\n0,215,650\n1,-50.03,-1\n2,40,0\n"
    readings = list(source(tmp_path, text).readings())
    assert [(r.value, r.quality) for r in readings] == [
        (215.0, Quality.OUT_OF_RANGE),
        (650.0, Quality.GOOD),
        (-50.03, Quality.OUT_OF_RANGE),
        (-1.0, Quality.OUT_OF_RANGE),
        (40.0, Quality.GOOD),
        (0.0, Quality.GOOD),
    ]


def test_a_column_without_a_value_is_not_declared(tmp_path: Path) -> None:
    text = "time [s],fluid_temperature [°C],engine_speed [rpm]\n0,40,\n1,41,nan\n"
    assert source(tmp_path, text).declared == {SignalName.FLUID_TEMPERATURE}


# ── what is refused, each with one sentence ──────────────────────────────────


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "is empty"),
        ("\n\n", "has no heading"),
        ("# only words\n", "has no heading"),
        ("time [s],fluid_temperature [°C]\n", "has a heading but no row of values"),
        ("fluid_temperature [°C]\n40\n", "has no column time in its heading (line 1)"),
        ("time [s]\n0\n", "has no column fluid_temperature, which spec sheet k5 maps"),
        (
            "time [s];fluid_temperature [°C]\n0;40\n",
            "separates its columns by semicolons; save it with commas",
        ),
        (
            "time,fluid_temperature [°C]\n0,40\n",
            "has a faulty heading (line 1, column time): the unit is missing; "
            "a time is given in s, min, h",
        ),
        (
            "# words\ntime [s],fluid_temperature\n0,40\n",
            "has a faulty heading (line 2, column fluid_temperature): the unit is missing; "
            "a temperature is given in °C, °F",
        ),
        (
            "time [s],fluid_temperature [rpm]\n0,40\n",
            "has a faulty heading (line 1, column fluid_temperature): “rpm” is not a unit of "
            "temperature; known are °C, °F",
        ),
        (
            "time [s],fluid_temperature [°C],range [m]\n0,40,P\n",
            "gives the range a unit (line 1, column range); its values are names",
        ),
        (
            "time [s],fluid_temperature [°C],oil [°C]\n0,40,1\n",
            "has an unknown column, “oil [°C]” (line 1, column 3); known are time, "
            "fluid_temperature, engine_speed, range, vehicle_speed",
        ),
        (
            "time [s],fluid_temperature [°C,engine_speed [rpm]\n0,40,1\n",
            "has an unknown column, “fluid_temperature [°C” (line 1, column 2); known are time, "
            "fluid_temperature, engine_speed, range, vehicle_speed",
        ),
        (
            "time [s],fluid_temperature [°C],time [s]\n0,40,1\n",
            "has the column time twice (line 1)",
        ),
        (
            "time [s],fluid_temperature [°C]\n0,40\n1,warm\n",
            "has “warm” for a number in line 3, column fluid_temperature",
        ),
        (
            "time [s],fluid_temperature [°C]\n0,inf\n",
            "has “inf” for a number in line 2, column fluid_temperature",
        ),
        (
            "time [s],fluid_temperature [°C]\n0,1e999\n",
            "has too large a number in line 2, column fluid_temperature",
        ),
        (
            "# words\n\ntime [s],fluid_temperature [°C]\n0,40\n\n,41\n",
            "has no time in line 6, column time",
        ),
        (
            "time [s],fluid_temperature [°C]\n0,40\n1,41\n1,42\n",
            "goes back in time: line 4, column time, is not above the row before",
        ),
        (
            "time [s],fluid_temperature [°C]\n0,40\n1\n",
            "has 1 instead of 2 cells in line 3",
        ),
        (
            "time [s],fluid_temperature [°C]\n0,40,5\n",
            "has 3 instead of 2 cells in line 2",
        ),
        (
            "time [s],fluid_temperature [°C]\n0,nan\n1,\n",
            "has no fluid temperature: the column fluid_temperature holds no value",
        ),
    ],
)
def test_faults(tmp_path: Path, text: str, fault: str) -> None:
    assert refusal(tmp_path, text) == f"The recording shop.csv {fault}."


def test_the_text_of_a_cell_is_shown_short_and_on_one_line(tmp_path: Path) -> None:
    text = 'time [s],fluid_temperature [°C]\n0,"' + "hot\n" * 50 + '"\n'
    sentence = refusal(tmp_path, text)
    assert "\n" not in sentence
    assert len(sentence) < 150
    assert sentence.endswith("…” for a number in line 52, column fluid_temperature.")


def test_not_text(tmp_path: Path) -> None:
    assert refusal(tmp_path, b"time [s],\xff\xfe") == "The recording shop.csv is not text in UTF-8."
    late = FULL.encode() + b"12,\xb0,1,P,0\n"
    assert refusal(tmp_path, late) == "The recording shop.csv is not text in UTF-8."


def test_a_field_too_long_for_the_reader(tmp_path: Path) -> None:
    text = "time [s],fluid_temperature [°C]\n0," + "9" * 200_000 + "\n"
    assert refusal(tmp_path, text) == "The recording shop.csv is not a table."


def test_a_column_that_the_sheet_names_must_be_there(tmp_path: Path) -> None:
    signals = mapped(fluid_temperature="pan", engine_speed="speed")
    assert refusal(tmp_path, "time [s],pan [°C]\n0,40\n", signals) == (
        "The recording shop.csv has no column speed, which spec sheet k5 maps."
    )
    text = "time [s],pan [°C],speed [rpm]\n0,40,\n"
    assert refusal(tmp_path, text, signals) == (
        "The recording shop.csv has no engine speed: the column speed holds no value."
    )


@pytest.mark.parametrize(
    "signals",
    [
        mapped(fluid_temperature="pan", engine_speed="pan"),
        mapped(fluid_temperature="engine_speed"),
        mapped(fluid_temperature="time"),
    ],
)
def test_a_sheet_that_maps_two_things_to_one_column(tmp_path: Path, signals: SignalMap) -> None:
    assert refusal(tmp_path, FULL, signals) == (
        "Spec sheet k5 maps two signals to one column of a table."
    )


def test_a_sheet_that_maps_nothing_still_needs_one_column(tmp_path: Path) -> None:
    assert refusal(tmp_path, "time [s]\n0\n", ANY) == (
        "The recording shop.csv has no column but time (line 1)."
    )
    assert source(tmp_path, "time [s],engine_speed [rpm]\n0,650\n", ANY).rows == 1


def test_missing_file_and_folder(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match="There is no recording"):
        CsvSource(tmp_path / "none.csv", FLUID)
    with pytest.raises(RecordingError, match="is a folder, not a recording"):
        CsvSource(tmp_path, FLUID)


# ── anything at all ──────────────────────────────────────────────────────────

_CELL = st.one_of(
    st.floats().map(repr), st.sampled_from(["", "nan", "P", "1", '"', "time [s]", "#", ";"])
)
_TABLE = st.lists(st.lists(_CELL, max_size=4).map(",".join), max_size=8).map("\n".join)
_HEADING = st.sampled_from(
    ["", "time [s],fluid_temperature [°C]\n", "time [h],fluid_temperature [°F],range\n"]
)


@settings(deadline=None)
@given(heading=_HEADING, body=st.one_of(_TABLE, st.text(max_size=80), st.binary(max_size=80)))
def test_any_text_is_refused_or_read(
    tmp_path_factory: pytest.TempPathFactory, heading: str, body: str | bytes
) -> None:
    path = tmp_path_factory.getbasetemp() / "any.csv"
    rest = body if isinstance(body, bytes) else body.encode("utf-8", "surrogatepass")
    path.write_bytes(heading.encode() + rest)
    readings: list[Reading] = []
    sentence = ""
    try:
        readings.extend(CsvSource(path, FLUID).readings())
    except RecordingError as error:
        sentence = error.sentence
    assert "\n" not in sentence
    assert bool(sentence) != bool(readings)
    times = [reading.t for reading in readings]
    assert times == sorted(times)
    for reading in readings:
        if reading.signal is SignalName.FLUID_TEMPERATURE and reading.number is not None:
            assert -50 <= reading.number <= 200
