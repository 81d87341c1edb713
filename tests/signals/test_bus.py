from __future__ import annotations

from pathlib import Path
from uuid import uuid4

import can
import pytest

from brimline.errors import BusError
from brimline.signals.bus import VIRTUAL, open_bus


def test_a_virtual_bus_opens_and_carries_frames() -> None:
    channel = str(uuid4())
    with open_bus(VIRTUAL, channel, 500_000) as one, open_bus(VIRTUAL, channel) as other:
        one.send(can.Message(arbitration_id=0x123, is_extended_id=False, data=b"\1"))
        frame = other.recv(timeout=0)
    assert frame is not None
    assert frame.arbitration_id == 0x123


def test_an_unknown_kind_is_one_sentence() -> None:
    with pytest.raises(BusError, match="kind “teacup” cannot be used") as caught:
        open_bus("teacup", "can0")
    assert "\n" not in caught.value.sentence
    assert "teacup" in caught.value.detail


@pytest.mark.expects_log  # python-can says that the half-made bus was not shut down
def test_a_missing_port_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(BusError, match="cannot be opened: check that it is plugged in"):
        open_bus("slcan", str(tmp_path / "nothing"), 500_000, sleep_after_open=0.0)


def test_a_word_that_the_kind_does_not_know_is_one_sentence() -> None:
    with pytest.raises(BusError, match="cannot be opened"):
        open_bus("slcan", "", 500_000)


def test_only_adapters_that_can_are_asked_to_listen_only() -> None:
    with pytest.raises(BusError, match="“socketcan” cannot be told to listen only"):
        open_bus("socketcan", "vcan0", listen_only=True)
    with open_bus(VIRTUAL, str(uuid4()), listen_only=True) as bus:
        assert bus.recv(timeout=0) is None
