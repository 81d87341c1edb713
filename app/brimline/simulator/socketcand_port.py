"""A bus whose other end is a TCP port of this computer, in the protocol of socketcand.

The published description (linux-can/socketcand, ``doc/protocol.md``) is served as far as a program
in raw mode needs it: ``open``, ``rawmode``, ``echo``, ``send`` and ``sendrtr`` from the program,
``frame`` and ``rtr`` to it. Only 127.0.0.1 is listened on, nothing is announced, and whoever
connects more than a few times or writes what has no end is put out.
"""

from __future__ import annotations

import os
import select
import socket
import time
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field

import can

from brimline.errors import SimulationError

HOST = "127.0.0.1"

MOST_CLIENTS = 4

HOLD_S = 0.05
"""python-can's client takes the greeting of raw mode for spoilt when frames come in with it."""

_LONGEST_COMMAND = 256
_LONGEST_NAME = 16  # of a bus, by the protocol
_CHUNK = 4096
_MOST_WAITING = 64 * 1024
_HIGHEST_ID = {3: 0x7FF, 8: 0x1FFFFFFF}
_CLASSIC_BYTES = 8


def frame_text(frame: can.Message, seconds: float) -> bytes:
    """Return a classic frame as the protocol tells it, with its time in s."""
    digits = 8 if frame.is_extended_id else 3
    head = f"{frame.arbitration_id:0{digits}X} {seconds:.6f}"
    if frame.is_remote_frame:
        return f"< rtr {head} {frame.dlc} >".encode("ascii")
    # The description shows bytes apart; the daemon joins them, and clients rely on that.
    return f"< frame {head} {bytes(frame.data).hex().upper()} >".encode("ascii")


def read_send(words: list[str]) -> can.Message | None:
    """Return the frame of a ``send`` or ``sendrtr`` command; ``None`` where there is no sound one.

    :param words: the command, word by word.
    """
    try:
        can_id, length = int(words[1], 16), int(words[2], 16)
        data = bytes(int(word, 16) for word in words[3:])
    except (ValueError, IndexError):
        return None
    remote = words[0] == "sendrtr"
    if not 0 <= can_id <= _HIGHEST_ID.get(len(words[1]), -1):
        return None
    if not 0 <= length <= _CLASSIC_BYTES or len(data) != (0 if remote else length):
        return None
    return can.Message(
        arbitration_id=can_id,
        is_extended_id=len(words[1]) != 3,
        is_remote_frame=remote,
        dlc=length,
        data=None if remote else data,
    )


@dataclass
class Conversation:
    """One program that has connected: what it says, and what is to be told to it.

    :param clock: in s, for holding frames back.
    """

    clock: Callable[[], float] = time.monotonic
    is_open: bool = False
    raw_since: float | None = None
    broken: bool = False
    """Whether it is to be put out."""
    to_send: bytearray = field(default_factory=lambda: bytearray(b"< hi >"))
    dropped: int = 0
    _heard: bytearray = field(default_factory=bytearray)

    def take(self, received: bytes) -> list[can.Message]:
        """Take bytes of the program; return the frames that it sends."""
        self._heard += received
        frames = []
        while (end := self._heard.find(b">")) >= 0 and not self.broken:
            text = self._heard[:end].decode("ascii", errors="replace")
            del self._heard[: end + 1]
            words = text.partition("<")[2].split()
            frame = self._obey(words)
            if frame is not None:
                frames.append(frame)
        self.broken = self.broken or len(self._heard) > _LONGEST_COMMAND
        return frames

    def _obey(self, words: list[str]) -> can.Message | None:
        match words:
            case ["echo"]:
                self.to_send += b"< echo >"
            case ["open", name] if not self.is_open and len(name) <= _LONGEST_NAME:
                self.is_open = True
                self.to_send += b"< ok >"
            case ["rawmode"] if self.is_open:
                self.raw_since = self.clock()
                self.to_send += b"< ok >"
            case ["send" | "sendrtr", *_] if self.is_open:
                frame = read_send(words)
                if frame is not None:
                    return frame
                self.to_send += b"< error no sound frame >"
            case _:
                self.to_send += b"< error unknown command >"
                self.broken = not self.is_open
        return None

    def tell(self, frame: can.Message) -> None:
        """Queue a frame of the bus for the program, where it listens and reads."""
        if self.raw_since is None or self.clock() - self.raw_since < HOLD_S:
            return
        if len(self.to_send) > _MOST_WAITING:
            self.dropped += 1
            return
        self.to_send += frame_text(frame, time.time())


class SocketcandPort(can.BusABC):
    """The vehicle's end of such a bus.

    :param number: TCP port to listen on; 0 lets the system choose.
    :raises SimulationError: the port cannot be had.
    """

    def __init__(self, number: int = 0) -> None:
        self._listener: socket.socket | None = _listen(number)
        self.number: int = self._listener.getsockname()[1]
        """The TCP port that programs connect to."""
        self.port = f"{HOST}:{self.number}"
        """The address that programs connect to."""
        self._clients: dict[socket.socket, Conversation] = {}
        self._received: deque[can.Message] = deque()
        self._is_shut = False
        super().__init__(channel=self.port)
        self.channel_info = f"socketcand on {self.port}"

    def _recv_internal(self, timeout: float | None) -> tuple[can.Message | None, bool]:
        self._check_open()
        if not self._received:
            ready, _, _ = select.select(self.filenos(), [], [], timeout)
            if ready:
                self._serve(set(ready))
        self._flush()
        return (self._received.popleft() if self._received else None), False

    def send(self, msg: can.Message, timeout: float | None = None) -> None:
        """Send a frame to every program in raw mode; never waits.

        :raises can.CanOperationError: this bus has been shut down.
        """
        self._check_open()
        for client in self._clients.values():
            client.tell(msg)
        self._flush()

    def filenos(self) -> list[int]:
        """Return what can be waited for with ``select``."""
        listening = [] if self._listener is None else [self._listener]
        return [each.fileno() for each in (*listening, *self._clients)]

    def cut(self) -> None:
        """Pull the plug: whoever is connected is put out, and nobody can connect."""
        for each in (*self._clients, *([self._listener] if self._listener else [])):
            each.close()
        self._clients.clear()
        self._received.clear()
        self._listener = None

    def restore(self) -> None:
        """Plug in again, at the same address; where that is not free yet, the next call will."""
        if self._listener is None and not self._is_shut:
            with suppress(SimulationError):
                self._listener = _listen(self.number)

    def shutdown(self) -> None:
        """Close the port."""
        super().shutdown()
        self.cut()
        self._is_shut = True

    def _check_open(self) -> None:
        if self._is_shut:
            raise can.CanOperationError("the port is closed")

    def _serve(self, ready: set[int]) -> None:
        if self._listener is not None and self._listener.fileno() in ready:
            with suppress(OSError):
                connected, _ = self._listener.accept()
                connected.setblocking(False)
                if len(self._clients) < MOST_CLIENTS:
                    self._clients[connected] = Conversation()
                else:
                    connected.close()
        for connected, client in list(self._clients.items()):
            if connected.fileno() in ready:
                self._hear(connected, client)

    def _hear(self, connected: socket.socket, client: Conversation) -> None:
        try:
            received = connected.recv(_CHUNK)
        except BlockingIOError:
            return
        except OSError:
            received = b""
        if not received:
            self._put_out(connected)
            return
        frames = client.take(received)
        self._received.extend(frames)
        for other in self._clients.values():
            if other is not client:
                for frame in frames:
                    other.tell(frame)

    def _flush(self) -> None:
        for connected, client in list(self._clients.items()):
            try:
                if client.to_send:
                    del client.to_send[: connected.send(client.to_send)]
            except BlockingIOError:
                continue
            except OSError:
                client.broken = True
            if client.broken:
                self._put_out(connected)

    def _put_out(self, connected: socket.socket) -> None:
        self._clients.pop(connected, None)
        connected.close()


def _listen(number: int) -> socket.socket:
    try:
        listener = socket.create_server((HOST, number), backlog=MOST_CLIENTS)
    except OSError as error:
        raise SimulationError(
            # Python's own words repeat the address.
            f"The simulated vehicle cannot listen on {HOST}:{number}: "
            f"{os.strerror(error.errno or 0)}.",
            detail=repr(error),
        ) from error
    listener.setblocking(False)
    return listener
