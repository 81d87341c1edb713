"""Cautions that stand before a step until somebody has acknowledged them.

Three steps have one that may not be passed over: the lift going up, the plug coming out, the pump
starting. It is acknowledged once, and again by whoever takes over or goes on after a restart. What
ends a danger (the plug in, the engine or the pump off, the check stopped) never waits for it.
Whoever has read what comes with the plug has read what the open plug brings: nobody should have to
read at a screen while fluid runs.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from brimline.procedure import facts
from brimline.procedure.acknowledging import SINCE, CautionAcknowledged
from brimline.procedure.names import Stage
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState
from brimline.procedure.steps import Step, refuse

CAUTIONED = (Stage.RAISE, Stage.PLUG_OUT, Stage.LEVEL)
"""The stages whose cautions are acknowledged: lift, plug, pump."""

READ_WITH = {Stage.PLUG_OUT: (Stage.PLUG_OUT, Stage.LEVEL)}
"""Stages of which the cautions stand before another step, and are read there."""


def asked(state: CheckState, stage: Stage) -> bool:
    """Return whether the cautions of a stage still wait to be acknowledged."""
    if state.opened.procedure < SINCE or stage not in CAUTIONED:
        return False
    if stage is Stage.RAISE and facts.raised(state):
        return False  # it is up
    return stage not in state.cautions_seen


def against(state: CheckState, stage: Stage) -> Iterator[Reason]:
    """Yield a reason where the cautions of a stage were not acknowledged."""
    if asked(state, stage):
        yield Reason(Code.CAUTION_NOT_SEEN, stage.value)


def acknowledge(state: CheckState, tap: CautionAcknowledged) -> Step:
    """At any time; said twice it is no mistake."""
    if state.opened.procedure < SINCE or tap.stage not in CAUTIONED:
        return refuse(Code.NOTHING_TO_ACKNOWLEDGE)
    read = READ_WITH.get(tap.stage, (tap.stage,))
    return replace(state, cautions_seen=state.cautions_seen.union(read))


def unseen(state: CheckState) -> CheckState:
    """Return the state for somebody who has read none of them."""
    return replace(state, cautions_seen=frozenset())
