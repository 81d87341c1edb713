"""A check that was interrupted, in sentences: how plug and engine stood, since when, what to mind.

The first thing that anybody wants to know after a program or its computer stopped in mid-check is
whether the plug is out and whether the engine runs. What the record says of both is of the moment
at which it stopped; whoever goes on looks first.
"""

from __future__ import annotations

from datetime import timedelta

from brimline import wording
from brimline.procedure.events import Resumed
from brimline.procedure.state import CheckState

_MINUTE_S, _HOUR_S, _DAY_S = 60.0, 3600.0, 86400.0


def ago(seconds: float | None) -> str:
    """Return how long ago something was, such as “7 min ago”; ``None`` where nobody knows."""
    if seconds is None:
        return "how long ago is not known"
    if seconds < _MINUTE_S:
        return f"{round(seconds)} s ago"
    if seconds < _HOUR_S:
        return f"{int(seconds // _MINUTE_S)} min ago"
    if seconds < _DAY_S:
        hours, rest = divmod(int(seconds // _MINUTE_S), 60)
        return f"{hours} h {rest:02d} min ago"
    days = int(seconds // _DAY_S)
    return f"{days} day{'' if days == 1 else 's'} ago"


def plug(state: CheckState) -> str:
    """Return how the plug stood: ``OUT`` or ``IN``."""
    return "OUT" if state.plug_is_out else "IN"


def engine(state: CheckState) -> str:
    """Return how the engine stood: ``RUNNING``, ``OFF`` or ``NOT KNOWN``."""
    if not state.engine.known:
        return "NOT KNOWN"
    return "OFF" if state.engine.running_since is None else "RUNNING"


def stood(state: CheckState, away_s: float | None) -> str:
    """Return how plug and engine stood when the program stopped, and when that was."""
    of_engine = {
        "RUNNING": "the engine was running",
        "OFF": "the engine was off",
        "NOT KNOWN": "it was not known whether the engine ran",
    }[engine(state)]
    return f"The plug was {plug(state)} and {of_engine} when the program stopped, {ago(away_s)}."


def caution(state: CheckState) -> tuple[str, str]:
    """Return a signal word and what to mind before anybody reaches in, by how it stood."""
    if state.plug_is_out and engine(state) == "RUNNING":
        return (
            "WARNING",
            "Hot fluid may be running off under a running engine, and nobody watched its "
            "temperature. Gloves and eye protection. Look at the plug hole, the catch pan and the "
            "lift before you reach in; where in doubt, put the plug in.",
        )
    if state.plug_is_out:
        return (
            "WARNING",
            "Fluid is being lost: put the plug in before anything else. Do not start the engine "
            "while the plug is out. The fluid may still be hot enough to burn.",
        )
    if engine(state) == "OFF":
        return (
            "CAUTION",
            "Somebody may have moved, started or opened the vehicle meanwhile. Look at it before "
            "you answer.",
        )
    return (
        "WARNING",
        "The engine may still be running with nobody near. See that nobody is under a vehicle on "
        "its wheels and that the exhaust is extracted.",
    )


def to_do(state: CheckState) -> str:
    """Return what is to be done with it, in one sentence."""
    if state.closed is not None:
        return "It is closed; only its seal is missing."
    if state.aborted is not None:
        return "It was stopped; say how plug and engine stand, and end it."
    return "Say how plug and engine stand now; then go on with it, or end it."


def stage(state: CheckState) -> str:
    """Return at which stage it stands, in words."""
    if state.aborted is not None and state.closed is None:
        return "Stopped, and not closed yet"
    return wording.STAGES[state.stage]


def vehicle(state: CheckState) -> str:
    """Return which vehicle it is, as far as anybody said."""
    family = state.sheet.transmission.family
    known = state.vehicle
    if known is None:
        return f"{family}, vehicle not identified yet"
    return ", ".join(part for part in (family, known.vin, known.plate) if part)


def unwatched(state: CheckState, again: Resumed) -> str:
    """Return for which time nobody watched, such as “not watched 14:02–14:09”, by local clocks."""
    until = (state.opened.opened_at + timedelta(seconds=again.t)).astimezone()
    if again.gap_s is None:
        return f"not watched before {until:%H:%M}, for how long is not known"
    since = until - timedelta(seconds=again.gap_s)
    if since.date() == until.date():
        return f"not watched {since:%H:%M}–{until:%H:%M}"
    return f"not watched {since:%d %b %H:%M} – {until:%d %b %H:%M}"
