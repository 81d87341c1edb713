"""Pages of stages 9 to 11: close, condition assessment, verdict and record."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QLabel, QLineEdit

from brimline import wording
from brimline.condition.model import Recommendation
from brimline.condition.rules import REASON_WORDS, advise
from brimline.errors import UnitError
from brimline.estimate.level_budget import estimated_level
from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.events import Item
from brimline.procedure.gates import Gate
from brimline.procedure.state import CheckState, Stage
from brimline.procedure.verdict import verdict_of
from brimline.specsheet.model import SealRule
from brimline.ui.forms import ItemButton, QuantityField, TickBox, WordBox, button, form, label
from brimline.ui.screens.check.findings_form import FindingsForm
from brimline.ui.screens.check.page import Caution, Page
from brimline.ui.screens.check.photo_strip import PhotoStrip
from brimline.units import Dimension, symbol_in


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
    cautions = (Caution("CAUTION", "The plug takes a very small torque; too much strips the pan."),)

    def fill(self) -> None:
        """Seal, torque with the wrench's range, leak look."""
        plug, units = self.model.state.sheet.plug, self.model.units
        if plug.seal is SealRule.REPLACE:
            self.seal = button("Seal replaced", lambda: self._seal(True))
            self.add(self.seal)
        else:
            self.add(button("Seal replaced", lambda: self._seal(True)))
            self.add(button("Seal inspected and good", lambda: self._seal(False)))
        wanted = units.torque(plug.torque)
        self.add(label(f"Torque: {wanted}", "title"))
        self.torque = QuantityField(Dimension.TORQUE, units, f"{plug.torque:g}")
        self.torque.setPlaceholderText(wanted)
        self.low = QuantityField(Dimension.TORQUE, units, "")
        self.high = QuantityField(Dimension.TORQUE, units, "")
        for field, words in ((self.low, "least"), (self.high, "most")):
            field.setPlaceholderText(f"{words}, in {units.torque_symbol}")
        self.add(
            form(
                ("Torque applied", self.torque),
                ("Wrench reads from", self.low),
                ("Wrench reads to", self.high),
            )
        )
        self.add(button("Plug torqued", lambda: self.attempt(self._torque), "next"))
        self.add(button("Dry: no leak", lambda: self.model.tap(ev.LeakLook, dry=True)))
        self.add(button("It leaks", lambda: self.model.tap(ev.LeakLook, dry=False)))
        self.stands = label("", "soft")
        self.add(self.stands)
        self.add(button("The thread is stripped…", self.ask_stripped, "stop"))

    def _seal(self, replaced: bool) -> None:
        self.model.tap(ev.SealDone, replaced=replaced)

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
        """What is still to be done."""
        todo = [wording.sentence(r, self.model.units) for r in gates.closing(state)]
        self.stands.setText("\n".join(todo))


class ConditionPage(Page):
    """Stage 10."""

    stage = Stage.CONDITION

    def fill(self) -> None:
        """The run-off, the findings, the recommendation with its reasons."""
        units = self.model.units
        self.run_off = QuantityField(Dimension.VOLUME, units, "0.1")
        self.run_off_box = form(("Ran off into the catch pan", self.run_off))
        self.measured = button("Write down the run-off", lambda: self.attempt(self._measured))
        self.unmeasured = ItemButton(Item.RUN_OFF_NOT_MEASURED, self._toggle)
        self._items.append(self.unmeasured)
        self.noted = label("", "soft")
        self.add(self.run_off_box, self.measured, self.noted, self.unmeasured)
        self.findings = FindingsForm()
        first = self.model.state.first_look
        if first is not None:
            self.findings.show_findings(first.findings)
        self.add(self.findings)
        self.advice, self.because = label("", "heading"), label("", "soft")
        self.choice = WordBox(wording.RECOMMENDATION_NAMES)
        self.why = QLineEdit()
        self.differ = form(("Recommendation", self.choice), ("Reason, if you differ", self.why))
        self.add(self.advice, self.because, self.differ)
        for box in (
            self.findings.colour, self.findings.clarity, self.findings.odour,
            self.findings.particles,
        ):  # fmt: skip
            box.currentIndexChanged.connect(self._advise)
        self.findings.coolant.toggled.connect(self._advise)
        self._advise()
        self.photos = photo_strip(self)
        self.add_next("Condition assessed", self._assess)

    def _advise(self) -> None:
        try:
            advice = advise(self.findings.findings())
        except UnitError:
            self.advice.setText("Choose what you see and smell.")
            self.because.setText("")
            return
        reasons = "; ".join(REASON_WORDS[reason] for reason in advice.reasons)
        self.advice.setText(wording.RECOMMENDATIONS[advice.recommendation])
        self.because.setText(f"Because: {reasons}." if reasons else "Nothing was found.")
        self.choice.choose(advice.recommendation)

    def _measured(self) -> None:
        self.model.tap(ev.RunOffMeasured, litres=self.run_off.needed())
        self.run_off.clear()

    def _assess(self) -> None:
        findings = self.findings.findings()
        advice = advise(findings)
        self.model.tap(
            ev.ConditionAssessed,
            findings=findings if self.model.state.plug_spans else None,
            advised=advice.recommendation,
            advised_reasons=advice.reasons,
            recommendation=Recommendation(self.choice.chosen()),
            override_reason=self.why.text().strip(),
        )

    def show_state(self, state: CheckState) -> None:
        """The run-off may be told wherever the plug was out; the ledger says what was noted."""
        for widget in (self.run_off_box, self.measured):
            widget.setVisible(bool(state.plug_spans))
        self.unmeasured.setVisible(gates.run_off_unknown(state))
        self.noted.setText(wording.ledger(state, self.model.units))
        self.noted.setVisible(bool(state.ledger))
        if self.photos is not None:
            self.photos.show_state(state)


class RecordPage(Page):
    """Stage 11, and after the end."""

    stage = Stage.RECORD

    def fill(self) -> None:
        """The verdict to come, what is missing, the end."""
        self.verdict: QLabel = label("", "title")
        self.why = label("")
        self.facts = label("", "soft")
        self.missing = label("", "bad")
        self.recheck = TickBox("Ask for a recheck after a drive")
        self.add(self.verdict, self.why, self.facts, self.missing, self.recheck)
        self._fill_after_abort()
        self.photos = photo_strip(self)
        self.finish = button("Close and seal the record", self._close, "next")
        self.add(self.finish)

    def _fill_after_abort(self) -> None:
        """Facts do not stop with the check: plug and pump may still be told."""
        self.plug_in = button("Plug is in", lambda: self.model.tap(ev.PlugIn))
        self.amount = QuantityField(Dimension.VOLUME, self.model.units, "0.2")
        self.pump_box = form(("Pumped in", self.amount))
        self.pump_off = button("Pump is off", lambda: self.attempt(self._pump_off))
        self.add(self.plug_in, self.pump_box, self.pump_off)

    def _pump_off(self) -> None:
        self.model.tap(ev.PumpStopped, litres=self.amount.needed())

    def _facts(self, state: CheckState) -> str:
        celsius = state.closing.celsius
        at = "not known" if celsius is None else self.model.units.temperature(celsius, 1)
        return f"Temperature at closing: {at}\n{wording.ledger(state, self.model.units)}"

    def _close(self) -> None:
        if self.model.filing is not None and self.model.filing.busy:
            self._say("A photo is on its way into the record; close it in a moment.")
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
        against = gates.reasons(Gate.RECORD, state) if state.closed is None else ()
        self.verdict.setText(wording.VERDICTS[verdict])
        words = "; ".join(wording.verdict_reason(reason) for reason in reasons)
        self.why.setText(f"{words[:1].upper()}{words[1:]}.")
        self.facts.setText(self._facts(state))
        todo = [wording.sentence(reason, self.model.units) for reason in against]
        if state.plug_is_out:
            todo.append("The check plug is out: engine off, plug in, do not lower or drive before.")
        self.missing.setText("\n".join(todo))
        self.plug_in.setVisible(state.closed is None and state.plug_is_out)
        pumping = state.closed is None and state.level.pump_since is not None
        for widget in (self.pump_box, self.pump_off):
            widget.setVisible(pumping)
        for widget in (self.recheck, self.finish):
            widget.setVisible(state.closed is None)
        self.finish.setEnabled(not against)
        if self.photos is not None:
            self.photos.show_state(state)
