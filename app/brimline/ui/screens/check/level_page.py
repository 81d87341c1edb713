"""Page of stage 8: first look, then level."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QHBoxLayout, QWidget

from brimline import wording
from brimline.errors import UnitError
from brimline.estimate.level_words import run_off_words
from brimline.procedure import cautions, facts, gates
from brimline.procedure import events as ev
from brimline.procedure.doing import Form
from brimline.procedure.events import Flow
from brimline.procedure.gates import Gate
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState, Stage
from brimline.translation import marked, tr
from brimline.ui.forms import QuantityField, button, enter_sends, form, label, main_tap, panel
from brimline.ui.screens.check.advice_box import AdviceLine
from brimline.ui.screens.check.findings_form import FindingsForm
from brimline.ui.screens.check.page import Caution, Page
from brimline.ui.tokens import Space
from brimline.ui.widgets.ledger_table import LedgerTable
from brimline.ui.widgets.marks import set_role
from brimline.units import Dimension, duration


def _row(*widgets: QWidget) -> QWidget:
    holder = QWidget()
    layout = QHBoxLayout(holder)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(Space.SMALL)
    for widget in widgets:
        layout.addWidget(widget)
    return holder


_WHAT = marked("What comes out of the plug hole?")
_READ_FIRST = marked("Read the caution first. The plug may go in at any time.")


class LevelPage(Page):
    """Stage 8: what comes, what it looks like, what goes in, and the plug in again."""

    stage = Stage.LEVEL
    cautions = (
        Caution(
            marked("WARNING"),
            marked("Hot fluid and hot metal overhead. Eyes and hands covered."),
            burns=True,
        ),
    )

    def fill(self) -> None:
        """First look, flow, pump; plug in and pump off at the foot, wanted at once."""
        self.next = label("", "heading")
        self.plug_in = main_tap(button(tr("Plug put in"), lambda: self.model.tap(ev.PlugIn)))
        self.add_always(self.next)
        self.add_at_foot(self.plug_in)
        self._fill_look()  # above the flow: where it is wanted, it is wanted first
        self._fill_flow()
        self._fill_pump()
        self.sends |= {Form.FINDINGS: self._look, Form.PUMPED: self._pump_off}
        self.ledger = LedgerTable(self.model.units)
        self.add(self.ledger)
        self.stripped = button(tr("The thread is stripped…"), self.ask_stripped, "stop")
        self.add(self.stripped)

    def _fill_flow(self) -> None:
        rate = self.model.state.sheet.level.drip_rate
        self.runs = main_tap(button(tr("It runs"), lambda: self._judge(Flow.RUNS)))
        self.nothing = main_tap(button(tr("Nothing comes"), lambda: self._judge(Flow.NOTHING)))
        self.drip = QuantityField(Dimension.DRIP, self.model.units, rate)
        self.drips = main_tap(button(tr("It drips"), lambda: self.attempt(self._drips)))
        self.flow_words = label(tr(_WHAT), "heading")
        self.flow_box = panel(
            self.flow_words,
            _row(self.runs, self.nothing),
            form((tr("Drip rate (at the rim: {rate:g} drops/s)", rate=rate), self.drip)),
            self.drips,
        )
        self.add(self.flow_box)
        enter_sends(self.drips, self.drip)

    def _fill_look(self) -> None:
        self.form = FindingsForm(compact=True)
        self.advice = AdviceLine(self.form)
        self.look = self.add_next(tr("First look taken"), self._look)
        self.look_box = panel(
            label(tr("First look, before anything is added"), "heading"), self.form, self.advice
        )
        self.add(self.look_box)

    def _fill_pump(self) -> None:
        units = self.model.units
        self.pump_on = self.add_next(tr("Pump started"), lambda: self.model.tap(ev.PumpStarted))
        self.amount = QuantityField(Dimension.VOLUME, units, 0.2)
        self.shelf = QuantityField(Dimension.TEMPERATURE, units, 21)
        self.pump_off = main_tap(button(tr("Pump stopped"), lambda: self.attempt(self._pump_off)))
        self.pump_words = label("", "soft")
        self.pump_box = panel(
            label(tr("Top up"), "heading"),
            self.pump_words,
            form((tr("Pumped in"), self.amount), (tr("Its temperature (if known)"), self.shelf)),
        )
        self.add(self.pump_box)
        set_role(self.pump_off, "next")
        self.add_at_foot(self.pump_off)
        enter_sends(self.pump_off, self.amount, self.shelf)

    def _judge(self, flow: Flow) -> None:
        self.model.tap(ev.FlowJudged, flow=flow)

    def _drips(self) -> None:
        rate = self.drip.needed()
        if not 0 < rate <= 20:
            raise UnitError(tr("A drip is more than 0 and at most 20 drops/s; faster, it runs."))
        self.model.tap(ev.FlowJudged, flow=Flow.DRIPS, drops_per_second=rate)

    def _look(self) -> None:
        flow = self.model.state.level.flow
        drawn = flow is not None and flow.flow is Flow.NOTHING
        self.model.tap(ev.FirstLook, findings=self.form.findings(), drawn_sample=drawn)

    def _pump_off(self) -> None:
        said = {"litres": self.amount.needed(), "fluid_celsius": self.shelf.quantity()}
        if self.model.tap(ev.PumpStopped, **said):
            self.amount.clear()

    def show_state(self, state: CheckState) -> None:
        """Only what applies now is shown; the next step in words."""
        pumping = state.level.pump_since is not None
        asked = cautions.asked(state, self.stage)
        self._place_pump(first=pumping and asked)
        waits = asked and not (state.causes or pumping)
        self.next.setText(tr(_READ_FIRST) if waits else self._next_words(state))
        self.ledger.show_state(state)
        self.advice.show_coolant(state.coolant_seen)
        set_role(self.plug_in, "next" if state.causes or state.level.reached_at is not None else "")
        out = state.plug_is_out
        at = QApplication.focusWidget()
        self.plug_in.setVisible(out)
        runs = state.level.flow is not None and state.level.flow.flow is Flow.RUNS
        self.flow_words.setText((run_off_words(state) if runs else "") or tr(_WHAT))
        self.flow_box.setVisible(out and not pumping and not state.causes)
        for made in (self.look_box, self.look):
            made.setVisible(state.first_look is None and state.level.flow is not None)
        against = {reason.code for reason in gates.reasons(Gate.TOP_UP, state)}
        wanted = not (against - {Code.SETTLING}) or pumping
        self.pump_box.setVisible(wanted)
        self.pump_on.setVisible(not against and not pumping)
        self.pump_off.setVisible(pumping)
        left = self.model.units.volume(max(0.0, facts.top_up_left(state)))
        self.pump_words.setText(
            tr("At most {left} more. Pump off, settle, then judge again.", left=left)
        )
        if at is not None and self.isAncestorOf(at) and not at.isVisibleTo(self):
            # Qt would hand the keyboard on, down to the button that says the thread is stripped.
            self.setFocus(Qt.FocusReason.OtherFocusReason)

    def _place_pump(self, *, first: bool) -> None:
        """A pump that runs can be said to be off by whoever has read no caution yet."""
        is_first = self.always.indexOf(self.pump_box) >= 0
        if first and not is_first:
            self.add_always(self.pump_box)
        elif is_first and not first:
            self.below.insertWidget(self.below.indexOf(self.ledger), self.pump_box)

    def _next_words(self, state: CheckState) -> str:
        if state.causes:
            return wording.answer(state)
        if not state.plug_is_out:
            return tr("The plug is in. Say that the pump is off, and how much went in.")
        level = state.level
        if level.reached_at is not None:
            return tr("The fluid is at the rim. Put the plug in.")
        if level.pump_since is not None:
            return tr("Pumping. Say when the pump is off, and how much went in.")
        left = (facts.settled_at(state) or state.now) - state.now
        if left > 0:
            return tr("Pumped fluid runs back. Judge again in {left}.", left=duration(left))
        return self._judging_words(state)

    def _sentence(self, reason: Reason) -> str:
        return wording.sentence(reason, self.model.units)

    def _judging_words(self, state: CheckState) -> str:
        flow, rate = state.level.flow, state.sheet.level.drip_rate
        if flow is None:
            return tr("Say what comes out of the plug hole.")
        nothing = flow.flow is Flow.NOTHING and not state.level.overflowed
        if state.first_look is None:
            return (
                tr("Draw a sample and judge it.")
                if nothing
                else tr("Catch the first fluid; judge it.")
            )
        if nothing:
            against = [r for r in gates.reasons(Gate.TOP_UP, state) if r.code is not Code.SETTLING]
            if against:
                return tr(
                    "Nothing comes. Not to be topped up yet: {why}", why=self._sentence(against[0])
                )
            left = self.model.units.volume(max(0.0, facts.top_up_left(state)))
            return tr("Nothing comes: top up in small amounts, {left} more at most.", left=left)
        if flow.drops_per_second is not None and flow.drops_per_second > rate:
            return tr(
                "{rate:g} drops/s is still too fast: wait, then judge again.",
                rate=flow.drops_per_second,
            )
        return tr("Wait until it only drips, then say how fast.")
