"""The plan of read requests that looks for identifiers."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from udsoncan.Request import Request
from udsoncan.services.ReadDataByIdentifier import ReadDataByIdentifier

from brimline.errors import BusError
from brimline.signals.identifier_scan import (
    MOST_IDENTIFIERS,
    MOST_SILENCES,
    PAUSE_S,
    Ending,
    Outcome,
    ScanReport,
    ScanRequest,
    scan_identifiers,
    scan_range,
)

ASK, ANSWER = 0x7E1, 0x7E9
IDS = {"request_id": ASK, "response_id": ANSWER, "check_is_open": False}


class Unit:
    """A control unit of tables: identifiers with data, else a negative code, else silence."""

    def __init__(self, records: dict[int, bytes], otherwise: int | None = 0x31) -> None:
        self.records = records
        self.otherwise = otherwise
        self.asked: list[ScanRequest] = []

    def answer(self, request: ScanRequest) -> bytes:
        self.asked.append(request)
        record = self.records.get(request.identifier)
        if record is not None:
            return b"\x62" + request.payload[1:] + record
        return b"" if self.otherwise is None else bytes([0x7F, 0x22, self.otherwise])


def drive(unit: Unit, first: int = 0x1000, last: int = 0x10FF, thinks: float = 0.03) -> ScanReport:
    report = ScanReport()
    scan = scan_range(first, last, report, **IDS)
    now = 0.0
    request = next(scan, None)
    while request is not None:
        now = max(now, request.not_before) + thinks
        try:
            request = scan.send(Outcome(now, unit.answer(request)))
        except StopIteration:
            request = None
    return report


def test_what_answers_is_found_and_nothing_else() -> None:
    unit = Unit({0x1001: b"\x5a", 0x10FE: b"\x00\x01\x02"})
    report = drive(unit)
    assert report.records == unit.records
    assert (report.asked, report.ending) == (256, Ending.COMPLETE)
    assert [each.identifier for each in unit.asked] == list(range(0x1000, 0x1100))


@given(first=st.integers(0, 0xFFFF), count=st.integers(1, 40))
def test_only_read_requests_are_planned(first: int, count: int) -> None:
    # ISO 14229-1: 22 is ReadDataByIdentifier, followed by the identifier; udsoncan reads the same
    unit = Unit({})
    drive(unit, first, min(0xFFFF, first + count - 1))
    for request in unit.asked:
        assert request.payload == b"\x22" + request.identifier.to_bytes(2, "big")
        assert (request.request_id, request.response_id) == (ASK, ANSWER)
        assert Request.from_payload(request.payload).service is ReadDataByIdentifier


def test_it_asks_slowly() -> None:
    unit = Unit({0x1002: b"\x01"})
    drive(unit, thinks=0.05)
    times = [each.not_before for each in unit.asked]
    gaps = [later - sooner for sooner, later in pairwise(times)]
    assert min(gaps) >= PAUSE_S
    assert len(times) / (times[-1] + PAUSE_S) <= 5


def test_a_silent_unit_is_left_alone() -> None:
    unit = Unit({0x1000: b"\x01"}, otherwise=None)
    report = drive(unit)
    assert report.ending is Ending.SILENT
    assert report.asked == 1 + MOST_SILENCES


@pytest.mark.parametrize("code", [0x11, 0x22, 0x7E, 0x7F, 0x10])
def test_a_unit_that_will_not_be_read_is_left_alone(code: int) -> None:
    # ISO 14229-1: service not supported, conditions not correct, not in this session, general
    report = drive(Unit({}, otherwise=code))
    assert report.ending is Ending.REFUSED
    assert report.asked == 3


def test_locked_identifiers_are_named_and_passed_over() -> None:
    report = drive(Unit({}, otherwise=0x33), 0x1000, 0x1009)  # security access denied
    assert report.ending is Ending.COMPLETE
    assert report.locked == list(range(0x1000, 0x100A))
    assert report.asked == 10


def test_a_busy_unit_is_asked_again_later_but_not_for_ever() -> None:
    unit = Unit({}, otherwise=0x21)  # busy, repeat request
    report = drive(unit)
    assert report.ending is Ending.REFUSED
    assert report.asked == 3 * 4
    assert unit.asked[1].not_before - unit.asked[0].not_before >= 1.0


@pytest.mark.parametrize(
    "message", [b"", b"\x62", b"\x62\x10", b"\x62\x10\x01\x05", b"\x62\x10\x00", b"\x7f\x22"]
)
def test_an_answer_to_something_else_is_no_answer(message: bytes) -> None:
    report = ScanReport()
    scan = scan_identifiers([0x1000], report, **IDS)
    next(scan)
    with pytest.raises(StopIteration):
        scan.send(Outcome(0.1, message))
    assert report.records == {}


def test_listed_identifiers_are_asked_for_once_each() -> None:
    report = ScanReport()
    scan = scan_identifiers([5, 7, 5], report, **IDS, start=9.0)
    assert next(scan).not_before == 9.0
    second = scan.send(Outcome(9.5, b"\x62\x00\x05\x01"))
    assert (second.identifier, second.not_before) == (7, 9.5 + PAUSE_S)


def test_never_during_a_check() -> None:
    during = IDS | {"check_is_open": True}
    with pytest.raises(BusError, match="check is under way"):
        scan_range(0, 1, ScanReport(), **during)


@pytest.mark.parametrize(
    ("first", "last"), [(5, 4), (-1, 4), (0xFFFF, 0x10000), (0, MOST_IDENTIFIERS)]
)
def test_a_plan_is_bounded(first: int, last: int) -> None:
    with pytest.raises(BusError, match=r"identifiers|Identifiers"):
        scan_range(first, last, ScanReport(), **IDS)


def test_a_list_is_bounded_too() -> None:
    for listed in ([], [0x10000], range(MOST_IDENTIFIERS + 1)):
        with pytest.raises(BusError, match=r"identifiers|Identifiers"):
            scan_identifiers(listed, ScanReport(), **IDS)
