"""The alarms that stand, the most urgent first, each with what to do and where it stands.

Where one stands is said by a word, a symbol and the kind of its frame, never by colour alone, and
nothing blinks (WCAG 2.1, success criterion 2.3.1). Rows keep their places while somebody has a
finger on one, and for a moment afterwards: a list that closes up under a finger would take its
second press for another alarm.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from brimline import prompts, wording
from brimline.procedure import alarms
from brimline.procedure.acknowledging import SINCE, AlarmAcknowledged
from brimline.procedure.names import Alarm
from brimline.procedure.state import AlarmPhase, CheckState, StandingAlarm
from brimline.session import Snapshot
from brimline.translation import joined, tr
from brimline.ui.forms import button, keep_place, label, main_tap
from brimline.ui.hands.held_key import BOUNCE_S
from brimline.ui.hands.one_button import NEW_S
from brimline.ui.model import CheckModel
from brimline.ui.tokens import Space
from brimline.ui.widgets.caution import draw_alert
from brimline.ui.widgets.marks import Shape, draw, set_role
from brimline.units import clock as min_s
from brimline.wording.alarms import PHASES, what_to_do

KEY = "F6"
"""Acknowledges the most urgent; it types nothing and is no key of the one button."""

_SIGN_PX = 34
_PHASE_PX = 130
_NAME_PX = 170

_ROLES = {
    AlarmPhase.UNACKNOWLEDGED: "alarm-new",
    AlarmPhase.ACKNOWLEDGED: "alarm-heard",
    AlarmPhase.RETURNED: "alarm-over",
}
_SHAPES = {AlarmPhase.ACKNOWLEDGED: Shape.CHECK, AlarmPhase.RETURNED: Shape.HALF}


class AlarmRow(QFrame):
    """One alarm.

    :param acknowledge: is called by its button.
    """

    def __init__(self, alarm: Alarm, acknowledge: Callable[[], None]) -> None:
        super().__init__()
        self.alarm = alarm
        self.sign = _Sign()
        self.phase, self.name = label("", "alarm-name"), label("", "alarm-name")
        self.since, self.to_do = label(""), label("", "alarm-name")
        self.acknowledge = _main(acknowledge)
        self.phase.setFixedWidth(_PHASE_PX)
        self.name.setMinimumWidth(_NAME_PX)
        told = QVBoxLayout()
        told.setSpacing(0)
        told.addWidget(self.name)
        told.addWidget(self.since)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.MEDIUM, Space.TIGHT, Space.SMALL, Space.TIGHT)
        row.setSpacing(Space.MEDIUM)
        row.addWidget(self.sign)
        row.addWidget(self.phase)
        row.addLayout(told)
        row.addWidget(self.to_do, 1)
        row.addWidget(self.acknowledge)

    def show_alarm(self, standing: StandingAlarm, state: CheckState, *, first: bool) -> None:
        """Show where it stands and what to do.

        :param first: whether the key acknowledges this one.
        """
        known = state.opened.procedure >= SINCE
        phase = standing.phase
        since = min_s(state.now - standing.since)
        self._dress(phase)
        self._say(
            tr(PHASES[phase]) if known else tr("stands"),
            tr("for {time} (min:s)", time=since) if known else "",
            what_to_do(standing, state),
        )
        self.acknowledge.setText(_words(first=first))
        self.acknowledge.setVisible(not standing.acknowledged)

    def show_ended(self) -> None:
        """Keep the place of one that is normal by now."""
        self._dress(AlarmPhase.RETURNED)
        self._say(tr("ended"), self.since.text(), "")
        self.acknowledge.hide()

    def _say(self, phase: str, since: str, to_do: str) -> None:
        name = tr(wording.ALARMS[self.alarm])
        shown = ((self.phase, phase), (self.name, name), (self.since, since), (self.to_do, to_do))
        for where, text in shown:
            if where.text() != text:
                where.setText(text)
        self.setAccessibleName(joined((f"{name}: {phase}", to_do), ". "))

    def _dress(self, phase: AlarmPhase) -> None:
        self.sign.show_shape(_SHAPES.get(phase))
        if self.property("role") != _ROLES[phase]:
            set_role(self, _ROLES[phase])
            for child in self.findChildren(QLabel):  # coloured by the frame's role
                child.style().unpolish(child)
                child.style().polish(child)


class AlarmList(QFrame):
    """All alarms that are not normal; hidden while there is none.

    :param clock: in s, monotonic, of whoever presses.
    """

    def __init__(self, model: CheckModel, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self.model, self.clock = model, clock
        self.rows = {alarm: AlarmRow(alarm, self._acknowledger(alarm)) for alarm in alarms.URGENCY}
        self.order: list[Alarm] = []
        """The alarms in the order in which their rows stand."""
        self._standing: tuple[StandingAlarm, ...] = ()
        self._seen: dict[tuple[Alarm, float], float] = {}
        self._keep_until = 0.0
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(Space.TIGHT)
        for row in self.rows.values():
            self._column.addWidget(row)
            row.hide()
            row.acknowledge.released.connect(self._keep)
        self.hide()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show a running check; in older records an alarm stands while its condition does."""
        state = snapshot.state
        self._standing = prompts.standing(state)
        now = self.clock()
        keys = [(each.alarm, each.since) for each in self._standing]
        self._seen = {key: self._seen.get(key, now) for key in keys}
        by_alarm = {each.alarm: each for each in self._standing}
        self._put_in_order(list(by_alarm), now)
        first = self._first()
        for alarm in self.order:
            if alarm in by_alarm:
                is_first = first is by_alarm[alarm]
                self.rows[alarm].show_alarm(by_alarm[alarm], state, first=is_first)
            else:
                self.rows[alarm].show_ended()
        for alarm, row in self.rows.items():
            row.setVisible(alarm in self.order)
        self.setVisible(bool(self.order))

    def words(self) -> str:
        """Return what the rows say, from the top."""
        return "\n".join(self.rows[alarm].accessibleName() for alarm in self.order)

    def acknowledge_first(self) -> None:
        """Acknowledge the most urgent; not one that has only just come, which nobody has read."""
        first = self._first()
        if first is None:
            return
        if self.clock() >= self._seen.get((first.alarm, first.since), self.clock()) + NEW_S:
            self._acknowledge(first.alarm)

    def _first(self) -> StandingAlarm | None:
        return next((each for each in self._standing if not each.acknowledged), None)

    def _put_in_order(self, wanted: list[Alarm], now: float) -> None:
        """Rows that somebody may be about to press stay where they are; new ones come below."""
        pressed = any(row.acknowledge.isDown() for row in self.rows.values())
        if pressed or now < self._keep_until:
            wanted = [*self.order, *(alarm for alarm in wanted if alarm not in self.order)]
        if wanted == self.order:
            return
        self.order = wanted
        for at, alarm in enumerate(wanted):
            self._column.removeWidget(self.rows[alarm])
            self._column.insertWidget(at, self.rows[alarm])

    def _keep(self) -> None:
        self._keep_until = self.clock() + BOUNCE_S

    def _acknowledger(self, alarm: Alarm) -> Callable[[], None]:
        return lambda: self._acknowledge(alarm)

    def _acknowledge(self, alarm: Alarm) -> None:
        """The keyboard goes to no other button when this one goes."""
        self._keep()
        if self.rows[alarm].acknowledge.hasFocus():
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.model.tap(AlarmAcknowledged, alarm=alarm)


class _Sign(QLabel):
    """The symbol of where an alarm stands; a label, so that the style sheet colours it."""

    def __init__(self) -> None:
        super().__init__()
        self._shape: Shape | None = None
        self.setFixedSize(QSize(_SIGN_PX, _SIGN_PX))

    def show_shape(self, shape: Shape | None) -> None:
        """Show another one; ``None`` is the alert symbol."""
        if shape is not self._shape:
            self._shape = shape
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink, box = self.palette().windowText().color(), QRectF(self.rect())
        if self._shape is None:
            draw_alert(painter, box, ink, self.palette().window().color())
        else:
            draw(painter, self._shape, box.adjusted(3, 3, -3, -3), ink)
        painter.end()


def _words(*, first: bool) -> str:
    return tr("Acknowledge ({key})", key=KEY) if first else tr("Acknowledge")


def _main(pressed: Callable[[], None]) -> QPushButton:
    """Return a button that keeps its place and width, whatever it says and while it is gone."""
    made = main_tap(button(_words(first=True), pressed))
    keep_place(made)
    made.ensurePolished()
    made.setMinimumWidth(made.sizeHint().width())
    return made
