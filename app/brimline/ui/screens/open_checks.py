"""Checks that were interrupted, before anything else: how plug and engine stood, and what now.

Nothing is done and nothing is answered beforehand. Each check is gone on with or ended, and either
way a person says first what they found at the vehicle.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from brimline import wording
from brimline.errors import BrimlineError
from brimline.procedure.reasons import Code, Reason
from brimline.translation import counted, joined, marked, tr
from brimline.ui.forms import button, form, label, main_tap, scrolled
from brimline.ui.ports.interrupted import Answer, OpenRow
from brimline.ui.ports.services import BeginState
from brimline.ui.tokens import Space
from brimline.ui.widgets.caution import CautionBox
from brimline.ui.widgets.facts import FactsAsked, FactTile
from brimline.units import UnitSystem

STAYS_OUT = marked("Put the plug in and say so, or say that it stays out.")


@dataclass(frozen=True)
class OpenActs:
    """What a card leads to.

    :param go_on: goes on with the check; how that stands is shown on the card.
    :param end: ends it and shows what is still open; raises ``BrimlineError`` with one sentence.
    :param give_up: goes on with nothing after all.
    """

    go_on: Callable[[Answer], None]
    end: Callable[[Answer, str], None]
    give_up: Callable[[], None]


class OpenCard(QFrame):
    """One interrupted check, large, with its two questions."""

    def __init__(self, row: OpenRow, units: UnitSystem, acts: OpenActs) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self.row, self._units, self._acts = row, units, acts
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(Space.LARGE, Space.LARGE, Space.LARGE, Space.LARGE)
        self._column.setSpacing(Space.MEDIUM)
        self._tell()
        self.go_on = button(tr("Go on with this check"), self._ask_going_on, "next")
        self.end = button(tr("End it…"), self._ask_end, "stop")
        self._choice = _row(self.go_on, self.end)
        self._column.addWidget(self._choice)
        self.asked: AskPanel | None = None
        self.waiting = label("", "heading")
        self.cancel = button(tr("Cancel"), acts.give_up)
        self._wait = _row(self.waiting, self.cancel)
        self._wait.hide()
        self._column.addWidget(self._wait)
        self.waits = False
        self.said = label("", "bad")
        self.said.hide()
        self._column.addWidget(self.said)
        self._fit_choice()

    def _tell(self) -> None:
        row = self.row
        if row.plug:
            tiles = _row(FactTile(marked("PLUG"), row.plug), FactTile(marked("ENGINE"), row.engine))
            self._column.addWidget(tiles)
            self._column.addWidget(label(row.sentence, "title"))
        if row.fault:
            self._column.addWidget(label(row.fault, "title"))
        about = joined((tr("No. {number}", number=row.number), *row.about), "  ·  ")
        self._column.addWidget(label(about, "heading"))
        if row.caution:
            self._column.addWidget(CautionBox(row.signal_word, row.caution))
        for sentence in (row.unsaved, row.only_ended):
            if sentence:
                self._column.addWidget(label(sentence, "soft"))

    def _fit_choice(self) -> None:
        """Offer what can be done with it."""
        row = self.row
        self._choice.setVisible(not row.fault)
        self.go_on.setVisible(not (row.only_ended or row.stopped or row.closed))
        if row.closed:
            self.end.setText(tr("Seal its record"))
        elif row.stopped:
            self.end.setText(tr("Close and seal its record…"))

    def _ask_going_on(self) -> None:
        self._ask(AskPanel(self._units, self._go_on, self._put_away))

    def _ask_end(self) -> None:
        if self.row.closed:  # what there was to say is on record
            answer = Answer(self.row.check_id, self.row.plug_is_out, engine_runs=False)
            self._attempt(lambda: self._acts.end(answer, "sealed later"))
            return
        why = not self.row.stopped
        self._ask(EndPanel(self._units, self._end, self._put_away, ask_why=why))

    def _ask(self, panel: AskPanel) -> None:
        self._put_away()
        self._choice.hide()
        self.asked = panel
        self._column.insertWidget(self._column.indexOf(self.said), panel)
        panel.setFocus(Qt.FocusReason.OtherFocusReason)

    def _put_away(self) -> None:
        self._say("")
        if self.asked is not None:
            self._column.removeWidget(self.asked)
            self.asked.hide()
            self.asked.deleteLater()
            self.asked = None
        self._choice.show()

    def _go_on(self, plug_is_out: bool, engine_runs: bool) -> None:
        answer = Answer(self.row.check_id, plug_is_out, engine_runs)
        self.waits = True
        self._attempt(lambda: self._acts.go_on(answer))

    def show_beginning(self, state: BeginState) -> None:
        """Show what going on waits for; where it ends without a check, it is asked again."""
        if not self.waits:
            return
        self.waits = not state.done
        self.waiting.setText("" if state.done else state.sentence)
        self._wait.setVisible(self.waits)
        if self.asked is not None:
            self.asked.setVisible(state.done)
        self._say(state.sentence if state.done else "")

    def _end(self, plug_is_out: bool, engine_runs: bool) -> None:
        answer, panel = Answer(self.row.check_id, plug_is_out, engine_runs), self.asked
        why = panel.why.text().strip() if isinstance(panel, EndPanel) else ""
        reason = why or ("stopped before" if self.row.stopped else "")
        self._attempt(lambda: self._acts.end(answer, reason))

    def _attempt(self, what: Callable[[], None]) -> None:
        self._say("")
        try:
            what()
        except BrimlineError as error:
            self._say(error.sentence)

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))


class AskPanel(QWidget):
    """Asks for the two facts; goes on once both are said.

    :param answered: is given whether the plug is out and whether the engine runs.
    :param back: puts the question away.
    """

    words, role = marked("Go on"), "next"

    def __init__(
        self,
        units: UnitSystem,
        answered: Callable[[bool, bool], None],
        back: Callable[[], None],
    ) -> None:
        super().__init__()
        self._units, self._answered = units, answered
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.facts = FactsAsked(self._changed)
        self.said = label("", "bad")
        self.said.hide()
        self.done = button(tr(self.words), self._press, self.role)
        self.back = main_tap(button(tr("Back"), back))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(Space.MEDIUM)
        self._column.addWidget(self.facts)
        self._fill()
        self._column.addWidget(self.said)
        self._column.addWidget(_row(self.done, self.back))

    def _fill(self) -> None:
        """Put what is asked besides under the two facts."""

    def _changed(self) -> None:
        self._say("")

    def _missing(self) -> str:
        """Return what is still to be said, in a sentence."""
        return ""

    def _press(self) -> None:
        plug_is_out, engine_runs = self.facts.plug_is_out, self.facts.engine_runs
        if plug_is_out is None or engine_runs is None:
            self._say(wording.sentence(Reason(Code.FACTS_NOT_SAID), self._units))
        elif missing := self._missing():
            self._say(missing)
        else:
            self._answered(plug_is_out, engine_runs)

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))


class EndPanel(AskPanel):
    """Asks besides why the check ends, and with the plug out that it stays out.

    :param ask_why: not where it was stopped before: then that is on record.
    """

    words, role = marked("End it and seal the record"), "stop"

    def __init__(
        self,
        units: UnitSystem,
        answered: Callable[[bool, bool], None],
        back: Callable[[], None],
        *,
        ask_why: bool,
    ) -> None:
        self._asks_why = ask_why
        super().__init__(units, answered, back)

    def _fill(self) -> None:
        self.why = QLineEdit()
        self.stays_out = QCheckBox(tr("The plug stays out"))
        self.warning = label(
            tr(
                "Fluid is being lost: engine off. The vehicle must not be lowered or driven before "
                "the plug is in."
            ),
            "bad",
        )
        if self._asks_why:
            self._column.addWidget(form((tr("Why it ends"), self.why)))
        for made in (self.warning, self.stays_out):
            self._column.addWidget(made)
        self._changed()

    def _changed(self) -> None:
        out = self.facts.plug_is_out is True
        for made in (self.warning, self.stays_out):
            made.setVisible(out)
        if not out:
            self.stays_out.setChecked(False)
        self._say("")

    def _missing(self) -> str:
        if self._asks_why and not self.why.text().strip():
            return tr("Say why it ends; it goes on the record.")
        return tr(STAYS_OUT) if self.facts.plug_is_out and not self.stays_out.isChecked() else ""


class OpenChecksScreen(QWidget):
    """All interrupted checks, the oldest first.

    :param leave: leads to the first screen; what is open stays open.
    """

    def __init__(
        self,
        rows: Sequence[OpenRow],
        units: UnitSystem,
        acts: OpenActs,
        leave: Callable[[], None],
    ) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.cards = [OpenCard(row, units, acts) for row in rows]
        count = len(rows)
        title = counted(
            count, marked("A check was interrupted"), marked("{count} checks were interrupted")
        )
        self.said = label("", "good")
        self.said.hide()
        self.leave = button(tr("Leave it open: to the first screen"), leave)
        column = QVBoxLayout(self)
        column.setContentsMargins(Space.WIDE, Space.MEDIUM, Space.WIDE, Space.MEDIUM)
        column.setSpacing(Space.MEDIUM)
        top = QHBoxLayout()
        top.addWidget(label(title, "title"), 1)
        top.addWidget(self.leave)
        column.addLayout(top)
        column.addWidget(self.said)
        column.addWidget(scrolled(*self.cards), 1)

    def show_beginning(self, state: BeginState) -> None:
        """Show on its card how going on with a check stands; nothing else is to be done then."""
        for card in self.cards:
            card.setEnabled(state.done or card.waits)
            card.show_beginning(state)
        self.leave.setEnabled(state.done)

    def say(self, sentence: str) -> None:
        """Tell what was done with the one before."""
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))


def _row(*widgets: QWidget) -> QWidget:
    holder = QWidget()
    layout = QHBoxLayout(holder)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(Space.MEDIUM)
    for widget in widgets:
        layout.addWidget(widget, 1)
    return holder
