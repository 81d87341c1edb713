"""Taking back the latest tap: what may be, for how long, and what must not get lost by it.

A tap that was a mistake is taken back by another event, never erased. For :data:`UNDO_S` the state
keeps the one that met the tap, and what came after the tap and would have come without it; taking
back lets these meet on that state. So what was measured meanwhile counts as if nobody had tapped:
fluid that left its band while somebody had wrongly said that the plug is in calls for the plug,
and calls from the moment at which it left.

Not taken back are taps that somebody thinks over (hand-over, going on, the ends of a check), and
what was acknowledged. From version :data:`KEPT_SINCE` of the procedure on, acknowledging an alarm
or a caution stands in no way of taking the tap before it back; it does not count on the way there,
so that an alarm which that brings back is to be heard anew. Two things stand against any other,
because what they say may be true of the vehicle whatever was meant: signs of coolant that were
seen, and, for a plug that is said to be out, anything that has since demanded it in.
"""

from __future__ import annotations

from dataclasses import replace

from brimline.procedure import events as ev
from brimline.procedure.acknowledging import (
    SINCE,
    AlarmAcknowledged,
    CautionAcknowledged,
    Undone,
)
from brimline.procedure.attaching import AttachmentKept
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState, Undoable
from brimline.procedure.steps import Refusal
from brimline.reading import Reading

UNDO_S = 30.0
"""For so many s a tap may be taken back: long enough to come back to the screen from under the
vehicle, short enough that nobody has gone on with something else (our own choice)."""

KEPT_SINCE = 6
"""Version of the procedure from which what was acknowledged leaves the tap before it to be taken
back."""

MOST_SINCE = 4096
"""Readings that are kept for it: more than a busy bus brings in that time. Beyond, nothing can be
taken back."""

_FOR_GOOD = (
    ev.CheckClosed, ev.CheckAborted, ev.Resumed, ev.HandedOver, ev.EndedProvisional,
    Undone, AlarmAcknowledged, CautionAcknowledged,
)  # fmt: skip


def remembered(before: CheckState, tap: ev.TapEvent, after: CheckState) -> CheckState:
    """Return the state after a tap, with what taking it back needs.

    A file comes in by itself, and is no tap that anybody would take back.

    :param before: the state that met the tap.
    """
    if after.opened.procedure < SINCE:
        return after
    if isinstance(tap, AttachmentKept):
        return seen(after, tap)
    heard = isinstance(tap, AlarmAcknowledged | CautionAcknowledged)
    if heard and after.opened.procedure >= KEPT_SINCE:
        return after
    if isinstance(tap, _FOR_GOOD):
        return replace(after, undoable=None)
    return replace(after, undoable=Undoable(tap, replace(before, undoable=None)))


def seen(state: CheckState, event: Reading | AttachmentKept) -> CheckState:
    """Return the state with something noted that came after the latest tap."""
    known = state.undoable
    if known is None:
        return state
    if len(known.since) >= MOST_SINCE:
        return replace(state, undoable=None)
    return replace(state, undoable=replace(known, since=(*known.since, event)))


def forgotten(state: CheckState) -> CheckState:
    """Return the state without what is too long ago to be taken back."""
    known = state.undoable
    if known is None or state.now <= until(known):
        return state
    return replace(state, undoable=None)


def until(known: Undoable) -> float:
    """Return until when a tap may be taken back, in s of the check."""
    return known.before.now + UNDO_S


def allowed(state: CheckState) -> Undoable | Refusal:
    """Return what is taken back now, or why nothing is; for the window as for the reducer."""
    known = state.undoable
    if known is None:
        return Refusal((Reason(Code.NOTHING_TO_UNDO, limit=UNDO_S),))
    if state.coolant_seen and not known.before.coolant_seen:
        return Refusal((Reason(Code.REFERRAL_STANDS),))
    if isinstance(known.tap, ev.PlugOut) and state.causes:
        return Refusal((Reason(Code.PLUG_IN_FIRST, state.causes[0].value),))
    return known


def took_back(before: CheckState, event: object, after: CheckState) -> Undoable | None:
    """Return what an event took back, for those who keep something besides the state.

    :param before: the state that met the event, time not yet passed; ``after`` the one behind it.
    """
    known = before.undoable
    taken = isinstance(event, Undone) and after.undoable is None
    return known if taken and known is not None and after.now <= until(known) else None
