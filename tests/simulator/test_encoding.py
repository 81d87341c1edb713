"""What goes onto the bus is held against published tables and, the other way, against decoders."""

from __future__ import annotations

from pathlib import Path

import cantools
import pytest
from cantools.database.can import Database
from hypothesis import given
from hypothesis import strategies as st

from brimline.reading import SignalName
from brimline.signals.can_uds import UdsDecoder
from brimline.simulator.encoding import as_sent, j1939_raw, obd_bytes, uds_bytes
from brimline.specsheet.signal_map import CsvSignal, J1939Signal, ObdSignal, UdsSignal

PUBLISHED = Path(__file__).parents[1] / "data" / "published.dbc"


@pytest.fixture(scope="module")
def published() -> Database:
    loaded = cantools.database.load_file(PUBLISHED)
    assert isinstance(loaded, Database)
    return loaded


@given(pid=st.sampled_from([0x05, 0x0C, 0x0D]), value=st.floats(0, 200))
def test_pids_decode_by_the_published_table(published: Database, pid: int, value: float) -> None:
    data = obd_bytes(pid, value)
    frame = bytes([2 + len(data), 0x41, pid]) + data
    decoded = published.decode_message("ObdReply", frame.ljust(8, b"\0"))
    name = {0x05: "CoolantTemperature", 0x0C: "EngineSpeed", 0x0D: "VehicleSpeed"}[pid]
    assert decoded[name] == pytest.approx(value, abs=0.125 if pid == 0x0C else 0.5)


@pytest.mark.parametrize(
    ("pid", "value", "expected"),
    [
        # published examples: 41 0C 1A F8 is 1726 rpm, 41 05 7B is 83 °C
        (0x0C, 1726.0, "1AF8"),
        (0x05, 83.0, "7B"),
        (0x05, -60.0, "00"),
        (0x05, 300.0, "FF"),
        (0x0D, 300.0, "FF"),
        (0x0C, 99_999.0, "FFFF"),
    ],
)
def test_pids_in_bytes(pid: int, value: float, expected: str) -> None:
    assert obd_bytes(pid, value) == bytes.fromhex(expected)


@pytest.mark.parametrize(
    ("celsius", "raw"),
    [(40, 0x2720), (50, 0x2860), (80, 0x2C20), (100, 0x2EA0)],
)
def test_spn_177_as_its_published_scale_has_it(celsius: float, raw: int) -> None:
    # computed from the published scale 1/32 °C and offset −273 by an independent script
    assert j1939_raw(177, celsius) == raw


def test_the_other_parameters_of_j1939() -> None:
    # a published EEC1 frame ends its speed in 8A 03: 113.25 rpm; 251 is park in a published ETC2
    assert j1939_raw(190, 113.25) == 0x038A
    assert j1939_raw(523, "P") == 0xFB
    assert [j1939_raw(523, name) - 125 for name in ("R", "N", "D")] == [-1, 0, 1]
    assert j1939_raw(177, 5000.0) == 0xFAFF  # values end below the reserved ones


@given(
    length=st.integers(1, 4),
    signed=st.booleans(),
    first=st.integers(0, 20),
    scale=st.sampled_from([0.1, 0.5, 1.0, 0.03125]),
    offset=st.sampled_from([0.0, -50.0, -273.0]),
    celsius=st.floats(-40, 150),
)
def test_uds_records_decode_to_what_as_sent_says(
    length: int, signed: bool, first: int, scale: float, offset: float, celsius: float
) -> None:
    mapped = UdsSignal(
        kind="uds", identifier=0x1234, request_id=0x7E1, response_id=0x7E9, first_byte=first,
        length=length, signed=signed, scale=scale, offset=offset,
    )  # fmt: skip
    message = bytes.fromhex("621234") + uds_bytes(mapped, celsius)
    reading = UdsDecoder(SignalName.FLUID_TEMPERATURE, mapped).decode(0.0, message)
    assert reading is not None
    assert reading.value == as_sent(mapped, celsius)
    bits = 8 * length - (1 if signed else 0)
    lowest = -(2**bits) * scale + offset if signed else offset
    if lowest <= celsius <= (2**bits - 1) * scale + offset:
        assert reading.value == pytest.approx(celsius, abs=scale / 2 + 1e-9)


def test_numbers_come_out_as_the_bus_rounds_them() -> None:
    assert as_sent(ObdSignal(kind="obd", pid=0x05), 61.4) == 61.0
    assert as_sent(ObdSignal(kind="obd", pid=0x0C), 650.3) == 650.25
    assert as_sent(ObdSignal(kind="obd", pid=0x0D), 0.2) == 0.0
    assert as_sent(J1939Signal(kind="j1939", spn=177, source_address=3), 40.02) == 40.03125
    assert as_sent(J1939Signal(kind="j1939", spn=190, source_address=0), 600.1) == 600.125
    assert as_sent(CsvSignal(kind="csv", column="x"), 61.4) == 61.4
    assert as_sent(None, 61.4) == 61.4


def test_what_is_not_simulated_is_said() -> None:
    names = {"0": "P"}
    mapped = UdsSignal(kind="uds", identifier=1, request_id=1, response_id=2, names=names)
    with pytest.raises(ValueError, match="PID 0F"):
        obd_bytes(0x0F, 1.0)
    with pytest.raises(ValueError, match="SPN 110"):
        j1939_raw(110, 1.0)
    with pytest.raises(ValueError, match="SPN 177"):
        j1939_raw(177, "P")
    with pytest.raises(ValueError, match="no raw value for range D"):
        uds_bytes(mapped, "D")
