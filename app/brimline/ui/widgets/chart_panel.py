"""One panel of the strip chart: its plot items are made once and only fed.

Measured with pyqtgraph 0.14: a fixed range with ``clipToView`` keeps a redraw at a few ms, a pen
of two px with antialiasing costs tens of them, and one without hundreds where eight hours of
readings are drawn unthinned. Gaps are ``nan`` with ``connect="finite"``, so the
check for finite values is never skipped.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont

from brimline.trace import Array
from brimline.ui.tokens import FAMILY, FAN_ALPHA, Palette, Type
from brimline.ui.widgets.chart_scale import (
    Range,
    lone_points,
    thinned,
    time_ticks,
    value_ticks,
)
from brimline.ui.widgets.chart_words import TIME_ROOM

AXIS_WIDTH = 56
"""Room in px for the numbers left of a panel."""

_FAR = 1e5  # beyond any axis: where an open end of a band lies
_OVERHANG = 40  # px that a number may stand out beyond the end of its axis
_POINTS_A_PX = 2  # lowest and highest of what stands above one another
_FEWEST_POINTS = 500
_TIME_TICK_PX = 76
_VALUE_TICK_PX = 34
_SPAN_ALPHA = 0.6
_CAP = 0.025  # of the panel's height: half of the ends of a bar
_DASHES = (5, 3)  # in widths of the line


@dataclass(frozen=True)
class Look:
    """The colours of a panel's own parts."""

    trace: str
    band: str
    edge: str
    span: str
    palette: Palette


class Panel:
    """A plot with a shaded band, a dashed limit, shaded spans, hatched gaps, marks, one trace, its
    fan with the moments in which that crosses the band, and a line at the moment looked at.

    :param plot: an empty plot of a ``GraphicsLayoutWidget``.
    :param numbered: whether the times are written below.
    """

    def __init__(self, plot: Any, *, numbered: bool) -> None:
        self.plot = plot
        self.x: Range = (0.0, 1.0)
        self.y: Range = (0.0, 1.0)
        self._ticks: tuple[object, ...] = ()
        self._fed: dict[str, tuple[object, ...]] = {}
        plot.setMouseEnabled(x=False, y=False)
        plot.setMenuEnabled(False)
        plot.hideButtons()
        plot.disableAutoRange()
        plot.getViewBox().sigResized.connect(self._tick)
        self._axes(numbered)
        self._band = pg.LinearRegionItem(orientation="horizontal", movable=False)
        # Filled within its own outline, which runs along the upper edge and back along the lower.
        self._fan = pg.PlotCurveItem(pen=None, fillLevel="enclosed")
        self._ahead = pg.PlotCurveItem()
        self._spans = pg.BarGraphItem(x0=[], x1=[], y0=[], y1=[], pen=pg.mkPen(None))
        self._gaps = pg.BarGraphItem(x0=[], x1=[], y0=[], y1=[], pen=pg.mkPen(None))
        self._gap_edges = pg.PlotCurveItem(connect="pairs")
        self._limit = pg.InfiniteLine(angle=0, movable=False)
        self._now = pg.InfiniteLine(angle=90, movable=False)
        self._span_edges = pg.PlotCurveItem(connect="pairs")
        self._marks = pg.PlotCurveItem(connect="pairs")
        self._curve = pg.PlotDataItem(connect="finite")
        self._curve.setClipToView(True)
        self._dots = pg.ScatterPlotItem(size=7, pen=pg.mkPen(None), pxMode=True)
        self._reaches = pg.PlotCurveItem(connect="pairs")
        self._crossed = pg.ScatterPlotItem(size=11, symbol="d", pxMode=True)
        self._looked_at = pg.InfiniteLine(angle=90, movable=False)
        items = (
            self._band, self._fan, self._spans, self._span_edges, self._gaps, self._gap_edges,
            self._marks, self._limit, self._now, self._ahead, self._curve, self._dots,
            self._reaches, self._crossed, self._looked_at,
        )  # fmt: skip
        for depth, item in enumerate(items):
            item.setZValue(depth)
            plot.addItem(item, ignoreBounds=True)
        self._band.hide()
        self._limit.hide()
        self._looked_at.hide()

    def _axes(self, numbered: bool) -> None:
        font = QFont(FAMILY)
        font.setPixelSize(Type.SMALL)
        for side in ("left", "bottom"):
            axis = self.plot.getAxis(side)
            axis.setStyle(tickFont=font, tickTextOffset=6, hideOverlappingLabels=_OVERHANG)
            axis.enableAutoSIPrefix(False)
        self.plot.getAxis("left").setWidth(AXIS_WIDTH)
        bottom = self.plot.getAxis("bottom")
        bottom.setStyle(showValues=numbered)
        bottom.setHeight(TIME_ROOM if numbered else 6)

    def paint(self, look: Look) -> None:
        """Take these colours."""
        p = look.palette
        for side in ("left", "bottom"):
            axis = self.plot.getAxis(side)
            axis.setPen(pg.mkPen(p.line))
            axis.setTextPen(pg.mkPen(p.soft))
        self._band.setBrush(pg.mkBrush(look.band))
        for line in self._band.lines:
            line.setPen(pg.mkPen(look.edge, width=1))
        self._spans.setOpts(brush=pg.mkBrush(_see_through(look.span, _SPAN_ALPHA)))
        hatched = QBrush(QColor(p.soft), Qt.BrushStyle.BDiagPattern)
        self._gaps.setOpts(brush=hatched)
        self._gap_edges.setPen(pg.mkPen(p.soft, width=2))
        self._fan.setBrush(pg.mkBrush(_see_through(p.fan, FAN_ALPHA)))
        self._ahead.setPen(pg.mkPen(p.ahead, width=2, dash=_DASHES))
        self._span_edges.setPen(pg.mkPen(p.soft, width=1))
        self._marks.setPen(pg.mkPen(p.soft, width=1, style=Qt.PenStyle.DotLine))
        self._limit.setPen(pg.mkPen(p.bad, width=1, style=Qt.PenStyle.DashLine))
        self._now.setPen(pg.mkPen(p.line, width=1))
        self._reaches.setPen(pg.mkPen(p.ahead, width=2))
        self._crossed.setPen(pg.mkPen(p.ahead, width=2))
        self._crossed.setBrush(pg.mkBrush(p.surface))
        self._looked_at.setPen(pg.mkPen(p.ink, width=1))
        self._curve.setPen(pg.mkPen(look.trace, width=2))
        self._dots.setBrush(pg.mkBrush(look.trace))

    def area(self) -> QRectF:
        """Return where the plot lies in the scene, in px."""
        box: QRectF = self.plot.getViewBox().sceneBoundingRect()
        return box

    def set_band(self, low: float | None, high: float | None, limit: float | None) -> None:
        """Shade from ``low`` to ``high``, either end open, and draw the dashed limit."""
        if not self._is_new("band", low, high, limit):
            return
        self._band.setRegion((-_FAR if low is None else low, _FAR if high is None else high))
        self._band.lines[1].setVisible(high != limit)  # the limit's own line stands there
        self._band.show()
        self._limit.setVisible(limit is not None)
        if limit is not None:
            self._limit.setValue(limit)

    def set_ranges(self, x: Range, y: Range, now: float) -> None:
        """Show this part of the plane, with a thin line at ``now``."""
        px = (x[1] - x[0]) / max(1.0, self.area().width())
        if abs(self._now.value() - now) >= px / 2:
            self._now.setValue(now)
        if (x, y) != (self.x, self.y):
            self.x, self.y = x, y
            self.plot.setRange(xRange=x, yRange=y, padding=0, disableAutoRange=True)
            self._tick()

    def _tick(self, *_: object) -> None:
        """Number the axes as densely as the panel's size allows."""
        area = self.area()
        across = max(2, int(area.width() / _TIME_TICK_PX))
        upward = max(1, int(area.height() / _VALUE_TICK_PX))
        ticks = (self.x, self.y, across, upward)
        if ticks != self._ticks:
            self._ticks = ticks
            self.plot.getAxis("bottom").setTicks([time_ticks(self.x, across)])
            self.plot.getAxis("left").setTicks([value_ticks(self.y, upward)])

    def feed(self, t: Array, y: Array, spans: Sequence[Range], marks: Sequence[float]) -> None:
        """Draw the trace, the spans and the marks; what has not changed is left as it is."""
        ends = (float(t[0]), float(t[-1]), float(y[-1])) if len(t) else ()
        most = max(_FEWEST_POINTS, round(_POINTS_A_PX * self.area().width()))
        if self._is_new("trace", most, len(t), *ends):
            self._curve.setData(*thinned(t, y, most))
            self._feed_item("dots", self._dots, *lone_points(t, y))
        if self._is_new("spans", self.y, *spans):
            self._fill(self._spans, self._span_edges, spans)
        if self._is_new("marks", self.y, *marks):
            self._feed_item("mark lines", self._marks, *_uprights(marks, self.y))

    def set_gaps(self, gaps: Sequence[Range]) -> None:
        """Hatch the times in which nobody watched; one of no length is a line."""
        if self._is_new("gaps", self.y, *gaps):
            self._fill(self._gaps, self._gap_edges, gaps)

    def _fill(self, bars: Any, edges: Any, spans: Sequence[Range]) -> None:
        left, right = [s[0] for s in spans], [s[1] for s in spans]
        floor, ceiling = [self.y[0]] * len(spans), [self.y[1]] * len(spans)
        bars.setOpts(x0=left, x1=right, y0=floor, y1=ceiling)
        edges.setData(*_uprights([x for s in spans for x in s], self.y))
        bars.setVisible(bool(spans))
        edges.setVisible(bool(spans))

    def set_fan(self, t: Array, quantiles: Array) -> None:
        """Draw what is expected as a filled area with a dashed line in it; nothing where empty.

        :param t: shape (n,).
        :param quantiles: lower edge, line and upper edge, shape (3, n).
        """
        ends = (*t[[0, -1]].tolist(), *quantiles[:, [0, -1]].ravel().tolist()) if len(t) else ()
        if not self._is_new("fan", *ends):
            return
        low, middle, high = quantiles
        self._fan.setData(np.concatenate((t, t[::-1])), np.concatenate((high, low[::-1])))
        self._ahead.setData(t, middle)
        self._fan.setVisible(len(t) > 0)
        self._ahead.setVisible(len(t) > 0)

    def set_crossings(self, crossings: Sequence[tuple[float, float, float, float]]) -> None:
        """Mark where the fan crosses the band: a bar with ends from the earliest moment to the
        latest, a diamond at the middle one.

        :param crossings: earliest, middle and latest moment in s, and the value; the latest may be
            infinite.
        """
        if not self._is_new("crossings", self.x, self.y, *crossings):
            return
        half = _CAP * (self.y[1] - self.y[0])
        t: list[float] = []
        y: list[float] = []
        for first, _, last, value in crossings:
            end = min(last, self.x[1])
            t += [first, end, first, first]
            y += [value, value, value - half, value + half]
            if last <= self.x[1]:
                t += [last, last]
                y += [value - half, value + half]
        self._feed_item("reaches", self._reaches, np.array(t), np.array(y))
        middles = np.array([(c[1], c[3]) for c in crossings]).reshape(-1, 2)
        self._feed_item("crossed", self._crossed, *middles.T)

    def look_at(self, t: float | None) -> None:
        """Draw a line at a moment, in s of the check; ``None`` takes it away."""
        self._looked_at.setVisible(t is not None)
        if t is not None:
            self._looked_at.setValue(t)

    def moment_at(self, x: float) -> float:
        """Return the moment (s) under a place in the scene (px), within what is shown."""
        area = self.area()
        share = (x - area.left()) / max(1.0, area.width())
        return self.x[0] + min(max(share, 0.0), 1.0) * (self.x[1] - self.x[0])

    def place_of(self, t: float) -> float:
        """Return where a moment (s) lies in the scene, in px."""
        area = self.area()
        return area.left() + (t - self.x[0]) / (self.x[1] - self.x[0]) * area.width()

    def _feed_item(self, part: str, item: Any, t: Array, y: Array) -> None:
        """Feed an item that is empty most of the time; empty it costs nothing."""
        if self._is_new(part, *t.tolist(), *y.tolist()):
            item.setData(t, y)
            item.setVisible(len(t) > 0)

    def _is_new(self, part: str, *content: object) -> bool:
        """Whether a part would be fed something else than the last time."""
        if self._fed.get(part) == content:
            return False
        self._fed[part] = content
        return True


def _uprights(places: Sequence[float], y: Range) -> tuple[Array, Array]:
    return np.repeat(np.asarray(places, float), 2), np.tile(np.asarray(y, float), len(places))


def _see_through(colour: str, alpha: float) -> QColor:
    shade = QColor(colour)
    shade.setAlphaF(alpha)
    return shade
