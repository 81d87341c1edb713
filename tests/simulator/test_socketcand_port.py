"""The TCP end, by hand after the published protocol and by python-can's own client."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Callable, Iterator

import can
import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.errors import BusError, SimulationError
from brimline.signals.bus import open_bus
from brimline.simulator.socketcand_port import (
    HOLD_S,
    HOST,
    MOST_CLIENTS,
    Conversation,
    SocketcandPort,
    frame_text,
    read_send,
)

BOUND_S = 20.0


def words(text: str) -> list[str]:
    return text.strip("<> ").split()


# The examples of linux-can/socketcand, doc/protocol.md.
@pytest.mark.parametrize(
    ("text", "can_id", "extended", "data"),
    [
        ("< send 123 0 >", 0x123, False, ""),
        ("< send 1AAAAAAA 2 1 F1 >", 0x1AAAAAAA, True, "01f1"),
    ],
)
def test_published_sends_are_read(text: str, can_id: int, extended: bool, data: str) -> None:
    frame = read_send(words(text))
    assert frame is not None
    assert (frame.arbitration_id, frame.is_extended_id) == (can_id, extended)
    assert bytes(frame.data).hex() == data


def test_published_remote_sends_are_read() -> None:
    frame = read_send(words("< sendrtr 1AAAAAAA 2 >"))
    assert frame is not None
    assert frame.is_remote_frame
    assert (frame.arbitration_id, frame.dlc) == (0x1AAAAAAA, 2)


@pytest.mark.parametrize(
    "text",
    ["send", "send 123", "send 123 9", "send 12 0", "send 800 0", "send 123 2 1", "send 123 1 100"],
)
def test_what_is_no_frame_is_refused(text: str) -> None:
    assert read_send(text.split()) is None


def test_frames_are_told_as_published() -> None:
    frame = can.Message(arbitration_id=0x123, is_extended_id=False, data=b"\x11\x22\x33\x44")
    # published with blanks between the bytes; the daemon and its clients write them together
    assert frame_text(frame, 23.424242) == b"< frame 123 23.424242 11223344 >"
    remote = can.Message(arbitration_id=0x123, is_extended_id=False, is_remote_frame=True, dlc=4)
    assert frame_text(remote, 23.424242) == b"< rtr 123 23.424242 4 >"


def test_a_conversation_goes_as_published() -> None:
    now = 0.0
    talk = Conversation(clock=lambda: now)
    assert talk.to_send == b"< hi >"
    talk.to_send.clear()
    assert talk.take(b"< open can0 >< echo >< rawmode >") == []
    assert talk.to_send == b"< ok >< echo >< ok >"
    talk.to_send.clear()
    frame = can.Message(arbitration_id=0x123, is_extended_id=False, data=b"\1")
    talk.tell(frame)
    assert talk.to_send == b""  # held back, see HOLD_S
    now = HOLD_S + 0.01
    talk.tell(frame)
    assert talk.to_send.startswith(b"< frame 123 ")
    (sent,) = talk.take(b"< send 7DF 3 2 1 C ")[:1] or talk.take(b">")
    assert bytes(sent.data) == b"\2\1\x0c"


def test_who_does_not_keep_to_it_is_put_out() -> None:
    stranger = Conversation()
    stranger.take(b"GET / HTTP/1.1>")
    assert stranger.broken
    endless = Conversation()
    endless.take(b"< open " + b"x" * 1000)
    assert endless.broken


@given(received=st.lists(st.binary(max_size=80), max_size=20))
def test_no_bytes_whatever_upset_it(received: list[bytes]) -> None:
    talk = Conversation()
    talk.take(b"< open can0 >< rawmode >")
    for each in received:
        for frame in talk.take(each):
            assert len(frame.data) <= 8


@pytest.fixture
def port() -> Iterator[SocketcandPort]:
    with SocketcandPort() as opened:
        yield opened


class Client:
    """python-can's client, whose opening needs somebody to serve it meanwhile."""

    def __init__(self, port: SocketcandPort) -> None:
        self.bus: can.BusABC | None = None
        opening = threading.Thread(target=self._open, args=(port.number,))
        opening.start()
        serve_until(port, lambda: not opening.is_alive())
        opening.join()

    def _open(self, number: int) -> None:
        self.bus = open_bus("socketcand", "can0", host=HOST, port=number)


def serve_until(port: SocketcandPort, done: Callable[[], bool]) -> list[can.Message]:
    frames, deadline = [], time.monotonic() + BOUND_S
    while not done():
        assert time.monotonic() < deadline
        if (frame := port.recv(timeout=0.01)) is not None:
            frames.append(frame)
    return frames


def test_pythons_own_client_opens_it_and_frames_go_both_ways(port: SocketcandPort) -> None:
    bus = Client(port).bus
    assert bus is not None
    frame = can.Message(arbitration_id=0x18FEF803, is_extended_id=True, data=bytes(range(8)))
    heard: list[can.Message] = []

    def hears() -> bool:
        port.send(frame)
        if (got := bus.recv(timeout=0)) is not None:
            heard.append(got)
        return bool(heard)

    serve_until(port, hears)
    assert heard[0].arbitration_id == 0x18FEF803
    assert heard[0].is_extended_id
    assert bytes(heard[0].data) == bytes(range(8))
    bus.send(can.Message(arbitration_id=0x7DF, is_extended_id=False, data=b"\2\1\x0c"))
    received: list[can.Message] = []
    deadline = time.monotonic() + BOUND_S
    while not received and time.monotonic() < deadline:
        if (got := port.recv(timeout=0.01)) is not None:
            received.append(got)
    assert (received[0].arbitration_id, bytes(received[0].data)) == (0x7DF, b"\2\1\x0c")
    bus.shutdown()


def test_a_cut_port_is_away_and_comes_back_at_the_same_address(port: SocketcandPort) -> None:
    number = port.number
    bus = Client(port).bus
    assert bus is not None
    port.cut()
    port.cut()
    port.send(can.Message())  # nobody hears it
    assert port.filenos() == []
    with pytest.raises(BusError, match="cannot be opened"):
        open_bus("socketcand", "can0", host=HOST, port=number)
    request = can.Message(arbitration_id=0x7DF, is_extended_id=False, data=b"\2\1\x0c")

    def send_until_it_breaks() -> None:
        for _ in range(100):
            bus.send(request)

    with pytest.raises(ConnectionError):
        send_until_it_breaks()
    bus.shutdown()
    port.restore()
    assert port.number == number
    again = Client(port).bus
    assert again is not None
    again.shutdown()


def test_only_so_many_may_connect(port: SocketcandPort) -> None:
    connected = []
    for _ in range(MOST_CLIENTS + 2):
        connected.append(socket.create_connection((HOST, port.number), timeout=BOUND_S))
        for _ in range(3):
            port.recv(timeout=0.01)
    assert len(port.filenos()) == MOST_CLIENTS + 1
    assert [each.recv(16) for each in connected] == [b"< hi >"] * MOST_CLIENTS + [b""] * 2
    for each in connected:
        each.close()


def test_it_listens_on_this_computer_alone(port: SocketcandPort) -> None:
    assert port.port == f"127.0.0.1:{port.number}"


def test_a_port_that_is_taken_is_one_sentence(port: SocketcandPort) -> None:
    with pytest.raises(SimulationError, match=r"cannot listen on 127\.0\.0\.1:\d+: \w+"):
        SocketcandPort(port.number)


def test_a_port_that_was_closed_says_so(port: SocketcandPort) -> None:
    port.shutdown()
    with pytest.raises(can.CanOperationError, match="closed"):
        port.recv(timeout=0)
    port.restore()
    assert port.filenos() == []
