"""What is said aloud: each thing once for its occurrence, the most urgent first."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from functools import cache

import pytest
from check_play import Play
from edge_play import JITTERS, EdgePlay
from hypothesis import given, settings
from hypothesis import strategies as st

from brimline.estimate.warm_up import BandOutlook, Basis, Place
from brimline.physics.passage import Passage
from brimline.procedure import events as ev
from brimline.procedure.acknowledging import AlarmAcknowledged
from brimline.procedure.events import Flow
from brimline.procedure.names import Alarm
from brimline.procedure.state import BandPlace, CheckState
from brimline.prompts import (
    FORECAST_HOLDS_S,
    REPEAT_S,
    Cue,
    Heard,
    Prompt,
    as_it_is,
    listen,
    stands,
)
from brimline.reading import Reading, SignalName
from brimline.units import METRIC, US


class Ears:
    """Somebody who listens to a check."""

    def __init__(self) -> None:
        self.heard = Heard()
        self.all: list[Prompt] = []

    def listen(
        self, state: CheckState, outlook: BandOutlook | None = None, at: float | None = None
    ) -> list[Cue]:
        ears = state.now if at is None else at
        self.heard, due = listen(self.heard, state, outlook, METRIC, ears)
        self.all += due
        return [prompt.cue for prompt in due]


def lasting(at: float, median: float, *, known: bool = True) -> BandOutlook:
    leaving = Passage(median, median * 0.8, median * 1.3, 0.0, known=known)
    return BandOutlook(at, Basis.READINGS, Place.INSIDE, None, leaving, 0)


def inside() -> tuple[EdgePlay, Ears]:
    """A check in its band, which somebody has heard."""
    play, ears = EdgePlay().at_temperature(60.0), Ears()
    ears.listen(play.state)
    play.steadily(15, 70.0)
    assert ears.listen(play.state) == [Cue.BAND_ENTERED]
    return play, ears


@cache
def _inside() -> tuple[EdgePlay, Ears]:
    return inside()


def again() -> tuple[EdgePlay, Ears]:
    """The same, made once for many examples."""
    play, ears = _inside()
    other = Ears()
    other.heard, other.all = ears.heard, [*ears.all]
    return play.again(), other


@cache
def _at(celsius: float) -> EdgePlay:
    return EdgePlay().at_temperature(celsius)


def test_the_gates_own_word_is_said_with_the_temperature() -> None:
    play, ears = inside()
    assert ears.all[0].sentence == "In the band at 70 °C: the plug may come out."
    _, due = listen(replace(ears.heard, inside=False), play.state, None, US, 0.0)
    assert due[0].sentence == "In the band at 158 °F: the plug may come out."
    assert due[0].aloud == "In the band at 158 degrees Fahrenheit: the plug may come out."


def test_cautions_that_nobody_has_read_come_first() -> None:
    play, ears = inside()
    state = replace(play.state, cautions_seen=frozenset())
    _, due = listen(replace(ears.heard, inside=False), state, None, METRIC, 0.0)
    assert due[0].sentence.startswith("In the band at 70 °C: read the cautions")


def test_what_was_so_before_anybody_listened_is_no_news() -> None:
    play = EdgePlay().at_temperature(70.0)
    assert play.state.temperature.place is BandPlace.INSIDE
    assert Ears().listen(play.state) == []


@given(
    st.sampled_from((("in", 62.0, 68.0), ("out", 82.0, 88.0), ("cold", 68.0, 62.0))),
    st.sampled_from(sorted(JITTERS)),
    st.integers(0, 10_000),
)
@settings(max_examples=12)
def test_jitter_at_an_edge_says_a_crossing_once(
    way: tuple[str, float, float], jitter: str, seed: int
) -> None:
    name, start, end = way
    play, ears, chance = _at(start).again(), Ears(), random.Random(seed)
    ears.listen(play.state)
    for step in range(181):
        play.tick(1.0, JITTERS[jitter](start + (end - start) * step / 180, chance))
        ears.listen(play.state)
    said = Cue.BAND_ENTERED if name == "in" else Cue.BAND_LEFT
    assert [prompt.cue for prompt in ears.all] == [said]
    words = {"in": "In the band", "out": "too hot", "cold": "too cold"}
    assert words[name] in ears.all[0].sentence


forecasts = st.lists(
    st.one_of(st.none(), st.floats(1.0, 400.0), st.just(math.nan)), min_size=1, max_size=120
)


@given(forecasts)
@settings(max_examples=30)
def test_the_last_minute_is_said_once_and_never_without_a_forecast(medians: list[float]) -> None:
    """``None`` is a forecast that is withdrawn, nan one that is too early to tell."""
    play, ears = again()
    steady = 0
    for median in medians:
        play.tick(1.0, 70.0)
        outlook = None
        if median is not None:
            known = not math.isnan(median)
            outlook = lasting(play.t, median if known else 30.0, known=known)
        told = median is not None and median <= 60.0
        steady = steady + 1 if told else 0
        if Cue.BAND_MINUTE in ears.listen(play.state, outlook):
            assert steady > FORECAST_HOLDS_S
    minutes = [prompt for prompt in ears.all if prompt.cue is Cue.BAND_MINUTE]
    assert len(minutes) <= 1
    assert all(each.sentence.startswith(("Band lasts", "Band may end")) for each in minutes)


def test_the_last_minute_comes_again_with_the_next_stay() -> None:
    play, ears = inside()
    for _stay in range(2):
        for left in (70, 62, 60, 58, 56, 54, 52):
            play.tick(2.0, 70.0)
            ears.listen(play.state, lasting(play.t, float(left)))
        play.steadily(15, 90.0)
        ears.listen(play.state)
        play.steadily(15, 70.0)
        ears.listen(play.state)
    one = [Cue.BAND_MINUTE, Cue.BAND_LEFT, Cue.BAND_ENTERED]
    assert [prompt.cue for prompt in ears.all[1:]] == 2 * one


def test_readings_that_chatter_are_lost_once() -> None:
    play, ears = inside()
    for _ in range(5):
        play.wait(15)
        ears.listen(play.state)
        play.tick(1.0, 70.0)
        ears.listen(play.state)
    assert [prompt.cue for prompt in ears.all[1:]] == [Cue.READINGS_LOST]
    for _ in range(20):
        play.tick(1.0, 70.0)
        ears.listen(play.state)
    assert ears.all[-1].cue is Cue.BAND_ENTERED
    play.wait(15)
    assert ears.listen(play.state) == [Cue.READINGS_LOST]


def test_keyed_readings_that_grow_old_are_no_news() -> None:
    play, ears = Play(measured=()), Ears()
    play.identified()
    ears.listen(play.state)
    play.wait(300)
    assert ears.listen(play.state) == []


def test_an_engine_that_stops_is_said_where_nobody_tapped_it() -> None:
    play, ears = inside()
    play.steadily(3, 70.0, rpm=0.0)
    assert ears.listen(play.state) == [Cue.ENGINE_STOPPED]
    assert ears.all[-1].alarm is None
    assert stands(ears.all[-1], play.state)
    tapped, other = Play().ready(), Ears()
    other.listen(tapped.state)
    tapped.taken(ev.EngineStopped(t=tapped.t))
    assert other.listen(tapped.state) == []


# ── alarms ───────────────────────────────────────────────────────────────────


def stalled() -> tuple[EdgePlay, Ears]:
    play, ears = inside()
    play.plug_out()
    ears.listen(play.state)
    play.steadily(3, 70.0, rpm=0.0)
    return play, ears


def test_a_stall_with_the_plug_out_is_said_once_with_what_to_do() -> None:
    play, ears = stalled()
    assert ears.listen(play.state) == [Cue.ENGINE_STOPPED]
    assert ears.all[-1].alarm is Alarm.ENGINE_STOPPED
    assert "plug in" in ears.all[-1].sentence
    assert ears.all[-1].rank < replace(ears.all[-1], alarm=None).rank


def test_an_alarm_is_said_again_until_it_is_acknowledged() -> None:
    play, ears = stalled()
    for second in range(60):
        ears.listen(play.state, at=1000.0 + second)
    assert len(ears.all) == 1 + 60 / REPEAT_S
    for alarm in (Alarm.ENGINE_STOPPED, Alarm.PLUG_IN):
        play.taken(AlarmAcknowledged(t=play.t, alarm=alarm))
    for second in range(60, 120):
        assert ears.listen(play.state, at=1000.0 + second) == []
    assert stands(ears.all[-1], play.state)


def test_an_alarm_whose_condition_has_ended_makes_no_more_noise() -> None:
    play, ears = stalled()
    ears.listen(play.state)
    play.taken(ev.PlugIn(t=play.t))
    assert play.state.standing  # latched: it waits to be acknowledged
    assert ears.listen(play.state, at=1e6) == []


def test_an_older_check_cannot_acknowledge_and_says_it_once() -> None:
    play, ears = stalled()
    old = replace(play.state, opened=replace(play.state.opened, procedure=4), standing=())
    assert ears.listen(old) == [Cue.ENGINE_STOPPED]
    assert ears.listen(old, at=1e6) == []


def test_the_band_left_with_the_plug_out_is_the_alarm_alone() -> None:
    play, ears = inside()
    play.plug_out()
    ears.listen(play.state)
    play.steadily(15, 90.0)
    assert ears.listen(play.state) == [Cue.PLUG_IN]
    assert stands(ears.all[-1], play.state)


def test_readings_lost_with_the_plug_out_are_an_alarm_and_said_once() -> None:
    play, ears = inside()
    play.plug_out()
    ears.listen(play.state)
    play.wait(15)
    assert ears.listen(play.state) == [Cue.READINGS_LOST]
    assert ears.all[-1].alarm is Alarm.READINGS_LOST


# ── what stays on the screen of it ───────────────────────────────────────────


def test_a_sentence_that_stays_follows_the_reading() -> None:
    play, ears = inside()
    said = ears.all[0]
    play.steadily(20, 74.4)
    assert as_it_is(said, play.state, None, METRIC) == (
        "In the band at 74 °C: the plug may come out."
    )
    unread = replace(play.state, cautions_seen=frozenset())
    assert as_it_is(said, unread, None, US).startswith("In the band at 166 °F: read the cautions")
    play.plug_out()
    assert as_it_is(said, play.state, None, METRIC) == "In the band at 74 °C."
    assert said.sentence.startswith("In the band at 70 °C")  # what was said is what was said
    play.steadily(15, 90.0)
    ears.listen(play.state)
    left = Prompt(Cue.BAND_LEFT, play.t, "The band is left: too hot at 90 °C.")
    assert as_it_is(left, play.state, None, METRIC) == left.sentence
    play.tick(1.0, 93.0)
    assert as_it_is(left, play.state, None, METRIC) == "The band is left: too hot at 93 °C."


def test_a_temperature_that_is_lost_is_not_shown_on() -> None:
    play, ears = inside()
    play.wait(60)
    assert as_it_is(ears.all[0], play.state, None, METRIC) == ""


def test_times_that_stay_on_the_screen_run_down() -> None:
    play, _ = inside()
    said = Prompt(Cue.BAND_MINUTE, play.t, "Band lasts about 60 s.")
    outlook = lasting(play.t, 50.0)
    assert "50 s" in as_it_is(said, play.state, outlook, METRIC)
    assert "30 s" in as_it_is(said, play.state, lasting(play.t, 30.0), METRIC)
    assert as_it_is(said, play.state, None, METRIC) == ""
    assert as_it_is(said, play.state, lasting(play.t, 30.0, known=False), METRIC) == ""


def test_an_alarm_that_stays_counts_down_to_what_it_demands() -> None:
    play, ears = inside()
    play.plug_out()
    ears.listen(play.state)
    play.wait(15)
    ears.listen(play.state)
    lost = next(each for each in ears.all if each.alarm is Alarm.READINGS_LOST)
    play.wait(5)
    now = as_it_is(lost, play.state, None, METRIC)
    assert now != lost.sentence
    assert now.startswith("Readings lost.")


# ── the clocks of the level, and a whole check ───────────────────────────────


def test_a_whole_check_says_what_is_due_in_its_order() -> None:
    play, ears = Play(), Ears()
    ears.listen(play.state)
    play.identified().sensor_trusted().on_the_ground().raised()
    ears.listen(play.state)

    def second(celsius: float, left: float | None = None) -> None:
        play.wait(1, celsius)
        ears.listen(play.state, None if left is None else lasting(play.t, left))

    for step in range(40):
        second(58.0 + step * 0.4)
    play.plug_out()
    play.flow(Flow.NOTHING)
    play.look(drawn=True)
    play.pump(0.2)
    for step in range(40):
        second(72.0, 90.0 - step)
    play.flow(Flow.RUNS)
    for _ in range(270):
        second(72.0, 5000.0)
    left = as_it_is(ears.all[-1], play.state, None, METRIC)
    assert left == "Fluid may run off for 30 s more."  # 270 s of the sheet's 300 s are over
    play.flow(Flow.DRIPS, 1.0)
    play.closed_up().finished()
    ears.listen(play.state)
    assert [prompt.cue for prompt in ears.all] == [
        Cue.BAND_ENTERED, Cue.SETTLED, Cue.BAND_MINUTE, Cue.RUN_OFF_MINUTE,
    ]  # fmt: skip
    assert ears.all[-1].sentence == "Fluid may run off for 60 s more."
    assert ears.all[-1].aloud == "Fluid may run off for 60 seconds more."
    assert not any(stands(prompt, play.state) for prompt in ears.all)


@pytest.mark.parametrize("cue", Cue)
def test_nothing_stands_once_the_check_is_over(cue: Cue) -> None:
    play = Play().level_set()
    assert not stands(Prompt(cue, 0.0, "."), play.state)


def test_a_reading_of_another_signal_says_nothing() -> None:
    play, ears = inside()
    play.t += 1
    play.do(Reading(play.t, SignalName.VEHICLE_SPEED, 0.0))
    assert ears.listen(play.state) == []
