"""Alarms on the lines of ANSI/ISA-18.2 and IEC 62682: raised, acknowledged, returned to normal.

Three conditions raise one: something demands the plug in, the engine stopped with the plug out,
and readings are lost with the plug out. What else a check warns of is a reason of a gate: an alarm
is what somebody must answer at once, and every further one would take from those three.

An alarm is raised once for its condition and once more for each further cause that demands the
plug in. Acknowledging ends the noise, never the condition. Those that tell of lost fluid are
latched: they stand until somebody acknowledges them, also when the plug is in again. Lost readings
are not: with readings back nothing is left to do. They do not chatter, because the condition has
to be gone for a while (:data:`OFF_DELAY_S`) until the alarm ends. All this holds from version
:data:`~brimline.procedure.acknowledging.SINCE` on; before, an alarm stood while its condition did.
"""

from __future__ import annotations

from dataclasses import replace

from brimline.procedure import facts
from brimline.procedure.acknowledging import SINCE, AlarmAcknowledged
from brimline.procedure.effects import AlarmCleared, AlarmRaised, Effect
from brimline.procedure.names import Alarm
from brimline.procedure.reasons import Code
from brimline.procedure.state import Cause, CheckState, StandingAlarm
from brimline.procedure.steps import Step, refuse

URGENCY = (Alarm.ENGINE_STOPPED, Alarm.PLUG_IN, Alarm.READINGS_LOST)
"""The most urgent first: fluid that is being lost, then a level that is, then not knowing."""

LATCHED = frozenset({Alarm.ENGINE_STOPPED, Alarm.PLUG_IN})
"""Alarms that stand until they are acknowledged, whatever becomes of their condition."""

OFF_DELAY_S = 10.0
"""How long readings must be back until the alarm that they are lost ends, in s.

A line that lets one reading through now and then would raise it again and again. Delays for
alarms that chatter are common practice; starting values by kind of signal stand in ISA-18.2, of
which we recall 5 s for signals that are no process value (from memory). Twice that is our choice:
readings that have been back for so long are also those that decide on the band.
"""


def conditions(state: CheckState) -> frozenset[Alarm]:
    """Return the alarms whose condition stands now."""
    if state.closed is not None or state.aborted is not None:
        return frozenset()
    found = set()
    if state.causes:
        found.add(Alarm.PLUG_IN)
    if Cause.ENGINE_STOPPED in state.causes:
        found.add(Alarm.ENGINE_STOPPED)
    seen = facts.temperature(state) is not None and facts.engine_known(state)
    if state.plug_is_out and not seen:
        found.add(Alarm.READINGS_LOST)
    return frozenset(found)


def noted(state: CheckState, effects: list[Effect]) -> CheckState:
    """Return the state with its alarms as they are now; what was raised or ended goes out."""
    if state.opened.procedure < SINCE:
        return _told(state, conditions(state), effects)
    now = conditions(state)
    if not now and not state.standing:
        return state
    known = {standing.alarm: standing for standing in state.standing}
    after = [_next(state, alarm, known.get(alarm), stands=alarm in now) for alarm in URGENCY]
    standing = tuple(sorted(filter(None, after), key=lambda each: not each.active))
    again = [
        each.alarm for each in standing
        if each.alarm in state.alarms and each.active and each.since != known[each.alarm].since
    ]  # fmt: skip
    effects.extend(AlarmRaised(alarm) for alarm in again)
    active = frozenset(each.alarm for each in standing if each.active)
    return _told(replace(state, standing=standing), active, effects)


def _told(state: CheckState, now: frozenset[Alarm], effects: list[Effect]) -> CheckState:
    effects.extend(AlarmRaised(alarm) for alarm in sorted(now - state.alarms))
    effects.extend(AlarmCleared(alarm) for alarm in sorted(state.alarms - now))
    return replace(state, alarms=now)


def _next(
    state: CheckState, alarm: Alarm, known: StandingAlarm | None, *, stands: bool
) -> StandingAlarm | None:
    """Return where an alarm goes from where it stood; ``None`` is normal."""
    if stands:
        return _raised(state, alarm, known)
    if known is None or state.closed is not None:
        return None
    return _ended(state, known) if known.active else known


def _raised(state: CheckState, alarm: Alarm, known: StandingAlarm | None) -> StandingAlarm:
    causes = len(state.latched)
    if known is None or not known.active:
        return StandingAlarm(alarm, state.now, causes=causes)
    further = alarm is Alarm.PLUG_IN and causes > known.causes
    if further and known.acknowledged:
        return StandingAlarm(alarm, state.now, causes=causes)
    return replace(known, gone_since=None, causes=causes)


def _ended(state: CheckState, known: StandingAlarm) -> StandingAlarm | None:
    if known.alarm is Alarm.READINGS_LOST and state.plug_is_out and state.aborted is None:
        gone = state.now if known.gone_since is None else known.gone_since
        if state.now < gone + OFF_DELAY_S:
            return replace(known, gone_since=gone)
    if known.alarm in LATCHED and not known.acknowledged:
        return replace(known, active=False, gone_since=None)
    return None


def off_at(state: CheckState) -> float | None:
    """Return when an alarm ends whose condition has ended, where nothing brings it back."""
    gone = [each.gone_since for each in state.standing if each.gone_since is not None]
    return min(gone) + OFF_DELAY_S if gone else None


def acknowledge(state: CheckState, tap: AlarmAcknowledged) -> Step:
    """Quiet an alarm that stands; one whose condition has ended is normal from then on."""
    known = next((each for each in state.standing if each.alarm is tap.alarm), None)
    if known is None or known.acknowledged:
        return refuse(Code.NOTHING_TO_ACKNOWLEDGE, tap.alarm.value)
    quiet = replace(known, acknowledged=True, causes=len(state.latched))
    changed = (quiet if each is known else each for each in state.standing)
    kept = tuple(each for each in changed if each.active or each is not quiet)
    return replace(state, standing=kept)
