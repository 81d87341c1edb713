"""Which measured signals have gone silent for so long that a person may want to give them up."""

from __future__ import annotations

from brimline.procedure import facts
from brimline.procedure.state import CheckState, Stage
from brimline.reading import SignalName

OFFERED_AFTER_S = 20.0
"""A lost connection that is reopened by itself is back by then; what is silent for longer may not
come back (our own choice)."""

_FIRST_NEEDED = {
    SignalName.FLUID_TEMPERATURE: Stage.SENSOR,
    SignalName.ENGINE_SPEED: Stage.PRECONDITION,
    SignalName.RANGE: Stage.PRECONDITION,
}
"""Before that the ignition may be off."""

_ORDER = list(Stage)


def heard_at(state: CheckState, signal: SignalName) -> float | None:
    """Return when something good last came of a signal (s of the check), ``None`` for never."""
    last = state.temperature.last
    return {
        SignalName.FLUID_TEMPERATURE: None if last is None else last.t,
        SignalName.ENGINE_SPEED: state.engine.seen_at,
        SignalName.RANGE: state.ranges.seen_at,
    }.get(signal)


def silent_for(state: CheckState, signal: SignalName) -> float:
    """Return for how many s nothing good has come of a signal, since the opening at the longest."""
    heard = heard_at(state, signal)
    return state.now - (state.opened.t if heard is None else heard)


def silent_signals(state: CheckState) -> tuple[SignalName, ...]:
    """Return the measured signals that the check needs now and that are silent for too long."""
    if state.end is not None or state.aborted is not None or state.closed is not None:
        return ()
    return tuple(
        signal
        for signal, stage in _FIRST_NEEDED.items()
        if facts.is_measured(state, signal)
        and _ORDER.index(state.stage) >= _ORDER.index(stage)
        and silent_for(state, signal) > max(OFFERED_AFTER_S, facts.stale_after(state, signal))
    )
