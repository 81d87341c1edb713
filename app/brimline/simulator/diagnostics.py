"""One control unit that answers diagnostic requests, and only by telling what it knows.

Services 01 and 09 of SAE J1979, ReadDataByIdentifier and TesterPresent of ISO 14229-1 (services 22
and 3E) are answered; everything else gets a negative response, and nothing whatever changes the
vehicle. Messages travel over ISO-TP (ISO 15765-2) with can-isotp. What is marked so below is from
memory.
"""

from __future__ import annotations

import logging
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field

import can
import isotp
from isotp.protocol import TransportLayerLogic

from brimline.simulator.line_faults import Manners

Record = Callable[[], bytes]
"""Gives the present data of a PID or identifier."""

FUNCTIONAL_11, FUNCTIONAL_29 = 0x7DF, 0x18DB33F1
"""Requests to every control unit (ISO 15765-4)."""

CURRENT_DATA, VEHICLE_INFORMATION, READ_BY_IDENTIFIER = 0x01, 0x09, 0x22
TESTER_PRESENT, SAY_NOTHING = 0x3E, 0x80
SERVICE_NOT_SUPPORTED, SUBFUNCTION_NOT_SUPPORTED = 0x11, 0x12
INCORRECT_LENGTH, REQUEST_OUT_OF_RANGE = 0x13, 0x31

# To a request that went to every unit, a unit does not say that it is the wrong one (from memory).
_SILENT_WHEN_FUNCTIONAL = (SERVICE_NOT_SUPPORTED, SUBFUNCTION_NOT_SUPPORTED, REQUEST_OUT_OF_RANGE)

_NEGATIVE, _POSITIVE = 0x7F, 0x40
_MOST_PIDS = 6  # in one request (SAE J1979, from memory)
_STANDARD_IDS = 0x800
_MOST_ANSWERS_WAITING = 64
_LOGGER_NAME = "brimline.simulator.isotp"


def is_extended(can_id: int) -> bool:
    """Return whether an identifier is a 29-bit one."""
    return can_id >= _STANDARD_IDS


def physical_request_id(response_id: int) -> int:
    """Return the id on which a unit that answers with ``response_id`` is asked alone.

    7E8 to 7EF belong to 7E0 to 7E7, and 18DAF1xx to 18DAxxF1 (ISO 15765-4, from memory).
    """
    if is_extended(response_id):
        return response_id & 0x1FFF0000 | (response_id & 0xFF) << 8 | response_id >> 8 & 0xFF
    return response_id - 8


@dataclass
class Knowledge:
    """What a unit can be asked for: by PID, by information type, by data identifier."""

    pids: dict[int, Record] = field(default_factory=dict)
    information: dict[int, Record] = field(default_factory=dict)
    identifiers: dict[int, Record] = field(default_factory=dict)

    def answer(self, request: bytes, *, functional: bool) -> bytes | None:
        """Return the response to a request; ``None`` is silence."""
        if not request or request == bytes([TESTER_PRESENT, SAY_NOTHING]):
            return None
        reply = self._positive(request)
        if isinstance(reply, bytes):
            return reply
        if functional and reply in _SILENT_WHEN_FUNCTIONAL:
            return None
        return bytes([_NEGATIVE, request[0], reply])

    def _positive(self, request: bytes) -> bytes | int:
        service = request[0]
        if service == CURRENT_DATA and self.pids:
            return self._listed(request, self.pids, most=_MOST_PIDS)
        if service == VEHICLE_INFORMATION and self.information:
            return self._listed(request, self.information, most=1)
        if service == READ_BY_IDENTIFIER and self.identifiers:
            return self._by_identifier(request)
        if request == bytes([TESTER_PRESENT, 0]):
            return bytes([TESTER_PRESENT + _POSITIVE, 0])
        return SERVICE_NOT_SUPPORTED

    def _listed(self, request: bytes, known: dict[int, Record], *, most: int) -> bytes | int:
        if not 1 <= len(request) - 1 <= most:
            return INCORRECT_LENGTH
        told = b""
        for wanted in request[1:]:
            if wanted == 0:
                told += bytes([wanted]) + supported(known)
            elif wanted in known:
                told += bytes([wanted]) + known[wanted]()
        return bytes([request[0] + _POSITIVE]) + told if told else SUBFUNCTION_NOT_SUPPORTED

    def _by_identifier(self, request: bytes) -> bytes | int:
        if len(request) < 3 or len(request) % 2 == 0:
            return INCORRECT_LENGTH
        told = b""
        for at in range(1, len(request), 2):
            record = self.identifiers.get(int.from_bytes(request[at : at + 2], "big"))
            if record is not None:
                told += request[at : at + 2] + record()
        return bytes([READ_BY_IDENTIFIER + _POSITIVE]) + told if told else REQUEST_OUT_OF_RANGE


def supported(known: dict[int, Record]) -> bytes:
    """Return which of 01 to 20 are known, as PID 00 tells it: the top bit is 01."""
    bits = sum(1 << 0x20 - each for each in known if 1 <= each <= 0x20)
    return bits.to_bytes(4, "big")


class ControlUnit:
    """One control unit on the bus.

    :param request_id: on which it is asked alone.
    :param response_id: with which it answers.
    :param knowledge: what it can be asked for.
    :param send: puts a frame on the bus.
    :param manners: how it answers, where not at once.
    """

    def __init__(
        self,
        request_id: int,
        response_id: int,
        knowledge: Knowledge,
        send: Callable[[can.Message], None],
        manners: Manners | None = None,
    ) -> None:
        self._manners = manners or Manners()
        self._later: list[tuple[float, bytes]] = []
        self._request_id = request_id
        self._knowledge = knowledge
        self._functional_id = FUNCTIONAL_29 if is_extended(response_id) else FUNCTIONAL_11
        # The library warns of every frame that does not fit; a control unit just ignores it.
        logging.getLogger(_LOGGER_NAME).setLevel(logging.CRITICAL)
        self._inbox: deque[isotp.CanMessage] = deque()
        self._own = self._stack(request_id, response_id, send, listen=False)
        self._common = self._stack(self._functional_id, response_id, send, listen=True)

    def _stack(
        self, hears: int, says: int, send: Callable[[can.Message], None], *, listen: bool
    ) -> TransportLayerLogic:
        modes = isotp.AddressingMode
        mode = modes.Normal_29bits if is_extended(says) else modes.Normal_11bits

        def transmit(frame: isotp.CanMessage) -> None:
            send(
                can.Message(
                    arbitration_id=frame.arbitration_id,
                    is_extended_id=frame.is_extended_id,
                    data=frame.data,
                )
            )

        return TransportLayerLogic(
            rxfn=lambda _timeout: self._inbox.popleft() if self._inbox else None,
            txfn=transmit,
            address=isotp.Address(mode, rxid=hears, txid=says),
            error_handler=lambda _fault: None,  # a tester that breaks off is no fault of the unit
            params={
                "listen_mode": listen,
                "tx_padding": 0x55,
                "blocksize": 0,
                "wait_func": lambda _seconds: None,
                "logger_name": _LOGGER_NAME,
            },
        )

    def hear(self, frame: can.Message, now: float = 0.0) -> None:
        """Take a frame of the bus and do what it asks for; ``now`` in s."""
        can_id = frame.arbitration_id
        if can_id not in (self._request_id, self._functional_id):
            return
        if frame.is_extended_id != is_extended(can_id):
            return
        functional = can_id == self._functional_id and can_id != self._request_id
        stack = self._common if functional else self._own
        self._inbox.append(
            isotp.CanMessage(
                can_id, len(frame.data), bytes(frame.data), extended_id=frame.is_extended_id
            )
        )
        stack.process()
        request = stack.recv()
        if request is not None:
            reply = self._knowledge.answer(bytes(request), functional=functional)
            if reply is not None:
                self._later += self._manners.replies(now, bytes(request), reply)
                del self._later[_MOST_ANSWERS_WAITING:]
        self.go_on(now)

    def go_on(self, now: float = 0.0) -> None:
        """Say what is due at ``now`` (s), and go on with a long answer as the tester allows."""
        if not (self._later or self._inbox or self._own.transmitting()):
            return  # nearly always: a bus is looked at far more often than something is asked
        due = [each for each in self._later if each[0] <= now]
        self._later = [each for each in self._later if each[0] > now]
        for _, reply in due:
            self._own.send(reply)
        self._own.process()
