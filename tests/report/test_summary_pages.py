"""The printed page as another program reads it."""

from __future__ import annotations

import io

import pdf_text
import pytest
from finished_checks import ALL, SHOP
from printed import pdf_of, record_of, summary_of
from pypdf import PdfReader

from brimline.procedure.events import Origin
from brimline.report import content, layout
from brimline.report.content import INVENTED, NO_SERVICE
from brimline.report.fonts import MISSING
from brimline.units import METRIC

VIN = "0THFC3K71RL104218"


@pytest.mark.parametrize("name", sorted(ALL))
@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_check_reads_sensibly(name: str, units: str) -> None:
    pages = pdf_text.pages(pdf_of(name, units))
    words = " ".join(pages)
    assert 1 <= len(pages) <= 2
    for wrong in ("None", "nan", MISSING, "  ", "<b>", "Verdict.", "_", " ,", " ."):
        assert wrong not in words
    for number, page in enumerate(pages, 1):
        assert page.endswith(f"Page {number} of {len(pages)}") or (
            f"Page {number} of {len(pages)}" in page
        )
        assert "Record 27 · 6f1c2a9e-4b7d-4c55-9d20-0c9a51b7e3f8" in page
        assert "seal c9d0 036b ed67 44bc" in page
    for always in ("Work summary", "Harrow Lane Driveline", "+1 555 0142",
                   "4 May 2026, 08:30 (UTC+00:00)",
                   "service information, local codes and licensed practice come first",
                   "k7-test: Tarnholm service leaflet K7-210 (invented), revision B, 20 April 2026",
                   "R. Calloway", "Target band"):  # fmt: skip
        assert always in words


@pytest.mark.parametrize("name", sorted(ALL))
def test_no_page_lacks_its_origin_band(name: str) -> None:
    opened = record_of(name).events[0]
    for page in pdf_text.pages(pdf_of(name)):
        assert (INVENTED in page) == opened.sheet.invented
        for origin, band in NO_SERVICE.items():
            assert (band in page) == (opened.origin is origin)


def test_the_bands_are_the_agreed_sentences() -> None:
    assert NO_SERVICE[Origin.REPLAY] == "REPLAY OF A RECORDING - NOT A SERVICE ON A VEHICLE"
    assert INVENTED == "Invented demonstration data - must not be used on a vehicle"
    assert Origin.LIVE not in NO_SERVICE
    assert Origin.KEYED not in NO_SERVICE


@pytest.mark.parametrize("name", sorted(ALL))
def test_fonts_are_embedded_and_no_others_named(name: str) -> None:
    fonts = pdf_text.fonts(pdf_of(name))
    assert fonts
    for font in fonts:
        assert "NotoSans" in font["/BaseFont"]
        assert font["/BaseFont"][7] == "+"  # the mark of a subset, ISO 32000-1, 9.6.4
        assert "/FontFile2" in font["/FontDescriptor"].get_object()
    assert b"Helvetica" not in pdf_of(name)
    assert b"Times-Roman" not in pdf_of(name)


@pytest.mark.parametrize("name", sorted(ALL))
def test_the_chart_is_vector(name: str) -> None:
    pdf = pdf_of(name)
    assert not [each for each in pdf_text.xobjects(pdf) if each["/Subtype"] == "/Image"]
    first = PdfReader(io.BytesIO(pdf)).pages[0].get_contents()
    assert first is not None
    curve = first.get_data().count(b" l ")
    assert (curve > 100) == (name != "aborted_at_once" and name not in SPARSE)


SPARSE = {"stripped_plug"}  # keyed readings: a point every 45 s


@pytest.mark.parametrize("name", sorted(ALL))
def test_files_stay_small(name: str) -> None:
    assert len(pdf_of(name)) < 80_000


@pytest.mark.parametrize(("units", "size"), [("metric", (595, 842)), ("us", (612, 792))])
def test_paper_follows_the_units(units: str, size: tuple[int, int]) -> None:
    box = PdfReader(io.BytesIO(pdf_of("two_top_ups", units))).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


def test_the_same_record_gives_the_same_bytes() -> None:
    record = record_of("provisional")
    again = layout.render(content.build(record, units=METRIC, shop=SHOP))
    assert again == pdf_of("provisional")


def test_the_file_says_what_it_is() -> None:
    info = PdfReader(io.BytesIO(pdf_of("runs_off"))).metadata
    assert info is not None
    assert info.title == f"Work summary {VIN}"
    assert info.author == "Harrow Lane Driveline"


def test_set_after_running_off() -> None:
    words = pdf_text.text(pdf_of("runs_off"))
    assert "Level set" in words
    assert "0.08 L ran off until it only dripped" in words
    assert "No fluid was added." in words
    assert "65 °C to 85 °C (normal duty)" in words
    assert f"{record_of('runs_off').header.closing_celsius:.1f} °C" in words
    for fact in (VIN, "KRN 4417", "84,210 km", "HL-20417", "Tarnholm K7 (K7-H)", "LC-0731",
                 "Shifts late from second to third when cold."):  # fmt: skip
        assert fact in words
    assert "Engine running read from the vehicle" in words
    assert "WARNING" not in words


def test_the_same_check_in_us_units() -> None:
    words = pdf_text.text(pdf_of("runs_off", "us"))
    celsius = record_of("runs_off").header.closing_celsius
    assert celsius is not None
    assert f"{celsius * 1.8 + 32:.1f} °F" in words
    assert "149 °F to 185 °F (normal duty)" in words
    assert "52,326 mi" in words  # 84,210 km / 1.609344
    assert "At 59 °F" in words
    assert "0.08 US qt ran off" in words
    assert "10.0 N·m" in words  # the wrench in hand was a metric one
    assert "°C" not in words


def test_corrected_by_two_top_ups() -> None:
    words = pdf_text.text(pdf_of("two_top_ups"))
    found = "Level corrected The fluid level was found low. 0.40 L of TF-Clear were added"
    assert found in words
    assert "Added (0.25 L + 0.15 L) 0.40 L 21 °C 0.40 L" in words
    assert "taps played from script two-top-ups" in words
    assert "Engine running confirmed by the script" in words
    assert "confirmed by the technician" not in words
    assert "R. Calloway, from" in words
    assert "M. Okafor-Lind" in words
    assert "Have the fluid changed." in words
    assert "The fluid is brown; the fluid smells stale" in words
    assert "engine coolant, stands in for the fluid" in words


def test_corrected_by_running_off() -> None:
    words = pdf_text.text(pdf_of("found_high"))
    assert "Level corrected The fluid level was found high. 0.60 L ran off" in words
    # 0.60 L at 73 °C with density 846 kg/m³: α = 0.6278/846, α·58 K = 0.04304, VCF = 0.9565.
    assert "Run off 0.60 L 73 °C 0.57 L" in words
    assert "Net –0.57 L" in words  # hot and cold amounts have one net, that at 15 °C


def test_referred_for_coolant() -> None:
    words = pdf_text.text(pdf_of("coolant_signs"))
    assert "Referred" in words
    assert "WARNING Do not drive this vehicle: the fluid shows signs of water or coolant" in words
    assert "signs seen" in words
    assert "milky" in words


def test_stripped_plug() -> None:
    words = pdf_text.text(pdf_of("stripped_plug"))
    assert "Check stopped" in words
    assert "WARNING Do not lower or drive the vehicle" in words
    assert "turns freely" in words
    assert "keyed in by the technician" in words
    assert "Keyed readings" in words


def test_stopped_before_anything() -> None:
    words = pdf_text.text(pdf_of("aborted_at_once"))
    assert "Check stopped" in words
    assert "the customer needs the vehicle back." in words
    assert "The check plug was never opened and no fluid was added." in words
    assert "No temperature was read during this check, so there is no chart." in words
    assert "Vehicle not identified" in words
    for absent in ("Condition of the fluid", "Fluid and amounts", "Check plug", "rests on", "VIN"):
        assert absent not in words


def test_stopped_because_the_recording_ended() -> None:
    words = pdf_text.text(pdf_of("recording_ended"))
    assert "the recording ended before the check did." in words
    assert "71 readings" in words
    assert "At closing" not in words


def test_stopped_with_the_plug_out() -> None:
    words = pdf_text.text(pdf_of("plug_left_out"))
    assert "WARNING The check plug is out. Do not run the engine and do not drive" in words
    assert "Plug out" in words
    assert "Run off not measured not known" in words
    assert "The assessment was not completed; this is the first look." in words


def test_recheck_after_an_override_and_a_band_left() -> None:
    words = pdf_text.text(pdf_of("provisional", "us"))
    assert "Recheck needed" in words
    assert "the temperature left the target band with the plug out" in words
    assert "The vehicle's tilt was not measured. The lift was levelled this morning." in words
    assert "197.6 °F and above; plug never out above 221 °F (sustained load duty)" in words
    assert "Have the fluid level checked again after a drive." in words
    assert "Have the fluid looked at again at the next service." in words
    assert "Have the fluid changed (the fluid is brown" in words
    assert "Changed 8,000 km ago; the customer has the invoice." in words
    assert "It was not repeated at once: the bay is needed." in words
    assert "Tightened to 89.4 in·lbf Spec sheet 88.5 ± 8.9 in·lbf" in words  # 10.1 N·m / 0.1129848
    assert "not measured not done" in words


def test_a_lost_signal_is_told() -> None:
    words = pdf_text.text(pdf_of("signal_lost"))
    assert "read from the vehicle, then keyed in by the technician" in words
    assert "the fluid temperature was no longer read: the plug of the adapter broke." in words
    assert "The program was started again at" in words
    assert "Where the line is broken there were no readings." in words


def test_no_word_of_the_summary_is_lost_on_the_page() -> None:
    summary = summary_of("two_top_ups")
    words = pdf_text.text(pdf_of("two_top_ups")).replace(" ", "")
    said = [summary.result.told, *summary.result.warnings, *(f.value for f in summary.facts)]
    for section in (summary.temperature, *summary.sections):
        said += [section.heading, *(f.value for f in section.facts), *section.notes]
        said += [cell for row in (section.grid.rows if section.grid else ()) for cell in row]
    for piece in said:
        assert piece.replace(" ", "") in words
