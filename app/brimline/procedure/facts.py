"""What follows from a state at its moment: fresh, running, in park, served, inside.

Small pure questions that gates, deadlines and the reducer share, so that each has one answer.
"""

from __future__ import annotations

from brimline.procedure.events import Item
from brimline.procedure.state import CheckState
from brimline.reading import Reading, SignalName, Way
from brimline.specsheet.signal_map import DEFAULT_STALE_S

PARK = "P"

KEYED_STALE_S = 60.0
"""Age in s at which a keyed temperature no longer counts: the fluid warms a degree or two in it."""

RUNNING_RPM = 300.0
"""An engine below this speed is not running (common practice, no source)."""

STOP_READINGS = 2
"""Readings below that speed in a row that make a stop: one alone may be a fault on the bus."""

IDLE_GRACE_S = 3.0
"""How long the speed may leave the idle window, as when a fan cuts in, before it counts."""

IDLE_RETURN_S = 10.0
"""How long it must then stay inside until it counts as back. A speed that jitters about the edge is
outside for 3 s in a row now and then, but not inside for 10 s in a row before it really is."""

BAND_DWELL_S = 10.0
"""How long readings must agree before the fluid counts as inside or outside the band.

Readings jitter by 0.2 to 0.4 °C (standard deviation) with single steps up to 1 °C on real
vehicles at idle, so one crossing of a limit proves nothing.
"""

BAND_MARGIN_K = 2.0
"""A reading this far outside the band counts at once: jitter does not reach it."""

TRUSTED_GAP_S = 30.0
"""After a longer gap in the engine's speed, circulation is served anew."""

SENSOR_TOLERANCE_K = 5.0
"""Sensor, coolant and ambient of a rested vehicle agree within this (common practice, no source)"""

BAD_READINGS = 2
"""Readings without a value in a row that count: one alone is a drop-out on the bus."""

MOVING_KMH = 1.0
"""Above this speed the vehicle moves; below it is the noise of a standing wheel sensor."""


def stale_after(state: CheckState, signal: SignalName) -> float:
    """Return the age in s at which a bus reading of the signal counts as lost."""
    source = getattr(state.sheet.signals, signal.value)
    return DEFAULT_STALE_S if source is None else float(source.stale_after)


def counts(state: CheckState, reading: Reading) -> bool:
    """Return whether a reading counts: a keyed one where the vehicle does not tell its signal."""
    return (reading.way is Way.KEYED) != is_measured(state, reading.signal)


def is_measured(state: CheckState, signal: SignalName) -> bool:
    """Return whether the vehicle tells the signal, so that no tap may replace it."""
    return signal in state.measured


def temperature_lost_at(state: CheckState) -> float | None:
    """Return when the last good temperature goes stale, or ``None`` where there is none."""
    last = state.temperature.last
    if last is None:
        return None
    keyed = last.way is Way.KEYED
    return last.t + (KEYED_STALE_S if keyed else stale_after(state, SignalName.FLUID_TEMPERATURE))


def temperature(state: CheckState) -> float | None:
    """Return the fluid temperature in °C while it is fresh, else ``None``."""
    last, lost_at = state.temperature.last, temperature_lost_at(state)
    if last is None or lost_at is None or state.now >= lost_at:
        return None
    return last.number


def engine_lost_at(state: CheckState) -> float | None:
    """Return when the measured engine speed goes stale; ``None`` where a person attests it."""
    if not is_measured(state, SignalName.ENGINE_SPEED) or state.engine.seen_at is None:
        return None
    return state.engine.seen_at + stale_after(state, SignalName.ENGINE_SPEED)


def engine_known(state: CheckState) -> bool:
    """Return whether it is known now whether the engine runs."""
    lost_at = engine_lost_at(state)
    return state.engine.known and (lost_at is None or state.now < lost_at)


def engine_runs(state: CheckState) -> bool:
    """Return whether the engine is known to run now."""
    return engine_known(state) and state.engine.running_since is not None


def range_lost_at(state: CheckState) -> float | None:
    """Return when the measured range goes stale; ``None`` where a person attests it."""
    if not is_measured(state, SignalName.RANGE) or state.ranges.seen_at is None:
        return None
    return state.ranges.seen_at + stale_after(state, SignalName.RANGE)


def selected_range(state: CheckState) -> str | None:
    """Return the range that the selector is known to stand in now, or ``None``."""
    lost_at = range_lost_at(state)
    return state.ranges.current if lost_at is None or state.now < lost_at else None


def in_park(state: CheckState) -> bool:
    """Return whether the selector is known to stand in park now."""
    return selected_range(state) == PARK


def raised(state: CheckState) -> bool:
    """Return whether the vehicle is up on a locked lift."""
    return Item.LIFT_LOCKED in state.confirmed


def range_served(state: CheckState, name: str) -> bool:
    """Return whether the range was held for its dwell."""
    return any(served.name == name for served in state.ranges.served)


def range_due_at(state: CheckState) -> float | None:
    """Return when the present range will be served, where nothing interrupts it."""
    current, running_since = selected_range(state), state.engine.running_since
    if current is None or running_since is None or raised(state) or range_served(state, current):
        return None
    dwell = state.sheet.dwell_of(current)
    return None if dwell is None else max(state.ranges.since, running_since) + dwell


def idle_due_at(state: CheckState) -> float | None:
    """Return when the idle time will be served, where nothing interrupts it."""
    if state.engine.idle_served_at is not None or state.engine.idle_since is None:
        return None
    return state.engine.idle_since + state.sheet.idle.time


def circulated_at(state: CheckState) -> float | None:
    """Return when the fluid has circulated since the last start, ``None`` at rest."""
    if state.engine.running_since is None:
        return None
    start = max(state.engine.running_since, state.circulate_from)
    return start + state.sheet.idle.circulation_after_stop


def settled_at(state: CheckState) -> float | None:
    """Return when pumped fluid has run down the standpipe, ``None`` where nothing was pumped."""
    if state.level.pump_off_at is None:
        return None
    return state.level.pump_off_at + state.sheet.level.settle_time


def settling(state: CheckState, at: float | None = None) -> bool:
    """Return whether pumped fluid may still run back and fake a drip, now or at a moment (s)."""
    settled = settled_at(state)
    return settled is not None and (state.now if at is None else at) < settled


def run_off_over_at(state: CheckState) -> float | None:
    """Return when the run-off has lasted too long, ``None`` where none runs."""
    level = state.level
    if not state.plug_is_out or level.run_off_since is None or level.reached_at is not None:
        return None
    return level.run_off_since + state.sheet.level.max_run_off_time


def in_idle_window(state: CheckState, rpm: float) -> bool:
    """Return whether an engine speed in rpm lies inside the sheet's idle window."""
    return state.sheet.idle.speed_low <= rpm <= state.sheet.idle.speed_high


def top_up_left(state: CheckState) -> float:
    """Return how many L may still be added before the sheet's limit."""
    return state.sheet.level.max_top_up - state.added
