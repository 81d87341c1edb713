"""What the far view says of a running check, in words short enough for four metres."""

from __future__ import annotations

from dataclasses import dataclass

from brimline import prompts, wording
from brimline.estimate.forecast_words import told
from brimline.estimate.warm_up import Basis, can_be_told
from brimline.procedure import facts, gates, undoing
from brimline.procedure.doing import Do, NextStep
from brimline.procedure.events import Confirmed
from brimline.procedure.reasons import Code
from brimline.procedure.state import AlarmPhase, BandPlace, CheckState, Undoable
from brimline.reading import SignalName
from brimline.session import NotSaved, Snapshot
from brimline.specsheet.model import Band
from brimline.translation import capitalised, joined, lowered, marked, tr
from brimline.ui.widgets.marks import Shape
from brimline.units import UnitSystem, clock, duration
from brimline.wording.taps import tapped

LINE = 36
"""So many letters stand in a line of the far view."""

_PHASES = {
    AlarmPhase.UNACKNOWLEDGED: marked("{alarm}: unacknowledged"),
    AlarmPhase.ACKNOWLEDGED: marked("{alarm}: acknowledged"),
    AlarmPhase.RETURNED: marked("{alarm}, over: unacknowledged"),
}


_PRESSES = {
    Do.READ_CAUTIONS: marked("Hold the button: cautions read"),
    Do.CLOSE_RECORD: marked("Press: close the record"),
    Do.CONFIRM: marked("Press: yes, so it is"),
    Do.CONFIRM_AGAIN: marked("Press: yes, still so"),
    Do.JUDGE_FLOW: marked("Press: it runs · else: at the PC"),
}
_AT_THE_PC = marked("At the PC: fill in, then press")


@dataclass(frozen=True)
class Place:
    """Where the fluid is: in words, by a shape, and whether something must be done."""

    words: str
    shape: Shape
    alarming: bool = False


_IN = Place(marked("In band, fresh"), Shape.DISC)
_NOT_STEADY = Place(marked("Not steady, fresh"), Shape.HALF)
_TOO_HOT = Place(marked("Too hot, fresh"), Shape.UP, alarming=True)
_AT_EDGE = Place(marked("At its edge, fresh"), Shape.HALF, alarming=True)
_BELOW = Place(marked("Below band, fresh"), Shape.DOWN)
_ABOVE = Place(marked("Above band, fresh"), Shape.UP, alarming=True)


@dataclass(frozen=True)
class AlarmLine:
    """The most urgent alarm."""

    words: str
    acknowledged: bool


def alarm_line(state: CheckState) -> AlarmLine | None:
    """Return the most urgent alarm, and how many more there are."""
    standing = prompts.standing(state)
    if not standing:
        return None
    first, more = standing[0], len(standing) - 1
    words = tr(_PHASES[first.phase], alarm=tr(wording.ALARMS[first.alarm]))
    if more:
        words = joined((words, f"+{more}"), " ")
    return AlarmLine(words, first.phase is AlarmPhase.ACKNOWLEDGED)


def not_saved(now: NotSaved | None) -> str:
    """Return since when nothing is saved; empty while all is well."""
    if now is None:
        return ""
    at = f"{now.since.astimezone():%H:%M}"
    if now.unsealed:
        return tr("NOT SEALED since {at}", at=at)
    return tr("NOT SAVED since {at}", at=at)


def heat(state: CheckState, units: UnitSystem) -> str:
    """Return the temperature with its unit; in brackets once it counts no more."""
    last = state.temperature.last
    if last is None or last.number is None:
        return "—"
    text = units.temperature(last.number, 1)
    return text if facts.temperature(state) is not None else f"({text})"


def place(state: CheckState, *, cut_off: bool = False) -> Place:
    """Return where the fluid is, and whether the reading may be trusted.

    :param cut_off: whether the connection to the vehicle is lost.
    """
    celsius, band = facts.temperature(state), state.band
    if celsius is None:
        return Place(_lost(state), Shape.QUESTION, state.plug_is_out)
    if cut_off and facts.is_measured(state, SignalName.FLUID_TEMPERATURE):
        return Place(tr("Connection lost"), Shape.QUESTION, state.plug_is_out)
    inside = state.temperature.place is BandPlace.INSIDE
    if band.contains(celsius):
        return _IN if inside else _NOT_STEADY
    if celsius > band.limit and band.max_plug_out is not None:
        return _TOO_HOT
    if inside:
        return _AT_EDGE
    return _BELOW if band.low is not None and celsius < band.low else _ABOVE


def _lost(state: CheckState) -> str:
    codes = {reason.code for reason in gates.readings(state)}
    last = state.temperature.last
    if Code.READING_BAD in codes:
        return tr("Reading unusable")
    if last is None or Code.NO_READING in codes:
        return tr("No reading yet")
    return tr("No reading: {time}", time=duration(state.now - last.t))


def band(of: Band, units: UnitSystem) -> str:
    """Return the target band."""
    low, high = (None if end is None else units.temperature(end) for end in (of.low, of.high))
    if low is None:
        return tr("to {high}", high=high)
    if high is None:
        return tr("from {low}", low=low)
    number = low.removesuffix(f" {units.temperature_symbol}")
    return f"{number}–{high}"


def plug(state: CheckState) -> str:
    """Return where the plug is, and for how long it has been out (min:s)."""
    if not state.plug_is_out:
        return tr("PLUG IS IN")
    return tr("PLUG OUT {time}", time=clock(state.now - state.plug_spans[-1].since))


def engine(state: CheckState) -> str:
    """Return what the engine does."""
    if not facts.engine_known(state):
        return tr("ENGINE NOT KNOWN")
    return tr("ENGINE RUNNING") if facts.engine_runs(state) else tr("ENGINE OFF")


def outlook(snapshot: Snapshot) -> str:
    """Return the time to the band, or left in it, with its uncertainty; may be empty."""
    found = snapshot.outlook if can_be_told(snapshot.state) else None
    if found is None:
        return ""
    said = told(found)
    if found.basis is Basis.START and said.known:
        return tr("If started now: {time}", time=joined((said.lead, said.value), " "))
    return capitalised(said.whole)


def press(step: NextStep, *, form_ready: bool) -> str:
    """Return what a press of the one button does now."""
    if step.do in _PRESSES:
        return tr(_PRESSES[step.do])
    if step.press is not None:
        said = lowered(tapped(step.press.kind(t=0.0, **step.press.fields)))
        if step.may_be_late:
            return tr("Press: {tap} · hold: 10 s ago", tap=said)
        return tr("Press: {tap}", tap=said)
    if form_ready:
        return tr("Press: send what is filled in")
    return tr(_AT_THE_PC) if step.form is not None else tr("Nothing to press")


def undo(state: CheckState, key: str) -> str:
    """Return what may be taken back, and for how long; empty where nothing may be."""
    known = undoing.allowed(state)
    if not isinstance(known, Undoable):
        return ""
    left = duration(max(0.0, undoing.until(known) - state.now))
    tap = tapped(known.tap)
    if isinstance(known.tap, Confirmed):
        tap = tr(wording.ITEMS[known.tap.item])
    tap = lowered(tap)
    whole = tr("{key} takes back: {tap}, {left}", key=key, tap=tap, left=left)
    if len(whole) <= LINE:
        return whole
    # Which answer it is matters more than the time, which the screen at arm's length has.
    return tr("{key} takes back: {tap}", key=key, tap=tap)
