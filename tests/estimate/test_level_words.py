from __future__ import annotations

import re

import pytest
from check_play import Play, sheet

from brimline.estimate.amounts import misset
from brimline.estimate.level_words import misset_words, run_off_words, was_misset_words
from brimline.procedure import events as ev
from brimline.procedure.events import Flow
from brimline.procedure.reasons import Code
from brimline.units import METRIC, US


def litres(play: Play, celsius: float) -> float:
    state = play.state
    assert state.fluid is not None
    fluid = state.sheet.fluid(state.fluid.product)
    assert fluid is not None
    off = misset(state.sheet, fluid, state.opened.duty, celsius)
    assert off is not None
    return off.at_least


def test_too_cold_and_too_hot_are_told_apart() -> None:
    play = Play().ready()
    cold = play.wait(15, 20.0).state
    said = misset_words(cold, METRIC)
    # The filling grows on its way into the band: what was set cold stands too high there.
    assert said.endswith("too high in its band.")
    assert METRIC.small_volume(litres(play, 20.0)) in said
    assert US.small_volume(litres(play, 20.0)) in misset_words(cold, US)
    hot = Play().ready().wait(15, 120.0).state
    assert misset_words(hot, METRIC).endswith("too low in its band.")


def test_inside_the_band_and_without_a_reading_nothing_is_said() -> None:
    assert misset_words(Play().ready().state, METRIC) == ""
    assert misset_words(Play().state, METRIC) == ""
    assert run_off_words(Play().state) == ""


def test_a_stream_takes_minutes_and_the_sheet_says_how_many_it_may() -> None:
    said = run_off_words(Play().ready().state)
    found = re.fullmatch(r"Stream to drip: (\d+)–(\d+) min \((.+) allowed\)", said)
    assert found, said
    assert int(found[1]) < int(found[2])
    assert "min" in found[3] or "s" in found[3]


@pytest.mark.parametrize("celsius", [20.0, 70.0])
def test_every_figure_has_its_unit(celsius: float) -> None:
    state = Play().ready().wait(15, celsius).state
    for said in (misset_words(state, METRIC), run_off_words(state)):
        assert not said or re.search(r"\d (mL|L|min)", said)


def set_at(celsius: float, code: Code | None, then: float | None = None) -> Play:
    """A level set at a temperature, through a gate overridden for one reason."""
    band = {"low": "65 °C", "high": "85 °C", "max_plug_out": "95 °C"}
    play = Play(spec=sheet(bands={"normal": band})).ready(celsius)
    if code is not None:
        play.taken(ev.GateOverridden(t=play.t, code=code, reason="no time to warm it up", by="R."))
    play.plug_out().flow(Flow.RUNS).look().wait(20, celsius if then is None else then)
    return play.flow(Flow.DRIPS, 1.5).closed_up()


def test_the_customer_is_told_what_a_level_set_out_of_its_band_is_off_by() -> None:
    cold, hot = set_at(50.0, Code.BELOW_BAND).state, set_at(90.0, Code.ABOVE_BAND).state
    # By hand: α = 0.6278/846 less 12 %, VCF(50) 0.976995 and VCF(65) 0.967051 of 8.6 L: 88.4 mL,
    # less a case that grows by 70e-6 1/K over 15 K, 9.0 mL
    assert was_misset_words(cold, METRIC) == (
        "The fluid level was set at 50.0 °C, outside the target band; by that alone it "
        "will be at least 79 mL too high once the fluid is in its band."
    )
    # VCF(90) 0.950377 and VCF(85) 0.953721: 30.2 mL less 3.0 mL
    assert "at 90.0 °C," in was_misset_words(hot, METRIC)
    assert "at least 27 mL too low once" in was_misset_words(hot, METRIC)
    # 0.0794 L / 0.946353
    assert "122.0 °F" in was_misset_words(cold, US)
    assert "at least 0.08 US qt too high" in was_misset_words(cold, US)


def test_nothing_is_said_of_a_level_set_in_its_band_or_not_at_all() -> None:
    assert was_misset_words(set_at(70.0, None).state, METRIC) == ""
    # the fluid came into its band while the plug was out
    assert was_misset_words(set_at(64.5, Code.BELOW_BAND, then=66.0).state, METRIC) == ""
    # a hair below it: not a millilitre
    assert was_misset_words(set_at(64.95, Code.BELOW_BAND).state, METRIC) == ""
    # an override, but no level: the plug came out and went in again
    play = Play().ready(50.0)
    play.taken(ev.GateOverridden(t=play.t, code=Code.BELOW_BAND, reason="late", by="R."))
    play.plug_out().flow(Flow.RUNS).taken(ev.PlugIn(t=play.t))
    assert play.state.closing.celsius == 50.0
    assert was_misset_words(play.state, METRIC) == ""
    # a moment's dip below the band, which nobody had to override
    dip = Play().ready(66.0).plug_out().flow(Flow.RUNS).look().wait(20, 66.0).wait(3, 63.5)
    dip.flow(Flow.DRIPS, 1.5).closed_up()
    assert dip.state.closing.celsius == 63.5
    assert was_misset_words(dip.state, METRIC) == ""
