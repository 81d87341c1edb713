"""What is written around the panels of the strip chart, from what the check knows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QRectF

from brimline import interrupted_words
from brimline.procedure import facts
from brimline.procedure.state import CheckState
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.specsheet.model import Band
from brimline.trace import Array
from brimline.translation import tr
from brimline.ui.widgets.chart_ahead import Crossing, foreseen
from brimline.ui.widgets.chart_scale import Range
from brimline.ui.widgets.chart_words import Beyond, Note, SideWord, TopWord, Words
from brimline.units import Dimension, UnitSystem, from_inside
from brimline.wording.moments import happened

_NOTHING: tuple[Array, Array] = (np.empty(0), np.empty(0))


@dataclass(frozen=True)
class Place:
    """Where a panel lies in the window, in px, and what of the plane it shows."""

    area: QRectF
    x: Range
    y: Range


def trace_of(snapshot: Snapshot, signal: SignalName) -> tuple[Array, Array]:
    """Return times (s) and values of a signal so far; empty where it has none."""
    return snapshot.traces.get(signal, _NOTHING)


def gaps_of(state: CheckState) -> list[Range]:
    """Return the times in which nobody watched, in s of the check; of no length where unknown."""
    return [(again.t - (again.gap_s or 0.0), again.t) for again in state.resumed]


def spans_of(state: CheckState) -> list[Range]:
    """Return the times with the plug out, in s of the check."""
    return [
        (span.since, state.now if span.until is None else span.until) for span in state.plug_spans
    ]


def degrees(celsius: float, units: UnitSystem) -> float:
    """Return a temperature as a number of the unit shown."""
    return from_inside(celsius, Dimension.TEMPERATURE, units.temperature_symbol)


def _waiting(snapshot: Snapshot | None) -> str:
    """Return what to do for a first reading: a keyed one is typed, another comes by itself."""
    signal = SignalName.FLUID_TEMPERATURE
    if snapshot is not None and not facts.is_measured(snapshot.state, signal):
        return tr("Type the first reading below")
    return tr("Waiting for the first reading: ignition on")


def around_heat(
    snapshot: Snapshot | None, place: Place, units: UnitSystem, crossed: Sequence[Crossing] = ()
) -> Words:
    """Return what is written around the temperatures."""
    title = tr("Fluid temperature ({unit})", unit=units.temperature_symbol)
    waiting = _waiting(snapshot)
    if snapshot is None:
        return Words(place.area, place.x, place.y, title, middle=waiting)
    state = snapshot.state
    empty = not len(trace_of(snapshot, SignalName.FLUID_TEMPERATURE)[0])
    notes = [
        Note(c.first, degrees(c.celsius, units), c.text, above=c.above)
        for c in crossed
    ]  # fmt: skip
    return Words(
        place.area, place.x, place.y, title, middle=waiting if empty else "",
        side=_band_side(state.band, units), top=_heat_top(snapshot, place.x), notes=notes,
        beyond=_beyond(state, place, units),
    )  # fmt: skip


def around_speed(snapshot: Snapshot | None, place: Place, units: UnitSystem) -> Words:
    """Return what is written around the engine's speed, what happened in the row above it."""
    title, below = tr("Engine speed (rpm)"), tr("min:s")
    if snapshot is None:
        return Words(place.area, place.x, place.y, title, below)
    state = snapshot.state
    idle = state.sheet.idle
    return Words(
        place.area, place.x, place.y, title, below,
        side=[SideWord(rpm, units.rotation(rpm)) for rpm in (idle.speed_low, idle.speed_high)],
        top=[*_gap_words(state, place.x), *_moments(snapshot, place.x, units)],
    )  # fmt: skip


def _band_side(band: Band, units: UnitSystem) -> list[SideWord]:
    written = [
        SideWord(degrees(celsius, units), units.temperature(celsius))
        for celsius in (band.low, band.high)
        if celsius is not None
    ]
    if band.max_plug_out is not None:
        limit = band.max_plug_out
        text = tr("{temperature} max", temperature=units.temperature(limit))
        written.append(SideWord(degrees(limit, units), text, strong=True))
    return written


def _heat_top(snapshot: Snapshot, shown: Range) -> list[TopWord]:
    state = snapshot.state
    written = [
        TopWord(since, until, tr("Plug out"), strong=True)
        for since, until in spans_of(state)
        if until >= shown[0]
    ]
    if foreseen(snapshot) and snapshot.course is not None:
        written.append(TopWord(state.now, shown[1], tr("Expected")))
    return written


def _gap_words(state: CheckState, shown: Range) -> list[TopWord]:
    return [
        TopWord(since, until, interrupted_words.unwatched(state, again), strong=True)
        for again, (since, until) in zip(state.resumed, gaps_of(state), strict=True)
        if until >= shown[0]
    ]


def _moments(snapshot: Snapshot, shown: Range, units: UnitSystem) -> list[TopWord]:
    return [
        TopWord(moment.t, moment.t, happened(moment, units))
        for moment in snapshot.moments
        if shown[0] <= moment.t <= shown[1]
    ]


def _beyond(state: CheckState, place: Place, units: UnitSystem) -> Beyond | None:
    """The latest reading where it lies outside of what is shown; in brackets if it is lost."""
    last = state.temperature.last
    if last is None or last.number is None:
        return None
    value = degrees(last.number, units)
    if place.y[0] <= value <= place.y[1]:
        return None
    text = units.temperature(last.number, 1)
    lost = facts.temperature(state) is None
    return Beyond(last.t, f"({text})" if lost else text, up=value > place.y[1])
