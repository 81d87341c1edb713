"""What is asked under the page, never in a dialog over the chart: override, abort, hand-over."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from brimline import wording
from brimline.estimate.level_words import misset_words
from brimline.procedure import events as ev
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.reasons import BAND_EDGES, Code, Reason
from brimline.procedure.state import CheckState
from brimline.translation import name_of, tr
from brimline.ui.forms import TickBox, button, form, label, main_tap
from brimline.ui.hints import hint
from brimline.ui.model import CheckModel
from brimline.ui.tokens import Space
from brimline.ui.widgets.facts import FactsAsked


class Drawer(QFrame):
    """A frame with a question, shown until it is answered or put away.

    It stands under all columns, with what it asks side by side: in one of them large answers would
    push the chart out of sight, or lie out of sight themselves.
    """

    def __init__(self, title: str, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self.model = model
        self._done = done
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        self.column.setSpacing(Space.SMALL)
        self.title = label(title, "heading")
        self.words = QVBoxLayout()
        self.words.setSpacing(Space.TIGHT)
        self.words.addWidget(self.title)
        self._row = QHBoxLayout()
        self._row.setSpacing(Space.WIDE)
        self._row.addLayout(self.words, 1)
        self.column.addLayout(self._row)

    def show_state(self, state: CheckState) -> None:
        """Keep what is asked true while the check goes on."""

    def ask(self, name: str, field: QLineEdit, *answers: QWidget) -> None:
        """Ask for a person's words beside the drawer's own, with the answers and the way back;
        Enter leads on to the first answer that is shown, and never presses it.
        """
        self.words.addStretch(1)
        for each in (*answers, main_tap(button(tr("Back"), self._done))):
            self._row.addWidget(each)
        self._row.insertWidget(1, form((name, field)), 1, Qt.AlignmentFlag.AlignVCenter)
        field.returnPressed.connect(lambda: _go_on(answers))

    def answer(self, text: str, tap: Callable[[], bool]) -> QPushButton:
        """Return a button that puts the question away once its tap is taken."""
        return button(text, lambda: self._done() if tap() else None, "stop")


def _go_on(answers: Sequence[QWidget]) -> None:
    shown = next(each for each in answers if each.isVisible())
    shown.setFocus(Qt.FocusReason.TabFocusReason)


class OverrideDrawer(Drawer):
    """Opens a gate against one reason."""

    def __init__(self, reason: Reason, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__(tr("Go on against this reason"), model, done)
        self._reason = reason
        self._sentence = label(wording.sentence(reason, model.units))
        self.words.addWidget(self._sentence)
        self._effect = label("", "bad")
        self.words.addWidget(self._effect)
        self.why = QLineEdit()
        hint(self.why, tr("It goes on the record with your name."))
        self.ask(tr("Why"), self.why, self.answer(tr("Override"), self._override))

    def show_state(self, state: CheckState) -> None:
        """The number that is overridden is the one of now; a reason that is gone is no question."""
        standing = {r.key: r for r in reasons(Gate.PLUG_OUT, state)}
        now = standing.get(self._reason.key)
        gone = tr("This no longer stands against taking the plug out.")
        self._sentence.setText(gone if now is None else wording.sentence(now, self.model.units))
        outside = now is not None and now.code in BAND_EDGES
        effect = misset_words(state, self.model.units) if outside else ""
        self._effect.setText(effect)
        self._effect.setVisible(bool(effect))

    def _override(self) -> bool:
        return self.model.tap(
            ev.GateOverridden,
            code=self._reason.code,
            word=self._reason.word,
            reason=self.why.text().strip(),
            by=self.model.state.technician,
        )


class AbortDrawer(Drawer):
    """Ends the check where it stands."""

    def __init__(self, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__(tr("Stop this check"), model, done)
        self.why = QLineEdit()
        self.stays_out = TickBox(tr("The plug stays out"))
        self.stop = self.answer(tr("Stop the check"), self._stop)
        self.ask(tr("Why"), self.why, self.stays_out, self.stop)
        self.show_state(model.state)

    def show_state(self, state: CheckState) -> None:
        """Whether the plug stays out is asked only while it is out."""
        self.stays_out.setVisible(state.plug_is_out)
        if not state.plug_is_out:
            self.stays_out.setChecked(False)

    def _stop(self) -> bool:
        return self.model.tap(
            ev.CheckAborted,
            reason=self.why.text().strip(),
            plug_left_out=self.stays_out.isChecked(),
        )


class HandOverDrawer(Drawer):
    """Another technician takes over and confirms the two facts that matter, as after a crash.

    Whoever has the check by now stands beside the field for the other's name: the record has both.
    """

    def __init__(self, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__(tr("Hand this check over"), model, done)
        self.to = QLineEdit()
        self.facts = FactsAsked()
        whom = tr("From {name} to", name=name_of(model.state.technician))
        who, said = QHBoxLayout(), QHBoxLayout()
        who.setSpacing(Space.WIDE)
        who.addWidget(self.title, 2)
        who.addWidget(form((whom, self.to)), 4)
        who.addWidget(self.facts.heading, 3)
        said.setSpacing(Space.WIDE)
        said.addWidget(self.facts, 1)
        said.addWidget(button(tr("Take over"), self._take_over, "next"))
        said.addWidget(main_tap(button(tr("Back"), done)))
        self.column.addLayout(who)
        self.column.addLayout(said)
        self._plug_was = model.state.plug_is_out

    def show_state(self, state: CheckState) -> None:
        """An answer given before the plug came out or went in is asked for again."""
        if state.plug_is_out is not self._plug_was:
            self._plug_was = state.plug_is_out
            self.facts.ask_plug_again()

    def _take_over(self) -> None:
        plug_is_out, engine_runs = self.facts.plug_is_out, self.facts.engine_runs
        if plug_is_out is None or engine_runs is None:
            self.model.refused.emit((Reason(Code.FACTS_NOT_SAID),))
        elif self.model.tap(
            ev.HandedOver,
            to=self.to.text().strip(),
            plug_is_out=plug_is_out,
            engine_runs=engine_runs,
        ):
            self._done()


class StrippedDrawer(Drawer):
    """Ends the check because the plug will not hold."""

    def __init__(self, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__(tr("The plug's thread is stripped, or it does not seal"), model, done)
        self.words.addWidget(
            label(tr("The check stops here. The vehicle must not be lowered or driven."), "bad")
        )
        self.note = QLineEdit()
        stop = self.answer(tr("It is stripped: stop the check"), self._stripped)
        self.ask(tr("Note"), self.note, stop)

    def _stripped(self) -> bool:
        return self.model.tap(ev.PlugStripped, note=self.note.text().strip())
