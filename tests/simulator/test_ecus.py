"""The control units, asked by udsoncan's client over can-isotp: neither is the program's code."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import can
import cantools
import isotp
import pytest
import udsoncan
from hypothesis import given
from hypothesis import strategies as st
from live_bench import drain, virtual_buses
from udsoncan.client import Client
from udsoncan.connections import BaseConnection
from udsoncan.exceptions import NegativeResponseException, TimeoutException

from brimline.simulator.broadcasts import SECOND_SOURCE
from brimline.simulator.diagnostics import Knowledge, physical_request_id
from brimline.simulator.ecus import VehicleOnBus
from brimline.simulator.vehicle import Vehicle, make_vehicle
from brimline.specsheet.signal_map import UdsSignal
from brimline.vin import parse_vin

PUBLISHED = Path(__file__).parents[1] / "data" / "published.dbc"
ENGINE, TRANSMISSION = (0x7E0, 0x7E8), (0x7E1, 0x7E9)


class Wire(BaseConnection):  # type: ignore[misc] # udsoncan has no types
    """What udsoncan's client needs of a connection; while it waits, the control units work."""

    def __init__(self, bus: can.BusABC, units: VehicleOnBus, ids: tuple[int, int]) -> None:
        super().__init__("wire")
        address = isotp.Address(isotp.AddressingMode.Normal_11bits, txid=ids[0], rxid=ids[1])
        self._stack = isotp.CanStack(bus, address=address, params={"tx_padding": 0xAA})
        self._units = units

    def open(self) -> Wire:
        return self

    def close(self) -> None:
        pass

    def is_open(self) -> bool:
        return True

    def empty_rxqueue(self) -> None:
        pass

    def specific_send(self, payload: bytes) -> None:
        self._stack.send(payload)

    def specific_wait_frame(self, timeout: float = 2) -> bytes:
        for _ in range(50):
            self._stack.process()
            self._units.pump(0.0)
            if (message := self._stack.recv()) is not None:
                return bytes(message)
        raise TimeoutException("no answer")


class Raw(udsoncan.DidCodec):  # type: ignore[misc] # udsoncan has no types
    def __init__(self, length: int) -> None:
        self._length = length

    def decode(self, string_bin: bytes) -> bytes:
        return bytes(string_bin)

    def encode(self, string_bin: bytes) -> bytes:
        return string_bin

    def __len__(self) -> int:
        return self._length


class Scan:
    """A vehicle and a tester on one virtual bus."""

    def __init__(self, vehicle: Vehicle, far: can.BusABC, near: can.BusABC) -> None:
        self.vehicle = vehicle
        self.near = near
        self.units = VehicleOnBus(vehicle, vehicle.sheet, far)

    def ask(self, payload: str, ids: tuple[int, int] = TRANSMISSION) -> str | None:
        """Return the answer to a request, both in hexadecimal digits; ``None`` is silence."""
        wire = Wire(self.near, self.units, ids)
        wire.send(bytes.fromhex(payload))
        try:
            return wire.specific_wait_frame().hex()
        except TimeoutException:
            return None

    def ask_all(self, payload: str) -> dict[int, str]:
        """Return the single-frame answers to a functional request by id."""
        data = bytes.fromhex(payload)
        frame = bytes([len(data)]) + data
        self.near.send(can.Message(arbitration_id=0x7DF, is_extended_id=False, data=frame))
        self.units.pump(0.0)
        return {f.arbitration_id: bytes(f.data[1 : 1 + f.data[0]]).hex() for f in drain(self.near)}


@pytest.fixture
def k7() -> Iterator[Scan]:
    with virtual_buses(2) as (far, near):
        yield Scan(make_vehicle("K7", "sensor-offset"), far, near)


def test_udsoncan_reads_temperature_range_and_number(k7: Scan) -> None:
    config = dict(udsoncan.configs.default_client_config)
    config["data_identifiers"] = {0x31A0: Raw(2), 0x31A4: Raw(1), 0xF190: Raw(17)}
    with Client(Wire(k7.near, k7.units, TRANSMISSION), config=config) as client:
        k7.vehicle.step(3)
        values = client.read_data_by_identifier([0x31A0]).service_data.values
        celsius = int.from_bytes(values[0x31A0], "big", signed=True) * 0.1
        assert celsius == k7.vehicle.signals().sensor
        assert celsius == pytest.approx(k7.vehicle.heat.fluid + 9, abs=1)
        for name, raw in {"P": 1, "R": 2, "N": 4, "D": 8}.items():
            k7.vehicle.select_range(name)
            values = client.read_data_by_identifier([0x31A4]).service_data.values
            assert values[0x31A4] == bytes([raw])
        several = client.read_data_by_identifier([0xF190, 0x31A4]).service_data.values
        vin = parse_vin(several[0xF190].decode())
        assert vin.check_digit_matches
        assert several[0x31A4] == b"\x08"


@pytest.mark.expects_log  # udsoncan's client warns of every negative answer
@pytest.mark.parametrize(
    ("call", "code"),
    [
        (lambda c: c.read_data_by_identifier([0x31A1]), 0x31),
        (lambda c: c.write_data_by_identifier(0x31A0, b"\0\0"), 0x11),
        (lambda c: c.change_session(3), 0x11),
        (lambda c: c.ecu_reset(1), 0x11),
        (lambda c: c.clear_dtc(), 0x11),
        (lambda c: c.start_routine(0x0203), 0x11),
    ],
)
def test_udsoncan_is_refused_everything_else(k7: Scan, call, code: int) -> None:
    config = dict(udsoncan.configs.default_client_config)
    config["data_identifiers"] = {0x31A0: Raw(2), 0x31A1: Raw(2)}
    with Client(Wire(k7.near, k7.units, TRANSMISSION), config=config) as client:
        with pytest.raises(NegativeResponseException) as refused:
            call(client)
        assert refused.value.response.code == code


def test_udsoncan_may_say_that_it_is_there(k7: Scan) -> None:
    with Client(Wire(k7.near, k7.units, TRANSMISSION)) as client:
        assert client.tester_present().positive


def test_obd_pids_in_published_bytes(k7: Scan) -> None:
    k7.vehicle.start_engine()
    k7.vehicle.step(10)
    assert k7.ask_all("0100") == {0x7E8: "410008180000"}  # bits 05, 0C and 0D
    assert k7.ask_all("010d") == {0x7E8: "410d00"}
    database = cantools.database.load_file(PUBLISHED)
    for pid, name in (("05", "CoolantTemperature"), ("0c", "EngineSpeed")):
        answer = bytes.fromhex(k7.ask_all(f"01{pid}")[0x7E8])
        decoded = database.decode_message("ObdReply", (bytes([len(answer)]) + answer).ljust(8))
        signals = k7.vehicle.signals()
        expected = signals.coolant if pid == "05" else signals.engine_speed
        assert decoded[name] == pytest.approx(expected, abs=0.5)
    assert k7.ask("0105", ENGINE) == k7.ask_all("0105")[0x7E8]
    assert (k7.ask("01050c0d2f", ENGINE) or "")[:6] == k7.ask_all("0105")[0x7E8][:6]


def test_the_identification_number_travels_in_three_frames(k7: Scan) -> None:
    answer = bytes.fromhex(k7.ask("0902", ENGINE) or "")
    assert answer[:3] == bytes.fromhex("490201")
    assert answer[3:].decode() == k7.vehicle.family.vin
    assert k7.ask("0900", ENGINE) == "490040000000"  # information type 02
    # and nothing behind the first frame until the tester lets it go on
    k7.near.send(can.Message(arbitration_id=0x7E0, is_extended_id=False, data=b"\x02\x09\x02"))
    k7.units.pump(0.0)
    k7.units.pump(0.1)
    first = drain(k7.near)
    assert [bytes(frame.data)[:5].hex() for frame in first] == ["1014490201"]
    flow = can.Message(arbitration_id=0x7E0, is_extended_id=False, data=b"\x30\0\0")
    k7.near.send(flow)
    k7.units.pump(0.2)
    assert [frame.data[0] for frame in drain(k7.near)] == [0x21, 0x22]


@pytest.mark.parametrize(
    ("request_hex", "ids", "answer"),
    [
        ("0142", ENGINE, "7f0112"),  # a PID that it does not have
        ("01", ENGINE, "7f0113"),
        ("0904", ENGINE, "7f0912"),
        ("090202", ENGINE, "7f0913"),
        ("04", ENGINE, "7f0411"),
        ("0100", TRANSMISSION, "7f0111"),  # the transmission has no PIDs
        ("2231a1", TRANSMISSION, "7f2231"),
        ("2231", TRANSMISSION, "7f2213"),
        ("22", TRANSMISSION, "7f2213"),
        ("2231a031", TRANSMISSION, "7f2213"),
        ("2e31a00000", TRANSMISSION, "7f2e11"),
        ("1003", TRANSMISSION, "7f1011"),
    ],
)
def test_negative_answers_by_the_book(
    k7: Scan, request_hex: str, ids: tuple[int, int], answer: str
) -> None:
    assert k7.ask(request_hex, ids) == answer


@pytest.mark.parametrize("payload", ["0142", "0904", "04", "223199", "2e31a000"])
def test_units_keep_silent_when_all_are_asked_and_they_are_the_wrong_ones(
    k7: Scan, payload: str
) -> None:
    assert k7.ask_all(payload) == {}


@given(request=st.binary(max_size=40), functional=st.booleans())
def test_whatever_is_asked_the_answer_is_one_of_three_kinds(
    request: bytes, functional: bool
) -> None:
    known = Knowledge({0x05: lambda: b"\1"}, {2: lambda: b"\2"}, {0x1234: lambda: b"\3"})
    answer = known.answer(request, functional=functional)
    if answer is None:
        assert functional or not request
    elif answer[0] == 0x7F:
        assert answer[1] == request[0]
        assert answer[2] in (0x11, 0x12, 0x13, 0x31)
    else:
        assert answer[0] == request[0] + 0x40
        assert request[0] in (0x01, 0x09, 0x22)


@given(
    frames=st.lists(
        st.tuples(st.sampled_from([0x7DF, 0x7E0, 0x7E1, 0x7E8, 0x123]), st.binary(max_size=8)),
        max_size=15,
    )
)
def test_no_frame_whatever_changes_the_vehicle_or_raises(frames: list[tuple[int, bytes]]) -> None:
    with virtual_buses(2) as (far, near):
        tester = Scan(make_vehicle("K7"), far, near)
        before = (tester.vehicle.signals(), tester.vehicle.view(), tester.vehicle.time)
        for can_id, data in frames:
            near.send(can.Message(arbitration_id=can_id, is_extended_id=False, data=data))
        near.send(can.Message(arbitration_id=0x7E0, is_extended_id=False, is_remote_frame=True))
        tester.units.pump(0.0)
        assert before == (tester.vehicle.signals(), tester.vehicle.view(), tester.vehicle.time)
        assert {frame.arbitration_id for frame in drain(near)} <= {0x7E8, 0x7E9}


def test_several_signals_share_a_record_and_29_bit_ids_work() -> None:
    vehicle = make_vehicle("K7")
    both = {"kind": "uds", "identifier": 0x5000, "request_id": 0x18DA10F1}
    signals = vehicle.sheet.signals.model_copy(
        update={
            "fluid_temperature": UdsSignal(
                **both, response_id=0x18DAF110, first_byte=9, length=2, scale=0.1
            ),
            "range": UdsSignal(
                **both, response_id=0x18DAF110, first_byte=1, names={"7": "P", "9": "D"}
            ),
        }
    )
    sheet = vehicle.sheet.model_copy(update={"signals": signals})
    with virtual_buses(2) as (far, near):
        units = VehicleOnBus(vehicle, sheet, far)
        request = can.Message(arbitration_id=0x18DA10F1, data=bytes.fromhex("03225000"))
        near.send(request)
        units.pump(0.0)
        flow = can.Message(arbitration_id=0x18DA10F1, data=bytes.fromhex("300000"))
        near.send(flow)
        units.pump(0.0)
        first, *others = drain(near)
    assert first.is_extended_id
    record = bytes(first.data)[5:] + b"".join(bytes(frame.data)[1:] for frame in others)
    assert record[:9] == bytes([0, 7, 0, 0, 0, 0, 0, 0, 0])
    raw = int.from_bytes(record[9:11], "big")
    assert raw * 0.1 == pytest.approx(vehicle.signals().sensor, abs=0.05 + 1e-9)
    assert physical_request_id(0x18DAF110) == 0x18DA10F1


def test_j1939_broadcasts_at_their_rates_beside_a_sender_without_values() -> None:
    vehicle = make_vehicle("K9")
    vehicle.start_engine()
    database = cantools.database.load_file(PUBLISHED)
    with virtual_buses(2) as (far, near):
        units = VehicleOnBus(vehicle, vehicle.sheet, far)
        counts: dict[int, int] = {}
        for tick in range(1001):
            vehicle.step(0.01)
            units.pump(tick * 0.01)
            for frame in drain(near):
                counts[frame.arbitration_id] = counts.get(frame.arbitration_id, 0) + 1
                last = {frame.arbitration_id: bytes(frame.data)}
                if frame.arbitration_id == 0x18FEF803:
                    decoded = database.decode_message("TRF1", frame.data)
                    assert decoded["TransmissionOilTemperature"] == vehicle.signals().sensor
                elif frame.arbitration_id == 0x0CF00400:
                    decoded = database.decode_message("EEC1", frame.data)
                    expected = pytest.approx(vehicle.signals().engine_speed, abs=1 / 16)
                    assert decoded["EngineSpeed"] == expected
                elif frame.arbitration_id == 0x18FEF800 | SECOND_SOURCE:
                    assert last[frame.arbitration_id] == b"\xff" * 8
        # ten seconds and the first moment: 1 s, 20 ms and 100 ms
        assert counts == {
            0x18FEF803: 11,
            0x18FEF800 | SECOND_SOURCE: 11,
            0x0CF00400: 501,
            0x18F00503: 101,
        }
        vehicle.select_range("R")
        units.pump(20.0)
        gears = [bytes(f.data) for f in drain(near) if f.arbitration_id == 0x18F00503]
        assert database.decode_message("ETC2", gears[0])["CurrentGear"] == -1
