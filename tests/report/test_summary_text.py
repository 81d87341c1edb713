"""Text that people typed: printed as it is, whatever is in it."""

from __future__ import annotations

import unicodedata
from dataclasses import replace

import pdf_text
import pytest
from finished_checks import SHOP, Bay, aborted_at_once
from hypothesis import example, given, settings
from hypothesis import strategies as st

from brimline.procedure import events as ev
from brimline.procedure.verdict import closing_event
from brimline.records.model import Record
from brimline.report import content, fonts, layout
from brimline.report.fonts import MISSING
from brimline.units import METRIC

KNOWN = fonts.covered()
DRAWN = [
    chr(code)
    for code in sorted(KNOWN)
    if unicodedata.category(chr(code))[0] in "LNPS" and unicodedata.is_normalized("NFC", chr(code))
]


def _record(complaint: str, plate: str = "KRN 4417") -> Record:
    bay = Bay()
    bay.identified()
    bay.taken(ev.CheckAborted(t=bay.t, reason="done"))
    bay.taken(closing_event(bay.state, bay.t))
    record = bay.record()
    typed = tuple(
        replace(event, complaint=complaint, plate=plate)
        if isinstance(event, ev.VehicleIdentified)
        else event
        for event in record.events
    )
    return replace(record, events=typed)


def _print(complaint: str, plate: str = "KRN 4417") -> str:
    record = _record(complaint, plate)
    return pdf_text.text(layout.render(content.build(record, units=METRIC, shop=SHOP)))


def _bare(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize(
    "typed",
    [
        "<b>bold</b> & <i>more</i>",
        "&lt; &amp; &#65;",
        "<para alignment='center'>",
        "<img src='x.png'/>",
        "</font><a href='x'>",
        "5 < 6 > 4 %s {0} \\n",
    ],
)
def test_mark_up_prints_literally(typed: str) -> None:
    assert typed in _print(typed)


def test_mark_up_in_a_reason_prints_literally() -> None:
    record = aborted_at_once("<u>no</u> time & no <br/> patience").record()
    words = pdf_text.text(layout.render(content.build(record, units=METRIC, shop=SHOP)))
    assert "<u>no</u> time & no <br/> patience." in words


def test_long_complaint_wraps_and_loses_nothing() -> None:
    typed = " ".join(f"word{number}" for number in range(200))
    assert typed in _print(typed)


def test_word_without_a_space_wraps() -> None:
    assert "x" * 400 in _bare(_print("x" * 400))


def test_a_text_of_many_pages_is_shortened_and_says_so() -> None:
    words = _print("noise " * 5000)
    assert "(shortened; the record keeps the whole text)" in words


def test_lines_stay_lines() -> None:
    summary = content.build(_record("first\nsecond"), units=METRIC, shop=SHOP)
    assert "first second" in pdf_text.text(layout.render(summary))


@pytest.mark.parametrize("lacking", ["漢", "\U0001f600", "\x07", "\u202e", "\ud800", "ﷺ"])
def test_what_cannot_be_drawn_is_replaced_visibly(lacking: str) -> None:
    assert f"before{MISSING}after" in _print(f"before{lacking}after")


def test_accents_typed_apart_are_composed() -> None:
    assert "Zoë" in _print("Zoe\u0308")


@settings(max_examples=25)
@given(st.text(st.sampled_from(DRAWN), min_size=1, max_size=60), st.text(st.sampled_from(DRAWN)))
@example("ﬁ ǅ Ω € ½ №", "A·B–C")
def test_what_the_font_covers_prints_as_typed(complaint: str, plate: str) -> None:
    plate = plate[:14]
    words = _bare(_print(complaint, plate))
    assert _bare(complaint) in words
    assert _bare(plate) in words


@settings(max_examples=25)
@given(st.text(st.characters(), max_size=80), st.text(st.characters(), max_size=20))
def test_nothing_typed_breaks_the_page(complaint: str, plate: str) -> None:
    words = _print(complaint, plate)
    assert "Check stopped" in words
    assert words.count("Page 1 of ") == 1
