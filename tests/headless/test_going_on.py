"""Where a script goes on in a check that was interrupted, and what it says again."""

from __future__ import annotations

from check_play import Play

from brimline.headless.going_on import parted, to_be_tapped
from brimline.headless.script import CLOSE, Step, make_tap, read_script
from brimline.paths import resources
from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.events import Event, Flow, Item
from brimline.procedure.state import CheckState
from brimline.procedure.verdict import closing_event

STEPS = read_script(resources() / "scripts" / "two-top-ups.toml").steps


def taps(count: int) -> list[Event]:
    """The taps of the first steps, each at its own second."""
    return [make_tap(step, float(n)) for n, step in enumerate(STEPS[:count])]


def test_a_step_is_taken_when_its_tap_is_on_record() -> None:
    for count in range(len(STEPS)):
        taken, left = parted(STEPS, [ev.DeadlineReached(t=0.0, name="x"), *taps(count)])
        assert (taken, left) == (STEPS[:count], STEPS[count:])


def test_the_closing_is_taken_whatever_its_verdict() -> None:
    assert STEPS[-1].do == CLOSE
    closed = closing_event(Play().state, 900.0)
    assert parted(STEPS, [*taps(len(STEPS) - 1), closed])[1] == ()


def test_what_was_said_again_after_a_gap_is_no_later_step() -> None:
    count = next(n for n, step in enumerate(STEPS) if step.do == "plug_out") + 1
    resumed = ev.Resumed(t=500.0, gap_s=60.0, plug_is_out=True, engine_runs=True)
    again = [make_tap(s, 501.0) for s in STEPS[:count] if s.do in ("confirmed", "tilt_measured")]
    taken, left = parted(STEPS, [*taps(count), resumed, *again, *taps(count + 1)[count:]])
    assert (len(taken), left[0]) == (count + 1, STEPS[count + 1])


def names(steps: tuple[Step, ...]) -> list[str]:
    return [step.fields().get("item", step.do) for step in steps]


def interrupted(play: Play, gap: float | None, *, out: bool, runs: bool = True) -> CheckState:
    play.t += gap or 0.0
    play.taken(ev.Resumed(t=play.t, gap_s=gap, plug_is_out=out, engine_runs=runs))
    return play.state


def through(kind: str) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """Part the script behind the first step of a kind."""
    count = next(n for n, step in enumerate(STEPS) if step.do == kind) + 1
    return STEPS[:count], STEPS[count:]


def test_what_the_gap_voided_is_said_again_in_the_order_in_which_gates_ask() -> None:
    taken, left = through("tilt_measured")
    state = interrupted(Play().ready(), None, out=False)
    said = to_be_tapped(taken, left, state)
    again = [item.value for item in gates.still_asked(state)]
    assert names(said[: len(again)]) == again
    assert names(said[len(again) : -len(left)]) == [
        "range_selected", "idle_speed_noted", "tilt_measured",
    ]  # fmt: skip
    assert said[-len(left) :] == left
    assert all(
        (step.after, step.at, step.when) == (0.0, None, "gate") for step in said[: -len(left)]
    )
    ranges = [step.fields()["range"] for step in said if step.do == "range_selected"]
    assert ranges[0] == "P"  # the last one that was selected


def test_nothing_is_said_again_that_still_stands() -> None:
    taken, left = through("tilt_measured")
    play = Play().ready()
    play.taken(ev.Resumed(t=play.t, gap_s=5.0, plug_is_out=False, engine_runs=True))
    assert names(to_be_tapped(taken, left, play.state)) == ["range_selected", *names(left)]


def test_what_came_out_of_the_hole_is_judged_again_where_the_plug_is_still_out() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look()
    taken, left = through("first_look")
    said = to_be_tapped(taken, left, interrupted(play, 40.0, out=True))
    assert [step.do for step in said if step not in left][-1] == "flow_judged"
    fresh = Play().ready().plug_out()
    taken, left = through("plug_out")
    said = to_be_tapped(taken, left, interrupted(fresh, 40.0, out=True))
    assert "flow_judged" not in [step.do for step in said[: -len(left)]]


def test_a_plug_that_was_found_in_comes_out_again_where_the_level_is_not_done() -> None:
    play = Play().ready().plug_out().flow(Flow.NOTHING).look()
    taken, left = through("first_look")
    said = to_be_tapped(taken, left, interrupted(play, 40.0, out=False))
    assert [step.do for step in said[: -len(left)]][-2:] == ["plug_out", "flow_judged"]


def test_a_plug_that_was_found_in_on_a_good_level_is_not_put_in_again() -> None:
    play = Play().ready().plug_out().flow(Flow.RUNS).look().wait(20, 71.0).flow(Flow.DRIPS, 1.0)
    kinds = [step.do for step in STEPS]
    count = kinds.index("plug_in")
    said = to_be_tapped(STEPS[:count], STEPS[count:], interrupted(play, 40.0, out=False))
    assert "plug_in" not in [step.do for step in said]
    assert [step.do for step in said][-1] == CLOSE


def test_an_engine_that_was_found_off_is_started_again_and_its_speed_noted() -> None:
    taken, left = through("tilt_measured")
    state = interrupted(Play().ready(), 40.0, out=False, runs=False)
    said = names(to_be_tapped(taken, left, state)[: -len(left)])
    assert Item.AUTO_STOP_DISABLED.value in said
    assert said[-3:] == ["engine_started", "range_selected", "idle_speed_noted"]


def test_a_check_that_was_stopped_is_said_nothing_more() -> None:
    play = Play().ready()
    play.taken(ev.CheckAborted(t=play.t, reason="power cut"))
    taken, left = through("tilt_measured")
    assert to_be_tapped(taken, left, interrupted(play, 40.0, out=False)) == left
