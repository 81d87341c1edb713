"""Alarms in words: where each stands, and what to do about it now."""

from __future__ import annotations

from brimline.procedure import facts, silence
from brimline.procedure.names import Alarm
from brimline.procedure.state import AlarmPhase, Cause, CheckState, StandingAlarm
from brimline.reading import SignalName
from brimline.translation import joined, marked, tr
from brimline.units import duration
from brimline.wording.names import ANSWERS, answer

PHASES = {
    AlarmPhase.UNACKNOWLEDGED: marked("NEW"),
    AlarmPhase.ACKNOWLEDGED: marked("acknowledged"),
    AlarmPhase.RETURNED: marked("over, not acknowledged"),
}
"""Where an alarm stands, in a word or three."""

_OVER = {
    Alarm.ENGINE_STOPPED: marked("What called for the plug is over."),
    Alarm.PLUG_IN: marked("What called for the plug is over."),
    Alarm.READINGS_LOST: marked("Readings come again."),
}
_LOST = {
    SignalName.FLUID_TEMPERATURE: marked(
        "Judge nothing by the last temperature shown. Plug in if no reading comes within {left}."
    ),
    SignalName.ENGINE_SPEED: marked(
        "Look whether the engine runs. Plug in if the vehicle does not tell it within {left}."
    ),
}


def what_to_do(standing: StandingAlarm, state: CheckState) -> str:
    """Return what is to be done about an alarm now."""
    if not standing.active:
        return tr(_OVER[standing.alarm])
    if standing.alarm is Alarm.READINGS_LOST:
        return _lost(state)
    if standing.alarm is Alarm.ENGINE_STOPPED:
        return tr(ANSWERS[Cause.ENGINE_STOPPED])
    others = [cause for cause in state.causes if cause is not Cause.ENGINE_STOPPED]
    if not others:  # the same cause as that of the alarm beside it
        return answer(state)
    return joined(dict.fromkeys(tr(ANSWERS[cause]) for cause in others), " ")


def _lost(state: CheckState) -> str:
    """With the plug out nobody waits for readings for long."""
    heat = SignalName.FLUID_TEMPERATURE
    if facts.temperature(state) is None:
        signal = heat
    elif not facts.engine_known(state):
        signal = SignalName.ENGINE_SPEED
    else:
        return tr("Readings come again. Wait until they hold.")
    if not facts.is_measured(state, signal):
        return tr("Key in the fluid temperature now, or put the plug in.")
    left = silence.OFFERED_AFTER_S - silence.silent_for(state, signal)
    if left <= 0:
        return tr("No readings come: put the plug in.")
    return tr(_LOST[signal], left=duration(left))
