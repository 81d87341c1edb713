"""What has to be confirmed again after nobody watched for a while, in one place beside the page."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from brimline import interrupted_words
from brimline.errors import BrimlineError
from brimline.procedure import events as ev
from brimline.procedure import gates
from brimline.procedure.events import Item
from brimline.procedure.state import CheckState
from brimline.session import Snapshot
from brimline.translation import capitalised, tr
from brimline.ui.forms import button, enter_sends, label
from brimline.ui.model import CheckModel
from brimline.ui.screens.check.tilt_form import TiltForm
from brimline.ui.tokens import Space
from brimline.ui.widgets.flow import FlowRows
from brimline.ui.widgets.item_button import ItemButton


class AgainPanel(QFrame):
    """The items that were confirmed before the gap, each where it stood until all are done.

    A list that closes up under a finger would take its second press for the next item.
    """

    def __init__(self, model: CheckModel) -> None:
        super().__init__()
        self.setProperty("role", "panel")
        self.model = model
        self.since = label("", "soft")
        self.said = label("", "bad")
        self.items: dict[Item, ItemButton] = {}
        self._times = 0
        asked = QWidget()
        self._rows = FlowRows(asked, Space.SMALL)
        self.tilt = TiltForm(model.units)
        self.measure = button(tr("Write down the tilt"), self._measure)
        enter_sends(self.measure, *self.tilt.fields.values())
        column = QVBoxLayout(self)
        column.setContentsMargins(Space.LARGE, Space.SMALL, Space.LARGE, Space.SMALL)
        column.setSpacing(Space.SMALL)
        column.addWidget(label(tr("Confirm again"), "heading"))
        column.addWidget(self.since)
        column.addWidget(asked)
        for made in (self.tilt, self.measure, self.said):
            column.addWidget(made)
        self.hide()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Show what is asked again; the panel goes once all of it is said."""
        state = snapshot.state
        asked = gates.still_asked(state)
        if len(state.resumed) != self._times:
            self._times = len(state.resumed)
            self._lay_out(asked)
            self.since.setText(_since(state))
        level = state.plug_is_out and state.tilt is None and not state.aborted
        for item, shown in self.items.items():
            shown.setVisible(item in asked or item in state.confirmed)
            shown.setChecked(item in state.confirmed and item not in asked)
        self.tilt.setVisible(level)
        self.measure.setVisible(level)
        if not level:
            self._say("")
        # What demands the plug in comes first; after that, this is asked still.
        self.setVisible((bool(asked) or level) and not state.causes)

    def _lay_out(self, asked: tuple[Item, ...]) -> None:
        for old in self.items.values():
            self._rows.removeWidget(old)
            old.deleteLater()
        self.items = {item: ItemButton(item, self._toggle) for item in asked}
        for made in self.items.values():
            self._rows.addWidget(made)

    def _toggle(self, item: Item, confirmed: bool) -> None:
        self.model.tap(ev.Confirmed if confirmed else ev.Withdrawn, item=item)

    def _measure(self) -> None:
        try:
            angles = self.tilt.angles()
        except BrimlineError as error:
            self._say(error.sentence)
            return
        self._say("")
        self.model.tap(ev.TiltMeasured, **angles)

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))


def _since(state: CheckState) -> str:
    if not state.resumed:
        return ""
    gap = interrupted_words.unwatched(state, state.resumed[-1])
    return tr("{gap}: what was confirmed before counts no more.", gap=capitalised(gap))
