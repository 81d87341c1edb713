"""What a tilt has against the check: in litres, with its spread, its limit and its cure."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from check_play import SHEET, Play, sheet
from hypothesis import given
from hypothesis import strategies as st

from brimline import wording
from brimline.procedure import events as ev
from brimline.procedure import reducer, tilting
from brimline.procedure.events import CheckOpened, Flow, TiltMeasured, Verdict
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.reasons import LEVEL_AFFECTING, OVERRIDABLE, SAFETY, Code, Reason
from brimline.procedure.tilting import Side, tilt_error
from brimline.units import METRIC, US

STRICT = sheet(level=SHEET["level"] | {"acceptance": "60 mL"})
ANGLES = st.floats(-45, 45)


def measured(
    lengthwise: float, crosswise: float, offset: float = 0.0, t: float = 0
) -> TiltMeasured:
    return TiltMeasured(
        t=t, lengthwise=lengthwise + offset, lengthwise_turned=lengthwise - offset,
        crosswise=crosswise + offset, crosswise_turned=crosswise - offset,
    )  # fmt: skip


def tilted(play: Play, lengthwise: float, crosswise: float) -> Play:
    return play.taken(measured(lengthwise, crosswise, t=play.t))


def only(play: Play) -> Reason:
    (reason,) = reasons(Gate.PLUG_OUT, play.state)
    return reason


def test_an_error_by_hand() -> None:
    # 0.115 m² · (-0.055 · tan 0.8° + 0.040 · tan -0.6°) = -0.1365 L; one reading ±0.05° and ±0.1°
    # flat, the mean of two 0.0456°: 0.115 · 0.068 · 0.0456°·π/180 = 6.2 mL, twice that either way.
    error = tilt_error(sheet(), measured(0.8, -0.6))
    assert error.litres == pytest.approx(-0.1365, abs=1e-4)
    assert error.spread == pytest.approx(0.01246, abs=1e-4)
    # both axes at 0.5° the worse way: 0.115 · 0.095 · tan 0.5° = 0.0953 L
    assert error.limit == pytest.approx(0.0953, abs=1e-4)
    assert error.sides == (Side.REAR, Side.RIGHT)


@given(st.floats(-44, 44), st.floats(-44, 44), st.floats(-1, 1))
def test_the_instruments_own_offset_cancels(nose: float, right: float, offset: float) -> None:
    told, plain = (tilt_error(sheet(), measured(nose, right, o)) for o in (offset, 0.0))
    assert told.litres == pytest.approx(plain.litres, abs=1e-9)
    assert told.spread == pytest.approx(plain.spread)


PAIRS = ("lengthwise", "crosswise")


@pytest.mark.parametrize("axis", PAIRS)
@pytest.mark.parametrize(
    ("first", "turned", "taken"),
    [(4.0, -4.0, False), (0.8, -0.2, True), (0.9, -0.2, False), (-0.2, 0.9, False), (4, 3.5, True)],
)
def test_a_pair_that_no_offset_explains_is_refused(
    axis: str, first: float, turned: float, taken: bool
) -> None:
    """Half of a pair's difference is the instrument's offset: half a degree at most (common
    practice, no source). As a signed level shows 4° turned round, -4°, it hides the tilt."""
    angles = dict.fromkeys((*PAIRS, *(f"{name}_turned" for name in PAIRS)), 0.0)
    angles |= {axis: first, f"{axis}_turned": turned}
    play = Play().ready()
    before = play.state.tilt
    tap = TiltMeasured(t=play.t, **angles)
    assert play.do(tap).refused() == (set() if taken else {Code.TILT_PAIR_DIFFERS})
    assert play.state.tilt == (tap if taken else before)
    said = wording.sentence(Reason(Code.TILT_PAIR_DIFFERS), METRIC)
    assert "give the angle in the vehicle's sense, nose up positive." in said


def test_an_older_record_keeps_the_pairs_that_it_took() -> None:
    play = Play()
    opened = play.events[0]
    assert isinstance(opened, CheckOpened)
    older = replace(opened, procedure=2)
    play.events, play.state = [older], reducer.open_check(older)
    tilted_pair = TiltMeasured(
        t=play.ready().t, lengthwise=4, lengthwise_turned=-4, crosswise=0, crosswise_turned=0
    )
    assert play.taken(tilted_pair).state.tilt == tilted_pair
    assert reducer.replay(play.events) == play.state


@given(ANGLES, ANGLES)
def test_raising_what_it_says_levels_the_vehicle(nose: float, right: float) -> None:
    error = tilt_error(sheet(), measured(nose, right))
    assert math.isfinite(error.spread)
    step = {Side.FRONT: (1, 0), Side.REAR: (-1, 0), Side.LEFT: (0, -1), Side.RIGHT: (0, 1)}
    for side in error.sides:
        along, across = (move * 0.05 for move in step[side])
        assert math.hypot(nose + along, right + across) < math.hypot(nose, right)
    seen = {Side.FRONT: nose, Side.REAR: nose, Side.LEFT: right, Side.RIGHT: right}
    for axis in (nose, right):  # nothing that could be read goes unsaid
        assert abs(axis) <= 0.1 or any(seen[side] == axis for side in error.sides)
    assert [abs(seen[s]) for s in error.sides] == sorted(
        (abs(seen[s]) for s in error.sides), reverse=True
    )


def test_too_large_an_angle_is_answered_with_error_limit_and_cure() -> None:
    reason = only(tilted(Play().ready(), 0.8, 0.2))
    assert reason.code is Code.TILT_TOO_LARGE
    assert reason.limit == pytest.approx(0.0953, abs=1e-4)
    assert reason.sides == ("rear", "left")
    # 0.115 · (-0.055 · tan 0.8° + 0.040 · tan 0.2°) = -0.0723 L
    assert wording.sentence(reason, METRIC) == (
        "The vehicle is tilted more than the spec sheet allows: 72 mL ± 12 mL too little fluid; "
        "the allowed tilt costs 95 mL at most. Raise the rear and the left."
    )
    assert "0.08 US qt ± 0.01 US qt too little fluid" in wording.sentence(reason, US)
    assert wording.sentence(replace(reason, value=None), METRIC).endswith("sheet allows.")


def test_an_allowed_angle_that_uses_up_the_acceptance_closes_the_gate_too() -> None:
    play = tilted(Play(spec=STRICT).ready(), -0.45, 0.45)
    reason = only(play)
    assert reason.code is Code.TILT_ERROR_TOO_LARGE
    # 0.115 · (-0.055 · tan -0.45° + 0.040 · tan 0.45°) = +0.0858 L, above 0.060 L
    assert reason.value == pytest.approx(0.0858, abs=1e-4)
    assert reason.limit == pytest.approx(0.060)
    said = wording.sentence(reason, METRIC)
    assert "86 mL ± 12 mL too much fluid; accepted are 60 mL at most." in said
    assert said.endswith("Raise the front and the left.")
    # the same angles the other way on one axis nearly cancel, and are no reason
    assert not reasons(Gate.PLUG_OUT, tilted(play, 0.45, 0.45).state)
    # nor are they where the sheet accepts as much
    assert not reasons(Gate.PLUG_OUT, tilted(Play().ready(), -0.45, 0.45).state)


def test_one_reason_at_a_time() -> None:
    assert only(tilted(Play(spec=STRICT).ready(), -2.0, 2.0)).code is Code.TILT_TOO_LARGE


def test_it_may_be_overridden_and_then_needs_a_recheck() -> None:
    assert Code.TILT_ERROR_TOO_LARGE in OVERRIDABLE & LEVEL_AFFECTING
    assert Code.TILT_ERROR_TOO_LARGE not in SAFETY
    play = tilted(Play(spec=STRICT).ready(), -0.4, 0.4)
    code = Code.TILT_ERROR_TOO_LARGE
    play.taken(ev.GateOverridden(t=play.t, code=code, reason="sloped", by="R."))
    play.plug_out().flow(Flow.RUNS).look().flow(Flow.DRIPS, 1.0).closed_up().finished()
    assert play.state.closed is not None
    assert play.state.closed.verdict is Verdict.RECHECK
    assert play.state.closed.reasons == ("overridden: tilt_error_too_large",)
    assert "tilt alone" in wording.verdict_reason(play.state.closed.reasons[0])


def test_a_new_measurement_ends_the_override() -> None:
    play = tilted(Play(spec=STRICT).ready(), -0.48, 0.48)
    code = Code.TILT_ERROR_TOO_LARGE
    play.taken(ev.GateOverridden(t=play.t, code=code, reason="sloped", by="R."))
    assert not reasons(Gate.PLUG_OUT, play.state)
    # less than what was overridden, and asked for again all the same
    assert only(tilted(play, -0.4, 0.4)).code is code


def test_an_older_record_is_replayed_by_the_rules_of_its_day() -> None:
    play = Play(spec=STRICT)
    opened = play.events[0]
    assert isinstance(opened, CheckOpened)
    older = replace(opened, procedure=1)
    play.events, play.state = [older], reducer.open_check(older)
    tilted(play.ready(), -0.45, 0.45).plug_out().flow(Flow.RUNS).look()
    play.flow(Flow.DRIPS, 1.0).closed_up().finished()
    again = reducer.replay(play.events)
    assert again == play.state
    assert again.closed is not None
    assert again.closed.verdict is Verdict.SET


@given(st.lists(st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.booleans()), max_size=6))
def test_replaying_tilts_and_overrides_gives_the_same_state(
    steps: list[tuple[float, float, bool]],
) -> None:
    play = Play(spec=STRICT).ready()
    for nose, right, over in steps:
        tilted(play, nose, right).wait(1, 70.0)
        against = reasons(Gate.PLUG_OUT, play.state)
        too_far = max(abs(nose), abs(right)) > 0.5
        # by hand, in L; a tilt that is let through never costs more than the sheet accepts
        cost = abs(
            115 * (-0.055 * math.tan(math.radians(nose)) + 0.04 * math.tan(math.radians(right)))
        )
        if abs(cost - 0.060) > 1e-9:
            assert bool(against) == (too_far or cost > 0.060)
        if over and against:
            code = against[0].code
            play.taken(ev.GateOverridden(t=play.t, code=code, reason="because", by="R."))
            assert not reasons(Gate.PLUG_OUT, play.state)
    assert reducer.replay(play.events) == play.state


def test_a_level_vehicle_asks_for_nothing() -> None:
    error = tilt_error(sheet(), measured(0.05, -0.05))
    assert error.sides == ()
    assert wording.raise_sides(error.sides) == ""
    assert tilting.largest_tilt(measured(0.05, -0.05, offset=3.0)) == pytest.approx(0.05)
