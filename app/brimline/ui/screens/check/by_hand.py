"""What the vehicle does not tell, at hand all through a check: keyed readings, engine, selector.

It stands under page and chart and never over them, so that it can be reached with the plug out.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from brimline.errors import BrimlineError
from brimline.estimate.keyed import KeyedDoubt
from brimline.procedure import events as ev
from brimline.procedure import facts
from brimline.procedure.state import CheckState, Stage
from brimline.reading import SignalName, Way
from brimline.session import Snapshot
from brimline.translation import tr
from brimline.ui.forms import button, label, main_tap
from brimline.ui.hints import hint, such_as, written
from brimline.ui.model import CheckModel
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import set_role
from brimline.units import Dimension, UnitSystem, duration

SOON_S = 15.0
"""With so little time left the countdown is marked."""

_ON_THE_GROUND = (Stage.IDENTIFY, Stage.FLUID, Stage.SENSOR, Stage.PRECONDITION)
"""Their pages ask for engine and selector themselves."""

_FIELD_PX = 116


class ByHandStrip(QFrame):
    """Keyed temperature with its countdown, and by tap what else is not measured."""

    def __init__(self, model: CheckModel) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self.model = model
        units = model.units
        warm, idle = 58, 650  # °C and rpm, of an example
        self.temperature = _field(
            written(warm, Dimension.TEMPERATURE, units), tr("Fluid temperature")
        )
        self.temperature.returnPressed.connect(self.take)
        self._asked = ""  # the text that a question is about
        self.due = label("", "soft")
        self.heat = _row(
            _named(tr("Fluid temperature"), self.temperature),
            self.temperature,
            main_tap(button(tr("Take"), self.take)),
            self.due,
            stretched=self.due,
        )
        self.rpm = _field(written(idle, Dimension.ROTATION, units), tr("Idle speed"))
        self.rpm.returnPressed.connect(self._note_rpm)
        self.rotation = _row(
            _named(tr("Idle speed"), self.rpm), self.rpm, button(tr("Note it"), self._note_rpm)
        )
        self.stopped = main_tap(button(tr("Engine stopped"), lambda: model.tap(ev.EngineStopped)))
        self.started = main_tap(button(tr("Engine runs"), lambda: model.tap(ev.EngineStarted)))
        self.park = main_tap(
            button(tr("Selector is in P"), lambda: model.tap(ev.RangeSelected, range="P"))
        )
        self.said = label("", "bad")
        self.question = _Question(self._keep, self._again)
        self.temperature.textEdited.connect(lambda _text: self.question.hide())
        self._lay_out()
        self.say("")

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(Space.LARGE, Space.SMALL, Space.LARGE, Space.SMALL)
        column.setSpacing(Space.TIGHT)
        row = QHBoxLayout()
        row.setSpacing(Space.SMALL)
        row.addWidget(self.heat, 1)
        for made in (self.rotation, self.stopped, self.started, self.park):
            row.addWidget(made)
        column.addLayout(row)
        column.addWidget(self.said)
        column.addWidget(self.question)

    def say(self, sentence: str) -> None:
        """Show why what was typed cannot be; an empty sentence takes it away."""
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))

    def take(self) -> None:
        """Take the temperature that is typed, or ask about it first."""
        self._take(self.temperature.text(), keep=False)

    def _take(self, typed: str, *, keep: bool) -> None:
        self.say("")
        self.question.hide()
        if not typed.strip():
            self.say(tr("Type the temperature that the instrument shows."))
            return
        try:
            doubt = self.model.key_temperature(typed, keep=keep)
        except BrimlineError as error:
            self.say(error.sentence)
            self.temperature.selectAll()
            return
        if doubt is None:
            self.temperature.clear()
            return
        self._asked = typed
        self.question.ask(doubt, self.model.units)

    def _keep(self) -> None:
        self._take(self._asked, keep=True)
        self.temperature.setFocus()

    def _again(self) -> None:
        self.question.hide()
        self.temperature.clear()
        self.temperature.setFocus()

    def _note_rpm(self) -> None:
        self.say("")
        try:
            self.model.key_engine_speed(self.rpm.text())
        except BrimlineError as error:
            self.say(error.sentence)
            return
        self.rpm.clear()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Offer what the vehicle does not tell, while the check can use it."""
        state = snapshot.state
        over = state.end is not None or state.aborted is not None or state.closed is not None
        heat = not over and not facts.is_measured(state, SignalName.FLUID_TEMPERATURE)
        lifted = not over and state.stage not in _ON_THE_GROUND
        engine = lifted and not facts.is_measured(state, SignalName.ENGINE_SPEED)
        runs = state.engine.running_since is not None
        selector = lifted and not facts.is_measured(state, SignalName.RANGE)
        self.heat.setVisible(heat)
        self.rotation.setVisible(engine and runs)
        self.stopped.setVisible(engine and runs)
        self.started.setVisible(engine and not runs)
        self.park.setVisible(selector and not facts.in_park(state))
        self.setVisible(heat or engine or self.park.isVisibleTo(self))
        if not heat:
            self.question.hide()
        words, role = due_words(state)
        set_role(self.due, role)
        if self.due.text() != words:
            self.due.setText(words)


class _Question(QWidget):
    """Whether a value that fluid hardly reaches was read so."""

    def __init__(self, keep: Callable[[], None], again: Callable[[], None]) -> None:
        super().__init__()
        self.words = label("", "heading")
        self.keep = button(tr("Keep"), keep)
        self.again = button(tr("Type again"), again)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(Space.SMALL)
        self.words.setWordWrap(False)
        row.addWidget(self.words)
        row.addWidget(self.again)
        row.addWidget(self.keep)
        row.addStretch(1)
        self.hide()

    def ask(self, doubt: KeyedDoubt, units: UnitSystem) -> None:
        """Ask; the keyboard goes to the answer that takes nothing."""
        self.words.setText(doubt_words(doubt, units))
        self.show()
        self.again.setFocus()


def doubt_words(doubt: KeyedDoubt, units: UnitSystem) -> str:
    """Return the question, such as “58 °C to 95 °C in 10 s: keep it?”."""
    before, after = units.temperature(doubt.before), units.temperature(doubt.after)
    time = duration(doubt.elapsed)
    return tr("{before} to {after} in {time}: keep it?", before=before, after=after, time=time)


def due_words(state: CheckState) -> tuple[str, str]:
    """Return when the next keyed temperature is due, and its role in the style sheet."""
    last, lost_at = state.temperature.last, facts.temperature_lost_at(state)
    if last is None or lost_at is None or last.way is not Way.KEYED:
        return tr("no reading yet: type one"), "soft" if last is None else "bad"
    left = lost_at - state.now
    if left <= 0:
        return tr("too old: read again"), "bad"
    words = tr("next reading due in {time}", time=duration(left))
    return words, "bad" if left <= SOON_S else "soft"


def _field(example: str, name: str) -> QLineEdit:
    field = QLineEdit()
    hint(field, such_as(example))
    field.setAccessibleName(name)
    field.setFixedWidth(_FIELD_PX)
    return field


def _named(text: str, field: QLineEdit) -> QLabel:
    named = label(text, "heading")
    named.setWordWrap(False)
    named.setBuddy(field)
    return named


def _row(*widgets: QWidget, stretched: QWidget | None = None) -> QWidget:
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(Space.SMALL)
    for widget in widgets:
        row.addWidget(widget, int(widget is stretched))
    return holder
