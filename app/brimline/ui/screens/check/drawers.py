"""What is asked beside the page, never in a dialog over the chart: override, abort, hand-over."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout

from brimline import wording
from brimline.estimate.level_words import misset_words
from brimline.procedure import events as ev
from brimline.procedure.gates import Gate, reasons
from brimline.procedure.reasons import BAND_EDGES, Code, Reason
from brimline.procedure.state import CheckState
from brimline.translation import name_of, tr
from brimline.ui.forms import TickBox, button, form, label, main_tap
from brimline.ui.model import CheckModel
from brimline.ui.tokens import Space
from brimline.ui.widgets.facts import FactsAsked


class Drawer(QFrame):
    """A frame with a question, shown until it is answered or put away.

    One that is ``across`` stands under all columns instead of in one, with all that it asks side by
    side: with large answers it would push the chart out of sight there.
    """

    across = False

    def __init__(self, title: str, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self.model = model
        self._done = done
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(Space.LARGE, Space.MEDIUM, Space.LARGE, Space.MEDIUM)
        self.column.setSpacing(Space.SMALL)
        self.title = label(title, "heading")
        self.column.addWidget(self.title)

    def show_state(self, state: CheckState) -> None:
        """Keep what is asked true while the check goes on."""

    def finish(self, text: str, tap: Callable[[], bool], role: str) -> None:
        """Put the two buttons under the questions."""
        row = QHBoxLayout()
        row.setSpacing(Space.SMALL)
        row.addWidget(button(text, lambda: self._done() if tap() else None, role), 2)
        row.addWidget(main_tap(button(tr("Back"), self._done)), 1)
        self.column.addLayout(row)
        self.column.addStretch(1)


class OverrideDrawer(Drawer):
    """Opens a gate against one reason."""

    def __init__(self, reason: Reason, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__(tr("Go on against this reason"), model, done)
        self._reason = reason
        self._sentence = label(wording.sentence(reason, model.units))
        self.column.addWidget(self._sentence)
        self._effect = label("", "bad")
        self.column.addWidget(self._effect)
        self.why = QLineEdit()
        self.column.addWidget(form((tr("Why"), self.why)))
        self.column.addWidget(label(tr("It goes on the record with your name."), "soft"))
        self.finish(tr("Override"), self._override, "stop")

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

    across = True

    def __init__(self, model: CheckModel, done: Callable[[], None]) -> None:
        super().__init__(tr("Stop this check"), model, done)
        self.why = QLineEdit()
        self.stays_out = TickBox(tr("The plug stays out"))
        self.stop = button(tr("Stop the check"), self._stop, "stop")
        asked = QHBoxLayout()
        asked.setSpacing(Space.WIDE)
        asked.addWidget(form((tr("Why"), self.why)), 1, Qt.AlignmentFlag.AlignVCenter)
        asked.addWidget(self.stays_out)
        asked.addWidget(self.stop)
        asked.addWidget(main_tap(button(tr("Back"), done)))
        self.column.addLayout(asked)
        self.why.returnPressed.connect(self._go_on)
        self.show_state(model.state)

    def show_state(self, state: CheckState) -> None:
        """Whether the plug stays out is asked only while it is out."""
        self.stays_out.setVisible(state.plug_is_out)
        if not state.plug_is_out:
            self.stays_out.setChecked(False)

    def _go_on(self) -> None:
        """Enter leads on to what is still asked; it never ends a check by itself."""
        after = self.stays_out if self.stays_out.isVisible() else self.stop
        after.setFocus(Qt.FocusReason.TabFocusReason)

    def _stop(self) -> None:
        if self.model.tap(
            ev.CheckAborted,
            reason=self.why.text().strip(),
            plug_left_out=self.stays_out.isChecked(),
        ):
            self._done()


class HandOverDrawer(Drawer):
    """Another technician takes over and confirms the two facts that matter, as after a crash.

    Whoever has the check by now stands beside the field for the other's name: the record has both.
    """

    across = True

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
        self.column.addWidget(
            label(tr("The check stops here. The vehicle must not be lowered or driven."), "bad")
        )
        self.note = QLineEdit()
        self.column.addWidget(form((tr("Note"), self.note)))
        self.finish(tr("It is stripped: stop the check"), self._stripped, "stop")

    def _stripped(self) -> bool:
        return self.model.tap(ev.PlugStripped, note=self.note.text().strip())
