"""What ran off while the plug was out: asked wherever fluid may have run, and answered once.

Asking is not a gate: a record that was closed before anybody was asked replays as it was. What an
answer is worth in the ledger is in :mod:`brimline.estimate.ledger`.
"""

from __future__ import annotations

from brimline.procedure.events import Item
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import Cause, CheckState, End

ANSWERS = frozenset({Item.RUN_OFF_NOT_MEASURED, Item.NOTHING_RAN_OFF})
"""Items that answer without an amount; taken after a stop as well."""

_MUST_HAVE_RUN = frozenset({Cause.ENGINE_STOPPED, Cause.RUN_OFF_LIMIT, Cause.RUN_OFF_TIME})
"""At rest the converter and the lines drain into the pan, over the rim and out of the hole."""


def is_told(state: CheckState) -> bool:
    """Return whether an amount is noted, or that none was measured, or that nothing ran off."""
    return state.run_off > 0 or bool(ANSWERS & state.confirmed)


def was_seen(state: CheckState) -> bool:
    """Return whether somebody saw fluid run, or drip faster than a level that is right."""
    return state.ran_off or state.level.run_off_since is not None


def unmeasured(state: CheckState) -> bool:
    """Return whether fluid ran off of which nobody noted the amount.

    The slow drip of a level that is right is no amount.
    """
    if state.run_off > 0 or Item.NOTHING_RAN_OFF in state.confirmed:
        return False
    stopped = Cause.ENGINE_STOPPED in (*state.past_causes, *state.causes)
    return was_seen(state) or stopped or Item.RUN_OFF_NOT_MEASURED in state.confirmed


def may_have_run(state: CheckState) -> bool:
    """Return whether the plug was out and nobody can say that nothing ran off.

    Where the level was set somebody has watched to the end. Where it was not, only a sample that
    had to be drawn says that nothing came by itself.
    """
    if not state.plug_spans:
        return False
    if was_seen(state) or _MUST_HAVE_RUN & {*state.past_causes, *state.causes}:
        return True
    watched = state.end is End.LEVEL or (
        state.first_look is not None and state.first_look.drawn_sample
    )
    return not watched


def is_asked(state: CheckState) -> bool:
    """Return whether a person is asked now how much ran off.

    While work goes on at the open plug nobody can say it yet.
    """
    over = state.aborted is not None or state.closing.stripped
    if state.closed is not None or (state.plug_is_out and not over):
        return False
    return may_have_run(state) and not is_told(state)


def before_sealing(state: CheckState) -> tuple[Reason, ...]:
    """Return what a person is asked before the record is sealed, as a reason to wait."""
    return (Reason(Code.RUN_OFF_UNKNOWN),) if is_asked(state) else ()
