"""The big figures: temperature and time, legible from under the lift."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from brimline.procedure import facts, gates
from brimline.procedure.reasons import Code
from brimline.procedure.state import BandPlace, CheckState
from brimline.reading import Quality, SignalName
from brimline.session import Snapshot
from brimline.translation import marked, tr
from brimline.ui.tokens import Space, Type
from brimline.ui.widgets.marks import Mark, Shape, set_role
from brimline.units import METRIC, US, UnitSystem, clock, duration

NONE = "—"

_BELOW = (marked("Below band"), Shape.DOWN, "soft")
_INSIDE = (marked("In band"), Shape.DISC, "good")
_NOT_STEADY = (marked("In band, not steady yet"), Shape.HALF, "soft")
_AT_EDGE = (marked("At the edge of the band"), Shape.HALF, "bad")
_ABOVE = (marked("Above band"), Shape.UP, "bad")
_TOO_HOT = (marked("Too hot for the plug"), Shape.UP, "bad")
_UNKNOWN = (marked("Band not known"), Shape.QUESTION, "soft")
_PLACES = (_BELOW, _INSIDE, _NOT_STEADY, _AT_EDGE, _ABOVE, _TOO_HOT, _UNKNOWN)

_FRESH, _NEVER = marked("reading fresh"), marked("no reading yet")
_CUT_OFF = marked("connection lost")
_QUALITIES = {
    Quality.NOT_AVAILABLE: marked("not available"),
    Quality.ERROR: marked("error"),
    Quality.OUT_OF_RANGE: marked("out of range"),
    Quality.IMPLAUSIBLE_STEP: marked("implausible step"),
    Quality.FROZEN: marked("frozen"),
}
"""In two words; the gate's reason says what each means."""

_LONGEST_LOSS = 4 * 3600 + 59 * 60.0
_PLUG_OUT, _TIME = marked("Plug out (min:s)"), marked("Time of check (min:s)")
_PLUG_WORDS = (marked("Plug is in"), marked("Plug is out"))
_ENGINE_OFF, _ENGINE_UNKNOWN = marked("Engine stopped"), marked("Engine not known")


class BigFigures(QWidget):
    """Temperature with its place in the band, the clock, plug and engine in words.

    The least size is measured from the longest texts, so that nothing is ever cut.

    :param orientation: temperature and clock side by side, or one above the other.
    """

    def __init__(
        self,
        units: UnitSystem,
        orientation: Qt.Orientation = Qt.Orientation.Horizontal,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._units = units
        self._snapshot: Snapshot | None = None
        self._heat = _figure(Type.GIANT)
        self._mark = Mark(Shape.QUESTION, Type.TITLE)
        self._place = sized(QLabel(tr(_UNKNOWN[0])), Type.TITLE, bold=True)
        self._fresh = sized(QLabel(tr(_NEVER)), Type.LABEL)
        self._caption = sized(QLabel(tr(_TIME)), Type.LABEL, _ROUND_ABOVE)
        self._clock = _figure(Type.FIGURE, _ROUND_BELOW)
        self._plug = sized(QLabel(), Type.LABEL, _IN_LINE)
        self._engine = sized(QLabel(), Type.LABEL, _IN_LINE)
        across = orientation is Qt.Orientation.Horizontal
        way = QBoxLayout.Direction.LeftToRight if across else QBoxLayout.Direction.TopToBottom
        box = QBoxLayout(way, self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(Space.WIDE if across else Space.MEDIUM)
        box.addLayout(self._left(), 1)
        box.addLayout(self._right())
        self._measure()

    def _left(self) -> QVBoxLayout:
        place = QHBoxLayout()
        place.setSpacing(Space.SMALL)
        place.addWidget(self._mark)
        place.addWidget(self._place, 1)
        column = _column(self._heat)
        column.setAlignment(self._heat, Qt.AlignmentFlag.AlignLeft)
        column.addLayout(place)
        column.addWidget(self._fresh)
        column.addStretch(1)
        return column

    def _right(self) -> QVBoxLayout:
        column = _column(self._caption, self._clock)
        column.addSpacing(Space.SMALL)
        column.addWidget(self._plug)
        column.addWidget(self._engine)
        column.addStretch(1)
        return column

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show a running check."""
        self._snapshot = snapshot
        state = snapshot.state
        self._show_heat(state, cut_off=snapshot.cut_off)
        self._show_place(state)
        self._show_clock(state)
        say(self._plug, tr(_PLUG_WORDS[state.plug_is_out]), "bad" if state.plug_is_out else "")
        stopped = facts.engine_known(state) and not facts.engine_runs(state)
        alarming = stopped and state.plug_is_out
        say(self._engine, _engine_words(state, self._units), "bad" if alarming else "")

    def set_units(self, units: UnitSystem) -> None:
        """Write temperatures in other units."""
        self._units = units
        if self._snapshot is not None:
            self.show_snapshot(self._snapshot)

    def _show_heat(self, state: CheckState, *, cut_off: bool) -> None:
        last = state.temperature.last
        if last is None or last.number is None:
            say(self._heat, NONE, "soft")
        else:
            lost = facts.temperature(state) is None
            text = self._units.temperature(last.number, 1)
            say(self._heat, _bracketed(text) if lost else text, "soft" if lost else "")
        words, role = _freshness(state, cut_off=cut_off)
        say(self._fresh, words, role)

    def _show_place(self, state: CheckState) -> None:
        words, shape, role = _band_place(state)
        say(self._place, tr(words), role)
        self._mark.set_shape(shape)
        set_role(self._mark, role)

    def _show_clock(self, state: CheckState) -> None:
        out = state.plug_is_out
        since = state.plug_spans[-1].since if out else 0.0
        say(self._caption, tr(_PLUG_OUT if out else _TIME), "alarm" if out else "")
        say(self._clock, clock(state.now - since), "alarm" if out else "")

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Measure again where the look has changed."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self._measure()

    def _measure(self) -> None:
        extremes = (-40.0, 150.0, 188.8)
        written = [units.temperature(c, 1) for units in (METRIC, US) for c in extremes]
        losses = [_lost(_LONGEST_LOSS), *map(_unusable, _QUALITIES)]
        engine = [tr(_ENGINE_OFF), tr(_ENGINE_UNKNOWN), _running(self._units.rotation(8888))]
        _room(self._heat, [_bracketed(text) for text in written])
        # It says something else ten times a second; only what is as large as ever lays nothing out.
        self._heat.setFixedSize(self._heat.minimumWidth(), self._heat.sizeHint().height())
        _room(self._place, [tr(words) for words, _, _ in _PLACES])
        _room(self._fresh, [tr(_FRESH), tr(_NEVER), tr(_CUT_OFF), *losses])
        _room(self._caption, [tr(_PLUG_OUT), tr(_TIME)])
        _room(self._clock, ["888:88"])
        _room(self._plug, [tr(words) for words in _PLUG_WORDS])
        _room(self._engine, engine)


_ROUND_ABOVE = (
    f"padding: {Space.TIGHT}px {Space.MEDIUM}px 0 {Space.MEDIUM}px;"
    "border-bottom-left-radius: 0; border-bottom-right-radius: 0;"
)
_ROUND_BELOW = (
    f"padding: 0 {Space.MEDIUM}px {Space.TIGHT}px {Space.MEDIUM}px;"
    "border-top-left-radius: 0; border-top-right-radius: 0;"
)
"""Caption and clock stand close together, so that the alarm's ground is one piece."""

_IN_LINE = f"padding: 0 {Space.MEDIUM}px;"


def sized(label: QLabel, size: int, more: str = "", *, bold: bool = False) -> QLabel:
    """Give a label a size: the application's style sheet has one for all, which this overrules."""
    weight = "font-weight: 700;" if bold else ""
    label.setIndent(0)
    label.setStyleSheet(f"QLabel {{ font-size: {size}px; {weight} {more} }}")
    return label


def _figure(size: int, more: str = "") -> QLabel:
    return sized(QLabel(NONE), size, more, bold=True)


def _column(*widgets: QWidget) -> QVBoxLayout:
    column = QVBoxLayout()
    column.setSpacing(0)
    for widget in widgets:
        column.addWidget(widget)
    return column


def say(label: QLabel, text: str, role: str) -> None:
    """Show a text in a role, changing only what is not as it should be."""
    set_role(label, role)
    if label.text() != text:
        label.setText(text)


def _room(label: QLabel, texts: Iterable[str]) -> None:
    """Keep room for the longest of the texts."""
    metrics = bold_metrics(label)
    padding = label.width() - label.contentsRect().width()
    widest = max(metrics.horizontalAdvance(text) for text in texts)
    label.setMinimumWidth(widest + padding + Space.HAIR)


def bold_metrics(label: QLabel) -> QFontMetrics:
    """Return a label's metrics in the bold face that some roles take."""
    label.ensurePolished()
    bold = QFont(label.font())
    bold.setBold(True)
    return QFontMetrics(bold)


def _band_place(state: CheckState) -> tuple[str, Shape, str]:
    """Return where the fluid is, in words, with a shape and a role of the style sheet."""
    celsius, band = facts.temperature(state), state.band
    if celsius is None:
        return _UNKNOWN
    inside = state.temperature.place is BandPlace.INSIDE
    if band.contains(celsius):
        return _INSIDE if inside else _NOT_STEADY
    if celsius > band.limit and band.max_plug_out is not None:
        return _TOO_HOT
    if inside:
        return _AT_EDGE
    return _BELOW if band.low is not None and celsius < band.low else _ABOVE


def _freshness(state: CheckState, *, cut_off: bool) -> tuple[str, str]:
    """Return whether the reading may be trusted, in the words of the gate's reasons.

    :param cut_off: whether the connection is lost; the gate finds that out by the reading's age.
    """
    for reason in gates.readings(state):
        if reason.code is Code.NO_READING:
            return tr(_NEVER), "soft"
        if reason.code is Code.READING_BAD:
            return _unusable(reason.word), "bad"
        if state.temperature.last is not None:
            return _lost(state.now - state.temperature.last.t), "bad"
    if cut_off and facts.is_measured(state, SignalName.FLUID_TEMPERATURE):
        return tr(_CUT_OFF), "bad"
    return tr(_FRESH), "soft"


def _bracketed(text: str) -> str:
    """What was read last and counts no more."""
    return f"({text})"


def _unusable(quality: str) -> str:
    return tr("reading unusable: {why}", why=tr(_QUALITIES[Quality(quality)]))


def _lost(seconds: float) -> str:
    return tr("no reading for {time}", time=duration(seconds))


def _running(speed: str) -> str:
    return tr("Engine runs, {speed}", speed=speed)


def _engine_words(state: CheckState, units: UnitSystem) -> str:
    if not facts.engine_known(state):
        return tr(_ENGINE_UNKNOWN)
    if not facts.engine_runs(state):
        return tr(_ENGINE_OFF)
    rpm = state.engine.rpm
    return tr("Engine runs") if rpm is None else _running(units.rotation(rpm))
