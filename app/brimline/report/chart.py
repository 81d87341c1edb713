"""The temperature chart as vector graphics, legible without colour."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.graphics.shapes import Circle, Drawing, Line, PolyLine, Rect, String
from reportlab.lib.colors import Color, HexColor, white
from reportlab.pdfbase.pdfmetrics import stringWidth

from brimline.report import axis, fonts
from brimline.report.axis import Axis, Spot
from brimline.report.summary import Chart, Span

INK = HexColor(0x1B1F24)
QUIET = HexColor(0x5A636E)
GRID = HexColor(0xE3E6EA)
BAND = HexColor(0xD3E3F1)
HATCHING = HexColor(0x9AA3AD)
BAND_EDGE = HexColor(0x2F6593)

_LEFT, _RIGHT, _BOTTOM, _TOP = 30.0, 66.0, 32.0, 28.0
_SMALL, _LEADING = 8.0, 9.5
_COLUMN = 0.75  # pt; finer than an office printer's dots show in a line of this width
_HATCH = 6.0  # pt between two lines
_NARROWEST_SPAN = 4.0  # pt, so that a short stretch can still be seen
_NARROWEST_SCALE = 10.0  # degrees, so that jitter does not look like a journey


def draw(chart: Chart, width: float, height: float) -> Drawing:
    """Return the chart as a drawing of ``width`` × ``height`` points.

    :param width: at least 250; ``height`` at least 120, so that the labels find room.
    """
    fonts.load()
    drawing = Drawing(width, height, initialFontName=fonts.REGULAR)
    across = Axis(0.0, chart.last_minute * 1.015, _LEFT, width - _LEFT - _RIGHT)
    low, high = axis.rounded_out(_temperatures(chart), 6, _NARROWEST_SCALE)
    upward = Axis(low, high, _BOTTOM, height - _BOTTOM - _TOP)
    canvas = _Canvas(drawing, across, upward)
    canvas.band(chart)
    canvas.grid()
    for span in chart.plug_out:
        canvas.hatched(span)
    canvas.limit(chart)
    canvas.frame()
    canvas.plug_labels(chart)
    canvas.side_labels(chart)
    canvas.trace(chart)
    canvas.titles(chart)
    return drawing


def _temperatures(chart: Chart) -> Iterator[float]:
    for segment in chart.segments:
        yield from (point.degrees for point in segment.points)
    yield from (edge for edge in (chart.low, chart.high, chart.limit) if edge is not None)


class _Canvas:
    """The drawing with its two axes; each method draws one layer."""

    def __init__(self, drawing: Drawing, across: Axis, upward: Axis) -> None:
        self._drawing = drawing
        self._x = across
        self._y = upward
        self._right = across.start + across.length
        self._top = upward.start + upward.length

    def band(self, chart: Chart) -> None:
        low = self._y.start if chart.low is None else self._y.place(chart.low)
        upper = chart.limit if chart.high is None else chart.high
        high = self._top if upper is None else self._y.place(upper)
        self._add(
            Rect(self._x.start, low, self._x.length, high - low, fillColor=BAND, strokeColor=None)
        )
        for edge in (chart.low, chart.high):
            if edge is not None:
                self._across(self._y.place(edge), BAND_EDGE, 0.8)

    def grid(self) -> None:
        for value in self._y.ticks(6):
            y = self._y.place(value)
            self._across(y, GRID, 0.4)
            self._line((self._x.start - 3, y), (self._x.start, y), QUIET, 0.6)
            self._text(self._x.start - 6, y - 2.8, axis.label(value), "end")
        for value in self._x.ticks(9):
            x = self._x.place(value)
            self._line((x, self._y.start - 3), (x, self._y.start), QUIET, 0.6)
            self._text(x, self._y.start - 12, axis.label(value), "middle")

    def hatched(self, span: Span) -> None:
        left, right = self._edges(span)
        height = self._top - self._y.start
        offset = left - height
        while offset < right:
            start, end = max(offset, left), min(offset + height, right)
            if end > start:
                bottom = self._y.start + start - offset
                self._line((start, bottom), (end, bottom + end - start), HATCHING, 0.5)
            offset += _HATCH
        for x in (left, right):
            self._line((x, self._y.start), (x, self._top), INK, 0.7)

    def limit(self, chart: Chart) -> None:
        if chart.limit is not None:
            line = self._across(self._y.place(chart.limit), INK, 1.0)
            line.strokeDashArray = [4, 3]

    def frame(self) -> None:
        self._line((self._x.start, self._y.start), (self._right, self._y.start), QUIET, 0.8)
        self._line((self._x.start, self._y.start), (self._x.start, self._top), QUIET, 0.8)

    def trace(self, chart: Chart) -> None:
        for segment in chart.segments:
            spots = [(self._x.place(p.minute), self._y.place(p.degrees)) for p in segment.points]
            thin = axis.thinned(spots, _COLUMN)
            if len(thin) > 1:
                flat = [round(number, 2) for spot in thin for number in spot]
                # A white line below keeps the trace apart from the hatching.
                self._add(PolyLine(flat, strokeColor=white, strokeWidth=3.2, strokeLineJoin=1))
                self._add(PolyLine(flat, strokeColor=INK, strokeWidth=1.5, strokeLineJoin=1))
            if segment.keyed or len(thin) == 1:
                for x, y in thin:
                    self._add(Circle(x, y, 1.9, fillColor=INK, strokeColor=None))
        if chart.closing is not None:
            x, y = self._x.place(chart.closing.minute), self._y.place(chart.closing.degrees)
            self._add(Circle(x, y, 3.6, fillColor=white, strokeColor=INK, strokeWidth=1.5))

    def plug_labels(self, chart: Chart) -> None:
        free_from = self._x.start
        half = stringWidth(chart.plug_out_label, fonts.BOLD, _SMALL) / 2
        for span in chart.plug_out:
            left, right = self._edges(span)
            middle = min(max((left + right) / 2, self._x.start + half), self._right - half)
            if middle - half >= free_from:
                self._text(middle, self._top + 5, chart.plug_out_label, "middle", bold=True)
                free_from = middle + half + 4

    def side_labels(self, chart: Chart) -> None:
        x = self._right + 6
        low = self._y.start if chart.low is None else self._y.place(chart.low)
        upper = chart.limit if chart.high is None else chart.high
        high = self._top if upper is None else self._y.place(upper)
        tall = len(chart.band_label) * _LEADING
        top = (low + high) / 2 + tall / 2
        if chart.limit is not None:
            line = self._y.place(chart.limit)
            above = max(line + len(chart.limit_label) * _LEADING / 2, line + _LEADING)
            self._lines(x, above, chart.limit_label, INK)
            top = min(top, above - len(chart.limit_label) * _LEADING - 2)
        self._lines(x, top, chart.band_label, BAND_EDGE)

    def titles(self, chart: Chart) -> None:
        centre = self._x.start + self._x.length / 2
        self._text(centre, self._y.start - 26, chart.time_title, "middle", QUIET)
        self._text(0, self._top + 18, chart.temperature_title, "start", QUIET)

    def _edges(self, span: Span) -> tuple[float, float]:
        left, right = self._x.place(span.start), self._x.place(span.end)
        spare = max(0.0, _NARROWEST_SPAN - (right - left)) / 2
        return max(left - spare, self._x.start), min(right + spare, self._right)

    def _lines(self, x: float, top: float, lines: tuple[str, ...], colour: Color) -> None:
        for number, words in enumerate(lines):
            y = top - (number + 1) * _LEADING + 2
            self._text(x, y, words, "start", colour, bold=number == 0)

    def _across(self, y: float, colour: Color, width: float) -> Line:
        return self._line((self._x.start, y), (self._right, y), colour, width)

    def _line(self, start: Spot, end: Spot, colour: Color, width: float) -> Line:
        line = Line(*start, *end, strokeColor=colour, strokeWidth=width)
        self._add(line)
        return line

    def _text(
        self,
        x: float,
        y: float,
        words: str,
        anchor: str,
        colour: Color = INK,
        *,
        bold: bool = False,
    ) -> None:
        font = fonts.BOLD if bold else fonts.REGULAR
        text = String(x, y, words, fontName=font, fontSize=_SMALL, fillColor=colour)
        text.textAnchor = anchor
        self._add(text)

    def _add(self, shape: object) -> None:
        self._drawing.add(shape)
