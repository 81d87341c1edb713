"""At which of the eleven stages a check stands: the first that still wants something.

The stage is derived and never stored as a decision, so that a check falls back by itself when
something it stood on is void.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from brimline.procedure import gates
from brimline.procedure.gates import Gate
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState, Stage

_BEFORE_THE_PLUG: tuple[tuple[Stage, Callable[[CheckState], Iterator[Reason]]], ...] = (
    (Stage.IDENTIFY, gates.identify),
    (Stage.FLUID, gates.fluid),
    (Stage.SENSOR, gates.sensor),
    (Stage.PRECONDITION, gates.precondition),
    (Stage.RAISE, gates.lifted),
)


def stage_of(state: CheckState) -> Stage:
    """Return the stage at which the check stands."""
    if state.closed is not None:
        return Stage.OVER
    if state.aborted is not None or state.closing.stripped:
        return Stage.RECORD
    if state.plug_is_out or state.level.pump_since is not None:
        return Stage.LEVEL
    if state.end is not None:
        return _after_the_plug(state)
    for stage, wants in _BEFORE_THE_PLUG:
        if any(_standing(state, wants)):
            return stage
    against = {reason.code for reason in gates.reasons(Gate.PLUG_OUT, state)}
    # The cautions of a stage are read there.
    return Stage.TEMPERATURE if against - {Code.CAUTION_NOT_SEEN} else Stage.PLUG_OUT


def held_by(state: CheckState) -> tuple[Reason, ...]:
    """Return what keeps the check, the plug in, at a stage before the plug comes out."""
    for _stage, wants in _BEFORE_THE_PLUG:
        if standing := tuple(_standing(state, wants)):
            return standing
    return gates.reasons(Gate.PLUG_OUT, state)


def _standing(
    state: CheckState, wants: Callable[[CheckState], Iterator[Reason]]
) -> Iterator[Reason]:
    return (reason for reason in wants(state) if not gates.overridden(state, reason))


def _after_the_plug(state: CheckState) -> Stage:
    if any(gates.closing(state)):
        return Stage.CLOSE
    unfinished = state.condition is None or gates.run_off_unknown(state)
    return Stage.CONDITION if unfinished else Stage.RECORD
