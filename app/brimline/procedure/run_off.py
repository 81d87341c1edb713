"""What ran off while the plug was out: asked wherever fluid may have run, and answered once.

An answer holds for the openings of the plug before it. Where the plug comes out again behind one,
that opening is asked about by itself, and so is what is seen and noted from then on. Openings that
nobody answered for stay one question: they run into one catch pan. All this holds from version
:data:`SINCE` of the procedure on; before, one answer held for the whole check.

Asking is not a gate: a record that was closed before anybody was asked replays as it was. What an
answer is worth in the ledger is in :mod:`brimline.estimate.ledger`.
"""

from __future__ import annotations

from dataclasses import replace

from brimline.procedure.events import Confirmed, Flow, Item
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import Cause, CheckState, End, RunOffAsked

ANSWERS = frozenset({Item.RUN_OFF_NOT_MEASURED, Item.NOTHING_RAN_OFF})
"""Items that answer without an amount; taken after a stop as well."""

SINCE = 6
"""Version of the procedure from which every opening of the plug is asked about by itself."""

_MUST_HAVE_RUN = frozenset({Cause.ENGINE_STOPPED, Cause.RUN_OFF_LIMIT, Cause.RUN_OFF_TIME})
"""At rest the converter and the lines drain into the pan, over the rim and out of the hole."""


def by_opening(state: CheckState) -> bool:
    """Return whether the check's version asks about every opening of the plug by itself."""
    return state.opened.procedure >= SINCE


def is_told(state: CheckState) -> bool:
    """Return whether an amount is noted, or that none was measured, or that nothing ran off."""
    return _is_noted(state) or bool(ANSWERS & state.confirmed)


def _is_noted(state: CheckState) -> bool:
    since = state.run_off_asked.since
    return any(entry.litres < 0 and entry.at >= since for entry in state.ledger)


def was_seen(state: CheckState) -> bool:
    """Return whether somebody saw fluid run, or drip faster than a level that is right."""
    return state.ran_off or state.level.run_off_since is not None


def _causes(state: CheckState) -> frozenset[Cause]:
    return frozenset((*state.past_causes[state.run_off_asked.causes :], *state.causes))


def unmeasured(state: CheckState) -> bool:
    """Return whether fluid ran off of which nobody noted the amount, at any opening of the plug.

    The slow drip of a level that is right is no amount.
    """
    if state.run_off_asked.unmeasured:
        return True
    if _is_noted(state) or Item.NOTHING_RAN_OFF in state.confirmed:
        return False
    stopped = Cause.ENGINE_STOPPED in _causes(state)
    return was_seen(state) or stopped or Item.RUN_OFF_NOT_MEASURED in state.confirmed


def may_have_run(state: CheckState) -> bool:
    """Return whether the plug was out and nobody can say that nothing ran off.

    Where the level was set somebody has watched to the end. Where it was not, only a sample that
    had to be drawn says that nothing came by itself.
    """
    if not state.plug_spans:
        return False
    if was_seen(state) or _MUST_HAVE_RUN & _causes(state):
        return True
    watched = state.end is End.LEVEL or (
        state.first_look is not None and state.first_look.drawn_sample
    )
    return not watched


def is_asked(state: CheckState) -> bool:
    """Return whether a person is asked now how much ran off.

    While work goes on at the open plug nobody can say it yet. An older check that was stopped takes
    no such answer any more, so that it is not asked.
    """
    if state.aborted is not None and not by_opening(state):
        return False
    over = state.aborted is not None or state.closing.stripped
    if state.closed is not None or (state.plug_is_out and not over):
        return False
    return may_have_run(state) and not is_told(state)


def before_sealing(state: CheckState) -> tuple[Reason, ...]:
    """Return what a person is asked before the record is sealed, as a reason to wait."""
    return (Reason(Code.RUN_OFF_UNKNOWN),) if is_asked(state) else ()


def opened_again(state: CheckState, at: float) -> CheckState:
    """Return the state as the plug comes out at ``at`` (s of the check), before it is noted so."""
    if not by_opening(state) or not is_told(state):
        return state
    asked = RunOffAsked(at, len(state.past_causes), unmeasured(state))
    return replace(state, ran_off=False, confirmed=state.confirmed - ANSWERS, run_off_asked=asked)


def seen(state: CheckState, flow: Flow) -> CheckState:
    """Return the state after somebody saw more come than a level that is right lets drip.

    That nothing ran off, said too soon, is not so any more.
    """
    if not by_opening(state):
        return replace(state, ran_off=state.ran_off or flow is Flow.RUNS)
    return replace(state, ran_off=True, confirmed=state.confirmed - {Item.NOTHING_RAN_OFF})


def against(state: CheckState, tap: Confirmed) -> tuple[Reason, ...]:
    """Return why an answer without an amount is not taken; nothing for any other item."""
    if not by_opening(state):
        return ()
    if tap.item is Item.NOTHING_RAN_OFF and (was_seen(state) or _is_noted(state)):
        return (Reason(Code.RUN_OFF_SEEN),)
    if tap.item is Item.RUN_OFF_NOT_MEASURED and not tap.reason.strip():
        return (Reason(Code.RUN_OFF_WHY),)
    return ()
