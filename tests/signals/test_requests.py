"""What the program can say on a vehicle's bus: requests that read, and flow control. No more."""

from __future__ import annotations

import can
import pytest
from hypothesis import given
from hypothesis import strategies as st
from live_bench import drain, virtual_buses

from brimline.errors import BusError
from brimline.signals.live import BusSource
from brimline.signals.requests import check_permitted, request_frame
from brimline.specsheet.signal_map import ObdSignal, SignalMap, UdsSignal

_FRAMES = st.one_of(
    st.binary(max_size=64),
    st.builds(
        lambda length, service, rest: bytes([length, service]) + rest,
        st.integers(0, 8),
        st.sampled_from([0x01, 0x22, 0x09, 0x2E]),
        st.binary(max_size=6),
    ),
)


@given(data=_FRAMES)
def test_only_services_01_and_22_and_flow_control_can_be_sent(data: bytes) -> None:
    kind = data[0] >> 4 if data else None
    reads = (len(data) >= 3 and data[:2] == b"\x02\x01") or (
        len(data) >= 4 and data[:2] == b"\x03\x22"
    )
    if reads or kind == 3:
        check_permitted(data)
    else:
        with pytest.raises(ValueError, match="must never be sent"):
            check_permitted(data)


@pytest.mark.parametrize("service", [s for s in range(0x100) if s not in (0x01, 0x22)])
def test_no_other_service_can_be_formed(service: int) -> None:
    for body in (b"", b"\x05", b"\x12\x34", b"\x12\x34\x56"):
        with pytest.raises(ValueError, match="must never be sent"):
            request_frame(0x7E0, bytes([service]) + body)


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
