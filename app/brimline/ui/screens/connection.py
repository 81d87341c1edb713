"""How this computer is connected with a vehicle's bus: choose, try, keep."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from brimline.errors import BrimlineError
from brimline.translation import marked, tr
from brimline.ui.forms import button, label, panel, scrolled
from brimline.ui.poller import Poller
from brimline.ui.ports.services import BusServices, ConnectionChoice, LookState, TryState
from brimline.ui.screens.connection_form import ConnectionForm
from brimline.ui.tokens import Space
from brimline.ui.widgets.marks import set_role

NO_FLUID = marked(
    "Generic OBD carries no transmission-fluid temperature. It comes from the maker's identifier "
    "in the spec sheet's signal map, from a J1939 broadcast, or it is keyed from an instrument."
)
BIT_RATE = marked(
    "A wrong bit rate disturbs a live bus. Listen first, and try with the vehicle standing, "
    "ignition on."
)
NOT_TRIED = marked("Not tried yet: press “Try it” with the ignition on.")
CHOOSE_KIND = marked("Choose the kind of adapter first.")


class ConnectionScreen(QWidget):
    """What is chosen on the left, what came of trying it on the right.

    :param back: leads to the first screen; ``find`` to listening for the temperature.
    :param clock: time in s, monotonic.
    """

    def __init__(
        self,
        bus: BusServices,
        back: Callable[[], None],
        find: Callable[[ConnectionChoice], None],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        super().__init__()
        self._bus, self._back, self._find_with = bus, back, find
        self._look = Poller[LookState](clock, self._show_look, self)
        self._trial = Poller[TryState](clock, self._show_trial, self)
        self.form = ConnectionForm(bus.kinds(), self.look_again)
        self.form.show_choice(bus.connection())
        self.form.changed.connect(self._forget_trial)
        self.go = button(tr("Try it"), self.try_it, "next")
        self.cancel = button(tr("Stop trying"), self.stop_trying)
        self.result = label(tr(NOT_TRIED), "heading")
        self.details = label("", "soft")
        self.units = label("")
        self.said = label("", "bad")
        self.save = button(tr("Save"), self._save)
        self.find_button = button(tr("Find the temperature…"), self._find)
        self.leave = button(tr("Back"), self._leave)
        row = QHBoxLayout(self)
        row.setContentsMargins(Space.WIDE, Space.LARGE, Space.WIDE, Space.LARGE)
        row.setSpacing(Space.WIDE)
        row.addWidget(self._left())
        row.addLayout(self._right(), 1)
        self._show_busy()
        self.look_again()

    def _left(self) -> QWidget:
        holder = panel(label(tr("Connection to the vehicle's bus"), "title"))
        holder.setFixedWidth(520)
        column = holder.layout()
        assert isinstance(column, QVBoxLayout)
        self.said.hide()
        column.addWidget(scrolled(self.form, self.said), 1)
        row = QHBoxLayout()
        row.setSpacing(Space.SMALL)
        row.addWidget(self.leave, 1)
        row.addWidget(self.save, 1)
        column.addLayout(row)
        return holder

    def _right(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setSpacing(Space.LARGE)
        trial = QFrame()
        trial.setProperty("role", "panel")
        inside = QVBoxLayout(trial)
        inside.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        inside.setSpacing(Space.SMALL)
        inside.addWidget(label(tr("Does it work?"), "title"))
        inside.addWidget(label(tr(BIT_RATE), "soft"))
        inside.addWidget(self.go)
        inside.addWidget(self.cancel)
        inside.addWidget(self.result)
        inside.addWidget(scrolled(self.units, self.details), 1)
        column.addWidget(trial, 1)
        column.addWidget(
            panel(
                label(tr("The fluid temperature"), "heading"), label(tr(NO_FLUID)), self.find_button
            )
        )
        return column

    def look_again(self) -> None:
        """Search for adapters that are plugged in."""
        self._look.begin(self._bus.look())

    def _show_look(self, state: LookState) -> None:
        self.form.show_found(state)

    def try_it(self) -> None:
        """Try what is chosen, without waiting for it."""
        choice = self._chosen()
        if choice is None:
            return
        try:
            self._trial.begin(self._bus.try_it(choice))
        except BrimlineError as error:
            self._show_trial(TryState(True, error.sentence))
        self._show_busy()

    def _chosen(self) -> ConnectionChoice | None:
        """Return what is chosen; where it is nothing yet, say so."""
        self._say("")
        try:
            choice = self.form.choice()
        except BrimlineError as error:
            self._say(error.sentence)
            return None
        if choice.is_chosen:
            return choice
        self._say(tr(CHOOSE_KIND))
        return None

    def stop_trying(self) -> None:
        """Give the trial up."""
        self._trial.cancel()
        self._show_result(TryState(True, tr("Stopped before there was a result.")), "")
        self._show_busy()

    def _show_trial(self, state: TryState) -> None:
        role = ("good" if state.works else "bad") if state.done else "heading"
        self._show_result(state, role)
        self._show_busy()

    def _show_result(self, state: TryState, role: str) -> None:
        set_role(self.result, role or "heading")
        for shown, text in (
            (self.result, state.sentence),
            (self.units, "\n".join(state.units)),
            (self.details, "\n".join(state.details)),
        ):
            if shown.text() != text:
                shown.setText(text)
            shown.setVisible(bool(text))

    def _forget_trial(self) -> None:
        """What was tried is no longer what is chosen."""
        self._trial.cancel()
        self._show_result(TryState(True, tr(NOT_TRIED)), "")
        self._say("")
        self._show_busy()

    def _show_busy(self) -> None:
        busy = self._trial.is_busy
        self.go.setVisible(not busy)
        self.cancel.setVisible(busy)
        self.form.setEnabled(not busy)
        for made in (self.save, self.find_button):
            made.setEnabled(not busy)

    def _save(self) -> None:
        try:
            self._bus.save(self.form.choice())
        except BrimlineError as error:
            self._say(error.sentence)
            return
        self._leave()

    def _find(self) -> None:
        choice = self._chosen()
        if choice is None:
            return
        self.stop()
        self._find_with(choice)

    def _leave(self) -> None:
        self.stop()
        self._back()

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))

    def stop(self) -> None:
        """Give up whatever is under way."""
        self._look.cancel()
        self._trial.cancel()
