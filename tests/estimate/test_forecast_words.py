"""What is said of a forecast: units, rounding, never, and that it is too early."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from check_play import Play, sheet
from hypothesis import given
from hypothesis import strategies as st

from brimline.estimate.forecast_words import (
    IF_STARTED,
    TOO_EARLY,
    advice,
    headline,
    rests_on,
    to_fetch,
    told,
    was_expected,
)
from brimline.estimate.warm_up import BandOutlook, Basis, Place
from brimline.physics.passage import HORIZON_S, Passage
from brimline.units import METRIC, US

NEVER = Passage(None, None, math.inf, 0.95, known=True)


def passage(median: float, low: float, high: float, never: float = 0.0) -> Passage:
    return Passage(median, low, high, never, known=True)


def until(
    entry: Passage,
    leaving: Passage = NEVER,
    basis: Basis = Basis.READINGS,
    place: Place = Place.BELOW,
) -> BandOutlook:
    return BandOutlook(30.0, basis, place, entry, leaving, 0)


def lasting(leaving: Passage, learned: int = 0) -> BandOutlook:
    return BandOutlook(30.0, Basis.READINGS, Place.INSIDE, None, leaving, learned)


@pytest.mark.parametrize(
    ("times", "words"),
    [
        ((360, 300, 540), "band in about 6 min (5–9 min)"),
        ((75, 42, 88), "band in about 80 s (40–90 s)"),
        ((75, 42, 200), "band in about 80 s (40 s–3 min)"),
        ((89, 89, 91), "band in about 90 s (90 s–2 min)"),
        ((58, 57, 59), "band in about 60 s"),  # a range that says nothing more is left out
        ((19 * 60, 17 * 60, 24 * 60), "band in about 19 min (17–25 min)"),
        ((62 * 60, 57 * 60, 64 * 60), "band in about 1 h (55 min–1 h)"),
        ((3600, 1800, 7000), "band in about 1 h (30 min–2 h)"),
        ((80 * 60, 58 * 60, 110 * 60), "band in about 1 h 15 min (1 h–1 h 45 min)"),
        ((5400, 3600, 7190), "band in about 1 h 30 min (1–2 h)"),
        ((1500, 900, math.inf), "band in about 25 min (15 min or more)"),
        ((9, 2, 19), "band within 20 s"),
        ((3, 0, 4), "band within 10 s"),
    ],
)
def test_times_are_told_as_coarsely_as_they_are_known(
    times: tuple[float, float, float], words: str
) -> None:
    assert headline(until(passage(*times))) == words


@pytest.mark.parametrize(
    ("leaving", "words"),
    [
        (passage(480, 360, 660), "band lasts about 8 min (6–11 min)"),
        (passage(9, 2, 19), "band may end within 20 s"),
        (passage(1980, 1140, math.inf, 0.2), "band lasts over 19 min"),
        (NEVER, "band lasts beyond 2 h"),
        (replace(NEVER, known=False), "band: too early to tell"),
    ],
)
def test_inside_it_is_told_how_long_the_band_lasts(leaving: Passage, words: str) -> None:
    assert headline(lasting(leaving)) == words
    # and the record says the same of it
    assert was_expected(lasting(leaving).as_event(31.0)) == words


def test_a_band_that_is_not_reached_and_one_of_which_nothing_is_known() -> None:
    assert headline(until(NEVER)) == "band not within 2 h"
    assert advice(until(NEVER)) == "Band not within 2 h."
    unknown = until(replace(passage(360, 10, 7000), known=False))
    assert headline(unknown) == f"band: {TOO_EARLY}"
    assert not told(unknown).known
    assert advice(unknown) == "It is too early to tell when the band comes."
    assert advice(lasting(replace(NEVER, known=False))) == (
        "It is too early to tell how long the band lasts."
    )


def test_nothing_is_said_of_nothing() -> None:
    assert (headline(None), advice(None), rests_on(None)) == ("", "", "")


def test_before_the_start_it_is_said_what_it_is_true_of() -> None:
    start = until(passage(1440, 900, 2100), passage(2400, 1800, 3600), Basis.START)
    assert headline(start) == f"{IF_STARTED} band in about 25 min (15–35 min)"
    assert advice(start) == (
        "If the engine starts now: band in about 25 min (15–35 min). It then lasts some 16 min."
    )
    early = until(replace(passage(1440, 10, 7000), known=False), NEVER, Basis.START)
    assert headline(early) == f"band: {TOO_EARLY}"
    assert "once the engine has run" in advice(early)


def test_how_long_it_then_lasts_is_told_only_where_it_is_known() -> None:
    entry = passage(360, 300, 540)
    assert advice(until(entry, passage(840, 700, 1200))).endswith("It then lasts some 8 min.")
    assert "lasts" not in advice(until(entry, replace(passage(840, 700, 1200), known=False)))
    assert "lasts" not in advice(until(entry, passage(6900, 700, math.inf, never=0.45)))
    assert "lasts" not in advice(until(entry, NEVER))
    cooling = until(entry, passage(840, 700, 1200), place=Place.ABOVE)
    assert "lasts" not in advice(cooling)


@pytest.mark.parametrize(("never", "said"), [(0.05, False), (0.3, True), (0.95, False)])
def test_a_doubt_whether_it_gets_there_is_said_once(never: float, said: bool) -> None:
    words = advice(until(passage(1500, 900, math.inf, never)))
    assert ("may not get there" in words) is said
    assert ("not within" in words) is (never == 0.95)


def test_what_it_rests_on() -> None:
    for count, words in ((0, "No earlier warm-up"), (1, "1 earlier warm-up of"), (4, "4 earlier")):
        assert words in rests_on(lasting(NEVER, count))
    assert "readings alone" in rests_on(lasting(NEVER))
    assert "eight of ten" in rests_on(lasting(NEVER))


@given(
    st.lists(st.floats(0, HORIZON_S), min_size=3, max_size=3).map(sorted), st.booleans(),
    st.floats(0, 1), st.booleans(), st.booleans(), st.sampled_from(Basis), st.sampled_from(Place),
)  # fmt: skip
def test_every_outlook_has_words_with_units(
    times: list[float], endless: bool, never: float, known: bool, enters: bool, basis: Basis,
    place: Place,
) -> None:  # fmt: skip
    low, median, high = times
    one = Passage(median, low, math.inf if endless else high, never, known=known)
    outlook = BandOutlook(0.0, basis, place, one if enters else None, one, 2)
    for words in (headline(outlook), advice(outlook), was_expected(outlook.as_event(1.0))):
        assert words
        assert not re.search(r"nan|inf\b|None|\d\.\d", words)
        numbers = re.findall(r"\d+(?!\d)(?!–)\s?(\w*)", words)
        assert all(unit in ("s", "min", "h") for unit in numbers), words
    assert advice(outlook)[0].isupper()
    assert advice(outlook).endswith(".")


def test_what_to_fetch_is_in_the_units_of_the_shop() -> None:
    state = Play().identified().state
    fluid, pan, plug, person = to_fetch(state, METRIC)
    assert fluid == "1.00 L of TF-Clear, pump primed, check plug with adapter"
    assert pan == "catch pan with room for 1.00 L, measuring jug"
    assert plug == "new plug seal, torque wrench that shows 10.0 N·m"
    assert "eye protection" in person
    fluid, pan, plug, _ = to_fetch(state, US)
    # 1 L is 1.0567 US liquid quarts; 10 N·m is 88.5 in·lbf (NIST SP 811, appendix B.8).
    assert fluid.startswith("1.06 US qt of TF-Clear")
    assert "1.06 US qt" in pan
    assert "88.5 in·lbf" in plug


def test_what_to_fetch_before_anything_is_chosen() -> None:
    inspected = sheet(plug={"torque": "10 N·m", "torque_tolerance": "1 N·m", "seal": "inspect"})
    words = to_fetch(Play(spec=inspected).state, METRIC)
    assert "the approved fluid, pump primed, the fill path's adapter" in words[0]
    assert words[2].startswith("spare plug seal")
