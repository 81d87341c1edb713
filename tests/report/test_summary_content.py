"""What the summary says, before anything is drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from check_play import MILKY
from finished_checks import SHOP, WORN, Bay, runs_off, spec, two_top_ups
from printed import record_of, summary_of

from brimline import wording
from brimline.condition.model import Clarity, Colour, Odour, Particles
from brimline.errors import ReportError
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import Undone
from brimline.procedure.events import Flow, Verdict
from brimline.procedure.reasons import OVERRIDABLE, Code
from brimline.procedure.state import LedgerEntry
from brimline.procedure.verdict import closing_event
from brimline.reading import SignalName
from brimline.records.model import Record
from brimline.report import amounts, phrases
from brimline.report.content import build
from brimline.report.summary import Fact, Section, Shop, Summary
from brimline.specsheet.model import Band
from brimline.units import METRIC, US, UnitSystem


def _section(summary: Summary, heading: str) -> Section:
    return next(section for section in summary.sections if section.heading == heading)


def _say(record: Record, units: UnitSystem = METRIC) -> Summary:
    return build(record, units=units, shop=SHOP)


def test_the_verdict_is_the_one_on_record() -> None:
    record = record_of("runs_off")
    closed = record.events[-1]
    assert isinstance(closed, ev.CheckClosed)
    other = replace(closed, verdict=Verdict.RECHECK, reasons=("band_left",))
    summary = _say(replace(record, events=(*record.events[:-1], other)))
    assert summary.result.verdict == "Recheck needed"
    assert "the temperature left the target band" in summary.result.told


def test_a_verdict_that_newer_rules_would_refuse_still_stands() -> None:
    record = record_of("runs_off")
    no_seal = tuple(e for e in record.events if not isinstance(e, ev.SealDone))
    assert _say(replace(record, events=no_seal)).result.verdict == "Level set"


def test_an_open_check_has_no_summary() -> None:
    record = record_of("runs_off")
    with pytest.raises(ReportError, match="not finished yet"):
        _say(replace(record, events=record.events[:-1]))
    with pytest.raises(ReportError, match="not finished yet"):
        _say(replace(record, events=()))


def test_a_record_without_its_opening_is_refused() -> None:
    record = record_of("runs_off")
    with pytest.raises(ReportError, match="incomplete") as caught:
        _say(replace(record, events=record.events[1:]))
    assert record.header.check_id in caught.value.detail


def test_amounts_at_reference() -> None:
    # α = 0.6278/846 = 7.42080e-4; α·60 K = 0.0445248; exp(-0.0445248·1.0356198) = 0.954937.
    expansion = 0.6278 / 846
    entries = (LedgerEntry(0.0, 0.3, 75.0), LedgerEntry(1.0, 0.2, 75.0))
    assert amounts.at_reference(entries, expansion) == pytest.approx(0.5 * 0.954937, abs=1e-6)
    assert amounts.at_reference((), expansion) == 0.0


@pytest.mark.parametrize(("celsius", "expansion"), [(None, 7e-4), (75.0, None), (180.0, 7e-4)])
def test_amounts_that_cannot_be_brought_to_reference(
    celsius: float | None, expansion: float | None
) -> None:
    assert amounts.at_reference((LedgerEntry(0.0, 0.3, celsius),), expansion) is None


def test_the_sheets_own_expansion_comes_first() -> None:
    fluid = spec().fluids[0].model_dump(mode="json", by_alias=True, exclude_none=True)
    own = spec(fluids=[fluid | {"expansion": "0.0009 1/K"}])
    assert amounts.expansion_of(Bay(sheet=own).identified().state) == 0.0009
    assert amounts.expansion_of(Bay().identified().state) == pytest.approx(0.6278 / 846)
    assert amounts.expansion_of(Bay().state) is None


def test_the_volume_lost_in_cooling_is_a_lower_bound() -> None:
    (note,) = [n for n in _section(summary_of("runs_off"), "Fluid and amounts").notes
               if "shrinks" in n]  # fmt: skip
    assert "by at least" in note


def test_an_amount_of_unknown_temperature_says_so() -> None:
    section = _section(summary_of("provisional"), "Fluid and amounts")
    assert section.grid is not None
    assert section.grid.rows[1] == ("Added", "0.20 L", "not known", "not known")
    assert "not known" in section.notes[0]


def test_the_torque_speaks_the_unit_of_the_wrench() -> None:
    assert phrases.torque(10.0, "in·lbf", METRIC) == "88.5 in·lbf"
    assert phrases.torque(10.0, "Nm", US) == "10.0 N·m"
    assert phrases.torque(10.0, "cubits", US) == "88.5 in·lbf"


@pytest.mark.parametrize(
    ("band", "words"),
    [
        (Band.model_validate({"low": "40 °C", "high": "50 °C"}), "40 °C to 50 °C"),
        (
            Band.model_validate({"low": "92 °C", "max_plug_out": "105 °C"}),
            "92 °C and above; plug never out above 105 °C",
        ),
        (
            Band.model_validate({"high": "45.5 °C", "max_plug_out": "45.5 °C"}),
            "up to 45.5 °C; plug never out above 45.5 °C",
        ),
    ],
)
def test_bands_in_words(band: Band, words: str) -> None:
    assert phrases.band(band, METRIC) == words


def test_sentences() -> None:
    assert phrases.sentence("  the lift was level ") == "The lift was level."
    assert phrases.sentence("Done!") == "Done!"
    assert phrases.sentence(" ") == ""
    assert phrases.listed(["a", "b", "c"]) == "a, b and c"
    assert phrases.listed(["a"]) == "a"


def test_signed_amounts() -> None:
    assert phrases.signed_volume(0.4, METRIC) == "+0.40 L"
    assert phrases.signed_volume(-0.4, METRIC) == "–0.40 L"
    assert phrases.signed_volume(-0.001, METRIC) == "0.00 L"


def test_an_angle_keeps_its_sign_as_far_as_it_is_seen() -> None:
    assert phrases.signed_angle(0.2, "lengthwise", "up", "down") == "0.2° lengthwise (up)"
    assert phrases.signed_angle(-0.1, "lengthwise", "up", "down") == "–0.1° lengthwise (down)"
    assert phrases.signed_angle(-0.04, "lengthwise", "up", "down") == "0.0° lengthwise"


@pytest.mark.parametrize(
    ("zone", "written"),
    [
        ("UTC0", "4 May 2026, 23:30 (UTC+00:00)"),
        ("CET-1CEST,M3.5.0,M10.5.0", "5 May 2026, 01:30 (UTC+02:00)"),
        ("NST3:30", "4 May 2026, 20:00 (UTC-03:30)"),
    ],
)
def test_times_are_those_of_the_bay_with_their_offset(
    bay_clock: Callable[[str], None], zone: str, written: str
) -> None:
    """Zones as POSIX writes them, IEEE Std 1003.1, 8.3: hours west of Greenwich are positive."""
    bay_clock(zone)
    at = datetime(2026, 5, 4, 23, 30, tzinfo=UTC)
    assert phrases.moment(at) == written
    assert phrases.moment(at.replace(tzinfo=None)) == written


def test_a_summary_has_one_net_amount() -> None:
    """Hot and cold fluid do not add up as measured: what is told is the net at 15 °C."""
    grid = _section(_say(two_top_ups().record()), "Fluid and amounts").grid
    assert grid is not None
    name, measured, _, at_15 = grid.rows[2]
    assert (name, measured) == ("Net", "")
    assert at_15.endswith(" L")


def test_another_shop_than_the_records_is_named() -> None:
    summary = build(record_of("runs_off"), units=METRIC, shop=Shop(name="Weir Street Driveline"))
    assert Fact("Checked at", "Harrow Lane Driveline") in summary.facts
    assert "Checked at" not in {fact.label for fact in summary_of("runs_off").facts}


def test_a_conditional_fluid_tells_its_condition() -> None:
    bay = Bay()
    bay.identified()
    bay.taken(ev.FluidChosen(t=bay.t, product="tf-thin", lot=" ", condition_confirmed=True))
    bay.taken(ev.CheckAborted(t=bay.t, reason="enough"))
    bay.taken(closing_event(bay.state, bay.t))
    facts = _section(_say(bay.record()), "Fluid and amounts").facts
    assert facts == (
        Fact("Fluid", "TF-Thin"),
        Fact("Approved on condition", "bulletin B03 (confirmed)"),
    )


def test_why_a_run_off_was_not_measured_is_told() -> None:
    bay = Bay()
    bay.in_band(71).plug_out().taken(ev.EngineStopped(t=bay.t))
    bay.taken(ev.PlugIn(t=bay.t)).taken(ev.CheckAborted(t=bay.t, reason="enough"))
    item = ev.Item.RUN_OFF_NOT_MEASURED
    bay.taken(ev.Confirmed(t=bay.t, item=item, reason="The pan was tipped over."))
    bay.taken(closing_event(bay.state, bay.t))
    assert isinstance(bay, Bay)
    summary = _say(bay.record())
    assert _section(summary, "Fluid and amounts").notes[0] == (
        "An amount ran off that was not measured (The pan was tipped over), so the net amount is "
        "not known."
    )
    assert "An unmeasured amount ran off" in summary.result.told


def test_an_unmeasured_run_off_is_not_called_nothing() -> None:
    record = runs_off().record()
    events = tuple(e for e in record.events if not isinstance(e, ev.RunOffMeasured))
    summary = _say(replace(record, events=events))
    grid = _section(summary, "Fluid and amounts").grid
    assert grid is not None
    assert grid.rows[0] == ("Run off", "not measured", "", "not known")
    assert grid.rows[2] == ("Net", "not known", "", "not known")
    assert "the amount was not measured" in summary.result.told


def test_what_was_noted_besides_an_unmeasured_run_off_is_told() -> None:
    bay = Bay()
    bay.in_band(71).plug_out().taken(ev.EngineStopped(t=bay.t))
    bay.taken(ev.PlugIn(t=bay.t))
    item = ev.Item.RUN_OFF_NOT_MEASURED
    bay.taken(ev.Confirmed(t=bay.t, item=item, reason="the pan was tipped over"))
    bay.taken(
        ev.HandedOver(t=bay.t, to="N. Okafor (invented)", plug_is_out=True, engine_runs=False)
    )
    bay.taken(ev.CheckAborted(t=bay.t, reason="enough", plug_left_out=True))
    bay.taken(ev.RunOffMeasured(t=bay.t, litres=0.4))
    bay.taken(closing_event(bay.state, bay.t))
    summary = _say(bay.record())
    grid = _section(summary, "Fluid and amounts").grid
    assert grid is not None
    assert grid.rows[0] == ("Run off", "0.40 L and more", "", "not known")
    assert "0.40 L and an amount that was not measured ran off" in summary.result.told


def _opened_before() -> Bay:
    """In the band, after an opening of the plug at which nobody measured what ran off."""
    bay = Bay()
    bay.in_band(69).plug_out()
    bay.taken(ev.PlugIn(t=bay.t)).confirm(ev.Item.RUN_OFF_NOT_MEASURED)
    bay.wait(1, 0.0)
    return bay


def test_a_level_that_was_set_tells_of_what_was_measured_and_what_was_not() -> None:
    bay = _opened_before()
    bay.plug_out().flow(Flow.RUNS).look().wait(40, 0.0)
    bay.flow(Flow.DRIPS, 1.5).closed_up()
    bay.taken(ev.RunOffMeasured(t=bay.t, litres=0.08)).finished()
    said = _say(bay.record()).result
    assert said.verdict == "Level set"
    assert said.told.startswith(
        "0.08 L and an amount that was not measured ran off until it only dripped. The fluid now "
        "stands at the standpipe. No fluid was added."
    )
    assert "found right" not in said.told


def test_a_level_that_was_corrected_tells_of_what_was_measured_and_what_was_not() -> None:
    bay = _opened_before()
    bay.plug_out().flow(Flow.NOTHING).look(drawn=True).wait(20, 0.0)
    bay.taken(ev.PumpStarted(t=bay.t)).wait(15, 0.0)
    bay.taken(ev.PumpStopped(t=bay.t, litres=0.6, fluid_celsius=21.0)).wait(35, 0.0)
    bay.flow(Flow.RUNS).wait(30, 0.0)
    bay.flow(Flow.DRIPS, 1.0).closed_up()
    bay.taken(ev.RunOffMeasured(t=bay.t, litres=0.2)).finished()
    said = _say(bay.record()).result
    assert said.verdict == "Level corrected"
    assert "0.60 L of TF-Clear were added until it stood at the standpipe." in said.told
    assert "0.20 L and an amount that was not measured ran off again" in said.told


def test_amounts_that_contradict_the_first_look_are_told_of() -> None:
    """Nothing came at first, so that no more can run off than went in."""
    told = {}
    for litres in (0.3, 0.9):
        bay = Bay()
        bay.in_band(69).plug_out().flow(Flow.NOTHING).look(drawn=True).wait(20, 0.0)
        bay.taken(ev.PumpStarted(t=bay.t)).wait(15, 0.0)
        bay.taken(ev.PumpStopped(t=bay.t, litres=0.4, fluid_celsius=21.0)).wait(35, 0.0)
        bay.flow(Flow.RUNS).wait(30, 0.0)
        bay.flow(Flow.DRIPS, 1.0).closed_up()
        bay.taken(ev.RunOffMeasured(t=bay.t, litres=litres)).finished()
        told[litres] = " ".join(_section(_say(bay.record()), "Fluid and amounts").notes)
    assert "though nothing came at first" in told[0.9]
    assert "though nothing came at first" not in told[0.3]


def _worked(*, mistakes: bool) -> Summary:
    """A check with one tap after another that was a mistake, or without them."""
    bay = Bay()
    bay.in_band(70)
    wrong: list[ev.TapEvent] = [
        ev.SignalWithdrawn(t=bay.t, signal=SignalName.FLUID_TEMPERATURE, reason="cable off"),
        ev.PlugOut(t=bay.t),
    ]
    for tap in wrong if mistakes else ():
        bay.taken(tap).taken(Undone(t=bay.t))
    bay.wait(40, 0.0).do(Undone(t=bay.t))  # too late, and refused
    bay.plug_out().flow(ev.Flow.DRIPS, 1.0).look().flow(ev.Flow.DRIPS, 1.0)
    bay.taken(ev.PlugIn(t=bay.t))
    if mistakes:
        bay.taken(ev.PlugStripped(t=bay.t, note="turns freely")).taken(Undone(t=bay.t))
    bay.taken(ev.SealDone(t=bay.t, replaced=True))
    bay.taken(ev.PlugTorqued(t=bay.t, torque=10.0, wrench_low=4.0, wrench_high=20.0, unit="N·m"))
    bay.taken(ev.LeakLook(t=bay.t, dry=True)).finished()
    return _say(bay.record())


def test_what_was_taken_back_is_told_nowhere() -> None:
    assert _worked(mistakes=True) == _worked(mistakes=False)


def test_an_engine_stopped_at_the_end_does_not_undo_what_was_served() -> None:
    bay = Bay()
    bay.in_band(70).plug_out().flow(ev.Flow.DRIPS, 1.0).look()
    bay.flow(ev.Flow.DRIPS, 1.0)
    bay.closed_up()
    bay.taken(ev.Withdrawn(t=bay.t, item=ev.Item.LIFT_LOCKED))
    bay.taken(ev.EngineStopped(t=bay.t))
    bay.finished()
    assert bay.state.engine.rpm is None
    grid = _section(_say(bay.record()), "What the result rests on").grid
    assert grid is not None
    found = {row[0]: row[1:] for row in grid.rows}
    said = "confirmed by the technician"
    assert found["Engine"] == ("running", said)
    assert found["Idle"] == ("640 rpm, window 560–760 rpm; idled in park for 1 min", said)
    assert found["Vehicle's tilt"][0].startswith("0.2° lengthwise (nose up), –0.1° crosswise (")


def test_the_sheets_cautions_for_the_record_are_passed_on() -> None:
    cautions = [
        {"stage": "record", "word": "NOTICE", "text": "Reset the adaption."},
        {"stage": "raise", "word": "WARNING", "text": "Hot exhaust."},
    ]
    bay = Bay(sheet=spec(cautions=cautions))
    bay.taken(ev.CheckAborted(t=bay.t, reason="enough"))
    bay.taken(closing_event(bay.state, bay.t))
    notes = _section(_say(bay.record()), "What to do next, and cautions").notes
    assert "NOTICE: Reset the adaption." in notes
    assert not any("Hot exhaust" in note for note in notes)


def test_a_surplus_of_a_top_up_is_told() -> None:
    bay = Bay()
    bay.in_band(69).plug_out().flow(ev.Flow.NOTHING).look(drawn=True)
    bay.pump(0.3).wait(35, 0.0).flow(ev.Flow.RUNS).wait(20, 0.0)
    bay.flow(ev.Flow.DRIPS, 1.0)
    bay.closed_up().finished()
    told = _say(bay.record()).result.told
    assert told.startswith("The fluid level was found low. 0.30 L of TF-Clear were added")
    assert "The surplus ran off again" in told


def test_coolant_seen_at_an_aborted_check_still_warns() -> None:
    bay = Bay()
    bay.in_band(70).plug_out()
    bay.flow(ev.Flow.RUNS).look(MILKY)
    bay.taken(ev.PlugIn(t=bay.t))
    bay.taken(ev.CheckAborted(t=bay.t, reason="closing time"))
    bay.taken(closing_event(bay.state, bay.t))
    summary = _say(bay.record())
    assert summary.result.verdict == "Referred"
    assert "Besides: closing time." in summary.result.told
    assert any(w.startswith("Do not drive this vehicle") for w in summary.result.warnings)
    assert any("not tightened to its torque" in w for w in summary.result.warnings)


def test_a_sound_check_warns_of_nothing() -> None:
    for name in ("runs_off", "found_high", "two_top_ups", "signal_lost"):
        assert summary_of(name).result.warnings == ()


def test_every_finding_has_words() -> None:
    assert set(wording.COLOURS) == set(Colour)
    assert set(wording.CLARITIES) == set(Clarity)
    assert set(wording.ODOURS) == set(Odour)
    assert set(wording.PARTICLES) == set(Particles)
    assert set(wording.OVERRIDDEN) == set(OVERRIDABLE)


def test_findings_are_told_one_by_one() -> None:
    facts = _section(summary_of("two_top_ups"), "Condition of the fluid").facts
    assert facts[:4] == (
        Fact("Colour", "brown"),
        Fact("Clarity", "clear"),
        Fact("Smell", "stale"),
        Fact("Particles", "fine dark wear material"),
    )
    assert WORN.note in {fact.value for fact in facts}


def _set_too_cold() -> Bay:
    bay = Bay()
    bay.in_band(50)
    by = {"code": Code.BELOW_BAND, "reason": "the bay is needed", "by": "R. Calloway"}
    bay.taken(ev.GateOverridden(t=bay.t, **by)).plug_out().flow(ev.Flow.RUNS).look()
    bay.flow(ev.Flow.DRIPS, 1.5)
    return bay


def test_a_level_set_out_of_its_band_by_override_says_what_it_is_off_by() -> None:
    bay = _set_too_cold()
    bay.closed_up().finished()
    told = _say(bay.record()).result.told
    assert bay.state.closed is not None
    assert bay.state.closed.verdict is Verdict.RECHECK
    celsius = bay.state.closing.celsius
    assert celsius is not None
    assert f"The fluid level was set at {celsius:.1f} °C, outside the target band;" in told
    assert told.count("once the fluid is in its band.") == 1
    assert " US qt too high once" in _say(bay.record(), US).result.told
    assert "outside the target band" not in _say(runs_off().record()).result.told
    # with its thread stripped there is no level to speak of
    stripped = _set_too_cold().taken(ev.PlugIn(t=bay.t)).taken(ev.PlugStripped(t=bay.t))
    stripped.taken(closing_event(stripped.state, bay.t))
    assert isinstance(stripped, Bay)
    assert "outside the target band" not in _say(stripped.record()).result.told
