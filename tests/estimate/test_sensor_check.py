from __future__ import annotations

import json
from typing import Any

import pytest
from check_play import Play
from hypothesis import given
from hypothesis import strategies as st

from brimline.estimate import sensor_check, sentences
from brimline.physics.cold_soak import SoakVerdict
from brimline.physics.infrared import USUAL_SETTING, GunVerdict
from brimline.procedure import gates
from brimline.procedure.events import SensorChecked
from brimline.procedure.reasons import Code
from brimline.records.codec import decode_event, encode_event
from brimline.units import METRIC, US

NIGHT_S = 12 * 3600.0


def checked(**fields: Any) -> SensorChecked:
    return SensorChecked(t=0.0, **({"ambient": 21.0} | fields))


def test_the_trades_fact_in_the_program() -> None:
    # a gun shows 100 °F on a shiny pan at 140 °F in a shop at 84 °F (common practice, no source)
    pan, shown, shop = ((f - 32) / 1.8 for f in (140, 100, 84))
    said = checked(ambient=shop, infrared=shown, gun_emissivity=1.0)
    answer = sensor_check.answer_to(said, pan)
    assert answer.gun is not None
    assert answer.gun.verdict is GunVerdict.DISAGREES
    assert sentences.gun_sentence(answer, US) == (
        "The gun reads 40.0 °F below the sensor. A pan with an emissivity of 0.26 (±0.07) "
        "explains that, as shiny metal has."
    )
    assert not sentences.gun_doubts(answer)
    assert sentences.soak_sentence(answer, US) == ""


def test_a_gun_whose_setting_nobody_said_is_taken_as_the_usual_one_and_that_is_said() -> None:
    answer = sensor_check.answer_to(checked(infrared=50.0), 60.0)
    assert answer.setting_assumed
    assert answer.setting == USUAL_SETTING
    assert "taken as set to 0.95" in sentences.gun_sentence(answer, METRIC)
    told = sensor_check.answer_to(checked(infrared=50.0, gun_emissivity=0.95), 60.0)
    assert "taken" not in sentences.gun_sentence(told, METRIC)
    assert told.gun == answer.gun


@pytest.mark.parametrize(
    ("fields", "fluid", "words", "doubtful"),
    [
        ({"infrared": 59.0}, 60.0, "agree within 2.8 °C", False),
        ({"infrared": 52.0}, 60.0, "8.0 °C below the sensor. A pan with an emissivity of", False),
        ({"infrared": 52.0}, 60.0, "Matt tape", False),
        ({"infrared": 70.0}, 60.0, "10.0 °C above the sensor, which no surface", True),
        ({"infrared": 5.0}, 60.0, "different sides of the shop air", True),
        ({"infrared": 21.5}, 22.5, "says nothing here", False),
    ],
)
def test_what_the_gun_says(
    fields: dict[str, Any], fluid: float, words: str, doubtful: bool
) -> None:
    answer = sensor_check.answer_to(checked(**fields), fluid)
    assert words in sentences.gun_sentence(answer, METRIC)
    assert sentences.gun_doubts(answer) is doubtful


@pytest.mark.parametrize(
    ("fields", "fluid", "words", "doubtful"),
    [
        ({"rested": True, "rest_s": NIGHT_S}, 22.0, "right within what can be told (±", False),
        ({"rested": True, "rest_s": NIGHT_S}, 30.0, "reads 9.0 °C too high (±", True),
        ({"rested": True, "rest_s": NIGHT_S}, 12.0, "reads 9.0 °C too low (±", True),
        ({"rested": True}, 30.0, "How long it stood is not said", False),
        ({"rested": True, "rest_s": 3600.0}, 30.0, "It takes 7.4 h", False),
        ({"rested": True, "rest_s": NIGHT_S, "coolant": 35.0}, 30.0, "Coolant and shop air", False),
    ],
)
def test_what_a_rested_vehicle_says(
    fields: dict[str, Any], fluid: float, words: str, doubtful: bool
) -> None:
    answer = sensor_check.answer_to(checked(**fields), fluid)
    assert words in sentences.soak_sentence(answer, METRIC)
    assert sentences.soak_doubts(answer) is doubtful


def test_a_vehicle_that_did_not_rest_is_not_compared_with_the_hall() -> None:
    answer = sensor_check.answer_to(checked(), 80.0)
    assert answer.soak is None
    assert answer.gun is None
    assert (sentences.gun_sentence(answer, US), sentences.soak_sentence(answer, US)) == ("", "")


numbers = st.one_of(st.none(), st.floats())


@given(st.floats(), numbers, numbers, st.booleans(), numbers, numbers, st.floats())
def test_whatever_was_typed_there_is_an_answer_or_none(
    ambient: float,
    coolant: float | None,
    infrared: float | None,
    rested: bool,
    rest_s: float | None,
    setting: float | None,
    fluid: float,
) -> None:
    said = SensorChecked(
        t=0.0, ambient=ambient, coolant=coolant, infrared=infrared, rested=rested, rest_s=rest_s,
        gun_emissivity=setting,
    )  # fmt: skip
    answer = sensor_check.answer_to(said, fluid)
    for units in (METRIC, US):
        for say in (sentences.gun_sentence, sentences.soak_sentence):
            assert "None" not in say(answer, units)
            assert "nan" not in say(answer, units)


def test_the_checks_own_comparison_is_answered() -> None:
    play = Play().identified()
    assert sensor_check.answer(play.state) is None
    play.do(play.celsius(30.5))
    said = SensorChecked(t=0, ambient=21.0, rested=True, rest_s=NIGHT_S)
    play.taken(said)
    answer = sensor_check.answer(play.state)
    assert answer == sensor_check.answer_to(said, 30.5)
    assert answer is not None
    assert answer.soak is not None
    assert answer.soak.verdict is SoakVerdict.BIASED
    # the gate, which alone decides, doubts it too: by 5 K to the hall, not by the rest
    assert Code.SENSOR_DOUBTED in {reason.code for reason in gates.sensor(play.state)}


def test_an_event_of_an_older_record_is_still_read() -> None:
    old = '{"t":5.0,"happened":null,"ambient":21.0,"coolant":22.5,"infrared":null,' + (
        '"rested":true,"kind":"sensor_checked"}'
    )
    event = decode_event(old)
    assert event == SensorChecked(t=5.0, ambient=21.0, coolant=22.5, rested=True)
    new = json.loads(encode_event(event))
    assert (new["rest_s"], new["gun_emissivity"]) == (None, None)
