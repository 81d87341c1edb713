"""What the forecast would have said over a curve, and what happened on it."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from check_play import Play
from hypothesis import given
from hypothesis import strategies as st

from brimline.estimate.hindsight import (
    SHARES,
    Curve,
    Event,
    Foresight,
    Moment,
    Stay,
    Target,
    look_back,
    stays,
    when_to_ask,
)
from brimline.estimate.warm_up import Place
from brimline.procedure.observe import on_reading
from brimline.procedure.state import BandPlace
from brimline.reading import Reading, SignalName

BAND = Target(65.0, 85.0)  # as the test sheet has it


def readings(*values: float, every: float = 1.0) -> Curve:
    return [(number * every, value) for number, value in enumerate(values)]


def relaxing(start: float, end: float, tau: float, step: float = 0.1) -> Curve:
    """One reading a second over four time constants, of a sensor that counts in steps (K)."""
    times = (float(t) for t in range(int(4 * tau)))
    return [(t, round((end + (start - end) * math.exp(-t / tau)) / step) * step) for t in times]


def passed(start: float, end: float, tau: float, level: float) -> float:
    """When that curve passes a level: the exponential's own inverse."""
    return tau * math.log((end - start) / (end - level))


def seen(curve: Curve, target: Target, *moments: Moment) -> list[Foresight]:
    happened = stays(curve, target)
    return list(look_back(curve, target, happened, moments or when_to_ask(curve, happened)))


# ── what happened ────────────────────────────────────────────────────────────


def test_a_stay_counts_from_its_first_reading_and_begins_after_ten_seconds() -> None:
    eleven = [70.0] * 11
    assert stays(readings(60, *eleven[:10]), BAND) == ()  # nine seconds
    assert stays(readings(60, *eleven), BAND) == (Stay(1.0),)
    assert stays(readings(*eleven), BAND) == (Stay(0.0),)
    assert stays(readings(*[65.0] * 6, *[85.0] * 6), BAND) == (Stay(0.0),)  # both ends belong to it


def test_jitter_neither_enters_nor_leaves() -> None:
    assert stays(readings(*[64.9, 65.1] * 30), BAND) == ()
    assert stays(readings(*[70.0] * 11, *[64.9, 65.1] * 30), BAND) == (Stay(0.0),)


@pytest.mark.parametrize(("outside", "side"), [(64.0, Place.BELOW), (86.0, Place.ABOVE)])
def test_a_stay_ends_where_readings_begin_to_stay_outside(outside: float, side: Place) -> None:
    inside = [70.0] * 20
    assert stays(readings(*inside, *[outside] * 10), BAND) == (Stay(0.0),)  # nine seconds
    assert stays(readings(*inside, *[outside] * 11), BAND) == (Stay(0.0, 20.0, side),)


def test_far_outside_counts_at_once_and_from_where_readings_left() -> None:
    inside = [70.0] * 20
    assert stays(readings(*inside, 85.5, 87.0), BAND) == (Stay(0.0),)  # 2 °C is not more than 2 °C
    assert stays(readings(*inside, 85.5, 87.1), BAND) == (Stay(0.0, 20.0, Place.ABOVE),)


def test_a_band_is_entered_again() -> None:
    curve = readings(*[70.0] * 11, *[90.0] * 5, *[80.0] * 11)
    assert stays(curve, BAND) == (Stay(0.0, 11.0, Place.ABOVE), Stay(16.0))


@given(st.lists(st.floats(min_value=-1.5, max_value=1.5), min_size=1, max_size=150))
def test_a_check_says_the_same_of_where_the_fluid_is(steps: list[float]) -> None:
    """The reducer's own answer, reading by reading, on walks about the lower end of the band."""
    state = Play().state
    curve: list[tuple[float, float]] = []
    celsius = 65.0
    for t, step in enumerate(steps):
        celsius = max(62.0, min(68.0, celsius + step))
        curve.append((float(t), celsius))
        reading = Reading(float(t), SignalName.FLUID_TEMPERATURE, celsius)
        state = on_reading(replace(state, now=float(t)), reading)
        found = stays(curve, BAND)
        inside = bool(found) and found[-1].left is None
        assert inside is (state.temperature.place is BandPlace.INSIDE)


@given(st.lists(st.floats(min_value=40.0, max_value=110.0), min_size=1, max_size=60))
def test_stays_follow_one_another(values: list[float]) -> None:
    found = stays(readings(*values, every=7.0), BAND)
    assert all(stay.left is not None and stay.entered < stay.left for stay in found[:-1])
    assert all((one.left or 0.0) <= two.entered for one, two in pairwise(found))


# ── when it is asked ─────────────────────────────────────────────────────────


def test_it_is_asked_on_the_way_to_the_entry() -> None:
    curve = [(100.0 + t, 60.0 if t < 100 else 70.0) for t in range(200)]
    assert when_to_ask(curve, stays(curve, BAND)) == (
        Moment(130.0, 0.3, Event.ENTRY), Moment(150.0, 0.5, Event.ENTRY),
        Moment(170.0, 0.7, Event.ENTRY), Moment(190.0, 0.9, Event.ENTRY),
    )  # fmt: skip


def test_it_is_asked_on_the_way_to_the_exit_where_the_recording_begins_inside() -> None:
    curve = readings(*[80.0] * 100, *[90.0] * 20)
    moments = when_to_ask(curve, stays(curve, BAND))
    assert [each.at for each in moments] == pytest.approx([30.0, 50.0, 70.0, 90.0])
    assert {each.way for each in moments} == {Event.EXIT}


@pytest.mark.parametrize("celsius", [50.0, 70.0])  # never there, and never gone
def test_it_is_asked_evenly_where_nothing_happened(celsius: float) -> None:
    curve = readings(*[celsius] * 101)
    moments = when_to_ask(curve, stays(curve, BAND))
    assert moments == (Moment(20.0), Moment(40.0), Moment(60.0), Moment(80.0))


def test_one_reading_is_asked_once() -> None:
    assert when_to_ask([(5.0, 50.0)], ()) == (Moment(5.0),)
    (only,) = seen([(5.0, 50.0)], BAND)
    assert only.entry is not None
    assert not only.entry.known  # too early to tell
    assert only.stay is None


def test_nothing_can_be_asked_before_the_first_reading() -> None:
    with pytest.raises(ValueError, match="no reading"):
        seen([(5.0, 50.0)], BAND, Moment(4.0))


# ── what the forecast said ───────────────────────────────────────────────────


@pytest.mark.parametrize("tau", [600.0, 1200.0, 2400.0])
@pytest.mark.parametrize(("start", "end"), [(20.0, 95.0), (15.0, 110.0)])
@pytest.mark.parametrize(("step", "within"), [(0.1, 0.12), (1.0, 0.20)])
def test_an_exponential_is_foretold_at_seventy_per_cent_of_the_way(
    tau: float, start: float, end: float, step: float, within: float
) -> None:
    """The median lies within 12 % (whole degrees: 20 %) of the time that is truly left."""
    target = Target(50.0, 65.0)
    truth = passed(start, end, tau, target.low)
    at = next(each for each in seen(relaxing(start, end, tau, step), target) if
              each.moment.share == SHARES[2])  # fmt: skip
    assert at.stay is not None
    # Half a step early: such a sensor shows 50 °C from 49.5 °C on.
    early = passed(start, end, tau, target.low - step / 2)
    assert at.stay.entered == pytest.approx(early, abs=2.0)
    assert at.entry is not None
    assert at.entry.known
    assert at.entry.median is not None
    left = truth - at.moment.at
    assert abs(at.entry.median - left) < within * left
    assert at.entry.low is not None
    assert at.entry.low < left < at.entry.high


@pytest.mark.parametrize("tau", [600.0, 1500.0])
def test_fluid_that_cools_enters_from_above_and_leaves_below(tau: float) -> None:
    target = Target(60.0, 70.0)
    last = seen(relaxing(110.0, 20.0, tau), target)[-1]
    entry, left = (passed(110.0, 20.0, tau, level) for level in (70.0, 60.0))
    assert last.stay is not None
    assert last.stay.to is Place.BELOW
    assert (last.stay.entered, last.stay.left) == pytest.approx((entry, left), abs=3.0)
    assert last.entry is not None
    assert last.entry.median == pytest.approx(entry - last.moment.at, rel=0.15)
    assert last.leaving.median == pytest.approx(left - last.moment.at, rel=0.15)
    (inside,) = seen(relaxing(110.0, 20.0, tau), target, Moment(round((entry + left) / 2)))
    assert inside.entry is None
    assert inside.leaving.median == pytest.approx(left - inside.moment.at, rel=0.15)


def test_a_reading_at_the_end_of_the_band_has_not_left_it() -> None:
    """Whole degrees: all the time that 65 °C is shown the band is not being left, nor at 75 °C."""
    curve, target = relaxing(20.0, 95.0, 1200.0, 1.0), Target(65.0, 75.0)
    (stay,) = stays(curve, target)
    assert stay.left is not None
    asked = [Moment(stay.entered + s) for s in range(0, int(stay.left - stay.entered) - 1, 10)]
    inside = [each for each in seen(curve, target, *asked) if each.entry is None]
    assert len(inside) > 40
    for each in inside:
        left = stay.left - each.moment.at
        assert not each.leaving.known or each.leaving.low is None or each.leaving.low < left
        assert each.leaving.median is not None
        # The last shown degree lasts more than a minute; half of the truth, or a minute, is near.
        assert each.leaving.median > 0
        assert abs(each.leaving.median - left) < max(60.0, 0.5 * left)


def test_what_comes_later_is_not_seen() -> None:
    curve = relaxing(20.0, 95.0, 600.0)
    target = Target(65.0, 75.0)
    moment = Moment(300.0)
    (whole,) = seen(curve, target, moment)
    (cut,) = seen(curve[:301], target, moment)
    assert replace(whole, stay=None) == cut
    assert whole.stay == stays(curve, target)[0]


def test_an_answer_counts_from_when_it_was_asked_and_not_from_the_reading() -> None:
    curve = relaxing(20.0, 95.0, 600.0)[::20]  # one reading in 20 s
    at_once, later = seen(curve, Target(65.0, 75.0), Moment(400.0), Moment(415.0))
    assert (at_once.seen_at, later.seen_at) == (400.0, 400.0)
    assert at_once.entry is not None
    assert later.entry is not None
    for attribute in ("low", "median", "high"):
        for name in ("entry", "leaving"):
            ahead = getattr(getattr(at_once, name), attribute)
            assert getattr(getattr(later, name), attribute) == pytest.approx(ahead - 15.0)


def test_moments_are_answered_in_order_whatever_the_order_asked() -> None:
    curve, target = relaxing(20.0, 95.0, 600.0), Target(65.0, 75.0)
    asked = [Moment(500.0), Moment(100.0), Moment(300.0)]
    assert seen(curve, target, *asked) == seen(curve, target, *sorted(asked, key=lambda m: m.at))
    assert [each.moment.at for each in seen(curve, target, *asked)] == [100.0, 300.0, 500.0]


def test_the_stay_that_lasts_or_the_next_one_is_what_came_of_it() -> None:
    curve = readings(*[50.0] * 40, *[70.0] * 40, *[90.0] * 40, *[70.0] * 40, *[50.0] * 40)
    first, second = stays(curve, BAND)
    found = [each.stay for each in seen(curve, BAND, *map(Moment, (39.0, 79.0, 80.0, 159.0, 160)))]
    assert found == [first, first, second, second, None]
