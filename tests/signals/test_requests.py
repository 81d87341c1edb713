"""What the program can say on a vehicle's bus: requests that read, and flow control. No more."""

from __future__ import annotations

import ast
from itertools import product
from pathlib import Path

import can
import pytest
from hypothesis import given
from hypothesis import strategies as st
from live_bench import drain, virtual_buses

import brimline
from brimline.errors import BusError
from brimline.signals.live import BusSource
from brimline.signals.requests import STILL_THERE, check_permitted, request_frame, transmit
from brimline.specsheet.signal_map import ObdSignal, SignalMap, UdsSignal


def may_pass(data: bytes, *, tester_present: bool) -> bool:
    """Say by ISO 15765-2 and the issue's list, in other words than the program's."""
    if 3 <= len(data) <= 8 and 0x30 <= data[0] <= 0x3F:
        return True  # flow control
    forms = [b"\x02\x01?", b"\x02\x09?", b"\x03\x22??"]
    forms += [b"\x02\x3e\x00", b"\x02\x3e\x80"] if tester_present else []
    return len(data) <= 8 and any(
        len(data) >= len(form)
        and all(wanted in (ord("?"), got) for wanted, got in zip(form, data, strict=False))
        for form in forms
    )


@pytest.mark.parametrize("tester_present", [False, True])
def test_nothing_else_passes_of_all_services_lengths_and_sizes(tester_present: bool) -> None:
    passed = set()
    tails = (b"", b"\x00", b"\x80", b"\x12\x34", bytes(5), b"\x80" * 6, bytes(7), bytes(62))
    for first, second in product(range(0x100), range(0x100)):
        for tail in tails:
            data = bytes([first, second]) + tail
            try:
                check_permitted(data, tester_present=tester_present)
            except ValueError:
                assert not may_pass(data, tester_present=tester_present), data.hex()
            else:
                assert may_pass(data, tester_present=tester_present), data.hex()
                passed.add(second if first < 0x10 else "flow control")
    wanted = {0x01, 0x09, 0x22, "flow control"} | ({0x3E} if tester_present else set())
    assert passed == wanted
    for short in (b"", *(bytes([first]) for first in range(0x100))):
        with pytest.raises(ValueError, match="must never be sent"):
            check_permitted(short, tester_present=tester_present)


@given(data=st.binary(max_size=64), tester_present=st.booleans())
def test_any_bytes_pass_only_if_they_read(data: bytes, tester_present: bool) -> None:
    if may_pass(data, tester_present=tester_present):
        check_permitted(data, tester_present=tester_present)
    else:
        with pytest.raises(ValueError, match="must never be sent"):
            check_permitted(data, tester_present=tester_present)


@pytest.mark.parametrize("service", [s for s in range(0x100) if s not in (0x01, 0x09, 0x22)])
def test_no_other_service_can_be_formed(service: int) -> None:
    for length in range(12):
        with pytest.raises(ValueError, match="must never be sent"):
            request_frame(0x7E0, bytes([service]) + bytes(length))


def test_testers_presence_is_told_only_where_the_sheet_asks() -> None:
    # 3E 80 in a single frame: 02 3E 80, as in published examples
    frame = request_frame(0x7E1, STILL_THERE, tester_present=True)
    assert bytes(frame.data).hex() == "023e805555555555"
    with pytest.raises(ValueError, match="must never be sent"):
        request_frame(0x7E1, STILL_THERE)
    for other in (b"\x3e\x01", b"\x3e\x81", b"\x3e", b"\x3e\x80\x00"):
        with pytest.raises(ValueError, match="must never be sent"):
            request_frame(0x7E1, other, tester_present=True)


@pytest.mark.parametrize("kind", ["is_remote_frame", "is_error_frame", "is_fd"])
def test_only_plain_frames_are_transmitted(kind: str) -> None:
    data = None if kind == "is_remote_frame" else bytes.fromhex("02010c")
    with virtual_buses(2) as (near, far):
        with pytest.raises(ValueError, match="must never be sent"):
            transmit(near, can.Message(arbitration_id=0x7DF, data=data, **{kind: True}))
        assert drain(far) == []


def test_the_one_place_asks_the_list() -> None:
    with virtual_buses(2) as (near, far):
        # WriteDataByIdentifier and ECUReset (ISO 14229-1: 2E and 11)
        for data in ("042e123400555555", "0211015555555555", "023e805555555555"):
            frame = can.Message(arbitration_id=0x7E0, data=bytes.fromhex(data))
            with pytest.raises(ValueError, match="must never be sent"):
                transmit(near, frame)
        assert drain(far) == []
        transmit(near, frame, tester_present=True)
        assert len(drain(far)) == 1


def test_frames_leave_the_program_in_one_place_alone() -> None:
    """Nothing but ``transmit`` calls a bus's ``send``; the simulated vehicle is no tester."""
    found = []
    for path in Path(brimline.__file__).parent.rglob("*.py"):
        if {"simulator", "ui"} & set(path.parts):  # ui sees no bus, which a contract holds
            continue
        tree = ast.parse(path.read_text("utf-8"))
        for function in (n for n in ast.walk(tree) if isinstance(n, ast.FunctionDef)):
            for call in (n for n in ast.walk(function) if isinstance(n, ast.Attribute)):
                if call.attr in ("send", "send_periodic", "_send_periodic_internal"):
                    found.append((path.name, function.name, ast.unparse(call.value)))
    assert found.count(("requests.py", "transmit", "bus")) == 1
    # Line is handed what sends for it: BusSource's own, or transmit itself
    others = [each for each in found if each != ("requests.py", "transmit", "bus")]
    others.remove(("discovery_run.py", "_go_on", "self._scan"))  # a generator's, and no bus's
    assert {each[2] for each in others} <= {"self"}
    assert {each[0] for each in others} <= {"requests.py"}


def test_the_permitted_ones_are_formed_as_published() -> None:
    # ReadDataByIdentifier of F190 is 22 F1 90 in published examples; eight bytes by ISO 15765-4
    frame = request_frame(0x7E0, bytes.fromhex("22F190"))
    assert bytes(frame.data).hex() == "0322f19055555555"
    assert not frame.is_extended_id
    for wrong in ("01", "010c0d", "22f1", "22f190f191"):
        with pytest.raises(ValueError, match="must never be sent"):
            request_frame(0x7E0, bytes.fromhex(wrong))


_IDS = st.one_of(st.integers(0x700, 0x7FF), st.integers(0x18DA0000, 0x18DAFFFF))
_SOURCES = st.one_of(
    st.none(),
    st.builds(
        UdsSignal,
        kind=st.just("uds"),
        identifier=st.integers(0, 0xFFFF),
        request_id=_IDS,
        response_id=_IDS,
    ),
)


@given(mapped=_SOURCES, pid_from=_IDS, noise=st.lists(st.tuples(_IDS, st.binary(max_size=8))))
def test_no_sheet_and_no_vehicle_makes_it_send_anything_else(
    mapped: UdsSignal | None, pid_from: int, noise: list[tuple[int, bytes]]
) -> None:
    pid = ObdSignal(kind="obd", pid=0x0C, response_id=pid_from)
    signals = SignalMap(fluid_temperature=mapped, engine_speed=pid)
    with virtual_buses(2) as (near, far):
        try:
            source = BusSource(near, signals)
        except BusError:
            return  # a sheet that asks with the id of the answer
        for tick in range(30):
            for can_id, data in noise:
                extended = can_id > 0x7FF
                far.send(can.Message(arbitration_id=can_id, is_extended_id=extended, data=data))
            source.pump(tick * 0.1)
            for frame in drain(far):
                check_permitted(bytes(frame.data))
