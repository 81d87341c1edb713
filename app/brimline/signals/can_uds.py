"""Decode replies to diagnostic requests that somebody else sends: nothing is ever transmitted.

Replies travel over ISO-TP (ISO 15765-2), in one frame or several. can-isotp puts them together in
its listen mode, one reassembler for each response id. Two kinds carry readings:

* service 01 of SAE J1979, positive reply 41: PID 05 is A − 40 °C, 0C is (256 A + B) / 4 rpm and
  0D is A km/h;
* ReadDataByIdentifier of ISO 14229-1, positive reply 62, laid out as the spec sheet says.

Negative replies (7F) and everything else give no reading, and no bytes whatever raise an error.
"""

from __future__ import annotations

import logging
import math
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar, Protocol

import isotp
from isotp.protocol import TransportLayerLogic
from udsoncan.services.ReadDataByIdentifier import ReadDataByIdentifier

from brimline.reading import Quality, Reading, SignalName
from brimline.signals.limits import judge
from brimline.specsheet.signal_map import ObdSignal, UdsSignal

LONGEST_GAP_S = 0.25
"""Consecutive frames further apart than this (s) are not one message. ISO 15765-2 lets a sender
pause for 127 ms at most (STmin), though a receiver may wait 1 s (N_Cr; both from memory). So long
a wait would join the head of one answer with the tail of the next, where frames were lost."""

_STANDARD_IDS = 0x800
_SHORTEST_SEGMENTED = 8  # anything shorter fits a single frame
_FIRST_FRAME, _CONSECUTIVE_FRAME = 1, 2
_LOGGER_NAME = "brimline.signals.isotp"
_POSITIVE_REPLY = bytes([ReadDataByIdentifier.response_id()])

# Bytes of data behind each PID. One reply may answer several PIDs; those that are not listed end
# the reading of a reply, because where the next one starts is not known. From SAE J1979; 0F and 46
# from memory, the others as in the sources that tests/data/README.md names.
_PID_BYTES = {0x05: 1, 0x0C: 2, 0x0D: 1, 0x0F: 1, 0x46: 1, 0x5C: 1}


class Reassembler:
    """Puts the ISO-TP messages of one sender together, passively.

    The time between frames is judged by the time of the recording, not by the clock: a replay
    runs at any speed.

    :param response_id: the sender's CAN id; above 0x7FF it is a 29-bit one.
    """

    def __init__(self, response_id: int) -> None:
        self.faults = 0
        """Frames that were no sound part of a message, so far."""
        self._id = response_id
        self._extended = response_id >= _STANDARD_IDS
        self._inbox: deque[isotp.CanMessage] = deque()
        self._last: float | None = None
        # The library writes one warning for each faulty frame; they are counted instead.
        logging.getLogger(_LOGGER_NAME).setLevel(logging.CRITICAL)
        self._stack = self._listening_stack()

    def _listening_stack(self) -> TransportLayerLogic:
        modes = isotp.AddressingMode
        mode = modes.Normal_29bits if self._extended else modes.Normal_11bits
        # The id to send with must be another one; in listen mode it is never used.
        address = isotp.Address(mode, rxid=self._id, txid=self._id ^ 1)
        return TransportLayerLogic(
            rxfn=self._next_frame,
            txfn=lambda _frame: None,  # never called in listen mode, and there is no bus here
            address=address,
            error_handler=self._count_fault,
            params={
                "listen_mode": True,
                "blocksize": 0,
                "rx_consecutive_frame_timeout": 10**9,  # ms of the clock: out of the way
                "wait_func": lambda _seconds: None,
                "logger_name": _LOGGER_NAME,
            },
        )

    def _next_frame(self, _timeout: float) -> isotp.CanMessage | None:
        return self._inbox.popleft() if self._inbox else None

    def _count_fault(self, _fault: Exception) -> None:
        self.faults += 1

    def feed(self, t: float, data: bytes) -> bytes | None:
        """Take the next frame of the sender; return the message that it completes, if any.

        :param t: time of the frame in s, never decreasing.
        :param data: the bytes of the frame.
        """
        frame_type = data[0] >> 4 if data else None
        if frame_type in (_FIRST_FRAME, _CONSECUTIVE_FRAME):
            if self._last is not None and t - self._last > LONGEST_GAP_S:
                self._stack.stop_receiving()
            self._last = t
            if frame_type == _FIRST_FRAME and _declared_length(data) < _SHORTEST_SEGMENTED:
                self._stack.stop_receiving()  # can-isotp would accept it, the standard does not
                self.faults += 1
                return None
        self._inbox.append(
            isotp.CanMessage(self._id, len(data), bytes(data), extended_id=self._extended)
        )
        self._stack.process()
        message = self._stack.recv()
        return None if message is None else bytes(message)


def _declared_length(first_frame: bytes) -> int:
    """Return the length that a first frame declares; 0 where it is too short to declare one."""
    short = int.from_bytes(first_frame[:2], "big") & 0xFFF if len(first_frame) > 1 else 0
    return short or int.from_bytes(first_frame[2:6], "big")


class ReplyDecoder(Protocol):
    """Makes the reading of one signal out of whole replies."""

    @property
    def signal(self) -> SignalName:
        """The signal whose readings it makes."""

    @property
    def response_id(self) -> int:
        """The CAN id of the replies."""

    @property
    def words(self) -> str:
        """Where the signal is, for people."""

    def decode(self, t: float, message: bytes) -> Reading | None:
        """Return the reading in a reply, or ``None`` where there is none."""


@dataclass(frozen=True)
class ObdDecoder:
    """Service 01 replies (SAE J1979).

    :param signal: the signal that the sheet maps.
    :param mapped: the PID and the CAN id of the replies.
    """

    signal: SignalName
    mapped: ObdSignal

    _FORMULAS: ClassVar[dict[int, Callable[[int], float]]] = {
        0x05: lambda raw: raw - 40.0,
        0x0C: lambda raw: raw / 4,
        0x0D: float,
    }

    @property
    def response_id(self) -> int:
        """The CAN id of the replies."""
        return self.mapped.response_id

    @property
    def words(self) -> str:
        """Where the signal is, for people."""
        return f"OBD PID {self.mapped.pid:02X} in replies {self.mapped.response_id:X}"

    def decode(self, t: float, message: bytes) -> Reading | None:
        """Return the reading in a reply, or ``None`` where the reply is about something else."""
        field = _pid_field(message, self.mapped.pid)
        if field is None:
            return None
        value = self._FORMULAS[self.mapped.pid](int.from_bytes(field, "big"))
        source = f"obd {self.mapped.response_id:X} pid {self.mapped.pid:02X}"
        return Reading(t, self.signal, value, judge(self.signal, value), source=source)


def _pid_field(message: bytes, wanted: int) -> bytes | None:
    """Return the data behind one PID in a positive service 01 reply."""
    if not message or message[0] != 0x41:
        return None
    at = 1
    while at < len(message):
        pid, length = message[at], _PID_BYTES.get(message[at])
        if length is None:
            return None
        field = message[at + 1 : at + 1 + length]
        if pid == wanted:
            return field if len(field) == length else None
        at += 1 + length
    return None


@dataclass(frozen=True)
class UdsDecoder:
    """ReadDataByIdentifier replies (ISO 14229-1), laid out as the sheet says.

    Only the first identifier of a reply is looked at: where a second one starts depends on the
    length of the first, which the sheet need not know.

    :param signal: the signal that the sheet maps.
    :param mapped: the identifier, the CAN id of the replies and the layout of the value.
    """

    signal: SignalName
    mapped: UdsSignal

    @property
    def response_id(self) -> int:
        """The CAN id of the replies."""
        return self.mapped.response_id

    @property
    def words(self) -> str:
        """Where the signal is, for people."""
        mapped = self.mapped
        return f"UDS identifier {mapped.identifier:04X} in replies {mapped.response_id:X}"

    def decode(self, t: float, message: bytes) -> Reading | None:
        """Return the reading in a reply, or ``None`` where it is negative, other or too short."""
        data = message[1:]
        if message[:1] != _POSITIVE_REPLY or len(data) < 2:
            return None
        if int.from_bytes(data[:2], "big") != self.mapped.identifier:
            return None
        start = 2 + self.mapped.first_byte
        field = data[start : start + self.mapped.length]
        if len(field) < self.mapped.length:
            return None
        value, quality = self._value(field)
        source = f"uds {self.mapped.response_id:X} did {self.mapped.identifier:04X}"
        return Reading(t, self.signal, value, quality, source=source)

    def _value(self, field: bytes) -> tuple[float | str | None, Quality]:
        unsigned = int.from_bytes(field, "big")
        raw = int.from_bytes(field, "big", signed=self.mapped.signed)
        # A sheet may write a signed FF as 255 or as −1; neither can be mistaken for another.
        if raw in self.mapped.not_available or unsigned in self.mapped.not_available:
            return None, Quality.NOT_AVAILABLE
        if self.mapped.names:
            name = self.mapped.names.get(str(raw))
            return (name, Quality.GOOD) if name else (str(raw), Quality.OUT_OF_RANGE)
        value = raw * self.mapped.scale + self.mapped.offset
        if not math.isfinite(value):
            return None, Quality.OUT_OF_RANGE
        return value, judge(self.signal, value)
