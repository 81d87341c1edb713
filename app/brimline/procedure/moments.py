"""What happened in a check that a person looks for on its chart, and when.

Told from two states one after the other, so that what a signal shows and what somebody taps come
out alike, and a check that goes on after an interruption finds its earlier moments in its journal.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from brimline.procedure import undoing
from brimline.procedure.state import BandPlace, CheckState

MOST = 500
"""So many of the latest moments are kept: far more than a check has."""


class Happening(StrEnum):
    """What is worth a mark."""

    ENGINE_STARTED = "engine_started"
    ENGINE_STOPPED = "engine_stopped"
    BAND_ENTERED = "band_entered"
    BAND_LEFT = "band_left"
    PLUG_OUT = "plug_out"
    PLUG_IN = "plug_in"
    FIRST_LOOK = "first_look"
    PUMP_ON = "pump_on"
    PUMP_OFF = "pump_off"
    RAN_OFF = "ran_off"


@dataclass(frozen=True, slots=True)
class Moment:
    """Something that happened.

    :param t: in s of the check.
    :param litres: how much went in or ran off, in L; ``None`` where that is not the question.
    """

    t: float
    what: Happening
    litres: float | None = None


class Moments:
    """What happened in a check so far; what was taken back has not happened.

    :param state: the check at its opening.
    """

    def __init__(self, state: CheckState) -> None:
        self.so_far: tuple[Moment, ...] = ()
        """In the order of time, the latest :data:`MOST`."""
        self._noted = self._met_tap = state
        self._before_tap: tuple[Moment, ...] = ()

    def note(self, state: CheckState, event: object = None) -> None:
        """Take in how the check stands now.

        :param event: what led here, where that may have been a tap.
        """
        known, undoable = undoing.took_back(self._noted, event, state), state.undoable
        if known is not None:
            self.so_far, self._noted = self._before_tap, known.before
        elif undoable is not None and undoable.before is not self._met_tap:
            self._met_tap = undoable.before
            self._keep(undoable.before)
            self._before_tap = self.so_far
        self._keep(state)

    def _keep(self, state: CheckState) -> None:
        found = between(self._noted, state)
        self._noted = state
        if found:  # a tap may say that something happened before what is known already
            ordered = sorted((*self.so_far, *found), key=lambda moment: moment.t)
            self.so_far = tuple(ordered[-MOST:])


def between(before: CheckState, after: CheckState) -> tuple[Moment, ...]:
    """Return what happened from one state of a check to a later one, in the order of time.

    What comes and goes between the two is not seen, except at the plug and in the ledger.
    """
    if before is after:
        return ()
    found = [*_engine(before, after), *_band(before, after), *_plug(before, after)]
    look = after.first_look
    if look is not None and look is not before.first_look:
        found.append(Moment(look.at, Happening.FIRST_LOOK))
    found += _fluid(before, after)
    return tuple(sorted(found, key=lambda moment: moment.t))


def _engine(before: CheckState, after: CheckState) -> list[Moment]:
    """An engine of which nothing was known has not started, however it is found."""
    then, now = before.engine, after.engine
    if then is now or not then.known:
        return []
    if then.running_since is None and now.running_since is not None:
        return [Moment(now.running_since, Happening.ENGINE_STARTED)]
    if then.running_since is not None and now.known and now.running_since is None:
        stopped = after.now if now.stopped_at is None else now.stopped_at
        return [Moment(stopped, Happening.ENGINE_STOPPED)]
    return []


def _band(before: CheckState, after: CheckState) -> list[Moment]:
    """As the procedure judges it, after its waiting time: single readings jitter over the edge."""
    was, place = before.temperature.place, after.temperature.place
    if was is place:
        return []
    if place is BandPlace.INSIDE:
        return [Moment(after.now, Happening.BAND_ENTERED)]
    return [Moment(after.now, Happening.BAND_LEFT)] if was is BandPlace.INSIDE else []


def _plug(before: CheckState, after: CheckState) -> list[Moment]:
    found, known = [], len(before.plug_spans)
    for place, span in enumerate(after.plug_spans):
        if place >= known:
            found.append(Moment(span.since, Happening.PLUG_OUT))
        was_out = place >= known or before.plug_spans[place].until is None
        if was_out and span.until is not None:
            found.append(Moment(span.until, Happening.PLUG_IN))
    return found


def _fluid(before: CheckState, after: CheckState) -> list[Moment]:
    found: list[Moment] = []
    pump, off = after.level.pump_since, after.level.pump_off_at
    if pump is not None and pump != before.level.pump_since:
        found.append(Moment(pump, Happening.PUMP_ON))
    entries = after.ledger[len(before.ledger) :]
    found += [Moment(entry.at, Happening.RAN_OFF, -entry.litres) for entry in entries
              if entry.litres < 0]  # fmt: skip
    added = sum(entry.litres for entry in entries if entry.litres > 0)
    if off is not None and off != before.level.pump_off_at:
        found.append(Moment(off, Happening.PUMP_OFF, added))
    return found
