from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import can
import pytest
from hypothesis import given
from hypothesis import strategies as st
from j1939_warmup import (
    BENCH_WITHOUT_SENSOR,
    OTHER_SENDER,
    TEST_TRAFFIC,
    TRANSMISSION,
    TRF1,
    frame,
    frames,
    temperatures,
    write,
)

from brimline.errors import RecordingError
from brimline.reading import Quality, Reading, SignalName
from brimline.signals.recording_file import LONGEST_PAUSE_S, DamagedError, FrameClock
from brimline.signals.replay import RecordingSource
from brimline.signals.source import ReadingSource
from brimline.specsheet.signal_map import CsvSignal, J1939Signal, ObdSignal, SignalMap

FLUID = SignalName.FLUID_TEMPERATURE
TRUCK = SignalMap(
    fluid_temperature=J1939Signal(kind="j1939", spn=177, source_address=0x03),
    engine_speed=J1939Signal(kind="j1939", spn=190, source_address=0x00),
    range=J1939Signal(kind="j1939", spn=523, source_address=0x03),
)
FLUID_ONLY = SignalMap(fluid_temperature=TRUCK.fluid_temperature)
CAR = SignalMap(fluid_temperature=ObdSignal(kind="obd", pid=0x05))
EPOCH = 1_700_000_000.0
SUFFIXES = pytest.mark.parametrize("suffix", [".log", ".asc", ".blf"])


def fluid(readings: list[Reading]) -> list[Reading]:
    return [reading for reading in readings if reading.signal is FLUID]


# ── the three formats ────────────────────────────────────────────────────────


@SUFFIXES
@pytest.mark.parametrize("epoch", [0.0, EPOCH])
def test_a_warm_up_reads_the_same_from_every_format(
    tmp_path: Path, suffix: str, epoch: float
) -> None:
    celsius = temperatures(300)
    path = write(tmp_path / f"warm-up{suffix}", frames(celsius, epoch=epoch))
    source: ReadingSource = RecordingSource(path, TRUCK)
    readings = list(source.readings())
    good = fluid(readings)
    assert [r.value for r in good] == celsius
    # the formats keep times to a microsecond at best; an epoch in a float to a quarter of one
    assert [r.t for r in good] == pytest.approx(list(range(300)), abs=2e-6)
    assert {r.quality for r in readings} == {Quality.GOOD}
    assert source.declared == {FLUID, SignalName.ENGINE_SPEED, SignalName.RANGE}
    assert all(a.t <= b.t for a, b in pairwise(readings))


@SUFFIXES
def test_edge_frames_never_become_temperatures(tmp_path: Path, suffix: str) -> None:
    celsius = temperatures(5)
    edges = [
        frame(10 + n, can_id | sender, data)
        for n, (can_id, data) in enumerate([BENCH_WITHOUT_SENSOR, TEST_TRAFFIC, OTHER_SENDER])
        for can_id in [can_id & ~0xFF]
        for sender in (0x03, 0x00, 0x31)
    ]
    path = write(tmp_path / f"edges{suffix}", [*frames(celsius), *edges])
    readings = fluid(list(RecordingSource(path, TRUCK).readings()))
    assert [r.value for r in readings if r.quality is Quality.GOOD] == celsius
    assert [(r.value, r.quality) for r in readings if r.quality is not Quality.GOOD] == [
        (-50.03125, Quality.OUT_OF_RANGE),
        (215.0, Quality.OUT_OF_RANGE),
        (None, Quality.NOT_AVAILABLE),
    ]


@SUFFIXES
def test_error_and_remote_frames_are_skipped_and_counted(tmp_path: Path, suffix: str) -> None:
    can_id = TRF1 | TRANSMISSION
    odd = [
        can.Message(timestamp=2.0, is_error_frame=True),
        can.Message(timestamp=3.0, arbitration_id=can_id, is_remote_frame=True, dlc=8),
    ]
    path = write(tmp_path / f"odd{suffix}", [*frames([40.0, 41.0]), *odd])
    source = RecordingSource(path, FLUID_ONLY)
    assert [r.value for r in source.readings()] == [40.0, 41.0]
    assert (source.frames, source.decoded, source.warning) == (10, 2, "")
    assert source.length == pytest.approx(3.0)


def test_suffixes_may_be_written_large(tmp_path: Path) -> None:
    path = write(tmp_path / "a.blf", frames([40.0])).rename(tmp_path / "A.BLF")
    assert [r.value for r in RecordingSource(path, FLUID_ONLY).readings()] == [40.0]


def test_asc_times_that_count_from_the_line_before(tmp_path: Path) -> None:
    # the header says "relative"; each time is then the pause since the line before it, whatever
    # that line was (from memory)
    path = tmp_path / "relative.asc"
    path.write_text(
        "date Mon Jan 1 10:00:00.000 2024\n"
        "base hex  timestamps relative\n"
        "internal events logged\n"
        "   0.500000 1  18FEF803x       Rx   d 8 FF FF FF FF 20 27 FF FF\n"
        "   1.000000 Statistic: nothing of interest\n"
        "   0.250000 1  18FEF803x       Rx   d 8 FF FF FF FF 60 28 FF FF\n",
        encoding="ascii",
    )
    readings = list(RecordingSource(path, FLUID_ONLY).readings())
    assert [(r.t, r.value) for r in readings] == [(0.0, 40.0), (1.25, 50.0)]


def test_a_recording_can_be_replayed_again(tmp_path: Path) -> None:
    source = RecordingSource(write(tmp_path / "a.log", frames(temperatures(20))), TRUCK)
    assert list(source.readings()) == list(source.readings())


def test_the_description_is_for_the_record(tmp_path: Path) -> None:
    source = RecordingSource(write(tmp_path / "shop.asc", frames(temperatures(90))), TRUCK)
    assert (
        source.description == "recording shop.asc, an ASC recording of 360 frames over 1 min 29 s"
    )


# ── time ─────────────────────────────────────────────────────────────────────


def test_a_time_stamp_that_goes_backwards_is_held(tmp_path: Path) -> None:
    path = tmp_path / "back.log"
    data = "18FEF803#FFFFFFFF2027FFFF"
    path.write_text("".join(f"({t:.6f}) can0 {data}\n" for t in (10, 12, 11, 9, 13)))
    source = RecordingSource(path, FLUID_ONLY)
    assert [r.t for r in source.readings()] == [0.0, 2.0, 2.0, 2.0, 3.0]
    assert source.held == 2
    assert source.warning == ""


@given(stamps=st.lists(st.floats(0, 80_000), min_size=1, max_size=30))
def test_times_never_decrease_and_begin_at_zero(stamps: list[float]) -> None:
    clock = FrameClock()
    times = [clock.read(stamp) for stamp in stamps]
    assert times[0] == 0.0
    assert times == sorted(times)


@pytest.mark.parametrize("stamp", [float("nan"), float("inf"), LONGEST_PAUSE_S + 1])
def test_an_impossible_time_is_damage(stamp: float) -> None:
    clock = FrameClock()
    clock.read(0.0)
    with pytest.raises(DamagedError):
        clock.read(stamp)


def test_a_recording_ends_where_its_clock_jumps(tmp_path: Path) -> None:
    path = tmp_path / "jump.log"
    data = "18FEF803#FFFFFFFF2027FFFF"
    path.write_text("".join(f"({t}) can0 {data}\n" for t in (0.0, 1.5, EPOCH)))
    source = RecordingSource(path, FLUID_ONLY)
    assert [r.t for r in source.readings()] == [0.0, 1.5]
    assert source.warning == (
        "The recording jump.log ends early, after 2 s: its clock jumps ahead by more than a day."
    )


# ── refusals ─────────────────────────────────────────────────────────────────


def refusal(path: Path, signals: SignalMap = FLUID_ONLY, sheet_id: str = "") -> str:
    with pytest.raises(RecordingError) as caught:
        RecordingSource(path, signals, sheet_id=sheet_id)
    sentence = str(caught.value)
    assert sentence.endswith(".")
    assert "\n" not in sentence
    return sentence


def test_files_that_are_none(tmp_path: Path) -> None:
    missing = tmp_path / "missing.log"
    assert refusal(missing) == f"There is no recording {missing}."
    assert refusal(tmp_path) == f"{tmp_path} is a folder, not a recording."
    empty = tmp_path / "empty.blf"
    empty.touch()
    assert refusal(empty) == "The recording empty.blf is empty."
    other = tmp_path / "shop.mdf"
    other.write_bytes(b"MDF")
    assert refusal(other) == (
        "The recording shop.mdf is of an unknown kind; recordings of a bus end in .asc, .blf, .log."
    )


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = write(tmp_path / "a.log", frames([40.0]))

    def refuse(*_args: object, **_keywords: object) -> None:
        raise PermissionError(13, "Permission denied")

    # root may read everything, so the system's answer is put in its place
    monkeypatch.setattr(Path, "open", refuse)
    assert refusal(path) == "The recording a.log cannot be read: permission denied."


@SUFFIXES
def test_a_recording_without_the_mapped_signal(tmp_path: Path, suffix: str) -> None:
    path = write(tmp_path / f"truck{suffix}", frames(temperatures(3)))
    assert refusal(path, CAR) == (
        f"The recording truck{suffix} has no fluid temperature (OBD PID 05 in replies 7E8), "
        "which the spec sheet maps."
    )


def test_every_missing_signal_is_named(tmp_path: Path) -> None:
    path = write(tmp_path / "a.log", frames([40.0]))
    signals = SignalMap(
        fluid_temperature=J1939Signal(kind="j1939", spn=177, source_address=0x05),
        engine_speed=TRUCK.engine_speed,
        vehicle_speed=ObdSignal(kind="obd", pid=0x0D),
    )
    assert refusal(path, signals, sheet_id="k9") == (
        "The recording a.log has no fluid temperature (J1939 SPN 177 from source address 05) and "
        "no vehicle speed (OBD PID 0D in replies 7E8), which spec sheet k9 maps."
    )


def test_a_map_without_a_signal_on_the_bus(tmp_path: Path) -> None:
    path = write(tmp_path / "a.log", frames([40.0]))
    table = SignalMap(fluid_temperature=CsvSignal(kind="csv", column="fluid"))
    assert refusal(path, table, sheet_id="k5") == (
        "Spec sheet k5 maps no signal to a vehicle's bus, so the recording a.log cannot be used "
        "with it."
    )
