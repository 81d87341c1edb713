"""How a level check ends, and why. Asked once, at its closing; the answer is kept as it is."""

from __future__ import annotations

from brimline.condition.rules import shows_coolant
from brimline.procedure.events import CheckClosed, Verdict
from brimline.procedure.reasons import LEVEL_AFFECTING
from brimline.procedure.state import CheckState, End


def closing_event(state: CheckState, t: float, *, recheck_after_drive: bool = False) -> CheckClosed:
    """Return the last event of a check, with the verdict that its state deserves."""
    verdict, reasons = verdict_of(state)
    return CheckClosed(
        t=t, verdict=verdict, reasons=reasons, recheck_after_drive=recheck_after_drive
    )


def verdict_of(state: CheckState) -> tuple[Verdict, tuple[str, ...]]:
    """Return the verdict and what led to it, gravest first.

    ``set``: the level stood at the rim, or ran down to it by no more than the sheet's acceptance.
    ``corrected``: fluid was added, or more than that ran off.
    """
    if stopped := _stopped_by(state):
        return Verdict.STOPPED, stopped
    if state.end is End.REFERRED or _coolant_assessed(state):
        return Verdict.REFERRED, ("coolant_signs",)
    if doubts := _doubts(state):
        return Verdict.RECHECK, doubts
    if state.added > 0:
        return Verdict.CORRECTED, ("fluid_added",)
    if state.run_off > state.sheet.level.acceptance:
        return Verdict.CORRECTED, ("fluid_run_off",)
    return Verdict.SET, ("level_at_rim",)


def _stopped_by(state: CheckState) -> tuple[str, ...]:
    if state.aborted is not None:
        return (f"aborted: {state.aborted.reason}",)
    if state.closing.stripped:
        return ("plug_stripped",)
    if state.end is End.STOPPED:
        return tuple(cause.value for cause in state.past_causes)
    return ()


def _coolant_assessed(state: CheckState) -> bool:
    findings = state.condition.findings if state.condition else None
    return findings is not None and shows_coolant(findings)


def _doubts(state: CheckState) -> tuple[str, ...]:
    """What leaves the level not known well enough."""
    doubts = []
    if state.end is End.PROVISIONAL:
        doubts.append("band_left")
    if state.run_off > state.sheet.level.max_run_off:
        doubts.append("run_off_limit")
    doubts += [
        f"overridden: {override.code.value}"
        for override in state.overrides
        if override.code in LEVEL_AFFECTING
    ]
    return tuple(doubts)
