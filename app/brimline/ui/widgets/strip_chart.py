"""The live chart: fluid temperature and engine speed over the time of the check."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from brimline import interrupted_words
from brimline.estimate.warm_up import awaits_band, can_be_told
from brimline.procedure.state import CheckState
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.specsheet.model import Band
from brimline.trace import Array
from brimline.ui.tokens import Palette, Space
from brimline.ui.widgets.chart_panel import Look, Panel
from brimline.ui.widgets.chart_scale import (
    FUTURE_S,
    Range,
    ValueScale,
    cut_off,
    part,
    time_window,
)
from brimline.ui.widgets.chart_words import (
    TOP_ROOM,
    SideWord,
    TopWord,
    WordLayer,
    Words,
    text_width,
)
from brimline.ui.widgets.outlook_line import OutlookLine
from brimline.units import Dimension, UnitSystem, unit

WAITING = "Waiting for the first reading"
EXPECTED = "Expected"
_WHOLE, _LATEST = "Whole check", "Last 10 min"
_STEP = {"°C": 5.0, "°F": 10.0}
_RPM_STEP = 200.0
_NOTHING: tuple[Array, Array] = (np.empty(0), np.empty(0))
_NO_FAN: tuple[Array, Array] = (np.empty(0), np.empty((3, 0)))


class StripChart(QWidget):
    """Temperature over check time with its band, the engine's speed below, the outlook above.

    Ahead of the latest reading a fan shows where the temperature is expected to go. The last ten
    minutes are shown; the button or a double click shows the whole check and back.
    """

    whole_changed = Signal(bool)
    """Emits whether the whole check is shown now."""

    def __init__(self, palette: Palette, units: UnitSystem, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._palette = palette
        self._units = units
        self._whole = False
        self._snapshot: Snapshot | None = None
        self._marks: tuple[tuple[float, str], ...] = ()
        self._heat_scale = ValueScale(_STEP[units.temperature_symbol])
        self._speed_scale = ValueScale(_RPM_STEP)
        self._build()
        self._words = WordLayer(self._written, palette, self._canvas.viewport())
        self._canvas.viewport().installEventFilter(self)
        self.set_palette(palette)
        self.setMinimumSize(self.minimumSizeHint().expandedTo(QSize(480, 268)))

    def _build(self) -> None:
        self.outlook = OutlookLine()
        self._button = QPushButton(_WHOLE)
        wide = max(self._button.fontMetrics().horizontalAdvance(t) for t in (_WHOLE, _LATEST))
        self._button.setMinimumWidth(wide + 2 * Space.LARGE + Space.SMALL)
        self._button.clicked.connect(lambda: self.set_whole(not self._whole))
        top = QHBoxLayout()
        top.setSpacing(Space.SMALL)
        top.addWidget(self.outlook, 1)
        top.addWidget(self._button)
        self._canvas = pg.GraphicsLayoutWidget()
        self._canvas.setMinimumHeight(200)
        grid = self._canvas.ci
        grid.layout.setVerticalSpacing(TOP_ROOM)
        grid.setContentsMargins(Space.TIGHT, TOP_ROOM, _side_room(), Space.TIGHT)
        self._heat = Panel(grid.addPlot(0, 0), numbered=False)
        self._speed = Panel(grid.addPlot(1, 0), numbered=True)
        grid.layout.setRowStretchFactor(0, 3)
        grid.layout.setRowStretchFactor(1, 1)
        grid.layout.setRowMinimumHeight(1, 68)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(Space.TIGHT)
        box.addLayout(top)
        box.addWidget(self._canvas, 1)

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show a running check."""
        if self._snapshot is None or snapshot.state.opened is not self._snapshot.state.opened:
            self._new_scales()
        self._snapshot = snapshot
        self.outlook.show_snapshot(snapshot)
        self._feed()

    def set_marks(self, marks: Sequence[tuple[float, str]]) -> None:
        """Mark moments (s of the check) with a thin line and a short label."""
        self._marks = tuple(marks)
        self._feed()

    def set_whole(self, whole: bool) -> None:
        """Show the whole check, or the last ten minutes."""
        if whole == self._whole:
            return
        self._whole = whole
        self._button.setText(_LATEST if whole else _WHOLE)
        self._feed()
        self.whole_changed.emit(whole)

    def set_palette(self, palette: Palette) -> None:
        """Take other colours."""
        self._palette = p = palette
        self._canvas.setBackground(p.surface)
        self._heat.paint(Look(p.trace, p.band, p.band_edge, p.span, p))
        self._speed.paint(Look(p.rpm, p.raised, p.line, p.span, p))
        self._words.set_palette(p)

    def set_units(self, units: UnitSystem) -> None:
        """Write temperatures in other units."""
        self._units = units
        self._new_scales()
        self._feed()

    def _new_scales(self) -> None:
        self._heat_scale = ValueScale(_STEP[self._units.temperature_symbol])
        self._speed_scale = ValueScale(_RPM_STEP)

    def _shown(self, celsius: Array) -> Array:
        chosen = unit(Dimension.TEMPERATURE, self._units.temperature_symbol)
        return (celsius - chosen.offset) / chosen.factor

    def _degrees(self, celsius: float | None) -> float | None:
        return None if celsius is None else float(self._shown(np.asarray(celsius)))

    def _feed(self) -> None:
        snapshot = self._snapshot
        if snapshot is None:
            return
        state = snapshot.state
        # Kept free also while nothing can be told, so that the axis stands still when it can.
        ahead = FUTURE_S if awaits_band(state) else 0.0
        window = time_window(state.now, whole=self._whole, ahead=ahead)
        spans = [
            (span.since, state.now if span.until is None else span.until)
            for span in state.plug_spans
        ]
        marks = [at for at, _ in self._marks]
        self._feed_heat(snapshot, window, spans, marks)
        self._feed_speed(snapshot, window, spans, marks)
        self._words.update()

    def _feed_heat(
        self, snapshot: Snapshot, window: Range, spans: list[Range], marks: list[float]
    ) -> None:
        band = snapshot.state.band
        low, high, limit = (self._degrees(c) for c in (band.low, _upper(band), band.max_plug_out))
        t, celsius = part(*_trace(snapshot, SignalName.FLUID_TEMPERATURE), window)
        y = self._shown(celsius)
        coming, quantiles = self._fan(snapshot, window)
        edges = [edge for edge in (low, high, limit) if edge is not None]
        self._heat.set_band(low, high, limit)
        shown = self._heat_scale.fit(*_extent(y, [*edges, *quantiles[1].tolist()]))
        self._heat.set_ranges(window, shown, snapshot.state.now)
        self._heat.feed(t, y, spans, marks)
        self._heat.set_gaps(gaps_of(snapshot.state))
        self._heat.set_fan(coming, quantiles)

    def _fan(self, snapshot: Snapshot, window: Range) -> tuple[Array, Array]:
        """Return what of the course ahead is in the window, in the unit shown."""
        if not _foreseen(snapshot) or snapshot.course is None:
            return _NO_FAN
        shown = self._shown(snapshot.course.quantiles)
        return cut_off(snapshot.course.times, shown, window[1])

    def _feed_speed(
        self, snapshot: Snapshot, window: Range, spans: list[Range], marks: list[float]
    ) -> None:
        idle = snapshot.state.sheet.idle
        t, rpm = part(*_trace(snapshot, SignalName.ENGINE_SPEED), window)
        self._speed.set_band(idle.speed_low, idle.speed_high, None)
        _, top = self._speed_scale.fit(*_extent(rpm, [0.0, idle.speed_high]))
        self._speed.set_ranges(window, (0.0, top), snapshot.state.now)
        self._speed.feed(t, rpm, spans, marks)
        self._speed.set_gaps(gaps_of(snapshot.state))

    def _written(self) -> list[Words]:
        """What stands around the panels now."""
        heat, speed = self._heat, self._speed
        title = f"Fluid temperature ({self._units.temperature_symbol})"
        if self._snapshot is None:
            return [Words(heat.area(), heat.x, heat.y, title, middle=WAITING)]
        state = self._snapshot.state
        empty = not len(_trace(self._snapshot, SignalName.FLUID_TEMPERATURE)[0])
        return [
            Words(
                heat.area(), heat.x, heat.y, title, middle=WAITING if empty else "",
                side=self._heat_side(state.band), top=self._heat_top(self._snapshot),
            ),
            Words(
                speed.area(), speed.x, speed.y, title="Engine speed (rpm)", below="min:s",
                side=_idle_side(state, self._units), top=_gap_words(state, speed.x),
            ),
        ]  # fmt: skip

    def _heat_side(self, band: Band) -> list[SideWord]:
        written = []
        for celsius in (band.low, band.high):
            if celsius is not None:
                degrees = self._degrees(celsius) or 0.0
                written.append(SideWord(degrees, self._units.temperature(celsius)))
        if band.max_plug_out is not None:
            degrees = self._degrees(band.max_plug_out) or 0.0
            text = f"{self._units.temperature(band.max_plug_out)} max"
            written.append(SideWord(degrees, text, strong=True))
        return written

    def _heat_top(self, snapshot: Snapshot) -> list[TopWord]:
        state, (first, last) = snapshot.state, self._heat.x
        written = [
            TopWord(span.since, until, "Plug out", strong=True)
            for span in state.plug_spans
            if (until := state.now if span.until is None else span.until) >= first
        ]
        if _foreseen(snapshot) and snapshot.course is not None:
            written.append(TopWord(state.now, last, EXPECTED))
        return written + [TopWord(t, t, text) for t, text in self._marks if first <= t <= last]

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Keep the words as large as the plot; a double click shows the whole check, and back."""
        if event.type() is QEvent.Type.Resize:
            self._words.resize(self._canvas.viewport().size())
        if event.type() is QEvent.Type.MouseButtonDblClick and isinstance(event, QMouseEvent):
            if event.button() is Qt.MouseButton.LeftButton:
                self.set_whole(not self._whole)
            return True
        return super().eventFilter(watched, event)


def _trace(snapshot: Snapshot, signal: SignalName) -> tuple[Array, Array]:
    return snapshot.traces.get(signal, _NOTHING)


def gaps_of(state: CheckState) -> list[Range]:
    """Return the times in which nobody watched, in s of the check; of no length where unknown."""
    return [(again.t - (again.gap_s or 0.0), again.t) for again in state.resumed]


def _gap_words(state: CheckState, shown: Range) -> list[TopWord]:
    """What is written over the lower panel, where nothing else is: when nobody watched."""
    return [
        TopWord(since, until, interrupted_words.unwatched(state, again), strong=True)
        for again, (since, until) in zip(state.resumed, gaps_of(state), strict=True)
        if until >= shown[0]
    ]


def _foreseen(snapshot: Snapshot) -> bool:
    """Whether what is told of the time to come may be drawn: never on from lost readings."""
    outlook = snapshot.outlook
    return can_be_told(snapshot.state) and outlook is not None and outlook.next.known


def _upper(band: Band) -> float | None:
    """Where the shading ends: a band that is open at the top reaches to its limit."""
    return band.max_plug_out if band.high is None else band.high


def _extent(y: Array, edges: Iterable[float]) -> Range:
    """Return the lowest and highest of what must be seen."""
    there = y[np.isfinite(y)]
    seen = [*edges, float(there.min()), float(there.max())] if len(there) else list(edges)
    return min(seen), max(seen)


def _idle_side(state: CheckState, units: UnitSystem) -> list[SideWord]:
    idle = state.sheet.idle
    return [SideWord(rpm, units.rotation(rpm)) for rpm in (idle.speed_low, idle.speed_high)]


def _side_room() -> float:
    """Return the room right of the panels that the widest side word needs, in px."""
    widest = max(text_width("302 °F max", strong=True), text_width("1,200 rpm"))
    return widest + Space.SMALL + Space.MEDIUM
