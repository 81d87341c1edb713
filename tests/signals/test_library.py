from __future__ import annotations

import csv
from itertools import pairwise
from pathlib import Path

import pytest

from brimline.errors import InstallationError, RecordingError
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.signals import library
from brimline.signals.csv_source import CsvSource
from brimline.signals.library import SHIPPED, find_recording, open_source
from brimline.signals.replay import RecordingSource
from brimline.specsheet.signal_map import J1939Signal, ObdSignal, SignalMap

DRIVE = SignalMap(
    fluid_temperature=ObdSignal(kind="obd", pid=0x05),
    engine_speed=ObdSignal(kind="obd", pid=0x0C),
    vehicle_speed=ObdSignal(kind="obd", pid=0x0D),
)
CLOCK_OFFSET = 1.024  # s, see tests/data/README.md


def published_decoding() -> list[dict[str, str]]:
    path = Path(__file__).parents[1] / "data" / "family-car-drive.decoded.csv"
    with path.open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def number(text: str) -> float | None:
    return None if text == "nan" else float(text)


def test_every_sample_of_the_drive_equals_its_published_decoding() -> None:
    source = open_source(find_recording("family-car-drive"), DRIVE)
    rows: list[tuple[Reading, float | None, float | None]] = []
    latest: dict[SignalName, float | None] = dict.fromkeys(SignalName)
    for reading in source.readings():
        assert reading.quality is Quality.GOOD
        assert reading.way is Way.BUS
        latest[reading.signal] = reading.number
        if reading.signal is SignalName.FLUID_TEMPERATURE:
            rows.append(
                (reading, latest[SignalName.ENGINE_SPEED], latest[SignalName.VEHICLE_SPEED])
            )
    published = published_decoding()
    assert len(rows) == len(published) == 2390
    start = float(published[0]["time_s"])
    for (reading, rpm, speed), row in zip(rows, published, strict=True):
        # the published times are rounded to 1 ms
        assert reading.t == pytest.approx(float(row["time_s"]) - start, abs=0.0011)
        assert reading.number == float(row["coolant_C"])
        assert rpm == number(row["rpm"])
        assert speed == number(row["speed_kmh"])


def test_the_drive_is_read_whole() -> None:
    source = open_source(find_recording("family-car-drive"), DRIVE)
    assert isinstance(source, RecordingSource)
    assert (source.frames, source.decoded, source.held, source.warning) == (11965, 11965, 0, "")
    assert source.declared == set(SignalName) - {SignalName.RANGE}
    assert source.description == (
        "recording family-car-drive.log, a candump log of 11,965 frames over 39 min 49 s"
    )


def test_the_curve_is_the_temperature_of_the_drive() -> None:
    source = open_source(find_recording("family-car-curve"), DRIVE)
    assert isinstance(source, CsvSource)
    readings = list(source.readings())
    published = published_decoding()
    assert [r.value for r in readings] == [float(row["coolant_C"]) for row in published]
    start = float(published[0]["time_s"])
    assert [r.t for r in readings] == [float(row["time_s"]) - start for row in published]
    assert all(a.t < b.t for a, b in pairwise(readings))
    assert source.declared == {SignalName.FLUID_TEMPERATURE}
    assert "engine coolant of a car being driven, stands in for transmission fluid" in (
        source.description
    )


@pytest.mark.parametrize("name", SHIPPED)
def test_shipped_recordings_have_their_licence_beside_them(name: str) -> None:
    folder = find_recording(name).parent
    licence = (folder / "family-car-drive.LICENSE.txt").read_text(encoding="utf-8")
    assert "Copyright (c) 2020 CSS-Electronics" in licence
    assert "Permission is hereby granted, free of charge" in licence
    assert SHIPPED[name] in licence
    assert SHIPPED[name] in (folder / "README.md").read_text(encoding="utf-8")


def test_paths_are_taken_as_they_are(tmp_path: Path) -> None:
    path = tmp_path / "mine.log"
    path.touch()
    assert find_recording(path) == path
    assert find_recording(str(path)) == path


def test_an_unknown_name_lists_the_known_ones() -> None:
    with pytest.raises(RecordingError) as caught:
        find_recording("family-car")
    assert str(caught.value) == (
        "There is no recording family-car: give the path of a file, or the name of a shipped one; "
        "those are family-car-curve and family-car-drive."
    )


def test_a_shipped_recording_that_is_missing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(library, "resources", lambda: tmp_path)
    with pytest.raises(InstallationError, match=r"recording family-car-drive\.log .* is missing"):
        find_recording("family-car-drive")


def test_files_of_an_unknown_kind(tmp_path: Path) -> None:
    path = tmp_path / "shop.xlsx"
    path.write_bytes(b"PK")
    with pytest.raises(RecordingError) as caught:
        open_source(path, DRIVE)
    assert str(caught.value) == (
        "The recording shop.xlsx is of an unknown kind; recordings end in .asc, .blf, .csv, .log."
    )
    with pytest.raises(RecordingError, match="There is no recording"):
        open_source(tmp_path / "none.xlsx", DRIVE)
    with pytest.raises(RecordingError, match="is a folder"):
        open_source(tmp_path, DRIVE)


def test_the_drive_has_no_range() -> None:
    selector = J1939Signal(kind="j1939", spn=523, source_address=0x03)
    signals = DRIVE.model_copy(update={"range": selector})
    with pytest.raises(RecordingError) as caught:
        open_source(find_recording("family-car-drive"), signals, sheet_id="k7")
    assert str(caught.value) == (
        "The recording family-car-drive.log has no range (J1939 SPN 523 from source address 03), "
        "which spec sheet k7 maps."
    )
