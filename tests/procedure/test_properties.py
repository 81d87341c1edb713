"""What holds for every sequence of taps and readings."""

from __future__ import annotations

from typing import Any

import pytest
from check_play import ALL_SIGNALS, GOOD, MILKY, TEMPERATURE_ONLY, Play
from hypothesis import given, settings
from hypothesis import strategies as st

from brimline.condition.model import Recommendation
from brimline.procedure import events as ev
from brimline.procedure import facts, reducer
from brimline.procedure.acknowledging import AlarmAcknowledged, CautionAcknowledged, Undone
from brimline.procedure.attaching import About, AttachmentKept
from brimline.procedure.effects import Refused
from brimline.procedure.events import Flow, Item
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.names import Alarm, Stage
from brimline.procedure.reasons import OVERRIDABLE, SAFETY, Code
from brimline.procedure.state import Cause, CheckState
from brimline.procedure.verdict import closing_event
from brimline.reading import Quality, Reading, SignalName, Way

TEMPERATURES = st.one_of(st.floats(60, 90), st.sampled_from([20.0, 64.9, 65.0, 85.0, 85.1, 110.0]))


def _tap(kind: type, **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.fixed_dictionaries(fields).map(lambda given: lambda t: kind(t=t, **given))


def _reading(signal: SignalName, values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    quality = st.sampled_from([Quality.GOOD] * 6 + list(Quality))
    way = st.sampled_from([Way.BUS] * 4 + [Way.KEYED])
    return st.builds(
        lambda value, q, w: lambda t: Reading(t, signal, value, q, w), values, quality, way
    )


REASON = st.sampled_from(["", "because"])
AMOUNT = st.sampled_from([0.1, 0.4, 0.9])
MAKERS = [
    _tap(ev.Confirmed, item=st.sampled_from(Item)),
    _tap(ev.Withdrawn, item=st.sampled_from(Item)),
    _tap(ev.FluidChosen, product=st.sampled_from(["TF-Clear", "TF-Red", "TF-Thin"])),
    _tap(ev.SensorChecked, ambient=st.floats(10, 30), rested=st.booleans()),
    _tap(ev.EngineStarted),
    _tap(ev.EngineStopped),
    _tap(ev.RangeSelected, range=st.sampled_from(["P", "R", "D", "X"])),
    _tap(ev.IdleSpeedNoted, rpm=st.sampled_from([300.0, 640.0, 900.0])),
    _tap(ev.SignalWithdrawn, signal=st.sampled_from(SignalName), reason=REASON),
    _tap(ev.PlugOut, happened=st.just(None)),
    _tap(ev.PlugOut, happened=st.floats(0, 400)),
    _tap(ev.PlugIn),
    _tap(ev.FirstLook, findings=st.sampled_from([GOOD, MILKY])),
    _tap(ev.FlowJudged, flow=st.sampled_from(Flow), drops_per_second=st.sampled_from([1.0, 5.0])),
    _tap(ev.PumpStarted),
    _tap(ev.PumpStopped, litres=AMOUNT),
    _tap(ev.RunOffMeasured, litres=AMOUNT),
    _tap(ev.EndedProvisional, reason=REASON),
    _tap(ev.SealDone, replaced=st.booleans()),
    _tap(
        ev.PlugTorqued, torque=st.sampled_from([10.0, 120.0]), wrench_low=st.just(4.0),
        wrench_high=st.just(20.0), unit=st.just("N·m"),
    ),
    _tap(ev.PlugStripped),
    _tap(ev.LeakLook, dry=st.booleans()),
    _tap(
        ev.ConditionAssessed, findings=st.sampled_from([GOOD, MILKY, None]),
        advised=st.just(Recommendation.NO_ACTION), advised_reasons=st.just(()),
        recommendation=st.sampled_from(Recommendation), override_reason=REASON,
    ),
    _tap(
        ev.GateOverridden, code=st.sampled_from(Code), word=st.sampled_from(["", "R", "catch_pan"]),
        reason=REASON, by=st.just("R."),
    ),
    _tap(ev.HandedOver, to=REASON, plug_is_out=st.booleans(), engine_runs=st.booleans()),
    _tap(
        ev.Resumed, gap_s=st.one_of(st.none(), st.floats(0, 1000)), plug_is_out=st.booleans(),
        engine_runs=st.sampled_from([True, False, None]),
    ),
    _tap(ev.CheckAborted, reason=REASON, plug_left_out=st.booleans()),
    _tap(
        AttachmentKept, sha256=st.sampled_from(["a" * 64, "b" * 64]), name=st.just("pan.jpg"),
        media_type=st.just("image/jpeg"), size=st.just(70_000), about=st.sampled_from(About),
    ),
    _tap(Undone),
    _tap(Undone),
    _tap(AlarmAcknowledged, alarm=st.sampled_from(Alarm)),
    _tap(CautionAcknowledged, stage=st.sampled_from(Stage)),
    _reading(SignalName.FLUID_TEMPERATURE, TEMPERATURES),
    _reading(SignalName.ENGINE_SPEED, st.sampled_from([0.0, 640.0, 640.0, 640.0, 900.0])),
    _reading(SignalName.RANGE, st.sampled_from(["P", "P", "R", "D"])),
    _reading(SignalName.VEHICLE_SPEED, st.sampled_from([0.0, 0.0, 30.0])),
]  # fmt: skip
STEPS = st.lists(
    st.tuples(st.sampled_from([0.0, 0.0, 0.5, 1.0, 4.0, 31.0, 60.0]), st.one_of(MAKERS)),
    max_size=40,
)
MEASURED = st.sampled_from([TEMPERATURE_ONLY, ALL_SIGNALS, ()])


@st.composite
def plays(draw: st.DrawFn) -> Play:
    """A check that starts somewhere along its way, and then anything happens."""
    play = Play(draw(MEASURED))
    if play.state.opened.measured == TEMPERATURE_ONLY:
        for name in draw(
            st.sampled_from(
                [(), ("identified", "sensor_trusted"), ("ready",), ("ready", "plug_out")]
            )
        ):
            getattr(play, name)()
    return play


def _run(play: Play, steps: list[tuple[float, Any]]) -> Play:
    for pause, make in steps:
        play.t += pause
        play.do(make(play.t))
    return play


@given(plays(), STEPS)
def test_replaying_the_events_gives_the_same_state(play: Play, steps: list[Any]) -> None:
    _run(play, steps)
    assert reducer.replay(play.events) == play.state


@given(plays(), STEPS, st.floats(0, 400), st.floats(0, 400))
def test_time_may_pass_in_any_portions(
    play: Play, steps: list[Any], first: float, second: float
) -> None:
    start = _run(play, steps).state
    a, b = sorted((start.now + first, start.now + second))
    halfway, early = reducer.advance(start, a)
    twice, late = reducer.advance(halfway, b)
    assert (twice, early + late) == reducer.advance(start, b)


def _plug_moved_out(before: CheckState, after: CheckState) -> bool:
    return len(after.plug_spans) > len(before.plug_spans)


@given(plays(), STEPS)
@settings(max_examples=200)
def test_the_plug_never_comes_out_through_a_closed_gate(play: Play, steps: list[Any]) -> None:
    for pause, make in steps:
        play.t += pause
        event = make(play.t)
        before, _ = reducer.advance(play.state, play.t)
        against = reasons(Gate.PLUG_OUT, before)
        history = {m.t: m.closed_by for m in before.gate_history}
        play.do(event)
        if not _plug_moved_out(before, play.state):
            continue
        if isinstance(event, ev.PlugOut):
            at = event.at
            closed_by = history[max(t for t in history if t <= at)]
            assert not closed_by
            if at == before.now:
                assert not against
        else:  # a person found it out: no step goes on from there
            assert isinstance(event, ev.HandedOver | ev.Resumed)
            assert Cause.FOUND_OUT in play.state.causes


def _facts_that_nobody_overrides(state: CheckState) -> bool:
    """The never-overridable facts, read from the state by other means than the gates."""
    last = state.temperature.last
    limit = {"normal": 85.0, "sustained_load": 105.0}[state.opened.duty]
    stale = 60.0 if last is not None and last.way is Way.KEYED else 5.0
    product = state.fluid.product if state.fluid else ""
    approved = product == "TF-Clear" or (product == "TF-Thin" and state.fluid.condition_confirmed)
    return (
        approved
        and state.engine.running_since is not None
        and state.ranges.current == "P"
        and Item.LIFT_LOCKED in state.confirmed
        and last is not None
        and last.quality is Quality.GOOD
        and state.temperature.bad is None
        and state.now - last.t < stale
        # Above a closed band's edge by jitter alone, for less than the dwell, is not "above".
        and last.number <= limit + 2.0
        and not (state.first_look and state.first_look.findings == MILKY)
    )


OVERRIDES = st.lists(st.sampled_from(Code), max_size=12)


@given(plays(), STEPS, OVERRIDES)
@settings(max_examples=200)
def test_no_override_moves_what_is_never_overridden(
    play: Play, steps: list[Any], codes: list[Code]
) -> None:
    _run(play, steps)
    for code in codes:
        for word in ("", *(item.value for item in Item), "R", "D"):
            tap = ev.GateOverridden(t=play.t, code=code, word=word, reason="because", by="R.")
            play.do(tap)
            if code in SAFETY:
                assert play.refused() in ({Code.NEVER_OVERRIDDEN}, {Code.CHECK_OVER})
    assert not {override.code for override in play.state.active_overrides} & SAFETY
    before = play.state
    if _plug_moved_out(before, play.do(ev.PlugOut(t=play.t)).state):
        assert _facts_that_nobody_overrides(before)


def _override_everything(play: Play) -> None:
    for code in Code:
        for word in ("", *(item.value for item in Item), "R", "D", "TF-Red", "bulletin B03"):
            play.do(ev.GateOverridden(t=play.t, code=code, word=word, reason="because", by="R."))


@pytest.mark.parametrize(
    ("broken", "spoil"),
    [
        ("fluid", lambda p: p.do(ev.FluidChosen(t=p.t, product="TF-Red"))),
        ("condition", lambda p: p.do(ev.FluidChosen(t=p.t, product="TF-Thin"))),
        ("engine running", lambda p: p.do(ev.EngineStopped(t=p.t))),
        ("park", lambda p: p.do(ev.RangeSelected(t=p.t, range="D"))),
        ("lift locked", lambda p: p.do(ev.Withdrawn(t=p.t, item=Item.LIFT_LOCKED))),
        ("max_plug_out", lambda p: p.do(p.celsius(105.1))),
        ("fresh readings", lambda p: p.wait(5.0)),
        ("good readings", lambda p: p.do(p.celsius(99.0, Quality.FROZEN))),
    ],
)
def test_each_safety_fact_alone_keeps_the_plug_in(broken: str, spoil: Any) -> None:
    play = Play(duty="sustained_load").ready(99.0)
    assert not reasons(Gate.PLUG_OUT, play.state)
    spoil(play)
    _override_everything(play)
    assert play.do(ev.PlugOut(t=play.t)).refused(), broken
    assert not play.state.plug_is_out


def test_coolant_signs_keep_the_plug_in_whatever_is_overridden() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look(MILKY)
    play.taken(ev.PlugIn(t=play.t))
    _override_everything(play)
    assert Code.COOLANT_SIGNS in play.do(ev.PlugOut(t=play.t)).refused()


@given(st.lists(st.tuples(st.sampled_from([1.0, 3.0, 6.0]), TEMPERATURES), max_size=25), st.data())
def test_a_late_plug_out_is_judged_by_the_gate_of_its_moment(
    walk: list[tuple[float, float]], data: st.DataObject
) -> None:
    play = Play().ready()
    open_at: list[tuple[float, bool]] = [(play.t, not reasons(Gate.PLUG_OUT, play.state))]
    for pause, celsius in walk:
        play.t += pause
        passing, _ = reducer.advance(play.state, play.t)
        stale_from = facts.temperature_lost_at(play.state)
        if stale_from is not None and open_at[-1][0] < stale_from <= play.t:
            open_at.append((stale_from, False))
        play.do(play.celsius(celsius))
        open_at.append((play.t, not reasons(Gate.PLUG_OUT, play.state)))
        assert passing.now == play.t
    happened = data.draw(st.floats(max(0.0, play.t - 60), play.t))
    known = [is_open for t, is_open in open_at if t <= happened]
    taken = not play.do(ev.PlugOut(t=play.t, happened=happened)).refused()
    if known:
        assert taken == known[-1]


def test_every_code_has_one_class_at_most() -> None:
    assert not SAFETY & OVERRIDABLE


@given(plays(), STEPS)
def test_a_refused_tap_changes_nothing_but_the_time(play: Play, steps: list[Any]) -> None:
    for pause, make in steps:
        play.t += pause
        before, _ = reducer.advance(play.state, play.t)
        play.do(make(play.t))
        if any(isinstance(effect, Refused) for effect in play.effects):
            assert play.state == before


@given(plays(), STEPS)
def test_a_sealed_verdict_stays(play: Play, steps: list[Any]) -> None:
    if play.state.aborted is None:
        play.do(ev.CheckAborted(t=play.t, reason="over", plug_left_out=True))
    play.do(closing_event(play.state, play.t))
    verdict = play.state.closed
    _run(play, steps)
    assert play.state.closed == verdict
    assert verdict is not None


@given(st.lists(st.floats(0, 300), max_size=30), STEPS)
def test_events_that_come_late_are_taken_in_the_order_they_come(
    times: list[float], steps: list[Any]
) -> None:
    play = Play().ready()
    for t, (_, make) in zip(times, steps, strict=False):
        play.do(make(t))
        assert play.state.now >= t
    assert reducer.replay(play.events) == play.state
