"""What was expected of the band as the plug came out: one line of the summary, or none."""

from __future__ import annotations

from dataclasses import replace

import pytest
from finished_checks import SHOP, runs_off

from brimline.procedure.estimates import ForecastMade, TimeLeft
from brimline.procedure.events import PlugOut
from brimline.records.model import Record
from brimline.report.content import build
from brimline.units import METRIC, US, UnitSystem


def forecast(t: float, **changes: object) -> ForecastMade:
    left = TimeLeft(median=480.0, low=360.0, high=660.0, never=0.0, told=True)
    return ForecastMade(
        t=t, model="relaxations-1", basis="readings", seen_at=t - 0.4, entry=None,
        exit=replace(left, **changes), learned_from=2,  # type: ignore[arg-type] # floats
    )  # fmt: skip


def with_forecast(record: Record, **changes: object) -> Record:
    """The record as it is where a forecast stood at the moment of the plug."""
    events = [e for e in record.events if not isinstance(e, ForecastMade)]
    place = next(i for i, e in enumerate(events) if isinstance(e, PlugOut)) + 1
    return replace(
        record, events=(*events[:place], forecast(events[place - 1].t, **changes), *events[place:])
    )


def notes(record: Record, units: UnitSystem = METRIC) -> list[str]:
    summary = build(record, units=units, shop=SHOP)
    section = next(s for s in summary.sections if s.heading == "What the result rests on")
    return [note for note in section.notes if "xpected" in note]


@pytest.mark.parametrize("units", [METRIC, US], ids=["metric", "us"])
def test_one_line_says_what_was_expected(units: UnitSystem) -> None:
    assert notes(with_forecast(runs_off().record()), units) == [
        "Expected when the plug came out: band lasts about 8 min (6–11 min); model relaxations-1."
    ]


def test_what_could_not_be_told_is_not_made_up() -> None:
    assert notes(with_forecast(runs_off().record(), told=False)) == [
        "Expected when the plug came out: band: too early to tell; model relaxations-1."
    ]


def test_without_a_forecast_there_is_no_line() -> None:
    record = runs_off().record()
    older = [event for event in record.events if not isinstance(event, ForecastMade)]
    assert notes(replace(record, events=tuple(older))) == []


def test_nothing_else_of_the_summary_changes() -> None:
    record = runs_off().record()
    plain = tuple(event for event in record.events if not isinstance(event, ForecastMade))
    without = build(replace(record, events=plain), units=METRIC, shop=SHOP)
    told = build(with_forecast(record), units=METRIC, shop=SHOP)
    for one, other in zip(told.sections, without.sections, strict=True):
        kept = tuple(note for note in one.notes if not note.startswith("Expected"))
        assert replace(one, notes=kept) == other
    assert told.result == without.result
