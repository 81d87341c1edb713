"""A record's events with what each of them changed, for those who look back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from brimline.procedure import reducer
from brimline.procedure.effects import Effect, PlugGateChanged
from brimline.procedure.events import CheckOpened, Event
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.reasons import Reason


def effects_over_time(events: Iterable[Event]) -> Iterator[tuple[float, Effect]]:
    """Yield what changed with its time in s of the check.

    :raises ValueError: the events do not begin with the opening of a check.
    """
    listed = iter(events)
    opened = next(listed, None)
    if not isinstance(opened, CheckOpened):
        raise ValueError("a record begins with the opening of its check")  # noqa: TRY004 - content
    state = reducer.open_check(opened)
    yield state.now, PlugGateChanged(reasons(Gate.PLUG_OUT, state))
    for event in listed:
        state, effects = reducer.reduce(state, event)
        for effect in effects:
            yield state.now, effect


def plug_gate_over_time(events: Iterable[Event]) -> tuple[tuple[float, tuple[Reason, ...]], ...]:
    """Return each moment (s) at which the plug gate changed, with its reasons from then on."""
    return tuple(
        (t, effect.reasons)
        for t, effect in effects_over_time(events)
        if isinstance(effect, PlugGateChanged)
    )
