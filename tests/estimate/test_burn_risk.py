from __future__ import annotations

import pytest
from check_play import Play

from brimline.estimate.burn_risk import BurnRisk, burn_risk
from brimline.estimate.sentences import burn_sentence
from brimline.physics.burn import BurnKind, BurnTime
from brimline.procedure import gates
from brimline.procedure.events import SensorChecked
from brimline.reading import Way
from brimline.units import METRIC, US, UnitSystem


def at(celsius: float) -> BurnRisk:
    play = trusted()
    return burn_risk(play.do(play.celsius(celsius)).state)


def trusted() -> Play:
    play = Play().identified()
    return play.sensor_trusted()


@pytest.mark.parametrize(
    ("celsius", "sentence"),
    [
        (72.0, "Fluid at 72 °C burns skin immediately."),
        (58.0, "Fluid at 58 °C burns skin immediately."),  # may be 60.5 °C
        (52.0, "Fluid at 52 °C burns skin within 10 s."),  # may be 54.5 °C, table: 55
        (47.2, "Fluid at 48 °C burns skin within 2 min."),  # may be 50.5 °C, table: 51
        (43.0, "Fluid at 43 °C burns skin within 30 min."),  # may be 45.5 °C
        (41.5, "Below 45 °C no time to a burn is published; that is no leave to touch it."),
    ],
)
def test_what_is_said(celsius: float, sentence: str) -> None:
    assert burn_sentence(at(celsius), METRIC) == sentence


def test_degrees_are_those_that_people_read() -> None:
    assert burn_sentence(at(56.6), US) == "Fluid at 135 °F burns skin within 2 s."
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
    assert burn_risk(play.state) == BurnRisk(70.0, BurnTime(BurnKind.IMMEDIATE), doubted=True)
    said = burn_sentence(burn_risk(play.state), METRIC)
    assert said == "The sensor is not trusted: take it that the fluid burns skin immediately."


def test_a_sensor_in_doubt_counts_for_nothing_however_low_it_reads() -> None:
    play = Play().identified()
    play.do(play.celsius(30.0))
    play.do(SensorChecked(t=play.t, ambient=60.0, coolant=60.0, rested=True))
    assert burn_risk(play.do(play.celsius(44.0)).state).doubted
    assert not at(44.0).doubted


@pytest.mark.parametrize(("shown", "doubted"), [(17.0, True), (25.0, False)])
def test_a_sensor_that_the_soak_finds_low_counts_for_nothing_though_the_gate_is_open(
    shown: float, doubted: bool
) -> None:
    play = Play().identified()
    play.do(play.celsius(shown))
    play.do(SensorChecked(t=play.t, ambient=21.0, coolant=21.0, rested=True, rest_s=43200.0))
    assert not list(gates.sensor(play.state))
    assert burn_risk(play.do(play.celsius(44.0)).state).doubted is doubted


@pytest.mark.parametrize(("gun", "doubted"), [(44.0, False), (48.0, True), (10.0, True)])
def test_a_gun_that_no_surface_explains_takes_the_trust_away(gun: float, doubted: bool) -> None:
    play = Play().identified()
    play.do(play.celsius(44.0)).taken(SensorChecked(t=play.t, ambient=21.0, infrared=gun))
    assert burn_risk(play.state).doubted is doubted


@pytest.mark.parametrize("units", [METRIC, US])
def test_one_degree_shown_has_one_answer_and_a_hotter_one_no_longer_time(units: UnitSystem) -> None:
    play = trusted()
    answers: dict[str, set[str]] = {}
    seconds = []
    for tenths in range(400, 620):
        risk = burn_risk(play.do(play.celsius(tenths / 10)).state)
        shown, _, answer = burn_sentence(risk, units).partition(" burns skin ")
        if answer:
            answers.setdefault(shown, set()).add(answer)
            assert risk.time is not None
            seconds.append(risk.time.seconds or 0)
    assert len(answers) > 15
    assert all(len(each) == 1 for each in answers.values())
    assert seconds == sorted(seconds, reverse=True)
