"""How a level check ends, and why. Asked once, at its closing; the answer is kept as it is."""

from __future__ import annotations

from collections.abc import Iterator

from brimline.procedure import run_off
from brimline.procedure.estimates import LevelKnown
from brimline.procedure.events import CheckClosed, Verdict
from brimline.procedure.reasons import LEVEL_AFFECTING
from brimline.procedure.state import CheckState, End

LEVEL_OFF = "level_off"
"""Reason: by the estimate the level is surely off by more than the sheet accepts."""

ESTIMATE_SINCE = 3
"""Version of the procedure from which such a level needs a recheck."""


def closing_event(state: CheckState, t: float, *, recheck_after_drive: bool = False) -> CheckClosed:
    """Return the last event of a check, with the verdict that its state deserves."""
    verdict, reasons = verdict_of(state)
    return CheckClosed(
        t=t, verdict=verdict, reasons=reasons, recheck_after_drive=recheck_after_drive
    )


def verdict_of(state: CheckState) -> tuple[Verdict, tuple[str, ...]]:
    """Return the verdict and everything that led to it, gravest first.

    Signs of coolant refer whatever else happened. ``set``: the level stood at the rim, or ran down
    to it by no more than the sheet's acceptance, or by an amount that nobody measured.
    ``corrected``: fluid was added, or more than that ran off.
    """
    stopped = tuple(_stopped_by(state))
    if state.coolant_seen:
        return Verdict.REFERRED, ("coolant_signs", *(s for s in stopped if s != "coolant_signs"))
    if stopped:
        return Verdict.STOPPED, stopped
    if doubts := tuple(_doubts(state)):
        return Verdict.RECHECK, doubts
    if state.added > 0:
        return Verdict.CORRECTED, ("fluid_added",)
    if state.run_off > state.sheet.level.acceptance:
        return Verdict.CORRECTED, ("fluid_run_off",)
    unmeasured = run_off.unmeasured(state)
    if not run_off.by_opening(state):
        unmeasured = state.ran_off and state.run_off == 0
    return Verdict.SET, ("level_at_rim", *(("run_off_not_measured",) if unmeasured else ()))


def _stopped_by(state: CheckState) -> Iterator[str]:
    """Yield what stopped the check before its level could be judged."""
    if state.closing.stripped:
        yield "plug_stripped"
    if state.aborted is not None:
        yield f"aborted: {state.aborted.reason}"
        if state.level.pump_since is not None:
            yield "amount_added_not_known"
    if state.closing.stripped or state.aborted is not None or state.end is End.STOPPED:
        yield from dict.fromkeys(cause.value for cause in state.past_causes)


def _doubts(state: CheckState) -> Iterator[str]:
    """Yield what leaves the level not known well enough, or known to be off."""
    if state.end is End.PROVISIONAL:
        yield from dict.fromkeys(cause.value for cause in state.past_causes)
    elif state.closing.celsius is None:
        yield "closing_temperature_not_known"
    if state.run_off > state.sheet.level.max_run_off:
        yield "run_off_limit"
    for code in sorted(state.overridden_at_plug & LEVEL_AFFECTING):
        yield f"overridden: {code.value}"
    if state.opened.procedure >= ESTIMATE_SINCE and level_is_off(state):
        yield LEVEL_OFF


def level_is_off(state: CheckState) -> bool:
    """Whether the estimate on record says that the level is off by more than is accepted."""
    estimate = state.level_estimate
    return estimate is not None and estimate.verdict is LevelKnown.EXCEEDS
