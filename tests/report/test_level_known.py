"""The level's uncertainty on the summary: read from the record, in plain words, never cut."""

from __future__ import annotations

from dataclasses import replace

import pytest
from finished_checks import SHOP, Bay, found_high, provisional, runs_off, signal_lost, two_top_ups
from hypothesis import given
from hypothesis import strategies as st
from pdf_text import text

from brimline.estimate.level_budget import INPUTS, KNOWN, estimated_level
from brimline.procedure.estimates import (
    KnownPart,
    LevelContribution,
    LevelEstimated,
    LevelKnown,
)
from brimline.procedure.events import CheckClosed, Verdict
from brimline.records.model import Record
from brimline.report import layout, level
from brimline.report.content import build
from brimline.report.summary import Summary
from brimline.units import METRIC, US, UnitSystem

ESTIMATE = LevelEstimated(
    t=100.0, model=1, shift=-0.0302, combined=0.0251, coverage=1.96, expanded=0.0492,
    acceptance=0.150, verdict=LevelKnown.WITHIN,
    known=(KnownPart(name="tilt", litres=-0.0402), KnownPart(name="drip", litres=0.01)),
    contributions=(
        LevelContribution(name="reference_temperature", standard=0.023, share=0.84),
        LevelContribution(name="sensor_temperature", standard=0.008, share=0.10),
        LevelContribution(name="of a newer program", standard=0.006, share=0.06),
    ),
)  # fmt: skip


def with_estimate(record: Record, estimate: LevelEstimated | None) -> Record:
    *before, closed = record.events
    return replace(record, events=(*before, *((estimate,) if estimate else ()), closed))


def say(record: Record, units: UnitSystem = METRIC) -> Summary:
    return build(record, units=units, shop=SHOP)


def test_one_plain_sentence_for_the_customer() -> None:
    record = runs_off().record()
    told = say(with_estimate(record, ESTIMATE)).result.told
    # 30.2 mL off and ±49.2 mL, rounded up as it is written: 30 + 50
    assert told.endswith("The fluid level is off by at most 80 mL; the spec sheet allows 150 mL.")
    told = say(with_estimate(record, ESTIMATE), US).result.told
    # 0.080 L / 0.946352946 = 0.0845; 0.150 L = 0.1585
    assert "at most 0.08 US qt; the spec sheet allows 0.16 US qt." in told
    assert "off by at most" not in say(with_estimate(record, None)).result.told


def test_doubt_and_excess_are_said_plainly() -> None:
    record = runs_off().record()
    doubtful = replace(ESTIMATE, verdict=LevelKnown.DOUBTFUL, shift=0.12)
    told = say(with_estimate(record, doubtful)).result.told
    doubt = "at most 170 mL; the spec sheet allows 150 mL, so it may be off by more than that."
    assert doubt in told
    exceeds = replace(ESTIMATE, verdict=LevelKnown.EXCEEDS, shift=0.31)
    told = say(with_estimate(record, exceeds)).result.told
    assert "The fluid level is off by 310 mL ± 50 mL, more than the 150 mL allowed." in told


def closed_as(verdict: Verdict, reasons: tuple[str, ...], estimate: LevelEstimated) -> Record:
    *before, closed = with_estimate(runs_off().record(), estimate).events
    assert isinstance(closed, CheckClosed)
    ending = replace(closed, verdict=verdict, reasons=reasons)
    return replace(runs_off().record(), events=(*before, ending))


def test_a_level_that_is_off_was_not_found_right() -> None:
    """Neither in a record that closed with “set” nor in one that asks for a recheck."""
    exceeds = replace(ESTIMATE, verdict=LevelKnown.EXCEEDS, shift=0.31)
    off = (
        "The fluid stood at the standpipe but, as the vehicle stood, the fluid level is off by "
        "more than the spec sheet allows and must be checked again."
    )
    older = say(closed_as(Verdict.SET, ("level_at_rim",), exceeds)).result.told
    newer = say(closed_as(Verdict.RECHECK, ("level_off",), exceeds)).result.told
    for told in (older, newer):
        assert told.count(off) == 1
        assert "found right" not in told
        assert "The fluid level is off by 310 mL ± 50 mL" in told
    assert "not known well enough" not in newer
    both = closed_as(Verdict.RECHECK, ("overridden: tilt_too_large", "level_off"), exceeds)
    told = say(both).result.told
    assert off in told
    assert "tilted more than the spec sheet allows." in told
    corrected = say(closed_as(Verdict.CORRECTED, ("fluid_added",), exceeds)).result.told
    assert off in corrected
    assert off not in say(closed_as(Verdict.SET, ("level_at_rim",), ESTIMATE)).result.told


@pytest.mark.parametrize("verdict", [Verdict.RECHECK, Verdict.REFERRED, Verdict.STOPPED])
def test_a_level_that_is_not_known_is_not_said_to_be(verdict: Verdict) -> None:
    *before, closed = with_estimate(runs_off().record(), ESTIMATE).events
    assert isinstance(closed, CheckClosed)
    record = runs_off().record()
    other = replace(record, events=(*before, replace(closed, verdict=verdict)))
    assert "off by at most" not in say(other).result.told


def test_the_estimate_on_record_stands_whatever_newer_code_would_say() -> None:
    odd = replace(ESTIMATE, shift=0.001, expanded=0.002, model=7)
    summary = say(with_estimate(runs_off().record(), odd))
    assert "off by at most 3 mL" in summary.result.told
    row = evidence(summary)
    assert row[2] == "estimated, model 7"


def evidence(summary: Summary) -> tuple[str, ...]:
    grid = next(s.grid for s in summary.sections if s.heading == "What the result rests on")
    assert grid is not None
    return next(row for row in grid.rows if row[0] == "Fluid level")


def test_what_it_rests_on_names_the_main_causes() -> None:
    _, found, how = evidence(say(with_estimate(runs_off().record(), ESTIMATE)))
    assert found == (
        "–30 mL by estimate, ± 50 mL: together at most 80 mL; mostly from: where in the band the "
        "fluid level is meant (84%), temperature sensor (10%)"
    )
    assert how == "estimated, model 1"


def test_the_tilt_is_told_with_its_spread() -> None:
    grid = next(
        s.grid for s in say(runs_off().record()).sections
        if s.heading == "What the result rests on"
    )  # fmt: skip
    assert grid is not None
    row = next(row for row in grid.rows if row[0] == "Vehicle's tilt")
    # 0.115 · (-0.055 · tan 0.2° + 0.040 · tan -0.1°) = -0.0301 L, ± 2 · 6.2 mL
    assert row[1] == (
        "0.2° lengthwise (nose up), –0.1° crosswise (left side up): 30 mL ± 12 mL too little fluid"
    )


def test_the_whole_table() -> None:
    grid = level.table(ESTIMATE, METRIC)
    assert grid.rows == (
        ("tilt of the vehicle", "–40 mL", "", ""),
        ("head over the rim at the drip judged", "+10 mL", "", ""),
        ("where in the band the fluid level is meant", "", "23.0 mL", "84%"),
        ("temperature sensor", "", "8.0 mL", "10%"),
        ("of a newer program", "", "6.0 mL", "6%"),
        ("together", "–30 mL", "25.1 mL", "100%"),
    )
    assert level.table(ESTIMATE, US).rows[2][2] == "0.024 US qt"  # 0.023 / 0.946352946


def test_every_code_has_words() -> None:
    assert set(level.INPUTS) == set(INPUTS)
    assert set(level.PARTS) == set(KNOWN)


@pytest.mark.parametrize("units", [METRIC, US], ids=["metric", "us"])
@pytest.mark.parametrize("make", [runs_off, two_top_ups, found_high, signal_lost])
def test_it_is_printed_whole(make: object, units: UnitSystem) -> None:
    assert callable(make)
    bay: Bay = make()
    *_, closed = bay.events
    open_state = replace(bay.state, closed=None)
    estimate = estimated_level(open_state, closed.t)
    assert estimate is not None
    summary = say(with_estimate(bay.record(), estimate), units)
    words = text(layout.render(summary))
    assert level.known_to(estimate, units) in words
    assert level.rests_on(estimate, units) in words


def test_a_provisional_check_has_no_estimate() -> None:
    assert estimated_level(replace(provisional().state, closed=None), 1.0) is None


@given(st.floats(0.0001, 0.9999))
def test_a_stated_uncertainty_is_never_smaller(litres: float) -> None:
    shown = level.stated(litres, METRIC)
    number, symbol = shown.replace(",", "").split()
    assert symbol == "mL"
    # never rounded down, and up by less than a tenth or one mL
    assert litres * 1000 - 1e-6 <= float(number) <= max(litres * 1100, litres * 1000 + 1)
    assert len(number.rstrip("0")) <= 2
    assert level.stated(0.0, METRIC) == "0 mL"
