"""What ran off into the catch pan: asked wherever fluid may have run, with three answers."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from brimline.errors import UnitError
from brimline.procedure import events as ev
from brimline.procedure import run_off
from brimline.procedure.doing import Form
from brimline.procedure.events import Item
from brimline.procedure.state import CheckState
from brimline.translation import tr
from brimline.ui.forms import QuantityField, button, enter_sends, form, label, main_tap
from brimline.ui.screens.check.page import Page
from brimline.ui.tokens import Space
from brimline.units import Dimension


class RunOffBox(QWidget):
    """An amount, or that nothing ran off, or that nobody measured it and why.

    :param page: where it stands; it sends that page's form of the run-off.
    :param always: an amount may be written down wherever the plug was out, not only when asked.
    """

    def __init__(self, page: Page, *, always: bool = False) -> None:
        super().__init__()
        self._page, self._model, self._always = page, page.model, always
        self.asked = label(tr("How much ran off into the catch pan?"), "heading")
        self.amount = QuantityField(Dimension.VOLUME, self._model.units, 0.1)
        self.measured = main_tap(button(tr("Write down the run-off"), self._attempt(self._measure)))
        self.nothing = main_tap(button(tr("Nothing ran off"), self._nothing))
        self.why = QLineEdit()
        self.why_form = form((tr("Not measured, because"), self.why))
        self.unmeasured = main_tap(
            button(tr("It was not measured"), self._attempt(self._not_measured))
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(Space.SMALL)
        for made in (
            self.asked, form((tr("Ran off into the catch pan"), self.amount)), self.measured,
            self.nothing, self.why_form, self.unmeasured,
        ):  # fmt: skip
            column.addWidget(made)
        enter_sends(self.measured, self.amount)
        enter_sends(self.unmeasured, self.why)
        page.sends[Form.RUN_OFF] = self._measure
        self.hide()

    def _attempt(self, what: Callable[[], object]) -> Callable[[], object]:
        return lambda: self._page.attempt(what)

    def _measure(self) -> None:
        if self._model.tap(ev.RunOffMeasured, litres=self.amount.needed()):
            self.amount.clear()

    def _nothing(self) -> None:
        self._model.tap(ev.Confirmed, item=Item.NOTHING_RAN_OFF)

    def _not_measured(self) -> None:
        why = self.why.text().strip()
        if not why:
            raise UnitError(tr("Say why what ran off was not measured."))
        if self._model.tap(ev.Confirmed, item=Item.RUN_OFF_NOT_MEASURED, reason=why):
            self.why.clear()

    def show_state(self, state: CheckState) -> None:
        """Show what is asked now; where fluid was seen running, nobody can say that none did."""
        asked = run_off.is_asked(state)
        told_later = self._always and bool(state.plug_spans) and state.closed is None
        self.asked.setVisible(asked)
        self.nothing.setVisible(asked and not run_off.was_seen(state))
        self.why_form.setVisible(asked)
        self.unmeasured.setVisible(asked)
        self.setVisible(asked or told_later)
