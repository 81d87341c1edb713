from __future__ import annotations

import re

import pytest
from check_play import Play

from brimline.estimate.amounts import misset
from brimline.estimate.level_words import misset_words, run_off_words
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
