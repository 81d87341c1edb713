"""The seal on the page, its code as an independent decoder reads it, and amendments."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

import pdf_text
import pytest
import zxingcpp
from finished_checks import ALL, SHOP
from painted import SCALE, last_page, painted
from printed import pdf_of, record_of

from brimline.records.model import Amendable, Amendment, Record
from brimline.report import content, layout
from brimline.units import METRIC, UNIT_SYSTEMS

SEAL = hashlib.sha256(b"sealed").hexdigest()
VIN = "0THFC3K71RL104218"


def summary_pdf(record: Record, units: str = "metric") -> bytes:
    return layout.render(content.build(record, units=UNIT_SYSTEMS[units], shop=SHOP))


@pytest.mark.parametrize("name", sorted(ALL))
@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_code_on_the_page_holds_the_whole_seal(name: str, units: str) -> None:
    page = last_page(pdf_of(name, units))
    (code,) = zxingcpp.read_barcodes(painted(page))
    assert code.format is zxingcpp.BarcodeFormat.QRCode
    assert code.text == f"brimline-seal:1:27:{SEAL}"
    assert code.ec_level == "M"
    # It stands by itself: no word begins on it or in the four modules around it.
    at = code.position
    left, right = at.top_left.x / SCALE - 4, at.top_right.x / SCALE + 4
    top = float(page.mediabox.height)
    low, high = top - at.bottom_left.y / SCALE - 4, top - at.top_left.y / SCALE + 4
    assert right < float(page.mediabox.width) - 40
    assert low > 46  # the line above the foot
    for x, y in words_at(page):
        assert not (left < x < right and low < y < high)


def words_at(page: pdf_text.Any) -> list[tuple[float, float]]:
    """Where each piece of text begins, in points."""
    found: list[tuple[float, float]] = []

    def visit(text: str, user: Sequence[float], matrix: Sequence[float], *_: object) -> None:
        if text.strip():
            x, y = matrix[4], matrix[5]
            a, b, c, d, e, f = user
            found.append((a * x + c * y + e, b * x + d * y + f))

    page.extract_text(visitor_text=visit)
    assert len(found) > 20
    return found


@pytest.mark.parametrize("number", [1, 999_999_999])
def test_a_code_for_any_record_number(number: int) -> None:
    record = record_of("runs_off")
    record = replace(record, header=replace(record.header, number=number))
    (code,) = zxingcpp.read_barcodes(painted(last_page(summary_pdf(record))))
    assert code.text == f"brimline-seal:1:{number}:{SEAL}"


def test_the_short_seal_is_printed() -> None:
    words = pdf_text.text(pdf_of("runs_off"))
    assert "Record seal c9d0 036b ed67 44bc, no. 27 of bay 1; the code holds all of it" in words


def test_a_record_without_a_seal_has_no_code() -> None:
    record = record_of("runs_off")
    record = replace(record, header=replace(record.header, seal=""))
    pdf = summary_pdf(record)
    assert zxingcpp.read_barcodes(painted(last_page(pdf))) == []
    assert "Record seal" not in pdf_text.text(pdf)
    assert "not sealed" in pdf_text.text(pdf)


def made(number: int, field: Amendable, was: str, value: str) -> Amendment:
    return Amendment(
        check_id="6f1c2a9e-4b7d-4c55-9d20-0c9a51b7e3f8", number=number,
        at=datetime(2026, 5, 6, 23, 30, tzinfo=UTC), author="M. Okafor-Lind",
        reason=f"Reason {number}.", field=field, was=was, value=value, bay="1", seal="",
        previous_seal="", seal_number=27 + number,
    )  # fmt: skip


def amended_pdf(name: str, *changes: Amendment, units: str = "metric") -> str:
    return pdf_text.text(summary_pdf(replace(record_of(name), amendments=changes), units))


@pytest.mark.parametrize(
    ("field", "was", "value", "head", "row"),
    [
        (Amendable.PLATE, "KRN 4417", "KRN 4471", "Plate KRN 4471 (amended)",
         "Plate KRN 4417 KRN 4471 Reason 1."),
        (Amendable.PLATE, "KRN 4417", "", "Plate none (amended)", "Plate KRN 4417 none Reason 1."),
        (Amendable.VIN, VIN, "0THFC3K73RL104219", "VIN 0THFC3K73RL104219 (amended)",
         f"VIN {VIN} 0THFC3K73RL104219"),
        (Amendable.WORK_ORDER, "HL-20417", "HL-20418", "Work order HL-20418 (amended)",
         "Work order HL-20417 HL-20418 Reason 1."),
        (Amendable.ODOMETER, "84210.0", "84120.0", "Odometer 84,120 km (amended)",
         "Odometer 84,210 km 84,120 km Reason 1."),
        (Amendable.TECHNICIAN, "R. Calloway", "R. Galloway", "Technician R. Galloway (amended)",
         "Technician R. Calloway R. Galloway Reason 1."),
    ],
)  # fmt: skip
def test_an_amended_value_is_shown_and_marked(
    field: Amendable, was: str, value: str, head: str, row: str
) -> None:
    words = amended_pdf("runs_off", made(1, field, was, value))
    assert head in words
    assert "Amendments Made after the check was sealed. What was sealed is kept" in words
    assert "Date By What Was Is Reason" in words
    assert f"6 May 2026 M. Okafor-Lind {row}" in words
    assert words.count("(amended)") == 1
    assert "Note on the VIN" not in words


def test_the_last_of_several_amendments_holds() -> None:
    words = amended_pdf(
        "runs_off",
        made(1, Amendable.ODOMETER, "84210.0", "84120.0"),
        made(2, Amendable.NOTE, "", "Shifts well since."),
        made(3, Amendable.ODOMETER, "84120.0", "84201.0"),
        units="us",
    )
    assert "Odometer 52,320 mi (amended)" in words  # 84,201 km / 1.609344
    assert "Note Shifts well since. Reason 2." in words
    assert "Odometer 52,270 mi 52,320 mi Reason 3." in words
    assert "km" not in words


def test_a_note_alone_marks_no_value() -> None:
    words = amended_pdf("runs_off", made(1, Amendable.NOTE, "", "Shifts well since."))
    assert "(amended)" not in words
    assert "Note Shifts well since." in words


def test_a_vehicle_that_was_identified_afterwards() -> None:
    words = amended_pdf("aborted_at_once", made(1, Amendable.VIN, "", VIN))
    assert f"VIN {VIN} (amended)" in words
    assert "not identified" not in words
    words = amended_pdf("aborted_at_once", made(1, Amendable.TECHNICIAN, "R. Calloway", "X"))
    assert "Vehicle not identified" in words


def test_an_amended_vin_is_looked_at_again() -> None:
    """Position 9 of 49 CFR 565.15 is free elsewhere: a warning, as when it was typed."""
    odd = "0THFC3K70RL104218"
    words = amended_pdf("runs_off", made(1, Amendable.VIN, VIN, odd))
    assert f"The check digit of VIN {odd} does not match" in words


def test_after_a_hand_over_only_the_one_name_changes() -> None:
    record = record_of("two_top_ups")
    last = record.header.technician
    words = amended_pdf("two_top_ups", made(1, Amendable.TECHNICIAN, last, "M. Okafor-Linde"))
    assert "Technician R. Calloway, from" in words
    assert "M. Okafor-Linde (amended)" in words


def test_a_summary_without_amendments_says_nothing_of_them() -> None:
    assert "mend" not in pdf_text.text(pdf_of("runs_off")).replace("recommend", "").replace(
        "Recommend", ""
    )
    assert METRIC is UNIT_SYSTEMS["metric"]
