"""The discovery aid on invented warm-ups, and on the shipped drive of a real car."""

from __future__ import annotations

import math
import random
from collections.abc import Callable

import can
import pytest
from hypothesis import given
from hypothesis import strategies as st
from j1939_warmup import OTHER_SENDER, frame, frames, temperatures

from brimline.paths import resources
from brimline.reading import SignalName
from brimline.signals.decoder import FrameDecoder
from brimline.signals.discovery import (
    MOST_TRACKS,
    Broadcast,
    Field,
    Layout,
    Named,
    Proposal,
    Survey,
)
from brimline.signals.discovery_judge import (
    LIKENESS_WORDS,
    MOST_SAMPLES,
    Finding,
    Likeness,
    Observation,
    Track,
    finding_words,
)
from brimline.signals.library import open_source
from brimline.specsheet.reader import read_sheet
from brimline.specsheet.signal_map import SignalMap
from brimline.units import METRIC, US

MINUTES_15 = 900
ASK, ANSWER = 0x7E1, 0x7E9


def coolant(t: float) -> float:
    """Warms within minutes, then a thermostat holds it (common practice, no source)."""
    return min(90.0, 20 + 95 * (1 - math.exp(-t / 350)))


def fluid(t: float) -> float:
    """Lags behind the coolant (common practice, no source)."""
    return 20 + 65 * (1 - math.exp(-t / 1000))


def watch(
    candidate: Callable[[float], float], *, seconds: int = MINUTES_15, known: bool = True
) -> Proposal:
    """Follow one candidate beside a coolant; return how it is judged."""
    survey = Survey()
    survey.take_engine_speed(700.0)
    for t in range(seconds):
        if known:
            survey.take_coolant(t, round(coolant(t)))
        survey.take_value(t, "candidate", candidate(t))
    return next(each for each in survey.ranking() if each.place == Named("candidate"))


def observations(proposal: Proposal) -> set[Observation]:
    return {each.what for each in proposal.findings}


# ── what behaves like a fluid ────────────────────────────────────────────────


@pytest.mark.parametrize("step", [0.03125, 0.1, 0.5, 1.0])
def test_a_slower_temperature_behaves_like_a_fluid(step: float) -> None:
    judged = watch(lambda t: round(fluid(t) / step) * step)
    assert judged.likeness is Likeness.FLUID
    assert {Observation.SLOWER_THAN_COOLANT, Observation.STARTS_LIKE_COOLANT} <= observations(
        judged
    )
    (rose,) = [each for each in judged.findings if each.what is Observation.ROSE]
    assert rose.first == pytest.approx(fluid(MINUTES_15) - 20, abs=1.5)


def test_jitter_of_a_real_sensor_does_not_hide_it() -> None:
    # figures of j1939_warmup.py's docstring: single steps of up to 1.03 °C at idle
    values = temperatures(MINUTES_15)
    assert watch(lambda t: values[int(t)]).likeness is Likeness.FLUID


def test_without_a_coolant_nothing_is_called_a_fluid() -> None:
    judged = watch(fluid, known=False)
    assert judged.likeness is Likeness.SOMETHING
    assert Observation.COOLANT_UNKNOWN in observations(judged)


def test_a_second_sender_of_the_coolant_is_maybe_the_coolant() -> None:
    judged = watch(lambda t: coolant(max(0, t - 2)) + 0.5)
    assert judged.likeness is Likeness.SOMETHING
    assert Observation.SAME_AS_COOLANT in observations(judged)


def test_one_that_is_as_fast_as_the_coolant_is_something() -> None:
    judged = watch(lambda t: 20 + 1.1 * (coolant(t) - 20))
    assert judged.likeness is Likeness.SOMETHING
    assert Observation.NOT_SLOWER in observations(judged)


@pytest.mark.parametrize(
    ("candidate", "reason"),
    [
        (lambda _: 85.0, Observation.NOT_RISING),
        (lambda t: 24 + t / 300, Observation.NOT_RISING),  # the air under the bonnet
        (lambda t: 90 - fluid(t), Observation.NOT_RISING),  # cooling
        (lambda t: 40 + 30 * math.sin(t / 60), Observation.FALLS_BACK),
        (lambda t: 20 + t / 15 + 12 * math.sin(t / 60), Observation.FALLS_BACK),
        (lambda t: 20 + 180 * (1 - math.exp(-t / 60)), Observation.TOO_FAST),  # exhaust
        (lambda t: 20 + t, Observation.OUT_OF_RANGE),  # a counter
        (lambda t: fluid(t) if t % 20 else 120.0, Observation.JUMPS),
        (lambda t: 13.8 + 0.2 * (t % 3), Observation.NOT_RISING),  # a voltage
    ],
)
def test_what_is_no_fluid_and_why(candidate: Callable[[float], float], reason: Observation) -> None:
    judged = watch(candidate)
    assert judged.likeness is Likeness.NONE
    assert reason in observations(judged)
    assert judged.score == 0


def test_three_minutes_are_needed() -> None:
    assert observations(watch(fluid, seconds=170)) == {Observation.TOO_SHORT}
    assert Observation.TOO_SHORT not in observations(watch(fluid, seconds=400))


@given(seed=st.integers(0, 10_000), low=st.integers(-50, 100), width=st.integers(5, 100))
def test_noise_is_never_proposed(seed: int, low: int, width: int) -> None:
    chance = random.Random(seed)
    values = [low + width * chance.random() for _ in range(600)]
    assert watch(lambda t: values[int(t)], seconds=600).likeness is Likeness.NONE


# ── J1939 ────────────────────────────────────────────────────────────────────


def truck(seconds: int = MINUTES_15) -> Survey:
    """An idling truck: fluid and its second sender, coolant, and engine oil."""
    survey = Survey()
    for message in frames([fluid(t) for t in range(seconds)]):
        survey.take_frame(message.timestamp, message)
    return survey


def test_a_truck_that_warms() -> None:
    survey = Survey()
    for t, message in enumerate(frames(temperatures(MINUTES_15))):
        now = message.timestamp
        survey.take_frame(now, message)
        if t % 4 == 0:
            oil = round((coolant(now) * 0.9 + 273) * 32).to_bytes(2, "little")
            data = bytes([round(coolant(now) + 40), 0xFF]) + oil + b"\xff" * 4
            survey.take_frame(now, frame(now, 0x18FEEE00, data))
    first, *others = survey.ranking()
    assert first.place == Broadcast(177, 0x03)
    assert first.place.words == "J1939 SPN 177 from source address 03"
    assert first.likeness is Likeness.FLUID
    assert first.findings[0].what is Observation.CALLED_FLUID
    assert first.score > max(each.score for each in others)
    assert survey.proposals() == (first,)
    mapping = Broadcast(177, 0x03).mapping
    assert mapping is not None
    assert (mapping.spn, mapping.source_address) == (177, 0x03)
    called = {each.place: each.findings[0].word for each in others}
    assert called == {
        Broadcast(110, 0x00): "engine coolant temperature",
        Broadcast(175, 0x00): "engine oil temperature",
    }
    assert Broadcast(175, 0x00).mapping is None


def test_every_parameter_heard_is_listed_with_its_value() -> None:
    # 124, 3027, 3028 and 3026 computed by hand from the published table (resources/dbc/README.md):
    # 7D x 0.4 %, 7F / 2 - 62.5 L, low half F is no value, high half 1 stays a number
    survey = Survey()
    survey.take_frame(0.0, frame(0.0, 0x18FEF803, bytes.fromhex("FF7DFFFF1C287F1F")))
    survey.take_frame(0.1, frame(0.1, *OTHER_SENDER))
    survey.take_frame(0.2, can.Message(arbitration_id=0x123, is_extended_id=False, data=b"\1"))
    heard = {(each.place.spn, each.place.source_address): each for each in survey.heard()}
    values = {
        spn: (heard[spn, 0x03].value, heard[spn, 0x03].unit) for spn in (124, 177, 3026, 3027, 3028)
    }
    assert values == {
        124: (50.0, "%"),
        177: (47.875, "degC"),
        3026: (1.0, ""),
        3027: (1.0, "L"),
        3028: (None, ""),
    }
    assert all(heard[spn, 0x31].value is None for spn in values)
    assert {key[1] for key in heard} == {0x03, 0x31}


def test_nothing_is_followed_while_the_engine_stands() -> None:
    survey = Survey()
    survey.take_engine_speed(0.0)
    for t in range(600):
        survey.take_value(t, "candidate", fluid(t))
    assert survey.ranking() == ()
    survey.take_engine_speed(650.0)
    for t in range(600, 1200):
        survey.take_value(t, "candidate", fluid(t - 600))
    assert [each.likeness for each in survey.ranking()] == [Likeness.SOMETHING]


def test_an_unknown_engine_is_said() -> None:
    survey = Survey()
    for t in range(600):
        survey.take_value(t, "candidate", fluid(t))
    assert Observation.ENGINE_UNKNOWN in observations(survey.proposals()[0])


# ── identifiers that a person lists ──────────────────────────────────────────


def test_the_right_byte_of_a_reply_in_the_right_layout() -> None:
    """A record of an invented unit: counter, fluid, noise, coolant, engine speed."""
    survey = Survey()
    survey.take_engine_speed(700.0)
    chance = random.Random(3)
    for t in range(MINUTES_15):
        survey.take_coolant(t, round(coolant(t)))
        record = bytes([t % 256, round(fluid(t) + 40), chance.randrange(256)])
        record += bytes([round(coolant(t) + 40), 0x0A, 0x80 + chance.randrange(8)])
        survey.take_reply(t, 0x1234, record, request_id=ASK, response_id=ANSWER)
    best = survey.proposals()[0]
    assert best.place == Field(0x1234, ASK, ANSWER, 1, Layout.WHOLE)
    assert best.likeness is Likeness.FLUID
    likeness = {each.place: each.likeness for each in survey.ranking()}
    for first, expected in ((0, "none"), (2, "none"), (3, "something"), (4, "none")):
        assert likeness[Field(0x1234, ASK, ANSWER, first, Layout.WHOLE)] == expected
    fluids = [each for each in survey.proposals() if each.likeness is Likeness.FLUID]
    assert fluids == [best]


@pytest.mark.parametrize("layout", [Layout.TENTHS, Layout.FINE])
def test_two_byte_layouts_are_found_and_can_be_put_into_a_sheet(layout: Layout) -> None:
    survey = Survey()
    survey.take_engine_speed(700.0)
    raw = b""
    for t in range(MINUTES_15):
        survey.take_coolant(t, round(coolant(t)))
        scaled = (fluid(t) + 40) * 10 if layout is Layout.TENTHS else (fluid(t) + 273) * 32
        raw = round(scaled).to_bytes(2, "big")
        survey.take_reply(t, 0x2A01, b"\x00" + raw, request_id=ASK, response_id=ANSWER)
    best = survey.proposals()[0]
    assert best.place == Field(0x2A01, ASK, ANSWER, 1, layout)
    assert isinstance(best.place, Field)
    decoder = FrameDecoder(SignalMap(fluid_temperature=best.place.mapping))
    answer = can.Message(
        arbitration_id=ANSWER, is_extended_id=False, data=b"\x06\x62\x2a\x01\x00" + raw
    )
    (reading,) = decoder.decode(0.0, answer)
    assert reading.value == pytest.approx(fluid(MINUTES_15 - 1), abs=0.1)
    assert best.latest == pytest.approx(reading.value)


def test_a_field_of_ones_is_no_value() -> None:
    survey = Survey()
    for t in range(600):
        survey.take_reply(t, 0x1234, b"\xff\xff", request_id=ASK, response_id=ANSWER)
    assert survey.ranking() == ()


@given(records=st.lists(st.binary(max_size=64), max_size=20))
def test_any_record_can_be_taken(records: list[bytes]) -> None:
    survey = Survey()
    for t, record in enumerate(records):
        survey.take_reply(t, 0x1234, record, request_id=ASK, response_id=ANSWER)
    for each in survey.ranking():
        assert each.likeness is Likeness.NONE


# ── the shipped drive ────────────────────────────────────────────────────────


def test_the_coolant_of_a_real_drive_is_only_the_temperature_of_something() -> None:
    """The recording's PID 05 is coolant; without knowing so, it must not be called a fluid."""
    sheet = read_sheet(resources() / "sheets" / "family-car-demo.toml")
    drive = open_source(resources() / "recordings" / "family-car-drive.log", sheet.signals)
    survey, both = Survey(), Survey()
    for reading in drive.readings():
        number = reading.number
        if number is None:
            continue
        if reading.signal is SignalName.ENGINE_SPEED:
            survey.take_engine_speed(number)
            both.take_engine_speed(number)
        elif reading.signal is SignalName.FLUID_TEMPERATURE:
            survey.take_value(reading.t, "reply 7E8", number)
            both.take_coolant(reading.t, number)
            both.take_value(reading.t, "reply 7E8", number)
    (proposal,) = survey.proposals()
    assert proposal.likeness is Likeness.SOMETHING
    assert "maybe of the coolant" in LIKENESS_WORDS[proposal.likeness]
    assert Observation.COOLANT_UNKNOWN in observations(proposal)
    assert Finding(Observation.FINE_STEPS, 1.0) in proposal.findings  # it counts whole degrees
    (proposal,) = both.proposals()
    assert proposal.place == Named("reply 7E8")
    assert Finding(Observation.SAME_AS_COOLANT, 0.0) in proposal.findings
    assert proposal.score < 40


# ── bounds ───────────────────────────────────────────────────────────────────


def test_a_long_series_is_thinned_and_keeps_its_shape() -> None:
    track = Track()
    for tenth in range(8 * 36_000):
        track.add(tenth / 10, fluid(tenth / 10))
    assert len(track._times) <= MOST_SAMPLES
    assert track.length == pytest.approx(8 * 3600, rel=0.01)
    assert track.extremes == (20.0, pytest.approx(85.0, abs=0.01))


def test_the_number_of_candidates_is_bounded() -> None:
    survey = Survey()
    for each in range(MOST_TRACKS + 10):
        survey.take_value(0.0, f"candidate {each}", 20.0)
    assert survey.dropped == 10
    assert len(survey.ranking()) == MOST_TRACKS


# ── words ────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("what", list(Observation))
def test_every_observation_has_a_sentence(what: Observation) -> None:
    for units in (METRIC, US):
        words = finding_words(Finding(what, 30.0, 40.0, "word"), units)
        assert words.endswith(".")
        assert "{" not in words


def test_numbers_are_in_the_units_that_people_read() -> None:
    risen = Finding(Observation.SLOWER_THAN_COOLANT, 20.0, 50.0)
    assert "36.0 °F while the coolant rose by 90.0 °F" in finding_words(risen, US)
    between = Finding(Observation.IN_RANGE, 20.0, 85.0)
    assert finding_words(between, US) == "It stayed between 68 °F and 185 °F."
    assert finding_words(between, METRIC) == "It stayed between 20 °C and 85 °C."
    assert "80% of" in finding_words(Finding(Observation.STEADY, 0.8), METRIC)
    assert set(LIKENESS_WORDS) == set(Likeness)
