"""A running check is followed: from the start temperature alone to the band's far end."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from check_play import ALL_SIGNALS, Play, sheet
from j1939_warmup import temperatures
from record_play import journaled

from brimline.estimate.warm_up import (
    BandOutlook,
    BandWatch,
    Basis,
    Place,
    awaits_band,
    can_be_told,
)
from brimline.paths import resources
from brimline.physics.forecast import VERSION
from brimline.physics.warm_up_prior import PastWarmUp
from brimline.procedure import events as ev
from brimline.procedure.estimates import ForecastMade
from brimline.procedure.events import Event
from brimline.procedure.state import BandPlace
from brimline.reading import Quality, Reading, SignalName, Way
from brimline.simulator.vehicle import make_vehicle
from brimline.specsheet.model import SpecSheet
from brimline.specsheet.reader import read_sheet

BAND = (65.0, 85.0)  # of the test sheet


class Watched(Play):
    """A check whose readings are watched; the engine is told by its speed, as is the range."""

    def __init__(
        self,
        past: tuple[PastWarmUp, ...] = (),
        duty: str = "normal",
        spec: SpecSheet | None = None,
        **changes: object,
    ) -> None:
        super().__init__(ALL_SIGNALS, duty, spec or sheet(**changes))
        self.watch = BandWatch(self.state.sheet, duty, past)

    def do(self, event: Event) -> Play:
        super().do(event)
        if isinstance(event, Reading):
            self.watch.take(self.state, event)
        return self

    def read(self, celsius: float, rpm: float = 640.0, gear: str = "P") -> Watched:
        """Let a second pass with one reading of each signal."""
        self.t += 1
        self.do(self.celsius(celsius))
        self.do(Reading(self.t, SignalName.ENGINE_SPEED, rpm))
        self.do(Reading(self.t, SignalName.RANGE, gear))
        return self

    def idle(self, celsius: list[float], gear: str = "P") -> Watched:
        """Let seconds pass, the engine idling."""
        for value in celsius:
            self.read(value, gear=gear)
        return self

    @property
    def outlook(self) -> BandOutlook:
        """What is to be expected; there must be something."""
        found = self.watch.outlook(self.state)
        assert found is not None
        return found


def curve(seconds: int, steady: float, start: float = 20.0, tau: float = 900.0) -> list[float]:
    """A single relaxation: exactly what the forecast's model is made of."""
    return [steady + (start - steady) * math.exp(-t / tau) for t in range(1, seconds + 1)]


def time_to(level: float, steady: float, start: float, tau: float = 900.0) -> float:
    return tau * math.log((steady - start) / (steady - level))


def width(outlook: BandOutlook) -> float:
    assert outlook.entry is not None
    assert outlook.entry.low is not None
    return outlook.entry.high - outlook.entry.low


def test_before_the_start_it_rests_on_the_start_temperature() -> None:
    play = Watched()
    for _ in range(5):
        play.read(21.0, rpm=0.0)
    outlook = play.outlook
    assert (outlook.basis, outlook.place, outlook.at) == (Basis.START, Place.BELOW, play.t)
    assert outlook.entry is not None
    assert outlook.entry.median is not None
    assert play.watch.course(play.state) is None
    # The hotter it is, the sooner it gets there.
    warm = Watched().read(50.0, rpm=0.0).outlook
    assert warm.entry is not None
    assert warm.entry.median is not None
    assert warm.entry.median < outlook.entry.median


def test_at_rest_in_or_above_the_band_there_is_nothing_to_tell() -> None:
    for celsius in (70.0, 95.0):
        play = Watched().read(celsius, rpm=0.0)
        assert play.watch.outlook(play.state) is None


def test_readings_bring_the_entry_and_then_the_end() -> None:
    steady, start = 100.0, 20.0
    play = Watched().read(start, rpm=0.0)
    true = time_to(BAND[0], steady, start)
    values = curve(1900, steady, start)
    play.idle(values[:400])
    outlook = play.outlook
    assert (outlook.basis, outlook.place) == (Basis.READINGS, Place.BELOW)
    assert outlook.entry is not None
    assert outlook.entry.known
    assert outlook.entry.median == pytest.approx(true - 400, rel=0.2)
    assert outlook.next is outlook.entry
    play.idle(values[400 : math.ceil(true) + 30])
    outlook = play.outlook
    assert (outlook.place, outlook.entry) == (Place.INSIDE, None)
    assert outlook.next is outlook.exit
    left = time_to(BAND[1], steady, start) - math.ceil(true) - 30
    assert outlook.exit.median == pytest.approx(left, rel=0.25)


@pytest.mark.parametrize("heat", [2500.0, 4000.0])
def test_a_jittering_truck_is_followed(heat: float) -> None:
    # Two masses, see tests/support/j1939_warmup.py; the truth is the curve itself. How good the
    # forecast is, the bench judges; here it must follow what the readings do.
    values = temperatures(3000, seed=4, heat=heat)
    entered = next(t for t, value in enumerate(values) if value >= BAND[0])
    play = Watched().read(values[0], rpm=0.0)
    play.idle(values[: entered // 2])
    entry = play.outlook.entry
    assert entry is not None
    assert entry.known
    assert entry.median == pytest.approx(entered - entered // 2, rel=0.5)


def test_a_hot_arrival_enters_from_above() -> None:
    play = Watched()
    play.read(100.0)  # it came with the engine running
    play.idle(curve(200, 100.0, 100.0))
    for celsius in curve(400, 25.0, 100.0, 2400.0):
        play.read(celsius, rpm=0.0)
    outlook = play.outlook
    assert outlook.place is Place.ABOVE
    assert outlook.entry is not None
    assert outlook.entry.known
    true = time_to(BAND[1], 25.0, 100.0, 2400.0) - 400
    assert true > 0
    assert outlook.entry.low is not None
    assert outlook.entry.low <= true <= outlook.entry.high


def test_an_engine_stop_begins_anew() -> None:
    play = Watched().read(20.0, rpm=0.0).idle(curve(400, 100.0))
    before = play.outlook
    assert before.entry is not None
    assert before.entry.known
    course = play.watch.course(play.state)
    assert course is not None
    assert course.quantiles[1][10] > course.quantiles[1][0] + 5  # it warms
    stopped = play.state.temperature.last
    assert stopped is not None
    assert stopped.number is not None
    for second in range(60):
        play.read(stopped.number - second * 0.01, rpm=0.0)
    after = play.outlook
    assert after.basis is Basis.READINGS
    assert after.entry is not None
    assert after.entry.median is None or after.entry.median > 3 * (before.entry.median or 0)
    course = play.watch.course(play.state)
    assert course is not None
    assert course.quantiles[1][-1] < course.quantiles[1][0]  # it cools


@pytest.mark.parametrize(("seconds", "resets"), [(5, False), (12, False), (40, True)])
def test_a_dwell_is_too_short_to_count(seconds: int, resets: bool) -> None:
    values = curve(500, 100.0)
    plain = Watched().read(20.0, rpm=0.0).idle(values[: 400 + seconds])
    geared = Watched().read(20.0, rpm=0.0).idle(values[:400])
    geared.idle(values[400 : 400 + seconds], gear="D")
    if resets:
        assert geared.outlook.entry != plain.outlook.entry
    else:
        assert geared.outlook == plain.outlook


def test_it_is_withdrawn_with_the_readings() -> None:
    play = Watched().read(20.0, rpm=0.0).idle(curve(300, 100.0))
    assert play.outlook.next.known
    play.wait(30)
    assert not can_be_told(play.state)
    assert play.watch.outlook(play.state) is None
    assert play.watch.course(play.state) is None
    play.idle(curve(331, 100.0)[-1:])
    assert play.outlook.at == play.t


def test_bad_readings_do_not_count() -> None:
    plain = Watched().read(20.0, rpm=0.0).idle(curve(300, 100.0))
    other = Watched().read(20.0, rpm=0.0).idle(curve(300, 100.0))
    for _ in range(2):
        other.do(other.celsius(200.0, Quality.IMPLAUSIBLE_STEP))
    assert other.watch._latest == plain.watch._latest


def test_it_ends_with_the_check() -> None:
    play = Watched().read(20.0, rpm=0.0).idle(curve(300, 100.0))
    assert awaits_band(play.state)
    play.taken(ev.CheckAborted(t=play.t, reason="the lift is needed"))
    assert not awaits_band(play.state)
    assert play.watch.outlook(play.state) is None


@pytest.mark.parametrize(("family", "arrival"), [("K5", 30.0), ("K7", 52.0), ("K9", 20.0)])
def test_the_edge_of_the_band_is_crossed_without_a_false_alarm(family: str, arrival: float) -> None:
    # Readings that jitter over the edge say nothing of the band's end, which lies minutes away.
    vehicle = make_vehicle(family, arrival=arrival)
    low = vehicle.sheet.bands["normal"].low
    assert low is not None
    chance = random.Random(3)
    play = Watched(spec=vehicle.sheet)
    vehicle.start_engine()
    places: list[Place] = []
    while vehicle.heat.fluid < low + 2:
        vehicle.step(1.0)
        play.read(round(vehicle.heat.fluid + chance.gauss(0, 0.2), 1))
        if vehicle.heat.fluid > low - 1:
            outlook = play.outlook
            places.append(outlook.place)
            if outlook.place is Place.INSIDE:
                assert outlook.exit.known
                assert outlook.exit.low is not None
                assert outlook.exit.low > 240
    assert places == sorted(places)  # below, then inside, and not back
    assert set(places) == {Place.BELOW, Place.INSIDE}


def test_what_the_procedure_calls_inside_is_inside() -> None:
    play = Watched().read(66.0, rpm=0.0).idle([66.0] * 30)
    smoothed_outside = 0
    for second in range(120):
        play.read(66.0 - second / 100)
        assert play.watch._forecaster is not None
        if play.state.temperature.place is BandPlace.INSIDE:
            assert play.outlook.place is Place.INSIDE
            smoothed_outside += play.watch._forecaster.celsius < BAND[0]
    assert smoothed_outside  # the two did differ


def test_a_cooling_band_ends_below() -> None:
    # It warmed to 80 °C, stops, and cools through the band: 65 °C is the end that counts.
    play = Watched().read(20.0, rpm=0.0).idle(curve(1250, 100.0))
    assert play.outlook.place is Place.INSIDE
    last = play.state.temperature.last
    assert last is not None
    assert last.number is not None
    for celsius in curve(600, 25.0, last.number, 2400.0):
        play.read(celsius, rpm=0.0)
    outlook = play.outlook
    assert outlook.place is Place.INSIDE
    true = time_to(BAND[0], 25.0, last.number, 2400.0) - 600
    assert outlook.exit.median == pytest.approx(true, rel=0.3)


def test_an_open_band_ends_at_its_limit() -> None:
    play = Watched(duty="sustained_load").read(20.0, rpm=0.0)
    steady = 125.0
    true = time_to(92.0, steady, 20.0)
    play.idle(curve(math.ceil(true) + 60, steady))
    outlook = play.outlook
    assert outlook.place is Place.INSIDE
    left = time_to(105.0, steady, 20.0) - math.ceil(true) - 60  # max_plug_out
    assert outlook.exit.median == pytest.approx(left, rel=0.25)


# What is known beforehand


def past(start: float, steady: float = 100.0) -> PastWarmUp:
    seconds = np.arange(0.0, 1800.0, 10.0)
    return PastWarmUp(seconds, steady + (start - steady) * np.exp(-seconds / 900.0))


def test_the_shops_own_warm_ups_sharpen() -> None:
    known = tuple(past(18.0 + n, 99.0 + n % 3) for n in range(6))
    blank, learned = Watched().read(20.0, rpm=0.0), Watched(known).read(20.0, rpm=0.0)
    assert (blank.outlook.learned_from, learned.outlook.learned_from) == (0, 6)
    assert width(learned.outlook) < 0.6 * width(blank.outlook)
    entry = learned.outlook.entry
    assert entry is not None
    assert entry.median == pytest.approx(time_to(BAND[0], 100.0, 20.0), rel=0.15)
    # and still after the first half minute
    learned.idle(curve(35, 100.0))
    blank.idle(curve(35, 100.0))
    assert width(learned.outlook) < width(blank.outlook)


def test_a_sheets_word_is_heard() -> None:
    stated = {"start": "20 °C", "end": "65 °C", "time": "10 min"}
    blank, said = Watched(), Watched(warm_up=stated)
    for play in (blank, said):
        play.read(20.0, rpm=0.0)
    assert width(said.outlook) < width(blank.outlook)
    entry = said.outlook.entry
    assert entry is not None
    assert entry.median == pytest.approx(600, rel=0.34)  # within about a third, as it is taken


def test_a_checks_own_warm_up_is_kept_for_the_next() -> None:
    values = curve(300, 100.0)
    play = Watched().read(20.0, rpm=0.0)
    assert play.watch.warm_up() is None
    play.idle(values)
    kept = play.watch.warm_up()
    assert kept is not None
    assert kept.times[0] == 0
    assert np.all(np.diff(kept.times) >= 10)
    assert kept.celsius[0] == pytest.approx(values[0], abs=0.2)
    # What follows a stop is no warm-up from the start; it is noticed with the next speed.
    for _ in range(20):
        play.read(values[-1], rpm=0.0)
    play.idle(values[-100:])
    after = play.watch.warm_up()
    assert after is not None
    assert len(after.times) <= len(kept.times) + 1


# What was shown goes into the record


def test_the_record_keeps_what_was_shown() -> None:
    play = Watched().read(20.0, rpm=0.0).idle(curve(400, 100.0))
    outlook = play.outlook
    event = outlook.as_event(play.t + 0.5)
    assert (event.model, event.basis, event.seen_at) == (VERSION, "readings", outlook.at)
    assert event.t == play.t + 0.5
    assert event.entry is not None
    assert outlook.entry is not None
    assert (event.entry.median, event.entry.low) == (outlook.entry.median, outlook.entry.low)
    endless = replace(outlook, exit=replace(outlook.exit, high=math.inf, known=False))
    left = endless.as_event(play.t).exit
    assert (left.high, left.told) == (None, False)


def test_the_runner_journals_it_as_the_plug_comes_out() -> None:
    play = Play().ready()
    journal = journaled(play)
    for event in play.events[1:]:
        if isinstance(event, Reading):
            journal.runner.offer(event)
        elif not event.kind.startswith("deadline"):
            journal.runner.tap(event)  # type: ignore[arg-type] # a tap
    runner = journal.runner
    runner.advance(play.t)
    outlook = runner.watch.outlook(runner.state)
    assert outlook is not None
    runner.tap(ev.PlugOut(t=play.t))
    made = [event for event in journal.events if isinstance(event, ForecastMade)]
    assert made == [outlook.as_event(runner.state.now)]
    assert runner.state.forecast == made[0]
    runner.tap(ev.PlugOut(t=play.t + 1))  # refused: it is out
    assert len([e for e in journal.events if isinstance(e, ForecastMade)]) == 1


@pytest.mark.parametrize("family", ["K5", "K7", "K9"])
def test_the_demo_sheets_state_what_their_vehicles_do(family: str) -> None:
    stated = read_sheet(resources() / "sheets" / f"{family.lower()}-demo.toml").warm_up
    assert stated is not None
    vehicle = make_vehicle(family, arrival=stated.start)
    vehicle.start_engine()
    seconds = 0
    while vehicle.heat.fluid < stated.end:
        vehicle.step(5.0)
        seconds += 5
    assert abs(seconds - stated.time) <= 35  # whole minutes are stated


def test_a_signal_that_was_given_up_feeds_no_forecast() -> None:
    play = Play().ready(50.0)
    watch = BandWatch(play.state.sheet, play.state.opened.duty)
    play.do(ev.SignalWithdrawn(t=play.t, signal=SignalName.FLUID_TEMPERATURE, reason="It jumps."))
    for second in range(60):
        watch.take(play.state, Reading(play.t + second, SignalName.FLUID_TEMPERATURE, 90.0))
    assert watch.outlook(play.do(play.celsius(50.0, way=Way.KEYED)).state) is None
    watch.take(play.state, Reading(play.t, SignalName.FLUID_TEMPERATURE, 50.0, way=Way.KEYED))
    assert watch.outlook(play.state) is not None
