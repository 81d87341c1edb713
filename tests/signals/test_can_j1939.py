from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import can
import cantools
import pytest
from cantools.database.can import Database
from hypothesis import given
from hypothesis import strategies as st
from j1939_warmup import BENCH_WITHOUT_SENSOR, OTHER_SENDER, TEST_TRAFFIC, frame

import brimline
from brimline.errors import InstallationError
from brimline.reading import Quality, Reading, SignalName
from brimline.signals import can_j1939
from brimline.signals.can_j1939 import J1939Decoder, parameters, pgn_and_source, raw_class
from brimline.signals.decoder import FrameDecoder
from brimline.specsheet.signal_map import J1939Signal, ObdSignal, SignalMap

TRF1, EEC1, ETC2 = 0x18FEF803, 0x0CF00400, 0x18F00503


def truck(fluid: int = 0x03, engine: int = 0x00, selector: int = 0x03) -> SignalMap:
    return SignalMap(
        fluid_temperature=J1939Signal(kind="j1939", spn=177, source_address=fluid),
        engine_speed=J1939Signal(kind="j1939", spn=190, source_address=engine),
        range=J1939Signal(kind="j1939", spn=523, source_address=selector),
    )


@pytest.fixture(scope="module")
def published() -> Database:
    path = Path(__file__).parents[1] / "data" / "published.dbc"
    database = cantools.database.load_file(path)
    assert isinstance(database, Database)
    return database


def published_value(database: Database, can_id: int, data: bytes, name: str) -> float:
    decoded = database.decode_message(can_id, data)
    assert isinstance(decoded, dict)
    number = decoded[name]
    assert isinstance(number, int | float)
    return float(number)


def one(can_id: int, data: bytes, signals: SignalMap | None = None) -> Reading | None:
    readings = FrameDecoder(signals or truck()).decode(0.0, frame(0.0, can_id, data))
    assert len(readings) <= 1
    return readings[0] if readings else None


def value(can_id: int, text: str) -> float | str | None:
    reading = one(can_id, bytes.fromhex(text))
    assert reading is not None, text
    assert reading.quality is Quality.GOOD
    return reading.value


# ── published frames ─────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("data", "rpm"),
    [
        # canboat/canboat, analyzer/tests/j1939-pgn-test.in and .out, which prints one decimal
        ("FFFFFF8A03FFFFFF", 113.25),
        ("FFFFFFF506FFFFFF", 222.625),
        # a frame from a truck recording in a public decoder's test, see tests/data/README.md
        ("21B7B7402700F4B7", 1256.0),
    ],
)
def test_published_engine_speeds(data: str, rpm: float) -> None:
    assert value(EEC1, data) == rpm


def test_published_gear_frame() -> None:
    # same source: selected gear "park", ratio 1.0, current gear −1; the current one counts
    assert value(ETC2, "FBE8037C44204420") == "R"


def test_published_oil_temperature_has_the_scale_of_spn_177(published: Database) -> None:
    # ET1, same source: engine oil 104.0 °C in bytes 3 and 4, with the same 1/32 °C and −273 °C;
    # its two bytes set where TRF1 has SPN 177 must read the same
    engine = bytes.fromhex("864C202FFFFF49FF")
    assert published_value(published, 0x18FEEE00, engine, "EngineOilTemperature") == 104.0
    assert published_value(published, 0x18FEEE00, engine, "EngineCoolantTemperature") == 94.0
    oil = engine[2:4]
    assert value(TRF1, "FFFFFFFF" + oil.hex() + "FFFF") == 104.0


@pytest.mark.parametrize(
    ("celsius", "data"), [(40, "2027"), (50, "6028"), (80, "202C"), (100, "A02E")]
)
def test_temperature_round_trips(celsius: float, data: str) -> None:
    # (celsius + 273) * 32, low byte first; computed by hand, no outside witness
    assert value(TRF1, "FFFFFFFF" + data + "FFFF") == celsius


# ── the description that travels with the program ────────────────────────────


def of_spn(spn: int, text: str) -> float | None:
    parameter = parameters()[spn]
    raw = parameter.raw(bytes.fromhex(text))
    assert raw is not None
    return parameter.value(raw)[0]


@pytest.mark.parametrize(
    ("spn", "pgn", "data", "expected"),
    [
        # canboat/canboat, analyzer/tests/j1939-pgn-test.in and .out
        (190, 61444, "FFFFFF8A03FFFFFF", 113.25),
        (110, 65262, "3EFFFFFFFFFFFFFF", 22.0),
        # frames of a truck in a public decoder's test, see tests/data/README.md
        (190, 61444, "21B7B7402700F4B7", 1256.0),
        (110, 65262, "864C202FFFFF49FF", 94.0),
        (175, 65262, "864C202FFFFF49FF", 104.0),
        (526, 61445, "FBE8037C44204420", 1.0),
        (523, 61445, "FBE8037C44204420", -1.0),
        # a public DBC code generator's test, whose frames cantools made from the J1939
        # demonstration DBC that CSS Electronics publishes
        (84, 65265, "0024030000000000", 3.140625),
        (190, 61444, "0000001400000000", 2.5),
        (190, 61444, "000000FFFA000000", 8031.875),
        # TRF1 by hand from canboat's table of PGN 65272, no outside witness: 7D x 0.4 %,
        # 281C / 32 - 273 °C, 7F / 2 - 62.5 L, high half of 1F
        (124, 65272, "FF7DFFFF1C287F1F", 50.0),
        (177, 65272, "FF7DFFFF1C287F1F", 47.875),
        (3027, 65272, "FF7DFFFF1C287F1F", 1.0),
        (3026, 65272, "FF7DFFFF1C287F1F", 1.0),
    ],
)
def test_published_frames_by_the_shipped_description(
    spn: int, pgn: int, data: str, expected: float
) -> None:
    assert parameters()[spn].pgn == pgn
    assert of_spn(spn, data) == pytest.approx(expected, abs=1e-9)


def test_upper_end_of_every_range_in_the_shipped_description() -> None:
    """All bits set is “not available” everywhere, and the byte FE at the top tells of a fault."""
    for parameter in parameters().values():
        raw = parameter.raw(b"\xff" * 8)
        assert raw is not None
        assert parameter.value(raw) == (None, Quality.NOT_AVAILABLE)
        raw = parameter.raw(b"\xfe" * 8)
        assert raw is not None
        if parameter.spn != 3026:  # the high half of FE is F
            assert parameter.value(raw) == (None, Quality.ERROR)
        assert parameter.raw(b"") is None


def test_every_group_carries_its_number_in_its_identifier() -> None:
    # the decoder's look-up by identifier rests on it: PDU2 (SAE J1939-21)
    assert all(parameter.pgn >> 8 & 0xFF >= 240 for parameter in parameters().values())


def test_four_bit_codes_have_a_fault_and_no_value() -> None:
    # from memory: 1110 tells of a fault, 1111 of no value
    assert raw_class(0xD, 4) is Quality.GOOD
    assert raw_class(0xE, 4) is Quality.ERROR
    assert raw_class(0xF, 4) is Quality.NOT_AVAILABLE


@pytest.mark.parametrize("content", [None, "", "dear diary", "BO_ 1 A: 8 B\n SG_ C : 0|99@1+"])
def test_a_damaged_description_is_said_in_one_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, content: str | None
) -> None:
    (tmp_path / "dbc").mkdir()
    if content is not None:
        (tmp_path / "dbc" / "j1939.dbc").write_text(content)
    monkeypatch.setattr(can_j1939, "resources", lambda: tmp_path)
    parameters.cache_clear()
    try:
        with pytest.raises(InstallationError, match=r"j1939\.dbc .* install Brimline again"):
            parameters()
    finally:
        parameters.cache_clear()


def test_cantools_is_imported_only_when_a_bus_needs_it() -> None:
    code = (
        "import sys, brimline.cli, brimline.bootstrap, brimline.signals.discovery;"
        "print('cantools' in sys.modules)"
    )
    environment = {**os.environ, "PYTHONPATH": str(Path(brimline.__file__).parents[1])}
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment
    )
    assert done.stdout.strip() == "False"


# ── an independent decoder ───────────────────────────────────────────────────


@given(raw=st.integers(0, 0xFAFF))
def test_temperature_scaling_equals_cantools(published: Database, raw: int) -> None:
    data = b"\xff" * 4 + raw.to_bytes(2, "little") + b"\xff" * 2
    expected = published_value(published, TRF1, data, "TransmissionOilTemperature")
    reading = one(TRF1, data)
    assert reading is not None
    assert reading.value == pytest.approx(expected, abs=1e-9)
    assert (reading.quality is Quality.GOOD) == (-50 <= expected <= 200)


@given(raw=st.integers(0, 0xFAFF))
def test_engine_speed_scaling_equals_cantools(published: Database, raw: int) -> None:
    data = b"\xff" * 3 + raw.to_bytes(2, "little") + b"\xff" * 3
    expected = published_value(published, EEC1, data, "EngineSpeed")
    reading = one(EEC1, data)
    assert reading is not None
    assert reading.quality is Quality.GOOD
    assert reading.value == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("raw", range(0xFB))
def test_gear_equals_cantools(published: Database, raw: int) -> None:
    data = bytes([0xFF, 0xFF, 0xFF, raw, 0xFF, 0xFF, 0xFF, 0xFF])
    gear = published_value(published, ETC2, data, "CurrentGear")
    expected = "R" if gear < 0 else "N" if gear == 0 else "D"
    assert value(ETC2, data.hex()) == expected


# ── bytes that carry no value ────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("raw", "length", "quality"),  # length in bytes
    [
        # SAE J1939-71, table of transmitted signal ranges, as in tests/data/README.md
        (0x00, 1, Quality.GOOD),
        (0xFA, 1, Quality.GOOD),
        (0xFB, 1, Quality.NOT_AVAILABLE),
        (0xFC, 1, Quality.NOT_AVAILABLE),
        (0xFD, 1, Quality.NOT_AVAILABLE),
        (0xFE, 1, Quality.ERROR),
        (0xFF, 1, Quality.NOT_AVAILABLE),
        (0x0000, 2, Quality.GOOD),
        (0xFAFF, 2, Quality.GOOD),
        (0xFB00, 2, Quality.NOT_AVAILABLE),
        (0xFDFF, 2, Quality.NOT_AVAILABLE),
        (0xFE00, 2, Quality.ERROR),
        (0xFE12, 2, Quality.ERROR),
        (0xFEFF, 2, Quality.ERROR),
        (0xFF00, 2, Quality.NOT_AVAILABLE),
        (0xFFFF, 2, Quality.NOT_AVAILABLE),
    ],
)
def test_raw_classes(raw: int, length: int, quality: Quality) -> None:
    assert raw_class(raw, 8 * length) is quality


@given(raw=st.integers(0xFB00, 0xFFFF), can_id=st.sampled_from([TRF1, EEC1]))
def test_reserved_error_and_not_available_are_never_values(raw: int, can_id: int) -> None:
    field = raw.to_bytes(2, "little")
    data = (
        b"\x11" * 4 + field + b"\x11" * 2 if can_id == TRF1 else b"\x11" * 3 + field + b"\x11" * 3
    )
    reading = one(can_id, data)
    assert reading is not None
    assert reading.value is None
    assert reading.quality in (Quality.ERROR, Quality.NOT_AVAILABLE)


def test_park_is_the_parameter_specific_value_of_the_gear_alone() -> None:
    assert value(ETC2, "000000FB00000000") == "P"
    for raw, quality in ((0xFE, Quality.ERROR), (0xFF, Quality.NOT_AVAILABLE)):
        reading = one(ETC2, bytes([0, 0, 0, raw]))
        assert reading is not None
        assert (reading.value, reading.quality) == (None, quality)


def test_the_raw_value_of_park_is_a_number_elsewhere() -> None:
    # 251 / 8 rpm; as a temperature 251 / 32 − 273 is far below the limits
    assert value(EEC1, "FFFFFFFB00FFFFFF") == 31.375
    reading = one(TRF1, bytes.fromhex("FFFFFFFFFB00FFFF"))
    assert reading is not None
    assert (reading.value, reading.quality) == (251 / 32 - 273, Quality.OUT_OF_RANGE)


# ── edge frames of real benches ──────────────────────────────────────────────


@pytest.mark.parametrize(
    ("edge", "celsius"), [(BENCH_WITHOUT_SENSOR, -50.03125), (TEST_TRAFFIC, 215.0)]
)
def test_edge_temperatures_are_kept_but_never_good(edge: tuple[int, bytes], celsius: float) -> None:
    can_id, data = edge
    reading = one(can_id, data, truck(fluid=can_id & 0xFF))
    assert reading is not None
    assert reading.quality is Quality.OUT_OF_RANGE
    assert reading.value == celsius
    assert reading.number is None


def test_all_ff_is_not_available() -> None:
    can_id, data = OTHER_SENDER
    reading = one(can_id, data, truck(fluid=0x31))
    assert reading is not None
    assert (reading.value, reading.quality) == (None, Quality.NOT_AVAILABLE)


def test_another_source_address_is_filtered_out() -> None:
    assert one(*OTHER_SENDER) is None
    assert one(*TEST_TRAFFIC) is None
    assert one(0x18FEF831, bytes.fromhex("FFFFFFFF2027FFFF")) is None


# ── the frame around the value ───────────────────────────────────────────────


@pytest.mark.parametrize("length", range(6))
def test_a_frame_too_short_is_no_value(length: int) -> None:
    assert one(TRF1, bytes.fromhex("FFFFFFFF2027FFFF")[:length]) is None


def test_a_frame_just_long_enough_is_a_value() -> None:
    assert value(TRF1, "FFFFFFFF2027") == 40.0
    assert value(EEC1, "FFFFFF8A03") == 113.25
    assert value(ETC2, "FFFFFF7D") == "N"


def test_identifiers_are_split_as_in_j1939_21() -> None:
    # 18FEF803, 18F00503 and 0CF00400 are the identifiers of frames in tests/data/README.md's
    # sources. 18EAFF00 is a request (PGN 59904, PDU1) to everybody; from memory.
    assert pgn_and_source(0x18FEF803) == (65272, 0x03)
    assert pgn_and_source(0x18F00503) == (61445, 0x03)
    assert pgn_and_source(0x0CF00400) == (61444, 0x00)
    assert pgn_and_source(0x18EAFF00) == (59904, 0x00)
    assert pgn_and_source(0x18EA03F9) == (59904, 0xF9)
    # with the data page bit the same bytes are another group
    assert pgn_and_source(0x19FEF803) == (65272 + 0x10000, 0x03)


@given(priority=st.integers(0, 7))
def test_the_priority_does_not_matter(priority: int) -> None:
    can_id = priority << 26 | 0xFEF803
    assert value(can_id, "FFFFFFFF2027FFFF") == 40.0


def test_the_priority_belongs_to_the_identifier_of_a_reply() -> None:
    # ISO 15765-4 fixes it at 6 (from memory): 18DAF110 answers, 1CDAF110 is somebody else
    signals = SignalMap(vehicle_speed=ObdSignal(kind="obd", pid=0x0D, response_id=0x18DAF110))
    answer = bytes.fromhex("03410D3255555555")
    decoder = FrameDecoder(signals)
    assert [r.value for r in decoder.decode(0.0, frame(0.0, 0x18DAF110, answer))] == [50.0]
    assert decoder.decode(0.1, frame(0.1, 0x1CDAF110, answer)) == []


def test_only_classic_29_bit_data_frames_count() -> None:
    data = bytes.fromhex("FFFFFFFF2027FFFF")
    kinds: list[dict[str, bool]] = [
        {"is_extended_id": False},
        {"is_fd": True},
        {"is_error_frame": True},
        {"is_remote_frame": True},
    ]
    for kind in kinds:
        message = can.Message(arbitration_id=TRF1, data=data, **({"is_extended_id": True} | kind))
        assert FrameDecoder(truck()).decode(0.0, message) == []


def test_readings_say_where_they_come_from() -> None:
    mapped = J1939Signal(kind="j1939", spn=177, source_address=0x03)
    decoder = J1939Decoder(SignalName.FLUID_TEMPERATURE, mapped)
    reading = decoder.decode(7.5, bytes.fromhex("FFFFFFFF2027FFFF"))
    assert reading is not None
    assert reading.t == 7.5
    assert reading.source == "j1939 spn 177 sa 03"
    assert decoder.words == "J1939 SPN 177 from source address 03"
