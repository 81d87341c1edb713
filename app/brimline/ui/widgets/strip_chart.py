"""The live chart: fluid temperature and engine speed over the time of the check."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QObject, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from brimline.estimate.warm_up import awaits_band
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.specsheet.model import Band
from brimline.trace import Array
from brimline.translation import tr
from brimline.ui.tokens import TOUCH, Palette, Space
from brimline.ui.widgets.chart_ahead import Crossing, crossings, foreseen
from brimline.ui.widgets.chart_panel import Look, Panel
from brimline.ui.widgets.chart_readout import ReadOut, told_at
from brimline.ui.widgets.chart_scale import (
    FUTURE_S,
    Range,
    ValueScale,
    around_band,
    cut_off,
    part,
    time_window,
)
from brimline.ui.widgets.chart_told import (
    Place,
    around_heat,
    around_speed,
    degrees,
    gaps_of,
    spans_of,
    trace_of,
)
from brimline.ui.widgets.chart_words import TOP_ROOM, WordLayer, Words, text_width
from brimline.ui.widgets.outlook_line import OutlookLine
from brimline.units import Dimension, UnitSystem, unit

_STEP = {"°C": 5.0, "°F": 10.0}
_RPM_STEP = 200.0
_NEAR_PX = 6.0  # what a person who points at a mark may be off by
_KEY_STEPS = 60  # presses of an arrow key from one end of the chart to the other
_NO_FAN: tuple[Array, Array] = (np.empty(0), np.empty((3, 0)))


class StripChart(QWidget):
    """Temperature over check time with its band, the engine's speed below, the outlook above.

    Ahead of the latest reading a fan shows where the temperature is expected to go. The last ten
    minutes are shown; a button, W or a double click shows the whole check and back. Another button
    or B shows the band alone, with a margin. What is known of a moment is told under the mouse and,
    with the keyboard in the chart, where the arrow keys lead; Escape ends that.
    """

    whole_changed = Signal(bool)
    """Emits whether the whole check is shown now."""

    def __init__(self, palette: Palette, units: UnitSystem, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._palette = palette
        self._units = units
        self._whole = self._zoomed = False
        self._snapshot: Snapshot | None = None
        self._mouse: QPointF | None = None
        self._moment: float | None = None  # where the arrow keys have gone, in s of the check
        self._about: tuple[object, ...] = ()  # what the words were last written of
        self._crossed: tuple[Crossing, ...] = ()
        self._crossed_of: tuple[object, ...] = (None, False)
        self._new_scales()
        self._build()
        view = self._canvas.viewport()
        self._words = WordLayer(self._written, palette, view)
        self.read_out = ReadOut(view)
        view.installEventFilter(self)
        view.setMouseTracking(True)
        self._canvas.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.set_palette(palette)
        self.setMinimumSize(self.minimumSizeHint().expandedTo(QSize(480, 268)))

    def _build(self) -> None:
        self.outlook = OutlookLine()
        self.zoom_button = _button(
            tr("Band"), tr("Shows the target band with a margin, and back. Key: B")
        )
        self.zoom_button.clicked.connect(self.set_zoomed)
        self.whole_button = _button(
            tr("All"), tr("Shows the check from its beginning, and back. Key: W")
        )
        self.whole_button.clicked.connect(self.set_whole)
        top = QHBoxLayout()
        top.setSpacing(Space.SMALL)
        top.addWidget(self.outlook, 1)
        top.addWidget(self.zoom_button)
        top.addWidget(self.whole_button)
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

    def set_whole(self, whole: bool) -> None:
        """Show the whole check, or the last ten minutes."""
        if whole == self._whole:
            return
        self._whole = whole
        self.whole_button.setChecked(whole)
        self._feed()
        self.whole_changed.emit(whole)

    def set_zoomed(self, zoomed: bool) -> None:
        """Show the target band with a margin, or everything that was read and is expected."""
        self._zoomed = zoomed
        self.zoom_button.setChecked(zoomed)
        self._feed()

    def set_palette(self, palette: Palette) -> None:
        """Take other colours."""
        self._palette = p = palette
        self._canvas.setBackground(p.surface)
        self._heat.paint(Look(p.trace, p.band, p.band_edge, p.span, p))
        self._speed.paint(Look(p.rpm, p.raised, p.line, p.span, p))
        self._words.set_palette(p)
        self.read_out.set_palette(p)

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
        return None if celsius is None else degrees(celsius, self._units)

    def _feed(self) -> None:
        snapshot = self._snapshot
        if snapshot is None:
            return
        state = snapshot.state
        # Kept free also while nothing can be told, so that the axis stands still when it can.
        ahead = FUTURE_S if awaits_band(state) else 0.0
        window = time_window(state.now, whole=self._whole, ahead=ahead)
        marks = [moment.t for moment in snapshot.moments]
        self._feed_heat(snapshot, window, marks)
        self._feed_speed(snapshot, window, marks)
        self._refresh_words(snapshot)
        self._show_moment()

    def _refresh_words(self, snapshot: Snapshot) -> None:
        """Have the words written anew once a second, and at once where more than time is new."""
        state, heat, speed = snapshot.state, self._heat, self._speed
        about = (
            int(state.now), state.plug_is_out, len(state.resumed), len(snapshot.moments),
            foreseen(snapshot), len(trace_of(snapshot, SignalName.FLUID_TEMPERATURE)[0]) > 0,
            self._units, heat.x, heat.y, speed.y,
        )  # fmt: skip
        if about != self._about:
            self._about = about
            self._words.refresh()

    def _feed_heat(self, snapshot: Snapshot, window: Range, marks: list[float]) -> None:
        band = snapshot.state.band
        low, high, limit = (self._degrees(c) for c in (band.low, _upper(band), band.max_plug_out))
        t, celsius = part(*trace_of(snapshot, SignalName.FLUID_TEMPERATURE), window)
        y = self._shown(celsius)
        coming, quantiles = self._fan(snapshot, window)
        edges = [edge for edge in (low, high, limit) if edge is not None]
        self._heat.set_band(low, high, limit)
        shown = self._heat_scale.fit(*_extent(y, [*edges, *quantiles[1].tolist()]))
        if self._zoomed:
            shown = around_band(low, max(edges), _STEP[self._units.temperature_symbol])
        self._heat.set_ranges(window, shown, snapshot.state.now)
        self._heat.feed(t, y, spans_of(snapshot.state), marks)
        self._heat.set_gaps(gaps_of(snapshot.state))
        self._heat.set_fan(coming, quantiles)
        self._heat.set_crossings(
            [
                (c.first, c.at, c.last, degrees(c.celsius, self._units))
                for c in self._crossings(snapshot)
            ]
        )

    def _crossings(self, snapshot: Snapshot) -> tuple[Crossing, ...]:
        """Return where the band is entered and left: told anew only where that is another."""
        of = (snapshot.outlook, foreseen(snapshot))
        if of[0] is not self._crossed_of[0] or of[1] != self._crossed_of[1]:
            self._crossed_of, self._crossed = of, crossings(snapshot)
        return self._crossed

    def _fan(self, snapshot: Snapshot, window: Range) -> tuple[Array, Array]:
        """Return what of the course ahead is in the window, in the unit shown."""
        if not foreseen(snapshot) or snapshot.course is None:
            return _NO_FAN
        shown = self._shown(snapshot.course.quantiles)
        return cut_off(snapshot.course.times, shown, window[1])

    def _feed_speed(self, snapshot: Snapshot, window: Range, marks: list[float]) -> None:
        idle = snapshot.state.sheet.idle
        t, rpm = part(*trace_of(snapshot, SignalName.ENGINE_SPEED), window)
        self._speed.set_band(idle.speed_low, idle.speed_high, None)
        _, top = self._speed_scale.fit(*_extent(rpm, [0.0, idle.speed_high]))
        self._speed.set_ranges(window, (0.0, top), snapshot.state.now)
        self._speed.feed(t, rpm, spans_of(snapshot.state), marks)
        self._speed.set_gaps(gaps_of(snapshot.state))

    def _written(self) -> list[Words]:
        """What stands around the panels now."""
        heat, speed = (Place(p.area(), p.x, p.y) for p in (self._heat, self._speed))
        return [
            around_heat(self._snapshot, heat, self._units, self._crossed),
            around_speed(self._snapshot, speed, self._units),
        ]

    def _show_moment(self) -> None:
        """Say what is known of the moment under the mouse, or where the arrow keys have gone."""
        snapshot, heat, at = self._snapshot, self._heat, self._mouse
        if snapshot is None or (at is None and self._moment is None):
            for panel in (self._heat, self._speed):
                panel.look_at(None)
            self.read_out.hide()
            return
        area = heat.area()
        if at is not None:
            moment = heat.moment_at(at.x())
        else:
            moment = self._moment = min(max(self._moment or 0.0, heat.x[0]), heat.x[1])
            at = QPointF(heat.place_of(moment), area.top() + Space.LARGE)
        for panel in (self._heat, self._speed):
            panel.look_at(moment)
        within = _NEAR_PX * (heat.x[1] - heat.x[0]) / max(1.0, area.width())
        self.read_out.say(told_at(snapshot, moment, within, self._units), at)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Go from moment to moment, to the beginning, to now; zoom."""
        key, keys = event.key(), Qt.Key
        if key == keys.Key_B:
            self.set_zoomed(not self._zoomed)
        elif key == keys.Key_W:
            self.set_whole(not self._whole)
        elif key == keys.Key_Escape and self._moment is not None:
            self._moment = None
            self._show_moment()
        elif self._snapshot is not None and (goal := self._goal(key, self._snapshot)) is not None:
            self._mouse, self._moment = None, goal
            self._show_moment()
        else:
            super().keyPressEvent(event)

    def _goal(self, key: int, snapshot: Snapshot) -> float | None:
        """Return where a key leads, in s of the check; ``None`` where it leads nowhere."""
        (first, last), now, keys = self._heat.x, snapshot.state.now, Qt.Key
        at = now if self._moment is None else self._moment
        step = (last - first) / _KEY_STEPS
        marks = [m.t for m in snapshot.moments if first <= m.t <= last]
        goals: dict[int, float] = {
            keys.Key_Left: at - step,
            keys.Key_Right: at + step,
            keys.Key_Home: first,
            keys.Key_End: now,
            keys.Key_PageUp: max((t for t in marks if t < at), default=at),
            keys.Key_PageDown: min((t for t in marks if t > at), default=at),
        }
        return goals.get(key)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Show where the keyboard is."""
        super().focusInEvent(event)
        self._words.set_framed(True)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """The keyboard has gone elsewhere."""
        super().focusOutEvent(event)
        self._words.set_framed(False)
        self._moment = None
        self._show_moment()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Keep the words as large as the plot and follow the mouse; a double click shows the whole
        check, and back.
        """
        kind = event.type()
        if kind is QEvent.Type.Resize:
            self._words.resize(self._canvas.viewport().size())
        elif kind is QEvent.Type.Leave:
            self._mouse = None
            self._show_moment()
        elif isinstance(event, QMouseEvent) and self._take_mouse(kind, event):
            return True
        return super().eventFilter(watched, event)

    def _take_mouse(self, kind: QEvent.Type, event: QMouseEvent) -> bool:
        left = event.button() is Qt.MouseButton.LeftButton
        if kind is QEvent.Type.MouseMove:
            self._mouse, self._moment = event.position(), None
            self._show_moment()
        elif kind is QEvent.Type.MouseButtonPress and left:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
        elif kind is QEvent.Type.MouseButtonDblClick:
            if left:
                self.set_whole(not self._whole)
            return True
        return False


def _button(text: str, tip: str) -> QPushButton:
    """Return a button that stays down while its view is shown; its words are short."""
    made = QPushButton(text)
    made.setCheckable(True)
    made.setProperty("role", "view")
    made.setToolTip(tip)
    made.setAccessibleName(tip)
    made.setMinimumSize(TOUCH, TOUCH)
    return made


def _upper(band: Band) -> float | None:
    """Where the shading ends: a band that is open at the top reaches to its limit."""
    return band.max_plug_out if band.high is None else band.high


def _extent(y: Array, edges: Iterable[float]) -> Range:
    """Return the lowest and highest of what must be seen."""
    there = y[np.isfinite(y)]
    seen = [*edges, float(there.min()), float(there.max())] if len(there) else list(edges)
    return min(seen), max(seen)


def _side_room() -> float:
    """Return the room right of the panels that the widest side word needs, in px."""
    limit = tr("{temperature} max", temperature="302 °F")
    widest = max(text_width(limit, strong=True), text_width("1,200 rpm"))
    return widest + Space.SMALL + Space.MEDIUM
