"""When time alone will change something, so that nobody has to tick."""

from __future__ import annotations

from dataclasses import dataclass

from brimline.procedure import alarms, facts
from brimline.procedure.state import CheckState
from brimline.reading import SignalName


@dataclass(frozen=True, slots=True)
class Deadline:
    """A moment (s of the check) and what it brings."""

    t: float
    name: str


def next_deadline(state: CheckState) -> Deadline | None:
    """Return the next moment after ``now`` at which time alone changes something."""
    if state.closed is not None:
        return None
    engine_measured = facts.is_measured(state, SignalName.ENGINE_SPEED)
    range_measured = facts.is_measured(state, SignalName.RANGE)
    candidates = {
        "temperature reading goes stale": facts.temperature_lost_at(state),
        "engine speed goes stale": facts.engine_lost_at(state),
        "range goes stale": facts.range_lost_at(state),
        "range served": None if range_measured else facts.range_due_at(state),
        "idle time served": None if engine_measured else facts.idle_due_at(state),
        "idle speed outside": _idle_grace_at(state),
        "fluid circulated": facts.circulated_at(state),
        "fluid settled": facts.settled_at(state),
        "run-off too long": facts.run_off_over_at(state),
        "readings back for good": alarms.off_at(state),
    }
    later = [Deadline(t, name) for name, t in candidates.items() if t is not None and t > state.now]
    return min(later, key=lambda deadline: deadline.t, default=None)


def _idle_grace_at(state: CheckState) -> float | None:
    since = state.engine.outside_since
    return None if since is None else since + facts.IDLE_GRACE_S
