"""Page of stage 8: first look, then level."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QHBoxLayout, QWidget

from brimline import wording
from brimline.errors import UnitError
from brimline.estimate.level_words import run_off_words
from brimline.procedure import events as ev
from brimline.procedure import facts, gates
from brimline.procedure.events import Flow
from brimline.procedure.gates import Gate
from brimline.procedure.reasons import Code, Reason
from brimline.procedure.state import CheckState, Stage
from brimline.ui.forms import QuantityField, button, form, label, panel
from brimline.ui.screens.check.findings_form import FindingsForm
from brimline.ui.screens.check.page import Caution, Page
from brimline.ui.tokens import TOUCH, Space
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


_WHAT = "What comes out of the plug hole?"


class LevelPage(Page):
    """Stage 8: what comes, what it looks like, what goes in, and the plug in again."""

    stage = Stage.LEVEL
    cautions = (Caution("WARNING", "Hot fluid and hot metal overhead. Eyes and hands covered."),)

    def fill(self) -> None:
        """Plug in on top, because it may be wanted at once; then flow, first look, pump."""
        self.next = label("", "heading")
        self.plug_in = button("Plug is in", lambda: self.model.tap(ev.PlugIn))
        self.plug_in.setMinimumHeight(TOUCH + Space.LARGE)
        self.add(self.next, self.plug_in)
        self._fill_flow()
        self._fill_look()
        self._fill_pump()
        self.ledger = label("", "soft")
        self.add(self.ledger)
        self.stripped = button("The thread is stripped…", self.ask_stripped, "stop")
        self.add(self.stripped)

    def _fill_flow(self) -> None:
        rate = self.model.state.sheet.level.drip_rate
        self.runs = button("It runs", lambda: self._judge(Flow.RUNS))
        self.nothing = button("Nothing comes", lambda: self._judge(Flow.NOTHING))
        self.drip = QuantityField(Dimension.DRIP, self.model.units, f"{rate:g}")
        self.drips = button("It drips", lambda: self.attempt(self._drips))
        self.flow_words = label(_WHAT, "heading")
        self.flow_box = panel(
            self.flow_words,
            _row(self.runs, self.nothing),
            form((f"Drip rate (at the rim: {rate:g} drops/s)", self.drip)),
            self.drips,
        )
        self.add(self.flow_box)

    def _fill_look(self) -> None:
        self.form = FindingsForm()
        self.look = button("First look taken", lambda: self.attempt(self._look), "next")
        self.look_box = panel(
            label("First look, before anything is added", "heading"), self.form, self.look
        )
        self.add(self.look_box)

    def _fill_pump(self) -> None:
        units = self.model.units
        self.pump_on = button("Pump is on", lambda: self.model.tap(ev.PumpStarted))
        self.amount = QuantityField(Dimension.VOLUME, units, "0.2")
        self.shelf = QuantityField(Dimension.TEMPERATURE, units, "21")
        self.pump_off = button("Pump is off", lambda: self.attempt(self._pump_off))
        self.pump_words = label("", "soft")
        self.pump_box = panel(
            label("Top up", "heading"),
            self.pump_words,
            self.pump_on,
            form(("Pumped in", self.amount), ("Its temperature (if known)", self.shelf)),
            self.pump_off,
        )
        self.add(self.pump_box)

    def _judge(self, flow: Flow) -> None:
        self.model.tap(ev.FlowJudged, flow=flow)

    def _drips(self) -> None:
        rate = self.drip.needed()
        if not 0 < rate <= 20:
            raise UnitError("A drip is more than 0 and at most 20 drops/s; faster, it runs.")
        self.model.tap(ev.FlowJudged, flow=Flow.DRIPS, drops_per_second=rate)

    def _look(self) -> None:
        flow = self.model.state.level.flow
        drawn = flow is not None and flow.flow is Flow.NOTHING
        self.model.tap(ev.FirstLook, findings=self.form.findings(), drawn_sample=drawn)

    def _pump_off(self) -> None:
        self.model.tap(
            ev.PumpStopped, litres=self.amount.needed(), fluid_celsius=self.shelf.quantity()
        )
        self.amount.clear()

    def show_state(self, state: CheckState) -> None:
        """Only what applies now is shown; the next step in words."""
        pumping = state.level.pump_since is not None
        self.next.setText(self._next_words(state))
        self.ledger.setText(wording.ledger(state, self.model.units))
        self.ledger.setVisible(bool(state.ledger))
        set_role(self.plug_in, "next" if state.causes or state.level.reached_at is not None else "")
        out = state.plug_is_out
        at = QApplication.focusWidget()
        self.plug_in.setVisible(out)
        runs = state.level.flow is not None and state.level.flow.flow is Flow.RUNS
        self.flow_words.setText((run_off_words(state) if runs else "") or _WHAT)
        self.flow_box.setVisible(out and not pumping and not state.causes)
        self.look_box.setVisible(state.first_look is None and state.level.flow is not None)
        against = {reason.code for reason in gates.reasons(Gate.TOP_UP, state)}
        wanted = not (against - {Code.SETTLING}) or pumping
        self.pump_box.setVisible(wanted)
        self.pump_on.setEnabled(not against)
        self.pump_on.setVisible(not pumping)
        self.pump_off.setEnabled(pumping)
        left = self.model.units.volume(max(0.0, facts.top_up_left(state)))
        self.pump_words.setText(f"At most {left} more. Pump off, settle, then judge again.")
        if at is not None and self.isAncestorOf(at) and not at.isVisibleTo(self):
            # Qt would hand the keyboard on, down to the button that says the thread is stripped.
            self.setFocus(Qt.FocusReason.OtherFocusReason)

    def _next_words(self, state: CheckState) -> str:
        if state.causes:
            return wording.answer(state)
        if not state.plug_is_out:
            return "The plug is in. Say that the pump is off, and how much went in."
        level = state.level
        if level.reached_at is not None:
            return "The level is at the rim. Put the plug in."
        if level.pump_since is not None:
            return "Pumping. Say when the pump is off, and how much went in."
        left = (facts.settled_at(state) or state.now) - state.now
        if left > 0:
            return f"Pumped fluid runs back. Judge again in {duration(left)}."
        return self._judging_words(state)

    def _sentence(self, reason: Reason) -> str:
        return wording.sentence(reason, self.model.units)

    def _judging_words(self, state: CheckState) -> str:
        flow, rate = state.level.flow, state.sheet.level.drip_rate
        if flow is None:
            return "Say what comes out of the plug hole."
        nothing = flow.flow is Flow.NOTHING and not state.level.overflowed
        if state.first_look is None:
            return "Draw a sample and judge it." if nothing else "Catch the first fluid; judge it."
        if nothing:
            against = [r for r in gates.reasons(Gate.TOP_UP, state) if r.code is not Code.SETTLING]
            if against:
                return f"Nothing comes. Not to be topped up yet: {self._sentence(against[0])}"
            return "Nothing comes: top up in small amounts."
        if flow.drops_per_second is not None and flow.drops_per_second > rate:
            return f"{flow.drops_per_second:g} drops/s is still too fast: wait, then judge again."
        return "Wait until it only drips, then say how fast."
