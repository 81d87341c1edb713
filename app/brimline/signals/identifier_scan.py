"""Which identifiers a control unit answers to: a bounded plan of read requests, one at a time.

The plan only asks with ReadDataByIdentifier (ISO 14229-1, service 22), which reads and changes
nothing; the frame of each request is formed where all others are and refused there if it were
anything else. It sends nothing itself: whoever drives it, the one scheduler of the live bus, puts
each request on the bus not before its time, waits, and sends the outcome back into the generator.
It knows no clock.

A scan is never part of a level check. It asks slowly, for few identifiers, and stops of its own
accord when the unit falls silent or says that it does not serve such requests.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable
from dataclasses import dataclass, field
from enum import StrEnum

from brimline.errors import BusError
from brimline.signals.requests import READ_BY_IDENTIFIER, request_frame
from brimline.specsheet.signal_map import CanId
from brimline.translation import tr

MOST_IDENTIFIERS = 512
"""In one plan. At the pace below that takes under two minutes."""

PAUSE_S = 0.2
"""Between an answer and the next request: five a second leave a bus and a unit in peace."""

MOST_SILENCES = 3
"""So many requests in a row without an answer end the scan: nobody is there, or not any more."""

MOST_REFUSALS_OF_CONDITION = 3
"""The same for answers that say that the unit will not be read now."""

_MOST_BUSY = 3  # times that one identifier is asked for again
_BUSY_PAUSE_S = 1.0
_HIGHEST = 0xFFFF
_POSITIVE = 0x62

# Negative response codes of ISO 14229-1.
_OUT_OF_RANGE, _SECURITY, _BUSY = 0x31, 0x33, 0x21
_NOT_THERE = (_OUT_OF_RANGE, _SECURITY)  # not for us, and no reason to stop


class Ending(StrEnum):
    """Why a scan is over."""

    COMPLETE = "complete"
    SILENT = "silent"  # the unit does not answer
    REFUSED = "refused"  # it does not serve this, or not now


@dataclass(frozen=True)
class ScanRequest:
    """What to send, and when.

    :param identifier: that is asked for.
    :param payload: service and identifier.
    :param not_before: in s of the driver's clock.
    """

    identifier: int
    request_id: CanId
    response_id: CanId
    payload: bytes
    not_before: float


@dataclass(frozen=True)
class Outcome:
    """What came of a request.

    :param t: when it was known, in s.
    :param message: the whole answer, positive or negative; empty where there was none in time. A
        “response pending” is no answer: the driver goes on waiting.
    """

    t: float
    message: bytes = b""


@dataclass
class ScanReport:
    """What a scan has found so far, and at its end why it ended.

    :param records: the data behind each identifier that was answered.
    :param locked: identifiers that need an unlocked unit, which this program never does.
    :param asked: requests so far.
    """

    records: dict[int, bytes] = field(default_factory=dict)
    locked: list[int] = field(default_factory=list)
    asked: int = 0
    ending: Ending | None = None


Scan = Generator[ScanRequest, Outcome, None]


def scan_range(
    first: int,
    last: int,
    report: ScanReport,
    *,
    request_id: CanId,
    response_id: CanId,
    check_is_open: bool,
    start: float = 0.0,
) -> Scan:
    """Plan the requests for every identifier from ``first`` to ``last``, both included.

    :param report: is filled in as answers come.
    :param check_is_open: whether a level check is under way; then there is no scan.
    :param start: time of the first request in s.
    :raises BusError: a check is under way, or the range is empty, too wide or no range.
    """
    if not 0 <= first <= last <= _HIGHEST:
        raise BusError(tr("Identifiers go from 0000 to FFFF, the first one first."))
    return scan_identifiers(
        range(first, last + 1),
        report,
        request_id=request_id,
        response_id=response_id,
        check_is_open=check_is_open,
        start=start,
    )


def scan_identifiers(
    identifiers: Iterable[int],
    report: ScanReport,
    *,
    request_id: CanId,
    response_id: CanId,
    check_is_open: bool,
    start: float = 0.0,
) -> Scan:
    """Plan the requests for listed identifiers; parameters and errors as :func:`scan_range`."""
    if check_is_open:
        raise BusError(
            tr("A level check is under way: identifiers are looked for before or after it.")
        )
    wanted = list(dict.fromkeys(identifiers))
    if not 0 < len(wanted) <= MOST_IDENTIFIERS:
        raise BusError(
            tr(
                "Ask for 1 to {most_identifiers} identifiers at a time.",
                most_identifiers=MOST_IDENTIFIERS,
            )
        )
    if not all(0 <= each <= _HIGHEST for each in wanted):
        raise BusError(tr("Identifiers go from 0000 to FFFF."))
    requests = [_request(each, request_id, response_id) for each in wanted]
    return _run(requests, report, start)


def _request(identifier: int, request_id: CanId, response_id: CanId) -> ScanRequest:
    payload = bytes([READ_BY_IDENTIFIER]) + identifier.to_bytes(2, "big")
    request_frame(request_id, payload)  # raises if it were anything but a permitted request
    return ScanRequest(identifier, request_id, response_id, payload, 0.0)


def _run(requests: list[ScanRequest], report: ScanReport, start: float) -> Scan:
    due, silences, refusals = start, 0, 0
    for request in requests:
        for _ in range(1 + _MOST_BUSY):
            report.asked += 1
            outcome = yield _at(request, due)
            code = _refusal(outcome.message)
            due = max(due, outcome.t) + (_BUSY_PAUSE_S if code == _BUSY else PAUSE_S)
            if code != _BUSY:
                break
        record = _record(request, outcome.message)
        if record is not None:
            report.records[request.identifier] = record
        elif code == _SECURITY:
            report.locked.append(request.identifier)
        answered = record is not None or code is not None
        silences = 0 if answered else silences + 1
        refusals = refusals + 1 if code is not None and code not in _NOT_THERE else 0
        if silences == MOST_SILENCES:
            report.ending = Ending.SILENT
            return
        if refusals == MOST_REFUSALS_OF_CONDITION:
            report.ending = Ending.REFUSED
            return
    report.ending = Ending.COMPLETE


def _at(request: ScanRequest, due: float) -> ScanRequest:
    return ScanRequest(
        request.identifier, request.request_id, request.response_id, request.payload, due
    )


def _refusal(message: bytes) -> int | None:
    """Return the code of a negative answer to service 22, ``None`` where it is none."""
    if len(message) >= 3 and message[0] == 0x7F and message[1] == READ_BY_IDENTIFIER:
        return message[2]
    return None


def _record(request: ScanRequest, message: bytes) -> bytes | None:
    """Return the data of the positive answer to this request, ``None`` where it is none."""
    head = bytes([_POSITIVE]) + request.payload[1:]
    return message[3:] if len(message) > 3 and message.startswith(head) else None
