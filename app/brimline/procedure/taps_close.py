"""Taps of stages 9 to 11: seal, torque, leak look, condition, abort, the end; and files kept."""

from __future__ import annotations

from dataclasses import replace

from brimline.condition.model import Recommendation
from brimline.condition.rules import shows_coolant
from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.attaching import AttachmentKept
from brimline.procedure.gates import Gate
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import Cause, CheckState, End
from brimline.procedure.steps import Refusal, Step, refuse
from brimline.specsheet.model import SealRule
from brimline.units import Dimension, symbols

TORQUE_UNITS = symbols(Dimension.TORQUE)

_ROUNDING = 1e-9
"""So that a torque at the very edge of its tolerance is not lost in a unit conversion."""


def end_provisional(state: CheckState, tap: ev.EndedProvisional) -> Step:
    """The band was left and the check is not repeated now."""
    if state.plug_is_out:
        return refuse(Code.PLUG_IS_OUT)
    if not state.provisional or state.end is not None:
        return refuse(Code.NOT_PROVISIONAL)
    if not tap.reason.strip():
        return refuse(Code.NO_REASON_GIVEN)
    return replace(state, end=End.PROVISIONAL)


def _not_closing(state: CheckState) -> Refusal | None:
    if state.plug_is_out:
        return refuse(Code.PLUG_IS_OUT)
    if state.end is None:
        return refuse(Code.NOT_CLOSED)
    again = tuple(gates.asked_again(state))
    return Refusal(again) if again else None


def seal_done(state: CheckState, tap: ev.SealDone) -> Step:
    """Stage 8 or 9: replaced where the sheet demands it; best while the plug is in the hand."""
    if not state.plug_spans:
        return refuse(Code.PLUG_IS_IN)
    if state.sheet.plug.seal is SealRule.REPLACE and not tap.replaced:
        return refuse(Code.SEAL_NOT_DONE, SealRule.REPLACE.value)
    return replace(state, closing=replace(state.closing, seal=tap))


def torque_plug(state: CheckState, tap: ev.PlugTorqued) -> Step:
    """Stage 9: with a wrench that reaches the sheet's torque, inside its tolerance."""
    if refusal := _not_closing(state):
        return refusal
    if state.closing.seal is None:
        return refuse(Code.SEAL_NOT_DONE, state.sheet.plug.seal.value)
    plug = state.sheet.plug
    if tap.unit not in TORQUE_UNITS:
        return refuse(Code.BAD_NUMBER, tap.unit)
    if not tap.wrench_low - _ROUNDING <= plug.torque <= tap.wrench_high + _ROUNDING:
        return Refusal((Reason(Code.WRENCH_UNFIT, tap.unit, limit=plug.torque),))
    if not abs(tap.torque - plug.torque) <= plug.torque_tolerance + _ROUNDING:
        return Refusal((Reason(Code.TORQUE_WRONG, tap.unit, tap.torque, plug.torque),))
    return replace(state, closing=replace(state.closing, torque=tap, leak=None))


def look_for_leak(state: CheckState, tap: ev.LeakLook) -> Step:
    """Stage 9: a leak calls for torquing again, or for the end."""
    if refusal := _not_closing(state):
        return refusal
    if state.closing.torque is None:
        return Refusal((Reason(Code.NOT_TORQUED, limit=state.sheet.plug.torque),))
    return replace(state, closing=replace(state.closing, leak=tap))


def plug_stripped(state: CheckState, tap: ev.PlugStripped) -> Step:
    """The vehicle must not be lowered or driven; the check stops here."""
    if not state.plug_spans:
        return refuse(Code.PLUG_IS_IN)
    closing = replace(state.closing, stripped=True)
    end = End.REFERRED if state.coolant_seen else End.STOPPED
    return replace(
        state,
        closing=closing,
        end=end,
        past_causes=_past(state),
        latched=(),
        stopped_at=state.stopped_at or state.stage,
    )


def _past(state: CheckState) -> tuple[Cause, ...]:
    return (*state.past_causes, *state.causes)


def assess(state: CheckState, tap: ev.ConditionAssessed) -> Step:
    """Stage 10: signs of coolant always refer; otherwise a person may differ, with a reason."""
    if state.end is None and state.aborted is None:
        return refuse(Code.NOT_CLOSED)
    if tap.findings is None and state.first_look is not None:
        return refuse(Code.NO_CONDITION)
    seen_now = tap.findings is not None and shows_coolant(tap.findings)
    coolant = state.coolant_seen or seen_now
    if coolant and tap.recommendation is not Recommendation.REFER:
        return refuse(Code.REFERRAL_STANDS)
    if tap.recommendation is not tap.advised and not tap.override_reason.strip():
        return refuse(Code.NO_REASON_GIVEN)
    return replace(state, condition=tap, coolant_seen=coolant)


def keep_attachment(state: CheckState, tap: AttachmentKept) -> Step:
    """At any time, and once each: the same content is the same file, whatever it is called."""
    if any(kept.sha256 == tap.sha256 for kept in state.attachments):
        return refuse(Code.ATTACHED_ALREADY)
    return replace(state, attachments=(*state.attachments, tap))


def abort(state: CheckState, tap: ev.CheckAborted) -> Step:
    """At any time; with the plug out only where it is said that it stays out."""
    if not tap.reason.strip():
        return refuse(Code.NO_REASON_GIVEN)
    if state.plug_is_out and not tap.plug_left_out:
        return refuse(Code.PLUG_IN_FIRST)
    return replace(
        state,
        aborted=tap,
        past_causes=_past(state),
        latched=(),
        stopped_at=state.stopped_at or state.stage,
    )


def close(state: CheckState, tap: ev.CheckClosed) -> Step:
    """The last event. The verdict it carries stands as it is."""
    against = gates.reasons(Gate.RECORD, state)
    if against:
        return Refusal(against)
    return replace(state, closed=tap)
