"""A forecast in the record changes nothing but itself: no gate and no verdict reads it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from check_play import Play
from hypothesis import given
from hypothesis import strategies as st
from test_properties import STEPS, plays

from brimline.procedure import reducer
from brimline.procedure.deadlines import next_deadline
from brimline.procedure.estimates import ForecastMade, TimeLeft
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.state import CheckState
from brimline.procedure.verdict import closing_event

SECONDS = st.none() | st.floats(0, 7200)
LEFT = st.builds(
    TimeLeft, median=SECONDS, low=SECONDS, high=SECONDS, never=st.floats(0, 1), told=st.booleans()
)


@st.composite
def forecasts(draw: st.DrawFn, t: float) -> ForecastMade:
    return ForecastMade(
        t=t, model=draw(st.text(max_size=8)), basis=draw(st.sampled_from(["readings", "start"])),
        seen_at=draw(st.floats(0, 1000)), entry=draw(st.none() | LEFT), exit=draw(LEFT),
        learned_from=draw(st.integers(0, 50)),
    )  # fmt: skip


def without(state: CheckState) -> CheckState:
    return replace(state, forecast=None, undoable=None)


@given(plays(), STEPS, st.data())
def test_no_gate_and_no_verdict_reads_it(play: Play, steps: list[Any], data: st.DataObject) -> None:
    plain, told = play.state, play.state
    for pause, make in steps:
        play.t += pause
        event = make(play.t)
        if data.draw(st.booleans()):
            made = data.draw(forecasts(max(told.now, play.t)))
            before = told
            told, effects = reducer.reduce(told, made)
            assert told.forecast == made or told.closed is not None
            if made.t <= before.now:
                assert without(told) == without(before)
                assert not effects
            plain, _ = reducer.advance(plain, made.t)
        plain, said = reducer.reduce(plain, event)
        told, also = reducer.reduce(told, event)
        assert said == also
    assert without(told) == without(plain)
    for gate in Gate:
        assert reasons(gate, told) == reasons(gate, plain)
    assert next_deadline(told) == next_deadline(plain)
    assert closing_event(told, told.now) == closing_event(plain, plain.now)


def test_the_latest_one_is_kept() -> None:
    play = Play().ready().plug_out()
    left = TimeLeft(median=480.0, low=360.0, high=None, never=0.2, told=True)
    for number in (1, 2):
        play.do(
            ForecastMade(
                t=play.t, model=f"m{number}", basis="readings", seen_at=play.t, entry=None,
                exit=left, learned_from=0,
            )
        )  # fmt: skip
    assert play.state.forecast is not None
    assert play.state.forecast.model == "m2"
    assert reducer.replay(play.events) == play.state
