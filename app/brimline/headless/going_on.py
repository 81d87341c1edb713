"""Where a script goes on in a check that was interrupted.

A step counts as taken when the record holds its tap, in the script's order. What the gap has
voided is tapped again by the script's own earlier steps, so that it is the script, disclosed in the
record, that says it and not the program. A tap that says so once more equals no later step, and so
is not counted if the check is interrupted again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

from brimline.headless.script import CLOSE, KEYED, Step, make_tap
from brimline.procedure import cautions, facts, gates
from brimline.procedure.events import Event, Item
from brimline.procedure.state import CheckState
from brimline.reading import SignalName

Steps = tuple[Step, ...]

PLUG_OUT, PLUG_IN = "plug_out", "plug_in"


def parted(steps: Steps, events: Iterable[Event]) -> tuple[Steps, Steps]:
    """Return the steps that a record holds already, and those that are left."""
    taken = 0
    for event in events:
        if taken < len(steps) and _is_of(steps[taken], event):
            taken += 1
    return steps[:taken], steps[taken:]


def _is_of(step: Step, event: Event) -> bool:
    if step.do == KEYED or event.kind != step.do:
        return step.do == KEYED and make_tap(step, event.t) == event
    return step.do == CLOSE or make_tap(step, event.t) == event


def to_be_tapped(taken: Steps, left: Steps, state: CheckState) -> Steps:
    """Return what a script taps in a check that goes on: again what is void, then what is left.

    :param state: just after the check went on.
    """
    if state.aborted is not None or state.closed is not None:
        return left
    if state.end is not None and not state.plug_is_out:
        left = _behind_plug_in(left)  # it was found in
    return (*map(_at_once, _again(taken, state)), *left)


def _behind_plug_in(left: Steps) -> Steps:
    names = [step.do for step in left]
    return left[names.index(PLUG_IN) + 1 :] if PLUG_IN in names else left


def _at_once(step: Step) -> Step:
    return step.model_copy(update={"after": 0.0, "at": None, "when": "gate"})


def _again(taken: Sequence[Step], state: CheckState) -> Iterator[Step]:
    """Yield earlier steps that say again what is void, in the order in which a gate asks."""
    ongoing = state.end is None
    wanted: list[tuple[bool, str, dict[str, Any]]] = [
        (ongoing, "caution_acknowledged", {"stage": stage.value})
        for stage in cautions.CAUTIONED if cautions.asked(state, stage)
    ]  # fmt: skip
    wanted += [(True, "confirmed", {"item": item.value}) for item in gates.still_asked(state)]
    running = state.engine.running_since is not None
    by_hand = _attested(state)
    engine_off = by_hand(SignalName.ENGINE_SPEED) and not running and not state.plug_is_out
    restarted = engine_off and _last(taken, "engine_") == "engine_started"
    no_speed = by_hand(SignalName.ENGINE_SPEED) and state.engine.rpm is None
    no_range = by_hand(SignalName.RANGE) and facts.selected_range(state) is None
    no_tilt = state.tilt is None and Item.LIFT_LOCKED in state.confirmed
    put_in = not state.plug_is_out and _last(taken, "plug_") == PLUG_OUT
    unjudged = (state.plug_is_out or put_in) and state.level.flow is None
    wanted += [
        (ongoing and restarted, "engine_started", {}),
        (ongoing and no_range, "range_selected", {}),
        (ongoing and no_speed and (running or restarted), "idle_speed_noted", {}),
        (ongoing and no_tilt, "tilt_measured", {}),
        (ongoing and put_in, PLUG_OUT, {}),
        (ongoing and unjudged and _judged_since_out(taken), "flow_judged", {}),
    ]
    for is_wanted, kind, fields in wanted:
        step = _latest(taken, kind, fields) if is_wanted else None
        if step is not None:
            yield step


def _attested(state: CheckState) -> Callable[[SignalName], bool]:
    return lambda signal: not facts.is_measured(state, signal)


def _latest(taken: Sequence[Step], kind: str, fields: dict[str, Any]) -> Step | None:
    fitting = (
        step for step in reversed(taken)
        if step.do == kind and fields.items() <= step.fields().items()
    )  # fmt: skip
    return next(fitting, None)


def _last(taken: Sequence[Step], prefix: str) -> str:
    """Return the latest step whose kind begins so, such as what was done with the plug last."""
    kinds = (PLUG_OUT, PLUG_IN, "engine_started", "engine_stopped")
    done = (step.do for step in reversed(taken) if step.do in kinds)
    return next((do for do in done if do.startswith(prefix)), "")


def _judged_since_out(taken: Sequence[Step]) -> bool:
    kinds = [step.do for step in taken]
    out = len(kinds) - kinds[::-1].index(PLUG_OUT) if PLUG_OUT in kinds else 0
    return "flow_judged" in kinds[out:]
