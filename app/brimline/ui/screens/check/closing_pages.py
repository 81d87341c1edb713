"""Pages of stages 9 to 11: close, condition assessment, verdict and record."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtWidgets import QLabel

from brimline import wording
from brimline.estimate.level_budget import estimated_level
from brimline.procedure import events as ev
from brimline.procedure import gates, run_off
from brimline.procedure.doing import Form, NextStep
from brimline.procedure.gates import Gate
from brimline.procedure.state import CheckState, Stage
from brimline.procedure.verdict import verdict_of
from brimline.specsheet.model import SealRule
from brimline.translation import capitalised, joined, lowered, marked, tr
from brimline.ui.forms import (
    QuantityField,
    TickBox,
    button,
    enter_sends,
    form,
    label,
    main_tap,
)
from brimline.ui.hints import hint
from brimline.ui.screens.check.advice_box import AdviceBox
from brimline.ui.screens.check.findings_form import FindingsForm
from brimline.ui.screens.check.page import Caution, Page
from brimline.ui.screens.check.photo_strip import PhotoStrip
from brimline.ui.screens.check.run_off_box import RunOffBox
from brimline.ui.widgets.ledger_table import LedgerTable
from brimline.units import Dimension, symbol_in
from brimline.wording.taps import tapped


def photo_strip(page: Page) -> PhotoStrip | None:
    """Put photos under what a page holds, where any can be kept."""
    filing = page.model.filing
    if filing is None:
        return None
    made = PhotoStrip(filing)
    page.add(made)
    return made


class ClosePage(Page):
    """Stage 9."""

    stage = Stage.CLOSE
    cautions = (
        Caution(marked("WARNING"), marked("Plug, pan and what ran off are still hot."), burns=True),
        Caution(
            marked("CAUTION"),
            marked("The plug takes a very small torque; too much strips the pan."),
        ),
    )

    def fill(self) -> None:
        """Seal, torque with the wrench's range, leak look."""
        plug, units = self.model.state.sheet.plug, self.model.units
        if plug.seal is SealRule.REPLACE:
            self.seal = main_tap(button(tr("Seal replaced"), lambda: self._seal(True)))
            self.add(self.seal)
        else:
            self.add(main_tap(button(tr("Seal replaced"), lambda: self._seal(True))))
            self.add(main_tap(button(tr("Seal inspected and good"), lambda: self._seal(False))))
        self.done = label("", "good")
        self.add(self.done)
        wanted = units.torque(plug.torque)
        self.add(label(tr("Torque: {wanted}", wanted=wanted), "title"))
        self.torque = QuantityField(Dimension.TORQUE, units, plug.torque)
        self.low = QuantityField(Dimension.TORQUE, units, None)
        self.high = QuantityField(Dimension.TORQUE, units, None)
        hint(self.low, tr("least, in {unit}", unit=units.torque_symbol))
        hint(self.high, tr("most, in {unit}", unit=units.torque_symbol))
        self.add(
            form(
                (tr("Torque applied"), self.torque),
                (tr("Wrench reads from"), self.low),
                (tr("Wrench reads to"), self.high),
            )
        )
        send = self.add_next(tr("Plug torqued"), self._torque)
        enter_sends(send, self.torque, self.low, self.high)
        self.add(main_tap(button(tr("Dry: no leak"), lambda: self._leak_look(True))))
        self.add(main_tap(button(tr("It leaks"), lambda: self._leak_look(False))))
        self.sends[Form.TORQUE] = self._torque
        self.stands = label("", "soft")
        self.add(self.stands)
        self.add(button(tr("The thread is stripped…"), self.ask_stripped, "stop"))

    def _seal(self, replaced: bool) -> None:
        self.model.tap(ev.SealDone, replaced=replaced)

    def _leak_look(self, dry: bool) -> None:
        self.model.tap(ev.LeakLook, dry=dry)

    def _torque(self) -> None:
        typed, symbol = self.torque.text(), self.model.units.torque_symbol
        bare = typed.strip().replace(",", ".").replace(".", "").isdigit()
        self.model.tap(
            ev.PlugTorqued,
            torque=self.torque.needed(),
            wrench_low=self.low.needed(),
            wrench_high=self.high.needed(),
            unit=symbol if bare else symbol_in(typed, Dimension.TORQUE),
        )

    def show_state(self, state: CheckState) -> None:
        """What is done, and what is still to be done."""
        closing = state.closing
        dry = closing.leak if closing.leak is not None and closing.leak.dry else None
        said = (closing.seal, closing.torque, dry)
        done = joined(lowered(tapped(tap)) for tap in said if tap is not None)
        self.done.setText(tr("Done: {what}.", what=done) if done else "")
        self.done.setVisible(bool(done))
        todo = [wording.sentence(r, self.model.units) for r in gates.closing(state)]
        self.stands.setText("\n".join(todo))


class ConditionPage(Page):
    """Stage 10."""

    stage = Stage.CONDITION

    def fill(self) -> None:
        """The run-off, the findings, the recommendation with its reasons."""
        self.run_off = RunOffBox(self, always=True)
        self.noted = LedgerTable(self.model.units)
        self.add(self.run_off, self.noted)
        self.findings = FindingsForm()
        first = self.model.state.first_look
        if first is not None:
            self.findings.show_findings(first.findings)
        self.advice = AdviceBox(self.findings)
        self.add(self.findings, self.advice)
        self.photos = photo_strip(self)
        self.add_next(tr("Condition assessed"), self._assess)
        self.sends[Form.CONDITION] = self._assess

    def _assess(self) -> None:
        findings, advice = self.findings.findings(), self.advice.line.advice
        recommendation, why = self.advice.decision()
        self.model.tap(
            ev.ConditionAssessed,
            findings=findings if self.model.state.plug_spans else None,
            advised=advice.recommendation,
            advised_reasons=advice.reasons,
            recommendation=recommendation,
            override_reason=why,
        )

    def show_state(self, state: CheckState) -> None:
        """The run-off may be told wherever the plug was out; the ledger says what was noted."""
        self.run_off.show_state(state)
        self.noted.show_state(state)
        self.advice.show_coolant(state.coolant_seen)
        if self.photos is not None:
            self.photos.show_state(state)


class RecordPage(Page):
    """Stage 11, and after the end."""

    stage = Stage.RECORD

    def fill(self) -> None:
        """The verdict to come, what is missing, the end."""
        self.unfinished = label("", "bad")
        self.add_always(self.unfinished)
        self.closed = label(tr("The check is closed; nothing in it changes any more."), "good")
        self.verdict: QLabel = label("", "title")
        self.why = label("")
        self.facts = label("", "soft")
        self.ledger = LedgerTable(self.model.units)
        self.missing = label("", "bad")
        self.recheck = TickBox(tr("Ask for a recheck after a drive"))
        self.run_off = RunOffBox(self)
        self.add(
            self.missing, self.run_off, self.closed, self.verdict, self.why, self.facts,
            self.ledger, self.recheck,
        )  # fmt: skip
        self._fill_after_abort()
        self.sends[Form.PUMPED] = self._pump_off
        self.photos = photo_strip(self)
        self.finish = self.add_next(tr("Close and seal the record"), self._close)

    def _fill_after_abort(self) -> None:
        """Facts do not stop with the check: plug and pump may still be told."""
        self.plug_in = main_tap(button(tr("Plug put in"), lambda: self.model.tap(ev.PlugIn)))
        self.amount = QuantityField(Dimension.VOLUME, self.model.units, 0.2)
        self.pump_box = form((tr("Pumped in"), self.amount))
        self.pump_off = main_tap(button(tr("Pump stopped"), lambda: self.attempt(self._pump_off)))
        self.add(self.plug_in, self.pump_box, self.pump_off)
        enter_sends(self.pump_off, self.amount)

    def _pump_off(self) -> None:
        self.model.tap(ev.PumpStopped, litres=self.amount.needed())

    def confirm(self, step: NextStep) -> Callable[[], object] | None:
        """Return what closes the record, or sends a form."""
        return self._close if step.closes else super().confirm(step)

    def _facts(self, state: CheckState) -> str:
        celsius = state.closing.celsius
        at = tr("not known") if celsius is None else self.model.units.temperature(celsius, 1)
        return tr("Temperature when the plug went in: {at}", at=at)

    def _close(self) -> None:
        if self.model.filing is not None and self.model.filing.busy:
            self._say(tr("A photo is on its way into the record; close it in a moment."))
            return
        self.model.close(recheck_after_drive=self.recheck.isChecked())

    def show_state(self, state: CheckState) -> None:
        """Verdict with its reasons."""
        if state.closed is not None:
            verdict, reasons = state.closed.verdict, state.closed.reasons
        else:
            # as the closing will find it: it puts the estimate on record first
            known = estimated_level(state, state.now)
            verdict, reasons = verdict_of(replace(state, level_estimate=known))
        unfinished = wording.unfinished_plug(state)
        self.unfinished.setText(tr(unfinished) if unfinished else "")
        self.unfinished.setVisible(bool(unfinished))
        against = gates.reasons(Gate.RECORD, state) if state.closed is None else ()
        asked = tuple(r for r in run_off.before_sealing(state) if r not in against)
        against = (*against, *asked)
        self.run_off.show_state(state)
        self.verdict.setText(tr(wording.VERDICTS[verdict]))
        words = joined((wording.verdict_reason(reason) for reason in reasons), "; ")
        self.why.setText(f"{capitalised(words).removesuffix('.')}.")  # a person may have put one
        self.facts.setText(self._facts(state))
        self.ledger.show_state(state)
        todo = [wording.sentence(reason, self.model.units) for reason in against]
        if state.plug_is_out:
            todo.append(
                tr("The check plug is out: engine off, plug in, do not lower or drive before.")
            )
        self.missing.setText("\n".join(todo))
        self.missing.setVisible(bool(todo))
        self.plug_in.setVisible(state.closed is None and state.plug_is_out)
        pumping = state.closed is None and state.level.pump_since is not None
        for widget in (self.pump_box, self.pump_off):
            widget.setVisible(pumping)
        self.closed.setVisible(state.closed is not None)
        self.finish.setVisible(state.closed is None)
        # Without any work at the plug there is nothing that a drive could change.
        self.recheck.setVisible(state.closed is None and bool(state.plug_spans))
        self.finish.setEnabled(not against)
        if self.photos is not None:
            self.photos.show_state(state)
