"""What the strip chart says of one moment: under the mouse, or where the arrow keys have gone."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QLabel, QWidget

from brimline.procedure.moments import Moment
from brimline.reading import SignalName
from brimline.session import Snapshot
from brimline.trace import Array
from brimline.translation import tr
from brimline.ui.tokens import FAMILY, Palette, Space, Type
from brimline.ui.widgets.chart_ahead import foreseen
from brimline.ui.widgets.chart_scale import Range
from brimline.ui.widgets.chart_told import gaps_of, spans_of, trace_of
from brimline.units import UnitSystem, clock
from brimline.wording.moments import happened

_NEAR_S = 3.0  # a reading that is no farther off is the one of this moment
_MOST_EVENTS = 3
_BESIDE = 14  # px between the mouse and what is said


class ReadOut(QLabel):
    """A few lines beside a point of the chart, never beyond its parent's edges; lets clicks
    through.
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._room = parent
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.hide()

    def set_palette(self, p: Palette) -> None:
        """Take other colours."""
        self.setStyleSheet(
            f"QLabel {{ background: {p.surface}; color: {p.ink}; border: 1px solid {p.ink};"
            f" border-radius: {Space.TIGHT}px; padding: {Space.TIGHT}px {Space.SMALL}px;"
            f" font-family: '{FAMILY}'; font-size: {Type.SMALL}px; }}"
        )

    def say(self, text: str, beside: QPointF) -> None:
        """Show the text beside a point of the parent, in px."""
        if text != self.text():
            self.setText(text)
            self.adjustSize()
        room = self._room.rect()
        x, y = round(beside.x()) + _BESIDE, round(beside.y()) + _BESIDE
        if x + self.width() > room.right():
            x = round(beside.x()) - _BESIDE - self.width()
        y = min(y, room.bottom() - self.height())
        self.move(max(x, room.left()), max(y, room.top()))
        self.show()


def told_at(snapshot: Snapshot, t: float, within: float, units: UnitSystem) -> str:
    """Return what is known of a moment, a line for each thing.

    :param t: in s of the check.
    :param within: what lies no farther away, in s, is of this moment too.
    """
    near = max(_NEAR_S, within)
    lines = [tr("{clock} min:s", clock=clock(max(0.0, t)))]
    if t <= snapshot.state.now:
        celsius = _nearest(*trace_of(snapshot, SignalName.FLUID_TEMPERATURE), t, near)
        rpm = _nearest(*trace_of(snapshot, SignalName.ENGINE_SPEED), t, near)
        lines.append(_read(celsius, units))
        if rpm is not None:
            lines.append(units.rotation(rpm))
    else:
        lines.append(_expected(snapshot, t, units))
    return "\n".join([*lines, *_during(snapshot, t), *_events(snapshot.moments, t, near, units)])


def _read(celsius: float | None, units: UnitSystem) -> str:
    """Only good readings are drawn, so that where there is none nothing is known."""
    if celsius is None:
        return tr("no good reading")
    return tr("{temperature}, good reading", temperature=units.temperature(celsius, 1))


def _expected(snapshot: Snapshot, t: float, units: UnitSystem) -> str:
    course = snapshot.course
    if course is None or not foreseen(snapshot) or not course.times[0] <= t <= course.times[-1]:
        return tr("still to come")
    low, middle, high = (
        units.temperature(float(np.interp(t, course.times, row))) for row in course.quantiles
    )
    return tr("expected {middle} ({low} to {high})", middle=middle, low=low, high=high)


def _during(snapshot: Snapshot, t: float) -> Iterator[str]:
    def inside(spans: list[Range]) -> bool:
        return any(since <= t <= until for since, until in spans)

    if inside(spans_of(snapshot.state)):
        yield tr("Plug is out")
    if inside(gaps_of(snapshot.state)):
        yield tr("Nobody watched")


def _events(
    moments: tuple[Moment, ...], t: float, within: float, units: UnitSystem
) -> Iterator[str]:
    """The latest few near the moment."""
    near = [moment for moment in moments if abs(moment.t - t) <= within]
    for moment in near[-_MOST_EVENTS:]:
        yield tr("{clock}  {event}", clock=clock(moment.t), event=happened(moment, units))


def _nearest(t: Array, y: Array, at: float, within: float) -> float | None:
    """Return the value nearest to a moment; ``None`` where none lies near."""
    first, last = np.searchsorted(t, (at - within, at + within))
    inside = np.isfinite(y[first:last])
    if not inside.any():
        return None
    times, values = t[first:last][inside], y[first:last][inside]
    return float(values[np.abs(times - at).argmin()])
