"""Cautions before a step: the step waits for them, and what ends a danger never does."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from check_play import GOOD, Play

from brimline.procedure import cautions, reducer
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import CautionAcknowledged
from brimline.procedure.events import Flow, Item
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.names import Stage
from brimline.procedure.reasons import Code
from brimline.units import METRIC
from brimline.wording import sentence


def seen(play: Play, stage: Stage) -> Play:
    return play.taken(CautionAcknowledged(t=play.t, stage=stage))


def unread(play: Play) -> Play:
    """Let somebody take over who has read nothing."""
    out = play.state.plug_is_out
    return play.taken(ev.HandedOver(t=play.t, to="M.", plug_is_out=out, engine_runs=True))


def test_the_lift_the_plug_and_the_pump_wait_for_their_cautions() -> None:
    play = Play().identified().sensor_trusted().on_the_ground()
    lift = ev.Confirmed(t=play.t, item=Item.LIFT_LOCKED)
    assert play.do(lift).refused() == {Code.CAUTION_NOT_SEEN}
    seen(play, Stage.RAISE).taken(lift)
    play = unread(Play().ready())
    assert play.do(ev.PlugOut(t=play.t)).refused() == {Code.CAUTION_NOT_SEEN}
    assert play.state.stage is Stage.PLUG_OUT  # they stand there
    seen(play, Stage.PLUG_OUT).taken(ev.PlugOut(t=play.t))
    unread(play.flow(Flow.NOTHING).look(drawn=True))
    assert play.do(ev.PumpStarted(t=play.t)).refused() == {Code.CAUTION_NOT_SEEN}
    seen(play, Stage.LEVEL).taken(ev.PumpStarted(t=play.t))


def test_nobody_has_to_read_while_fluid_runs() -> None:
    play = seen(unread(Play().ready()), Stage.PLUG_OUT).plug_out()
    play.flow(Flow.NOTHING).look(drawn=True).taken(ev.PumpStarted(t=play.t))


def test_each_is_read_once_and_again_by_whoever_takes_over_or_goes_on() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look(drawn=True).pump(0.1)
    assert play.state.cautions_seen == set(cautions.CAUTIONED)
    seen(play, Stage.LEVEL)  # said twice it is no mistake
    play.taken(ev.Resumed(t=play.t, gap_s=2, plug_is_out=True, engine_runs=True))
    assert play.state.cautions_seen == frozenset()
    assert not cautions.asked(play.state, Stage.RAISE)  # it is up


@pytest.mark.parametrize(
    "tap",
    [
        lambda t: ev.PlugIn(t=t),
        lambda t: ev.EngineStopped(t=t),
        lambda t: ev.PumpStopped(t=t, litres=0.1),
        lambda t: ev.CheckAborted(t=t, reason="fire alarm", plug_left_out=True),
        lambda t: ev.FirstLook(t=t, findings=GOOD),
    ],
)
def test_what_ends_a_danger_never_waits(tap: Any) -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look(drawn=True)
    play.taken(ev.PumpStarted(t=play.t)).wait(2, 70.0)
    unread(play)
    assert not play.do(tap(play.t)).refused()


def test_other_stages_have_none_and_older_checks_neither() -> None:
    play = Play()
    for stage in set(Stage) - set(cautions.CAUTIONED):
        tap = CautionAcknowledged(t=0, stage=stage)
        assert play.do(tap).refused() == {Code.NOTHING_TO_ACKNOWLEDGE}
    opened = play.events[0]
    assert isinstance(opened, ev.CheckOpened)
    old = reducer.open_check(replace(opened, procedure=4))
    assert not any(cautions.asked(old, stage) for stage in Stage)
    assert Code.CAUTION_NOT_SEEN not in {r.code for r in reasons(Gate.PLUG_OUT, old)}
    assert reducer.reduce(old, CautionAcknowledged(t=0, stage=Stage.RAISE))[1]


def test_a_sentence_says_which() -> None:
    said = [sentence(next(cautions.against(Play().state, stage)), METRIC)
            for stage in cautions.CAUTIONED]  # fmt: skip
    assert said == [
        "The cautions before the lift goes up have not been acknowledged.",
        "The cautions before the plug comes out have not been acknowledged.",
        "The cautions before fluid is pumped in have not been acknowledged.",
    ]


def test_nobody_overrides_one() -> None:
    play = unread(Play().ready())
    for word in ("", "plug_out"):
        tap = ev.GateOverridden(
            t=play.t, code=Code.CAUTION_NOT_SEEN, word=word, reason="in a hurry", by="R."
        )
        assert play.do(tap).refused() == {Code.NOTHING_TO_OVERRIDE}
