from __future__ import annotations

import os
import socket
from pathlib import Path
from typing import Any
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
    with pytest.raises(BusError, match="slcan cannot be opened so: check its channel, bit rate"):
        open_bus("slcan", "", 500_000)


@pytest.mark.skipif(os.name != "posix", reason="pseudo-terminals are POSIX")
@pytest.mark.expects_log  # python-can says that the half-made bus was not shut down
def test_a_bit_rate_that_the_kind_does_not_know_is_no_missing_adapter() -> None:
    ours, theirs = os.openpty()
    try:
        with pytest.raises(BusError, match="cannot be opened so: check its channel, bit rate"):
            open_bus("slcan", os.ttyname(theirs), 123, sleep_after_open=0.0)
    finally:
        os.close(ours)
        os.close(theirs)


@pytest.mark.parametrize(
    "options", [{}, {"host": "127.0.0.1"}, {"host": "127.0.0.1", "port": "x"}, {"port": 28600},
                {"host": "127.0.0.1", "port": 80000}],
)  # fmt: skip
def test_a_server_without_an_address_is_asked_for_it(options: dict[str, Any]) -> None:
    with pytest.raises(BusError, match="options host and port"):
        open_bus("socketcand", "can0", **options)


def test_a_server_that_is_not_there_is_named() -> None:
    with socket.create_server(("127.0.0.1", 0)) as closed:
        port = closed.getsockname()[1]
    with pytest.raises(BusError, match=f"nothing answers at 127.0.0.1, port {port}"):
        open_bus("socketcand", "can0", host="127.0.0.1", port=port)


def test_only_adapters_that_can_are_asked_to_listen_only() -> None:
    with pytest.raises(BusError, match="“socketcan” cannot be told to listen only"):
        open_bus("socketcan", "vcan0", listen_only=True)
    with open_bus(VIRTUAL, str(uuid4()), listen_only=True) as bus:
        assert bus.recv(timeout=0) is None
