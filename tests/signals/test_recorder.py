"""Recording a live bus: what the file holds, that it replays, and what a full disk does."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import can
import pytest
from hypothesis import given
from hypothesis import strategies as st
from live_bench import STEP_S, virtual_buses

from brimline.errors import RecordingError
from brimline.reading import SignalName
from brimline.signals.library import open_source
from brimline.signals.live import BusSource
from brimline.signals.recorder import BusRecorder
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.vehicle import make_vehicle

START = 1_700_000_000.0


def frame(number: int = 0x123, data: bytes = b"\1\2") -> can.Message:
    return can.Message(arbitration_id=number, is_extended_id=number > 0x7FF, data=data)


def recorder(path: Path, **options: int) -> BusRecorder:
    made = BusRecorder(path, **options)
    made.start = START
    return made


def test_a_recorded_check_replays_to_the_same_readings(tmp_path: Path) -> None:
    vehicle = make_vehicle("K7")
    vehicle.start_engine()
    path, lived = tmp_path / "bus.log", []
    with virtual_buses(2) as (far, near):
        recording = recorder(path)
        units = VehicleOnBus(vehicle, vehicle.sheet, far)
        source = BusSource(near, vehicle.sheet.signals, overhear=recording.take)
        for tick in range(600):
            vehicle.step(STEP_S)
            units.pump(tick * STEP_S)
            lived += source.pump(tick * STEP_S)
        recording.close()
    replay = open_source(path, vehicle.sheet.signals)
    assert not replay.warning
    replayed = list(replay.readings())
    assert len(replayed) > 300
    assert [(r.signal, r.value) for r in replayed] == [(r.signal, r.value) for r in lived]
    shift = replayed[0].t - lived[0].t
    assert all(abs(b.t - a.t - shift) < 1e-3 for a, b in zip(lived, replayed, strict=True))
    assert {r.signal for r in replayed} >= {SignalName.FLUID_TEMPERATURE, SignalName.RANGE}


def test_the_file_is_a_candump_log_with_the_time_of_the_check(tmp_path: Path) -> None:
    recording = recorder(tmp_path / "bus.log")
    heard = frame(0x18FEF803, bytes.fromhex("FFFFFFFF2028FFFF"))
    heard.channel = "/dev/serial by id/adapter 1"  # blanks would part the line
    recording.take(1.5, heard)
    sent = frame(0x7DF)
    sent.is_rx = False
    recording.take(2.0, sent)
    recording.close()
    # the form of candump -L: (seconds) interface id#data, here with python-can's direction
    assert (tmp_path / "bus.log").read_text("ascii").splitlines() == [
        "(1700000001.500000) can0 18FEF803#FFFFFFFF2028FFFF R",
        "(1700000002.000000) can0 7DF#0102 T",
    ]
    assert recording.frames == 2
    assert heard.channel == "/dev/serial by id/adapter 1"  # what it is given stays as it was
    recording.take(3.0, heard)
    assert recording.frames == 2


def test_a_program_that_dies_leaves_all_but_the_last_second(tmp_path: Path) -> None:
    recording = recorder(tmp_path / "bus.log")
    for tick in range(100):
        recording.take(tick * 0.1, frame())
    lines = (tmp_path / "bus.log").read_text("ascii").splitlines()  # nobody closed it
    assert 89 <= len(lines) < 100
    recording.close()


def test_it_ends_at_its_largest_size(tmp_path: Path) -> None:
    recording = recorder(tmp_path / "bus.log", largest=10_000)
    for tick in range(10_000):
        recording.take(tick * 0.01, frame())
    assert "has reached its largest size" in recording.trouble
    size = (tmp_path / "bus.log").stat().st_size
    assert 10_000 <= size < 10_000 + 110 * 50  # at most the second's frames more
    recording.close()


def test_a_folder_that_is_not_there_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match="cannot be written"):
        BusRecorder(tmp_path / "nowhere" / "bus.log")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_ends_the_recording_and_nothing_else() -> None:
    recording = recorder(Path("/dev/full"))
    for tick in range(5_000):
        recording.take(tick * 0.01, frame())
    assert "cannot be written (No space left on device); the check goes on." in recording.trouble
    before = recording.frames
    recording.take(100.0, frame())
    recording.close()
    assert recording.frames == before


def test_lines_cut_by_a_full_disk_are_taken_back(tmp_path: Path) -> None:
    recording = recorder(tmp_path / "bus.log")
    for tick in range(50):
        recording.take(tick * 0.1, frame())
    with (tmp_path / "bus.log").open("ab") as other:
        other.write(b"(1700000009.5")  # as much of a line as the disk took

    def full() -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    recording._file.flush = full  # type: ignore[union-attr]
    recording.take(10.0, frame())
    assert recording.trouble
    text = (tmp_path / "bus.log").read_text("ascii")
    assert text.endswith(" R\n")


@given(steps=st.lists(st.tuples(st.floats(0, 5), st.binary(max_size=8)), min_size=1, max_size=30))
def test_whatever_was_heard_comes_back(
    tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[float, bytes]]
) -> None:
    path = tmp_path_factory.mktemp("recordings") / "bus.log"
    recording, t, times = recorder(path), 0.0, []
    for pause, data in steps:
        t += pause
        times.append(t)
        recording.take(t, frame(0x7E9, data))
    recording.close()
    with can.LogReader(path) as log:
        back = list(log)
    assert [bytes(each.data) for each in back] == [data for _, data in steps]
    assert [each.timestamp for each in back] == pytest.approx([START + t for t in times], abs=1e-5)
