"""A check that was interrupted, in sentences: how plug and engine stood, since when, what to mind.

The first thing that anybody wants to know after a program or its computer stopped in mid-check is
whether the plug is out and whether the engine runs. What the record says of both is of the moment
at which it stopped; whoever goes on looks first.
"""

from __future__ import annotations

from datetime import timedelta
from enum import StrEnum

from brimline import wording
from brimline.procedure.events import Resumed
from brimline.procedure.state import CheckState
from brimline.specsheet.model import SignalWord
from brimline.translation import counted, day_and_month, marked, tr

_MINUTE_S, _HOUR_S, _DAY_S = 60.0, 3600.0, 86400.0


def ago(seconds: float | None) -> str:
    """Return how long ago something was, such as “7 min ago”; ``None`` where nobody knows."""
    if seconds is None:
        return tr("how long ago is not known")
    if seconds < _MINUTE_S:
        return tr("{seconds} s ago", seconds=round(seconds))
    if seconds < _HOUR_S:
        return tr("{minutes} min ago", minutes=int(seconds // _MINUTE_S))
    if seconds < _DAY_S:
        hours, rest = divmod(int(seconds // _MINUTE_S), 60)
        return tr("{hours} h {minutes:02d} min ago", hours=hours, minutes=rest)
    days = int(seconds // _DAY_S)
    return counted(days, marked("{count} day ago"), marked("{count} days ago"))


class Plug(StrEnum):
    """How the plug stood."""

    OUT = marked("OUT")
    IN = marked("IN")


def plug(state: CheckState) -> Plug:
    """Return how the plug stood, to be said through ``tr``."""
    return Plug.OUT if state.plug_is_out else Plug.IN


class Engine(StrEnum):
    """How the engine stood."""

    RUNNING = marked("RUNNING")
    OFF = marked("OFF")
    NOT_KNOWN = marked("NOT KNOWN")


def engine(state: CheckState) -> Engine:
    """Return how the engine stood, to be said through ``tr``."""
    if not state.engine.known:
        return Engine.NOT_KNOWN
    return Engine.OFF if state.engine.running_since is None else Engine.RUNNING


_STOOD = {
    Engine.RUNNING: marked(
        "The plug was {plug} and the engine was running when the program stopped, {ago}."
    ),
    Engine.OFF: marked(
        "The plug was {plug} and the engine was off when the program stopped, {ago}."
    ),
    Engine.NOT_KNOWN: marked(
        "The plug was {plug} and it was not known whether the engine ran when the program "
        "stopped, {ago}."
    ),
}


def stood(state: CheckState, away_s: float | None) -> str:
    """Return how plug and engine stood when the program stopped, and when that was."""
    return tr(_STOOD[engine(state)], plug=tr(plug(state)), ago=ago(away_s))


def caution(state: CheckState) -> tuple[SignalWord, str]:
    """Return a signal word and what to mind before anybody reaches in, by how it stood."""
    if state.plug_is_out and engine(state) is Engine.RUNNING:
        return SignalWord.WARNING, tr(
            "Hot fluid may be running off under a running engine, and nobody watched its "
            "temperature. Gloves and eye protection. Look at the plug hole, the catch pan and the "
            "lift before you reach in; where in doubt, put the plug in."
        )
    if state.plug_is_out:
        return SignalWord.WARNING, tr(
            "Fluid is being lost: put the plug in before anything else. Do not start the engine "
            "while the plug is out. The fluid may still be hot enough to burn."
        )
    if engine(state) is Engine.OFF:
        return SignalWord.CAUTION, tr(
            "Somebody may have moved, started or opened the vehicle meanwhile. Look at it before "
            "you answer."
        )
    return SignalWord.WARNING, tr(
        "The engine may still be running with nobody near. See that nobody is under a vehicle on "
        "its wheels and that the exhaust is extracted."
    )


def to_do(state: CheckState) -> str:
    """Return what is to be done with it, in one sentence."""
    if state.closed is not None:
        return tr("It is closed; only its seal is missing.")
    if state.aborted is not None:
        return tr("It was stopped; say how plug and engine stand, and end it.")
    return tr("Say how plug and engine stand now; then go on with it, or end it.")


def stage(state: CheckState) -> str:
    """Return at which stage it stands, in words."""
    if state.aborted is not None and state.closed is None:
        return tr("Stopped, and not closed yet")
    return tr(wording.STAGES[state.stage])


def vehicle(state: CheckState) -> str:
    """Return which vehicle it is, as far as anybody said."""
    family = state.sheet.transmission.family
    known = state.vehicle
    if known is None:
        return tr("{family}, vehicle not identified yet", family=family)
    return ", ".join(part for part in (family, known.vin, known.plate) if part)


def unwatched(state: CheckState, again: Resumed) -> str:
    """Return for which time nobody watched, such as “not watched 14:02–14:09”, by local clocks."""
    until = (state.opened.opened_at + timedelta(seconds=again.t)).astimezone()
    if again.gap_s is None:
        return tr("not watched before {until:%H:%M}, for how long is not known", until=until)
    since = until - timedelta(seconds=again.gap_s)
    if since.date() == until.date():
        return tr("not watched {since:%H:%M}–{until:%H:%M}", since=since, until=until)
    return tr(
        "not watched {first} {since:%H:%M} – {last} {until:%H:%M}",
        first=day_and_month(since), since=since, last=day_and_month(until), until=until,
    )  # fmt: skip
