"""The gate before the sensor and what its page says of the gun: one voice, and older records."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from check_play import Play
from hypothesis import example, given
from hypothesis import strategies as st

from brimline import wording
from brimline.estimate import sensor_check, sentences
from brimline.physics.infrared import shown_by_gun
from brimline.procedure import events as ev
from brimline.procedure import gates, reducer, sensing
from brimline.procedure.events import CheckOpened, SensorChecked, Verdict
from brimline.procedure.gates import Gate
from brimline.procedure.reasons import LEVEL_AFFECTING, OVERRIDABLE, Code, Reason
from brimline.procedure.state import Stage
from brimline.units import METRIC, US

DOUBTED, NOT_CHECKED = Code.SENSOR_DOUBTED, Code.SENSOR_NOT_CHECKED


def of_version(procedure: int) -> Play:
    play = Play()
    opened = play.events[0]
    assert isinstance(opened, CheckOpened)
    older = replace(opened, procedure=procedure)
    play.events, play.state = [older], reducer.open_check(older)
    return play.identified()


def compared(fluid: float, procedure: int = sensing.GUN_SINCE, **said: Any) -> Play:
    play = of_version(procedure)
    play.do(play.celsius(fluid))
    return play.taken(SensorChecked(t=0, **({"ambient": 21.0} | said)))


def against(play: Play) -> list[tuple[Code, str]]:
    return [reason.key for reason in gates.sensor(play.state)]


@pytest.mark.parametrize(
    ("fluid", "said", "before", "now"),
    [
        # in from the frost: the gun shows something between pan and hall, as on any dull pan
        (-10.0, {"ambient": 20.0, "infrared": 2.0}, [(DOUBTED, "")], []),
        # across ambient: no pan at 60 °C in a hall at 29 °C shows 20 °C
        (60.0, {"ambient": 29.0, "infrared": 20.0}, [], [(DOUBTED, "other_side")]),
        (-10.0, {"ambient": 20.0, "infrared": 35.0}, [(DOUBTED, "")], [(DOUBTED, "other_side")]),
        # above the sensor by more than both may be off, ±2 K each: √8 = 2.8 K
        (60.0, {"infrared": 63.5}, [], [(DOUBTED, "beyond")]),
        (60.0, {"infrared": 62.5}, [], []),
        (60.0, {"infrared": 66.0}, [(DOUBTED, "")], [(DOUBTED, "beyond")]),
        # set to 0.5, a gun overstates what a dull pan sends: 0.5·(B(63.5) - B(21))/(B(60) - B(21))
        # is less than 1; where nobody said, the usual 0.95 is taken
        (60.0, {"infrared": 63.5, "gun_emissivity": 0.5}, [], []),
        (60.0, {"infrared": 63.5, "gun_emissivity": 0.95}, [], [(DOUBTED, "beyond")]),
        # the trade's shiny pan
        (60.0, {"infrared": 37.8}, [], []),
        # too near ambient to say anything: it closes nothing ...
        (22.0, {"infrared": 19.5}, [], []),
        (15.5, {"infrared": 21.0}, [(DOUBTED, "")], []),
        (60.0, {"infrared": 21.0}, [], []),
        (22.0, {"infrared": 19.5, "rested": True}, [], []),
        # ... and opens nothing that hall or coolant close
        (60.0, {"infrared": 21.0, "rested": True}, [(DOUBTED, "")], [(DOUBTED, "")]),
        (26.5, {"infrared": 24.0, "rested": True}, [(DOUBTED, "")], [(DOUBTED, "")]),
        (23.0, {"infrared": 22.0, "coolant": 29.0, "rested": True}, [(DOUBTED, "")],
         [(DOUBTED, "")]),
        (26.0, {"infrared": 24.0, "rested": True}, [], []),  # 5 K to the hall, no more
        # nor does a gun that agrees
        (30.0, {"infrared": 30.0, "rested": True}, [(DOUBTED, "")], [(DOUBTED, "")]),
        # each doubt by itself
        (30.0, {"infrared": 40.0, "rested": True}, [(DOUBTED, "")],
         [(DOUBTED, ""), (DOUBTED, "beyond")]),
        (23.0, {"infrared": 40.0, "rested": True}, [(DOUBTED, "")], [(DOUBTED, "beyond")]),
        # a vehicle that did not rest is not compared with the hall
        (60.0, {"coolant": 60.0}, [(NOT_CHECKED, "")], [(NOT_CHECKED, "")]),
        # numbers that cannot be judged: the plain tolerance above the sensor
        (60.0, {"infrared": 64.0, "gun_emissivity": 1.5}, [], []),
        (60.0, {"infrared": 66.0, "gun_emissivity": 1.5}, [(DOUBTED, "")], [(DOUBTED, "")]),
        (60.0, {"infrared": -55.0}, [], []),
    ],
)  # fmt: skip
def test_what_the_gate_says_now_and_said_before(
    fluid: float, said: dict[str, Any], before: list[Any], now: list[Any]
) -> None:
    assert against(compared(fluid, procedure=3, **said)) == before
    assert against(compared(fluid, **said)) == now


said_of_sensor = st.builds(
    SensorChecked,
    t=st.just(0.0),
    ambient=st.floats(-60, 200),
    coolant=st.none() | st.floats(-60, 200),
    infrared=st.none() | st.floats(-60, 200),
    rested=st.booleans(),
    gun_emissivity=st.none() | st.floats(0.3, 1.0) | st.floats(),
)
fluids = st.floats(-50, 200)


@given(fluids, said_of_sensor)
@example(60.0, SensorChecked(t=0.0, ambient=60.0, infrared=60.0))
@example(60.0, SensorChecked(t=0.0, ambient=60.0, infrared=90.0, gun_emissivity=0.0))
def test_the_gate_doubts_the_gun_just_where_the_page_does(
    fluid: float, said: SensorChecked
) -> None:
    play = Play()
    play.do(play.celsius(fluid)).taken(said)
    answer = sensor_check.answer(play.state)
    assert answer is not None
    by_gun = [r for r in gates.sensor(play.state) if r.code is DOUBTED and r.word]
    assert bool(by_gun) == sentences.gun_doubts(answer)
    for reason in by_gun:
        for units in (METRIC, US):
            assert wording.sentence(reason, units) == sentences.gun_sentence(answer, units)
    # what hall and coolant say does not depend on the gun
    bare = Play()
    bare.do(bare.celsius(fluid)).taken(replace(said, infrared=None))
    plain = [r for r in gates.sensor(bare.state) if r.code is DOUBTED]
    judged = answer.gun is not None or said.infrared is None
    if judged:
        assert [r for r in gates.sensor(play.state) if r.code is DOUBTED and not r.word] == plain


@given(fluids, said_of_sensor, st.integers(1, 3))
def test_an_older_record_is_judged_as_it_was(
    fluid: float, said: SensorChecked, procedure: int
) -> None:
    """By the rule of its day, written out anew: 5 K to hall and coolant, or above by the gun."""
    play = of_version(procedure)
    play.do(play.celsius(fluid)).taken(said)
    rested = [said.ambient, said.coolant] if said.rested else []
    apart = [abs(fluid - other) for other in rested if other is not None]
    apart += [said.infrared - fluid] if said.infrared is not None else []
    expected = [Reason(NOT_CHECKED)] if not apart else []
    if apart and max(apart) > 5.0:
        expected = [Reason(DOUBTED, value=max(apart), limit=5.0)]
    assert list(gates.sensor(play.state)) == expected
    assert reducer.replay(play.events) == play.state


@given(st.floats(-30, 150), st.floats(-30, 60), st.floats(0.05, 1.0))
def test_no_real_pan_closes_the_gate(fluid: float, ambient: float, emissivity: float) -> None:
    gun = shown_by_gun(fluid, ambient, emissivity, 1.0)
    said = {"ambient": ambient, "infrared": gun, "gun_emissivity": 1.0}
    assert against(compared(fluid, **said)) == []


def test_the_doubt_is_told_with_its_numbers_and_what_to_do() -> None:
    (reason,) = gates.sensor(compared(60.0, infrared=70.0).state)
    assert (reason.value, reason.limit) == (pytest.approx(10.0), pytest.approx(8**0.5))
    assert wording.sentence(reason, US) == (
        "The gun reads 18.0 °F above the sensor, which no surface can explain. "
        "Aim again, clear of hot parts; if it stays, doubt the sensor."
    )
    (across,) = gates.sensor(compared(60.0, infrared=10.0).state)
    assert wording.sentence(across, METRIC).startswith("Gun and sensor lie on different sides of")
    # of an earlier moment, whose numbers are gone
    for word, words in (
        ("beyond", "The gun reads far off the sensor"),
        ("", "is too far off what"),
    ):
        said = wording.sentence(Reason(DOUBTED, word), METRIC)
        assert words in said
        assert "0.0" not in said


@pytest.mark.parametrize(("gun", "word"), [(80.0, "beyond"), (10.0, "other_side")])
def test_it_is_overridden_like_any_doubt_of_the_sensor(gun: float, word: str) -> None:
    assert DOUBTED in OVERRIDABLE & LEVEL_AFFECTING
    play = compared(60.0, infrared=gun)
    assert play.state.stage is Stage.SENSOR
    started = ev.EngineStarted(t=play.t)
    assert DOUBTED in play.do(started).refused()
    plain = ev.GateOverridden(t=play.t, code=DOUBTED, reason="hot exhaust", by="R.")
    assert play.do(plain).refused() == {Code.NOTHING_TO_OVERRIDE}
    play.taken(replace(plain, word=word))
    assert play.state.stage is Stage.PRECONDITION
    # of another doubt it says nothing
    play.taken(SensorChecked(t=0, ambient=21.0, infrared=10.0 if gun > 60 else 80.0))
    assert play.state.stage is Stage.SENSOR
    play.taken(SensorChecked(t=0, ambient=21.0, infrared=gun))
    assert play.state.stage is Stage.SENSOR  # it ended with the reason that it was given for
    play.taken(replace(plain, word=word)).on_the_ground().raised().wait(12, 70.0)
    assert gates.reasons(Gate.PLUG_OUT, play.state) == ()
    play.plug_out().flow(ev.Flow.RUNS).look().flow(ev.Flow.DRIPS, 1.5).closed_up().finished()
    assert play.state.closed is not None
    assert play.state.closed.verdict is Verdict.RECHECK
    assert play.state.closed.reasons == ("overridden: sensor_doubted",)
    assert "infrared gun" in wording.overridden(DOUBTED.value, word)
    assert wording.overridden(DOUBTED.value).startswith("the temperature sensor was off")
    assert reducer.replay(play.events) == play.state
