"""Listens on a bus for whatever behaves like a fluid's temperature; never during a check.

Everything broadcast is followed. Besides, generic OBD is asked for the coolant and the engine's
speed, against which the candidates are compared, and on wish one control unit for a range of
identifiers: first all of them once, then those that answered, again and again, as the engine warms.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import suppress

import can

from brimline.errors import BusError
from brimline.signals.discovery import Survey
from brimline.signals.identifier_scan import (
    Outcome,
    Scan,
    ScanReport,
    ScanRequest,
    scan_identifiers,
    scan_range,
)
from brimline.signals.requests import (
    CURRENT_DATA,
    FUNCTIONAL_11,
    FUNCTIONAL_29,
    Ask,
    Line,
    is_pending,
    transmit,
)
from brimline.translation import tr

ANSWER_S = 0.5
"""So long a unit may take to answer, in s; ``PENDING_S`` once it has asked for patience."""
PENDING_S = 5.0

TRIES = 3
"""So often one identifier is asked for before its unit counts as silent: frames get lost."""

_ENGINE_UNIT = {11: 0x7E8, 29: 0x18DAF110}
_EVERY = {11: FUNCTIONAL_11, 29: FUNCTIONAL_29}
_COOLANT, _SPEED = 0x05, 0x0C
_PERIOD_S = 1.0
_MOST_FRAMES = 5_000

_log = logging.getLogger(__name__)


class DiscoveryRun:
    """One listening. Call :meth:`pump` about ten times a second; it never waits.

    :param bus: an open bus; whoever opened it shuts it down.
    :param identifiers: 11 or 29: bits of generic requests.
    :param may_ask: whether anything may be sent.
    """

    def __init__(self, bus: can.BusABC, *, identifiers: int = 11, may_ask: bool = True) -> None:
        self.survey = Survey()
        """What was heard, and what it may be."""
        self.report = ScanReport()
        """What the latest range of identifiers gave."""
        self.lost = ""
        """One sentence once the bus is gone, else empty."""
        self._bus = bus
        own, every = _ENGINE_UNIT[identifiers], _EVERY[identifiers]
        self._generic = (
            [_ask(own, every, bytes([CURRENT_DATA, pid])) for pid in (_COOLANT, _SPEED)]
            if may_ask
            else []
        )
        self._engine = _line(bus, own)
        self._scan: Scan | None = None
        self._request: ScanRequest | None = None
        self._unit: Line | None = None
        self._tried = 0  # times that the request under way was sent

    def read_range(
        self, first: int, last: int, request_id: int, response_id: int, now: float
    ) -> None:
        """Read a range of identifiers, both ends included, from one unit besides.

        :raises BusError: the range is empty, too wide, or no range.
        """
        report = ScanReport()
        scan = scan_range(
            first, last, report, request_id=request_id, response_id=response_id,
            check_is_open=False, start=now,
        )  # fmt: skip
        self._unit = _line(self._bus, response_id)
        self.report, self._scan, self._request = report, scan, next(scan)

    def pump(self, now: float) -> None:
        """Take in what came and ask for what is due at ``now`` (s, never decreasing)."""
        if self.lost:
            return
        try:
            for frame in self._frames():
                self._hear(now, frame)
            self._give_up_late(now)
            self._ask_generic(now)
            self._ask_next(now)
        except (can.CanError, OSError) as error:
            _log.info("bus lost while listening: %r", error)
            self.lost = tr(
                "The connection to the bus is lost: check the adapter, then begin again."
            )

    def _frames(self) -> Iterator[can.Message]:
        silences = 0
        for _ in range(_MOST_FRAMES):
            frame = None
            with suppress(ValueError, IndexError):  # noise on a serial adapter's line
                frame = self._bus.recv(timeout=0)
            if frame is not None:
                silences = 0
                yield frame
                continue
            silences += 1
            if silences == 2:  # see live.py on the serial backend's silences
                return

    def _hear(self, now: float, frame: can.Message) -> None:
        self.survey.take_frame(now, frame)
        if frame.is_error_frame or frame.is_remote_frame:
            return
        for line in (self._engine, self._unit):
            if line is None or line.outstanding is None:
                continue
            if frame.arbitration_id == line.outstanding.response_id:
                self._take(now, line, line.hear(frame))

    def _take(self, now: float, line: Line, message: bytes | None) -> None:
        ask = line.outstanding
        if message is None or ask is None:
            return
        code = ask.refuses(message)
        if code is not None and is_pending(code):
            line.deadline = now + PENDING_S
            return
        if code is None and not ask.answers(message):
            return  # an answer to another tester
        line.give_up()
        if line is self._engine:
            self._take_generic(now, message)
        else:
            self._go_on(now, message)

    def _take_generic(self, now: float, message: bytes) -> None:
        if message[1:2] == bytes([_COOLANT]) and len(message) >= 3:
            self.survey.take_coolant(now, message[2] - 40.0)  # SAE J1979
        elif message[1:2] == bytes([_SPEED]) and len(message) >= 4:
            self.survey.take_engine_speed(int.from_bytes(message[2:4], "big") / 4)

    def _go_on(self, now: float, message: bytes) -> None:
        """Tell the scan what came of its request; after its end, read again what answered."""
        request, self._tried = self._request, 0
        if self._scan is None or request is None:
            return
        record = message[3:] if message[:1] == b"\x62" else b""
        if record:
            self.survey.take_reply(
                now, request.identifier, record,
                request_id=request.request_id, response_id=request.response_id,
            )  # fmt: skip
        try:
            self._request = self._scan.send(Outcome(now, message))
        except StopIteration:
            self._scan = self._request = None
            self._begin_again(now, request)

    def _begin_again(self, now: float, last: ScanRequest) -> None:
        if not self.report.records:
            return
        with suppress(BusError):
            self._scan = scan_identifiers(
                self.report.records, ScanReport(), request_id=last.request_id,
                response_id=last.response_id, check_is_open=False, start=now + _PERIOD_S,
            )  # fmt: skip
            self._request = next(self._scan)

    def _give_up_late(self, now: float) -> None:
        for line in (self._engine, self._unit):
            if line is not None and line.outstanding is not None and now >= line.deadline:
                line.give_up()
                if line is self._unit and self._tried >= TRIES:
                    self._go_on(now, b"")

    def _ask_generic(self, now: float) -> None:
        due = [ask for ask in self._generic if ask.due is None or ask.due <= now]
        if due and self._engine.outstanding is None:
            due[0].due = now + _PERIOD_S
            self._engine.ask(due[0], now + ANSWER_S)

    def _ask_next(self, now: float) -> None:
        request, line = self._request, self._unit
        if request is None or line is None or line.outstanding is not None:
            return
        if request.not_before <= now:
            self._tried += 1
            line.ask(_ask(request.response_id, request.request_id, request.payload), now + ANSWER_S)


def _ask(response_id: int, can_id: int, payload: bytes) -> Ask:
    alone = None if can_id in _EVERY.values() else can_id
    return Ask(None, response_id, can_id, alone, payload, _PERIOD_S)


def _line(bus: can.BusABC, response_id: int) -> Line:
    # A line learns its id from its first request; what is sent goes through the one way out.
    first = _ask(response_id, response_id ^ 1, bytes([CURRENT_DATA, _COOLANT]))
    return Line([first], lambda frame: transmit(bus, frame))
