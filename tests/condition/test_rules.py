"""From findings to a recommendation (the rules are common practice, no source)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from brimline.condition.model import (
    Clarity,
    Colour,
    Findings,
    Odour,
    Particles,
    Recommendation,
)
from brimline.condition.rules import REASON_WORDS, advise, shows_coolant

ANY = st.builds(
    Findings,
    st.sampled_from(Colour),
    st.sampled_from(Clarity),
    st.sampled_from(Odour),
    st.sampled_from(Particles),
    st.booleans(),
)
RANK = list(Recommendation)


def findings(**changes: object) -> Findings:
    plain = {
        "colour": Colour.CLEAR_RED, "clarity": Clarity.CLEAR, "odour": Odour.NORMAL,
        "particles": Particles.NONE,
    }  # fmt: skip
    return Findings(**(plain | changes))  # type: ignore[arg-type] # keys are fields


def test_good_fluid_needs_nothing() -> None:
    assert advise(findings()) == advise(findings(colour=Colour.CLEAR_AMBER))
    assert advise(findings()).recommendation is Recommendation.NO_ACTION


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"clarity": Clarity.MILKY}, Recommendation.REFER),
        ({"colour": Colour.PINK}, Recommendation.REFER),
        ({"odour": Odour.SWEET}, Recommendation.REFER),
        ({"coolant_signs": True}, Recommendation.REFER),
        ({"particles": Particles.FLAKES}, Recommendation.INSPECT),
        ({"odour": Odour.BURNT, "colour": Colour.BLACK}, Recommendation.INSPECT),
        ({"odour": Odour.BURNT}, Recommendation.CHANGE_FLUID),
        ({"colour": Colour.BROWN}, Recommendation.CHANGE_FLUID),
        ({"particles": Particles.FINE_METAL}, Recommendation.CHANGE_FLUID),
        ({"colour": Colour.DARK_RED}, Recommendation.WATCH),
        ({"particles": Particles.FINE_DARK}, Recommendation.WATCH),
    ],
)
def test_what_each_sign_calls_for(changes: dict[str, object], expected: Recommendation) -> None:
    assert advise(findings(**changes)).recommendation is expected


@given(ANY)
def test_coolant_always_refers_and_nothing_else_does(seen: Findings) -> None:
    assert (advise(seen).recommendation is Recommendation.REFER) == shows_coolant(seen)


@given(ANY)
def test_every_reason_has_words_and_there_is_one_unless_all_is_well(seen: Findings) -> None:
    advice = advise(seen)
    assert set(advice.reasons) <= set(REASON_WORDS)
    assert bool(advice.reasons) == (advice.recommendation is not Recommendation.NO_ACTION)


@given(ANY, st.sampled_from([Particles.FLAKES, Particles.FINE_METAL]))
def test_finding_metal_never_makes_it_milder(seen: Findings, metal: Particles) -> None:
    clean = Findings(seen.colour, seen.clarity, seen.odour, Particles.NONE, seen.coolant_signs)
    worse = Findings(seen.colour, seen.clarity, seen.odour, metal, seen.coolant_signs)
    grade = [RANK.index(advise(f).recommendation) for f in (clean, worse)]
    assert grade[1] >= grade[0]
