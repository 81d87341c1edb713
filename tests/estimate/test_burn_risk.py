from __future__ import annotations

import pytest
from check_play import Play

from brimline.estimate.burn_risk import BurnRisk, burn_risk
from brimline.estimate.sentences import burn_sentence
from brimline.physics.burn import BurnKind, BurnTime
from brimline.reading import Way
from brimline.units import METRIC, US


def at(celsius: float) -> BurnRisk:
    play = Play()
    return burn_risk(play.do(play.celsius(celsius)).state)


@pytest.mark.parametrize(
    ("celsius", "sentence"),
    [
        (72.0, "Fluid at 72 °C burns skin immediately."),
        (60.2, "Fluid at 60 °C burns skin immediately."),
        (55.0, "Fluid at 55 °C burns skin within 10 s."),
        (51.0, "Fluid at 51 °C burns skin within 2 min."),
        (45.0, "Fluid at 45 °C burns skin within 2 h."),
        (44.0, "Below 45 °C no time to a burn is published; that is no leave to touch it."),
    ],
)
def test_what_is_said(celsius: float, sentence: str) -> None:
    assert burn_sentence(at(celsius), METRIC) == sentence


def test_degrees_are_those_that_people_read() -> None:
    assert burn_sentence(at(60.0), US) == "Fluid at 140 °F burns skin within 2 s."
    assert burn_sentence(at(20.0), US).startswith("Below 113 °F no time")


def test_a_reading_that_has_gone_stale_counts_as_hot() -> None:
    play = Play(measured=())
    play.do(play.celsius(30.0, way=Way.KEYED))
    assert burn_risk(play.state).celsius == 30.0
    play.wait(61)
    assert burn_risk(play.state) == BurnRisk(None, None)
    assert "immediately" in burn_sentence(burn_risk(play.state), METRIC)


def test_a_keyed_reading_counts_like_any_other() -> None:
    play = Play(measured=())
    play.do(play.celsius(70.0, way=Way.KEYED))
    assert burn_risk(play.state) == BurnRisk(70.0, BurnTime(BurnKind.IMMEDIATE))
