"""What the program may say on a vehicle's bus, and when it asks for what.

Three services read and change nothing: 01 and 09 of SAE J1979 and ReadDataByIdentifier of
ISO 14229-1 (22). A sheet may ask for a fourth, TesterPresent (3E), which only keeps a unit from
falling asleep. :func:`check_permitted` lets these and the flow control of ISO 15765-2 pass, and
:func:`transmit`, through which every frame goes that the program sends, asks it.
"""

from __future__ import annotations

import logging
import re
from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import can
import isotp
from isotp.protocol import TransportLayerLogic
from udsoncan.ResponseCode import ResponseCode

from brimline.errors import BusError
from brimline.reading import SIGNAL_WORDS, SignalName
from brimline.specsheet.signal_map import ObdSignal, SignalMap, UdsSignal
from brimline.translation import tr

CURRENT_DATA, VEHICLE_INFORMATION, READ_BY_IDENTIFIER, TESTER_PRESENT = 0x01, 0x09, 0x22, 0x3E

PERMITTED_LENGTHS: Mapping[int, int] = {
    CURRENT_DATA: 2, VEHICLE_INFORMATION: 2, READ_BY_IDENTIFIER: 3,
}  # fmt: skip
"""The permitted services, and how long a request for one value is."""

STILL_THERE = bytes([TESTER_PRESENT, 0x80])
"""TesterPresent without an answer: bit 7 of its sub-function suppresses the positive one."""

_STILL_THERE_FORMS = (STILL_THERE, bytes([TESTER_PRESENT, 0x00]))

SEND_TIMEOUT_S = 0.1
"""An adapter that takes no frame for so long is as good as gone; waiting would hold up the check.
Not every backend of python-can heeds it."""

FUNCTIONAL_11, FUNCTIONAL_29 = 0x7DF, 0x18DB33F1
"""Requests to every control unit (ISO 15765-4)."""

ANSWERS_11, ANSWERS_29 = range(0x7E8, 0x7F0), range(0x18DAF100, 0x18DAF200)
"""The ids with which control units answer such a request (ISO 15765-4)."""

_NEGATIVE, _POSITIVE = 0x7F, 0x40
_BUSY, _RESPONSE_PENDING = 0x21, 0x78  # ISO 14229-1: repeat the request; the answer follows
_SINGLE_FRAME, _FLOW_CONTROL = 0, 3
_FLOW_CONTROL_BYTES, _CLASSIC_BYTES = 3, 8
_PADDING = 0x55  # ISO 15765-4 asks for eight bytes; which ones fill up is free
_STANDARD_IDS = 0x800
_WORD_START = re.compile(r"(?<=[a-z])(?=[A-Z])")
_LOGGER_NAME = "brimline.signals.isotp"


def check_permitted(data: bytes, *, tester_present: bool = False) -> None:
    """Let a frame pass that only reads, or that lets a long answer go on.

    :param data: the bytes of the frame.
    :param tester_present: whether the sheet asks for TesterPresent.
    :raises ValueError: anything else. Never caught: it would be a fault of the program.
    """
    kind = data[0] >> 4 if data else None
    if kind == _FLOW_CONTROL and _FLOW_CONTROL_BYTES <= len(data) <= _CLASSIC_BYTES:
        return
    if kind == _SINGLE_FRAME and 1 < len(data) <= _CLASSIC_BYTES:
        length = data[0] & 0x0F
        if PERMITTED_LENGTHS.get(data[1]) == length <= len(data) - 1:
            return
        if tester_present and length == 2 and data[1:3] in _STILL_THERE_FORMS:
            return
    raise ValueError(f"a frame that must never be sent: {data.hex()}")


def transmit(bus: can.BusABC, frame: can.Message, *, tester_present: bool = False) -> None:
    """Put a frame on a vehicle's bus: the only place where the program does so.

    :param tester_present: whether the sheet asks for TesterPresent.
    :raises ValueError: a frame that is not permitted.
    :raises can.CanError: the bus is gone; some backends raise ``OSError``.
    """
    if frame.is_remote_frame or frame.is_error_frame or frame.is_fd:
        raise ValueError("a kind of frame that must never be sent")
    check_permitted(bytes(frame.data), tester_present=tester_present)
    bus.send(frame, timeout=SEND_TIMEOUT_S)


def request_frame(can_id: int, payload: bytes, *, tester_present: bool = False) -> can.Message:
    """Return the frame of a request.

    :param can_id: on which it is asked; above 0x7FF it is a 29-bit one.
    :param payload: service and PID, or service and identifier.
    :param tester_present: whether the sheet asks for TesterPresent.
    :raises ValueError: a service that the program must not use.
    """
    if len(payload) >= _CLASSIC_BYTES:
        raise ValueError(f"a request that must never be sent: {payload.hex()}")
    data = bytes([len(payload)]) + payload
    check_permitted(data, tester_present=tester_present)
    return _frame(can_id, data.ljust(8, bytes([_PADDING])))


def _frame(can_id: int, data: bytes) -> can.Message:
    extended = can_id >= _STANDARD_IDS
    return can.Message(arbitration_id=can_id, is_extended_id=extended, data=data)


def physical_request_id(response_id: int) -> int | None:
    """Return the id on which the unit that answers with ``response_id`` is asked alone.

    7E8 to 7EF belong to 7E0 to 7E7, and 18DAF1xx to 18DAxxF1 (ISO 15765-4, from memory). For any
    other id it is not known: ``None``.
    """
    if 0x7E8 <= response_id <= 0x7EF:
        return response_id - 8
    if response_id & 0x1FFFFF00 == 0x18DAF100:
        return 0x18DA00F1 | (response_id & 0xFF) << 8
    return None


@dataclass
class Ask:
    """One value that is asked for again and again.

    :param can_id: of the request; ``flow_id`` the one on which its unit is asked alone.
    :param period: between requests in s.
    :param due: when it is asked next, in s; ``None``: at once.
    :param failed: how often in a row it was not answered; ``busy`` how often in a row its unit
        was busy.
    """

    signal: SignalName | None
    response_id: int
    can_id: int
    flow_id: int | None
    payload: bytes
    period: float
    due: float | None = None
    failed: int = 0
    busy: int = 0

    @property
    def words(self) -> str:
        """What is asked for, for people."""
        number = self.payload[1:].hex().upper()
        if self.payload[0] == CURRENT_DATA:
            return tr("PID {number}", number=number)
        return tr("identifier {number}", number=number)

    @property
    def to_all(self) -> bool:
        """Whether every unit hears the request."""
        return self.can_id in (FUNCTIONAL_11, FUNCTIONAL_29)

    def answers(self, message: bytes) -> bool:
        """Return whether a message is the positive answer."""
        start = bytes([self.payload[0] + _POSITIVE]) + self.payload[1:]
        return message.startswith(start)

    def refuses(self, message: bytes) -> int | None:
        """Return the code of a negative answer, ``None`` where it is none."""
        if len(message) >= 3 and message[:2] == bytes([_NEGATIVE, self.payload[0]]):
            return message[2]
        return None


def is_pending(code: int) -> bool:
    """Return whether a negative answer only asks for patience."""
    return code == _RESPONSE_PENDING


def is_busy(code: int) -> bool:
    """Return whether a negative answer asks for the request once more."""
    return code == _BUSY


def refusal_name(code: int) -> str:
    """Return the name of a negative response code (ISO 14229-1), as words.

    :param code: 0 to 255; one that the standard does not name is told as a number.
    """
    name = ResponseCode.get_name(code)
    if not name or not name[0].isalpha():
        return tr("code {code:02X}", code=code)
    return _WORD_START.sub(" ", name).replace("_", " ").lower()


def is_answer_to_all(can_id: int, *, extended: bool) -> bool:
    """Return whether units answer a request to all with this id (ISO 15765-4)."""
    if extended:
        return can_id & 0x1FFFFFFF in ANSWERS_29
    return can_id in ANSWERS_11


def plan_requests(
    signal_map: SignalMap, rates: Mapping[SignalName, float], *, obd_physical: bool
) -> list[Ask]:
    """Return what must be asked for; broadcasts and columns of a table need no asking.

    :param rates: requests per s for each signal, above 0.
    :param obd_physical: ask PIDs of their own unit alone where its id is known.
    :raises BusError: a sheet that asks and answers with the same id.
    """
    asks = []
    for signal, mapped in signal_map.items():
        if isinstance(mapped, ObdSignal):
            response = mapped.response_id
            alone = physical_request_id(response)
            every = FUNCTIONAL_29 if response >= _STANDARD_IDS else FUNCTIONAL_11
            can_id = alone if obd_physical and alone is not None else every
            payload = bytes([CURRENT_DATA, mapped.pid])
        elif isinstance(mapped, UdsSignal):
            response, can_id = mapped.response_id, mapped.request_id
            common = can_id in (FUNCTIONAL_11, FUNCTIONAL_29)
            alone = physical_request_id(response) if common else can_id
            payload = bytes([READ_BY_IDENTIFIER]) + mapped.identifier.to_bytes(2, "big")
        else:
            continue
        if response in (can_id, alone):
            words = tr(SIGNAL_WORDS[signal])
            raise BusError(
                tr(
                    "The spec sheet asks for the {words} with the id of the answer, {response:X}.",
                    words=words,
                    response=response,
                )
            )
        asks.append(Ask(signal, response, can_id, alone, payload, 1 / rates[signal]))
    return asks


@dataclass
class Line:
    """The conversation with the unit behind one response id: one request at a time.

    :param asks: what it is asked for.
    :param send: puts a frame on the bus.
    """

    asks: list[Ask]
    send: Callable[[can.Message], None]
    outstanding: Ask | None = None
    deadline: float = 0.0
    _inbox: deque[isotp.CanMessage] = field(default_factory=deque)

    def __post_init__(self) -> None:
        # The library warns of every frame that does not fit; time-outs are counted instead.
        logging.getLogger(_LOGGER_NAME).setLevel(logging.CRITICAL)
        response_id = self.asks[0].response_id
        self._extended = response_id >= _STANDARD_IDS
        modes = isotp.AddressingMode
        mode = modes.Normal_29bits if self._extended else modes.Normal_11bits
        self._response_id = response_id
        self._stack = TransportLayerLogic(
            rxfn=lambda _timeout: self._inbox.popleft() if self._inbox else None,
            txfn=self._let_go_on,
            # The real id is that of the outstanding request, see _let_go_on.
            address=isotp.Address(mode, rxid=response_id, txid=response_id ^ 1),
            error_handler=lambda _fault: None,  # what is missing then shows as a time-out
            params={
                "blocksize": 0,
                "tx_padding": _PADDING,
                "rx_consecutive_frame_timeout": 10**9,  # the deadline judges, in the caller's time
                "wait_func": lambda _seconds: None,
                "logger_name": _LOGGER_NAME,
            },
        )

    def _let_go_on(self, frame: isotp.CanMessage) -> None:
        if self.outstanding is not None and self.outstanding.flow_id is not None:
            self.send(_frame(self.outstanding.flow_id, bytes(frame.data)))

    def ask(self, ask: Ask, deadline: float) -> None:
        """Send a request that must be answered by the deadline (s)."""
        self.outstanding, self.deadline = ask, deadline
        self.send(request_frame(ask.can_id, ask.payload))

    def hear(self, frame: can.Message) -> bytes | None:
        """Take a frame of the unit; return the message that it completes, if any.

        Only while something is asked: other testers' conversations need no flow control of ours.
        """
        if self.outstanding is None or frame.is_extended_id != self._extended:
            return None
        data = bytes(frame.data)
        self._inbox.append(
            isotp.CanMessage(self._response_id, len(data), data, extended_id=self._extended)
        )
        self._stack.process()
        message = self._stack.recv()
        return None if message is None else bytes(message)

    def give_up(self) -> None:
        """Wait no longer for the outstanding answer."""
        self.outstanding = None
        self._stack.stop_receiving()
