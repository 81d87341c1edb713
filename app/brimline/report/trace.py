"""The data of the temperature chart, taken from a record played through."""

from __future__ import annotations

from collections.abc import Iterable

from brimline.procedure import facts, resuming
from brimline.procedure.state import CheckState
from brimline.reading import SignalName
from brimline.report import phrases
from brimline.report.playback import Playback, Sample
from brimline.report.summary import Chart, Point, Segment, Span
from brimline.specsheet.model import Band
from brimline.specsheet.signal_map import ObdSignal
from brimline.units import Dimension, UnitSystem, from_inside


def chart(play: Playback, units: UnitSystem) -> Chart | None:
    """Return the chart, or ``None`` where no temperature was read."""
    segments = _segments(play, units)
    if not segments:
        return None
    state = play.final
    band = state.band
    spans = _spans(state, play.closed.at)
    ends = [segments[-1].points[-1].minute, *(span.end for span in spans)]
    return Chart(
        segments=segments,
        low=_degrees(band.low, units),
        high=_degrees(band.high, units),
        limit=_degrees(band.max_plug_out, units),
        plug_out=spans,
        closing=_closing(state, units),
        last_minute=max(*ends, 1.0),
        time_title="Time since the check was opened (min)",
        temperature_title=_title(state, units),
        band_label=("target band", *_band_values(band, units)),
        limit_label=_limit_label(band, units),
        plug_out_label="plug out",
        caption=_caption(state, segments, units),
    )


def _title(state: CheckState, units: UnitSystem) -> str:
    stands_in = isinstance(state.sheet.signals.fluid_temperature, ObdSignal)
    what = "Engine coolant, in place of the fluid" if stands_in else "Fluid temperature"
    return f"{what} ({units.temperature_symbol})"


def _band_values(band: Band, units: UnitSystem) -> tuple[str, ...]:
    if band.low is not None and band.high is not None:
        low = phrases.edge(band.low, units).split()[0]
        return (f"{low}–{phrases.edge(band.high, units)}",)
    if band.low is not None:
        return (f"from {phrases.edge(band.low, units)}",)
    return () if band.high is None else (f"up to {phrases.edge(band.high, units)}",)


def _limit_label(band: Band, units: UnitSystem) -> tuple[str, ...]:
    if band.max_plug_out is None:
        return ()
    return ("plug stays in", f"above {phrases.edge(band.max_plug_out, units)}")


def _degrees(celsius: float | None, units: UnitSystem) -> float | None:
    return None if celsius is None else _in_unit(celsius, units)


def _in_unit(celsius: float, units: UnitSystem) -> float:
    return from_inside(celsius, Dimension.TEMPERATURE, units.temperature_symbol)


def _spans(state: CheckState, closed_at: float) -> tuple[Span, ...]:
    return tuple(
        Span(span.since / 60.0, (closed_at if span.until is None else span.until) / 60.0)
        for span in state.plug_spans
    )


def _segments(play: Playback, units: UnitSystem) -> tuple[Segment, ...]:
    segments: list[list[Sample]] = []
    last: Sample | None = None
    for sample in play.samples:
        if sample.celsius is None:
            last = None
            continue
        if last is None or not _joined(last, sample, play.final):
            segments.append([])
        segments[-1].append(sample)
        last = sample
    return tuple(Segment(_points(segment, units), segment[0].keyed) for segment in segments)


def _joined(last: Sample, sample: Sample, state: CheckState) -> bool:
    """Whether two readings belong to one line: the first was not yet stale when the next came, and
    somebody watched between them.
    """
    unwatched = any(
        last.t <= again.t < sample.t and resuming.is_long(again.gap_s) for again in state.resumed
    )
    if last.keyed != sample.keyed or unwatched:
        return False
    stale = facts.stale_after(state, SignalName.FLUID_TEMPERATURE)
    return sample.t - last.t <= (facts.KEYED_STALE_S if sample.keyed else stale)


def _points(samples: Iterable[Sample], units: UnitSystem) -> tuple[Point, ...]:
    return tuple(
        Point(sample.t / 60.0, _in_unit(sample.celsius, units))
        for sample in samples
        if sample.celsius is not None
    )


def _closing(state: CheckState, units: UnitSystem) -> Point | None:
    celsius = state.closing.celsius
    until = state.plug_spans[-1].until if state.plug_spans else None
    if celsius is None or until is None:
        return None
    return Point(until / 60.0, _in_unit(celsius, units))


def _caption(state: CheckState, segments: tuple[Segment, ...], units: UnitSystem) -> str:
    parts = ["Shaded: target band."]
    if state.plug_spans:
        parts.append("Hatched: check plug out.")
    if state.closing.celsius is not None:
        parts.append("Ring: temperature when the plug went in.")
    if state.band.max_plug_out is not None:
        limit = phrases.edge(state.band.max_plug_out, units)
        parts.append(f"Dashed: above {limit} the plug stays in.")
    if any(segment.keyed for segment in segments):
        parts.append("Dots: readings keyed in.")
    if len(segments) > 1:
        parts.append("Where the line is broken there were no readings.")
    return " ".join(parts)
