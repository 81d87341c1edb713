"""The serial protocol, by hand and by python-can's own backend; a vehicle in another process."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator

import can
import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.errors import SimulationError
from brimline.reading import Reading, SignalName
from brimline.signals.bus import open_bus
from brimline.signals.live import BusSource
from brimline.simulator import slcan_port
from brimline.simulator.program import main
from brimline.simulator.serve import look, obey
from brimline.simulator.slcan import SlcanAdapter, frame_line, read_frame
from brimline.simulator.slcan_port import SlcanPort
from brimline.simulator.vehicle import make_vehicle

BOUND_S = 20.0
"""Nothing here takes so long; a computer under load may take a few seconds to start a process."""

posix = pytest.mark.skipif(os.name != "posix", reason="pseudo-terminals are POSIX")


@pytest.mark.parametrize(
    ("line", "can_id", "extended", "data"),
    [
        # the form of frames in public descriptions of the protocol
        ("t12381122334455667788", 0x123, False, "1122334455667788"),
        ("t7DF3020105", 0x7DF, False, "020105"),
        ("t7E80", 0x7E8, False, ""),
        ("T18FEF8032C0DE", 0x18FEF803, True, "C0DE"),
    ],
)
def test_frames_are_lines(line: str, can_id: int, extended: bool, data: str) -> None:
    frame = read_frame(line)
    assert frame is not None
    assert (frame.arbitration_id, frame.is_extended_id) == (can_id, extended)
    assert bytes(frame.data) == bytes.fromhex(data)
    assert frame_line(frame) == line.encode() + b"\r"


@pytest.mark.parametrize(
    "line",
    ["t", "t12", "t1239", "t1233AABB", "t1232AABBCC", "t8000", "T2FFFFFFF0", "t123 ", "tXYZ0"],
)
def test_lines_that_are_no_frame(line: str) -> None:
    assert read_frame(line) is None


def test_remote_frames_have_a_length_and_no_data() -> None:
    frame = read_frame("r1234")
    assert frame is not None
    assert frame.is_remote_frame
    assert frame.dlc == 4
    assert frame_line(frame) == b"r1234\r"


def test_the_adapter_opens_closes_and_refuses() -> None:
    adapter = SlcanAdapter()
    done, refused = b"\r", b"\a"

    def take(line: str) -> bytes:
        return adapter.take(line.encode() + b"\r")[0]

    assert take("t1230") == refused  # closed
    assert [take(each) for each in ("C", "", "S6", "s031C")] == [done] * 4
    assert [take(each) for each in ("S9", "s03", "X", "O1")] == [refused] * 4
    assert take("O") == done
    assert [take("O"), take("S6")] == [refused] * 2  # open already
    assert [take("t1230"), take("T000001230")] == [b"z\r", b"Z\r"]
    assert (take("V"), take("N"), take("F")) == (b"V0100\r", b"NDEMO\r", b"F00\r")
    assert take("C") == done
    assert take("L") == done
    assert take("t1230") == refused  # it listens only
    assert take("t" + "0" * 500) == refused


@given(received=st.binary(max_size=200))
def test_no_bytes_whatever_upset_the_adapter(received: bytes) -> None:
    adapter = SlcanAdapter()
    adapter.take(b"O\r")
    answer, frames = adapter.take(received)
    assert answer.count(b"\r") + answer.count(b"\a") == received.count(b"\r")
    assert len(frames) <= received.count(b"\r")


@pytest.fixture
def port() -> Iterator[SlcanPort]:
    with SlcanPort() as opened:
        yield opened


def other_end(port: str) -> can.BusABC:
    return open_bus("slcan", port, 500_000, sleep_after_open=0.0)


def receive(bus: can.BusABC) -> can.Message:
    """Return the next frame; acknowledgements show as nothing and are passed over."""
    deadline = time.monotonic() + BOUND_S
    while time.monotonic() < deadline:
        if (frame := bus.recv(timeout=0.05)) is not None:
            return frame
    raise AssertionError("no frame came")


@posix
def test_pythons_own_backend_opens_the_port_and_frames_go_both_ways(port: SlcanPort) -> None:
    frame = can.Message(arbitration_id=0x18FEF803, is_extended_id=True, data=b"\r\n\x03\x7f\x11")
    port.send(frame)  # nobody is there yet
    with other_end(port.port) as bus:
        assert port.recv(timeout=0.05) is None  # obeys the opening
        assert port.adapter.is_open
        port.send(frame)
        heard = receive(bus)
        assert (heard.arbitration_id, bytes(heard.data)) == (0x18FEF803, bytes(frame.data))
        bus.send(can.Message(arbitration_id=0x7DF, is_extended_id=False, data=b"\2\1\5"))
        asked = receive(port)
        assert (asked.arbitration_id, bytes(asked.data)) == (0x7DF, b"\2\1\5")
    assert port.recv(timeout=0.05) is None
    assert not port.adapter.is_open
    with other_end(port.port):  # and again
        port.recv(timeout=0.05)
        assert port.adapter.is_open


@posix
def test_frames_for_a_program_that_does_not_read_are_dropped(port: SlcanPort) -> None:
    with other_end(port.port):
        port.recv(timeout=0.05)
        frame = can.Message(arbitration_id=0x123, is_extended_id=False, data=bytes(8))
        for _ in range(10_000):
            port.send(frame)
        assert port.dropped > 0


@posix
def test_a_port_that_was_closed_says_so(port: SlcanPort) -> None:
    port.shutdown()
    port.shutdown()
    with pytest.raises(can.CanOperationError, match="closed"):
        port.recv(timeout=0)
    with pytest.raises(can.CanOperationError, match="closed"):
        port.send(can.Message())


def test_a_system_without_pseudo_terminals_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(os, "openpty", raising=False)
    with pytest.raises(SimulationError, match="has no pseudo-terminals") as caught:
        slcan_port.open_pair()
    assert "\n" not in caught.value.sentence


def test_lines_that_drive_the_vehicle() -> None:
    vehicle = make_vehicle("K7")
    assert obey(vehicle, "  ") == ""
    assert "range NAME" in obey(vehicle, "help")
    deeds = ("engine on", "range R", "lift up", "plug out", "pump 0.05", "fan on")
    assert [obey(vehicle, line) for line in deeds] == ["done"] * 6
    vehicle.step(10)
    lamps = vehicle.view().lamps
    assert lamps.engine_runs
    assert lamps.lift_up
    assert lamps.plug_out
    assert lamps.pump_on
    assert lamps.fan_on
    assert not lamps.in_park
    assert "range R; nothing; caught 0.000 L; pumped 0.500 L" in look(vehicle)
    undo = ("engine off", "lift down", "plug in", "pump off", "fan off")
    assert [obey(vehicle, line) for line in undo] == ["done"] * 5
    assert obey(vehicle, "engine on") == "the starter does not turn in gear"
    for line, words in (
        ("dance", "nothing that can be done"),
        ("pump x", "0.2 L/s"),
        ("range X", "no"),
    ):
        with pytest.raises(SimulationError, match=words):
            obey(vehicle, line)


def test_speed_and_port_have_limits(capsys: pytest.CaptureFixture[str]) -> None:
    for words, said in (
        (["--speed", "101"], "--speed must lie between 1 and 100"),
        (["--socketcand", "80000"], "--socketcand must be a TCP port, 0 to 65535"),
        (["--socketcand", "-1"], "--socketcand must be a TCP port, 0 to 65535"),
    ):
        with pytest.raises(SystemExit):
            main(words)
        assert said in capsys.readouterr().err


@posix
def test_a_vehicle_in_another_process_is_read_through_its_port() -> None:
    command = [sys.executable, "-W", "error", "-m", "brimline.simulator", "--family", "K7"]
    server = subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    try:
        assert server.stdin is not None
        assert server.stdout is not None
        path = server.stdout.readline().strip().removeprefix("port ")
        server.stdin.write("engine on\nrange N\n")
        server.stdin.flush()
        assert [server.stdout.readline().strip() for _ in range(2)] == ["done", "done"]
        sheet = make_vehicle("K7").sheet
        with other_end(path) as bus:
            source = BusSource(bus, sheet.signals)
            last = read_until_warm(source)
            assert source.refusals == source.garbled == 0
            assert not source.lost
        assert last[SignalName.RANGE].value == "N"
        assert last[SignalName.VEHICLE_SPEED].value == 0
        assert last[SignalName.FLUID_TEMPERATURE].number == pytest.approx(52, abs=2)
        _, errors = server.communicate(timeout=BOUND_S)  # closes its input, which ends it
        assert errors == ""
        assert server.returncode == 0
    finally:
        server.kill()
        server.wait(timeout=BOUND_S)


def read_until_warm(source: BusSource) -> dict[SignalName, Reading]:
    """Read until every signal has come and the engine runs; return the last of each."""
    last: dict[SignalName, Reading] = {}
    start = time.monotonic()
    while (now := time.monotonic() - start) < BOUND_S:
        last.update({reading.signal: reading for reading in source.pump(now)})
        engine = last.get(SignalName.ENGINE_SPEED)
        if set(last) == source.declared and engine is not None and (engine.number or 0) > 500:
            return last
    raise AssertionError(f"only {last} came")
