"""Jitter at an edge never flaps a gate or an alarm.

A *crossing* is the passage of the fluid itself, without the jitter of its readings, from more than
a jitter's reach on one side of an edge to as much on the other. For each crossing the gate before
"plug out" opens once or closes once, its reasons change twice at most (below the band, then not
steadily inside yet, then open), and an alarm is raised once and not cleared by a reading.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache

import pytest
from check_play import Play, sheet
from edge_play import JITTERS, EdgePlay
from hypothesis import given, settings
from hypothesis import strategies as st

from brimline.procedure import events as ev
from brimline.procedure import reducer
from brimline.procedure.acknowledging import AlarmAcknowledged
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import Alarm, Cause
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.units import METRIC
from brimline.wording import sentence

EDGES = {  # of the test sheet: which duty, and whether the band lies above the edge
    65.0: ("normal", True),
    85.0: ("normal", False),
    92.0: ("sustained_load", True),
    105.0: ("sustained_load", False),
}
edges = st.sampled_from(sorted(EDGES))
hertz = st.sampled_from([1.0, 2.0, 10.0])
jitters = st.sampled_from(sorted(JITTERS))
takes = st.sampled_from([60.0, 150.0])  # s for 6 K; 2 K a minute is usual at idle
seeds = st.integers(0, 10_000)
SLOW = settings(max_examples=6, deadline=None)


@cache
def _at(duty: str, celsius: float) -> EdgePlay:
    return EdgePlay(duty).at_temperature(celsius)


def at(celsius: float, duty: str = "normal") -> EdgePlay:
    """A check ready for the plug but for its temperature, which is this one."""
    return _at(duty, celsius).again()


def inward(edge: float, reach: float) -> tuple[float, float]:
    """Return where a crossing into the band begins and ends, in °C."""
    sign = 1 if EDGES[edge][1] else -1
    return edge - sign * reach, edge + sign * reach


# ── temperature ──────────────────────────────────────────────────────────────


@given(edges, takes, hertz, jitters, seeds)
@SLOW
def test_the_gate_opens_once_for_a_crossing_into_the_band(
    edge: float, seconds: float, hertz: float, jitter: str, seed: int
) -> None:
    start, end = inward(edge, 3.0)
    play = at(start, EDGES[edge][0])
    play.ramp(start, end, seconds, hertz, jitter, seed)
    assert play.was_open
    assert play.gate_changes == 1
    assert play.reason_changes <= 2
    assert not play.raised_alarms


@given(edges, takes, hertz, jitters, seeds)
@SLOW
def test_the_gate_closes_once_for_a_crossing_out_of_the_band(
    edge: float, seconds: float, hertz: float, jitter: str, seed: int
) -> None:
    end, start = inward(edge, 3.0)
    play = at(start, EDGES[edge][0])
    play.ramp(start, end, seconds, hertz, jitter, seed)
    assert not play.was_open
    assert play.gate_changes == play.reason_changes == 1
    assert not play.raised_alarms


@given(edges, takes, hertz, jitters, seeds)
@SLOW
def test_with_the_plug_out_the_alarm_comes_once_and_stays(
    edge: float, seconds: float, hertz: float, jitter: str, seed: int
) -> None:
    end, start = inward(edge, 3.0)
    play = at(start, EDGES[edge][0])
    play.plug_out()
    play.ramp(start, end, seconds, hertz, jitter, seed)
    assert play.state.causes == (Cause.BAND_LEFT,)
    assert (play.raised_alarms, play.cleared_alarms) == ([Alarm.PLUG_IN], [])


@given(edges, hertz, jitters, seeds)
@SLOW
def test_fluid_that_stays_inside_alarms_nobody_however_near_the_edge(
    edge: float, hertz: float, jitter: str, seed: int
) -> None:
    _, inside = inward(edge, 1.6)  # beyond the reach of a degree, and of rounding besides
    play = at(inside, EDGES[edge][0])
    play.plug_out()
    play.forget()
    play.ramp(inside, inside, 60, hertz, jitter, seed)
    assert not play.raised_alarms
    assert play.gate_changes == play.reason_changes == 0


@given(edges, st.sampled_from([1.0, 2.0]), seeds)
@SLOW
def test_fluid_held_on_an_edge_that_counts_as_inside_changes_the_gate_once(
    edge: float, hertz: float, seed: int
) -> None:
    start, _ = inward(edge, 3.0)
    play = at(start, EDGES[edge][0])
    play.ramp(edge, edge, 150, hertz, "one whole degree to either side", seed)
    assert play.gate_changes <= 1
    assert play.reason_changes <= 2


@given(hertz, jitters, seeds)
@SLOW
def test_an_override_of_the_band_outlives_the_jitter_it_was_given_in(
    hertz: float, jitter: str, seed: int
) -> None:
    play = at(63.4)
    play.ramp(63.4, 63.4, 20, hertz, jitter, seed)
    override = ev.GateOverridden(t=play.t, code=Code.BELOW_BAND, reason="it is cold", by="R.")
    play.taken(override)
    play.plug_out()
    play.forget()
    play.ramp(63.4, 63.4, 45, hertz, jitter, seed + 1)
    assert not play.raised_alarms
    assert play.gate_changes == 0
    assert play.state.causes == ()


def test_the_limit_for_the_plug_counts_at_once_and_is_left_two_degrees_below() -> None:
    play = at(104.0, "sustained_load")
    assert play.was_open
    play.tick(1.0, 105.1)
    assert {reason.code for reason in reasons(Gate.PLUG_OUT, play.state)} == {Code.TOO_HOT_FOR_PLUG}
    play.steadily(60, 103.5)
    assert not play.was_open
    play.tick(1.0, 103.0)
    assert play.was_open


def test_a_reason_that_stands_on_says_nothing_that_the_reading_denies() -> None:
    play = at(62.0)
    said = []
    for celsius in (64.5, 65.4, 67.5):
        play.tick(1.0, celsius)
        said += [sentence(reason, METRIC) for reason in reasons(Gate.PLUG_OUT, play.state)]
    assert said == [
        "The fluid is below its target band: 64.5 °C, band from 65 °C.",
        "The fluid is hardly inside its target band yet: 65.4 °C, band from 65 °C.",
        "The readings have not stayed inside the target band for 10 s yet.",
    ]
    play = at(104.0, "sustained_load")
    play.tick(1.0, 105.5)
    play.tick(1.0, 104.2)
    (reason,) = reasons(Gate.PLUG_OUT, play.state)
    assert sentence(reason, METRIC) == (
        "The fluid is still too near the limit for the plug: 104.2 °C, limit 105 °C."
    )
    assert sentence(Reason(reason.code), METRIC) == "The fluid was too hot for the plug then."


@given(hertz, jitters, seeds)
@SLOW
def test_a_band_below_the_limit_for_the_plug_has_two_edges_above_it(
    hertz: float, jitter: str, seed: int
) -> None:
    play = _cooling().again()
    play.ramp(103.0, 96.0, 40, hertz, jitter, seed)
    assert play.reason_changes == 1  # from too hot for the plug to above the band
    assert play.gate_changes == 0
    play.forget()
    play.steadily(5, 88.0)
    play.ramp(88.0, 82.0, 40, hertz, jitter, seed)
    assert play.was_open
    assert play.gate_changes == 1
    assert play.reason_changes <= 2


@cache
def _cooling() -> EdgePlay:
    bands = {"normal": {"low": "65 °C", "high": "85 °C", "max_plug_out": "100 °C"}}
    return EdgePlay(spec=sheet(bands=bands)).at_temperature(103.0)


# ── keyed ────────────────────────────────────────────────────────────────────


def keyed_play(duty: str) -> EdgePlay:
    play = EdgePlay(duty, ())
    play.identified()
    play.do(play.celsius(22.0, way=Way.KEYED))
    play.taken(ev.SensorChecked(t=play.t, ambient=21.0, rested=True))
    play.on_the_ground()
    play.raised()
    return play


def key_over(play: EdgePlay, course: list[float], pause: float, chance: random.Random) -> None:
    for celsius in course:
        play.wait(pause)
        play.do(play.celsius(round(celsius) + chance.choice((-1, 0, 1)), way=Way.KEYED))


@given(edges, st.booleans(), st.sampled_from([15.0, 30.0, 50.0]), seeds)
@SLOW
def test_keyed_readings_that_jitter_change_the_gate_once_for_a_crossing(
    edge: float, entering: bool, pause: float, seed: int
) -> None:
    outside, inside = inward(edge, 5.0)
    start, end = (outside, inside) if entering else (inside, outside)
    play, chance = keyed_play(EDGES[edge][0]), random.Random(seed)
    key_over(play, [start] * 3, pause, chance)
    assert play.was_open is not entering
    play.forget()
    steps = int(10 / (2 / 60 * pause))  # at 2 K a minute
    key_over(play, [start + (end - start) * n / steps for n in range(steps + 1)], pause, chance)
    assert play.was_open is entering
    assert play.gate_changes == 1


def test_a_keyed_reading_at_the_edge_does_not_call_the_plug_in() -> None:
    play = keyed_play("normal")
    key_over(play, [66.0] * 2, 20.0, random.Random(2))
    play.do(play.celsius(65.0, way=Way.KEYED))
    play.plug_out()
    for celsius in (64.0, 65.0, 63.0):
        play.wait(20)
        play.do(play.celsius(celsius, way=Way.KEYED))
        assert not play.raised_alarms
    play.wait(20)
    play.do(play.celsius(62.9, way=Way.KEYED))
    assert play.raised_alarms == [Alarm.PLUG_IN]


def test_keyed_readings_outside_for_a_minute_call_the_plug_in() -> None:
    play = keyed_play("normal")
    key_over(play, [66.0] * 2, 20.0, random.Random(2))
    play.do(play.celsius(65.0, way=Way.KEYED))
    play.plug_out()
    for _ in range(3):
        play.wait(20)
        play.do(play.celsius(64.0, way=Way.KEYED))
    assert not play.raised_alarms  # for 40 s so far
    play.wait(20)
    play.do(play.celsius(64.0, way=Way.KEYED))
    assert play.raised_alarms == [Alarm.PLUG_IN]


# ── engine speed ─────────────────────────────────────────────────────────────


@given(
    st.sampled_from([560.0, 760.0]),
    st.booleans(),
    st.sampled_from([2.0, 10.0]),  # it is asked for twice a second, and broadcast faster
    st.floats(0.0, 25.0),
    st.sampled_from([30.0, 60.0]),
    seeds,
)
@SLOW
def test_an_idle_speed_that_crosses_its_windows_edge_changes_the_gate_once(
    edge: float, leaving: bool, hertz: float, wobble: float, seconds: float, seed: int
) -> None:
    play, chance = at(70.0), random.Random(seed)
    outwards = -1 if edge == 560.0 else 1
    start, end = edge - outwards * 40, edge + outwards * 40
    if not leaving:
        start, end = end, start
        play.steadily(5, 70.0, start)
    assert play.was_open is leaving
    play.forget()
    steps = int(seconds * hertz)
    play.speeds(
        (start + (end - start) * n / steps + chance.uniform(-wobble, wobble) for n in range(steps)),
        hertz,
    )
    play.speeds([end] * int(12 * hertz), hertz)
    assert play.was_open is not leaving
    assert play.gate_changes == play.reason_changes == 1


@given(st.lists(st.tuples(st.floats(0.2, 2.4), st.floats(0.2, 5.0)), max_size=6), hertz)
@SLOW
def test_short_excursions_of_the_idle_speed_change_nothing(
    excursions: list[tuple[float, float]], hertz: float
) -> None:
    play = at(70.0)
    for off, on in excursions:
        play.speeds([850.0] * int(off * hertz), hertz)
        play.speeds([650.0] * (int(on * hertz) + 1), hertz)
    assert play.gate_changes == play.reason_changes == 0


def test_an_engine_that_starts_has_been_on_no_excursion() -> None:
    play = at(70.0)
    play.steadily(5, 70.0, rpm=0.0)
    play.tick(1.0, 70.0, 650.0)
    codes = {reason.code for reason in reasons(Gate.PLUG_OUT, play.state)}
    assert codes == {Code.CIRCULATION_SHORT}


# ── signals that drop out ────────────────────────────────────────────────────


@given(st.lists(st.tuples(st.floats(0.1, 4.3), st.floats(0.5, 10.0)), max_size=8))
@SLOW
def test_ranges_and_temperatures_that_drop_out_shortly_change_nothing(
    gaps: list[tuple[float, float]],
) -> None:
    play = at(70.0)
    play.plug_out()
    play.forget()
    for gap, on in gaps:
        for _ in range(int(on * 2) + 1):
            play.tick(0.5, 70.0)
        play.tick(gap, None, name=None)
    play.tick(0.1, 70.0)
    assert play.gate_changes == 0
    assert play.raised_alarms == play.cleared_alarms == []


@given(st.integers(1, 5), st.floats(5.1, 20.0), seeds)
@SLOW
def test_a_range_that_is_lost_closes_the_gate_once_and_opens_it_once(
    times: int, gap: float, seed: int
) -> None:
    play, chance = at(70.0), random.Random(seed)
    for _ in range(times):
        for _ in range(int(gap * 2) + 1):  # senders without a value count as lost as well
            play.tick(0.5, 70.0, name=None)
            if chance.random() < 0.5:
                nothing = Reading(play.t, SignalName.RANGE, None, Quality.NOT_AVAILABLE)
                play.do(nothing)
        play.steadily(5, 70.0)
    assert play.gate_changes == play.reason_changes == 2 * times


@given(st.integers(1, 5), st.floats(5.1, 20.0))
@SLOW
def test_readings_that_are_lost_with_the_plug_out_alarm_once_for_each_loss(
    times: int, gap: float
) -> None:
    play = at(70.0)
    play.plug_out()
    for _ in range(times):
        for _ in range(int(gap * 2) + 1):
            play.tick(0.5, None)
        play.steadily(15, 70.0)
    assert play.raised_alarms == play.cleared_alarms == [Alarm.READINGS_LOST] * times
    assert play.state.standing == ()


@given(hertz, jitters, seeds, st.booleans())
@SLOW
def test_a_band_left_stays_one_alarm_until_it_is_heard_whatever_the_jitter(
    hertz: float, jitter: str, seed: int, heard: bool
) -> None:
    play = at(83.0)
    play.plug_out()
    play.forget()
    play.ramp(83.0, 89.0, 60, hertz, jitter, seed)
    if heard:
        play.taken(AlarmAcknowledged(t=play.t, alarm=Alarm.PLUG_IN))
    play.ramp(89.0, 82.0, 60, hertz, jitter, seed + 1)  # back inside
    assert (play.raised_alarms, play.cleared_alarms) == ([Alarm.PLUG_IN], [])
    (standing,) = play.state.standing
    assert standing.active
    assert standing.acknowledged is heard


# ── older records ────────────────────────────────────────────────────────────


def as_version(play: Play, version: int) -> ev.CheckOpened:
    opened = play.events[0]
    assert isinstance(opened, ev.CheckOpened)
    return replace(opened, procedure=version)


@pytest.mark.parametrize(("version", "flaps"), [(3, True), (4, False)])
def test_records_made_before_keep_the_rules_they_were_made_by(version: int, flaps: bool) -> None:
    play = at(61.0)
    play.ramp(61.0, 69.0, 80, 10.0, "normal, 0.3 °C", 5)
    state, seen = reducer.open_check(as_version(play, version)), 0
    for event in play.events[1:]:
        before = state.gate_history[-1:]
        state, _ = reducer.reduce(state, event)
        seen += event.t > 120 and state.gate_history[-1:] != before
    assert (seen > 10) is flaps


@pytest.mark.parametrize(("version", "left"), [(3, True), (4, False)])
def test_a_keyed_reading_decided_at_once_before(version: int, left: bool) -> None:
    play = keyed_play("normal")
    for celsius in (66.0, 64.0):
        play.wait(20)
        play.do(play.celsius(celsius, way=Way.KEYED))
    state = reducer.replay([as_version(play, version), *play.events[1:]])
    codes = {reason.code for reason in reasons(Gate.PLUG_OUT, state)}
    assert (Code.BELOW_BAND in codes) is left
